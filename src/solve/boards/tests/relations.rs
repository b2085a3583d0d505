//! Relations between problems.

use super::*;

#[test]
fn order_and_grouping_of_parts_change_no_cost() {
    let mut random = Random(2);
    for _ in 0..30 {
        let problem = yard(&mut random);
        let before = solve(&problem);
        let mut shuffled = problem.clone();
        shuffled.parts.reverse();
        shuffled.bars.reverse();
        let most = shuffled.parts.iter().position(|p| p.count > 1).unwrap_or(0);
        let split = shuffled.parts[most].count / 2;
        shuffled.parts[most].count -= split;
        let length = shuffled.parts[most].length;
        shuffled.parts.push(BarPart { length, count: split });
        assert_eq!(solve(&shuffled), before, "{problem:?}");
    }
}

#[test]
fn scale_changes_nothing() {
    let mut random = Random(3);
    for _ in 0..40 {
        let problem = yard(&mut random);
        let mut scaled = problem.clone();
        scaled.kerf *= 80_000;
        scaled.bars.iter_mut().for_each(|b| b.length *= 80_000);
        scaled.parts.iter_mut().for_each(|p| p.length *= 80_000);
        let plan = |p| cut_bars(p, &mut budget()).into_best();
        assert_eq!(plan(&scaled), plan(&problem));
    }
}

#[test]
fn more_kerf_is_never_cheaper_and_a_new_length_never_dearer() {
    let mut random = Random(4);
    for _ in 0..40 {
        let problem = yard(&mut random);
        let (cost, bound) = solve(&problem);
        let mut wider = problem.clone();
        wider.kerf += random.range(1, 10);
        if wider.parts.iter().all(|p| p.length <= wider.bars[0].length) {
            assert!(solve(&wider).0 >= bound, "{problem:?}");
        }
        let mut richer = problem.clone();
        let length = random.range(1500, 4000);
        richer.bars.push(bar(length, length * 2));
        assert!(solve(&richer).1 <= cost, "{problem:?}");
    }
}

#[test]
fn the_same_twice_is_the_same() {
    let mut random = Random(5);
    for _ in 0..10 {
        let problem = yard(&mut random);
        let run = || cut_bars(&problem, &mut Budget::work(20_000));
        assert_eq!(run(), run());
    }
}

#[test]
fn a_small_budget_still_answers() {
    let mut random = Random(6);
    for _ in 0..20 {
        let problem = yard(&mut random);
        let (best, _) = solve(&problem);
        for work in [0, 100, 10_000] {
            match cut_bars(&problem, &mut Budget::work(work)) {
                Outcome::Optimal { objective, .. } => assert_eq!(objective, best),
                Outcome::Feasible { best: plan, objective, bound, .. } => {
                    assert_eq!(check(&problem, &plan), objective);
                    assert!(bound <= best && best <= objective);
                }
                other => panic!("{other:?}"),
            }
        }
    }
}
