//! The least pull, weighted by use, that the gear of any stowage needs.

use std::cmp::Ordering;

use crate::design::Carcass;
use crate::scenario::{Demand, Gear, Scenario, stances_of};
use crate::units::Length;

/// A copy of something, as far as reach sees it.
#[derive(Debug, Clone, Copy)]
struct Use {
    must: bool,
    /// Thousandths of uses per week.
    uses: i128,
    /// It cannot stand clear with less pull than this, units.
    pull: i128,
    /// The least floor it takes, square units; 0 for what may live in a pocket or on its like.
    floor: i128,
}

/// No stowage in these drawers has less Σ uses × pull ÷ Σ uses than this, mm.
///
/// What must be stowed is there in any case. Alone, each thing needs at least its own extent behind the drawer's front.
/// Together, the things whose far ends lie within `y` of the inside stand on no more floor than the drawers' widths times
/// `y`, so that far ends are completion times on a machine as fast as all drawers are wide, and Smith's order gives their
/// least weighted sum (Smith, Naval Research Logistics Quarterly 3, 1956; from memory). Optional gear is taken where it
/// lowers the mean, as if it displaced nothing.
pub fn least_reach_mm(scenario: &Scenario, carcass: &Carcass) -> f64 {
    let Some(front) = carcass.tiers.iter().map(|tier| tier.drawer_inside_y.units()).min() else {
        return 0.0;
    };
    let width: i128 =
        carcass.tiers.iter().map(|tier| i128::from(tier.inside_width().units())).sum();
    let all = uses(scenario, carcass, i128::from(front));
    let (must, mut optional): (Vec<Use>, Vec<Use>) = all.into_iter().partition(|one| one.must);
    let mut uses: i128 = must.iter().map(|one| one.uses).sum();
    if uses == 0 {
        // A chest without anything that is used needs no pull at all.
        return 0.0;
    }
    let alone: i128 = must.iter().map(|one| one.uses * one.pull).sum();
    let mut pulled = alone.max(in_smiths_order(must, i128::from(front), width));
    optional.sort_by_key(|one| one.pull);
    for one in optional {
        // The mean so far is above its pull.
        if one.pull * uses < pulled {
            pulled += one.uses * one.pull;
            uses += one.uses;
        }
    }
    // A part in 10^12 for what the conversions may round.
    pulled as f64 / uses as f64 / Length::MM.units() as f64 * (1.0 - 1e-12)
}

/// Every copy that is used at all.
fn uses(scenario: &Scenario, carcass: &Carcass, front: i128) -> Vec<Use> {
    let pockets = scenario.choices.pockets && scenario.bed.wells.is_some();
    let clear = carcass.tiers.iter().map(|tier| tier.clear_height).max();
    let mut all = Vec::new();
    for gear in scenario.gear.values() {
        let (pull, floor) = match least_stance(gear, clear.unwrap_or(Length::ZERO)) {
            _ if pockets && gear.pocket => (0, 0),
            Some((along, floor)) => (front + along, floor),
            None => continue,
        };
        let must = gear.demand == Demand::Must;
        let uses = i128::from(gear.uses_milli);
        all.extend((0..gear.count).map(|_| Use { must, uses, pull, floor }));
    }
    for loose in scenario.loose.values() {
        let pull = front + i128::from(loose.least.units());
        let (must, uses) = (loose.demand == Demand::Must, i128::from(loose.uses_milli));
        all.push(Use { must, uses, pull, floor: 0 });
    }
    all.retain(|one| one.uses > 0);
    all
}

/// How little a copy takes along the drawer with the padding before and beyond it, and the least floor, over its stances
/// that are low enough.
fn least_stance(gear: &Gear, clear: Length) -> Option<(i128, i128)> {
    let stances = stances_of(gear.size, gear.turn);
    let low = stances.iter().filter(|[_, _, z]| *z + gear.padding <= clear);
    let along = low.clone().map(|[_, y, _]| i128::from((*y + gear.padding).units())).min()?;
    let floor =
        if gear.stack > 1 { 0 } else { low.map(|[x, y, _]| x.by(*y).units()).min().unwrap_or(0) };
    Some((along, floor))
}

/// The least Σ uses × far end, the far end of a thing being where the floor of all before it and its own ends.
fn in_smiths_order(mut things: Vec<Use>, front: i128, width: i128) -> i128 {
    if width <= 0 {
        return 0;
    }
    let before = |a: &Use, b: &Use| match (a.uses * b.floor).cmp(&(b.uses * a.floor)) {
        Ordering::Equal => a.floor.cmp(&b.floor),
        more => more.reverse(),
    };
    // What takes no floor comes first whatever its use.
    things.sort_by(|a, b| (a.floor > 0).cmp(&(b.floor > 0)).then_with(|| before(a, b)));
    let mut floor: i128 = 0;
    let mut total: i128 = 0;
    for one in &things {
        floor += one.floor;
        // What may live in a pocket or stand on its like needs no pull that is sure.
        total += one.uses * if one.floor > 0 { front + floor / width } else { one.pull };
    }
    total
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thing(uses: i128, floor: i128) -> Use {
        Use { must: true, uses, pull: 0, floor }
    }

    #[test]
    fn most_used_by_floor_comes_first() {
        // Floors 10 and 20 on a width of 10: far ends 1 and 3 in Smith's order, 2 and 3 in the other.
        let total = in_smiths_order(vec![thing(1, 20), thing(5, 10)], 0, 10);
        assert_eq!(total, 5 + 3);
        let (least, other) = (total, 2 + 5 * 3);
        assert!(least < other);
    }

    #[test]
    fn no_order_of_a_few_things_is_quicker() {
        let things = [thing(3, 40), thing(1, 10), thing(7, 70), thing(2, 30)];
        let least = in_smiths_order(things.to_vec(), 5, 10);
        let orders = itertools::Itertools::permutations(0..things.len(), things.len());
        for order in orders {
            let mut floor = 0;
            let mut total = 0;
            for at in order {
                floor += things[at].floor;
                total += things[at].uses * (5 + floor / 10);
            }
            assert!(total >= least);
        }
    }
}
