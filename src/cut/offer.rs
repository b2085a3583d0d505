//! What sheets and boards have in common: what there is of a material, and what is used of it.

use crate::design::derive::sawing;
use crate::design::{Blank, BoardLayout, Purchase, SheetLayout};
use crate::scenario::{FactoryEdges, MaterialId, Shop, Stock, StockId};
use crate::solve::budget::Stop;
use crate::units::Money;

/// Told what the best plan so far of a material costs, if there is one, and what none is below.
pub(super) type Heard<'a> = &'a (dyn Fn(Option<Money>, Money) + Sync);

/// What is to be cut, from what, by whom. `PartId(i)` is `blanks[i]`.
#[derive(Clone, Copy)]
pub(super) struct Ask<'a> {
    pub blanks: &'a [Blank],
    pub stock: &'a Stock,
    pub shop: &'a Shop,
    /// What one of each is worth, in the order of the blanks; `None` and beyond the end: it has to be cut.
    pub worths: &'a [Option<i64>],
    /// By stock, the edges that are as the factory made them; none beyond the end.
    pub factory: &'a [FactoryEdges],
    /// Threads for each material. Changes nothing but the time taken.
    pub threads: usize,
    /// Who hears how a search comes on.
    pub heard: Option<Heard<'a>>,
}

impl Ask<'_> {
    /// The materials of which parts are wanted and that come in boards (or in sheets), in the order of the stock.
    pub fn materials(&self, boards: bool) -> Vec<MaterialId> {
        let mut found: Vec<MaterialId> = (self.blanks.iter())
            .filter(|blank| blank.quantity > 0)
            .map(|blank| blank.material)
            .filter(|id| self.stock.materials[*id].is_board() == boards)
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Passes on what a search tells.
    pub fn hear(&self, objective: Option<i64>, bound: i64) {
        if let Some(heard) = self.heard {
            heard(objective.map(Money::from_parts), Money::from_parts(bound));
        }
    }

    /// What there is of a material: what is on hand at no cost, and more at its price.
    pub fn offers(&self, material: MaterialId) -> Vec<Offer> {
        let mut offers = Vec::new();
        for (stock, item) in self.stock.of(material) {
            offers.push(Offer { stock, price: Money::ZERO, limit: Some(item.on_hand) });
            offers.push(Offer { stock, price: item.price, limit: item.most });
        }
        offers.retain(|offer| offer.limit != Some(0));
        offers
    }
}

/// So many of a stock item at a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Offer {
    pub stock: StockId,
    pub price: Money,
    /// `None` for as many as wanted.
    pub limit: Option<u32>,
}

/// How the parts of one material, or of several, are cut.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Sawn {
    pub sheets: Vec<SheetLayout>,
    pub boards: Vec<BoardLayout>,
    /// No plan costs less.
    pub bound: Money,
    /// What ended a search that has not proved its plan.
    pub stopped_by: Option<Stop>,
}

impl Sawn {
    /// Both together.
    pub fn and(mut self, other: Self) -> Self {
        self.sheets.extend(other.sheets);
        self.boards.extend(other.boards);
        self.bound += other.bound;
        self.stopped_by = self.stopped_by.max(other.stopped_by);
        self
    }

    /// How many of each blank it yields.
    pub fn yields(&self, blanks: usize) -> Vec<u32> {
        let mut made = vec![0; blanks];
        let sheets = self.sheets.iter().flat_map(|l| l.pieces.iter().map(|p| (p.part, l.repeat)));
        let boards = self.boards.iter().flat_map(|l| l.pieces.iter().map(|p| (p.part, l.repeat)));
        for (part, repeat) in sheets.chain(boards) {
            made[part.0 as usize] += repeat;
        }
        made
    }

    /// What is used of the stock, in its order, what is on hand first.
    pub fn purchases(&self, stock: &Stock) -> Vec<Purchase> {
        sawing::purchases(stock, &self.sheets, &self.boards)
    }
}
