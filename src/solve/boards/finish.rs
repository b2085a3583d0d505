//! Whole plans out of the LP's patterns.

use super::Search;
use super::columns;
use super::greedy::{Corrected, Rest};
use super::model::{Model, Pattern, Plan};
use crate::solve::budget::Budget;

/// Rounds the LP down and cuts what is left greedily; then takes one more bar of the pattern that
/// the LP likes most, and again, until nothing is left.
pub(super) fn round(search: &mut Search, budget: &mut Budget) {
    let mut rest = Rest::all(&search.model);
    let mut plan = Plan::default();
    while !rest.done() && !search.proved() && budget.spend(1) {
        let part = residual(&search.model, &rest);
        let patterns: Vec<Pattern> = (search.pool.patterns().iter())
            .map(|p| rest.trimmed(p))
            .filter(|p| !p.counts.is_empty() && rest.limits[p.kind] != Some(0))
            .collect();
        budget.spend((patterns.len() * part.pieces.len()) as u64);
        let Some(uses) = columns::uses(&part, &patterns) else { return };
        let before = rest.clone();
        for (pattern, &x) in patterns.iter().zip(&uses) {
            let times = ((x + 1e-6).floor() as u32).min(rest.room(pattern));
            if times > 0 {
                rest.cut(pattern.clone(), times, &mut plan);
            }
        }
        complete(search, &rest, &plan, budget);
        if rest == before {
            let most = (0..patterns.len())
                .filter(|&p| rest.room(&patterns[p]) > 0)
                .max_by(|&a, &b| uses[a].total_cmp(&uses[b]).then(b.cmp(&a)));
            let Some(most) = most else { return };
            rest.cut(patterns[most].clone(), 1, &mut plan);
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
    for _ in 0..5 {
        if search.proved() {
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
    part
}
