//! Relations between problems whose optima are not known otherwise.

use super::*;

const WORK: u64 = 20_000_000;

/// A problem of a size that brute force cannot do.
fn middling(rng: &mut Rng) -> LayoutProblem {
    let panel = (rng.between(20, 40), rng.between(20, 40));
    let pieces = (0..rng.between(5, 12))
        .map(|_| {
            let (width, height) = (rng.between(4, 22), rng.between(4, 22));
            let worth = if rng.between(0, 1) == 0 { width * height } else { rng.between(20, 300) };
            LayoutPiece { width, height, worth, most: rng.between(1, 4) as u32, turn: false }
        })
        .collect();
    LayoutProblem {
        kerf: rng.between(0, 2),
        panel,
        pieces,
        stages: Stages::ANY,
        least_rip: 0,
        keep: (3, 3),
    }
}

fn transposed(problem: &LayoutProblem) -> LayoutProblem {
    let mut other = problem.clone();
    other.panel = (problem.panel.1, problem.panel.0);
    for piece in &mut other.pieces {
        (piece.width, piece.height) = (piece.height, piece.width);
    }
    other.stages.first = problem.stages.first.map(|a| if a == Axis::X { Axis::Y } else { Axis::X });
    other
}

#[test]
fn what_must_not_matter_does_not() {
    let mut rng = Rng::new(21);
    for _ in 0..25 {
        let problem = middling(&mut rng);
        let best = optimum(&problem, WORK);
        assert_eq!(optimum(&transposed(&problem), WORK), best, "transposed: {problem:?}");
        let mut permuted = problem.clone();
        permuted.pieces.rotate_left(2);
        permuted.pieces.reverse();
        assert_eq!(optimum(&permuted, WORK), best, "permuted: {problem:?}");
        let mut scaled = problem.clone();
        scaled.kerf *= 80_003;
        scaled.panel = (problem.panel.0 * 80_003, problem.panel.1 * 80_003);
        for piece in &mut scaled.pieces {
            piece.width *= 80_003;
            piece.height *= 80_003;
            piece.worth *= 1_000_003;
        }
        assert_eq!(optimum(&scaled, WORK), best * 1_000_003, "scaled: {problem:?}");
        let mut split = problem.clone();
        let one = split.pieces.iter().position(|p| p.most > 1);
        if let Some(one) = one {
            split.pieces[one].most -= 1;
            let copy = LayoutPiece { most: 1, ..split.pieces[one] };
            split.pieces.push(copy);
        }
        assert_eq!(optimum(&split, WORK), best, "split: {problem:?}");
    }
}

#[test]
fn freedom_never_harms() {
    let mut rng = Rng::new(22);
    let mut gained = [0; 4];
    for _ in 0..25 {
        let problem = middling(&mut rng);
        let best = optimum(&problem, WORK);
        let mut freer = problem.clone();
        freer.pieces.iter_mut().for_each(|p| p.turn = true);
        let turned = optimum(&freer, WORK);
        let mut freer = problem.clone();
        freer.pieces.iter_mut().for_each(|p| p.most = 99);
        let unlimited = optimum(&freer, WORK);
        let mut freer = problem.clone();
        freer.kerf += 1;
        let thicker = optimum(&freer, WORK);
        assert!(best <= turned && best <= unlimited && thicker <= best, "{problem:?}");
        let staged = |most: u8, trim: bool, first: Option<Axis>| {
            let mut p = problem.clone();
            p.stages = Stages { most: Some(most), trim, first };
            optimum(&p, WORK)
        };
        let [two, three] = [2, 3].map(|most| staged(most, false, None));
        let trimmed = staged(2, true, None);
        let (x, y) = (staged(2, true, Some(Axis::X)), staged(2, true, Some(Axis::Y)));
        assert!(two <= trimmed && trimmed <= three && three <= best, "{problem:?}");
        assert_eq!(trimmed, x.max(y), "{problem:?}");
        let better = [turned > best, unlimited > best, thicker < best, two < best];
        gained.iter_mut().zip(better).for_each(|(g, b)| *g += u32::from(b));
    }
    assert!(gained.iter().all(|g| *g > 3), "each freedom matters somewhere: {gained:?}");
}

#[test]
fn a_raised_flag_stops_it_soon() {
    use crate::solve::budget::{Cancel, Stop};
    let mut rng = Rng::new(23);
    let mut problem = middling(&mut rng);
    problem.panel = (400, 300);
    problem.pieces.iter_mut().for_each(|p| p.most = 9);
    let cancel = Cancel::new();
    cancel.raise();
    let start = std::time::Instant::now();
    let mut budget = Budget::work(u64::MAX).cancelled_by(&cancel);
    let outcome = best_layout(&problem, &mut budget, &mut |_| ());
    let Outcome::Feasible { best, stopped_by, .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!(stopped_by, Some(Stop::Cancelled));
    assert!(best.worth > 0 && replay(&problem, &best) == Ok(best.worth));
    assert!(start.elapsed().as_millis() < 500, "{:?}", start.elapsed());
}

#[test]
fn faults_are_named() {
    let piece = LayoutPiece { width: 5, height: 5, worth: 1, most: 1, turn: false };
    let good = LayoutProblem {
        kerf: 0,
        panel: (10, 10),
        pieces: vec![piece, piece],
        stages: Stages::ANY,
        least_rip: 0,
        keep: (1, 1),
    };
    type Fault = (LayoutReason, fn(&mut LayoutProblem));
    let faults: [Fault; 5] = [
        (LayoutReason::BadPanel, |p| p.panel.1 = 0),
        (LayoutReason::BadKerf, |p| p.kerf = -1),
        (LayoutReason::NoStages, |p| p.stages.most = Some(0)),
        (LayoutReason::BadPiece { piece: 1 }, |p| p.pieces[1].height = -3),
        (LayoutReason::TooMuchWorth, |p| p.pieces[0].worth = i64::MAX),
    ];
    for (reason, fault) in faults {
        let mut bad = good.clone();
        fault(&mut bad);
        let outcome = best_layout(&bad, &mut Budget::work(1000), &mut |_| ());
        assert_eq!(outcome, Outcome::Infeasible(reason), "{bad:?}");
    }
    let mut none = good;
    none.pieces.iter_mut().for_each(|p| p.width = 11);
    assert_eq!(optimum(&none, 1000), 0, "nothing fits: an empty layout");
}
