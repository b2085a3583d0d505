//! Why a thing cannot be stowed: the dimension in which the nearest of its stances fails, and by how much.

use super::reason::{Dimension, Reason};
use crate::design::geometry::Box3;
use crate::design::{Carcass, Content};
use crate::scenario::Scenario;
use crate::units::Length;

/// A space with its width, length and height.
type Space = [Length; 3];

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
    let nearest = stances(scenario, content, &spaces)
        .into_iter()
        .flat_map(|(stance, space)| shortfall(stance, space))
        .min();
    match nearest {
        Some((by, dimension)) if by.is_positive() => {
            Reason::GearTooLarge { content, dimension, by }
        }
        _ => Reason::MustLeftOut { content, copies, proved },
    }
}

/// The spaces that might take it: each tier's widest possible drawer, and the pockets if it may live there.
fn spaces(
    scenario: &Scenario,
    carcass: &Carcass,
    pockets: &[Box3],
    content: Content,
) -> Vec<Space> {
    let least = scenario.allowances.least_drawer_width;
    let drawers = carcass.tiers.iter().map(|frame| {
        let others = least * (i64::from(frame.columns) - 1);
        [frame.inside_width() - others, frame.drawer_inside_length, frame.clear_height]
    });
    let may = matches!(content, Content::Gear(id) if scenario.gear[id].pocket);
    let beside =
        pockets.iter().filter(|_| may).map(|space| [space.size.dx, space.size.dy, space.size.dz]);
    drawers.chain(beside).collect()
}

/// Every stance of a thing, padded, with every space.
fn stances(scenario: &Scenario, content: Content, spaces: &[Space]) -> Vec<(Space, Space)> {
    let stances = match content {
        Content::Gear(id) => {
            let gear = &scenario.gear[id];
            let pad = gear.padding;
            gear.stances()
                .into_iter()
                .map(|[x, y, z]| [x + pad * 2, y + pad * 2, z + pad])
                .collect()
        }
        Content::Loose(id) => vec![[scenario.loose[id].least; 3]],
    };
    stances.iter().flat_map(|stance| spaces.iter().map(|space| (*stance, *space))).collect()
}

/// The dimension in which a stance fails most, with by how much; not positive if it goes in.
fn shortfall(stance: Space, space: Space) -> Option<(Length, Dimension)> {
    [Dimension::Width, Dimension::Length, Dimension::Height]
        .into_iter()
        .enumerate()
        .map(|(axis, dimension)| (stance[axis] - space[axis], dimension))
        .max()
}
