//! Cutting bars of several lengths and prices into parts: one-dimensional cutting stock.
//!
//! Formulation (Gilmore & Gomory, Oper. Res. 9:849-859, 1961). A *pattern* is a way to cut one bar;
//! with `x_p` bars cut by pattern `p` of bar `j(p)`,
//!
//! ```text
//! min  sum price_j(p) x_p
//! s.t. sum a_ip x_p >= d_i          every part is cut
//!      sum of x_p over bar j <= limit_j
//!      x_p a whole number
//! ```
//!
//! The dual value of a part's row is what one more such part would cost.
//!
//! How it is solved, each step only if the one before has not proved its answer best:
//!
//! 1. [`model`]: kerf folded into lengths, lengths divided by their common divisor, equal parts
//!    merged.
//! 2. [`bound::by_length`]: a bound from lengths alone.
//! 3. [`greedy`]: plans bar by bar, with values corrected from plan to plan.
//! 4. [`columns`]: the LP by column generation, and the exact bound of its prices.
//! 5. [`finish`]: whole plans out of the LP, and a complete search over the patterns that a
//!    cheaper plan could use.

mod bound;
mod columns;
mod enumerate;
mod finish;
mod greedy;
mod knapsack;
mod model;
mod simplex;
#[cfg(test)]
mod tests;

use columns::Pool;
use greedy::{Corrected, Rest};
use model::{Cost, Kind, Model, Plan};

use super::budget::Budget;
use super::outcome::Outcome;

/// Bars, parts and the saw.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BarProblem {
    /// What a cut eats, in the unit of the lengths; below zero counts as zero.
    pub kerf: i64,
    /// What there is to cut.
    pub bars: Vec<Bar>,
    /// What is to be cut.
    pub parts: Vec<BarPart>,
}

/// A kind of bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bar {
    /// Usable length.
    pub length: i64,
    /// Price of one; 0 for what is on hand, below zero counts as zero.
    pub price: i64,
    /// How many there are; `None` for any number.
    pub limit: Option<u32>,
}

/// Equal parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BarPart {
    /// Length of one; a part of no length needs no bar and appears in no pattern.
    pub length: i64,
    /// How many are needed.
    pub count: u32,
}

/// How to cut all parts.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct BarPlan {
    /// By bar, then by what is cut from it.
    pub patterns: Vec<BarPattern>,
}

/// Bars that are cut alike.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct BarPattern {
    /// Index of the bar in the problem.
    pub bar: usize,
    /// How many bars.
    pub repeat: u32,
    /// (Index of the part in the problem, how many on each bar), ascending.
    pub counts: Vec<(usize, u32)>,
}

/// Why no plan cuts all parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BarReason {
    /// A part is longer than any bar that can be had.
    PartTooLong {
        /// The longest such part.
        part: usize,
        /// What it exceeds the longest bar by.
        by: i64,
    },
    /// The limits leave too few bars.
    OutOfStock {
        /// A part that the fullest plan found leaves uncut.
        part: usize,
        /// Parts of all kinds that this plan leaves uncut.
        missing: u32,
    },
}

/// Cheapest way to cut all parts; among equally cheap plans found, the least total length of bars,
/// then the fewest different patterns, then the first in the order of [`BarPlan`].
///
/// The objective and its bound are prices. Work is counted in dynamic-programming cells (sixteen
/// to the step), nodes, and entries of simplex tableaux. The answer is the same on any machine
/// unless the budget's clock or cancel flag ends the search.
pub fn cut_bars(problem: &BarProblem, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
    match Model::new(problem) {
        Ok(model) => Search::new(model).run(budget),
        Err(reason) => Outcome::Infeasible(reason),
    }
}

/// The best plan so far and the best bound so far.
struct Search {
    model: Model,
    pool: Pool,
    best: Option<(Cost, Plan)>,
    bound: i128,
    /// A bound as high as this is all that is asked.
    enough: i128,
}

/// Pieces up to which the first LP is the dual master; with more the primal one is quicker.
const MOST_IN_DUAL: usize = 24;

/// Greedy plans tried before column generation.
const GREEDY_ROUNDS: usize = 6;

impl Search {
    fn new(model: Model) -> Self {
        Self { model, pool: Pool::default(), best: None, bound: 0, enough: i128::MAX }
    }

    fn run(mut self, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
        let (bound, worth) = bound::by_length(&self.model);
        self.raise(bound);
        self.greedy(&worth, budget);
        if self.price().is_none() {
            match self.enough(budget) {
                Some(true) => {}
                Some(false) => return Outcome::Infeasible(self.shortage()),
                None => return Outcome::Unknown { stopped_by: budget.stopped() },
            }
        }
        self.improve(budget);
        self.answer(budget)
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
        let borrowed =
            Kind { cap: lent.longest(), price: 1, limit: None, least: 0, bar: usize::MAX };
        for kind in &mut lent.kinds {
            kind.price = 0;
        }
        lent.kinds.push(borrowed);
        let mut search = Self { enough: 1, ..Self::new(lent) };
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
    fn offer(&mut self, plan: &Plan) {
        let plan = self.model.shrink(plan);
        let cost = self.model.cost(&plan);
        debug_assert!(plan.bars.keys().all(|p| bound::fits(&self.model, p)));
        for pattern in plan.bars.keys() {
            self.pool.add(pattern.clone());
        }
        let new = (cost, plan);
        if self.best.as_ref().is_none_or(|best| new < *best) {
            self.best = Some(new);
        }
    }

    /// Price of the best plan, if it cuts everything.
    fn price(&self) -> Option<i128> {
        self.best.as_ref().filter(|(cost, _)| cost.missing == 0).map(|(cost, _)| cost.price)
    }

    /// Whether no plan is cheaper, or the bound says all that is asked.
    fn proved(&self) -> bool {
        self.bound >= self.enough || self.price().is_some_and(|price| price <= self.bound)
    }

    /// Takes a better bound in.
    fn raise(&mut self, bound: i128) {
        self.bound = self.bound.max(bound);
    }

    fn answer(self, budget: &Budget) -> Outcome<BarPlan, BarReason> {
        let clamp = |x: i128| i64::try_from(x).unwrap_or(i64::MAX);
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
