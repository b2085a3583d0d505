//! How deep a tree may grow where the stages of cuts are limited.

use super::Bin;
use crate::solve::stages::Stages;

/// How deep a tree may grow: a stage of cuts to a level.
///
/// A part at a depth is free after so many stages but for what it lacks across its row, which takes one more. So parts at
/// the greatest depth have to be as wide as their row, unless a cut that trims is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::solve::sheets) struct Depth {
    most: u8,
    /// Whether what is deepest has to be as wide as its row.
    exact: bool,
    /// The axis of the first stage, if it is given.
    first: Option<u8>,
}

impl Depth {
    /// The limit that stages set; `flipped` if the tree's axes are the problem's exchanged.
    pub(in crate::solve::sheets) fn new(stages: Stages, flipped: bool) -> Self {
        let first = stages.first.filter(|_| stages.most.is_some()).map(|axis| axis as u8);
        Self {
            most: stages.most.unwrap_or(u8::MAX),
            exact: !stages.trim,
            first: first.map(|axis| if flipped { 1 - axis } else { axis }),
        }
    }

    pub(super) fn is_limited(self) -> bool {
        self.most < u8::MAX
    }

    /// Stages that a root row along `axis` passes over.
    fn passed(self, axis: u8) -> u8 {
        u8::from(self.first.is_some_and(|first| first != axis))
    }
}

impl Bin {
    pub(super) fn count_depths(&mut self) {
        self.nodes[0].depth = self.depth.passed(self.nodes[0].axis);
        for i in 1..self.nodes.len() {
            let above = self.nodes[self.nodes[i].parent as usize].depth;
            self.nodes[i].depth = above.saturating_add(1);
        }
    }

    /// Whether the stages allow a further part beside a node; if so, whether it has to be as wide.
    #[inline]
    pub(super) fn may_grow(&self, at: usize, axis: u8) -> Option<bool> {
        if self.depth.is_limited() { self.may_deepen(at, axis) } else { Some(false) }
    }

    fn may_deepen(&self, at: usize, axis: u8) -> Option<bool> {
        let node = &self.nodes[at];
        let mut above = node.depth;
        if at == 0 {
            above = self.depth.passed(axis);
            let sinks = !node.is_leaf() && node.axis != axis;
            if sinks && !self.may_sink(1 + above - node.depth) {
                return None;
            }
        }
        let depth = above.saturating_add(1);
        (depth <= self.depth.most).then_some(self.depth.exact && depth == self.depth.most)
    }

    /// Whether the stages suffice when everything lies `by` deeper.
    fn may_sink(&self, by: u8) -> bool {
        let Depth { most, exact, .. } = self.depth;
        self.nodes.iter().skip(1).filter(|node| node.is_leaf()).all(|node| {
            let row = &self.nodes[node.parent as usize];
            let across = usize::from(1 - row.axis);
            let depth = node.depth.saturating_add(by);
            depth < most || (depth == most && (!exact || node.need[across] == row.need[across]))
        })
    }

    /// Whether the stages suffice for it.
    pub(in crate::solve::sheets) fn is_within_stages(&self) -> bool {
        !self.depth.is_limited() || self.may_sink(0)
    }

    /// Whether the sheet may go whole to the root, and whether it may first be cut to what the root needs across.
    pub(in crate::solve::sheets) fn may_trim(&self) -> [bool; 2] {
        let Some(root) = self.nodes.first().filter(|_| self.depth.is_limited()) else {
            return [true; 2];
        };
        if root.is_leaf() {
            // One cut along each axis, across x first only if that is cut first.
            return [self.depth.first != Some(0), self.depth.first != Some(1)];
        }
        if self.depth.passed(root.axis) > 0 {
            return [false, true];
        }
        [true, self.may_sink(1 + u8::from(self.depth.first.is_some()))]
    }
}
