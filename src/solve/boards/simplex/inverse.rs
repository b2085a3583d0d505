//! The inverse of the basis: changed by a pivot, grown by rows, built anew.

use super::{Simplex, Variable};

impl Simplex {
    pub(super) fn pivot(
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

    /// The inverse with `new` more rows, of which column `p` has `entry(k, p)` in the `k`th.
    pub(super) fn grown(&self, new: usize, entry: &impl Fn(usize, usize) -> f64) -> Vec<f64> {
        let (old, all) = (self.rows.len(), self.rows.len() + new);
        // The basis grows by the surpluses of the new rows, whose duals are then zero.
        let mut inverse = vec![0.0; all * all];
        for r in 0..old {
            inverse[r * all..r * all + old].copy_from_slice(&self.inverse[r * old..(r + 1) * old]);
        }
        for k in 0..new {
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
        inverse
    }

    /// Builds inverse, values and duals anew from the basis (Gauss-Jordan with row pivoting). A
    /// basis that has become singular is given up.
    pub(super) fn refresh(&mut self) {
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
}

/// The unit matrix.
pub(super) fn unit(rows: usize) -> Vec<f64> {
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
