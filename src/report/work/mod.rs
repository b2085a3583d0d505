//! Work plans in words and tables: what to saw in which order.

mod bench;
mod cuts;
mod holes;
mod keep;
mod measure;
mod steps;

pub use bench::{hardware, step_list};
pub use cuts::cuts;
pub use holes::{
    Schedule, ScheduleRow, bore, diameter, hand_hold_size, holes, origin, plate, schedule,
};
pub use keep::offcuts;
pub use measure::{Fit, fits};
pub use steps::{Stage, StepText, steps};

use crate::design::work::{Edge, PieceId, Saw, Tool, WorkPlan};
use crate::design::{Axis, Design};

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

/// Which of its part's copies a piece is: `A1 left`, `2 of 3 from the left`, or its drawer alone; nothing if it is the only
/// one.
pub fn piece_name(design: &Design, work: &WorkPlan, id: PieceId) -> String {
    let piece = work.piece(id);
    let mark = &design.part(piece.part).mark;
    let same = |other: &&crate::design::work::Piece| {
        other.part == piece.part && other.drawer == piece.drawer
    };
    let mut xs: Vec<_> = work.pieces.iter().filter(same).filter_map(|p| p.space).collect();
    xs.sort_by_key(|space| (space.at.z, space.at.x, space.at.y));
    let place = piece.space.and_then(|space| xs.iter().position(|other| *other == space));
    let drawer = piece.drawer.and_then(|index| design.drawers.get(index));
    match (drawer, place, xs.len()) {
        (Some(drawer), Some(0), 2) => format!("{mark} of {}, left", drawer.name),
        (Some(drawer), Some(1), 2) => format!("{mark} of {}, right", drawer.name),
        (Some(drawer), Some(place), 3..) => format!("{mark} of {}, {}", drawer.name, place + 1),
        (Some(drawer), ..) => format!("{mark} of {}", drawer.name),
        (None, Some(place), 2..) => format!("{mark}, {} of {}", place + 1, xs.len()),
        _ => mark.clone(),
    }
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
