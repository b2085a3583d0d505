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

/// Gear of these names, so small that every drawer takes some.
fn with_gear(names: impl Iterator<Item = String>) -> String {
    let gear: String = names
        .zip(0..)
        .map(|(name, i)| {
            let size = [f64::from(5 + i % 7) * 0.75, 3.0 + f64::from(i % 5), f64::from(2 + i % 3)];
            format!("[[gear]]\nname = '{name}'\nsize = {size:?}\nweight = 2\nworth = 1\n\n")
        })
        .collect();
    SMALL.replace("[[sheet]]\nname = \"ply 3/4\"", &format!("{gear}[[sheet]]\nname = \"ply 3/4\""))
}

#[test]
fn names_in_any_script_are_printed_or_warned_of() {
    let names = [
        "工具箱 №1",
        "צבת",
        "مفتاح",
        "🔧 spanner",
        "Zange ẞ ﬁ",
        "a\u{301}e\u{300}",
        "<b>&amp;\"",
        "**bold** _x_",
        "Ωμέγα Ключ",
        "नमस्ते",
        "zero\u{200B}\u{202E}rtl",
        "½ dagger †",
    ];
    let scenario = with_gear(names.iter().map(|name| (*name).to_owned()))
        .replace("title = \"Small\"", "title = \"Лодка 船 🚐 *bold* <&>\"")
        .replace("ply 1/2", "合板 1/2");
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    let said = build(&scenario, &into, &[])
        .expect(0, &["Notice: no typeface at hand has U+", "angle brackets", "--font"]);
    assert!(!said.all.contains("U+2217") && !said.all.contains("U+041B"), "{}", said.all);
    assert!(!said.out.contains('\u{202E}'), "a name turns the line around: {}", said.out);
    let gear = fs::read_to_string(into.join("gear.csv")).expect("gear");
    for name in names.iter().filter(|name| !name.contains('"')) {
        assert!(gear.contains(name), "{name} is not in {gear}");
    }
    for (name, bytes) in files(&into).iter().filter(|(name, _)| name.ends_with(".svg")) {
        let text = String::from_utf8(bytes.clone()).expect("UTF-8");
        assert!(roxmltree::Document::parse(&text).is_ok(), "{name} is no XML");
    }
    let dxf = files(&into).into_iter().filter(|(name, _)| name.ends_with(".dxf"));
    for (name, bytes) in dxf {
        assert!(bytes.is_ascii(), "{name} is not what R12 can hold");
    }
    // In a typeface that holds all of a plain scenario nothing is to be warned of.
    let plain = folder.path().join("plain");
    let said = build(&SMALL.replace("Small", "Größe * Ключ * №"), &plain, &[]).expect(0, &[]);
    assert!(!said.all.contains("Notice"), "{}", said.all);
}

#[test]
fn another_font_is_taken_and_what_is_none_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let (font, none) = (folder.path().join("a.ttf"), folder.path().join("none.ttf"));
    fs::write(&font, notosans::ITALIC_TTF).expect("a file");
    fs::write(&none, "no font").expect("a file");
    let into = folder.path().join("set");
    build(SMALL, &into, &["--font", text(&none)]).expect(2, &["none.ttf", "no font"]);
    let missing = folder.path().join("missing.ttf");
    build(SMALL, &into, &["--font", text(&missing)]).expect(2, &["cannot read", "missing.ttf"]);
    assert!(!into.exists());
    build(SMALL, &into, &["--font", text(&font)]).expect(0, &["files in"]);
}

#[test]
fn a_tier_of_more_than_sixty_parts_has_its_set() {
    let scenario =
        with_gear((0..40).map(|i| format!("Box {i}"))).replace("columns = [2]", "columns = [4]");
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("set");
    let said = build(&scenario, &into, &[]).expect(0, &["files in"]);
    assert!(!said.all.contains("too large"), "{}", said.all);
    let parts = fs::read_to_string(into.join("parts.csv")).expect("parts");
    let pieces = parts.lines().skip(1).map(|line| {
        let quantity = line.split(',').nth(3).expect("a quantity");
        quantity.parse::<u32>().expect("a number")
    });
    assert!(pieces.sum::<u32>() > 60, "{parts}");
    assert!(files(&into)["booklet.pdf"].len() > 10_000);
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
