//! Whatever the bytes, nothing panics, and every fault has a place in the text.

use std::io::Write as _;
use std::time::Instant;

use proptest::prelude::*;

use super::super::{Look, parse, read};
use super::SMALL;
use super::demos::demos;

/// Reads `text`, renders its faults, and checks their places.
fn survives(text: &str) {
    let Err(faults) = parse("fuzz.toml", text) else { return };
    assert!(!faults.list.is_empty());
    let places = faults.list.iter().flat_map(|fault| {
        fault.span.iter().chain(fault.also.iter().map(|(span, _)| span)).cloned()
    });
    for span in places {
        assert!(text.get(span.clone()).is_some(), "{span:?} is a part of the text");
    }
    assert!(!faults.to_string().is_empty());
    assert!(!faults.render(Look { colour: true, width: 80 }).is_empty());
}

/// A text with a few of its bytes changed, dropped or doubled.
fn mutated(text: String) -> impl Strategy<Value = String> {
    let length = text.len();
    let change = (
        0..length,
        prop_oneof![
            any::<char>().prop_map(|c| c.to_string()),
            prop::sample::select(vec![
                "\"", "[", "]", "{", "}", "=", "\n", "-", "0", "9e9", "'", ",", "#", "½"
            ])
            .prop_map(str::to_owned),
            Just(String::new()),
        ],
        0..20_usize,
    );
    prop::collection::vec(change, 1..8).prop_map(move |changes| {
        let mut text = text.clone();
        for (place, new, gone) in changes {
            let floor = |mut place: usize| {
                place = place.min(text.len());
                while !text.is_char_boundary(place) {
                    place -= 1;
                }
                place
            };
            let (start, end) = (floor(place), floor(place + gone));
            text.replace_range(start..end, &new);
        }
        text
    })
}

fn demo_texts() -> impl Strategy<Value = String> {
    let texts: Vec<String> = demos().into_iter().map(|(_, text)| text).collect();
    prop::sample::select(texts)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_text_panics(text in any::<String>()) {
        survives(&text);
    }

    #[test]
    fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..500)) {
        let mut file = tempfile::NamedTempFile::new().expect("a file for the test");
        file.write_all(&bytes).expect("room for it");
        prop_assert!(read(file.path()).is_err(), "noise is no scenario");
    }

    #[test]
    fn no_mutated_demo_panics(text in demo_texts().prop_flat_map(mutated)) {
        survives(&text);
    }

    #[test]
    fn no_mutated_small_scenario_panics(text in mutated(SMALL.to_owned())) {
        survives(&text);
    }

    #[test]
    fn no_value_panics_anywhere(
        line in 0..60_usize,
        value in prop::sample::select(vec![
            "0", "-1", "1e18", "99999999999999999999", "true", "[]", "[[]]", "{}", "\"\"", "\"1/3\"",
            "nan", "inf", "-inf", "0xffffffffffffffff", "1979-05-27", "\"9999999 m\"", "[1, 2, 3, 4]",
        ]),
    ) {
        let mut lines: Vec<String> = SMALL.lines().map(str::to_owned).collect();
        if let Some((key, _)) = lines.get(line).and_then(|line| line.split_once(" = ")) {
            lines[line] = format!("{key} = {value}");
        }
        survives(&lines.join("\n"));
    }
}

#[test]
fn no_truncated_demo_panics() {
    for (_, text) in demos() {
        let step = text.len() / 150;
        for end in (0..text.len()).step_by(step.max(1)) {
            if text.is_char_boundary(end) {
                survives(&text[..end]);
            }
        }
    }
}

#[test]
fn deep_nesting_and_long_lines_are_refused_in_time() {
    let start = Instant::now();
    survives(&"[".repeat(100_000));
    survives(&format!("a = {}", "[".repeat(100_000)));
    survives(&format!("a = {}1", "{ a = ".repeat(50_000)));
    survives(&format!("{} = 1", vec!["a"; 50_000].join(".")));
    survives(&format!("title = \"{}\"", "x".repeat(1_000_000)));
    survives(&"x = 1\n".repeat(20_000));
    let many: String = (0..20_000).map(|n| format!("k{n} = 1\n")).collect();
    survives(&many);
    let gear = "[[gear]]\nnam = 'x'\n".repeat(20_000);
    survives(&gear);
    // Generous: it takes about a second. What is guarded against is time that grows as the square.
    assert!(start.elapsed().as_secs() < 60, "took {:?}", start.elapsed());
}
