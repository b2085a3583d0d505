//! The spaces beside the chest, before and behind the wheel wells.

use crate::design::drawer::PocketPlace;
use crate::design::geometry::{Box3, Point, Size};
use crate::design::structure::{Carcass, Structure};
use crate::scenario::{Family, Scenario};
use crate::units::Length;

/// The clear spaces of the pockets that are worth a lid: two wells leave four. None beside a full-width tier, which
/// covers them.
pub fn pockets(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
) -> Vec<(PocketPlace, Box3)> {
    let (Some(wells), Family::BetweenWells, true) =
        (&scenario.bed.wells, structure.family, scenario.choices.pockets)
    else {
        return Vec::new();
    };
    let bed = &scenario.bed;
    let gap = scenario.allowances.pocket;
    let chest_x = carcass.tiers.iter().map(|tier| tier.x).min().unwrap_or(Length::ZERO);
    let beside = [
        (PocketPlace::LeftRear, PocketPlace::LeftFront, Length::ZERO),
        (PocketPlace::RightRear, PocketPlace::RightFront, bed.width.at - chest_x),
    ];
    let well_end = wells.from_tailgate + wells.length;
    let lid = scenario.stock.materials[structure.deck].thickness;
    let mut found = Vec::new();
    for (rear, front, x) in beside {
        for (place, from, to) in
            [(rear, Length::ZERO, wells.from_tailgate), (front, well_end, bed.length.at)]
        {
            let size = Size::new(chest_x - gap * 2, to - from - gap * 2, carcass.top_z - lid - gap);
            let least = scenario.allowances.least_pocket;
            if size.dx >= least && size.dy >= least && size.dz >= least {
                found.push((
                    place,
                    Box3 { at: Point::new(x + gap, from + gap, Length::ZERO), size },
                ));
            }
        }
    }
    found
}
