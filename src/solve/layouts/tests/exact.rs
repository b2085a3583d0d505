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

#[test]
fn tables_over_widths_are_what_brute_force_says() {
    let mut rng = Rng::new(13);
    let mut rows = 0;
    for _ in 0..700 {
        let mut problem = tiny(&mut rng);
        problem.least_rip = 0;
        let table = width_table(&problem, &mut Budget::work(5_000_000)).expect("a fair problem");
        let mut brute = Brute::new(&problem);
        let mut best = 0;
        for width in 0..=problem.panel.0 {
            best = best.max(brute.best(width));
            let row = &table.rows[table.row_at(width)];
            assert_eq!((row.worth, row.bound), (best, best), "width {width}: {problem:?}");
        }
        for row in 1..table.rows.len() {
            let at = |w| LayoutProblem { panel: (w, problem.panel.1), ..problem.clone() };
            let (layout, width) = (table.layout(row), table.rows[row].width);
            let mut replayed = replay(&at(width), &layout);
            if problem.stages.most == Some(1) && !problem.stages.trim && replayed.is_err() {
                // Nothing may trim the pieces to the panel's width: it is a narrower panel's layout.
                let any = (0..width).find_map(|w| replay(&at(w), &layout).ok());
                replayed = any.ok_or("no width fits".into());
            }
            assert_eq!(replayed, Ok(table.rows[row].worth), "{width}: {problem:?}");
        }
        rows += table.rows.len();
    }
    assert!(rows > 3000, "{rows} rows");
}

#[test]
fn tables_hold_with_hardly_any_work() {
    let mut rng = Rng::new(14);
    let mut open = 0;
    for round in 0..200 {
        let problem = LayoutProblem { least_rip: 0, ..tiny(&mut rng) };
        let work = [0, 500, 5_000][round % 3];
        let table = width_table(&problem, &mut Budget::work(work)).expect("a fair problem");
        let mut brute = Brute::new(&problem);
        let mut best = 0;
        for width in 0..=problem.panel.0 {
            best = best.max(brute.best(width));
            let row = &table.rows[table.row_at(width)];
            assert!(row.worth <= best && best <= row.bound, "width {width}: {problem:?}");
            open += usize::from(row.worth < row.bound);
        }
    }
    assert!(open > 100, "{open} left open");
}
