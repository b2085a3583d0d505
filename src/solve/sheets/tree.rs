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
    /// Scaled area of the parts in it.
    pub used: i64,
    /// Scaled area of the sheet.
    pub area: i64,
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
        Self { sheet, size, nodes: Vec::new(), used: 0, area }
    }

    /// Becomes a copy of `other` without giving up its own memory.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.nodes.clone_from(&other.nodes);
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
    pub(super) fn remove(&mut self, gone: &[bool]) {
        let n = self.nodes.len();
        let mut children = vec![0u32; n];
        // Stays as a node of its own: a leaf that is kept, a row with two children or more.
        let mut stays = vec![false; n];
        for i in (0..n).rev() {
            let node = &self.nodes[i];
            stays[i] = if node.is_leaf() { !gone[i] } else { children[i] >= 2 };
            let alive = stays[i] || (!node.is_leaf() && children[i] == 1);
            if alive && node.parent != NONE {
                children[node.parent as usize] += 1;
            }
        }
        // A row whose next kept ancestor runs the same way dissolves into it.
        let mut place = vec![NONE; n];
        let mut kept: Vec<Node> = Vec::with_capacity(n);
        for i in 0..n {
            let parent = match self.nodes[i].parent {
                NONE => NONE,
                p => place[p as usize],
            };
            let dissolves = parent != NONE && self.nodes[i].axis == kept[parent as usize].axis;
            if stays[i] && !dissolves {
                place[i] = kept.len() as u32;
                kept.push(Node { parent, ..self.nodes[i] });
            } else {
                place[i] = parent;
            }
        }
        self.nodes = kept;
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
        if let Some(root) = nodes.first_mut() {
            root.room = self.size;
        }
        for i in 1..nodes.len() {
            let (before, rest) = nodes.split_at_mut(i);
            let parent = &before[rest[0].parent as usize];
            let along = usize::from(parent.axis);
            rest[0].room = parent.room;
            rest[0].room[along] = rest[0].need[along] + parent.room[along] - parent.need[along];
        }
    }

    /// Calls `visit(place, free, need)` for every place that holds a part of sides `size`: the
    /// free rectangle it would lie in, and the need of the row or node beside it, both as `[x, y]`
    /// with the axis along which the part is added.
    pub(super) fn places(
        &self,
        size: [i64; 2],
        mut visit: impl FnMut(Place, usize, [i64; 2], [i64; 2]),
    ) {
        if self.nodes.is_empty() {
            if size[0] <= self.size[0] && size[1] <= self.size[1] {
                visit(Place::Alone, 0, self.size, [0; 2]);
            }
            return;
        }
        for (i, node) in self.nodes.iter().enumerate() {
            let slack = [node.room[0] - node.need[0], node.room[1] - node.need[1]];
            let at = i as u32;
            for axis in [0usize, 1] {
                if slack[axis] < size[axis] || node.room[1 - axis] < size[1 - axis] {
                    continue;
                }
                let place = if node.axis as usize == axis {
                    Place::InRow(at)
                } else if node.parent == NONE
                    || (node.is_leaf() && self.nodes[node.parent as usize].axis as usize != axis)
                {
                    Place::Beside(at, axis as u8)
                } else {
                    continue;
                };
                let mut free = node.room;
                free[axis] = slack[axis];
                visit(place, axis, free, node.need);
            }
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
                    bin.remove(&gone);
                    bin.used = area;
                    assert!(bin.is_sound(), "{bin:?}");
                    assert_eq!(bin.nodes.iter().filter(|n| n.is_leaf()).count(), count);
                }
            }
        }
        assert!(deepest > 20, "the recipe makes large trees");
    }
}
