//! What a cutting plan makes of its stock, and how often the saw is set for it.

use std::collections::BTreeMap;

use crate::design::{
    Axis, Blank, BoardLayout, Cut, CuttingPlan, Purchase, PurchaseOf, Rect, SheetLayout, Waste,
};
use crate::scenario::{Form, Section, Shop, Stock, StockId};
use crate::units::{Area, Length};

/// What layouts use of the stock, in its order, what is on hand first.
pub fn purchases(stock: &Stock, sheets: &[SheetLayout], boards: &[BoardLayout]) -> Vec<Purchase> {
    let mut used: BTreeMap<StockId, u32> = BTreeMap::new();
    let sheets = sheets.iter().map(|layout| (layout.stock, layout.repeat));
    for (id, repeat) in sheets.chain(boards.iter().map(|layout| (layout.stock, layout.repeat))) {
        *used.entry(id).or_default() += repeat;
    }
    let line = |(id, quantity): (StockId, u32)| {
        let item = &stock.items[id];
        let on_hand = quantity.min(item.on_hand);
        let cost = item.price * i64::from(quantity - on_hand);
        let what = PurchaseOf::Stock(id);
        Purchase { what, quantity, on_hand, unit_price: item.price, cost }
    };
    used.into_iter().map(line).collect()
}

/// What becomes of the sheets that a plan uses.
pub fn sheet_waste(stock: &Stock, plan: &CuttingPlan) -> Waste {
    let waste = |layout: &SheetLayout| one_sheet(stock, plan.kerf, layout);
    sum(plan.sheets.iter().map(|layout| (waste(layout), layout.repeat)))
}

/// What becomes of the boards that a plan uses, by their faces: a part narrower than its board has a strip ripped off.
pub fn board_waste(stock: &Stock, shop: &Shop, blanks: &[Blank], plan: &CuttingPlan) -> Waste {
    let waste = |layout: &BoardLayout| one_board(stock, shop, blanks, plan.kerf, layout);
    sum(plan.boards.iter().map(|layout| (waste(layout), layout.repeat)))
}

fn sum(all: impl Iterator<Item = (Waste, u32)>) -> Waste {
    all.fold(Waste::default(), |so_far, (waste, repeat)| so_far + waste.times(repeat))
}

fn one_sheet(stock: &Stock, kerf: Length, layout: &SheetLayout) -> Waste {
    let Form::Sheet { along, across } = stock.items[layout.stock].form else {
        return Waste::default();
    };
    let trimmed = layout.trim * 2;
    let whole = along.by(across);
    let inner = (along - trimmed).by(across - trimmed);
    let parts: Area = layout.pieces.iter().map(|piece| face(&piece.at)).sum();
    let kept: Area = layout.offcuts.iter().map(face).sum();
    let dust: Area = layout.cuts.iter().map(|cut| dust(cut, kerf)).sum();
    Waste {
        stock: whole,
        parts,
        kerf: dust,
        trim: whole - inner,
        kept,
        scrap: inner - parts - kept - dust,
    }
}

fn face(rect: &Rect) -> Area {
    rect.dx.by(rect.dy)
}

/// What one cut turns to dust: less than a kerf where the panel ends before.
fn dust(cut: &Cut, kerf: Length) -> Area {
    let panel = &cut.panel;
    match cut.axis {
        Axis::X => kerf.min(panel.x + panel.dx - cut.at).by(panel.dy),
        Axis::Y => kerf.min(panel.y + panel.dy - cut.at).by(panel.dx),
    }
}

fn one_board(
    stock: &Stock,
    shop: &Shop,
    blanks: &[Blank],
    kerf: Length,
    layout: &BoardLayout,
) -> Waste {
    let item = &stock.items[layout.stock];
    let (Form::Board { length }, Section::Board { width }) =
        (item.form, stock.materials[item.material].section)
    else {
        return Waste::default();
    };
    let mut waste = Waste { stock: length.by(width), ..Waste::default() };
    for piece in &layout.pieces {
        let part = blanks[piece.part.0 as usize].width;
        waste.parts = waste.parts + piece.length.by(part);
        waste.kerf = waste.kerf + piece.length.by(kerf.min(width - part));
    }
    let end = layout.pieces.last().map_or(Length::ZERO, |piece| piece.at + piece.length);
    let gaps: Length =
        layout.pieces.windows(2).map(|two| two[1].at - two[0].at - two[0].length).sum();
    let last = if layout.pieces.is_empty() { Length::ZERO } else { kerf.min(length - end) };
    waste.kerf = waste.kerf + (gaps + last).by(width);
    if layout.offcut >= shop.keep_offcut[0] {
        waste.kept = layout.offcut.by(width);
    }
    waste.scrap = waste.stock - waste.parts - waste.kerf - waste.kept;
    waste
}

/// How often a fence or a stop is set; see [`crate::design::JobPlan::setups`].
pub fn setups(blanks: &[Blank], plan: &CuttingPlan, stock: &Stock) -> u32 {
    let mut fence: Vec<Length> = plan.sheets.iter().flat_map(sheet_settings).collect();
    let mut stop = Vec::new();
    for layout in &plan.boards {
        let [stops, rips] = board_settings(blanks, layout, stock);
        stop.extend(stops);
        fence.extend(rips);
    }
    u32::try_from(changes(fence) + changes(stop)).unwrap_or(u32::MAX)
}

/// What the fence is set to, cut by cut.
fn sheet_settings(layout: &SheetLayout) -> Vec<Length> {
    let set = |cut: &Cut| match cut.axis {
        Axis::X => cut.at - cut.panel.x,
        Axis::Y => cut.at - cut.panel.y,
    };
    layout.cuts.iter().map(set).collect()
}

/// What the stop is set to for a board, cut by cut, and then what the fence is, rip by rip.
pub fn board_settings(blanks: &[Blank], layout: &BoardLayout, stock: &Stock) -> [Vec<Length>; 2] {
    let item = &stock.items[layout.stock];
    let mut stops: Vec<Length> = layout.pieces.iter().map(|piece| piece.length).collect();
    // A last piece that ends with the board needs no cut.
    if let (Form::Board { length }, Some(last)) = (item.form, layout.pieces.last())
        && last.at + last.length == length
    {
        stops.pop();
    }
    let mut rips = Vec::new();
    if let Section::Board { width } = stock.materials[item.material].section {
        let widths = layout.pieces.iter().map(|piece| blanks[piece.part.0 as usize].width);
        rips.extend(widths.filter(|part| *part < width));
    }
    [stops, rips]
}

/// In a list, how many differ from the one before.
fn changes(settings: Vec<Length>) -> usize {
    let mut before = None;
    settings.into_iter().filter(|now| before.replace(*now) != Some(*now)).count()
}
