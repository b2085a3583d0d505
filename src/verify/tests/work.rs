//! A good work plan passes; broken one way at a time, the replay names that fault.

use super::*;
use crate::build::work_plan;
use crate::design::work::{Saw, WorkPlan, Yield};

/// The faults of the good design's work plan after one change to it.
fn faults_after(saw: Saw, change: impl FnOnce(&mut WorkPlan)) -> Vec<WorkFault> {
    let scenario = good::scenario();
    let design = verify(&scenario, good::design(&scenario)).expect("the good design");
    let cutting = design.cutting.clone();
    let mut work = work_plan(&scenario, &design, cutting, 1, saw);
    change(&mut work);
    match verify_work(&scenario, &design, work) {
        Ok(_) => Vec::new(),
        Err(rejected) => {
            assert!(!rejected.faults.is_empty());
            rejected.faults
        }
    }
}

fn guided(change: impl FnOnce(&mut WorkPlan)) -> Vec<WorkFault> {
    faults_after(Saw::Guide, change)
}

/// The first sheet that is cut, and its first cut's place.
fn first_cut(work: &mut WorkPlan) -> &mut crate::design::work::SawCut {
    let sheets = &mut work.sawing.sheets;
    sheets.iter_mut().find_map(|sheet| sheet.cuts.first_mut()).expect("a sheet that is cut")
}

#[test]
fn both_orders_give_exactly_the_parts() {
    for saw in [Saw::Guide, Saw::Table] {
        assert_eq!(faults_after(saw, |_| {}), []);
    }
}

#[test]
fn a_setting_a_hair_off_is_found() {
    let faults = guided(|work| first_cut(work).setting += HAIR);
    assert!(!faults.is_empty());
    let faults = guided(|work| {
        let rip = work.sawing.boards.iter_mut().find_map(|board| board.cuts.first_mut());
        rip.expect("a board").setting += HAIR;
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::PartSize { .. })), "{faults:?}");
}

#[test]
fn cuts_out_of_order_meet_no_panel() {
    let faults = guided(|work| {
        let sheet = work.sawing.sheets.iter_mut().max_by_key(|sheet| sheet.cuts.len());
        sheet.expect("a sheet").cuts.reverse();
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::NoPanel { .. })), "{faults:?}");
}

#[test]
fn a_part_called_waste_is_missed() {
    let faults = guided(|work| {
        let cuts = work.sawing.sheets.iter_mut().flat_map(|sheet| &mut sheet.cuts);
        let mut near = cuts.map(|cut| &mut cut.near);
        *near.find(|near| matches!(near, Yield::Part(_))).expect("a part") = Yield::Waste;
    });
    let [WorkFault::Count { sawn, wanted, .. }] = faults[..] else { panic!("{faults:?}") };
    assert_eq!(sawn + 1, wanted);
}

#[test]
fn a_panel_left_on_the_bench_is_named() {
    let faults = guided(|work| {
        let sheet = work.sawing.sheets.iter_mut().max_by_key(|sheet| sheet.cuts.len());
        sheet.expect("a sheet").cuts.pop();
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::LeftOver { .. })), "{faults:?}");
}

#[test]
fn set_ups_kerf_rips_and_sets_are_counted_again() {
    let faults = guided(|work| work.sawing.sheets[0].setups += 1);
    assert!(matches!(faults[..], [WorkFault::Setups { layout: 0, .. }]), "{faults:?}");
    let faults = guided(|work| work.cutting.kerf += HAIR);
    assert!(matches!(faults[..], [WorkFault::Kerf { .. }]), "{faults:?}");
    let faults = guided(|work| work.sets = 2);
    assert!(faults.iter().all(|fault| matches!(
        fault,
        WorkFault::Count { .. } | WorkFault::Rip { .. } | WorkFault::Diagonal { .. }
    )));
    assert!(!faults.is_empty());
    let faults = guided(|work| work.sawing.diagonals.clear());
    assert!(faults.iter().all(|fault| matches!(fault, WorkFault::Diagonal { .. })), "{faults:?}");
    let faults = guided(|work| {
        work.sawing.sheets.pop();
    });
    assert!(matches!(faults[0], WorkFault::Lists { .. }), "{faults:?}");
    for fault in faults {
        assert_ne!(fault.to_string(), format!("{fault:?}"), "a sentence, not the variant");
    }
}
