//! What is taken where nothing was said, and that it is listed.

use super::super::Read;
use super::{SMALL, good, small_with};
use crate::scenario::{Criterion, Demand, Family, MaterialId, Runs};
use crate::units::{Length, Money};

/// What was taken for `key`.
fn taken<'r>(read: &'r Read, key: &str) -> Option<&'r str> {
    read.defaults_used.iter().find(|used| used.key == key).map(|used| used.value_shown.as_str())
}

const METRIC: &str = "
units = 'mm'
[bed]
kind = 'cargo'
length = 1800
width = 1200
clear_height = 500
[[sheet]]
name = 'birch 18'
size = [2500, 1250]
thickness = 18
price = 90
[[sheet]]
name = 'birch 9'
size = [2500, 1250]
thickness = 9
price = 60
";

#[test]
fn defaults_in_inches() {
    let read = good(SMALL);
    let allowances = &read.scenario.allowances;
    assert_eq!(allowances.handle_room, Length::inches(3, 1));
    assert_eq!(allowances.side_gap, Length::inches(1, 4));
    assert_eq!(allowances.stop, Length::inches(1, 4));
    assert_eq!(allowances.deck_overhang, Length::inches(3, 4));
    assert_eq!(allowances.chest_screws.spacing, Length::inches(6, 1));
    assert_eq!(read.scenario.shop.step, Length::inches(1, 16));
    assert_eq!(taken(&read, "chest.handle_room"), Some("3 in"));
    assert_eq!(taken(&read, "chest.side_gap"), Some("1/4 in"));
    assert_eq!(taken(&read, "shop.kerf"), None, "the file says it");
    assert_eq!(taken(&read, "currency"), Some("USD"));
    let without = good(&small_with("[shop]\nkerf = \"1/8\"\n", ""));
    assert_eq!(taken(&without, "shop.kerf"), Some("1/8 in"));
    assert_eq!(without.scenario.shop, read.scenario.shop);
}

#[test]
fn defaults_in_millimetres() {
    let read = good(METRIC);
    let allowances = &read.scenario.allowances;
    assert_eq!(allowances.handle_room, Length::mm(75));
    assert_eq!(allowances.side_gap, Length::mm(6));
    assert_eq!(read.scenario.shop.step, Length::MM);
    assert_eq!(read.scenario.shop.kerf * 10, Length::mm(32));
    assert_eq!(taken(&read, "shop.kerf"), Some("3.2 mm"));
    assert_eq!(taken(&read, "currency"), Some("EUR"));
    assert_eq!(
        taken(&read, "chest.families"),
        Some("between wells"),
        "there are none to stand above"
    );
    assert_eq!(read.scenario.choices.families, [Family::BetweenWells]);
    assert_eq!(read.scenario.choices.runs_on, [Runs::Waxed], "no strip, no slides");
    assert_eq!(taken(&read, "density of birch 18"), Some("700 kg/m³"));
    assert!(read.scenario.gear.is_empty(), "no gear is no fault");
    assert!(read.defaults_used.iter().all(|used| !used.basis.is_empty()));
}

#[test]
fn what_is_said_is_not_listed() {
    let chest =
        "[chest]\nside_gap = \"3/8\"\nlocks = true\ntiers = 2\nchest_screws = { spacing = 8 }";
    let read = good(&format!("{SMALL}\n{chest}\n"));
    assert_eq!(read.scenario.allowances.side_gap, Length::inches(3, 8));
    assert_eq!(read.scenario.choices.tiers, [2], "one alone is a list of one");
    assert_eq!(read.scenario.allowances.chest_screws.spacing, Length::INCH * 8);
    assert!(read.scenario.choices.locks);
    for key in ["chest.side_gap", "chest.locks", "chest.tiers", "chest.chest_screws.spacing"] {
        assert_eq!(taken(&read, key), None, "{key}");
    }
    assert_eq!(taken(&read, "chest.chest_screws.ends"), Some("2 in"));
}

#[test]
fn choices_are_made_from_what_the_stock_suits() {
    let read = good(SMALL);
    let (stock, choices) = (&read.scenario.stock, &read.scenario.choices);
    let names = |ids: &[MaterialId]| -> Vec<String> {
        ids.iter().map(|id| stock.materials[*id].name.clone()).collect()
    };
    assert_eq!(names(&choices.members), ["ply 3/4", "2x8"]);
    assert_eq!(names(&choices.deck), ["ply 3/4", "ply 1/2"]);
    assert_eq!(names(&choices.drawer_sides), ["ply 3/4", "ply 1/2"]);
    assert_eq!(names(&choices.drawer_bottoms), ["ply 1/2"]);
    assert_eq!(names(&choices.dividers), ["ply 1/2"], "the thinnest");
    assert_eq!(choices.corner_blocks, None);
    assert_eq!(choices.runs_on, [Runs::Strip]);
    assert!(choices.pockets && !choices.locks);
    assert_eq!(taken(&read, "chest.members"), Some("ply 3/4, 2x8"));
}

#[test]
fn named_choices_keep_their_order() {
    let read = good(&format!("{SMALL}\n[chest]\ndeck = [\"ply 1/2\", \"ply 3/4\"]\n"));
    let deck = &read.scenario.choices.deck;
    let names: Vec<&str> =
        deck.iter().map(|id| read.scenario.stock.materials[*id].name.as_str()).collect();
    assert_eq!(names, ["ply 1/2", "ply 3/4"]);
}

#[test]
fn a_square_board_makes_corner_blocks() {
    let square = "[[board]]\nname = \"2x2\"\nsection = [1.5, 1.5]\nlengths = { \"8 ft\" = 4 }\n";
    let read = good(&format!("{SMALL}\n{square}"));
    assert_eq!(read.scenario.choices.corner_blocks, read.scenario.stock.material_named("2x2"));
    let read = good(&format!("{SMALL}\n{square}[chest]\ncorner_blocks = \"none\"\n"));
    assert_eq!(read.scenario.choices.corner_blocks, None);
}

#[test]
fn defaults_of_lists_are_counted() {
    let read = good(SMALL);
    assert_eq!(taken(&read, "gear.turn"), Some("base (2 times)"));
    assert_eq!(taken(&read, "gear.use"), Some("weekly (2 times)"));
    assert_eq!(taken(&read, "sheet.grain"), Some("true (2 times)"));
    assert_eq!(taken(&read, "gear.worth"), None, "one must fit, the other has a worth");
    assert_eq!(taken(&read, "loose.worth"), Some("1 point"));
    let rags = read.scenario.loose.values().next().expect("rags");
    assert_eq!(rags.demand, Demand::Worth(1000));
}

#[test]
fn aims_left_out_weigh_nothing_save_what_optional_gear_is_worth() {
    let read = good(&format!("{SMALL}\n[aims]\ncost = 2\nlimits = {{ cost = 600 }}\n"));
    let aims = &read.scenario.aims;
    assert_eq!(aims.weight(Criterion::Cost), 2.0);
    assert_eq!(aims.weight(Criterion::Waste), 0.0);
    assert_eq!(aims.weight(Criterion::Value), 4.0);
    assert_eq!(taken(&read, "aims.waste"), Some("0"));
    assert_eq!(taken(&read, "aims.value"), Some("4"));
    assert_eq!(aims.limits.cost, Some(Money::ONE * 600));
    let all = good(SMALL).scenario.aims;
    assert!(Criterion::ALL.iter().all(|criterion| all.weight(*criterion) > 0.0));
}
