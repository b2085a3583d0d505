//! The free space of a sheet, and where in it a part can go.

use super::{Bin, Node, Place};

/// A free rectangle beside a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::solve::sheets) struct Free {
    /// Its sides: along `axis` the node's slack, across it the node's room.
    pub size: [i64; 2],
    /// The node's place.
    pub node: u32,
    /// The axis along which a part is added.
    pub axis: u8,
    /// Whether a part must be as wide across `axis` as the node, as it cannot be trimmed any more.
    pub flush: bool,
}

impl Free {
    /// Where a part goes that is put into it, `node` being the one beside it.
    pub(in crate::solve::sheets) fn place(&self, node: &Node) -> Place {
        if node.axis == self.axis {
            Place::InRow(self.node)
        } else {
            Place::Beside(self.node, self.axis)
        }
    }
}

impl Bin {
    /// To be called when the nodes have changed. Depths and edges are counted at once, where they matter.
    pub(super) fn changed(&mut self) {
        self.stale = true;
        if self.depth.is_limited() || self.edges.is_some() {
            self.freshen();
        }
    }

    /// Works out `room` from the root down, and the free rectangles, if that is still to be done.
    pub(in crate::solve::sheets) fn freshen(&mut self) {
        if !std::mem::take(&mut self.stale) {
            return;
        }
        self.free.clear();
        self.longest = [0; 2];
        let Some(root) = self.nodes.first_mut() else {
            self.longest = self.size;
            return;
        };
        root.room = self.size;
        if self.depth.is_limited() {
            self.count_depths();
        }
        if self.edges.is_some() {
            self.count_touches();
        }
        let ([x, y], need) = (self.size, self.nodes[0].need);
        self.note_free(0, 0, x - need[0], y);
        self.note_free(0, 1, y - need[1], x);
        for i in 1..self.nodes.len() {
            let (above, below) = self.nodes.split_at_mut(i);
            let node = &mut below[0];
            let row = &above[node.parent as usize];
            let along = usize::from(row.axis) & 1;
            let length = node.need[along] + row.room[along] - row.need[along];
            let width = row.room[1 - along];
            node.room[along] = length;
            node.room[1 - along] = width;
            // A row is added to along its own axis, a part across the row it is in: for both
            // that is across the parent.
            let spare = width - node.need[1 - along];
            self.note_free(i, 1 - along, spare, length);
        }
    }

    /// Notes the rectangle beside a node of sides `spare` along an axis and `across` it, if some part could lie in it. (Both are told,
    /// as what has just been written to a node is slow to be read as a whole.)
    #[inline]
    fn note_free(&mut self, at: usize, axis: usize, spare: i64, across: i64) {
        if spare >= self.least && across >= self.least {
            let Some(flush) = self.may_grow(at, axis as u8) else { return };
            let mut size = [across; 2];
            size[axis] = spare;
            self.longest[axis] = self.longest[axis].max(spare);
            self.longest[1 - axis] = self.longest[1 - axis].max(across);
            self.free.push(Free { size, node: at as u32, axis: axis as u8, flush });
        }
    }

    /// Calls `visit(place, axis, free, need)` for every place that holds a part of sides `size`:
    /// the axis along which the part is added, the free rectangle it would lie in, and the need
    /// of the row or node beside it. The sheet must be fresh.
    pub(in crate::solve::sheets) fn places(
        &self,
        size: [i64; 2],
        mut visit: impl FnMut(Place, usize, [i64; 2], [i64; 2]),
    ) {
        if size[0] > self.longest[0] || size[1] > self.longest[1] {
            return;
        }
        if self.nodes.is_empty() {
            visit(Place::Alone, 0, self.size, [0; 2]);
        }
        for free in &self.free {
            if size[0] <= free.size[0] && size[1] <= free.size[1] {
                let node = &self.nodes[free.node as usize];
                let across = usize::from(1 - free.axis);
                if free.flush && size[across] != node.need[across] {
                    continue;
                }
                visit(free.place(node), usize::from(free.axis), free.size, node.need);
            }
        }
    }
}
