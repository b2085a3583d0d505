//! A drawer's sides and its seams: drawn out, pushed sideways, pulled by its front.
//!
//! Sides: the box drawn out is a beam over the lip; M = Σ weight × arm of what stands outside, against F_b·S of two boards on
//! edge. Seams: screws across the load by the yield equations, 2/3 of that in end grain, which counts for nothing in
//! withdrawal; applied fronts by withdrawal from their own grain.

use super::{Extending, Figure, Kind};
use crate::design::{Check, Remark, Role, Sense};
use crate::mechanics::checks::fastened::{THREAD, edgewise_strength};
use crate::mechanics::restraint::Direction;
use crate::mechanics::section::Rectangle;
use crate::mechanics::{pull, screw};
use crate::scenario::{Hardware, HardwareUse};
use crate::units::physics::{Force, Kilograms, Metres, Moment};

/// Screws that hold an applied front, as the hardware counts them.
const FRONT_SCREWS: f64 = 4.0;

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
                true => remark!(", corner blocks take ", blocks),
                false => Remark::default(),
            }),
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

    /// What slides of their length are rated for.
    pub(super) fn slides(&self) -> Option<Check> {
        let slides = self.slides_used()?;
        let rating = Kilograms::from(slides.rating?);
        let figure = Figure::at_most(self.body.mass().in_kilograms(), rating.in_kilograms(), "kg");
        let words = match slides.slide {
            Some(length) => {
                remark!("drawer with its gear on a pair ", Metres::from(length), " long")
            }
            None => remark!(
                "drawer with its gear on a pair as long as it, ",
                self.length(),
                " (assumption: the scenario doesn't say for which length the rating is)",
            ),
        };
        Some(figure.named(
            format!("load on slides of {}", self.drawer.name),
            Kind::Strength,
            format!("rating of {}", slides.name),
            words,
        ))
    }

    /// Whether slides of the length that is rated go into the drawer's opening.
    pub(super) fn slides_fit(&self) -> Option<Check> {
        let slides = self.slides_used()?;
        let long = Metres::from(slides.slide?);
        let figure = Figure::at_most(long.in_millimetres(), self.length().in_millimetres(), "mm");
        Some(figure.named(
            format!("length of slides of {}", self.drawer.name),
            Kind::Duty,
            format!("length of {}", slides.name),
            remark!("the drawer comes out by ", long, " (full extension, assumption)"),
        ))
    }

    /// The slides it runs on.
    pub(super) fn slides_used(&self) -> Option<&Hardware> {
        if !self.on_slides() {
            return None;
        }
        let line = self.subject.hardware.iter().find(|line| line.use_ == HardwareUse::Slides)?;
        Some(&self.scenario.stock.hardware[line.hardware?])
    }
}
