//! How faults look.

use super::super::{Look, parse};
use super::{SMALL, small_with};

const PLAIN: Look = Look { colour: false, width: 80 };

#[test]
fn a_fault_shows_its_line_and_what_would_do() {
    let text = small_with("between_wells = 50", "beetween_wells = 50");
    let faults = parse("bed.toml", &text).expect_err("at fault");
    let want = "  \
  × `beetween_wells` is not a key here
   ╭─[bed.toml:7:1]
 6 │ width = 65
 7 │ beetween_wells = 50
   · ───────┬──────
   ·        ╰── unknown key
 8 │ wells = { from_tailgate = 20, length = 36, height = 9 }
   ╰────
  help: did you mean `between_wells`?

1 fault in bed.toml
";
    assert_eq!(faults.render(PLAIN).trim_start(), want.trim_start());
    assert_eq!(
        faults.to_string(),
        "bed.toml:7:1: `beetween_wells` is not a key here (did you mean `between_wells`?)"
    );
}

#[test]
fn two_places_are_both_shown() {
    let text = small_with("\"Drill case\"", "\"Saw case\"");
    let shown = parse("bed.toml", &text).expect_err("at fault").render(PLAIN);
    assert!(shown.contains("first here") && shown.contains("again here"), "{shown}");
}

#[test]
fn colour_only_where_it_is_wanted() {
    let faults = parse("bed.toml", &small_with("width = 65", "widht = 65")).expect_err("at fault");
    assert!(!faults.render(PLAIN).contains('\u{1b}'));
    assert!(faults.render(Look { colour: true, width: 80 }).contains('\u{1b}'));
}

#[test]
fn sentences_keep_within_the_width() {
    let text = SMALL
        .replace("length = 78", "length = \"78 1/3 in and a bit\"")
        .replace("[1.5, 7.25]", "[7.25, 1.5]")
        .replace("\"Slick strip\"", "\"\"");
    for width in [60, 80, 100] {
        let shown =
            parse("bed.toml", &text).expect_err("at fault").render(Look { colour: false, width });
        let longest = shown.lines().map(|line| line.chars().count()).max().unwrap_or(0);
        assert!(longest <= width, "{longest} columns:\n{shown}");
    }
}

#[test]
fn endless_lines_are_told_by_their_place() {
    let long = format!("widht = 65 # {}", "x".repeat(5000));
    let shown =
        parse("b.toml", &small_with("width = 65", &long)).expect_err("at fault").render(PLAIN);
    assert!(shown.contains("line 6, column 1:"), "{shown}");
    assert!(shown.len() < 2000, "{}", shown.len());
}

#[test]
fn a_thousand_faults_are_counted_not_all_shown() {
    let many: String = (0..700).map(|n| format!("[[gear]]\nnam{n} = 1\n")).collect();
    let faults = parse("b.toml", &many).expect_err("at fault");
    assert_eq!(faults.list.len(), 1000, "no more are kept");
    let shown = faults.render(PLAIN);
    assert!(shown.contains("and 950 more"), "{}", &shown[shown.len() - 200..]);
}
