//! What is not stowed, and why.

use super::pose::Posed;
use crate::design::{Content, LeftOut, Unstowed};
use crate::scenario::Scenario;
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

/// The spaces that may take a thing, as width, length and height.
fn spaces(posed: &Posed<'_>, scenario: &Scenario, content: Content) -> Vec<[Length; 3]> {
    let may = matches!(content, Content::Gear(id) if scenario.gear[id].pocket);
    let drawers = posed.carcass.tiers.iter().map(|frame| {
        let others = scenario.allowances.least_drawer_width * (i64::from(frame.columns) - 1);
        [frame.inside_width() - others, frame.drawer_inside_length, frame.clear_height]
    });
    let pockets = posed
        .places
        .iter()
        .filter(|_| may)
        .map(|(_, space)| [space.size.dx, space.size.dy, space.size.dz]);
    drawers.chain(pockets).collect()
}

fn why(posed: &Posed<'_>, scenario: &Scenario, content: Content) -> LeftOut {
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
    let pairs: Vec<([Length; 3], [Length; 3])> = spaces(posed, scenario, content)
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
