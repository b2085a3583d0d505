//! Fits that are demanded and do not hold.

use super::*;
use crate::scenario::Demanded;
use crate::scenario::fixture::inches;

/// The fits named as unsure when one kind of size is off by a lot, or nothing is.
fn unsure(change: impl FnOnce(&mut Scenario)) -> Vec<String> {
    let faults = faults_after(|scenario, _| {
        let tolerance = &mut scenario.tolerance;
        tolerance.demanded = Demanded::WorstCase;
        for own in [
            &mut tolerance.tape,
            &mut tolerance.saw,
            &mut tolerance.sheet,
            &mut tolerance.board,
            &mut tolerance.gear,
        ] {
            *own = Length::ZERO;
        }
        scenario.engineering.moisture = [10.0, 10.0];
        change(scenario);
    });
    let named = faults.into_iter().filter_map(|fault| match &fault {
        Fault::NotSure { fit, .. } => {
            assert!(fault.to_string().contains("may be off"), "{fault}");
            Some(fit.clone())
        }
        _ => None,
    });
    named.collect()
}

#[test]
fn exact_sizes_fit_whatever_is_demanded() {
    assert_eq!(unsure(|_| {}), [""; 0]);
}

#[test]
fn each_kind_of_size_that_is_off_spoils_what_hangs_on_it() {
    let has = |named: &[String], what: &str| {
        assert!(named.iter().any(|fit| fit.contains(what)), "{what} is not among {named:?}");
    };
    let tape = unsure(|scenario| scenario.tolerance.tape = inches(5));
    for what in ["tier 0 in between the wells", "along the bed", "under the clear height"] {
        has(&tape, what);
    }
    has(&tape, "over the open tailgate");
    assert!(!tape.iter().any(|fit| fit.contains("drawer A1")), "{tape:?}");
    let saw = unsure(|scenario| scenario.tolerance.saw = inches(5));
    has(&saw, "drawer A1 between its members");
    has(&saw, "the fronts of A1 and A2");
    let board = unsure(|scenario| scenario.tolerance.board = inches(5));
    has(&board, "drawer A1 under what is over it");
    has(&board, "the front of B2 under what is over it");
    let gear = unsure(|scenario| scenario.tolerance.gear = inches(20));
    has(&gear, "what stands side by side in");
    has(&gear, "what stands one behind the other in");
    let seasons = unsure(|scenario| scenario.engineering.moisture = [0.0, 400.0]);
    has(&seasons, "under what is over it");
}

#[test]
fn nothing_is_asked_where_nothing_is_demanded() {
    let named = unsure(|scenario| {
        scenario.tolerance.tape = inches(5);
        scenario.tolerance.demanded = Demanded::Nothing;
    });
    assert_eq!(named, [""; 0]);
}
