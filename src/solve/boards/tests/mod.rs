//! Brute force, published instances, relations, jobs without waste, and an LP that lies.

mod brute;
mod offcuts;
mod pack;
mod published;
mod relations;
mod spoiled;
mod stock;

pub(super) use super::*;

/// A small deterministic generator (SplitMix64: Steele, Lea & Flood, OOPSLA 2014).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number in `low..=high`.
    fn range(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % u64::try_from(high - low + 1).expect("low <= high")) as i64
    }
}

fn budget() -> Budget {
    Budget::work(1_500_000)
}

fn bar(length: i64, price: i64) -> Bar {
    Bar { length, price, limit: None }
}

fn limited(length: i64, price: i64, limit: u32) -> Bar {
    Bar { length, price, limit: Some(limit) }
}

fn parts(list: &[(i64, u32)]) -> Vec<BarPart> {
    list.iter().map(|&(length, count)| BarPart { length, count }).collect()
}

/// One bar of price 1 and parts written as `size` or `sizexcount`.
fn one_length(capacity: i64, list: &str) -> BarProblem {
    let parts = list
        .split_whitespace()
        .map(|word| {
            let (length, count) = word.split_once('x').unwrap_or((word, "1"));
            let length = length.parse().expect("a size");
            BarPart { length, count: count.parse().expect("a count") }
        })
        .collect();
    BarProblem { bars: vec![bar(capacity, 1)], parts, ..BarProblem::default() }
}

/// Checks a plan against the problem alone, in the true lengths, and returns its price.
fn check(problem: &BarProblem, plan: &BarPlan) -> i64 {
    let cut = check_part(problem, plan);
    for (i, part) in problem.parts.iter().enumerate() {
        assert_eq!(cut[i], part.count, "part {i}");
    }
    let price = |p: &BarPattern| problem.bars[p.bar].price * i64::from(p.repeat);
    plan.patterns.iter().map(price).sum()
}

/// Checks a plan that may leave parts, and returns how many of each it cuts.
fn check_part(problem: &BarProblem, plan: &BarPlan) -> Vec<u32> {
    let mut cut = vec![0u32; problem.parts.len()];
    let mut used = vec![0u32; problem.bars.len()];
    for p in &plan.patterns {
        let bar = problem.bars[p.bar];
        assert!(p.repeat > 0 && !p.counts.is_empty());
        assert!(p.counts.is_sorted_by(|a, b| a.0 < b.0), "parts ascend: {p:?}");
        let pieces: i64 = p.counts.iter().map(|&(_, n)| i64::from(n)).sum();
        let length: i64 =
            p.counts.iter().map(|&(i, n)| problem.parts[i].length * i64::from(n)).sum();
        assert!(length + (pieces - 1) * problem.kerf <= bar.length, "{p:?} does not fit");
        for &(i, n) in &p.counts {
            assert!(n > 0);
            cut[i] += n * p.repeat;
        }
        used[p.bar] += p.repeat;
    }
    assert!(plan.patterns.is_sorted_by(|a, b| a < b), "patterns ascend and differ");
    for (i, part) in problem.parts.iter().enumerate() {
        assert!(cut[i] <= part.count, "part {i}");
    }
    for (bar, &n) in problem.bars.iter().zip(&used) {
        assert!(bar.limit.is_none_or(|limit| n <= limit), "{n} of {bar:?}");
    }
    cut
}

/// Checks an outcome's plan and figures; returns objective and bound.
fn solve(problem: &BarProblem) -> (i64, i64) {
    match cut_bars(problem, &mut budget()) {
        Outcome::Optimal { best, objective } => {
            assert_eq!(check(problem, &best), objective);
            (objective, objective)
        }
        Outcome::Feasible { best, objective, bound, .. } => {
            assert_eq!(check(problem, &best), objective);
            assert!(bound < objective);
            (objective, bound)
        }
        other => panic!("no plan for {problem:?}: {other:?}"),
    }
}

fn optimum(problem: &BarProblem) -> i64 {
    let (objective, bound) = solve(problem);
    assert_eq!(objective, bound, "not proved best: {problem:?}");
    objective
}

/// Any small problem.
fn tiny(random: &mut Random) -> BarProblem {
    let longest = random.range(4, 30);
    let bars = (0..random.range(1, 3))
        .map(|_| Bar {
            length: random.range(2, longest),
            price: random.range(0, 12),
            limit: (random.range(0, 2) == 0).then(|| random.range(0, 3) as u32),
        })
        .collect();
    let kinds = random.range(1, 4);
    let parts = (0..kinds)
        .map(|_| BarPart {
            length: random.range(1, longest.min(15)),
            count: random.range(0, 3) as u32,
        })
        .collect();
    BarProblem { kerf: random.range(0, 2), keep: None, bars, parts }
}

/// Mid-sized problems as they come from a lumber yard, in whole units.
fn yard(random: &mut Random) -> BarProblem {
    let unit = random.range(1, 3) * 100;
    let bars = (4..=random.range(4, 6))
        .map(|n| bar(n * 6 * unit, n * random.range(95, 105) * 10))
        .collect();
    let parts = (0..random.range(4, 10))
        .map(|_| BarPart {
            length: random.range(2 * unit, 23 * unit),
            count: random.range(1, 5) as u32,
        })
        .collect();
    BarProblem { kerf: random.range(0, unit / 20), keep: None, bars, parts }
}
