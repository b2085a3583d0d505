//! Ruin and recreate: take parts out of a few sheets, insert them again, keep what is no worse.
//!
//! Acceptance is late (Burke & Bykov, "The late acceptance hill-climbing heuristic", Eur. J. Oper.
//! Res. 258, 2017): a state is kept if it is no worse than the present one, or than the one some
//! rounds ago. Parts that stay out grow heavier, so that the search turns to making room for
//! them (as the penalty counters of Nagata & Bräysy, Oper. Res. Lett. 37, 2009, do for the routes
//! of vehicles). Both from memory.

use std::collections::BTreeSet;

use super::insert::{FITS, Insertion, ORDERS};
use super::rng::Rng;
use super::space::{Space, State};
use super::swaps::pairs;
use super::tree::{Bin, Scratch};
use crate::solve::budget::Budget;

/// Places overlooked in a thousand.
const BLINK: usize = 10;
/// Work of one round besides the places looked at.
const PER_STEP: u64 = 50;
/// Work of laying out one sheet, per node.
const PER_LAYOUT: u64 = 12;
/// At most about this many parts are taken out at once.
const RUIN: usize = 14;
/// Of more parts a sheet than this panels change places …
const FEW_PARTS: usize = 5;
/// … so often in a thousand rounds …
const SWAPS: usize = 300;
/// … for so much less value at most; see [`Walk::value`].
const SWAP_SLACK: usize = 10_000_000;
/// Rounds between two changes of weights.
const PERIOD: usize = 500;
/// … or, with many sheets, so many for each.
const PER_SHEET: usize = 100;
/// The most sets that are noted.
const SEEN: usize = 20_000;
/// A part's first weight, what it gains for staying out, and where all are halved.
const WEIGHTS: [i64; 3] = [64, 16, 512];

/// What a walk is after.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// That no part is left out; it ends when none is.
    AllIn,
    /// Rests worth keeping, all parts staying in.
    Rests,
}

/// With more sheets than this a walk works on a few at a time…
pub(super) const MANY: usize = 12;
/// … on so many …
const FEW: usize = 6;
/// … for so many rounds.
const TOGETHER: usize = 400;

/// Area of a sheet's rests worth keeping, and how many they are.
type Kept = (i128, usize);

/// Area kept, pieces of it, different sheets: less is better.
type Rank = (std::cmp::Reverse<i128>, usize, usize);

/// A search from state to state.
pub(super) struct Walk<'s> {
    space: &'s Space<'s>,
    aim: Aim,
    /// Sheets may cost this.
    limit: i128,
    /// Whether there are sheets of several sizes, so that empty ones are given back.
    mixed: bool,
    /// Whether panels change places.
    swaps: bool,
    cur: State,
    /// A copy of `cur` but for what the present round changes.
    next: State,
    touched: Vec<usize>,
    /// The sheets' rests worth keeping, for [`Aim::Rests`]: of `cur`, of `next`.
    kept: [Vec<Kept>; 2],
    weights: Vec<i64>,
    history: Vec<i64>,
    scratch: Scratch,
    gone: Vec<bool>,
    step: usize,
    /// The value when weights were last looked at.
    weighed: i64,
    /// The sheets that are worked on; empty for all.
    few: Vec<usize>,
    /// The sets of parts that lay on a sheet after an accepted round, if they are wanted.
    pub seen: Option<BTreeSet<(usize, Vec<u32>)>>,
    /// What [`Self::rank`] says of the best state seen, and that state, if it is not where the walk began.
    best: (Rank, Option<State>),
}

impl<'s> Walk<'s> {
    /// A walk that begins at `from`, less its emptiest sheets if they cost more than `limit`; late
    /// acceptance looks back `memory` rounds.
    pub(super) fn new(
        space: &'s Space<'s>,
        from: State,
        aim: Aim,
        limit: i128,
        memory: usize,
    ) -> Self {
        let mut cur = from;
        cur.bins.iter_mut().for_each(Bin::freshen);
        while cur.cost > limit {
            let Some(least) = (0..cur.bins.len()).min_by_key(|b| cur.bins[*b].used) else { break };
            let bin = cur.bins.swap_remove(least);
            cur.cost -= space.costs[bin.sheet];
            cur.out.extend(bin.nodes.iter().filter(|n| n.is_leaf()).map(|n| n.kind));
        }
        let kept: Vec<Kept> = match aim {
            Aim::AllIn => Vec::new(),
            Aim::Rests => cur.bins.iter().map(|b| space.kept(b)).collect(),
        };
        let mut walk = Self {
            space,
            aim,
            limit,
            // Exchanges do not mind the stages and the edges, which are all sheets' or none's.
            swaps: aim == Aim::AllIn
                && space.job.items > FEW_PARTS * cur.bins.len()
                && space.empty(0).is_plain(),
            mixed: space.job.sheets.len() > 1 && aim == Aim::AllIn,
            next: cur.clone(),
            cur,
            touched: Vec::new(),
            kept: [kept.clone(), kept],
            weights: vec![WEIGHTS[0]; space.shapes.len()],
            history: Vec::new(),
            scratch: Scratch::default(),
            gone: Vec::new(),
            step: 0,
            weighed: i64::MAX,
            few: Vec::new(),
            seen: None,
            best: (Rank::default(), None),
        };
        walk.best.0 = walk.rank();
        walk.history = vec![walk.value(0); memory.max(1)];
        walk
    }

    /// Walks until nothing is left out ([`Aim::AllIn`]; then `true`) or the work is spent. May be
    /// called again to go on.
    pub(super) fn run(&mut self, rng: &mut Rng, budget: &mut Budget) -> bool {
        while budget.stopped().is_none() && (self.mixed || !self.cur.bins.is_empty()) {
            let closed = self.change(rng, budget);
            if self.aim == Aim::AllIn && self.next.out.is_empty() {
                return true;
            }
            let (was, is) = (self.value(0), self.value(1));
            let slot = self.step % self.history.len();
            let accept = is <= was || is <= self.history[slot];
            self.settle(accept, closed);
            let now = if accept { is } else { was };
            self.history[slot] = self.history[slot].min(now);
            if self.aim == Aim::Rests && accept {
                let rank = self.rank();
                if rank < self.best.0 {
                    self.best = (rank, Some(self.cur.clone()));
                }
            }
            self.step += 1;
            if self.aim == Aim::AllIn
                && self.step.is_multiple_of(PERIOD.max(PER_SHEET * self.cur.bins.len()))
            {
                self.weigh();
            }
        }
        false
    }

    /// The state that met the aim, after [`Self::run`] said so.
    pub(super) fn found(self) -> State {
        self.next
    }

    /// The best state seen by [`Aim::Rests`], the present one by [`Aim::AllIn`].
    pub(super) fn best(self) -> State {
        self.best.1.unwrap_or(self.cur)
    }

    /// What comes first of two states that cost the same: more area kept, in fewer pieces, with fewer different sheets. These
    /// are counted where the state is no worse than the best otherwise.
    fn rank(&self) -> Rank {
        let area: i128 = self.kept[0].iter().map(|kept| kept.0).sum();
        let (area, pieces) =
            (std::cmp::Reverse(area), self.kept[0].iter().map(|kept| kept.1).sum::<usize>());
        let worse = (area, pieces) > (self.best.0.0, self.best.0.1);
        (area, pieces, if worse { usize::MAX } else { self.patterns() })
    }

    /// How many different sets of parts lie on a sheet.
    fn patterns(&self) -> usize {
        let sets = self.cur.bins.iter().map(|bin| {
            let mut kinds = bin.kinds();
            kinds.sort_unstable();
            (bin.sheet, kinds)
        });
        sets.collect::<BTreeSet<_>>().len()
    }

    /// One round of ruin and recreate on `next`; whether sheets were closed or opened.
    fn change(&mut self, rng: &mut Rng, budget: &mut Budget) -> bool {
        self.touched.clear();
        if self.mixed || self.step.is_multiple_of(TOGETHER) {
            self.choose_few(rng);
        }
        let mut list = std::mem::take(&mut self.next.out);
        let mut first = None;
        if self.swaps && rng.chance(SWAPS) {
            budget.spend(self.swap(rng));
        } else {
            first = if rng.chance(250) { self.eject(&mut list, rng) } else { None };
            if first.is_none() {
                self.ruin(&mut list, rng);
            }
        }
        if self.mixed {
            self.give_back();
            self.next.cost = self.space.cost(&self.next);
        }
        let closed = self.next.bins.len() != self.cur.bins.len();
        self.space.sort(&mut list, rng.below(ORDERS));
        if rng.chance(300) {
            for i in 1..list.len() {
                if rng.chance(200) {
                    list.swap(i, i - 1);
                }
            }
        }
        if let Some(first) = first {
            let at = list.iter().position(|k| *k == first).unwrap_or(0);
            list[..=at].rotate_right(1);
        }
        let fit = FITS[rng.below(FITS.len())];
        let limit = if self.aim == Aim::Rests { 0 } else { self.limit };
        let how = Insertion { limit, fit, blink: BLINK, within: &self.few };
        let looks = self.space.insert_all(&mut self.next, &list, &how, rng, &mut self.touched);
        budget.spend(PER_STEP + looks);
        if self.aim == Aim::Rests && self.next.out.is_empty() {
            for &b in &self.touched {
                let bin = &self.next.bins[b];
                self.kept[1][b] = self.space.kept(bin);
                budget.spend(PER_LAYOUT * bin.nodes.len() as u64);
            }
        }
        closed || self.next.bins.len() != self.cur.bins.len()
    }

    /// What the walk minimises, for `cur` (0) or `next` (1).
    fn value(&self, which: usize) -> i64 {
        let state = if which == 0 { &self.cur } else { &self.next };
        let share = |area: i64| self.space.share(area);
        // Free space in one place is worth more than the same spread thin.
        let spread: i64 = state.bins.iter().map(|b| share(b.area - b.used).pow(2)).sum();
        match self.aim {
            Aim::AllIn => {
                let heavy = |k: &u32| {
                    share(self.space.shapes[*k as usize].area) * self.weights[*k as usize]
                };
                state.out.iter().map(heavy).sum::<i64>() * 2048 - spread
            }
            Aim::Rests if !state.out.is_empty() => i64::MAX,
            Aim::Rests => {
                let worth = self.kept[which].iter().map(|kept| self.space.worth_of(*kept));
                -worth.sum::<i64>() * 65536 - spread / 16
            }
        }
    }

    /// Makes `cur` and `next` equal again: both as the round left them, or both as before.
    fn settle(&mut self, accept: bool, closed: bool) {
        if accept {
            // What is copied back and forth is worked out once.
            self.next.bins.iter_mut().for_each(Bin::freshen);
        }
        let (from, to) =
            if accept { (&self.next, &mut self.cur) } else { (&self.cur, &mut self.next) };
        if accept
            && let Some(seen) = &mut self.seen
            && seen.len() < SEEN
        {
            for bin in self.touched.iter().filter_map(|b| from.bins.get(*b)) {
                let mut kinds = bin.kinds();
                kinds.sort_unstable();
                seen.insert((bin.sheet, kinds));
            }
        }
        if closed {
            to.clone_from(from);
        } else {
            to.out.clone_from(&from.out);
            to.cost = from.cost;
            for &b in &self.touched {
                to.bins[b].copy_from(&from.bins[b]);
            }
        }
        if self.aim == Aim::Rests {
            for &b in &self.touched {
                let kept = self.kept[usize::from(accept)][b];
                self.kept[usize::from(!accept)][b] = kept;
            }
        }
    }

    /// Makes what is left out heavier and begins late acceptance anew. With many sheets, only if the last period has not
    /// made it less.
    fn weigh(&mut self) {
        let value = self.value(0);
        let less = value < self.weighed;
        self.weighed = value;
        if less && self.cur.bins.len() > MANY {
            return;
        }
        let [first, gain, most] = WEIGHTS;
        for &kind in &self.cur.out {
            self.weights[kind as usize] += gain;
        }
        if self.weights.iter().any(|w| *w > most) {
            for weight in &mut self.weights {
                *weight = (*weight / 2).max(first / 2);
            }
        }
        let value = self.value(0);
        self.weighed = value;
        self.history.fill(value);
    }

    /// Takes one subtree out whose place holds a part that was left out; which part.
    fn eject(&mut self, list: &mut Vec<u32>, rng: &mut Rng) -> Option<u32> {
        let kind = *list.get(rng.below(list.len()))?;
        let shape = &self.space.shapes[kind as usize];
        let way = shape.ways[rng.below(shape.ways.len())];
        let half = self.space.share(shape.area) / 2;
        let mut best: Option<(i64, usize, usize)> = None;
        for b in 0..self.among() {
            let b = self.few.get(b).copied().unwrap_or(b);
            let bin = &mut self.next.bins[b];
            bin.freshen();
            for (i, node) in bin.nodes.iter().enumerate() {
                if node.room[0] >= way[0] && node.room[1] >= way[1] {
                    let lost = self.space.share(self.space.scaled(node.need));
                    let score = lost.max(half) * (100 + rng.below(150) as i64);
                    if best.is_none_or(|b| score < b.0) {
                        best = Some((score, b, i));
                    }
                }
            }
        }
        let (_, b, root) = best?;
        self.gone.clear();
        self.gone.resize(self.next.bins[b].nodes.len(), false);
        self.mark(b, root);
        self.take_out(b, list);
        Some(kind)
    }

    /// Lets two panels of two sheets change places; how much was looked at.
    fn swap(&mut self, rng: &mut Rng) -> u64 {
        let n = self.among();
        if n < 2 {
            return 1;
        }
        let a = rng.below(n);
        let b = (a + 1 + rng.below(n - 1)) % n;
        let at = |b: usize| self.few.get(b).copied().unwrap_or(b);
        let pair = [at(a), at(b)];
        pair.iter().for_each(|b| self.next.bins[*b].freshen());
        let panels = pair.map(|b| self.space.panels(&self.next.bins[b], &[]));
        let slack = rng.below(SWAP_SLACK) as i64;
        if self.space.swap_panels(&mut self.next.bins, pair, &panels, slack, rng) {
            self.touched.extend(pair);
        }
        pairs(&panels)
    }

    /// Gives empty sheets back.
    fn give_back(&mut self) {
        let mut kept = 0;
        let places: Vec<Option<usize>> = (self.next.bins.iter())
            .map(|bin| (!bin.nodes.is_empty()).then(|| (kept, kept += 1).0))
            .collect();
        self.next.bins.retain(|bin| !bin.nodes.is_empty());
        let few = std::mem::take(&mut self.few);
        self.few = few.into_iter().filter_map(|b| places[b]).collect();
    }

    /// Of many sheets a few, in any order.
    fn choose_few(&mut self, rng: &mut Rng) {
        let bins = self.next.bins.len();
        self.few.clear();
        while bins > MANY && self.few.len() < FEW {
            let b = rng.below(bins);
            if !self.few.contains(&b) {
                self.few.push(b);
            }
        }
    }

    /// How many sheets are worked on.
    fn among(&self) -> usize {
        if self.few.is_empty() { self.next.bins.len() } else { self.few.len() }
    }

    /// Takes some subtrees out of some sheets.
    fn ruin(&mut self, list: &mut Vec<u32>, rng: &mut Rng) {
        let bins = self.among();
        let few = 1 + rng.below(bins.min(4));
        let mut quota = 1 + rng.below((self.space.job.items / 2).clamp(1, RUIN));
        for _ in 0..few.min(bins) {
            let b = rng.below(bins);
            let b = self.few.get(b).copied().unwrap_or(b);
            let n = self.next.bins[b].nodes.len();
            if n == 0 || self.touched.contains(&b) {
                continue;
            }
            self.gone.clear();
            self.gone.resize(n, false);
            let whole = rng.chance(100);
            while quota > 0 || whole {
                self.mark(b, if whole { 0 } else { rng.below(n) });
                quota = quota.saturating_sub(self.gone.iter().filter(|g| **g).count());
                if whole || rng.chance(400) {
                    break;
                }
            }
            self.take_out(b, list);
        }
    }

    /// Marks the subtree at `root` as gone.
    fn mark(&mut self, b: usize, root: usize) {
        let nodes = &self.next.bins[b].nodes;
        self.gone[root] = true;
        for (i, node) in nodes.iter().enumerate().skip(root + 1) {
            self.gone[i] |= self.gone[node.parent as usize];
        }
    }

    /// Takes the marked parts out of a sheet.
    fn take_out(&mut self, b: usize, list: &mut Vec<u32>) {
        let bin: &mut Bin = &mut self.next.bins[b];
        for (node, gone) in bin.nodes.iter().zip(&self.gone) {
            if *gone && node.is_leaf() {
                bin.used -= self.space.shapes[node.kind as usize].area;
                list.push(node.kind);
            }
        }
        bin.remove(&self.gone, &mut self.scratch);
        self.touched.push(b);
    }
}
