//! A small revised simplex for covering programs, with the primal values that rounding needs.
//!
//! ```text
//! min  sum c_p x_p + sum penalty_i * (what is uncovered of row i)
//! s.t. sum a_ip x_p >= d_i     for every covering row
//!      sum a_jp x_p <= L_j     for every limiting row
//!      x >= 0
//! ```
//!
//! The inverse of the basis is kept as a dense matrix, so that a pivot costs at most the square of
//! the rows: with some hundred rows that is microseconds. Columns may be added at any time (the
//! primal simplex goes on from the basis there is), and right sides changed (the dual simplex goes
//! on): a dive solves hundreds of programs that differ by a bar. What comes out is advice, as from
//! any LP; see [`super::bound`].

mod choice;
mod inverse;
#[cfg(test)]
mod tests;

use inverse::unit;

use crate::solve::budget::Budget;

/// Reduced costs below this, relative to the dearest column, count as nothing.
const TOLERANCE: f64 = 1e-9;

/// Values above minus this count as not negative.
const FEASIBLE: f64 = 1e-9;

/// Pivots after which the inverse is built anew.
const REFRESH: usize = 150;

/// Pivots without progress after which the smallest index enters and leaves (Bland, Math. Oper.
/// Res. 2:103-107, 1977), so that no cycle lasts.
const PATIENCE: usize = 120;

/// A variable of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Variable {
    /// What is uncovered of a covering row, or left of a limiting one.
    Own(usize),
    /// What a covering row is covered beyond its demand.
    Surplus(usize),
    /// A column.
    Column(usize),
}

/// One constraint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row {
    /// Whether it asks for at least, not at most, its right side.
    pub covers: bool,
    /// The right side, not negative.
    pub rhs: f64,
    /// What a unit of it left uncovered costs; unused where it does not cover.
    pub penalty: f64,
}

/// The program and its current basis.
#[derive(Debug, Clone)]
pub(super) struct Simplex {
    rows: Vec<Row>,
    costs: Vec<f64>,
    /// Where each column's entries end.
    ends: Vec<usize>,
    entries: Vec<(u32, f64)>,
    basis: Vec<Variable>,
    inverse: Vec<f64>,
    x: Vec<f64>,
    dual: Vec<f64>,
    since_refresh: usize,
    scale: f64,
}

impl Simplex {
    /// A program without columns, solved by leaving everything uncovered.
    pub fn new(rows: Vec<Row>) -> Self {
        let mut program = Self {
            costs: Vec::new(),
            ends: Vec::new(),
            entries: Vec::new(),
            basis: Vec::new(),
            inverse: Vec::new(),
            x: Vec::new(),
            dual: Vec::new(),
            since_refresh: 0,
            scale: 1.0,
            rows,
        };
        program.restart();
        program
    }

    /// Leaves everything uncovered, as at the start.
    fn restart(&mut self) {
        let rows = self.rows.len();
        self.basis = (0..rows).map(Variable::Own).collect();
        self.inverse = unit(rows);
        self.x = self.rows.iter().map(|r| r.rhs).collect();
        self.dual = (0..rows).map(|r| self.cost(Variable::Own(r))).collect();
        self.since_refresh = 0;
    }

    /// Adds a column: entries (row, coefficient), each row once.
    pub fn add(&mut self, cost: f64, entries: impl IntoIterator<Item = (usize, f64)>) {
        self.scale = self.scale.max(cost);
        self.costs.push(cost);
        let entries = entries.into_iter();
        self.entries.extend(entries.map(|(r, a)| (u32::try_from(r).unwrap_or(u32::MAX), a)));
        self.ends.push(self.entries.len());
    }

    /// How many rows there are.
    pub fn rows(&self) -> usize {
        self.rows.len()
    }

    /// Changes the right sides; [`Self::optimise`] then starts from the old basis.
    pub fn set(&mut self, rhs: impl IntoIterator<Item = f64>) {
        for (row, rhs) in self.rows.iter_mut().zip(rhs) {
            row.rhs = rhs;
        }
        self.revalue();
    }

    /// Changes what columns cost.
    pub fn reprice(&mut self, cost: impl Fn(usize) -> f64) {
        let mut changed = false;
        for (p, old) in self.costs.iter_mut().enumerate() {
            let new = cost(p);
            changed |= new != *old;
            *old = new;
        }
        if changed {
            self.redual();
        }
    }

    /// Adds covering rows: `entry(k, p)` is what column `p` has in the `k`th of them.
    pub fn extend(&mut self, new: &[Row], entry: impl Fn(usize, usize) -> f64) {
        let (old, all) = (self.rows.len(), self.rows.len() + new.len());
        let mut entries = Vec::with_capacity(self.entries.len());
        let mut start = 0;
        for (p, end) in self.ends.iter_mut().enumerate() {
            entries.extend_from_slice(&self.entries[start..*end]);
            start = *end;
            let added = (0..new.len()).map(|k| ((old + k) as u32, entry(k, p)));
            entries.extend(added.filter(|e| e.1 != 0.0));
            *end = entries.len();
        }
        self.entries = entries;
        self.inverse = self.grown(new.len(), &entry);
        self.basis.extend((old..all).map(Variable::Surplus));
        self.rows.extend_from_slice(new);
        self.dual.resize(all, 0.0);
        self.x.resize(all, 0.0);
        self.revalue();
    }

    fn revalue(&mut self) {
        let rows = self.rows.len();
        if rows > 0 {
            let Self { inverse, x, rows, .. } = self;
            for (x, line) in x.iter_mut().zip(inverse.chunks_exact(rows.len())) {
                *x = line.iter().zip(rows.iter()).map(|(a, row)| a * row.rhs).sum();
            }
        }
    }

    /// Pivots until no value is negative and no column improves; `false` if the budget ends first.
    pub fn optimise(&mut self, budget: &mut Budget) -> bool {
        if !self.recover(budget) {
            return false;
        }
        let mut stalled = 0;
        loop {
            let bland = stalled > PATIENCE;
            let Some((entering, reduced)) = self.entering(bland) else { return true };
            let direction = self.direction(entering);
            let Some(leaving) = self.leaving(&direction, bland) else { return true };
            let step = self.x[leaving].max(0.0) / direction[leaving];
            stalled = if step * reduced < -1e-12 * self.scale { 0 } else { stalled + 1 };
            self.pivot(entering, reduced, leaving, &direction, step);
            if !self.pay(budget) || stalled > 50 * PATIENCE {
                return false;
            }
        }
    }

    /// The dual simplex: pivots until no value is negative.
    fn recover(&mut self, budget: &mut Budget) -> bool {
        let most = 20 * self.rows.len() + 100;
        for _ in 0..most {
            let worst = (0..self.x.len())
                .filter(|&r| self.x[r] < -FEASIBLE)
                .min_by(|&a, &b| self.x[a].total_cmp(&self.x[b]).then(a.cmp(&b)));
            let Some(leaving) = worst else { return true };
            let Some((entering, reduced)) = self.dual_entering(leaving) else { break };
            let direction = self.direction(entering);
            if direction[leaving] > -1e-10 {
                break;
            }
            let step = self.x[leaving] / direction[leaving];
            self.pivot(entering, reduced, leaving, &direction, step);
            if !self.pay(budget) {
                return false;
            }
        }
        if self.x.iter().any(|&x| x < -FEASIBLE) {
            self.restart();
        }
        true
    }

    fn pay(&mut self, budget: &mut Budget) -> bool {
        if self.since_refresh >= REFRESH {
            self.refresh();
        }
        let rows = self.rows.len();
        budget.spend((rows * rows / 8 + self.entries.len() / 4 + 1) as u64)
    }

    /// Value of a row: what one more of it would cost.
    pub fn duals(&self) -> &[f64] {
        &self.dual
    }

    /// (column, value) of the columns in the basis that are not zero.
    pub fn values(&self) -> Vec<(usize, f64)> {
        let mut values: Vec<(usize, f64)> = (self.basis.iter().zip(&self.x))
            .filter_map(|(&v, &x)| match v {
                Variable::Column(p) if x > 1e-9 => Some((p, x)),
                _ => None,
            })
            .collect();
        values.sort_unstable_by_key(|v| v.0);
        values
    }

    /// The objective.
    pub fn objective(&self) -> f64 {
        self.basis.iter().zip(&self.x).map(|(&v, &x)| self.cost(v) * x).sum()
    }

    fn cost(&self, variable: Variable) -> f64 {
        match variable {
            Variable::Own(r) if self.rows[r].covers => self.rows[r].penalty,
            Variable::Own(_) | Variable::Surplus(_) => 0.0,
            Variable::Column(p) => self.costs[p],
        }
    }

    fn column(&self, p: usize) -> &[(u32, f64)] {
        let start = if p == 0 { 0 } else { self.ends[p - 1] };
        &self.entries[start..self.ends[p]]
    }

    /// Reduced cost of a variable.
    fn reduced(&self, variable: Variable) -> f64 {
        match variable {
            Variable::Own(r) => self.cost(variable) - self.dual[r],
            Variable::Surplus(r) => self.dual[r],
            Variable::Column(p) => self.costs[p] - dot(self.column(p), &self.dual),
        }
    }

    /// Duals anew from the inverse.
    fn redual(&mut self) {
        let rows = self.rows.len();
        self.dual = vec![0.0; rows];
        for (r, &variable) in self.basis.iter().enumerate() {
            let cost = self.cost(variable);
            if cost != 0.0 {
                let line = &self.inverse[r * rows..(r + 1) * rows];
                for (dual, a) in self.dual.iter_mut().zip(line) {
                    *dual += cost * a;
                }
            }
        }
    }
}

fn dot(entries: &[(u32, f64)], dense: &[f64]) -> f64 {
    entries.iter().map(|&(r, a)| dense[r as usize] * a).sum()
}
