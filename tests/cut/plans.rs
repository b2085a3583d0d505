//! Jobs from the file to the plan, and what is refused.

use super::*;

#[test]
fn the_demo_is_proved_with_the_usual_work() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join(DEMO);
    let said = run(&["cut", text(&demo), "--quiet"]).expect(0, &["proved"]);
    assert!(!said.out.contains("not proved"), "{}", said.out);
}

#[test]
fn the_demo_is_cut_within_eighty_columns_and_drawn() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("plans");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join(DEMO);
    let arguments = ["cut", text(&demo), "--work", "2000000", "--into", text(&into)];
    let said = run(&arguments).expect(0, &["What to buy", "How it is cut", "Where the stock goes"]);
    narrow(&said.out);
    let document = json(&fs::read_to_string(into.join("cutting.json")).expect("the document"));
    recheck(&document);
    let mut drawings = 0;
    for entry in fs::read_dir(&into).expect("it was made") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|end| end == "svg") {
            let drawing = fs::read_to_string(&path).expect("a drawing");
            assert!(roxmltree::Document::parse(&drawing).is_ok());
            drawings += 1;
        }
    }
    // A cleat is narrower than its board, and a board's name says how long it is.
    let boards = fs::read_to_string(into.join("cut-boards-1.svg")).expect("the boards");
    assert!(boards.contains("Ripped to width: Cleat 45."), "{boards}");
    assert!(!boards.contains("mm, 2400 mm") && !said.out.contains("mm, 2400 mm"), "{}", said.out);
    let layouts = document["cutting"]["sheets"].as_array().expect("patterns").len();
    assert_eq!(drawings, layouts + 1, "one for each sheet, one for the boards");
    // Again over its own files, and not over foreign ones.
    run(&arguments).expect(0, &["are in"]);
    fs::write(into.join("cut-sheet-1.svg"), "mine").expect("a foreign file");
    run(&arguments).expect(2, &["cut-sheet-1.svg", "--force"]);
}

#[test]
fn the_same_for_any_number_of_threads_and_a_clock_stops_it() {
    let text = format!("{STOCK}{PARTS}");
    let document = |threads| job_on(&text, 300_000, threads).document().expect("a document");
    assert_eq!(document(1), document(2));
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    fs::write(&path, &text).expect("a file in it");
    let said = run(&["cut", common::text(&path), "--time", "1ms", "--json"]).expect(0, &[]);
    recheck(&json(&said.out));
}

#[test]
fn a_table_of_parts_is_cut_from_a_scenarios_stock() {
    let folder = tempfile::tempdir().expect("a folder");
    let parts = folder.path().join("parts.csv");
    fs::write(&parts, "name,material,length,width,count\nShelf,1/2 plywood,30,12,4\n").expect("it");
    let stock = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/trade-fullsize.toml");
    let arguments = ["cut", text(&parts), "--stock", text(&stock), "--work", "200000"];
    run(&arguments).expect(0, &["4 Shelf 30 x 12", "proved"]);
    run(&arguments[..2]).expect(2, &["--stock"]);
    fs::write(&parts, "name,material,width,count\nShelf,1/2 plywood,12,4\n").expect("it");
    run(&arguments).expect(2, &["the column `length` is missing"]);
}

#[test]
fn what_cannot_be_is_refused_and_what_is_lacking_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    let cut = |text: &str| {
        fs::write(&path, text).expect("a file");
        run(&["cut", common::text(&path), "--work", "300000"])
    };
    let whole = format!("{STOCK}{PARTS}");
    cut(&whole.replace("[1100, 400]", "[2500, 400]"))
        .expect(2, &["`Side` is larger than any stock", "60 mm too long", "1 fault"]);
    let wrong = whole.replace("kerf = 3", "kerf = 1300").replace("length = 700", "length = 0");
    cut(&wrong).expect(2, &["wider than `ply`", "wider than `batten`", "more than nothing"]);
    // All of it at once: what is negative, what is nothing, what is too many.
    let wrong = whole
        .replace("[1100, 400]", "[-1100, 400]")
        .replace("[560, 300]", "[560, 0]")
        .replace("count = 5", "count = 1000001")
        .replace("length = 700", "length = 3700")
        .replace("kerf = 3", "kerf = -3");
    cut(&wrong).expect(
        2,
        &[
            "more than nothing",
            "`count` must be from 1 to 1000000",
            "`Post` is larger than any stock of `batten`",
            "100 mm too long",
            "`shop.kerf` must not be negative",
            "5 faults",
        ],
    );
    cut(&whole.replace("count = 7", "count = 1000000")).expect(2, &["too many", "20000"]);
    // A million rails are answered.
    cut(&whole.replace("count = 5", "count = 1000000")).expect(0, &["1000020 parts"]);
    let few = whole.replace("price = 70", "price = 70\nmost = 1");
    cut(&few).expect(1, &["does not yield all parts", "ply", "1 more of ply, 2440 x 1220 mm"]);
    let said = cut(&whole.replace("2400 = 3.10, 3600 = 4.50", "2400 = { price = 3, most = 2 }"));
    said.expect(1, &["batten", "more of batten 2400 mm", "proved"]);
}
