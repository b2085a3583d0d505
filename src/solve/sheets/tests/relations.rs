//! What must hold between jobs whose answers nobody knows.

use super::exact::tiny;
use super::*;

const WORK: u64 = 50_000;

fn price(problem: &SheetProblem) -> Option<i64> {
    cut_sheets(problem, &mut Budget::work(WORK)).best().map(|plan| {
        assert_eq!(replay(problem, plan), Ok(()), "{problem:?}");
        plan.sheets.iter().map(|s| problem.sheets[s.sheet].price).sum()
    })
}

/// Tiny jobs and some of two dozen parts.
fn jobs() -> Vec<SheetProblem> {
    let mut rng = Rng::new(11);
    let mut jobs: Vec<_> = (0..150).map(|_| tiny(&mut rng)).collect();
    for seed in 0..10 {
        let mut job = draws::class(1 + seed as usize, 20, seed % 2 == 0, 50 + seed);
        job.kerf = (seed % 3) as i64;
        job.parts.retain(|p| p.width <= job.sheets[0].width && p.height <= job.sheets[0].height);
        jobs.push(job);
    }
    jobs
}

#[test]
fn the_order_of_parts_and_the_split_of_counts_change_nothing() {
    for problem in jobs() {
        let before = price(&problem);
        let mut other = problem.clone();
        other.parts.reverse();
        other.sheets.reverse();
        assert_eq!(price(&other), before, "{problem:?}");
        let singles = problem
            .parts
            .iter()
            .flat_map(|p| (0..p.count).map(|_| SheetPart { count: 1, ..p.clone() }));
        let other = SheetProblem { parts: singles.collect(), ..problem.clone() };
        assert_eq!(price(&other), before, "{problem:?}");
    }
}

#[test]
fn scale_changes_nothing() {
    for problem in jobs() {
        let before = price(&problem);
        for by in [7, 80_000] {
            let mut other = problem.clone();
            other.kerf *= by;
            for s in &mut other.sheets {
                (s.width, s.height) = (s.width * by, s.height * by);
            }
            for p in &mut other.parts {
                (p.width, p.height) = (p.width * by, p.height * by);
            }
            other.keep = (other.keep.0 * by, other.keep.1 * by);
            assert_eq!(price(&other), before, "by {by}: {problem:?}");
        }
    }
}

#[test]
fn transposing_changes_nothing() {
    for problem in jobs() {
        let mut other = problem.clone();
        for s in &mut other.sheets {
            (s.width, s.height) = (s.height, s.width);
        }
        for p in &mut other.parts {
            (p.width, p.height) = (p.height, p.width);
        }
        assert_eq!(price(&other), price(&problem), "{problem:?}");
    }
}

#[test]
fn turning_costs_nothing() {
    // Where everything may turn, so may each size of sheet on its own.
    for mut problem in jobs() {
        problem.parts.iter_mut().for_each(|p| p.turn = true);
        let mut other = problem.clone();
        for s in other.sheets.iter_mut().step_by(2) {
            (s.width, s.height) = (s.height, s.width);
        }
        for p in other.parts.iter_mut().step_by(2) {
            (p.width, p.height) = (p.height, p.width);
        }
        assert_eq!(price(&other), price(&problem), "{problem:?}");
    }
}

#[test]
fn less_freedom_is_never_cheaper() {
    let dearer = |less: Option<i64>, more: Option<i64>| match (less, more) {
        (Some(less), Some(more)) => less >= more,
        (Some(_), None) => false,
        (None, _) => true,
    };
    for problem in jobs().into_iter().take(150) {
        let before = price(&problem);
        let more_kerf = SheetProblem { kerf: problem.kerf + 1, ..problem.clone() };
        assert!(dearer(price(&more_kerf), before), "kerf: {problem:?}");
        let mut fewer = problem.clone();
        if fewer.sheets.len() > 1 {
            fewer.sheets.pop();
            assert!(dearer(price(&fewer), before), "sheet: {problem:?}");
        }
        let mut fixed = problem.clone();
        fixed.parts.iter_mut().for_each(|p| p.turn = false);
        assert!(dearer(price(&fixed), before), "turn: {problem:?}");
        let mut more = problem.clone();
        more.parts[0].count += 1;
        assert!(dearer(price(&more), before), "part: {problem:?}");
    }
}

#[test]
fn the_same_job_gives_the_same_plan() {
    for problem in jobs() {
        let again = |_| cut_sheets(&problem, &mut Budget::work(WORK));
        assert_eq!(again(0), again(1));
    }
}
