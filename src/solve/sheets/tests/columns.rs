//! The column generation against brute force, and what it adds to the whole.

use super::super::bound;
use super::super::columns::Columns;
use super::super::job::Job;
use super::super::pricing::Pricer;
use super::exact::{least_price, tiny};
use super::*;

/// Whole sheets cost more than their rates say, and no more than the least price.
#[test]
fn bounds_of_whole_sheets_hold_for_mixed_stock() {
    let by_functions = |problem: &SheetProblem| {
        let job = Job::new(problem, &Edges::default()).expect("it can be done");
        (bound::least_price(&job, 20_000, &mut Budget::work(0)), job.sheets.len())
    };
    let (mut met, mut mixed) = (0, 0);
    for (problem, truth) in solvable(24, 1500) {
        let (bound, sizes) = by_functions(&problem);
        assert!(bound <= truth, "{bound} above {truth}: {problem:?}");
        mixed += usize::from(sizes > 1);
        met += usize::from(sizes > 1 && bound == truth);
    }
    assert!(mixed > 300 && met * 10 > mixed * 6, "{met} of {mixed} bounds met the price");
    // At 10 for 100 the parts' 130 cost 13, and some sheets cost 14; but two of 60 hold no more than 120.
    let sheet = |width, price| Sheet { width, height: 10, price, limit: None };
    let problem = SheetProblem {
        kerf: 0,
        sheets: vec![sheet(10, 10), sheet(6, 7)],
        parts: vec![SheetPart { width: 1, height: 2, count: 65, turn: true }],
        keep: (1, 1),
        stages: Stages::ANY,
    };
    assert_eq!((by_functions(&problem).0, solve(&problem, 100_000).0), (17, 17));
}

/// Jobs that can be done, with their least price.
fn solvable(seed: u64, count: usize) -> impl Iterator<Item = (SheetProblem, i64)> {
    let mut rng = Rng::new(seed);
    let all = std::iter::repeat_with(move || tiny(&mut rng)).take(count);
    all.filter_map(|p| least_price(&p).map(|truth| (p, truth)))
}

#[test]
fn no_bound_is_above_the_least_price() {
    let (mut proved, mut all) = (0, 0);
    for (problem, truth) in solvable(21, 800) {
        let Ok(job) = Job::new(&problem, &Edges::default()) else {
            panic!("solvable: {problem:?}")
        };
        let Some(mut columns) = Columns::new(&job, job.items) else { continue };
        for price in [truth, truth + 1] {
            let bound = columns.bound(price, &mut Budget::work(400_000));
            assert!(bound <= truth, "{bound} above {truth}: {problem:?}");
            all += 1;
            proved += i32::from(bound == truth);
        }
    }
    assert!(all > 400 && proved * 10 > all * 7, "{proved} of {all} bounds met the price");
}

/// Bounds by functions made to measure are never above the least price, whatever the library says, and often above those by
/// the standard ones.
#[test]
fn functions_made_to_measure_hold() {
    use crate::solve::lp::spoil::{Spoil, set};
    let by_slices =
        |job: &Job, known| bound::least_by_slices(job, known, 1, &mut Budget::work(400_000));
    let (mut met, mut all) = (0, 0);
    for (problem, truth) in solvable(26, 1500) {
        let Ok(job) = Job::new(&problem, &Edges::default()) else {
            panic!("solvable: {problem:?}")
        };
        for how in Spoil::ALL {
            set(how);
            let found = by_slices(&job, truth - 1);
            set(Spoil::Nothing);
            let Some((bound, _)) = found else { continue };
            assert!(bound <= truth, "{how:?}: {bound} above {truth}: {problem:?}");
            all += i32::from(how == Spoil::Nothing);
            met += i32::from(how == Spoil::Nothing && bound == truth);
        }
    }
    assert!(all > 200 && met * 10 > all * 6, "{met} of {all} bounds met the price");
    let mut higher = 0;
    for class in 1..=10 {
        let problem = draws::class(class, 40, false, 1);
        let job = Job::new(&problem, &Edges::default()).expect("it can be done");
        let standard = bound::least_price(&job, 200_000, &mut Budget::work(u64::MAX));
        higher += i32::from(by_slices(&job, standard).is_some_and(|(bound, _)| bound > standard));
    }
    assert!(higher > 1, "{higher}");
}

/// The library answers wrongly, fails or claims there is nothing: the bound may be lower, and never above the truth.
#[test]
fn a_spoiled_library_costs_no_truth() {
    use crate::solve::lp::spoil::{Spoil, set};
    let (mut tight, mut all) = ([0; 2], 0);
    for (problem, truth) in solvable(25, 400) {
        let Ok(job) = Job::new(&problem, &Edges::default()) else {
            panic!("solvable: {problem:?}")
        };
        all += 1;
        for how in Spoil::ALL {
            let Some(mut columns) = Columns::new(&job, job.items) else { continue };
            set(how);
            let bound = columns.bound(truth, &mut Budget::work(100_000));
            let fixed = columns.dive(truth, &mut Rng::new(1), &mut Budget::work(100_000));
            set(Spoil::Nothing);
            assert!(bound <= truth, "{how:?}: {bound} above {truth}: {problem:?}");
            for (sheet, set) in fixed {
                assert!(columns.pricer(sheet).cut(&set).is_some(), "{how:?}: {problem:?}");
            }
            tight[usize::from(how != Spoil::Nothing)] += i32::from(bound == truth);
        }
    }
    assert!(tight[0] * 3 > all && tight[1] > all, "{tight:?} of {all}");
}

#[test]
fn the_best_set_is_what_brute_force_finds() {
    // A set can be cut from one sheet if brute force needs one sheet for it.
    let (mut rng, mut several) = (Rng::new(22), 0);
    for (mut problem, _) in solvable(23, 300) {
        problem.sheets.truncate(1);
        problem.sheets[0] = Sheet { price: 1, limit: Some(1), ..problem.sheets[0].clone() };
        for part in &mut problem.parts {
            part.count = 1;
        }
        let Ok(job) = Job::new(&problem, &Edges::default()) else { continue };
        let n = job.kinds.len();
        let values: Vec<i64> = (0..n).map(|_| 1 + rng.below(50) as i64).collect();
        let mut truth = 0;
        for mask in 1u32..1 << n {
            let mut some = SheetProblem { parts: Vec::new(), ..problem.clone() };
            let mut worth = 0;
            for k in (0..n).filter(|k| mask >> k & 1 == 1) {
                let kind = &job.kinds[k];
                let part = SheetPart { count: 1, ..problem.parts[kind.sources[0].0].clone() };
                some.parts.extend(std::iter::repeat_n(part, kind.count as usize));
                worth += values[k] * i64::from(kind.count);
            }
            if least_price(&some).is_some() {
                truth = truth.max(worth);
            }
        }
        // Kinds of which there are two or more may be taken singly: only compare where none is.
        if job.kinds.iter().any(|k| k.count > 1) {
            continue;
        }
        let counts = vec![1; n];
        let budget = &mut Budget::work(1 << 20);
        let priced = Pricer::new(&job, 0).price(&values, &counts, 0, n, budget, 1 << 20, 1 << 20);
        let best = priced.sets.iter().max().expect("a part that fits");
        assert_eq!((best.0, priced.cap), (truth, truth), "{problem:?}, {values:?}");
        several += usize::from(best.1.len() > 1);
    }
    assert!(several > 60, "{several}");
}

#[test]
fn what_functions_leave_open_is_proved_by_columns() {
    // By dual feasible functions 4 and 12 sheets.
    for (class, n, seed, sheets) in [(7, 20, 0, 5), (5, 40, 1, 12)] {
        let problem = draws::class(class, n, false, seed);
        assert_eq!(solve(&problem, 30_000_000).0, sheets);
        assert_eq!(solve(&problem, 30_000_000).1, sheets, "class {class}, {n} parts");
    }
}

#[test]
fn threads_change_nothing() {
    for (class, n, seed) in [(7, 40, 0), (3, 40, 0), (8, 60, 1), (10, 100, 1)] {
        let problem = draws::class(class, n, seed == 0, seed);
        let on = |threads| cut_sheets_on(&problem, threads, &mut Budget::work(12_000_000));
        assert_eq!(on(1), on(2), "class {class}, {n} parts");
    }
}
