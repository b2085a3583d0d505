//! The best rests of a sheet of few parts, by trying every arrangement of them.
//!
//! A panel that must yield some of the parts is one of them, or is cut in two; each half yields some of what is asked of it, or
//! nothing, and is a rest then. Where to cut: at a width that some of the parts need at least (the widths of the least
//! rectangles that they come out of), or at one that leaves a rest or two of the least size worth keeping beside them.

use std::collections::BTreeMap;

use super::CutSheet;
use super::hull;
use super::job::{Job, JobSheet};
use super::layout::{Bench, is_kept};
use crate::solve::budget::Budget;

/// The most parts of a sheet that is looked at.
const MOST: usize = 6;
/// With more parts than this, rests of the least size are not tried.
const WITH_LEAST: usize = 4;
/// Area kept; pieces of it and cuts as negative numbers: more is better.
pub(super) type Worth = (i128, i64, i64);

/// What becomes of a panel.
#[derive(Clone, Copy)]
enum Fate {
    Rest,
    Part,
    /// Cut at a size along an axis; the parts of the first half.
    Cut(usize, i64, usize),
}

/// The best that was found for a panel.
type Best = (Worth, Fate);

/// Arrangements of some parts and of all sets of them, on panels of any size.
pub(super) struct Arranger<'a> {
    job: &'a Job,
    /// Kinds of the parts.
    parts: Vec<u32>,
    /// For each set of parts the least rectangles that it comes out of.
    hulls: Vec<Vec<[i64; 2]>>,
    /// For each set of parts and axis where a panel of it may end.
    ends: Vec<[Vec<i64>; 2]>,
    known: BTreeMap<([i64; 2], usize), Option<Best>>,
    /// Cuts that may still be tried; once there are none, what is found out may be wrong.
    pub left: usize,
}

/// Whether so many parts are arranged, where every way to cut is allowed.
pub(super) fn may_arrange(job: &Job, parts: usize) -> bool {
    (1..=MOST).contains(&parts) && job.stages.most.is_none() && !job.is_edged()
}

/// A sheet that yields parts of these kinds, in ascending order, with the best rests, after no more than `most` cuts tried;
/// `None` if that does not do, if there are too many parts, they may not be cut in every way, or if `clock` says stop.
pub(super) fn arrange(
    job: &Job,
    sheet: usize,
    kinds: &[u32],
    most: usize,
    clock: &mut Budget,
) -> Option<CutSheet> {
    if !may_arrange(job, kinds.len()) || clock.stopped().is_some() {
        return None;
    }
    let sheet = &job.sheets[sheet];
    let mut arranger = Arranger::new(job, sheet.size, kinds.to_vec(), most);
    let all = arranger.hulls.len() - 1;
    arranger.best(sheet.size, all, clock)?;
    (arranger.left > 0).then(|| arranger.cut(sheet, all))
}

impl<'a> Arranger<'a> {
    /// Nothing is arranged yet. No panel is larger than `size`.
    pub(super) fn new(job: &'a Job, size: [i64; 2], parts: Vec<u32>, most: usize) -> Self {
        let hulls = hulls(job, size, &parts);
        // What a rest of the least size takes of a panel, in job units.
        let grown = |side: i64| (side + job.kerf + job.unit - 1) / job.unit;
        let [a, b] = job.keep.map(grown);
        let least = [a, b, a + a, a + b, b + b];
        let ends = |set: usize| {
            [0, 1].map(|axis| {
                let mut ends: Vec<i64> = hulls[set].iter().map(|size| size[axis]).collect();
                let from = ends.iter().copied().min().unwrap_or(0);
                if parts.len() <= WITH_LEAST {
                    let some = (0..=set).filter(|some| some & !set == 0);
                    let sizes = some.flat_map(|some| &hulls[some]).map(|size| size[axis]);
                    let more: Vec<i64> =
                        sizes.flat_map(|size| least.map(|least| size + least)).collect();
                    ends.extend(more.into_iter().filter(|end| *end >= from));
                }
                ends.sort_unstable();
                ends.dedup();
                ends
            })
        };
        let ends = (0..hulls.len()).map(ends).collect();
        Self { job, parts, hulls, ends, known: BTreeMap::new(), left: most }
    }

    /// What the rests of a panel are worth that yields a set of parts; `None` if it does not.
    pub(super) fn worth(
        &mut self,
        size: [i64; 2],
        set: usize,
        clock: &mut Budget,
    ) -> Option<Worth> {
        self.best(size, set, clock).map(|best| best.0)
    }

    /// The best of a panel that yields a set of parts; `None` if it does not.
    fn best(&mut self, size: [i64; 2], set: usize, clock: &mut Budget) -> Option<Best> {
        if set == 0 {
            let area = is_kept(self.job, size);
            return Some(((area.unwrap_or(0), -i64::from(area.is_some()), 0), Fate::Rest));
        }
        if !self.hulls[set].iter().any(|hull| hull[0] <= size[0] && hull[1] <= size[1]) {
            return None;
        }
        if let Some(known) = self.known.get(&(size, set)) {
            return *known;
        }
        let whole = set.count_ones() == 1 && self.hulls[set].contains(&size);
        let mut best = whole.then_some(((0, 0, 0), Fate::Part));
        for axis in [0, 1] {
            let mut first = set;
            while first > 0 {
                for place in 0..self.ends[first][axis].len() {
                    let at = self.ends[first][axis][place];
                    if at >= size[axis] || self.left == 0 {
                        break;
                    }
                    self.left -= 1;
                    if !clock.spend(1) {
                        self.left = 0;
                    }
                    let (mut near, mut far) = (size, size);
                    (near[axis], far[axis]) = (at, size[axis] - at);
                    let Some((one, _)) = self.best(near, first, clock) else { continue };
                    let Some((other, _)) = self.best(far, set ^ first, clock) else { continue };
                    let worth = (one.0 + other.0, one.1 + other.1, one.2 + other.2 - 1);
                    if best.is_none_or(|(before, _)| worth > before) {
                        best = Some((worth, Fate::Cut(axis, at, first)));
                    }
                }
                first = (first - 1) & set;
            }
        }
        self.known.insert((size, set), best);
        best
    }

    /// The sheet cut into the parts of a set, of which the best on it is known.
    pub(super) fn cut(&mut self, sheet: &JobSheet, all: usize) -> CutSheet {
        let mut bench = Bench::new(self.job, sheet, false);
        let mut todo = vec![(bench.whole(), all)];
        while let Some((panel, set)) = todo.pop() {
            // All that is asked for here is known.
            match self.best(panel.size, set, &mut Budget::work(0)) {
                Some((_, Fate::Cut(axis, at, first))) => {
                    let (near, far) = bench.saw.split(panel, axis, at);
                    todo.extend([(far, set ^ first), (near, first)]);
                }
                Some((_, Fate::Part)) => {
                    bench.piece(self.parts[set.trailing_zeros() as usize], panel);
                }
                _ => bench.saw.rest(panel),
            }
        }
        bench.done()
    }
}

/// For each set of parts the least rectangles, none inside another, that it comes out of and that `within` holds.
fn hulls(job: &Job, within: [i64; 2], parts: &[u32]) -> Vec<Vec<[i64; 2]>> {
    let mut hulls: Vec<Vec<[i64; 2]>> = vec![vec![[0; 2]]];
    for set in 1..1usize << parts.len() {
        let mut all = Vec::new();
        if set.count_ones() == 1 {
            let kind = &job.kinds[parts[set.trailing_zeros() as usize] as usize];
            all.push(kind.size);
            if kind.turn {
                all.push([kind.size[1], kind.size[0]]);
            }
        }
        let mut first = (set - 1) & set;
        while first > 0 {
            for axis in [0, 1] {
                hull::beside(&hulls[first], &hulls[set ^ first], axis, &mut all);
            }
            first = (first - 1) & set;
        }
        all.retain(|size| size[0] <= within[0] && size[1] <= within[1]);
        hull::least(&mut all);
        hulls.push(all);
    }
    hulls
}
