//! Which of the plans of one price comes first: the least area of sheets, the most area of rests worth keeping, in the fewest
//! pieces, the fewest different sheets, the fewest settings of the saw.
//!
//! All ways to share the parts out among sheets are gone through where they are few ([`by_trying_all`]): that is exact but for
//! how a sheet is cut, which is as good as [`super::arrange`] finds, and for the settings. With more parts different sheets
//! are made alike where nothing before that is lost by it ([`Alike`]), two or three kinds of them at a time: the 2-to-1 and
//! 3-to-2 combinations of Foerster & Waescher, "Pattern reduction in one-dimensional cutting stock problems", Int. J. Prod.
//! Res. 38 (2000); from memory, with sets of parts for patterns. That is a local search without proof.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::CutSheet;
use super::arrange::{Arranger, arrange, may_arrange};
use super::job::Job;
use super::layout::{Pattern, rank, ways};
use super::rng::Rng;
use super::space::Space;
use crate::solve::budget::Budget;
use crate::solve::saw::kept;

/// With more parts not all ways to share them out are gone through.
const MOST_PARTS: usize = 7;
/// The most work to make sheets alike, and so many times the cuts that may be tried for a sheet.
const FOR_ALIKE: u64 = 4_000_000;
/// See [`FOR_ALIKE`].
const PER_CUT: u64 = 4;
/// Of more patterns than this only the first are looked at.
const MOST_PATTERNS: usize = 40;
/// Ways in which two patterns are to stand for three, looked at for each three.
const MOST_PAIRS: usize = 50;

/// What plans are compared by; less is better.
type Rank = (i128, Reverse<i128>, usize, usize, usize);

/// A sheet and the kinds of the parts on it, ascending.
type Set = (usize, Vec<u32>);

/// Sheets with their sets of parts, each cut up.
type Sheets = Vec<(Set, CutSheet)>;

/// The plan that comes first of those looked at. No more than `cuts` cuts are tried for each sheet, or for all of few parts.
pub(super) fn settle(
    job: &Job,
    patterns: Vec<Pattern>,
    cuts: usize,
    clock: &mut Budget,
) -> Vec<Pattern> {
    let space = Space::new(job);
    if may_arrange(job, 1) && job.items <= MOST_PARTS {
        return by_trying_all(&space, patterns, cuts, clock);
    }
    let mut alike = Alike {
        space: &space,
        patterns,
        known: BTreeMap::new(),
        cuts: cuts.min(20_000),
        rng: Rng::new(4),
        budget: clock.share(FOR_ALIKE.min(PER_CUT * cuts as u64)),
    };
    while alike.step() {}
    alike.patterns
}

/// What a plan is compared by.
fn rank_of(space: &Space, patterns: &[Pattern]) -> Rank {
    let mut all = (0, Reverse(0), 0, 0, 0);
    for pattern in patterns {
        let times = pattern.times;
        let (area, pieces) = kept(space.job.keep, &pattern.cut.rests);
        all.0 += space.costs[pattern.sheet] * times as i128;
        all.1.0 += area * times as i128;
        all.2 += pieces * times;
        all.3 += 1;
        all.4 += rank(space.job, &pattern.cut).2;
    }
    all
}

/// The best of all ways to share few parts out among sheets.
fn by_trying_all(
    space: &Space,
    patterns: Vec<Pattern>,
    cuts: usize,
    clock: &mut Budget,
) -> Vec<Pattern> {
    let job = space.job;
    let mut parts: Vec<u32> = (patterns.iter())
        .flat_map(|p| std::iter::repeat_n(&p.kinds, p.times).flatten().copied())
        .collect();
    parts.sort_unstable();
    let within = [0, 1].map(|axis| job.sheets.iter().map(|s| s.size[axis]).max().unwrap_or(0));
    let all = (1 << parts.len()) - 1;
    let mut shares = Shares {
        space,
        arranger: Arranger::new(job, within, parts.clone(), cuts),
        cuts: BTreeMap::new(),
        limits: job.sheets.iter().map(|s| s.limit).collect(),
        taken: Vec::new(),
        best: (rank_of(space, &patterns), None),
        parts,
        clock,
    };
    shares.go(all, (0, Reverse(0), 0, 0, 0));
    let (_, found) = shares.best;
    // What was found out after the last cut that may be tried may be wrong.
    if shares.arranger.left == 0 {
        return patterns;
    }
    let Some(sets) = found else { return patterns };
    let mut patterns: BTreeMap<Set, Pattern> = BTreeMap::new();
    for (set, cut) in sets {
        let (sheet, kinds) = set.clone();
        patterns.entry(set).or_insert(Pattern { sheet, kinds, times: 0, cut }).times += 1;
    }
    patterns.into_values().collect()
}

/// The search of [`by_trying_all`].
struct Shares<'a, 'j> {
    space: &'a Space<'j>,
    /// Kinds of the parts, ascending.
    parts: Vec<u32>,
    arranger: Arranger<'j>,
    /// How sheets with sets of parts are cut, and how often the saw is set for it.
    cuts: BTreeMap<(usize, usize), (CutSheet, usize)>,
    limits: Vec<u32>,
    /// Sheets and sets of parts, as bits, so far.
    taken: Vec<(usize, usize)>,
    best: (Rank, Option<Sheets>),
    clock: &'a mut Budget,
}

impl Shares<'_, '_> {
    /// Goes on with the parts that are left, after sheets of a rank of which patterns and settings are counted at the end.
    fn go(&mut self, left: usize, so_far: Rank) {
        if left == 0 {
            self.end(so_far);
            return;
        }
        let first = left & left.wrapping_neg();
        let mut set = left;
        while set > 0 {
            if set & first != 0 && self.is_first_of_equals(set, left) {
                for sheet in 0..self.limits.len() {
                    self.take(sheet, set, left, so_far);
                }
            }
            set = (set - 1) & left;
        }
    }

    /// Whether the set takes equal parts in their order.
    fn is_first_of_equals(&self, set: usize, left: usize) -> bool {
        (1..self.parts.len()).all(|i| {
            let (here, before) = (set >> i & 1, set >> (i - 1) & 1);
            self.parts[i] != self.parts[i - 1] || left >> (i - 1) & 1 == 0 || here <= before
        })
    }

    fn take(&mut self, sheet: usize, set: usize, left: usize, so_far: Rank) {
        let cost = so_far.0 + self.space.costs[sheet];
        if self.limits[sheet] == 0 || cost > self.best.0.0 || self.arranger.left == 0 {
            return;
        }
        let size = self.space.job.sheets[sheet].size;
        let Some((area, pieces, _)) = self.arranger.worth(size, set, self.clock) else { return };
        let pieces = usize::try_from(-pieces).unwrap_or(0);
        self.limits[sheet] -= 1;
        self.taken.push((sheet, set));
        self.go(left ^ set, (cost, Reverse(so_far.1.0 + area), so_far.2 + pieces, 0, 0));
        self.taken.pop();
        self.limits[sheet] += 1;
    }

    /// Keeps the sheets taken if they come before the best.
    fn end(&mut self, so_far: Rank) {
        let best = self.best.0;
        if (so_far.0, so_far.1, so_far.2) > (best.0, best.1, best.2) || self.arranger.left == 0 {
            return;
        }
        let mut different: BTreeMap<Set, (usize, usize)> = BTreeMap::new();
        for &(sheet, set) in &self.taken {
            different.entry((sheet, self.kinds(set))).or_insert((sheet, set));
        }
        let settings = different.values().map(|&(sheet, set)| self.cut(sheet, set).1).sum();
        let rank = (so_far.0, so_far.1, so_far.2, different.len(), settings);
        if rank < self.best.0 {
            let taken = self.taken.clone();
            let sheets = taken.into_iter().map(|(sheet, set)| {
                let kinds = self.kinds(set);
                let (of, alike) = different[&(sheet, kinds.clone())];
                ((sheet, kinds), self.cut(of, alike).0)
            });
            self.best = (rank, Some(sheets.collect()));
        }
    }

    fn kinds(&self, set: usize) -> Vec<u32> {
        (0..self.parts.len()).filter(|i| set >> i & 1 == 1).map(|i| self.parts[i]).collect()
    }

    fn cut(&mut self, sheet: usize, set: usize) -> (CutSheet, usize) {
        if let Some(known) = self.cuts.get(&(sheet, set)) {
            return known.clone();
        }
        let cut = self.arranger.cut(&self.space.job.sheets[sheet], set);
        let settings = rank(self.space.job, &cut).2;
        self.cuts.insert((sheet, set), (cut.clone(), settings));
        (cut, settings)
    }
}

/// A plan of which different sheets are made alike.
struct Alike<'a> {
    space: &'a Space<'a>,
    patterns: Vec<Pattern>,
    /// How sheets with sets of parts are cut; `None` if no way was found.
    known: BTreeMap<Set, Option<CutSheet>>,
    /// Cuts tried for one sheet.
    cuts: usize,
    rng: Rng,
    budget: Budget,
}

/// So many of each kind, ascending.
type Counts = BTreeMap<u32, usize>;

impl Alike<'_> {
    /// Takes the first change that makes the plan better, if there is one.
    fn step(&mut self) -> bool {
        let n = self.patterns.len().min(MOST_PATTERNS);
        for i in 0..n {
            for j in 0..i {
                if self.two(i, j) {
                    return true;
                }
            }
        }
        for i in 0..n {
            for j in 0..i {
                for k in 0..j {
                    if self.three([i, j, k]) {
                        return true;
                    }
                }
            }
        }
        false
    }

    /// Two patterns become one, or one that is there already and another.
    fn two(&mut self, i: usize, j: usize) -> bool {
        let (a, b) = (&self.patterns[i], &self.patterns[j]);
        if a.sheet != b.sheet || !self.budget.spend(20) {
            return false;
        }
        let (sheet, times) = (a.sheet, [a.times, b.times]);
        let both = self.all(&[i, j]);
        let even = times[0] + times[1];
        if both.values().all(|n| n % even == 0) {
            let one = both.iter().map(|(kind, n)| (*kind, n / even)).collect();
            if self.change(&[(i, times[0]), (j, times[1])], sheet, &[(one, even)]) {
                return true;
            }
        }
        if times[0] != times[1] {
            return false;
        }
        let once: Counts = both.iter().map(|(kind, n)| (*kind, n / times[0])).collect();
        for k in 0..self.patterns.len() {
            let like = &self.patterns[k];
            if k == i || k == j || like.sheet != sheet {
                continue;
            }
            let like = counts(&like.kinds);
            if let Some(rest) = less(&once, &like)
                && self.change(
                    &[(i, times[0]), (j, times[0])],
                    sheet,
                    &[(like, times[0]), (rest, times[0])],
                )
            {
                return true;
            }
        }
        false
    }

    /// Three patterns become two.
    fn three(&mut self, old: [usize; 3]) -> bool {
        let sheet = self.patterns[old[0]].sheet;
        if old.iter().any(|p| self.patterns[*p].sheet != sheet) || !self.budget.spend(20) {
            return false;
        }
        let all = self.all(&old);
        let times: usize = old.iter().map(|p| self.patterns[*p].times).sum();
        let gone = old.map(|p| (p, self.patterns[p].times));
        for once in 1..=times / 2 {
            let often = times - once;
            for [one, other] in self.pairs(&all, once, often, sheet) {
                if self.change(&gone, sheet, &[(one, once), (other, often)]) {
                    return true;
                }
            }
        }
        false
    }

    /// Pairs of sets of which the first `once` and the second `often` are all parts.
    fn pairs(&self, all: &Counts, once: usize, often: usize, sheet: usize) -> Vec<[Counts; 2]> {
        let room = self.space.areas[sheet];
        let area = |kind: u32| self.space.shapes[kind as usize].area;
        // So far: both sets, with their areas.
        let mut pairs = vec![([Counts::new(), Counts::new()], [0; 2])];
        for (&kind, &n) in all {
            let mut longer = Vec::new();
            for (sets, areas) in &pairs {
                for first in 0..=n / once {
                    let rest = n - first * once;
                    if !rest.is_multiple_of(often) {
                        continue;
                    }
                    let numbers = [first, rest / often];
                    let areas = [0, 1].map(|s| areas[s] + area(kind) * numbers[s] as i64);
                    if areas.iter().any(|area| *area > room) || longer.len() >= MOST_PAIRS {
                        continue;
                    }
                    let mut sets = sets.clone();
                    for (set, n) in sets.iter_mut().zip(numbers).filter(|(_, n)| *n > 0) {
                        set.insert(kind, n);
                    }
                    longer.push((sets, areas));
                }
            }
            pairs = longer;
        }
        pairs.into_iter().map(|(sets, _)| sets).collect()
    }

    /// So many sheets of some patterns become such of others, if that makes the plan better.
    fn change(&mut self, old: &[(usize, usize)], sheet: usize, new: &[(Counts, usize)]) -> bool {
        let mut plan: BTreeMap<Set, (usize, CutSheet)> = BTreeMap::new();
        for (i, pattern) in self.patterns.iter().enumerate() {
            let gone = old.iter().find(|o| o.0 == i).map_or(0, |o| o.1);
            if pattern.times > gone {
                let key = (pattern.sheet, pattern.kinds.clone());
                plan.insert(key, (pattern.times - gone, pattern.cut.clone()));
            }
        }
        for (set, times) in new.iter().filter(|(set, _)| !set.is_empty()) {
            let kinds: Vec<u32> =
                set.iter().flat_map(|(kind, n)| std::iter::repeat_n(*kind, *n)).collect();
            let key = (sheet, kinds);
            if let Some(there) = plan.get_mut(&key) {
                there.0 += times;
                continue;
            }
            let Some(cut) = self.cut(&key) else { return false };
            plan.insert(key, (*times, cut));
        }
        let pattern = |((sheet, kinds), (times, cut))| Pattern { sheet, kinds, times, cut };
        let plan: Vec<Pattern> = plan.into_iter().map(pattern).collect();
        let better = rank_of(self.space, &plan) < rank_of(self.space, &self.patterns);
        if better {
            self.patterns = plan;
        }
        better
    }

    /// A sheet with a set of parts, cut as well as is found.
    fn cut(&mut self, set: &Set) -> Option<CutSheet> {
        if let Some(known) = self.known.get(set) {
            return known.clone();
        }
        let (sheet, kinds) = set;
        let job = self.space.job;
        let cut = if may_arrange(job, kinds.len()) {
            let mut share = self.budget.share(self.budget.left());
            let cut = arrange(job, *sheet, kinds, self.cuts, &mut share);
            self.budget.spend(share.spent());
            cut
        } else {
            let mut share = self.budget.share((self.budget.left() / 8).max(20_000));
            let bin = self.space.packed(*sheet, kinds, &mut self.rng, &mut share);
            self.budget.spend(share.spent());
            bin.and_then(|bin| ways(job, &bin).min_by_key(|cut| rank(job, cut)))
        };
        self.known.insert(set.clone(), cut.clone());
        cut
    }

    /// All parts of some patterns.
    fn all(&self, patterns: &[usize]) -> Counts {
        let mut all = Counts::new();
        for pattern in patterns.iter().map(|p| &self.patterns[*p]) {
            for kind in &pattern.kinds {
                *all.entry(*kind).or_default() += pattern.times;
            }
        }
        all
    }
}

fn counts(kinds: &[u32]) -> Counts {
    let mut counts = Counts::new();
    kinds.iter().for_each(|kind| *counts.entry(*kind).or_default() += 1);
    counts
}

/// What is left of a set without another, if that is part of it.
fn less(set: &Counts, other: &Counts) -> Option<Counts> {
    let mut left = set.clone();
    for (kind, n) in other {
        let there = left.get_mut(kind)?;
        *there = there.checked_sub(*n)?;
    }
    left.retain(|_, n| *n > 0);
    Some(left)
}
