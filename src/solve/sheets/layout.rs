//! From slicing trees to cuts, pieces and rests in the problem's own coordinates.
//!
//! Below the root a panel is as wide as its node needs across its row, so that all the freedom
//! left is at the root: whether the sheet is first cut to the root's need across, or goes whole
//! into the root's row; and in rows: whether the shorter things are trimmed one by one or, the tallest
//! first, together with all that is behind them. Whichever leaves most worth keeping, in the fewest
//! pieces, is taken.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::arrange::arrange;
use super::job::{Job, JobSheet};
use super::tree::{Bin, Node};
use super::{CutSheet, PlacedPiece, Rect, SheetCut, SheetPlan, settings, ties};
use crate::solve::budget::Budget;
use crate::solve::saw::{Panel, Saw, kept};

/// The plan that the trees stand for. For each sheet of few parts no more than `cuts` cuts are tried to better its rests.
/// `clock` may end that earlier, and `hurried` leaves out what looks for other sheets instead.
pub(super) fn plan(
    job: &Job,
    bins: &[Bin],
    cuts: usize,
    hurried: bool,
    clock: &mut Budget,
) -> SheetPlan {
    // Sheets of the same parts are cut alike, as the best of them.
    let mut alike: BTreeMap<(usize, Vec<u32>), (usize, CutSheet)> = BTreeMap::new();
    for bin in bins {
        let mut kinds = bin.kinds();
        kinds.sort_unstable();
        let known = alike.get(&(bin.sheet, kinds.clone())).map(|(n, cut)| (*n, Some(cut.clone())));
        let (n, before) = known.unwrap_or((0, None));
        let arranged = if n == 0 { arrange(job, bin.sheet, &kinds, cuts, clock) } else { None };
        let all = [before, arranged].into_iter().flatten().chain(ways(job, bin));
        let best = all.min_by(|a, b| rank(job, a).cmp(&rank(job, b)).then_with(|| a.cmp(b)));
        alike.insert((bin.sheet, kinds), (n + 1, best.expect("each sheet is cut in some way")));
    }
    let each = alike.into_iter();
    let mut patterns: Vec<Pattern> =
        each.map(|((sheet, kinds), (times, cut))| Pattern { sheet, kinds, times, cut }).collect();
    if !hurried {
        patterns = ties::settle(job, patterns, cuts, clock);
    }
    let each =
        patterns.into_iter().flat_map(|pattern| std::iter::repeat_n(pattern.cut, pattern.times));
    let mut cut: Vec<CutSheet> = each.collect();
    cut.sort();
    set_seldom(&mut cut);
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

/// Puts the cuts of each sheet in the order in which the saw is set least often; equal sheets are cut together.
fn set_seldom(sheets: &mut [CutSheet]) {
    let mut before: Option<(CutSheet, Vec<SheetCut>)> = None;
    let mut saw = None;
    for sheet in sheets {
        let known = before.as_ref().filter(|(same, _)| same == sheet).map(|(_, cuts)| cuts.clone());
        let cuts = known.unwrap_or_else(|| settings::ordered(&sheet.cuts, saw));
        let given = sheet.clone();
        sheet.cuts.clone_from(&cuts);
        saw = settings::count(&cuts, saw).1;
        before = Some((given, cuts));
    }
}

/// What of two ways to cut a sheet up comes first: more area kept, in fewer pieces, with fewer settings of the saw, with
/// fewer cuts.
pub(super) fn rank(job: &Job, cut: &CutSheet) -> (Reverse<i128>, usize, usize, usize) {
    let (area, pieces) = kept(job.keep, &cut.rests);
    let settings = settings::count(&settings::ordered(&cut.cuts, None), None).0;
    (Reverse(area), pieces, settings, cut.cuts.len())
}

/// The area of a panel, given by its sides in job units, if it is worth keeping as a rest.
pub(super) fn is_kept(job: &Job, size: [i64; 2]) -> Option<i128> {
    let [dx, dy] = size.map(|side| side * job.unit - job.kerf);
    let (area, pieces) = kept(job.keep, &[Rect { x: 0, y: 0, dx, dy }]);
    (pieces > 0).then_some(area)
}

/// One sheet cut up in the way that keeps most, in the fewest pieces, with the fewest cuts; `part` of its pieces is their
/// kind, `turned` is against the kind's sides.
pub(super) fn cut_sheet(job: &Job, bin: &Bin) -> CutSheet {
    let quick = |cut: &CutSheet| {
        let (area, pieces) = kept(job.keep, &cut.rests);
        (Reverse(area), pieces, cut.cuts.len())
    };
    ways(job, bin).min_by_key(quick).expect("one way is within the stages, or there are none")
}

/// The ways in which one sheet is cut up: at least one.
pub(super) fn ways(job: &Job, bin: &Bin) -> impl Iterator<Item = CutSheet> {
    let sheet = &job.sheets[bin.sheet];
    let [whole, trimmed] = bin.may_trim();
    // Trims, the sheet's or those of several things together, may take edges off that parts ask for.
    let free = bin.edges.is_none();
    let trimmed = trimmed && free;
    // What is trimmed together comes apart in later stages.
    let together = free && job.stages.most.is_none();
    let ways = [(false, false, whole), (true, false, trimmed)];
    let ways = ways.into_iter().chain([(false, true, together), (true, true, together)]);
    ways.filter(|(.., may)| *may).map(move |(trim_first, together, _)| {
        let mut bench = Bench::new(job, sheet, together);
        bench.cut_up(bin, trim_first);
        bench.done()
    })
}

/// Sheets that are cut alike.
pub(super) struct Pattern {
    /// Which of the job's sheets.
    pub sheet: usize,
    /// What is cut from one, in ascending order.
    pub kinds: Vec<u32>,
    /// How many.
    pub times: usize,
    /// How.
    pub cut: CutSheet,
}

/// Where one sheet is cut.
pub(super) struct Bench<'a> {
    job: &'a Job,
    sheet: &'a JobSheet,
    /// Whether the shorter things of a row are trimmed together.
    together: bool,
    pub saw: Saw,
    pieces: Vec<PlacedPiece>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(job: &'a Job, sheet: &'a JobSheet, together: bool) -> Self {
        let saw = Saw::new(job.unit, job.kerf, sheet.flipped);
        Self { job, sheet, together, saw, pieces: Vec::new() }
    }

    /// The sheet before it is cut.
    pub(super) fn whole(&self) -> Panel {
        Panel { at: [0; 2], size: self.sheet.size, raw: self.sheet.raw }
    }

    pub(super) fn done(self) -> CutSheet {
        let Saw { cuts, rests, .. } = self.saw;
        CutSheet { sheet: self.sheet.source, pieces: self.pieces, cuts, rests }
    }

    fn cut_up(&mut self, bin: &Bin, trim_first: bool) {
        let nodes = &bin.nodes;
        let children = children(nodes);
        let mut panel = self.whole();
        let Some(root) = nodes.first() else {
            self.saw.rest(panel);
            return;
        };
        let across = if root.is_leaf() { 0 } else { 1 - usize::from(root.axis) };
        if trim_first {
            panel = self.saw.trim(panel, across, root.need[across]);
        }
        let mut todo = vec![(0usize, panel)];
        while let Some((i, mut panel)) = todo.pop() {
            let node = &nodes[i];
            if node.is_leaf() {
                panel = self.trim_part(panel, 1, node);
                panel = self.trim_part(panel, 0, node);
                self.piece(node.kind, panel);
                continue;
            }
            let axis = usize::from(node.axis);
            let mut parts = Vec::new();
            let mut row = children[i].clone();
            if let Some(last) = ends(nodes, &mut row, axis, panel.raw[axis]) {
                // Taken off the far end first, so that what is left over lies before it.
                let before = panel.size[axis] - nodes[last].need[axis];
                let (others, end) = self.saw.split(panel, axis, before);
                parts.push((last, end));
                panel = others;
            }
            for (n, &c) in row.iter().enumerate() {
                if self.together && n > 0 {
                    panel = self.saw.trim(panel, 1 - axis, nodes[c].need[1 - axis]);
                }
                let (first, behind) = self.saw.split(panel, axis, nodes[c].need[axis]);
                parts.push((c, first));
                panel = behind;
            }
            if panel.size[axis] > 0 {
                self.saw.rest(panel);
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
            return self.saw.trim(panel, axis, size);
        }
        let (rest, part) = self.saw.split(panel, axis, rest);
        self.saw.rest(rest);
        part
    }

    /// A panel is a part.
    pub(super) fn piece(&mut self, kind: u32, panel: Panel) {
        let rect = self.saw.rect(panel);
        let part = kind as usize;
        let turned = rect.dx != self.job.true_size(part)[0];
        self.pieces.push(PlacedPiece { part, x: rect.x, y: rect.y, turned });
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
