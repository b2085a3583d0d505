//! What the vehicle must bear: payload, tailgate, axles.

use super::weights::Weights;
use super::{Figure, Kind, Subject};
use crate::design::Check;
use crate::design::derive::carcass::lowest_moving_edge;
use crate::mechanics::axles;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{Kilograms, Metres};

/// The share of the load by which the front axle may be relieved (assumption).
const FRONT_RELIEF: f64 = 0.1;

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let all =
        [payload(scenario, weights), tailgate(scenario, subject), front_axle(scenario, weights)];
    all.into_iter().flatten().collect()
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
