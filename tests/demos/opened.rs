//! Every shape of every demo's set, opened and audited by ezdxf: parts and sheets come out in their exact sizes and places.

use std::collections::BTreeMap;

use bedwright::app::{self, BuildSettings, PageSize, Saw};
use serde_json::{Value, json};

use crate::oracle::ask;
use crate::{CAMPING, TRADE, VAN};

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Least and greatest corner of a closed outline.
fn bounds(outline: &Value) -> [f64; 4] {
    assert_eq!(outline["closed"], true);
    let points = outline["points"].as_array().expect("corners");
    assert_eq!(points.len(), 4, "a rectangle");
    let all = |axis: usize| points.iter().map(move |point| number(&point[axis]));
    let least = |axis: usize| all(axis).fold(f64::INFINITY, f64::min);
    let most = |axis: usize| all(axis).fold(f64::NEG_INFINITY, f64::max);
    [least(0), least(1), most(0), most(1)]
}

/// The outlines on a layer.
fn outlines<'a>(read: &'a Value, layer: &str) -> Vec<[f64; 4]> {
    let all = read["polylines"].as_array().expect("a list");
    let layer = Value::from(layer);
    let own: Vec<&'a Value> = all.iter().filter(|one| one["layer"] == layer).collect();
    own.into_iter().map(bounds).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn every_part_and_sheet_of_the_demos_opens_cleanly_in_its_size() {
    for demo in [&TRADE, &CAMPING, &VAN] {
        let settings = BuildSettings { saw: Saw::Guide, sets: 1, paper: PageSize::A4 };
        let found = demo.explored();
        let set = app::build(found, &found.designs[0], settings).expect("a set");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
        let mut files: BTreeMap<String, String> = BTreeMap::new();
        let mut result = Value::Null;
        for file in set.files {
            if let Some(name) = file.name.strip_suffix(".dxf") {
                files.insert(name.to_owned(), text(file.bytes));
            } else if file.name == "result.json" {
                result = serde_json::from_slice(&file.bytes).expect("JSON");
            }
        }
        let demo = demo.name;
        let texts: Vec<&String> = files.values().collect();
        let Some(answer) = ask("dxf.py", &["ezdxf"], &json!({ "files": texts })) else { return };
        let read: BTreeMap<&String, &Value> =
            files.keys().zip(answer.as_array().expect("one answer a file")).collect();
        for (name, file) in &read {
            for list in ["errors", "fixes"] {
                assert_eq!(file[list], json!([]), "{demo}, {name}: a strict audit");
            }
            assert_eq!((&file["version"], &file["units"]), (&json!("AC1009"), &json!(4)), "{name}");
        }
        let design = &result["designs"][0];
        parts(demo, design, &read);
        sheets(demo, design, &read);
        templates(demo, &result, &read);
    }
}

/// Middle and radius of every circle.
fn circles(file: &Value) -> Vec<[f64; 3]> {
    let all = file["circles"].as_array().expect("holes");
    let of =
        |hole: &Value| [number(&hole["at"][0]), number(&hole["at"][1]), number(&hole["radius"])];
    all.iter().map(of).collect()
}

/// A template's holes are as far from each other as in the part that it is for, and what is sawn out is as large as asked for.
fn templates(demo: &str, result: &Value, read: &BTreeMap<&String, &Value>) {
    let mut seen = 0;
    for (name, file) in read.iter().filter(|(name, _)| name.starts_with("template-")) {
        let holes = circles(file);
        let Some(first) = holes.first() else {
            assert!(name.contains("corner-block") || name.contains("hand-hold"), "{demo}, {name}");
            continue;
        };
        // `template-side-front-s1`, with a number behind where a part is bored in several ways.
        let mark = name.split('-').rfind(|word| word.starts_with(|c: char| c.is_alphabetic()));
        let own = format!("part-{}", mark.expect("a mark").to_uppercase());
        let ways = read.iter().filter(|(n, _)| ***n == own || n.starts_with(&format!("{own}-")));
        let alike = |part: &Value| {
            let bored = circles(part);
            let moved = |from: &[f64; 3]| {
                let by = [from[0] - first[0], from[1] - first[1]];
                holes.iter().all(|hole| {
                    let wanted = [hole[0] + by[0], hole[1] + by[1], hole[2]];
                    bored.iter().any(|own| own.iter().zip(wanted).all(|(a, b)| near(*a, b)))
                })
            };
            bored.iter().any(moved)
        };
        assert!(ways.into_iter().any(|(_, part)| alike(part)), "{demo}, {name} fits no {own}");
        seen += 1;
        if !["template-lock", "template-handle"].iter().any(|front| name.starts_with(front)) {
            continue;
        }
        let asked = result["scenario"]["hardware"].as_array().expect("hardware").iter();
        let asked: Vec<[f64; 2]> = asked
            .filter(|one| one["cut_out"].is_array())
            .map(|one| [number(&one["cut_out"][0]), number(&one["cut_out"][1])])
            .collect();
        let sawn = outlines(file, "CUT");
        assert_eq!(sawn.len(), asked.len(), "{demo}, {name}");
        for size in asked {
            let is = |r: &[f64; 4]| near(r[2] - r[0], size[0]) && near(r[3] - r[1], size[1]);
            assert!(sawn.iter().any(is), "{demo}, {name}: no {size:?} among {sawn:?}");
        }
    }
    assert!(seen > 5, "{demo}: {seen} templates");
}

/// A part's outline is its size, and its holes lie within it.
fn parts(demo: &str, design: &Value, read: &BTreeMap<&String, &Value>) {
    let mut seen = 0;
    for part in design["parts"].as_array().expect("parts") {
        let mark = part["mark"].as_str().expect("a mark");
        let own = format!("part-{mark}");
        let several = format!("part-{mark}-");
        for (name, file) in read.iter().filter(|(n, _)| ***n == own || n.starts_with(&several)) {
            let size = [number(&part["length"]), number(&part["width"])];
            let cut = outlines(file, "CUT");
            let Some((outline, within)) = cut.split_first() else { panic!("{demo}, {name}") };
            // What is sawn out for a handle or a lock lies within its front.
            let front = part["name"].as_str().is_some_and(|own| own.contains("applied front"));
            assert!(within.is_empty() || front, "{demo}, {name}: {cut:?}");
            assert!(
                within.iter().all(|r| {
                    0.0 < r[0]
                        && r[0] < r[2]
                        && r[2] < size[0]
                        && 0.0 < r[1]
                        && r[1] < r[3]
                        && r[3] < size[1]
                }),
                "{demo}, {name}: {cut:?}"
            );
            let wanted = [0.0, 0.0, size[0], size[1]];
            assert!(outline.iter().zip(wanted).all(|(a, b)| near(*a, b)), "{demo}, {name}");
            for hole in file["circles"].as_array().expect("holes") {
                let place = [number(&hole["at"][0]), number(&hole["at"][1])];
                assert!((0..2).all(|i| 0.0 < place[i] && place[i] < size[i]), "{demo}, {name}");
            }
            seen += 1;
        }
    }
    let all = read.keys().filter(|name| name.starts_with("part-")).count();
    assert!(seen == all && seen > 10, "{demo}: {seen} of {all} parts are of the design");
}

/// A sheet has each of its pieces in its place, y up.
fn sheets(demo: &str, design: &Value, read: &BTreeMap<&String, &Value>) {
    let sheets = design["cutting"]["sheets"].as_array().expect("sheets");
    assert!(!sheets.is_empty());
    for (index, sheet) in (1..).zip(sheets) {
        let name = format!("sheet-{index}");
        let file = read.get(&name).unwrap_or_else(|| panic!("{demo} has no {name}"));
        let high = number(&sheet["width"]);
        let mut cut = outlines(file, "CUT");
        for piece in sheet["pieces"].as_array().expect("pieces") {
            let [x, y, dx, dy] = ["x", "y", "dx", "dy"].map(|key| number(&piece[key]));
            let wanted = [x, high - y - dy, x + dx, high - y];
            let found = cut.iter().position(|own| own.iter().zip(wanted).all(|(a, b)| near(*a, b)));
            cut.swap_remove(found.unwrap_or_else(|| panic!("{demo}, {name}: no {piece}")));
        }
        assert!(cut.is_empty(), "{demo}, {name}: nobody asked for {cut:?}");
    }
}
