//! A hard pull at the handle: the applied front's screws, and the corners of the box behind it. And whether handle and lock
//! find room in it.
//!
//! - Inputs: the applied front, the sides, the drawers' screws, the corner blocks if there are any.
//! - Formula: withdrawal from the front's own grain, NDS 12.2.2; screws across the corners by the yield equations, 12.3, two thirds
//!   of that in end grain, which counts for nothing in withdrawal, 12.5.2; a block holds what its weaker screw does.
//!   What is let in by told sizes leaves wood to the boards' edges, to screws, to each other and to the rods (plane geometry).
//! - Limit: the most that a person should pull (HSE RR228) times road shock, for a jerk; 6 mm of wood (an assumption).
//! - Sentence: which of both holds least, on how many screws, and what the blocks take.

#[cfg(test)]
mod tests;

use super::pull::formula as pull;
use super::{Extending, Figure, Kind};
use crate::design::derive::fastening::{LEAST_RIM, front_room};
use crate::design::{Check, Remark, Role, Sense};
use crate::mechanics::checks::fastened::THREAD;
use crate::mechanics::screw;
use crate::units::physics::{Force, Metres};

/// Screws that hold an applied front, as the hardware counts them.
const FRONT_SCREWS: f64 = 4.0;

impl Extending<'_> {
    /// A hard pull at the handle: the applied front's screws, and the front board's at the corners, whichever holds less.
    pub(super) fn front(&self) -> Option<Check> {
        let structure = self.subject.structure;
        let sides = self.material(structure.sides);
        let applied = self.material(structure.front);
        let yank = pull::MOST * self.engineering().road_shock;
        let own = self.drawer_screw(sides, applied);
        // The thread that the applied front is thick enough for.
        let thread = Metres::from(applied.thickness) / THREAD;
        let face = if applied.is_board() { 1.0 } else { 2.0 * screw::PLYWOOD_EDGE_SHARE };
        let front = own.withdrawal() * (FRONT_SCREWS * thread.min(1.0) * face);
        let fastening = self.subject.fixings.drawer.fastening;
        let board = Metres::from(self.frame.side_height);
        let corner = crate::design::derive::hardware::screws(self.frame.side_height, fastening);
        let per_corner = f64::from(corner.max(2));
        let joint = self.drawer_screw(sides, sides);
        let ends = joint.lateral() * (2.0 * per_corner * screw::END_GRAIN_SHARE);
        let blocks = self.blocks();
        let corners = ends + blocks;
        let holds = front.min(corners);
        let least = if front < corners { "the applied front's screws" } else { "the corners" };
        self.piece(Role::AppliedFront)?;
        let figure = Figure {
            value: yank.in_newtons(),
            limit: holds.in_newtons(),
            sense: Sense::Most,
            unit: "N",
        };
        Some(figure.named(
            format!("front of {}, pulled", self.drawer.name),
            Kind::Strength,
            "NDS 12.2.2, 12.3 and 12.5.2 (C_eg 0.67, end grain counts for nothing in withdrawal), C_D 1.6",
            remark!(
                pull::MOST,
                format!(
                    " times {} for a jerk (assumption); {least} hold least, {per_corner:.0} screws a corner on ",
                    self.engineering().road_shock
                ),
                board,
            )
            .and(match blocks > Force::ZERO {
                true => remark!(", corner blocks take ", blocks, "; there are no cleats"),
                false => Remark::default(),
            }),
        ))
    }

    /// The wood left around a handle and a lock that tell how they are let in.
    pub(super) fn let_in(&self) -> Option<Check> {
        let least = front_room(self.scenario, self.subject, self.index)?;
        let figure = Figure::at_least(least.to_mm(), LEAST_RIM.to_mm(), "mm");
        Some(figure.named(
            format!("wood around what is let into the front of {}", self.drawer.name),
            Kind::Duty,
            "plane geometry (derived); least wood (assumption)",
            "to the edges of both boards, to screws, between handle and lock and to the lock's rods, at its least",
        ))
    }

    /// What the two front corner blocks take of a pull: each has one screw through the front board, drawn out of its side
    /// grain, and one through the side, across it; whichever holds less.
    fn blocks(&self) -> Force {
        let Some(square) = self.scenario.choices.corner_blocks else { return Force::ZERO };
        let sides = self.material(self.subject.structure.sides);
        let screw = self.drawer_screw(sides, self.material(square));
        screw.withdrawal().min(screw.lateral()) * 2.0
    }
}
