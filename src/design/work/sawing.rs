//! Cuts as they are made: from which edge, at which setting, what falls on either side.

use crate::design::cutting::{Axis, Rect};
use crate::design::parts::PartId;
use crate::units::Length;

/// What the sheets are sawn with. The two want different orders.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Saw {
    /// A hand-held circular saw along a guide: the sheet lies still.
    Guide,
    /// A table saw: the sheet moves along a fence, or across on a sled; what is too large for either goes under the guide.
    Table,
}

/// What one cut is made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tool {
    /// Hand-held saw along a guide clamped at the setting.
    Guide,
    /// Table saw, the edge against the fence.
    Fence,
    /// Table saw, the edge against a stop on the crosscut sled.
    Sled,
}

/// All cuts of a work plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sawing {
    /// What the sheets are sawn with.
    pub saw: Saw,
    /// One entry for each of the cutting plan's sheets, in its order.
    pub sheets: Vec<SheetWork>,
    /// One entry for each of the cutting plan's boards, in its order.
    pub boards: Vec<BoardWork>,
    /// Boards ripped to width after they are cut to length, like settings together.
    pub rips: Vec<Rip>,
    /// Square lengths sawn on the diagonal, last of all.
    pub diagonals: Vec<Diagonal>,
}

/// The cuts of one sheet pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetWork {
    /// The cuts in order. Each goes straight from edge to edge of a panel that exists by then.
    pub cuts: Vec<SawCut>,
    /// What is kept for another job, as it comes off the saw, in the raw sheet's frame.
    pub kept: Vec<Rect>,
    /// How many of its cuts need a setting that the cut before (or the sheet before) did not have.
    pub setups: u32,
}

/// One straight cut from edge to edge of a panel.
///
/// The blade takes `setting .. setting + kerf` from the edge, or less if the panel ends before: the kerf always lies beyond
/// the setting, so that what is between the edge and the guide or fence comes out as long as the setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SawCut {
    /// What it is made with.
    pub tool: Tool,
    /// The panel that is cut: 0 is the raw sheet, the others are numbered as they come.
    pub panel: u32,
    /// Where that panel is in the raw sheet's frame.
    pub rect: Rect,
    /// Which way it divides.
    pub axis: Axis,
    /// The panel's edge that is measured from.
    pub from: Edge,
    /// From that edge to the blade's near side.
    pub setting: Length,
    /// What is between the edge and the blade.
    pub near: Yield,
    /// What is beyond the blade; `None` if the blade takes all of it.
    pub far: Option<Yield>,
}

/// Which of a panel's two edges along an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// The one with the lesser coordinate.
    Low,
    /// The one with the greater coordinate.
    High,
}

/// What a side of a cut is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Yield {
    /// A finished part.
    Part(PartId),
    /// A panel that is cut further.
    Panel(u32),
    /// Something to keep for another job: an index into [`SheetWork::kept`].
    Kept(u32),
    /// Waste.
    Waste,
}

/// The cuts of one board pattern, from one end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoardWork {
    /// The cuts to length, in order from the board's end.
    pub cuts: Vec<BoardCut>,
    /// What is left after the last cut.
    pub rest: Length,
    /// Whether that is worth keeping.
    pub keep: bool,
    /// How many of its cuts need a stop that the cut before did not have.
    pub setups: u32,
}

/// One piece cut to length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardCut {
    /// What comes off.
    pub part: PartId,
    /// From the end that was sawn last (at first the board's own) to the blade's near side.
    pub setting: Length,
    /// Whether there is a cut at all: the last piece may end where the board does.
    pub sawn: bool,
}

/// Boards ripped to a part's width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rip {
    /// The part.
    pub part: PartId,
    /// How many pieces.
    pub pieces: u32,
    /// From the edge to the blade's near side: the part's width.
    pub setting: Length,
    /// What is left of the board's width beyond the kerf.
    pub rest: Length,
}

/// Square lengths sawn into two blocks each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Diagonal {
    /// The part.
    pub part: PartId,
    /// How many lengths.
    pub pieces: u32,
}
