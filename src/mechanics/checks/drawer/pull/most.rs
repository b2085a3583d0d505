//! How much gear a drawer may hold before it is too heavy to pull, known before anything is stowed.
//!
//! m = P/(μ·g), P the scenario's limit or HSE RR228's 20 kg-force, less what an empty drawer of the tier's mean width weighs
//! and what skew may add to the pull. Slides carry their rating at most.

use super::{Kind, formula, friction_of, pull_limit};
use crate::design::derive::hardware::slides_for;
use crate::design::{Carcass, Structure, TierFrame};
use crate::scenario::{MaterialId, Runs, Scenario};
use crate::units::Mass;
use crate::units::physics::{Density, Kilograms, Metres};

/// Share of the pull that is kept for the skew of a load to one side (assumption).
const SKEW: f64 = 0.05;

/// The most gear that a drawer of each tier should hold, so that one person can pull it and its slides carry it.
pub fn most_gear(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> Vec<Mass> {
    let (limit, _, _) = pull_limit(scenario);
    let mut most =
        formula::heaviest(limit * (1.0 - SKEW), friction_of(scenario, structure.runs).start);
    if structure.runs == Runs::Slides {
        let rated = |frame: &TierFrame| {
            scenario.stock.hardware[slides_for(scenario, frame.drawer_length)?].rating
        };
        let ratings = carcass.tiers.iter().filter_map(rated);
        most = ratings.map(Kilograms::from).fold(most, Kilograms::min);
    }
    let left = |frame: &TierFrame| (most - empty(scenario, structure, frame)).max(Kilograms::ZERO);
    carcass.tiers.iter().map(|frame| Mass::from_kg(left(frame).in_kilograms())).collect()
}

/// A check that is advice refuses what is beyond this many times its limit.
const REFUSED_AT: f64 = 3.0;

/// The most gear that the drawers of a tier can hold together: with more, one of them is too heavy to pull and the design refused,
/// however it is shared out. Of what they weigh themselves no more counts than drawers of any widths with the same clear insides and any
/// of the fronts do.
pub fn most_allowed(scenario: &Scenario, structure: &Structure, frame: &TierFrame) -> Mass {
    let (limit, _, kind) = pull_limit(scenario);
    let limit = if kind == Kind::Duty { limit } else { limit * REFUSED_AT };
    let each = formula::heaviest(limit, friction_of(scenario, structure.runs).start);
    let columns = f64::from(frame.columns);
    let wide = Metres::from(frame.inside_width());
    let long = Metres::from(frame.drawer_inside_length);
    let piece = |id: MaterialId, length: Metres, width: Metres| {
        let material = &scenario.stock.materials[id];
        let density = Density::kilograms_per_cubic_metre(material.density);
        length * width * (density * Metres::from(material.thickness))
    };
    let high = Metres::from(frame.side_height);
    let fronts = scenario.choices.fronts.iter();
    // A front is higher than the sides, which it hides.
    let fronts = fronts.map(|front| piece(*front, wide, high));
    let front = fronts.reduce(Kilograms::min).unwrap_or(Kilograms::ZERO);
    let wood = piece(structure.drawer_bottom, long, wide)
        + piece(structure.sides, long * (2.0 * columns) + wide * 2.0, high)
        + front;
    let all = (each * columns - wood).max(Kilograms::ZERO);
    // A gram for what rounding may take.
    Mass::from_kg(all.in_kilograms() + 0.001)
}

/// An empty drawer of the tier's mean width: bottom, sides, front, back, applied front.
fn empty(scenario: &Scenario, structure: &Structure, frame: &TierFrame) -> Kilograms {
    let wide = Metres::from(frame.openings_width) / f64::from(frame.columns.max(1));
    let (long, high) = (Metres::from(frame.drawer_length), Metres::from(frame.side_height));
    let piece = |id: MaterialId, length: Metres, width: Metres| {
        let material = &scenario.stock.materials[id];
        let density = Density::kilograms_per_cubic_metre(material.density);
        length * width * (density * Metres::from(material.thickness))
    };
    piece(structure.drawer_bottom, long, wide)
        + piece(structure.sides, (long + wide) * 2.0, high)
        + piece(structure.front, wide, Metres::from(frame.front_height))
}
