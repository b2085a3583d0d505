//! Faults of cutting plans, purchases and hardware.

use super::*;
use crate::design::{Axis, CuttingPlan, HardwareLine, Need, Part, Purchase, PurchaseOf, Rect};
use crate::scenario::fixture::{inches, sixteenths};
use crate::scenario::{HardwareId, HardwareUse, StockId};
use crate::units::Money;

fn plan(change: impl FnOnce(&mut CuttingPlan)) -> Vec<Fault> {
    faults_after(|_, design| change(&mut design.cutting))
}

/// A sheet layout with an offcut worth keeping.
fn with_offcut(plan: &CuttingPlan) -> usize {
    plan.sheets.iter().position(|sheet| !sheet.offcuts.is_empty()).expect("some sheet leaves one")
}

#[test]
fn the_good_plan_is_worth_breaking() {
    let design = good::design(&good::scenario());
    let plan = &design.cutting;
    with_offcut(plan);
    assert!(plan.sheets.iter().any(|sheet| sheet.pieces.len() > 2 && sheet.cuts.len() > 3));
    assert!(plan.boards.iter().any(|board| board.pieces.len() > 2));
}

#[test]
fn a_kerf_or_trim_that_is_not_the_shops() {
    assert_names!(
        plan(|plan| plan.kerf -= HAIR),
        Fault::Kerf { stated, saw } if *stated == *saw - HAIR
    );
    assert_names!(
        plan(|plan| plan.sheets[0].trim = Length::ZERO),
        Fault::Trim { layout: 0, shop, .. } if *shop == sixteenths(4)
    );
    // An offcut's edges are sawn already.
    assert_names!(
        faults_after(|scenario, design| {
            scenario.stock.items[design.cutting.sheets[0].stock].most = Some(0);
        }),
        Fault::Trim { layout: 0, shop, .. } if *shop == Length::ZERO
    );
}

#[test]
fn a_blade_thicker_than_the_plan_thinks() {
    let faults = faults_after(|scenario, design| {
        scenario.shop.kerf += HAIR;
        design.cutting.kerf += HAIR;
    });
    assert_names!(faults.clone(), Fault::CutWithoutPanel { .. });
    assert_names!(faults.clone(), Fault::PieceNotFree { .. });
    assert_names!(faults, Fault::BoardKerf { stated, kerf, .. } if *stated == *kerf - HAIR);
}

#[test]
fn layouts_on_stock_of_the_wrong_form() {
    assert_names!(
        plan(|plan| plan.sheets[0].stock = plan.boards[0].stock),
        Fault::StockForm { layout: 0, .. }
    );
    assert_names!(
        plan(|plan| plan.boards[0].stock = plan.sheets[0].stock),
        Fault::StockForm { layout: 0, .. }
    );
    // Another sheet material has the same size: only the material is wrong.
    let faults = plan(|plan| {
        let last = plan.sheets.last().expect("several").stock;
        plan.sheets[0].stock = last;
    });
    assert_names!(faults, Fault::PieceMaterial { layout: 0, stock, .. } if stock == "3/4 plywood 4x8");
}

#[test]
fn cuts_that_cannot_be_made() {
    assert_names!(
        plan(|plan| plan.sheets[0].cuts[0].panel.dx -= HAIR),
        Fault::CutWithoutPanel { layout: 0, cut: 0 }
    );
    // A later cut before the one that makes its panel.
    assert_names!(
        plan(|plan| plan.sheets[0].cuts.swap(0, 1)),
        Fault::CutWithoutPanel { layout: 0, cut: 0 }
    );
    assert_names!(
        plan(|plan| {
            let cut = &mut plan.sheets[0].cuts[0];
            cut.at = if cut.axis == Axis::X { cut.panel.x } else { cut.panel.y };
        }),
        Fault::CutBeyond { layout: 0, cut: 0 }
    );
    assert_names!(
        plan(|plan| plan.sheets[0].cuts[0].at = inches(200)),
        Fault::CutBeyond { layout: 0, cut: 0 }
    );
}

#[test]
fn pieces_that_no_cut_frees() {
    assert_names!(
        plan(|plan| {
            plan.sheets[0].cuts.pop();
        }),
        Fault::PieceNotFree { layout: 0, .. }
    );
    assert_names!(
        plan(|plan| plan.sheets[0].pieces[0].at.x += HAIR),
        Fault::PieceNotFree { layout: 0, .. }
    );
    // Two pieces cannot be one panel.
    assert_names!(
        plan(|plan| {
            let piece = plan.sheets[0].pieces[0];
            plan.sheets[0].pieces.push(piece);
        }),
        Fault::PieceNotFree { layout: 0, .. }
    );
}

#[test]
fn pieces_of_another_size_or_against_the_grain() {
    let part = |change: fn(&mut Part)| {
        faults_after(|_, design| {
            let part = part_of(design, Role::DrawerBottom);
            change(&mut design.parts[part]);
        })
    };
    assert_names!(part(|part| part.length -= HAIR), Fault::PieceSize { .. });
    assert_names!(part(|part| part.grain = crate::design::Grain::Across), Fault::PieceGrain { .. });
    let either = part(|part| part.grain = crate::design::Grain::Either);
    assert!(either.is_empty(), "{either:?}");
    let faults = faults_after(|scenario, design| {
        let part = part_of(design, Role::DrawerBottom);
        design.parts[part].grain = crate::design::Grain::Across;
        scenario.stock.materials[design.structure.drawer_bottom].grain = false;
    });
    assert!(faults.is_empty(), "its material has no grain that matters: {faults:?}");
}

#[test]
fn offcuts_that_are_not_left_or_not_worth_keeping() {
    let offcut = |change: fn(&mut Rect)| {
        plan(|plan| {
            let layout = with_offcut(plan);
            change(&mut plan.sheets[layout].offcuts[0]);
        })
    };
    assert_names!(offcut(|rest| rest.dy += HAIR), Fault::OffcutNotLeft { offcut: 0, .. });
    assert_names!(offcut(|rest| rest.y -= HAIR), Fault::OffcutNotLeft { offcut: 0, .. });
    assert_names!(
        offcut(|rest| rest.dy = inches(12) - HAIR),
        Fault::OffcutTooSmall { offcut: 0, .. }
    );
    assert_names!(
        plan(|plan| {
            let layout = with_offcut(plan);
            let again = plan.sheets[layout].offcuts[0];
            plan.sheets[layout].offcuts.push(again);
        }),
        Fault::OffcutNotLeft { offcut: 1, .. }
    );
}

#[test]
fn boards_that_are_too_short() {
    assert_names!(
        faults_after(|scenario, design| {
            let board = &design.cutting.boards[0];
            let last = board.pieces.last().expect("a board that is cut");
            let length = last.at + last.length - HAIR;
            scenario.stock.items[board.stock].form = crate::scenario::Form::Board { length };
        }),
        Fault::BoardOverrun { layout: 0, by } if *by == HAIR
    );
}

#[test]
fn boards_whose_pieces_do_not_add_up() {
    let several = |plan: &CuttingPlan| {
        plan.boards.iter().position(|board| board.pieces.len() > 1).expect("some board gives two")
    };
    assert_names!(
        plan(|plan| {
            let board = several(plan);
            plan.boards[board].pieces[1].at -= HAIR;
        }),
        Fault::BoardKerf { piece: 1, stated, kerf, .. } if *stated == *kerf - HAIR
    );
    assert_names!(
        plan(|plan| plan.boards[0].offcut += HAIR),
        Fault::BoardOffcut { layout: 0, stated, derived } if *stated == *derived + HAIR
    );
    assert_names!(
        plan(|plan| plan.boards[0].pieces[0].length += HAIR),
        Fault::PieceSize { layout: 0, .. }
    );
}

#[test]
fn parts_cut_too_often_or_too_seldom() {
    assert_names!(
        plan(|plan| plan.sheets[0].repeat = 2),
        Fault::PartsCut { cut, quantity, .. } if cut > quantity
    );
    assert_names!(
        plan(|plan| {
            plan.boards.pop();
        }),
        Fault::PartsCut { cut, quantity, .. } if cut < quantity
    );
    assert_names!(plan(|plan| plan.boards[0].repeat = 0), Fault::NoRepeat { layout: 0 });
}

#[test]
fn a_rip_narrower_than_the_saw_makes() {
    // The dividers are 3 9/16 in high.
    assert_names!(
        faults_after(|scenario, _| scenario.shop.least_rip = inches(4)),
        Fault::NarrowRip { part, by } if part.starts_with('V') && *by == sixteenths(7)
    );
}

#[test]
fn a_bound_that_proves_too_much() {
    assert_names!(
        plan(|plan| plan.bound = Money::ONE * 100_000),
        Fault::Bound { bound, .. } if *bound == Money::ONE * 100_000
    );
    assert_names!(plan(|plan| plan.proved = true), Fault::Bound { bound: Money::ZERO, .. });
    let faults = faults_after(|_, design| {
        let stock = |purchase: &&Purchase| matches!(purchase.what, PurchaseOf::Stock(_));
        design.cutting.bound =
            design.purchases.iter().filter(stock).map(|purchase| purchase.cost).sum();
        design.cutting.proved = true;
    });
    assert!(faults.is_empty(), "{faults:?}");
}

fn purchase(change: impl FnOnce(&mut Purchase)) -> Vec<Fault> {
    faults_after(|_, design| change(&mut design.purchases[0]))
}

const FIRST: PurchaseOf = PurchaseOf::Stock(StockId(0));

#[test]
fn purchases_that_do_not_add_up() {
    assert_names!(
        purchase(|line| line.quantity += 1),
        Fault::Bought { what: FIRST, stated, used } if *stated == *used + 1
    );
    assert_names!(
        faults_after(|_, design| {
            design.purchases.remove(0);
        }),
        Fault::Bought { what: FIRST, stated: 0, .. }
    );
    assert_names!(
        faults_after(|_, design| {
            let again = design.purchases[0].clone();
            design.purchases.push(again);
        }),
        Fault::BoughtTwice { what: FIRST }
    );
    assert_names!(
        purchase(|line| line.unit_price = Money::ONE),
        Fault::UnitPrice { what: FIRST, stated, .. } if *stated == Money::ONE
    );
    assert_names!(
        purchase(|line| line.cost = Money::ZERO),
        Fault::Cost { what: FIRST, stated: Money::ZERO, .. }
    );
}

#[test]
fn what_is_on_hand_is_used_first() {
    assert_names!(
        faults_after(|scenario, _| scenario.stock.items[StockId(0)].on_hand = 1),
        Fault::OnHand { what: FIRST, stated: 0, derived: 1 }
    );
    assert_names!(
        faults_after(|scenario, _| scenario.stock.items[StockId(0)].most = Some(1)),
        Fault::TooMany { what: FIRST, .. }
    );
    // One package of screws is on hand in the good design.
    let screws = PurchaseOf::Hardware(HardwareId(0));
    assert_names!(
        faults_after(|scenario, _| scenario.stock.hardware[HardwareId(0)].on_hand = 0),
        Fault::OnHand { what, stated: 1, derived: 0 } if *what == screws
    );
}

fn line(use_: HardwareUse, change: impl FnOnce(&mut HardwareLine)) -> Vec<Fault> {
    faults_after(|_, design| {
        let line = design.hardware.iter_mut().find(|line| line.use_ == use_);
        change(line.expect("the good design counts it"));
    })
}

#[test]
fn hardware_that_is_short_or_for_something_else() {
    assert_names!(
        line(HardwareUse::Handle, |line| line.packages = 3),
        Fault::HardwareShort { use_: HardwareUse::Handle, packages: 3, needed: 4 }
    );
    assert_names!(
        line(HardwareUse::Handle, |line| line.hardware = None),
        Fault::HardwareFor { use_: HardwareUse::Handle }
    );
    assert_names!(
        line(HardwareUse::Handle, |line| line.hardware = Some(HardwareId(0))),
        Fault::HardwareFor { use_: HardwareUse::Handle }
    );
    assert_names!(
        line(HardwareUse::Strip, |line| line.need = Need::Count(4)),
        Fault::HardwareMeasure { use_: HardwareUse::Strip }
    );
    assert_names!(
        line(HardwareUse::Coating, |line| line.cost = Money::ZERO),
        Fault::HardwareCost { use_: HardwareUse::Coating, stated: Money::ZERO, .. }
    );
}

#[test]
fn strips_come_out_of_a_sheet_with_a_kerf_between() {
    // 12 in give ten strips of 1 in and nine kerfs of 1/8 in; 4 drawers × 4 strips × 73 1/2 in are 1176 in, of which a
    // package of 10 × 48 in holds 480.
    assert_names!(
        line(HardwareUse::Strip, |line| line.packages = 2),
        Fault::HardwareShort { use_: HardwareUse::Strip, packages: 2, needed: 3 }
    );
}

#[test]
fn needs_that_do_not_follow_from_the_design() {
    // Members of 73 1/2 in, screws every 6 in from 2 in off the ends: 13 a seam, 2 × 3 seams a tier, two tiers.
    assert_names!(
        line(HardwareUse::ChestScrew, |line| line.need = Need::Count(155)),
        Fault::HardwareNeed { use_: HardwareUse::ChestScrew, stated: 155, least: 156 }
    );
    assert_names!(
        line(HardwareUse::Handle, |line| line.need = Need::Count(3)),
        Fault::HardwareNeed { use_: HardwareUse::Handle, stated: 3, least: 4 }
    );
    assert_names!(
        line(HardwareUse::HoldDown, |line| line.need = Need::Count(2)),
        Fault::HardwareNeed { use_: HardwareUse::HoldDown, stated: 2, least: 4 }
    );
    assert_names!(
        line(HardwareUse::Strip, |line| line.need = Need::Length(inches(100))),
        Fault::HardwareNeed { use_: HardwareUse::Strip, stated: 2540, .. }
    );
    assert_names!(
        line(HardwareUse::Coating, |line| line.need = Need::Area(inches(10).by(inches(10)))),
        Fault::HardwareNeed { use_: HardwareUse::Coating, .. }
    );
}
