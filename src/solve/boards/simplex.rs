//! A small revised simplex for covering programs, with the primal values that rounding needs.
//!
//! ```text
//! min  sum c_p x_p + penalty * (what is uncovered)
//! s.t. sum a_ip x_p >= d_i     for every piece
//!      sum of x_p over kind j <= limit_j
//!      x >= 0
//! ```
//!
//! The inverse of the basis is kept as a dense matrix, so that a pivot costs the square of the
//! rows: with some hundred rows that is microseconds, and thousands of such programs are solved on
//! the way to a whole plan. What comes out is advice, as from any LP; see [`super::bound`].

/// Reduced costs below this, relative to the dearest column, count as nothing.
const TOLERANCE: f64 = 1e-9;

/// Pivots after which the inverse is built anew.
const REFRESH: usize = 120;

/// Pivots without progress after which the smallest index enters and leaves (Bland, Math. Oper.
/// Res. 2:103-107, 1977), so that no cycle lasts.
const PATIENCE: usize = 60;

#[derive(Debug, Clone)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
}

/// The program and its current basis.
///
/// Variables are numbered: `r` is the artificial (covering) or slack (limit) of row `r`,
/// `rows + r` the surplus of covering row `r`, `2 rows + p` column `p`.
#[derive(Debug, Clone)]
pub(super) struct Simplex {
    covers: usize,
    rhs: Vec<f64>,
    penalty: f64,
    columns: Vec<Column>,
    basis: Vec<usize>,
    inverse: Vec<f64>,
    x: Vec<f64>,
    dual: Vec<f64>,
    since_refresh: usize,
    scale: f64,
}

impl Simplex {
    /// A program without columns, solved by leaving everything uncovered.
    pub fn new(demand: &[f64], limits: &[f64], penalty: f64) -> Self {
        let rhs: Vec<f64> = demand.iter().chain(limits).copied().collect();
        let rows = rhs.len();
        let mut inverse = vec![0.0; rows * rows];
        for r in 0..rows {
            inverse[r * rows + r] = 1.0;
        }
        let mut dual = vec![0.0; rows];
        dual[..demand.len()].fill(penalty);
        Self {
            covers: demand.len(),
            x: rhs.clone(),
            rhs,
            penalty,
            columns: Vec::new(),
            basis: (0..rows).collect(),
            inverse,
            dual,
            since_refresh: 0,
            scale: 1.0,
        }
    }

    /// Adds a column: entries (row, coefficient), covering rows before limit rows.
    pub fn add(&mut self, cost: f64, entries: Vec<(usize, f64)>) {
        self.scale = self.scale.max(cost);
        self.columns.push(Column { cost, entries });
    }

    /// Pivots until no column improves, at most `most` times; returns the number of pivots.
    pub fn optimise(&mut self, most: usize) -> usize {
        let mut stalled = 0;
        for pivots in 0..most {
            let bland = stalled > PATIENCE;
            let Some((entering, reduced)) = self.entering(bland) else { return pivots };
            let direction = self.direction(entering);
            let Some(leaving) = self.leaving(&direction, bland) else { return pivots };
            let step = self.x[leaving].max(0.0) / direction[leaving];
            stalled = if step * reduced < -1e-12 * self.scale { 0 } else { stalled + 1 };
            self.pivot(entering, reduced, leaving, &direction);
            if self.since_refresh >= REFRESH {
                self.refresh();
            }
        }
        most
    }

    /// Value of a covering row: what one more of its piece would cost.
    pub fn duals(&self) -> &[f64] {
        &self.dual
    }

    /// (column, value) of the columns in the basis that are not zero.
    pub fn values(&self) -> Vec<(usize, f64)> {
        let first = 2 * self.rhs.len();
        let mut values: Vec<(usize, f64)> = (self.basis.iter().zip(&self.x))
            .filter(|&(&v, &x)| v >= first && x > 1e-9)
            .map(|(&v, &x)| (v - first, x))
            .collect();
        values.sort_unstable_by_key(|v| v.0);
        values
    }

    /// The objective.
    pub fn objective(&self) -> f64 {
        self.basis.iter().zip(&self.x).map(|(&v, &x)| self.cost(v) * x).sum()
    }

    fn cost(&self, variable: usize) -> f64 {
        let rows = self.rhs.len();
        match variable {
            v if v < self.covers => self.penalty,
            v if v < 2 * rows => 0.0,
            v => self.columns[v - 2 * rows].cost,
        }
    }

    /// The variable of most negative reduced cost, or with `bland` the first negative one.
    fn entering(&self, bland: bool) -> Option<(usize, f64)> {
        let rows = self.rhs.len();
        let tolerance = TOLERANCE * self.scale;
        let own = (0..rows).map(|r| (r, self.cost(r) - self.dual[r]));
        let surplus = (0..self.covers).map(|r| (rows + r, self.dual[r]));
        let columns = self.columns.iter().enumerate().map(|(p, column)| {
            let worth: f64 = column.entries.iter().map(|&(r, a)| self.dual[r] * a).sum();
            (2 * rows + p, column.cost - worth)
        });
        let mut all = own.chain(surplus).chain(columns).filter(|v| v.1 < -tolerance);
        if bland {
            return all.next();
        }
        all.min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)))
    }

    /// The entering column in terms of the basis.
    fn direction(&self, variable: usize) -> Vec<f64> {
        let rows = self.rhs.len();
        let own;
        let entries: &[(usize, f64)] = match variable {
            v if v < rows => {
                own = [(v, 1.0)];
                &own
            }
            v if v < 2 * rows => {
                own = [(v - rows, -1.0)];
                &own
            }
            v => &self.columns[v - 2 * rows].entries,
        };
        self.inverse
            .chunks_exact(rows)
            .map(|row| entries.iter().map(|&(r, a)| row[r] * a).sum())
            .collect()
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

    fn pivot(&mut self, entering: usize, reduced: f64, leaving: usize, direction: &[f64]) {
        let rows = self.rhs.len();
        let pivot = direction[leaving];
        let step = self.x[leaving].max(0.0) / pivot;
        let row: Vec<f64> =
            self.inverse[leaving * rows..(leaving + 1) * rows].iter().map(|v| v / pivot).collect();
        for (r, old) in self.inverse.chunks_exact_mut(rows).enumerate() {
            let factor = direction[r];
            if r == leaving {
                old.copy_from_slice(&row);
            } else if factor != 0.0 {
                for (old, new) in old.iter_mut().zip(&row) {
                    *old -= factor * new;
                }
                self.x[r] -= factor * step;
            }
        }
        self.x[leaving] = step;
        for (dual, new) in self.dual.iter_mut().zip(&row) {
            *dual += reduced * new;
        }
        self.basis[leaving] = entering;
        self.since_refresh += 1;
    }

    /// Builds inverse, values and duals anew from the basis (Gauss-Jordan with row pivoting). A
    /// basis that has become singular is left as it is.
    fn refresh(&mut self) {
        self.since_refresh = 0;
        let rows = self.rhs.len();
        let mut matrix = vec![0.0; rows * rows];
        for (place, &variable) in self.basis.iter().enumerate() {
            match variable {
                v if v < rows => matrix[v * rows + place] = 1.0,
                v if v < 2 * rows => matrix[(v - rows) * rows + place] = -1.0,
                v => {
                    for &(r, a) in &self.columns[v - 2 * rows].entries {
                        matrix[r * rows + place] = a;
                    }
                }
            }
        }
        let Some(inverse) = invert(matrix, rows) else { return };
        self.inverse = inverse;
        self.x = (self.inverse.chunks_exact(rows))
            .map(|row| row.iter().zip(&self.rhs).map(|(a, b)| a * b).sum())
            .collect();
        self.dual.fill(0.0);
        for (r, &variable) in self.basis.iter().enumerate() {
            let cost = self.cost(variable);
            if cost != 0.0 {
                let row = &self.inverse[r * rows..(r + 1) * rows];
                for (dual, a) in self.dual.iter_mut().zip(row) {
                    *dual += cost * a;
                }
            }
        }
    }
}

/// The inverse of a square matrix, row by row; `None` if it is singular to working accuracy.
fn invert(mut matrix: Vec<f64>, rows: usize) -> Option<Vec<f64>> {
    let mut inverse = vec![0.0; rows * rows];
    for r in 0..rows {
        inverse[r * rows + r] = 1.0;
    }
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
        let (row_m, row_i) =
            (matrix[c * rows..(c + 1) * rows].to_vec(), inverse[c * rows..(c + 1) * rows].to_vec());
        for r in (0..rows).filter(|&r| r != c) {
            let factor = matrix[r * rows + c];
            if factor != 0.0 {
                for k in 0..rows {
                    matrix[r * rows + k] -= factor * row_m[k];
                    inverse[r * rows + k] -= factor * row_i[k];
                }
            }
        }
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn covers_at_least_price() {
        // Three of piece 0, one of piece 1; two of 0, or one of each, for 1: two bars.
        let mut program = Simplex::new(&[3.0, 1.0], &[], 100.0);
        program.add(1.0, vec![(0, 2.0)]);
        program.add(1.0, vec![(0, 1.0), (1, 1.0)]);
        program.optimise(100);
        assert!((program.objective() - 2.0).abs() < 1e-9);
        assert_eq!(program.values().len(), 2);
        assert!((program.duals()[0] - 0.5).abs() < 1e-9 && (program.duals()[1] - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_limit_leaves_the_rest_uncovered() {
        let mut program = Simplex::new(&[4.0], &[3.0], 10.0);
        program.add(0.0, vec![(0, 1.0), (1, 1.0)]);
        program.optimise(100);
        assert!((program.objective() - 10.0).abs() < 1e-9);
        assert!((program.duals()[1] + 10.0).abs() < 1e-9, "one more bar saves the penalty");
    }

    #[test]
    fn building_anew_changes_nothing() {
        let mut program = Simplex::new(&[7.0, 5.0, 3.0], &[6.0], 50.0);
        for (cost, entries) in [
            (2.0, vec![(0, 2.0), (3, 1.0)]),
            (2.0, vec![(1, 1.0), (2, 1.0), (3, 1.0)]),
            (3.0, vec![(0, 1.0), (1, 2.0)]),
            (3.0, vec![(2, 3.0)]),
            (1.0, vec![(0, 1.0)]),
        ] {
            program.add(cost, entries);
        }
        program.optimise(100);
        let (objective, duals) = (program.objective(), program.duals().to_vec());
        program.refresh();
        assert!((program.objective() - objective).abs() < 1e-9);
        for (new, old) in program.duals().iter().zip(&duals) {
            assert!((new - old).abs() < 1e-9);
        }
        assert_eq!(program.optimise(100), 0, "already best");
    }
}
