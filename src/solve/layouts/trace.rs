//! Layouts as trees of joins, and the layouts that the tables stand for.

use super::frame::Frame;
use super::tables::Tables;

/// A node of a layout tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Node {
    /// One piece.
    Piece {
        /// Kind of the frame.
        kind: u32,
        /// Which of its ways.
        way: u32,
    },
    /// Two parts beside each other.
    Join {
        /// Along which axis.
        axis: u8,
        /// Node of the first.
        a: u32,
        /// Node of the second.
        b: u32,
    },
}

/// A layout: a node comes after its parts, the last is the whole; empty if there is none.
pub(super) type Tree = Vec<Node>;

/// How often each kind is used.
pub(super) fn counts(frame: &Frame, tree: &[Node]) -> Vec<u32> {
    let mut counts = vec![0; frame.kinds.len()];
    for node in tree {
        if let Node::Piece { kind, .. } = node {
            counts[*kind as usize] += 1;
        }
    }
    counts
}

/// A layout of cell `(i, j)` that is worth, with any number of copies, what the tables say.
pub(super) fn trace(frame: &Frame, tables: &Tables, i: usize, j: usize) -> Tree {
    let mut tree = Tree::new();
    walk(frame, tables, tables.inside.len() - 1, i, j, &mut tree);
    tree
}

/// Adds the layout of a cell; its node, if it holds anything.
fn walk(
    f: &Frame,
    t: &Tables,
    level: usize,
    mut i: usize,
    mut j: usize,
    tree: &mut Tree,
) -> Option<u32> {
    let m = f.y.len();
    let value = t.inside[level][i * m + j];
    if value == 0 {
        return None;
    }
    let strict = |axis: usize| level == 0 && f.exact && f.levels.first() == Some(&(1 - axis));
    let free = |axis: usize| {
        !strict(axis) && (level == 0 || f.levels.is_empty() || f.levels[level - 1] == axis)
    };
    while free(0) && i > 1 && t.inside[level][(i - 1) * m + j] == value {
        i -= 1;
    }
    while free(1) && j > 1 && t.inside[level][i * m + j - 1] == value {
        j -= 1;
    }
    if level == 0 {
        if let Some(piece) = single(f, t, i, j, value) {
            return Some(push(tree, piece));
        }
        let (axis, a, b) = split_any(f, &t.inside[0], i, j)?;
        let parts = if axis == 0 { [(a, j), (b, j)] } else { [(i, a), (i, b)] };
        let a = walk(f, t, 0, parts[0].0, parts[0].1, tree);
        let b = walk(f, t, 0, parts[1].0, parts[1].1, tree);
        return join(tree, axis, a, b);
    }
    let axis = f.levels[level - 1];
    let element = &t.inside[level - 1];
    let end = if axis == 0 { i } else { j };
    for a in 1..=end {
        let (part, left) =
            if axis == 0 { ((a, j), (f.x.rest(i, a), j)) } else { ((i, a), (i, f.y.rest(j, a))) };
        let one = element[part.0 * m + part.1];
        let other = if a == end { 0 } else { t.inside[level][left.0 * m + left.1] };
        if one > 0 && one + other == value {
            let first = walk(f, t, level - 1, part.0, part.1, tree);
            let second = if a == end { None } else { walk(f, t, level, left.0, left.1, tree) };
            return join(tree, axis, first, second);
        }
    }
    None
}

fn push(tree: &mut Tree, node: Node) -> u32 {
    tree.push(node);
    u32::try_from(tree.len() - 1)
        .expect("a layout has fewer pieces than the panel has units of area")
}

fn join(tree: &mut Tree, axis: usize, a: Option<u32>, b: Option<u32>) -> Option<u32> {
    match (a, b) {
        (Some(a), Some(b)) => Some(push(tree, Node::Join { axis: axis as u8, a, b })),
        (one, other) => one.or(other),
    }
}

fn single(frame: &Frame, tables: &Tables, i: usize, j: usize, value: i64) -> Option<Node> {
    let strict = if frame.exact { frame.levels.first().copied() } else { None };
    for (kind, k) in frame.kinds.iter().enumerate().filter(|(k, _)| tables.worth[*k] == value) {
        for (way, w) in k.ways.iter().enumerate() {
            let at = [frame.x.index(w.snapped[0]), frame.y.index(w.snapped[1])];
            let fits = |axis: usize, end: usize| {
                at[axis] == end || (at[axis] < end && strict != Some(1 - axis))
            };
            if fits(0, i) && fits(1, j) {
                return Some(Node::Piece { kind: kind as u32, way: way as u32 });
            }
        }
    }
    None
}

fn split_any(frame: &Frame, f: &[i64], i: usize, j: usize) -> Option<(usize, usize, usize)> {
    let m = frame.y.len();
    let value = f[i * m + j];
    let x = (1..i).map(|a| (0, a, frame.x.rest(i, a)));
    let y = (1..j).map(|a| (1, a, frame.y.rest(j, a)));
    x.chain(y).find(|(axis, a, b)| match axis {
        0 => f[a * m + j] + f[b * m + j] == value,
        _ => f[i * m + a] + f[i * m + b] == value,
    })
}
