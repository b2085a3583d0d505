//! Upper bounds for every panel and for everything outside every block, when copies have prices
//! in place of limits.
//!
//! With a price `λ_i ≥ 0` on each copy of kind `i`, of which there are `d_i`, a layout with counts
//! `c ≤ d` is worth
//!
//! ```text
//! Σ v_i c_i  ≤  Σ λ_i d_i + Σ (v_i − λ_i) c_i
//! ```
//!
//! so the best layout with any number of copies at worths `v − λ` plus the pool `Σ λ d` is an upper bound.
//! Without limits the best worth `F` of a panel follows from smaller panels (Gilmore & Gomory, Oper. Res.
//! 14, 1966):
//!
//! ```text
//! F(w, h) = max { best single piece, F(x, h) + F(w − x, h), F(w, y) + F(w, h − y) }
//! ```
//!
//! and likewise the most that can be had outside a block that ends up in the panel's corner (the idea
//! is Viswanathan & Bagchi's, Oper. Res. 41, 1993):
//!
//! ```text
//! G(w, h) = max { end(w), G(w + x, h) + F(x, h), G(w, h + y) + F(w, y), G(w', h), G(w, h') }
//! ```
//!
//! `end(w)` being 0 if the layout may end there. A block of reduced worth `r` can be part of a
//! layout better than `z` only if `Σ λ d + r + G(w, h) > z`.
//!
//! With stages the same holds level by level: `F_s` is a row, along the axis of level `s`, of things
//! worth `F_{s-1}`; `F_0` is a single piece; `G_s` is for a block that is (the beginning of) a row of
//! level `s`, which may also be taken as an element of a row of level `s + 1`.
//!
//! Time is O(n m (n + m)) for `n` by `m` points, memory O(n m), per level.

use super::frame::Frame;
use crate::solve::budget::Budget;

/// What panels hold at some prices, by level (one level only when stages are not limited).
#[derive(Debug, Clone)]
pub(super) struct Tables {
    /// Prices, scaled.
    pub price: Vec<i64>,
    /// Worths less prices, scaled.
    pub worth: Vec<i64>,
    /// Prices times copies, scaled, and the worth of what is too small to be looked up.
    pub pool: i64,
    /// `inside[s][i * m + j]`.
    pub inside: Vec<Vec<i64>>,
    /// `outside[s][i * m + j]`; empty until [`Tables::look_outside`].
    pub outside: Vec<Vec<i64>>,
}

impl Tables {
    /// The tables of what is inside; `None` if the budget ends.
    pub fn new(frame: &Frame, price: Vec<i64>, budget: &mut Budget) -> Option<Self> {
        let worth: Vec<i64> =
            frame.kinds.iter().zip(&price).map(|(k, p)| k.worth * frame.scale - p).collect();
        let pools = frame.kinds.iter().zip(&price).map(|(k, p)| p * i64::from(k.copies));
        let pool = pools.sum::<i64>() + frame.tiny * frame.scale;
        let mut tables = Self { price, worth, pool, inside: Vec::new(), outside: Vec::new() };
        let single = tables.single(frame);
        if frame.levels.is_empty() {
            let mut whole = single;
            fill_any(frame, &mut whole, budget)?;
            tables.inside.push(whole);
        } else {
            tables.inside.push(single);
            for level in 1..=frame.levels.len() {
                let row =
                    fill_row(frame, &tables.inside[level - 1], frame.levels[level - 1], budget)?;
                tables.inside.push(row);
            }
        }
        Some(tables)
    }

    /// An upper bound on the worth of a layout in a panel up to point `(i, j)`, unscaled.
    pub fn bound(&self, frame: &Frame, i: usize, j: usize) -> i64 {
        (self.pool + self.top()[i * frame.y.len() + j]).div_euclid(frame.scale)
    }

    /// What whole panels hold.
    pub fn top(&self) -> &[i64] {
        self.inside.last().expect("there is at least one level")
    }

    /// Works out what is outside, a layout that ends at `x` point `i` having `end[i]` already.
    pub fn look_outside(&mut self, frame: &Frame, end: &[i64], budget: &mut Budget) -> Option<()> {
        let (n, m) = (frame.x.len(), frame.y.len());
        let mut outer: Vec<i64> = (0..n * m).map(|cell| end[cell / m]).collect();
        if frame.levels.is_empty() {
            spread_any(frame, &self.inside[0], &mut outer, budget)?;
            self.outside = vec![outer];
            return Some(());
        }
        let mut outside = Vec::new();
        for level in (1..=frame.levels.len()).rev() {
            let axis = frame.levels[level - 1];
            let strict = level == 1 && frame.exact;
            spread_row(frame, &self.inside[level - 1], &mut outer, axis, strict, budget)?;
            outside.push(outer.clone());
        }
        outside.push(outer);
        outside.reverse();
        self.outside = outside;
        Some(())
    }

    /// The best single piece for each cell; in the last exact stage it must fill the cell across.
    fn single(&self, frame: &Frame) -> Vec<i64> {
        let (n, m) = (frame.x.len(), frame.y.len());
        let mut best = vec![0; n * m];
        for (kind, worth) in frame.kinds.iter().zip(&self.worth) {
            for way in &kind.ways {
                let cell = frame.x.index(way.snapped[0]) * m + frame.y.index(way.snapped[1]);
                best[cell] = best[cell].max(*worth);
            }
        }
        let strict = if frame.exact { frame.levels.first().copied() } else { None };
        for i in 0..n {
            for j in 0..m {
                let mut here = best[i * m + j];
                if i > 0 && strict != Some(1) {
                    here = here.max(best[(i - 1) * m + j]);
                }
                if j > 0 && strict != Some(0) {
                    here = here.max(best[i * m + j - 1]);
                }
                best[i * m + j] = here;
            }
        }
        best
    }
}

/// `F` for cuts in any order; `f` holds the single pieces.
fn fill_any(frame: &Frame, f: &mut [i64], budget: &mut Budget) -> Option<()> {
    let (n, m) = (frame.x.len(), frame.y.len());
    for i in 1..n {
        let (before, row) = f.split_at_mut(i * m);
        let row = &mut row[..m];
        let mut steps = m;
        raise(row, &before[(i - 1) * m..]);
        for a in 1..i {
            let b = frame.x.rest(i, a);
            if b < a {
                break;
            }
            raise_by_sum(row, &before[a * m..(a + 1) * m], &before[b * m..(b + 1) * m]);
            steps += m;
        }
        for j in 1..m {
            let mut here = row[j].max(row[j - 1]);
            for a in 1..j {
                let b = frame.y.rest(j, a);
                if b < a {
                    break;
                }
                here = here.max(row[a] + row[b]);
                steps += 1;
            }
            row[j] = here;
        }
        if !budget.spend(steps as u64) {
            return None;
        }
    }
    Some(())
}

/// `G` for cuts in any order; `g` holds the ends.
fn spread_any(frame: &Frame, f: &[i64], g: &mut [i64], budget: &mut Budget) -> Option<()> {
    let (n, m) = (frame.x.len(), frame.y.len());
    for i in (1..n).rev() {
        let (head, after) = g.split_at_mut((i + 1) * m);
        let row = &mut head[i * m..];
        for e in i + 1..n {
            let d = frame.x.rest(e, i);
            raise_by_sum(row, &after[(e - i - 1) * m..(e - i) * m], &f[d * m..(d + 1) * m]);
        }
        for j in (1..m).rev() {
            let mut here = row[j];
            for e in j + 1..m {
                here = here.max(row[e] + f[i * m + frame.y.rest(e, j)]);
            }
            row[j] = here;
        }
        if !budget.spend(((n - i) * m + m * m / 2) as u64) {
            return None;
        }
    }
    Some(())
}

/// A row along `axis` of things worth `element`.
fn fill_row(frame: &Frame, element: &[i64], axis: usize, budget: &mut Budget) -> Option<Vec<i64>> {
    let (n, m) = (frame.x.len(), frame.y.len());
    let mut f = element.to_vec();
    let line = if axis == 0 { &frame.x } else { &frame.y };
    let useful = useful_points(element, n, m, axis);
    for i in 1..n {
        if axis == 0 {
            let (before, row) = f.split_at_mut(i * m);
            let row = &mut row[..m];
            raise(row, &before[(i - 1) * m..]);
            for a in useful.iter().copied().take_while(|a| *a < i) {
                let b = line.rest(i, a);
                raise_by_sum(row, &element[a * m..(a + 1) * m], &before[b * m..(b + 1) * m]);
            }
        } else {
            for j in 1..m {
                let mut here = f[i * m + j].max(f[i * m + j - 1]);
                for a in useful.iter().copied().take_while(|a| *a < j) {
                    here = here.max(element[i * m + a] + f[i * m + line.rest(j, a)]);
                }
                f[i * m + j] = here;
            }
        }
        if !budget.spend((useful.len() * m) as u64) {
            return None;
        }
    }
    Some(f)
}

/// The points along `axis` at which an element gets worth more than at the point before, somewhere.
fn useful_points(element: &[i64], n: usize, m: usize, axis: usize) -> Vec<usize> {
    let mut useful = vec![false; if axis == 0 { n } else { m }];
    let step = if axis == 0 { m } else { 1 };
    for cell in 0..n * m {
        let point = if axis == 0 { cell / m } else { cell % m };
        useful[point] |= point > 0 && element[cell] > element[cell - step];
    }
    (1..useful.len()).filter(|p| useful[*p]).collect()
}

/// `G` of one level from that of the level above, in place.
fn spread_row(
    frame: &Frame,
    element: &[i64],
    g: &mut [i64],
    axis: usize,
    strict: bool,
    budget: &mut Budget,
) -> Option<()> {
    let (n, m) = (frame.x.len(), frame.y.len());
    for i in (1..n).rev() {
        for j in (1..m).rev() {
            let mut here = g[i * m + j];
            if axis == 0 {
                if !strict && j + 1 < m {
                    here = here.max(g[i * m + j + 1]);
                }
                for e in i + 1..n {
                    here = here.max(g[e * m + j] + element[frame.x.rest(e, i) * m + j]);
                }
            } else {
                if !strict && i + 1 < n {
                    here = here.max(g[(i + 1) * m + j]);
                }
                for e in j + 1..m {
                    here = here.max(g[i * m + e] + element[i * m + frame.y.rest(e, j)]);
                }
            }
            g[i * m + j] = here;
        }
        if !budget.spend((m * if axis == 0 { n - i } else { m / 2 }) as u64) {
            return None;
        }
    }
    Some(())
}

fn raise(row: &mut [i64], by: &[i64]) {
    for (here, other) in row.iter_mut().zip(by) {
        *here = (*here).max(*other);
    }
}

fn raise_by_sum(row: &mut [i64], a: &[i64], b: &[i64]) {
    for ((here, a), b) in row.iter_mut().zip(a).zip(b) {
        *here = (*here).max(a + b);
    }
}
