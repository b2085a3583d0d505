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
        // The basis grows by the surpluses of the new rows, whose duals are then zero.
        let mut inverse = vec![0.0; all * all];
        for r in 0..old {
            inverse[r * all..r * all + old].copy_from_slice(&self.inverse[r * old..(r + 1) * old]);
        }
        for k in 0..new.len() {
            let mut line = vec![0.0; old];
            for (place, &variable) in self.basis.iter().enumerate() {
                let Variable::Column(p) = variable else { continue };
                let factor = entry(k, p);
                if factor != 0.0 {
                    let below = &self.inverse[place * old..(place + 1) * old];
                    line.iter_mut().zip(below).for_each(|(l, b)| *l += factor * b);
                }
            }
            let at = (old + k) * all;
            inverse[at..at + old].copy_from_slice(&line);
            inverse[at + old + k] = -1.0;
        }
        self.inverse = inverse;
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

    /// Calls `see` with every variable.
    fn each(&self, mut see: impl FnMut(Variable)) {
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
    fn entering(&self, bland: bool) -> Option<(Variable, f64)> {
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
    fn dual_entering(&self, leaving: usize) -> Option<(Variable, f64)> {
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
    fn direction(&self, variable: Variable) -> Vec<f64> {
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
    fn leaving(&self, direction: &[f64], bland: bool) -> Option<usize> {
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

    fn pivot(
        &mut self,
        entering: Variable,
        reduced: f64,
        leaving: usize,
        direction: &[f64],
        step: f64,
    ) {
        let rows = self.rows.len();
        let pivot = direction[leaving];
        let line: Vec<f64> =
            self.inverse[leaving * rows..(leaving + 1) * rows].iter().map(|v| v / pivot).collect();
        let filled: Vec<(usize, f64)> =
            line.iter().copied().enumerate().filter(|v| v.1 != 0.0).collect();
        let sparse = filled.len() * 4 < rows;
        for (r, old) in self.inverse.chunks_exact_mut(rows).enumerate() {
            let factor = direction[r];
            if r == leaving {
                old.copy_from_slice(&line);
            } else if factor != 0.0 {
                if sparse {
                    for &(at, new) in &filled {
                        old[at] -= factor * new;
                    }
                } else {
                    for (old, new) in old.iter_mut().zip(&line) {
                        *old -= factor * new;
                    }
                }
                self.x[r] -= factor * step;
            }
        }
        self.x[leaving] = step;
        for &(at, new) in &filled {
            self.dual[at] += reduced * new;
        }
        self.basis[leaving] = entering;
        self.since_refresh += 1;
    }

    /// Builds inverse, values and duals anew from the basis (Gauss-Jordan with row pivoting). A
    /// basis that has become singular is given up.
    fn refresh(&mut self) {
        self.since_refresh = 0;
        let rows = self.rows.len();
        let mut matrix = vec![0.0; rows * rows];
        for (place, &variable) in self.basis.iter().enumerate() {
            match variable {
                Variable::Own(r) => matrix[r * rows + place] = 1.0,
                Variable::Surplus(r) => matrix[r * rows + place] = -1.0,
                Variable::Column(p) => {
                    for &(r, a) in self.column(p) {
                        matrix[r as usize * rows + place] = a;
                    }
                }
            }
        }
        let Some(inverse) = invert(matrix, rows) else {
            self.restart();
            return;
        };
        self.inverse = inverse;
        self.revalue();
        self.redual();
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

fn unit(rows: usize) -> Vec<f64> {
    let mut matrix = vec![0.0; rows * rows];
    for r in 0..rows {
        matrix[r * rows + r] = 1.0;
    }
    matrix
}

/// The inverse of a square matrix, row by row; `None` if it is singular to working accuracy.
fn invert(mut matrix: Vec<f64>, rows: usize) -> Option<Vec<f64>> {
    let mut inverse = unit(rows);
    for c in 0..rows {
        let size = |r: usize| matrix[r * rows + c].abs();
        let best = (c..rows).max_by(|&a, &b| size(a).total_cmp(&size(b)).then(b.cmp(&a)))?;
        if size(best) < 1e-11 {
            return None;
        }
        for k in 0..rows {
            matrix.swap(c * rows + k, best * rows + k);
            inverse.swap(c * rows + k, best * rows + k);
        }
        let pivot = matrix[c * rows + c];
        for k in 0..rows {
            matrix[c * rows + k] /= pivot;
            inverse[c * rows + k] /= pivot;
        }
        let (line_m, line_i) =
            (matrix[c * rows..(c + 1) * rows].to_vec(), inverse[c * rows..(c + 1) * rows].to_vec());
        for r in (0..rows).filter(|&r| r != c) {
            let factor = matrix[r * rows + c];
            if factor != 0.0 {
                // Columns before `c` of the matrix are a unit matrix already.
                for (old, new) in matrix[r * rows + c..(r + 1) * rows].iter_mut().zip(&line_m[c..])
                {
                    *old -= factor * new;
                }
                for (old, new) in inverse[r * rows..(r + 1) * rows].iter_mut().zip(&line_i) {
                    *old -= factor * new;
                }
            }
        }
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cover(rhs: f64, penalty: f64) -> Row {
        Row { covers: true, rhs, penalty }
    }

    fn at_most(rhs: f64) -> Row {
        Row { covers: false, rhs, penalty: 0.0 }
    }

    fn solve(program: &mut Simplex) -> f64 {
        assert!(program.optimise(&mut Budget::work(1_000_000)));
        program.objective()
    }

    #[test]
    fn covers_at_least_price() {
        // Three of piece 0, one of piece 1; two of 0, or one of each, for 1: two bars.
        let mut program = Simplex::new(vec![cover(3.0, 100.0), cover(1.0, 100.0)]);
        program.add(1.0, [(0, 2.0)]);
        program.add(1.0, [(0, 1.0), (1, 1.0)]);
        assert!((solve(&mut program) - 2.0).abs() < 1e-9);
        assert_eq!(program.values().len(), 2);
        assert!((program.duals()[0] - 0.5).abs() < 1e-9 && (program.duals()[1] - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_limit_leaves_the_rest_uncovered() {
        let mut program = Simplex::new(vec![cover(4.0, 10.0), at_most(3.0)]);
        program.add(0.0, [(0, 1.0), (1, 1.0)]);
        assert!((solve(&mut program) - 10.0).abs() < 1e-9);
        assert!((program.duals()[1] + 10.0).abs() < 1e-9, "one more bar saves the penalty");
    }

    fn mixed() -> Simplex {
        let mut program =
            Simplex::new(vec![cover(7.0, 50.0), cover(5.0, 50.0), cover(3.0, 50.0), at_most(6.0)]);
        program.add(2.0, [(0, 2.0), (3, 1.0)]);
        program.add(2.0, [(1, 1.0), (2, 1.0), (3, 1.0)]);
        program.add(3.0, [(0, 1.0), (1, 2.0)]);
        program.add(3.0, [(2, 3.0)]);
        program.add(1.0, [(0, 1.0)]);
        program
    }

    #[test]
    fn building_anew_changes_nothing() {
        let mut program = mixed();
        let objective = solve(&mut program);
        let duals = program.duals().to_vec();
        program.refresh();
        assert!((program.objective() - objective).abs() < 1e-9);
        for (new, old) in program.duals().iter().zip(&duals) {
            assert!((new - old).abs() < 1e-9);
        }
        assert!(program.entering(false).is_none(), "already best");
    }

    #[test]
    fn an_added_row_cuts_off() {
        // Three pieces, any two in a bar: 1.5 bars, until the three together ask for two.
        let mut program = Simplex::new(vec![cover(1.0, 9.0); 3]);
        for pair in [[0, 1], [1, 2], [0, 2]] {
            program.add(1.0, pair.map(|r| (r, 1.0)));
        }
        assert!((solve(&mut program) - 1.5).abs() < 1e-9);
        program.extend(&[cover(2.0, 9.0)], |_, _| 1.0);
        assert!((solve(&mut program) - 2.0).abs() < 1e-9);
        program.reprice(|p| if p == 0 { 5.0 } else { 1.0 });
        assert!((solve(&mut program) - 2.0).abs() < 1e-9);
        program.reprice(|p| if p < 2 { 5.0 } else { 1.0 });
        assert!((solve(&mut program) - 6.0).abs() < 1e-9);
    }

    #[test]
    fn changed_right_sides_are_solved_as_if_afresh() {
        let mut warm = mixed();
        solve(&mut warm);
        for rhs in [[3.0, 4.0, 1.0, 5.0], [0.0, 2.0, 6.0, 1.0], [9.0, 9.0, 9.0, 0.0]] {
            warm.set(rhs);
            let mut cold = mixed();
            cold.set(rhs);
            let (warm, cold) = (solve(&mut warm), solve(&mut cold));
            assert!((warm - cold).abs() < 1e-9, "{warm} {cold} for {rhs:?}");
        }
    }
}
