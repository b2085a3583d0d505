//! A design's cutting plans and what is bought for it, as data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::kinds::Axis;
use super::measure::{Amount, Mm, Rectangle};

/// The cutting plans.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cutting {
    /// What the blade takes.
    pub kerf: Mm,
    /// Whether no plan's stock costs less: proved, or only found.
    pub proved: bool,
    /// No plan's stock costs less than this.
    pub bound: Amount,
    /// Sheets, in cutting order.
    pub sheets: Vec<SheetPattern>,
    /// Boards, in cutting order.
    pub boards: Vec<BoardPattern>,
}

/// One pattern on sheets of one size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SheetPattern {
    /// Name of the stock.
    pub stock: String,
    /// The raw sheet, along its grain.
    pub length: Mm,
    /// The raw sheet, across its grain.
    pub width: Mm,
    /// Taken off each edge first.
    pub trim: Mm,
    /// How many sheets are cut like this.
    pub repeat: u32,
    /// The parts.
    pub pieces: Vec<SheetPiece>,
    /// The cuts, in an order in which they can be made, each from edge to edge of the panel that is there by then.
    pub cuts: Vec<Cut>,
    /// What is left and kept.
    pub offcuts: Vec<Rectangle>,
}

/// A part on a sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SheetPiece {
    /// Which part.
    pub mark: String,
    /// Where.
    #[serde(flatten)]
    pub at: Rectangle,
}

/// One edge-to-edge cut. The blade takes `at` to `at + kerf`, or less if the panel ends before.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cut {
    /// The panel that is cut.
    pub panel: Rectangle,
    /// Which way it divides.
    pub axis: Axis,
    /// Where the kept side ends and the kerf begins.
    pub at: Mm,
}

/// One pattern on boards of one length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BoardPattern {
    /// Name of the stock.
    pub stock: String,
    /// The board.
    pub length: Mm,
    /// How many boards are cut like this.
    pub repeat: u32,
    /// The parts from one end.
    pub pieces: Vec<BoardPiece>,
    /// What is left at the other end.
    pub offcut: Mm,
}

/// A part on a board.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BoardPiece {
    /// Which part.
    pub mark: String,
    /// Where it begins.
    pub at: Mm,
    /// Its length.
    pub length: Mm,
}

/// Something to buy or to take from what is on hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Purchase {
    /// Name of the stock or hardware.
    pub stock: String,
    /// What it is.
    pub kind: PurchaseKind,
    /// How many are used.
    pub quantity: u32,
    /// How many of those are on hand.
    pub on_hand: u32,
    /// The price of one.
    pub unit_price: Amount,
    /// What those beyond the ones on hand cost.
    pub cost: Amount,
}

/// What kind of thing is bought.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum PurchaseKind {
    /// A sheet.
    Sheet,
    /// A board.
    Board,
    /// Hardware.
    Hardware,
}

/// What a design costs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cost {
    /// All of it.
    pub total: Amount,
    /// Sheets.
    pub sheets: Amount,
    /// Boards.
    pub boards: Amount,
    /// Hardware.
    pub hardware: Amount,
}
