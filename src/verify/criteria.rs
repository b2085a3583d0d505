//! Criteria recomputed, limits held, checks finite.

use super::case::Case;
use super::counts::items;
use super::fault::Fault;
use crate::design::{Check, Content, HardwareLine, Need};
use crate::scenario::{Criterion, Demand, Section, Sold};
use crate::units::{Length, Mass, Money, Volume};

/// Floats that were computed in another order agree to this share of their size.
const CLOSE: f64 = 1e-9;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    exact(case, faults);
    floats(case, faults);
    masses(case, faults);
    checks(case, faults);
    limits(case, faults);
}

fn figure(what: &'static str, stated: f64, derived: f64) -> Fault {
    Fault::Figure { what, stated, derived }
}

/// Usable volume, value, cost, simplicity: to the last unit.
fn exact(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let design = case.design;
    let stated = &design.criteria;
    let volume: Volume = design.drawers.iter().map(|drawer| drawer.inside.volume()).sum();
    if stated.usable_volume != volume {
        let key = Criterion::UsableVolume.key();
        faults.push(figure(key, stated.usable_volume.to_litres(), volume.to_litres()));
    }
    let value = items(case).fold(0_i64, |sum, item| {
        let demand = match item.content {
            Content::Gear(id) => case.scenario.gear[id].demand,
            Content::Loose(id) => case.scenario.loose[id].demand,
        };
        match demand {
            Demand::Worth(milli) => sum.saturating_add(milli),
            Demand::Must => sum,
        }
    });
    if stated.value_milli != value {
        let points = |milli: i64| milli as f64 / 1000.0;
        faults.push(figure(Criterion::Value.key(), points(stated.value_milli), points(value)));
    }
    let cost: Money = design.purchases.iter().map(|purchase| purchase.cost).sum();
    if stated.cost != cost {
        let key = Criterion::Cost.key();
        faults.push(figure(key, stated.cost.to_units(), cost.to_units()));
    }
    let simplicity = simplicity(case);
    if u64::from(stated.simplicity) != simplicity {
        let key = Criterion::Simplicity.key();
        faults.push(figure(key, f64::from(stated.simplicity), simplicity as f64));
    }
}

/// Pieces of wood to cut, different sizes of one material to set the saw to, and different cutting patterns.
fn simplicity(case: &Case<'_>) -> u64 {
    let parts = &case.design.parts;
    let pieces: u64 = parts.iter().map(|part| u64::from(part.quantity)).sum();
    let mut sizes: Vec<_> =
        parts.iter().map(|part| (part.material, part.length, part.width)).collect();
    sizes.sort_unstable();
    sizes.dedup();
    let plan = &case.design.cutting;
    pieces + (sizes.len() + plan.sheets.len() + plan.boards.len()) as u64
}

/// Reach, waste, margin.
fn floats(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let stated = &case.design.criteria;
    let (sheets, boards) = (sheet_use(case), board_use(case));
    let both = [sheets[0] + boards[0], sheets[1] + boards[1]];
    for (what, stated, derived) in [
        (Criterion::Reach.key(), stated.reach_mm, reach(case)),
        (Criterion::Waste.key(), stated.waste, waste(both)),
        ("sheet_waste", stated.sheet_waste, waste(sheets)),
        ("board_waste", stated.board_waste, waste(boards)),
    ] {
        // Shares near nothing are differences of large volumes: an absolute 10⁻⁹ is the same demand on those.
        if !close(stated, derived, 1.0) {
            faults.push(figure(what, stated, derived));
        }
    }
    let strength = case.design.checks.iter().filter(|check| check.strength);
    let margin = strength.map(|check| check.margin()).reduce(f64::min);
    let agree = match (stated.margin, margin) {
        (Some(stated), Some(derived)) => stated == derived || close(stated, derived, 0.0),
        (stated, derived) => stated.is_none() && derived.is_none(),
    };
    if !agree {
        let number = |margin: Option<f64>| margin.unwrap_or(0.0);
        faults.push(figure(Criterion::Margin.key(), number(stated.margin), number(margin)));
    }
}

/// Whether two floats agree, in relation to the larger of them and `at_least`. Nothing agrees with what is no number.
fn close(a: f64, b: f64, at_least: f64) -> bool {
    (a - b).abs() <= CLOSE * a.abs().max(b.abs()).max(at_least)
}

/// Σ uses × pull ÷ Σ uses, in millimetres; 0 if nothing stowed is ever used.
///
/// The pull that it takes to lift a thing out is how far its drawer must come out until the whole of the thing is clear of the
/// chest's front: from the drawer's outside front to its inside, and on to the thing's far end. A pocket takes none.
fn reach(case: &Case<'_>) -> f64 {
    let (mut pulls, mut uses) = (0_i128, 0_i128);
    for drawer in &case.design.drawers {
        let inside = drawer.inside_at.y - drawer.outside.at.y;
        for item in &drawer.plan.items {
            let use_ = uses_of(case, item.content);
            let pull = inside + item.space.at.y + item.space.size.dy;
            pulls += use_ * i128::from(pull.units());
            uses += use_;
        }
    }
    let pockets = case.design.pockets.iter().flat_map(|pocket| &pocket.plan.items);
    uses += pockets.map(|item| uses_of(case, item.content)).sum::<i128>();
    if uses == 0 {
        return 0.0;
    }
    pulls as f64 / (uses as f64 * Length::MM.units() as f64)
}

fn uses_of(case: &Case<'_>, content: Content) -> i128 {
    i128::from(match content {
        Content::Gear(id) => case.scenario.gear[id].uses_milli,
        Content::Loose(id) => case.scenario.loose[id].uses_milli,
    })
}

/// The share of the stock used up, `[used, kept]` by volume, that is neither part nor kept offcut.
fn waste([used, kept]: [f64; 2]) -> f64 {
    if used == 0.0 { 0.0 } else { 1.0 - kept / used }
}

/// Volumes of sheets used up, and of the pieces and offcuts of them, in cubic metres.
fn sheet_use(case: &Case<'_>) -> [f64; 2] {
    let mut volumes = [0.0; 2];
    for layout in &case.design.cutting.sheets {
        let item = &case.scenario.stock.items[layout.stock];
        let material = case.material(item.material);
        let pieces = layout.pieces.iter().map(|piece| piece.at.dx.by(piece.at.dy));
        let offcuts = layout.offcuts.iter().map(|rest| rest.dx.by(rest.dy));
        let kept: crate::units::Area = pieces.chain(offcuts).sum();
        let thick = material.thickness.to_metres() * f64::from(layout.repeat);
        volumes[0] += item.face(material).to_square_metres() * thick;
        volumes[1] += kept.to_square_metres() * thick;
    }
    volumes
}

/// Volumes of boards used up, and of the pieces and offcuts of them. A board's offcut is as wide as the board, and kept if
/// it is as long as the longer side of the least offcut worth keeping.
fn board_use(case: &Case<'_>) -> [f64; 2] {
    let mut volumes = [0.0; 2];
    for layout in &case.design.cutting.boards {
        let item = &case.scenario.stock.items[layout.stock];
        let material = case.material(item.material);
        let Section::Board { width } = material.section else { continue };
        let pieces = layout.pieces.iter();
        let mut kept: crate::units::Area =
            pieces.map(|piece| piece.length.by(case.part(piece.part).width)).sum();
        if layout.offcut >= case.scenario.shop.keep_offcut[0] {
            kept = kept + layout.offcut.by(width);
        }
        let thick = material.thickness.to_metres() * f64::from(layout.repeat);
        volumes[0] += item.face(material).to_square_metres() * thick;
        volumes[1] += kept.to_square_metres() * thick;
    }
    volumes
}

/// The empty chest, and the chest with what is stowed in it.
fn masses(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let stated = &case.design.criteria;
    let empty = empty_kg(case);
    let gear: Mass = items(case)
        .map(|item| match item.content {
            Content::Gear(id) => case.scenario.gear[id].mass,
            Content::Loose(id) => case.scenario.loose[id].mass,
        })
        .sum();
    for (what, stated, derived) in [
        (Criterion::Mass.key(), stated.mass.to_kg(), empty),
        ("loaded_mass", stated.loaded_mass.to_kg(), empty + gear.to_kg()),
    ] {
        // Each part's mass is a whole number of micrograms, which is finer than this for any chest over a kilogram.
        let pieces: f64 = case.design.parts.iter().map(|part| f64::from(part.quantity)).sum();
        if !close(stated, derived, pieces.max(1.0)) {
            faults.push(figure(what, stated, derived));
        }
    }
}

fn empty_kg(case: &Case<'_>) -> f64 {
    let wood = case.design.parts.iter().map(|part| {
        let volume = part.length.to_metres() * part.width.to_metres() * f64::from(part.quantity);
        let material = case.material(part.material);
        volume * material.thickness.to_metres() * material.density
    });
    wood.sum::<f64>() + case.design.hardware.iter().map(|line| hardware_kg(case, line)).sum::<f64>()
}

/// The mass of what is needed of a hardware, by the piece, metre or square metre as it is sold (strip ripped
/// from a flat piece by its face); of what is sold by the
/// piece for a length or an area, one.
fn hardware_kg(case: &Case<'_>, line: &HardwareLine) -> f64 {
    let Some(id) = line.hardware else { return 0.0 };
    let hardware = &case.scenario.stock.hardware[id];
    let each = hardware.mass.to_kg();
    match (line.need, hardware.sold) {
        (Need::Count(count), _) => each * f64::from(count),
        (Need::Length(length), Sold::Each { .. }) if !length.is_positive() => 0.0,
        (_, Sold::Each { .. }) => each,
        (Need::Length(length), Sold::Ripped { width, .. }) => {
            each * length.by(width).to_square_metres()
        }
        (Need::Length(length), _) => each * length.to_metres(),
        (Need::Area(area), _) => each * area.to_square_metres(),
    }
}

/// Every check is a number, and none that is more than advice fails.
fn checks(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let broken = case
        .design
        .checks
        .iter()
        .filter(|check| !(check.value.is_finite() && check.limit.is_finite()));
    faults.extend(broken.map(|check| Fault::CheckNotFinite { check: check.name.clone() }));
    faults.extend(case.design.checks.iter().filter(|check| check.refuses()).map(|check| {
        let (check, value, limit) = (check.name.clone(), check.value, check.limit);
        Fault::CheckFails { check, value, limit }
    }));
}

/// The aims' limits: cost and mass as derived; pull and deck load by the checks that must be there for them.
fn limits(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let limits = &case.scenario.aims.limits;
    let cost: Money = case.design.purchases.iter().map(|purchase| purchase.cost).sum();
    if let Some(limit) = limits.cost.filter(|limit| cost > *limit) {
        let (value, limit) = (cost.to_units(), limit.to_units());
        faults.push(Fault::OverLimit { what: Criterion::Cost, value, limit });
    }
    let mass = empty_kg(case);
    // The mass as stated is the nearest microgram: half of one over is not over.
    if let Some(limit) = limits.mass.filter(|limit| mass > limit.to_kg() * (1.0 + CLOSE)) {
        let limit = limit.to_kg();
        faults.push(Fault::OverLimit { what: Criterion::Mass, value: mass, limit });
    }
    if let Some(limit) = limits.pull_newtons {
        for drawer in &case.design.drawers {
            required(case, &["pull of drawer", &drawer.name], Some(limit), faults);
        }
    }
    if limits.deck_load.is_some() || limits.deck_pressure.is_some() {
        required(case, &["deck", "loaded"], None, faults);
    }
}

/// There is a check that names all of `words`, and the value of every such check is within the aim's own limit, even
/// where the check's is only advice.
fn required(case: &Case<'_>, words: &[&str], limit: Option<f64>, faults: &mut Vec<Fault>) {
    let named = |check: &&Check| words.iter().all(|word| check.name.contains(word));
    let mut found = false;
    for check in case.design.checks.iter().filter(named) {
        found = true;
        // One that refuses is named already.
        if let Some(limit) = limit.filter(|limit| check.value > *limit && !check.refuses()) {
            let (check, value) = (check.name.clone(), check.value);
            faults.push(Fault::CheckFails { check, value, limit });
        }
    }
    if !found {
        faults.push(Fault::CheckMissing { what: words.join(" ") });
    }
}
