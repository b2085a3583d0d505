//! From a structure to the outside of the chest and its tiers' frames.

use super::Misfit;
use crate::design::structure::{Carcass, Structure, TierChoice, TierFrame};
use crate::scenario::{
    DeckGrain, Family, Form, HardwareUse, Material, MaterialId, Runs, Scenario, Section, Tailgate,
};
use crate::units::Length;

/// A drawer no longer than this inside is no drawer (an assumption).
const LEAST_DRAWER_LENGTH: Length = Length::inches(8, 1);

/// Above this, a chest is lifted by boards on edge and not by layers of sheet (an assumption).
pub const THICKEST_SHIM: Length = Length::inches(3, 2);

/// The outside of the chest and each tier's frame.
///
/// # Errors
/// The first [`Misfit`] in the order of the derivations.
pub fn carcass(scenario: &Scenario, structure: &Structure) -> Result<Carcass, Misfit> {
    handle_room(scenario, structure)?;
    let length = chest_length(scenario, structure)?;
    let wanted = tailgate_lift(scenario, structure, length);
    let lift = lift(scenario, structure, wanted)?;
    let mut z = lift;
    let mut tiers = Vec::with_capacity(structure.tiers.len());
    for (index, choice) in structure.tiers.iter().enumerate() {
        z += thickness(scenario, structure.bottom);
        let place = Place { index, z, length, full_width: is_full_width(structure, index) };
        tiers.push(tier_frame(scenario, structure, choice, place)?);
        z += choice.height;
    }
    let top_z = z + thickness(scenario, structure.deck);
    let ceiling = ceiling(scenario);
    if top_z > ceiling {
        return Err(Misfit::TooHigh { by: top_z - ceiling });
    }
    let front_y = scenario.allowances.handle_room;
    Ok(Carcass { length, front_y, lift, lift_for_tailgate: wanted, tiers, deck_z: z, top_z })
}

/// What the deck must stay under, less its allowance: rail, cover or roof, and the hatch that its drawers come out of.
fn ceiling(scenario: &Scenario) -> Length {
    let clear = scenario.bed.clear_height.at;
    let hatch = scenario.bed.opening.as_ref().map_or(clear, |opening| opening.height);
    clear.min(hatch) - scenario.allowances.top
}

/// Whether a tier spans the bed above the wells.
pub fn is_full_width(structure: &Structure, tier: usize) -> bool {
    structure.family == Family::AboveWells && tier + 1 == structure.tiers.len()
}

fn thickness(scenario: &Scenario, material: MaterialId) -> Length {
    scenario.stock.materials[material].thickness
}

/// The applied front and the deck's overhang live in the handle room.
fn handle_room(scenario: &Scenario, structure: &Structure) -> Result<(), Misfit> {
    let takes = thickness(scenario, structure.front).max(scenario.allowances.deck_overhang);
    let by = takes - scenario.allowances.handle_room;
    if by.is_positive() { Err(Misfit::HandleRoom { by }) } else { Ok(()) }
}

/// Members and back piece together: what the bed leaves behind the handle room and before the front allowance, or
/// what the longest stock reaches if that is less. Down to the shop's step.
fn chest_length(scenario: &Scenario, structure: &Structure) -> Result<Length, Misfit> {
    let allow = &scenario.allowances;
    let room = scenario.bed.length.at - allow.handle_room - allow.front;
    let mut most = room;
    most = most.min(longest(scenario, structure.bottom)?);
    most = most.min(deck_most(scenario, structure)?[1] - allow.deck_overhang);
    for tier in &structure.tiers {
        most = most.min(longest(scenario, tier.member)? + thickness(scenario, tier.member));
    }
    for (material, shorter) in drawer_materials(scenario, structure) {
        most = most.min(longest(scenario, material)? + shorter);
    }
    let length = most.floor_to(scenario.shop.step);
    if length.is_positive() {
        Ok(length)
    } else {
        Err(Misfit::TooShort { by: LEAST_DRAWER_LENGTH - length })
    }
}

/// The drawers' long parts, with how much shorter than the chest they are.
fn drawer_materials(scenario: &Scenario, structure: &Structure) -> [(MaterialId, Length); 2] {
    let back = structure.tiers.iter().map(|tier| thickness(scenario, tier.member)).min();
    let shorter = back.unwrap_or(Length::ZERO) + scenario.allowances.stop;
    [(structure.sides, shorter), (structure.drawer_bottom, shorter)]
}

/// The longest piece that can be had of a material, along its grain and after the trims.
///
/// # Errors
/// [`Misfit::NoStock`] if none can.
pub fn longest(scenario: &Scenario, material: MaterialId) -> Result<Length, Misfit> {
    extent(scenario, material, |form| match form {
        Form::Sheet { along, .. } => along,
        Form::Board { length } => length,
    })
}

/// The widest piece that can be had of a sheet material, across its grain and after the trims; a board's width.
///
/// # Errors
/// [`Misfit::NoStock`] if none can.
pub fn widest(scenario: &Scenario, material: MaterialId) -> Result<Length, Misfit> {
    match scenario.stock.materials[material].section {
        Section::Board { width } => Ok(width),
        Section::Sheet => extent(scenario, material, |form| match form {
            Form::Sheet { across, .. } => across,
            Form::Board { .. } => Length::ZERO,
        }),
    }
}

/// How far one piece of the deck reaches at most, across the bed and along it.
///
/// # Errors
/// [`Misfit::NoStock`] if its material can't be had.
pub fn deck_most(scenario: &Scenario, structure: &Structure) -> Result<[Length; 2], Misfit> {
    let (along, across) = (longest(scenario, structure.deck)?, widest(scenario, structure.deck)?);
    Ok(match structure.deck_grain {
        DeckGrain::Along => [across, along],
        DeckGrain::Across => [along, across],
    })
}

fn extent(
    scenario: &Scenario,
    material: MaterialId,
    side: impl Fn(Form) -> Length,
) -> Result<Length, Misfit> {
    let trims = |item: &crate::scenario::StockItem| match item.form {
        Form::Sheet { .. } if !item.is_offcut() => scenario.shop.edge_trim * 2,
        _ => Length::ZERO,
    };
    scenario
        .stock
        .of(material)
        .filter(|(_, item)| item.on_hand > 0 || item.most != Some(0))
        .map(|(_, item)| side(item.form) - trims(item))
        .max()
        .ok_or(Misfit::NoStock { material })
}

/// How far the chest must be lifted so that the lowest moving edge clears the open tailgate.
fn tailgate_lift(scenario: &Scenario, structure: &Structure, length: Length) -> Length {
    let Some(tailgate) = &scenario.bed.tailgate else { return Length::ZERO };
    let edge = lowest_moving_edge(tailgate, length, scenario.allowances.running);
    let has = thickness(scenario, structure.bottom) + run_height(scenario, structure.runs);
    (edge - has).or_zero()
}

/// The least height above the floor of anything that moves over the open tailgate: its rise, what its slope adds over
/// the travel (at most its own length), and the running clearance.
///
/// The slope's share is rounded up to the next 12.5 nm and one more, so that no rounding of the tangent makes it too low.
pub fn lowest_moving_edge(tailgate: &Tailgate, travel: Length, running: Length) -> Length {
    let over = travel.min(tailgate.length).or_zero();
    let slope = libm::tan(
        f64::from(tailgate.slope_millideg).max(0.0) / 1000.0 * std::f64::consts::PI / 180.0,
    );
    let climb = match tailgate.slope_millideg {
        ..=0 => Length::ZERO,
        _ => Length::from_units((over.units() as f64 * slope).ceil() as i64 + 1),
    };
    tailgate.rise.or_zero() + climb + running
}

/// What the chest stands on: enough for the tailgate, and for a full-width tier to clear the wells; thin packing is layers
/// of sheet, so it is as high as they are.
fn lift(
    scenario: &Scenario,
    structure: &Structure,
    for_tailgate: Length,
) -> Result<Length, Misfit> {
    let lift = for_tailgate.max(well_lift(scenario, structure)?);
    Ok(match lift {
        Length::ZERO => lift,
        _ if lift > THICKEST_SHIM => lift.ceil_to(scenario.shop.step),
        _ => layers(scenario, structure, lift).map_or(lift.ceil_to(scenario.shop.step), |layers| {
            layers.iter().map(|m| thickness(scenario, *m)).sum()
        }),
    })
}

/// What the tiers below a full-width one leave missing of the wells' height.
fn well_lift(scenario: &Scenario, structure: &Structure) -> Result<Length, Misfit> {
    if structure.family == Family::BetweenWells {
        return Ok(Length::ZERO);
    }
    let wells = scenario.bed.wells.as_ref().ok_or(Misfit::NoWells)?;
    let below = structure.tiers.split_last().map_or(&[][..], |(_, below)| below);
    let stands: Length =
        below.iter().map(|tier| tier.height + thickness(scenario, structure.bottom)).sum();
    Ok((wells.height + scenario.allowances.well - stands).or_zero())
}

/// The one or two layers of the chest's own sheet materials that are at least `lift` thick together and least so.
pub fn layers(scenario: &Scenario, structure: &Structure, lift: Length) -> Option<Vec<MaterialId>> {
    let mut sheets = vec![
        structure.bottom,
        structure.deck,
        structure.drawer_bottom,
        structure.sides,
        structure.divider,
    ];
    sheets.retain(|id| scenario.stock.materials[*id].section == Section::Sheet);
    sheets.sort();
    sheets.dedup();
    let one = sheets.iter().map(|a| vec![*a]);
    let two = sheets
        .iter()
        .flat_map(|a| sheets.iter().filter(move |b| *b >= a).map(move |b| vec![*a, *b]));
    one.chain(two)
        .map(|layers| (layers.iter().map(|id| thickness(scenario, *id)).sum::<Length>(), layers))
        .filter(|(thick, _)| *thick >= lift)
        .min_by_key(|(thick, layers)| (*thick, layers.len(), layers.clone()))
        .map(|(_, layers)| layers)
}

/// What the drawers stand on above the panel.
pub fn run_height(scenario: &Scenario, runs: Runs) -> Length {
    let strip = scenario.stock.hardware_for(HardwareUse::Strip).next();
    match (runs, strip) {
        (Runs::Strip, Some((_, strip))) if strip.thickness.is_positive() => strip.thickness,
        _ => scenario.allowances.runner,
    }
}

/// From a drawer to its opening, each side: slides bring their own.
pub fn side_gap(scenario: &Scenario, runs: Runs) -> Length {
    let slides = scenario.stock.hardware_for(HardwareUse::Slides).next();
    match (runs, slides) {
        (Runs::Slides, Some((_, slides))) if slides.thickness.is_positive() => slides.thickness,
        _ => scenario.allowances.side_gap,
    }
}

/// Thickness of the carpet in the drawers.
pub fn carpet(scenario: &Scenario) -> Length {
    scenario
        .stock
        .hardware_for(HardwareUse::Carpet)
        .next()
        .map_or(Length::ZERO, |(_, carpet)| carpet.thickness)
}

/// The side of the square stock of which corner blocks are sawn; nothing without them.
pub fn corner_block(scenario: &Scenario) -> Length {
    scenario.choices.corner_blocks.map_or(Length::ZERO, |id| thickness(scenario, id))
}

struct Place {
    index: usize,
    z: Length,
    length: Length,
    full_width: bool,
}

fn tier_frame(
    scenario: &Scenario,
    structure: &Structure,
    choice: &TierChoice,
    place: Place,
) -> Result<TierFrame, Misfit> {
    let allow = &scenario.allowances;
    let member = &scenario.stock.materials[choice.member];
    let side = thickness(scenario, structure.sides);
    let width = tier_width(scenario, structure, place.full_width)?;
    let columns = i64::from(choice.columns);
    let openings_width = width - member.thickness * (columns + 1);
    let side_gap = side_gap(scenario, structure.runs);
    let width_taken = (side_gap + side) * 2;
    let missing = (allow.least_drawer_width + width_taken) * columns - openings_width;
    if missing.is_positive() {
        return Err(Misfit::TooNarrow { tier: place.index, by: missing });
    }
    let inside_length = place.length - member.thickness;
    let drawer_length = inside_length - allow.stop;
    let drawer_inside_y = drawer_inside_y(scenario, side);
    let drawer_inside_length = drawer_length - drawer_inside_y - side - corner_block(scenario);
    if drawer_inside_length < LEAST_DRAWER_LENGTH {
        return Err(Misfit::TooShort { by: LEAST_DRAWER_LENGTH - drawer_inside_length });
    }
    let heights = Heights::of(scenario, structure, choice.height);
    if heights.clear < allow.least_drawer_height {
        return Err(Misfit::TooLow {
            tier: place.index,
            by: allow.least_drawer_height - heights.clear,
        });
    }
    decided_height(scenario, place.index, heights.clear)?;
    let inside_width = openings_width - width_taken * columns;
    decided_widths(scenario, place.index, choice.columns, inside_width)?;
    Ok(TierFrame {
        z: place.z,
        height: choice.height,
        x: (scenario.bed.width.at - width) / 2,
        width,
        member: member.thickness,
        inside_length,
        columns: choice.columns,
        openings_width,
        width_taken,
        side_gap,
        drawer_length,
        drawer_inside_length,
        drawer_inside_y,
        run_height: heights.run,
        floor_height: heights.floor,
        clear_height: heights.clear,
        side_height: heights.side,
        divider_height: heights.divider,
        front_height: heights.front,
    })
}

/// A tier's drawers are as high inside as is decided.
fn decided_height(scenario: &Scenario, tier: usize, has: Length) -> Result<(), Misfit> {
    match scenario.decided.heights(tier).find(|wanted| *wanted != has) {
        Some(wanted) => Err(Misfit::DecidedHeight { tier, has, wanted }),
        None => Ok(()),
    }
}

/// The decided widths leave each other drawer the least that it needs, and nothing over where there is no other.
fn decided_widths(
    scenario: &Scenario,
    tier: usize,
    columns: u32,
    room: Length,
) -> Result<(), Misfit> {
    let widths: Vec<Option<Length>> =
        (0..columns).map(|column| scenario.decided.width(tier, column)).collect();
    let least = scenario.allowances.least_drawer_width;
    let taken: Length = widths.iter().map(|width| width.unwrap_or(least)).sum();
    let fits = match widths.iter().all(Option::is_some) {
        true => taken == room,
        false => taken <= room,
    };
    // A drawer narrower than the least is one that the scenario rules out itself.
    let narrow = widths.iter().flatten().any(|width| *width < least);
    if narrow {
        let by = widths.iter().flatten().map(|width| (least - *width).or_zero()).sum();
        return Err(Misfit::TooNarrow { tier, by });
    }
    if fits { Ok(()) } else { Err(Misfit::DecidedWidths { tier, taken, room }) }
}

/// The bed's width, or that of the hatch its drawers come out of, less the fit allowance, down to the shop's step; held to a sheet's width if it is seamless.
fn tier_width(
    scenario: &Scenario,
    structure: &Structure,
    full_width: bool,
) -> Result<Length, Misfit> {
    let bed = if full_width { scenario.bed.width.at } else { scenario.bed.floor_width() };
    let hatch = scenario.bed.opening.as_ref().map_or(bed, |opening| opening.width);
    let mut width = bed.min(hatch) - scenario.allowances.fit;
    if structure.seamless && !full_width {
        width = width.min(widest(scenario, structure.bottom)?);
        width = width.min(deck_most(scenario, structure)?[0]);
    }
    Ok(width.floor_to(scenario.shop.step))
}

/// From a drawer's outside front to where its inside begins: front board, then room for lock and corner blocks behind it
/// with the guard board that keeps gear off them, or the corner blocks alone.
fn drawer_inside_y(scenario: &Scenario, side: Length) -> Length {
    let corner = corner_block(scenario);
    if scenario.choices.locks {
        side + scenario.allowances.lock_room.max(corner) + side
    } else {
        side + corner
    }
}

/// A tier's heights, which follow from the opening's.
struct Heights {
    run: Length,
    floor: Length,
    clear: Length,
    side: Length,
    divider: Length,
    front: Length,
}

impl Heights {
    fn of(scenario: &Scenario, structure: &Structure, opening: Length) -> Self {
        let allow = &scenario.allowances;
        let step = scenario.shop.step;
        let run = run_height(scenario, structure.runs);
        let bottom = thickness(scenario, structure.drawer_bottom);
        let floor = bottom + carpet(scenario);
        let clear = opening - run - floor - allow.top_clearance;
        let board = |material: MaterialId, most: Length| match scenario.stock.materials[material] {
            Material { section: Section::Board { width }, .. } => most.min(width),
            _ => most,
        };
        let divider = clear * i64::from(allow.divider_percent) / 100;
        Self {
            run,
            floor,
            clear,
            side: board(structure.sides, opening - run - bottom - allow.top_clearance)
                .floor_to(step),
            divider: board(structure.divider, divider).floor_to(step),
            front: board(structure.front, opening - run - allow.front_gap).floor_to(step),
        }
    }
}
