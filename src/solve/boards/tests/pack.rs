//! Jobs that waste nothing, and the search for plans of them.

use super::*;
use crate::solve::boards::greedy::Rest;
use crate::solve::boards::pack::{Aim, pack};

/// Bars cut at random into `pieces` parts each, nothing lost.
fn planted(random: &mut Random, bars: i64, capacity: i64, pieces: i64, spread: i64) -> BarProblem {
    let mean = capacity / pieces;
    let mut lengths = Vec::new();
    for _ in 0..bars {
        let cut = (1..pieces).map(|_| random.range(mean - spread, mean + spread));
        let cut: Vec<i64> = cut.collect();
        lengths.push(capacity - cut.iter().sum::<i64>());
        lengths.extend(cut);
    }
    BarProblem {
        bars: vec![bar(capacity, 7)],
        parts: lengths.iter().map(|&length| BarPart { length, count: 1 }).collect(),
        ..BarProblem::default()
    }
}

#[test]
fn jobs_without_waste_are_proved() {
    let mut random = Random(11);
    for (bars, pieces) in [(5, 3), (20, 3), (60, 3), (20, 5), (40, 8)] {
        for _ in 0..3 {
            let problem = planted(&mut random, bars, 1000, pieces, 250 / pieces);
            match cut_bars(&problem, &mut Budget::work(30_000_000)) {
                Outcome::Optimal { best, objective } => {
                    assert_eq!((check(&problem, &best), objective), (7 * bars, 7 * bars));
                }
                other => panic!("{bars} bars of {pieces} are not proved: {other:?}"),
            }
        }
    }
}

/// Whatever weights it is given, what it returns is a plan.
#[test]
fn what_is_found_is_a_plan_whatever_the_weights() {
    let mut random = Random(12);
    let mut found = 0;
    for round in 0..200 {
        let problem = planted(&mut random, 4 + round % 5, 60, 3, 9);
        let model = Model::new(&problem).expect("parts that fit");
        let right = |p: &model::Piece| p.len;
        let wrong: Vec<i64> = model.pieces.iter().map(|_| random.range(0, 60)).collect();
        let lengths: Vec<i64> = model.pieces.iter().map(right).collect();
        for (weights, worth) in [(&lengths, 60), (&wrong, 120), (&wrong, 60)] {
            let rest = Rest::all(&model);
            let price = 7 * i128::from(4 + round % 5);
            let aim = Aim { weights, worth };
            let plan = pack(&model, &rest, &aim, price, 20_000, &mut budget());
            if let Some(plan) = plan {
                let plan = model.translate(&plan);
                assert_eq!(i128::from(check(&problem, &plan)), price);
                found += 1;
            }
        }
    }
    assert!(found > 150, "{found}");
}
