//! Random jobs after published recipes, for measuring; run by hand.

use super::super::rng::Rng;
use super::*;

/// Class 1..=10: Berkey & Wang (1-6), Martello & Vigo (7-10), drawn anew.
pub(super) fn class(class: usize, n: usize, turn: bool, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 1000 + class as u64 * 100 + n as u64);
    let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
    let (bin, top) = match class {
        1 => (10, 10),
        2 => (30, 10),
        3 => (40, 35),
        4 => (100, 35),
        5 => (100, 100),
        6 => (300, 100),
        _ => (100, 0),
    };
    let parts = (0..n)
        .map(|_| {
            let (width, height) = if top > 0 {
                (between(1, top), between(1, top))
            } else {
                let main = class - 6;
                let roll = between(1, 10);
                let others: Vec<usize> = (1..=4).filter(|t| *t != main).collect();
                let kind = if roll <= 7 { main } else { others[(roll - 8) as usize] };
                match kind {
                    1 => (between(67, 100), between(1, 50)),
                    2 => (between(1, 50), between(67, 100)),
                    3 => (between(50, 100), between(50, 100)),
                    _ => (between(1, 50), between(1, 50)),
                }
            };
            SheetPart { width, height, count: 1, turn }
        })
        .collect();
    let sheets = vec![Sheet { width: bin, height: bin, price: 1, limit: None }];
    SheetProblem { kerf: 0, sheets, parts, keep: (1, 1) }
}

#[test]
#[ignore = "a measurement, not a check: run with --release -- --ignored --nocapture"]
fn bins_by_class() {
    let env =
        |name: &str, or: u64| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(or);
    let work = env("WORK", 20_000_000);
    let seeds = env("SEEDS", 2);
    let turn = env("TURN", 0) == 1;
    let only = env("CLASS", 0) as usize;
    let (mut all, mut all_lb, mut ms, mut spent) = (0, 0, 0, 0);
    for c in (1..=10).filter(|c| only == 0 || *c == only) {
        let (mut sum, mut lb, mut proved) = (0, 0, 0);
        let start = std::time::Instant::now();
        for n in [20, 40, 60, 80, 100] {
            for seed in 0..seeds {
                let mut budget = Budget::work(work);
                match cut_sheets(&class(c, n, turn, seed), &mut budget) {
                    Outcome::Optimal { objective, .. } => {
                        sum += objective;
                        lb += objective;
                        proved += 1;
                    }
                    Outcome::Feasible { objective, bound, .. } => {
                        sum += objective;
                        lb += bound;
                    }
                    _ => panic!("no plan"),
                }
                spent += budget.spent();
            }
        }
        let t = start.elapsed().as_millis();
        ms += t;
        println!("class {c}: {sum} bins, bound {lb}, proved {proved}, {t} ms");
        all += sum;
        all_lb += lb;
    }
    println!("all: {all} bins, bound {all_lb}, {ms} ms, work {spent}");
}
