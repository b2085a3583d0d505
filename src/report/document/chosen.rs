//! One design as data: where everything stands, what it is made of, how it is cut and what it costs.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fits::Fits;
use super::kinds::{
    DeckGrain, Family, Grain, HardwareUse, PocketPlace, Role, Runs, Sense, Stop, Verdict,
};
use super::measure::{Amount, Kg, Litres, Mm, Place, Space, SquareMetres};
pub use super::sawn::{
    BoardPattern, BoardPiece, Cost, Cut, Cutting, Purchase, PurchaseKind, SheetPattern, SheetPiece,
};

/// A design with its place among the others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Design {
    /// Its place, from 1.
    pub rank: usize,
    /// A short name made from what the design is: the same on every run and machine.
    pub id: String,
    /// What it is, in words.
    pub words: String,
    /// Whether no other design found is at least as good in everything and better in something.
    pub undominated: bool,
    /// How many designs much like it were left off the list.
    pub near_twins: usize,
    /// Σ of the contributions.
    pub score: f64,
    /// What it is ranked by.
    pub criteria: Criteria,
    /// Points that each criterion brought.
    pub contributions: BTreeMap<String, f64>,
    /// What is proved of it.
    pub proof: Proof,
    /// The discrete choices.
    pub structure: Structure,
    /// The chest.
    pub chest: Chest,
    /// Tier by tier from the bottom, each from left to right.
    pub drawers: Vec<Drawer>,
    /// The pockets beside the wheel wells that are used.
    pub pockets: Vec<Pocket>,
    /// What is not stowed.
    pub left_out: Vec<LeftOut>,
    /// Every wooden part.
    pub parts: Vec<Part>,
    /// Counted hardware.
    pub hardware: Vec<HardwareLine>,
    /// How the parts come out of stock.
    pub cutting: Cutting,
    /// What to buy or take from what is on hand.
    pub purchase: Vec<Purchase>,
    /// What it costs, by kind.
    pub cost: Cost,
    /// Strength, pull, payload.
    pub checks: Vec<Check>,
    /// Which fits hold however far sizes are off.
    pub fits: Fits,
}

/// What designs are ranked by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Criteria {
    /// Σ inside width × length × clear height of the drawers.
    pub usable_volume: Litres,
    /// Σ worth of the stowed optional gear, points.
    pub value: f64,
    /// Σ uses × pull needed to lift the thing out ÷ Σ uses, mm; 0 if nothing stowed is ever used.
    pub reach: f64,
    /// 1 − (volume of parts + offcuts kept) ÷ volume of stock used up.
    pub waste: f64,
    /// The same over sheets alone.
    pub sheet_waste: f64,
    /// The same over boards alone.
    pub board_waste: f64,
    /// What must be bought.
    pub cost: Amount,
    /// The empty chest, wood and hardware.
    pub mass: Kg,
    /// The chest with its gear.
    pub loaded_mass: Kg,
    /// Least limit ÷ value over the strength checks; null without any.
    pub margin: Option<f64>,
    /// Pieces of wood to cut, plus different cutting patterns.
    pub simplicity: u32,
}

/// What is proved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Proof {
    /// Whether a better design is impossible, or this is what was found.
    pub status: Status,
    /// No design with these tiers stows more worth than this, points; null if no bound is known.
    pub value_bound: Option<f64>,
    /// What ended the search early; null if it ran to its end.
    pub stopped_by: Option<Stop>,
}

/// How good an answer is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Proved best.
    Optimal,
    /// Found; better may exist.
    Feasible,
}

/// The discrete choices; materials by name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Structure {
    /// Where the chest stands.
    pub family: Family,
    /// Whether tiers between the wells are held to one sheet's width.
    pub seamless: bool,
    /// Bottom to top.
    pub tiers: Vec<TierChoice>,
    /// Bottom panel and panels between tiers.
    pub bottom: String,
    /// Deck.
    pub deck: String,
    /// Which way its grain runs.
    pub deck_grain: DeckGrain,
    /// Drawers' sides, fronts, backs and guards.
    pub sides: String,
    /// Drawers' bottoms.
    pub drawer_bottom: String,
    /// Applied fronts.
    pub front: String,
    /// Dividers.
    pub divider: String,
    /// What the drawers slide on.
    pub runs: Runs,
}

/// The choices of one tier.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TierChoice {
    /// How many openings side by side.
    pub columns: u32,
    /// Its members' material.
    pub member: String,
    /// How high its openings are.
    pub height: Mm,
}

/// The chest, in the bed's frame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Chest {
    /// Members and back piece together, along the bed.
    pub length: Mm,
    /// The widest tier, outside.
    pub width: Mm,
    /// The deck's top above the bed's floor.
    pub height: Mm,
    /// What lifts the bottom panel off the floor.
    pub shim: Mm,
    /// Of that, what the open tailgate asks for.
    pub shim_for_tailgate: Mm,
    /// y of the members' front edges.
    pub front_y: Mm,
    /// Bottom to top.
    pub tiers: Vec<Tier>,
    /// Members, as placed.
    pub members: Vec<Board>,
    /// Bottom, shelves and deck, as placed.
    pub panels: Vec<Board>,
    /// Everything else of the chest that has a place: backs, packing, outriggers, lids, stop blocks.
    pub others: Vec<Board>,
}

/// A tier's frame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tier {
    /// x of its left side.
    pub x: Mm,
    /// z of the panel's top on which it stands.
    pub z: Mm,
    /// Its whole width, outer members included.
    pub width: Mm,
    /// Its openings' height.
    pub height: Mm,
    /// Thickness of one member.
    pub member: Mm,
    /// Length of its members.
    pub inside_length: Mm,
    /// Widths of its openings from left to right.
    pub openings: Vec<Mm>,
}

/// A placed piece of wood.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Board {
    /// Which part.
    pub mark: String,
    /// What it is.
    pub role: Role,
    /// Where it is, in the bed's frame, drawers shut.
    #[serde(flatten)]
    pub space: Space,
}

/// A drawer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Drawer {
    /// `A1` is the lowest tier's leftmost.
    pub name: String,
    /// From 0 at the bottom.
    pub tier: usize,
    /// From 0 at the left.
    pub column: usize,
    /// The box's corner when shut, across, in the bed's frame.
    pub x: Mm,
    /// The same, toward the cab.
    pub y: Mm,
    /// The same, up.
    pub z: Mm,
    /// The box outside, without its applied front: width, length, height.
    pub outside: [Mm; 3],
    /// The clear inside: width, length, height.
    pub inside: [Mm; 3],
    /// What its gear and dividers leave over of the inside's width and length. What a tier's width leaves over goes to its
    /// narrowest drawers first, as even openings strain deck and shelves least, and inside a drawer evenly to its lanes.
    pub left_over: [Mm; 2],
    /// The origin of the drawer's own frame when shut, in the bed's frame.
    pub inside_at: Place,
    /// Its opening: width, height.
    pub opening: [Mm; 2],
    /// The room of its opening, in the bed's frame.
    pub opening_space: Space,
    /// Its wood as placed, shut, in the bed's frame; dividers among it.
    pub boards: Vec<Board>,
    /// Its dividers, in the drawer's frame.
    pub dividers: Vec<Divider>,
    /// The gear in it, in the drawer's frame.
    pub gear: Vec<GearAt>,
    /// The loose goods in it, in the drawer's frame.
    pub loose: Vec<LooseAt>,
}

/// A side pocket, in which gear stands on the bed's floor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pocket {
    /// Which one.
    pub place: PocketPlace,
    /// Its clear room under the lid, in the bed's frame; its own frame begins at the corner.
    #[serde(flatten)]
    pub space: Space,
    /// Its dividers, in the pocket's frame.
    pub dividers: Vec<Divider>,
    /// The gear in it, in the pocket's frame.
    pub gear: Vec<GearAt>,
    /// The loose goods in it, in the pocket's frame.
    pub loose: Vec<LooseAt>,
}

/// A divider.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Divider {
    /// Which part.
    pub mark: String,
    /// Where.
    #[serde(flatten)]
    pub space: Space,
}

/// Stowed gear.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GearAt {
    /// What.
    pub name: String,
    /// Which copy, from 0.
    pub copy: u32,
    /// The room it takes, without its padding.
    #[serde(flatten)]
    pub space: Space,
}

/// Stowed loose goods.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LooseAt {
    /// What.
    pub name: String,
    /// How much of it.
    pub volume: Litres,
    /// The room it takes.
    #[serde(flatten)]
    pub space: Space,
}

/// Copies that are not stowed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LeftOut {
    /// What.
    pub name: String,
    /// How many copies.
    pub count: u32,
    /// Why.
    pub why: Why,
    /// By how much the nearest way of standing fails; absent where nothing is too large.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub by: Option<Mm>,
}

/// Why something is not stowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// No drawer is high enough.
    TooHigh,
    /// No drawer is long or wide enough.
    TooLarge,
    /// It would fit alone; other gear took the room.
    NoRoom,
}

/// A kind of part as it leaves the saw.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    /// Its mark on every sheet of paper.
    pub mark: String,
    /// What it is, in words.
    pub name: String,
    /// What it is.
    pub role: Role,
    /// What it is made of.
    pub material: String,
    /// The side along the grain if `grain` is `along`; a board's longer side.
    pub length: Mm,
    /// The other side.
    pub width: Mm,
    /// The material's thickness.
    pub thickness: Mm,
    /// How many.
    pub quantity: u32,
    /// How it lies on the sheet.
    pub grain: Grain,
}

/// Counted hardware.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HardwareLine {
    /// What it is for.
    #[serde(rename = "use")]
    pub use_: HardwareUse,
    /// The hardware that serves; null if the scenario lists none, which then costs nothing.
    pub name: Option<String>,
    /// What is needed.
    pub need: Need,
    /// Packages needed, those on hand included.
    pub packages: u32,
    /// What the packages beyond those on hand cost.
    pub cost: Amount,
}

/// How much hardware is needed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Need {
    /// So many.
    Count(u32),
    /// So many millimetres.
    Length(Mm),
    /// So many square metres.
    Area(SquareMetres),
}

/// One check.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Check {
    /// What is checked.
    pub name: String,
    /// What was found, in `unit`; null if it is beyond every number.
    pub value: Option<f64>,
    /// What is allowed, in `unit`.
    pub limit: Option<f64>,
    /// Whether the limit is the most or the least allowed.
    pub sense: Sense,
    /// The unit of both.
    pub unit: String,
    /// Whether it passes.
    pub pass: bool,
    /// How it came out.
    pub verdict: Verdict,
    /// Whether it is a matter of look, feel or a cautious assumption: a design that fails it is offered only where none found
    /// fails fewer.
    pub advisory: bool,
    /// Whether it is only to know of, as a hint for the bench or the road.
    pub note: bool,
    /// How many times over it passes; null where nothing loads it.
    pub margin: Option<f64>,
    /// Whether it counts as a strength check, whose margin is a criterion.
    pub strength: bool,
    /// Where formula and limit come from.
    pub source: String,
    /// What was assumed.
    pub remark: String,
}
