//! Limits on the stages of cuts, against brute force and against each other.

use super::exact::tiny;
use super::*;
use crate::solve::layouts::tests::brute::Brute;
use crate::solve::layouts::{LayoutPiece, LayoutProblem};

/// The least price under the problem's stages, or `None` if it cannot be done; by trying every cut of every sheet.
fn least_price(problem: &SheetProblem) -> Option<i64> {
    let pieces: Vec<LayoutPiece> = problem
        .parts
        .iter()
        .map(|p| {
            let SheetPart { width, height, count, turn } = *p;
            LayoutPiece { width, height, worth: 1, most: count, turn }
        })
        .collect();
    let sets: Vec<u64> = problem
        .sheets
        .iter()
        .map(|sheet| {
            let (kerf, pieces, stages) = (problem.kerf, pieces.clone(), problem.stages);
            let panel = (sheet.width, sheet.height);
            let one = LayoutProblem { kerf, panel, pieces, stages, least_rip: 0, keep: (1, 1) };
            Brute::new(&one).sets(sheet.width)
        })
        .collect();
    let mut left: Vec<u32> = problem.sheets.iter().map(|s| s.limit.unwrap_or(u32::MAX)).collect();
    let all: Vec<u32> = problem.parts.iter().map(|p| p.count).collect();
    deal(problem, &sets, all, &mut left)
}

/// Counts as the brute force numbers them.
fn code(problem: &SheetProblem, counts: &[u32]) -> usize {
    let digits = problem.parts.iter().zip(counts).rev();
    digits.fold(0, |code, (p, n)| code * (p.count as usize + 1) + *n as usize)
}

/// All counts up to `most`.
fn counts_up_to(most: &[u32]) -> Vec<Vec<u32>> {
    most.iter().fold(vec![Vec::new()], |so_far, most| {
        let with =
            |n: u32| so_far.iter().map(move |c: &Vec<u32>| c.iter().copied().chain([n]).collect());
        (0..=*most).flat_map(with).collect()
    })
}

/// The least price of what is wanted: the first part that is goes on some sheet with any others.
fn deal(problem: &SheetProblem, sets: &[u64], want: Vec<u32>, left: &mut [u32]) -> Option<i64> {
    let Some(first) = want.iter().position(|n| *n > 0) else { return Some(0) };
    let mut best: Option<i64> = None;
    for take in counts_up_to(&want).into_iter().filter(|take| take[first] > 0) {
        for s in 0..sets.len() {
            if sets[s] >> code(problem, &take) & 1 == 0 || left[s] == 0 {
                continue;
            }
            left[s] -= 1;
            let rest = want.iter().zip(&take).map(|(want, take)| want - take).collect();
            if let Some(rest) = deal(problem, sets, rest, left) {
                let price = rest + problem.sheets[s].price;
                best = Some(best.map_or(price, |b| b.min(price)));
            }
            left[s] += 1;
        }
    }
    best
}

/// A tiny job with a limit on its stages.
fn limited(rng: &mut Rng) -> SheetProblem {
    let most = 2 + rng.below(2) as u8;
    let first = [None, None, Some(Axis::X), Some(Axis::Y)][rng.below(4)];
    let stages = Stages { most: Some(most), trim: rng.chance(500), first };
    let job = tiny(rng);
    SheetProblem { stages, ..job }
}

#[test]
fn tiny_staged_jobs_cost_what_brute_force_says() {
    let mut rng = Rng::new(31);
    let (mut done, mut none, mut dearer) = (0, 0, 0);
    for _ in 0..1500 {
        let problem = limited(&mut rng);
        let truth = least_price(&problem);
        let (price, bound, plan) = match cut_sheets(&problem, &mut Budget::work(150_000)) {
            Outcome::Optimal { best, objective } => (objective, objective, best),
            Outcome::Feasible { best, objective, bound, .. } => (objective, bound, best),
            Outcome::Infeasible(_) | Outcome::Unknown { .. } => {
                assert_eq!(truth, None, "{problem:?}");
                none += 1;
                continue;
            }
        };
        assert_eq!(replay(&problem, &plan), Ok(()), "{problem:?}");
        let truth = truth.expect("a plan was found and replayed");
        assert!(bound <= truth, "bound {bound} above {truth}: {problem:?}");
        assert_eq!(price, truth, "{problem:?}");
        done += 1;
        let free = SheetProblem { stages: Stages::ANY, ..problem.clone() };
        dearer += usize::from(super::exact::least_price(&free) < Some(truth));
    }
    // The recipe makes all sorts, and the limit matters in some.
    assert!(done > 900 && none > 45 && dearer > 8, "{done} {none} {dearer}");
}

#[test]
fn more_stages_are_never_dearer() {
    let price = |problem: &SheetProblem, most, trim| {
        let stages = Stages { most, trim, first: None };
        solve(&SheetProblem { stages, ..problem.clone() }, 3_000_000).0
    };
    let mut told_apart = 0;
    for seed in 0..6 {
        let problem = draws::class(1 + seed as usize, 30, seed % 2 == 0, 80 + seed);
        let prices = [(Some(2), false), (Some(2), true), (Some(3), false), (Some(3), true)];
        let mut prices = prices.map(|(most, trim)| price(&problem, most, trim)).to_vec();
        prices.push(price(&problem, None, false));
        assert!(prices.is_sorted_by(|less, more| less >= more), "seed {seed}: {prices:?}");
        told_apart += usize::from(prices[0] > prices[4]);
    }
    assert!(told_apart > 0, "no limit was felt");
}

#[test]
fn less_than_two_stages_are_refused() {
    let problem = SheetProblem {
        stages: Stages { most: Some(1), trim: true, first: None },
        ..draws::class(1, 5, false, 1)
    };
    let found = cut_sheets(&problem, &mut Budget::work(1_000));
    assert_eq!(found, Outcome::Infeasible(SheetReason::TooFewStages));
}

/// Sets that fill a sheet without a limit on stages, and never within two of them: the work is counted all the same, so that it
/// ends. It took minutes when a walk without sheets was free.
#[test]
fn what_cannot_be_cut_in_so_few_stages_costs_no_uncounted_time() {
    let stages = Stages { most: Some(2), trim: false, first: None };
    let sheets = vec![Sheet { width: 1000, height: 1000, price: 1, limit: None }];
    let parts = parts("600x500,500x497,397x700,300x297", false);
    let problem = SheetProblem { kerf: 3, sheets, parts, keep: (300, 300), stages };
    let begun = std::time::Instant::now();
    assert_eq!(solve(&problem, 10_000_000).0, 2);
    assert!(begun.elapsed().as_secs() < 5, "{:?}", begun.elapsed());
}
