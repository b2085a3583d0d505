//! Cutting plans and what must be bought for them.

use super::parts::{Grain, Part, PartId};
use crate::scenario::{FactoryNeed, HardwareId, MaterialId, StockId};
use crate::units::{Length, Money};

/// A part as the saw sees it, whatever it is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blank {
    /// What it is called on paper.
    pub mark: String,
    /// What it is made of.
    pub material: MaterialId,
    /// Along a board; on a sheet the side that lies along the grain if `grain` is `Along`.
    pub length: Length,
    /// The other side.
    pub width: Length,
    /// How many.
    pub quantity: u32,
    /// How it lies on a sheet; of no account where the material's grain does not matter.
    pub grain: Grain,
    /// The edges that must be factory edges of its sheet.
    pub factory: FactoryNeed,
}

impl From<&Part> for Blank {
    fn from(part: &Part) -> Self {
        Self {
            mark: part.mark.clone(),
            material: part.material,
            length: part.length,
            width: part.width,
            quantity: part.quantity,
            grain: part.grain,
            factory: FactoryNeed::default(),
        }
    }
}

/// How every part comes out of stock.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CuttingPlan {
    /// What the blade takes.
    pub kerf: Length,
    /// Sheets, in cutting order.
    pub sheets: Vec<SheetLayout>,
    /// Boards, in cutting order.
    pub boards: Vec<BoardLayout>,
    /// Whether no plan needs less money for stock: proved, or only found.
    pub proved: bool,
    /// No plan's stock costs less than this.
    pub bound: Money,
}

/// One cutting pattern on sheets of one size.
///
/// Coordinates are those of the raw sheet: x along its grain, y across. The trims come off first; then the cuts
/// in order, each of which splits a panel that exists by then from edge to edge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetLayout {
    /// The sheet.
    pub stock: StockId,
    /// How many sheets are cut like this.
    pub repeat: u32,
    /// Taken off each edge first (nothing for an offcut).
    pub trim: Length,
    /// The parts.
    pub pieces: Vec<SheetPiece>,
    /// The cuts, in an order in which they can be made.
    pub cuts: Vec<Cut>,
    /// What is left and large enough to keep.
    pub offcuts: Vec<Rect>,
}

/// A part on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SheetPiece {
    /// Which part.
    pub part: PartId,
    /// Where. `dx` is its extent along the sheet's grain.
    pub at: Rect,
}

/// A rectangle on a sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rect {
    /// Along the grain.
    pub x: Length,
    /// Across the grain.
    pub y: Length,
    /// Extent along the grain.
    pub dx: Length,
    /// Extent across the grain.
    pub dy: Length,
}

/// Which way a cut divides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// The blade stands at a constant x and runs along y.
    X,
    /// The blade stands at a constant y and runs along x.
    Y,
}

/// One edge-to-edge cut of a panel. The blade takes `at .. at + kerf`, or less if the panel ends before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cut {
    /// The panel that is cut.
    pub panel: Rect,
    /// Which way.
    pub axis: Axis,
    /// Where the kept side ends and the kerf begins, in the sheet's frame.
    pub at: Length,
}

/// One cutting pattern on boards of one length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoardLayout {
    /// The board.
    pub stock: StockId,
    /// How many boards are cut like this.
    pub repeat: u32,
    /// The parts from one end, a kerf between neighbours.
    pub pieces: Vec<BoardPiece>,
    /// What is left at the other end after the last kerf.
    pub offcut: Length,
}

/// A part on a board.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct BoardPiece {
    /// Which part.
    pub part: PartId,
    /// Where it begins.
    pub at: Length,
    /// Its length.
    pub length: Length,
}

/// Something to buy or to take from what is on hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// What.
    pub what: PurchaseOf,
    /// How many are used.
    pub quantity: u32,
    /// How many of those are on hand.
    pub on_hand: u32,
    /// The price of one.
    pub unit_price: Money,
    /// What those beyond the ones on hand cost.
    pub cost: Money,
}

/// A stock item or hardware.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PurchaseOf {
    /// A sheet, a board or an offcut.
    Stock(StockId),
    /// Hardware.
    Hardware(HardwareId),
}
