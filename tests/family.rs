//! `family` from end to end: one idea over several beds, what is the same, what differs, and who cannot.

use std::fs;
use std::path::{Path, PathBuf};

#[expect(dead_code, reason = "other tests use the rest of it")]
mod common;
use common::{SMALL, Said, run, small, text};
use serde_json::Value;

/// Scenario files of these texts in a folder, with a place for what is written.
fn beds(all: &[&str]) -> (tempfile::TempDir, Vec<PathBuf>) {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |(number, bed): (usize, &&str)| {
        let path = folder.path().join(format!("bed-{number}.toml"));
        fs::write(&path, bed).expect("a file");
        path
    };
    let paths = all.iter().enumerate().map(write).collect();
    (folder, paths)
}

fn family(paths: &[PathBuf], more: &[&str]) -> Said {
    let mut arguments = vec!["family", "--quiet"];
    arguments.extend(paths.iter().map(|path| text(path)));
    arguments.extend(more);
    run(&arguments)
}

fn json(path: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(path).expect("a file")).expect("JSON")
}

/// A shorter and a longer bed with choices and gear of their own.
fn short_and_long() -> [String; 2] {
    let short = small(&[
        ("\"Small\"", "\"Short\""),
        ("length = 78", "length = 62"),
        ("from_tailgate = 20", "from_tailgate = 14"),
        ("columns = [2]", "columns = [3]"),
        ("name = \"2x8\"\nsection", "name = \"joist\"\nsection"),
        ("members = \"2x8\"", "members = \"ply 3/4\""),
    ]);
    let long = small(&[
        ("\"Small\"", "\"Long\""),
        ("length = 78", "length = 96"),
        ("from_tailgate = 20", "from_tailgate = 28"),
    ]);
    [short, long]
}

#[test]
fn one_idea_is_carried_to_a_short_and_a_long_bed() {
    let [short, long] = short_and_long();
    let (folder, paths) = beds(&[SMALL, &short, &long]);
    let into = folder.path().join("plan");
    family(&paths, &["--into", text(&into)])
        .expect(0, &["One plan for 3 beds", "2 drawers of 2x8", "passed the verifier", "inches"]);
    let plan = json(&into.join("family.json"));
    let schema: Value =
        serde_json::from_str(&run(&["schema", "family"]).expect(0, &[]).out).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is one");
    let faults: Vec<String> = validator.iter_errors(&plan).map(|e| e.to_string()).collect();
    assert!(faults.is_empty(), "{faults:?}");
    for (bed, member) in plan["beds"].as_array().expect("beds").iter().zip(["2x8", "joist", "2x8"])
    {
        let tiers = bed["design"]["structure"]["tiers"].as_array().expect("tiers");
        assert_eq!(tiers.len(), 1);
        assert_eq!((&tiers[0]["columns"], &tiers[0]["member"]), (&2.into(), &member.into()));
        assert_eq!(
            bed["design"]["structure"]["runs"],
            plan["beds"][0]["design"]["structure"]["runs"]
        );
    }
    // The letters say what the designs have, and the chest follows its bed.
    let letter = |what: &str| -> Vec<f64> {
        let all = plan["letters"].as_array().expect("letters");
        let found = all.iter().find(|one| one["what"].as_str().is_some_and(|is| is.contains(what)));
        let values = found.expect(what)["values"].as_array().expect("values").iter();
        values.map(|value| value.as_f64().expect("a length")).collect()
    };
    let long = letter("members and back piece");
    for (length, bed) in long.iter().zip(plan["beds"].as_array().expect("beds")) {
        assert_eq!(Some(*length), bed["design"]["chest"]["length"].as_f64());
    }
    assert!(long[1] < long[0] && long[0] < long[2], "{long:?}");
    assert!((long[0] - long[1] - 16.0 * 25.4).abs() < 1e-9, "{long:?}");
    let high = letter("openings' height");
    assert!(high.iter().all(|each| *each == high[0]), "2x8 is as high in every bed: {high:?}");
    // Shared parts are counted in every bed, and add up with the others to what each design has.
    let parts = plan["parts"].as_array().expect("parts");
    for part in parts {
        let numbers = part["quantities"].as_array().expect("numbers");
        assert_eq!(part["shared"] == true, numbers.iter().all(|number| *number != 0), "{part}");
    }
    for (place, bed) in plan["beds"].as_array().expect("beds").iter().enumerate() {
        let listed: u64 =
            parts.iter().map(|part| part["quantities"][place].as_u64().expect("a count")).sum();
        let own = bed["design"]["parts"].as_array().expect("parts").iter();
        let own: u64 = own.map(|part| part["quantity"].as_u64().expect("a count")).sum();
        assert_eq!(listed, own);
    }
    let letters = fs::read_to_string(into.join("letters.csv")).expect("letters");
    assert!(letters.starts_with("letter,length,bed 1 (in),bed 2 (in),bed 3 (in),bed 1 (mm)"));
    let shopping = fs::read_to_string(into.join("family-shopping.csv")).expect("shopping");
    for bed in ["bed 1,Small", "bed 2,Short", "bed 3,Long"] {
        assert!(shopping.contains(bed), "{shopping}");
    }
    let booklet = fs::read(into.join("family.pdf")).expect("a booklet");
    assert!(booklet.starts_with(b"%PDF-") && booklet.len() > 10_000);
    let front = fs::read_to_string(into.join("letters-front.svg")).expect("a drawing");
    assert!(front.contains("<title") && front.contains("<desc"));
}

#[test]
fn a_bed_that_cannot_says_why_and_the_others_get_their_plan() {
    let low = small(&[("height = 9", "height = 7"), ("clear_height = 20", "clear_height = 8")]);
    let other = small(&[(
        "name = \"2x8\"\nsection = [1.5, 7.25]",
        "name = \"2x8\"\nsection = [1.5, 9.25]",
    )]);
    let (folder, paths) = beds(&[SMALL, &low, &other]);
    let into = folder.path().join("plan");
    family(&paths, &["--into", text(&into)]).expect(
        1,
        &[
            "bed 2 has no design of this idea. The chest that comes nearest stands",
            "too high under the clear height of 8 in",
            "bed 3 has no design of this idea. Its members are of 2x8",
            "boards of 1 1/2 by 7 1/4 in",
        ],
    );
    let plan = json(&into.join("family.json"));
    assert!(plan["beds"][0]["design"].is_object() && plan["beds"][1]["design"].is_null());
    assert_eq!(plan["beds"][1]["why_none"]["limit"], "clear height");
    assert_eq!(plan["letters"][0]["values"].as_array().expect("values").len(), 1);
}

#[test]
fn ripped_members_stand_as_high_as_the_first_beds_where_they_can() {
    let ripped = |more: &[(&str, &str)]| {
        small(&[&[("members = \"2x8\"", "members = \"ply 3/4\"")], more].concat())
    };
    let first = ripped(&[]);
    let long = ripped(&[("length = 78", "length = 96"), ("[14, 11, 4.5]", "[14, 11, 3]")]);
    let tall = ripped(&[("[18, 12, 5]", "[18, 12, 13]")]);
    let (_folder, paths) = beds(&[&first, &long, &tall]);
    let out = family(&paths, &["--json"]).expect(0, &[]).out;
    let plan: Value = serde_json::from_str(&out).expect("JSON");
    let height = |bed: usize| {
        let tiers = &plan["beds"][bed]["design"]["structure"]["tiers"];
        tiers[0]["height"].as_f64().expect("a height")
    };
    assert_eq!(height(1), height(0), "it has room for the same");
    assert!(height(2) > 13.0 * 25.4, "what must fit is too high for the first bed's");
}

#[test]
fn beds_that_are_alike_share_every_part_and_length() {
    let mut other = SMALL.to_owned();
    for name in ["2x8", "ply 1/2", "ply 3/4"] {
        other = other.replace(&format!("\"{name}\""), &format!("\"my {name}\""));
    }
    let (_folder, paths) = beds(&[SMALL, &other]);
    let out = family(&paths, &["--json"]).expect(0, &[]).out;
    let plan: Value = serde_json::from_str(&out).expect("JSON");
    for list in ["parts", "letters"] {
        let all = plan[list].as_array().expect("a list");
        assert!(all.len() > 5 && all.iter().all(|one| one["shared"] == true), "{all:#?}");
    }
}

#[test]
fn each_bed_gets_its_whole_set_if_asked() {
    let [short, _] = short_and_long();
    let (folder, paths) = beds(&[SMALL, &short]);
    let into = folder.path().join("plan");
    family(&paths, &["--into", text(&into), "--each", "--saw", "table"]).expect(0, &[]);
    let plan = json(&into.join("family.json"));
    for (place, bed) in ["bed-1", "bed-2"].into_iter().enumerate() {
        let set = into.join(bed);
        for name in ["booklet.pdf", "cuts.csv", "sheet-1.dxf", "templates.pdf", "offcuts.toml"] {
            assert!(set.join(name).exists(), "{bed} has no {name}");
        }
        let cuts = fs::read_to_string(set.join("cuts.csv")).expect("cuts");
        assert!(cuts.contains(",fence,"), "{cuts}");
        let design = &plan["beds"][place]["design"]["id"];
        let own = json(&set.join("result.json"));
        let listed = own["designs"].as_array().expect("designs");
        assert!(listed.iter().any(|one| one["id"] == *design), "{bed} is another design");
    }
    family(&paths, &["--into", text(&into)]).expect(0, &[]);
    assert!(!into.join("bed-1").exists(), "its own files go with their folder");
}

#[test]
fn what_is_wrong_with_any_scenario_is_told_at_once_and_nothing_is_written() {
    let (folder, paths) = beds(&[&small(&[("length = 78", "lenth = 78")]), "nonsense", SMALL]);
    let into = folder.path().join("plan");
    family(&paths, &["--into", text(&into)]).expect(2, &["lenth", "bed-0.toml", "bed-1.toml"]);
    assert!(!into.exists());
    let (folder, paths) = beds(&[SMALL, SMALL]);
    let into = folder.path().join("plan");
    family(&paths, &["--design", "zzzzzzz", "--into", text(&into)]).expect(2, &["nearest are"]);
    assert!(!into.exists());
    family(&paths[..1], &[]).expect(2, &["2 values required"]);
}

#[test]
fn the_plan_is_the_same_from_run_to_run_and_in_millimetres() {
    let [short, _] = short_and_long();
    let (folder, paths) = beds(&[SMALL, &short]);
    let [one, other] = ["one", "other"].map(|name| folder.path().join(name));
    family(&paths, &["--units", "mm", "--into", text(&one)]).expect(0, &["millimetres"]);
    family(&paths, &["--units", "mm", "--threads", "1", "--into", text(&other)]).expect(0, &[]);
    for name in ["family.pdf", "family.json", "letters.csv", "letters-side.svg"] {
        let [one, other] = [&one, &other].map(|into| fs::read(into.join(name)).expect(name));
        assert!(one == other, "{name} differs");
    }
    let letters = fs::read_to_string(one.join("letters.csv")).expect("letters");
    assert!(letters.starts_with("letter,length,bed 1 (mm),bed 2 (mm),same in all"), "{letters}");
}
