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

mod depth;
mod free;

pub(super) use depth::Depth;
pub(super) use free::Free;

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
    /// With a limit on stages: how many are over when it stands by itself (the root's first may be passed over).
    pub depth: u8,
    /// How many of its ends along each axis must be edges of the sheet as they came ([`super::edged`]).
    pub touch: [u8; 2],
}

/// A part as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lying {
    pub kind: u32,
    pub size: [i64; 2],
    /// See [`Node::touch`].
    pub touch: [u8; 2],
}

impl Node {
    /// Whether this is a part.
    pub(super) fn is_leaf(&self) -> bool {
        self.axis == LEAF
    }

    /// Becomes what it is when all that it belongs to is turned by a quarter.
    pub(super) fn turn(&mut self) {
        self.axis = if self.is_leaf() { LEAF } else { 1 - self.axis };
        self.need.swap(0, 1);
        self.touch.swap(0, 1);
    }

    /// Whether this has no row above it.
    pub(super) fn is_root(&self) -> bool {
        self.parent == NONE
    }

    pub(super) fn leaf(part: Lying, parent: u32) -> Self {
        let Lying { kind, size, touch } = part;
        Self { parent, kind, axis: LEAF, need: size, room: size, depth: 0, touch }
    }

    /// A row that is still to be measured.
    fn row(axis: u8, parent: u32) -> Self {
        let (need, room, touch) = ([0; 2], [0; 2], [0; 2]);
        Self { parent, kind: 0, axis, need, room, depth: 0, touch }
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
    /// The free rectangles beside nodes that could hold a part at all.
    pub free: Vec<Free>,
    /// Whether `free` and the nodes' `room` are still to be worked out: most sheets change again before anybody looks.
    stale: bool,
    /// The longest free sides.
    longest: [i64; 2],
    /// The shortest side of any part.
    least: i64,
    /// Scaled area of the parts in it.
    pub used: i64,
    /// Scaled area of the sheet.
    pub area: i64,
    depth: Depth,
    /// How many edges along each axis are as they came, if parts ask for those.
    pub edges: Option<[u8; 2]>,
}

/// Memory that [`Bin::remove`] uses again and again.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    /// How many children of a row are kept.
    children: Vec<u32>,
    /// Where a node is kept, or what stands for it.
    place: Vec<u32>,
}

/// A panel and how it is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Cuttable {
    /// A part, as it lies.
    Part(u32, [i64; 2]),
    /// Panels side by side along an axis.
    Row(usize, Vec<Cuttable>),
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
    /// An empty sheet, for parts whose sides are no shorter than `least`.
    pub(super) fn new(sheet: usize, size: [i64; 2], area: i64, least: i64, depth: Depth) -> Self {
        let (nodes, free) = (Vec::new(), Vec::new());
        let (stale, edges) = (false, None);
        Self { sheet, size, nodes, free, stale, longest: size, least, used: 0, area, depth, edges }
    }

    /// The same with edges that parts ask for.
    pub(super) fn with_edges(self, edges: [u8; 2]) -> Self {
        Self { edges: Some(edges), ..self }
    }

    /// Whether parts may go wherever there is room: neither stages nor edges say otherwise.
    pub(super) fn is_plain(&self) -> bool {
        !self.depth.is_limited() && self.edges.is_none()
    }

    /// The kinds of the parts in it.
    pub(super) fn kinds(&self) -> Vec<u32> {
        self.nodes.iter().filter(|n| n.is_leaf()).map(|n| n.kind).collect()
    }

    /// Becomes a copy of `other` without giving up its own memory.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.nodes.clone_from(&other.nodes);
        self.free.clone_from(&other.free);
        self.stale = other.stale;
        self.longest = other.longest;
        (self.sheet, self.size, self.used, self.area) =
            (other.sheet, other.size, other.used, other.area);
        (self.depth, self.edges) = (other.depth, other.edges);
    }

    /// This sheet, which is empty, cut as `cut` says; `area` is a kind's scaled area, `way` how one of given sides lies.
    pub(super) fn cut_as(
        mut self,
        cut: &Cuttable,
        area: impl Fn(u32) -> i64,
        way: impl Fn(u32, [i64; 2]) -> Lying,
    ) -> Self {
        let mut todo = vec![(cut, NONE)];
        while let Some((cut, parent)) = todo.pop() {
            match cut {
                Cuttable::Part(kind, size) => {
                    self.used += area(*kind);
                    self.nodes.push(Node::leaf(way(*kind, *size), parent));
                }
                // A row within a row of the same axis is part of it.
                Cuttable::Row(axis, parts) => {
                    let row = self.nodes.get(parent as usize);
                    let at = if row.is_some_and(|r| usize::from(r.axis) == *axis) {
                        parent
                    } else {
                        self.nodes.push(Node::row(*axis as u8, parent));
                        self.nodes.len() as u32 - 1
                    };
                    todo.extend(parts.iter().map(|p| (p, at)));
                }
            }
        }
        self.measure();
        self
    }

    /// Puts a part of scaled area `area` at `place`, which must hold it.
    pub(super) fn insert(&mut self, part: Lying, area: i64, place: Place) {
        let (leaf, size) = (|parent| Node::leaf(part, parent), part.size);
        self.used += area;
        match place {
            Place::Alone => self.nodes.push(leaf(NONE)),
            Place::InRow(row) => {
                self.nodes.push(leaf(row));
                self.grow(row, size);
            }
            Place::Beside(0, axis) if !self.nodes[0].is_leaf() => {
                // The root moves down: everything shifts by one place.
                for node in &mut self.nodes {
                    node.parent = if node.parent == NONE { 0 } else { node.parent + 1 };
                }
                let need = self.nodes[0].need;
                self.nodes.insert(0, Node { need, ..Node::row(axis, NONE) });
                self.nodes.push(leaf(0));
                self.grow(0, size);
            }
            Place::Beside(at, axis) => {
                let old = self.nodes[at as usize];
                self.nodes[at as usize].axis = axis;
                self.nodes.push(Node { parent: at, ..old });
                self.nodes.push(leaf(at));
                self.grow(at, size);
            }
        }
        self.changed();
    }

    /// The tree below a node, and that node first.
    pub(super) fn branch(&self, at: usize) -> Vec<Node> {
        let mut place = vec![NONE; self.nodes.len()];
        let mut branch = Vec::new();
        for (i, node) in self.nodes.iter().enumerate().skip(at) {
            let parent = if i == at { NONE } else { place[node.parent as usize] };
            if i == at || parent != NONE {
                place[i] = branch.len() as u32;
                branch.push(Node { parent, ..*node });
            }
        }
        branch
    }

    /// Puts a branch, which is within its room, in the place of the tree below a node other than the root; `more` is by how much
    /// its scaled area is larger.
    pub(super) fn graft(&mut self, at: usize, branch: &[Node], more: i64) {
        let mut place = vec![NONE; self.nodes.len()];
        let mut nodes: Vec<Node> = Vec::with_capacity(self.nodes.len() + branch.len());
        for (i, node) in self.nodes.iter().enumerate() {
            let parent = if i == 0 { NONE } else { place[node.parent as usize] };
            if i == at {
                // A row within a row of the same axis is part of it.
                let row = branch.len() > 1 && branch[0].axis == nodes[parent as usize].axis;
                let mut new = Vec::with_capacity(branch.len());
                for (i, node) in branch.iter().enumerate() {
                    let parent = if i == 0 { parent } else { new[node.parent as usize] };
                    if row && i == 0 {
                        new.push(parent);
                    } else {
                        new.push(nodes.len() as u32);
                        nodes.push(Node { parent, ..*node });
                    }
                }
            } else if i == 0 || parent != NONE {
                place[i] = nodes.len() as u32;
                nodes.push(Node { parent, ..*node });
            }
        }
        self.nodes = nodes;
        self.used += more;
        self.measure();
    }

    /// Brings `need` up to date from a row upwards that has got a further child of need `size`.
    fn grow(&mut self, row: u32, size: [i64; 2]) {
        let (mut at, mut more, mut child) = (row, None, size);
        while let Some(node) = self.nodes.get_mut(at as usize) {
            let before = node.need;
            let along = usize::from(node.axis);
            // What the child needs beyond what it needed before.
            node.need[along] +=
                more.map_or(child[along], |old: [i64; 2]| child[along] - old[along]);
            node.need[1 - along] = before[1 - along].max(child[1 - along]);
            if node.need == before {
                break;
            }
            (more, child, at) = (Some(before), node.need, node.parent);
        }
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

    /// Works out `need` from the leaves up.
    fn measure(&mut self) {
        for node in &mut self.nodes {
            if !node.is_leaf() {
                node.need = [0; 2];
            }
        }
        for i in (1..self.nodes.len()).rev() {
            let Node { need, parent, .. } = self.nodes[i];
            let row = &mut self.nodes[parent as usize];
            let along = usize::from(row.axis);
            row.need[along] += need[along];
            row.need[1 - along] = row.need[1 - along].max(need[1 - along]);
        }
        self.changed();
    }

    /// Whether the tree is one: parents first, axes alternating, rows of two or more, every need
    /// within its room, and `need` and `room` as a slow computation finds them.
    #[cfg(test)]
    pub(super) fn is_sound(&mut self) -> bool {
        self.freshen();
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
            let roomy = (0..2).all(|d| {
                let room = match self.nodes.get(node.parent as usize) {
                    None => self.size[d],
                    Some(row) if row.axis as usize == d => {
                        let siblings = self.nodes.iter().filter(|n| n.parent == node.parent);
                        row.room[d] - siblings.map(|n| n.need[d]).sum::<i64>() + node.need[d]
                    }
                    Some(row) => row.room[d],
                };
                room == node.room[d] && node.need[d] <= room
            });
            shape && order && turns && sums && roomy
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Axis;
    use super::super::rng::Rng;
    use super::*;
    use crate::solve::stages::Stages;

    #[test]
    fn trees_stay_sound_under_insertion_and_removal() {
        let mut rng = Rng::new(3);
        let mut deepest = 0;
        for round in 0..300 {
            let most = [None, Some(2), Some(3)][round % 3];
            let first = [None, Some(Axis::X), Some(Axis::Y)][round / 9 % 3];
            let stages = Stages { most, trim: round / 3 % 3 == 0, first };
            let depth = Depth::new(stages, round % 2 == 0);
            let mut bin = Bin::new(0, [100, 80], 8000, 1, depth);
            for _ in 0..60 {
                let size = [1 + rng.below(40) as i64, 1 + rng.below(30) as i64];
                let mut places = Vec::new();
                bin.freshen();
                bin.places(size, |place, _, free, _| {
                    assert!(size[0] <= free[0] && size[1] <= free[1]);
                    places.push(place);
                });
                if !places.is_empty() {
                    let part = Lying { kind: 0, size, touch: [0; 2] };
                    bin.insert(part, size[0] * size[1], places[rng.below(places.len())]);
                }
                assert!(bin.is_sound() && bin.is_within_stages(), "{bin:?}");
                deepest = deepest.max(bin.nodes.len());
                if rng.chance(150) {
                    let gone: Vec<bool> = bin.nodes.iter().map(|_| rng.chance(300)).collect();
                    let left = bin.nodes.iter().zip(&gone).filter(|(n, g)| n.is_leaf() && !**g);
                    let (count, area) =
                        left.fold((0, 0), |(c, a), (n, _)| (c + 1, a + n.need[0] * n.need[1]));
                    bin.remove(&gone, &mut Scratch::default());
                    bin.used = area;
                    assert!(bin.is_sound() && bin.is_within_stages(), "{bin:?}");
                    assert_eq!(bin.nodes.iter().filter(|n| n.is_leaf()).count(), count);
                }
            }
        }
        assert!(deepest > 20, "the recipe makes large trees");
    }
}
