//! What a job asks of the cuts: few stages, factory edges.

use super::*;

#[test]
fn fewer_stages_of_cuts_are_kept_to_and_cost_no_less() {
    let staged = |stages: &str| {
        cost(&format!("{STOCK}{PARTS}").replace("kerf = 3", &format!("kerf = 3\n{stages}"))).0
    };
    let [two, trimmed, three, any] =
        ["stages = 2", "stages = 2\ntrimming = true", "stages = 3", "stages = \"unlimited\""]
            .map(staged);
    assert!(two >= trimmed && trimmed >= three && three >= any, "{two} {trimmed} {three} {any}");
    // Side by side 600 and 500 wide, each cut twice across: the second piece of each is trimmed, in a third stage.
    let nested = |stages: &str| {
        cost(&format!(
            "units = \"mm\"\n[shop]\nkerf = 0\n{stages}\n[[sheet]]\nname = \"s\"\nsize = [1000, 1000]\nprice = 1\n\
             [[part]]\nname = \"A\"\nsize = [600, 500]\n[[part]]\nname = \"B\"\nsize = [500, 500]\n\
             [[part]]\nname = \"C\"\nsize = [400, 700]\n[[part]]\nname = \"D\"\nsize = [300, 300]\n"
        ))
        .0
    };
    let one = Money::ONE;
    assert_eq!(nested("stages = 2"), one * 2);
    assert_eq!(nested("stages = 2\ntrimming = true"), one);
    assert_eq!(nested("stages = 3"), one);
    let wrong =
        format!("{STOCK}{PARTS}").replace("kerf = 3", "kerf = 3\nstages = 4\ntrimming = true");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    fs::write(&path, wrong).expect("a file");
    run(&["cut", common::text(&path)]).expect(2, &["2, 3 or \"unlimited\""]);
    fs::write(&path, format!("{STOCK}{PARTS}").replace("kerf = 3", "kerf = 3\ntrimming = true"))
        .expect("a file");
    run(&["cut", common::text(&path)]).expect(2, &["`trimming` is of no account"]);
}

/// Fronts, which ask for what `part` says, and shelves out of a sheet that `sheet` says more of.
fn fronts(trim: &str, sheet: &str, part: &str) -> String {
    format!(
        "units = \"mm\"\n[shop]\nkerf = 3\nedge_trim = {trim}\nkeep_offcut = [300, 200]\n\
         [[sheet]]\nname = \"ply\"\nsize = [2440, 1220]\nprice = 70\n{sheet}\n\
         [[part]]\nname = \"Front\"\nsize = [2400, 250]\ncount = 4\n{part}\n\
         [[part]]\nname = \"Shelf\"\nsize = [600, 200]\ncount = 3\n"
    )
}

/// The sheets bought for a job of [`fronts`], and how many fronts lie with a long edge on a side of their sheet, and with none.
fn at_the_sides(text: &str) -> (u32, u32, u32) {
    let found = job(text).found;
    let Found::Plan { plan, .. } = found else { panic!("no plan: {found:?}") };
    let (mut sheets, mut at, mut not) = (0, 0, 0);
    for layout in &plan.cutting.sheets {
        sheets += layout.repeat;
        for piece in layout.pieces.iter().filter(|piece| piece.part.0 == 0) {
            let top = piece.at.y + piece.at.dy;
            let side = piece.at.y == Length::ZERO || top == Length::MM * 1220;
            *(if side { &mut at } else { &mut not }) += layout.repeat;
        }
    }
    (sheets, at, not)
}

#[test]
fn parts_get_the_factory_edges_that_they_must_have() {
    let along = "factory = \"along\"";
    // Four fronts lie on one sheet, and a sheet has two sides.
    assert_eq!(at_the_sides(&fronts("0", "", "")).0, 1);
    assert_eq!(at_the_sides(&fronts("0", "", along)), (2, 4, 0));
    // One good side a sheet takes a sheet for each front.
    let one = "factory = [\"side\", \"ends\"]";
    assert_eq!(at_the_sides(&fronts("0", one, along)).0, 4);
    // What is chosen for its worth has its edges too.
    let (sheets, at, not) = at_the_sides(&fronts("0", "most = 1", &format!("{along}\nworth = 5")));
    assert_eq!((sheets, at, not), (1, 2, 0));
    // What cannot be is said where it stands.
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    let cut = |text: &str| {
        fs::write(&path, text).expect("a file");
        run(&["cut", common::text(&path), "--work", "300000"])
    };
    let trimmed = fronts("5", "", along);
    let line = 1 + trimmed.lines().position(|line| line == along).expect("the part's edges");
    let here = format!(":{line}:");
    let faults = ["no stock of `ply` has", "`edge_trim` takes them off", &here];
    cut(&trimmed).expect(2, &faults);
    cut(&fronts("5", one, "")).expect(2, &["takes the factory edges off"]);
    cut(&fronts("0", "factory = \"ends\"", along)).expect(2, &["no stock of `ply` has"]);
    cut(&fronts("0", "factory = \"foot\"", "")).expect(2, &["\"sides\""]);
    cut(&fronts("0", "", along)).expect(0, &["factory edge"]);
}
