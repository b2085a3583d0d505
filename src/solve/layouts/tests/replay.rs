//! A saw of its own: takes a layout apart cut by cut and checks it against the problem. It shares
//! no code with the engine.

use super::*;

/// A panel at hand, with the stage that it came from and that stage's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Panel {
    rect: Rect,
    stage: u8,
    axis: Option<Axis>,
}

/// The worth of what is cut, or what is wrong.
pub(super) fn replay(problem: &LayoutProblem, layout: &Layout) -> Result<i64, String> {
    let (dx, dy) = problem.panel;
    let mut panels = vec![Panel { rect: Rect { x: 0, y: 0, dx, dy }, stage: 0, axis: None }];
    for cut in &layout.cuts {
        let panel = take(&mut panels, cut.panel).map_err(|e| format!("{cut:?}: {e}"))?;
        cut_one(problem, panel, cut, &mut panels).map_err(|e| format!("{cut:?}: {e}"))?;
    }
    let mut made = vec![0u32; problem.pieces.len()];
    let mut worth = 0;
    for piece in &layout.pieces {
        let p = &problem.pieces[piece.part];
        if piece.turned && !p.turn {
            return Err(format!("{piece:?} may not be turned"));
        }
        let (dx, dy) = if piece.turned { (p.height, p.width) } else { (p.width, p.height) };
        let panel = take(&mut panels, Rect { x: piece.x, y: piece.y, dx, dy })
            .map_err(|e| format!("{piece:?}: {e}"))?;
        made[piece.part] += 1;
        worth += p.worth;
        if problem
            .stages
            .most
            .is_some_and(|most| panel.stage > most + u8::from(problem.stages.trim))
        {
            return Err(format!("{piece:?} after stage {}", panel.stage));
        }
        for (side, whole) in [(dx, problem.panel.0), (dy, problem.panel.1)] {
            if side < problem.least_rip && side != whole {
                return Err(format!("{piece:?} is ripped too narrow"));
            }
        }
    }
    for rest in &layout.rests {
        take(&mut panels, *rest).map_err(|e| format!("rest {rest:?}: {e}"))?;
    }
    if let Some(part) = (0..made.len()).find(|p| made[*p] > problem.pieces[*p].most) {
        return Err(format!("{} of piece {part}", made[part]));
    }
    if !panels.is_empty() {
        return Err(format!("unaccounted for: {panels:?}"));
    }
    if worth != layout.worth {
        return Err(format!("worth {worth}, said {}", layout.worth));
    }
    Ok(worth)
}

fn cut_one(
    problem: &LayoutProblem,
    panel: Panel,
    cut: &SheetCut,
    panels: &mut Vec<Panel>,
) -> Result<(), String> {
    let p = panel.rect;
    let end = cut.at + problem.kerf;
    let (first, behind) = match cut.axis {
        Axis::X => (Rect { dx: cut.at - p.x, ..p }, Rect { x: end, dx: p.x + p.dx - end, ..p }),
        Axis::Y => (Rect { dy: cut.at - p.y, ..p }, Rect { y: end, dy: p.y + p.dy - end, ..p }),
    };
    if first.dx <= 0 || first.dy <= 0 || first.dx > p.dx || first.dy > p.dy || first == p {
        return Err("misses the panel".into());
    }
    let mut stage = panel.stage + u8::from(panel.axis != Some(cut.axis));
    if panel.axis.is_none() && problem.stages.first.is_some_and(|first| first != cut.axis) {
        // The first stage is passed over.
        stage += 1;
    }
    for rect in [first, behind] {
        if rect.dx > 0 && rect.dy > 0 {
            panels.push(Panel { rect, stage, axis: Some(cut.axis) });
        }
    }
    Ok(())
}

fn take(panels: &mut Vec<Panel>, rect: Rect) -> Result<Panel, String> {
    let at = panels.iter().position(|p| p.rect == rect).ok_or("no such panel")?;
    Ok(panels.swap_remove(at))
}

#[test]
fn the_replayer_sees_each_fault() {
    let piece = |width, height| LayoutPiece { width, height, worth: 5, most: 1, turn: false };
    let problem = LayoutProblem {
        kerf: 3,
        panel: (100, 50),
        pieces: vec![piece(60, 50), piece(30, 20)],
        stages: Stages { most: Some(2), trim: true, first: Some(Axis::X) },
        least_rip: 20,
        keep: (1, 1),
    };
    let right = Rect { x: 63, y: 0, dx: 37, dy: 50 };
    let corner = Rect { x: 63, y: 0, dx: 37, dy: 20 };
    let good = Layout {
        worth: 10,
        pieces: vec![
            PlacedPiece { part: 0, x: 0, y: 0, turned: false },
            PlacedPiece { part: 1, x: 63, y: 0, turned: false },
        ],
        cuts: vec![
            SheetCut { panel: Rect { x: 0, y: 0, dx: 100, dy: 50 }, axis: Axis::X, at: 60 },
            SheetCut { panel: right, axis: Axis::Y, at: 20 },
            SheetCut { panel: corner, axis: Axis::X, at: 93 },
        ],
        rests: vec![Rect { x: 63, y: 23, dx: 37, dy: 27 }, Rect { x: 96, y: 0, dx: 4, dy: 20 }],
    };
    assert_eq!(replay(&problem, &good), Ok(10));
    type Fault = (&'static str, fn(&mut LayoutProblem, &mut Layout));
    let breaks: [Fault; 9] = [
        ("no such panel", |_, l| l.cuts.swap(0, 1)),
        ("no such panel", |_, l| l.cuts[0].at = 61),
        ("misses", |_, l| l.cuts[2].at = 100),
        ("may not be turned", |_, l| l.pieces[1].turned = true),
        ("unaccounted", |_, l| l.rests.truncate(1)),
        ("of piece 1", |p, _| p.pieces[1].most = 0),
        ("said 11", |_, l| l.worth = 11),
        ("after stage 3", |p, _| p.stages.trim = false),
        ("too narrow", |p, _| p.least_rip = 21),
    ];
    for (what, fault) in breaks {
        let (mut p, mut l) = (problem.clone(), good.clone());
        fault(&mut p, &mut l);
        let said = replay(&p, &l).expect_err("a broken layout");
        assert!(said.contains(what), "{said} should say {what}");
    }
}
