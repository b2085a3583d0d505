//! Which fits hold if sizes are off, and designs that hold at worst case where that is demanded.

mod common;

use bedwright::app;
use bedwright::design::Design;
use bedwright::explore::fits::{FitOf, Holds, Source, Taped, fits, is_as_demanded, measure_first};
use bedwright::explore::{Settings, explore};
use bedwright::input::{Read, parse};
use bedwright::scenario::Demanded;
use bedwright::units::Length;
use bedwright::verify::verify;
use common::{on, small};

fn read(more: &str) -> Read {
    let text = small(&[]) + more;
    app::widened(parse("small.toml", &text).unwrap_or_else(|faults| panic!("{faults}")))
}

fn best(read: &Read) -> Design {
    let found = explore(&read.scenario, &Settings { threads: 1, ..Settings::default() }, &|_| {});
    let best = found.ranked.into_iter().next().expect("it has a design").design;
    verify(&read.scenario, best).unwrap_or_else(|rejected| panic!("{rejected}")).into_inner()
}

#[test]
fn each_fit_has_the_margin_that_is_drawn() {
    let read = read("");
    let (scenario, design) = (&read.scenario, best(&read));
    let all = fits(scenario, &design);
    let margin = |of: FitOf| {
        all.iter().find(|fit| fit.of == of).map(|fit| fit.stack.margin).expect("it is listed")
    };
    let carcass = &design.chest.carcass;
    assert_eq!(margin(FitOf::Across(0)), Length::INCH * 50 - carcass.tiers[0].width);
    assert_eq!(margin(FitOf::Under), Length::INCH * 20 - carcass.top_z);
    assert_eq!(margin(FitOf::DrawersAcross(0)), scenario.allowances.side_gap * 2);
    let drawer = &design.drawers[0];
    let above = drawer.opening.far().z - drawer.outside.far().z;
    assert_eq!(margin(FitOf::DrawersUnder(0)), above);
    for fit in &all {
        assert!(fit.stack.worst() >= fit.stack.root_sum_square(), "{fit:?}");
        assert!(!fit.stack.deviations.is_empty(), "{fit:?}");
    }
}

#[test]
fn a_reading_that_is_known_better_makes_a_fit_surer() {
    let off = |more: &[(&str, &str)]| {
        let parsed = parse("small.toml", &small(more)).expect("it is sound");
        let design = best(&parsed);
        let all = fits(&parsed.scenario, &design);
        let across = all.into_iter().find(|fit| fit.of == FitOf::Across(0)).expect("it is listed");
        let tape = Source::Tape(Taped::BetweenWells);
        let found = across.stack.deviations.iter().find(|one| one.from == tape);
        (found.expect("it hangs on the tape").by, across.stack.holds())
    };
    // The chest is as wide as a sheet, 48 in: a bed of 50 in leaves it two.
    let rough = [("between_wells = 50", "between_wells = \"50 ± 3\"")];
    assert_eq!(off(&rough), (Length::inches(3, 1), Holds::No));
    let fine = [("between_wells = 50", "between_wells = \"50 ± 1/32\"")];
    assert_eq!(off(&fine), (Length::inches(1, 32), Holds::WorstCase));
    let said = on("explore", small(&rough), &["-q"]);
    let said = said.expect(0, &["not even on average: tier A in the bed's width"]);
    assert!(
        said.all.contains("Measure again first: the width between the wheel wells"),
        "{}",
        said.all
    );
}

#[test]
fn what_is_demanded_is_designed_for() {
    let loose = read("");
    let before = fits(&loose.scenario, &best(&loose));
    assert!(before.iter().any(|fit| fit.stack.holds() != Holds::WorstCase), "{before:?}");
    for (word, level) in [("average", Holds::Average), ("worst-case", Holds::WorstCase)] {
        let tight = read(&format!("\n[tolerance]\ndemand = \"{word}\"\n"));
        let design = best(&tight);
        for fit in fits(&tight.scenario, &design) {
            assert!(fit.stack.holds() >= level, "{word}: {fit:?}");
        }
        let padded = tight.defaults_used.iter().find(|used| used.key == "gear.padding");
        assert!(padded.is_some_and(|used| used.basis.contains("tolerance")), "{padded:?}");
        if level == Holds::WorstCase {
            assert_eq!(measure_first(&fits(&tight.scenario, &design)), None);
            assert!(tight.scenario.allowances.side_gap >= loose.scenario.allowances.side_gap);
        }
    }
}

#[test]
fn the_document_has_every_fit() {
    let said = on("explore", small(&[]), &["-q", "--json"]).expect(0, &[]);
    let document: serde_json::Value = serde_json::from_str(&said.out).expect("a document");
    let fits = &document["designs"][0]["fits"];
    let list = fits["list"].as_array().expect("a list");
    assert!(list.iter().any(|fit| fit["of"] == "chest in the bed's length"), "{fits}");
    assert!(list.iter().all(|fit| fit["worst_case"].as_f64() >= fit["root_sum_square"].as_f64()));
    assert!(fits["measure_first"].is_string());
    assert_eq!(document["scenario"]["tolerance"]["demand"], "nothing");
}

/// Two stack-ups that share no code say the same of one design, whatever is off and by how much.
#[test]
fn the_verifier_stacks_up_what_is_demanded_for_itself() {
    let read = read("");
    let design = best(&read);
    let (mut kept, mut refused) = (0, 0);
    for demanded in [Demanded::Average, Demanded::WorstCase] {
        for kind in 0..6 {
            for by in [0, 1, 2, 3, 4, 6, 8, 12, 16, 24, 40, 64] {
                let mut scenario = read.scenario.clone();
                let by = Length::inches(by, 64);
                let tolerance = &mut scenario.tolerance;
                tolerance.demanded = demanded;
                for (at, own) in [
                    &mut tolerance.tape,
                    &mut tolerance.saw,
                    &mut tolerance.sheet,
                    &mut tolerance.board,
                    &mut tolerance.gear,
                ]
                .into_iter()
                .enumerate()
                {
                    // One kind alone, then all of them.
                    *own = if kind == 5 || at == kind { by } else { Length::ZERO };
                }
                let held =
                    fits(&scenario, &design).iter().all(|fit| is_as_demanded(&scenario, fit));
                let found = verify(&scenario, design.clone());
                assert_eq!(found.is_ok(), held, "{demanded:?}, kind {kind}, {by:?}: {found:?}");
                if held { kept += 1 } else { refused += 1 }
            }
        }
    }
    assert!(kept > 20 && refused > 20, "{kept} kept, {refused} refused");
}
