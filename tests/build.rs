//! `build` from end to end: the set of a small scenario, twice, in both unit systems, and what can go wrong.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

#[expect(dead_code, reason = "other tests use the rest of it")]
mod common;
use common::{SMALL, Said, file, run, small, text};

/// Builds a scenario's best design into a folder.
fn build(scenario: &str, into: &Path, more: &[&str]) -> Said {
    let (_folder, path) = file(scenario);
    let mut arguments = vec!["build", text(&path), "--quiet", "--into", text(into)];
    arguments.extend(more);
    run(&arguments)
}

/// Every file of a folder.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"));
    entries
        .map(|entry| {
            let name = entry.file_name().into_string().expect("plain names");
            (name, fs::read(entry.path()).expect("a file"))
        })
        .collect()
}

#[test]
fn the_set_is_the_same_from_run_to_run_in_both_unit_systems() {
    let folder = tempfile::tempdir().expect("a folder");
    for units in ["in", "mm"] {
        let [one, other] = ["one", "other"].map(|name| folder.path().join(units).join(name));
        build(SMALL, &one, &["--units", units]).expect(0, &["files in"]);
        build(SMALL, &other, &["--units", units, "--threads", "1"]).expect(0, &[]);
        let (one, other) = (files(&one), files(&other));
        assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
        for (name, bytes) in &one {
            assert!(other[name] == *bytes, "{name} differs from run to run in {units}");
        }
        let cuts = String::from_utf8(one["cuts.csv"].clone()).expect("text");
        let head = cuts.lines().next().expect("a head");
        assert!(head.contains(&format!("setting ({units})")), "{head}");
        for paper in ["booklet.pdf", "labels.pdf", "templates.pdf"] {
            assert!(one[paper].starts_with(b"%PDF-") && one[paper].len() > 10_000, "{paper}");
        }
        for shape in ["sheet-1.dxf", "step-1.svg", "cuts-sheet-1.svg"] {
            assert!(one.contains_key(shape), "{shape} is not among {:?}", one.keys());
        }
    }
}

#[test]
fn an_unknown_design_is_refused_with_the_near_ones_and_nothing_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    build(SMALL, &into, &["--design", "zzzzzzz"]).expect(2, &["nearest are", "listed are"]);
    assert!(!into.exists());
}

#[test]
fn a_scenario_without_a_design_writes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    let tall = small(&[("[18, 12, 5]", "[18, 12, 7]")]);
    build(&tall, &into, &[]).expect(1, &["No design"]);
    assert!(!into.exists());
}

#[test]
fn files_of_others_are_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let mine = folder.path().join("cuts.csv");
    fs::write(&mine, "mine").expect("a file");
    build(SMALL, folder.path(), &[]).expect(2, &["cuts.csv", "--force"]);
    assert_eq!(files(folder.path()).len(), 1, "nothing else was written");
    assert_eq!(fs::read_to_string(&mine).expect("a file"), "mine");
}

#[test]
fn several_sets_are_nested_and_the_saving_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("sets");
    build(SMALL, &into, &["--sets", "3", "--saw", "table"]).expect(0, &["3 sets", "save"]);
    let cuts = fs::read_to_string(into.join("cuts.csv")).expect("cuts");
    assert!(cuts.contains("fence") && cuts.contains("sled"), "{cuts}");
}

#[test]
fn what_is_left_is_stock_of_the_next_scenario() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    build(SMALL, &into, &[]).expect(0, &[]);
    let offcuts = fs::read_to_string(into.join("offcuts.toml")).expect("offcuts");
    let count = offcuts.matches("[[offcut]]").count();
    assert!(count > 0, "{offcuts}");
    let (_folder, next) = file(format!("{SMALL}\n{offcuts}"));
    run(&["vet", text(&next)]).expect(0, &["no faults"]);
    let again = folder.path().join("next");
    run(&["build", text(&next), "--quiet", "--into", text(&again)]).expect(0, &[]);
    let json = fs::read_to_string(again.join("result.json")).expect("the result");
    let result: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let listed = result["scenario"]["stock"].to_string().matches("offcut").count();
    assert!(listed >= count, "{listed} of {count} are stock: {}", result["scenario"]);
}
