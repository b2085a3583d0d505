//! Column generation: patterns that matter, and the exact bound that their prices prove.

use std::collections::BTreeSet;

use super::bound::{Certificate, certify, lower, price, weigh};
use super::knapsack::THOROUGH;
use super::model::{Model, Pattern};
use super::simplex::Simplex;
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

/// A solved LP of a problem.
#[derive(Debug, Clone)]
pub(super) struct Relaxed {
    /// The exact bound and the weights that prove it.
    pub certificate: Certificate,
    /// How often each pattern is used, patterns cut down to the demand; the largest first.
    pub uses: Vec<(Pattern, f64)>,
}

/// Solves the LP of `model` with own primal simplex, starting from what the pool holds, adding
/// what it lacks; stops early once the bound reaches `goal`.
pub(super) fn relax(model: &Model, pool: &mut Pool, goal: i128, budget: &mut Budget) -> Relaxed {
    let demand = model.demand();
    let mut master = Master::new(model);
    let mut columns: Vec<Pattern> = Vec::new();
    let mut seen: BTreeSet<Pattern> = BTreeSet::new();
    for p in &pool.patterns {
        let p = trim(p, &demand);
        if !p.counts.is_empty() && model.kinds[p.kind].limit != Some(0) && seen.insert(p.clone()) {
            master.push(model, &p);
            columns.push(p);
        }
    }
    budget.spend(20 * pool.patterns.len() as u64);
    let none = vec![0; model.pieces.len()];
    let mut best = certify(model, &demand, none, vec![0; model.kinds.len()]);
    let mut centre: Option<Vec<f64>> = None;
    for _ in 0..MOST_ROUNDS {
        if !master.optimise(budget) || best.bound >= goal || best.bound >= master.ceiling(model) {
            break;
        }
        let at = master.worth();
        let mut found = false;
        for smooth in [true, false] {
            let worth = match (&centre, smooth) {
                (Some(centre), true) => mix(centre, &at),
                (None, true) => continue,
                (_, false) => at.clone(),
            };
            let weights = weigh(model, &demand, &worth);
            let fillings = price(model, &demand, &weights, THOROUGH, budget);
            let held = fillings.iter().map(|f| f.bound).collect();
            let certificate = certify(model, &demand, weights, held);
            let better = certificate.bound > best.bound
                || (certificate.bound == best.bound && certificate.tighter(&best));
            if better || centre.is_none() {
                best = certificate;
                centre = Some(worth);
            }
            for (kind, filling) in fillings.into_iter().enumerate() {
                let pattern = Pattern { kind, counts: filling.counts };
                let pays = !pattern.counts.is_empty()
                    && model.kinds[kind].limit != Some(0)
                    && master.reduced(model, &pattern) < -1e-7 * master.scale;
                if pays && seen.insert(pattern.clone()) {
                    found = true;
                    master.push(model, &pattern);
                    pool.add(pattern.clone());
                    columns.push(pattern);
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
    let mut uses: Vec<(Pattern, f64)> =
        master.uses().into_iter().map(|(p, x)| (columns[p].clone(), x)).collect();
    uses.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    Relaxed { certificate: best, uses }
}

/// The part of a pattern that is still wanted.
fn trim(pattern: &Pattern, demand: &[u32]) -> Pattern {
    let counts =
        pattern.counts.iter().map(|&(i, n)| (i, n.min(demand[i]))).filter(|c| c.1 > 0).collect();
    Pattern { kind: pattern.kind, counts }
}

/// The primal master: rows for the pieces still wanted, for the kinds of which some must be cut,
/// and for the limited kinds.
pub(super) struct Master {
    program: Simplex,
    /// Row of each piece, and of the least and the limit of each kind.
    pieces: Vec<Option<usize>>,
    leasts: Vec<Option<usize>>,
    limits: Vec<Option<usize>>,
    columns: usize,
    scale: f64,
}

impl Master {
    /// A master without patterns; a missing part costs the penalty.
    pub fn new(model: &Model) -> Self {
        let mut rows = 0;
        let mut number = |used: bool| {
            used.then(|| {
                rows += 1;
                rows - 1
            })
        };
        let pieces: Vec<_> = model.pieces.iter().map(|p| number(p.demand > 0)).collect();
        let leasts: Vec<_> = model.kinds.iter().map(|k| number(k.least > 0)).collect();
        let limits: Vec<_> = model.kinds.iter().map(|k| number(k.limit.is_some())).collect();
        let demands = model.pieces.iter().map(|p| p.demand);
        let demand: Vec<f64> = (demands.chain(model.kinds.iter().map(|k| k.least)))
            .filter(|&d| d > 0)
            .map(f64::from)
            .collect();
        let limit: Vec<f64> = model.kinds.iter().filter_map(|k| k.limit.map(f64::from)).collect();
        let scale = model.kinds.iter().map(|k| lp_price(k.price)).fold(1.0, f64::max);
        // A penalty far beyond all prices would drown them; short of the dearest way to cut a part
        // alone it still never pays.
        let penalty = lp_price(model.penalty).min(scale * 1e4);
        let program = Simplex::new(&demand, &limit, penalty);
        Self { program, pieces, leasts, limits, columns: 0, scale }
    }

    /// Adds a pattern of pieces in demand.
    pub fn push(&mut self, model: &Model, pattern: &Pattern) {
        let mut entries: Vec<(usize, f64)> = (pattern.counts.iter())
            .filter_map(|&(i, n)| Some((self.pieces[i]?, f64::from(n))))
            .collect();
        entries.extend(self.leasts[pattern.kind].map(|r| (r, 1.0)));
        entries.extend(self.limits[pattern.kind].map(|r| (r, 1.0)));
        self.program.add(lp_price(model.kinds[pattern.kind].price), entries);
        self.columns += 1;
    }

    /// Solves over the patterns there are; `false` if the budget is spent.
    pub fn optimise(&mut self, budget: &mut Budget) -> bool {
        let rows = self.program.duals().len();
        let pivots = self.program.optimise(20_000);
        budget.spend(((pivots + 1) * (rows * rows / 8 + self.columns)) as u64)
    }

    /// Worth of each piece.
    pub fn worth(&self) -> Vec<f64> {
        let duals = self.program.duals();
        self.pieces.iter().map(|r| r.map_or(0.0, |r| duals[r].max(0.0))).collect()
    }

    /// Reduced price of a pattern: below zero it would make the plan cheaper.
    pub fn reduced(&self, model: &Model, pattern: &Pattern) -> f64 {
        let dual = |row: Option<usize>| row.map_or(0.0, |r| self.program.duals()[r]);
        let gain: f64 =
            pattern.counts.iter().map(|&(i, n)| dual(self.pieces[i]) * f64::from(n)).sum();
        lp_price(model.kinds[pattern.kind].price)
            - gain
            - dual(self.leasts[pattern.kind])
            - dual(self.limits[pattern.kind])
    }

    /// Prices are meant relative to this.
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// No exact bound can pass the objective, rounded up to the price step.
    fn ceiling(&self, model: &Model) -> i128 {
        let step = model.price_step() as f64;
        let steps = ((self.program.objective() - 1e-6 * self.scale) / step).ceil();
        // `as` saturates.
        (steps * step) as i128
    }

    /// How often each pattern is used, by the order in which they were added.
    pub fn uses(&self) -> Vec<(usize, f64)> {
        self.program.values()
    }
}
