//! How it all goes together.

use super::drilling::PieceId;

/// One step of the assembly.
///
/// Steps are done in their order. What a step has on the bench is its own pieces and all that earlier steps brought together,
/// of those it joins; each step but the last is joined by one later step, so that the steps form a tree whose root is the
/// finished chest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub kind: StepKind,
    /// Pieces that are new in it.
    pub pieces: Vec<PieceId>,
    /// Rows of holes whose screws are driven in it (or whose hardware is fitted), as indices into
    /// [`super::WorkPlan::rows`].
    pub rows: Vec<usize>,
    /// Earlier steps whose work is brought in, as indices.
    pub joins: Vec<usize>,
}

/// What a step does. Tiers count from 0 at the bottom; drawers are indices into the design's.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKind {
    /// The bottom panels are laid out and countersunk from below; members and back are set on and screwed.
    Frame,
    /// A panel between tiers gets, on the bench and from below, what stands on it where no member stands under it.
    Module(usize),
    /// What carries a full-width tier's panel beside the tier below is hung under it.
    Outriggers,
    /// The panel under a tier is screwed down on the frame below it.
    Shelf(usize),
    /// Members and back that stand right above others are set on their panel and screwed through their feet.
    Members(usize),
    /// What the drawers of a tier slide on and are guided by.
    Runs(usize),
    /// Like drawers' boxes: bottom, lining, sides, front and back.
    Boxes(Vec<usize>),
    /// Their corner blocks.
    Blocks(Vec<usize>),
    /// Boxes into their openings: waxed, guides and stop blocks fitted.
    Fit,
    /// Applied fronts clamped in place and screwed from inside; handles.
    Fronts,
    /// Lock plates and rods.
    Locks,
    /// The board behind each front that keeps gear off the lock.
    Guards,
    /// Dividers.
    Dividers,
    /// The deck, its edge and its coating.
    Deck,
    /// Into the vehicle: packing, the chest on it.
    Vehicle,
    /// Held down through the bed, after looking underneath.
    HoldDown,
    /// Drawers in, gear in.
    Stow,
    /// Lids over the pockets beside the wells.
    Pockets,
}
