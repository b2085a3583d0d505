//! From slicing trees to cuts, pieces and rests in the problem's own coordinates.
//!
//! Below the root a panel is as wide as its node needs across its row, so that all the freedom
//! left is at the root: whether the sheet is first cut to the root's need across, or goes whole
//! into the root's row; and in rows: whether the shorter things are trimmed one by one or, the tallest
//! first, together with all that is behind them. Whichever leaves most worth keeping, in the fewest
//! pieces, is taken.

use super::job::{Job, JobSheet};
use super::tree::{Bin, Node};
use super::{Axis, CutSheet, PlacedPiece, Rect, SheetCut, SheetPlan};

/// The plan that the trees stand for.
pub(super) fn plan(job: &Job, bins: &[Bin]) -> SheetPlan {
    let mut cut: Vec<CutSheet> = bins.iter().map(|bin| cut_sheet(job, bin)).collect();
    cut.sort();
    // Pieces carry kinds so far; deal each kind's copies out to the parts it stands for.
    let mut left: Vec<Vec<(usize, u32)>> = job.kinds.iter().map(|k| k.sources.clone()).collect();
    for piece in cut.iter_mut().flat_map(|s| &mut s.pieces) {
        let sources = &mut left[piece.part];
        while sources.first().is_some_and(|s| s.1 == 0) {
            sources.remove(0);
        }
        let source =
            sources.first_mut().expect("a plan holds as many of a kind as its parts count");
        source.1 -= 1;
        let across = job.true_size(piece.part)[usize::from(piece.turned)];
        piece.part = source.0;
        piece.turned = across != job.widths[source.0];
    }
    SheetPlan { sheets: cut }
}

/// Area and number of the rests worth keeping.
pub(super) fn kept(job: &Job, rests: &[Rect]) -> (i128, usize) {
    let keep = |r: &&Rect| r.dx.min(r.dy) >= job.keep[0] && r.dx.max(r.dy) >= job.keep[1];
    let kept = rests.iter().filter(keep);
    kept.fold((0, 0), |(area, n), r| (area + i128::from(r.dx) * i128::from(r.dy), n + 1))
}

/// One sheet cut up; `part` of its pieces is their kind, `turned` is against the kind's sides.
pub(super) fn cut_sheet(job: &Job, bin: &Bin) -> CutSheet {
    let sheet = &job.sheets[bin.sheet];
    let [whole, trimmed] = bin.may_trim();
    // Trims, the sheet's or those of several things together, may take edges off that parts ask for.
    let free = bin.edges.is_none();
    let trimmed = trimmed && free;
    // What is trimmed together comes apart in later stages.
    let together = free && job.stages.most.is_none();
    let ways = [(false, false, whole), (true, false, trimmed)];
    let ways = ways.into_iter().chain([(false, true, together), (true, true, together)]);
    let ways = ways.filter(|(.., may)| *may).map(|(trim_first, together, _)| {
        let mut saw = Saw::new(job, sheet, together);
        saw.cut_up(bin, trim_first);
        saw.done
    });
    let key = |s: &CutSheet| {
        let (area, pieces) = kept(job, &s.rests);
        (std::cmp::Reverse(area), pieces, s.cuts.len())
    };
    ways.min_by_key(key).expect("one way is within the stages, or there are none")
}

/// A panel in job units: corner and sides, grown by the kerf.
#[derive(Clone, Copy)]
struct Panel {
    at: [i64; 2],
    size: [i64; 2],
    /// Whether the edges at the low and the high end of each axis are the sheet's as they came.
    raw: [[bool; 2]; 2],
}

struct Saw<'a> {
    job: &'a Job,
    sheet: &'a JobSheet,
    /// Whether the shorter things of a row are trimmed together.
    together: bool,
    done: CutSheet,
}

impl<'a> Saw<'a> {
    fn new(job: &'a Job, sheet: &'a JobSheet, together: bool) -> Self {
        let (pieces, cuts, rests) = Default::default();
        Self { job, sheet, together, done: CutSheet { sheet: sheet.source, pieces, cuts, rests } }
    }

    fn cut_up(&mut self, bin: &Bin, trim_first: bool) {
        let nodes = &bin.nodes;
        let children = children(nodes);
        let mut panel = Panel { at: [0; 2], size: self.sheet.size, raw: self.sheet.raw };
        let Some(root) = nodes.first() else {
            self.rest(panel);
            return;
        };
        let across = if root.is_leaf() { 0 } else { 1 - usize::from(root.axis) };
        if trim_first {
            panel = self.trim(panel, across, root.need[across]);
        }
        let mut todo = vec![(0usize, panel)];
        while let Some((i, mut panel)) = todo.pop() {
            let node = &nodes[i];
            if node.is_leaf() {
                panel = self.trim_part(panel, 1, node);
                panel = self.trim_part(panel, 0, node);
                self.piece(node, panel);
                continue;
            }
            let axis = usize::from(node.axis);
            let mut parts = Vec::new();
            let mut row = children[i].clone();
            if let Some(last) = ends(nodes, &mut row, axis, panel.raw[axis]) {
                // Taken off the far end first, so that what is left over lies before it.
                let before = panel.size[axis] - nodes[last].need[axis];
                let (others, end) = self.split(panel, axis, before);
                parts.push((last, end));
                panel = others;
            }
            for (n, &c) in row.iter().enumerate() {
                if self.together && n > 0 {
                    panel = self.trim(panel, 1 - axis, nodes[c].need[1 - axis]);
                }
                let (first, behind) = self.split(panel, axis, nodes[c].need[axis]);
                parts.push((c, first));
                panel = behind;
            }
            if panel.size[axis] > 0 {
                self.rest(panel);
            }
            todo.extend(parts.into_iter().rev());
        }
    }

    /// Trims what lies beside a part along `axis`: at the high end, unless the part must have the edge there.
    fn trim_part(&mut self, panel: Panel, axis: usize, part: &Node) -> Panel {
        let size = part.need[axis];
        let rest = panel.size[axis] - size;
        let high = part.touch[axis] > 0 && !panel.raw[axis][0] && panel.raw[axis][1];
        if !high || rest * self.job.unit <= self.job.kerf {
            return self.trim(panel, axis, size);
        }
        let (rest, part) = self.split(panel, axis, rest);
        self.rest(rest);
        part
    }

    /// Cuts `size` off along `axis` if there is more; the two panels.
    fn split(&mut self, panel: Panel, axis: usize, size: i64) -> (Panel, Panel) {
        let (mut first, mut behind) = (panel, panel);
        first.size[axis] = size;
        behind.at[axis] += size;
        behind.size[axis] -= size;
        if behind.size[axis] > 0 {
            first.raw[axis][1] = false;
            behind.raw[axis][0] = false;
            let at = behind.at[axis] * self.job.unit - self.job.kerf;
            let axis = if (axis == 0) != self.sheet.flipped { Axis::X } else { Axis::Y };
            self.done.cuts.push(SheetCut { panel: self.rect(panel), axis, at });
        }
        (first, behind)
    }

    fn trim(&mut self, panel: Panel, axis: usize, size: i64) -> Panel {
        let (first, behind) = self.split(panel, axis, size);
        if behind.size[axis] > 0 {
            self.rest(behind);
        }
        first
    }

    /// The true rectangle of a panel; without extent if the blade eats it.
    fn rect(&self, panel: Panel) -> Rect {
        let unit = self.job.unit;
        let [mut x, mut y] = panel.at.map(|c| c * unit);
        let [mut dx, mut dy] = panel.size.map(|c| c * unit - self.job.kerf);
        if self.sheet.flipped {
            std::mem::swap(&mut x, &mut y);
            std::mem::swap(&mut dx, &mut dy);
        }
        Rect { x, y, dx, dy }
    }

    fn rest(&mut self, panel: Panel) {
        let rect = self.rect(panel);
        if rect.dx > 0 && rect.dy > 0 {
            self.done.rests.push(rect);
        }
    }

    fn piece(&mut self, leaf: &Node, panel: Panel) {
        let rect = self.rect(panel);
        let part = leaf.kind as usize;
        let turned = rect.dx != self.job.true_size(part)[0];
        self.done.pieces.push(PlacedPiece { part, x: rect.x, y: rect.y, turned });
    }
}

/// Brings the child of a row that must have an end of it to the front, and takes out one that must have the far end, of
/// which `raw` says whether they are as they came.
fn ends(nodes: &[Node], row: &mut Vec<usize>, axis: usize, raw: [bool; 2]) -> Option<usize> {
    let mut asking = row.iter().copied().filter(|c| nodes[*c].touch[axis] > 0);
    let (first, second) = (asking.next(), asking.next());
    let (low, high) = if raw[0] { (first, second) } else { (None, first) };
    if let Some(low) = low {
        row.retain(|c| *c != low);
        row.insert(0, low);
    }
    row.retain(|c| Some(*c) != high);
    high
}

/// Each row's children, the tallest across the row first.
fn children(nodes: &[Node]) -> Vec<Vec<usize>> {
    let mut children = vec![Vec::new(); nodes.len()];
    for (i, node) in nodes.iter().enumerate().skip(1) {
        children[node.parent as usize].push(i);
    }
    for (node, row) in nodes.iter().zip(&mut children) {
        let along = usize::from(node.axis) & 1;
        row.sort_by_key(|c| {
            let n = &nodes[*c];
            (std::cmp::Reverse((n.need[1 - along], n.need[along])), n.is_leaf(), n.kind)
        });
    }
    children
}
