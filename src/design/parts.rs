//! Wooden parts as cut, as placed, and counted hardware.

use super::geometry::Box3;
use crate::scenario::{HardwareId, HardwareUse, MaterialId};
use crate::units::{Length, Money};

/// Which part of [`super::Design::parts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

/// A kind of part as it leaves the saw; all copies of a part are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its mark, the same on every sheet of paper: a letter for what it is and a number.
    pub mark: String,
    /// What it is.
    pub role: Role,
    /// What it is made of.
    pub material: MaterialId,
    /// The longer side for boards; for sheet parts the side that lies along the grain if `grain` is `Along`.
    pub length: Length,
    /// The other side.
    pub width: Length,
    /// The material's thickness.
    pub thickness: Length,
    /// How many.
    pub quantity: u32,
    /// How it lies on the sheet; of no account where the material's grain does not matter.
    pub grain: Grain,
}

/// How a part lies on its sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grain {
    /// Its length along the grain.
    Along,
    /// Its length across the grain.
    Across,
    /// Either way.
    Either,
}

/// What a part is in the chest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Panel under the lowest tier.
    Bottom,
    /// Panel between two tiers.
    Shelf,
    /// Panel on top, which carries the load.
    Deck,
    /// Upright divider of the chest, on edge along y.
    Member,
    /// Closes a tier at the cab end, across the members.
    Back,
    /// Packing under the chest: shims, or boards on edge where it is lifted high; as many under each member of the lowest
    /// tier, one or more.
    Packing,
    /// Board on edge beside the chest that carries a full-width tier's panel outside the tier below it, before and behind the
    /// wells; not needed where that hangs over by no more than its own thickness.
    Outrigger,
    /// A drawer's side board.
    Side,
    /// A drawer's front board, between the sides.
    DrawerFront,
    /// A drawer's back board, between the sides.
    DrawerBack,
    /// Board behind the drawer's front that keeps gear off the lock.
    Guard,
    /// A drawer's bottom board, on which the sides stand.
    DrawerBottom,
    /// The front screwed on last.
    AppliedFront,
    /// Square stock sawn on the diagonal; one part is the square length that gives two blocks.
    CornerBlock,
    /// Divider board.
    Divider,
    /// Block at the chest's back that brings a drawer's front flush: the same number for every drawer, or none if they are
    /// left to what falls from the saw.
    StopBlock,
    /// Lid over a side pocket.
    Lid,
}

/// One placed piece of wood, in the bed's frame with every drawer shut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Solid {
    /// Which part it is.
    pub part: PartId,
    /// Where it is.
    pub space: Box3,
    /// The drawer it moves with, as an index into [`super::Design::drawers`]; `None` if it belongs to the chest.
    pub drawer: Option<usize>,
}

/// Counted hardware.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HardwareLine {
    /// What it is for.
    pub use_: HardwareUse,
    /// The hardware that serves; `None` if the scenario lists none for this use, which then costs nothing.
    pub hardware: Option<HardwareId>,
    /// What is needed, in the use's own measure.
    pub need: Need,
    /// Packages needed, those on hand included.
    pub packages: u32,
    /// What the packages beyond those on hand cost.
    pub cost: Money,
}

/// How much hardware is needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// So many.
    Count(u32),
    /// So much length.
    Length(Length),
    /// So much area.
    Area(crate::units::Area),
}
