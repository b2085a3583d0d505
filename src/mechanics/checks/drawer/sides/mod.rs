//! A drawer's sides and its seams: drawn out, and pushed sideways.
//!
//! - Inputs: gear where it stands, how far the drawer is drawn out, the sides' section and strength, the drawers' screws.
//! - Formula: the box drawn out is a beam over the lip, M = Σ weight × arm of what stands outside; screws across the seam by the
//!   yield equations, NDS 12.3; on slides, screws in withdrawal from the sides, NDS 12.2.2.
//! - Limit: F_b·S of two boards on edge; what the seam's screws hold for ten minutes, at 0.5 g in a bend (49 CFR 393.102).
//! - Sentence: how far it is drawn out and how high the sides are; how much gear leans on how many screws.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::{Extending, Figure, Kind};
use crate::design::Check;
use crate::mechanics::checks::fastened::{THREAD, edgewise_strength};
use crate::mechanics::restraint::Direction;
use crate::mechanics::section::Rectangle;
use crate::units::physics::{Kilograms, Metres, Moment};

impl Extending<'_> {
    /// Bending of both sides over the lip, drawn out as far as its stop lets it.
    pub(super) fn sides(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let material = self.material(self.subject.structure.sides);
        // Parked: no road shock.
        let moment = self.moment_over_lip();
        let section = Rectangle {
            width: Metres::from(material.thickness),
            depth: Metres::from(self.frame.side_height),
        };
        let (stress, known) = edgewise_strength(material, self.frame.side_height);
        let limit = stress * section.section_modulus() * 2.0;
        let figure = Figure::at_most(moment.in_newton_metres(), limit.in_newton_metres(), "N·m");
        Some(figure.named(
            format!("drawer sides bending, {}", self.drawer.name),
            Kind::Guide,
            remark!("lever over the lip (derived); ").and(known),
            remark!("two sides ", section.depth, " high, drawn out by ", self.travel(),),
        ))
    }

    /// What stands outside, with its arm from the lip: gear where it stands, the box evenly.
    fn moment_over_lip(&self) -> Moment {
        let lip = self.travel();
        let front = Metres::from(self.drawer.outside.at.y);
        let mut moment = Moment::ZERO;
        for item in &self.drawer.plan.items {
            let space = item.space.moved(self.drawer.inside_at);
            let middle = Metres::from(space.at.y) + Metres::from(space.size.dy) / 2.0 - front;
            let mass = Kilograms::from(super::mass_of(self.scenario, item.content));
            moment = moment + mass.weight() * (lip - middle).max(Metres::ZERO);
        }
        let wood = (self.body.mass() - self.gear()).weight() / self.length();
        moment + wood * lip * (lip / 2.0)
    }

    /// On slides the bottom hangs from the sides by its screws.
    pub(super) fn bottom_screws(&self) -> Option<Check> {
        if !self.on_slides() {
            return None;
        }
        let count = 2.0 * self.per_side();
        let bottom = self.material(self.subject.structure.drawer_bottom);
        let screws = self.drawer_screw(bottom, self.material(self.subject.structure.sides));
        let load = self.gear().weight() * self.engineering().road_shock;
        let figure =
            Figure::at_most(load.in_newtons(), (screws.withdrawal() * count).in_newtons(), "N");
        Some(figure.named(
            format!("bottom screws of {}", self.drawer.name),
            Kind::Strength,
            screws.withdrawal_source(),
            remark!(
                format!("{count:.0} {}", screws.words()),
                THREAD,
                " of thread (assumption); on slides the bottom hangs from its sides",
            ),
        ))
    }

    /// Gear pushes a side outward in a bend: its screws into the bottom hold it.
    pub(super) fn side_seam(&self) -> Option<Check> {
        let count = self.per_side();
        let bottom = self.material(self.subject.structure.drawer_bottom);
        let screws = self.drawer_screw(bottom, self.material(self.subject.structure.sides));
        let push = self.gear().weight() * Direction::Sideways.breaking();
        let figure =
            Figure::at_most(push.in_newtons(), (screws.lateral() * count).in_newtons(), "N");
        Some(figure.named(
            format!("side seam of {}, in a bend", self.drawer.name),
            Kind::Strength,
            "49 CFR 393.102, 0.5 g; NDS 12.3 yield equations, C_D 1.6",
            remark!(
                self.gear(),
                format!(" of gear against one side, {count:.0} {}", screws.words()),
                THREAD,
                " of thread (assumption)",
            ),
        ))
    }

    /// Screws along one side's seam with the bottom.
    fn per_side(&self) -> f64 {
        let fastening = self.subject.fixings.drawer.fastening;
        f64::from(crate::design::derive::hardware::screws(self.drawer.outside.size.dy, fastening))
    }
}
