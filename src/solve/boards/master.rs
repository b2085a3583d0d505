//! The LP over patterns in its primal form, solved again and again from the basis there is.

use std::collections::BTreeSet;

use super::bound::{Certificate, certify, price, weigh};
use super::columns::Pool;
use super::knapsack::THOROUGH;
use super::model::{Model, Pattern};
use super::simplex::{Row, Simplex};
use crate::solve::budget::Budget;

/// Rounds of column generation are cut off here: by then the bound has long stopped moving.
const MOST_ROUNDS: usize = 2_000;

/// A solved LP of a problem.
#[derive(Debug, Clone)]
pub(super) struct Relaxed {
    /// The exact bound and the weights that prove it.
    pub certificate: Certificate,
    /// How often each pattern is used; the most used first.
    pub uses: Vec<(Pattern, f64)>,
}

/// The primal master: a row per piece and, where kinds are to be counted, one for the least and
/// one for the limit of each kind.
///
/// It outlives the problem it was made for: [`Self::relax`] takes any that differs in demands,
/// leasts and limits alone.
#[derive(Debug, Clone)]
pub(super) struct Master {
    program: Simplex,
    patterns: Vec<Pattern>,
    seen: BTreeSet<Pattern>,
    /// Row of the least of each kind that has rows; the limit's is the next.
    kinds: Vec<Option<usize>>,
    scale: f64,
    /// Whether the LP is solved to the end, though the bound cannot rise any more.
    pub thorough: bool,
}

impl Master {
    /// A master of the patterns in the pool; a missing part costs the penalty.
    pub fn new(model: &Model, pool: &Pool) -> Self {
        let scale = model.kinds.iter().map(|k| k.price as f64).fold(1.0, f64::max);
        // A penalty far beyond all prices would drown them; short of the dearest way to cut a part
        // alone it still never pays.
        let penalty = (model.penalty as f64).min(scale * 1e4);
        let cover = Row { covers: true, rhs: 0.0, penalty };
        let mut rows = vec![cover; model.pieces.len()];
        let counted = model.kinds.len() > 1 || model.kinds.iter().any(|k| k.limit.is_some());
        let kinds = (model.kinds.iter())
            .map(|k| {
                (counted && k.only.is_none()).then(|| {
                    rows.extend([cover, Row { covers: false, ..cover }]);
                    rows.len() - 2
                })
            })
            .collect();
        let mut master = Self {
            program: Simplex::new(rows),
            patterns: Vec::new(),
            seen: BTreeSet::new(),
            kinds,
            scale,
            thorough: false,
        };
        for pattern in pool.patterns() {
            master.push(model, pattern);
        }
        master
    }

    /// Adds a pattern; `false` if it is there.
    fn push(&mut self, model: &Model, pattern: &Pattern) -> bool {
        let new = self.seen.insert(pattern.clone());
        if new {
            let kind = self.kinds[pattern.kind].into_iter().flat_map(|r| [(r, 1.0), (r + 1, 1.0)]);
            let pieces = pattern.counts.iter().map(|&(i, n)| (i, f64::from(n)));
            self.program.add(model.kinds[pattern.kind].price as f64, pieces.chain(kind));
            self.patterns.push(pattern.clone());
        }
        new
    }

    /// Takes over demands, leasts and limits.
    fn set(&mut self, part: &Model) {
        let mut rhs = vec![0.0; self.program.rows()];
        let demands = part.pieces.iter().map(|p| f64::from(p.demand));
        rhs.iter_mut().zip(demands).for_each(|(rhs, d)| *rhs = d);
        let total: f64 = part.pieces.iter().map(|p| f64::from(p.demand)).sum();
        for (row, kind) in self.kinds.iter().zip(&part.kinds) {
            if let Some(row) = *row {
                rhs[row] = f64::from(kind.least);
                rhs[row + 1] = kind.limit.map_or(total + f64::from(kind.least), f64::from);
            }
        }
        self.program.set(rhs);
    }

    /// Solves the LP of `part`, starting from the patterns and the basis there are, adding what it
    /// lacks to the pool too; stops early once the bound reaches `goal`.
    ///
    /// Prices lie between the LP's own and those of the best bound so far (smoothing after
    /// Wentges, Int. Trans. Oper. Res. 4:151-162, 1997), and are the LP's own when that finds
    /// nothing.
    pub fn relax(
        &mut self,
        part: &Model,
        pool: &mut Pool,
        goal: i128,
        budget: &mut Budget,
    ) -> Relaxed {
        self.set(part);
        let demand = part.demand();
        let none = vec![0; part.pieces.len()];
        let mut best = certify(part, &demand, none, vec![0; part.kinds.len()]);
        let mut centre: Option<Vec<f64>> = None;
        for _ in 0..MOST_ROUNDS {
            let solved = self.program.optimise(budget);
            if !solved || best.bound >= goal || (!self.thorough && best.bound >= self.ceiling(part))
            {
                break;
            }
            let at: Vec<f64> =
                self.program.duals()[..part.pieces.len()].iter().map(|d| d.max(0.0)).collect();
            let mut found = false;
            for smooth in [true, false] {
                let worth = match (&centre, smooth) {
                    (Some(centre), true) => mix(centre, &at),
                    (None, true) => continue,
                    (_, false) => at.clone(),
                };
                let weights = weigh(part, &demand, &worth);
                let fillings = price(part, &demand, &weights, THOROUGH, budget);
                let held = fillings.iter().map(|f| f.bound).collect();
                let certificate = certify(part, &demand, weights, held);
                let better = certificate.bound > best.bound
                    || (certificate.bound == best.bound && certificate.tighter(&best));
                if better || centre.is_none() {
                    best = certificate;
                    centre = Some(worth);
                }
                for (kind, filling) in fillings.into_iter().enumerate() {
                    let pattern = Pattern { kind, counts: filling.counts };
                    if self.pays(part, &pattern) && self.push(part, &pattern) {
                        found = true;
                        pool.add(pattern);
                    }
                }
                if found {
                    break;
                }
            }
            if !found || budget.stopped().is_some() {
                break;
            }
        }
        let mut uses: Vec<(Pattern, f64)> = (self.program.values().into_iter())
            .map(|(p, x)| (self.patterns[p].clone(), x))
            .collect();
        uses.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        Relaxed { certificate: best, uses }
    }

    /// Whether a pattern would make the plan cheaper.
    fn pays(&self, part: &Model, pattern: &Pattern) -> bool {
        let kind = &part.kinds[pattern.kind];
        if pattern.counts.is_empty() || kind.limit == Some(0) {
            return false;
        }
        let duals = self.program.duals();
        let gain: f64 = pattern.counts.iter().map(|&(i, n)| duals[i] * f64::from(n)).sum();
        let kinds = self.kinds[pattern.kind].map_or(0.0, |row| duals[row] + duals[row + 1]);
        kind.price as f64 - gain - kinds < -1e-7 * self.scale
    }

    /// No exact bound can pass the objective, rounded up to the price step.
    fn ceiling(&self, part: &Model) -> i128 {
        let step = part.price_step() as f64;
        let steps = ((self.program.objective() - 1e-6 * self.scale) / step).ceil();
        // `as` saturates.
        (steps * step) as i128
    }
}

fn mix(centre: &[f64], at: &[f64]) -> Vec<f64> {
    centre.iter().zip(at).map(|(c, a)| 0.6 * c + 0.4 * a).collect()
}
