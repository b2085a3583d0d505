//! Plans without proof, bar by bar.
//!
//! [`first_fit`] fills each bar with the longest parts that still fit, which is first-fit
//! decreasing. [`Corrected`] takes the filling that is worth most for its price, by values that a
//! finished plan corrects: what lay in a wasteful bar becomes dearer and is cut earlier next time
//! (sequential value correction; Mukhacheva et al. 2000, Belov & Scheithauer 2007, both from
//! memory).

use super::bound::{price, weigh};
use super::knapsack::{Filling, QUICK};
use super::model::{Kind, Model, Pattern, Plan};
use crate::solve::budget::Budget;

/// Kinds of bars among which a plan is finished when it is time to stop.
const HURRIED: usize = 16;

/// What is still to be cut, and of what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rest {
    pub demand: Vec<u32>,
    pub limits: Vec<Option<u32>>,
    pub leasts: Vec<u32>,
}

impl Rest {
    /// Everything.
    pub fn all(model: &Model) -> Self {
        let leasts = model.kinds.iter().map(|k| k.least).collect();
        Self { demand: model.demand(), limits: model.limits(), leasts }
    }

    /// Whether nothing is left to cut.
    pub fn done(&self) -> bool {
        self.demand.iter().all(|&d| d == 0)
    }

    /// How often a pattern can be cut in full.
    pub fn room(&self, pattern: &Pattern) -> u32 {
        let counts = pattern.counts.iter().map(|&(i, n)| self.demand[i] / n);
        counts.chain(self.limits[pattern.kind]).min().unwrap_or(0)
    }

    /// Takes `times` bars of a pattern off and books them in `plan`.
    pub fn cut(&mut self, pattern: Pattern, times: u32, plan: &mut Plan) {
        for &(i, n) in &pattern.counts {
            self.demand[i] -= n * times;
        }
        if let Some(limit) = &mut self.limits[pattern.kind] {
            *limit -= times;
        }
        let least = &mut self.leasts[pattern.kind];
        *least = least.saturating_sub(times);
        *plan.bars.entry(pattern).or_insert(0) += times;
    }

    /// The part of a pattern that is still wanted.
    pub fn trimmed(&self, pattern: &Pattern) -> Pattern {
        let counts = (pattern.counts.iter())
            .map(|&(i, n)| (i, n.min(self.demand[i])))
            .filter(|&(_, n)| n > 0)
            .collect();
        Pattern { kind: pattern.kind, counts }
    }

    fn left_over(&self) -> Vec<(usize, u32)> {
        self.demand.iter().copied().enumerate().filter(|&(_, d)| d > 0).collect()
    }
}

/// Longest parts first into one bar after another.
pub(super) fn first_fit(model: &Model, rest: &Rest, budget: &mut Budget) -> Plan {
    finish(model, rest.clone(), budget, |rest, budget| {
        budget.spend((model.kinds.len() * model.pieces.len()) as u64);
        longest_first(model, rest, usize::MAX)
    })
}

/// Each kind of bar filled with the longest parts first; all are empty after the first `most` of which one can be cut.
fn longest_first(model: &Model, rest: &Rest, most: usize) -> Vec<Filling> {
    let wanted: Vec<usize> = (0..rest.demand.len()).filter(|i| rest.demand[*i] > 0).collect();
    let mut filled = 0;
    let fill = |(kind, limit): (&Kind, &Option<u32>)| {
        let (cap, mut counts) = (kind.cap, Vec::new());
        let mut left = cap;
        let only = kind.only.as_slice();
        let parts = match (limit, kind.only) {
            (Some(0), _) => &[],
            _ if filled >= most => &[],
            (_, Some(only_one)) if rest.demand[only_one] == 0 => &[],
            (_, Some(_)) => only,
            (_, None) => &wanted[..],
        };
        for &i in parts {
            let len = model.pieces[i].len;
            if len <= left {
                let n = u32::try_from(left / len).unwrap_or(u32::MAX).min(rest.demand[i]);
                left -= len * i64::from(n);
                counts.push((i, n));
            }
        }
        filled += usize::from(!counts.is_empty());
        Filling { value: cap - left, bound: cap, counts }
    };
    model.kinds.iter().zip(&rest.limits).map(fill).collect()
}

/// Values for `greedy`, corrected by every plan they lead to.
#[derive(Debug, Clone)]
pub(super) struct Corrected {
    values: Vec<f64>,
    round: u32,
}

impl Corrected {
    /// Starts from the worth of each piece by length, long ones a little dearer.
    pub fn new(model: &Model, worth: &[f64]) -> Self {
        let longest = model.longest().max(1) as f64;
        let values = (model.pieces.iter().zip(worth))
            .map(|(p, &w)| {
                let w = if w.is_finite() && w > 0.0 { w } else { p.len as f64 * 1e-6 };
                w * (1.0 + 0.05 * p.len as f64 / longest)
            })
            .collect();
        Self { values, round: 0 }
    }

    /// One plan for the rest, and the lesson learnt from it.
    pub fn next(&mut self, model: &Model, rest: &Rest, budget: &mut Budget) -> Plan {
        let values = self.values.clone();
        let plan = finish(model, rest.clone(), budget, |rest, budget| {
            let weights = weigh(model, &rest.demand, &values);
            price(model, &rest.demand, &weights, QUICK, budget)
        });
        self.learn(model, &plan);
        plan
    }

    fn learn(&mut self, model: &Model, plan: &Plan) {
        self.round += 1;
        // Shares by a power of the length that swings from round to round, so that the order of
        // pieces keeps changing: exponent 1 + 0.04 .. 1 + 0.3, by its first-order expansion.
        let lean = 0.04 * f64::from(1 + self.round % 7);
        let longest = model.longest().max(1) as f64;
        let share = |i: usize| {
            let len = model.pieces[i].len as f64;
            len * (1.0 + lean * len / longest)
        };
        for (pattern, &repeat) in &plan.bars {
            let whole: f64 = pattern.counts.iter().map(|&(i, n)| share(i) * f64::from(n)).sum();
            let cost = model.kinds[pattern.kind].price as f64;
            for &(i, n) in &pattern.counts {
                let part = f64::from(n) * f64::from(repeat) / f64::from(model.pieces[i].demand);
                let keep = 1.0 - 0.4 * part.min(1.0);
                self.values[i] = keep * self.values[i] + (1.0 - keep) * cost * share(i) / whole;
            }
        }
    }
}

/// Takes the filling that gives most for its price until nothing is left or no bar is.
fn finish(
    model: &Model,
    mut rest: Rest,
    budget: &mut Budget,
    mut fill: impl FnMut(&Rest, &mut Budget) -> Vec<Filling>,
) -> Plan {
    let mut plan = Plan::default();
    while !rest.done() {
        // Told to stop, the plan is still finished, the plain way.
        let fillings = if budget.stopped().is_some() {
            longest_first(model, &rest, HURRIED)
        } else {
            fill(&rest, budget)
        };
        let Some(kind) = choose(model, &rest, &fillings) else { break };
        let pattern = Pattern { kind, counts: fillings[kind].counts.clone() };
        let times = rest.room(&pattern);
        if times == 0 {
            break;
        }
        rest.cut(pattern, times, &mut plan);
    }
    plan.missing = rest.left_over();
    plan
}

/// The kind whose filling has the least price for its value. A bar that takes all that is left
/// wins if it is no dearer than that one and the cheapest together.
fn choose(model: &Model, rest: &Rest, fillings: &[Filling]) -> Option<usize> {
    let open = || {
        (0..model.kinds.len())
            .filter(|&j| rest.limits[j] != Some(0) && !fillings[j].counts.is_empty())
    };
    let wanted: u64 = rest.demand.iter().map(|&d| u64::from(d)).sum();
    let holds_all =
        |j: &usize| fillings[*j].counts.iter().map(|&(_, n)| u64::from(n)).sum::<u64>() == wanted;
    let price = |j: usize| i128::from(model.kinds[j].price);
    let value = |j: usize| i128::from(fillings[j].value.max(1));
    let cap = |j: usize| i128::from(model.kinds[j].cap);
    let best = open().min_by(|&a, &b| {
        let by_price = (price(a) * value(b)).cmp(&(price(b) * value(a)));
        let by_length = (cap(a) * value(b)).cmp(&(cap(b) * value(a)));
        by_price.then(by_length).then(a.cmp(&b))
    })?;
    let cheapest = open().map(price).min()?;
    let last = open().filter(holds_all).min_by_key(|&j| (price(j), cap(j), j));
    match last {
        Some(last) if price(last) <= price(best) + cheapest => Some(last),
        _ => Some(best),
    }
}
