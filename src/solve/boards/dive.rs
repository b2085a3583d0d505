//! Whole plans out of the LP, one bar after another.
//!
//! A dive rounds the LP down, takes one more bar of the pattern that is used most beyond that,
//! solves the LP of what is left from the basis there is, and so on. Where it ends in a plan no
//! better than the best, it goes back and takes another pattern high up, but only a few times and
//! only there: limited discrepancy search (Harvey & Ginsberg, IJCAI 1995; on column generation
//! Sadykov, Vanderbeck, Pessoa, Tahiri & Uchoa, INFORMS J. Comput. 31:251-267, 2019, both from
//! memory).

use super::bound::Certificate;
use super::greedy::{Corrected, Rest, first_fit};
use super::master::Master;
use super::model::{Model, Pattern, Plan};
use super::pack::{Aim, pack};
use super::search::Search;
use crate::solve::budget::Budget;

/// Where a dive may turn aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Reach {
    /// Levels at which it may.
    pub depth: u32,
    /// Patterns that it may turn down on the way to one plan.
    pub turns: usize,
}

/// Bars that are left when greedy values are tried at every level.
const FEW_BARS: i64 = 12;

/// Nodes of a search for a rest that wastes next to nothing, at every level.
const PACKING: u64 = 60_000;

/// Levels between two greedy plans by corrected values.
const SELDOM: u32 = 16;

/// Dives from the top; every better plan is offered.
pub(super) fn dive(search: &mut Search, master: &Master, reach: Reach, budget: &mut Budget) {
    let state = State {
        master: master.clone(),
        rest: Rest::all(&search.model),
        plan: Plan::default(),
        refused: Vec::new(),
        level: 0,
    };
    let mut dive = Dive { search, reach, budget };
    dive.follow(state);
}

#[derive(Debug, Clone)]
struct State {
    master: Master,
    rest: Rest,
    plan: Plan,
    /// Patterns turned down.
    refused: Vec<Pattern>,
    level: u32,
}

struct Dive<'a, 'w> {
    search: &'a mut Search<'w>,
    reach: Reach,
    budget: &'a mut Budget,
}

impl Dive<'_, '_> {
    fn over(&self) -> bool {
        self.search.proved() || self.budget.stopped().is_some()
    }

    fn follow(&mut self, mut state: State) {
        loop {
            if state.rest.done() {
                self.search.offer(&state.plan);
                return;
            }
            if self.over() {
                return;
            }
            let part = residual(&self.search.model, &state.rest);
            let spent = self.search.model.cost(&state.plan).price;
            let goal = self.search.price().map_or(i128::MAX, |price| price - spent);
            let relaxed = state.master.relax(&part, &mut self.search.pool, goal, self.budget);
            if relaxed.certificate.bound >= goal || self.budget.stopped().is_some() {
                return;
            }
            let mut likely: Vec<(f64, Pattern)> = Vec::new();
            for (pattern, x) in &relaxed.uses {
                let pattern = state.rest.trimmed(pattern);
                if pattern.counts.is_empty() {
                    continue;
                }
                // `as` saturates; uses are finite and positive.
                let times = ((x + 1e-6).floor() as u32).min(state.rest.room(&pattern));
                if times > 0 {
                    state.rest.cut(pattern.clone(), times, &mut state.plan);
                }
                likely.push((x - f64::from(times), pattern));
            }
            self.complete(&state, &relaxed.certificate);
            if state.rest.done() {
                continue;
            }
            likely.retain(|(_, p)| {
                let whole = state.rest.trimmed(p) == *p && state.rest.room(p) > 0;
                whole && !state.refused.contains(p)
            });
            likely.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            if state.level < self.reach.depth && state.refused.len() < self.reach.turns {
                self.turn(&state, &likely);
                return;
            }
            let Some((_, first)) = likely.first() else { return };
            state.rest.cut(first.clone(), 1, &mut state.plan);
            state.level += 1;
        }
    }

    /// Follows the likeliest pattern, then the next with that one turned down, and so on.
    fn turn(&mut self, state: &State, likely: &[(f64, Pattern)]) {
        let mut refused = state.refused.clone();
        for (_, pattern) in likely {
            let mut next = State { refused: refused.clone(), ..state.clone() };
            next.rest.cut(pattern.clone(), 1, &mut next.plan);
            next.level += 1;
            self.follow(next);
            if self.over() || refused.len() >= self.reach.turns {
                return;
            }
            refused.push(pattern.clone());
        }
    }

    /// Offers the plan so far with the rest cut greedily.
    fn complete(&mut self, state: &State, certificate: &Certificate) {
        let model = &self.search.model;
        let mut tails = vec![first_fit(model, &state.rest, self.budget)];
        let left = model.length_of(&state.rest.demand);
        let few = left <= model.longest().saturating_mul(FEW_BARS);
        if let Some(best) = self.search.price() {
            let cheaper = best - i128::from(model.price_step()) - model.cost(&state.plan).price;
            let aim = Aim { weights: &certificate.weights, worth: certificate.worth(0) };
            tails.extend(pack(model, &state.rest, &aim, cheaper, PACKING, self.budget));
        }
        if few || state.level.is_multiple_of(SELDOM) {
            let worth: Vec<f64> = model.pieces.iter().map(|p| p.len as f64).collect();
            let mut values = Corrected::new(model, &worth);
            for _ in 0..2 {
                tails.push(values.next(model, &state.rest, self.budget));
            }
        }
        for tail in tails {
            let mut whole = state.plan.clone();
            whole.missing = tail.missing;
            for (pattern, times) in tail.bars {
                *whole.bars.entry(pattern).or_insert(0) += times;
            }
            self.search.offer(&whole);
        }
    }
}

/// The problem that is left.
pub(super) fn residual(model: &Model, rest: &Rest) -> Model {
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
