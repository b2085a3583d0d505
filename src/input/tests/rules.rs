//! What is refused, rule by rule.

use super::super::Code::{
    Contradiction, Duplicate, Impossible, NoStock, OutOfRange, TooLarge, UnknownName,
};
use super::{SMALL, faults, good, only, small_with};

/// `only`, on the small scenario with one text replaced; returns the message.
fn refused(old: &str, new: &str, code: super::Code, pointed: &str) -> String {
    only(&small_with(old, new), code, pointed).message
}

#[test]
fn wells_wider_than_the_bed() {
    let text = small_with("between_wells = 50", "between_wells = 66");
    let fault = only(&text, Impossible, "66");
    assert_eq!(fault.message, "the wells cannot be 66 in apart in a bed 65 in wide");
    assert_eq!(&text[fault.also[0].0.clone()], "65", "the other measurement is shown too");
}

#[test]
fn wells_beyond_the_bed() {
    let message = refused(
        "from_tailgate = 20, length = 36",
        "from_tailgate = 20, length = 60",
        Impossible,
        "60",
    );
    assert!(message.contains("80 in") && message.contains("2 in beyond"), "{message}");
    refused("from_tailgate = 20", "from_tailgate = -1", OutOfRange, "-1");
    let message = refused("height = 9 }", "height = 22 }", Impossible, "22");
    assert!(message.contains("20 in"), "{message}");
}

#[test]
fn a_tailgate_higher_than_the_rail() {
    let message = refused("rise = 0.5", "rise = 21", Impossible, "21");
    assert!(message.contains("21 in above the floor of a bed 21 in deep"), "{message}");
    refused("rise = 0.5", "rise = 0.5, slope_deg = 31", OutOfRange, "31");
}

#[test]
fn an_item_larger_than_the_bed_says_by_how_much() {
    let message = refused("size = [18, 12, 5]", "size = [80.5, 12, 5]", TooLarge, "[80.5, 12, 5]");
    assert_eq!(message, "`Saw case` is larger than the bed: at best 2 1/2 in too long");
    let message = refused("size = [18, 12, 5]", "size = [18, 12, 24]", TooLarge, "[18, 12, 24]");
    assert_eq!(message, "`Saw case` is larger than the bed: at best 4 in too high");
    // It may lie down.
    good(&small_with("size = [18, 12, 5]", "size = [18, 12, 24]\nturn = \"any\""));
    let message = refused("size = [18, 12, 5]", "size = [70, 66, 5]", TooLarge, "[70, 66, 5]");
    assert!(message.ends_with("1 in too wide"), "spun it would be 5 in too wide: {message}");
    let message = refused("volume = 2", "volume = \"400 cu ft\"", TooLarge, "\"400 cu ft\"");
    assert!(message.starts_with("`Rags` takes 400 cu ft"), "{message}");
}

#[test]
fn sizes_prices_and_counts_of_nothing_or_less() {
    refused("length = 78", "length = 0", OutOfRange, "0");
    refused("width = 65", "width = -65", OutOfRange, "-65");
    refused("size = [14, 11, 4.5]", "size = [14, 0, 4.5]", OutOfRange, "0");
    refused("weight = 9", "weight = -9", OutOfRange, "-9");
    refused("volume = 2", "volume = 0", OutOfRange, "0");
    assert_eq!(
        refused("price = 50", "price = -50", OutOfRange, "-50"),
        "`price` must not be negative, and is -50.00"
    );
    refused("worth = 4", "worth = -4", OutOfRange, "-4");
    refused("worth = 4", "worth = 4\nuse = -1", OutOfRange, "-1");
    refused("worth = 4", "worth = 4\ncount = 0", OutOfRange, "0");
    refused("kerf = \"1/8\"", "kerf = -1", OutOfRange, "-1");
    refused("kerf = \"1/8\"", "step = 0", OutOfRange, "0");
}

#[test]
fn a_count_of_a_million() {
    let message = refused("worth = 4", "worth = 4\ncount = 1000000", OutOfRange, "1000000");
    assert_eq!(message, "`count` must be from 1 to 1000, and is 1000000");
    refused(
        "worth = 4",
        "worth = 4\ncount = 99999999999999999999",
        OutOfRange,
        "99999999999999999999",
    );
    let more = (0..6)
        .map(|n| format!("[[gear]]\nname = 'n{n}'\nsize = [1, 1, 1]\nweight = 1\ncount = 1000\n"));
    let text = format!("{SMALL}\n{}", more.collect::<String>());
    assert!(only(&text, OutOfRange, "[[gear]]").message.contains("more than 5000"));
}

#[test]
fn five_hundred_kinds_of_gear() {
    let kind = |n| format!("[[gear]]\nname = 'n{n}'\nsize = [1, 1, 1]\nweight = 1\n");
    let with = |more: usize| format!("{SMALL}\n{}", (0..more).map(kind).collect::<String>());
    good(&with(497));
    assert!(only(&with(498), OutOfRange, "[[loose]]").message.starts_with("501 kinds"));
}

#[test]
fn lengths_beyond_reason() {
    refused("length = 78", "length = \"101 m\"", OutOfRange, "\"101 m\"");
    let text = small_with("length = 78", "length = 9e99");
    assert_eq!(faults(&text)[0].0.code, super::Code::Unreadable);
    refused("length = 78", "length = { at = 78, tol = 78 }", OutOfRange, "{ at = 78, tol = 78 }");
    refused("length = 78", "length = { at = 78, tol = -1 }", OutOfRange, "{ at = 78, tol = -1 }");
}

#[test]
fn names_are_borne_once() {
    let text = small_with("\"Drill case\"", "\"Saw case\"");
    let fault = only(&text, Duplicate, "\"Saw case\"");
    let first = &fault.also[0].0;
    assert!(first.start < fault.span.clone().expect("a place").start, "both places are shown");
    refused("\"Rags\"", "\"Saw case\"", Duplicate, "\"Saw case\"");
    refused("name = \"ply 1/2\"", "name = \"ply 3/4\"\nmaterial = \"x\"", Duplicate, "\"ply 3/4\"");
    let text = small_with("name = \"ply 1/2\"", "name = \"a\"\nmaterial = \"2x8\"");
    only(&text, Duplicate, "\"2x8\"");
    let text = small_with("{ \"8 ft\" = 10 }", "{ \"8 ft\" = 10, \"96 in\" = 11 }");
    assert_eq!(only(&text, Duplicate, "\"96 in\"").message, "`2x8` has two prices for one length");
}

#[test]
fn names_are_one_line() {
    refused("\"Rags\"", "\"\"", OutOfRange, "\"\"");
    refused("\"Rags\"", "\"a\\nb\"", OutOfRange, "\"a\\nb\"");
    let long = format!("\"{}\"", "x".repeat(101));
    refused("\"Rags\"", &long, OutOfRange, &long);
}

#[test]
fn a_kerf_wider_than_the_stock() {
    let text = small_with("kerf = \"1/8\"", "kerf = 7.25");
    let fault = only(&text, Impossible, "7.25");
    assert!(fault.message.contains("wider than `2x8`"), "{}", fault.message);
}

#[test]
fn a_board_section_the_wrong_way_round() {
    let text = small_with("[1.5, 7.25]", "[7.25, 1.5]");
    let fault = only(&text, Contradiction, "[7.25, 1.5]");
    assert_eq!(fault.help.as_deref(), Some("write `section = [\"1 1/2\", \"7 1/4\"]`"));
}

#[test]
fn must_and_worth_together() {
    let text = small_with("must = true", "must = true\nworth = 3");
    let fault = only(&text, Contradiction, "3");
    assert_eq!(&text[fault.also[0].0.clone()], "true");
    good(&small_with("must = true", "must = false\nworth = 3"));
}

#[test]
fn sheets_of_one_material_agree_in_thickness() {
    let text = small_with("name = \"ply 1/2\"", "name = \"half\"\nmaterial = \"ply 3/4\"");
    let fault = only(&text, Contradiction, "\"15/32\"");
    assert_eq!(&text[fault.also[0].0.clone()], "\"23/32\"");
}

#[test]
fn rating_and_modulus_together() {
    let new = "thickness = \"15/32\"\npanel = \"32/16\"\nmodulus = \"1e6 psi\"";
    refused("thickness = \"15/32\"", new, Contradiction, "\"1e6 psi\"");
}

#[test]
fn a_bed_too_short_for_its_handles() {
    let text = small_with("length = 78", "length = 3")
        .replace("wells = { from_tailgate = 20, length = 36, height = 9 }\n", "")
        .replace("between_wells = 50\n", "")
        .replace("size = [18, 12, 5]", "size = [2, 12, 5]")
        .replace("size = [14, 11, 4.5]", "size = [2, 11, 4.5]");
    let fault = only(&text, Impossible, "3");
    assert!(fault.message.contains("too short for its handles"), "{}", fault.message);
}

#[test]
fn materials_by_names_that_nothing_bears() {
    let chest = |line: &str| format!("{SMALL}\n[chest]\n{line}\n");
    let fault = only(&chest("deck = \"ply 3/5\""), UnknownName, "\"ply 3/5\"");
    assert_eq!(fault.help.as_deref(), Some("did you mean \"ply 3/4\"?"));
    only(&chest("deck = [\"2x8\"]"), Contradiction, "\"2x8\"");
    only(&chest("corner_blocks = \"ply 1/2\""), Contradiction, "\"ply 1/2\"");
    only(&chest("members = []"), OutOfRange, "[]");
    only(&chest("members = [\"2x8\", \"2x8\"]"), Duplicate, "\"2x8\"");
    only(&chest("tiers = [0]"), OutOfRange, "0");
    only(&chest("columns = [1, 5]"), OutOfRange, "5");
    only(&chest("divider_percent = 101"), OutOfRange, "101");
    only(&chest("runs_on = \"slides\""), NoStock, "\"slides\"");
    let text = format!("{SMALL}\n[[offcut]]\nof = \"ply 1/3\"\nsize = [10, 10]\n");
    only(&text, UnknownName, "\"ply 1/3\"");
    let text = format!("{SMALL}\n[[offcut]]\nof = \"2x8\"\nsize = [10, 10]\n");
    only(&text, Contradiction, "[[offcut]]");
}

#[test]
fn a_fault_in_the_stock_makes_no_names_unknown() {
    let text = small_with("thickness = \"23/32\"", "thickness = \"23/0\"");
    only(&format!("{text}\n[chest]\ndeck = \"ply 3/4\"\n"), super::Code::Unreadable, "0");
}

#[test]
fn no_stock_that_can_be_a_member() {
    let text = small_with("thickness = \"23/32\"", "thickness = \"1/2\"")
        .replace("[1.5, 7.25]", "[0.75, 7.25]");
    let fault = only(&text, NoStock, "");
    assert_eq!(fault.message, "nothing in the stock can be a member");
    assert!(fault.help.is_some_and(|help| help.contains("members = [")));
    let none = SMALL.split("[[sheet]]").next().expect("the part before the stock");
    let messages: Vec<String> = faults(none).into_iter().map(|(fault, _)| fault.message).collect();
    for part in ["a member", "a bottom panel", "a deck", "a drawer side", "a divider"] {
        assert!(messages.contains(&format!("nothing in the stock can be {part}")), "{messages:?}");
    }
}

#[test]
fn aims_that_aim_at_nothing() {
    let aims = |lines: &str| format!("{SMALL}\n[aims]\n{lines}\n");
    only(&aims("cost = -1"), OutOfRange, "-1");
    only(&aims("cost = 0\nvalue = 0"), Contradiction, "0");
    only(&aims("limits = { pull = 0 }"), OutOfRange, "0");
    only(&aims("limits = { cost = -5 }"), OutOfRange, "-5");
}

#[test]
fn strips_wider_than_their_piece_and_two_ways_of_selling() {
    refused("length = \"8 ft\"", "rip = { across = 1, along = 48, width = 2 }", Impossible, "2");
    refused("length = \"8 ft\"", "length = \"8 ft\"\npack = 2", Contradiction, "\"8 ft\"");
}

#[test]
fn a_pickup_without_a_tailgate_is_noted() {
    let read = good(&small_with("tailgate = { rise = 0.5, length = 21 }\n", ""));
    assert_eq!(read.warnings.len(), 1);
    assert!(read.warnings[0].message.contains("no tailgate"));
    assert_eq!(good(SMALL).warnings, []);
}
