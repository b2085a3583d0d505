//! A first layout without tables: piece by piece, the densest worth first.

use super::job::{Job, Kind};
use super::trace::{Node, Tree};
use crate::solve::sheets::Axis;

/// Pieces placed at most; what comes after is better at many.
const MOST: u32 = 256;

/// A layout in kinds and ways of the job, within its stages, and its worth.
pub(super) fn first_layout(job: &Job) -> (Tree, i64) {
    let mut order: Vec<(usize, usize)> = (0..job.kinds.len())
        .flat_map(|k| (0..job.kinds[k].ways.len()).map(move |w| (k, w)))
        .collect();
    let key = |(k, w): &(usize, usize)| {
        let kind: &Kind = &job.kinds[*k];
        let area = i128::from(kind.ways[*w][0]) * i128::from(kind.ways[*w][1]);
        (i128::from(kind.worth), area)
    };
    // Worth per area, then worth; cross-multiplied in integers.
    order.sort_by(|a, b| {
        let ((va, aa), (vb, ab)) = (key(a), key(b));
        (vb.saturating_mul(aa)).cmp(&va.saturating_mul(ab)).then(vb.cmp(&va)).then(a.cmp(b))
    });
    let left = job.kinds.iter().map(|k| k.copies).collect();
    let mut fill = Fill { job, order, left, tree: Tree::new(), placed: 0, worth: 0 };
    match job.stages.most {
        None => {
            fill.panel(job.size);
        }
        Some(most) => fill.rows(most),
    }
    (fill.tree, fill.worth)
}

struct Fill<'a> {
    job: &'a Job,
    order: Vec<(usize, usize)>,
    left: Vec<u32>,
    tree: Tree,
    placed: u32,
    worth: i64,
}

impl Fill<'_> {
    /// The first piece in the order that fits, in the corner; then both rests.
    fn panel(&mut self, size: [i64; 2]) -> Option<u32> {
        let (kind, way) = self.next(size)?;
        let piece = self.place(kind, way);
        let [w, h] = self.job.kinds[kind].ways[way];
        // The cut that leaves the larger of the two rests larger.
        let axis = usize::from((size[0] - w) * h <= (size[1] - h) * w);
        let mut beyond = size;
        beyond[axis] -= self.job.kinds[kind].ways[way][axis];
        let mut beside = self.job.kinds[kind].ways[way];
        beside[1 - axis] = size[1 - axis] - beside[1 - axis];
        let far = self.panel(beyond);
        let near = self.panel(beside);
        let strip = self.join(1 - axis, Some(piece), near);
        self.join(axis, strip, far)
    }

    /// Rows of equal pieces along the last stage's axis, one behind another.
    fn rows(&mut self, stages: u8) {
        let first = self.job.stages.first.map_or(0, |axis| usize::from(axis == Axis::Y));
        let along = (first + usize::from(stages) - 1) % 2;
        let across = 1 - along;
        let mut room = self.job.size;
        let mut whole = None;
        for (kind, way) in self.order.clone() {
            let size = self.job.kinds[kind].ways[way];
            while size[0] <= room[0]
                && size[1] <= room[1]
                && self.left[kind] > 0
                && self.placed < MOST
            {
                let fits = (room[along] / size[along]).min(i64::from(self.left[kind].min(MOST)));
                let mut row = None;
                for _ in 0..fits {
                    let piece = self.place(kind, way);
                    row = self.join(along, row, Some(piece));
                }
                whole = self.join(across, whole, row);
                room[across] = if stages > 1 { room[across] - size[across] } else { 0 };
            }
        }
    }

    fn next(&self, size: [i64; 2]) -> Option<(usize, usize)> {
        let fits = |(k, w): &&(usize, usize)| {
            let way = self.job.kinds[*k].ways[*w];
            self.left[*k] > 0 && way[0] <= size[0] && way[1] <= size[1]
        };
        if self.placed < MOST { self.order.iter().find(fits).copied() } else { None }
    }

    fn place(&mut self, kind: usize, way: usize) -> u32 {
        self.left[kind] -= 1;
        self.placed += 1;
        self.worth += self.job.kinds[kind].worth;
        self.push(Node::Piece { kind: kind as u32, way: way as u32 })
    }

    fn join(&mut self, axis: usize, a: Option<u32>, b: Option<u32>) -> Option<u32> {
        match (a, b) {
            (Some(a), Some(b)) => Some(self.push(Node::Join { axis: axis as u8, a, b })),
            (one, other) => one.or(other),
        }
    }

    fn push(&mut self, node: Node) -> u32 {
        self.tree.push(node);
        (self.tree.len() - 1) as u32
    }
}
