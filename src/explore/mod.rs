//! The search over designs: structure → dimensions → stowing → cutting → checks → rank.
//!
//! Every structure that the scenario allows is listed and its carcass derived; those that cannot stand are discarded
//! with a typed [`Reason`]. Structures whose drawers have the same clear spaces share one stowing. Each stowed
//! structure is sketched (built, weighed, its cost estimated from areas), the most promising of every kind are finished
//! (cut, bought, checked), and the best of those are stowed and cut again with more work.
//!
//! What this is: every structure is discarded by a proof, bounded ([`ideal`]) or looked into, the most promising first;
//! stowing and cutting are heuristic. What no design that the scenario allows can beat, listed or not, is told for each
//! criterion ([`Explored::aims`]); what is not proved is not called so.
//!
//! All work is counted, results merge in the order of the structures, and ties end in a total order, so that the
//! result is the same for any number of threads and on any machine, unless a clock or a cancel flag spoke, which
//! [`Explored::stopped_by`] then says.

mod chase;
pub mod compare;
mod even;
pub mod family;
mod field;
mod finishing;
mod first;
pub mod flip;
mod heights;
mod id;
mod ideal;
mod least_waste;
pub mod like;
mod pipeline;
mod promise;
pub mod proof;
mod quickest;
pub mod rank;
pub mod reason;
mod search;
mod stowing;
mod structures;
mod unfit;
pub mod why;
mod worth;

pub use proof::AimBound;
pub use rank::RankedDesign;
pub use reason::{Dimension, Discarded, LimitKind, Reason, ReasonKind};
pub use search::explore;

use std::time::Duration;

use crate::design::{Design, Structure};
use crate::scenario::Scenario;
use crate::units::physics::Metres;

/// Fits and what they hang on.
pub use crate::mechanics::fits;
pub use crate::mechanics::{Governing, Lever, governing, levers, stays_in};
pub use crate::solve::budget::{Cancel, Stop};

/// Every structure that the scenario's choices list, those that cannot stand in the bed among them.
pub fn every_structure(scenario: &Scenario) -> Vec<Structure> {
    structures::structures(scenario).0
}

/// For each drawer of a design how far to the right of its middle a handle would pull it straight; none where the middle will do.
pub fn handles(scenario: &Scenario, design: &Design) -> Vec<Option<Metres>> {
    crate::mechanics::handles(scenario, design.into())
}

/// How a search is run.
#[derive(Debug, Clone)]
pub struct Settings {
    /// Workers; 0 for one a core. Changes nothing but the time taken.
    pub threads: usize,
    /// Multiplies every work allowance; 1 is the usual.
    pub effort: u64,
    /// How many designs to list at most.
    pub top: usize,
    /// Whether to look, once the designs to offer are found, for the one that stows most of all that are allowed.
    pub most_worth: bool,
    /// Whether to go on looking until the value stowed, and then the weighted aims, are proved.
    pub prove: bool,
    /// Steps of work to spend on proving; the usual allowance if nothing is said.
    pub work: Option<u64>,
    /// Stop after this long with the best so far.
    pub time: Option<Duration>,
    /// Raised to stop early.
    pub cancel: Cancel,
    /// Whether some designs are wanted as soon as can be: a few structures are then stowed and finished ahead of the
    /// others and told of. The result is the same.
    pub eager: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            threads: 0,
            effort: 1,
            top: 10,
            most_worth: true,
            prove: false,
            work: None,
            time: None,
            cancel: Cancel::new(),
            eager: false,
        }
    }
}

/// What a search found.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Explored {
    /// Best first; empty if no design satisfies the scenario.
    pub ranked: Vec<RankedDesign>,
    /// What was looked at and what became of it.
    pub considered: Considered,
    /// What ended the search early from outside, if anything did.
    pub stopped_by: Option<Stop>,
    /// What is known of the best of each criterion, over every design that the scenario allows.
    pub aims: Vec<AimBound>,
    /// No design that the scenario allows scores more than this; `None` if it allows none.
    pub score_bound: Option<f64>,
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
    /// Left alone as no design of theirs can score more than the best does.
    pub outscored: u64,
    /// The most that any of those could score.
    pub outscored_by: f64,
    /// Not looked into beyond their bounds, as the work allowance or the clock was spent on more promising ones.
    pub unexplored: u64,
    /// Stowed and sketched, and found less promising than those that were finished, which proves nothing.
    pub sketched: u64,
    /// Finished: cut, bought, checked.
    pub finished: u64,
    /// Of those, not offered as more of their checks are beyond a guide value than of others.
    pub beyond_guides: u64,
    /// Different stowing problems solved.
    pub stowings: u64,
}

impl Considered {
    /// Counts a structure whose designs score no more than `most`, which the best does.
    fn add_outscored(&mut self, most: f64) {
        self.outscored += 1;
        self.outscored_by = self.outscored_by.max(most);
    }
}

/// Where a search is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Finishing a few at once.
    First,
    /// Deriving carcasses.
    Dimensions,
    /// Bounding what can be had of each structure.
    Bounding,
    /// Stowing gear.
    Stowing,
    /// Building and estimating.
    Sketching,
    /// Cutting, buying, checking.
    Finishing,
    /// Stowing and cutting the best again with more work.
    Refining,
    /// Looking for the best of each single criterion.
    Chasing,
    /// Looking for the most worth that any design stows, offered or not.
    MostWorth,
    /// Closing the gap between the best and its bound.
    Proving,
}

/// What is being proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proving {
    /// The worth stowed, over every design that is allowed.
    Value,
    /// The score by the scenario's weights, of those that are offered.
    Score,
}

/// How far a proof is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// Of what.
    pub of: Proving,
    /// The most so far, thousandths of a point.
    pub best: i64,
    /// No design has more than this.
    pub bound: i64,
}

/// News of a running search. Reported from several threads at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress<'a> {
    /// Where it is.
    pub stage: Stage,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage; while proving, millions of steps of work.
    pub of: u64,
    /// How far the proof is, while proving.
    pub standing: Option<Standing>,
    /// A design that was just finished.
    pub found: Option<Found<'a>>,
    /// No design that the scenario allows scores more than this: told once, when it is known.
    pub score_bound: Option<f64>,
}

impl Progress<'_> {
    /// So many of so many tasks of a stage are done.
    const fn tasks(stage: Stage, done: u64, of: u64) -> Self {
        Self { stage, done, of, standing: None, found: None, score_bound: None }
    }
}

/// How good a finished design is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found<'a> {
    /// 0 to 100.
    pub score: f64,
    /// Worth stowed, thousandths of a point.
    pub value_milli: i64,
    /// The design, not verified.
    pub design: &'a Design,
    /// No design with these tiers can stow more worth than this, thousandths of a point.
    pub value_bound: i64,
}
