//! A checker of its own for stowages, chance scenarios for it, and the demos against plain shelves.

use std::path::Path;

use super::*;
use crate::design::derive::carcass;
use crate::design::derive::figures::mass_of;
use crate::design::{Box3, Item, Layout, TierChoice};
use crate::scenario::fixture::{full_size, gear, inches, sixteenths};
use crate::scenario::{Demand, Family, Loose, Runs, Section, Turn};
use crate::units::{Length, Mass, Volume};

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
    let stowed = stow(scenario, &structure, &carcass, &[], &mut Budget::work(work));
    (structure, carcass, stowed)
}

/// What is wrong with a stowage, if anything.
fn check(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
    stowage: &Stowage,
) -> Result<(), String> {
    let thick = scenario.stock.materials[structure.divider].thickness;
    for (frame, layouts) in carcass.tiers.iter().zip(&stowage.tiers) {
        let wide: Length = layouts.iter().map(|layout| layout.width).sum();
        if layouts.len() != frame.columns as usize || wide != frame.inside_width() {
            return Err(format!("{} drawers, {wide:?} wide", layouts.len()));
        }
        for layout in layouts {
            if layout.width < scenario.allowances.least_drawer_width
                || layout.length != frame.drawer_inside_length
                || layout.height != frame.clear_height
                || layout.dividers.iter().any(|board| board.size.dz != frame.divider_height)
            {
                return Err("sizes of a drawer".into());
            }
            check_layout(scenario, layout, thick)?;
        }
    }
    let beside = pockets(scenario, structure, carcass);
    for (place, layout) in &stowage.pockets {
        let clear = beside.iter().find(|(other, _)| other == place).map(|(_, space)| space.size);
        let plan = crate::design::Size::new(layout.width, layout.length, layout.height);
        if clear != Some(plan) {
            return Err("size of a pocket".into());
        }
        check_layout(scenario, layout, thick)?;
        let may = |item: &Item| match item.content {
            Content::Gear(id) => scenario.gear[id].pocket,
            Content::Loose(_) => false,
        };
        if !layout.items.iter().all(may) {
            return Err("not for pockets".into());
        }
    }
    check_counts(scenario, stowage)
}

fn check_counts(scenario: &Scenario, stowage: &Stowage) -> Result<(), String> {
    let gear = scenario.gear.iter().map(|(id, gear)| (Content::Gear(id), gear.count));
    let loose = scenario.loose.iter().map(|(id, _)| (Content::Loose(id), 1));
    let layouts = stowage.tiers.iter().flatten().chain(stowage.pockets.iter().map(|(_, l)| l));
    let items: Vec<&Item> = layouts.flat_map(|layout| &layout.items).collect();
    for (content, count) in gear.chain(loose) {
        let stowed = items.iter().filter(|item| item.content == content);
        let mut copies: Vec<u32> = stowed.map(|item| item.copy).collect();
        copies.sort_unstable();
        let out = stowage.left_out.iter().filter(|left| left.content == content);
        let out: u32 = out.map(|left| left.count).sum();
        if !copies.iter().copied().eq(0..count - out) {
            return Err(format!("{content:?}: copies {copies:?}, {out} left out of {count}"));
        }
    }
    Ok(())
}

/// The room a thing claims: itself with its padding beside and above.
fn claim(scenario: &Scenario, item: &Item) -> Box3 {
    let pad = match item.content {
        Content::Gear(id) => scenario.gear[id].padding,
        Content::Loose(_) => Length::ZERO,
    };
    let mut space = item.space;
    space.at.x -= pad;
    space.at.y -= pad;
    space.size.dx += pad * 2;
    space.size.dy += pad * 2;
    space.size.dz += pad;
    space
}

fn apart(one: Box3, other: Box3, up: bool) -> bool {
    let (a, b) = (one.far(), other.far());
    let beside = a.x <= other.at.x || b.x <= one.at.x || a.y <= other.at.y || b.y <= one.at.y;
    beside || up && (a.z <= other.at.z || b.z <= one.at.z)
}

fn check_layout(scenario: &Scenario, layout: &Layout, thick: Length) -> Result<(), String> {
    for (index, item) in layout.items.iter().enumerate() {
        let space = claim(scenario, item);
        let far = space.far();
        let low = space.at.x.min(space.at.y).min(space.at.z);
        if low < Length::ZERO
            || far.x > layout.width
            || far.y > layout.length
            || far.z > layout.height
        {
            return Err(format!("{item:?} is not inside"));
        }
        let size = item.space.size;
        let stands = match item.content {
            Content::Gear(id) => scenario.gear[id].stances().contains(&[size.dx, size.dy, size.dz]),
            Content::Loose(id) => {
                let loose = &scenario.loose[id];
                size.volume() >= loose.volume && size.dx.min(size.dy) >= loose.least
            }
        };
        if !stands {
            return Err(format!("{item:?} does not stand so"));
        }
        if layout.dividers.iter().any(|board| !apart(space, *board, false)) {
            return Err(format!("{item:?} in a divider"));
        }
        for other in &layout.items[..index] {
            let stacked = item.content == other.content && !apart(item.space, other.space, false);
            let clear = if stacked {
                apart(item.space, other.space, true)
            } else {
                apart(space, claim(scenario, other), false)
            };
            if !clear {
                return Err(format!("{item:?} and {other:?}"));
            }
        }
    }
    let all = [Length::ZERO, Length::ZERO, layout.width, layout.length];
    let boards: Vec<Box3> = layout.dividers.clone();
    parted(scenario, all, thick, &boards, &layout.items)
}

/// Whether boards part a region (x and y from, x and y to) edge to edge, down to cells whose things may share one.
fn parted(
    scenario: &Scenario,
    region: [Length; 4],
    thick: Length,
    boards: &[Box3],
    items: &[Item],
) -> Result<(), String> {
    let [x, y, to_x, to_y] = region;
    for board in boards {
        let (at, far) = (board.at, board.far());
        let along = at.y == y && far.y == to_y && far.x - at.x == thick;
        let across = at.x == x && far.x == to_x && far.y - at.y == thick;
        if !along && !across {
            continue;
        }
        let before =
            |space: Box3| if along { space.far().x <= at.x } else { space.far().y <= at.y };
        let behind = |space: Box3| if along { space.at.x >= far.x } else { space.at.y >= far.y };
        let rest = || boards.iter().filter(|other| *other != board);
        if !rest().all(|other| before(*other) || behind(*other)) {
            continue;
        }
        let (near, distant) = if along {
            ([x, y, at.x, to_y], [far.x, y, to_x, to_y])
        } else {
            ([x, y, to_x, at.y], [x, far.y, to_x, to_y])
        };
        let some = |side: &dyn Fn(Box3) -> bool| -> (Vec<Box3>, Vec<Item>) {
            let boards = rest().copied().filter(|other| side(*other)).collect();
            (boards, items.iter().copied().filter(|item| side(item.space)).collect())
        };
        let (boards, items) = some(&before);
        parted(scenario, near, thick, &boards, &items)?;
        let (boards, items) = some(&behind);
        return parted(scenario, distant, thick, &boards, &items);
    }
    if let Some(board) = boards.first() {
        return Err(format!("{board:?} does not run from edge to edge"));
    }
    let share = |one: &Item, other: &Item| {
        one.content == other.content
            && match one.content {
                Content::Gear(id) => {
                    scenario.gear[id].share || !apart(one.space, other.space, false)
                }
                Content::Loose(_) => false,
            }
    };
    match items.iter().skip(1).find(|item| !share(item, &items[0])) {
        Some(item) => Err(format!("{item:?} and {:?} in one cell", items[0])),
        None => Ok(()),
    }
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

/// What a demo's structure is called, ours and shelves in missing copies and points, and the bound on points.
type Row = (String, [(u32, i64); 2], i64);

/// The demos, each with a few structures.
fn demos(work: u64) -> Vec<Row> {
    let mut rows = Vec::new();
    for name in ["trade-fullsize", "camping-midsize", "van-birch"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"));
        let read = crate::input::read(&path).expect("the demos are without fault");
        for (columns, sheet) in [(&[2][..], 240), (&[3], 300), (&[2, 2], 180), (&[3, 2], 240)] {
            let mut structure = structure(&read.scenario, columns);
            let members = &read.scenario.choices.members;
            for tier in &mut structure.tiers {
                // The highest board; or sheet, ripped to a height that suits the demo in hand.
                let height = |id: &crate::scenario::MaterialId| match read.scenario.stock.materials
                    [*id]
                    .section
                {
                    Section::Board { width } => width,
                    Section::Sheet => Length::mm(sheet),
                };
                let highest = members.iter().max_by_key(|id| height(id)).expect("there are some");
                (tier.member, tier.height) = (*highest, height(highest));
            }
            let carcass = match carcass(&read.scenario, &structure) {
                Ok(carcass) => carcass,
                Err(misfit) => {
                    println!("{name} {columns:?}: {misfit:?}");
                    continue;
                }
            };
            let found = stow(&read.scenario, &structure, &carcass, &[], &mut Budget::work(work));
            if found.proved_missing {
                println!("{name} {columns:?}: cannot hold {:?}", found.missing);
                continue;
            }
            let shelves = stow_on_shelves(&read.scenario, &structure, &carcass);
            let row = |stowed: &Stowed| {
                check(&read.scenario, &structure, &carcass, &stowed.stowage)
                    .unwrap_or_else(|fault| panic!("{name} {columns:?}: {fault}"));
                let missing = stowed.missing.iter().map(|(_, copies)| *copies).sum();
                (missing, worth(&read.scenario, &stowed.stowage))
            };
            let label = format!("{name} {columns:?}");
            rows.push((label, [row(&found), row(&shelves)], found.value_bound));
        }
    }
    rows
}

#[test]
fn the_demos_are_stowed_better_than_on_shelves() {
    let rows = demos(200_000);
    for (label, [ours, shelves], bound) in &rows {
        println!("{label}: missing, points: {ours:?}, shelves {shelves:?}, bound {bound}");
        assert!(ours.0 <= shelves.0, "{label}: {ours:?} against {shelves:?}");
        assert!(ours.0 < shelves.0 || ours.1 >= shelves.1, "{label}: {ours:?} against {shelves:?}");
    }
    let tried = |name: &str| rows.iter().any(|(label, _, _)| label.starts_with(name));
    assert!(tried("trade") && tried("camping") && tried("van"), "{rows:?}");
    let points = |of: usize| rows.iter().map(|(_, both, _)| both[of].1).sum::<i64>();
    let missing = |of: usize| rows.iter().map(|(_, both, _)| both[of].0).sum::<u32>();
    println!(
        "ours {} ({} missing), shelves {} ({} missing)",
        points(0),
        missing(0),
        points(1),
        missing(1)
    );
    assert!(points(0) > points(1) || missing(0) < missing(1));
}

#[test]
fn the_same_scenario_is_stowed_alike() {
    let scenario = chance(7);
    let once = stowed(&scenario, &[3, 2], 60_000).2;
    assert_eq!(once, stowed(&scenario, &[3, 2], 60_000).2);
}

/// What each drawer holds, tier by tier.
fn loads(scenario: &Scenario, stowage: &Stowage) -> Vec<Vec<Mass>> {
    let load = |layout: &Layout| -> Mass {
        layout.items.iter().map(|item| mass_of(scenario, item.content)).sum()
    };
    stowage.tiers.iter().map(|tier| tier.iter().map(load).collect()).collect()
}

/// Things as long as a drawer: so many heavy ones, and light ones of the same size.
fn anvils_and_pillows(anvils: u32, pillows: u32) -> Scenario {
    let mut scenario = full_size();
    scenario.bed.clear_height.at = inches(40);
    let long = |name: &str, count: u32, mass: Mass| crate::scenario::Gear {
        mass,
        turn: Turn::Fixed,
        ..gear(name, [66, 6, 5], count)
    };
    scenario.gear = [long("anvil", anvils, Mass::KG * 36), long("pillow", pillows, Mass::KG)]
        .into_iter()
        .collect();
    scenario.loose = std::iter::empty().collect();
    scenario
}

#[test]
fn gear_goes_to_another_tier_where_its_own_is_too_heavy() {
    let scenario = anvils_and_pillows(4, 8);
    let structure = structure(&scenario, &[2, 2]);
    let carcass = carcass(&scenario, &structure).expect("the chest stands in its bed");
    let heaviest = |most: &[Mass]| {
        let found = stow(&scenario, &structure, &carcass, most, &mut Budget::work(2_000_000));
        assert!(found.missing.is_empty(), "{:?}", found.missing);
        check(&scenario, &structure, &carcass, &found.stowage).expect("it is sound");
        let loads = loads(&scenario, &found.stowage);
        if most.is_empty() {
            // No sharing out within its own tier would do.
            let tier = |tier: &Vec<Mass>| tier.iter().copied().sum::<Mass>();
            assert!(loads.iter().map(tier).max() > Some(Mass::KG * 90), "{loads:?}");
        }
        assert_eq!(loads.iter().flatten().copied().sum::<Mass>(), Mass::KG * (4 * 36 + 8));
        loads.into_iter().flatten().max().expect("there are drawers")
    };
    // Left alone, the engine puts three of them side by side somewhere.
    assert!(heaviest(&[]) > Mass::KG * 45);
    // One in each of four drawers is the only way.
    assert!(heaviest(&[Mass::KG * 45; 2]) <= Mass::KG * 45);
    // Where it can't be had, as near to it as can be.
    assert!(heaviest(&[Mass::KG * 10; 2]) <= Mass::KG * 45);
}

#[test]
fn of_ways_that_lighten_alike_the_lowest_is_taken() {
    let scenario = anvils_and_pillows(2, 10);
    let structure = structure(&scenario, &[2, 1]);
    let carcass = carcass(&scenario, &structure).expect("the chest stands in its bed");
    // The upper drawer may hold none of them, a lower one one each.
    let most = [Mass::KG * 45, Mass::KG * 12];
    let found = stow(&scenario, &structure, &carcass, &most, &mut Budget::work(2_000_000));
    let loads = loads(&scenario, &found.stowage);
    assert!(found.missing.is_empty() && loads[1][0] <= most[1], "{loads:?}");
    assert!(loads[0].iter().all(|load| *load <= most[0]), "{loads:?}");
}
