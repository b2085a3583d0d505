//! Pockets beside the wheel wells: clear, under a lid, and only for gear that may live there.

use super::case::Case;
use super::fault::{Fault, Place};
use super::layout::Space;
use super::parting;
use crate::design::{Box3, Content, Pocket, PocketPlace, Role, Solid};
use crate::scenario::Family;
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    for (index, pocket) in case.design.pockets.iter().enumerate() {
        let place = Place::Pocket(pocket.place);
        let earlier = &case.design.pockets[..index];
        if earlier.iter().any(|other| other.place == pocket.place) {
            faults.push(Fault::PocketTwice { place: place.clone() });
        }
        let by = blocked(case, pocket);
        if by.is_positive() {
            faults.push(Fault::PocketNotClear { place: place.clone(), by });
        }
        if !offered(case) || !lidded(case, pocket) {
            faults.push(Fault::NoPocket { place: place.clone() });
        }
        let space = Space { case, place, plan: &pocket.plan };
        space.size(pocket.space.size, faults);
        space.items(faults);
        space.dividers(None, faults);
        parting::check(&space, faults);
        for item in &pocket.plan.items {
            let may = match item.content {
                Content::Gear(id) => case.scenario.gear[id].pocket,
                Content::Loose(_) => false,
            };
            if !may {
                let (place, item) = (space.place.clone(), space.name(item));
                faults.push(Fault::NotForPockets { place, item });
            }
        }
    }
}

/// Pockets are wanted, there are wells, and no full-width tier covers them.
fn offered(case: &Case<'_>) -> bool {
    case.scenario.choices.pockets
        && case.scenario.bed.wells.is_some()
        && case.design.structure.family == Family::BetweenWells
}

/// A lid lies over the whole of the pocket's space.
fn lidded(case: &Case<'_>, pocket: &Pocket) -> bool {
    let (at, far) = (pocket.space.at, pocket.space.far());
    case.solids_of(Role::Lid).any(|(_, lid)| {
        let (low, high) = (lid.space.at, lid.space.far());
        low.x <= at.x && low.y <= at.y && high.x >= far.x && high.y >= far.y && low.z >= far.z
    })
}

/// How far a pocket's space reaches beyond what is clear, less the allowance on every side: between wall and chest, and
/// between tailgate or front wall and well; below, the floor; above, everything placed over it.
fn blocked(case: &Case<'_>, pocket: &Pocket) -> Length {
    let bed = &case.scenario.bed;
    let gap = case.scenario.allowances.pocket;
    let Some(wells) = &bed.wells else { return Length::ZERO };
    let (rear, left) = match pocket.place {
        PocketPlace::LeftRear => (true, true),
        PocketPlace::LeftFront => (false, true),
        PocketPlace::RightRear => (true, false),
        PocketPlace::RightFront => (false, false),
    };
    let tiers = case.tiers();
    let chest = (
        tiers.iter().map(|frame| frame.x).min().unwrap_or_default(),
        tiers.iter().map(|frame| frame.x + frame.width).max().unwrap_or_default(),
    );
    let x = if left { [Length::ZERO, chest.0] } else { [chest.1, bed.width.at] };
    let y = if rear {
        [Length::ZERO, wells.from_tailgate]
    } else {
        [wells.from_tailgate + wells.length, bed.length.at]
    };
    let (at, far) = (pocket.space.at, pocket.space.far());
    let beyond = [
        x[0] + gap - at.x,
        far.x + gap - x[1],
        y[0] + gap - at.y,
        far.y + gap - y[1],
        -at.z,
        far.z + gap - bed.clear_height.at,
    ];
    let by = beyond.into_iter().max().unwrap_or_default();
    by.max(into_pieces(case, pocket.space, gap))
}

/// How far the space, grown by the allowance upward, reaches into a placed piece.
fn into_pieces(case: &Case<'_>, space: Box3, gap: Length) -> Length {
    let mut grown = space;
    grown.size.dz += gap;
    let own =
        |solid: &&Solid| solid.drawer.is_none() && case.part(solid.part).role == Role::Divider;
    let solids = case.design.solids.iter().filter(|solid| !own(solid));
    let shared = solids.filter_map(|solid| {
        let [dx, dy, dz] = super::solids::common(grown, solid.space)?;
        Some(dx.min(dy).min(dz))
    });
    shared.max().unwrap_or_default()
}
