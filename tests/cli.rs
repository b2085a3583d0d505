//! The binary from end to end: what it prints, what it writes, how it ends.

mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use common::{SMALL, file, on, run, small, text};
use serde_json::Value;

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("it is JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

/// Least and greatest coordinates of what has x, y, z, dx, dy, dz.
fn space(value: &Value) -> [(f64, f64); 3] {
    [("x", "dx"), ("y", "dy"), ("z", "dz")].map(|(at, along)| {
        let at = number(&value[at]);
        (at, at + number(&value[along]))
    })
}

/// Lengths are multiples of 0.0000125 mm: sums of their decimals differ by far less than one.
const SLACK: f64 = 1e-6;

fn recheck(design: &Value) {
    for drawer in list(&design["drawers"]) {
        let things: Vec<[(f64, f64); 3]> = ["gear", "loose", "dividers"]
            .iter()
            .flat_map(|kind| list(&drawer[*kind]).iter().map(space))
            .collect();
        let inside = list(&drawer["inside"]);
        for (index, thing) in things.iter().enumerate() {
            for (axis, side) in thing.iter().enumerate() {
                assert!(side.0 >= -SLACK && side.1 <= number(&inside[axis]) + SLACK, "{drawer:#}");
            }
            for other in &things[..index] {
                let apart =
                    thing.iter().zip(other).any(|(a, b)| a.1 <= b.0 + SLACK || b.1 <= a.0 + SLACK);
                assert!(apart, "{thing:?} is in {other:?}");
            }
        }
    }
    let mut wanted: BTreeMap<&str, u64> = BTreeMap::new();
    for part in list(&design["parts"]) {
        let quantity = part["quantity"].as_u64().expect("a count");
        *wanted.entry(part["mark"].as_str().expect("a mark")).or_default() += quantity;
    }
    let mut cut: BTreeMap<&str, u64> = BTreeMap::new();
    for kind in ["sheets", "boards"] {
        for pattern in list(&design["cutting"][kind]) {
            for piece in list(&pattern["pieces"]) {
                let mark = piece["mark"].as_str().expect("a mark");
                *cut.entry(mark).or_default() += pattern["repeat"].as_u64().expect("a count");
            }
        }
    }
    assert!(!wanted.is_empty());
    assert_eq!(wanted, cut, "parts and pieces cut");
    let cost = &design["cost"];
    let bought: f64 = list(&design["purchase"]).iter().map(|line| number(&line["cost"])).sum();
    let kinds: f64 = ["sheets", "boards", "hardware"].map(|kind| number(&cost[kind])).iter().sum();
    assert!((bought - number(&cost["total"])).abs() < 1e-3, "{bought} against {cost}");
    assert!((kinds - number(&cost["total"])).abs() < 1e-3, "{cost}");
    for line in list(&design["purchase"]) {
        let product = number(&line["quantity"]) * number(&line["unit_price"]);
        assert!((product - number(&line["cost"])).abs() < 1e-3, "{line}");
    }
}

/// Checks a result document against its schema and by itself; returns how many designs it has.
fn recheck_document(document: &Value) -> usize {
    let schema = json(&run(&["schema", "result"]).expect(0, &[]).out);
    let validator = jsonschema::validator_for(&schema).expect("the schema is one");
    let faults: Vec<String> = validator.iter_errors(document).map(|e| e.to_string()).collect();
    assert!(faults.is_empty(), "{faults:?}");
    assert!(!validator.is_valid(&serde_json::json!({ "format": 1 })), "it refuses nothing");
    list(&document["designs"]).iter().for_each(recheck);
    list(&document["designs"]).len()
}

fn narrow(page: &str) {
    for line in page.lines() {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "too wide: {line}");
    }
}

#[test]
fn a_demo_explores_within_eighty_columns_and_its_set_can_be_rechecked() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("van");
    let scenario = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/van-birch.toml");
    let said = run(&["explore", text(&scenario), "--quiet", "--into", text(&into)])
        .expect(0, &["best first", "What to buy", "Take care"]);
    narrow(&said.out);
    let document = json(&fs::read_to_string(into.join("result.json")).expect("the document"));
    assert!(recheck_document(&document) >= 1);
}

#[test]
fn json_can_be_rechecked_and_is_the_same_for_any_number_of_threads() {
    let one = on("explore", SMALL, &["--json", "--threads", "1"]).expect(0, &[]);
    assert!(recheck_document(&json(&one.out)) >= 1);
    let two = on("explore", SMALL, &["--json", "--threads", "2"]).expect(0, &[]);
    assert_eq!(one.out, two.out);
}

#[test]
fn a_set_is_written_renewed_and_never_over_what_is_foreign() {
    let (folder, path) = file(SMALL);
    let into = folder.path().join("set");
    let plain = ["explore", text(&path), "--into", text(&into)];
    run(&plain).expect(0, &["result document are in"]);
    let mut drawings = 0;
    for entry in fs::read_dir(&into).expect("it was made") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|end| end == "svg") {
            let drawing = fs::read_to_string(&path).expect("a drawing");
            let tree = roxmltree::Document::parse(&drawing).expect("well-formed");
            assert_eq!(tree.root_element().tag_name().name(), "svg");
            drawings += 1;
        }
    }
    assert!(drawings >= 3, "plan, front, sheets: {drawings}");
    for (name, word) in [
        ("parts.csv", "ply 1/2"),
        ("shopping.csv", "ply 1/2"),
        ("gear.csv", "Saw"),
        ("checks.csv", "deck"),
    ] {
        let table = fs::read_to_string(into.join(name)).expect(name);
        assert!(table.lines().count() > 1 && table.contains(word), "{name}: {table}");
    }
    run(&plain).expect(0, &["result document are in"]);
    let parts = into.join("parts.csv");
    fs::write(&parts, "mine").expect("a foreign file");
    run(&plain).expect(2, &["parts.csv", "--force"]);
    assert_eq!(fs::read_to_string(&parts).expect("still there"), "mine");
    let mut forced = plain.to_vec();
    forced.push("--force");
    run(&forced).expect(0, &[]);
    assert_ne!(fs::read_to_string(&parts).expect("renewed"), "mine");
}

#[test]
fn a_folder_that_cannot_be_written_is_named() {
    let (_folder, path) = file(SMALL);
    // The scenario file itself stands where the folder should be.
    run(&["explore", text(&path), "--into", text(&path)]).expect(2, &["cannot write", "bed.toml"]);
    assert_eq!(fs::read_to_string(&path).expect("still there"), SMALL);
    #[cfg(target_os = "linux")]
    on("explore", SMALL, &["--into", "/proc/nope"]).expect(2, &["cannot write /proc/nope"]);
}

#[test]
fn what_cannot_be_met_is_named_with_its_shortfall() {
    // Drawers in the 7 1/4 in opening of a 2x8 are 6 15/32 in high inside.
    on("explore", small(&[("[18, 12, 5]", "[18, 12, 7]")]), &[])
        .expect(1, &["No design satisfies the scenario", "Saw case must fit", "17/32 in too high"]);
    let no_wells = [
        ("wells = { from_tailgate = 20, length = 36, height = 9 }\n", ""),
        ("between_wells = 50\n", ""),
        ("[18, 12, 5]", "[2, 12, 5]"),
        ("[14, 11, 4.5]", "[2, 11, 4]"),
    ];
    let with_length = |length| small(&[&no_wells[..], &[("length = 78", length)]].concat());
    on("explore", with_length("length = 10"), &[])
        .expect(1, &["The bed of 10 in is 3 15/16 in too short", "3 in for handles"]);
    on("explore", with_length("length = 3"), &[])
        .expect(2, &["3 in long is too short for its handles", "3 1/4 in"]);
    let thin = small(&[
        ("[1.5, 7.25]", "[0.75, 7.25]"),
        ("thickness = \"23/32\"", "thickness = \"1/2\""),
        ("members = \"2x8\"\n", ""),
    ]);
    on("explore", thin, &[]).expect(2, &["nothing in the stock can be a member"]);
    let dear = small(&[("[chest]", "[aims]\nlimits = { cost = 100 }\n\n[chest]")]);
    on("explore", dear, &[]).expect(1, &["No design satisfies the scenario", "exceed a limit"]);
}

#[test]
fn nothing_to_stow_one_thing_and_a_long_bed() {
    let (before, rest) = SMALL.split_once("[[gear]]").expect("gear");
    let (_, stock) = rest.split_once("[[sheet]]").expect("stock");
    on("explore", format!("{before}[[sheet]]{stock}"), &[]).expect(0, &["0 of 0", "best first"]);
    on("explore", small(&[("worth = 4\ncount = 2", "worth = 4")]), &[]).expect(0, &["2 of 2"]);
    // No longer than the 96 in sheets with the deck's 3/4 in overhang.
    on("explore", small(&[("length = 78", "length = \"10000 mm\"")]), &[])
        .expect(0, &["bed 393.701 x 65 in", "Chest 95 1/4 in long"]);
}

#[test]
fn files_that_are_no_scenario() {
    let folder = tempfile::tempdir().expect("a folder");
    run(&["explore", text(folder.path())]).expect(2, &["cannot be read"]);
    run(&["vet", text(&folder.path().join("none.toml"))])
        .expect(2, &["none.toml cannot be read", "No such file"]);
    on("explore", "", &[]).expect(2, &["bedwright new --from"]);
    on("explore", b"title = \"\xff\"\n", &[]).expect(2, &["line 1", "0xff"]);
    let (_folder, path) = file("");
    let huge = fs::File::options().write(true).open(&path).expect("opens");
    huge.set_len(50 * 1024 * 1024).expect("a sparse file");
    run(&["explore", text(&path)]).expect(2, &["52428800 bytes"]);
}

#[test]
fn all_faults_are_said_at_once_with_their_lines() {
    let text = small(&[
        ("between_wells = 50", "between_well = 50"),
        ("price = 50", "price = -50"),
        ("kerf = \"1/8\"", "kerf = \"1/3 in\""),
        ("count = 2", "count = 1000000"),
    ]);
    let line = |part: &str| {
        let index = text.lines().position(|line| line.contains(part)).expect("it stands there");
        format!("bed.toml:{}:", index + 1)
    };
    let said = on("explore", &text, &[]).expect(
        2,
        &[
            "did you mean `between_wells`?",
            "`price` must not be negative",
            "write 21/64 in or 43/128 in",
            "from 1 to 1000",
            "4 faults in",
        ],
    );
    for part in ["between_well ", "price = -50", "1/3 in", "1000000"] {
        assert!(said.all.contains(&line(part)), "{}: {}", line(part), said.all);
    }
}

#[test]
fn impossible_measurements() {
    let refused = |old, new, parts: &[&str]| on("vet", small(&[(old, new)]), &[]).expect(2, parts);
    refused("between_wells = 50", "between_wells = 70", &["70 in apart in a bed 65 in wide"]);
    refused("rise = 0.5", "rise = 22", &["22 in above the floor of a bed 21 in deep"]);
    refused("[18, 12, 5]", "[90, 12, 5]", &["Saw case", "larger than the bed", "12 in too long"]);
    refused("\"Drill case\"", "\"Saw case\"", &["Saw case", "1 fault in"]);
}

#[test]
fn vet_lists_the_defaults() {
    on("vet", SMALL, &[]).expect(0, &["no faults", "chest.handle_room 3 in", "shop.least_rip"]);
}

#[test]
fn a_new_scenario_is_without_fault_and_never_overwrites() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("new.toml");
    let new = ["new", "--from", "full-size-standard", "--into", text(&path)];
    run(&new).expect(0, &["wrote", "new.toml"]);
    run(&["vet", text(&path)]).expect(0, &["no faults"]);
    fs::write(&path, "mine").expect("writable");
    run(&new).expect(2, &["exists already"]);
    assert_eq!(fs::read_to_string(&path).expect("still there"), "mine");
    run(&["new", "--from", "barge"]).expect(2, &["barge", "full-size-standard", "van-floor"]);
}

#[test]
fn schemas_and_help() {
    for document in ["scenario", "result"] {
        let schema = json(&run(&["schema", document]).expect(0, &[]).out);
        assert!(schema["properties"].is_object(), "{document}");
    }
    for arguments in [&["--help"][..], &["explore", "--help"]] {
        let said = run(arguments).expect(0, &["Usage: bedwright", "Examples: bedwright"]);
        narrow(&said.out);
    }
}

#[test]
fn the_clock_is_said_to_have_spoken() {
    let said = on("explore", SMALL, &["--time", "0ms"]);
    assert!(matches!(said.code, Some(0 | 1)), "{}", said.all);
    assert!(said.all.contains("stopped early: the time allowed ran out"), "{}", said.all);
}

#[cfg(unix)]
mod unix {
    use std::io::{BufRead, BufReader, Read};
    use std::process::{Child, Command, Stdio};
    use std::time::Duration;

    use super::common::{SMALL, file, text};

    fn start(arguments: &[&str]) -> Child {
        Command::new(assert_cmd::cargo::cargo_bin("bedwright"))
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts")
    }

    fn interrupt(child: &Child) {
        let id = child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &id]).status().expect("kill").success());
    }

    #[test]
    fn a_reader_that_has_seen_enough() {
        let (_folder, path) = file(SMALL);
        let mut child = start(&["explore", text(&path)]);
        drop(child.stdout.take());
        let mut said = String::new();
        child.stderr.take().expect("piped").read_to_string(&mut said).expect("text");
        assert_eq!(child.wait().expect("it ends").code(), Some(0), "{said}");
        assert!(!said.contains("panicked"), "{said}");
    }

    /// A long run of a demo, begun. The pause only lets it get to its search: an earlier interrupt kills it before it
    /// listens, which the callers see and try again.
    fn long(pause: u64) -> Child {
        let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/trade-fullsize.toml");
        let child = start(&["explore", demo, "--effort", "1000", "--quiet"]);
        std::thread::sleep(Duration::from_millis(pause));
        child
    }

    #[test]
    fn an_interrupt_ends_the_search_and_says_so() {
        for pause in [500, 2000, 8000, 20_000] {
            let child = long(pause);
            interrupt(&child);
            let output = child.wait_with_output().expect("it ends");
            let Some(code) = output.status.code() else { continue };
            let said = String::from_utf8_lossy(&output.stdout);
            assert!(code == 0 || code == 1, "{code}: {said}");
            assert!(said.contains("stopped early: it was interrupted"), "{said}");
            return;
        }
        panic!("it never listened for interrupts");
    }

    #[test]
    fn a_second_interrupt_quits_at_once() {
        for pause in [500, 2000, 8000, 20_000] {
            let mut child = long(pause);
            interrupt(&child);
            let mut err = BufReader::new(child.stderr.take().expect("piped"));
            let mut line = String::new();
            // It answers the first before it can take the second; end of file: it was not listening yet.
            while !line.contains("again to quit") && err.read_line(&mut line).expect("text") > 0 {}
            interrupt(&child);
            match child.wait().expect("it ends").code() {
                Some(130) => return,
                _ => continue,
            }
        }
        panic!("a second interrupt never quit with 130");
    }
}

#[test]
fn a_proof_whose_work_is_spent_says_so() {
    let arguments = ["explore", "scenarios/van-birch.toml", "--prove", "--work", "1", "-q"];
    run(&arguments).expect(0, &["the work allowance was spent"]);
    // It limits proofs only.
    run(&["explore", "scenarios/van-birch.toml", "--work", "1"]).expect(2, &["--prove"]);
}
