//! Counted hardware: screws hole by hole, strip, handles, locks and the rest.

use super::build::Built;
use super::fastening::{Woods, rows};
use crate::design::cutting::{Purchase, PurchaseOf};
use crate::design::parts::{HardwareLine, Need, Role, Solid};
use crate::design::structure::Structure;
use crate::scenario::{Fastening, Hardware, HardwareId, HardwareUse, Runs, Scenario, Sold};
use crate::units::{Area, Length, Money};

/// Brackets that carry one lid.
const BRACKETS_PER_LID: u32 = 4;
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
        .map(|(use_, need)| line(scenario, use_, need, drawer_length(built)))
        .collect()
}

/// How long the drawers are; they are all alike.
fn drawer_length(built: &Built) -> Length {
    built.drawers.first().map_or(Length::ZERO, |drawer| drawer.outside.size.dy)
}

/// The slides for drawers of a length: of those as thick as the first listed, from which the drawers' widths were derived, the
/// longest that are no longer than the drawer; those without a length are taken to be as long as it.
pub fn slides_for(scenario: &Scenario, drawer: Length) -> Option<HardwareId> {
    let (first, listed) = scenario.stock.hardware_for(HardwareUse::Slides).next()?;
    let alike = scenario.stock.hardware_for(HardwareUse::Slides);
    let fit = alike.filter(|(_, slides)| {
        slides.thickness == listed.thickness && slides.slide.is_none_or(|length| length <= drawer)
    });
    let longest =
        fit.max_by_key(|(id, slides)| (slides.slide.unwrap_or(drawer), std::cmp::Reverse(*id)));
    Some(longest.map_or(first, |(id, _)| id))
}

/// What [`hardware`] counts at least for this chest, whatever its columns' widths and its gear, dividers and pockets:
/// `built` is empty and its columns are of any widths.
///
/// All lines but one depend on the sum of the widths alone. The screws across the drawers' bottoms are counted for each
/// drawer, n(x) = ⌈(x − 2·ends) ÷ spacing⌉ + 1 ≥ (x − 2·ends) ÷ spacing + 1 and n(x) ≥ 1, which is summed over drawers.
pub fn least_hardware(
    scenario: &Scenario,
    structure: &Structure,
    built: &Built,
) -> Vec<HardwareLine> {
    let mut needs = needs(scenario, structure, built);
    let fastening = scenario.allowances.drawer_screws;
    let across = |drawer: &crate::design::Drawer| drawer.outside.size.dx;
    let counted: u32 =
        built.drawers.iter().map(|drawer| 2 * screws(across(drawer), fastening)).sum();
    let drawers = built.drawers.len() as i64;
    let between: Length =
        built.drawers.iter().map(|drawer| across(drawer) - fastening.ends * 2).sum();
    let spaces = between.or_zero().ceil_to(fastening.spacing).units() / fastening.spacing.units();
    let least = u32::try_from(2 * (spaces + drawers)).unwrap_or(0).min(counted);
    for (use_, need) in &mut needs {
        if let (HardwareUse::DrawerScrew, Need::Count(count)) = (*use_, need) {
            // Other rows across a drawer may each differ by a screw a drawer from width to width.
            let other = 4 * u32::try_from(drawers).unwrap_or(0);
            *count = (*count + least).saturating_sub(counted + other);
        }
    }
    needs
        .into_iter()
        .filter(|(_, need)| *need != Need::Count(0))
        .map(|(use_, need)| line(scenario, use_, need, drawer_length(built)))
        .collect()
}

fn needs(scenario: &Scenario, structure: &Structure, built: &Built) -> Vec<(HardwareUse, Need)> {
    let rows = rows(scenario, &Woods::of(structure, built));
    let holes = |use_: HardwareUse| {
        let taking = rows.iter().filter(|row| row.kind.takes() == Some(use_));
        Need::Count(
            u32::try_from(taking.map(|row| row.holes.len()).sum::<usize>()).unwrap_or(u32::MAX),
        )
    };
    let drawers = u32::try_from(built.drawers.len()).unwrap_or(u32::MAX);
    let has = |wanted: Runs| structure.runs == wanted;
    let mut needs = vec![
        (HardwareUse::ChestScrew, holes(HardwareUse::ChestScrew)),
        (HardwareUse::DrawerScrew, holes(HardwareUse::DrawerScrew)),
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

/// The cheapest hardware for a need; ties go to the one listed first. Where its thickness decides the drawers' sizes it is the one
/// listed first, as those were derived from it; of slides the longest of its thickness that fit.
fn line(scenario: &Scenario, use_: HardwareUse, need: Need, drawer: Length) -> HardwareLine {
    let only = match use_ {
        HardwareUse::Slides => slides_for(scenario, drawer),
        HardwareUse::Strip | HardwareUse::Carpet => {
            scenario.stock.hardware_for(use_).next().map(|(id, _)| id)
        }
        _ => None,
    };
    let best = scenario
        .stock
        .hardware_for(use_)
        .filter(|(id, _)| only.is_none_or(|only| only == *id))
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

/// The same hardware for several sets: opened packages serve the next.
///
/// `None` where so much is no number of packages.
pub fn for_sets(scenario: &Scenario, line: &HardwareLine, sets: u32) -> Option<HardwareLine> {
    let need = match line.need {
        Need::Count(count) => Need::Count(count.checked_mul(sets)?),
        Need::Length(length) => Need::Length(length * i64::from(sets)),
        Need::Area(area) => Need::Area((0..sets).map(|_| area).sum()),
    };
    let Some(id) = line.hardware else { return Some(HardwareLine { need, ..*line }) };
    let hardware = &scenario.stock.hardware[id];
    let packages = match (need, hardware.sold) {
        // One thing for the whole of it serves one set.
        (Need::Length(_) | Need::Area(_), Sold::Each { .. }) => line.packages.checked_mul(sets)?,
        _ => packages(hardware, need, scenario.shop.kerf)?,
    };
    let cost = hardware.price * i64::from(packages.saturating_sub(hardware.on_hand));
    Some(HardwareLine { need, packages, cost, ..*line })
}

/// The shopping line of some hardware; none if the scenario lists none.
pub fn purchase(scenario: &Scenario, line: &HardwareLine) -> Option<Purchase> {
    let hardware = &scenario.stock.hardware[line.hardware?];
    Some(Purchase {
        what: PurchaseOf::Hardware(line.hardware?),
        quantity: line.packages,
        on_hand: line.packages.min(hardware.on_hand),
        unit_price: hardware.price,
        cost: line.cost,
    })
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
