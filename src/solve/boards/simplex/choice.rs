//! Which variable enters the basis, and which leaves it.

use super::{Simplex, TOLERANCE, Variable, dot};

impl Simplex {
    /// Calls `see` with every variable.
    pub(super) fn each(&self, mut see: impl FnMut(Variable)) {
        for (r, row) in self.rows.iter().enumerate() {
            see(Variable::Own(r));
            if row.covers {
                see(Variable::Surplus(r));
            }
        }
        for p in 0..self.costs.len() {
            see(Variable::Column(p));
        }
    }

    /// The variable of most negative reduced cost, or with `bland` the first negative one.
    pub(super) fn entering(&self, bland: bool) -> Option<(Variable, f64)> {
        let mut best: Option<(Variable, f64)> = None;
        let mut least = -TOLERANCE * self.scale;
        self.each(|variable| {
            let reduced = self.reduced(variable);
            if reduced < least && !(bland && best.is_some()) {
                least = reduced;
                best = Some((variable, reduced));
            }
        });
        best
    }

    /// The variable that keeps all reduced costs positive when row `leaving` leaves: least ratio,
    /// of about equal ones the largest pivot.
    pub(super) fn dual_entering(&self, leaving: usize) -> Option<(Variable, f64)> {
        let rows = self.rows.len();
        let line = &self.inverse[leaving * rows..(leaving + 1) * rows];
        let mut best: Option<(Variable, f64, f64, f64)> = None;
        self.each(|variable| {
            let pivot = match variable {
                Variable::Own(r) => line[r],
                Variable::Surplus(r) => -line[r],
                Variable::Column(p) => dot(self.column(p), line),
            };
            if pivot < -1e-7 {
                let reduced = self.reduced(variable).max(0.0);
                let ratio = reduced / -pivot;
                let tie = 1e-12 * self.scale;
                let better = best.is_none_or(|(_, _, least, at)| {
                    ratio < least - tie || (ratio <= least + tie && pivot < at)
                });
                if better {
                    best = Some((variable, reduced, ratio, pivot));
                }
            }
        });
        best.map(|(variable, reduced, _, _)| (variable, reduced))
    }

    /// The entering column in terms of the basis.
    pub(super) fn direction(&self, variable: Variable) -> Vec<f64> {
        let rows = self.rows.len();
        let lines = self.inverse.chunks_exact(rows);
        match variable {
            Variable::Own(r) => lines.map(|line| line[r]).collect(),
            Variable::Surplus(r) => lines.map(|line| -line[r]).collect(),
            Variable::Column(p) => {
                let column = self.column(p);
                lines.map(|line| dot(column, line)).collect()
            }
        }
    }

    /// The row that limits the step; among equals the largest pivot, or with `bland` the smallest
    /// variable.
    pub(super) fn leaving(&self, direction: &[f64], bland: bool) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (r, &d) in direction.iter().enumerate().filter(|(_, d)| **d > 1e-9) {
            let ratio = self.x[r].max(0.0) / d;
            let better = best.is_none_or(|(least, at)| {
                if ratio < least - 1e-12 {
                    return true;
                }
                let tie = ratio <= least + 1e-12;
                tie && if bland { self.basis[r] < self.basis[at] } else { d > direction[at] }
            });
            if better {
                best = Some((best.map_or(ratio, |b| b.0.min(ratio)), r));
            }
        }
        best.map(|(_, r)| r)
    }
}
