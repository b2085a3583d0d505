//! Holes re-checked: in their piece, in what they hold, enough of them, as many as are bought.

use super::WorkFault;
use crate::design::work::{HoleKind, Piece, PieceId, Plane, Row, Side, WorkPlan};
use crate::design::{Box3, Design, Need, Part, PartId, Point, Role};
use crate::scenario::{HardwareUse, Scenario};
use crate::units::Length;

/// No hole's middle is nearer to an edge of its piece than this: half a screw's shank (an assumption). Panels that meet on a
/// thin member leave each a quarter of its thickness.
const EDGE: Length = Length::mm(2);

pub(super) fn check(
    scenario: &Scenario,
    design: &Design,
    work: &WorkPlan,
    faults: &mut Vec<WorkFault>,
) {
    pieces(design, work, faults);
    if !faults.is_empty() {
        return;
    }
    let shop = Shop { scenario, design, work };
    for (index, row) in work.rows.iter().enumerate() {
        if let Some(fault) = shop.row(index, row) {
            faults.push(fault);
        }
    }
    if faults.is_empty() {
        shop.held(faults);
        shop.counts(faults);
    }
}

/// The pieces are the placed solids in their order, then as many more of each part as there are copies; rows lead to them.
fn pieces(design: &Design, work: &WorkPlan, faults: &mut Vec<WorkFault>) {
    let placed = work.pieces.iter().zip(&design.solids);
    let alike = placed.clone().count() == design.solids.len()
        && placed.into_iter().all(|(piece, solid)| {
            (piece.part, piece.space, piece.drawer) == (solid.part, Some(solid.space), solid.drawer)
        })
        && work.pieces[design.solids.len()..].iter().all(|piece| piece.space.is_none());
    if !alike {
        faults.push(WorkFault::Pieces);
    }
    for (index, part) in design.parts.iter().enumerate() {
        let id = PartId(u32::try_from(index).unwrap_or(u32::MAX));
        let count = work.pieces.iter().filter(|piece| piece.part == id).count() as u64;
        if count != u64::from(part.quantity) {
            let (part, wanted) = (part.mark.clone(), u64::from(part.quantity));
            faults.push(WorkFault::PieceCount { part, count, wanted });
        }
    }
    let known = |id: &PieceId| (id.0 as usize) < work.pieces.len();
    let parts = work.pieces.iter().all(|piece| (piece.part.0 as usize) < design.parts.len());
    let rows = work.rows.iter().all(|row| known(&row.piece) && row.into.iter().all(known));
    if !parts || !rows {
        faults.push(WorkFault::Pieces);
    }
}

struct Shop<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    work: &'a WorkPlan,
}

impl<'a> Shop<'a> {
    fn part(&self, piece: &Piece) -> &'a Part {
        self.design.part(piece.part)
    }

    /// The first thing that is wrong with a row.
    fn row(&self, index: usize, row: &Row) -> Option<WorkFault> {
        let piece = self.work.piece(row.piece);
        let part = self.part(piece).mark.clone();
        let Some(space) = piece.space else {
            return Some(WorkFault::HoleAstray { row: index, part });
        };
        let plane = Plane::of(self.part(piece).role, space);
        if row.holes.is_empty() || !plane.sides().contains(&row.side) {
            return Some(WorkFault::HoleAstray { row: index, part });
        }
        let extents = plane.extents(space);
        for hole in &row.holes {
            if (0..2).any(|i| hole[i] < EDGE || hole[i] > extents[i] - EDGE) {
                return Some(WorkFault::HoleEdge { row: index, part });
            }
        }
        let wide =
            |a: &[Length; 2], b: &[Length; 2]| (b[0] - a[0]).or_zero() + (b[1] - a[1]).or_zero();
        let asked = self.scenario.allowances.chest_screws.spacing;
        let spacing = asked.min(self.design.fixings.chest.fastening.spacing);
        let along_seam =
            row.kind == HoleKind::Toe || (row.kind == HoleKind::Chest && row.side != Side::Rear);
        let most = spacing + self.scenario.shop.step;
        if along_seam && row.holes.windows(2).any(|pair| wide(&pair[0], &pair[1]) > most) {
            return Some(WorkFault::Spacing { row: index, part });
        }
        match (row.kind.joins(), row.into) {
            (true, Some(into)) if self.holds(row, plane, space, self.work.piece(into)) => None,
            (false, None) => None,
            _ => Some(WorkFault::HoldsNothing { row: index, part }),
        }
    }

    /// Whether every screw of a row ends in the piece that it is to hold, a quarter of its thickness (less of the shop's step)
    /// from its faces or more.
    fn holds(&self, row: &Row, plane: Plane, space: Box3, into: &Piece) -> bool {
        let Some(other) = into.space else {
            let piece = self.work.piece(row.piece);
            return row.kind == HoleKind::Block
                && piece.drawer.is_some()
                && piece.drawer == into.drawer;
        };
        if row.kind == HoleKind::Toe {
            let touches = other.far().z == space.at.z || space.far().z == other.at.z;
            let over = |p: Point| other.at.y <= p.y && p.y <= other.far().y;
            let beside = space.at.x < other.far().x && other.at.x < space.far().x;
            return touches
                && beside
                && row.holes.iter().all(|hole| over(plane.place(space, *hole, row.side)));
        }
        let (gap, far) = match row.side {
            Side::Left => (other.at.x - space.far().x, Side::Right),
            Side::Right => (space.at.x - other.far().x, Side::Left),
            Side::Front => (other.at.y - space.far().y, Side::Rear),
            Side::Rear => (space.at.y - other.far().y, Side::Front),
            Side::Under => (other.at.z - space.far().z, Side::Top),
            Side::Top => (space.at.z - other.far().z, Side::Under),
        };
        // A divider stands on the lining.
        if gap < Length::ZERO || (gap.is_positive() && row.kind != HoleKind::Divider) {
            return false;
        }
        let thick = self.part(into).thickness;
        row.holes.iter().all(|hole| {
            let p = plane.place(space, *hole, far);
            let inside = |at: Length, from: Length, extent: Length| {
                let near = (at - from).min(from + extent - at);
                // Panels meet on a member within half a step of the shop of its middle; halves and quarters are rounded to whole
                // units: four of those make no difference that matters.
                let step = self.scenario.shop.step;
                let least = if extent == thick { thick - step } else { Length::ZERO };
                near * 4 + Length::from_units(16) >= least && near.units() >= 0
            };
            let x = inside(p.x, other.at.x, other.size.dx);
            let y = inside(p.y, other.at.y, other.size.dy);
            let z = inside(p.z, other.at.z, other.size.dz);
            match row.side {
                Side::Left | Side::Right => y && z,
                Side::Front | Side::Rear => x && z,
                Side::Under | Side::Top => x && y,
            }
        })
    }

    /// Every two pieces that lie on each other and are to hold together are joined by a row.
    fn held(&self, faults: &mut Vec<WorkFault>) {
        for (index, piece) in self.work.pieces.iter().enumerate() {
            for (other_index, other) in self.work.pieces.iter().enumerate().skip(index + 1) {
                let roles = [self.part(piece).role, self.part(other).role];
                let (Some(a), Some(b)) = (piece.space, other.space) else { continue };
                let together = piece.drawer == other.drawer
                    && (must_hold(roles[0], roles[1]) || must_hold(roles[1], roles[0]))
                    && touch(a, b);
                let id = |index: usize| PieceId(u32::try_from(index).unwrap_or(u32::MAX));
                let pair = [id(index), id(other_index)];
                let joined = |row: &Row| {
                    row.into
                        .is_some_and(|into| [row.piece, into] == pair || [into, row.piece] == pair)
                };
                if together && !self.work.rows.iter().any(joined) {
                    let [one, other] = [piece, other].map(|piece| self.part(piece).mark.clone());
                    faults.push(WorkFault::NotHeld { one, other });
                }
            }
        }
    }

    /// Holes that take a thing of the shopping list are as many as there are on it.
    fn counts(&self, faults: &mut Vec<WorkFault>) {
        for use_ in [
            HardwareUse::ChestScrew,
            HardwareUse::DrawerScrew,
            HardwareUse::HoldDown,
            HardwareUse::Bracket,
            HardwareUse::Handle,
            HardwareUse::Lock,
        ] {
            let rows = self.work.rows.iter().filter(|row| row.kind.takes() == Some(use_));
            let holes: u64 = rows.map(|row| row.holes.len() as u64).sum();
            let lines = self.design.hardware.iter().filter(|line| line.use_ == use_);
            let listed = lines.map(|line| match line.need {
                Need::Count(count) => u64::from(count),
                Need::Length(_) | Need::Area(_) => 0,
            });
            let listed: u64 = listed.sum();
            if holes != listed {
                faults.push(WorkFault::ScrewCount { use_, holes, listed });
            }
        }
    }
}

/// Whether the first of two touching pieces is screwed to the second.
fn must_hold(one: Role, other: Role) -> bool {
    use Role::*;
    match one {
        Bottom | Shelf | Deck => {
            matches!(other, Member | Back | Outrigger) && one != Bottom
                || matches!(other, Member | Back)
        }
        Back => other == Member,
        DrawerBottom => matches!(other, Side | DrawerFront | DrawerBack),
        Side => matches!(other, DrawerFront | DrawerBack | Guard),
        DrawerFront => other == AppliedFront,
        _ => false,
    }
}

/// Whether two boxes share a piece of face.
fn touch(a: Box3, b: Box3) -> bool {
    let (af, bf) = (a.far(), b.far());
    let axes =
        [(a.at.x, af.x, b.at.x, bf.x), (a.at.y, af.y, b.at.y, bf.y), (a.at.z, af.z, b.at.z, bf.z)];
    let meets = axes.iter().filter(|(from, to, start, end)| from == end || to == start).count();
    let overlaps = axes.iter().filter(|(from, to, start, end)| from < end && start < to).count();
    meets == 1 && overlaps == 2
}
