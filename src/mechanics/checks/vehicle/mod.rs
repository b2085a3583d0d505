//! What the vehicle must bear: payload, axles, balance, the open tailgate's clearance.
//!
//! - Inputs: the mass and centre of everything ([`super::weights`]), payload, wheelbase, rear axle and what room each axle has.
//! - Formula: Σ m·r/Σ m; moments about the rear axle ([`axles`]).
//! - Limit: payload and axle room as given; a tenth of the load off the front axle; a twentieth of the bed's width beside its
//!   middle; the running clearance over the tailgate's highest place.
//! - Sentence: what is left of the payload, what each axle gets, where the centre of mass is.

pub mod axles;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::weights::Weights;
use super::{Figure, Kind, Subject};
use crate::design::Check;
use crate::design::derive::carcass::lowest_moving_edge;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{Kilograms, Metres};

/// The share of the load by which the front axle may be relieved (assumption).
const FRONT_RELIEF: f64 = 0.1;
/// How far beside the middle the centre of mass may lie, in bed widths (assumption).
const SIDEWAYS: f64 = 0.05;

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let mut all: Vec<Check> =
        [payload(scenario, weights), tailgate(scenario, subject), front_axle(scenario, weights)]
            .into_iter()
            .flatten()
            .collect();
    all.extend(axles_bear(scenario, weights));
    all.push(balance(scenario, weights));
    all
}

/// What chest and gear add to each axle, against what it may still bear.
fn axles_bear(scenario: &Scenario, weights: &Weights) -> Vec<Check> {
    let bed = &scenario.bed;
    let (Some(wheelbase), Some(axle)) = (bed.wheelbase, bed.rear_axle_from_tailgate) else {
        return Vec::new();
    };
    let all = weights.all();
    let added = axles::added(all.mass(), all.y() - Metres::from(axle), Metres::from(wheelbase));
    let one = |name: &str, load: Kilograms, room: Option<crate::units::Mass>| {
        let (load, room) = (load.max(Kilograms::ZERO), Kilograms::from(room?));
        let figure = Figure::at_most(load.in_kilograms(), room.in_kilograms(), "kg");
        let words = remark!("chest and gear where they stand, every drawer shut");
        Some(figure.named(name.into(), Kind::Duty, "statics (derived); room as given", words))
    };
    let front = one("load on the front axle", added.front, bed.front_axle_room);
    let rear = one("load on the rear axle", added.rear, bed.rear_axle_room);
    [front, rear].into_iter().flatten().collect()
}

/// The centre of mass beside the bed's middle.
fn balance(scenario: &Scenario, weights: &Weights) -> Check {
    let all = weights.all();
    let width = Metres::from(scenario.bed.width.at);
    let beside = all.x() - width / 2.0;
    let figure =
        Figure::at_most(beside.abs().in_millimetres(), (width * SIDEWAYS).in_millimetres(), "mm");
    figure.named(
        "balance sideways".into(),
        Kind::Note,
        "statics (derived); a twentieth of the bed's width (assumption)",
        remark!(
            "centre of mass ",
            beside.abs(),
            if beside < Metres::ZERO { " left" } else { " right" },
            " of the middle, ",
            all.y(),
            " from the closed tailgate or hatch, ",
            all.z(),
            " above the floor",
        ),
    )
}

/// Chest and gear against what the vehicle may still carry.
fn payload(scenario: &Scenario, weights: &Weights) -> Option<Check> {
    let limit = Kilograms::from(scenario.bed.payload?);
    let mass = weights.all().mass();
    let left = limit - mass;
    Some(Figure::at_most(mass.in_kilograms(), limit.in_kilograms(), "kg").named(
        "payload".into(),
        Kind::Duty,
        "payload as given",
        remark!("chest and gear; ", left, " left for people and everything else"),
    ))
}

/// The lowest moving edge over the open tailgate, where it stands highest. Taken from exact
/// lengths: the chest is lifted until this just holds.
fn tailgate(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let tailgate = scenario.bed.tailgate.as_ref()?;
    let moving = subject.solids.iter().filter(|solid| solid.drawer.is_some());
    let lowest = moving.map(|solid| solid.space.at.z).min()?;
    let travel = subject.chest.carcass.length;
    let highest = lowest_moving_edge(tailgate, travel, Length::ZERO);
    let (clearance, wanted) = (lowest - highest, scenario.allowances.running);
    Some(Figure::at_least(clearance.to_mm(), wanted.to_mm(), "mm").named(
        "tailgate clearance".into(),
        Kind::Duty,
        "rise and slope over the travel (derived); running clearance as given",
        remark!("lowest moving edge ", Metres::from(lowest), " above the floor"),
    ))
}

/// What chest and gear lift off the front axle, which steers.
fn front_axle(scenario: &Scenario, weights: &Weights) -> Option<Check> {
    let wheelbase = Metres::from(scenario.bed.wheelbase?);
    let axle = Metres::from(scenario.bed.rear_axle_from_tailgate?);
    if wheelbase <= Metres::ZERO {
        return None;
    }
    let all = weights.all();
    let ahead = all.y() - axle;
    let added = axles::added(all.mass(), ahead, wheelbase);
    let limit = all.mass() * FRONT_RELIEF;
    let lifted = (-added.front).max(Kilograms::ZERO);
    let figure = Figure::at_most(lifted.in_kilograms(), limit.in_kilograms(), "kg");
    Some(figure.named(
        "relief of front axle".into(),
        Kind::Advice,
        "statics (derived); a tenth of the load may lift off (assumption)",
        remark!(
            added.front,
            " on the front axle, ",
            added.rear,
            " on the rear; centre of mass ",
            ahead.abs(),
            if ahead < Metres::ZERO { " behind" } else { " ahead of" },
            " the rear axle; compare with the axles' ratings",
        ),
    ))
}
