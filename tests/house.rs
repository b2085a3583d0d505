//! The rooms of the house and the arrows between them: an arrow only ever goes down.
//!
//! Reads every path of each room that begins with `crate::`, tests left out, and fails on an arrow that the list below
//! does not allow. `cargo test --test house -- --nocapture` prints the graph that DEVELOPERS.md shows, and a
//! test fails if the two differ.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Each room with the rooms it may use, all of which come after it: that is what "down" means.
const ROOMS: [(&str, &[&str]); 16] = [
    ("cli", &["serve", "app", "report", "paper", "units"]),
    ("serve", &["app", "report", "paper"]),
    (
        "app",
        &[
            "input",
            "report",
            "explore",
            "build",
            "stow",
            "cut",
            "mechanics",
            "verify",
            "design",
            "scenario",
            "units",
            "solve",
            "paper",
        ],
    ),
    ("input", &["scenario", "units"]),
    ("report", &["explore", "verify", "design", "scenario", "units", "paper"]),
    ("explore", &["stow", "cut", "mechanics", "design", "scenario", "units", "solve"]),
    ("build", &["design", "scenario", "units"]),
    ("stow", &["design", "scenario", "units", "solve"]),
    ("cut", &["design", "scenario", "units", "solve"]),
    ("mechanics", &["design", "scenario", "units"]),
    ("verify", &["design", "scenario", "units"]),
    ("design", &["scenario", "units"]),
    ("scenario", &["units"]),
    ("units", &[]),
    ("solve", &[]),
    ("paper", &[]),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every source file of a room that is not a test.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    for path in entries.map(|entry| entry.expect("a readable folder").path()) {
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        if path.is_dir() {
            if name != "tests" {
                files(&path, found);
            }
        } else if name.ends_with(".rs") && !matches!(name, "tests.rs" | "fixture.rs" | "sample.rs")
        {
            found.push(path);
        }
    }
}

/// The rooms that a text names behind `crate::`, comments and the tests at its end left out.
fn rooms_used(text: &str) -> BTreeSet<String> {
    let code: String = text
        .split("#[cfg(test)]\nmod tests {")
        .next()
        .unwrap_or_default()
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| [line, "\n"])
        .collect();
    code.match_indices("crate::")
        .flat_map(|(at, found)| {
            let rest = code[at + found.len()..].trim_start();
            match rest.strip_prefix('{') {
                Some(group) => {
                    group.split('}').next().unwrap_or_default().split(',').map(first_word).collect()
                }
                None => vec![first_word(rest)],
            }
        })
        .filter(|word| ROOMS.iter().any(|(room, _)| room == word))
        .collect()
}

fn first_word(path: &str) -> String {
    path.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

fn arrows() -> BTreeMap<&'static str, BTreeSet<String>> {
    ROOMS
        .iter()
        .map(|(room, _)| {
            let mut found = Vec::new();
            files(&root().join("src").join(room), &mut found);
            let read = |path: &PathBuf| fs::read_to_string(path).expect("a readable source file");
            let mut used: BTreeSet<String> =
                found.iter().flat_map(|path| rooms_used(&read(path))).collect();
            used.remove(*room);
            (*room, used)
        })
        .collect()
}

fn graph() -> String {
    let arrows = arrows();
    ROOMS
        .iter()
        .map(|(room, _)| {
            let below: Vec<&str> = ROOMS
                .iter()
                .map(|(name, _)| *name)
                .filter(|name| arrows[room].contains(*name))
                .collect();
            let below = if below.is_empty() { "nothing".to_owned() } else { below.join(", ") };
            format!("{room:<10}-> {below}\n")
        })
        .collect()
}

#[test]
fn every_room_is_listed() {
    let on_disk: BTreeSet<String> = fs::read_dir(root().join("src"))
        .expect("a source folder")
        .map(|entry| entry.expect("a readable folder").path())
        .filter(|path| path.is_dir())
        .filter_map(|path| Some(path.file_name()?.to_str()?.to_owned()))
        .collect();
    let listed: BTreeSet<String> = ROOMS.iter().map(|(room, _)| (*room).to_owned()).collect();
    assert_eq!(on_disk, listed);
}

#[test]
fn what_is_allowed_goes_down() {
    for (place, (room, allowed)) in ROOMS.iter().enumerate() {
        for below in *allowed {
            let there = ROOMS.iter().position(|(name, _)| name == below);
            assert!(there > Some(place), "{room} -> {below}");
        }
    }
}

#[test]
fn no_arrow_goes_the_wrong_way() {
    println!("{}", graph());
    let arrows = arrows();
    let wrong: Vec<String> = ROOMS
        .iter()
        .flat_map(|(room, allowed)| {
            let not_allowed = arrows[room].iter().filter(|used| !allowed.contains(&used.as_str()));
            not_allowed.map(move |used| format!("{room} -> {used}"))
        })
        .collect();
    assert!(wrong.is_empty(), "arrows that go the wrong way: {wrong:?}");
}

#[test]
fn the_picture_in_the_docs_is_true() {
    let docs = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    assert!(docs.contains(&graph()), "DEVELOPERS.md should show:\n{}", graph());
}

/// Each check is a folder: what it takes, its formula, its limit and its sentence stand at the top of its `mod.rs`, its tests
/// beside it.
#[test]
fn every_check_says_what_it_takes_and_has_its_tests() {
    let checks = root().join("src/mechanics/checks");
    let folders = |at: &Path| -> Vec<PathBuf> {
        let entries = fs::read_dir(at).expect("a folder");
        let mut all: Vec<PathBuf> = entries.map(|entry| entry.expect("readable").path()).collect();
        all.retain(|path| path.is_dir());
        all
    };
    let drawer = checks.join("drawer");
    let mut all = folders(&checks);
    all.retain(|path| *path != drawer);
    all.extend(folders(&drawer));
    assert!(all.len() >= 17, "{all:?}");
    for folder in all {
        let text = fs::read_to_string(folder.join("mod.rs")).expect("every check has a mod.rs");
        for said in ["//! - Inputs: ", "//! - Formula: ", "//! - Limit: ", "//! - Sentence: "] {
            assert!(text.contains(said), "{} lacks `{said}`", folder.display());
        }
        let tests = fs::read_to_string(folder.join("tests.rs")).expect("every check has tests");
        assert!(tests.contains("#[test]"), "{}", folder.display());
    }
}

#[test]
fn the_reader_sees_groups_and_skips_comments_and_tests() {
    let text = "use crate::{design::Part, units::Length};\n// crate::cli\nfn f() { crate::solve::go() }\n\
                #[cfg(test)]\nmod tests {\n use crate::app::x;\n}\n";
    let used: Vec<String> = rooms_used(text).into_iter().collect();
    assert_eq!(used, ["design", "solve", "units"]);
}
