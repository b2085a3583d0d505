//! A drawer's rows: its bottom to its boards, the boards to each other, blocks, applied front, lock, dividers.

use super::rods::{PLATE, RodPlace, rod_place};
use super::{Driller, Placed, along, at_least_two, common, middle, xs, ys};
use crate::design::derive::carcass::corner_block;
use crate::design::geometry::{Box3, Point};
use crate::design::parts::Role;
use crate::design::work::{HoleKind, PieceId, Side};
use crate::scenario::HardwareUse;
use crate::units::Length;

/// From the corner blocks (or the ends) to the screws of the applied front (an assumption).
const FRONT_INSET: Length = Length::inches(1, 1);

/// Wood left around what is let into a front (an assumption).
const RIM: Length = Length::inches(3, 8);

/// The boards of one box.
struct Boards {
    bottom: Placed,
    sides: [Placed; 2],
    front: Placed,
    back: Placed,
    guard: Option<Placed>,
    applied: Option<Placed>,
}

impl Driller<'_> {
    /// Every row of one drawer.
    pub(super) fn drawer(&mut self, index: usize) {
        let Some(boards) = self.boards(index) else { return };
        self.under(&boards);
        self.corners(&boards);
        self.blocks(index, &boards);
        self.front(index, &boards);
        self.lock(index, &boards);
        self.dividers(index, boards.bottom);
    }

    fn boards(&self, index: usize) -> Option<Boards> {
        let first = |role| self.placed(role, Some(index)).into_iter().next();
        let mut sides = self.placed(Role::Side, Some(index));
        sides.sort_by_key(|side| side.space.at.x);
        let [left, right] = sides[..] else { return None };
        Some(Boards {
            bottom: first(Role::DrawerBottom)?,
            sides: [left, right],
            front: first(Role::DrawerFront)?,
            back: first(Role::DrawerBack)?,
            guard: first(Role::Guard),
            applied: first(Role::AppliedFront),
        })
    }

    /// The bottom from below to sides, front and back.
    fn under(&mut self, boards: &Boards) {
        let fastening = self.woods.fixings.drawer.fastening;
        let (step, bottom) = (self.step(), boards.bottom);
        let z = bottom.space.at.z;
        for side in boards.sides {
            let (from, to) = ys(side.space);
            let places = along(to - from, fastening, step);
            let x = middle(xs(side.space));
            let places = places.into_iter().map(|p| Point::new(x, from + p, z));
            self.row(bottom, Some(side.id), HoleKind::Drawer, Side::Under, places);
        }
        for board in [boards.front, boards.back] {
            let (from, to) = xs(board.space);
            let places = along(to - from, fastening, step);
            let y = middle(ys(board.space));
            let places = places.into_iter().map(|p| Point::new(from + p, y, z));
            self.row(bottom, Some(board.id), HoleKind::Drawer, Side::Under, places);
        }
    }

    /// The sides into the ends of front, back and guard.
    fn corners(&mut self, boards: &Boards) {
        let fastening = self.woods.fixings.drawer.fastening;
        for (side, face) in boards.sides.into_iter().zip([Side::Left, Side::Right]) {
            for board in [Some(boards.front), Some(boards.back), boards.guard].into_iter().flatten()
            {
                let y = middle(ys(board.space));
                let places = at_least_two(board.space.size.dz, fastening, self.step());
                let at = side.space.at;
                let places = places.into_iter().map(|p| Point::new(at.x, y, at.z + p));
                self.row(side, Some(board.id), HoleKind::Drawer, face, places);
            }
        }
    }

    /// Into each corner block one screw through the side and one through front or back, at a third and at two thirds of the
    /// height, so that they miss each other and the rod between them.
    fn blocks(&mut self, index: usize, boards: &Boards) {
        let leg = corner_block(self.scenario);
        let blocks: Vec<PieceId> = (0..)
            .map(PieceId)
            .zip(self.pieces)
            .filter(|(_, piece)| {
                piece.drawer == Some(index)
                    && self.woods.parts[piece.part.0 as usize].role == Role::CornerBlock
            })
            .map(|(id, _)| id)
            .collect();
        // One length gives two blocks: the first length those in front, the second those behind.
        let [front, back] = blocks[..] else { return };
        let height = boards.front.space.size.dz;
        // To the shop's step: nobody can mark a third.
        let [low, high] = [height / 3, height * 2 / 3].map(|z| z.floor_to(self.step()));
        for (side, face) in boards.sides.into_iter().zip([Side::Left, Side::Right]) {
            let at = side.space.at;
            let ends = [
                (front, boards.front.space.far().y + leg / 2),
                (back, boards.back.space.at.y - leg / 2),
            ];
            for (block, y) in ends {
                let place = Point::new(at.x, y, at.z + low);
                self.row(side, Some(block), HoleKind::Block, face, [place]);
            }
        }
        for (board, block, face) in
            [(boards.front, front, Side::Front), (boards.back, back, Side::Rear)]
        {
            let (from, to) = xs(board.space);
            let z = board.space.at.z + high;
            let places = [from + leg / 2, to - leg / 2].map(|x| Point::new(x, board.space.at.y, z));
            self.row(board, Some(block), HoleKind::Block, face, places);
        }
    }

    /// Four screws from inside into the applied front; handle in the middle of it.
    fn front(&mut self, index: usize, boards: &Boards) {
        let Some(applied) = boards.applied else { return };
        let space = boards.front.space;
        let (from, to) = xs(space);
        let inset = (corner_block(self.scenario) + FRONT_INSET).min((to - from) / 4);
        let quarter = (space.size.dz / 4).floor_to(self.step());
        let heights = [space.at.z + quarter, space.far().z - quarter];
        let places: Vec<Point> = heights
            .into_iter()
            .flat_map(|z| [from + inset, to - inset].map(|x| Point::new(x, space.far().y, z)))
            .collect();
        self.row(boards.front, Some(applied.id), HoleKind::Front, Side::Rear, places);
        let front = applied.space;
        let rods = rod_place(self.scenario, self.woods, &self.woods.drawers[index]);
        let lock = self.scenario.choices.locks.then_some(rods.z);
        let handle = self.handle(boards.front.space, front, lock);
        self.row(applied, None, HoleKind::Handle, Side::Front, [handle]);
        if let Some(z) = lock {
            let lock = Point::new(middle(xs(front)), front.at.y, z);
            self.row(applied, None, HoleKind::Lock, Side::Front, [lock]);
        }
    }

    /// The handle's middle: under or over the lock, where there is more room; beside it where its plate has room in neither.
    fn handle(&self, board: Box3, front: Box3, lock: Option<Length>) -> Point {
        let x = middle(xs(front));
        let [[wide, high], [lock_wide, lock_high]] =
            [HardwareUse::Handle, HardwareUse::Lock].map(|use_| self.largest(use_));
        // Both are let through the front board too, which stands on the drawer's bottom.
        let (low, top) = (board.at.z + RIM + high / 2, board.far().z - RIM - high / 2);
        let z_within =
            |z: Length| if high.is_positive() && low <= top { z.clamp(low, top) } else { z };
        let Some(z) = lock else {
            return Point::new(x, front.at.y, z_within(front.at.z + front.size.dz / 2));
        };
        let clear = lock_high / 2 + RIM + high / 2;
        let (below, above) = (z - front.at.z, front.far().z - z);
        let wanted = if below >= above {
            z_within(front.at.z + (below / 2).min(PLATE))
        } else {
            z_within(z + above / 2)
        };
        let (under, over) = (z - clear, z + clear);
        if !high.is_positive() && !lock_high.is_positive() {
            Point::new(x, front.at.y, wanted)
        } else if below >= above && low <= under {
            Point::new(x, front.at.y, wanted.min(under))
        } else if over <= top {
            Point::new(x, front.at.y, wanted.max(over))
        } else if low <= under {
            Point::new(x, front.at.y, wanted.min(under))
        } else {
            let aside = (lock_wide / 2 + RIM + wide / 2).ceil_to(self.step());
            Point::new(x - aside, front.at.y, z_within(z))
        }
    }

    /// Width and height that the largest handle or lock that is listed takes of a front.
    fn largest(&self, use_: HardwareUse) -> [Length; 2] {
        let listed = self.scenario.stock.hardware_for(use_);
        listed
            .map(|(_, hardware)| hardware.plate.extents())
            .fold([Length::ZERO; 2], |known, own| [known[0].max(own[0]), known[1].max(own[1])])
    }

    /// The rod's hole through both sides, behind the front board, and where its tips meet the members.
    fn lock(&mut self, index: usize, boards: &Boards) {
        if !self.scenario.choices.locks {
            return;
        }
        let RodPlace { y, z, .. } =
            rod_place(self.scenario, self.woods, &self.woods.drawers[index]);
        let opening = self.woods.drawers[index].opening;
        let members = self.placed(Role::Member, None);
        for (side, face) in boards.sides.into_iter().zip([Side::Left, Side::Right]) {
            let place = Point::new(side.space.at.x, y, z);
            self.row(side, None, HoleKind::Rod, face, [place]);
            let member = members.iter().find(|member| {
                let space = member.space;
                let beside = match face {
                    Side::Left => space.far().x == opening.at.x,
                    _ => space.at.x == opening.far().x,
                };
                beside && space.at.z <= z && z < space.far().z
            });
            if let Some(member) = member.copied() {
                let face = if face == Side::Left { Side::Right } else { Side::Left };
                self.row(member, None, HoleKind::RodMate, face, [place]);
            }
        }
    }

    /// Two screws from below into each divider.
    fn dividers(&mut self, index: usize, bottom: Placed) {
        let fastening = self.woods.fixings.drawer.fastening;
        for divider in self.placed(Role::Divider, Some(index)) {
            let space = divider.space;
            let across = space.size.dx >= space.size.dy;
            let (Some(x), Some(y)) =
                (common(xs(space), xs(bottom.space)), common(ys(space), ys(bottom.space)))
            else {
                continue;
            };
            let (from, to) = if across { x } else { y };
            let places = at_least_two(to - from, fastening, self.step());
            let z = bottom.space.at.z;
            let places = [places[0], places[places.len() - 1]].map(|p| {
                if across {
                    Point::new(from + p, middle(y), z)
                } else {
                    Point::new(middle(x), from + p, z)
                }
            });
            self.row(bottom, Some(divider.id), HoleKind::Divider, Side::Under, places);
        }
    }
}
