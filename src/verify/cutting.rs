//! Cutting plans replayed cut by cut.

use super::case::Case;
use super::fault::Fault;
use crate::design::{Axis, BoardLayout, Cut, Grain, Part, PurchaseOf, Rect, SheetLayout};
use crate::scenario::Form;
use crate::units::{Length, Money};

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let plan = &case.design.cutting;
    let saw = case.scenario.shop.kerf;
    if plan.kerf != saw {
        faults.push(Fault::Kerf { stated: plan.kerf, saw });
    }
    let mut cut = vec![0_u64; case.design.parts.len()];
    for (layout, sheet) in plan.sheets.iter().enumerate() {
        if sheet.repeat == 0 {
            faults.push(Fault::NoRepeat { layout });
        }
        for piece in &sheet.pieces {
            cut[piece.part.0 as usize] += u64::from(sheet.repeat);
        }
        Bench { case, layout }.sheet(sheet, faults);
    }
    for (layout, board) in plan.boards.iter().enumerate() {
        if board.repeat == 0 {
            faults.push(Fault::NoRepeat { layout });
        }
        for piece in &board.pieces {
            cut[piece.part.0 as usize] += u64::from(board.repeat);
        }
        Bench { case, layout }.board(board, faults);
    }
    for (part, cut) in case.design.parts.iter().zip(cut) {
        let quantity = u64::from(part.quantity);
        if cut != quantity {
            faults.push(Fault::PartsCut { part: part.mark.clone(), cut, quantity });
        }
    }
    rips(case, faults);
    bound(case, faults);
}

/// The ways a part may lie on a sheet, as extents along and across its grain.
pub(super) fn ways(part: &Part, grain_matters: bool) -> impl Iterator<Item = [Length; 2]> {
    let along = [part.length, part.width];
    let across = [part.width, part.length];
    let grain = if grain_matters { part.grain } else { Grain::Either };
    [(along, Grain::Across), (across, Grain::Along)]
        .into_iter()
        .filter(move |(_, not)| grain != *not)
        .map(|(way, _)| way)
}

/// One layout.
struct Bench<'a> {
    case: &'a Case<'a>,
    layout: usize,
}

impl Bench<'_> {
    fn sheet(&self, sheet: &SheetLayout, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let item = &self.case.scenario.stock.items[sheet.stock];
        let Form::Sheet { along, across } = item.form else {
            faults.push(Fault::StockForm { layout, stock: item.name.clone() });
            return;
        };
        let shop = if item.is_offcut() { Length::ZERO } else { self.case.scenario.shop.edge_trim };
        if sheet.trim != shop {
            faults.push(Fault::Trim { layout, stated: sheet.trim, shop });
        }
        let trim = sheet.trim;
        let whole = Rect { x: trim, y: trim, dx: along - trim * 2, dy: across - trim * 2 };
        let mut panels = vec![whole];
        for (index, cut) in sheet.cuts.iter().enumerate() {
            self.saw(&mut panels, index, cut, faults);
        }
        self.pieces(sheet, &mut panels, faults);
        self.offcuts(sheet, &panels, faults);
    }

    /// Makes one cut: the panel goes, what the blade leaves of it comes.
    fn saw(&self, panels: &mut Vec<Rect>, index: usize, cut: &Cut, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let Some(found) = panels.iter().position(|panel| *panel == cut.panel) else {
            faults.push(Fault::CutWithoutPanel { layout, cut: index });
            return;
        };
        let panel = cut.panel;
        let (from, to) = match cut.axis {
            Axis::X => (panel.x, panel.x + panel.dx),
            Axis::Y => (panel.y, panel.y + panel.dy),
        };
        if cut.at <= from || cut.at >= to {
            faults.push(Fault::CutBeyond { layout, cut: index });
            return;
        }
        panels.swap_remove(found);
        let rest = cut.at + self.case.scenario.shop.kerf;
        let side = |from: Length, to: Length| match cut.axis {
            Axis::X => Rect { x: from, dx: to - from, ..panel },
            Axis::Y => Rect { y: from, dy: to - from, ..panel },
        };
        panels.push(side(from, cut.at));
        if rest < to {
            panels.push(side(rest, to));
        }
    }

    /// Every piece is one of the panels left, and is taken off them.
    fn pieces(&self, sheet: &SheetLayout, panels: &mut Vec<Rect>, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let item = &self.case.scenario.stock.items[sheet.stock];
        let grain_matters = self.case.material(item.material).grain;
        for piece in &sheet.pieces {
            let part = self.case.part(piece.part);
            let mark = || part.mark.clone();
            match panels.iter().position(|panel| *panel == piece.at) {
                Some(found) => {
                    panels.swap_remove(found);
                }
                None => faults.push(Fault::PieceNotFree { layout, part: mark() }),
            }
            let extents = [piece.at.dx, piece.at.dy];
            if !ways(part, false).any(|way| way == extents) {
                faults.push(Fault::PieceSize { layout, part: mark() });
            } else if !ways(part, grain_matters).any(|way| way == extents) {
                faults.push(Fault::PieceGrain { layout, part: mark() });
            }
            if part.material != item.material {
                let stock = item.name.clone();
                faults.push(Fault::PieceMaterial { layout, part: mark(), stock });
            }
        }
    }

    /// An offcut lies in a panel that no piece took, clear of other offcuts, and is worth keeping.
    fn offcuts(&self, sheet: &SheetLayout, panels: &[Rect], faults: &mut Vec<Fault>) {
        let [longer, shorter] = self.case.scenario.shop.keep_offcut;
        for (offcut, rest) in sheet.offcuts.iter().enumerate() {
            let layout = self.layout;
            let free = panels.iter().any(|panel| holds(panel, rest));
            let clear = sheet.offcuts[..offcut].iter().all(|other| !meet(other, rest));
            if !free || !clear {
                faults.push(Fault::OffcutNotLeft { layout, offcut });
            }
            if rest.dx.max(rest.dy) < longer || rest.dx.min(rest.dy) < shorter {
                faults.push(Fault::OffcutTooSmall { layout, offcut });
            }
        }
    }

    /// Pieces from one end with a kerf between neighbours, and what is left after the last kerf.
    fn board(&self, board: &BoardLayout, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let item = &self.case.scenario.stock.items[board.stock];
        let Form::Board { length } = item.form else {
            faults.push(Fault::StockForm { layout, stock: item.name.clone() });
            return;
        };
        let kerf = self.case.scenario.shop.kerf;
        let mut end: Option<Length> = None;
        for (index, piece) in board.pieces.iter().enumerate() {
            let part = self.case.part(piece.part);
            let mark = || part.mark.clone();
            let (between, wanted) = match end {
                Some(end) => (piece.at - end, kerf),
                None => (piece.at, Length::ZERO),
            };
            if between != wanted {
                faults.push(Fault::BoardKerf { layout, piece: index, stated: between, kerf });
            }
            if piece.length != part.length {
                faults.push(Fault::PieceSize { layout, part: mark() });
            }
            if part.material != item.material {
                let stock = item.name.clone();
                faults.push(Fault::PieceMaterial { layout, part: mark(), stock });
            }
            end = Some(piece.at + piece.length);
        }
        let over = end.unwrap_or_default() - length;
        if over.is_positive() {
            faults.push(Fault::BoardOverrun { layout, by: over });
        }
        let left = end.map_or(length, |end| (length - end - kerf).or_zero());
        if board.offcut != left {
            let (stated, derived) = (board.offcut, left);
            faults.push(Fault::BoardOffcut { layout, stated, derived });
        }
    }
}

fn holds(panel: &Rect, rest: &Rect) -> bool {
    panel.x <= rest.x
        && panel.y <= rest.y
        && rest.x + rest.dx <= panel.x + panel.dx
        && rest.y + rest.dy <= panel.y + panel.dy
}

fn meet(a: &Rect, b: &Rect) -> bool {
    a.x < b.x + b.dx && b.x < a.x + a.dx && a.y < b.y + b.dy && b.y < a.y + a.dy
}

/// No part is ripped narrower than the saw makes safely: its lesser side, unless its board comes that narrow.
fn rips(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let least = case.scenario.shop.least_rip;
    for part in case.design.parts.iter().filter(|part| part.quantity > 0) {
        let narrow = match case.board_width(part.material) {
            Some(board) if part.width >= board => continue,
            Some(_) => part.width,
            None => part.width.min(part.length),
        };
        let by = least - narrow;
        if by.is_positive() {
            faults.push(Fault::NarrowRip { part: part.mark.clone(), by });
        }
    }
}

/// The bound on the stock's cost is no higher than the cost, and equal to it if the plan is proved.
fn bound(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let plan = &case.design.cutting;
    let stock = |purchase: &&crate::design::Purchase| matches!(purchase.what, PurchaseOf::Stock(_));
    let purchases = case.design.purchases.iter().filter(stock);
    let cost: Money = purchases.map(|purchase| purchase.cost).sum();
    if plan.bound > cost || (plan.proved && plan.bound != cost) {
        faults.push(Fault::Bound { bound: plan.bound, cost });
    }
}
