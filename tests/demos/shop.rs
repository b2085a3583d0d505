//! What is carried to the shop, held to what a person would do with it: the listed cuts made one by one on the raw stock give
//! exactly the parts, the first of them a size that one person can carry, and the assembly tells every stage in its order.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use bedwright::app::{self, BuildSettings, Exploration, PageSize, Saw};
use serde_json::Value;

use crate::common::{SMALL, file, run, small, text};
use crate::{CAMPING, Demo, TRADE, VAN};

/// Lengths of the lists are exact decimals of a millimetre; sums of them differ by far less.
const SLACK: f64 = 1e-6;

/// A table by its headings.
struct Sheet {
    heads: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Sheet {
    fn read(path: &Path) -> Self {
        let mut reader = csv::Reader::from_path(path).expect("a table");
        let heads = reader.headers().expect("headings").iter().map(str::to_owned).collect();
        let cells = |row: csv::StringRecord| row.iter().map(str::to_owned).collect();
        let rows = reader.records().map(|row| cells(row.expect("a row"))).collect();
        Self { heads, rows }
    }

    fn at<'a>(&self, row: &'a [String], head: &str) -> &'a str {
        let place = self.heads.iter().position(|own| own == head);
        &row[place.unwrap_or_else(|| panic!("no {head} in {:?}", self.heads))]
    }
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("'{text}' is no number"))
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < SLACK
}

/// A set that was built.
struct Built {
    _folder: tempfile::TempDir,
    into: PathBuf,
    result: Value,
    sets: u64,
}

fn build(scenario: &Path, more: &[&str], sets: u64) -> Built {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    let count = sets.to_string();
    let mut all = vec!["build", text(scenario), "--quiet", "--sets", &count, "--into", text(&into)];
    all.extend(more);
    run(&all).expect(0, &["files in"]);
    let json = fs::read_to_string(into.join("result.json")).expect("the result");
    let result = serde_json::from_str(&json).expect("JSON");
    Built { _folder: folder, into, result, sets }
}

/// Replays every listed cut of the sheets: panels by their names, each cut from the named edge at the setting, the kerf beyond.
/// Gives each part's pieces as [along the grain, across it], and checks the boards' lengths on the way.
fn replay(built: &Built) -> BTreeMap<String, Vec<[f64; 2]>> {
    let cuts = Sheet::read(&built.into.join("cuts.csv"));
    let kerf = built.result["scenario"]["shop"]["kerf"].as_f64().expect("a kerf");
    let sizes = stock_sizes(&built.result);
    let mut panels: BTreeMap<String, [f64; 2]> = BTreeMap::new();
    let mut made: BTreeMap<String, Vec<[f64; 2]>> = BTreeMap::new();
    let mut left: BTreeMap<String, f64> = BTreeMap::new();
    for row in &cuts.rows {
        let at = |head: &str| cuts.at(row, head);
        let (pattern, times) = (at("pattern"), number(at("times")) as usize);
        let give = |made: &mut BTreeMap<String, Vec<[f64; 2]>>, mark: &str, size: [f64; 2]| {
            made.entry(mark.to_owned()).or_default().extend(vec![size; times]);
        };
        if pattern.starts_with("board ") {
            let setting = number(at("setting (mm)"));
            let rest = left.entry(pattern.to_owned()).or_insert(sizes[at("stock")][0]);
            *rest -= setting;
            assert!(*rest > -SLACK, "{pattern} is too short: {row:?}");
            assert_eq!(at("with") == "crosscut stop", *rest > SLACK, "{row:?}");
            *rest = (*rest - kerf).max(0.0);
            give(&mut made, at("gives"), [setting, sizes[at("stock")][1]]);
            continue;
        }
        if pattern == "to width" {
            let setting = number(at("setting (mm)"));
            let pieces = made.get_mut(at("gives")).expect("cut to length before");
            pieces.iter_mut().for_each(|piece| piece[1] = setting);
            assert_eq!(pieces.len(), times, "{row:?}");
            continue;
        }
        if pattern == "diagonal" {
            assert_eq!(made[at("piece")].len(), times, "{row:?}");
            continue;
        }
        // Edge to edge of a panel that exists by then.
        let piece = at("piece");
        let size = match panels.remove(piece) {
            Some(size) => size,
            None => {
                assert_eq!(piece, pattern, "{piece} is not there: {row:?}");
                sizes[at("stock")]
            }
        };
        let axis = usize::from(at("cut runs") == "along the grain");
        let edges = [["left edge", "right edge"], ["top edge", "bottom edge"]][axis];
        let from = at("measured from").split(',').next().expect("an edge");
        assert!(edges.contains(&from), "{row:?}");
        let setting = number(at("setting (mm)"));
        let beyond = size[axis] - setting - kerf;
        assert!(setting > 0.0 && setting < size[axis], "{row:?}");
        assert_eq!(at("beyond the kerf").is_empty(), beyond < SLACK, "{row:?}");
        for (what, extent) in [(at("gives"), setting), (at("beyond the kerf"), beyond)] {
            let mut side = size;
            side[axis] = extent;
            if let Some(panel) = what.strip_prefix("panel ") {
                assert!(panels.insert(panel.to_owned(), side).is_none(), "{panel} twice");
            } else if !(what.is_empty() || what == "waste" || what.starts_with("keep ")) {
                give(&mut made, what, side);
            }
        }
    }
    assert!(panels.is_empty(), "left on the bench: {panels:?}");
    made
}

/// Length and width of every size of stock, by name.
fn stock_sizes(result: &Value) -> BTreeMap<&str, [f64; 2]> {
    let stock = result["scenario"]["stock"].as_array().expect("stock");
    let size = |item: &Value, key: &str| item[key].as_f64().expect("a size");
    stock
        .iter()
        .map(|item| {
            let name = item["name"].as_str().expect("a name");
            (name, [size(item, "length"), size(item, "width")])
        })
        .collect()
}

/// The listed cuts give every part of all the sets in its size, lying as its grain asks, and nothing else.
fn check_parts(built: &Built) {
    let mut made = replay(built);
    let parts = Sheet::read(&built.into.join("parts.csv"));
    for row in &parts.rows {
        let at = |head: &str| parts.at(row, head);
        let pieces = made.remove(at("mark")).unwrap_or_default();
        assert_eq!(pieces.len() as f64, number(at("quantity")), "{row:?}");
        let (length, width) = (number(at("length (mm)")), number(at("width (mm)")));
        for piece in pieces {
            let straight = same(piece[0], length) && same(piece[1], width);
            let turned = same(piece[1], length) && same(piece[0], width);
            let lies = match at("length runs") {
                "along the grain" => straight,
                "across the grain" => turned,
                _ => straight || turned,
            };
            assert!(lies, "{piece:?} is not {row:?}");
        }
        if built.sets > 1 {
            let one = number(at("for one set"));
            assert!(same(one * built.sets as f64, number(at("quantity"))), "{row:?}");
        }
    }
    assert!(made.is_empty(), "nobody asked for {made:?}");
}

/// While a sheet is larger than half of 4 by 8 ft, and can be parted between its pieces, it is parted.
fn check_handling(built: &Built) {
    let cuts = Sheet::read(&built.into.join("cuts.csv"));
    let sheets = cuts.rows.iter().filter(|row| cuts.at(row, "pattern").starts_with("sheet "));
    let mut first = BTreeMap::new();
    for row in sheets {
        first.entry(cuts.at(row, "pattern")).or_insert(row);
    }
    for row in first.values() {
        let from = cuts.at(row, "measured from");
        assert!(from.ends_with(", factory"), "the first cut is from a factory edge: {row:?}");
        let parts = ["gives", "beyond the kerf"].map(|head| cuts.at(row, head));
        // Something is wanted on both sides, or all that is wanted is one piece.
        let wanted = parts.iter().filter(|what| !what.is_empty() && **what != "waste").count();
        let others = cuts
            .rows
            .iter()
            .filter(|own| cuts.at(own, "pattern") == cuts.at(row, "pattern") && **own != **row);
        assert!(wanted == 2 || others.count() < 3, "{row:?}");
    }
}

/// The best design's set, its lists read back as files.
fn set_of(exploration: &Exploration, saw: Saw) -> Built {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    fs::create_dir(&into).expect("a folder");
    let settings = BuildSettings { saw, sets: 1, paper: PageSize::A4 };
    let set = app::build(exploration, &exploration.designs[0], settings).expect("a set");
    for file in &set.files {
        fs::write(into.join(&file.name), &file.bytes).expect("a file");
    }
    let json = fs::read_to_string(into.join("result.json")).expect("the result");
    let result: Value = serde_json::from_str(&json).expect("JSON");
    let own = result["designs"].as_array().expect("designs");
    assert_eq!(own.len(), 1, "its own design and no other");
    assert_eq!(own[0]["id"], exploration.designs[0].id().to_string());
    Built { _folder: folder, into, result, sets: 1 }
}

#[test]
fn the_listed_cuts_of_every_demo_give_exactly_its_parts_with_either_saw() {
    for exploration in [&TRADE, &CAMPING, &VAN].map(Demo::explored) {
        for saw in [Saw::Guide, Saw::Table] {
            let built = set_of(exploration, saw);
            check_parts(&built);
            check_handling(&built);
            check_setups(&built);
        }
    }
}

/// The same settings are grouped: a number stands for a set-up, and goes up by one where the setting changes.
fn check_setups(built: &Built) {
    let cuts = Sheet::read(&built.into.join("cuts.csv"));
    let mut before: Option<(f64, String)> = None;
    for row in cuts.rows.iter().filter(|row| !cuts.at(row, "set-up").is_empty()) {
        let setting = format!("{} {}", cuts.at(row, "with"), cuts.at(row, "setting (mm)"));
        let number = number(cuts.at(row, "set-up"));
        if let Some((last, known)) = before {
            let kinds = number - last;
            assert!(kinds == 0.0 || kinds == 1.0, "{row:?}");
            assert!(kinds == 1.0 || known == setting, "one set-up, two settings: {row:?}");
        }
        before = Some((number, setting));
    }
}

#[test]
fn several_sets_are_cut_bought_and_listed_together() {
    let ripped = small(&[
        (
            "[shop]",
            "[[board]]\nname = \"1x8\"\nsection = [0.75, 7.25]\nlengths = { \"8 ft\" = 9 }\n\n[shop]\nedge_trim = \"1/4\"",
        ),
        ("runs_on = [\"strip\"]", "runs_on = [\"strip\"]\ndrawer_sides = \"1x8\""),
    ]);
    let (_folder, path) = file(ripped);
    for saw in ["guide", "table"] {
        let (one, three) = (build(&path, &["--saw", saw], 1), build(&path, &["--saw", saw], 3));
        check_parts(&one);
        check_parts(&three);
        let cuts = fs::read_to_string(three.into.join("cuts.csv")).expect("cuts");
        assert!(cuts.contains(",to width,"), "1x8 is ripped to the sides' height: {cuts}");
        let cost = |built: &Built| -> f64 {
            let table = Sheet::read(&built.into.join("shopping.csv"));
            table
                .rows
                .iter()
                .filter(|row| row.len() > 6 && !table.at(row, "cost (USD)").is_empty())
                .map(|row| number(table.at(row, "cost (USD)")))
                .sum()
        };
        assert!(cost(&three) <= 3.0 * cost(&one) + SLACK && cost(&three) > cost(&one));
        let needed = |built: &Built, what: &str| -> f64 {
            let table = Sheet::read(&built.into.join("hardware.csv"));
            let row = table.rows.iter().find(|row| table.at(row, "for") == what).expect(what);
            number(table.at(row, "needed"))
        };
        for what in ["chest screws", "handles"] {
            assert!(same(needed(&three, what), 3.0 * needed(&one, what)), "{what}");
        }
    }
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    let said = run(&["build", text(&path), "--quiet", "--sets", "3", "--into", text(&into)])
        .expect(0, &["3 sets at once", "one alone costs", "saves", "a set"]);
    assert!(said.out.lines().all(|line| line.chars().count() <= 80), "{}", said.out);
}

#[test]
fn the_assembly_tells_every_stage_in_its_order_and_says_why() {
    let built = set_of(TRADE.explored(), Saw::Guide);
    let steps = Sheet::read(&built.into.join("assembly.csv"));
    let told: Vec<String> = steps
        .rows
        .iter()
        .map(|row| ["what", "how"].map(|head| steps.at(row, head)).join(" "))
        .collect();
    // In this order; each in the same step as the one before or in a later one.
    let order = [
        "cut along a guide",
        "countersink from this side",
        "on edge on their lines",
        "Glue as well",
        "across their rear ends",
        "Rip the plastic into strips",
        "depth stop",
        "one on each member",
        "in its open frame",
        "Lay the lining",
        "Stand its two",
        "measured inside",
        "Saw each length",
        "Round over every edge",
        "wax the underside",
        "stop block",
        "guide piece to each rear corner",
        "is left in the chest: ",
        "Clamp",
        "on its template before anything is cut",
        "Screw its plate on",
        "through side and corner block",
        "because the rod swings",
        "mark the rod's tip",
        "flush with the side when open",
        "set each divider against it",
        "of overhang in front",
        "about every 6 in",
        "metal angle into the front edge",
        "Hand-holds, if wanted",
        "Tie points",
        "Coat the deck",
        "on the bed floor where the members will stand",
        "Look under the bed",
        "Slide the drawers in",
        "Stow the gear",
    ];
    let mut step = 0;
    for phrase in order {
        let found = told[step..].iter().position(|text| text.contains(phrase));
        step += found
            .unwrap_or_else(|| panic!("'{phrase}' is not told from step {step} on: {told:#?}"));
    }
    let vehicle = |row: &Vec<String>| steps.at(row, "stage") == "Fitting into the vehicle";
    let first = steps.rows.iter().position(vehicle).expect("a section of its own");
    assert!(steps.rows[first..].iter().all(vehicle), "it comes last");
    assert!(told[first - 1].starts_with("Deck"), "{}", told[first - 1]);
    let lift = &told[first];
    assert!(lift.contains("more than people should lift"), "it weighs as much as four: {lift}");
    for row in &steps.rows {
        assert!(!steps.at(row, "check").is_empty(), "{row:?}");
    }
    let ordered = ["Corner blocks", "Applied fronts", "Lock guards", "Deck", "fixings through"];
    for what in ordered {
        let mut rows = steps.rows.iter().filter(|row| steps.at(row, "what").contains(what));
        let row = rows.next().unwrap_or_else(|| panic!("no step {what}"));
        assert!(!steps.at(row, "why now").is_empty(), "{row:?}");
    }
}

#[test]
fn a_chest_without_locks_is_told_of_none() {
    let built = set_of(CAMPING.explored(), Saw::Guide);
    let steps = Sheet::read(&built.into.join("assembly.csv"));
    assert!(steps.rows.len() > 5);
    for row in &steps.rows {
        let said = row.join(" ").to_lowercase();
        let mut words = said.split(|c: char| !c.is_alphanumeric());
        assert!(!words.any(|word| ["lock", "locks", "guard", "rod"].contains(&word)), "{row:?}");
    }
}

#[test]
fn lids_and_their_brackets_close_the_assembly_where_pockets_are_used() {
    // Too tall for the drawers, and allowed beside them.
    let pocketed = SMALL.replace(
        "[[sheet]]\nname = \"ply 3/4\"",
        "[[gear]]\nname = \"Pump\"\nsize = [9, 5, 7]\nweight = 5\nworth = 9\ncount = 2\npocket = true\n\n\
         [[sheet]]\nname = \"ply 3/4\"",
    )
    .replace("runs_on = [\"strip\"]", "runs_on = [\"strip\"]\npockets = true\nleast_pocket = 5");
    let (_folder, path) = file(pocketed);
    let built = build(&path, &[], 1);
    let pockets = built.result["designs"][0]["pockets"].as_array().expect("pockets").len();
    let steps = Sheet::read(&built.into.join("assembly.csv"));
    let last = steps.rows.last().expect("steps");
    assert_eq!(steps.at(last, "what").contains("Infill lids"), pockets > 0, "{last:?}");
    assert!(pockets > 0, "the pump stands in a drawer: the test shows nothing");
    assert!(steps.at(last, "how").contains("brackets at chest and wall"), "{last:?}");
}
