//! Plans of cutting jobs: one worked by hand, then broken one way at a time.

use super::*;
use crate::design::derive::sawing;
use crate::design::job::blanks;
use crate::design::{
    Axis, BoardLayout, BoardPiece, Cut, CuttingPlan, JobPlan, PartId, Purchase, PurchaseOf, Rect,
    SheetLayout, SheetPiece, Waste,
};
use crate::scenario::{
    CuttingJob, FactoryEdges, FactoryNeed, Form, JobPart, Material, MaterialId, Section, Shop,
    Stiffness, Stock, StockId, StockItem,
};
use crate::units::{Area, Length, Money, UnitSystem};

fn mm(mm: i64) -> Length {
    Length::mm(mm)
}

fn square_mm(mm: i64) -> Area {
    Length::MM.by(Length::MM) * mm
}

fn rect(x: i64, y: i64, dx: i64, dy: i64) -> Rect {
    Rect { x: mm(x), y: mm(y), dx: mm(dx), dy: mm(dy) }
}

/// A sheet of 1000 x 600 trimmed by 10 all round, a board of 2400 x 100, a kerf of 3.
fn job() -> CuttingJob {
    let mut stock = Stock::default();
    let material = |section| Material {
        name: String::new(),
        section,
        thickness: Length::ZERO,
        density: 500.0,
        stiffness: Stiffness::Unknown,
        grain: true,
    };
    let sheet = stock.materials.push(material(Section::Sheet));
    let board = stock.materials.push(material(Section::Board { width: mm(100) }));
    let item = |material, form, price, on_hand| StockItem {
        material,
        name: "stock".to_owned(),
        form,
        price: Money::ONE * price,
        on_hand,
        most: Some(1),
    };
    let form = Form::Sheet { along: mm(1000), across: mm(600) };
    stock.items.push(item(sheet, form, 20, 0));
    stock.items.push(item(board, Form::Board { length: mm(2400) }, 7, 1));
    let part = |name: &str, material, length, width, count, turn| JobPart {
        name: name.to_owned(),
        material,
        length: mm(length),
        width: mm(width),
        count,
        turn,
        factory: FactoryNeed::default(),
        worth_milli: None,
    };
    CuttingJob {
        title: "By hand".to_owned(),
        units: UnitSystem::Metric,
        currency: "EUR".to_owned(),
        stock,
        shop: Shop {
            kerf: mm(3),
            edge_trim: mm(10),
            keep_offcut: [mm(200), mm(150)],
            least_rip: mm(20),
            stages: None,
            trimming: false,
            step: mm(1),
            saw_capacity: None,
        },
        parts: vec![
            part("A", sheet, 400, 200, 2, false),
            part("B", sheet, 300, 150, 1, true),
            part("C", board, 1000, 60, 2, false),
        ],
        factory: Vec::new(),
    }
}

/// Two strips of the sheet, two pieces of the board.
fn plan() -> JobPlan {
    let cut = |panel: Rect, axis, at: i64| Cut { panel, axis, at: mm(at) };
    let piece = |part, at| SheetPiece { part: PartId(part), at };
    let sheet = SheetLayout {
        stock: StockId(0),
        repeat: 1,
        trim: mm(10),
        pieces: vec![
            piece(0, rect(10, 10, 400, 200)),
            piece(0, rect(413, 10, 400, 200)),
            piece(1, rect(10, 213, 150, 300)),
        ],
        cuts: vec![
            cut(rect(10, 10, 980, 580), Axis::Y, 210),
            cut(rect(10, 10, 980, 200), Axis::X, 410),
            cut(rect(413, 10, 577, 200), Axis::X, 813),
            cut(rect(10, 213, 980, 377), Axis::Y, 513),
            cut(rect(10, 213, 980, 300), Axis::X, 160),
        ],
        offcuts: vec![rect(816, 10, 174, 200), rect(163, 213, 827, 300)],
    };
    let piece = |at| BoardPiece { part: PartId(2), at: mm(at), length: mm(1000) };
    let pieces = vec![piece(0), piece(1003)];
    let board = BoardLayout { stock: StockId(1), repeat: 1, pieces, offcut: mm(394) };
    let line = |id, on_hand, price: i64, cost: i64| Purchase {
        what: PurchaseOf::Stock(StockId(id)),
        quantity: 1,
        on_hand,
        unit_price: Money::ONE * price,
        cost: Money::ONE * cost,
    };
    JobPlan {
        cutting: CuttingPlan {
            kerf: mm(3),
            sheets: vec![sheet],
            boards: vec![board],
            proved: true,
            bound: Money::ONE * 20,
        },
        purchases: vec![line(0, 0, 20, 20), line(1, 1, 7, 0)],
        sheets: Waste {
            stock: square_mm(600_000),
            parts: square_mm(205_000),
            // Cuts of 980, 200, 200, 980 and 300, each 3 wide.
            kerf: square_mm(7_980),
            trim: square_mm(600_000 - 980 * 580),
            kept: square_mm(174 * 200 + 827 * 300),
            scrap: square_mm(980 * 74),
        },
        boards: Waste {
            stock: square_mm(240_000),
            parts: square_mm(120_000),
            // Two cross cuts of 100, and two rips of 1000.
            kerf: square_mm(3 * (2 * 100 + 2 * 1000)),
            trim: Area::ZERO,
            kept: square_mm(394 * 100),
            scrap: square_mm(2 * 1000 * 37),
        },
        // 200, 400 twice, 300, 150; the stop at 1000, the fence at 60.
        setups: 6,
        left_out: Vec::new(),
        worth_bound_milli: 0,
    }
}

fn faults(job: impl FnOnce(&mut CuttingJob), plan: impl FnOnce(&mut JobPlan)) -> Vec<Fault> {
    let (mut given, mut found) = (self::job(), self::plan());
    job(&mut given);
    plan(&mut found);
    match verify_plan(&given, found) {
        Ok(_) => Vec::new(),
        Err(rejected) => rejected.faults,
    }
}

fn broken(plan: impl FnOnce(&mut JobPlan)) -> Vec<Fault> {
    faults(|_| {}, plan)
}

#[test]
fn the_plan_by_hand_is_verified_and_weighed_as_by_hand() {
    let (job, plan) = (job(), plan());
    let verified = verify_plan(&job, plan.clone()).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert_eq!(verified.get(), &plan);
    let blanks = blanks(&job);
    assert_eq!(sawing::sheet_waste(&job.stock, &plan.cutting), plan.sheets);
    let boards = sawing::board_waste(&job.stock, &job.shop, &blanks, &plan.cutting);
    assert_eq!(boards, plan.boards);
    assert_eq!(sawing::setups(&blanks, &plan.cutting, &job.stock), plan.setups);
}

#[test]
fn counts_and_sizes_and_grain() {
    assert_names!(
        faults(|job| job.parts[0].count = 3, |_| {}),
        Fault::PartsCut { part, cut: 2, quantity: 3 } if part == "A"
    );
    assert_names!(
        faults(|job| job.parts[0].length += HAIR, |_| {}),
        Fault::PieceSize { part, .. } if part == "A"
    );
    assert_names!(
        faults(|job| job.parts[1].turn = false, |_| {}),
        Fault::PieceGrain { part, .. } if part == "B"
    );
    let grainless = |job: &mut CuttingJob| {
        job.parts[1].turn = false;
        job.stock.materials[MaterialId(0)].grain = false;
    };
    assert_eq!(faults(grainless, |_| {}), []);
    // Ten are trimmed off all round, so that no piece lies at an edge of the sheet.
    let edged = |job: &mut CuttingJob| {
        job.factory = vec![FactoryEdges::ALL];
        job.parts[1].factory.across = true;
    };
    assert_names!(faults(edged, |_| {}), Fault::PieceEdge { part, .. } if part == "B");
    assert_names!(
        faults(|job| job.shop.least_rip = mm(61), |_| {}),
        Fault::NarrowRip { part, by } if part == "C" && *by == mm(1)
    );
}

#[test]
fn cuts_that_cannot_be_made() {
    assert_names!(
        broken(|plan| plan.cutting.sheets[0].cuts.swap(0, 1)),
        Fault::CutWithoutPanel { layout: 0, cut: 0 }
    );
    assert_names!(
        broken(|plan| plan.cutting.sheets[0].cuts[4].at = mm(10)),
        Fault::CutBeyond { layout: 0, cut: 4 }
    );
    assert_names!(
        broken(|plan| plan.cutting.sheets[0].pieces[2].at.x += HAIR),
        Fault::PieceNotFree { layout: 0, part } if part == "B"
    );
    assert_names!(
        broken(|plan| plan.cutting.sheets[0].offcuts[0].dx += HAIR),
        Fault::OffcutNotLeft { layout: 0, offcut: 0 }
    );
    assert_names!(
        broken(|plan| plan.cutting.boards[0].pieces[1].at -= HAIR),
        Fault::BoardKerf { layout: 0, piece: 1, .. }
    );
    assert_names!(broken(|plan| plan.cutting.kerf -= HAIR), Fault::Kerf { .. });
}

#[test]
fn stages_are_counted() {
    // The strips are one stage, the pieces of each another.
    let staged = |stages, trimming| {
        move |job: &mut CuttingJob| {
            (job.shop.stages, job.shop.trimming) = (Some(stages), trimming);
        }
    };
    assert_eq!(faults(staged(2, false), |_| {}), []);
    assert_names!(
        faults(staged(1, false), |_| {}),
        Fault::TooManyStages { layout: 0, part, stages: 2, most: 1 } if part == "A"
    );
    assert_eq!(faults(staged(1, true), |_| {}), []);
}

#[test]
fn stock_cost_and_bound() {
    assert_names!(broken(|plan| plan.cutting.sheets[0].repeat = 2), Fault::Bought { used: 2, .. });
    assert_names!(
        broken(|plan| plan.purchases[1].on_hand = 0),
        Fault::OnHand { stated: 0, derived: 1, .. }
    );
    assert_names!(
        faults(|job| job.stock.items[StockId(0)].most = Some(0), |_| {}),
        Fault::TooMany { by: 1, .. }
    );
    assert_names!(broken(|plan| plan.purchases[0].cost = Money::ZERO), Fault::Cost { .. });
    assert_names!(
        broken(|plan| plan.cutting.bound = Money::ONE * 19),
        Fault::Bound { bound, cost } if *bound == Money::ONE * 19 && *cost == Money::ONE * 20
    );
    assert_names!(broken(|plan| plan.cutting.bound = Money::ONE * 21), Fault::Bound { .. });
    assert_names!(
        broken(|plan| plan.purchases[0].what = PurchaseOf::Stock(StockId(9))),
        Fault::NoSuch { what: Reference::Stock, index: 9 }
    );
}

#[test]
fn waste_and_setups() {
    type Part = fn(&mut Waste) -> &mut Area;
    let parts: [(Part, &str); 6] = [
        (|w| &mut w.stock, "the stock"),
        (|w| &mut w.parts, "the face of the parts"),
        (|w| &mut w.kerf, "kerf"),
        (|w| &mut w.trim, "trim"),
        (|w| &mut w.kept, "what is kept"),
        (|w| &mut w.scrap, "scrap"),
    ];
    for (part, name) in parts {
        let more = |area: &mut Area| *area = *area + Area::from_units(1);
        let sheets = broken(|plan| more(part(&mut plan.sheets)));
        assert_names!(sheets.clone(), Fault::Waste { of: "sheets", what, .. } if *what == name);
        assert_names!(sheets, Fault::Waste { what: "the sum", .. });
        let boards = broken(|plan| more(part(&mut plan.boards)));
        assert_names!(boards, Fault::Waste { of: "boards", what, .. } if *what == name);
    }
    assert_names!(broken(|plan| plan.setups = 5), Fault::Setups { stated: 5, derived: 6 });
}

#[test]
fn a_setting_stays_from_one_sheet_or_board_to_the_next() {
    let (job, mut plan) = (job(), plan());
    let blanks = blanks(&job);
    let mut count = |change: fn(&mut CuttingPlan)| {
        change(&mut plan.cutting);
        sawing::setups(&blanks, &plan.cutting, &job.stock)
    };
    let shorter = |plan: &mut CuttingPlan| {
        let mut board = plan.boards[0].clone();
        board.pieces.truncate(1);
        plan.boards.push(board);
    };
    assert_eq!(count(shorter), 6, "the stop stays at 1000, the fence at 60");
    let backwards = |plan: &mut CuttingPlan| {
        let mut sheet = plan.sheets[0].clone();
        sheet.cuts.reverse();
        plan.sheets.push(sheet);
    };
    assert_eq!(count(backwards), 9, "from 150 to 300, 400 twice and 200");
}

#[test]
fn what_may_be_left_out() {
    let leave = |plan: &mut JobPlan| plan.left_out.push((PartId(0), 1));
    let one_more = |job: &mut CuttingJob| job.parts[0].count = 3;
    assert_names!(
        faults(one_more, leave),
        Fault::MayNotLeave { part, count: 1, quantity: 3 } if part == "A"
    );
    let optional = |job: &mut CuttingJob| {
        job.parts[0].count = 3;
        job.parts[0].worth_milli = Some(2_000);
    };
    let bounded = |bound| {
        move |plan: &mut JobPlan| {
            plan.left_out.push((PartId(0), 1));
            plan.worth_bound_milli = bound;
        }
    };
    assert_eq!(faults(optional, bounded(4_000)), []);
    assert_names!(
        faults(optional, bounded(3_999)),
        Fault::WorthBound { bound: 3_999, worth: 4_000 }
    );
    let none = |plan: &mut JobPlan| plan.worth_bound_milli = 6_000;
    assert_names!(faults(optional, none), Fault::PartsCut { cut: 2, quantity: 3, .. });
}
