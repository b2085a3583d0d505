//! Bounds by dual feasible functions.
//!
//! A function `f` with `f(x_1) + ... + f(x_n) <= f(C)` for all whole lengths of `x_1 + ... + x_n <= C`
//! gives weights that no bar of length `C` exceeds, without any knapsack. Two families, each with
//! a parameter that only matters where a length passes it, so that lengths and what they leave of
//! a bar are all that need be tried:
//!
//! ```text
//! u(x) = C if x > C - e,  x if e <= x <= C - e,  0 if x < e
//! f(x) = 2 (|C/k| - |(C-x)/k|) if 2x > C,  |C/k| if 2x = C,  2 |x/k| if 2x < C    (|.| rounds down)
//! ```
//!
//! (Fekete & Schepers, Math. Program. 91:11-31, 2001; Carlier, Clautiaux & Moukrim, Comput. Oper. Res.
//! 34:2223-2250, 2007; both from memory, and tried on all small cases in the tests.)

use super::bound::lower;
use super::model::Model;

/// Parameters tried at most.
const MOST_TRIED: usize = 400;

/// With longer bars the fractions that are compared might not fit their numbers.
const LONGEST: i64 = 1 << 36;

/// The best bound of both families; 0 where there are several kinds of bar.
pub(super) fn by_functions(model: &Model) -> i128 {
    let [kind] = &model.kinds[..] else { return 0 };
    let cap = kind.cap;
    if kind.only.is_some() || cap > LONGEST {
        return 0;
    }
    let mut tried: Vec<i64> = (model.pieces.iter())
        .flat_map(|p| [p.len, p.len + 1, cap - p.len, cap - p.len + 1])
        .filter(|&t| 0 < t && t <= cap / 2)
        .collect();
    tried.sort_unstable();
    tried.dedup();
    let every = tried.len() / MOST_TRIED + 1;
    let candidates = tried.iter().step_by(every).flat_map(|&t| [(t, true), (t, false)]);
    let weight =
        |(t, plain): (i64, bool), x: i64| if plain { middle(cap, t, x) } else { steps(cap, t, x) };
    // Ratios of what is held to what a bar can hold, as fractions.
    let best = candidates
        .map(|f| {
            let each = model.pieces.iter();
            let held =
                each.map(|p| i128::from(weight(f, p.len)) * i128::from(p.demand)).sum::<i128>();
            (held, i128::from(weight(f, cap)), f)
        })
        .reduce(|a, b| if b.0 * a.1 > a.0 * b.1 { b } else { a });
    let Some((_, worth, f)) = best else { return 0 };
    let weights: Vec<i64> = model.pieces.iter().map(|p| weight(f, p.len)).collect();
    lower(model, &model.demand(), &weights, &[i64::try_from(worth).unwrap_or(i64::MAX)])
}

/// The first family.
fn middle(cap: i64, e: i64, x: i64) -> i64 {
    if x > cap - e {
        cap
    } else if x >= e {
        x
    } else {
        0
    }
}

/// The second family.
fn steps(cap: i64, k: i64, x: i64) -> i64 {
    match x.cmp(&(cap - x)) {
        std::cmp::Ordering::Greater => 2 * (cap / k - (cap - x) / k),
        std::cmp::Ordering::Equal => cap / k,
        std::cmp::Ordering::Less => 2 * (x / k),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The most that lengths of at most `cap` together hold.
    fn most(cap: i64, f: &dyn Fn(i64) -> i64) -> i64 {
        let mut best = vec![0; usize::try_from(cap).expect("not negative") + 1];
        for c in 1..best.len() {
            best[c] = (1..=c).map(|x| f(x as i64) + best[c - x]).max().expect("one at least");
        }
        best[best.len() - 1]
    }

    #[test]
    fn no_bar_holds_more_than_its_own_weight() {
        for cap in 1..60 {
            for t in 1..=cap / 2 {
                assert!(most(cap, &|x| middle(cap, t, x)) <= middle(cap, t, cap), "u {cap} {t}");
                assert!(most(cap, &|x| steps(cap, t, x)) <= steps(cap, t, cap), "f {cap} {t}");
            }
        }
    }
}
