//! The explorer uses the checks: what would not hold is made of thicker stock, of more members, with closer screws, or its
//! gear is stowed otherwise; each seen in the answer of the binary, before and after.

mod common;

use common::{on, small};
use serde_json::Value;

/// The designs that are offered, best first.
fn designs(scenario: &str) -> Vec<Value> {
    let said = on("explore", scenario, &["--json", "--quiet"]).expect(0, &[]);
    let found: Value = serde_json::from_str(&said.out).expect("it is JSON");
    found["designs"].as_array().expect("a list").clone()
}

fn best(scenario: &str) -> Value {
    designs(scenario).remove(0)
}

/// Whether every check holds that is more than a note; those named so are not found to fail.
fn holds(design: &Value, starts: &str) -> bool {
    let checks = design["checks"].as_array().expect("a list");
    let of = |check: &&Value| check["name"].as_str().is_some_and(|name| name.starts_with(starts));
    let found: Vec<&Value> = checks.iter().filter(of).collect();
    assert!(!found.is_empty(), "no check begins with {starts}");
    found.iter().all(|check| check["pass"] == true)
}

const RATED: [(&str, &str); 2] = [
    ("thickness = \"23/32\"", "thickness = \"23/32\"\npanel = \"48/24\""),
    ("thickness = \"15/32\"", "thickness = \"15/32\"\npanel = \"32/16\""),
];
/// Nobody stands on it, so that the load alone decides.
const NOBODY: &str = "\n[engineering]\nperson = \"1 N\"\n";

fn rated(more: &[(&str, &str)]) -> String {
    small(&[&RATED[..], more].concat())
}

/// A scenario of cost alone, with a load on the deck.
fn carrying(chest: &str, psf: f64) -> String {
    let text = rated(&[("runs_on = [\"strip\"]", &format!("runs_on = [\"strip\"]\n{chest}"))]);
    let aims = format!(
        "\n[aims]\ncost = 1\nusable_volume = 0\nvalue = 0\nreach = 0\nwaste = 0\nmass = 0\nsimplicity = 0\nlimits = {{ deck_pressure = \"{psf} psf\" }}\n"
    );
    text + &aims + NOBODY
}

#[test]
fn a_heavier_load_asks_for_a_thicker_deck() {
    let both =
        "deck = [\"ply 1/2\", \"ply 3/4\"]\nbottom = \"ply 3/4\"\ndrawer_bottoms = \"ply 3/4\"";
    let three = |psf: f64| carrying(both, psf).replace("columns = [2]", "columns = [3]");
    let light = best(&three(3.0));
    assert_eq!(light["structure"]["deck"], "ply 1/2");
    let heavy = best(&three(60.0));
    assert_eq!(heavy["structure"]["deck"], "ply 3/4");
    for design in [&light, &heavy] {
        assert!(holds(design, "deck "));
    }
    // The cheaper one alone is not offered for that load.
    let only = three(60.0).replace("deck = [\"ply 1/2\", \"ply 3/4\"]", "deck = \"ply 1/2\"");
    on("explore", &only, &["--quiet"]).expect(1, &["fails the check of deck"]);
}

#[test]
fn a_heavier_load_asks_for_another_member() {
    let half = "deck = \"ply 1/2\"\nbottom = \"ply 3/4\"\ndrawer_bottoms = \"ply 3/4\"";
    let columns = |psf: f64| {
        let text = carrying(half, psf).replace("columns = [2]", "columns = [2, 3, 4]");
        let design = best(&text);
        assert!(holds(&design, "deck "), "{psf} psf");
        design["structure"]["tiers"][0]["columns"].as_u64().expect("a number")
    };
    assert!(columns(20.0) > columns(2.0));
}

#[test]
fn heavier_gear_asks_for_thicker_bottoms() {
    let both =
        "drawer_bottoms = [\"ply 1/2\", \"ply 3/4\"]\ndeck = \"ply 3/4\"\nbottom = \"ply 3/4\"";
    let weighing = |pounds: &str| {
        let text = carrying(both, 1.0).replace("columns = [2]", "columns = [3]");
        best(&text.replace("weight = 11", &format!("weight = {pounds}")))
    };
    let (light, heavy) = (weighing("4"), weighing("70"));
    assert_eq!(light["structure"]["drawer_bottom"], "ply 1/2");
    assert_eq!(heavy["structure"]["drawer_bottom"], "ply 3/4");
    assert!(holds(&light, "drawer bottom") && holds(&heavy, "drawer bottom"));
}

#[test]
fn heavier_gear_asks_for_closer_screws() {
    // Heavy at the front of a drawer, which presses the panel over its back end up when it is drawn out.
    let spacing = |pounds: u32| {
        let thick = "columns = [2]\ndrawer_bottoms = \"ply 3/4\"";
        let text =
            rated(&[("weight = 11", &format!("weight = {pounds}")), ("columns = [2]", thick)]);
        let aims = "\n[aims]\nlimits = { pull = \"200 lbf\" }\n";
        let design = best(&format!("{text}{aims}{NOBODY}sag_share = 20\n"));
        assert!(holds(&design, "uplift by"), "{pounds} lb");
        let lines = design["hardware"].as_array().expect("a list");
        let screws = lines.iter().find(|line| line["use"] == "chest_screw").expect("screws");
        screws["need"]["count"].as_u64().expect("a number")
    };
    assert!(spacing(200) > spacing(100));
}

/// Three heavy things of one group, which go together where they may.
fn heavy(pull: &str) -> String {
    let gear = "[[gear]]\nname = \"Anvil\"\nsize = [70, 6, 5]\nweight = 80\nmust = true\ncount = 4\nturn = \"fixed\"\nnear = \"iron\"\n\n\
                [[gear]]\nname = \"Pillow\"\nsize = [70, 6, 5]\nweight = 1\nworth = 1\ncount = 2\nturn = \"fixed\"\nnear = \"soft\"\n\n[[gear]]\nname = \"Saw case\"";
    let thick =
        "columns = [2]\ndrawer_bottoms = \"ply 3/4\"\nbottom = \"ply 3/4\"\ndeck = \"ply 3/4\"";
    let text = rated(&[
        ("[[gear]]\nname = \"Saw case\"", gear),
        ("must = true\nuse", "worth = 1\nuse"),
        ("columns = [2]", thick),
    ]);
    // Not the bottoms' sag but the pull is looked at.
    format!("{text}\n[aims]\nlimits = {{ pull = \"{pull}\" }}\n{NOBODY}sag_share = 20\n")
}

/// What each drawer takes to pull, the hardest first.
fn pulls(design: &Value) -> Vec<f64> {
    let checks = design["checks"].as_array().expect("a list");
    let of =
        |check: &&Value| check["name"].as_str().is_some_and(|name| name.starts_with("pull of"));
    let mut found: Vec<f64> =
        checks.iter().filter(of).map(|check| check["value"].as_f64().expect("newtons")).collect();
    found.sort_by(|a, b| b.total_cmp(a));
    found
}

#[test]
fn a_drawer_too_heavy_to_pull_gives_gear_to_another() {
    // With pull to spare all four of the group lie in one drawer; held to less, they are parted.
    let together = pulls(&best(&heavy("200 lbf")));
    let limit = 55.0 * 4.448_222;
    assert!(together[0] > limit, "{together:?}");
    let parted = best(&heavy("55 lbf"));
    assert!(pulls(&parted)[0] <= limit, "{together:?} to {:?}", pulls(&parted));
    assert_eq!(parted["structure"]["tiers"][0]["columns"], 2);
    assert!(holds(&parted, "pull of"));
    assert_eq!(best(&heavy("55 lbf"))["id"], parted["id"], "the same every time");
}

#[test]
fn gear_too_heavy_for_its_tier_goes_to_another() {
    // Two tiers of one drawer each: there is no other drawer in a tier to give gear to.
    let tiers = |pull: &str| {
        let text = heavy(pull).replace("columns = [2]", "columns = [1]");
        let text = text.replace("tiers = [1]", "tiers = [2]").replace("depth = 21", "depth = 26");
        text.replace("clear_height = 20", "clear_height = 24")
    };
    let limit = 60.0 * 4.448_222;
    let together = pulls(&best(&tiers("200 lbf")));
    assert!(together.len() == 2 && together[0] > limit, "{together:?}");
    let parted = best(&tiers("60 lbf"));
    assert!(pulls(&parted)[0] <= limit, "{together:?} to {:?}", pulls(&parted));
    assert_eq!(parted["structure"]["tiers"].as_array().map(Vec::len), Some(2));
}

#[test]
fn where_no_parting_helps_there_are_more_drawers() {
    let text = |columns: &str| heavy("30 lbf").replace("columns = [2]", columns);
    on("explore", text("columns = [2]"), &["--quiet"]).expect(1, &["pull of drawer"]);
    let split = best(&text("columns = [2, 3, 4]"));
    assert!(split["structure"]["tiers"][0]["columns"].as_u64() > Some(2));
    assert!(holds(&split, "pull of"));
}

#[test]
fn a_short_deck_may_lie_across_and_be_lighter() {
    let short = |grain: &str| {
        let lists = format!(
            "deck = [\"ply 1/2\", \"ply 3/4\"]\ndeck_grain = {grain}\nbottom = \"ply 3/4\"\ndrawer_bottoms = \"ply 3/4\""
        );
        let text = carrying(&lists, 45.0);
        let text = text
            .replace("length = 78\n", "length = 50\n")
            .replace("from_tailgate = 20, length = 36", "from_tailgate = 10, length = 30");
        best(&text)
    };
    let (along, across, either) =
        (short("\"along\""), short("\"across\""), short("[\"along\", \"across\"]"));
    assert_eq!(along["structure"]["deck"], "ply 3/4");
    assert_eq!(across["structure"]["deck"], "ply 1/2");
    assert_eq!(either["structure"]["deck_grain"], "across");
    let mass = |design: &Value| design["criteria"]["mass"].as_f64().expect("a mass");
    assert!(mass(&either) < mass(&along));
    for design in [&along, &across, &either] {
        assert!(holds(design, "deck "));
    }
}

#[test]
fn a_long_deck_is_not_laid_across_as_no_member_would_carry_its_seam() {
    let text = rated(&[("columns = [2]", "columns = [2]\ndeck_grain = [\"along\", \"across\"]")]);
    assert!(designs(&text).iter().all(|design| design["structure"]["deck_grain"] == "along"));
}
