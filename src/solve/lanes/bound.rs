//! What no filling can beat, and why some problems have none.

use std::cmp::Reverse;

use super::super::budget::Budget;
use super::table::{HallTable, Table, div_up, widest_lane};
use super::{Form, LaneProblem, LaneReason};

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

/// An upper bound on the value of every filling that places all `must` copies.
pub(super) fn value(table: &Table, _budget: &mut Budget) -> i64 {
    by_area(table).min(table.all_values())
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
