//! Why a thing cannot be stowed: the dimension in which the nearest of its stances fails, and by how much.

use itertools::Itertools;

use super::reason::{Dimension, Reason};
use crate::design::geometry::Box3;
use crate::design::{Carcass, Content};
use crate::scenario::Scenario;
use crate::stow::{Extents, padded_stances, spaces};
use crate::units::Length;

/// The reason why `copies` of `content` that must be stowed are not: too large for any space, or merely not placed.
pub fn unfit(
    scenario: &Scenario,
    carcass: &Carcass,
    pockets: &[Box3],
    content: Content,
    copies: u32,
    proved: bool,
) -> Reason {
    let spaces = spaces(scenario, carcass, pockets, content);
    let nearest = padded_stances(scenario, content)
        .into_iter()
        .cartesian_product(spaces)
        .filter_map(|(stance, space)| shortfall(stance, space))
        .min();
    match nearest {
        Some((by, dimension)) if by.is_positive() => {
            Reason::GearTooLarge { content, dimension, by }
        }
        _ => Reason::MustLeftOut { content, copies, proved },
    }
}

/// Why the first thing that was put where it cannot be, whatever else is stowed, cannot be there.
pub fn misplaced(scenario: &Scenario, carcass: &Carcass, pockets: &[Box3]) -> Option<Reason> {
    let gear = scenario.gear.iter().filter(|(_, one)| one.place.is_some());
    let loose = scenario.loose.iter().filter(|(_, one)| one.place.is_some());
    gear.map(|(id, _)| Content::Gear(id))
        .chain(loose.map(|(id, _)| Content::Loose(id)))
        .map(|content| unfit(scenario, carcass, pockets, content, 1, true))
        .find(|reason| matches!(reason, Reason::GearTooLarge { .. }))
}

/// The dimension in which a stance fails most, with by how much; not positive if it goes in.
fn shortfall(stance: Extents, space: Extents) -> Option<(Length, Dimension)> {
    [Dimension::Width, Dimension::Length, Dimension::Height]
        .into_iter()
        .enumerate()
        .map(|(axis, dimension)| (stance[axis] - space[axis], dimension))
        .max()
}
