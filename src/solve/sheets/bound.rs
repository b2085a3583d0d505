//! Least prices by dual feasible functions.
//!
//! A function `f` with `Σ x ≤ 1 ⇒ Σ f(x) ≤ 1` is dual feasible. If a part's sides are `w`, `h` in
//! fractions of a sheet's, then `Σ f(w) g(h) ≤ 1` over the parts on one sheet, cut edge to edge or
//! not (Fekete & Schepers, "New classes of fast lower bounds for bin packing problems", Math.
//! Program. 91:11-31, 2001; the functions are written from memory). So with a sheet `s` of price
//! `p_s` no part needs to be valued at more than `p_s f(w) g(h)`, and with several sheets at more
//! than the least of these: the values are a solution of the dual of the pattern model
//!
//! ```text
//! max  Σ d_i v_i - Σ L_s r_s    s.t.  Σ_i a_i v_i ≤ p_s + r_s  for each pattern a of each sheet s
//! ```
//!
//! where `L_s` is the limit of a sheet and `r_s` what it may be valued above its price (always 0
//! for a sheet without limit). A part that may turn takes the smaller of its two products.
//! All fractions are exact: numerators over a denominator per function, in `i128`.

use std::collections::BTreeMap;

use super::SheetReason;
use super::cover;
use super::job::{Job, JobSheet, Kind};
use super::slices;
use crate::solve::budget::Budget;

/// The reason if even by area the sheets are too few.
pub(super) fn out_of_stock(job: &Job) -> Option<SheetReason> {
    let area = |size: [i64; 2]| i128::from(size[0]) * i128::from(size[1]);
    let stock: i128 = job.sheets.iter().map(|s| area(s.size) * i128::from(s.limit)).sum();
    let parts: i128 = job.kinds.iter().map(|k| area(k.size) * i128::from(k.count)).sum();
    let unit = i128::from(job.unit);
    (parts > stock).then(|| SheetReason::OutOfStock { area: (parts - stock) * unit * unit })
}

/// No plan is cheaper than this. `effort` bounds the products of values that are looked at for one size of sheet, and
/// [`SIZES`] times as many all of them; a step is [`PER_STEP`] of them. What ends the budget ends this.
pub(super) fn least_price(job: &Job, effort: usize, budget: &mut Budget) -> i64 {
    if job.kinds.is_empty() || job.sheets.is_empty() {
        return 0;
    }
    let mut clock = budget.share(u64::MAX);
    let bound = least_by_pairs(job, effort, &mut clock);
    budget.spend(clock.spent() / PER_STEP);
    bound
}

/// [`least_price`] of one size of sheets by functions that are made to measure for the job ([`super::slices`]), and what a part of each
/// kind is worth by them where a sheet is worth `whole`. `known` is a bound that is known already.
pub(super) fn least_by_slices(
    job: &Job,
    known: i64,
    whole: i64,
    budget: &mut Budget,
) -> Option<(i64, Vec<i64>)> {
    let [sheet] = &job.sheets[..] else { return None };
    // Where everything turns they have shown no more than the standard ones on any of a hundred jobs.
    if job.kinds.iter().all(|kind| kind.turn || kind.size[0] == kind.size[1]) {
        return None;
    }
    let fits = fits(job, sheet);
    let goal = known as f64 / sheet.price.max(1) as f64;
    let functions = slices::functions(job, sheet, &fits, goal, budget);
    let table = Table { functions, fits };
    let [x, y] = [0, 1].map(|axis| table.functions[axis].len());
    let kinds = 0..job.kinds.len();
    let value = |charge, pair, i: usize| table.value(i128::from(charge), pair, i);
    let total = |pair: (usize, usize)| {
        kinds
            .clone()
            .map(|i| i128::from(job.kinds[i].count) * value(sheet.price, pair, i))
            .sum::<i128>()
    };
    let pairs = (0..x).flat_map(|f| (0..y).map(move |g| (f, g)));
    let (total, pair) = pairs.map(|pair| (total(pair), pair)).max()?;
    let bound = next_total(job, i64::try_from(self::whole(total)).unwrap_or(0));
    let worth = |i| i64::try_from(value(whole, pair, i) / ONE).unwrap_or(whole);
    Some((bound, kinds.clone().map(worth).collect()))
}

fn least_by_pairs(job: &Job, effort: usize, clock: &mut Budget) -> i64 {
    let charges = charges(job);
    let each = shared(job, effort, charges.len());
    let tables: Vec<Table> = job.sheets.iter().map(|s| Table::new(job, s, each)).collect();
    let mut best = 0;
    for charge in charges {
        let limits = job.sheets.iter().zip(&charge);
        let extra: i128 =
            limits.map(|(s, q)| i128::from(s.limit) * (q - i128::from(s.price))).sum::<i128>();
        let total = best_pairs(job, &tables, &charge, clock) - extra * ONE;
        best = best.max(i64::try_from(whole(total)).unwrap_or(i64::MAX));
    }
    let bound = next_total(job, best);
    if job.sheets.len() < 2 {
        return bound;
    }
    let covered = cover::least(job, &measures(job, effort / COVERS, clock), step(job));
    bound.max(covered.unwrap_or(0))
}

/// What is looked at for all sizes of sheets together, in shares of one.
const SIZES: usize = 32;
/// Products of values in a step.
const PER_STEP: u64 = 20;

/// What is looked at for each size of sheet when all of them are gone through `times` times.
fn shared(job: &Job, effort: usize, times: usize) -> usize {
    let looks = (job.sheets.len() * 2 * times).max(1);
    effort.min(effort.saturating_mul(SIZES) / looks)
}

/// Measures of whole sheets look at fewer products each, as there are many.
const COVERS: usize = 8;
/// The most sets of sheets of which those parts are measured that fit no other.
const SETS: usize = 6;

/// Ways to measure what the sheets hold: by area, by number and by price; all parts, and those that fit no
/// other than some of the sheets.
fn measures(job: &Job, effort: usize, clock: &mut Budget) -> Vec<cover::Measure> {
    let area = |size: [i64; 2]| i128::from(size[0]) * i128::from(size[1]);
    let mut sets: BTreeMap<Vec<bool>, i128> = BTreeMap::new();
    for kind in &job.kinds {
        let fits = job.sheets.iter().map(|sheet| job.fits(kind, sheet)).collect();
        *sets.entry(fits).or_default() += area(kind.size) * i128::from(kind.count);
    }
    let mut sets: Vec<(i128, Vec<bool>)> =
        sets.into_iter().map(|(set, area)| (area, set)).collect();
    sets.sort_by(|a, b| b.cmp(a));
    let all = vec![true; job.sheets.len()];
    let sets = sets.into_iter().map(|(_, set)| set).filter(|set| *set != all).take(SETS);
    let each = shared(job, effort, 3 * (SETS + 1));
    let tables: Vec<Table> = job.sheets.iter().map(|s| Table::new(job, s, each)).collect();
    let largest = job.sheets.iter().map(|s| area(s.size)).max().unwrap_or(1);
    let unit = (largest >> 40) + 1;
    let ways: [&dyn Fn(&JobSheet) -> i128; 3] =
        [&|s| area(s.size) / unit + 1, &|_| 1, &|s| i128::from(s.price)];
    let mut measures = Vec::new();
    for set in std::iter::once(all.clone()).chain(sets) {
        for way in ways {
            let worth = |(sheet, among): (&JobSheet, &bool)| if *among { way(sheet) } else { 0 };
            let charge: Vec<i128> = job.sheets.iter().zip(&set).map(worth).collect();
            let parts = whole(best_pairs(job, &tables, &charge, clock));
            let sheets = charge.into_iter().map(i64::try_from).collect::<Result<Vec<_>, _>>();
            if let (Ok(sheets), Ok(parts)) = (sheets, i64::try_from(parts))
                && parts > 0
            {
                measures.push(cover::Measure { sheets, parts });
            }
        }
    }
    measures
}

/// So many [`ONE`]s, rounded up to whole ones.
fn whole(total: i128) -> i128 {
    (total.max(0) + ONE - 1) / ONE
}

/// Values are whole numbers of this fraction of the price unit, always rounded down.
const ONE: i128 = 1 << 40;
/// Pairs of functions that are taken from a rough look to an exact one.
const EXACT: usize = 12;

/// `p_s + r_s` per sheet: a few ways to value limited sheets above their price, one for each
/// price per area in the stock.
fn charges(job: &Job) -> Vec<Vec<i128>> {
    let area = |s: &JobSheet| i128::from(s.size[0]) * i128::from(s.size[1]);
    let most = u32::try_from(job.items).unwrap_or(u32::MAX);
    let prices = || job.sheets.iter().map(|s| i128::from(s.price));
    let mut all = vec![prices().collect::<Vec<_>>()];
    if job.sheets.iter().any(|s| s.limit < most) {
        for by in &job.sheets {
            let charge = |s: &JobSheet| {
                let fair = i128::from(by.price) * (area(s) / 1024) / (area(by) / 1024).max(1);
                let limited = s.limit < most;
                if limited { fair.max(i128::from(s.price)) } else { i128::from(s.price) }
            };
            all.push(job.sheets.iter().map(charge).collect());
        }
        all.sort();
        all.dedup();
    }
    all
}

/// A function's values: numerators of each kind's two sides, and the denominator.
#[derive(Clone)]
pub(super) struct Function {
    values: Vec<[i128; 2]>,
    over: i128,
    /// The values in floating point, to choose promising pairs by; they prove nothing.
    rough: Vec<[f64; 2]>,
}

impl Function {
    pub(super) fn new(values: Vec<[i128; 2]>, over: i128) -> Self {
        let rough = values.iter().map(|v| v.map(|x| x as f64 / over as f64)).collect();
        Self { values, over, rough }
    }

    /// The value of one of a kind's sides in floating point.
    pub(super) fn rough(&self, kind: usize, side: usize) -> f64 {
        self.rough[kind][side]
    }
}

/// The functions of one sheet, for x and for y.
struct Table {
    functions: [Vec<Function>; 2],
    /// Which ways each kind fits: as it is, turned.
    fits: Vec<[bool; 2]>,
}

/// Which ways each kind fits a sheet: as it is, turned.
fn fits(job: &Job, sheet: &JobSheet) -> Vec<[bool; 2]> {
    let inside = |size: [i64; 2]| size[0] <= sheet.size[0] && size[1] <= sheet.size[1];
    let kinds = job.kinds.iter();
    kinds.map(|k| [inside(k.size), k.turn && inside([k.size[1], k.size[0]])]).collect()
}

impl Table {
    fn new(job: &Job, sheet: &JobSheet, effort: usize) -> Self {
        let fits = fits(job, sheet);
        let most = effort.div_ceil(job.kinds.len()).isqrt().max(12);
        let functions = [0, 1].map(|d| functions(&job.kinds, &fits, sheet.size[d], d, most));
        Self { functions, fits }
    }

    /// The largest value kind `i` may have if the sheet's parts may be worth `charge`.
    fn value(&self, charge: i128, pair: (usize, usize), i: usize) -> i128 {
        let f = &self.functions[0][pair.0];
        let g = &self.functions[1][pair.1];
        let product = |lying: usize| f.values[i][lying] * g.values[i][1 - lying];
        let least = match self.fits[i] {
            [true, true] => product(0).min(product(1)),
            [true, false] => product(0),
            [false, true] => product(1),
            [false, false] => return i128::MAX,
        };
        ratio(charge, least, f.over * g.over)
    }
}

/// `charge * part / whole` in [`ONE`]s, rounded down without overflow.
fn ratio(charge: i128, part: i128, whole: i128) -> i128 {
    // Both are below 2^104 (two sides of 2^51, twice a small factor); shares to 40 bits first.
    let mut shift = 0;
    while whole >> shift >= 1 << 80 {
        shift += 1;
    }
    let share = (part >> shift) * ONE / ((whole >> shift) + i128::from(shift > 0));
    charge * share
}

/// The functions worth trying along one side: thinned evenly to about `most`.
fn functions(
    kinds: &[Kind],
    fits: &[[bool; 2]],
    side: i64,
    d: usize,
    most: usize,
) -> Vec<Function> {
    let mut sizes: Vec<i64> = Vec::new();
    for (kind, fits) in kinds.iter().zip(fits) {
        for lying in [0, 1].into_iter().filter(|l| fits[*l]) {
            sizes.push(kind.size[(d + lying) % 2]);
        }
    }
    sizes.sort();
    sizes.dedup();
    let mut cuts: Vec<i64> = sizes.iter().copied().filter(|x| 2 * x <= side).collect();
    let small = cuts.clone();
    cuts.extend(sizes.iter().filter(|x| 2 * **x > side).map(|x| side - x + 1));
    cuts.sort();
    cuts.dedup();
    cuts.retain(|e| 2 * e <= side);
    let (thin, few) = (most * 2 / 5, most / 5);
    let build = |over: i128, f: &dyn Fn(i64) -> i128| {
        Function::new(kinds.iter().map(|k| k.size.map(f)).collect(), over)
    };
    let whole = i128::from(side);
    let mut all = vec![build(whole, &|x| i128::from(x))];
    for e in spread(&cuts, thin) {
        all.push(build(whole, &|x| match x {
            x if x < e => 0,
            x if x > side - e => whole,
            x => i128::from(x),
        }));
    }
    for k in 1..=(few as i128).min(40) {
        all.push(build(k * whole, &|x| {
            let x = i128::from(x);
            if (k + 1) * x % whole == 0 { k * x } else { (k + 1) * x / whole * whole }
        }));
    }
    for e in spread(&small, thin) {
        let slots = i128::from(side / e);
        all.push(build(slots, &|x| match x {
            x if x < e => 0,
            x if 2 * x > side => slots - i128::from((side - x).max(0) / e),
            _ => 1,
        }));
    }
    all
}

/// About `most` of the numbers, evenly chosen.
fn spread(all: &[i64], most: usize) -> Vec<i64> {
    let step = all.len().div_ceil(most.max(1)).max(1);
    all.iter().copied().step_by(step).collect()
}

/// The best total, in [`ONE`]s, of what all parts are worth where those on one sheet are together worth no more than its
/// charge, over pairs of functions per sheet: one sheet's pair at a time, the others' as they are.
fn best_pairs(job: &Job, tables: &[Table], charge: &[i128], clock: &mut Budget) -> i128 {
    let kinds = job.kinds.len();
    let mut pairs = vec![(0, 0); tables.len()];
    let mut best = i128::MIN;
    for _round in 0..if tables.len() > 1 { 2 } else { 1 } {
        for s in 0..tables.len() {
            let others: Vec<i128> = (0..kinds)
                .map(|i| {
                    let apart = (0..tables.len()).filter(|t| *t != s);
                    apart
                        .map(|t| tables[t].value(charge[t], pairs[t], i))
                        .min()
                        .unwrap_or(i128::MAX)
                })
                .collect();
            for (f, g) in promising(job, &tables[s], charge[s], &others, clock) {
                let value = |i: usize| tables[s].value(charge[s], (f, g), i).min(others[i]);
                let total: i128 =
                    (0..kinds).map(|i| i128::from(job.kinds[i].count) * value(i)).sum();
                if total > best {
                    (best, pairs[s]) = (total, (f, g));
                }
            }
        }
    }
    best
}

/// The pairs of one sheet's functions whose totals are largest by floating point.
fn promising(
    job: &Job,
    table: &Table,
    charge: i128,
    others: &[i128],
    clock: &mut Budget,
) -> Vec<(usize, usize)> {
    let (charge, one) = (charge as f64, ONE as f64);
    let caps: Vec<f64> = others.iter().map(|v| *v as f64 / one).collect();
    let counts: Vec<f64> = job.kinds.iter().map(|k| f64::from(k.count)).collect();
    let mut best: Vec<(f64, usize, usize)> = Vec::new();
    let row = (table.functions[1].len() * job.kinds.len()) as u64;
    for (fi, f) in table.functions[0].iter().enumerate() {
        if !clock.spend(row) {
            break;
        }
        for (gi, g) in table.functions[1].iter().enumerate() {
            let mut total = 0.0;
            for (i, fits) in table.fits.iter().enumerate() {
                let upright = if fits[0] { f.rough[i][0] * g.rough[i][1] } else { f64::MAX };
                let lying = if fits[1] { f.rough[i][1] * g.rough[i][0] } else { f64::MAX };
                total += counts[i] * (charge * upright.min(lying)).min(caps[i]);
            }
            if best.len() < EXACT || best.last().is_some_and(|b| total > b.0) {
                let place = best.partition_point(|b| b.0 >= total);
                best.insert(place, (total, fi, gi));
                best.truncate(EXACT);
            }
        }
    }
    // The plain area is always among them, so that the bound is never below it.
    best.iter().map(|b| (b.1, b.2)).chain([(0, 0)]).collect()
}

/// Weights of the kinds of which the parts on one sheet have no more than `whole` together, each
/// by a pair of functions that promises a high bound.
pub(super) fn weights(job: &Job, sheet: usize, whole: i64, effort: usize) -> Vec<Vec<i64>> {
    let table = Table::new(job, &job.sheets[sheet], effort);
    let n = job.kinds.len();
    let clock = &mut Budget::work(u64::MAX);
    let pairs = promising(job, &table, 1 << 20, &vec![i128::MAX; n], clock);
    let weight = |pair, i| {
        let value = table.value(i128::from(whole), pair, i);
        if value == i128::MAX { whole } else { (value / ONE) as i64 }
    };
    pairs.into_iter().map(|pair| (0..n).map(|i| weight(pair, i)).collect()).collect()
}

/// All prices are multiples of this.
fn step(job: &Job) -> i64 {
    let gcd = |a: i64, b: i64| {
        let (mut a, mut b) = (a, b);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    job.sheets.iter().map(|s| s.price).fold(0, gcd)
}

/// The least total of prices of sheets, within their limits, that is at least `bound`; `bound` rounded up to the step of all
/// prices if there is none.
pub(super) fn next_total(job: &Job, bound: i64) -> i64 {
    let unit = step(job);
    if unit == 0 {
        return 0;
    }
    let first = bound.div_euclid(unit) + i64::from(bound % unit != 0);
    let most = job.sheets.iter().map(|s| s.price / unit).max().unwrap_or(0);
    let Some(reached) = totals(job, unit, first.saturating_add(most)) else {
        return first.saturating_mul(unit);
    };
    let from = usize::try_from(first).unwrap_or(0);
    let next = reached.iter().skip(from).position(|reached| *reached).unwrap_or(0);
    (first.max(0) + next as i64) * unit
}

/// The greatest total of prices of sheets, within their limits, that is below `price`.
pub(super) fn total_below(job: &Job, price: i64) -> i64 {
    let unit = step(job);
    if unit == 0 || price <= 0 {
        return price - 1;
    }
    let last = price / unit - 1;
    let Some(reached) = totals(job, unit, last) else { return last * unit };
    reached.iter().rposition(|reached| *reached).map_or(0, |total| total as i64 * unit)
}

/// Totals that are looked at one by one.
const MOST_TOTALS: i64 = 1 << 20;

/// Whether prices sum to each of 0 to `most` units; `None` if that is too many.
fn totals(job: &Job, unit: i64, most: i64) -> Option<Vec<bool>> {
    let most = usize::try_from(most).ok().filter(|_| most <= MOST_TOTALS)?;
    let mut reached = vec![false; most + 1];
    reached[0] = true;
    for sheet in job.sheets.iter().filter(|s| s.price > 0) {
        let Ok(price) = usize::try_from(sheet.price / unit) else { continue };
        // The fewest of these sheets that a total takes which the sheets before do not reach.
        let mut taken = vec![0; reached.len()];
        for total in price..reached.len() {
            let before = total - price;
            if !reached[total] && reached[before] && taken[before] < sheet.limit {
                (reached[total], taken[total]) = (true, taken[before] + 1);
            }
        }
    }
    Some(reached)
}

#[cfg(test)]
mod tests {
    use super::super::{Edges, Sheet, SheetPart, SheetProblem, Stages};
    use super::*;

    #[test]
    fn totals_keep_to_the_limits() {
        let sheet = |width, price, limit| Sheet { width, height: 10, price, limit };
        let problem = SheetProblem {
            kerf: 0,
            sheets: vec![sheet(25, 860, None), sheet(12, 490, Some(2)), sheet(9, 0, Some(1))],
            parts: vec![SheetPart { width: 5, height: 5, count: 9, turn: true }],
            keep: (1, 1),
            stages: Stages::ANY,
        };
        let job = Job::new(&problem, &Edges::default()).expect("it is one");
        let mut all: Vec<i64> =
            (0..9).flat_map(|a| (0..3).map(move |b| 860 * a + 490 * b)).collect();
        all.sort_unstable();
        for pair in all.windows(2).take(14) {
            assert_eq!(next_total(&job, pair[0]), pair[0]);
            assert_eq!(next_total(&job, pair[0] + 1), pair[1]);
            assert_eq!(total_below(&job, pair[1]), pair[0]);
        }
    }
}
