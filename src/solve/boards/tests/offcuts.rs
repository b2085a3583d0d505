//! Plans of equal price, progress, and being told to stop.

use super::*;
use crate::solve::budget::{Cancel, Stop};

/// 14 of parts on two bars of 10: full and 6 left over, rather than 2 and 4.
#[test]
fn one_long_offcut_rather_than_two_short_ones() {
    let problem = BarProblem {
        kerf: 0,
        keep: Some(3),
        bars: vec![bar(10, 1)],
        parts: parts(&[(4, 2), (3, 2)]),
    };
    let plan = cut_bars(&problem, &mut budget()).into_best().expect("a plan");
    let pattern =
        |counts: &[(usize, u32)]| BarPattern { bar: 0, repeat: 1, counts: counts.to_vec() };
    assert_eq!(plan.patterns, [pattern(&[(0, 1)]), pattern(&[(0, 1), (1, 2)])]);
}

/// The cut that parts the offcut from the parts takes a kerf: 6 less 1 is too short for 6.
#[test]
fn an_offcut_is_what_the_saw_leaves() {
    let of = |keep| BarProblem {
        kerf: 1,
        keep: Some(keep),
        bars: vec![bar(10, 1), bar(8, 1)],
        parts: parts(&[(4, 1)]),
    };
    let bar_of = |keep| {
        let plan = cut_bars(&of(keep), &mut budget()).into_best().expect("a plan");
        plan.patterns[0].bar
    };
    assert_eq!(bar_of(5), 0, "5 are kept of the long bar, 3 of the short one are not");
    assert_eq!(bar_of(6), 1, "nothing is kept of either, and less is used up of the short one");
}

#[test]
fn equal_bars_are_cut_alike() {
    let problem = BarProblem {
        bars: vec![bar(10, 1)],
        parts: parts(&[(6, 4), (4, 4)]),
        ..BarProblem::default()
    };
    let plan = cut_bars(&problem, &mut budget()).into_best().expect("a plan");
    assert_eq!(plan.patterns.len(), 1);
}

#[test]
fn progress_only_gets_better_and_ends_with_the_answer() {
    let mut random = Random(9);
    for _ in 0..20 {
        let problem = yard(&mut random);
        let mut seen: Vec<BarProgress> = Vec::new();
        let outcome = cut_bars_watched(&problem, &mut budget(), &mut |p| seen.push(p));
        for pair in seen.windows(2) {
            assert!(pair[1].bound >= pair[0].bound);
            assert!(
                pair[0].objective.is_none_or(|old| pair[1].objective.is_some_and(|p| p <= old))
            );
        }
        let last = seen.last().expect("something was found");
        let (objective, bound) = match outcome {
            Outcome::Optimal { objective, .. } => (objective, objective),
            Outcome::Feasible { objective, bound, .. } => (objective, bound),
            other => panic!("{other:?}"),
        };
        assert_eq!((last.objective, last.bound), (Some(objective), bound));
    }
}

/// What is done after the word to stop is a few thousand steps and one plain plan, whenever it comes.
#[test]
fn stops_soon() {
    let mut random = Random(10);
    let problem = BarProblem {
        bars: vec![bar(1000, 1)],
        parts: (0..200).map(|_| BarPart { length: random.range(1, 700), count: 1 }).collect(),
        ..BarProblem::default()
    };
    for work in [0, 10_000, 200_000, 1_000_000, 5_000_000] {
        let mut budget = Budget::work(work);
        let outcome = cut_bars(&problem, &mut budget);
        assert!(outcome.best().is_some());
        assert!(budget.spent() <= work + 100_000, "{} of {work}", budget.spent());
    }
    let cancel = Cancel::new();
    cancel.raise();
    let mut budget = Budget::work(u64::MAX).cancelled_by(&cancel);
    let outcome = cut_bars(&problem, &mut budget);
    assert!(outcome.best().is_some(), "a first plan all the same");
    assert_eq!(budget.stopped(), Some(Stop::Cancelled));
    assert!(budget.spent() <= 100_000, "{}", budget.spent());
}

/// What is at hand costs nothing and comes first; what is bought makes up for the rest.
#[test]
fn offcuts_on_hand_are_used_up_first() {
    let problem = BarProblem {
        kerf: 3,
        keep: Some(300),
        bars: vec![limited(1300, 0, 2), limited(2400, 0, 1), bar(2400, 900), bar(3600, 1250)],
        parts: parts(&[(1200, 2), (800, 4), (590, 2)]),
    };
    // The offcuts take 1200 each; 800, 800, 590 and two kerfs fill the bar on hand; one is bought.
    assert_eq!(optimum(&problem), 900);
}

/// Of what is at hand, none of which costs anything, an offcut goes before a whole bar, though more of that would be kept.
#[test]
fn an_offcut_goes_before_a_whole_bar() {
    let problem = BarProblem {
        kerf: 3,
        keep: Some(300),
        bars: vec![limited(2400, 0, 2), bar(2400, 900), limited(1000, 0, 1)],
        parts: parts(&[(900, 1)]),
    };
    let plan = cut_bars(&problem, &mut budget()).into_best().expect("a plan");
    assert_eq!(plan.patterns, [BarPattern { bar: 2, repeat: 1, counts: vec![(0, 1)] }]);
}

/// Jobs of more pieces than are looked through, some of each length: without making patterns alike these take 216.
#[test]
fn patterns_are_merged() {
    let mut random = Random(14);
    let (mut bars, mut patterns) = (0, 0);
    for _ in 0..40 {
        let mut list = || (random.range(20, 180) * 10, random.range(3, 20) as u32);
        let list: Vec<(i64, u32)> = (0..5).map(|_| list()).collect();
        let bars_of = vec![bar(2400, 310), bar(3600, 450)];
        let problem = BarProblem { kerf: 3, keep: None, bars: bars_of, parts: parts(&list) };
        let plan = cut_bars(&problem, &mut budget()).into_best().expect("a plan");
        bars += plan.patterns.iter().map(|p| p.repeat).sum::<u32>();
        patterns += plan.patterns.len();
    }
    println!("{patterns} patterns, {bars} bars");
    assert!(patterns <= 195, "{patterns} patterns");
}
