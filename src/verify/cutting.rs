//! Cutting plans replayed cut by cut.

use super::case::Case;
use super::fault::Fault;
use crate::design::{
    Axis, Blank, BoardLayout, Cut, CuttingPlan, Grain, Purchase, PurchaseOf, Rect, SheetLayout,
};
use crate::scenario::{FactoryEdges, Form, Section, Shop, Stock};
use crate::units::{Length, Money};

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let design = case.design;
    let stock = |purchase: &&Purchase| matches!(purchase.what, PurchaseOf::Stock(_));
    let bought = design.purchases.iter().filter(stock);
    let sawing = Sawing {
        blanks: &design.parts.iter().map(Blank::from).collect::<Vec<_>>(),
        stock: &case.scenario.stock,
        shop: &case.scenario.shop,
        plan: &design.cutting,
        factory: &[],
    };
    sawing.check(faults);
    sawing.bound(bought.map(|purchase| purchase.cost).sum(), faults);
}

/// A cutting plan and what it is held against.
#[derive(Clone, Copy)]
pub(super) struct Sawing<'a> {
    pub blanks: &'a [Blank],
    pub stock: &'a Stock,
    pub shop: &'a Shop,
    pub plan: &'a CuttingPlan,
    /// By stock, the edges that are as the factory made them.
    pub factory: &'a [FactoryEdges],
}

impl Sawing<'_> {
    /// Replays all layouts and counts what they yield.
    pub fn check(&self, faults: &mut Vec<Fault>) {
        for (blank, cut) in self.blanks.iter().zip(self.replay(faults)) {
            let quantity = u64::from(blank.quantity);
            if cut != quantity {
                faults.push(Fault::PartsCut { part: blank.mark.clone(), cut, quantity });
            }
        }
        self.rips(faults);
    }

    /// Replays all layouts; how many of each part they yield.
    fn replay(&self, faults: &mut Vec<Fault>) -> Vec<u64> {
        let saw = self.shop.kerf;
        if self.plan.kerf != saw {
            faults.push(Fault::Kerf { stated: self.plan.kerf, saw });
        }
        let mut cut = vec![0_u64; self.blanks.len()];
        for (layout, sheet) in self.plan.sheets.iter().enumerate() {
            if sheet.repeat == 0 {
                faults.push(Fault::NoRepeat { layout });
            }
            for piece in &sheet.pieces {
                cut[piece.part.0 as usize] += u64::from(sheet.repeat);
            }
            Bench { of: self, layout }.sheet(sheet, faults);
        }
        for (layout, board) in self.plan.boards.iter().enumerate() {
            if board.repeat == 0 {
                faults.push(Fault::NoRepeat { layout });
            }
            for piece in &board.pieces {
                cut[piece.part.0 as usize] += u64::from(board.repeat);
            }
            Bench { of: self, layout }.board(board, faults);
        }
        cut
    }

    /// No part is ripped narrower than the saw makes safely: its lesser side, unless its board comes that narrow.
    fn rips(&self, faults: &mut Vec<Fault>) {
        for blank in self.blanks.iter().filter(|blank| blank.quantity > 0) {
            let narrow = match self.stock.materials[blank.material].section {
                Section::Board { width } if blank.width >= width => continue,
                Section::Board { .. } => blank.width,
                Section::Sheet => blank.width.min(blank.length),
            };
            let by = self.shop.least_rip - narrow;
            if by.is_positive() {
                faults.push(Fault::NarrowRip { part: blank.mark.clone(), by });
            }
        }
    }

    /// The bound on the stock's cost is no higher than the cost, and equal to it if the plan is proved.
    pub fn bound(&self, cost: Money, faults: &mut Vec<Fault>) {
        let bound = self.plan.bound;
        if bound > cost || (self.plan.proved && bound != cost) {
            faults.push(Fault::Bound { bound, cost });
        }
    }
}

/// The ways a part may lie on a sheet, as extents along and across its grain.
pub(super) fn ways(part: &Blank, grain_matters: bool) -> impl Iterator<Item = [Length; 2]> {
    let along = [part.length, part.width];
    let across = [part.width, part.length];
    let grain = if grain_matters { part.grain } else { Grain::Either };
    [(along, Grain::Across), (across, Grain::Along)]
        .into_iter()
        .filter(move |(_, not)| grain != *not)
        .map(|(way, _)| way)
}

/// A panel, with the stages of cuts that made it and the direction of the last.
///
/// A stage is a set of cuts along one direction, the next one's are along the other.
struct Panel {
    rect: Rect,
    stages: u32,
    last: Option<Axis>,
}

/// One layout.
struct Bench<'a> {
    of: &'a Sawing<'a>,
    layout: usize,
}

impl Bench<'_> {
    fn sheet(&self, sheet: &SheetLayout, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let item = &self.of.stock.items[sheet.stock];
        let Form::Sheet { along, across } = item.form else {
            faults.push(Fault::StockForm { layout, stock: item.name.clone() });
            return;
        };
        let shop = if item.is_offcut() { Length::ZERO } else { self.of.shop.edge_trim };
        if sheet.trim != shop {
            faults.push(Fault::Trim { layout, stated: sheet.trim, shop });
        }
        let trim = sheet.trim;
        let whole = Rect { x: trim, y: trim, dx: along - trim * 2, dy: across - trim * 2 };
        let mut panels = vec![Panel { rect: whole, stages: 0, last: None }];
        for (index, cut) in sheet.cuts.iter().enumerate() {
            self.saw(&mut panels, index, cut, faults);
        }
        self.pieces(sheet, &mut panels, faults);
        let left: Vec<Rect> = panels.into_iter().map(|panel| panel.rect).collect();
        self.offcuts(sheet, &left, faults);
    }

    /// Makes one cut: the panel goes, what the blade leaves of it comes.
    fn saw(&self, panels: &mut Vec<Panel>, index: usize, cut: &Cut, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let Some(found) = panels.iter().position(|panel| panel.rect == cut.panel) else {
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
        let before = panels.swap_remove(found);
        let stages = before.stages + u32::from(before.last != Some(cut.axis));
        let made = |rect: Rect| Panel { rect, stages, last: Some(cut.axis) };
        let rest = cut.at + self.of.shop.kerf;
        let side = |from: Length, to: Length| match cut.axis {
            Axis::X => Rect { x: from, dx: to - from, ..panel },
            Axis::Y => Rect { y: from, dy: to - from, ..panel },
        };
        panels.push(made(side(from, cut.at)));
        if rest < to {
            panels.push(made(side(rest, to)));
        }
    }

    /// Every piece is one of the panels left, and is taken off them.
    fn pieces(&self, sheet: &SheetLayout, panels: &mut Vec<Panel>, faults: &mut Vec<Fault>) {
        let layout = self.layout;
        let item = &self.of.stock.items[sheet.stock];
        let grain_matters = self.of.stock.materials[item.material].grain;
        for piece in &sheet.pieces {
            let part = &self.of.blanks[piece.part.0 as usize];
            let mark = || part.mark.clone();
            match panels.iter().position(|panel| panel.rect == piece.at) {
                Some(found) => self.staged(panels.swap_remove(found).stages, &part.mark, faults),
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
            if !self.has_factory_edges(sheet, &piece.at, part, grain_matters) {
                faults.push(Fault::PieceEdge { layout, part: mark() });
            }
        }
    }

    /// Whether the edges that a part wants from the factory lie on such edges of the sheet, whichever way it may be seen to lie.
    fn has_factory_edges(
        &self,
        sheet: &SheetLayout,
        at: &Rect,
        part: &Blank,
        grain_matters: bool,
    ) -> bool {
        let Form::Sheet { along, across } = self.of.stock.items[sheet.stock].form else {
            return !part.factory.any();
        };
        let raw = self.of.factory.get(usize::from(sheet.stock)).copied().unwrap_or_default();
        let on_end = (raw.left && at.x == Length::ZERO) || (raw.right && at.x + at.dx == along);
        let on_long = (raw.upper && at.y == Length::ZERO) || (raw.lower && at.y + at.dy == across);
        ways(part, grain_matters).filter(|way| *way == [at.dx, at.dy]).any(|way| {
            let upright = |lengthwise: bool| {
                let (own_along, own_across) =
                    if lengthwise { (on_long, on_end) } else { (on_end, on_long) };
                (!part.factory.along || own_along) && (!part.factory.across || own_across)
            };
            let lengthwise = way == [part.length, part.width];
            let either =
                part.length == part.width && (!grain_matters || part.grain == Grain::Either);
            upright(lengthwise) || (either && upright(!lengthwise))
        }) || !part.factory.any()
    }

    /// A piece is free after as many stages of cuts as the shop allows, and one that trims, if that is allowed.
    fn staged(&self, stages: u32, part: &str, faults: &mut Vec<Fault>) {
        let Some(most) = self.of.shop.stages else { return };
        let most = u32::from(most) + u32::from(self.of.shop.trimming);
        if stages > most {
            let (layout, part) = (self.layout, part.to_owned());
            faults.push(Fault::TooManyStages { layout, part, stages, most });
        }
    }

    /// An offcut lies in a panel that no piece took, clear of other offcuts, and is worth keeping.
    fn offcuts(&self, sheet: &SheetLayout, panels: &[Rect], faults: &mut Vec<Fault>) {
        let [longer, shorter] = self.of.shop.keep_offcut;
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
        let item = &self.of.stock.items[board.stock];
        let Form::Board { length } = item.form else {
            faults.push(Fault::StockForm { layout, stock: item.name.clone() });
            return;
        };
        let kerf = self.of.shop.kerf;
        let mut end: Option<Length> = None;
        for (index, piece) in board.pieces.iter().enumerate() {
            let part = &self.of.blanks[piece.part.0 as usize];
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
