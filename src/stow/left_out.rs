//! What is not stowed, and why: what spaces there are for a thing, and how it may stand in them.

use super::pose::Posed;
use crate::design::geometry::Box3;
use crate::design::{Carcass, Content, LeftOut, TierFrame, Unstowed};
use crate::scenario::{Place, Scenario};
use crate::units::Length;

/// Every class with copies that were not placed.
pub fn left_out(posed: &Posed<'_>, scenario: &Scenario, placed: &[u32]) -> Vec<Unstowed> {
    let classes = posed.problem.classes.iter().zip(&posed.contents).zip(placed);
    classes
        .filter(|((class, _), placed)| **placed < class.count)
        .map(|((class, content), placed)| Unstowed {
            content: *content,
            count: class.count - placed,
            why: why(posed, scenario, *content),
        })
        .collect()
}

/// A space, or a thing with the room around it, as width, length and height.
pub type Extents = [Length; 3];

/// The spaces that might take a thing: each tier's widest possible drawer of those where it may stand, and the pockets if
/// it may live there.
pub fn spaces(
    scenario: &Scenario,
    carcass: &Carcass,
    pockets: &[Box3],
    content: Content,
) -> Vec<Extents> {
    let place = place_of(scenario, content);
    let drawers = carcass.tiers.iter().enumerate().filter_map(|(tier, frame)| {
        let place = place.unwrap_or_default();
        let width = |column| scenario.decided.width(tier, column);
        let widest = (0..frame.columns)
            .filter(|column| match place.column.map(|at| at.among(frame.columns)) {
                None => true,
                Some(only) => only == Some(*column),
            })
            .map(|column| width(column).unwrap_or_else(|| free_width(scenario, tier, frame)))
            .max();
        let widest = widest.filter(|_| place.allows(tier, frame.columns))?;
        Some([widest, frame.drawer_inside_length, frame.clear_height])
    });
    let may = matches!(content, Content::Gear(id) if scenario.gear[id].pocket) && place.is_none();
    let pockets = pockets.iter().filter(|_| may);
    let pockets = pockets.map(|space| [space.size.dx, space.size.dy, space.size.dz]);
    drawers.chain(pockets).collect()
}

/// How wide a drawer of free width may be, the others being as narrow as they may.
fn free_width(scenario: &Scenario, tier: usize, frame: &TierFrame) -> Length {
    let least = scenario.allowances.least_drawer_width;
    let all = (0..frame.columns).map(|column| scenario.decided.width(tier, column));
    frame.inside_width() + least - all.map(|width| width.unwrap_or(least)).sum::<Length>()
}

fn place_of(scenario: &Scenario, content: Content) -> Option<Place> {
    match content {
        Content::Gear(id) => scenario.gear[id].place,
        Content::Loose(id) => scenario.loose[id].place,
    }
}

/// Every way a thing may stand, with the room around it.
pub fn padded_stances(scenario: &Scenario, content: Content) -> Vec<Extents> {
    match content {
        Content::Gear(id) => {
            let gear = &scenario.gear[id];
            let pad = gear.padding;
            let padded = |[x, y, z]: Extents| [x + pad * 2, y + pad * 2, z + pad];
            gear.stances().into_iter().map(padded).collect()
        }
        Content::Loose(id) => vec![[scenario.loose[id].least; 3]],
    }
}

fn why(posed: &Posed<'_>, scenario: &Scenario, content: Content) -> LeftOut {
    let stances = padded_stances(scenario, content);
    let pockets: Vec<Box3> = posed.places.iter().map(|(_, space)| *space).collect();
    let pairs: Vec<(Extents, Extents)> = spaces(scenario, posed.carcass, &pockets, content)
        .into_iter()
        .flat_map(|space| stances.iter().map(move |stance| (*stance, space)))
        .collect();
    let too_high = pairs.iter().map(|(stance, space)| stance[2] - space[2]).min();
    let too_large = pairs
        .iter()
        .filter(|(stance, space)| stance[2] <= space[2])
        .map(|(stance, space)| (stance[0] - space[0]).max(stance[1] - space[1]))
        .min();
    match (too_high, too_large) {
        (Some(by), _) if by.is_positive() => LeftOut::TooHigh { by },
        (_, Some(by)) if by.is_positive() => LeftOut::TooLarge { by },
        _ => LeftOut::NoRoom,
    }
}
