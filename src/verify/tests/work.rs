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

/// The faults of the good design with locks and with handles and locks that tell how they are let in, after one change.
fn let_in_after(change: impl FnOnce(&mut WorkPlan)) -> Vec<WorkFault> {
    let mut scenario = good::scenario();
    let handle =
        scenario.stock.hardware_for(HardwareUse::Handle).next().expect("handles").1.clone();
    let lock = crate::scenario::Hardware { name: "lock".into(), use_: HardwareUse::Lock, ..handle };
    scenario.stock.hardware.push(lock);
    for id in scenario.stock.hardware.ids() {
        let hardware = &mut scenario.stock.hardware[id];
        let (cut_out, screws) = match hardware.use_ {
            HardwareUse::Handle => ([127, 32], [146, 0]),
            HardwareUse::Lock => ([76, 44], [88, 0]),
            _ => continue,
        };
        let [cut_out, screws] = [cut_out, screws].map(|size| Some(size.map(Length::mm)));
        hardware.plate = crate::scenario::Plate { cut_out, screws };
    }
    let design = verify(&scenario, good::design(&scenario)).expect("the good design");
    let mut work = work_plan(&scenario, &design, design.cutting.clone(), 1, Saw::Guide);
    change(&mut work);
    verify_work(&scenario, &design, work).map_or_else(|rejected| rejected.faults, |_| Vec::new())
}

#[test]
fn what_is_let_in_lies_whole_in_its_boards_and_clear_of_everything() {
    assert_eq!(let_in_after(|_| {}), []);
    let mm = Length::mm;
    let edge = |faults: Vec<WorkFault>| {
        assert!(matches!(faults[..], [WorkFault::CutOutEdge { .. }]), "{faults:?}");
    };
    // Off the side, and so low that the middle is well inside but its opening is not.
    edge(let_in_after(|work| row_of(work, HoleKind::Lock).1.holes[0][0] = mm(40)));
    edge(let_in_after(|work| row_of(work, HoleKind::Handle).1.holes[0][1] = mm(20)));
    let meets = |kind: HoleKind, other: HoleKind, change: &dyn Fn(&mut WorkPlan)| {
        let (mut own, mut with) = (0, 0);
        let faults = let_in_after(|work| {
            change(work);
            (own, with) = (row_of(work, kind).0, row_of(work, other).0);
        });
        let named = |fault: &WorkFault| matches!(fault, WorkFault::CutOutMeets { row, other, .. } if (*row, *other) == (own, with));
        assert!(faults.iter().any(named), "{own} and {with}: {faults:?}");
        for fault in &faults {
            assert!(matches!(fault, WorkFault::CutOutMeets { .. }), "{faults:?}");
        }
    };
    // A screw of the applied front within the handle; handle and lock over each other; the rods behind the handle's cup.
    meets(HoleKind::Handle, HoleKind::Front, &|work| {
        // The board is lower and narrower than its applied front.
        let handle = row_of(work, HoleKind::Handle).1.holes[0];
        row_of(work, HoleKind::Front).1.holes[0] = [handle[0] - mm(25), handle[1] - mm(12)];
    });
    meets(HoleKind::Handle, HoleKind::Lock, &|work| {
        let lock = row_of(work, HoleKind::Lock).1.holes[0];
        row_of(work, HoleKind::Handle).1.holes[0] = lock;
    });
    meets(HoleKind::Handle, HoleKind::Rod, &|work| {
        let lock = row_of(work, HoleKind::Lock).1.holes[0];
        row_of(work, HoleKind::Handle).1.holes[0] = [lock[0] - mm(130), lock[1]];
    });
}

#[test]
fn rods_run_straight_from_the_lock_to_the_members() {
    let astray = |faults: Vec<WorkFault>| {
        assert!(!faults.is_empty());
        for fault in &faults {
            let lock = matches!(fault, WorkFault::CutOutMeets { .. });
            assert!(matches!(fault, WorkFault::RodAstray { .. }) || lock, "{faults:?}");
        }
        assert!(faults.iter().any(|fault| matches!(fault, WorkFault::RodAstray { .. })));
    };
    let up = |kind: HoleKind| {
        let_in_after(move |work| row_of(work, kind).1.holes[0][1] += Length::MM * 2)
    };
    astray(up(HoleKind::Rod));
    astray(up(HoleKind::RodMate));
    astray(up(HoleKind::Lock));
    // Both rods of a drawer through its front board.
    let faults = let_in_after(|work| {
        let rod = row_of(work, HoleKind::Rod).1.piece;
        let drawer = work.piece(rod).drawer;
        let pieces = work.pieces.clone();
        for row in work.rows.iter_mut().filter(|row| row.kind == HoleKind::Rod) {
            if pieces[row.piece.0 as usize].drawer == drawer {
                row.holes[0][0] = Length::mm(10);
            }
        }
    });
    assert!(faults.iter().any(|fault| matches!(fault, WorkFault::RodBlocked { .. })), "{faults:?}");
    for fault in faults {
        assert_ne!(fault.to_string(), format!("{fault:?}"), "a sentence, not the variant");
    }
}
