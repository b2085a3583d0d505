//! A good work plan passes; broken one way at a time, the replay names that fault.

use super::*;
use crate::build::work_plan;
use crate::design::Need;
use crate::design::work::{HoleKind, Row, Saw, StepKind, WorkPlan, Yield};
use crate::scenario::HardwareUse;
use crate::units::Money;

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
    assert!(
        faults.iter().any(|fault| matches!(fault, WorkFault::Of(Fault::PieceSize { .. }))),
        "{faults:?}"
    );
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
    assert!(matches!(faults[..], [WorkFault::Of(Fault::Kerf { .. })]), "{faults:?}");
    let faults = guided(|work| work.sets = 2);
    assert!(faults.iter().all(|fault| matches!(
        fault,
        WorkFault::Count { .. }
            | WorkFault::Rip { .. }
            | WorkFault::Diagonal { .. }
            | WorkFault::Hardware { .. }
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

#[test]
fn what_is_bought_for_all_sets_is_counted_again() {
    let faults = guided(|work| work.purchases[0].quantity += 1);
    assert!(
        faults.iter().any(|fault| matches!(fault, WorkFault::Of(Fault::Bought { .. }))),
        "{faults:?}"
    );
    let faults = guided(|work| work.purchases[0].cost += Money::ONE);
    assert!(matches!(faults[..], [WorkFault::Of(Fault::Cost { .. })]), "{faults:?}");
    let faults = guided(|work| {
        let line = work.hardware.iter_mut().find(|line| line.use_ == HardwareUse::ChestScrew);
        line.expect("screws").need = Need::Count(1);
    });
    assert!(matches!(faults[..], [WorkFault::Hardware { .. }]), "{faults:?}");
    let faults = guided(|work| {
        work.purchases.pop();
    });
    assert!(matches!(faults[..], [WorkFault::Of(Fault::Bought { stated: 0, .. })]), "{faults:?}");
}

/// The first row of a kind, and its index.
fn row_of(work: &mut WorkPlan, kind: HoleKind) -> (usize, &mut Row) {
    let mut rows = work.rows.iter_mut().enumerate();
    rows.find(|(_, row)| row.kind == kind).expect("the good design has one")
}

#[test]
fn a_screw_beyond_the_edge_or_beside_what_it_holds_is_found() {
    let faults = guided(|work| row_of(work, HoleKind::Drawer).1.holes[0][0] = -HAIR);
    assert!(matches!(faults[..], [WorkFault::HoleEdge { .. }]), "{faults:?}");
    let faults = guided(|work| {
        // Beside the member, but still in the panel.
        let holes = &mut row_of(work, HoleKind::Chest).1.holes;
        holes.iter_mut().for_each(|hole| hole[1] += Length::inches(4, 1));
    });
    assert!(matches!(faults[..], [WorkFault::HoldsNothing { .. }]), "{faults:?}");
    let faults = guided(|work| {
        let holes = &mut row_of(work, HoleKind::Chest).1.holes;
        holes.remove(1);
    });
    assert!(matches!(faults[..], [WorkFault::Spacing { .. }]), "{faults:?}");
    let faults = guided(|work| {
        row_of(work, HoleKind::Front).1.holes.pop();
    });
    assert!(matches!(faults[..], [WorkFault::ScrewCount { .. }]), "{faults:?}");
}

#[test]
fn a_seam_without_screws_is_found() {
    let faults = guided(|work| {
        let at = row_of(work, HoleKind::Drawer).0;
        work.rows.remove(at);
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::NotHeld { .. })), "{faults:?}");
}

#[test]
fn pieces_and_rows_are_used_once() {
    let faults = guided(|work| {
        work.steps[0].pieces.pop();
    });
    assert!(matches!(faults[..], [WorkFault::PieceUsed { times: 0, .. }]), "{faults:?}");
    let faults = guided(|work| {
        let row = work.steps[0].rows[0];
        work.steps[1].rows.push(row);
    });
    assert!(matches!(faults[..], [WorkFault::RowUsed { times: 2, .. }]), "{faults:?}");
    let faults = guided(|work| {
        work.steps.last_mut().expect("steps").joins.clear();
    });
    assert!(matches!(faults[..], [WorkFault::StepJoined { times: 0, .. }]), "{faults:?}");
}

#[test]
fn screws_that_later_pieces_cover_are_out_of_reach() {
    // The deck's screws are driven with the deck on: the members' own, from below, still can be; but not a strip's under a
    // panel that is already closed.
    let faults = guided(|work| {
        let strip = work.steps.iter().position(|step| step.kind == StepKind::Runs(0));
        let shelf = work.steps.iter().position(|step| step.kind == StepKind::Shelf(1));
        let rows = std::mem::take(&mut work.steps[strip.expect("strips")].rows);
        work.steps[shelf.expect("a shelf")].rows.extend(rows);
    });
    assert_eq!(faults, [], "an opening is higher than a driver");
    let faults = guided(|work| {
        // The applied fronts first cover the screws through the front boards into the blocks.
        let block = work.steps.iter().position(|step| matches!(step.kind, StepKind::Blocks(_)));
        let fronts = work.steps.iter().position(|step| step.kind == StepKind::Fronts);
        let rows = std::mem::take(&mut work.steps[block.expect("blocks")].rows);
        work.steps[fronts.expect("fronts")].rows.extend(rows);
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::OutOfReach { .. })), "{faults:?}");
    let faults = guided(|work| {
        let deck = work.steps.iter().position(|step| step.kind == StepKind::Deck).expect("a deck");
        let rows = std::mem::take(&mut work.steps[deck].rows);
        work.steps[0].rows.extend(rows);
    });
    assert!(
        faults.iter().all(|fault| matches!(fault, WorkFault::NotThereYet { .. })),
        "{faults:?}"
    );
}
