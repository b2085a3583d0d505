//! Several panels, and draws by recipe.

use super::brute::{Brute, tiny};
use super::*;

#[path = "../../../../tests/bench/draws/layouts.rs"]
mod draws;

#[test]
fn two_tiny_panels_hold_what_brute_force_says() {
    let mut rng = Rng::new(31);
    let (mut best, mut proved, mut all) = (0, 0, 0);
    for _ in 0..400 {
        let first = tiny(&mut rng);
        let second =
            LayoutProblem { panel: (rng.between(3, 9), rng.between(3, 9)), ..first.clone() };
        let truth = Brute::new(&first).best_with(&mut Brute::new(&second));
        let stock =
            |p: &LayoutProblem| StockPanel { width: p.panel.0, height: p.panel.1, count: 1 };
        let problem = PanelsProblem {
            kerf: first.kerf,
            panels: vec![stock(&first), stock(&second)],
            pieces: first.pieces.clone(),
            stages: first.stages,
            least_rip: first.least_rip,
            keep: first.keep,
        };
        let outcome = take_panels(&problem, &mut Budget::work(10_000_000), &mut |_| ());
        let (taken, worth, bound) = match outcome {
            Outcome::Optimal { best, objective } => (best, objective, objective),
            Outcome::Feasible { best, objective, bound, .. } => (best, objective, bound),
            other => panic!("{other:?}: {problem:?}"),
        };
        let mut made = vec![0; problem.pieces.len()];
        let mut sum = 0;
        for one in &taken {
            let panel = if one.panel == 0 { &first } else { &second };
            sum += replay(panel, &one.layout).unwrap_or_else(|e| panic!("{e}: {problem:?}"));
            one.layout.pieces.iter().for_each(|piece| made[piece.part] += 1);
        }
        assert!(made.iter().zip(&problem.pieces).all(|(made, p)| *made <= p.most), "{problem:?}");
        assert_eq!(sum, worth, "{problem:?}");
        assert!(worth <= truth && truth <= bound, "{worth} {truth} {bound}: {problem:?}");
        best += usize::from(worth == truth);
        proved += usize::from(worth == bound);
        all += 1;
    }
    assert!(best * 100 >= all * 95 && proved * 2 >= all, "{best} best, {proved} proved of {all}");
}

#[test]
fn a_panel_alone_is_a_layout_and_too_many_are_refused() {
    let piece = LayoutPiece { width: 40, height: 30, worth: 5, most: 9, turn: true };
    let mut problem = PanelsProblem {
        kerf: 3,
        panels: vec![StockPanel { width: 130, height: 73, count: 1 }],
        pieces: vec![piece],
        stages: Stages::ANY,
        least_rip: 0,
        keep: (10, 10),
    };
    let outcome = take_panels(&problem, &mut Budget::work(1_000_000), &mut |_| ());
    let Outcome::Optimal { best, objective: 35 } = outcome else { panic!("{outcome:?}") };
    assert_eq!((best.len(), best[0].layout.pieces.len()), (1, 7));
    problem.panels[0].count = 0;
    let outcome = take_panels(&problem, &mut Budget::work(1_000_000), &mut |_| ());
    assert_eq!(outcome, Outcome::Optimal { best: Vec::new(), objective: 0 });
    problem.pieces[0].most = u32::MAX;
    problem.panels[0].count = u32::MAX;
    let outcome = take_panels(&problem, &mut Budget::work(1_000_000), &mut |_| ());
    assert_eq!(outcome, Outcome::Infeasible(LayoutReason::TooManyPanels));
}

#[test]
fn draws_of_the_easier_classes_are_proved() {
    for class in draws::CLASSES.iter().filter(|c| ["w", "of", "chl", "gcut"].contains(&c.name)) {
        for number in 0..4 {
            optimum(&class.draw(number), 400_000_000);
        }
    }
}
