//! What no filling can beat, and why some problems have none.

use std::cmp::Reverse;

use super::table::{HallTable, Table, div_up, widest_lane};
use super::{Burden, Form, LaneProblem, LaneReason};

/// A proof that not every `must` copy can be placed, if a simple one exists.
pub(super) fn impossible(problem: &LaneProblem, table: &Table) -> Option<LaneReason> {
    for (hall, row) in problem.halls.iter().enumerate() {
        let least = i64::from(row.columns.max(1)).saturating_mul(row.least_column.max(0));
        if least > row.width {
            return Some(LaneReason::Columns { hall, short_by: least - row.width });
        }
    }
    let needed = |class: &usize| problem.classes[*class].must && problem.classes[*class].count > 0;
    let homeless = |class: &usize| table.classes[*class].area.is_none();
    let mut classes = (0..problem.classes.len()).filter(needed);
    match classes.find(homeless) {
        Some(class) => Some(nearest_miss(problem, class)),
        None => overfull(table),
    }
}

/// The hall and shape that lack least for a class that fits nowhere.
fn nearest_miss(problem: &LaneProblem, class: usize) -> LaneReason {
    let mut nearest = None;
    for (hall, row) in problem.halls.iter().enumerate() {
        for (index, shape) in row.shapes.iter().enumerate() {
            if shape.class != class || shape.copies == 0 {
                continue;
            }
            let widest = widest_lane(row);
            let (width, length) = match shape.form {
                Form::Fixed { width, length } => (width, length),
                Form::Area { area, least } => {
                    let widest = widest.max(least).max(1);
                    (least, div_up(area.max(1), widest).max(least))
                }
            };
            let short = ((width - widest).max(0), (length - row.length).max(0));
            let key = (short.0.saturating_add(short.1), hall, index);
            if nearest.as_ref().is_none_or(|(least, _)| key < *least) {
                nearest = Some((key, short));
            }
        }
    }
    match nearest {
        Some(((_, hall, shape), (short_width, short_length))) => {
            LaneReason::TooLarge { class, hall, shape, short_width, short_length }
        }
        None => LaneReason::NoShape { class },
    }
}

/// Some halls that cannot hold the area of the classes that fit nowhere else. Looks at every set of
/// halls when there are at most ten, else at each alone and at all.
fn overfull(table: &Table) -> Option<LaneReason> {
    let halls = table.halls.len();
    let home = |class: usize| -> u64 {
        let fits = |row: &HallTable| {
            row.fixed.iter().any(|shape| shape.class == class)
                || row.loose.iter().any(|shape| shape.class == class)
        };
        let set = table.halls.iter().enumerate().filter(|(_, row)| fits(row));
        set.fold(0, |set, (hall, _)| set | 1 << (hall % 64))
    };
    let rows = table.classes.iter().enumerate().filter(|(_, row)| row.must && row.count > 0);
    let rows: Vec<(usize, u64, i128)> = rows
        .map(|(class, row)| {
            let area = i128::from(row.area.unwrap_or(0)) * i128::from(row.count);
            (class, home(class), area)
        })
        .collect();
    let sets: Vec<u64> = match halls {
        0..=10 => (1..1u64 << halls).collect(),
        11..=63 => (0..halls).map(|hall| 1 << hall).chain([(1 << halls) - 1]).collect(),
        _ => vec![],
    };
    for set in sets {
        let inside = |hall: &usize| set >> hall & 1 == 1;
        let available = (0..halls).filter(inside).map(|hall| table.halls[hall].area()).sum();
        let bound_here = rows.iter().filter(|(_, home, _)| home & !set == 0);
        let needed = bound_here.clone().map(|(_, _, area)| area).sum();
        if needed > available {
            let classes = bound_here.map(|(class, _, _)| *class).collect();
            let halls = (0..halls).filter(inside).collect();
            return Some(LaneReason::TooMuch { classes, halls, needed, available });
        }
    }
    None
}

/// An upper bound on the value of every filling that places all `must` copies: a whole multiple of what all values are
/// multiples of.
pub(super) fn value(table: &Table, burden: Burden<'_>) -> i64 {
    let area = by_area(table);
    let values = table.classes.iter().filter(|row| row.count > 0 && row.area.is_some());
    let step = values.map(|row| row.value).fold(0, gcd);
    let bound = by_hall(table, burden, area, step).min(table.all_values());
    match step {
        0 => bound,
        step => bound - bound.rem_euclid(step),
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// The fractional knapsack of the areas: the densest classes first, `must` before all.
fn by_area(table: &Table) -> i64 {
    let mut room: i128 = table.halls.iter().map(HallTable::area).sum();
    let mut rows: Vec<(bool, i64, i64, u32)> = table
        .classes
        .iter()
        .filter_map(|row| Some((row.must, row.value, row.area?.max(1), row.count)))
        .collect();
    rows.sort_by(|one, other| {
        let rate = |a: &(bool, i64, i64, u32), b: &(bool, i64, i64, u32)| {
            i128::from(a.1) * i128::from(b.2)
        };
        Reverse(one.0).cmp(&Reverse(other.0)).then(rate(other, one).cmp(&rate(one, other)))
    });
    let mut value: i128 = 0;
    for (must, worth, area, count) in rows {
        let all = i128::from(area) * i128::from(count);
        if must || all <= room {
            room = (room - all).max(0);
            value += i128::from(worth) * i128::from(count);
        } else {
            value += i128::from(worth) * room / i128::from(area);
            break;
        }
    }
    i64::try_from(value).unwrap_or(i64::MAX)
}

/// One hall as a share, and one unit of value, in fixed point.
const WHOLE: i128 = 1 << 24;
const UNIT: i128 = 1 << 30;
/// Steps of the subgradient method; each looks at every class in every hall once.
const STEPS: u32 = 160;

/// The fractional knapsack with each hall apart.
///
/// With a price `p_h` for the whole of each hall and `s_ch` the least share of hall `h` that a copy
/// of class `c` takes, and a price `q_h` for all that a hall may carry and `l_ch` the share of that which a copy weighs,
///
/// `Σ_h (p_h + q_h) + Σ_c n_c · max(0, v_c − min_h (p_h·s_ch + q_h·l_ch))`
///
/// is at least the value of every filling, whatever the prices (weak duality; for `must` classes
/// the maximum with nothing is left out, since all their copies are placed). Good prices come from
/// a subgradient method in floats; the bound is then taken in integers, shares rounded down.
///
/// With the same prices no filling takes more than `Σ_h (p_h + q_h)` in all, which makes a knapsack of whole copies: its best is a bound
/// as well (a surrogate relaxation), and no more than that of the fractional one.
fn by_hall(table: &Table, burden: Burden<'_>, most: i64, step: i64) -> i64 {
    let halls = table.halls.len();
    let rows: Vec<Row> = table
        .classes
        .iter()
        .enumerate()
        .filter_map(|(class, row)| {
            let share = |(hall, space): (usize, &HallTable)| {
                Some([space.least_share(class, row.count)?, burden.share(class, hall)])
            };
            let shares: Vec<Option<[i128; 2]>> =
                table.halls.iter().enumerate().map(share).collect();
            let fits = row.count > 0 && shares.iter().any(Option::is_some);
            let near = |share: &Option<[i128; 2]>| {
                share.map(|one| one.map(|one| one as f64 / WHOLE as f64))
            };
            let near = shares.iter().map(near).collect();
            fits.then_some(Row { must: row.must, value: row.value, count: row.count, shares, near })
        })
        .collect();
    if rows.is_empty() {
        return most;
    }
    let all: i128 = table.halls.iter().map(HallTable::area).sum();
    // To start with, every area costs the same, and what a hall may carry nothing. A single hall is as dear as it may be.
    let start = |hall: &HallTable| [most as f64 * (hall.area() as f64 / all.max(1) as f64), 0.0];
    let mut prices: Vec<[f64; 2]> = table.halls.iter().map(start).collect();
    let mut best = (f64::INFINITY, prices.clone());
    let steps = if halls < 2 && burden.is_light() { 0 } else { STEPS };
    for step in 0..steps {
        let (total, slope) = at_prices(&rows, burden, &prices);
        if total < best.0 {
            best = (total, prices.clone());
        }
        let norm: f64 = slope.iter().flatten().map(|slope| slope * slope).sum::<f64>().sqrt();
        if norm < 1e-9 {
            break;
        }
        let stride = most as f64 * 0.1 / (1.0 + f64::from(step) / 8.0) / norm;
        for (price, slope) in prices.iter_mut().flatten().zip(slope.iter().flatten()) {
            *price = (*price - stride * slope).max(0.0);
        }
    }
    // Prices are far below 2^60 each, since the sum of all values is; the cast saturates besides.
    let exact = |price: f64| (price * (UNIT / WHOLE) as f64) as i64 as i128;
    let prices: Vec<[i128; 2]> = best.1.iter().map(|price| price.map(exact)).collect();
    let classes: i128 = rows.iter().map(|row| row.exact(&prices)).sum();
    let capacity = prices.iter().flatten().sum::<i128>() * WHOLE;
    let fractional = i64::try_from((classes + capacity).max(0) / UNIT).unwrap_or(i64::MAX);
    let most = most.min(fractional);
    most.min(in_whole_copies(&rows, &prices, capacity, most, step).unwrap_or(most))
}

/// Cells of the knapsack's table times copies, at most: about a millisecond.
const CELLS: i64 = 1 << 20;

/// The best of the knapsack of whole copies at these prices, a multiple of `step`, which divides all values; `None` if its table
/// would be too long. Costs one cell for each copy and each multiple of `step` up to `most`.
fn in_whole_copies(
    rows: &[Row],
    prices: &[[i128; 2]],
    capacity: i128,
    most: i64,
    step: i64,
) -> Option<i64> {
    let steps = most.checked_div(step)?;
    let copies: i64 = rows.iter().map(|row| i64::from(row.count)).sum();
    if steps.checked_mul(copies)? > CELLS {
        return None;
    }
    // What a worth of so many steps costs at least.
    let mut least: Vec<Option<i128>> = vec![None; usize::try_from(steps).ok()? + 1];
    *least.first_mut()? = Some(0);
    let mut certain = 0;
    for row in rows {
        let worth = usize::try_from(row.value / step).ok()?;
        for _ in 0..row.count {
            if row.must {
                certain += worth;
                least.iter_mut().flatten().for_each(|cost| *cost += row.cost(prices));
                continue;
            }
            for at in (worth..least.len()).rev().take_while(|_| worth > 0) {
                let with = least[at - worth].map(|cost| cost + row.cost(prices));
                least[at] = least[at].into_iter().chain(with).min();
            }
        }
    }
    // The table is as long as the bound, which counts what must be placed.
    let fits = |cost: &Option<i128>| cost.is_some_and(|cost| cost <= capacity);
    let best = least.iter().rposition(fits)? + certain;
    Some(i64::try_from(best).ok()?.saturating_mul(step))
}

/// A class with the least share of each hall's room that one copy takes, and the share of what it may carry, in [`WHOLE`]ths.
struct Row {
    must: bool,
    value: i64,
    count: u32,
    shares: Vec<Option<[i128; 2]>>,
    /// The same in floats, for advice.
    near: Vec<Option<[f64; 2]>>,
}

impl Row {
    /// `n · max(0, v − min (p·s + q·l))` in [`UNIT`]s, prices in `UNIT / WHOLE`ths.
    fn exact(&self, prices: &[[i128; 2]]) -> i128 {
        let gain = i128::from(self.value) * UNIT - self.cost(prices);
        i128::from(self.count) * if self.must { gain } else { gain.max(0) }
    }

    /// What one copy takes at least, in [`UNIT`]s.
    fn cost(&self, prices: &[[i128; 2]]) -> i128 {
        let costs = self.shares.iter().zip(prices);
        let costs = costs.filter_map(|(share, price)| {
            share.map(|share| share[0] * price[0] + share[1] * price[1])
        });
        costs.min().unwrap_or(0)
    }
}

/// The bound at these prices and its slope in each, both for advice only.
fn at_prices(rows: &[Row], burden: Burden<'_>, prices: &[[f64; 2]]) -> (f64, Vec<[f64; 2]>) {
    // What carries anything has no price.
    let carries = |hall: usize| f64::from(u8::from(burden.most(hall).is_some()));
    let mut slope: Vec<[f64; 2]> = (0..prices.len()).map(|hall| [1.0, carries(hall)]).collect();
    let mut total: f64 = prices.iter().flatten().sum();
    for row in rows {
        let mut cheapest: Option<(f64, usize, [f64; 2])> = None;
        for (hall, share) in row.near.iter().enumerate() {
            let Some(share) = *share else { continue };
            let cost = share[0] * prices[hall][0] + share[1] * prices[hall][1];
            if cheapest.is_none_or(|(least, _, _)| cost < least) {
                cheapest = Some((cost, hall, share));
            }
        }
        let Some((cost, hall, share)) = cheapest else { continue };
        let gain = row.value as f64 - cost;
        if row.must || gain > 0.0 {
            let count = f64::from(row.count);
            total += gain * count;
            slope[hall] = [slope[hall][0] - share[0] * count, slope[hall][1] - share[1] * count];
        }
    }
    (total, slope)
}

impl Burden<'_> {
    /// What a hall may carry, if that is limited.
    fn most(&self, hall: usize) -> Option<i64> {
        self.most.get(hall).copied().flatten()
    }

    fn is_light(&self) -> bool {
        self.most.iter().all(Option::is_none)
    }

    /// The share that a copy of a class takes of what a hall may carry, in [`WHOLE`]ths, rounded down.
    fn share(&self, class: usize, hall: usize) -> i128 {
        let load = self.copies.get(class).copied().unwrap_or(0).max(0);
        self.most(hall).map_or(0, |most| i128::from(load) * WHOLE / i128::from(most.max(1)))
    }
}

impl HallTable {
    /// The least share of this hall that one copy takes, in [`WHOLE`]ths, rounded down.
    ///
    /// Lengths that leave no room for anything else along the lane count as the whole length, and
    /// widths likewise: along any line the counted lengths of the cells it crosses still add up to
    /// no more than the hall (the function `f_e` of Fekete & Schepers, Math. Program. 91, 2001, from
    /// memory, with the least side in use as `e`).
    fn least_share(&self, class: usize, count: u32) -> Option<i128> {
        let area = self.area().max(1);
        let grown = self.loose.iter().map(|row| row.least + self.divider).min();
        let shortest = self.fixed.iter().map(|row| row.length).chain(grown).min()?;
        let counted = |size: i64, least: i64, whole: i64| {
            i128::from(if size > whole - least { whole.max(size) } else { size })
        };
        let shared = |copies: u32| i128::from(copies.min(count).max(1));
        let fixed = self.fixed.iter().filter(|row| row.class == class).map(|row| {
            let length = counted(row.length, shortest, self.length);
            let width = counted(row.width, self.narrowest, self.width);
            length * width * WHOLE / area / shared(row.copies)
        });
        let loose = self.loose.iter().filter(|row| row.class == class);
        let loose = loose.map(|row| {
            i128::from(row.grown_area(self.divider)) * WHOLE / area / shared(row.copies)
        });
        fixed.chain(loose).min()
    }
}
