//! `cut` from end to end, and what must hold between jobs.

#[expect(dead_code, reason = "other tests use the rest")]
#[path = "../common/mod.rs"]
mod common;

mod asked;
mod between;
mod plans;
mod stock;

use std::fs;
use std::path::Path;

use bedwright::app::{Cancel, Found, JobRun, JobSettings, cut, read_job};
use bedwright::units::{Area, Length, Money};
use common::{run, text};
use serde_json::Value;

const DEMO: &str = "scenarios/workbench-cut.toml";

/// Stock and shop for parts to be added to.
const STOCK: &str = r#"
units = "mm"
[shop]
kerf = 3
keep_offcut = [300, 200]
[[sheet]]
name = "ply"
size = [2440, 1220]
price = 70
[[board]]
name = "batten"
section = [20, 40]
lengths = { 2400 = 3.10, 3600 = 4.50 }
"#;

const PARTS: &str = r#"
[[part]]
name = "Side"
material = "ply"
size = [1100, 400]
count = 7
turn = true
[[part]]
name = "Shelf"
material = "ply"
size = [560, 300]
count = 9
turn = true
[[part]]
name = "Rail"
material = "batten"
length = 1150
count = 5
[[part]]
name = "Post"
material = "batten"
length = 700
count = 4
"#;

fn job(text: &str) -> JobRun {
    job_on(text, 400_000, 1)
}

fn job_on(text: &str, work: u64, threads: usize) -> JobRun {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    fs::write(&path, text).expect("a file in it");
    let read = read_job(&path, None).unwrap_or_else(|errors| panic!("{errors:?}"));
    let settings = JobSettings { threads, work, time: None, cancel: Cancel::new() };
    cut(read, settings, &|_| {})
}

/// Cost and bound of a job that can be cut.
#[track_caller]
fn cost(text: &str) -> (Money, Money) {
    match &job(text).found {
        Found::Plan { plan, .. } => (plan.cost(), plan.cutting.bound),
        other => panic!("no plan: {other:?}"),
    }
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("it is JSON")
}

fn narrow(page: &str) {
    for line in page.lines() {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "too wide: {line}");
    }
}

/// Checks a document against its schema and by itself.
fn recheck(document: &Value) {
    let schema = json(&run(&["schema", "cutting"]).expect(0, &[]).out);
    let validator = jsonschema::validator_for(&schema).expect("the schema is one");
    let faults: Vec<String> = validator.iter_errors(document).map(|e| e.to_string()).collect();
    assert!(faults.is_empty(), "{faults:?}");
    assert!(!validator.is_valid(&serde_json::json!({ "format": 1 })), "it refuses nothing");
    let number = |value: &Value| value.as_f64().expect("a number");
    for form in ["sheets", "boards"] {
        let waste = &document["waste"][form];
        let sum: f64 =
            ["parts", "kerf", "trim", "kept", "scrap"].iter().map(|of| number(&waste[*of])).sum();
        assert!((sum - number(&waste["stock"])).abs() < 1e-3, "{waste}");
    }
    let mut wanted = std::collections::BTreeMap::<&str, i64>::new();
    for part in document["job"]["parts"].as_array().expect("parts") {
        let name = part["name"].as_str().expect("a name");
        *wanted.entry(name).or_default() += part["count"].as_i64().expect("a count");
    }
    for form in ["sheets", "boards"] {
        for pattern in document["cutting"][form].as_array().expect("patterns") {
            for piece in pattern["pieces"].as_array().expect("pieces") {
                let mark = piece["mark"].as_str().expect("a mark");
                *wanted.entry(mark).or_default() -= pattern["repeat"].as_i64().expect("a count");
            }
        }
    }
    assert!(wanted.values().all(|left| *left == 0), "{wanted:?}");
    let lines = document["purchase"].as_array().expect("lines");
    let bought: f64 = lines.iter().map(|line| number(&line["cost"])).sum();
    assert!((bought - number(&document["outcome"]["objective"])).abs() < 1e-3);
}
