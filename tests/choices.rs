//! Choices put side by side through the binary: what is said must hold when it is tried.

mod common;

use common::{on, small};
use serde_json::Value;

const COLUMNS: (&str, &str) = ("columns = [2]", "columns = [1, 2]");

fn compared(scenario: &str, by: &str) -> Value {
    let said = on("compare", scenario, &["--by", by, "--json", "--quiet"]).expect(0, &[]);
    serde_json::from_str(&said.out).expect("it is JSON")
}

/// The default weights, as a file would give them, with one changed.
fn with_weight(scenario: &str, weights: &Value, criterion: &str, weight: f64) -> String {
    let lines = weights.as_object().expect("weights").iter().map(|(key, value)| {
        let value = if key == criterion { weight } else { value.as_f64().expect("a weight") };
        format!("{key} = {value}\n")
    });
    format!("{scenario}\n[aims]\n{}", lines.collect::<String>())
}

/// Guide values so wide that one drawer over the whole width holds them as two do: no weight makes up for a check.
/// The load on the deck makes two the stronger.
const WIDE: &str =
    "\n[engineering]\nperson = \"1 N\"\nsag_share = 20\n\n[aims.limits]\ndeck_load = \"450 lb\"\n";

#[test]
fn two_columns_against_one_and_where_that_flips() {
    let scenario = small(&[COLUMNS]) + WIDE;
    let found = compared(&scenario, "columns");
    let schema =
        serde_json::from_str(&common::run(&["schema", "comparison"]).out).expect("a schema");
    assert!(jsonschema::is_valid(&schema, &found), "{found:#}");
    let winner = found["winner"].as_u64().expect("a winner");
    let flips = found["flips"].as_array().expect("a list");
    let settled: Vec<&Value> = flips.iter().filter(|flip| flip["settled"] == true).collect();
    assert!(!settled.is_empty(), "{found:#}");
    let weights = &found["scenario"]["aims"]["weights"];
    for flip in settled {
        let criterion = flip["of"].as_str().expect("a criterion");
        let (now, at) = (flip["now"].as_f64().expect("now"), flip["at"].as_f64().expect("at"));
        let tried = |share: f64| {
            let weight = at + (at - now) * share;
            compared(&with_weight(&scenario, weights, criterion, weight), "columns")
        };
        let challenger = flip["choice"].as_u64().expect("a place");
        let beyond = tried(0.05);
        assert_eq!(beyond["winner"].as_u64(), Some(challenger), "{flip}");
        // Nearer than halfway a single search may miss a cutting plan that the comparison's many searches met.
        let halfway = tried(-0.5);
        assert_eq!(halfway["winner"].as_u64(), Some(winner), "{flip}");
    }
}

#[test]
fn the_price_at_which_another_board_wins() {
    let board = "\n[[board]]\nname = \"2x10\"\nsection = [1.5, 9.25]\nlengths = { \"8 ft\" = 13 }\n\n[[hardware]]";
    let scenario =
        small(&[("members = \"2x8\"", "members = [\"2x8\", \"2x10\"]"), ("\n[[hardware]]", board)]);
    let found = compared(&scenario, "board");
    let winner = found["winner"].as_u64().expect("a winner");
    let flips = found["flips"].as_array().expect("a list");
    let price = flips.iter().find(|flip| flip["turned"] == "price" && flip["settled"] == true);
    let price = price.unwrap_or_else(|| panic!("no price settles: {found:#}"));
    let (of, at) = (price["of"].as_str().expect("a stock"), price["at"].as_f64().expect("at"));
    let now = if of == "2x8" { 10.0 } else { 13.0 };
    // Prices are whole cents: two of them to be on either side.
    for (cents, wins) in [(0.02, price["choice"].as_u64()), (-0.02, Some(winner))] {
        let beyond = if at > 1.0 { cents } else { -cents };
        let (old, new) =
            (format!("\"8 ft\" = {now}"), format!("\"8 ft\" = {:.2}", now * at + beyond));
        let tried = compared(&scenario.replace(&old, &new), "board");
        assert_eq!(tried["winner"].as_u64(), wins, "{old} to {new}: {price}");
    }
}

#[test]
fn named_designs_side_by_side() {
    let scenario = small(&[COLUMNS]);
    let explored = on("explore", &scenario, &["--json", "--quiet"]).expect(0, &[]);
    let explored: Value = serde_json::from_str(&explored.out).expect("it is JSON");
    let designs = explored["designs"].as_array().expect("a list");
    let ids: Vec<&str> = designs.iter().map(|one| one["id"].as_str().expect("an id")).collect();
    assert!(ids.len() >= 2, "{ids:?}");
    let said = on("compare", &scenario, &[ids[1], ids[0]]);
    let said = said.expect(0, &["Compared by designs", ids[0], ids[1], "Where it would flip"]);
    assert!(said.out.lines().all(|line| line.chars().count() <= 80), "{}", said.out);
    on("compare", &scenario, &[ids[0], "zzzzzzz"])
        .expect(2, &["no design found is 'zzzzzzz'", ids[0]]);
}

#[test]
fn where_there_is_no_choice_it_says_so() {
    on("compare", small(&[]), &["--by", "columns"]).expect(2, &["chest.columns names 1"]);
    let decided = small(&[COLUMNS]) + "\n[[tier]]\nname = \"A\"\ncolumns = 2\n";
    let said = "what is decided of tiers and drawers leaves no choice of columns";
    on("compare", decided, &["--by", "columns"]).expect(2, &[said]);
    on("compare", small(&[]), &[]).expect(2, &["required", "<ID>"]);
}

/// The worth that the best of a scenario's designs stows; none if there is no design.
fn most_worth(scenario: &str) -> Option<f64> {
    let said = on("explore", scenario, &["--json", "--quiet"]);
    let found: Value = serde_json::from_str(&said.out).expect("it is JSON");
    let designs = found["designs"].as_array().expect("a list");
    designs.iter().filter_map(|one| one["criteria"]["value"].as_f64()).reduce(f64::max)
}

#[test]
fn what_a_measurement_is_worth_holds_when_it_is_tried() {
    // A third drill case that the drawers of a 50 in bed have no room for.
    let scenario = small(&[("worth = 4\ncount = 2", "worth = 4\ncount = 30")]);
    let said = on("explain", &scenario, &["--json", "--quiet"]).expect(0, &[]);
    let found: Value = serde_json::from_str(&said.out).expect("it is JSON");
    let schema =
        serde_json::from_str(&common::run(&["schema", "explanation"]).out).expect("a schema");
    assert!(jsonschema::is_valid(&schema, &found), "{found:#}");
    let today = most_worth(&scenario).expect("a design");
    let changes = found["measurements"].as_array().expect("a list");
    let lengths: Vec<&Value> = changes.iter().filter(|change| change["of"] == "length").collect();
    assert!(!lengths.is_empty(), "{found:#}");
    for change in lengths {
        let inches = 78.0 + change["by_mm"].as_f64().expect("mm") / 25.4;
        let there = scenario.replace("length = 78\n", &format!("length = {inches}\n"));
        let worth = most_worth(&there).expect("a design");
        let points = change["points"].as_f64().expect("points");
        assert!((worth - today - points).abs() < 1e-9, "{change}: {today} to {worth}");
    }
    let left = found["left_out"].as_array().expect("a list");
    assert_eq!(left[0]["name"], "Drill case", "{found:#}");
}

#[test]
fn a_conflict_names_its_limit_and_a_cure_that_works() {
    let low = [("height = 9 }", "height = 6 }"), ("clear_height = 20", "clear_height = 8.125")];
    let scenario = small(&low);
    let said = on("explain", &scenario, &["--json", "--quiet"]).expect(1, &[]);
    let found: Value = serde_json::from_str(&said.out).expect("it is JSON");
    let conflict = &found["conflict"];
    assert_eq!(conflict["limits"].as_array().expect("a list").len(), 1, "{found:#}");
    assert_eq!(conflict["limits"][0], "a clear height of 8 1/8 in", "{found:#}");
    let cure = conflict["cures"][0].as_str().expect("a cure");
    let (by, _) = cure.split_once(" in more").unwrap_or_else(|| panic!("{cure}"));
    let sixteenths = |text: &str| -> f64 {
        let (whole, part) = text.split_once(' ').unwrap_or(("0", text));
        let fraction = match part.split_once('/') {
            Some((a, b)) => {
                a.parse::<f64>().expect("a number") / b.parse::<f64>().expect("a number")
            }
            None => part.parse().expect("a number"),
        };
        whole.parse::<f64>().expect("a number") + fraction
    };
    let at =
        |height: f64| scenario.replace("clear_height = 8.125", &format!("clear_height = {height}"));
    let does = 8.125 + sixteenths(by);
    assert!(most_worth(&at(does)).is_some(), "{cure}");
    assert!(most_worth(&at(does - 0.0625)).is_none(), "a sixteenth less does as well: {cure}");
}

#[test]
fn what_is_not_left_out_is_not_explained() {
    on("explain", small(&[]), &["--item", "Piano"])
        .expect(2, &["nothing called 'Piano'", "it stows everything"]);
    let said = on("explain", small(&[]), &[]).expect(
        0,
        &[
            "What binds it",
            "check with least margin",
            "what would lift it:",
            "Room left",
            "of 100 points",
        ],
    );
    assert!(said.out.lines().all(|line| line.chars().count() <= 80), "{}", said.out);
}

#[test]
fn the_command_line_sorts_and_weighs() {
    let scenario = small(&[COLUMNS]);
    let listed = |more: &[&str]| -> Vec<Value> {
        let said =
            on("explore", &scenario, &[&["--json", "--quiet"], more].concat()).expect(0, &[]);
        let found: Value = serde_json::from_str(&said.out).expect("it is JSON");
        found["designs"].as_array().expect("a list").clone()
    };
    let costs = |designs: &[Value]| -> Vec<f64> {
        designs.iter().map(|one| one["criteria"]["cost"].as_f64().expect("a cost")).collect()
    };
    let cheapest_first = costs(&listed(&["--sort", "cost"]));
    assert!(cheapest_first.len() > 1 && cheapest_first.is_sorted(), "{cheapest_first:?}");
    // With no other aim than reach the best has the least of all.
    let only = ["usable_volume", "value", "waste", "cost", "mass", "margin", "simplicity"];
    let zeros: Vec<String> = only.iter().map(|aim| format!("{aim}=0")).collect();
    let weights = zeros.iter().flat_map(|zero| ["--weight", zero]).collect::<Vec<&str>>();
    let designs = listed(&weights);
    let reach = |one: &Value| one["criteria"]["reach"].as_f64().expect("a reach");
    assert!(designs.iter().all(|one| reach(&designs[0]) <= reach(one)));
    on("explore", &scenario, &["--weight", "rech=4"])
        .expect(2, &["'rech' is no criterion", "reach"]);
}
