//! Everything that can be wrong with a work plan.

use std::fmt;

use crate::scenario::HardwareUse;
use crate::verify::Fault;

/// One thing that is wrong with a work plan. Layouts and cuts count from 0.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each variant's sentence tells its fields")]
pub enum WorkFault {
    /// What a design's own cutting plan or shopping list can have wrong too.
    Of(Fault),
    /// A reference to something that does not exist.
    NoSuch { what: &'static str, index: u64 },
    /// The plan has not a list of cuts for each pattern.
    Lists { patterns: usize, lists: usize },
    /// A cut goes through a panel that does not exist, or not as it stands.
    NoPanel { layout: usize, cut: usize },
    /// A cut leaves nothing on the side that is measured.
    Beyond { layout: usize, cut: usize },
    /// What is said to come off a cut is not what is there.
    NotThat { layout: usize, cut: usize },
    /// A part comes off stock of another material.
    PartMaterial { layout: usize, part: String },
    /// Something is left on the bench that is neither part nor kept nor waste.
    LeftOver { layout: usize, panel: u32 },
    /// A rest that is not worth keeping is kept.
    TooSmallToKeep { layout: usize },
    /// Set-ups are not what the settings say.
    Setups { layout: usize, stated: u32, counted: u32 },
    /// Too many or too few of a part come off the saw.
    Count { part: String, sawn: u64, wanted: u64 },
    /// A part is not ripped to its width, or is although it needs not.
    Rip { part: String },
    /// A part is not sawn on the diagonal, or is although it needs not.
    Diagonal { part: String },

    /// Hardware is not counted for all the sets, or is another than the design's.
    Hardware { use_: HardwareUse },

    // Pieces and holes.
    /// The pieces are not the design's solids and the copies without a place.
    Pieces,
    /// There are not as many pieces of a part as it has copies.
    PieceCount { part: String, count: u64, wanted: u64 },
    /// A row of holes on a piece without a place, on an edge, or without a hole.
    HoleAstray { row: usize, part: String },
    /// A hole is too near its piece's edge, or beyond it.
    HoleEdge { row: usize, part: String },
    /// Two screws are farther apart than the scenario says.
    Spacing { row: usize, part: String },
    /// Screws end in nothing, or too near the face of what they hold.
    HoldsNothing { row: usize, part: String },
    /// Two pieces that lie on each other are not screwed together.
    NotHeld { one: String, other: String },
    /// Holes and shopping list do not agree.
    ScrewCount { use_: HardwareUse, holes: u64, listed: u64 },

    /// What is let into a front leaves too little wood at an edge of a board that it goes through, or lies beyond it.
    CutOutEdge { row: usize, part: String },
    /// What is let into a front meets, or nearly, what another row bores, lets in or leads past.
    CutOutMeets { row: usize, part: String, other: usize },
    /// A lock's rod does not run straight from its lock to where it is expected.
    RodAstray { row: usize, part: String },
    /// A board stands in the way of a lock's rod.
    RodBlocked { row: usize, part: String, by: String },

    // Steps.
    /// A piece is not used once.
    PieceUsed { piece: usize, times: u32 },
    /// A row's screws are not driven once.
    RowUsed { row: usize, times: u32 },
    /// A step's work is not taken up once.
    StepJoined { step: usize, times: u32 },
    /// A step needs a piece that is not there yet.
    NotThereYet { step: usize, row: usize },
    /// A step's screws cannot be reached.
    OutOfReach { step: usize, row: usize, by: String },
}

impl From<Fault> for WorkFault {
    fn from(fault: Fault) -> Self {
        Self::Of(fault)
    }
}

/// One sentence without its full stop.
impl fmt::Display for WorkFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use WorkFault::*;
        match self {
            Of(fault) => fault.fmt(f),
            NoSuch { what, index } => write!(f, "there is no {what} number {index}"),
            Lists { patterns, lists } => {
                write!(f, "there are {lists} lists of cuts for {patterns} patterns")
            }
            NoPanel { layout, cut } => {
                write!(f, "pattern {layout}: cut {cut} goes through a panel that is not there")
            }
            Beyond { layout, cut } => {
                write!(f, "pattern {layout}: cut {cut} lies beyond its panel")
            }
            NotThat { layout, cut } => {
                write!(f, "pattern {layout}: cut {cut} does not give what is said")
            }
            PartMaterial { layout, part } => {
                write!(f, "pattern {layout}: part {part} is of another material")
            }
            LeftOver { layout, panel } => {
                write!(f, "pattern {layout}: panel {panel} is left without a further cut")
            }
            TooSmallToKeep { layout } => {
                write!(f, "pattern {layout}: a rest is kept that is too small")
            }
            Setups { layout, stated, counted } => write!(
                f,
                "pattern {layout}: {stated} set-ups are stated, but the settings make {counted}"
            ),
            Count { part, sawn, wanted } => {
                write!(f, "{sawn} of part {part} come off the saw, but {wanted} are wanted")
            }
            Rip { part } => write!(f, "the rips of part {part} do not give its width"),
            Diagonal { part } => write!(f, "the diagonal cuts of part {part} are not as they must"),
            Hardware { use_ } => {
                write!(f, "hardware for {use_:?} is not that of the design for all sets")
            }
            Pieces => write!(f, "the pieces are not those of the design"),
            PieceCount { part, count, wanted } => {
                write!(f, "there are {count} pieces of part {part}, but it has {wanted} copies")
            }
            HoleAstray { row, part } => write!(f, "row {row} is bored into no face of part {part}"),
            HoleEdge { row, part } => write!(f, "row {row} is too near an edge of part {part}"),
            Spacing { row, part } => write!(f, "row {row} of part {part} is spaced too wide"),
            HoldsNothing { row, part } => {
                write!(f, "screws of row {row} through part {part} do not end in what they hold")
            }
            NotHeld { one, other } => write!(f, "parts {one} and {other} are not screwed together"),
            ScrewCount { use_, holes, listed } => {
                write!(f, "{holes} holes take a {use_:?}, but {listed} are on the shopping list")
            }
            CutOutEdge { row, part } => {
                write!(f, "what row {row} lets in leaves too little wood at an edge of part {part}")
            }
            CutOutMeets { row, part, other } => {
                write!(f, "what row {row} lets into part {part} is in the way of row {other}")
            }
            RodAstray { row, part } => {
                write!(f, "row {row}: a rod does not run straight through part {part}")
            }
            RodBlocked { row, part, by } => {
                write!(f, "row {row}: the rod through part {part} meets part {by}")
            }
            PieceUsed { piece, times } => write!(f, "piece {piece} is used {times} times"),
            RowUsed { row, times } => write!(f, "row {row} is driven {times} times"),
            StepJoined { step, times } => {
                write!(f, "the work of step {step} is taken up {times} times")
            }
            NotThereYet { step, row } => {
                write!(f, "step {step}: row {row} needs a piece that is not there yet")
            }
            OutOfReach { step, row, by } => {
                write!(f, "step {step}: row {row} cannot be reached for part {by}")
            }
        }
    }
}
