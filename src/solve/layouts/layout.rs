//! From layout trees to cuts, pieces and rests in the problem's own coordinates.
//!
//! A tree leaves some freedom: whether the panel is first cut to what the whole needs across its row, and whether in
//! a row the shorter things are trimmed one by one or, the tallest first, together with all that is behind
//! them. What leaves the most area worth keeping, in the fewest rests, with the fewest
//! cuts, is taken. With limited stages there is no freedom: each stage's cuts go through.

use super::Layout;
use super::job::Job;
use super::trace::{Node, Tree};
use crate::solve::saw::{Panel, Saw, kept};
use crate::solve::sheets::{Axis, PlacedPiece};

/// The layout that a tree of the job's kinds stands for.
pub(super) fn layout(job: &Job, panel: (i64, i64), tree: &Tree) -> Layout {
    let needs = needs(job, tree);
    let ways = if job.stages.most.is_some() { 1 } else { 4 };
    let saws = (0..ways).map(|way| {
        // In problem units already.
        let saw = Saw::new(1, job.kerf, false);
        let (together, pieces) = (way & 1 == 1, Vec::new());
        let mut bench = Bench { job, tree, needs: &needs, together, saw, pieces };
        bench.cut_up([panel.0 + job.kerf, panel.1 + job.kerf], way & 2 == 2);
        let Saw { cuts, rests, .. } = bench.saw;
        Layout { pieces: bench.pieces, cuts, rests, ..Layout::default() }
    });
    let mut best = saws
        .min_by_key(|layout| {
            let (area, rests) = kept(job.keep, &layout.rests);
            (std::cmp::Reverse(area), rests, layout.cuts.len())
        })
        .expect("there is at least one way");
    deal_out(job, &mut best);
    best
}

/// The true width that a tree needs; 0 if it is empty.
pub(super) fn needed_width(job: &Job, tree: &Tree) -> i64 {
    needs(job, tree).last().map_or(0, |need| need[0] - job.kerf)
}

/// Pieces carry kinds so far; deals each kind's copies out to the pieces it stands for.
fn deal_out(job: &Job, layout: &mut Layout) {
    let mut left: Vec<Vec<(usize, u32)>> = job.kinds.iter().map(|k| k.sources.clone()).collect();
    let mut worth = 0;
    for piece in &mut layout.pieces {
        let kind = piece.part;
        worth += job.kinds[kind].worth * job.coin;
        let sources = &mut left[kind];
        while sources.first().is_some_and(|s| s.1 == 0) {
            sources.remove(0);
        }
        let source = sources.first_mut().expect("a layout holds no more of a kind than there are");
        source.1 -= 1;
        piece.part = source.0;
        // The way's first side against the piece's own width tells whether it is turned.
        let side = job.kinds[kind].ways[usize::from(piece.turned)][0];
        piece.turned = side * job.unit - job.kerf != job.widths[source.0];
    }
    layout.pieces.sort_unstable();
    layout.worth = worth;
}

/// The grown extents each node needs, in problem units.
fn needs(job: &Job, tree: &Tree) -> Vec<[i64; 2]> {
    let mut needs: Vec<[i64; 2]> = Vec::with_capacity(tree.len());
    for node in tree {
        let need = match node {
            Node::Piece { kind, way } => {
                job.kinds[*kind as usize].ways[*way as usize].map(|side| side * job.unit)
            }
            Node::Join { axis, a, b } => {
                let (a, b) = (needs[*a as usize], needs[*b as usize]);
                let axis = usize::from(*axis);
                let mut size = [a[0].max(b[0]), a[1].max(b[1])];
                size[axis] = a[axis] + b[axis];
                size
            }
        };
        needs.push(need);
    }
    needs
}

/// Where a panel is cut.
struct Bench<'a> {
    job: &'a Job,
    tree: &'a Tree,
    needs: &'a [[i64; 2]],
    /// Whether the shorter things of a row are trimmed together.
    together: bool,
    saw: Saw,
    pieces: Vec<PlacedPiece>,
}

impl Bench<'_> {
    fn cut_up(&mut self, size: [i64; 2], trim_first: bool) {
        let mut panel = Panel { at: [0; 2], size, raw: [[false; 2]; 2] };
        let Some(root) = self.tree.len().checked_sub(1) else {
            self.saw.rest(panel);
            return;
        };
        let first = usize::from(self.job.stages.first == Some(Axis::Y));
        match self.tree[root] {
            Node::Join { axis, .. } => {
                let across = 1 - usize::from(axis);
                // With stages the first one cuts along its own axis, if only to trim.
                let staged = self.job.stages.most.is_some() && across == first;
                if trim_first || staged {
                    panel = self.saw.trim(panel, across, self.needs[root][across]);
                }
            }
            Node::Piece { .. } => panel = self.saw.trim(panel, first, self.needs[root][first]),
        }
        let mut todo = vec![(root, panel)];
        while let Some((node, panel)) = todo.pop() {
            match self.tree[node] {
                Node::Piece { kind, way } => {
                    let panel = self.saw.trim(panel, 0, self.needs[node][0]);
                    let panel = self.saw.trim(panel, 1, self.needs[node][1]);
                    let (part, rect) = (kind as usize, self.saw.rect(panel));
                    self.pieces.push(PlacedPiece { part, x: rect.x, y: rect.y, turned: way == 1 });
                }
                Node::Join { axis, .. } => self.row(node, usize::from(axis), panel, &mut todo),
            }
        }
    }

    /// Cuts a row apart.
    fn row(&mut self, node: usize, axis: usize, mut panel: Panel, todo: &mut Vec<(usize, Panel)>) {
        let across = 1 - axis;
        let mut row = self.members(node, axis);
        row.sort_by_key(|n| {
            let need = self.needs[*n];
            (std::cmp::Reverse((need[across], need[axis])), *n)
        });
        let mut parts = Vec::new();
        for (n, member) in row.into_iter().enumerate() {
            let need = self.needs[member];
            if self.together && n > 0 {
                panel = self.saw.trim(panel, across, need[across]);
            }
            let (first, behind) = self.saw.split(panel, axis, need[axis]);
            parts.push((member, first));
            panel = behind;
        }
        if panel.size[axis] > 0 {
            self.saw.rest(panel);
        }
        todo.extend(parts.into_iter().rev());
    }

    /// The things that stand beside each other in a row, rows along the same axis taken apart.
    fn members(&self, node: usize, axis: usize) -> Vec<usize> {
        let mut members = Vec::new();
        let mut open = vec![node];
        while let Some(n) = open.pop() {
            match self.tree[n] {
                Node::Join { axis: a, a: one, b: other } if usize::from(a) == axis => {
                    open.extend([other as usize, one as usize]);
                }
                _ => members.push(n),
            }
        }
        members
    }
}
