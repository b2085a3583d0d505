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
//! 2. [`bound::by_length`] and [`dual`]: bounds from lengths alone.
//! 3. [`greedy`]: plans bar by bar, with values corrected from plan to plan; [`pack`]: plans that
//!    waste next to nothing, where none may be wasted ([`cover`] is an exact cover).
//! 4. [`columns`]: the LP by column generation, and the exact bound of its prices.
//! 5. [`dive`]: whole plans out of the LP, [`pack`] finishing them.
//! 6. [`listed`]: a complete search, under cuts, over all patterns that a cheaper plan could use.
//! 7. [`polish`] and, for few parts, [`ties`], for more [`alike`]: the first in order among plans of equal price.

mod alike;
mod bound;
mod columns;
mod cover;
mod cuts;
mod dive;
mod dual;
mod enumerate;
mod finish;
mod greedy;
pub(super) mod knapsack;
mod listed;
mod master;
mod model;
mod pack;
mod polish;
mod search;
mod simplex;
#[cfg(test)]
mod tests;
mod ties;

use model::Model;
use search::Search;

use super::budget::Budget;
use super::outcome::Outcome;

/// Bars, parts and the saw.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BarProblem {
    /// What a cut eats, in the unit of the lengths; below zero counts as zero.
    pub kerf: i64,
    /// The shortest offcut that is worth keeping; `None` if none is.
    pub keep: Option<i64>,
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

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BarProgress {
    /// Price of the best plan so far, if there is one yet.
    pub objective: Option<i64>,
    /// No plan's price is below this.
    pub bound: i64,
}

/// Cheapest way to cut all parts; among equally cheap plans found, the least length of bars that cost nothing (so that
/// offcuts at hand go before whole bars at hand), the least length that becomes no kept offcut, then the fewest kept offcuts, the fewest different patterns, the fewest settings of the stop for them, the
/// least length of bars, and the first in an order of all plans. With up to thirty parts all equally cheap plans are
/// looked through, if that takes no more than some ten thousand bars; with more it is a local search.
///
/// The objective and its bound are prices. Work is counted in dynamic-programming cells (sixteen
/// to the step), nodes, and entries of simplex tableaux. The answer is the same on any machine
/// unless the budget's clock or cancel flag ends the search.
pub fn cut_bars(problem: &BarProblem, budget: &mut Budget) -> Outcome<BarPlan, BarReason> {
    cut_bars_watched(problem, budget, &mut |_| {})
}

/// [`cut_bars`], telling `watch` of every better price and bound as it is found.
pub fn cut_bars_watched(
    problem: &BarProblem,
    budget: &mut Budget,
    watch: &mut dyn FnMut(BarProgress),
) -> Outcome<BarPlan, BarReason> {
    match Model::new(problem) {
        Ok(model) => Search::new(model).watched(watch).run(budget),
        Err(reason) => Outcome::Infeasible(reason),
    }
}

/// The most valuable parts that the bars yield: `worth[i]` is what one of part `i` is worth, its
/// count the most that is wanted. What is worth nothing, fits no bar or has no length is left.
///
/// Formulation: that of [`cut_bars`], but a part may be left at the cost of its worth, and bars
/// cost nothing: their prices are not looked at. The objective is the worth of what is taken, its
/// bound one that no choice exceeds; never infeasible. Among plans of equal worth the order is that
/// of [`cut_bars`].
pub fn take_bars(
    problem: &BarProblem,
    worth: &[i64],
    budget: &mut Budget,
) -> Outcome<BarPlan, BarReason> {
    let model = Model::leaving(problem, worth);
    match model.total_worth() {
        Some(total) => Search::new(model).take(total, budget),
        None => Outcome::Unknown { stopped_by: None },
    }
}
