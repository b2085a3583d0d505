//! Rectangular parts out of rectangular sheets by edge-to-edge (guillotine) cuts.
//!
//! Given sheets of several sizes, each with a price and perhaps a limit, and parts with counts,
//! find the cheapest set of sheets and a sequence of saw cuts that frees every part:
//!
//! ```text
//! min  (Σ price of sheets used, Σ area of sheets, -area of rests worth keeping, number of those)
//! s.t. every copy of every part lies on one sheet, turned only where it may be;
//!      every sheet comes apart by cuts that run from edge to edge of the panel at hand;
//!      each cut takes `kerf`; no more sheets of a size than its limit;
//!      no sheet takes more stages of cuts than `stages` allow
//! ```
//!
//! Kerf disappears by growing: with kerf `k`, parts `w x h` come out of a sheet `W x H` exactly
//! when parts `(w+k) x (h+k)` come out of `(W+k) x (H+k)` without kerf. A cut leaves `x` and
//! `W-x-k`; grown by `k` these are `x+k` and `W-x`, which sum to `W+k`; by induction every panel
//! stands for itself grown by `k` both ways.
//!
//! How it works: [`job`] brings the problem to a canonical form (grown, divided by the common
//! divisor, equal parts merged, sorted), so that neither the order of the parts nor the scale
//! matters; [`bound`] proves a least price by dual feasible functions, and [`cover`] one of whole sheets where there are several
//! sizes; [`search`] builds plans by
//! insertion ([`insert`]) into slicing trees ([`tree`]), or sheet by sheet where there are many ([`fill`], [`gaps`]), of which a few at a
//! time are filled anew ([`windows`]), and improves them by ruin and recreate ([`walk`]) and by exchanges of panels ([`swaps`])
//! towards ever cheaper goals; where few parts come out of a sheet, a second line ([`miner`]) works
//! on the pattern model by column generation ([`columns`], [`pricing`], and [`wide`] where sheets hold
//! many parts of few kinds) for a better bound and for plans; [`layout`] turns the trees into cuts and rests,
//! and [`arrange`] looks for the best rests of sheets of few parts.
//! What parts ask of the sheets' own edges ([`Edges`]) is a count at each node of a tree ([`edged`]).
//!
//! The price is what [`Outcome`] speaks of. Among plans of one price the search itself looks for less area of sheets and better
//! rests, then [`ties`] for fewer different sheets and settings of the saw ([`settings`]): of few parts all ways to share them
//! out are gone through, with more it is a local search. What is left equal is decided by an order of all sheets.

mod arrange;
mod bound;
mod columns;
mod cover;
mod edged;
mod fill;
mod gaps;
mod hull;
mod hulls;
mod insert;
mod job;
mod layout;
mod miner;
mod pricing;
mod rng;
mod search;
mod settings;
mod slices;
mod space;
mod swaps;
#[cfg(test)]
mod tests;
mod ties;
mod tree;
mod walk;
mod wide;
mod windows;

use super::budget::{Budget, Stop};
use super::outcome::Outcome;
use super::stages::Stages;

/// The two ways across a sheet. A cut's axis is the one along which its position is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Along the sheet's width: the blade runs parallel to its height.
    X,
    /// Along the sheet's height: the blade runs parallel to its width.
    Y,
}

/// A rectangle with its corner of least coordinates at (`x`, `y`).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rect {
    /// Distance from the sheet's left edge.
    pub x: i64,
    /// Distance from the sheet's lower edge.
    pub y: i64,
    /// Extent along x.
    pub dx: i64,
    /// Extent along y.
    pub dy: i64,
}

/// Sheets to be had, parts to be cut. All lengths are in one unit of the caller's choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetProblem {
    /// What the blade takes from a panel at each cut; at least 0.
    pub kerf: i64,
    /// The sizes to be had.
    pub sheets: Vec<Sheet>,
    /// The parts to be cut.
    pub parts: Vec<SheetPart>,
    /// A rest is worth keeping if it holds a rectangle of these sides, either way round.
    pub keep: (i64, i64),
    /// A limit on the stages of cuts of each sheet; at least two.
    pub stages: Stages,
}

/// A size of sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// Usable width, edge trim off.
    pub width: i64,
    /// Usable height, edge trim off.
    pub height: i64,
    /// Price of one; 0 if it is at hand.
    pub price: i64,
    /// How many there are; `None` if as many as wanted.
    pub limit: Option<u32>,
}

/// A part to be cut `count` times.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetPart {
    /// Extent along the sheet's width.
    pub width: i64,
    /// Extent along the sheet's height.
    pub height: i64,
    /// How many.
    pub count: u32,
    /// Whether it may be cut with its width along the sheet's height.
    pub turn: bool,
}

/// Which edges of the sheets are as they came, and which parts must have one of those.
///
/// Both lists may be shorter than those of the problem: what is beyond their ends has no such edge, or asks for none.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Edges {
    /// For each sheet: along x and along y, whether the edges at its low and at its high end are as they came.
    pub sheets: Vec<[[bool; 2]; 2]>,
    /// For each part: along its width and along its height, whether one of its two ends must be such an edge.
    pub parts: Vec<[bool; 2]>,
}

/// How every part is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetPlan {
    /// The sheets used, in the order of their sizes; equal ones beside each other.
    pub sheets: Vec<CutSheet>,
}

/// One sheet, cut up.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct CutSheet {
    /// Which of [`SheetProblem::sheets`].
    pub sheet: usize,
    /// The parts it yields.
    pub pieces: Vec<PlacedPiece>,
    /// The cuts, in an order in which each panel exists when it is cut.
    pub cuts: Vec<SheetCut>,
    /// What is left over, kept or waste; rests that the blade eats are not listed.
    pub rests: Vec<Rect>,
}

/// One part on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedPiece {
    /// Which of [`SheetProblem::parts`].
    pub part: usize,
    /// Where its corner of least x is.
    pub x: i64,
    /// Where its corner of least y is.
    pub y: i64,
    /// Whether its width lies along the sheet's height.
    pub turned: bool,
}

/// One cut through a panel from edge to edge.
///
/// The blade takes `[at, at + kerf)` along `axis`; if that runs over the panel's end there is no
/// panel behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SheetCut {
    /// The panel that is cut: the sheet, or what earlier cuts made of it.
    pub panel: Rect,
    /// Along which axis `at` is measured.
    pub axis: Axis,
    /// Where the blade enters, from the sheet's edge.
    pub at: i64,
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetProgress {
    /// Price of the best plan so far, if there is one yet.
    pub objective: Option<i64>,
    /// No plan's price is below this.
    pub bound: i64,
}

/// Why no plan exists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetReason {
    /// A part fits no sheet, whichever way it may lie; the nearest sheet is short by `by` in its
    /// worse direction.
    PartTooLarge {
        /// Which part.
        part: usize,
        /// How much is missing.
        by: i64,
    },
    /// The sheets are too few: what they hold is less than the parts' area, blade and all.
    OutOfStock {
        /// The area missing at least, in square units with `kerf` added to each side of each part.
        area: i128,
    },
    /// A part has a side of nothing, or one beyond [`LARGEST`].
    BadSize {
        /// Which part.
        part: usize,
    },
    /// More parts than [`MOST_PARTS`].
    TooMany {
        /// How many.
        count: u64,
    },
    /// Fewer than two stages of cuts are allowed.
    TooFewStages,
}

/// The longest side that is accepted.
pub const LARGEST: i64 = 1 << 50;

/// The highest price that is told apart from higher ones.
pub const DEAREST: i64 = 1 << 46;

/// The most copies of parts, all together, that are accepted.
pub const MOST_PARTS: u64 = 20_000;

/// Cuts tried to better one sheet's rests where somebody waits, and those of all sheets together.
const HURRIED_CUTS: (usize, usize) = (2_000, 20_000);

/// Finds a cheap plan; see the module's text for what cheap means.
///
/// The outcome's objective and bound are the price of the sheets used. A budget of a few million
/// steps serves some dozens of parts well; a step is a place looked at for a part or a node measured. Even with no
/// budget at all a first plan is made.
pub fn cut_sheets(problem: &SheetProblem, budget: &mut Budget) -> Outcome<SheetPlan, SheetReason> {
    cut_sheets_on(problem, 1, budget)
}

/// [`cut_sheets`] on up to `threads` threads (two are of use); the answer is the same on any
/// number of them, unless a clock stops the search.
pub fn cut_sheets_on(
    problem: &SheetProblem,
    threads: usize,
    budget: &mut Budget,
) -> Outcome<SheetPlan, SheetReason> {
    cut_sheets_with(problem, &Edges::default(), threads, budget)
}

/// [`cut_sheets_on`] with parts that must have edges of the sheets. That a part finds no sheet large enough with such an
/// edge is said as [`SheetReason::PartTooLarge`] by nothing.
pub fn cut_sheets_with(
    problem: &SheetProblem,
    edges: &Edges,
    threads: usize,
    budget: &mut Budget,
) -> Outcome<SheetPlan, SheetReason> {
    cut_sheets_watched(problem, edges, threads, budget, &mut |_| {})
}

/// [`cut_sheets_with`], telling `watch` of every better price and bound as it is found.
pub fn cut_sheets_watched(
    problem: &SheetProblem,
    edges: &Edges,
    threads: usize,
    budget: &mut Budget,
    watch: &mut dyn FnMut(SheetProgress),
) -> Outcome<SheetPlan, SheetReason> {
    let job = match job::Job::new(problem, edges) {
        Ok(job) => job,
        Err(reason) => return Outcome::Infeasible(reason),
    };
    if let Some(reason) = bound::out_of_stock(&job) {
        return Outcome::Infeasible(reason);
    }
    let effort = usize::try_from(budget.left() / 4).unwrap_or(usize::MAX);
    let effort = effort.clamp(20_000, 1_500_000);
    let search::Found { bins, bound, stopped_by } =
        search::search(&job, effort, threads, budget, watch);
    let Some(found) = bins else {
        return Outcome::Unknown { stopped_by };
    };
    let objective = found.iter().map(|bin| job.sheets[bin.sheet].price).sum();
    // Whoever waits for an answer gets it; whoever asked for little work does not get most of it spent on rests.
    let mut clock = budget.share(u64::MAX);
    clock.look();
    let best = match stopped_by.max(clock.stopped()) {
        Some(Stop::Cancelled | Stop::Clock) => {
            let cuts = HURRIED_CUTS.0.min(HURRIED_CUTS.1 / found.len().max(1));
            layout::plan(&job, &found, cuts, true, &mut Budget::work(u64::MAX))
        }
        _ => layout::plan(&job, &found, effort / 4, false, &mut clock),
    };
    if !edged::keeps(problem, edges, &best) {
        // A sliver thinner than the blade lies between a part and its edge, which cannot be where only low ends are used.
        let low = |raw: &[[bool; 2]; 2]| raw.map(|[low, _]| [low, false]);
        let sheets: Vec<_> = edges.sheets.iter().map(low).collect();
        if sheets == edges.sheets {
            return Outcome::Unknown { stopped_by };
        }
        let edges = Edges { sheets, parts: edges.parts.clone() };
        return match cut_sheets_watched(problem, &edges, threads, budget, watch) {
            // With all the edges there may be a plan.
            Outcome::Infeasible(_) => Outcome::Unknown { stopped_by },
            found => found,
        };
    }
    if objective <= bound {
        Outcome::Optimal { best, objective }
    } else {
        Outcome::Feasible { best, objective, bound, stopped_by }
    }
}
