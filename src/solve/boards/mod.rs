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
//! 5. [`finish`]: whole plans out of the LP's patterns.

mod bound;
mod columns;
mod finish;
mod greedy;
mod knapsack;
mod model;
#[cfg(test)]
mod tests;

use columns::Pool;
use greedy::{Corrected, Rest};
use model::{Cost, Model, Plan};

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
}

/// Greedy plans tried before column generation.
const GREEDY_ROUNDS: usize = 6;

impl Search {
    fn new(model: Model) -> Self {
        Self { model, pool: Pool::default(), best: None, bound: 0 }
    }

    fn run(mut self, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
        let (bound, worth) = bound::by_length(&self.model);
        self.bound = bound;
        self.greedy(&worth, budget);
        if !self.proved() {
            if let Some(price) = self.price() {
                self.model.penalty = i64::try_from(price + 1).unwrap_or(i64::MAX);
            }
            let goal = self.price().unwrap_or(i128::MAX);
            let bound = columns::generate(&self.model, &mut self.pool, goal, budget);
            self.bound = self.bound.max(bound);
        }
        if !self.proved() {
            finish::round(&mut self, budget);
        }
        self.answer(budget)
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

    /// Whether no plan is cheaper.
    fn proved(&self) -> bool {
        self.price().is_some_and(|price| price <= self.bound)
    }

    /// Whether the bound passes the price of all the stock there is.
    fn impossible(&self) -> bool {
        let all = self
            .model
            .kinds
            .iter()
            .try_fold(0i128, |sum, k| Some(sum + i128::from(k.price) * i128::from(k.limit?)));
        all.is_some_and(|all| self.bound > all)
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
            _ if self.impossible() => {
                let missing = self.best.as_ref().map_or(&[][..], |(_, plan)| &plan.missing);
                let count = missing.iter().fold(0u32, |sum, m| sum.saturating_add(m.1));
                let part = self.model.first_missing(missing).map_or(0, |m| m.0);
                Outcome::Infeasible(BarReason::OutOfStock { part, missing: count })
            }
            _ => Outcome::Unknown { stopped_by: budget.stopped() },
        }
    }
}
