//! A drawer's rows: its bottom to its boards, the boards to each other, blocks, applied front, lock, dividers.

use super::fronts::{Face, Places, block_heights};
use super::rods::{RodPlace, rod_place};
use super::{Driller, Placed, along, at_least_two, common, middle, xs, ys};
use crate::design::derive::carcass::corner_block;
use crate::design::geometry::Point;
use crate::design::parts::Role;
use crate::design::work::{HoleKind, PieceId, Side};

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
        let face = boards.applied.map(|applied| self.face(index, boards.front, applied));
        self.under(&boards, face.as_ref());
        self.corners(&boards);
        self.blocks(index, &boards);
        if let (Some(applied), Some((_, places))) = (boards.applied, face) {
            self.front(boards.front, applied, &places);
        }
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

    /// The bottom from below to sides, front and back; under the front, beside what is let into it.
    fn under(&mut self, boards: &Boards, face: Option<&(Face<'_>, Places)>) {
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
            let mut places = along(to - from, fastening, step);
            if let Some((face, let_in)) = face.filter(|_| board.id == boards.front.id) {
                places.iter_mut().for_each(|place| *place = face.beside(let_in, *place));
            }
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

    /// Into each corner block one screw through the side and one through front or back.
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
        let [low, high] = block_heights(height, self.step());
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
