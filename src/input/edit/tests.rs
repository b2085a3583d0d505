//! The text and its fields are the same thing.

use proptest::prelude::*;
use serde_json::{Value as Json, json};

use super::{Change, Edit, EditError, Places, Step, apply, fields, shown, to_measure};
use crate::input::parse;

const DEMOS: [&str; 3] = [
    include_str!("../../../scenarios/trade-fullsize.toml"),
    include_str!("../../../scenarios/camping-midsize.toml"),
    include_str!("../../../scenarios/van-birch.toml"),
];

fn edit(edit: Json) -> Edit {
    serde_json::from_value(edit).expect("an edit")
}

fn done(text: &str, one: Json) -> String {
    apply(text, &[edit(one)]).expect("a change that can be made")
}

#[test]
fn values_are_shown_as_they_were_typed() {
    let text =
        "a = 52.00\nb = \"6 ft\"\nc = [1, \"2 1/2\"]\nd = { e = true, f = 0x10 }\n[[g]]\nh = -1\n";
    let wanted = json!({
        "a": "52.00", "b": "6 ft", "c": ["1", "2 1/2"], "d": { "e": true, "f": "0x10" }, "g": [{ "h": "-1" }],
    });
    assert_eq!(fields(text), Some(wanted));
    assert_eq!(fields("a = "), None);
}

#[test]
fn a_value_keeps_what_stands_around_it() {
    let text =
        "# top\n[bed] # the bed\nlength  =  \"78 3/4\"   # measured twice\n\n# last\nwidth=66\n";
    let typed = done(text, json!({ "at": ["bed", "length"], "typed": " 79 " }));
    assert_eq!(typed, text.replace("\"78 3/4\"", "79"));
    let typed = done(text, json!({ "at": ["bed", "width"], "typed": "65.50" }));
    assert_eq!(typed, text.replace("66", "65.50"), "digits stay as they were typed");
    let typed = done(text, json!({ "at": ["bed", "width"], "typed": "5 ft 6" }));
    assert_eq!(typed, text.replace("66", "\"5 ft 6\""));
    // What would be a date, a boolean or a hexadecimal number is a text.
    for odd in ["1979-05-27", "true", "0x10", "1_000", "nan", "+5"] {
        let typed = done(text, json!({ "at": ["bed", "width"], "typed": odd }));
        assert_eq!(typed, text.replace("66", &format!("\"{odd}\"")));
    }
}

#[test]
fn what_is_missing_is_made_where_it_belongs() {
    let text = "[bed]\nlength = 78\n";
    let made = done(text, json!({ "at": ["shop", "kerf"], "typed": "1/8" }));
    assert_eq!(made, "[bed]\nlength = 78\n\n[shop]\nkerf = \"1/8\"\n");
    let made = done(text, json!({ "at": ["bed", "wells", "height"], "typed": "9" }));
    assert_eq!(made, "[bed]\nlength = 78\nwells = { height = 9 }\n");
    let made =
        done(text, json!({ "at": ["gear"], "insert": { "name": "Saw", "size": [16, 13, 9] } }));
    assert_eq!(made, "[bed]\nlength = 78\n\n[[gear]]\nname = \"Saw\"\nsize = [16, 13, 9]\n");
    for nowhere in [
        json!({ "at": ["bed", "width"], "remove": true, }),
        json!({ "at": ["bed", "length", "at"], "typed": "1" }),
        json!({ "at": ["bed", 0], "typed": "1" }),
        json!({ "at": ["gear", 0, "name"], "set": "x" }),
        json!({ "at": ["gear", 0], "remove": true }),
        json!({ "at": [], "set": 1 }),
    ] {
        let result = apply(text, &[edit(nowhere.clone())]);
        let removed_nothing = nowhere["at"] == json!(["bed", "width"]);
        assert!(
            matches!(result, Err(EditError::NoPlace(_))) != removed_nothing,
            "{nowhere}: {result:?}"
        );
    }
}

#[test]
fn a_list_may_be_written_as_rows_or_inline() {
    let inline = "gear = [\n  { name = \"a\" }, # first\n  { name = \"b\" },\n]\n";
    let rows = "[[gear]]\nname = \"a\" # first\n\n# about b\n[[gear]]\nname = \"b\"\n";
    for text in [inline, rows] {
        let named = done(text, json!({ "at": ["gear", 1, "name"], "set": "c" }));
        assert_eq!(named, text.replace("\"b\"", "\"c\""));
        let names = |text: &str| -> Vec<Json> {
            let fields = fields(text).expect("TOML");
            fields["gear"].as_array().expect("rows").iter().map(|row| row["name"].clone()).collect()
        };
        let more =
            done(text, json!({ "at": ["gear"], "insert": [{ "name": "x" }, { "name": "y" }] }));
        assert_eq!(names(&more), ["a", "b", "x", "y"]);
        let more = done(text, json!({ "at": ["gear", 0], "insert": { "name": "x" } }));
        assert_eq!(names(&more), ["x", "a", "b"]);
        let moved = done(text, json!({ "at": ["gear", 0], "move_to": 1 }));
        assert_eq!(names(&moved), ["b", "a"]);
        assert!(moved.contains("# first"), "{moved}");
        let less = done(text, json!({ "at": ["gear", 0], "remove": true }));
        assert_eq!(names(&less), ["b"]);
        let merged = done(text, json!({ "at": ["gear", 1], "set": { "count": 2, "name": null } }));
        assert_eq!(fields(&merged).expect("TOML")["gear"][1], json!({ "count": "2" }));
    }
    let less = done(rows, json!({ "at": ["gear", 1], "remove": true }));
    assert!(less.contains("# about b"), "comments above what goes stay: {less}");
}

#[test]
fn comments_above_what_is_removed_go_to_what_follows() {
    let text = "# head\n[a]\n# of x\nx = 1\n# of y\ny = 2\n\n# of b\n[b]\nz = 3\n";
    let less = done(text, json!({ "at": ["a", "x"], "remove": true }));
    assert_eq!(less, "# head\n[a]\n# of x\n# of y\ny = 2\n\n# of b\n[b]\nz = 3\n");
    let less = done(text, json!({ "at": ["a", "y"], "remove": true }));
    assert!(less.contains("# of y") && less.contains("# of b"), "{less}");
    let less = done(text, json!({ "at": ["b"], "remove": true }));
    assert_eq!(less.matches("# of b").count(), 1, "{less}");
}

#[test]
fn typical_values_are_marked_until_they_are_measured() {
    let text = "[bed]\nlength = 78 # typical, measure yours\nwidth = 66 # mine\n";
    let length = vec![Step::Key("bed".to_owned()), Step::Key("length".to_owned())];
    assert_eq!(to_measure(text), [length]);
    let measured = done(text, json!({ "at": ["bed", "length"], "typed": "79" }));
    assert_eq!(measured, "[bed]\nlength = 79\nwidth = 66 # mine\n");
    let measured = done(text, json!({ "at": ["bed", "length"], "measured": true }));
    assert_eq!(measured, "[bed]\nlength = 78\nwidth = 66 # mine\n");
    let row = json!({ "name": "Saw", "size": [16, 13, 9], "weight": 15 });
    let more = done(text, json!({ "at": ["gear"], "insert_typical": row }));
    assert_eq!(to_measure(&more).len(), 3, "{more}");
    let one = done(&more, json!({ "at": ["gear", 0, "size", 1], "typed": "12" }));
    assert_eq!(to_measure(&one).len(), 3, "the others of the three are typical still");
}

#[test]
fn all_of_several_changes_are_made_or_none() {
    let text = "a = 1\n";
    let good = edit(json!({ "at": ["a"], "set": 2 }));
    let bad = edit(json!({ "at": ["b", 0, "c"], "set": 2 }));
    assert!(apply(text, &[good.clone(), bad]).is_err());
    assert_eq!(apply(text, &[good]), Ok("a = 2\n".to_owned()));
    assert!(matches!(apply("a = = 1", &[]), Err(EditError::Syntax(_))));
}

#[test]
fn a_fault_is_at_the_field_that_it_is_of() {
    let text = "[bed]\nlength = { at = \"1/3\", tol = 1 }\nwidth = 60\n[[gear]]\nsize = [1, \"2 x\", 3]\nweight = 5\n";
    let faults = parse("t.toml", text).expect_err("faults");
    let places = Places::of(text);
    let paths: Vec<String> =
        faults.list.iter().map(|fault| shown(&places.path_of(fault))).collect();
    for wanted in ["bed.length.at", "gear[0].size[1]", "gear[0].name"] {
        assert!(paths.iter().any(|path| path == wanted), "{wanted} is none of {paths:?}");
    }
}

/// Every way to a value that is no table or list.
fn leaves(json: &Json, path: &mut Vec<Step>, found: &mut Vec<Vec<Step>>) {
    match json {
        Json::Object(table) => {
            for (key, inside) in table {
                path.push(Step::Key(key.clone()));
                leaves(inside, path, found);
                path.pop();
            }
        }
        Json::Array(list) => {
            for (row, inside) in list.iter().enumerate() {
                path.push(Step::Row(row));
                leaves(inside, path, found);
                path.pop();
            }
        }
        _ => found.push(path.clone()),
    }
}

fn comments(text: &str) -> Vec<&str> {
    // No demo has the sign in a text.
    text.lines().filter_map(|line| line.find('#').map(|at| line[at..].trim_end())).collect()
}

proptest! {
    /// Typing over any value of a demo changes that field and no other, and no comment.
    #[test]
    fn one_field_changes_and_nothing_else(demo in 0..3_usize, place in any::<prop::sample::Index>(), typed in "[0-9]{1,3}( [1-7]/8)?( in)?") {
        let text = DEMOS[demo];
        let before = fields(text).expect("TOML");
        let mut all = Vec::new();
        leaves(&before, &mut Vec::new(), &mut all);
        let at = place.get(&all).clone();
        let after = apply(text, &[Edit { at: at.clone(), change: Change::Typed(typed.clone()) }]);
        let after = after.expect("a value that is there");
        let mut wanted = before;
        let pointer: String = at.iter().map(|step| match step {
            Step::Row(row) => format!("/{row}"),
            Step::Key(key) => format!("/{}", key.replace('~', "~0").replace('/', "~1")),
        }).collect();
        // Leading zeros are no number of TOML: then it is a text, which shows alike.
        *wanted.pointer_mut(&pointer).expect("the place") = typed.into();
        prop_assert_eq!(fields(&after), Some(wanted));
        prop_assert_eq!(comments(&after), comments(text));
        prop_assert_eq!(after.lines().count(), text.lines().count());
    }

    /// Rows removed and moved at random keep every other row as it is, and every comment above a row.
    #[test]
    fn rows_that_stay_are_not_touched(demo in 0..3_usize, from in any::<prop::sample::Index>(), to in any::<prop::sample::Index>()) {
        let text = DEMOS[demo];
        let rows = |text: &str| fields(text).expect("TOML")["gear"].as_array().expect("rows").clone();
        let mut wanted = rows(text);
        let (from, to) = (from.index(wanted.len()), to.index(wanted.len()));
        let at = vec![Step::Key("gear".to_owned()), Step::Row(from)];
        let moved = apply(text, &[Edit { at: at.clone(), change: Change::MoveTo(to) }]).expect("moved");
        let row = wanted.remove(from);
        let less = apply(text, &[Edit { at, change: Change::Remove(true) }]).expect("removed");
        prop_assert_eq!(rows(&less), wanted.clone());
        wanted.insert(to, row);
        prop_assert_eq!(rows(&moved), wanted);
        let whole = |text: &str| -> Vec<String> {
            let mut all: Vec<String> =
                comments(text).into_iter().filter(|one| one.starts_with("# ---")).map(str::to_owned).collect();
            all.sort();
            all
        };
        prop_assert_eq!(whole(&less), whole(text));
        prop_assert_eq!(whole(&moved), whole(text));
        prop_assert!(parse("t.toml", &moved).is_ok());
    }
}
