//! Whole plans out of the LP, and the proof that there is no cheaper one.
//!
//! Under the bound's own weights every pattern has a reduced price, and one that exceeds what the
//! best plan is above the bound occurs in no cheaper plan. What remains is often few patterns
//! (reduced-price fixing as in Belov & Scheithauer, Eur. J. Oper. Res. 171:85-106, 2006, from
//! memory): they are listed, and [`super::listed`] searches them completely. With several kinds of
//! bar, how many of each are cut is settled first.

use super::dive::{Reach, dive};
use super::enumerate::enumerate;
use super::listed;
use super::master::Master;
use super::model::{Kind, Model};
use super::search::Search;
use crate::solve::budget::Budget;

/// What a round may do; each dives further and lists more patterns.
struct Round {
    reach: Reach,
    /// Nodes over counts of bars.
    mixes: u64,
    /// Nodes over patterns.
    nodes: u64,
    /// Patterns that a list may hold.
    list: usize,
}

const ROUNDS: [Round; 4] = [
    Round { reach: Reach { depth: 0, turns: 0 }, mixes: 30, nodes: 100, list: 5_000 },
    Round { reach: Reach { depth: 2, turns: 1 }, mixes: 120, nodes: 1_000, list: 50_000 },
    Round { reach: Reach { depth: 4, turns: 2 }, mixes: 500, nodes: 10_000, list: 200_000 },
    Round { reach: Reach { depth: 8, turns: 3 }, mixes: 4_000, nodes: 1_000_000, list: 500_000 },
];

/// Works on `search` until its plan is proved best, the rounds are over or the budget is spent.
pub(super) fn finish(search: &mut Search, budget: &mut Budget) {
    let mut master = Master::new(&search.model, &search.pool);
    for round in ROUNDS {
        let goal = search.price().unwrap_or(i128::MAX);
        let relaxed = master.relax(&search.model.clone(), &mut search.pool, goal, budget);
        search.raise(relaxed.certificate.bound);
        if search.proved() || budget.stopped().is_some() {
            return;
        }
        master.thorough = round.reach.depth > 0;
        dive(search, &master, round.reach, budget);
        if search.proved() || budget.stopped().is_some() {
            return;
        }
        // The nearer the bound before rounding, the shorter the lists.
        master.thorough = true;
        let root = search.model.clone();
        let Round { mixes: left, nodes, list, .. } = round;
        let mut mixes = Mixes { search, master: &mut master, budget, left, nodes, list };
        if mixes.explore(&root, 0) {
            // No plan is cheaper than the best found, by complete search.
            if let Some(price) = search.price() {
                search.raise(price);
            }
            return;
        }
        master.thorough = false;
    }
}

/// Deeper than this no search goes: a frame per bar.
const MOST_DEPTH: usize = 300;

/// Complete search over how many bars of each kind are cut, then over the patterns.
struct Mixes<'a, 'w> {
    search: &'a mut Search<'w>,
    budget: &'a mut Budget,
    master: &'a mut Master,
    /// Nodes left.
    left: u64,
    /// Nodes of each search over a list.
    nodes: u64,
    /// Patterns that a list may hold.
    list: usize,
}

impl Mixes<'_, '_> {
    /// Whether every plan within the limits of `part` has been looked at or proved no cheaper than
    /// the best.
    fn explore(&mut self, part: &Model, depth: usize) -> bool {
        let Some(price) = self.search.price() else { return false };
        if self.search.proved() {
            return true;
        }
        if self.left == 0 || depth > MOST_DEPTH || self.budget.stopped().is_some() {
            return false;
        }
        self.left -= 1;
        let relaxed = self.master.relax(part, &mut self.search.pool, price, self.budget);
        if relaxed.certificate.bound >= price {
            return true;
        }
        let mut bars = vec![0.0; part.kinds.len()];
        for (pattern, x) in &relaxed.uses {
            bars[pattern.kind] += x;
        }
        if let Some(kind) = most_fractional(part, &bars) {
            let down = bars[kind].floor();
            let (few, many) = (down as u32, down as u32 + 1);
            let few = |s: &mut Self| s.within(part, kind, 0, Some(few), depth);
            let many = |s: &mut Self| s.within(part, kind, many, None, depth);
            // Both sides are looked into, the likelier first.
            let likelier_is_many = bars[kind] - down > 0.5;
            if likelier_is_many {
                return many(self) && few(self);
            }
            return few(self) && many(self);
        }
        let target = price - i128::from(part.price_step());
        let listed = enumerate(part, &relaxed.certificate, target, self.list, self.budget);
        if let Some(patterns) = listed {
            return listed::explore(self.search, part, patterns, self.nodes, self.budget);
        }
        // Too many patterns yet: the count of one kind is settled, which lifts the bound.
        let open = |k: &Kind| k.only.is_none() && k.limit.is_none_or(|limit| limit > k.least);
        let kind = (0..part.kinds.len())
            .filter(|&j| part.kinds.len() > 1 && open(&part.kinds[j]))
            .max_by(|&a, &b| bars[a].total_cmp(&bars[b]).then(b.cmp(&a)));
        let Some(kind) = kind else { return false };
        let now = (bars[kind] + 0.5).floor() as u32;
        self.within(part, kind, now, Some(now), depth)
            && (now == 0 || self.within(part, kind, 0, Some(now - 1), depth))
            && self.within(part, kind, now.saturating_add(1), None, depth)
    }

    /// Explores `part` with no fewer than `least` and no more than `limit` bars of a kind.
    fn within(
        &mut self,
        part: &Model,
        kind: usize,
        least: u32,
        limit: Option<u32>,
        depth: usize,
    ) -> bool {
        let mut part = part.clone();
        let k = &mut part.kinds[kind];
        k.least = k.least.max(least);
        k.limit = match (k.limit, limit) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        k.limit.is_some_and(|limit| limit < k.least) || self.explore(&part, depth + 1)
    }
}

/// The kind whose number of bars is furthest from whole, if there are several kinds.
fn most_fractional(part: &Model, bars: &[f64]) -> Option<usize> {
    let off = |x: f64| (x - (x + 0.5).floor()).abs();
    (0..bars.len())
        .filter(|&j| bars.len() > 1 && part.kinds[j].only.is_none() && off(bars[j]) > 1e-6)
        .max_by(|&a, &b| off(bars[a]).total_cmp(&off(bars[b])).then(b.cmp(&a)))
}
