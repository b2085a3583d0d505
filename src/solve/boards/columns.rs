//! Column generation: patterns that matter, and the exact bound that their prices prove.

use std::collections::BTreeSet;

use super::bound::{lower, price, weigh};
use super::knapsack::THOROUGH;
use super::model::{Model, Pattern};
use crate::solve::budget::Budget;
use crate::solve::lp::DualMaster;

/// Patterns in the order they were found, each once.
#[derive(Debug, Clone, Default)]
pub(super) struct Pool {
    patterns: Vec<Pattern>,
    seen: BTreeSet<Pattern>,
}

impl Pool {
    /// Adds a pattern; `false` if it was there.
    pub fn add(&mut self, pattern: Pattern) -> bool {
        let new = self.seen.insert(pattern.clone());
        if new {
            self.patterns.push(pattern);
        }
        new
    }

    /// All of them.
    pub fn patterns(&self) -> &[Pattern] {
        &self.patterns
    }
}

/// Rounds of column generation are cut off here: by then the bound has long stopped moving.
const MOST_ROUNDS: usize = 2_000;

/// Price of a pattern, and of a missing part, as the LP sees them.
fn lp_price(price: i64) -> f64 {
    price as f64
}

/// Generates patterns into `pool` until the LP is solved or the bound reaches `goal`; returns the
/// best exact bound.
///
/// Master: [`DualMaster`]. Pricing: [`knapsack`](super::knapsack), at prices between the master's
/// and those of the best bound so far (smoothing after Wentges, Int. Trans. Oper. Res. 4:151-162,
/// 1997), and at the master's own when that finds nothing.
pub(super) fn generate(model: &Model, pool: &mut Pool, goal: i128, budget: &mut Budget) -> i128 {
    let demand = model.demand();
    let mut master = master(model, pool, &demand);
    let mut best = 0i128;
    let mut centre: Option<Vec<f64>> = None;
    for _ in 0..MOST_ROUNDS {
        // A dual simplex run costs about its rows times its columns.
        let cells = (pool.patterns.len() * model.pieces.len()) as u64;
        if !budget.spend(cells / 4 + 1) {
            break;
        }
        let Some(prices) = master.solve() else { break };
        let mut found = false;
        for smooth in [true, false] {
            let worth = match (&centre, smooth) {
                (Some(centre), true) => mix(centre, &prices.worth),
                (None, true) => continue,
                (_, false) => prices.worth.clone(),
            };
            let weights = weigh(model, &demand, &worth);
            let fillings = price(model, &demand, &weights, THOROUGH, budget);
            let held: Vec<i64> = fillings.iter().map(|f| f.bound).collect();
            let bound = lower(model, &demand, &weights, &held);
            if bound > best || centre.is_none() {
                best = best.max(bound);
                centre = Some(worth);
            }
            if best >= goal {
                return best;
            }
            for (kind, filling) in fillings.into_iter().enumerate() {
                let cost = lp_price(model.kinds[kind].price) + prices.scarcity[kind];
                let gain: f64 =
                    filling.counts.iter().map(|&(i, n)| prices.worth[i] * f64::from(n)).sum();
                let pattern = Pattern { kind, counts: filling.counts };
                if gain > cost + 1e-7 * cost.max(1.0) && pool.add(pattern.clone()) {
                    found = true;
                    let price = lp_price(model.kinds[kind].price);
                    master.add(kind, &pattern.counts, price);
                }
            }
            if found {
                break;
            }
        }
        if !found {
            break;
        }
    }
    best
}

fn master(model: &Model, pool: &Pool, demand: &[u32]) -> DualMaster {
    let demand: Vec<f64> = demand.iter().map(|&d| f64::from(d)).collect();
    let mut master = DualMaster::new(&demand, &ceilings(model), &model.limits());
    for p in &pool.patterns {
        master.add(p.kind, &p.counts, lp_price(model.kinds[p.kind].price));
    }
    master
}

/// No part is worth more than the penalty.
fn ceilings(model: &Model) -> Vec<f64> {
    vec![lp_price(model.penalty); model.pieces.len()]
}

fn mix(centre: &[f64], at: &[f64]) -> Vec<f64> {
    centre.iter().zip(at).map(|(c, a)| 0.6 * c + 0.4 * a).collect()
}
