//! The best plan and the best bound so far, and the steps that bring them together.

use super::columns::{self, Pool};
use super::finish;
use super::greedy::{self, Corrected, Rest};
use super::model::{Cost, Model, Pattern, Plan};
use super::pack::{Aim, pack};
use super::{BarPlan, BarProgress, BarReason, alike, bound, dual, polish, ties};
use crate::solve::budget::Budget;
use crate::solve::outcome::Outcome;

/// The best plan so far and the best bound so far.
pub(super) struct Search<'w> {
    pub model: Model,
    pub pool: Pool,
    best: Option<(Cost, Plan)>,
    bound: i128,
    /// A bound as high as this is all that is asked.
    enough: i128,
    /// Told of every better plan and bound.
    watch: Option<Watch<'w>>,
}

/// Called with every better plan or bound.
type Watch<'w> = &'w mut dyn FnMut(BarProgress);

/// Pieces up to which the first LP is the dual master; with more the primal one is quicker.
const MOST_IN_DUAL: usize = 24;

/// Greedy plans tried before column generation.
const GREEDY_ROUNDS: usize = 6;

/// Nodes of the first search for a plan that wastes next to nothing.
const PACKING: u64 = 1_000_000;

impl<'w> Search<'w> {
    pub fn new(model: Model) -> Self {
        Self { model, pool: Pool::default(), best: None, bound: 0, enough: i128::MAX, watch: None }
    }

    /// The same, telling `watch` of every better plan and bound.
    pub fn watched(self, watch: Watch<'w>) -> Self {
        Self { watch: Some(watch), ..self }
    }

    fn tell(&mut self) {
        let price = self.price().map(clamp);
        let bound = clamp(self.bound);
        if let Some(watch) = &mut self.watch {
            watch(BarProgress { objective: price, bound });
        }
    }

    pub fn run(mut self, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
        let (bound, worth) = bound::by_length(&self.model);
        self.raise(bound.max(dual::by_functions(&self.model)));
        self.greedy(&worth, budget);
        if self.price().is_none() {
            match self.enough(budget) {
                Some(true) => {}
                Some(false) => return Outcome::Infeasible(self.shortage()),
                None => return Outcome::Unknown { stopped_by: budget.stopped() },
            }
        }
        self.improve(budget);
        polish::polish(&mut self, budget);
        if !ties::settle(&mut self, budget) {
            alike::alike(&mut self, budget);
        }
        self.answer(budget)
    }

    /// The most that can be had of parts that may be left, `total` being the worth of all.
    pub fn take(mut self, total: i64, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
        for (kind, only) in
            self.model.kinds.iter().enumerate().filter_map(|(j, k)| Some((j, k.only?)))
        {
            self.pool.add(Pattern { kind, counts: vec![(only, 1)] });
        }
        let worth: Vec<f64> = self.model.pieces.iter().map(|p| p.worth as f64).collect();
        self.greedy(&worth, budget);
        self.improve(budget);
        polish::polish(&mut self, budget);
        match self.answer(budget) {
            Outcome::Optimal { best, objective } => {
                Outcome::Optimal { best, objective: total - objective }
            }
            Outcome::Feasible { best, objective, bound, stopped_by } => {
                let (objective, bound) = (total - objective, total - bound);
                Outcome::Feasible { best, objective, bound, stopped_by }
            }
            other => other,
        }
    }

    /// Brings plan and bound together, as far as the budget goes.
    fn improve(&mut self, budget: &mut Budget) {
        let Some(price) = self.price().filter(|_| !self.proved()) else { return };
        self.model.penalty = i64::try_from(price + 1).unwrap_or(i64::MAX);
        if self.model.pieces.len() <= MOST_IN_DUAL {
            let bound = columns::generate(&self.model, &mut self.pool, price, budget);
            self.raise(bound);
        }
        if !self.proved() {
            finish::finish(self, budget);
        }
    }

    /// Whether the stock holds all parts: the fewest more of the longest bar that it takes. A plan
    /// that needs none is kept. `None` if the budget does not say.
    fn enough(&mut self, budget: &mut Budget) -> Option<bool> {
        let mut lent = self.model.clone();
        lent.lend();
        let mut search = Search { enough: 1, ..Search::new(lent) };
        let worth: Vec<f64> = self.model.pieces.iter().map(|p| p.len as f64).collect();
        search.greedy(&worth, budget);
        search.improve(budget);
        let borrowed = self.model.kinds.len();
        if search.price() == Some(0) {
            let (_, plan) = search.best?;
            debug_assert!(plan.bars.keys().all(|p| p.kind != borrowed));
            self.offer(&plan);
            return Some(true);
        }
        (search.bound > 0).then_some(false)
    }

    fn shortage(&self) -> BarReason {
        let missing = self.best.as_ref().map_or(&[][..], |(_, plan)| &plan.missing);
        let count = missing.iter().fold(0u32, |sum, m| sum.saturating_add(m.1));
        let part = self.model.first_missing(missing).map_or(0, |m| m.0);
        BarReason::OutOfStock { part, missing: count }
    }

    fn greedy(&mut self, worth: &[f64], budget: &mut Budget) {
        let rest = Rest::all(&self.model);
        let plan = greedy::first_fit(&self.model, &rest, budget);
        self.offer(&plan);
        if !self.proved() {
            let weights: Vec<i64> = self.model.pieces.iter().map(|p| p.len).collect();
            let aim = Aim { weights: &weights, worth: self.model.longest() };
            let plan = pack(&self.model, &rest, &aim, self.bound, PACKING, budget);
            plan.iter().for_each(|plan| self.offer(plan));
        }
        let mut values = Corrected::new(&self.model, worth);
        for _ in 0..GREEDY_ROUNDS {
            if self.proved() || budget.stopped().is_some() {
                break;
            }
            let plan = values.next(&self.model, &rest, budget);
            self.offer(&plan);
        }
    }

    /// Takes a plan in if it is the best so far, and its patterns in any case.
    pub fn offer(&mut self, plan: &Plan) {
        let plan = self.model.shrink(plan);
        let cost = self.model.cost(&plan);
        debug_assert!(plan.bars.keys().all(|p| bound::fits(&self.model, p)));
        for pattern in plan.bars.keys() {
            self.pool.add(pattern.clone());
        }
        let new = (cost, plan);
        if self.best.as_ref().is_none_or(|best| new < *best) {
            let before = self.price();
            self.best = Some(new);
            if self.price() != before {
                self.tell();
            }
        }
    }

    /// The best plan, if it cuts everything.
    pub fn best(&self) -> Option<&(Cost, Plan)> {
        self.best.as_ref().filter(|(cost, _)| cost.missing == 0)
    }

    /// Price of the best plan, if it cuts everything.
    pub fn price(&self) -> Option<i128> {
        self.best.as_ref().filter(|(cost, _)| cost.missing == 0).map(|(cost, _)| cost.price)
    }

    /// Whether no plan is cheaper, or the bound says all that is asked.
    pub fn proved(&self) -> bool {
        self.bound >= self.enough || self.price().is_some_and(|price| price <= self.bound)
    }

    /// Takes a better bound in.
    pub fn raise(&mut self, bound: i128) {
        if bound > self.bound {
            self.bound = bound;
            self.tell();
        }
    }

    fn answer(self, budget: &Budget) -> Outcome<BarPlan, BarReason> {
        let proved = self.proved();
        match self.best {
            Some((cost, plan)) if cost.missing == 0 => {
                let best = self.model.translate(&plan);
                let objective = clamp(cost.price);
                if proved {
                    Outcome::Optimal { best, objective }
                } else {
                    let stopped_by = budget.stopped();
                    Outcome::Feasible { best, objective, bound: clamp(self.bound), stopped_by }
                }
            }
            _ => Outcome::Unknown { stopped_by: budget.stopped() },
        }
    }
}

fn clamp(x: i128) -> i64 {
    i64::try_from(x).unwrap_or(i64::MAX)
}
