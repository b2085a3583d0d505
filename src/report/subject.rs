//! What a report is made from: the scenario, what was searched and what was found.

use crate::design::Design;
use crate::explore::like::Kept;
use crate::explore::why::{Conflict, LetIn, Slack, Worth};
use crate::explore::{AimBound, RankedDesign, Stop};
use crate::scenario::{Criterion, Scenario};
use crate::verify::Verified;

/// Everything that one run has to tell.
#[derive(Debug, Clone)]
pub struct Findings<'a> {
    /// What was given.
    pub scenario: &'a Scenario,
    /// How the search was run.
    pub settings: Settings,
    /// What the scenario file left out, with the values that stood in.
    pub defaults: Vec<DefaultUsed>,
    /// The designs to show, best first; ranks count from 1.
    pub candidates: Vec<Candidate<'a>>,
    /// How much was looked at.
    pub considered: Considered,
    /// What is known of the best of each criterion, over every design that the scenario allows.
    pub aims: Vec<AimBound>,
    /// No design that the scenario allows scores more than this; `None` if nothing is known.
    pub score_bound: Option<f64>,
    /// What ended the search before it was done, if anything did.
    pub stopped_by: Option<Stop>,
    /// The id of the design that the search started from, and what of it was kept.
    pub like: Option<(String, Kept)>,
    /// Why what could not be had cannot be had. What the best design leaves out need not be among them: it is
    /// explained in any case.
    pub explanations: Vec<Explanation>,
}

/// How a search was run: with these and the scenario anyone gets the same result.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The program's version.
    pub program: String,
    /// How many designs were asked for.
    pub keep: usize,
    /// What the usual work allowances were multiplied by.
    pub effort: u64,
    /// The wall-clock limit in seconds; `None` for none. A result that it cut short depends on the machine.
    pub seconds: Option<f64>,
}

/// A value that the scenario file left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DefaultUsed {
    /// The key as the file would spell it: `chest.handle_room`.
    pub key: String,
    /// The value that stood in, as a person would write it: `3 in`.
    pub value: String,
    /// Why this value, if there is more to say than that it is usual.
    pub remark: String,
}

/// A design with its place among the others. Only a verified one can be reported on.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    pub(in crate::report) design: &'a Design,
    pub(in crate::report) rank: usize,
    pub(in crate::report) standing: Standing,
}

/// How a design stands among the others.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Standing {
    /// Σ of its contributions.
    pub score: f64,
    /// Points that each criterion brought, in the order of [`Criterion::ALL`].
    pub contributions: Vec<(Criterion, f64)>,
    /// Whether no other design is at least as good in everything and better in something.
    pub undominated: bool,
    /// How many designs much like it were left off the list.
    pub near_twins: usize,
    /// No design with these tiers can stow more worth than this (thousandths of a point); `None` if no bound is known.
    pub value_bound_milli: Option<i64>,
}

impl Standing {
    /// How the search placed a design.
    pub fn of(ranked: &RankedDesign) -> Self {
        Self {
            score: ranked.score,
            contributions: Criterion::ALL.into_iter().zip(ranked.contributions).collect(),
            undominated: ranked.undominated,
            near_twins: ranked.twins as usize,
            value_bound_milli: Some(ranked.value_bound),
        }
    }
}

impl<'a> Candidate<'a> {
    /// A verified design in its place, counted from 1.
    pub fn new(design: &'a Verified<Design>, rank: usize, standing: Standing) -> Self {
        Self { design: design.get(), rank, standing }
    }
}

/// How much a search looked at.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Considered {
    /// Structures that the scenario allows.
    pub structures: u64,
    /// Of these, discarded before they were worked out.
    pub pruned: Vec<Pruned>,
    /// Of these, worked out to the end.
    pub solved: u64,
}

/// Structures that were discarded for one kind of reason.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pruned {
    /// The kind of reason, as what is said of them: `would stand too high`.
    pub reason: String,
    /// How many.
    pub structures: u64,
    /// The one among them that came nearest: what it fails, and by how much. A sentence.
    pub nearest: Option<String>,
}

/// Why something could not be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// What could not be had, or where it fails: `Extension ladder`, `every structure`.
    pub about: String,
    /// The limit that fails: `clear height under the cover`.
    pub limit: String,
    /// By how much, in `unit`; `None` where no number says it.
    pub short_by: Option<f64>,
    /// The unit of `short_by`: `mm`, `kg`, the currency. Empty without one.
    pub unit: String,
    /// The whole of it as a sentence.
    pub sentence: String,
    /// The smallest change that would do; empty if none is known.
    pub change: String,
    /// Whether it is proved, or only what was found.
    pub proved: bool,
}

/// An explanation as it is reported.
#[derive(Debug, Clone)]
pub struct WhyOf<'a> {
    /// What was given.
    pub scenario: &'a Scenario,
    /// The design explained; none if there is no design.
    pub found: Option<Candidate<'a>>,
    /// What binds it and the room left to the rest.
    pub slacks: &'a [Slack],
    /// What each measurement is worth.
    pub worth: &'a [Worth],
    /// What would let in what is left out.
    pub let_in: &'a [LetIn],
    /// Limits that cannot all be kept, where there is no design.
    pub conflict: Option<&'a Conflict>,
    /// Why there is no design, as the search met it.
    pub why_none: Vec<Explanation>,
    /// Searches made for it.
    pub asked: u64,
    /// What ended the first search early, if anything did.
    pub stopped_by: Option<Stop>,
}
