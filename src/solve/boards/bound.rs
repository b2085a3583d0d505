//! Exact lower bounds from any weights.

use super::model::{Model, Pattern};
use crate::solve::budget::Budget;

use super::knapsack::{self, Filling, Item, TOP};

/// Integer weights in proportion to `worth`, scaled so that no filling of any kind reaches
/// [`TOP`]; what is negative or no number weighs nothing.
pub(super) fn weigh(model: &Model, demand: &[u32], worth: &[f64]) -> Vec<i64> {
    let worth: Vec<f64> =
        worth.iter().map(|&w| if w.is_finite() && w > 0.0 { w.min(1e250) } else { 0.0 }).collect();
    // The fractional filling of the longest bar, in floating point: only a scale.
    let mut order: Vec<usize> = (0..worth.len()).filter(|&i| worth[i] > 0.0).collect();
    let rate = |i: usize| worth[i] / model.pieces[i].len as f64;
    order.sort_by(|&a, &b| rate(b).total_cmp(&rate(a)).then(a.cmp(&b)));
    let mut rest = model.longest() as f64;
    let mut most = 0.0;
    for i in order {
        let fit = f64::from(demand[i]).min(rest / model.pieces[i].len as f64);
        most += fit * worth[i];
        rest -= fit * model.pieces[i].len as f64;
        if rest <= 0.0 {
            break;
        }
    }
    if !(most > 0.0 && most.is_finite()) {
        return vec![0; worth.len()];
    }
    let scale = TOP as f64 * (1.0 - 1e-9) / most;
    // `as` saturates. A piece that never fits its share still stays below `TOP`.
    worth.iter().map(|&w| ((w * scale).floor() as i64).min(TOP - 1)).collect()
}

/// The best filling of each kind for some weights, counts within `demand`; `effort` as in
/// [`knapsack::fill`].
pub(super) fn price(
    model: &Model,
    demand: &[u32],
    weights: &[i64],
    effort: u64,
    budget: &mut Budget,
) -> Vec<Filling> {
    let items: Vec<Item> = (model.pieces.iter().enumerate())
        .map(|(i, p)| Item { piece: i, len: p.len, most: demand[i], value: weights[i] })
        .collect();
    let bars = model.kinds.iter().filter(|k| k.only.is_none());
    let caps: Vec<i64> = bars.map(|k| k.cap).collect();
    let mut filled = knapsack::fill(&caps, &items, effort, budget).into_iter();
    let alone = |i: usize| {
        let (value, counts) =
            if demand[i] > 0 { (weights[i], vec![(i, 1)]) } else { (0, Vec::new()) };
        Filling { value, bound: value, counts }
    };
    let empty = Filling { value: 0, bound: 0, counts: Vec::new() };
    (model.kinds.iter())
        .map(|k| k.only.map_or_else(|| filled.next().unwrap_or(empty.clone()), alone))
        .collect()
}

/// A lower bound of every plan's price plus penalty, from non-negative weights `u` and, per kind,
/// an upper bound `worth_j` of what any of its patterns holds of them.
///
/// For any scale `t >= 0`, the parts hold `t sum u_i d_i`, a bar of kind `j` holds at most
/// `t worth_j`, and an uncut part costs the penalty. So long as `t u_i <= penalty` and
/// `t worth_j <= c_j` where kind `j` is unlimited, a plan costs at least
///
/// ```text
/// t sum u_i d_i + sum over j of n_j (c_j - t worth_j),   n_j = L_j if that is negative, else l_j
/// ```
///
/// with `l_j <= n_j <= L_j` bars of each kind
///
/// (Farley, Oper. Res. 38:922-923, 1990, extended to limits by the Lagrangian of their rows.) It
/// is concave in `t` and piecewise linear, so the best `t` is one of the ratios `c_j / worth_j` or
/// the largest allowed: all are tried, in exact fractions, and the best is rounded up to the price
/// step. The weights need no property at all: bad ones give a bad bound, never a wrong one.
pub(super) fn certify(
    model: &Model,
    demand: &[u32],
    weights: Vec<i64>,
    worth: Vec<i64>,
) -> Certificate {
    let weights: Vec<i64> = weights.into_iter().map(|u| u.max(0)).collect();
    let nothing =
        |weights, worth| Certificate { weights, worth, scale: (0, 1), value: 0, bound: 0 };
    let Some(earned) = (weights.iter().zip(demand)).try_fold(0i128, |sum, (&u, &d)| {
        sum.checked_add(i128::from(u).checked_mul(i128::from(d))?)
    }) else {
        return nothing(weights, worth);
    };
    // Fractions (numerator, denominator), all positive denominators below 2^63.
    let ratio = |j: usize| (i128::from(model.kinds[j].price), i128::from(worth[j]));
    let less = |a: (i128, i128), b: (i128, i128)| a.0 * b.1 < b.0 * a.1;
    let heaviest = weights.iter().copied().max().unwrap_or(0).max(1);
    let mut most = (i128::from(model.penalty), i128::from(heaviest));
    let held: Vec<usize> = (0..model.kinds.len()).filter(|&j| worth[j] > 0).collect();
    for &j in held.iter().filter(|&&j| model.kinds[j].limit.is_none()) {
        if less(ratio(j), most) {
            most = ratio(j);
        }
    }
    let step = i128::from(model.price_step());
    let at = |(t, q): (i128, i128)| -> Option<(i128, (i128, i128), i128)> {
        let mut value = t.checked_mul(earned)?;
        for (kind, &worth) in model.kinds.iter().zip(&worth) {
            let each = i128::from(kind.price) * q - t * i128::from(worth);
            let bars = if each < 0 { kind.limit.unwrap_or(0) } else { kind.least };
            value = value.checked_add(each.checked_mul(i128::from(bars))?)?;
        }
        Some((ceil_div(ceil_div(value, q), step) * step, (t, q), value))
    };
    let inner = held.iter().map(|&j| ratio(j)).filter(|&t| less(t, most)).chain([(0, 1)]);
    // Of equal bounds the one of the greater value, which leaves patterns less room.
    let best = inner.chain([most]).filter_map(at).max_by(|a, b| {
        let value = |c: &(i128, (i128, i128), i128)| (c.2.div_euclid(c.1.1), c.1);
        a.0.cmp(&b.0).then(value(a).cmp(&value(b)))
    });
    match best {
        Some((bound, scale, value)) if bound >= 0 => {
            Certificate { weights, worth, scale, value, bound }
        }
        _ => nothing(weights, worth),
    }
}

/// A proved lower bound, with what proves it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Certificate {
    /// Weight of each piece.
    pub weights: Vec<i64>,
    /// Upper bound of what a pattern of each kind holds.
    worth: Vec<i64>,
    /// The scale `t`, as a fraction.
    scale: (i128, i128),
    /// The bound before rounding, times the scale's denominator.
    value: i128,
    /// The bound, rounded up to the price step, at least 0.
    pub bound: i128,
}

impl Certificate {
    /// Whether the bound before rounding is higher than another's.
    pub fn tighter(&self, other: &Self) -> bool {
        // Denominators lie below 2^63; where the product would overflow the old one will do.
        let (Some(a), Some(b)) =
            (self.value.checked_mul(other.scale.1), other.value.checked_mul(self.scale.1))
        else {
            return false;
        };
        a > b
    }

    /// No pattern of a kind holds more than this of the weights.
    pub fn worth(&self, kind: usize) -> i64 {
        self.worth[kind]
    }

    /// The least value that a pattern of `kind` must hold to occur in any plan of price at most
    /// `target`.
    ///
    /// The plan pays, over the bound, for each of its patterns what that falls short of its
    /// kind's worth, and for each bar that the bound does not count what its price is above that
    /// worth. Neither is ever negative, so for no pattern may it pass `target` less the bound.
    pub fn needed(&self, model: &Model, kind: usize, target: i128) -> i64 {
        let (t, q) = self.scale;
        let price = i128::from(model.kinds[kind].price) * q;
        let worth = t * i128::from(self.worth[kind]);
        // What the bound already pays for a bar of this kind: its price, or as much as it may hold.
        let paid = if price < worth || model.kinds[kind].least > 0 { worth } else { price };
        let Some(slack) = target.checked_mul(q).map(|target| target - self.value) else {
            return 0;
        };
        let short = paid - slack;
        if short <= 0 {
            return 0;
        }
        if t == 0 {
            return i64::MAX;
        }
        i64::try_from(ceil_div(short, t)).unwrap_or(i64::MAX)
    }
}

/// The bound of [`certify`] alone.
pub(super) fn lower(model: &Model, demand: &[u32], weights: &[i64], worth: &[i64]) -> i128 {
    certify(model, demand, weights.to_vec(), worth.to_vec()).bound
}

/// What length alone says: the rates of [`crate::solve::lp::length_rates`] as weights. Returns the
/// bound and the worth of each piece that it came from.
pub(super) fn by_length(model: &Model) -> (i128, Vec<f64>) {
    use crate::solve::lp;
    let demand = model.demand();
    let first_fit =
        |len: i64| model.kinds.iter().position(|k| k.cap >= len).unwrap_or(model.kinds.len());
    let mut needed = vec![0.0; model.kinds.len()];
    for p in &model.pieces {
        if let Some(needed) = needed.get_mut(first_fit(p.len)) {
            *needed += p.len as f64 * f64::from(p.demand);
        }
    }
    let supply: Vec<lp::Supply> = (model.kinds.iter())
        .map(|k| lp::Supply { length: k.cap as f64, price: k.price as f64, limit: k.limit })
        .collect();
    let dearest = model.kinds.iter().map(|k| k.price).max().unwrap_or(0).max(1);
    let rates = lp::length_rates(&supply, &needed, dearest as f64)
        .unwrap_or_else(|| vec![1.0; model.kinds.len()]);
    let worth: Vec<f64> = (model.pieces.iter())
        .map(|p| rates.get(first_fit(p.len)).copied().unwrap_or(0.0) * p.len as f64)
        .collect();
    // Weights in proportion to length within a class: a bar of kind j holds at most its length
    // times the best weight per length of what fits it, which no knapsack need find out.
    let weights = weigh(model, &demand, &worth);
    let held: Vec<i64> = (model.kinds.iter())
        .map(|k| {
            let fits = model.pieces.iter().zip(&weights).filter(|(p, _)| p.len <= k.cap);
            fits.map(|(p, &u)| {
                let most = i128::from(k.cap) * i128::from(u) / i128::from(p.len);
                i64::try_from(most).unwrap_or(i64::MAX)
            })
            .max()
            .unwrap_or(0)
        })
        .collect();
    (lower(model, &demand, &weights, &held), worth)
}

/// `a / b` rounded up, for `b > 0`.
fn ceil_div(a: i128, b: i128) -> i128 {
    a.div_euclid(b) + i128::from(a.rem_euclid(b) > 0)
}

/// Whether a pattern keeps to its bar and the demand; every pattern that leaves a search does.
pub(super) fn fits(model: &Model, pattern: &Pattern) -> bool {
    model.used(&pattern.counts) <= model.kinds[pattern.kind].cap
        && pattern.counts.iter().all(|&(i, n)| n > 0 && n <= model.pieces[i].demand)
}
