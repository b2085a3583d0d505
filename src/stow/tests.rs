//! Chance scenarios and small ones made for a purpose; every stowage is looked over by [`sound`].

mod demos;
mod lighten;
mod relief;
mod sound;

use super::*;
use crate::design::Item;
use crate::design::TierChoice;
use crate::design::derive::carcass;
use crate::scenario::fixture::{full_size, gear, inches, sixteenths};
use crate::scenario::{Demand, Family, Loose, Runs, Section, Turn};
use crate::units::{Length, Mass, Volume};
use sound::check;

fn structure(scenario: &Scenario, columns: &[u32]) -> Structure {
    let choices = &scenario.choices;
    let tier = |(tier, columns): (usize, &u32)| {
        let member = choices.members[tier.min(choices.members.len() - 1)];
        let height = match scenario.stock.materials[member].section {
            Section::Board { width } => width,
            Section::Sheet => Length::mm(190),
        };
        TierChoice { columns: *columns, member, height }
    };
    Structure {
        family: Family::BetweenWells,
        seamless: true,
        tiers: columns.iter().enumerate().map(tier).collect(),
        bottom: choices.bottom[0],
        deck: choices.deck[0],
        deck_grain: crate::scenario::DeckGrain::Along,
        sides: choices.drawer_sides[0],
        drawer_bottom: choices.drawer_bottoms[0],
        front: choices.fronts[0],
        divider: choices.dividers[0],
        runs: Runs::Strip,
    }
}

fn stowed(scenario: &Scenario, columns: &[u32], work: u64) -> (Structure, Carcass, Stowed) {
    let structure = structure(scenario, columns);
    let carcass = carcass(scenario, &structure).expect("the chest stands in its bed");
    let stowed = stow(scenario, &structure, &carcass, Care::NONE, &mut Budget::work(work));
    (structure, carcass, stowed)
}

struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        ((self.0 >> 33) % end as u64) as i64
    }
}

/// The full-size bed with gear of chance sizes, some of it stacked, padded, sharing, loose or fit for pockets.
fn chance(seed: u64) -> Scenario {
    let mut numbers = Numbers(seed);
    let mut scenario = full_size();
    let mut list = Vec::new();
    for index in 0..18 {
        let mut one = gear(&format!("thing {index}"), [1, 1, 1], 1 + numbers.below(5) as u32);
        one.size = [160, 120, 56].map(|most| sixteenths(24 + numbers.below(most)));
        one.turn = [Turn::Fixed, Turn::Base, Turn::Any][numbers.below(3) as usize];
        one.demand = Demand::Worth(1000 * numbers.below(9));
        one.uses_milli = 1000 * numbers.below(20);
        one.share = numbers.below(3) == 0;
        one.stack = 1 + numbers.below(3) as u32;
        one.padding = sixteenths(numbers.below(3) * 3);
        one.pocket = numbers.below(3) == 0;
        one.near = (numbers.below(3) == 0).then(|| "group".to_owned());
        list.push(one);
    }
    scenario.gear = list.into_iter().collect();
    for index in 0..2 {
        scenario.loose.push(Loose {
            name: format!("heap {index}"),
            volume: Volume::from_units(Volume::GALLON.units() * i128::from(1 + numbers.below(3))),
            least: inches(2 + numbers.below(3)),
            mass: Mass::POUND,
            demand: Demand::Worth(3000),
            uses_milli: 500,
            near: None,
            place: None,
        });
    }
    scenario
}

#[test]
fn chance_stowages_are_sound() {
    let (mut items, mut boards, mut beside) = (0, 0, 0);
    for seed in 0..24 {
        let scenario = chance(seed);
        for columns in [&[2][..], &[3, 2]] {
            let (structure, carcass, found) = stowed(&scenario, columns, 60_000);
            check(&scenario, &structure, &carcass, &found.stowage)
                .unwrap_or_else(|fault| panic!("{seed}, {columns:?}: {fault}"));
            let shelves = stow_on_shelves(&scenario, &structure, &carcass);
            check(&scenario, &structure, &carcass, &shelves.stowage)
                .unwrap_or_else(|fault| panic!("shelves, {seed}, {columns:?}: {fault}"));
            let worth = worth(&scenario, &found.stowage);
            assert!(worth >= self::worth(&scenario, &shelves.stowage));
            assert!(worth <= found.value_bound, "{worth} beyond {}", found.value_bound);
            let layouts = found.stowage.tiers.iter().flatten();
            items += layouts.clone().map(|layout| layout.items.len()).sum::<usize>();
            boards += layouts.map(|layout| layout.dividers.len()).sum::<usize>();
            beside += found.stowage.pockets.len();
        }
    }
    assert!(items > 500 && boards > 300 && beside > 20, "{items} {boards} {beside}");
}

/// Worth of what is stowed, thousandths of a point.
fn worth(scenario: &Scenario, stowage: &Stowage) -> i64 {
    let layouts = stowage.tiers.iter().flatten().chain(stowage.pockets.iter().map(|(_, l)| l));
    let demand = |item: &Item| match item.content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    };
    let worth = |demand| if let Demand::Worth(milli) = demand { milli } else { 0 };
    layouts.flat_map(|layout| &layout.items).map(|item| worth(demand(item))).sum()
}

#[test]
fn what_is_used_daily_lies_nearest_the_tailgate() {
    let mut scenario = full_size();
    let mut daily = gear("daily", [20, 14, 5], 1);
    daily.uses_milli = 7000;
    // A single lane takes both, one behind the other: 30 in wide they do not go side by side.
    let seldom = crate::scenario::Gear { uses_milli: 100, ..gear("seldom", [20, 14, 5], 1) };
    scenario.gear = [seldom, daily].into_iter().collect();
    scenario.choices.pockets = false;
    let (_, _, found) = stowed(&scenario, &[3], 50_000);
    assert!(found.missing.is_empty());
    let items = found.stowage.tiers[0].iter().flat_map(|layout| &layout.items);
    let daily = items.clone().find(|item| item.content == Content::Gear(1.into()));
    assert_eq!(daily.expect("stowed").space.at.y, Length::ZERO);
}

#[test]
fn gear_of_one_group_stays_in_one_drawer() {
    let mut scenario = full_size();
    let group = |name: &str, group: &str| crate::scenario::Gear {
        near: Some(group.to_owned()),
        turn: Turn::Fixed,
        ..gear(name, [60, 9, 5], 1)
    };
    // Four lanes, two to a drawer; each pair belongs together.
    scenario.gear = [("a", "x"), ("b", "y"), ("c", "x"), ("d", "y")]
        .map(|(name, near)| group(name, near))
        .into_iter()
        .collect();
    scenario.choices.pockets = false;
    let (_, _, found) = stowed(&scenario, &[2], 50_000);
    let drawers: Vec<Vec<u32>> = found.stowage.tiers[0]
        .iter()
        .map(|layout| {
            let mut ids: Vec<u32> = layout
                .items
                .iter()
                .map(|item| if let Content::Gear(id) = item.content { id.0 } else { 99 })
                .collect();
            ids.sort_unstable();
            ids
        })
        .collect();
    assert!(drawers.contains(&vec![0, 2]) && drawers.contains(&vec![1, 3]), "{drawers:?}");
    let widths: Vec<Length> = found.stowage.tiers[0].iter().map(|layout| layout.width).collect();
    assert!(widths[0].abs_diff(widths[1]) <= scenario.shop.step, "equal drawers: {widths:?}");
}

#[test]
fn an_empty_list_leaves_equal_drawers() {
    let mut scenario = full_size();
    scenario.gear = crate::scenario::Keyed::new();
    let (structure, carcass, found) = stowed(&scenario, &[2], 1000);
    check(&scenario, &structure, &carcass, &found.stowage).expect("sound");
    let drawers = &found.stowage.tiers[0];
    assert!(drawers[0].width.abs_diff(drawers[1].width) <= scenario.shop.step);
    assert_eq!(found.value_bound, 0);
}

#[test]
fn what_cannot_fit_is_named() {
    let mut scenario = full_size();
    scenario.gear.push(gear("mast", [100, 4, 4], 1));
    let (_, _, found) = stowed(&scenario, &[2], 1000);
    assert!(found.proved_missing);
    let mast = scenario.gear.ids().next_back().expect("the mast was pushed");
    assert_eq!(found.missing, [(Content::Gear(mast), 1)]);
    scenario.gear[mast].demand = Demand::Worth(1000);
    let (_, _, found) = stowed(&scenario, &[2], 50_000);
    let left = found.stowage.left_out.iter().find(|left| left.content == Content::Gear(mast));
    let why = left.expect("the mast stays out").why;
    assert!(matches!(why, crate::design::LeftOut::TooLarge { by } if by > inches(20)), "{why:?}");
}

#[test]
fn the_same_scenario_is_stowed_alike() {
    let scenario = chance(7);
    let once = stowed(&scenario, &[3, 2], 60_000).2;
    assert_eq!(once, stowed(&scenario, &[3, 2], 60_000).2);
}
