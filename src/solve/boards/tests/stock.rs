//! Kerf, limits, reasons.

use super::*;

/// n pieces fit if `n w + (n - 1) k <= L`: 2400 holds eight of 300 without kerf, seven with 3.
#[test]
fn kerf_lies_between_pieces() {
    for (kerf, count, bars) in [(0, 8, 1), (3, 7, 1), (3, 8, 2)] {
        let problem = BarProblem {
            kerf,
            keep: None,
            bars: vec![bar(2400, 1)],
            parts: parts(&[(300, count)]),
        };
        assert_eq!(optimum(&problem), bars);
    }
    let whole =
        BarProblem { kerf: 7, keep: None, bars: vec![bar(2400, 1)], parts: parts(&[(2400, 2)]) };
    assert_eq!(optimum(&whole), 2, "a part of the bar's own length needs no cut");
}

#[test]
fn what_is_on_hand_goes_first() {
    let problem = BarProblem {
        kerf: 0,
        keep: None,
        bars: vec![bar(10, 7), limited(6, 0, 1)],
        parts: parts(&[(5, 3)]),
    };
    let outcome = cut_bars(&problem, &mut budget());
    let plan = outcome.best().expect("a plan");
    assert_eq!(check(&problem, plan), 7);
    assert!(plan.patterns.iter().any(|p| p.bar == 1), "the free bar is used");
}

#[test]
fn a_part_that_is_too_long_is_named() {
    let problem = BarProblem {
        kerf: 3,
        keep: None,
        bars: vec![bar(100, 1), limited(900, 1, 0)],
        parts: parts(&[(99, 1), (130, 2), (101, 1)]),
    };
    let outcome = cut_bars(&problem, &mut budget());
    assert_eq!(outcome, Outcome::Infeasible(BarReason::PartTooLong { part: 1, by: 30 }));
}

#[test]
fn too_little_stock_is_proved() {
    let problem = BarProblem {
        kerf: 0,
        keep: None,
        bars: vec![limited(10, 3, 2), limited(8, 2, 1)],
        parts: parts(&[(4, 7)]),
    };
    let outcome = cut_bars(&problem, &mut budget());
    assert_eq!(outcome, Outcome::Infeasible(BarReason::OutOfStock { part: 0, missing: 1 }));
}

#[test]
fn nothing_to_cut_costs_nothing() {
    let empty = BarProblem { kerf: 3, keep: None, bars: vec![], parts: parts(&[(50, 0), (0, 4)]) };
    let outcome = cut_bars(&empty, &mut budget());
    assert_eq!(outcome, Outcome::Optimal { best: BarPlan::default(), objective: 0 });
}

#[test]
fn odd_numbers_do_not_panic() {
    let extremes = [i64::MIN, -1, 0, 1, 7, i64::MAX / 2, i64::MAX];
    for length in extremes {
        for part in extremes {
            for count in [1, u32::MAX] {
                let problem = BarProblem {
                    kerf: length,
                    keep: None,
                    bars: vec![bar(length, part), bar(part, length), limited(part, 1, 3)],
                    parts: parts(&[(part, count), (length, 3), (5, count)]),
                };
                let _ = cut_bars(&problem, &mut Budget::work(100_000));
            }
        }
    }
}
