//! How little of the stock can be wasted, whatever the cutting plan.
//!
//! Rests that are worth keeping are no waste, so that a plan which buys more wastes a lesser share. What limits that is the
//! money: with a limit on cost only so much can be bought.

use std::collections::{BTreeMap, BTreeSet};

use crate::design::{Part, Role, Structure};
use crate::scenario::{Form, MaterialId, Scenario, Section, StockItem};
use crate::units::{Area, Length, Money};

use super::ideal::least_cost;

/// A share that no cutting plan of a design with these parts, or with more, wastes less than. `parts` and `fittings`, what the
/// hardware costs, are the least of any design of the structure. 0 without a limit on cost.
///
/// What is wasted is at least
/// - half a kerf beside every sawn edge: a part that does not reach from side to side of its sheet, or from end to end of its board,
///   is sawn off there, and a cut has a part on two sides at most. Where less than that is left of the sheet, that is wasted;
/// - the trims of as many sheets as have to be bought for the parts' faces.
///
/// What is used is at most all that is at hand, what the least cost of each material buys of it, and what the rest of the money
/// buys where it buys most.
pub fn least_waste(
    scenario: &Scenario,
    structure: &Structure,
    parts: &[Part],
    fittings: Money,
) -> f64 {
    let Some(limit) = scenario.aims.limits.cost else { return 0.0 };
    let mut materials: BTreeSet<MaterialId> = parts.iter().map(|part| part.material).collect();
    materials.extend([structure.divider, structure.deck]);
    let least = materials.iter().map(|id| (*id, least_cost(scenario, *id, parts))).collect();
    let used = most_used(scenario, &least, limit - fittings);
    let of = |material: &MaterialId| {
        beside_cuts(scenario, *material, parts) + trims(scenario, *material, parts)
    };
    let wasted: i128 = materials.iter().map(of).sum();
    match used {
        // Down to a thousandth of a per cent, as it is shown.
        Some(used) if used > 0 => (wasted * 100_000 / used).clamp(0, 100_000) as f64 / 100_000.0,
        _ => 0.0,
    }
}

fn volume(scenario: &Scenario, item: &StockItem) -> i128 {
    let material = &scenario.stock.materials[item.material];
    item.face(material).by(material.thickness).units()
}

/// The most volume of these materials that can be used for so much money where `least` of it goes to each of them; `None` if some
/// is to be had for nothing.
fn most_used(
    scenario: &Scenario,
    least: &BTreeMap<MaterialId, Money>,
    money: Money,
) -> Option<i128> {
    let mut at_hand = 0;
    // The most volume for the money of each material, as a volume and its price.
    let mut rates: Vec<([i128; 2], Money)> = Vec::new();
    for (material, least) in least {
        let mut best: Option<[i128; 2]> = None;
        for (_, item) in scenario.stock.of(*material) {
            let volume = volume(scenario, item);
            at_hand += volume * i128::from(item.on_hand);
            if item.most == Some(0) {
                continue;
            }
            let price = i128::from(item.price.parts());
            if price <= 0 {
                return None;
            }
            let own = [volume, price];
            let is_more = |other: [i128; 2]| own[0] * other[1] > other[0] * own[1];
            best = if best.is_none_or(is_more) { Some(own) } else { best };
        }
        rates.extend(best.map(|best| (best, *least)));
    }
    let spent: Money = rates.iter().map(|(_, least)| *least).sum();
    let rest = (money - spent).max(Money::ZERO);
    let bought =
        |[volume, price]: [i128; 2], money: Money| volume * i128::from(money.parts()) / price + 1;
    let needed: i128 = rates.iter().map(|(rate, least)| bought(*rate, *least)).sum();
    let more = rates.iter().map(|(rate, _)| bought(*rate, rest)).max().unwrap_or(0);
    Some(at_hand + needed + more)
}

/// The sides, within its trims, that a sheet has.
fn sides(scenario: &Scenario, item: &StockItem) -> Option<[Length; 2]> {
    let Form::Sheet { along, across } = item.form else { return None };
    let trim = if item.is_offcut() { Length::ZERO } else { scenario.shop.edge_trim };
    Some([along - trim * 2, across - trim * 2])
}

/// What the saw takes beside the parts of a material, by volume.
fn beside_cuts(scenario: &Scenario, material: MaterialId, parts: &[Part]) -> i128 {
    let of = &scenario.stock.materials[material];
    let items = || scenario.stock.of(material).map(|(_, item)| item);
    // Along which a part may reach from end to end, and how long the cut across is that this spares.
    let sizes = |item: &StockItem| match (item.form, of.section) {
        (Form::Board { length }, Section::Board { width }) => vec![(length, width)],
        _ => sides(scenario, item).map_or_else(Vec::new, |[a, b]| vec![(a, b), (b, a)]),
    };
    let whole: Vec<Length> =
        (items().filter(|item| !item.is_offcut())).flat_map(sizes).map(|(size, _)| size).collect();
    // What is just as long as an offcut takes no cut there, as far as there are offcuts.
    let spared = |item: &StockItem| {
        let cuts: Length = sizes(item).into_iter().map(|(_, cut)| cut).sum();
        cuts.by(scenario.shop.kerf).by(of.thickness).units() * i128::from(item.on_hand)
    };
    let spared: i128 = items().filter(|item| item.is_offcut()).map(spared).sum();
    // Twice what lies beside an edge whose part has a size from this to that across it.
    let beside = |from: Length, to: Length| {
        let wider = whole.iter().filter(|side| **side >= from);
        let rests = wider.map(|side| (*side - to).or_zero() * 2);
        rests.chain([scenario.shop.kerf]).min().unwrap_or(Length::ZERO)
    };
    // Boards on edge may be higher where ripped heights are left open.
    let highest = scenario.bed.clear_height.at;
    let twice = parts.iter().filter(|part| part.material == material).map(|part| {
        let upright = match of.section {
            Section::Sheet => part.length.by(beside(part.width, part.width.max(highest))),
            // A board may be as wide as it comes.
            Section::Board { .. } => Area::ZERO,
        };
        let across = part.width.by(beside(part.length, part.length));
        let beside = match part.role {
            Role::Member | Role::Side | Role::Back => upright + across,
            // How wide a drawer is may be just what a sheet has, and the sum of all widths is what counts.
            Role::DrawerFront | Role::DrawerBack | Role::Guard | Role::AppliedFront => upright,
            Role::DrawerBottom => across,
            // Panels may have seams, blocks come out of what falls off, and the rest is not in every design.
            _ => return 0,
        };
        beside.by(of.thickness).units() * i128::from(part.quantity)
    });
    (twice.sum::<i128>() - spared).max(0) / 2
}

/// The trims of the sheets of a material that have to be bought, by volume.
fn trims(scenario: &Scenario, material: MaterialId, parts: &[Part]) -> i128 {
    let thickness = scenario.stock.materials[material].thickness;
    let of = parts.iter().filter(|part| part.material == material);
    let need: i128 = of
        .map(|part| part.length.by(part.width).by(thickness).units() * i128::from(part.quantity))
        .sum();
    let mut at_hand = 0;
    let mut biggest = 0;
    let mut least: Option<i128> = None;
    for (_, item) in scenario.stock.of(material) {
        let Some([along, across]) = sides(scenario, item) else { return 0 };
        let within = along.by(across).by(thickness).units();
        at_hand += within * i128::from(item.on_hand);
        if item.most != Some(0) {
            biggest = biggest.max(within);
            let trim = volume(scenario, item) - within;
            least = Some(least.map_or(trim, |least| least.min(trim)));
        }
    }
    match least {
        Some(least) if biggest > 0 => ((need - at_hand).max(0) + biggest - 1) / biggest * least,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explore::every_structure;
    use crate::scenario::fixture::{full_size, inches, sixteenths};

    fn side(scenario: &Scenario) -> (Structure, Part) {
        let structure = every_structure(scenario).swap_remove(0);
        let material = structure.drawer_bottom;
        let part = Part {
            mark: "S1".to_owned(),
            role: Role::Side,
            material,
            length: inches(70),
            width: inches(10),
            thickness: scenario.stock.materials[material].thickness,
            quantity: 4,
            grain: crate::design::Grain::Along,
        };
        (structure, part)
    }

    /// Four boards of 70 x 10 in out of half-inch sheets of 4 x 8 ft at 40: half of a kerf of 1/8 in along 80 in of each is 20 sq in
    /// by 1/2 in. Of the 80 that are left 40 buy the one sheet that is needed at least, the rest another.
    #[test]
    fn half_a_kerf_beside_every_part_is_wasted_of_what_the_money_buys() {
        let mut scenario = full_size();
        let (structure, part) = side(&scenario);
        let parts = [part];
        let waste = |scenario: &Scenario| {
            let deck = structure.deck;
            let of = Structure { divider: parts[0].material, deck, ..structure.clone() };
            least_waste(scenario, &of, &parts, Money::ONE * 10)
        };
        assert_eq!(waste(&scenario), 0.0, "nothing limits what is bought");
        scenario.aims.limits.cost = Some(Money::ONE * 90);
        let volume = 96.0 * 48.0 * (0.5 + f64::max(0.5, 40.0 / 60.0 * 23.0 / 32.0));
        let expected = 4.0 * 80.0 / 16.0 * 0.5 / volume;
        assert!((waste(&scenario) - expected).abs() < 1e-4, "{} {expected}", waste(&scenario));
        // A trim of 1 in off each edge of the one sheet that has to be bought at least: 284 sq in more.
        scenario.shop.edge_trim = inches(1);
        let trimmed = expected + 284.0 * 0.5 / volume;
        assert!((waste(&scenario) - trimmed).abs() < 1e-4, "{} {trimmed}", waste(&scenario));
        // What is just as long as the sheet within its trims may need no cut at its ends.
        let inch = inches(1).units() as f64;
        let beside = |length| {
            let part = Part { length, ..parts[0].clone() };
            beside_cuts(&scenario, part.material, &[part]) as f64 / inch.powi(3)
        };
        assert!((beside(inches(94)) - 4.0 * 94.0 / 32.0).abs() < 1e-6);
        assert!((beside(inches(93)) - 4.0 * 103.0 / 32.0).abs() < 1e-6);
        assert!(beside(sixteenths(94 * 16 - 1)) > beside(inches(94)));
    }
}
