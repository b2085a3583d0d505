//! The whole room: from text to scenario or faults.

mod defaults;
mod demos;
mod files;
mod fuzz;
mod rules;
mod shape;
mod shown;

use super::{Code, Fault, Read, parse};

/// A small scenario without fault, to be broken in one place by each test.
const SMALL: &str = r#"
units = "in"

[bed]
length = 78
width = 65
between_wells = 50
wells = { from_tailgate = 20, length = 36, height = 9 }
depth = 21
clear_height = 20
tailgate = { rise = 0.5, length = 21 }

[[gear]]
name = "Saw case"
size = [18, 12, 5]
weight = 11
must = true

[[gear]]
name = "Drill case"
size = [14, 11, 4.5]
weight = 9
worth = 4

[[loose]]
name = "Rags"
volume = 2

[[sheet]]
name = "ply 3/4"
size = [96, 48]
thickness = "23/32"
price = 50

[[sheet]]
name = "ply 1/2"
size = [96, 48]
thickness = "15/32"
price = 40

[[board]]
name = "2x8"
section = [1.5, 7.25]
lengths = { "8 ft" = 10 }

[[hardware]]
name = "Slick strip"
for = "strip"
length = "8 ft"
thickness = "1/16"
price = 12

[shop]
kerf = "1/8"
"#;

/// [`SMALL`] with one text replaced by another.
fn small_with(old: &str, new: &str) -> String {
    assert_eq!(SMALL.matches(old).count(), 1, "`{old}` stands once in the small scenario");
    SMALL.replace(old, new)
}

/// Reads what must be without fault.
fn good(text: &str) -> Read {
    parse("test.toml", text).unwrap_or_else(|faults| panic!("{faults}"))
}

/// The faults of what must have some, each with the text that it points at.
fn faults(text: &str) -> Vec<(Fault, String)> {
    let faults = parse("test.toml", text).expect_err("must be at fault");
    let pointed = |fault: &Fault| {
        let span = fault.span.clone().map(|span| text[span].to_owned());
        (fault.clone(), span.unwrap_or_default())
    };
    faults.list.iter().map(pointed).collect()
}

/// The one fault of `text`, which must be of `code` and point at `pointed`.
fn only(text: &str, code: Code, pointed: &str) -> Fault {
    let mut all = faults(text);
    assert_eq!(all.len(), 1, "{all:#?}");
    let (fault, at) = all.remove(0);
    assert_eq!((fault.code, at.as_str()), (code, pointed), "{fault:#?}");
    fault
}
