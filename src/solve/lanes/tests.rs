//! An independent checker, a brute force for tiny problems, and relations that must hold.

use std::collections::{BTreeMap, BTreeSet};

use super::super::budget::{Budget, Cancel, Stop};
use super::super::outcome::Outcome;
use super::*;

/// Numbers for tests (a linear congruential generator with Knuth's MMIX constants).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        ((self.0 >> 33) % end as u64) as i64
    }

    fn from(&mut self, low: i64, high: i64) -> i64 {
        low + self.below(high - low + 1)
    }
}

/// Checks a filling against the problem in its own sizes; what is wrong, if anything.
fn check(problem: &LaneProblem, filling: &Filling) -> Result<(), String> {
    let mut placed = vec![0u32; problem.classes.len()];
    if filling.halls.len() != problem.halls.len() {
        return Err("number of halls".into());
    }
    for (hall, filled) in problem.halls.iter().zip(&filling.halls) {
        let d = hall.divider;
        if filled.columns.len() != hall.columns as usize {
            return Err("number of columns".into());
        }
        if filled.columns.iter().map(|column| column.width).sum::<i64>() > hall.width {
            return Err("columns wider than the hall".into());
        }
        for column in &filled.columns {
            if column.width < hall.least_column
                || hall.most_column.is_some_and(|m| column.width > m)
            {
                return Err(format!("column width {}", column.width));
            }
            let gaps = (column.lanes.len() as i64 - 1).max(0) * d;
            if column.lanes.iter().map(|lane| lane.width).sum::<i64>() + gaps > column.width {
                return Err("lanes wider than their column".into());
            }
            for lane in &column.lanes {
                let gaps = (lane.bays.len() as i64 - 1).max(0) * d;
                if lane.bays.iter().map(|bay| bay.length).sum::<i64>() + gaps > hall.length {
                    return Err("bays longer than their lane".into());
                }
                for bay in &lane.bays {
                    let gaps = (bay.cells.len() as i64 - 1).max(0) * d;
                    if bay.cells.iter().map(|cell| cell.width).sum::<i64>() + gaps > lane.width {
                        return Err("cells wider than their bay".into());
                    }
                    for cell in &bay.cells {
                        check_cell(hall, bay, cell)?;
                        let shape = hall.shapes[cell.shape];
                        placed[shape.class] += cell.copies;
                    }
                }
            }
        }
    }
    if placed != filling.placed {
        return Err(format!("placed {placed:?}, said {:?}", filling.placed));
    }
    let counts = problem.classes.iter().zip(&placed);
    if counts.clone().any(|(class, placed)| *placed > class.count) {
        return Err("more copies than there are".into());
    }
    let missing: Vec<(usize, u32)> = counts
        .enumerate()
        .filter(|(_, (class, placed))| class.must && **placed < class.count)
        .map(|(index, (class, placed))| (index, class.count - placed))
        .collect();
    if missing != filling.missing {
        return Err(format!("missing {missing:?}, said {:?}", filling.missing));
    }
    Ok(())
}

fn check_cell(hall: &Hall, bay: &Bay, cell: &Cell) -> Result<(), String> {
    let shape = hall.shapes[cell.shape];
    if cell.copies == 0 || cell.copies > shape.copies || cell.length != bay.length {
        return Err(format!("cell {cell:?}"));
    }
    let fits = match shape.form {
        Form::Fixed { width, length } => cell.width >= width && cell.length >= length,
        Form::Area { area, least } => {
            cell.width * cell.length >= area && cell.width.min(cell.length) >= least
        }
    };
    if fits { Ok(()) } else { Err(format!("{shape:?} in {cell:?}")) }
}

fn value_of(problem: &LaneProblem, placed: &[u32]) -> i64 {
    problem.classes.iter().zip(placed).map(|(c, n)| c.value * i64::from(*n)).sum()
}

/// Every vector of copies that can be placed, by enumeration; exponential in everything.
mod brute {
    use super::*;

    type Sets = BTreeSet<Vec<u32>>;

    fn sum(one: &[u32], other: &[u32], limit: &[u32]) -> Option<Vec<u32>> {
        let sum: Vec<u32> = one.iter().zip(other).map(|(a, b)| a + b).collect();
        sum.iter().zip(limit).all(|(s, l)| s <= l).then_some(sum)
    }

    fn join(one: &Sets, other: &Sets, limit: &[u32]) -> Sets {
        one.iter().flat_map(|a| other.iter().filter_map(move |b| sum(a, b, limit))).collect()
    }

    /// What a stretch of `room` may hold, when a piece of it of size s may hold `of(s)` and
    /// neighbours are `d` apart.
    fn stretch(room: i64, d: i64, limit: &[u32], of: &dyn Fn(i64) -> Sets) -> Sets {
        let mut table: BTreeMap<i64, Sets> = BTreeMap::new();
        for size in 1..=room {
            let mut sets = of(size);
            for first in 1..size - d {
                let rest = table[&(size - d - first)].clone();
                sets.extend(join(&of(first), &rest, limit));
            }
            table.insert(size, sets);
        }
        table.remove(&room).unwrap_or_else(|| [vec![0; limit.len()]].into())
    }

    fn cell(hall: &Hall, width: i64, length: i64, limit: &[u32]) -> Sets {
        let mut sets: Sets = [vec![0; limit.len()]].into();
        for shape in &hall.shapes {
            let fits = match shape.form {
                Form::Fixed { width: w, length: l } => w <= width && l <= length,
                Form::Area { area, least } => {
                    width * length >= area && width >= least && length >= least
                }
            };
            for copies in 1..=shape.copies {
                let mut one = vec![0; limit.len()];
                one[shape.class] = copies;
                if fits && copies <= limit[shape.class] {
                    sets.insert(one);
                }
            }
        }
        sets
    }

    fn hall(hall: &Hall, limit: &[u32]) -> Sets {
        let d = hall.divider;
        let lane = |width: i64| {
            stretch(hall.length, d, limit, &|length| {
                stretch(width, d, limit, &|cell_width| cell(hall, cell_width, length, limit))
            })
        };
        let lanes: BTreeMap<i64, Sets> = (1..=hall.width).map(|w| (w, lane(w))).collect();
        let columns: BTreeMap<i64, Sets> = (1..=hall.width)
            .map(|w| (w, stretch(w, d, limit, &|lane| lanes[&lane].clone())))
            .collect();
        fn split(
            columns: &BTreeMap<i64, Sets>,
            hall: &Hall,
            limit: &[u32],
            left: u32,
            width: i64,
        ) -> Sets {
            if left == 0 {
                return [vec![0; limit.len()]].into();
            }
            let mut sets = Sets::new();
            let most = hall.most_column.unwrap_or(width).min(width);
            for own in hall.least_column.max(1)..=most {
                let rest = split(columns, hall, limit, left - 1, width - own);
                sets.extend(join(&columns[&own], &rest, limit));
            }
            sets
        }
        split(&columns, hall, limit, hall.columns, hall.width)
    }

    /// The greatest value, or `None` if not every `must` copy can be placed.
    pub fn best(problem: &LaneProblem) -> Option<i64> {
        let limit: Vec<u32> = problem.classes.iter().map(|class| class.count).collect();
        let mut sets: Sets = [vec![0; limit.len()]].into();
        for row in &problem.halls {
            sets = join(&sets, &hall(row, &limit), &limit);
        }
        let complete = |placed: &&Vec<u32>| {
            let mut rows = problem.classes.iter().zip(placed.iter());
            rows.all(|(class, placed)| !class.must || *placed == class.count)
        };
        sets.iter().filter(complete).map(|placed| value_of(problem, placed)).max()
    }
}

fn tiny(numbers: &mut Numbers) -> LaneProblem {
    let classes: Vec<Class> = (0..numbers.from(1, 3))
        .map(|_| Class {
            count: numbers.from(1, 2) as u32,
            value: numbers.from(0, 9),
            must: numbers.below(4) == 0,
        })
        .collect();
    let halls = (0..numbers.from(1, 2))
        .map(|_| {
            let columns = numbers.from(1, 2) as u32;
            let mut shapes = Vec::new();
            for class in 0..classes.len() {
                for _ in 0..numbers.below(3) {
                    let (a, b) = (numbers.from(1, 4), numbers.from(1, 5));
                    let copies = if numbers.below(4) == 0 { 2 } else { 1 };
                    let form = if numbers.below(5) == 0 {
                        Form::Area { area: a * b, least: numbers.from(1, 2) }
                    } else {
                        Form::Fixed { width: a, length: b }
                    };
                    shapes.push(Shape { class, copies, form, spot: Spot::default() });
                }
            }
            Hall {
                divider: numbers.below(2),
                length: numbers.from(3, 6),
                width: numbers.from(3, 6),
                columns,
                least_column: numbers.from(1, 2),
                most_column: (numbers.below(4) == 0).then(|| numbers.from(3, 5)),
                shapes,
            }
        })
        .collect();
    LaneProblem { classes, halls }
}

#[test]
fn tiny_problems_agree_with_brute_force() {
    let mut numbers = Numbers(1);
    let (mut optimal, mut reached, mut solvable, mut infeasible) = (0, 0, 0, 0);
    for round in 0..400 {
        let problem = tiny(&mut numbers);
        let truth = brute::best(&problem);
        match (fill(&problem, &mut Budget::work(400_000)), truth) {
            (Outcome::Optimal { best, objective }, Some(truth)) => {
                check(&problem, &best)
                    .unwrap_or_else(|fault| panic!("{round}: {fault} {problem:?}"));
                assert_eq!(objective, truth, "{round}: {problem:?}");
                assert_eq!(objective, value_of(&problem, &best.placed));
                optimal += 1;
                reached += 1;
                solvable += 1;
            }
            (Outcome::Feasible { best, objective, bound, .. }, Some(truth)) => {
                check(&problem, &best)
                    .unwrap_or_else(|fault| panic!("{round}: {fault} {problem:?}"));
                assert_eq!(objective, value_of(&problem, &best.placed));
                assert!(bound >= truth, "{round}: bound {bound}, truth {truth}, {problem:?}");
                if best.is_complete() {
                    assert!(objective <= truth, "{round}");
                    reached += usize::from(objective == truth);
                }
                solvable += 1;
            }
            (Outcome::Infeasible(_), None) => infeasible += 1,
            (Outcome::Feasible { best, .. }, None) => {
                check(&problem, &best)
                    .unwrap_or_else(|fault| panic!("{round}: {fault} {problem:?}"));
                assert!(!best.is_complete(), "{round}: placed the impossible");
            }
            (outcome, truth) => panic!("{round}: {outcome:?} against {truth:?}, {problem:?}"),
        }
    }
    println!("optimal {optimal}, reached {reached} of {solvable}, proved infeasible {infeasible}");
    assert!(reached * 100 >= solvable * 97, "reached {reached} of {solvable}");
    assert!(optimal * 10 >= solvable * 5, "proved {optimal} of {solvable}");
    assert!(infeasible > 0, "the generator makes impossible problems too");
}

/// Gear of realistic sizes in 1/32 in for two halls of a full-size bed.
fn realistic(seed: u64, classes: usize, tightness: i64) -> LaneProblem {
    let mut numbers = Numbers(seed);
    let mut list = Vec::new();
    let mut halls: Vec<Hall> = [(2, 7 * 32), (3, 5 * 32)]
        .iter()
        .map(|(columns, _)| Hall {
            divider: 15,
            length: 71 * 32,
            width: 44 * 32 * tightness / 100,
            columns: *columns,
            least_column: 6 * 32,
            most_column: None,
            shapes: Vec::new(),
        })
        .collect();
    for class in 0..classes {
        let count = if numbers.below(3) == 0 { numbers.from(2, 4) } else { 1 };
        let value = numbers.from(1, 10);
        list.push(Class { count: count as u32, value, must: numbers.below(4) == 0 });
        let sides =
            [numbers.from(10, 96), numbers.from(10, 56), numbers.from(6, 26)].map(|q| q * 8);
        let turns = [[0, 1, 2], [1, 0, 2], [0, 2, 1], [2, 0, 1], [1, 2, 0], [2, 1, 0]];
        for (hall, clear) in halls.iter_mut().zip([7 * 32, 5 * 32]) {
            for turn in turns {
                let [width, length, height] = turn.map(|axis| sides[axis]);
                if height <= clear {
                    let form = Form::Fixed { width, length };
                    hall.shapes.push(Shape { class, copies: 1, form, spot: Spot::default() });
                }
            }
        }
    }
    // What fits nowhere need not.
    for (class, row) in list.iter_mut().enumerate() {
        row.must &= halls.iter().any(|hall| hall.shapes.iter().any(|shape| shape.class == class));
    }
    LaneProblem { classes: list, halls }
}

#[test]
fn realistic_fillings_are_sound_and_beat_shelves() {
    let (mut ours, mut plain, mut bounds) = (0, 0, 0);
    for seed in 0..12 {
        let problem = realistic(seed, 28, 60 + 5 * (seed as i64 % 5));
        let by_hand = shelves(&problem);
        check(&problem, &by_hand).expect("shelves are a filling");
        let outcome = fill(&problem, &mut Budget::work(2_000_000));
        let Outcome::Feasible { best, objective, bound, .. } = outcome else {
            let best = outcome.into_best().expect("nothing here is impossible");
            check(&problem, &best).expect("a filling");
            continue;
        };
        check(&problem, &best).expect("a filling");
        let missing = |filling: &Filling| filling.missing.iter().map(|(_, n)| *n).sum::<u32>();
        println!(
            "{seed}: {objective} of {bound} missing {:?}; shelves {} missing {:?}",
            best.missing,
            value_of(&problem, &by_hand.placed),
            by_hand.missing
        );
        assert!(missing(&best) <= missing(&by_hand));
        ours += objective;
        bounds += bound;
        plain += value_of(&problem, &by_hand.placed);
    }
    println!("ours {ours}, shelves {plain}, bound {bounds}");
    assert!(ours * 100 >= plain * 105, "{ours} against {plain}");
}

#[test]
fn the_same_problem_gives_the_same_filling() {
    let problem = realistic(3, 28, 70);
    let once = fill(&problem, &mut Budget::work(1_000_000));
    assert_eq!(once, fill(&problem, &mut Budget::work(1_000_000)));
}

/// With halls that may carry just what a filling puts in them, that filling is worth no more than the bound; with less, the bound
/// falls below that of halls that carry anything.
#[test]
fn what_halls_may_carry_bounds_what_is_in_them() {
    let mut numbers = Numbers(7);
    let mut lower = 0;
    for seed in 0..60 {
        let problem = realistic(seed, 20, 70);
        let copies: Vec<i64> = problem.classes.iter().map(|_| numbers.from(1, 40)).collect();
        let (Outcome::Optimal { best, .. } | Outcome::Feasible { best, .. }) =
            fill(&problem, &mut Budget::work(60_000))
        else {
            continue;
        };
        let cells = |hall: &FilledHall| -> Vec<Cell> {
            let lanes = hall.columns.iter().flat_map(|column| &column.lanes);
            lanes.flat_map(|lane| &lane.bays).flat_map(|bay| bay.cells.clone()).collect()
        };
        let load = |(hall, filled): (&Hall, &FilledHall)| -> i64 {
            let of = |cell: &Cell| copies[hall.shapes[cell.shape].class] * i64::from(cell.copies);
            cells(filled).iter().map(of).sum()
        };
        let carried: Vec<i64> = problem.halls.iter().zip(&best.halls).map(load).collect();
        let all = carried.iter().map(|load| Some(*load)).collect::<Vec<_>>();
        let bound_with = |most: &[Option<i64>]| {
            bound(&problem, Burden { copies: &copies, most }).expect("it has a filling")
        };
        if best.is_complete() {
            assert!(bound_with(&all) >= value_of(&problem, &best.placed), "{seed}");
        }
        let little: Vec<Option<i64>> = carried.iter().map(|load| Some(load / 3)).collect();
        lower += u32::from(bound_with(&little) < bound_with(&[]));
    }
    assert!(lower > 20, "{lower}");
}

#[test]
fn a_larger_hall_never_has_a_lower_bound() {
    for seed in 0..20 {
        let problem = realistic(seed, 20, 50);
        let bound = |problem: &LaneProblem| match fill(problem, &mut Budget::work(300_000)) {
            Outcome::Optimal { objective, .. } => objective,
            Outcome::Feasible { bound, .. } => bound,
            other => panic!("{other:?}"),
        };
        let before = bound(&problem);
        let mut wider = problem.clone();
        wider.halls[0].width += 1;
        assert!(bound(&wider) >= before);
        let mut longer = problem.clone();
        longer.halls[1].length += 1;
        assert!(bound(&longer) >= before);
    }
}

#[test]
fn order_does_not_matter_where_everything_fits() {
    let problem = realistic(5, 12, 100);
    let outcome = fill(&problem, &mut Budget::work(3_000_000));
    let mut turned = problem.clone();
    turned.classes.reverse();
    let last = turned.classes.len() - 1;
    for hall in &mut turned.halls {
        hall.shapes.reverse();
        for shape in &mut hall.shapes {
            shape.class = last - shape.class;
        }
    }
    turned.halls.reverse();
    let other = fill(&turned, &mut Budget::work(3_000_000));
    let (Outcome::Optimal { objective, .. }, Outcome::Optimal { objective: same, .. }) =
        (outcome, other)
    else {
        panic!("both are proved best");
    };
    assert_eq!(objective, same);
}

#[test]
fn the_impossible_is_named_with_its_least_shortfall() {
    let shape = |class, width, length| Shape {
        class,
        copies: 1,
        form: Form::Fixed { width, length },
        spot: Spot::default(),
    };
    let hall = Hall {
        divider: 2,
        length: 100,
        width: 50,
        columns: 2,
        least_column: 10,
        most_column: None,
        shapes: vec![shape(0, 20, 30), shape(1, 45, 20), shape(1, 20, 109)],
    };
    let must = |count| Class { count, value: 1, must: true };
    let mut problem = LaneProblem { classes: vec![must(1), must(1)], halls: vec![hall] };
    let reason = |problem: &LaneProblem| match fill(problem, &mut Budget::work(1000)) {
        Outcome::Infeasible(reason) => reason,
        other => panic!("{other:?}"),
    };
    // 45 in the 40 that the other column leaves, against 109 in 100.
    let expected =
        LaneReason::TooLarge { class: 1, hall: 0, shape: 1, short_width: 5, short_length: 0 };
    assert_eq!(reason(&problem), expected);
    problem.halls[0].shapes.truncate(1);
    assert_eq!(reason(&problem), LaneReason::NoShape { class: 1 });
    // (20 + 2) · (30 + 2) · 8 against (50 + 2 · 2) · (100 + 2).
    problem.classes = vec![must(8), Class { must: false, ..must(1) }];
    let expected =
        LaneReason::TooMuch { classes: vec![0], halls: vec![0], needed: 5632, available: 5508 };
    assert_eq!(reason(&problem), expected);
    problem.halls[0].least_column = 26;
    assert_eq!(reason(&problem), LaneReason::Columns { hall: 0, short_by: 2 });
}

#[test]
fn odd_input_is_survived() {
    let shape = |class, width, length| Shape {
        class,
        copies: 0,
        form: Form::Fixed { width, length },
        spot: Spot::default(),
    };
    let area = |area, least| Shape {
        class: 0,
        copies: 1,
        form: Form::Area { area, least },
        spot: Spot::default(),
    };
    let hall = |length, width, columns| Hall {
        divider: -3,
        length,
        width,
        columns,
        least_column: 0,
        most_column: Some(0),
        shapes: vec![shape(0, 1, 1), shape(9, 1, 1), shape(0, -1, 0), area(0, 0), area(-5, -5)],
    };
    let class = Class { count: 3, value: i64::MAX, must: false };
    let halls = vec![hall(0, 0, 0), hall(-5, 10, 1), hall(10, -5, 3), hall(i64::MAX, 9, 1)];
    let problem = LaneProblem { classes: vec![class, class], halls };
    fill(&problem, &mut Budget::work(10_000));
    fill(&LaneProblem::default(), &mut Budget::work(10));
}

#[test]
fn a_raised_flag_stops_the_search() {
    let problem = realistic(1, 60, 60);
    let cancel = Cancel::new();
    cancel.raise();
    let mut budget = Budget::work(u64::MAX).cancelled_by(&cancel);
    let outcome = fill(&problem, &mut budget);
    let Outcome::Feasible { best, stopped_by, .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!(stopped_by, Some(Stop::Cancelled));
    check(&problem, &best).expect("the best so far is a filling");
    assert!(budget.spent() < 1_000_000, "stopped within about a millisecond");
}
