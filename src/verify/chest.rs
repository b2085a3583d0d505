//! The chest: choices on offer, outside dimensions in the bed, and each tier's frame re-derived from them.

use super::case::{Case, well_faces_doubled};
use super::fault::{Dimension, Fault, Side};
use crate::design::{Role, TierChoice, TierFrame};
use crate::scenario::{HardwareUse, MaterialId, Runs, Tailgate};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    offered(case, faults);
    length(case, faults);
    heights(case, faults);
    moving_edges(case, faults);
    for index in 0..case.tiers().len() {
        across(case, index, faults);
        frame(case, index, faults);
    }
}

/// Every choice is one that the scenario offers.
fn offered(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let chosen = &case.design.structure;
    let offers = &case.scenario.choices;
    let has = |list: &[MaterialId], id| list.contains(&id);
    let tiers = u32::try_from(chosen.tiers.len()).unwrap_or(u32::MAX);
    let decided = &case.scenario.decided;
    let all = |within: &dyn Fn(usize, &TierChoice) -> bool| {
        chosen.tiers.iter().enumerate().all(|(at, tier)| within(at, tier))
    };
    // What is decided of a tier goes before what is offered for all.
    let columns = |at, tier: &TierChoice| {
        decided.columns(at).is_some() || offers.columns.contains(&tier.columns)
    };
    let member =
        |at, tier: &TierChoice| decided.member(at).is_some() || has(&offers.members, tier.member);
    let asked = [
        ("family", offers.families.contains(&chosen.family)),
        ("number of tiers", offers.tiers.contains(&tiers)),
        ("number of columns", all(&columns)),
        ("member", all(&member)),
        ("bottom panel", has(&offers.bottom, chosen.bottom)),
        ("deck", has(&offers.deck, chosen.deck)),
        ("deck's grain", offers.deck_grain.contains(&chosen.deck_grain)),
        ("drawer side", has(&offers.drawer_sides, chosen.sides)),
        ("drawer bottom", has(&offers.drawer_bottoms, chosen.drawer_bottom)),
        ("applied front", has(&offers.fronts, chosen.front)),
        ("divider", has(&offers.dividers, chosen.divider)),
        ("run", offers.runs_on.contains(&chosen.runs)),
    ];
    faults.extend(asked.iter().filter(|(_, on)| !on).map(|(what, _)| Fault::NotOffered { what }));
}

/// Handle room, chest and front allowance fit in the bed's length.
fn length(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let allow = &case.scenario.allowances;
    let carcass = &case.design.chest.carcass;
    let over = carcass.front_y + carcass.length + allow.front - case.scenario.bed.length.at;
    if over.is_positive() {
        faults.push(Fault::TooLong { by: over });
    }
    let front = case.thickness(case.design.structure.front);
    for (role, takes) in [
        (Role::Member, allow.handle_room),
        (Role::AppliedFront, front),
        (Role::Deck, allow.deck_overhang),
    ] {
        let by = takes - carcass.front_y;
        if by.is_positive() {
            faults.push(Fault::HandleRoom { role, by });
        }
    }
}

/// Panels and tiers stand on one another without gaps, under the clear height.
fn heights(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let carcass = &case.design.chest.carcass;
    let panel = case.thickness(case.design.structure.bottom);
    let mut z = carcass.lift;
    let mut level = |tier, what, stated, derived| {
        if stated != derived {
            faults.push(Fault::Derived { tier, what, stated, derived });
        }
    };
    for (index, (frame, choice)) in
        carcass.tiers.iter().zip(&case.design.structure.tiers).enumerate()
    {
        z += panel;
        level(Some(index), Dimension::PanelTop, frame.z, z);
        level(Some(index), Dimension::OpeningHeight, frame.height, choice.height);
        z += choice.height;
    }
    level(None, Dimension::DeckUnderside, carcass.deck_z, z);
    z += case.thickness(case.design.structure.deck);
    level(None, Dimension::DeckTop, carcass.top_z, z);
    let top = carcass.top_z.max(z);
    let by = top + case.scenario.allowances.top - case.scenario.bed.clear_height.at;
    if by.is_positive() {
        faults.push(Fault::TooHigh { by });
    }
    if carcass.lift < Length::ZERO {
        let (stated, derived) = (carcass.lift, Length::ZERO);
        faults.push(Fault::Derived { tier: None, what: Dimension::Lift, stated, derived });
    }
}

/// Everything that moves clears the open tailgate, and the share of the lift that is said to do it does.
fn moving_edges(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let carcass = &case.design.chest.carcass;
    let needed = match &case.scenario.bed.tailgate {
        Some(tailgate) => {
            let travel =
                carcass.tiers.iter().map(|frame| frame.drawer_length).max().unwrap_or_default();
            tailgate_top(tailgate, travel) + case.scenario.allowances.running
        }
        None => Length::ZERO,
    };
    if let (Some(lowest), Some(_)) = (lowest_moving(case), &case.scenario.bed.tailgate)
        && lowest < needed
    {
        faults.push(Fault::CatchesTailgate { by: needed - lowest });
    }
    let stands = case.thickness(case.design.structure.bottom) + run_height(case);
    let derived = (needed - stands).or_zero();
    let stated = carcass.lift_for_tailgate;
    // A search may round the slope's share up a little more; it may not claim more than there is.
    if stated < derived || stated > carcass.lift.or_zero() {
        let what = Dimension::LiftForTailgate;
        faults.push(Fault::Derived { tier: None, what, stated, derived });
    }
}

/// The underside of the lowest that moves; none without drawers.
pub(super) fn lowest_moving(case: &Case<'_>) -> Option<Length> {
    let boxes = case.design.drawers.iter().map(|drawer| drawer.outside.at.z);
    let pieces = case.design.solids.iter().filter(|solid| solid.drawer.is_some());
    boxes.chain(pieces.map(|solid| solid.space.at.z)).min()
}

/// The highest that the open tailgate stands above the floor where anything passes over it: its rise, and what an
/// upward slope adds over `travel`, which is at most its own length.
///
/// The slope's share is rounded up, after a margin of 10⁻¹² for the rounding of tangent and product.
pub(super) fn tailgate_top(tailgate: &Tailgate, travel: Length) -> Length {
    let over = travel.min(tailgate.length).or_zero();
    if tailgate.slope_millideg <= 0 {
        return tailgate.rise;
    }
    let slope = libm::tan(f64::from(tailgate.slope_millideg) * (std::f64::consts::PI / 180_000.0));
    let climb = over.units() as f64 * slope * (1.0 + 1e-12);
    tailgate.rise + Length::from_units(climb.ceil() as i64)
}

/// A tier's width and place, its openings and members, and a full-width one's height above the wells.
fn across(case: &Case<'_>, index: usize, faults: &mut Vec<Fault>) {
    let bed = &case.scenario.bed;
    let frame = &case.tiers()[index];
    let full = case.is_full_width(index);
    let between = if full { None } else { well_faces_doubled(bed) };
    let (left, right) = between.unwrap_or((Length::ZERO, bed.width.at * 2));
    let room = if full { bed.width.at } else { bed.floor_width() } - case.scenario.allowances.fit;
    if frame.width > room {
        faults.push(Fault::TooWide { tier: index, by: frame.width - room });
    }
    // Doubled, as the wells' faces are; half a unit counts as one.
    let half_up = |doubled: Length| Length::from_units((doubled.units() + 1) / 2);
    for (side, into) in
        [(Side::Left, left - frame.x * 2), (Side::Right, (frame.x + frame.width) * 2 - right)]
    {
        if into.is_positive() {
            faults.push(Fault::IntoWall { tier: index, side, by: half_up(into) });
        }
    }
    if full {
        above_wells(case, frame, faults);
    }
    widths(case, index, faults);
}

fn above_wells(case: &Case<'_>, frame: &TierFrame, faults: &mut Vec<Fault>) {
    let Some(wells) = &case.scenario.bed.wells else {
        faults.push(Fault::NoWells);
        return;
    };
    let underside = frame.z - case.thickness(case.design.structure.bottom);
    let by = wells.height + case.scenario.allowances.well - underside;
    if by.is_positive() {
        faults.push(Fault::OverWells { by });
    }
}

/// Openings and members fill the width; members are as high as their board.
fn widths(case: &Case<'_>, index: usize, faults: &mut Vec<Fault>) {
    let frame = &case.tiers()[index];
    let choice = &case.design.structure.tiers[index];
    let openings = &case.design.chest.openings[index];
    let member = case.thickness(choice.member);
    for width in openings.iter().filter(|width| !width.is_positive()) {
        let what = Dimension::OpeningWidth;
        faults.push(Fault::Nothing { tier: index, what, length: *width });
    }
    let clear: Length = openings.iter().copied().sum();
    let sum = clear + member * (openings.len() as i64 + 1);
    if sum != frame.width {
        faults.push(Fault::WidthsDoNotAdd { tier: index, sum, width: frame.width });
    }
    if let Some(board) = case.board_width(choice.member)
        && choice.height != board
    {
        faults.push(Fault::MemberHeight { tier: index, height: choice.height, board });
    }
}

/// A tier's frame, figure by figure.
fn frame(case: &Case<'_>, index: usize, faults: &mut Vec<Fault>) {
    let allow = &case.scenario.allowances;
    let chosen = &case.design.structure;
    let frame = &case.tiers()[index];
    let member = case.thickness(chosen.tiers[index].member);
    let side = case.thickness(chosen.sides);
    let bottom = case.thickness(chosen.drawer_bottom);
    let openings: Length = case.design.chest.openings[index].iter().copied().sum();
    let inside_length = case.design.chest.carcass.length - member;
    let drawer_length = inside_length - allow.stop;
    let inside_y = inside_y(case);
    let inside = drawer_length - inside_y - side - case.corner_block();
    let (run, floor) = (run_height(case), bottom + case.carpet());
    let clear = frame.height - run - floor - allow.top_clearance;
    use Dimension::*;
    for (what, stated, derived) in [
        (MemberThickness, frame.member, member),
        (InsideLength, frame.inside_length, inside_length),
        (OpeningsWidth, frame.openings_width, openings),
        (WidthTaken, frame.width_taken, (case.side_gap() + side) * 2),
        (SideGap, frame.side_gap, case.side_gap()),
        (DrawerLength, frame.drawer_length, drawer_length),
        (DrawerInsideLength, frame.drawer_inside_length, inside),
        (DrawerInsideY, frame.drawer_inside_y, inside_y),
        (RunHeight, frame.run_height, run),
        (FloorHeight, frame.floor_height, floor),
        (ClearHeight, frame.clear_height, clear),
    ] {
        if stated != derived {
            faults.push(Fault::Derived { tier: Some(index), what, stated, derived });
        }
    }
    let divider = divider_limit(case, clear);
    for (what, stated, most) in [
        (SideHeight, frame.side_height, frame.height - run - bottom - allow.top_clearance),
        (DividerHeight, frame.divider_height, divider),
        (FrontHeight, frame.front_height, frame.height - run - allow.front_gap),
    ] {
        if stated > most {
            faults.push(Fault::Exceeds { tier: index, what, stated, most });
        }
    }
    for (what, length) in [
        (OpeningHeight, frame.height),
        (DrawerInsideLength, frame.drawer_inside_length),
        (ClearHeight, frame.clear_height),
        (SideHeight, frame.side_height),
        (FrontHeight, frame.front_height),
    ] {
        if !length.is_positive() {
            faults.push(Fault::Nothing { tier: index, what, length });
        }
    }
}

/// The share of the clear height that a divider may have.
fn divider_limit(case: &Case<'_>, clear: Length) -> Length {
    clear.or_zero() * i64::from(case.scenario.allowances.divider_percent.min(1000)) / 100
}

/// What drawers stand on above their panel: the strip's thickness, or the runners' height.
fn run_height(case: &Case<'_>) -> Length {
    let strip = match case.design.structure.runs {
        Runs::Strip => case.hardware_thickness(HardwareUse::Strip),
        Runs::Waxed | Runs::Slides => None,
    };
    strip.unwrap_or(case.scenario.allowances.runner)
}

/// From a drawer's outside front to where its inside begins: the front board; behind it the lock's room, or the corner
/// blocks' if that is more, and with locks the guard board.
fn inside_y(case: &Case<'_>) -> Length {
    let side = case.thickness(case.design.structure.sides);
    let corner = case.corner_block();
    if case.scenario.choices.locks {
        side + case.scenario.allowances.lock_room.max(corner) + side
    } else {
        side + corner
    }
}
