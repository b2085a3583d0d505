//! Agreement with brute force.

use super::brute::{Brute, tiny};
use super::*;

#[test]
fn tiny_problems_are_worth_what_brute_force_says() {
    let mut rng = Rng::new(11);
    let (mut staged, mut full) = (0, 0);
    for _ in 0..2500 {
        let problem = tiny(&mut rng);
        let truth = Brute::new(&problem).best(problem.panel.0);
        assert_eq!(optimum(&problem, 5_000_000), truth, "{problem:?}");
        staged += usize::from(problem.stages.most.is_some());
        full +=
            usize::from(truth < problem.pieces.iter().map(|p| p.worth * i64::from(p.most)).sum());
    }
    // The recipe makes all sorts: with stages, and with more than the panel holds.
    assert!(staged > 1000 && full > 1000, "{staged} {full}");
}

#[test]
fn with_hardly_any_work_bounds_still_hold() {
    let mut rng = Rng::new(12);
    let mut open = 0;
    for round in 0..600 {
        let problem = tiny(&mut rng);
        let truth = Brute::new(&problem).best(problem.panel.0);
        let (_, worth, bound) = solve(&problem, [0, 300, 3_000][round % 3]);
        assert!(worth <= truth && truth <= bound, "{worth} {truth} {bound}: {problem:?}");
        open += usize::from(worth < bound);
    }
    assert!(open > 100, "{open} left open");
}
