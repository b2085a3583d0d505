//! The assembly re-checked: everything once, nothing before it is there, every screw within reach.

use std::collections::BTreeSet;

use super::WorkFault;
use crate::design::work::{HoleKind, PieceId, Plane, Row, Side, WorkPlan};
use crate::design::{Box3, Design, Point, Size};
use crate::units::Length;

/// Room that a driver needs before a screw: a short one (common practice, no source).
const DRIVER: Length = Length::inches(4, 1);

pub(super) fn check(design: &Design, work: &WorkPlan, faults: &mut Vec<WorkFault>) {
    once(work, faults);
    if !faults.is_empty() {
        return;
    }
    let mut present: Vec<BTreeSet<PieceId>> = Vec::with_capacity(work.steps.len());
    for (index, step) in work.steps.iter().enumerate() {
        let mut here: BTreeSet<PieceId> = step.pieces.iter().copied().collect();
        step.joins.iter().for_each(|joined| here.extend(present[*joined].iter().copied()));
        for row in &step.rows {
            let (number, row) = (*row, &work.rows[*row]);
            let there = here.contains(&row.piece) && row.into.is_none_or(|id| here.contains(&id));
            if !there {
                faults.push(WorkFault::NotThereYet { step: index, row: number });
            } else if let Some(by) = in_the_way(design, work, row, &here) {
                faults.push(WorkFault::OutOfReach { step: index, row: number, by });
            }
        }
        present.push(here);
    }
}

/// Every piece and every row belongs to one step; every step but the last is joined once, by a later one.
fn once(work: &WorkPlan, faults: &mut Vec<WorkFault>) {
    let mut pieces = vec![0_u32; work.pieces.len()];
    let mut rows = vec![0_u32; work.rows.len()];
    let mut joined = vec![0_u32; work.steps.len()];
    for (index, step) in work.steps.iter().enumerate() {
        let mut count = |list: &mut Vec<u32>, at: usize| match list.get_mut(at) {
            Some(times) => *times += 1,
            None => faults.push(WorkFault::NoSuch { what: "piece or row", index: at as u64 }),
        };
        step.pieces.iter().for_each(|id| count(&mut pieces, id.0 as usize));
        step.rows.iter().for_each(|row| count(&mut rows, *row));
        for earlier in &step.joins {
            if *earlier >= index {
                faults.push(WorkFault::NoSuch { what: "earlier step", index: *earlier as u64 });
            } else {
                joined[*earlier] += 1;
            }
        }
    }
    for (piece, times) in pieces.into_iter().enumerate().filter(|(_, times)| *times != 1) {
        faults.push(WorkFault::PieceUsed { piece, times });
    }
    for (row, times) in rows.into_iter().enumerate().filter(|(_, times)| *times != 1) {
        faults.push(WorkFault::RowUsed { row, times });
    }
    joined.pop();
    for (step, times) in joined.into_iter().enumerate().filter(|(_, times)| *times != 1) {
        faults.push(WorkFault::StepJoined { step, times });
    }
}

/// What keeps a driver from a row's screws, among what is on the bench; drawers can be taken out of the chest and the chest
/// be looked at without them.
fn in_the_way(
    design: &Design,
    work: &WorkPlan,
    row: &Row,
    here: &BTreeSet<PieceId>,
) -> Option<String> {
    if !(row.kind.joins() || matches!(row.kind, HoleKind::Strip | HoleKind::HoldDown)) {
        return None;
    }
    let piece = work.piece(row.piece);
    let space = piece.space?;
    let plane = Plane::of(design.part(piece.part).role, space);
    let blocks = |other: &PieceId, at: Point| {
        let other_piece = work.piece(*other);
        *other != row.piece
            && other_piece.drawer == piece.drawer
            && other_piece.space.is_some_and(|space| reaches(space, at, row.side))
    };
    row.holes.iter().find_map(|hole| {
        let at = plane.place(space, *hole, row.side);
        let other = here.iter().find(|other| blocks(other, at))?;
        Some(design.part(work.piece(*other).part).mark.clone())
    })
}

/// Whether a box stands in the line of a driver before a point on a face.
fn reaches(space: Box3, at: Point, side: Side) -> bool {
    let zero = Length::ZERO;
    let line = match side {
        Side::Left => {
            Box3 { at: Point { x: at.x - DRIVER, ..at }, size: Size::new(DRIVER, zero, zero) }
        }
        Side::Right => Box3 { at, size: Size::new(DRIVER, zero, zero) },
        Side::Front => {
            Box3 { at: Point { y: at.y - DRIVER, ..at }, size: Size::new(zero, DRIVER, zero) }
        }
        Side::Rear => Box3 { at, size: Size::new(zero, DRIVER, zero) },
        Side::Under => {
            Box3 { at: Point { z: at.z - DRIVER, ..at }, size: Size::new(zero, zero, DRIVER) }
        }
        Side::Top => Box3 { at, size: Size::new(zero, zero, DRIVER) },
    };
    let (a, b) = (line.far(), space.far());
    let meets = |from: Length, to: Length, start: Length, end: Length| {
        if from == to { start < from && from < end } else { from < end && start < to }
    };
    meets(line.at.x, a.x, space.at.x, b.x)
        && meets(line.at.y, a.y, space.at.y, b.y)
        && meets(line.at.z, a.z, space.at.z, b.z)
}
