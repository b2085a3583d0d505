//! The search over designs: structure → dimensions → stowing → cutting → checks → rank.
//!
//! Every structure that the scenario allows is listed and its carcass derived; those that cannot stand are discarded
//! with a typed [`Reason`]. Structures whose drawers have the same clear spaces share one stowing. Each stowed
//! structure is sketched (built, weighed, its cost estimated from areas), the most promising of every kind are finished
//! (cut, bought, checked), and the best of those are stowed and cut again with more work.
//!
//! What this is: exhaustive over structures as long as [`Considered::unexplored`] is 0, heuristic in stowing and
//! cutting, whose answers carry bounds. What is not proved is not called so.
//!
//! All work is counted, results merge in the order of the structures, and ties end in a total order, so that the
//! result is the same for any number of threads and on any machine, unless a clock or a cancel flag spoke, which
//! [`Explored::stopped_by`] then says.

pub mod compare;
pub mod flip;
mod id;
mod parallel;
mod pipeline;
mod promise;
pub mod rank;
pub mod reason;
mod search;
mod structures;
mod unfit;
pub mod why;

pub use rank::RankedDesign;
pub use reason::{Dimension, Discarded, LimitKind, Reason, ReasonKind};
pub use search::explore;

use std::time::Duration;

pub use crate::mechanics::{Governing, Lever, governing, levers};
pub use crate::solve::budget::{Cancel, Stop};

/// How a search is run.
#[derive(Debug, Clone)]
pub struct Settings {
    /// Workers; 0 for one a core. Changes nothing but the time taken.
    pub threads: usize,
    /// Multiplies every work allowance; 1 is the usual.
    pub effort: u64,
    /// How many designs to list at most.
    pub top: usize,
    /// Stop after this long with the best so far.
    pub time: Option<Duration>,
    /// Raised to stop early.
    pub cancel: Cancel,
}

impl Default for Settings {
    fn default() -> Self {
        Self { threads: 0, effort: 1, top: 10, time: None, cancel: Cancel::new() }
    }
}

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct Explored {
    /// Best first; empty if no design satisfies the scenario.
    pub ranked: Vec<RankedDesign>,
    /// What was looked at and what became of it.
    pub considered: Considered,
    /// What ended the search early from outside, if anything did.
    pub stopped_by: Option<Stop>,
}

/// What became of the structures.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Considered {
    /// How many structures the scenario's choices allow.
    pub structures: u64,
    /// Of those, left out before they were derived, as their openings alone are higher than the clear height.
    pub too_high: u64,
    /// Discarded with a reason.
    pub discarded: Discarded,
    /// Not looked into beyond their dimensions, as the work allowance or the clock was spent on more promising ones.
    pub unexplored: u64,
    /// Stowed and sketched, and found less promising than those that were finished.
    pub sketched: u64,
    /// Finished: cut, bought, checked.
    pub finished: u64,
    /// Different stowing problems solved.
    pub stowings: u64,
}

/// Where a search is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Deriving carcasses.
    Dimensions,
    /// Stowing gear.
    Stowing,
    /// Building and estimating.
    Sketching,
    /// Cutting, buying, checking.
    Finishing,
    /// Stowing and cutting the best again with more work.
    Refining,
}

/// News of a running search. Reported from several threads at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Where it is.
    pub stage: Stage,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage.
    pub of: u64,
}
