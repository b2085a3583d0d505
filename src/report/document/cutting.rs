//! Cutting plans and purchases in the document's terms.

use super::chosen as out;
use crate::design::{self, PartId, PurchaseOf};
use crate::report::naming::{Names, stock_size};
use crate::scenario::Stock;

/// Cutting plans of parts called by their marks.
pub(super) struct Cuts<'a> {
    pub stock: &'a Stock,
    pub names: &'a Names,
    /// By part.
    pub marks: Vec<&'a str>,
}

impl Cuts<'_> {
    fn mark(&self, part: PartId) -> String {
        self.marks.get(part.0 as usize).copied().unwrap_or_default().to_owned()
    }

    pub fn cutting(&self, plan: &design::CuttingPlan) -> out::Cutting {
        out::Cutting {
            kerf: plan.kerf.into(),
            proved: plan.proved,
            bound: plan.bound.into(),
            sheets: plan.sheets.iter().map(|layout| self.sheet(layout)).collect(),
            boards: plan.boards.iter().map(|layout| self.board(layout)).collect(),
        }
    }

    fn sheet(&self, layout: &design::SheetLayout) -> out::SheetPattern {
        let [length, width] = stock_size(self.stock, layout.stock);
        out::SheetPattern {
            stock: self.names.stock(layout.stock).to_owned(),
            length: length.into(),
            width: width.into(),
            trim: layout.trim.into(),
            repeat: layout.repeat,
            pieces: layout
                .pieces
                .iter()
                .map(|piece| out::SheetPiece { mark: self.mark(piece.part), at: piece.at.into() })
                .collect(),
            cuts: layout
                .cuts
                .iter()
                .map(|cut| out::Cut {
                    panel: cut.panel.into(),
                    axis: cut.axis.into(),
                    at: cut.at.into(),
                })
                .collect(),
            offcuts: layout.offcuts.iter().map(|&offcut| offcut.into()).collect(),
        }
    }

    fn board(&self, layout: &design::BoardLayout) -> out::BoardPattern {
        out::BoardPattern {
            stock: self.names.stock(layout.stock).to_owned(),
            length: stock_size(self.stock, layout.stock)[0].into(),
            repeat: layout.repeat,
            pieces: layout
                .pieces
                .iter()
                .map(|piece| out::BoardPiece {
                    mark: self.mark(piece.part),
                    at: piece.at.into(),
                    length: piece.length.into(),
                })
                .collect(),
            offcut: layout.offcut.into(),
        }
    }

    pub fn purchase(&self, bought: &design::Purchase) -> out::Purchase {
        out::Purchase {
            stock: self.names.purchase(bought.what).to_owned(),
            kind: kind(self.stock, bought.what),
            quantity: bought.quantity,
            on_hand: bought.on_hand,
            unit_price: bought.unit_price.into(),
            cost: bought.cost.into(),
        }
    }
}

/// Whether something to buy is a sheet, a board or hardware.
pub(in crate::report) fn kind(stock: &Stock, what: PurchaseOf) -> out::PurchaseKind {
    match what {
        PurchaseOf::Hardware(_) => out::PurchaseKind::Hardware,
        PurchaseOf::Stock(id) => {
            let material = stock.items[id].material;
            if stock.materials[material].is_board() {
                out::PurchaseKind::Board
            } else {
                out::PurchaseKind::Sheet
            }
        }
    }
}
