//! Work plans in words and tables: what to saw in which order.

mod cuts;

pub use cuts::cuts;

use crate::design::Axis;
use crate::design::work::{Edge, Saw, Tool};

/// What a work plan's sheets are sawn with.
pub const fn saw(saw: Saw) -> &'static str {
    match saw {
        Saw::Guide => "hand-held saw along a guide",
        Saw::Table => "table saw",
    }
}

/// What one cut is made with.
pub const fn tool(tool: Tool) -> &'static str {
    match tool {
        Tool::Guide => "guide",
        Tool::Fence => "fence",
        Tool::Sled => "sled",
    }
}

/// An edge as the cutting diagrams show the sheet: its grain runs from left to right, and y down.
pub const fn edge(axis: Axis, edge: Edge) -> &'static str {
    match (axis, edge) {
        (Axis::X, Edge::Low) => "left",
        (Axis::X, Edge::High) => "right",
        (Axis::Y, Edge::Low) => "top",
        (Axis::Y, Edge::High) => "bottom",
    }
}

/// How a cut runs.
pub const fn runs(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "across the grain",
        Axis::Y => "along the grain",
    }
}

/// A panel on its way: `sheet 2` as it comes, then `2a`, `2b` and so on.
pub fn panel(sheet: usize, id: u32) -> String {
    let number = sheet + 1;
    let Some(mut rest) = id.checked_sub(1) else { return format!("sheet {number}") };
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'a' + u8::try_from(rest % 26).expect("under 26")));
        match (rest / 26).checked_sub(1) {
            Some(more) => rest = more,
            None => break,
        }
    }
    letters.reverse();
    format!("{number}{}", letters.into_iter().collect::<String>())
}

/// A rest that is kept: `W2.1` is the first of sheet 2.
pub fn kept(sheet: usize, index: u32) -> String {
    format!("W{}.{}", sheet + 1, index + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn panels_are_lettered_beyond_z() {
        assert_eq!(panel(0, 0), "sheet 1");
        assert_eq!(panel(1, 1), "2a");
        assert_eq!(panel(1, 26), "2z");
        assert_eq!(panel(1, 27), "2aa");
        assert_eq!(panel(1, 53), "2ba");
    }
}
