//! What is done at the saw and the bench: a design as work.
//!
//! A [`WorkPlan`] adds to a design nothing that it does not already hold; it says in which order and from which edge the
//! cuts are made, where every hole is, and in which order the pieces go together. The `build` room makes it, `verify`
//! replays it.

mod drilling;
mod sawing;
mod steps;

pub use drilling::{HoleKind, Piece, PieceId, Plane, Row, Side};
pub use sawing::{
    BoardCut, BoardWork, Diagonal, Edge, Rip, Saw, SawCut, Sawing, SheetWork, Tool, Yield,
};
pub use steps::{Step, StepKind};

/// A design, or several sets of it, as work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkPlan {
    /// How many sets are built at once; at least 1.
    pub sets: u32,
    /// How the parts of all the sets come out of stock.
    pub cutting: super::CuttingPlan,
    /// What to buy or take from what is on hand for all the sets: stock, then hardware.
    pub purchases: Vec<super::Purchase>,
    /// Counted hardware of all the sets.
    pub hardware: Vec<super::HardwareLine>,
    /// The cuts in their order.
    pub sawing: Sawing,
    /// Every piece of one set.
    pub pieces: Vec<Piece>,
    /// Every row of holes of one set.
    pub rows: Vec<Row>,
    /// The assembly of one set.
    pub steps: Vec<Step>,
}

impl WorkPlan {
    /// The piece of `id`.
    ///
    /// # Panics
    /// If the id belongs to another plan.
    pub fn piece(&self, id: PieceId) -> &Piece {
        &self.pieces[id.0 as usize]
    }
}
