//! A parts list to be cut from stock: all that is given where there is no vehicle.

use super::ids::{MaterialId, StockId};
use super::stock::{Shop, Stock};
use crate::units::{Length, UnitSystem};

/// Parts, the stock they may be cut from, and the shop that cuts them.
///
/// A material may be without thickness (zero) and its strength unknown: neither matters to the saw.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingJob {
    /// One line that names it.
    pub title: String,
    /// How its lengths are shown.
    pub units: UnitSystem,
    /// The currency of every price.
    pub currency: String,
    /// What can be bought or is at hand; no hardware.
    pub stock: Stock,
    /// The saw and the bench. A least rip of nothing sets no limit.
    pub shop: Shop,
    /// What is to be cut, in the order of the list. Names need not be unique.
    pub parts: Vec<JobPart>,
    /// By stock: the edges that are as the factory made them. None of what is trimmed, of offcuts unless it was said, or of
    /// boards; none beyond the end of the list.
    pub factory: Vec<FactoryEdges>,
}

impl CuttingJob {
    /// The edges of a stock that are as the factory made them.
    pub fn factory_edges(&self, stock: StockId) -> FactoryEdges {
        self.factory.get(usize::from(stock)).copied().unwrap_or_default()
    }
}

/// Edges of a sheet that are as the factory made them, straight and square. It is seen with its grain from left to right, as on
/// the cutting plans.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct FactoryEdges {
    /// An end of its grain.
    pub left: bool,
    /// The other end.
    pub right: bool,
    /// An edge along its grain.
    pub upper: bool,
    /// The other edge along it.
    pub lower: bool,
}

impl FactoryEdges {
    /// All four.
    pub const ALL: Self = Self { left: true, right: true, upper: true, lower: true };
}

/// The edges of a part that must be factory edges of its sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct FactoryNeed {
    /// One of the two that run along its length.
    pub along: bool,
    /// One of its two ends.
    pub across: bool,
}

impl FactoryNeed {
    /// Whether it needs any.
    pub fn any(self) -> bool {
        self.along || self.across
    }
}

/// Equal parts of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobPart {
    /// What it is called.
    pub name: String,
    /// What it is made of.
    pub material: MaterialId,
    /// Along the grain, or along the board. Positive, and so is the width; each part by itself fits some stock.
    pub length: Length,
    /// Across the grain; no more than the board's width for a board.
    pub width: Length,
    /// How many. Positive.
    pub count: u32,
    /// Whether it may be cut across the grain; of no account where the material's grain does not matter, and for boards.
    pub turn: bool,
    /// The edges that must be factory edges; none of what is cut from boards.
    pub factory: FactoryNeed,
    /// What one is worth, in thousandths of a point: it need not be cut, and the most worth is. `None`: it has to be cut.
    pub worth_milli: Option<i64>,
}
