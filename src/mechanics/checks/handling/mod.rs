//! Who can lift what, and whether the chest goes in whole.
//!
//! - Inputs: every part's mass and length, the chest's mass without its drawers, the tailgate or hatch opening.
//! - Formula: volume times density; the wider and the higher side against the opening.
//! - Limit: the load constant of the revised NIOSH lifting equation, 23 kg (51 lb), for one person, which a bent reach over a
//!   tailgate lowers; a sheet's length to carry alone (assumption); the opening.
//! - Sentence: which part it is; whether the chest is carried and slid in whole or must be put together in the bed.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::weights::Weights;
use super::{Figure, Kind, Subject};
use crate::design::{Check, Remark};
use crate::scenario::Scenario;
use crate::units::physics::{Kilograms, Metres};

/// The load constant of the revised NIOSH lifting equation, unless the scenario gives another.
fn lift() -> Remark {
    remark!("NIOSH 94-110, load constant ", Kilograms::of(23.0), ", unless given")
}

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let mut checks: Vec<Check> = heaviest(scenario, subject).into_iter().collect();
    checks.extend(longest(scenario, subject));
    checks.push(carcass(scenario, weights));
    checks.extend(opening(scenario, subject));
    checks
}

/// The heaviest single part.
fn heaviest(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let mass = |part: &&crate::design::Part| {
        scenario.stock.materials[part.material].mass_of(part.length.by(part.width))
    };
    let part = subject.parts.iter().max_by_key(mass)?;
    let (found, limit) = (mass(&part).to_kg(), scenario.engineering.lift.to_kg());
    Some(Figure::at_most(found, limit, "kg").named(
        "heaviest part, one person".into(),
        Kind::Note,
        lift(),
        remark!(format!("part {}", part.mark)),
    ))
}

/// The longest single part.
fn longest(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let part = subject.parts.iter().max_by_key(|part| part.length.max(part.width))?;
    let found = part.length.max(part.width);
    let limit = scenario.engineering.carry;
    Some(Figure::at_most(found.to_mm(), limit.to_mm(), "mm").named(
        "longest part, one person".into(),
        Kind::Note,
        "a sheet's length (assumption), unless given",
        remark!(format!("part {}", part.mark)),
    ))
}

/// The chest without its drawers, carried by two.
fn carcass(scenario: &Scenario, weights: &Weights) -> Check {
    let each = weights.fixed.mass() / 2.0;
    let limit = Kilograms::from(scenario.engineering.lift);
    Figure::at_most(each.in_kilograms(), limit.in_kilograms(), "kg").named(
        "chest without drawers, two persons".into(),
        Kind::Note,
        lift(),
        remark!(
            weights.fixed.mass(),
            " in all; beyond the limit assemble it in the vehicle or lift with more"
        ),
    )
}

/// Whether the chest is slid in whole past the tailgate or hatch opening, or must be put together in the bed: its wider or higher
/// side against what there is.
fn opening(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let bed = &scenario.bed;
    let (room_wide, room_high) = match &bed.opening {
        Some(opening) => (opening.width, opening.height),
        None => (bed.width.at, bed.clear_height.at),
    };
    let carcass = &subject.chest.carcass;
    let widest = carcass.tiers.iter().map(|tier| tier.width).max()?;
    let high = carcass.top_z - carcass.lift;
    let tight = |size, room| Metres::from(size) / Metres::from(room);
    let (size, room, which) = match tight(widest, room_wide) > tight(high, room_high) {
        true => (widest, room_wide, "width"),
        false => (high, room_high, "height"),
    };
    let figure = Figure::at_most(size.to_mm(), room.to_mm(), "mm");
    let how = match size <= room {
        true => "it is slid in whole, without its drawers",
        false => "it does not pass: put it together in the bed",
    };
    let (source, measure) = match bed.opening {
        Some(_) => ("opening as measured", ""),
        None => (
            "no opening is given: as wide and high as the bed is measured (assumption)",
            "; measure the opening, which may be narrower than the bed",
        ),
    };
    Some(figure.named(
        "chest through the opening".into(),
        Kind::Note,
        source,
        remark!(format!("its {which} is tightest; {how}{measure}")),
    ))
}
