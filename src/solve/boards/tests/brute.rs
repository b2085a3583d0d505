//! Agreement with trying everything.

use std::collections::BTreeMap;

use super::*;

/// Least cost by trying every content of the bar that holds the first part left, with a memo.
pub(super) struct Brute<'a> {
    problem: &'a BarProblem,
    /// What leaving one of each part costs; `None` if none may be left.
    leave: Option<&'a [i64]>,
    memo: Memo,
}

/// (Price or worth left, length of the bars that cost nothing, length lost).
type Sums = (i64, i64, i64);
type Memo = BTreeMap<(Vec<u32>, Vec<u32>), Option<Sums>>;

/// Least price; `None` if there is no plan.
pub(super) fn brute_force(problem: &BarProblem) -> Option<i64> {
    least(problem, None).map(|sums| sums.0)
}

/// Least price, or least worth left, and the least of the rest at that.
pub(super) fn least(problem: &BarProblem, leave: Option<&[i64]>) -> Option<Sums> {
    let demand: Vec<u32> = problem.parts.iter().map(|p| p.count).collect();
    let limits: Vec<u32> = problem.bars.iter().map(|b| b.limit.unwrap_or(u32::MAX)).collect();
    Brute { problem, leave, memo: BTreeMap::new() }.go(demand, limits)
}

impl Brute<'_> {
    fn go(&mut self, demand: Vec<u32>, limits: Vec<u32>) -> Option<Sums> {
        let Some(first) = demand.iter().position(|&d| d > 0) else { return Some((0, 0, 0)) };
        if let Some(&known) = self.memo.get(&(demand.clone(), limits.clone())) {
            return known;
        }
        let mut best: Option<Sums> = None;
        let mut take = |sums: Option<Sums>, more: Sums| {
            if let Some(sums) = sums {
                let sum = (sums.0 + more.0, sums.1 + more.1, sums.2 + more.2);
                best = Some(best.map_or(sum, |b| b.min(sum)));
            }
        };
        if let Some(leave) = self.leave {
            let mut rest = demand.clone();
            rest[first] -= 1;
            take(self.go(rest, limits.clone()), (leave[first], 0, 0));
        }
        for (j, bar) in self.problem.bars.iter().enumerate().filter(|&(j, _)| limits[j] > 0) {
            for content in self.contents(&demand, bar.length) {
                if content[first] == 0 {
                    continue;
                }
                let rest = demand.iter().zip(&content).map(|(d, n)| d - n).collect();
                let mut left = limits.clone();
                if left[j] != u32::MAX {
                    left[j] -= 1;
                }
                let price = if self.leave.is_some() { 0 } else { bar.price };
                let lost = lost(self.problem, bar.length, &content);
                take(self.go(rest, left), (price, free(bar), lost));
            }
        }
        self.memo.insert((demand, limits), best);
        best
    }

    /// Every content of a bar.
    fn contents(&self, demand: &[u32], length: i64) -> Vec<Vec<u32>> {
        let mut contents = vec![vec![0u32; demand.len()]];
        for (i, &most) in demand.iter().enumerate() {
            contents = (contents.into_iter())
                .flat_map(|c| {
                    (0..=most).map(move |n| {
                        let mut c = c.clone();
                        c[i] = n;
                        c
                    })
                })
                .filter(|c| used(self.problem, c) <= length)
                .collect();
        }
        contents
    }
}

/// Length of a bar's parts with the kerfs between them.
fn used(problem: &BarProblem, content: &[u32]) -> i64 {
    let pieces: i64 = content.iter().map(|&n| i64::from(n)).sum();
    let length: i64 =
        content.iter().zip(&problem.parts).map(|(&n, p)| i64::from(n) * p.length).sum();
    if pieces == 0 { 0 } else { length + (pieces - 1) * problem.kerf }
}

/// What of a bar becomes no kept offcut.
fn lost(problem: &BarProblem, length: i64, content: &[u32]) -> i64 {
    let rest = length - used(problem, content) - problem.kerf;
    if problem.keep.is_some_and(|keep| rest >= keep.max(1)) { length - rest } else { length }
}

/// Length of a bar that costs nothing.
fn free(bar: &Bar) -> i64 {
    if bar.price == 0 { bar.length } else { 0 }
}

/// Length of the bars of a plan that cost nothing.
fn free_by(problem: &BarProblem, plan: &BarPlan) -> i64 {
    plan.patterns.iter().map(|p| free(&problem.bars[p.bar]) * i64::from(p.repeat)).sum()
}

/// Length lost by a plan.
fn lost_by(problem: &BarProblem, plan: &BarPlan) -> i64 {
    let each = plan.patterns.iter().map(|p| {
        let mut content = vec![0; problem.parts.len()];
        p.counts.iter().for_each(|&(i, n)| content[i] = n);
        lost(problem, problem.bars[p.bar].length, &content) * i64::from(p.repeat)
    });
    each.sum()
}

#[test]
fn agrees_with_brute_force_on_tiny_problems() {
    let mut random = Random(1);
    let (mut solved, mut impossible, mut tight) = (0, 0, 0);
    for _ in 0..4000 {
        let mut problem = tiny(&mut random);
        problem.keep = (random.range(0, 1) == 0).then(|| random.range(1, 8));
        let truth = least(&problem, None);
        match cut_bars(&problem, &mut budget()) {
            Outcome::Optimal { best, objective } => {
                assert_eq!(check(&problem, &best), objective);
                let (price, free, lost) = truth.expect("a plan was found");
                assert_eq!(objective, price, "{problem:?}");
                assert_eq!(free_by(&problem, &best), free, "{problem:?} {best:?}");
                assert_eq!(lost_by(&problem, &best), lost, "{problem:?} {best:?}");
                solved += 1;
                tight += i32::from(problem.bars.iter().any(|b| b.limit.is_some()));
            }
            Outcome::Infeasible(reason) => {
                assert_eq!(truth, None, "{problem:?} called impossible: {reason:?}");
                impossible += 1;
            }
            other => panic!("{problem:?} (best {truth:?}) unproved: {other:?}"),
        }
    }
    // The generator makes all sorts, or the test would say little.
    assert!(solved > 1500 && impossible > 300 && tight > 300, "{solved} {impossible} {tight}");
}

/// Price, length of the bars that cost nothing, length lost, offcuts kept, different patterns, settings of the stop for them,
/// length of the bars.
type Rank = (i64, i64, i64, usize, usize, usize, i64);

fn rank(problem: &BarProblem, bars: &[(usize, Vec<u32>)]) -> Rank {
    let mut rank = (0, 0, 0, 0, 0, 0, 0);
    let mut different = bars.to_vec();
    different.sort_unstable();
    different.dedup();
    for (j, content) in bars {
        let bar = problem.bars[*j];
        let lost = lost(problem, bar.length, content);
        rank.0 += bar.price;
        rank.1 += free(&bar);
        rank.2 += lost;
        rank.3 += usize::from(lost < bar.length);
        rank.6 += bar.length;
    }
    rank.4 = different.len();
    // Pieces are sawn off from long to short; the last one needs no cut if it ends with the bar.
    for (j, content) in &different {
        let mut stops: Vec<i64> = (content.iter().zip(&problem.parts))
            .flat_map(|(n, part)| std::iter::repeat_n(part.length, *n as usize))
            .collect();
        stops.sort_unstable();
        if used(problem, content) == problem.bars[*j].length {
            stops.remove(0);
        }
        stops.dedup();
        rank.5 += stops.len();
    }
    rank
}

/// The least rank of all plans, one bar after another.
fn first_rank(
    brute: &Brute<'_>,
    demand: &[u32],
    limits: &mut [u32],
    bars: &mut Vec<(usize, Vec<u32>)>,
    best: &mut Option<Rank>,
) {
    let Some(first) = demand.iter().position(|&d| d > 0) else {
        let new = rank(brute.problem, bars);
        *best = Some(best.map_or(new, |b| b.min(new)));
        return;
    };
    for j in 0..limits.len() {
        if limits[j] == 0 {
            continue;
        }
        for content in brute.contents(demand, brute.problem.bars[j].length) {
            if content[first] == 0 {
                continue;
            }
            let rest: Vec<u32> = demand.iter().zip(&content).map(|(d, n)| d - n).collect();
            bars.push((j, content));
            limits[j] -= 1;
            first_rank(brute, &rest, limits, bars, best);
            limits[j] += 1;
            bars.pop();
        }
    }
}

/// Of all cheapest plans the one that comes first: all are tried.
#[test]
fn equal_prices_are_settled_in_order() {
    let mut random = Random(21);
    let (mut solved, mut kept, mut alike) = (0, 0, 0);
    while solved < 1500 {
        let mut problem = tiny(&mut random);
        problem.keep = (random.range(0, 3) > 0).then(|| random.range(1, 8));
        problem.parts.sort_by_key(|p| p.length);
        problem.parts.dedup_by_key(|p| p.length);
        if problem.parts.iter().map(|p| p.count).sum::<u32>() > 6 {
            continue;
        }
        let demand: Vec<u32> = problem.parts.iter().map(|p| p.count).collect();
        let mut limits: Vec<u32> = problem.bars.iter().map(|b| b.limit.unwrap_or(9)).collect();
        let brute = Brute { problem: &problem, leave: None, memo: BTreeMap::new() };
        let mut truth = None;
        first_rank(&brute, &demand, &mut limits, &mut Vec::new(), &mut truth);
        let Some(truth) = truth else { continue };
        let plan = cut_bars(&problem, &mut budget()).into_best().expect("a plan");
        let bars = plan.patterns.iter().flat_map(|p| {
            let mut content = vec![0; problem.parts.len()];
            p.counts.iter().for_each(|&(i, n)| content[i] = n);
            (0..p.repeat).map(move |_| (p.bar, content.clone()))
        });
        let bars: Vec<(usize, Vec<u32>)> = bars.collect();
        assert_eq!(rank(&problem, &bars), truth, "{problem:?} {plan:?}");
        solved += 1;
        kept += i32::from(truth.3 > 0);
        alike += i32::from(truth.4 < bars.len());
    }
    assert!(kept > 300 && alike > 200, "{kept} {alike}");
}

#[test]
fn the_most_valuable_parts_are_taken() {
    let mut random = Random(8);
    let (mut partial, mut all) = (0, 0);
    for _ in 0..2500 {
        let problem = tiny(&mut random);
        let worth: Vec<i64> = problem.parts.iter().map(|_| random.range(-1, 9)).collect();
        let leave: Vec<i64> = worth.iter().map(|&w| w.max(0)).collect();
        let (left, ..) = least(&problem, Some(&leave)).expect("all may be left");
        let total: i64 = (problem.parts.iter().zip(&leave))
            .filter(|(p, _)| p.length > 0)
            .map(|(p, w)| i64::from(p.count) * w)
            .sum();
        match take_bars(&problem, &worth, &mut budget()) {
            Outcome::Optimal { best, objective } => {
                let taken = check_part(&problem, &best);
                let value: i64 = taken.iter().zip(&worth).map(|(&n, w)| i64::from(n) * w).sum();
                assert_eq!(value, objective, "{problem:?} {worth:?}");
                assert_eq!(objective, total - left, "{problem:?} {worth:?}");
                partial += i32::from(left > 0 && objective > 0);
                all += i32::from(left == 0);
            }
            other => panic!("{problem:?} {worth:?}: {other:?}"),
        }
    }
    assert!(partial > 300 && all > 300, "{partial} {all}");
}
