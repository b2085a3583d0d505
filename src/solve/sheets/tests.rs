//! Tests of the whole engine: published cases, brute force on tiny jobs, relations between jobs;
//! every plan is taken apart by [`replay`].

use super::*;

mod columns;
/// The recipes that the bench of `cut` measures by.
#[path = "../../../tests/bench/draws/sheets.rs"]
#[allow(dead_code)]
pub(super) mod draws;
mod edged;
mod exact;
mod relations;
mod replay;
mod rests;
mod staged;
mod ties;

use super::rng::Rng;
use replay::replay;

/// Solves, replays, and gives price and proof.
fn solve(problem: &SheetProblem, work: u64) -> (i64, i64, SheetPlan) {
    let (plan, price, bound) = match cut_sheets(problem, &mut Budget::work(work)) {
        Outcome::Optimal { best, objective } => (best, objective, objective),
        Outcome::Feasible { best, objective, bound, .. } => (best, objective, bound),
        other => panic!("{other:?} for {problem:?}"),
    };
    assert_eq!(replay(problem, &plan), Ok(()), "{problem:?}");
    let sum: i64 = plan.sheets.iter().map(|s| problem.sheets[s.sheet].price).sum();
    assert_eq!(sum, price);
    assert!(bound <= price);
    (price, bound, plan)
}

/// `5x9, 4x2` as parts, one each.
fn parts(text: &str, turn: bool) -> Vec<SheetPart> {
    let side = |s: &str| s.trim().parse().expect("a number");
    text.split(',')
        .map(|p| p.split_once('x').expect("width x height"))
        .map(|(w, h)| SheetPart { width: side(w), height: side(h), count: 1, turn })
        .collect()
}

/// Four instances of twenty items: classes 1 and 3 of Berkey & Wang (J. Oper. Res. Soc. 38, 1987),
/// classes 7 and 8 of Martello & Vigo (Manag. Sci. 44, 1998), with the published optima, oriented
/// and turnable. Their lower sides hold without the guillotine rule too; their upper sides were
/// recomputed as three-stage layouts.
const PUBLISHED: [(i64, &str, i64, i64); 4] = [
    (
        10,
        "5x9,4x2,10x6,5x7,6x3,10x7,1x5,3x5,6x9,2x4,6x7,7x2,8x3,4x10,4x5,10x3,8x3,7x8,8x3,8x7",
        8,
        7,
    ),
    (
        40,
        "27x34,19x18,11x4,34x35,26x26,7x7,7x21,35x19,5x29,17x27,11x31,5x2,30x17,24x27,7x28,9x27,\
         4x9,11x4,26x21,21x9",
        7,
        7,
    ),
    (
        100,
        "73x20,84x31,77x37,78x55,84x31,71x33,93x4,76x13,54x53,2x98,82x33,65x82,97x39,70x21,79x23,\
         26x74,47x35,82x8,76x75,99x55",
        7,
        6,
    ),
    (
        100,
        "46x99,8x78,9x46,41x99,25x80,3x88,44x83,42x79,15x7,9x71,90x66,4x66,18x68,26x97,48x79,\
         27x96,32x74,6x97,18x89,12x100",
        6,
        5,
    ),
];

#[test]
fn published_bin_counts_are_reached_and_proved() {
    for (side, text, oriented, turned) in PUBLISHED {
        for (turn, bins) in [(false, oriented), (true, turned)] {
            let sheets = vec![Sheet { width: side, height: side, price: 1, limit: None }];
            let problem = SheetProblem {
                kerf: 0,
                sheets,
                parts: parts(text, turn),
                keep: (1, 1),
                stages: Stages::ANY,
            };
            let (price, bound, _) = solve(&problem, 20_000_000);
            assert_eq!((price, bound), (bins, bins), "side {side}, turn {turn}");
        }
    }
}

#[test]
fn kerf_counts_between_pieces_and_not_at_the_end() {
    // n*w + (n-1)*k <= L: 2400 holds 8 strips of 300 without kerf, 7 with a kerf of 3.
    for (kerf, strips) in [(0, 8), (3, 7)] {
        for n in [strips, strips + 1] {
            let problem = SheetProblem {
                kerf,
                sheets: vec![Sheet { width: 2400, height: 100, price: 5, limit: None }],
                parts: vec![SheetPart { width: 300, height: 100, count: n, turn: false }],
                keep: (10, 10),
                stages: Stages::ANY,
            };
            let sheets = if n == strips { 1 } else { 2 };
            assert_eq!(solve(&problem, 100_000).0, 5 * sheets, "kerf {kerf}, {n} strips");
        }
    }
}

#[test]
fn reasons_name_the_part_and_what_is_missing() {
    let sheet = |width, height, limit| Sheet { width, height, price: 1, limit };
    let part = |width, height, count, turn| SheetPart { width, height, count, turn };
    let ask = |sheets, parts| {
        let problem = SheetProblem { kerf: 2, sheets, parts, keep: (1, 1), stages: Stages::ANY };
        cut_sheets(&problem, &mut Budget::work(10_000))
    };
    let small = part(5, 5, 1, false);
    let too_large = |part, by| Outcome::Infeasible(SheetReason::PartTooLarge { part, by });
    let stock = vec![sheet(100, 50, None), sheet(90, 60, None)];
    assert_eq!(ask(stock.clone(), vec![small.clone(), part(40, 63, 1, false)]), too_large(1, 3));
    assert!(ask(stock.clone(), vec![part(40, 63, 1, true)]).is_optimal());
    assert_eq!(ask(stock, vec![part(104, 20, 2, true)]), too_large(0, 4));
    assert_eq!(ask(vec![], vec![part(7, 9, 1, true)]), too_large(0, 9));
    assert_eq!(ask(vec![sheet(20, 20, Some(0))], vec![small.clone()]), too_large(0, 5));
    // Grown by the kerf of 2: three parts of 12 x 12 take 432, one sheet of 18 x 18 has 400.
    let few = ask(vec![sheet(18, 18, Some(1))], vec![part(10, 10, 3, false)]);
    assert_eq!(few, Outcome::Infeasible(SheetReason::OutOfStock { area: 3 * 144 - 400 }));
    let odd = ask(vec![sheet(9, 9, None)], vec![small.clone(), part(0, 4, 1, false)]);
    assert_eq!(odd, Outcome::Infeasible(SheetReason::BadSize { part: 1 }));
    let many = ask(vec![sheet(9, 9, None)], vec![part(5, 5, 1_000_000, false)]);
    assert_eq!(many, Outcome::Infeasible(SheetReason::TooMany { count: 1_000_000 }));
    assert!(ask(vec![], vec![part(5, 5, 0, false)]).best().is_some_and(|p| p.sheets.is_empty()));
}

#[test]
fn rests_are_gathered_into_one_large_piece() {
    // Half of the sheet's area is left beside the parts; in one piece it is worth most. With kerf,
    // the strip of parts takes 4 * 25 + 3 * 2 = 106 of the length, and a last cut.
    let part = |width, height, count| SheetPart { width, height, count, turn: true };
    for (kerf, height, rest) in [(0, 100, 5000), (2, 106, 106 * 48)] {
        let problem = SheetProblem {
            kerf,
            sheets: vec![Sheet { width: 100, height, price: 3, limit: None }],
            parts: vec![part(50, 25, 2), part(25, 50, 2)],
            keep: (20, 20),
            stages: Stages::ANY,
        };
        let (price, _, plan) = solve(&problem, 300_000);
        assert_eq!(price, 3);
        let rests: Vec<i64> = plan.sheets[0].rests.iter().map(|r| r.dx * r.dy).collect();
        assert_eq!(rests, [rest], "kerf {kerf}: {plan:?}");
    }
}

#[test]
fn many_sheets_are_filled_nearly_whole() {
    // Cut out of sixteen sheets beforehand with about 6 % lost; insertion alone takes eighteen.
    let problem = draws::chest(16, 12, 60, 1);
    let (_, bound, plan) = solve(&problem, 8_000_000);
    let least = bound / problem.sheets[0].price;
    assert!(plan.sheets.len() as i64 <= least + 1, "{} for {least}", plan.sheets.len());
}

/// Cabinets of many sheets, which are filled two lines at a time and a few of them anew.
#[test]
fn many_sheets_are_the_same_on_any_number_of_threads() {
    let problem = draws::cabinets(200, 1);
    let on = |threads| cut_sheets_on(&problem, threads, &mut Budget::work(12_000_000));
    let (one, two) = (on(1), on(2));
    assert_eq!(one, two);
    let plan = one.best().expect("a plan");
    assert_eq!(replay(&problem, plan), Ok(()));
    assert!(plan.sheets.len() > walk::MANY, "{}", plan.sheets.len());
}

#[test]
fn sheets_that_are_nearly_full_are_found() {
    // Jobs cut out of four sheets beforehand, with 4 to 6 % waste, so that four must do; a few
    // are proved so by area alone.
    for seed in [0, 1, 3, 5] {
        let problem = draws::chest(4, 8, 60, seed);
        let (price, bound, plan) = solve(&problem, 12_000_000);
        assert_eq!((plan.sheets.len(), price), (4, bound), "seed {seed}");
    }
}

#[test]
fn every_better_price_and_bound_is_told() {
    let problem = draws::class(5, 40, false, 3);
    let mut told = Vec::new();
    let mut budget = Budget::work(20_000_000);
    let found =
        cut_sheets_watched(&problem, &Edges::default(), 1, &mut budget, &mut |now| told.push(now));
    let Outcome::Optimal { objective, .. } = found else { panic!("{found:?}") };
    let (first, last) = (told[0], told[told.len() - 1]);
    assert!(first.objective.is_some_and(|price| price >= objective) && first.bound == 0);
    assert_eq!(last, SheetProgress { objective: Some(objective), bound: objective });
    for pair in told.windows(2) {
        let (was, is) = (pair[0], pair[1]);
        assert!(is != was && is.bound >= was.bound && is.objective <= was.objective, "{told:?}");
    }
}

#[test]
fn a_bound_over_dozens_of_offcuts_is_counted_work() {
    let mut problem = draws::chest(2, 15, 50, 1);
    let offcut = |i: i64| Sheet {
        width: 500 + 37 * i,
        height: 1220 - 11 * i,
        price: 1000 * i,
        limit: Some(1),
    };
    problem.sheets.extend((0..40).map(offcut));
    let job = job::Job::new(&problem, &Edges::default()).expect("it is one");
    assert!(job.sheets.len() > 30);
    let mut budget = Budget::work(u64::MAX);
    let bound = bound::least_price(&job, 1_500_000, &mut budget);
    let spent = budget.spent();
    assert!(bound > 0 && (500_000..10_000_000).contains(&spent), "{bound} by {spent} steps");
}
