//! What is on hand, limited stock and what it yields.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::*;

#[test]
fn what_is_on_hand_and_offcuts_go_first() {
    let only = |stock: &str| {
        format!(
            "units = \"mm\"\n[shop]\nkerf = 3\n{stock}\n[[part]]\nname = \"P\"\nmaterial = \"ply\"\nsize = [900, 600]\ncount = 4\n"
        )
    };
    let sheet = "[[sheet]]\nname = \"ply\"\nsize = [1220, 610]\nprice = 10\non_hand = 1";
    assert_eq!(cost(&only(sheet)).0, Money::ONE * 30);
    let offcut = format!("{sheet}\n[[offcut]]\nof = \"ply\"\nsize = [910, 600]\ncount = 2");
    assert_eq!(cost(&only(&offcut)), (Money::ONE * 10, Money::ONE * 10));
}

/// Pieces of cgcut1 (Christofides & Whitlock, Oper. Res. 25:30-44, 1977): two sides, worth, copies.
const CGCUT1: [[i64; 4]; 7] = [
    [8, 4, 66, 2],
    [3, 7, 35, 1],
    [8, 2, 24, 3],
    [3, 4, 17, 5],
    [3, 3, 11, 2],
    [3, 2, 8, 2],
    [2, 1, 2, 1],
];

/// Stock of one sheet of 15 x 10 and no more, and its pieces.
fn one_sheet(more: &str) -> String {
    let mut text = "units = \"mm\"\n[shop]\nkerf = 0\n[[sheet]]\nname = \"rest\"\nsize = [15, 10]\nmost = 0\non_hand = 1\n"
        .to_owned();
    for [length, width, worth, count] in CGCUT1 {
        text.push_str(&format!(
            "[[part]]\nname = \"{length}x{width}\"\nsize = [{length}, {width}]\nworth = {worth}\ncount = {count}\n{more}"
        ));
    }
    text
}

#[track_caller]
fn worth(text: &str) -> (i64, i64) {
    let run = job_on(text, 20_000_000, 1);
    match &run.found {
        Found::Plan { plan, .. } => (plan.worth_milli(&run.read.job), plan.worth_bound_milli),
        other => panic!("no plan: {other:?}"),
    }
}

#[test]
fn limited_stock_yields_the_most_worth() {
    // 244 is published; 260 with turning is also what enumeration of all counts finds.
    assert_eq!(worth(&one_sheet("")), (244_000, 244_000));
    assert_eq!(worth(&one_sheet("turn = true\n")), (260_000, 260_000));
    // What has to be cut is, whatever it costs in worth.
    let must = one_sheet("").replace("worth = 2\n", "");
    let run = job_on(&must, 20_000_000, 1);
    let Found::Plan { plan, .. } = &run.found else { panic!("{:?}", run.found) };
    assert!(plan.left_out.iter().all(|(part, _)| part.0 != 6), "{:?}", plan.left_out);
    assert!(plan.worth_milli(&run.read.job) <= 242_000);
    assert!(run.page().to_string().contains("Left out"));
    let document = json(&run.document().expect("a document"));
    assert_eq!(document["outcome"]["of"], "worth");
    // Enough stock: nothing is left out, and the cost is what is sought.
    let enough = one_sheet("").replace("on_hand = 1", "on_hand = 9");
    let document = json(&job(&enough).document().expect("a document"));
    assert_eq!(document["outcome"]["of"], "cost");
    assert_eq!(document["left_out"].as_array().map(Vec::len), Some(0));
}

/// The least cost of cutting board parts, by trying every board for every part.
fn brute(lengths: &[(i64, i64, Option<u32>)], kerf: i64, parts: &[i64]) -> Option<i64> {
    fn go(
        lengths: &[(i64, i64, Option<u32>)],
        kerf: i64,
        parts: &[i64],
        open: &mut Vec<i64>,
        left: &mut Vec<Option<u32>>,
        cost: i64,
        best: &mut Option<i64>,
    ) {
        if best.is_some_and(|best| cost >= best) {
            return;
        }
        let Some((&part, rest)) = parts.split_first() else {
            *best = Some(cost);
            return;
        };
        for bar in 0..open.len() {
            if open[bar] >= part {
                let before = open[bar];
                open[bar] -= part + kerf;
                go(lengths, kerf, rest, open, left, cost, best);
                open[bar] = before;
            }
        }
        for (kind, &(length, price, _)) in lengths.iter().enumerate() {
            if length >= part && left[kind] != Some(0) {
                let before = left[kind];
                left[kind] = before.map(|n| n - 1);
                open.push(length - part - kerf);
                go(lengths, kerf, rest, open, left, cost + price, best);
                open.pop();
                left[kind] = before;
            }
        }
    }
    let mut left: Vec<Option<u32>> = lengths.iter().map(|l| l.2).collect();
    let mut best = None;
    go(lengths, kerf, parts, &mut Vec::new(), &mut left, 0, &mut best);
    best
}

/// A part that fits only what is on hand and not sold: it is still said how much of that is lacking.
#[test]
fn a_shortage_of_what_is_not_sold_is_said_too() {
    let toml = "units = \"mm\"\n[shop]\nkerf = 0\n[[board]]\nname = \"b\"\nsection = [9, 9]\n\
                lengths = { 20 = { price = 1 }, 24 = { price = 1, on_hand = 1, most = 0 } }\n\
                [[part]]\nname = \"p\"\nlength = 21\ncount = 2\n";
    let Found::Short(lacks) = &job(toml).found else { panic!("one of 24 yields one of 21") };
    assert_eq!((lacks[0].more.len(), lacks[0].more[0].1, lacks[0].proved), (1, 1, true));
}

proptest! {
    // The same cases on every machine; more of them by raising the number and letting the seed be drawn.
    #![proptest_config(ProptestConfig { cases: 60, rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::default() })]

    /// Boards on hand, limited and bought: the proved cost is the least there is, and a shortage is one.
    #[test]
    fn boards_cost_the_least_that_trying_everything_finds(
        kerf in 0_i64..4,
        stock in prop::collection::vec((20_i64..60, 1_i64..9, 0_u32..2, prop::option::of(0_u32..3)), 1..3),
        parts in prop::collection::vec(5_i64..25, 1..6),
    ) {
        let mut stock = stock;
        stock.sort_unstable();
        stock.dedup_by_key(|s| s.0);
        let longest = stock.iter().filter(|s| s.2 > 0 || s.3 != Some(0)).map(|s| s.0).max();
        prop_assume!(longest.is_some_and(|longest| parts.iter().all(|part| *part <= longest)));
        let lengths: Vec<String> = stock.iter().map(|(length, price, on_hand, most)| {
            let most = most.map_or(String::new(), |most| format!(", most = {most}"));
            format!("{length} = {{ price = {price}, on_hand = {on_hand}{most} }}")
        }).collect();
        let mut toml = format!(
            "units = \"mm\"\n[shop]\nkerf = {kerf}\n[[board]]\nname = \"b\"\nsection = [9, 9]\nlengths = {{ {} }}\n",
            lengths.join(", ")
        );
        for part in &parts {
            toml.push_str(&format!("[[part]]\nname = \"p\"\nlength = {part}\n"));
        }
        let kinds: Vec<(i64, i64, Option<u32>)> = stock.iter().flat_map(|&(length, price, on_hand, most)| {
            [(length, 0, Some(on_hand)), (length, price, most)]
        }).collect();
        let least = brute(&kinds, kerf, &parts);
        match (&job(&toml).found, least) {
            (Found::Plan { plan, .. }, Some(least)) => {
                prop_assert!(plan.cutting.proved);
                prop_assert_eq!(plan.cost(), Money::ONE * least);
            }
            (Found::Short(lacks), None) => prop_assert!(lacks[0].proved && !lacks[0].more.is_empty()),
            (found, least) => prop_assert!(false, "{found:?} against {least:?}"),
        }
    }

    /// Boards and parts with worths: the most worth of any subset that they hold.
    #[test]
    fn boards_yield_the_most_that_any_subset_is_worth(
        kerf in 0_i64..4,
        length in 30_i64..90,
        boards in 1_i64..3,
        parts in prop::collection::vec((5_i64..30, 1_i64..20), 1..9),
    ) {
        let mut toml = format!(
            "units = \"mm\"\n[shop]\nkerf = {kerf}\n[[board]]\nname = \"b\"\nsection = [9, 9]\n\
             lengths = {{ {length} = {{ price = 1, most = 0, on_hand = {boards} }} }}\n"
        );
        for (length, worth) in &parts {
            toml.push_str(&format!("[[part]]\nname = \"p\"\nlength = {length}\nworth = {worth}\n"));
        }
        // The most worth of each set of parts on one board, then on two.
        let one: Vec<i64> = (0..1_usize << parts.len())
            .map(|chosen| {
                let of = parts.iter().enumerate().filter(|(i, _)| chosen >> i & 1 == 1);
                let (long, worth) = of.fold((0, 0), |(l, w), (_, part)| (l + part.0 + kerf, w + part.1));
                if long <= length + kerf { worth } else { 0 }
            })
            .collect();
        let two = |a: usize| (0..one.len()).filter(move |b| boards == 2 && a & b == 0).map(|b| one[b]).max();
        let best = (0..one.len()).map(|a| one[a] + two(a).unwrap_or(0)).max().expect("the empty set");
        prop_assert_eq!(worth(&toml), (best * 1000, best * 1000));
    }
}
