//! Relations that hold on random small scenarios, each printed with its seed when it fails.
//!
//! Everything listed passes the verifier; permuting the gear or changing the number of threads changes nothing; counts
//! and costs add up; a bed that cannot take more than nothing says so. The generator is checked to reach the hard cases.

#[path = "common/random.rs"]
mod random;

use std::collections::BTreeMap;

use bedwright::design::{Content, Design, PurchaseOf};
use bedwright::explore::{Explored, Settings, explore};
use bedwright::input::parse;
use bedwright::scenario::{Criterion, Demand, Family, Scenario};
use bedwright::units::Money;
use bedwright::verify::verify;
use random::Random;

const CASES: u64 = 24;

const STOCK: &str = r#"
[[sheet]]
name = "panel 18"
size = [96, 48]
thickness = "23/32"
price = 50
panel = "48/24"
[[sheet]]
name = "panel 12"
size = [96, 48]
thickness = "1/2"
price = 35
panel = "32/16"
[[board]]
name = "low board"
section = ["1 1/2", "5 1/2"]
lengths = { "8 ft" = 7, "12 ft" = 11 }
[[board]]
name = "high board"
section = ["1 1/2", "7 1/4"]
lengths = { "8 ft" = 10, "10 ft" = 12.50 }
[chest]
tiers = [1, 2]
columns = [1, 2, 3]
members = ["low board", "high board"]
bottom = "panel 12"
deck = "panel 18"
drawer_sides = "panel 12"
drawer_bottoms = "panel 12"
fronts = "panel 18"
dividers = "panel 12"
runs_on = "waxed"
locks = false
"#;

/// The gear of a random scenario, an entry each, and the rest of the file.
fn random_file(seed: u64) -> (String, Vec<String>) {
    let mut random = Random::new(seed);
    let between = random.within(40, 52);
    let mut file = format!(
        "title = \"case {seed}\"\nunits = \"in\"\n[bed]\nkind = \"pickup\"\nlength = {}\nwidth = {}\n\
         between_wells = {between}\nwells = {{ from_tailgate = 20, length = 34, height = 8 }}\nclear_height = {}\n",
        random.within(56, 80),
        between + random.within(8, 24),
        random.within(11, 21),
    );
    file.push_str(STOCK);
    let gear = (0..random.within(2, 9)).map(|number| {
        let size: Vec<String> = [(6, 34), (4, 20), (2, 6)].map(|(a, b)| random.within(a, b).to_string()).into();
        let demand = if random.one_in(4) { "must = true".to_owned() } else { format!("worth = {}", random.within(1, 9)) };
        let turn = ["fixed", "base", "any"][random.within(0, 2) as usize];
        format!(
            "[[gear]]\nname = \"thing {number}\"\nsize = [{}]\nweight = {}\ncount = {}\nturn = \"{turn}\"\n{demand}\n\
             use = {}\nshare = {}\npocket = {}\n",
            size.join(", "),
            random.within(1, 20),
            random.within(1, 3),
            random.within(0, 7),
            random.one_in(3),
            random.one_in(3),
        )
    });
    let gear = gear.collect();
    (file, gear)
}

fn scenario(file: &str, gear: &[String]) -> Scenario {
    let text = format!("{file}{}", gear.concat());
    parse("case.toml", &text).unwrap_or_else(|faults| panic!("{faults}\n{text}")).scenario
}

fn explored(scenario: &Scenario, threads: usize) -> Explored {
    explore(scenario, &Settings { threads, ..Settings::default() }, &|_| {})
}

/// What a ranking says, without what depends on the order of the lists in the file.
fn said(found: &Explored) -> Vec<(String, u64, i64)> {
    let line = |one: &bedwright::explore::RankedDesign| {
        (one.design.id.to_string(), one.score.to_bits(), one.design.criteria.value_milli)
    };
    found.ranked.iter().map(line).collect()
}

#[test]
fn every_design_listed_passes_the_verifier_and_adds_up() {
    let mut reached: BTreeMap<&str, u32> = BTreeMap::new();
    for seed in 0..CASES {
        let (file, gear) = random_file(seed);
        let scenario = scenario(&file, &gear);
        let found = explored(&scenario, 2);
        if found.ranked.is_empty() {
            *reached.entry("nothing stands").or_default() += 1;
            assert!(
                found.considered.discarded.nearest().is_some(),
                "seed {seed}: nothing, and no reason"
            );
        }
        for one in found.ranked {
            note(&mut reached, &scenario, &one.design);
            adds_up(&scenario, &one.design, seed);
            assert!(
                one.design.criteria.value_milli <= one.value_bound,
                "seed {seed}: worth beyond its bound"
            );
            if let Err(rejected) = verify(&scenario, one.design) {
                panic!("seed {seed}: {rejected}");
            }
        }
    }
    println!("{reached:?}");
    for hard in [
        "two tiers",
        "unequal columns",
        "left out",
        "above the wells",
        "pockets",
        "dividers",
        "turned",
        "nothing stands",
    ] {
        assert!(reached.contains_key(hard), "the generator never reaches '{hard}': {reached:?}");
    }
}

fn note(reached: &mut BTreeMap<&str, u32>, scenario: &Scenario, design: &Design) {
    let mut has = |what, it: bool| {
        if it {
            *reached.entry(what).or_default() += 1;
        }
    };
    has("two tiers", design.structure.tiers.len() == 2);
    has("above the wells", design.structure.family == Family::AboveWells);
    has("pockets", !design.pockets.is_empty());
    has("left out", !design.left_out.is_empty());
    has("dividers", design.drawers.iter().any(|drawer| !drawer.plan.dividers.is_empty()));
    let tipped = |design: &Design| {
        let items = design.drawers.iter().flat_map(|drawer| &drawer.plan.items);
        items.into_iter().any(|item| match item.content {
            Content::Gear(id) => {
                let [length, width, height] = scenario.gear[id].size;
                let size = item.space.size;
                [size.dx, size.dy, size.dz] != [width, length, height]
            }
            Content::Loose(_) => false,
        })
    };
    has("turned", tipped(design));
    let step = bedwright::units::Length::INCH;
    let uneven = |widths: &Vec<bedwright::units::Length>| {
        widths.iter().any(|w| w.abs_diff(widths[0]) > step)
    };
    has("unequal columns", design.chest.openings.iter().any(uneven));
}

/// Parts are cut as often as they are needed, everything is stowed or left out, and the bill is the sum of its lines.
fn adds_up(scenario: &Scenario, design: &Design, seed: u64) {
    let mut cut = vec![0; design.parts.len()];
    for layout in &design.cutting.sheets {
        layout.pieces.iter().for_each(|piece| cut[piece.part.0 as usize] += layout.repeat);
    }
    for layout in &design.cutting.boards {
        layout.pieces.iter().for_each(|piece| cut[piece.part.0 as usize] += layout.repeat);
    }
    let needed: Vec<u32> = design.parts.iter().map(|part| part.quantity).collect();
    assert_eq!(cut, needed, "seed {seed}");
    for (id, gear) in scenario.gear.iter() {
        let plans =
            design.drawers.iter().map(|d| &d.plan).chain(design.pockets.iter().map(|p| &p.plan));
        let stowed = plans
            .flat_map(|plan| &plan.items)
            .filter(|item| item.content == Content::Gear(id))
            .count();
        let left: u32 = design
            .left_out
            .iter()
            .filter(|left| left.content == Content::Gear(id))
            .map(|left| left.count)
            .sum();
        assert_eq!(stowed as u32 + left, gear.count, "seed {seed}: {}", gear.name);
    }
    let bill: Money = design
        .purchases
        .iter()
        .map(|line| match line.what {
            PurchaseOf::Stock(id) => {
                scenario.stock.items[id].price * i64::from(line.quantity - line.on_hand)
            }
            PurchaseOf::Hardware(id) => {
                scenario.stock.hardware[id].price * i64::from(line.quantity - line.on_hand)
            }
        })
        .sum();
    assert_eq!(bill, design.criteria.cost, "seed {seed}");
}

#[test]
fn threads_and_the_order_of_the_gear_change_nothing() {
    for seed in 100..100 + CASES / 3 {
        let (file, gear) = random_file(seed);
        let one = explored(&scenario(&file, &gear), 1);
        let two = explored(&scenario(&file, &gear), 2);
        assert_eq!(one, two, "seed {seed}: threads");
        let mut turned = gear.clone();
        turned.reverse();
        let other = explored(&scenario(&file, &turned), 2);
        assert_eq!(said(&one), said(&other), "seed {seed}: order of the gear");
    }
}

/// The stock's entries, and the rest of the file.
fn parted(file: &str) -> (Vec<String>, String) {
    let begins = file.find("[[sheet]]").expect("the stock begins with sheets");
    let ends = file.find("[chest]").expect("what may be chosen follows the stock");
    let entries = file[begins..ends].split("[[").filter(|entry| !entry.trim().is_empty());
    let entries = entries.map(|entry| format!("[[{entry}")).collect();
    (entries, format!("{}{{STOCK}}{}", &file[..begins], &file[ends..]))
}

#[test]
fn the_order_of_the_stock_and_stock_that_nothing_names_change_nothing() {
    let unused = "[[sheet]]\nname = \"panel 25\"\nsize = [96, 48]\nthickness = 1\nprice = 1\n";
    for seed in 200..200 + CASES / 4 {
        let (file, gear) = random_file(seed);
        let base = said(&explored(&scenario(&file, &gear), 2));
        let (mut entries, rest) = parted(&file);
        entries.reverse();
        let turned = rest.replace("{STOCK}", &entries.concat());
        assert_ne!(turned, file);
        let found = said(&explored(&scenario(&turned, &gear), 2));
        assert_eq!(base, found, "seed {seed}: order of the stock");
        let more = file.replacen("[[sheet]]", &format!("{unused}[[sheet]]"), 1);
        let found = said(&explored(&scenario(&more, &gear), 2));
        assert_eq!(base, found, "seed {seed}: a sheet that nothing may be made of");
    }
}

/// What no design can use, or the best of those found does not, is not missed when it is taken out of the file.
#[test]
fn what_is_not_used_is_not_missed() {
    let (mut boards, mut things, mut left) = (0, 0, 0);
    for seed in 400..400 + CASES {
        // As many as it takes to have seen every kind, and no more: each is explored several times.
        if boards >= 1 && things >= 4 && left >= 1 {
            break;
        }
        let (file, gear) = random_file(seed);
        let clear = file.split("clear_height = ").nth(1).and_then(|rest| rest.lines().next());
        let clear = clear.expect("the bed has a clear height");
        let base = explored(&scenario(&file, &gear), 2);
        // A thing too high for any drawer leaves no trace: the same designs with the same figures.
        let high = format!(
            "[[gear]]\nname = \"lamp\"\nsize = [7.3, 6.1, {clear}]\nweight = 9\nworth = 0\nturn = \"base\"\n"
        );
        let with: Vec<String> = gear.iter().cloned().chain([high]).collect();
        let found = explored(&scenario(&file, &with), 2);
        assert_eq!(said(&base), said(&found), "seed {seed}: something that fits nowhere");
        things += 1;
        let Some(best) = base.ranked.first() else { continue };
        // A board that the best design is not made of.
        let used = |name: &str| {
            let scenario = scenario(&file, &gear);
            let id = scenario.stock.material_named(name).expect("it is listed");
            best.design.parts.iter().any(|part| part.material == id)
        };
        for (name, other) in [("low board", "high board"), ("high board", "low board")] {
            if !used(name) {
                let both = "members = [\"low board\", \"high board\"]";
                let fewer = file.replacen(both, &format!("members = \"{other}\""), 1);
                assert_ne!(fewer, file);
                let found = explored(&scenario(&fewer, &gear), 2);
                assert_eq!(said(&base)[0], said(&found)[0], "seed {seed}: without the {name}");
                boards += 1;
            }
        }
        // A thing that the most worth is stowed without: no less is stowed once it is gone, unless a bound says that
        // nothing is proved.
        let scenario_of = scenario(&file, &gear);
        let gone = scenario_of.gear.ids().find(|id| {
            best.design.left_out.iter().any(|left| {
                left.content == Content::Gear(*id) && left.count == scenario_of.gear[*id].count
            })
        });
        if let Some(gone) = gone {
            let name = format!("name = \"{}\"", scenario_of.gear[gone].name);
            let fewer: Vec<String> =
                gear.iter().filter(|entry| !entry.contains(&name)).cloned().collect();
            assert_eq!(fewer.len() + 1, gear.len());
            let found = explored(&scenario(&file, &fewer), 2);
            let bound = found.aims.iter().find(|aim| aim.criterion == Criterion::Value);
            let bound = bound.map_or(f64::NEG_INFINITY, |aim| aim.bound);
            let stowed = best.design.criteria.value_milli as f64 / 1000.0;
            assert!(stowed <= bound + 1e-9, "seed {seed}: {stowed} over {bound} without {name}");
            left += 1;
        }
    }
    assert!(
        boards >= 1 && things >= 4 && left >= 1,
        "{boards} boards, {things} things, {left} left out"
    );
}

/// A limit that is eased never has a bound beyond what was found within the tighter one, by any criterion.
#[test]
fn a_looser_limit_is_never_worse() {
    let mut compared = 0;
    for seed in 500..500 + CASES / 6 {
        let (file, gear) = random_file(seed);
        let cheapest = explored(&scenario(&file, &gear), 2);
        let cost = cheapest.ranked.iter().map(|one| one.design.criteria.cost).min();
        let Some(cost) = cost else { continue };
        let limited = |most: Money| {
            let mut limited = scenario(&file, &gear);
            limited.aims.limits.cost = Some(most);
            explored(&limited, 2)
        };
        let (tight, loose) = (limited(cost), limited(cost * 2));
        assert!(!tight.ranked.is_empty(), "seed {seed}: the cheapest costs no more than itself");
        for one in &tight.ranked {
            assert!(one.design.criteria.cost <= cost, "seed {seed}");
        }
        for (tight, loose) in tight.aims.iter().zip(&loose.aims) {
            let Some((best, _)) = tight.best else { continue };
            let within = match tight.criterion.more_is_better() {
                true => best <= loose.bound + 1e-9,
                false => best >= loose.bound - 1e-9,
            };
            assert!(within, "seed {seed}: {loose:?} after {tight:?}");
            compared += 1;
        }
    }
    assert!(compared >= 8, "only {compared} comparisons were made");
}

#[test]
fn more_stock_and_one_thing_fewer_are_never_bounded_below_what_was_found() {
    let aim = |found: &Explored, of: Criterion| {
        found.aims.iter().find(|aim| aim.criterion == of).copied()
    };
    let mut compared = 0;
    for seed in 300..300 + CASES / 3 {
        let (file, mut gear) = random_file(seed);
        let tight = scenario(&file, &gear);
        let base = explored(&tight, 2);
        // Half as long again at the price of the shorter one: no dearer chest than before is the cheapest.
        let longer = file.replacen("\"8 ft\" = 7", "\"8 ft\" = 7, \"10 ft\" = 7", 1);
        assert_ne!(longer, file);
        let looser = explored(&scenario(&longer, &gear), 2);
        if let (Some(base), Some(looser)) =
            (aim(&base, Criterion::Cost), aim(&looser, Criterion::Cost))
        {
            let best = base.best.map_or(f64::INFINITY, |(best, _)| best);
            assert!(looser.bound <= best, "seed {seed}: {looser:?} after {base:?}");
            compared += 1;
        }
        // One kind of thing fewer costs at most its own worth.
        let last = tight.gear.values().last().cloned().expect("there are two at least");
        gear.pop();
        let fewer = explored(&scenario(&file, &gear), 2);
        if let (Some(base), Some(fewer)) =
            (aim(&base, Criterion::Value), aim(&fewer, Criterion::Value))
        {
            let worth = match last.demand {
                Demand::Worth(milli) => milli as f64 / 1000.0 * f64::from(last.count),
                Demand::Must => 0.0,
            };
            let best = base.best.map_or(0.0, |(best, _)| best);
            assert!(best - worth <= fewer.bound + 1e-9, "seed {seed}: {fewer:?} after {base:?}");
            compared += 1;
        }
    }
    assert!(compared >= 8, "only {compared} comparisons were made");
}
