//! Whole plans out of the LP, and the proof that there is no cheaper one.
//!
//! [`dive`] rounds the LP, solves the LP of what is left, and so on: it finds plans. [`Tree`]
//! proves: under the bound's own weights every pattern has a reduced price, and one that exceeds
//! what the best plan is above the bound occurs in no cheaper plan. What remains is often few
//! patterns. They are listed, and searched completely: branch on the piece that fewest of them
//! hold, "one bar of this pattern" against "no more of it", with the LP over the list as bound
//! (reduced-price fixing as in Belov & Scheithauer, Eur. J. Oper. Res. 171:85-106, 2006, from
//! memory; choosing the piece with fewest ways as in exact cover, Knuth 2000).

use super::Search;
use super::bound::{certify, weigh};
use super::columns::{Master, relax};
use super::enumerate::enumerate;
use super::greedy::{Corrected, Rest};
use super::model::{Kind, Model, Pattern, Plan};
use crate::solve::budget::Budget;

/// Rounds of dive and tree; each round dives elsewhere and lists more patterns.
const ROUNDS: u64 = 6;

/// Works on `search` until its plan is proved best, the rounds are over or the budget is spent.
pub(super) fn finish(search: &mut Search, budget: &mut Budget) {
    for round in 0..ROUNDS {
        let goal = search.price().unwrap_or(i128::MAX);
        let relaxed = relax(&search.model, &mut search.pool, goal, budget);
        search.raise(relaxed.certificate.bound);
        if search.proved() || budget.stopped().is_some() {
            return;
        }
        dive(search, round, budget);
        if search.proved() || budget.stopped().is_some() {
            return;
        }
        let root = search.model.clone();
        let mut mixes = Mixes { search, budget, nodes: 30 << (2 * round), list: 2_000 << round };
        if mixes.explore(&root, 0) {
            // No plan is cheaper than the best found, by complete search.
            if let Some(price) = search.price() {
                search.raise(price);
            }
            return;
        }
    }
}

/// Deeper than this no search goes: a frame per bar.
const MOST_DEPTH: usize = 300;

/// Complete search over how many bars of each kind are cut, then over the patterns.
struct Mixes<'a> {
    search: &'a mut Search,
    budget: &'a mut Budget,
    nodes: u64,
    /// Patterns that a list may hold.
    list: usize,
}

impl Mixes<'_> {
    /// Whether every plan within the limits of `part` has been looked at or proved no cheaper than
    /// the best.
    fn explore(&mut self, part: &Model, depth: usize) -> bool {
        let Some(price) = self.search.price() else { return false };
        if self.search.proved() {
            return true;
        }
        if self.nodes == 0 || depth > MOST_DEPTH || self.budget.stopped().is_some() {
            return false;
        }
        self.nodes -= 1;
        let relaxed = relax(part, &mut self.search.pool, price, self.budget);
        if relaxed.certificate.bound >= price {
            return true;
        }
        let mut bars = vec![0.0; part.kinds.len()];
        for (pattern, x) in &relaxed.uses {
            bars[pattern.kind] += x;
        }
        if let Some(kind) = most_fractional(&bars) {
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
            let rest = Rest::all(part);
            let nodes = 10 * self.nodes + 300;
            let mut tree = Tree { search: self.search, budget: self.budget, nodes };
            return tree.explore(&rest, listing(patterns), &Plan::default(), 0);
        }
        // Too many patterns yet: the count of one kind is settled, which lifts the bound.
        let open = |k: &Kind| k.limit.is_none_or(|limit| limit > k.least);
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
fn most_fractional(bars: &[f64]) -> Option<usize> {
    let off = |x: f64| (x - (x + 0.5).floor()).abs();
    (0..bars.len())
        .filter(|&j| bars.len() > 1 && off(bars[j]) > 1e-6)
        .max_by(|&a, &b| off(bars[a]).total_cmp(&off(bars[b])).then(b.cmp(&a)))
}

/// Rounds the LP of the rest down, or failing that takes one bar of a likely pattern, until nothing
/// is left; rounds greedily on the way. Odd dives prefer other patterns.
fn dive(search: &mut Search, seed: u64, budget: &mut Budget) {
    let mut rest = Rest::all(&search.model);
    let mut plan = Plan::default();
    let mut noise = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    while !rest.done() && !search.proved() && budget.stopped().is_none() {
        let part = residual(&search.model, &rest);
        let spent = search.model.cost(&plan).price;
        let goal = search.price().map_or(i128::MAX, |price| price - spent);
        let relaxed = relax(&part, &mut search.pool, goal, budget);
        if relaxed.certificate.bound >= goal {
            return;
        }
        let before = rest.clone();
        for (pattern, x) in &relaxed.uses {
            // `as` saturates; uses are finite and positive.
            let times = ((x + 1e-6).floor() as u32).min(rest.room(pattern));
            if times > 0 {
                rest.cut(pattern.clone(), times, &mut plan);
            }
        }
        complete(search, &rest, &plan, budget);
        if rest == before {
            let mut score = |x: f64| {
                noise =
                    noise.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(0x1405_7b7e_f767_814f);
                let jitter = (noise >> 40) as f64 / (1u64 << 24) as f64;
                if seed == 0 { x } else { x * (0.5 + jitter) }
            };
            let likely = (relaxed.uses.iter())
                .filter(|(pattern, _)| rest.room(pattern) > 0)
                .map(|(pattern, x)| (score(*x), pattern))
                .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)));
            let Some((_, likely)) = likely else { return };
            rest.cut(likely.clone(), 1, &mut plan);
        }
    }
    if rest.done() {
        search.offer(&plan);
    }
}

/// Offers `plan` with the rest cut greedily.
fn complete(search: &mut Search, rest: &Rest, plan: &Plan, budget: &mut Budget) {
    let worth: Vec<f64> = search.model.pieces.iter().map(|p| p.len as f64).collect();
    let mut values = Corrected::new(&search.model, &worth);
    for _ in 0..2 {
        if search.proved() || budget.stopped().is_some() {
            return;
        }
        let tail = values.next(&search.model, rest, budget);
        let mut whole = plan.clone();
        whole.missing = tail.missing;
        for (pattern, times) in tail.bars {
            *whole.bars.entry(pattern).or_insert(0) += times;
        }
        search.offer(&whole);
    }
}

/// The problem that is left.
fn residual(model: &Model, rest: &Rest) -> Model {
    let mut part = model.clone();
    for (piece, &demand) in part.pieces.iter_mut().zip(&rest.demand) {
        piece.demand = demand;
    }
    for (kind, &limit) in part.kinds.iter_mut().zip(&rest.limits) {
        kind.limit = limit;
    }
    for (kind, &least) in part.kinds.iter_mut().zip(&rest.leasts) {
        kind.least = least;
    }
    part
}

/// A pattern of a list, and whether the LP over the list has needed it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Listed {
    pattern: Pattern,
    active: bool,
}

fn listing(patterns: Vec<Pattern>) -> Vec<Listed> {
    patterns.into_iter().map(|pattern| Listed { pattern, active: false }).collect()
}

/// Columns that the LP over a list takes in at a time.
const AT_ONCE: usize = 30;

/// Complete search over a list of patterns for a plan cheaper than the best.
struct Tree<'a> {
    search: &'a mut Search,
    budget: &'a mut Budget,
    nodes: u64,
}

impl Tree<'_> {
    /// Whether every plan that cuts `rest` by the patterns of `list` on top of `plan` has been
    /// looked at or proved no cheaper than the best.
    fn explore(&mut self, rest: &Rest, list: Vec<Listed>, plan: &Plan, depth: usize) -> bool {
        if rest.done() {
            self.search.offer(plan);
            return true;
        }
        let part = residual(&self.search.model, rest);
        let spent = self.search.model.cost(plan).price;
        self.budget.spend(20 * list.len() as u64);
        let mut alive = trimmed(rest, list);
        loop {
            if self.nodes == 0 || depth > MOST_DEPTH || self.budget.stopped().is_some() {
                return false;
            }
            self.nodes -= 1;
            let Some(uses) = self.bound(&part, spent, &mut alive) else { return true };
            self.round(rest, &alive, &uses, plan);
            let Some(chosen) = branch_on(&part, &alive, &uses) else { return true };
            let mut less = rest.clone();
            let mut more = plan.clone();
            less.cut(alive[chosen].pattern.clone(), 1, &mut more);
            if !self.explore(&less, alive.clone(), &more, depth + 1) {
                return false;
            }
            alive.remove(chosen);
        }
    }

    /// The LP over the list; `None` if it proves that nothing cheaper is here. Patterns that
    /// occur in nothing cheaper are taken out.
    fn bound(&mut self, part: &Model, spent: i128, alive: &mut Vec<Listed>) -> Option<Vec<f64>> {
        let price = self.search.price()?;
        let target = price - i128::from(part.price_step()) - spent;
        let (worth, mut uses) = self.solve(part, alive);
        let demand = part.demand();
        let weights = weigh(part, &demand, &worth);
        let value =
            |p: &Pattern| -> i64 { p.counts.iter().map(|&(i, n)| weights[i] * i64::from(n)).sum() };
        let mut held = vec![0; part.kinds.len()];
        for Listed { pattern, .. } in alive.iter() {
            held[pattern.kind] = value(pattern).max(held[pattern.kind]);
        }
        let certificate = certify(part, &demand, weights.clone(), held);
        if certificate.bound > target {
            return None;
        }
        let needed: Vec<i64> =
            (0..part.kinds.len()).map(|j| certificate.needed(part, j, target)).collect();
        let keep: Vec<bool> =
            alive.iter().map(|l| value(&l.pattern) >= needed[l.pattern.kind]).collect();
        let mut kept = keep.iter();
        alive.retain(|_| *kept.next().unwrap_or(&false));
        let mut kept = keep.iter();
        uses.retain(|_| *kept.next().unwrap_or(&false));
        Some(uses)
    }

    /// Worth of each piece and use of each pattern in the LP over the list, whose columns are taken
    /// in as they turn out to be needed.
    fn solve(&mut self, part: &Model, alive: &mut [Listed]) -> (Vec<f64>, Vec<f64>) {
        let mut master = Master::new(part);
        let mut columns: Vec<usize> = (0..alive.len()).filter(|&p| alive[p].active).collect();
        for &p in &columns {
            master.push(part, &alive[p].pattern);
        }
        loop {
            let go_on = master.optimise(self.budget) && self.budget.spend(alive.len() as u64);
            let mut better: Vec<(f64, usize)> = (alive.iter().enumerate())
                .filter(|(_, l)| !l.active)
                .map(|(p, l)| (master.reduced(part, &l.pattern), p))
                .filter(|&(reduced, _)| reduced < -1e-9 * master.scale())
                .collect();
            if better.is_empty() || !go_on {
                break;
            }
            better.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            for &(_, p) in better.iter().take(AT_ONCE) {
                alive[p].active = true;
                columns.push(p);
                master.push(part, &alive[p].pattern);
            }
        }
        let mut uses = vec![0.0; alive.len()];
        for (column, x) in master.uses() {
            uses[columns[column]] = x;
        }
        (master.worth(), uses)
    }

    /// Offers the LP rounded, if that cuts everything.
    fn round(&mut self, rest: &Rest, alive: &[Listed], uses: &[f64], plan: &Plan) {
        let mut rest = rest.clone();
        let mut plan = plan.clone();
        for (Listed { pattern, .. }, x) in alive.iter().zip(uses) {
            for _ in 0..(x + 0.5).floor() as u32 {
                let pattern = rest.trimmed(pattern);
                if pattern.counts.is_empty() || rest.room(&pattern) == 0 {
                    break;
                }
                rest.cut(pattern, 1, &mut plan);
            }
        }
        if rest.done() {
            self.search.offer(&plan);
        }
    }
}

/// A list cut down to what is still wanted and can be had, each pattern once.
fn trimmed(rest: &Rest, list: Vec<Listed>) -> Vec<Listed> {
    let mut list: Vec<Listed> = (list.iter())
        .map(|l| Listed { pattern: rest.trimmed(&l.pattern), active: l.active })
        .filter(|l| !l.pattern.counts.is_empty() && rest.limits[l.pattern.kind] != Some(0))
        .collect();
    // Active ones first among equals, and those stay.
    list.sort_unstable_by(|a, b| a.pattern.cmp(&b.pattern).then(b.active.cmp(&a.active)));
    list.dedup_by(|a, b| a.pattern == b.pattern);
    list
}

/// The pattern to branch on: of the piece that fewest patterns hold (the longest of those), the
/// pattern that the LP uses most. `None` if a piece is held by none.
fn branch_on(part: &Model, alive: &[Listed], uses: &[f64]) -> Option<usize> {
    let mut ways = vec![0usize; part.pieces.len()];
    for Listed { pattern, .. } in alive {
        for &(i, _) in &pattern.counts {
            ways[i] += 1;
        }
    }
    let piece = (0..part.pieces.len())
        .filter(|&i| part.pieces[i].demand > 0)
        .min_by_key(|&i| (ways[i], i))?;
    (0..alive.len())
        .filter(|&p| alive[p].pattern.counts.iter().any(|&(i, _)| i == piece))
        .max_by(|&a, &b| uses[a].total_cmp(&uses[b]).then(b.cmp(&a)))
}
