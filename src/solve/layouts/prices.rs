//! Prices on copies that make the tables' bound low (subgradient steps on the Lagrangian dual).

use super::frame::Frame;
use super::tables::Tables;
use super::trace::{counts, trace};
use crate::solve::budget::Budget;

/// The tables with the lowest bound found for a panel up to point `i` of `x` and of full height, starting
/// from no prices at all.
///
/// A step goes along the excess of copies in the best layout at the present prices; its length is
/// Polyak's, towards `goal` (unscaled). The prices are rounded, the bound is not: it is
/// what the tables at the rounded prices say. `None` if the budget ends before the first tables.
pub(super) fn lowest(
    frame: &Frame,
    i: usize,
    goal: i64,
    rounds: u32,
    budget: &mut Budget,
) -> Option<Tables> {
    let j = frame.y.len() - 1;
    let mut here = Tables::new(frame, vec![0; frame.kinds.len()], budget)?;
    let mut best = here.clone();
    let (mut pace, mut since) = (1.0, 0);
    for _ in 0..rounds {
        let total = |t: &Tables| t.pool + t.top()[i * frame.y.len() + j];
        let used = counts(frame, &trace(frame, &here, i, j));
        let excess: Vec<i64> = (frame.kinds.iter().zip(&used).zip(&here.price))
            .map(|((k, n), p)| (i64::from(*n) - i64::from(k.copies), *p))
            .map(|(excess, price)| if price == 0 { excess.max(0) } else { excess })
            .collect();
        let norm: i64 = excess.iter().map(|e| e * e).sum();
        let gap = total(&here) - goal.saturating_mul(frame.scale);
        if norm == 0 || gap <= 0 || best.bound(frame, i, j) <= goal {
            break;
        }
        let step = pace * gap as f64 / norm as f64;
        let price = (frame.kinds.iter().zip(&excess).zip(&here.price))
            .map(|((k, e), p)| {
                let moved = *p + (step * *e as f64) as i64;
                moved.clamp(0, k.worth * frame.scale)
            })
            .collect();
        let Some(next) = Tables::new(frame, price, budget) else { break };
        here = next;
        if total(&here) < total(&best) {
            best = here.clone();
            since = 0;
        } else {
            since += 1;
            if since >= 6 {
                (pace, since) = (pace * 0.6, 0);
                here = best.clone();
                if pace < 0.02 {
                    break;
                }
            }
        }
    }
    Some(best)
}
