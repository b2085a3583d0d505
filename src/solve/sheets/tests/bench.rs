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

/// A sheet cut at random, edge to edge with a kerf of 3, into about `per` parts, which then lose
/// about `waste` thousandths of the area; some are cut alike so that sizes repeat.
fn cut_at_random(rng: &mut Rng, sheet: [i64; 2], per: usize, waste: i64) -> Vec<SheetPart> {
    let kerf = 3;
    let mut panels = vec![sheet];
    while panels.len() < per {
        let area = |p: &[i64; 2]| p[0] * p[1];
        panels.sort_by_key(area);
        let pick = panels.len() - 1 - rng.below(panels.len().min(3));
        let panel = panels.swap_remove(pick);
        let axis = if rng.below(10) < 7 { usize::from(panel[1] > panel[0]) } else { rng.below(2) };
        let ways = 2 + rng.below(3) as i64;
        let even = (panel[axis] - (ways - 1) * kerf) / ways;
        if even < 60 {
            panels.push(panel);
            continue;
        }
        // Two unequal parts, or several equal ones.
        let first = if ways == 2 || rng.below(2) == 0 {
            let least = panel[axis] / 5;
            vec![least + rng.below((panel[axis] - 2 * least) as usize) as i64]
        } else {
            vec![even; ways as usize - 1]
        };
        let mut left = panel[axis];
        for size in first {
            let mut part = panel;
            part[axis] = size;
            left -= size + kerf;
            panels.push(part);
        }
        let mut part = panel;
        part[axis] = left;
        panels.push(part);
    }
    let mut shrink = |panel: [i64; 2]| {
        let axis = rng.below(2);
        let mut size = panel;
        size[axis] -= panel[axis] * (rng.below(2 * waste as usize) as i64) / 1000;
        SheetPart { width: size[0], height: size[1], count: 1, turn: rng.below(3) == 0 }
    };
    panels.into_iter().map(&mut shrink).collect()
}

/// A chest's worth of parts that is known to come out of `sheets` sheets of 2440 x 1220.
pub(super) fn chest(sheets: usize, per: usize, waste: i64, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 77 + sheets as u64);
    let parts = (0..sheets).flat_map(|_| cut_at_random(&mut rng, [2440, 1220], per, waste));
    let parts = parts.collect();
    let sheets = vec![Sheet { width: 2440, height: 1220, price: 385_000, limit: None }];
    SheetProblem { kerf: 3, sheets, parts, keep: (300, 300) }
}

/// Parts cut out of sheets of several sizes and an offcut, and the price at which that was done.
pub(super) fn mixed(per: usize, waste: i64, seed: u64) -> (SheetProblem, i64) {
    let mut rng = Rng::new(seed * 91 + 5);
    let sheet = |width, height, price, limit| Sheet { width, height, price, limit };
    let sheets = vec![
        sheet(2440, 1220, 385_000, None),
        sheet(1525, 1525, 290_000, None),
        sheet(1220, 1220, 205_000, Some(2)),
        sheet(1100, 700, 0, Some(1)),
    ];
    let (mut parts, mut price) = (Vec::new(), 0);
    for s in [0, 0, 1 - rng.below(2), 1, 2, 3] {
        let s: &Sheet = &sheets[s];
        let share = s.width * s.height * per as i64 / (2440 * 1220);
        let share = usize::try_from(share).unwrap_or(0).max(2);
        parts.extend(cut_at_random(&mut rng, [s.width, s.height], share, waste));
        price += s.price;
    }
    (SheetProblem { kerf: 3, sheets, parts, keep: (300, 300) }, price)
}

#[test]
#[ignore = "a measurement, not a check: run with --release -- --ignored --nocapture"]
fn mixed_sizes() {
    let env =
        |name: &str, or: u64| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(or);
    let work = env("WORK", 20_000_000);
    for per in [8, 11] {
        for seed in 0..env("SEEDS", 4) {
            let (problem, known) = mixed(per, env("WASTE", 45) as i64, seed);
            let start = std::time::Instant::now();
            let outcome = cut_sheets(&problem, &mut Budget::work(work));
            let (price, bound) = match outcome {
                Outcome::Optimal { objective, .. } => (objective, objective),
                Outcome::Feasible { objective, bound, .. } => (objective, bound),
                _ => (0, 0),
            };
            let (over, ms) = ((price as f64 / known as f64 - 1.0) * 100.0, start.elapsed());
            println!(
                "{} parts: {price} against {known} ({over:+.1} %), bound {bound}, {} ms",
                problem.parts.len(),
                ms.as_millis()
            );
        }
    }
}

#[test]
#[ignore = "a measurement, not a check: run with --release -- --ignored --nocapture"]
fn chests() {
    let env =
        |name: &str, or: u64| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(or);
    let work = env("WORK", 20_000_000);
    let waste = env("WASTE", 45) as i64;
    let (mut over, mut jobs) = (0, 0);
    let mut all = Vec::new();
    for sheets in 4..=6 {
        for per in [8, 10, 13] {
            for seed in 0..env("SEEDS", 3) {
                let problem = chest(sheets, per, waste, seed);
                let area: i64 = problem.parts.iter().map(|p| p.width * p.height).sum();
                let start = std::time::Instant::now();
                let mut budget = Budget::work(work);
                let outcome = cut_sheets(&problem, &mut budget);
                let used = outcome.best().map_or(0, |b| b.sheets.len());
                all.push((start.elapsed().as_millis(), budget.spent()));
                over += used - sheets;
                jobs += 1;
                println!(
                    "{sheets} sheets, {} parts, yield {:.1}%: {used} in {} ms",
                    problem.parts.len(),
                    area as f64 / (2440.0 * 1220.0 * sheets as f64) * 100.0,
                    start.elapsed().as_millis()
                );
            }
        }
    }
    println!("{jobs} jobs, {over} sheets over, {} ms", all.iter().map(|a| a.0).sum::<u128>());
}
