//! Handles, locks and rods re-checked: what is let into a front lies whole in its boards, clear of their edges, of each other and
//! of every screw, and nothing is in the way of the rods behind it.

use super::WorkFault;
use crate::design::work::{HoleKind, Piece, PieceId, Plane, Row, Side, WorkPlan};
use crate::design::{Box3, Design, Point, Role};
use crate::scenario::{Plate, Scenario};
use crate::units::Length;

/// Less wood than this does not hold (an assumption).
const LEAST: Length = Length::mm(6);
/// How far a screw through bottom or side reaches into the front board (an assumption).
const REACH: Length = Length::mm(20);

/// A stretch across the chest and one up.
#[derive(Debug, Clone, Copy)]
struct Opening {
    x: (Length, Length),
    z: (Length, Length),
}

impl Opening {
    fn of(space: Box3) -> Self {
        Self { x: (space.at.x, space.far().x), z: (space.at.z, space.far().z) }
    }

    fn point(at: Point) -> Self {
        Self { x: (at.x, at.x), z: (at.z, at.z) }
    }

    fn grown(self, by: Length) -> Self {
        Self { x: (self.x.0 - by, self.x.1 + by), z: (self.z.0 - by, self.z.1 + by) }
    }

    fn within(self, all: Self) -> bool {
        all.x.0 <= self.x.0 && self.x.1 <= all.x.1 && all.z.0 <= self.z.0 && self.z.1 <= all.z.1
    }

    fn meets(self, other: Self) -> bool {
        let over = |a: (Length, Length), b: (Length, Length)| a.0 < b.1 && b.0 < a.1;
        over(self.x, other.x) && over(self.z, other.z)
    }
}

pub(super) fn check(
    scenario: &Scenario,
    design: &Design,
    work: &WorkPlan,
    faults: &mut Vec<WorkFault>,
) {
    let shop = Shop { scenario, design, work };
    for (index, row) in work.rows.iter().enumerate() {
        match row.kind {
            HoleKind::Handle | HoleKind::Lock => faults.extend(shop.let_in(index, row)),
            HoleKind::Rod => faults.extend(shop.rod(index, row)),
            HoleKind::RodMate => faults.extend(shop.mate(index, row)),
            _ => {}
        }
    }
}

struct Shop<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    work: &'a WorkPlan,
}

impl<'a> Shop<'a> {
    fn role(&self, piece: &Piece) -> Role {
        self.design.part(piece.part).role
    }

    fn mark(&self, piece: &Piece) -> String {
        self.design.part(piece.part).mark.clone()
    }

    /// The holes of a row in the bed's frame.
    fn places(&self, row: &'a Row) -> impl Iterator<Item = Point> + 'a {
        let piece = *self.work.piece(row.piece);
        let role = self.role(&piece);
        let place = move |hole: &[Length; 2]| {
            piece.space.map(|space| Plane::of(role, space).place(space, *hole, row.side))
        };
        row.holes.iter().filter_map(place)
    }

    /// What the handle or the lock that is bought asks for around its middle.
    fn plate(&self, kind: HoleKind) -> Plate {
        let line = self.design.hardware.iter().find(|line| Some(line.use_) == kind.takes());
        let bought = line.and_then(|line| line.hardware);
        bought
            .and_then(|id| self.scenario.stock.hardware.get(id))
            .map_or_else(Plate::default, |hardware| hardware.plate)
    }

    /// The opening of a handle or lock, and each of its screws, around one of its middles.
    fn openings(&self, kind: HoleKind, at: Point) -> Vec<Opening> {
        let plate = self.plate(kind);
        let cut = plate.cut_out.map(|[wide, high]| Opening {
            x: (at.x - wide / 2, at.x - wide / 2 + wide),
            z: (at.z - high / 2, at.z - high / 2 + high),
        });
        let screws = plate.screws.into_iter().flat_map(|[across, up]| {
            let ends = |apart: Length| [Length::ZERO - apart / 2, apart - apart / 2];
            let mut all: Vec<[Length; 2]> =
                ends(across).into_iter().flat_map(|x| ends(up).map(|z| [x, z])).collect();
            all.dedup();
            all.into_iter().map(|[x, z]| Opening::point(Point::new(at.x + x, at.y, at.z + z)))
        });
        cut.into_iter().chain(screws).collect()
    }

    /// What is wrong with what is let into a front: too near an edge, or each row that it meets.
    fn let_in(&self, index: usize, row: &'a Row) -> Vec<WorkFault> {
        let own: Vec<Opening> =
            self.places(row).flat_map(|at| self.openings(row.kind, at)).collect();
        let front = self.work.piece(row.piece);
        let of_drawer = |role: Role| {
            let is = move |piece: &&Piece| self.role(piece) == role && piece.drawer == front.drawer;
            self.work.pieces.iter().filter(is)
        };
        // It goes through both boards.
        for board in of_drawer(Role::DrawerFront).chain([front]) {
            let Some(space) = board.space else { continue };
            if !own.iter().all(|own| own.grown(LEAST).within(Opening::of(space))) {
                return vec![WorkFault::CutOutEdge { row: index, part: self.mark(board) }];
            }
        }
        let cut = self.plate(row.kind).cut_out.is_some();
        let mut faults = Vec::new();
        for (number, other) in self.work.rows.iter().enumerate() {
            let piece = self.work.piece(other.piece);
            if number == index || piece.drawer != front.drawer {
                continue;
            }
            let into = other.into.map(|into| self.role(self.work.piece(into)));
            let met = match (other.kind, self.role(piece)) {
                (HoleKind::Handle | HoleKind::Lock, _) => {
                    let openings = self.places(other).flat_map(|at| self.openings(other.kind, at));
                    openings.collect()
                }
                (HoleKind::Rod, _) if cut && row.kind == HoleKind::Handle => self.rods(other),
                (_, Role::DrawerFront | Role::AppliedFront) => {
                    self.places(other).map(Opening::point).collect()
                }
                // Up into the front board; only what is sawn out so low would meet it.
                (_, Role::DrawerBottom) if into == Some(Role::DrawerFront) => {
                    self.reaching_up(other).collect()
                }
                (_, Role::Side) if into == Some(Role::DrawerFront) => {
                    self.reaching_in(other).collect()
                }
                _ => Vec::new(),
            };
            if met.iter().any(|met| own.iter().any(|own| own.grown(LEAST).meets(*met))) {
                let (part, other) = (self.mark(front), number);
                faults.push(WorkFault::CutOutMeets { row: index, part, other });
            }
        }
        faults
    }

    /// Screws from below in the board that stands on the bottom.
    fn reaching_up(&self, row: &'a Row) -> impl Iterator<Item = Opening> + 'a {
        let top = row.into.and_then(|into| self.work.piece(into).space).map(|space| space.at.z);
        self.places(row).filter_map(move |at| {
            Some(Opening { x: (at.x, at.x), z: (at.z, top? + REACH - LEAST) })
        })
    }

    /// Screws through a side into the end of the front board.
    fn reaching_in(&self, row: &'a Row) -> impl Iterator<Item = Opening> + 'a {
        let board = row.into.and_then(|into| self.work.piece(into).space);
        let side = row.side;
        self.places(row).filter_map(move |at| {
            let board = board?;
            let x = match side {
                Side::Left => (board.at.x, board.at.x + REACH - LEAST),
                _ => (board.far().x - REACH + LEAST, board.far().x),
            };
            Some(Opening { x, z: (at.z, at.z) })
        })
    }

    /// The line of a drawer's rods as far as its opening is wide.
    fn rods(&self, row: &'a Row) -> Vec<Opening> {
        let half = self.scenario.engineering.lock_rod / 2;
        let opening = |at: Point| {
            let drawer = self.work.piece(row.piece).drawer?;
            let whole = self.design.drawers.get(drawer)?.opening;
            let x = (whole.at.x, whole.far().x);
            Some(Opening { x, z: (at.z - half, at.z + half) })
        };
        self.places(row).filter_map(opening).collect()
    }

    /// A rod runs straight from its lock through both sides, and no board of its drawer stands in its way.
    fn rod(&self, index: usize, row: &'a Row) -> Option<WorkFault> {
        let piece = self.work.piece(row.piece);
        let part = self.mark(piece);
        let astray = || Some(WorkFault::RodAstray { row: index, part: part.clone() });
        let same = |other: &&Row| self.work.piece(other.piece).drawer == piece.drawer;
        let others: Vec<&Row> = self.work.rows.iter().filter(same).collect();
        let half = self.scenario.engineering.lock_rod / 2;
        for at in self.places(row) {
            let level = |other: &Row| self.places(other).all(|one| one.z == at.z);
            let straight = |other: &&&Row| match other.kind {
                HoleKind::Lock => !level(other),
                HoleKind::Rod => !level(other) || self.places(other).any(|one| one.y != at.y),
                _ => false,
            };
            if self.role(piece) != Role::Side || others.iter().any(|other| straight(&other)) {
                return astray();
            }
            let in_the_way = |(id, one): (PieceId, &Piece)| {
                let space = one.space?;
                let over = |from: Length, to: Length, middle: Length| {
                    from < middle + half && middle - half < to
                };
                let hit = id != row.piece
                    && one.drawer == piece.drawer
                    && self.role(one) != Role::Side
                    && over(space.at.y, space.far().y, at.y)
                    && over(space.at.z, space.far().z, at.z);
                hit.then(|| self.mark(one))
            };
            let mut all = (0..).map(PieceId).zip(&self.work.pieces);
            if let Some(by) = all.find_map(in_the_way) {
                return Some(WorkFault::RodBlocked { row: index, part, by });
            }
            let near = |own: &&Row| {
                own.piece == row.piece
                    && !std::ptr::eq(*own, row)
                    && self.places(own).any(|one| {
                        one.y.abs_diff(at.y).max(one.z.abs_diff(at.z)) < half + Length::mm(2)
                    })
            };
            if others.iter().any(near) {
                return astray();
            }
        }
        None
    }

    /// A rod's tip is expected where a rod comes out of a side beside it.
    fn mate(&self, index: usize, row: &'a Row) -> Option<WorkFault> {
        let piece = self.work.piece(row.piece);
        let half = self.scenario.engineering.lock_rod / 2;
        let rods = self.work.rows.iter().filter(|other| other.kind == HoleKind::Rod);
        let tips: Vec<Point> = rods.flat_map(|rod| self.places(rod)).collect();
        let meets = |at: Point| tips.iter().any(|tip| (tip.y, tip.z) == (at.y, at.z));
        let whole = |hole: &[Length; 2]| {
            let Some(space) = piece.space else { return false };
            let extents = Plane::of(self.role(piece), space).extents(space);
            (0..2).all(|axis| half <= hole[axis] && hole[axis] <= extents[axis] - half)
        };
        let right = self.places(row).all(meets) && row.holes.iter().all(whole);
        (!right).then(|| WorkFault::RodAstray { row: index, part: self.mark(piece) })
    }
}
