//! What the scenario decides is kept, and where it cannot be, it is said what stands in the way and what would do.

mod common;

use bedwright::design::{Content, Design, Drawer};
use bedwright::explore::{Settings, explore};
use bedwright::input::parse;
use bedwright::scenario::{ColumnAt, End, Scenario};
use bedwright::units::Length;
use bedwright::verify::verify;
use common::{on, small};

const DRILL: &str = "count = 2\n";

/// The small scenario with things said of the drill cases, of chest and drawers.
fn scenario(of_drills: &str, more: &str) -> Scenario {
    let text = small(&[(DRILL, &format!("count = 2\n{of_drills}\n"))]) + more;
    parse("small.toml", &text).unwrap_or_else(|faults| panic!("{faults}")).scenario
}

/// The designs, every one of which the verifier accepts.
fn designs(scenario: &Scenario) -> Vec<Design> {
    let found = explore(scenario, &Settings { threads: 1, ..Settings::default() }, &|_| {});
    let designs: Vec<Design> = found.ranked.into_iter().map(|ranked| ranked.design).collect();
    for design in &designs {
        if let Err(rejected) = verify(scenario, design.clone()) {
            panic!("{rejected}");
        }
    }
    designs
}

/// The drawers that hold some of a thing, by name.
fn drawers<'a>(scenario: &Scenario, design: &'a Design, name: &str) -> Vec<&'a Drawer> {
    let holds = |drawer: &&Drawer| {
        drawer.plan.items.iter().any(|item| match item.content {
            Content::Gear(id) => scenario.gear[id].name == name,
            Content::Loose(id) => scenario.loose[id].name == name,
        })
    };
    design.drawers.iter().filter(holds).collect()
}

#[test]
fn a_thing_stands_in_the_drawer_named() {
    for (within, names) in [("A1", ["A1"]), ("A2", ["A2"]), ("left", ["A1"]), ("A right", ["A2"])] {
        let scenario = scenario(&format!("in = \"{within}\""), "");
        let found = designs(&scenario);
        assert!(!found.is_empty());
        for design in &found {
            let holders = drawers(&scenario, design, "Drill case");
            let holders: Vec<&str> = holders.iter().map(|drawer| drawer.name.as_str()).collect();
            assert_eq!(holders, names, "in = {within:?}");
            assert_eq!(design.criteria.value_milli, 8000, "both are stowed and count");
        }
    }
}

#[test]
fn a_thing_stands_at_the_end_named_with_nothing_before_it() {
    for (end, at_front) in [("tailgate", true), ("cab", false)] {
        let both = format!("in = \"A1\"\nend = \"{end}\"");
        let text = small(&[
            (DRILL, &format!("count = 2\n{both}\n")),
            ("must = true", "must = true\nin = \"A1\""),
        ]);
        let scenario = parse("small.toml", &text).expect("it is sound").scenario;
        assert_eq!(
            scenario.gear.values().nth(1).and_then(|gear| gear.place?.end),
            Some(if at_front { End::Tailgate } else { End::Cab })
        );
        let found = designs(&scenario);
        let design = found.first().expect("there is room in one drawer");
        let drawer = drawers(&scenario, design, "Drill case")[0];
        // Nearer to its end than the middle of the drawer, all of it.
        let middle = drawer.plan.length / 2;
        for item in &drawer.plan.items {
            if let Content::Gear(id) = item.content
                && scenario.gear[id].name == "Drill case"
            {
                let far =
                    if at_front { item.space.far().y < middle } else { item.space.at.y > middle };
                assert!(far, "{:?} in {}", item.space, drawer.plan.length.to_mm());
            }
        }
    }
}

#[test]
fn a_drawer_is_as_wide_as_decided_and_the_others_take_the_rest() {
    for name in ["A1", "A2"] {
        let more = format!("\n[[drawer]]\nname = \"{name}\"\nwidth = \"14 3/8\"\n");
        let scenario = scenario("", &more);
        for design in designs(&scenario) {
            let drawer = design.drawers.iter().find(|drawer| drawer.name == name);
            let width = drawer.expect("it has to be there").inside.dx;
            assert_eq!(width, Length::inches(115, 8));
        }
        assert!(!designs(&scenario).is_empty());
    }
}

#[test]
fn a_drawer_is_as_high_as_decided_with_members_ripped_to_suit() {
    let text = small(&[("members = \"2x8\"", "members = [\"2x8\", \"ply 3/4\"]")]);
    let text = text + "\n[[drawer]]\nname = \"A1\"\nheight = \"8 1/4\"\n";
    let scenario = parse("small.toml", &text).expect("it is sound").scenario;
    let found = designs(&scenario);
    assert!(!found.is_empty());
    for design in found {
        assert!(design.drawers.iter().all(|drawer| drawer.inside.dz == Length::inches(33, 4)));
    }
}

#[test]
fn a_tier_is_as_decided_whatever_the_lists_say() {
    let scenario = scenario("", "\n[[tier]]\nname = \"A\"\ncolumns = 3\nmembers = \"ply 3/4\"\n");
    let found = designs(&scenario);
    assert!(!found.is_empty());
    for design in found {
        let tier = design.structure.tiers[0];
        assert_eq!(tier.columns, 3);
        assert_eq!(scenario.stock.materials[tier.member].name, "ply 3/4");
    }
}

#[test]
fn permuting_what_is_decided_changes_no_id() {
    let first = scenario("in = \"right\"", "\n[[drawer]]\nname = \"A1\"\nwidth = 20\n");
    let mut other = first.clone();
    other.gear = first.gear.values().rev().cloned().collect();
    let ids = |scenario: &Scenario| -> Vec<_> {
        designs(scenario).iter().map(|design| design.id).collect()
    };
    assert_eq!(ids(&first), ids(&other));
    assert_eq!(
        first.gear.values().nth(1).and_then(|gear| gear.place?.column),
        Some(ColumnAt::Right)
    );
}

#[test]
fn what_cannot_be_is_explained_with_what_would_do() {
    // With 6 in for the other drawer it takes 44 in, and there is 42 1/8 inside.
    let wide = small(&[]) + "\n[[drawer]]\nname = \"A1\"\nwidth = 38\n";
    on("explore", &wide, &[]).expect(1, &["decided widths of tier A", "take 44 in"]);
    on("explain", &wide, &[]).expect(
        1,
        &["Drawer A1 38 in wide inside;", "drawer A1 36 1/8 in wide inside", "1 7/8 in more width"],
    );
    // A drawer too narrow for what must stand in it.
    let both = small(&[("must = true", "must = true\nin = \"A1\"")])
        + "\n[[drawer]]\nname = \"A1\"\nwidth = 10\n";
    on("explain", &both, &[]).expect(
        1,
        &[
            "Saw case must stand in A1",
            "drawer A1 10 in wide inside",
            "drawer A1 12 in wide inside",
        ],
    );
}

#[test]
fn what_contradicts_itself_is_refused_at_its_place() {
    let faults = |more: &str| on("vet", small(&[]) + more, &[]);
    faults("\n[[drawer]]\nname = \"B1\"\n").expect(2, &["the chest has 1 tiers at most"]);
    faults("\n[[drawer]]\nname = \"A4\"\n").expect(2, &["2 drawers side by side at most"]);
    faults("\n[[drawer]]\nname = \"Z9\"\n").expect(2, &["is not a drawer, such as A1"]);
    faults("\n[[tier]]\nname = \"A\"\nmembers = \"2x99\"\n").expect(2, &["2x99"]);
    let twice = "\n[[drawer]]\nname = \"A1\"\nheight = 5\n[[drawer]]\nname = \"A2\"\nheight = 6\n";
    faults(twice).expect(2, &["equally high inside"]);
    let elsewhere = small(&[(DRILL, "count = 2\nin = \"middle\"\n")]);
    on("vet", elsewhere, &[]).expect(2, &["`middle` is not a drawer"]);
}

#[test]
fn what_starts_from_a_design_keeps_its_structure_and_stowing() {
    let (_folder, path) = common::file(small(&[("columns = [2]", "columns = [1, 2, 3]")]));
    let before = common::text(&path);
    let listed = common::run(&["explore", before, "--json", "-q"]).expect(0, &[]);
    let listed: serde_json::Value = serde_json::from_str(&listed.out).expect("a document");
    let last = listed["designs"].as_array().and_then(|all| all.last()).expect("some designs");
    let id = last["id"].as_str().expect("an id");
    let like = |file: &str| {
        let said = common::run(&["explore", file, "--like", id, "--of", before, "--json", "-q"]);
        serde_json::from_str::<serde_json::Value>(&said.expect(0, &[]).out).expect("a document")
    };
    // In the same scenario it comes out the same, or better with the same drawers.
    let same = like(before);
    assert_eq!(same["like"]["design"], id);
    let (first, score) =
        (&same["designs"][0], |design: &serde_json::Value| design["score"].as_f64());
    assert_eq!(first["structure"]["tiers"], last["structure"]["tiers"]);
    assert!(score(first) >= score(last), "{first}");
    // A wider bed keeps its drawers, a cheaper one its materials, and what is new comes in.
    let wider = small(&[
        ("columns = [2]", "columns = [1, 2, 3]"),
        ("between_wells = 50", "between_wells = 51"),
    ]);
    let new = "\n[[gear]]\nname = \"Rope\"\nsize = [9, 9, 3]\nweight = 2\nworth = 2\n";
    let (_other, path) = common::file(wider + new);
    let changed = like(common::text(&path));
    let kept = changed["like"]["kept"].as_str().expect("what was kept");
    assert!(kept.starts_with("structure, drawer sizes"), "{kept}");
    assert_eq!(changed["designs"][0]["structure"]["tiers"], last["structure"]["tiers"]);
    assert_eq!(changed["designs"][0]["left_out"], serde_json::json!([]));
    common::run(&["explore", before, "--like", "zzzzzzz"])
        .expect(2, &["no design found is 'zzzzzzz'"]);
}
