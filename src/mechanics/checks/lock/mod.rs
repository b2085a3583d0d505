//! Rods that a turning plate throws through the drawer's sides into the members.
//!
//! - Inputs: the plate's pin radius r, the rod d, the drawer's width, side gap and side thickness, the members.
//! - Formula: plane geometry of [`formula::RodThroughHole`]: a quarter turn throws the rod by √(X²+r²) − (X−r); of that the gap and
//!   3 mm back inside the side's face are lost, the rest enters the member. Holes of two drawers in one member must not meet:
//!   where they would, every second column's lock stands higher. A rod holds the least of shear, bending across the gap and the
//!   wood's bearing. The guard board stands across the drawer behind the lock's room, as high as the sides.
//! - Limit: 12 mm or two diameters in the member; the plate's circle inside the guarded room; the drawer at 0.5 g (49 CFR 393.102).
//! - Sentence: throw, length, tilt, slot, where the holes go; what gives way first.

pub mod formula;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::fastened::gravity;
use super::weights::Weights;
use super::{Figure, Kind, Subject, worst};
use crate::design::derive::fastening::rod_place;
use crate::design::{Check, Drawer};
use crate::mechanics::lumber::Duration;
use crate::mechanics::restraint::Direction;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{Force, Metres, Stress};
use formula::{
    MILD_STEEL_YIELD, RodThroughHole, bending_yield, engagement_wanted, shear_yield, slot_height,
};

/// Retracted, the tip stands so far inside the side's outer face (assumption).
const RETRACTED: Metres = Metres::of(0.003);
/// Play of a rod in its slot (assumption).
const PLAY: Metres = Metres::of(0.001);
/// What is taken off bearing strengths: R_d of mode I along the grain (NDS 2018, table 12.3.1B, from memory).
const BEARING_REDUCTION: f64 = 4.0;

/// A drawer's lock: what to drill where. Lengths in the bed's frame, every drawer shut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lock {
    /// The rods' length from the plate's pin to the tip.
    pub rod: Metres,
    /// How far the rods move.
    pub throw: Metres,
    /// How deep they enter the members.
    pub engagement: Metres,
    /// The greatest tilt in degrees.
    pub tilt: f64,
    /// Height of the slot in the drawer's side.
    pub slot: Metres,
    /// y of the rods' line.
    pub y: Length,
    /// z of the plate's middle; the holes in the members are level with it.
    pub z: Length,
}

/// The lock of a drawer as the scenario's plate and rods make it.
pub fn lock(scenario: &Scenario, subject: &Subject<'_>, drawer: &Drawer) -> Lock {
    let frame = &subject.chest.carcass.tiers[drawer.tier];
    let engineering = &scenario.engineering;
    let (radius, rod) = (Metres::from(engineering.lock_radius), Metres::from(engineering.lock_rod));
    let side_thick = scenario.stock.materials[subject.structure.sides].thickness;
    let (side, gap) = (Metres::from(side_thick), Metres::from(frame.side_gap));
    // From the plate's middle to the inner face of the drawer's side.
    let hole = (Metres::from(drawer.outside.size.dx) / 2.0 - side).max(radius * 1.001);
    let thrown = RodThroughHole { radius, hole, length: hole };
    let throw = thrown.projection(0.0) - thrown.projection(90.0);
    let place = rod_place(scenario, subject, drawer);
    let reach = throw - gap - RETRACTED;
    let engagement = reach.min(Metres::from(place.deepest));
    let length = hole - radius + side + gap + engagement;
    let (tilt, _) = thrown.greatest_tilt();
    Lock {
        rod: length,
        throw,
        engagement: engagement.max(Metres::ZERO),
        tilt,
        slot: slot_height(rod, side, tilt) + PLAY,
        y: place.y,
        z: place.z,
    }
}

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    if !scenario.choices.locks {
        return Vec::new();
    }
    let drawers = || subject.drawers.iter().enumerate();
    let entered = drawers().map(|(_, drawer)| enters(scenario, subject, drawer));
    let held = drawers().map(|(index, drawer)| {
        let weight = weights.drawers[index].mass().weight();
        holds(scenario, subject, drawer, weight * Direction::Rearward.breaking())
    });
    let room = drawers().map(|(_, drawer)| room(scenario, subject, drawer));
    [worst(entered), worst(room), worst(held)].into_iter().flatten().collect()
}

/// How deep the rods enter.
fn enters(scenario: &Scenario, subject: &Subject<'_>, drawer: &Drawer) -> Check {
    let lock = lock(scenario, subject, drawer);
    let wanted = engagement_wanted(Metres::from(scenario.engineering.lock_rod));
    let figure = Figure::at_least(lock.engagement.in_millimetres(), wanted.in_millimetres(), "mm");
    figure.named(
        format!("lock rods of {} in the members", drawer.name),
        Kind::Note,
        remark!(
            "plane geometry (derived); ",
            Metres::millimetres(12.0),
            " or two diameters (assumption)"
        ),
        remark!(
            "throw ",
            lock.throw,
            " in a quarter turn of pins ",
            Metres::from(scenario.engineering.lock_radius),
            " out (assumption); rods ",
            lock.rod,
            format!(" long tilt by {:.1}°: slots ", lock.tilt),
            lock.slot,
            " high; holes ",
            Metres::from(lock.y),
            " from the closed tailgate or hatch, ",
            Metres::from(lock.z),
            " above the floor",
        ),
    )
}

/// The plate with its rods swings inside the drawer's front.
fn room(scenario: &Scenario, subject: &Subject<'_>, drawer: &Drawer) -> Check {
    let frame = &subject.chest.carcass.tiers[drawer.tier];
    let engineering = &scenario.engineering;
    let needs = (engineering.lock_radius + engineering.lock_rod) * 2;
    Figure::at_least(frame.side_height.to_mm(), needs.to_mm(), "mm").named(
        format!("height for the lock of {}", drawer.name),
        Kind::Note,
        "the plate's circle (derived)",
        remark!(
            "inside the sides, where the guard board keeps gear off it, ",
            Metres::from(scenario.allowances.lock_room),
            " deep",
        ),
    )
}

/// What two rods hold.
fn holds(scenario: &Scenario, subject: &Subject<'_>, drawer: &Drawer, push: Force) -> Check {
    let lock = lock(scenario, subject, drawer);
    let rod = Metres::from(scenario.engineering.lock_rod);
    let frame = &subject.chest.carcass.tiers[drawer.tier];
    let member = &scenario.stock.materials[subject.structure.tiers[drawer.tier].member];
    // Along the grain, 11 200·G psi (NDS 2018, table 12.3.3 note, from memory).
    let bearing = Stress::psi(11_200.0 * gravity(member)) / BEARING_REDUCTION;
    let wood = bearing * (rod * lock.engagement) * Duration::TenMinutes.factor();
    let steel = MILD_STEEL_YIELD * formula::STEEL_SHARE;
    let arm = Metres::from(frame.side_gap) + lock.engagement / 2.0;
    let (shear, bends) = (shear_yield(rod, steel), bending_yield(rod, steel, arm));
    let (one, what) =
        [(wood, "the wood's bearing"), (shear, "shear"), (bends, "bending over the gap")]
            .into_iter()
            .min_by(|a, b| a.0.in_newtons().total_cmp(&b.0.in_newtons()))
            .unwrap_or((wood, "the wood's bearing"));
    let figure = Figure::at_most(push.in_newtons(), (one * 2.0).in_newtons(), "N");
    figure.named(
        format!("lock of {}, starting off", drawer.name),
        Kind::Strength,
        "49 CFR 393.102, 0.5 g; A36 steel at 0.6 of yield; NDS 12.3 bearing, R_d 4 (from memory)",
        remark!(
            "two rods of ",
            rod,
            format!(
                " (assumption), {what} gives way first; it slows a thief and is no security rating"
            ),
        ),
    )
}
