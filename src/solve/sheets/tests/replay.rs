//! A saw of its own: takes a plan apart cut by cut and checks it against the problem. It shares
//! no code with the engine.

use super::*;
use std::collections::BTreeMap;

/// What is wrong with a plan, if anything.
pub(super) fn replay(problem: &SheetProblem, plan: &SheetPlan) -> Result<(), String> {
    let mut used = vec![0u32; problem.sheets.len()];
    let mut made = vec![0u32; problem.parts.len()];
    for (n, sheet) in plan.sheets.iter().enumerate() {
        used[sheet.sheet] += 1;
        one_sheet(problem, sheet).map_err(|e| format!("sheet {n}: {e}"))?;
        for piece in &sheet.pieces {
            made[piece.part] += 1;
        }
    }
    for (part, p) in problem.parts.iter().enumerate() {
        if made[part] != p.count {
            return Err(format!("part {part}: {} cut, {} asked", made[part], p.count));
        }
    }
    for (sheet, s) in problem.sheets.iter().enumerate() {
        if s.limit.is_some_and(|l| used[sheet] > l) {
            return Err(format!("{} of sheet {sheet}", used[sheet]));
        }
    }
    Ok(())
}

fn one_sheet(problem: &SheetProblem, sheet: &CutSheet) -> Result<(), String> {
    let given = &problem.sheets[sheet.sheet];
    let whole = Rect { x: 0, y: 0, dx: given.width, dy: given.height };
    // Panels at hand, each with the stages that made it, as often as it is there.
    let mut panels: BTreeMap<Rect, Vec<Made>> = BTreeMap::from([(whole, vec![(0, None)])]);
    for cut in &sheet.cuts {
        let made = take(&mut panels, cut.panel).map_err(|e| format!("{cut:?}: {e}"))?;
        let p = cut.panel;
        let (first, behind) = match cut.axis {
            Axis::X => {
                let end = cut.at + problem.kerf;
                (Rect { dx: cut.at - p.x, ..p }, Rect { x: end, dx: p.x + p.dx - end, ..p })
            }
            Axis::Y => {
                let end = cut.at + problem.kerf;
                (Rect { dy: cut.at - p.y, ..p }, Rect { y: end, dy: p.y + p.dy - end, ..p })
            }
        };
        if first.dx <= 0 || first.dy <= 0 || first.dx > p.dx || first.dy > p.dy {
            return Err(format!("{cut:?} leaves nothing before the blade"));
        }
        if first == p {
            return Err(format!("{cut:?} misses the panel"));
        }
        for panel in [first, behind] {
            if panel.dx > 0 && panel.dy > 0 {
                panels.entry(panel).or_default().push(after(problem, made, cut.axis));
            }
        }
    }
    for piece in &sheet.pieces {
        let part = &problem.parts[piece.part];
        if piece.turned && !part.turn {
            return Err(format!("{piece:?} may not be turned"));
        }
        let (dx, dy) =
            if piece.turned { (part.height, part.width) } else { (part.width, part.height) };
        let (stage, _) = take(&mut panels, Rect { x: piece.x, y: piece.y, dx, dy })
            .map_err(|e| format!("{piece:?}: {e}"))?;
        let Stages { most, trim, .. } = problem.stages;
        if most.is_some_and(|most| stage > most + u8::from(trim)) {
            return Err(format!("{piece:?} after stage {stage}"));
        }
    }
    for rest in &sheet.rests {
        take(&mut panels, *rest).map_err(|e| format!("rest {rest:?}: {e}"))?;
    }
    if panels.is_empty() { Ok(()) } else { Err(format!("unaccounted for: {panels:?}")) }
}

/// The stage that a panel came from and its axis.
type Made = (u8, Option<Axis>);

fn after(problem: &SheetProblem, made: Made, axis: Axis) -> Made {
    let (stage, before) = made;
    let passed = before.is_none() && problem.stages.first.is_some_and(|first| first != axis);
    (stage + u8::from(before != Some(axis)) + u8::from(passed), Some(axis))
}

fn take(panels: &mut BTreeMap<Rect, Vec<Made>>, panel: Rect) -> Result<Made, String> {
    let alike = panels.get_mut(&panel).ok_or("no such panel")?;
    let made = alike.pop().ok_or("no such panel")?;
    if alike.is_empty() {
        panels.remove(&panel);
    }
    Ok(made)
}

#[test]
fn the_replayer_sees_each_fault() {
    let part = |width, height| SheetPart { width, height, count: 1, turn: false };
    let problem = SheetProblem {
        kerf: 3,
        sheets: vec![Sheet { width: 100, height: 50, price: 1, limit: None }],
        parts: vec![part(60, 50), part(30, 20)],
        keep: (1, 1),
        stages: Stages { most: Some(2), trim: true, first: None },
    };
    let whole = Rect { x: 0, y: 0, dx: 100, dy: 50 };
    let right = Rect { x: 63, y: 0, dx: 37, dy: 50 };
    let corner = Rect { x: 63, y: 0, dx: 37, dy: 20 };
    let good = SheetPlan {
        sheets: vec![CutSheet {
            sheet: 0,
            pieces: vec![
                PlacedPiece { part: 0, x: 0, y: 0, turned: false },
                PlacedPiece { part: 1, x: 63, y: 0, turned: false },
            ],
            cuts: vec![
                SheetCut { panel: whole, axis: Axis::X, at: 60 },
                SheetCut { panel: right, axis: Axis::Y, at: 20 },
                SheetCut { panel: corner, axis: Axis::X, at: 93 },
            ],
            rests: vec![Rect { x: 63, y: 23, dx: 37, dy: 27 }, Rect { x: 96, y: 0, dx: 4, dy: 20 }],
        }],
    };
    assert_eq!(replay(&problem, &good), Ok(()));
    let exact = Stages { trim: false, ..problem.stages };
    let said = replay(&SheetProblem { stages: exact, ..problem.clone() }, &good);
    assert!(said.is_err_and(|said| said.contains("after stage 3")));
    type Fault = (&'static str, fn(&mut CutSheet));
    let breaks: [Fault; 7] = [
        ("no such panel", |s| s.cuts.swap(0, 1)),
        ("no such panel", |s| s.cuts[0].at = 61),
        ("misses", |s| s.cuts[2].at = 100),
        ("may not be turned", |s| s.pieces[1].turned = true),
        ("unaccounted", |s| s.rests.truncate(1)),
        ("no such panel", |s| s.pieces[1].x = 64),
        ("0 cut, 1 asked", |s| {
            s.pieces.pop();
            s.rests.push(Rect { x: 63, y: 0, dx: 30, dy: 20 });
        }),
    ];
    for (what, fault) in breaks {
        let mut bad = good.clone();
        fault(&mut bad.sheets[0]);
        let said = replay(&problem, &bad).expect_err("a broken plan");
        assert!(said.contains(what), "{said} should say {what}");
    }
}
