//! Dual feasible functions made to measure for the job, by column generation.
//!
//! Cut a sheet into thin slices that run along one axis: the parts that a slice meets have sides along it that are together
//! no longer than the sheet's, and each part is met by as many slices as it is long across. So, given a dual feasible function
//! `g` of the sides across, the best function `f` of the sides along is a linear program over the ways to fill a slice,
//!
//! ```text
//! max  Σ d_i v_i    s.t.  v_i ≤ f(s) g(t)           for each way to lie, with sides s along and t across
//!                         Σ_s n_s f(s) ≤ 1          for each multiset n of sides that fills a slice
//! ```
//!
//! whose dual cuts the parts into slices of unit width and packs those (the bar relaxation of Scheithauer, "LP-based bounds for
//! the container and multi-container loading problem", Int. Trans. Oper. Res. 6, 1999; from memory). With `f` as it came out
//! the best `g` is another one, and so on in turn; no round is worse than the one before. Each function is rounded to whole
//! numbers, and what a slice holds of them at most is found by an exact knapsack: that is what the bound follows from.

use super::bound::Function;
use super::job::{Job, JobSheet};
use crate::solve::boards::knapsack::{Item, QUICK, fill};
use crate::solve::budget::Budget;
use crate::solve::lp::DualMaster;

/// Values of sides are whole numbers of which a slice holds about so many.
const WHOLE: i64 = 1 << 20;
/// How many functions are found in turn, beginning along either axis.
const TURNS: usize = 6;
/// It is given up when so many times as much again as the last turn brought would not reach the goal.
const REACH: f64 = 4.0;
/// The most slices of one function, and the work of one more besides the knapsack.
const SLICES: usize = 400;
/// See [`SLICES`], per row and column.
const PER_SLICE: u64 = 4;
/// With more sides than this along an axis the program is too large to be worth it.
const MOST_SIDES: usize = 200;
/// A function is good enough when no slice holds more than this share above the whole.
const CLOSE: i64 = WHOLE / 4096;

/// Functions along x and along y of the sides on a sheet; `fits` is which ways each kind fits. Nobody needs a bound that is not above
/// `goal` sheets.
pub(super) fn functions(
    job: &Job,
    sheet: &JobSheet,
    fits: &[[bool; 2]],
    goal: f64,
    budget: &mut Budget,
) -> [Vec<Function>; 2] {
    let mut found = [Vec::new(), Vec::new()];
    for first in [1, 0] {
        let mut across = plain(job, sheet.size[1 - first]);
        let mut before = 0.0;
        for turn in 0..TURNS {
            let axis = if turn % 2 == 0 { first } else { 1 - first };
            let next = best(job, sheet.size[axis], axis, fits, &across, budget);
            let Some((function, sheets)) = next else { break };
            found[axis].push(function.clone());
            across = function;
            if turn > 0 && sheets + (sheets - before) * REACH <= goal {
                break;
            }
            before = sheets;
        }
    }
    found
}

/// Sides as they are.
fn plain(job: &Job, whole: i64) -> Function {
    let values = job.kinds.iter().map(|kind| kind.size.map(i128::from)).collect();
    Function::new(values, i128::from(whole))
}

/// The best function of the sides along an axis for a given one of the sides across, and of how many sheets it shows about that
/// they are needed; `None` if that is too much.
fn best(
    job: &Job,
    whole: i64,
    axis: usize,
    fits: &[[bool; 2]],
    across: &Function,
    budget: &mut Budget,
) -> Option<(Function, f64)> {
    let along = |kind: usize, lying: usize| job.kinds[kind].size[(axis + lying) % 2];
    let ways = |kind: usize| (0..2).filter(move |lying| fits[kind][*lying]);
    let kinds = 0..job.kinds.len();
    let mut sides: Vec<i64> =
        kinds.clone().flat_map(|kind| ways(kind).map(move |lying| along(kind, lying))).collect();
    sides.sort_unstable();
    sides.dedup();
    if sides.is_empty() || sides.len() > MOST_SIDES {
        return None;
    }
    let place = |side: i64| sides.partition_point(|s| *s < side);
    let worth = |kind: usize, lying: usize| across.rough(kind, (1 - axis + lying) % 2);
    // What there is of each side; what a unit of it counts for; kinds that may lie in two ways have a value of their own.
    let mut there = vec![0u32; sides.len()];
    let mut counts = vec![0.0; sides.len()];
    let mut rows = Vec::new();
    for kind in kinds {
        let count = job.kinds[kind].count;
        for lying in ways(kind) {
            let side = &mut there[place(along(kind, lying))];
            *side = side.saturating_add(count);
        }
        if fits[kind] == [true; 2] {
            rows.extend([0, 1].map(|lying| {
                vec![(counts.len(), 1.0), (place(along(kind, lying)), -worth(kind, lying))]
            }));
            counts.push(f64::from(count));
        } else {
            ways(kind).for_each(|lying| {
                counts[place(along(kind, lying))] += f64::from(count) * worth(kind, lying);
            });
        }
    }
    let mut master = DualMaster::new(&counts, &vec![1.0; counts.len()], &[]);
    rows.iter().for_each(|row| _ = master.limit(row, 0.0));
    let fit = |i: usize| (whole / sides[i]).min(i64::from(there[i]));
    (0..sides.len()).for_each(|i| _ = master.limit(&[(i, fit(i) as f64)], 1.0));
    let mut found: Option<(f64, Vec<i64>, i64)> = None;
    for slice in 0..SLICES {
        let size = (counts.len() + rows.len() + sides.len() + slice) as u64;
        if !budget.spend(PER_SLICE * size) {
            break;
        }
        let Some(prices) = master.solve() else { break };
        // Whatever the library says, no slice holds so much that its sum would not fit.
        let value = |i: usize| (prices.worth[i].min(1.0 / fit(i) as f64) * WHOLE as f64) as i64;
        let values: Vec<i64> = (0..sides.len()).map(value).collect();
        let items = sides.iter().zip(&there).zip(&values).enumerate();
        let items: Vec<Item> = items
            .map(|(piece, ((&len, &most), &value))| Item { piece, len, most, value })
            .collect();
        let filling = fill(&[whole], &items, QUICK, budget).pop()?;
        let most = filling.bound.max(1);
        let rate = prices.objective / most as f64;
        if found.as_ref().is_none_or(|(best, ..)| rate > *best) {
            found = Some((rate, values, most));
        }
        let done = filling.value <= WHOLE + CLOSE;
        let times: Vec<(usize, f64)> =
            filling.counts.iter().map(|(side, n)| (*side, f64::from(*n))).collect();
        if done || !master.limit(&times, 1.0) {
            break;
        }
    }
    let (rate, values, most) = found?;
    let of = |side: i64| {
        let place = place(side);
        if sides.get(place) == Some(&side) { i128::from(values[place]) } else { 0 }
    };
    let values = job.kinds.iter().map(|kind| kind.size.map(of)).collect();
    Some((Function::new(values, i128::from(most)), rate * WHOLE as f64))
}
