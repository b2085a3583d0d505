//! Counted hardware: screws by the length of seams, strip, handles, locks and the rest.

use super::build::Built;
use crate::design::parts::{HardwareLine, Need, Role, Solid};
use crate::design::structure::Structure;
use crate::scenario::{Fastening, Hardware, HardwareUse, Runs, Scenario, Sold};
use crate::units::{Area, Length, Money};

/// Brackets that carry one lid.
const BRACKETS_PER_LID: u32 = 4;
/// Screws that hold an applied front.
const FRONT_SCREWS: u32 = 4;
/// Strips under a drawer, and beside it.
const STRIPS_PER_DRAWER: i64 = 4;

/// Screws along a seam: the first and last at its ends' distance, no two farther apart than the spacing.
/// n = ⌈(L − 2·ends) ÷ spacing⌉ + 1, and one in a seam too short for two. Common practice, no source.
pub fn screws(seam: Length, fastening: Fastening) -> u32 {
    let between = seam - fastening.ends * 2;
    if !between.is_positive() {
        return 1;
    }
    let spaces = between.ceil_to(fastening.spacing).units() / fastening.spacing.units();
    u32::try_from(spaces + 1).unwrap_or(u32::MAX)
}

/// How many strips of `width` come out of `across`, a kerf between neighbours.
pub fn ripped_strips(across: Length, width: Length, kerf: Length) -> u32 {
    u32::try_from((across + kerf).units() / (width + kerf).units()).unwrap_or(u32::MAX)
}

/// Every use's line, in the order of [`HardwareUse`]; uses that a design does not have are left out.
pub fn hardware(scenario: &Scenario, structure: &Structure, built: &Built) -> Vec<HardwareLine> {
    needs(scenario, structure, built)
        .into_iter()
        .filter(|(_, need)| *need != Need::Count(0))
        .map(|(use_, need)| line(scenario, use_, need))
        .collect()
}

fn needs(scenario: &Scenario, structure: &Structure, built: &Built) -> Vec<(HardwareUse, Need)> {
    let drawers = u32::try_from(built.drawers.len()).unwrap_or(u32::MAX);
    let has = |wanted: Runs| structure.runs == wanted;
    let mut needs = vec![
        (HardwareUse::ChestScrew, Need::Count(chest_screws(built))),
        (HardwareUse::DrawerScrew, Need::Count(drawer_screws(scenario, built))),
    ];
    if has(Runs::Strip) {
        let length =
            built.drawers.iter().map(|drawer| drawer.opening.size.dy * STRIPS_PER_DRAWER).sum();
        needs.push((HardwareUse::Strip, Need::Length(length)));
    }
    if has(Runs::Slides) {
        needs.push((HardwareUse::Slides, Need::Count(drawers)));
    }
    if has(Runs::Waxed) {
        needs.push((HardwareUse::Wax, Need::Count(1)));
    }
    needs.push((HardwareUse::Handle, Need::Count(drawers)));
    if scenario.choices.locks {
        let rods = built.drawers.iter().map(|drawer| drawer.outside.size.dx).sum();
        needs.push((HardwareUse::Lock, Need::Count(drawers)));
        needs.push((HardwareUse::LockRod, Need::Length(rods)));
    }
    let floors: Area =
        built.drawers.iter().map(|drawer| drawer.inside.dx.by(drawer.inside.dy)).sum();
    let decks = solids_of(built, Role::Deck);
    let deck: Area = decks.iter().map(|solid| solid.space.size.dx.by(solid.space.size.dy)).sum();
    let edge: Length = decks.iter().map(|solid| solid.space.size.dx).sum();
    let lids = u32::try_from(built.pockets.len()).unwrap_or(u32::MAX);
    needs.extend([
        (HardwareUse::Carpet, Need::Area(floors)),
        (HardwareUse::Coating, Need::Area(deck)),
        (HardwareUse::Angle, Need::Length(edge)),
        (HardwareUse::HoldDown, Need::Count(built.fixings.hold_downs)),
        (HardwareUse::Bracket, Need::Count(lids.saturating_mul(BRACKETS_PER_LID))),
    ]);
    if scenario.stock.hardware_for(HardwareUse::Other).next().is_some() {
        needs.push((HardwareUse::Other, Need::Count(1)));
    }
    // A lining, coating or edge that the scenario does not list is not part of the design.
    needs.retain(|(use_, _)| {
        !is_optional(*use_) || scenario.stock.hardware_for(*use_).next().is_some()
    });
    needs
}

fn is_optional(use_: HardwareUse) -> bool {
    matches!(
        use_,
        HardwareUse::Carpet | HardwareUse::Coating | HardwareUse::Angle | HardwareUse::Wax
    )
}

fn solids_of(built: &Built, role: Role) -> Vec<&Solid> {
    built.solids.iter().filter(|solid| built.parts[solid.part.0 as usize].role == role).collect()
}

/// Every panel is screwed to each member it crosses and to the back; each back to its members' ends.
fn chest_screws(built: &Built) -> u32 {
    let fastening = built.fixings.chest.fastening;
    let frames = &built.chest.carcass.tiers;
    frames
        .iter()
        .map(|frame| {
            let members = frame.columns + 1;
            let along = screws(frame.inside_length, fastening) * members;
            let across = screws(frame.width, fastening);
            // Panel below and panel above, each along the members and across the back; two screws through the back into each
            // member's end.
            2 * (along + across) + 2 * members
        })
        .sum()
}

/// A drawer's bottom is screwed to its sides, front and back; the corners by their height, the guard by its ends,
/// the applied front by four.
fn drawer_screws(scenario: &Scenario, built: &Built) -> u32 {
    let fastening = built.fixings.drawer.fastening;
    built
        .drawers
        .iter()
        .map(|drawer| {
            let frame = &built.chest.carcass.tiers[drawer.tier];
            let bottom = 2 * screws(drawer.outside.size.dy, fastening)
                + 2 * screws(drawer.outside.size.dx, fastening);
            let corner = screws(frame.side_height, fastening).max(2);
            let guard = if scenario.choices.locks { 2 * corner } else { 0 };
            bottom + 4 * corner + guard + FRONT_SCREWS
        })
        .sum()
}

/// The cheapest hardware for a need; ties go to the one listed first. Where its thickness decides the drawers' sizes it is the one
/// listed first, as those were derived from it.
fn line(scenario: &Scenario, use_: HardwareUse, need: Need) -> HardwareLine {
    let best = scenario
        .stock
        .hardware_for(use_)
        .take(if sets_a_dimension(use_) { 1 } else { usize::MAX })
        .filter_map(|(id, hardware)| {
            let packages = packages(hardware, need, scenario.shop.kerf)?;
            let bought = packages.saturating_sub(hardware.on_hand);
            Some((hardware.price * i64::from(bought), id, packages))
        })
        .min();
    match best {
        Some((cost, id, packages)) => {
            HardwareLine { use_, hardware: Some(id), need, packages, cost }
        }
        None => HardwareLine { use_, hardware: None, need, packages: 0, cost: Money::ZERO },
    }
}

/// Whether the thickness of what is used is part of the geometry.
fn sets_a_dimension(use_: HardwareUse) -> bool {
    matches!(use_, HardwareUse::Strip | HardwareUse::Slides | HardwareUse::Carpet)
}

/// How many packages of `hardware` meet `need`; `None` if it is sold in another measure.
pub fn packages(hardware: &Hardware, need: Need, kerf: Length) -> Option<u32> {
    let whole = |need: i128, each: i128| u32::try_from((need + each - 1) / each.max(1)).ok();
    match (need, hardware.sold) {
        (Need::Count(count), Sold::Each { pack }) => whole(count.into(), pack.into()),
        (Need::Length(length), Sold::Length { length: each }) => {
            whole(length.units().into(), each.units().into())
        }
        (Need::Length(length), Sold::Ripped { across, along, width }) => {
            let strips = ripped_strips(across, width, kerf);
            (strips > 0).then_some(())?;
            whole(length.units().into(), i128::from(strips) * i128::from(along.units()))
        }
        (Need::Area(area), Sold::Cover { area: each }) => whole(area.units(), each.units()),
        // One thing for the whole of it: a tin, a kit.
        (_, Sold::Each { .. }) => Some(1),
        _ => None,
    }
}
