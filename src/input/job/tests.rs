//! Jobs and tables of parts, sound and faulty.

use std::path::PathBuf;

use super::{ReadJob, job_schema, read_job};
use crate::input::InputError;
use crate::units::{Length, Money};

const JOB: &str = r#"
units = "mm"
[shop]
kerf = 3
edge_trim = 5
[[sheet]]
name = "ply"
size = [2440, 1220]
price = 70
[[sheet]]
name = "ply, one left"
material = "ply"
size = [1220, 1220]
most = 0
on_hand = 1
[[board]]
name = "batten"
section = [20, 40]
lengths = { 2400 = 3 }
[[part]]
name = "Side"
material = "ply"
size = [1900, 230]
count = 4
turn = true
[[part]]
name = "Rail"
material = "batten"
length = 800
"#;

fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    for (name, text) in files {
        std::fs::write(folder.path().join(name), text).expect("a file in it");
    }
    folder
}

fn read(text: &str) -> Result<ReadJob, Vec<InputError>> {
    let folder = folder(&[("job.toml", text)]);
    read_job(&folder.path().join("job.toml"), None)
}

fn table(text: &str, stock: &str) -> Result<ReadJob, Vec<InputError>> {
    let folder = folder(&[("parts.csv", text), ("stock.toml", stock)]);
    let path = |name: &str| -> PathBuf { folder.path().join(name) };
    read_job(&path("parts.csv"), Some(&path("stock.toml")))
}

/// All faults as lines, without the folder's name.
fn faults(read: Result<ReadJob, Vec<InputError>>) -> Vec<String> {
    let errors = read.expect_err("it is faulty");
    let lines = errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    lines.lines().map(|line| line.rsplit('/').next().unwrap_or_default().to_owned()).collect()
}

#[track_caller]
fn assert_has(lines: &[String], parts: &[&str]) {
    assert!(
        lines.iter().any(|line| parts.iter().all(|part| line.contains(part))),
        "{parts:?} in no line of {lines:#?}"
    );
}

#[test]
fn a_job_is_read_with_its_defaults() {
    let read = read(JOB).unwrap_or_else(|errors| panic!("{errors:?}"));
    let job = &read.job;
    let [side, rail] = &job.parts[..] else { panic!("two kinds of part") };
    assert_eq!((side.length, side.width), (Length::mm(1900), Length::mm(230)));
    assert_eq!((side.count, side.turn), (4, true));
    // A board's part is as wide as the board unless it says otherwise.
    assert_eq!((rail.width, rail.count, rail.turn), (Length::mm(40), 1, false));
    assert_eq!(job.title, "job");
    assert_eq!(job.stock.items.len(), 3);
    assert_eq!(job.shop.least_rip, Length::ZERO, "no limit unless one is set");
    let left = job.stock.items.values().nth(1).expect("three items");
    assert_eq!((left.price, left.on_hand, left.most), (Money::ZERO, 1, Some(0)));
    let keys: Vec<&str> = read.defaults_used.iter().map(|used| used.key.as_str()).collect();
    assert!(keys.contains(&"currency") && keys.contains(&"shop.keep_offcut"), "{keys:?}");
    assert!(!keys.iter().any(|key| key.starts_with("density")), "{keys:?}");
}

#[test]
fn parts_may_come_from_a_table_with_its_headings_in_any_order() {
    let stock = JOB.replace("[[part]]", "[[gear]]");
    let text = "\u{feff}Qty;Length;Stock;Part;Width;May turn\n2;800;batten;Rail;;\n\n4;1900;ply;Side;230;yes\n";
    let read = table(text, &stock).unwrap_or_else(|errors| panic!("{errors:?}"));
    assert_eq!(read.job.title, "parts");
    let found: Vec<(&str, u32, bool)> =
        read.job.parts.iter().map(|p| (p.name.as_str(), p.count, p.turn)).collect();
    assert_eq!(found, [("Rail", 2, false), ("Side", 4, true)]);
    let named = JOB.replacen("units", "parts_from = \"more.csv\"\nunits", 1);
    let folder = folder(&[("job.toml", &named), ("more.csv", "name,material,length\nR,batten,9")]);
    let read = read_job(&folder.path().join("job.toml"), None).expect("no fault");
    assert_eq!(read.job.parts.len(), 3, "both lists");
}

#[test]
fn every_fault_of_a_job_comes_at_once() {
    let text = JOB
        .replace("size = [1900, 230]", "size = [2500, 0]")
        .replace("length = 800", "length = 2500")
        .replace("count = 4", "count = 2000000")
        .replace("kerf = 3", "kerf = 45")
        .replace("price = 70", "prise = 70");
    let found = faults(read(&text));
    assert_has(&found, &["job.toml:", "`size` must be more than nothing"]);
    assert_has(&found, &["`count` must be from 1 to 1000000"]);
    assert_has(&found, &["a kerf of 45 mm is wider than `batten`"]);
    assert_has(&found, &["`prise` is not a key here", "did you mean `price`?"]);
    let text = JOB.replace("length = 800", "length = 2500").replace("1900, 230", "2440, 1215");
    let found = faults(read(&text));
    assert_has(&found, &["`Rail` is larger than any stock of `batten`: at best 100 mm too long"]);
    // The sheet loses 5 mm at each edge; turned, the part would lack 1230.
    assert_has(&found, &["`Side` is larger than any stock of `ply`: at best 10 mm too long"]);
    assert_has(&found, &["the nearest is `ply`, 2440 x 1220 mm, 5 mm trimmed off each edge"]);
}

#[test]
fn names_limits_and_contradictions() {
    let found = faults(read(&JOB.replace("material = \"batten\"", "material = \"baten\"")));
    assert_has(&found, &["no sheet or board is called `baten`", "did you mean \"batten\"?"]);
    let found = faults(read(&JOB.replace("material = \"batten\"\n", "")));
    assert_has(&found, &["`material` is missing"]);
    let found = faults(read(&JOB.replace("count = 4", "count = 20001")));
    assert_has(&found, &["20001 parts of `ply` are too many", "20000"]);
    let found = faults(read(&JOB.replace("length = 800", "size = [800, 41]")));
    assert_has(&found, &["`Rail` is wider than its board: 1 mm more than the 40 mm"]);
    let found = faults(read(&JOB.replace("length = 800", "length = 800\nsize = [800, 40]")));
    assert_has(&found, &["`size` says the length and the width already"]);
    let narrow = JOB.replace("kerf = 3", "kerf = 3\nleast_rip = 30");
    let found = faults(read(&narrow.replace("length = 800", "size = [800, 25]")));
    assert_has(&found, &["`Rail` is 5 mm narrower than the least rip"]);
    let found = faults(read("units = \"mm\"\n"));
    assert_has(&found, &["there is nothing to cut from"]);
    assert_has(&found, &["there is nothing to cut"]);
}

#[test]
fn every_fault_of_a_table_comes_at_once_with_its_place() {
    let stock = JOB.split("[[part]]").next().expect("a text before it");
    let text = "name,material,lenght,width,count,turn\n\
                Side,ply,1900,230,four,maybe\n\
                ,plyy,19 00 mm,0,1,no,left over\n";
    let found = faults(table(text, stock));
    assert_has(
        &found,
        &["parts.csv:1:15: `lenght` is not a known column", "did you mean `length`?"],
    );
    assert_has(&found, &["parts.csv:2:19: `four` is not a whole number"]);
    assert_has(&found, &["parts.csv:2:24: `maybe` is neither yes nor no"]);
    assert_has(&found, &["parts.csv:3:", "this line has no name"]);
    assert_has(&found, &["`left over` stands under no heading"]);
    let found = faults(table("name,material,width\nSide,ply,230\n", stock));
    assert_has(&found, &["parts.csv:1:1: the column `length` is missing"]);
    // Faults of both files come together.
    let found = faults(table("name,length\nSide,1900\n", &stock.replace("kerf = 3", "kerf = -3")));
    assert_has(&found, &["stock.toml:", "`shop.kerf` must not be negative"]);
    assert_has(&found, &["parts.csv:", "the column `material` is missing"]);
    let found = faults(table("name,material,length,width\nSide,ply,2500,230\n", stock));
    assert_has(
        &found,
        &["parts.csv:2:", "`Side` is larger than any stock of `ply`: at best 70 mm"],
    );
}

/// What is wrong with one thing said of a part hides nothing else that is wrong with it.
#[test]
fn no_fault_hides_another() {
    let side = "size = [1900, 230]\ncount = 4";
    for wrong in ["count = 0", "count = 4\nworth = -1"] {
        let found = faults(read(&JOB.replace(side, &format!("size = [2600, 230]\n{wrong}"))));
        assert_has(&found, &["`Side` is larger than any stock of `ply`: at best 170 mm too long"]);
        assert_eq!(found.len(), 2, "{found:#?}");
    }
    let found = faults(read(&JOB.replace("name = \"Side\"\n", "").replace("1900", "2600")));
    assert_has(&found, &["`name` is missing"]);
    assert_has(&found, &["is larger than any stock of `ply`"]);
    let found = faults(read(&JOB.replace("length = 800", "length = 2500\nfactory = \"along\"")));
    assert_has(&found, &["`batten` comes in boards, whose edges are all the same"]);
    assert_has(&found, &["`Rail` is larger than any stock of `batten`"]);
    let stock = JOB.split("[[part]]").next().expect("a text before it");
    let text =
        "name,material,length,width,count,turn,worth\n,ply,2600,9,x,,y\nS,ply,9,2000,1,often,\n";
    let found = faults(table(text, stock));
    for part in ["no name", "`x` is not", "`y` is not", "larger than any stock", "`often` is"] {
        assert_has(&found, &[part]);
    }
    // It might be meant to be turned, and would fit then.
    assert_eq!(found.len(), 5, "{found:#?}");
}

/// Too many are told of where there is most of them, in whichever file that is.
#[test]
fn too_many_parts_are_told_of_where_they_stand() {
    let stock = JOB.split("[[part]]").next().expect("a text before it");
    let found =
        faults(table("name,material,length,width,count\nA,ply,9,9,5\nB,ply,9,9,20000\n", stock));
    assert_has(&found, &["parts.csv:3:", "20005 parts of `ply` are too many"]);
    let found = faults(read(&JOB.replace("count = 4", "count = 20001")));
    let line = 1 + JOB.lines().position(|line| line == "count = 4").expect("the sides' count");
    assert_has(&found, &[&format!("job.toml:{line}:"), "20001 parts of `ply` are too many"]);
    let lines = "R,batten,9,,1000000\n".repeat(11);
    let found = faults(table(&format!("name,material,length,width,count\n{lines}"), stock));
    assert_has(&found, &["parts.csv:2:", "11000000 parts of `batten` are too many", "10000000"]);
    let lines = "A,ply,9,9\n".repeat(5001);
    let found = faults(table(&format!("name,material,length,width\n{lines}"), stock));
    assert_has(&found, &["parts.csv:5002:", "5001 lines of parts are too many"]);
}

#[test]
fn trims_that_leave_nothing_are_told_apart_from_the_kerf() {
    let trim = |trim: &str| read(&JOB.replace("edge_trim = 5", &format!("edge_trim = {trim}")));
    assert_has(
        &faults(trim("700")),
        &["job.toml:5:", "an edge trim of 700 mm leaves nothing of `ply`"],
    );
    assert_has(&faults(trim("609")), &["leaves less of `ply` than the kerf"]);
    // Boards and offcuts keep their edges: this takes a sheet down to 2400 x 1180, and a batten of 40 stays as it is.
    trim("20").unwrap_or_else(|errors| panic!("{errors:?}"));
    let narrow =
        JOB.replace("size = [1220, 1220]", "size = [1220, 11]").replace("kerf = 3", "kerf = 2");
    read(&narrow).unwrap_or_else(|errors| panic!("{errors:?}"));
    let found = faults(read(&JOB.replace("size = [2440, 1220]", "size = [2, 2440]")));
    assert_has(&found, &["a kerf of 3 mm is wider than `ply`"]);
}

#[test]
fn empty_files_say_how_such_a_file_begins() {
    assert_has(&faults(read(" \n")), &["is empty", "`bedwright cut --help` shows a job"]);
    assert_has(&faults(table("\n", JOB)), &["is empty", "begin with a line of headings"]);
}

#[test]
fn the_schema_knows_a_jobs_tables() {
    let schema = job_schema();
    let text = schema.to_string();
    for word in ["parts_from", "JobSheet", "may be cut across the grain"] {
        assert!(text.contains(word), "{word}");
    }
    assert_eq!(schema["title"], "Bedwright cutting job");
}
