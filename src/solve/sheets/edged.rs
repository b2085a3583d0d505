//! Parts that must have an edge of their sheet as it came.
//!
//! A part touches an end of the sheet along an axis if at every row along that axis that it is in, its child of the row is
//! the first, or at each the last. So nothing but a count matters: how many ends along each axis a node must have,
//! of the panel it comes out of. A part asks for none or one. A row along the axis has two ends for all its children, one for
//! each of two of them; none of the children has both. Across the axis every child has both ends of the row. Hence
//!
//! - along its axis a row needs as many ends as its children together, none of which may need two;
//! - across, as many as the child that needs most;
//! - a tree can be laid out so that every part has what it asks for when its root needs no more than the sheet has.
//!
//! Which end that is, [`super::layout`] chooses. Where a part lies at a panel's high end and what is below it is thinner than
//! the blade, the saw cannot free it; that is seen when all is laid out ([`keeps`]).

use super::tree::{Bin, Node, Place};
use super::{Edges, SheetPlan, SheetProblem};

/// More ends than anything has.
const TOO_MANY: u8 = 9;

/// What a row along `axis` that needs `row` needs when it gets a further child, where it can have it.
fn with_child(row: [u8; 2], child: [u8; 2], axis: usize) -> Option<[u8; 2]> {
    let mut both = [row[0].max(child[0]), row[1].max(child[1])];
    both[axis] = row[axis] + child[axis];
    (child[axis] <= 1 && both[axis] <= 2).then_some(both)
}

impl Bin {
    /// Works out what every row needs from the parts up.
    pub(super) fn count_touches(&mut self) {
        for node in self.nodes.iter_mut().filter(|node| !node.is_leaf()) {
            node.touch = [0; 2];
        }
        for i in (1..self.nodes.len()).rev() {
            let Node { touch, parent, .. } = self.nodes[i];
            let row = &mut self.nodes[parent as usize];
            let axis = usize::from(row.axis);
            row.touch = with_child(row.touch, touch, axis).unwrap_or([TOO_MANY; 2]);
        }
    }

    /// Whether every part can have the edges that it asks for.
    pub(super) fn has_its_edges(&self) -> bool {
        self.nodes.first().is_none_or(|root| self.has_ends(root.touch))
    }

    fn has_ends(&self, needed: [u8; 2]) -> bool {
        self.edges.is_none_or(|edges| (0..2).all(|axis| needed[axis] <= edges[axis]))
    }

    /// Whether every part still can when one that asks for `touch` is put at `place`.
    pub(super) fn takes(&self, place: Place, touch: [u8; 2]) -> bool {
        if self.edges.is_none() {
            return true;
        }
        let (mut at, grown) = match place {
            Place::Alone => return self.has_ends(touch),
            Place::InRow(row) => {
                let node = &self.nodes[row as usize];
                (node, with_child(node.touch, touch, usize::from(node.axis)))
            }
            Place::Beside(beside, axis) => {
                let (node, axis) = (&self.nodes[beside as usize], usize::from(axis));
                let alone = with_child([0; 2], node.touch, axis);
                (node, alone.and_then(|alone| with_child(alone, touch, axis)))
            }
        };
        let Some(mut grown) = grown else { return false };
        while !at.is_root() {
            let row = &self.nodes[at.parent as usize];
            let axis = usize::from(row.axis);
            let mut others = row.touch;
            others[axis] -= at.touch[axis];
            let Some(next) = with_child(others, grown, axis) else { return false };
            (at, grown) = (row, next);
        }
        self.has_ends(grown)
    }
}

/// Whether every part of a plan has the edges that it asks for.
pub(super) fn keeps(problem: &SheetProblem, edges: &Edges, plan: &SheetPlan) -> bool {
    plan.sheets.iter().all(|cut| {
        let sheet = &problem.sheets[cut.sheet];
        let raw = edges.sheets.get(cut.sheet).copied().unwrap_or_default();
        cut.pieces.iter().all(|piece| {
            let part = &problem.parts[piece.part];
            let asked = edges.parts.get(piece.part).copied().unwrap_or_default();
            let lies = |turned: bool| {
                let (mut size, mut asked) = ([part.width, part.height], asked);
                if turned {
                    size.swap(0, 1);
                    asked.swap(0, 1);
                }
                (0..2).all(|axis| {
                    let (at, whole) = ([piece.x, piece.y][axis], [sheet.width, sheet.height][axis]);
                    let low = at == 0 && raw[axis][0];
                    let high = at + size[axis] == whole && raw[axis][1];
                    !asked[axis] || low || high
                })
            };
            // A square looks the same either way.
            lies(piece.turned) || (part.turn && part.width == part.height && lies(!piece.turned))
        })
    })
}
