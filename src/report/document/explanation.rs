//! The explanation document.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::Mm;
use super::{ExplanationOf, kinds};
use crate::design::Content;
use crate::explore::why::{Measure, Step};
use crate::report::subject::WhyOf;
use crate::report::{why, words};
use crate::scenario::Scenario;

/// What `format` says in every explanation.
pub const FORMAT: &str = "bedwright explanation";

/// Why a design is as it is, or why there is none. Units are those of the result document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Explanation")]
pub struct ExplanationDocument {
    /// Always `bedwright explanation`.
    pub format: String,
    /// The version of this shape.
    pub version: u32,
    /// The design explained; null if there is none.
    pub design: Option<String>,
    /// Points that each criterion gave.
    pub contributions: BTreeMap<String, f64>,
    /// What might hold the design back.
    pub limits: Vec<LimitOf>,
    /// What a change of each measurement does.
    pub measurements: Vec<Change>,
    /// What would let in what is left out.
    pub left_out: Vec<LetInOf>,
    /// Limits that cannot all be kept, where there is no design.
    pub conflict: Option<ConflictOf>,
    /// Why there is no design, as the search met it.
    pub why_none: Vec<ExplanationOf>,
    /// Searches made.
    pub searches: u64,
    /// What ended the first search early; null if it ran to its end.
    pub stopped_by: Option<kinds::Stop>,
}

/// What might hold a design back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LimitOf {
    /// What, and the room left to it, in words.
    pub sentence: String,
    /// Whether it binds.
    pub binds: bool,
}

/// The least change of a measurement that changes what is stowed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Change {
    /// `length`, `width` or `height`.
    pub of: String,
    /// By how much, negative for less.
    pub by_mm: Mm,
    /// Worth gained, points; null if no such design stands.
    pub points: Option<f64>,
    /// What comes in, with how many.
    pub comes_in: BTreeMap<String, u32>,
    /// What falls out, with how many.
    pub falls_out: BTreeMap<String, u32>,
}

/// What would let a thing in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LetInOf {
    /// What is left out.
    pub name: String,
    /// The least more of each measurement that would do, by `length`, `width`, `height`; one that would not do is left out.
    pub by_mm: BTreeMap<String, Mm>,
    /// Points of other gear that it costs to stow it in today's bed; null if no design found takes it.
    pub instead_points: Option<f64>,
}

/// Limits that cannot all be kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct ConflictOf {
    /// Each of them in words: with all others given up no design keeps them, and without any one of them there is one.
    pub limits: Vec<String>,
    /// Further such sets, found with something of those before given up.
    pub others: Vec<Vec<String>>,
    /// Changes each of which, tried alone, leaves a design.
    pub cures: Vec<String>,
}

/// The document of one explanation.
pub fn document(found: &WhyOf<'_>) -> ExplanationDocument {
    let scenario = found.scenario;
    let candidate = found.found.as_ref();
    let contributions = candidate.map(|candidate| candidate.standing.contributions.as_slice());
    ExplanationDocument {
        format: FORMAT.to_owned(),
        version: super::VERSION,
        design: candidate.map(|candidate| candidate.design.id.to_string()),
        contributions: contributions
            .unwrap_or_default()
            .iter()
            .map(|(each, points)| (each.key().to_owned(), *points))
            .collect(),
        limits: found
            .slacks
            .iter()
            .map(|slack| LimitOf { sentence: why::slack(scenario, slack), binds: slack.binds })
            .collect(),
        measurements: found
            .worth
            .iter()
            .flat_map(|worth| {
                let change = |step: &Step, sign| change(scenario, worth.measure, step, sign);
                let more = worth.more.as_ref().map(|step| change(step, 1));
                more.into_iter().chain(worth.less.as_ref().map(|step| change(step, -1)))
            })
            .collect(),
        left_out: found
            .let_in
            .iter()
            .map(|each| LetInOf {
                name: words::content(scenario, each.content).to_owned(),
                by_mm: each
                    .by
                    .iter()
                    .filter_map(|(of, by)| Some((key(*of).to_owned(), Mm::from((*by)?))))
                    .collect(),
                instead_points: each.instead.map(|lost| lost as f64 / 1000.0),
            })
            .collect(),
        conflict: found.conflict.map(|conflict| ConflictOf {
            limits: conflict.limits.iter().map(|each| why::limit(scenario, *each)).collect(),
            others: conflict
                .others
                .iter()
                .map(|limits| limits.iter().map(|each| why::limit(scenario, *each)).collect())
                .collect(),
            cures: conflict.cures.iter().map(|each| why::cure(scenario, each)).collect(),
        }),
        why_none: found.why_none.iter().map(ExplanationOf::from).collect(),
        searches: found.asked,
        stopped_by: found.stopped_by.map(Into::into),
    }
}

const fn key(of: Measure) -> &'static str {
    match of {
        Measure::Length => "length",
        Measure::Width => "width",
        Measure::Height => "height",
    }
}

fn change(scenario: &Scenario, of: Measure, step: &Step, sign: i64) -> Change {
    let named = |copies: &[(Content, u32)]| {
        let each = copies.iter();
        each.map(|(content, count)| (words::content(scenario, *content).to_owned(), *count))
            .collect()
    };
    Change {
        of: key(of).to_owned(),
        by_mm: Mm::from(step.by * sign),
        points: step.value.map(|value| value as f64 / 1000.0),
        comes_in: named(&step.comes_in),
        falls_out: named(&step.falls_out),
    }
}

/// The JSON Schema (draft 2020-12) of explanations.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(ExplanationDocument).to_value()
}
