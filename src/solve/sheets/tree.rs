//! One sheet as a slicing tree, with insertion and removal of parts.
//!
//! A leaf is a part; an inner node sets its children side by side along its axis, and the axes
//! alternate from level to level. Nothing else is stored: where a part lies and where the waste
//! is follow only when the search is over ([`super::layout`]). For each node
//!
//! - `need` is the least rectangle that holds it: along its axis the sum of its children's, across
//!   the largest;
//! - `room` is what it could grow to if every other node stayed as it is: the root has the sheet;
//!   a child has its parent's room across, and its own need plus its parent's slack along.
//!
//! A part may be set beside any node when need plus part is within room. This lets an insertion
//! use free space wherever it is, merged over the cuts that a fixed layout would have fixed
//! already (the idea of Fleszar, "Three insertion heuristics and a justification improvement
//! heuristic for two-dimensional bin packing with guillotine cuts", Comput. Oper. Res. 40, 2013;
//! from memory).

/// Axis mark of a leaf.
const LEAF: u8 = 2;
/// Parent of the root.
const NONE: u32 = u32::MAX;

/// A part or a row of nodes. A parent's place is always before its children's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Node {
    /// Place of the parent.
    pub parent: u32,
    /// The part's kind, for a leaf.
    pub kind: u32,
    /// 0 or 1: children side by side along x or y; [`LEAF`] for a part.
    pub axis: u8,
    /// The least rectangle that holds it.
    pub need: [i64; 2],
    /// The largest it could become while the others stay.
    pub room: [i64; 2],
}

impl Node {
    /// Whether this is a part.
    pub(super) fn is_leaf(&self) -> bool {
        self.axis == LEAF
    }
}

/// A sheet in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bin {
    /// Which of the job's sheets.
    pub sheet: usize,
    /// The sheet's sides.
    pub size: [i64; 2],
    /// The tree, root first; empty for an empty sheet.
    pub nodes: Vec<Node>,
    /// For each node the free rectangle beside it, along the one axis in which it can be added
    /// to: its own for a row, across the row it is in for a part. (The root has another side
    /// too.)
    free: Vec<[i64; 2]>,
    /// The longest free sides.
    longest: [i64; 2],
    /// Scaled area of the parts in it.
    pub used: i64,
    /// Scaled area of the sheet.
    pub area: i64,
}

/// Memory that [`Bin::remove`] uses again and again.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    /// How many children of a row are kept.
    children: Vec<u32>,
    /// Where a node is kept, or what stands for it.
    place: Vec<u32>,
}

/// The axis of the root's entry among the free rectangles; a part's is x.
fn grows_of_root(root: &Node) -> usize {
    usize::from(root.axis) & 1
}

/// Where a part can go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// The only part of an empty sheet.
    Alone,
    /// A further child of the row at this place.
    InRow(u32),
    /// Beside the node at this place, along this axis: the two become a row.
    Beside(u32, u8),
}

impl Bin {
    /// An empty sheet.
    pub(super) fn new(sheet: usize, size: [i64; 2], area: i64) -> Self {
        Self { sheet, size, nodes: Vec::new(), free: Vec::new(), longest: size, used: 0, area }
    }

    /// Becomes a copy of `other` without giving up its own memory.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.nodes.clone_from(&other.nodes);
        self.free.clone_from(&other.free);
        self.longest = other.longest;
        (self.sheet, self.size, self.used, self.area) =
            (other.sheet, other.size, other.used, other.area);
    }

    /// Puts a part of sides `size` and scaled area `area` at `place`, which must hold it.
    pub(super) fn insert(&mut self, kind: u32, size: [i64; 2], area: i64, place: Place) {
        let leaf = |parent| Node { parent, kind, axis: LEAF, need: size, room: size };
        match place {
            Place::Alone => self.nodes.push(leaf(NONE)),
            Place::InRow(row) => self.nodes.push(leaf(row)),
            Place::Beside(0, axis) if !self.nodes[0].is_leaf() => {
                // The root moves down: everything shifts by one place.
                for node in &mut self.nodes {
                    node.parent = if node.parent == NONE { 0 } else { node.parent + 1 };
                }
                let root = Node { parent: NONE, kind: 0, axis, need: [0; 2], room: [0; 2] };
                self.nodes.insert(0, root);
                self.nodes.push(leaf(0));
            }
            Place::Beside(at, axis) => {
                let old = self.nodes[at as usize];
                self.nodes[at as usize].axis = axis;
                self.nodes.push(Node { parent: at, ..old });
                self.nodes.push(leaf(at));
            }
        }
        self.used += area;
        self.measure();
    }

    /// Takes out the leaves that `gone` marks (by place) and closes the tree over them. The
    /// caller has taken their area off [`Bin::used`].
    pub(super) fn remove(&mut self, gone: &[bool], scratch: &mut Scratch) {
        let n = self.nodes.len();
        let Scratch { children, place } = scratch;
        children.clear();
        children.resize(n, 0);
        // A leaf that is kept and a row with two children or more stay nodes of their own; a row
        // with one child stands for that child.
        for i in (0..n).rev() {
            let node = &self.nodes[i];
            if node.is_leaf() && !gone[i] {
                children[i] = 2;
            }
            if children[i] >= 1 && node.parent != NONE {
                children[node.parent as usize] += 1;
            }
        }
        // A row whose next kept ancestor runs the same way dissolves into it.
        place.clear();
        let mut kept = 0;
        for (i, children) in children.iter().enumerate() {
            let mut node = self.nodes[i];
            if node.parent != NONE {
                node.parent = place[node.parent as usize];
            }
            let dissolves =
                node.parent != NONE && self.nodes[node.parent as usize].axis == node.axis;
            if *children >= 2 && !dissolves {
                place.push(kept as u32);
                self.nodes[kept] = node;
                kept += 1;
            } else {
                place.push(node.parent);
            }
        }
        self.nodes.truncate(kept);
        self.measure();
    }

    /// Works out `need` from the leaves up and `room` from the root down.
    fn measure(&mut self) {
        let nodes = &mut self.nodes[..];
        for node in nodes.iter_mut() {
            if !node.is_leaf() {
                node.need = [0; 2];
            }
        }
        for i in (1..nodes.len()).rev() {
            let (before, rest) = nodes.split_at_mut(i);
            let need = rest[0].need;
            let parent = &mut before[rest[0].parent as usize];
            let along = usize::from(parent.axis);
            parent.need[along] += need[along];
            parent.need[1 - along] = parent.need[1 - along].max(need[1 - along]);
        }
        self.free.clear();
        self.longest = [0; 2];
        let Some(root) = nodes.first_mut() else {
            self.longest = self.size;
            return;
        };
        root.room = self.size;
        let mut grows = usize::from(root.axis) & 1;
        for i in 0..nodes.len() {
            if i > 0 {
                let (before, rest) = nodes.split_at_mut(i);
                let parent = &before[rest[0].parent as usize];
                let along = usize::from(parent.axis);
                rest[0].room = parent.room;
                rest[0].room[along] = rest[0].need[along] + parent.room[along] - parent.need[along];
                grows = 1 - along;
            }
            let mut free = nodes[i].room;
            free[grows] -= nodes[i].need[grows];
            self.longest = [self.longest[0].max(free[0]), self.longest[1].max(free[1])];
            self.free.push(free);
        }
        let across = 1 - grows_of_root(&nodes[0]);
        let other = self.size[across] - nodes[0].need[across];
        self.longest[across] = self.longest[across].max(other);
        self.longest[1 - across] = self.size[1 - across];
    }

    /// Calls `visit(place, axis, free, need)` for every place that holds a part of sides `size`:
    /// the axis along which the part is added, the free rectangle it would lie in, and the need
    /// of the row or node beside it.
    pub(super) fn places(
        &self,
        size: [i64; 2],
        mut visit: impl FnMut(Place, usize, [i64; 2], [i64; 2]),
    ) {
        if size[0] > self.longest[0] || size[1] > self.longest[1] {
            return;
        }
        let Some(root) = self.nodes.first() else {
            visit(Place::Alone, 0, self.size, [0; 2]);
            return;
        };
        for (i, free) in self.free.iter().enumerate() {
            if size[0] <= free[0] && size[1] <= free[1] {
                let node = &self.nodes[i];
                let at = i as u32;
                if node.is_leaf() {
                    let axis = match self.nodes.get(node.parent as usize) {
                        Some(parent) => 1 - parent.axis,
                        None => grows_of_root(node) as u8,
                    };
                    visit(Place::Beside(at, axis), usize::from(axis), *free, node.need);
                } else {
                    visit(Place::InRow(at), usize::from(node.axis), *free, node.need);
                }
            }
        }
        let across = 1 - grows_of_root(root);
        let mut free = self.size;
        free[across] -= root.need[across];
        if size[0] <= free[0] && size[1] <= free[1] {
            visit(Place::Beside(0, across as u8), across, free, root.need);
        }
    }

    /// Whether the tree is one: parents first, axes alternating, rows of two or more, every need
    /// within its room, and `need` and `room` as a slow computation finds them.
    #[cfg(test)]
    pub(super) fn is_sound(&self) -> bool {
        let n = self.nodes.len();
        (0..n).all(|i| {
            let node = &self.nodes[i];
            let children: Vec<_> = (0..n)
                .filter(|c| self.nodes[*c].parent == i as u32)
                .map(|c| &self.nodes[c])
                .collect();
            let shape = if node.is_leaf() { children.is_empty() } else { children.len() >= 2 };
            let order = if i == 0 { node.parent == NONE } else { (node.parent as usize) < i };
            let turns = i == 0 || self.nodes[node.parent as usize].axis != node.axis;
            let sums = node.is_leaf()
                || (0..2).all(|d| {
                    let needs = children.iter().map(|c| c.need[d]);
                    let all = if d == node.axis as usize {
                        needs.sum()
                    } else {
                        needs.max().unwrap_or(0)
                    };
                    all == node.need[d]
                });
            shape && order && turns && sums && (0..2).all(|d| node.need[d] <= node.room[d])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::rng::Rng;
    use super::*;

    #[test]
    fn trees_stay_sound_under_insertion_and_removal() {
        let mut rng = Rng::new(3);
        let mut deepest = 0;
        for _ in 0..300 {
            let mut bin = Bin::new(0, [100, 80], 8000);
            for _ in 0..60 {
                let size = [1 + rng.below(40) as i64, 1 + rng.below(30) as i64];
                let mut places = Vec::new();
                bin.places(size, |place, _, free, _| {
                    assert!(size[0] <= free[0] && size[1] <= free[1]);
                    places.push(place);
                });
                if !places.is_empty() {
                    bin.insert(0, size, size[0] * size[1], places[rng.below(places.len())]);
                }
                assert!(bin.is_sound(), "{bin:?}");
                deepest = deepest.max(bin.nodes.len());
                if rng.chance(150) {
                    let gone: Vec<bool> = bin.nodes.iter().map(|_| rng.chance(300)).collect();
                    let left = bin.nodes.iter().zip(&gone).filter(|(n, g)| n.is_leaf() && !**g);
                    let (count, area) =
                        left.fold((0, 0), |(c, a), (n, _)| (c + 1, a + n.need[0] * n.need[1]));
                    bin.remove(&gone, &mut Scratch::default());
                    bin.used = area;
                    assert!(bin.is_sound(), "{bin:?}");
                    assert_eq!(bin.nodes.iter().filter(|n| n.is_leaf()).count(), count);
                }
            }
        }
        assert!(deepest > 20, "the recipe makes large trees");
    }
}
