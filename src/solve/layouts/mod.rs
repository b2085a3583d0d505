//! The most valuable layout of a panel: a guillotine knapsack with limited copies.
//!
//! Given a panel, and pieces each with a worth and a greatest number of copies, choose copies and a way to free them
//! by cuts from edge to edge:
//!
//! ```text
//! max  Σ worth of the copies cut
//! s.t. no more copies of a piece than `most`, turned only where it may be;
//!      every cut runs from edge to edge of the panel at hand and takes `kerf`;
//!      no more stages of cuts than `stages` allow;
//!      no cut leaves a piece's panel narrower than `least_rip`
//! ```
//!
//! Kerf disappears by growing panel and pieces by it (see [`crate::solve::sheets`]).
//!
//! How it works: `job` brings the problem to a canonical form; `line` and `frame` choose the extents
//! that matter; `tables` bound what every panel holds, and what there is outside every block, with prices
//! on copies in place of their limits, which `prices` makes low; `build` puts blocks together from pieces as long
//! as the tables leave hope; `search` says in which order; `layout` turns the tree into cuts.
//!
//! `widths` answers for every width of the panel at once, as pricing needs; `panels` takes the most worth out of
//! several limited panels.
//!
//! It is at its best where a panel holds up to some dozens of pieces. It loses where very many small
//! pieces of many kinds go into one panel *and* their worths are not their areas, so that the bound stays above what can be had:
//! then the answer is a layout and a bound with a gap.

mod blocks;
mod build;
mod frame;
mod greedy;
mod job;
mod layout;
mod line;
mod panels;
mod prices;
mod search;
mod tables;
#[cfg(test)]
pub(in crate::solve) mod tests;
mod trace;
mod widths;

use super::budget::Budget;
use super::outcome::Outcome;
use super::sheets::{Axis, PlacedPiece, Rect, SheetCut};
use super::stages::Stages;
use job::Job;
pub use panels::{MOST_PANELS, PanelsProblem, StockPanel, TakenPanel, take_panels};
pub use widths::{WidthRow, WidthTable, width_table};

/// A panel and what may be cut from it. All lengths are in one unit of the caller's choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayoutProblem {
    /// What the blade takes at each cut; at least 0.
    pub kerf: i64,
    /// Usable width and height of the panel.
    pub panel: (i64, i64),
    /// What may be cut.
    pub pieces: Vec<LayoutPiece>,
    /// A limit on the stages of cuts.
    pub stages: Stages,
    /// No cut may leave a panel that holds pieces narrower than this; 0 if any may.
    pub least_rip: i64,
    /// A rest is worth keeping if it holds a rectangle of these sides, either way round.
    pub keep: (i64, i64),
}

/// A piece that may be cut several times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LayoutPiece {
    /// Extent along the panel's width.
    pub width: i64,
    /// Extent along the panel's height.
    pub height: i64,
    /// What one copy is worth; nothing is cut that is worth nothing.
    pub worth: i64,
    /// Copies at most.
    pub most: u32,
    /// Whether it may be cut with its width along the panel's height.
    pub turn: bool,
}

/// What is cut from a panel, and how.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Layout {
    /// Sum of the pieces' worths.
    pub worth: i64,
    /// The pieces; `part` is the index in [`LayoutProblem::pieces`].
    pub pieces: Vec<PlacedPiece>,
    /// The cuts, in an order in which each panel exists when it is cut.
    pub cuts: Vec<SheetCut>,
    /// What is left over, kept or waste; rests that the blade eats are not listed.
    pub rests: Vec<Rect>,
}

/// Why a problem is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LayoutReason {
    /// A side of the panel is nothing, or beyond [`crate::solve::sheets::LARGEST`].
    BadPanel,
    /// The kerf is negative, or beyond the same.
    BadKerf,
    /// No stage of cuts is allowed.
    NoStages,
    /// A piece has a side of nothing, or one beyond the same.
    BadPiece {
        /// Which piece.
        piece: usize,
    },
    /// More panels than [`MOST_PANELS`].
    TooManyPanels,
    /// The worths of all copies that the panel's area could hold come to more than [`WORTHIEST`].
    TooMuchWorth,
}

/// The greatest sum of worths that is accepted.
pub const WORTHIEST: i64 = 1 << 58;

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// The best layout's worth.
    pub worth: i64,
    /// No layout is worth more.
    pub bound: i64,
    /// Steps spent.
    pub work: u64,
}

/// Finds the most valuable layout of a panel.
///
/// The outcome's objective is the worth; its bound is never below any layout's. Even with no budget at
/// all a first layout is made. A step is a cell of a table looked at, or a pair of blocks.
pub fn best_layout(
    problem: &LayoutProblem,
    budget: &mut Budget,
    progress: &mut dyn FnMut(Progress),
) -> Outcome<Layout, LayoutReason> {
    let directed = directed(problem);
    let mut bound = 0;
    let mut best: Option<Layout> = None;
    for (n, problem) in directed.iter().enumerate() {
        let job = match Job::new(problem) {
            Ok(job) => job,
            Err(reason) => return Outcome::Infeasible(reason),
        };
        let mut share = budget.share(budget.left() / (directed.len() - n) as u64);
        let found = search::search(&job, &mut share, progress);
        budget.spend(share.spent());
        bound = bound.max(found.bound * job.coin);
        let layout = layout::layout(&job, problem.panel, &found.tree);
        if best.as_ref().is_none_or(|b| b.worth < layout.worth) {
            best = Some(layout);
        }
    }
    let best = best.expect("there is at least one direction");
    let objective = best.worth;
    if objective >= bound {
        Outcome::Optimal { best, objective }
    } else {
        Outcome::Feasible { best, objective, bound, stopped_by: budget.stopped() }
    }
}

/// The problem with each direction that its first stage may have.
fn directed(problem: &LayoutProblem) -> Vec<LayoutProblem> {
    if problem.stages.most.is_none() || problem.stages.first.is_some() {
        return vec![problem.clone()];
    }
    let with = |first| {
        let stages = Stages { first: Some(first), ..problem.stages };
        LayoutProblem { stages, ..problem.clone() }
    };
    vec![with(Axis::X), with(Axis::Y)]
}
