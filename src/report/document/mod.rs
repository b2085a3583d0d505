//! The result document: everything that an outsider needs to re-check a result, as JSON.
//!
//! Lengths are millimetres as exact decimals, masses kilograms, forces newtons, volumes litres, amounts in the
//! scenario's currency. The types here are the document's shape and nothing else uses them: the vocabulary may
//! change its mind without changing what programs read.

mod build;
pub mod chosen;
pub mod comparison;
mod cutting;
pub mod decided;
mod echo;
pub mod explanation;
pub mod family;
pub mod fits;
pub mod given;
pub mod job;
pub mod kinds;
pub mod measure;
pub mod sawn;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub(super) use cutting::kind as purchase_kind;

use super::naming::Names;
use super::reasons;
use super::subject::{Candidate, DefaultUsed, Explanation, Findings};
use super::words;
use crate::explore::AimBound;
use crate::scenario::{Criterion, Scenario};

/// What `format` says in every result document.
pub const FORMAT: &str = "bedwright result";

/// The version of the document's shape: it grows when a reader of the last one would go wrong.
pub const VERSION: u32 = 1;

/// A result: what was given, how it was searched, what was found.
///
/// Lengths are millimetres, masses kilograms, forces newtons, volumes litres, and amounts are in the scenario's
/// currency. x runs across the bed from its left wall, y from the closed tailgate toward the cab, z up from the bed's
/// floor. Gear and dividers are in their drawer's own frame, from its inside left front bottom corner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Result")]
pub struct ResultDocument {
    /// Always `bedwright result`.
    pub format: String,
    /// The version of this shape.
    pub version: u32,
    /// What was given, every default filled in.
    pub scenario: given::Scenario,
    /// How the search was run.
    pub settings: Settings,
    /// The design that the search started from; what is kept of it is in `scenario` as decided.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub like: Option<Like>,
    /// What the scenario file left out.
    pub defaults_used: Vec<Default>,
    /// The designs, best first. Empty if none satisfies the scenario.
    pub designs: Vec<chosen::Design>,
    /// What is known of what could be had, and how much was looked at.
    pub bounds: Bounds,
    /// Why what could not be had cannot be had.
    pub explanations: Vec<ExplanationOf>,
}

/// A design that a search started from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Like {
    /// Its id.
    pub design: String,
    /// What of it was kept.
    pub kept: String,
}

/// How a search was run: with these and the scenario anyone gets the same result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Settings {
    /// The program and its version.
    pub program: String,
    /// How many designs were asked for.
    pub keep: usize,
    /// What the usual work allowances were multiplied by.
    pub effort: u64,
    /// The wall-clock limit, seconds; null for none.
    pub seconds: Option<f64>,
}

/// A value that the scenario file left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Default {
    /// The key as the file would spell it.
    pub key: String,
    /// The value that stood in, as a person would write it.
    pub value: String,
    /// Why this value.
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub remark: String,
}

impl From<&DefaultUsed> for Default {
    fn from(used: &DefaultUsed) -> Self {
        Self { key: used.key.clone(), value: used.value.clone(), remark: used.remark.clone() }
    }
}

/// What is known of what could be had, and how much was looked at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bounds {
    /// The best of each criterion over the designs of this document; `aims` says what is proved.
    pub best_found: BTreeMap<String, f64>,
    /// For each criterion that is bounded, the best found and what no design that the scenario allows can beat.
    #[serde(default)]
    pub aims: Vec<Aim>,
    /// No design that the scenario allows scores more than this; null if nothing is known.
    #[serde(default)]
    pub best_possible_score: Option<f64>,
    /// Structures that the scenario allows.
    pub structures_considered: u64,
    /// Of these, discarded before they were worked out, by reason.
    pub pruned: Vec<Pruned>,
    /// Of these, worked out to the end.
    pub solved: u64,
    /// What ended the search early; null if it ran to its end.
    pub stopped_by: Option<kinds::Stop>,
}

/// What is known of the best that one criterion can be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Aim {
    /// The criterion.
    pub criterion: String,
    /// The best that was found of all that is allowed; null if nothing was. Its design need not be listed here, nor offered: it may
    /// have more checks beyond a guide value than those that are.
    pub best: Option<f64>,
    /// The id of the design that has it.
    pub design: Option<String>,
    /// The best of the designs that are offered.
    #[serde(default)]
    pub best_offered: Option<f64>,
    /// The id of the design that has it.
    #[serde(default)]
    pub design_offered: Option<String>,
    /// No design that the scenario allows is better.
    pub bound: Option<f64>,
    /// How far apart they are, as a share of the best.
    pub gap: Option<f64>,
    /// Whether they meet.
    pub proved: bool,
}

impl From<&AimBound> for Aim {
    fn from(aim: &AimBound) -> Self {
        Self {
            criterion: aim.criterion.key().to_owned(),
            best: aim.best.and_then(|(best, _)| measure::finite(best)),
            design: aim.best.map(|(_, id)| id.to_string()),
            best_offered: aim.offered.and_then(|(best, _)| measure::finite(best)),
            design_offered: aim.offered.map(|(_, id)| id.to_string()),
            bound: measure::finite(aim.bound),
            gap: aim.gap().and_then(measure::finite),
            proved: aim.proved,
        }
    }
}

/// Structures discarded for one reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Pruned {
    /// The reason, in words.
    pub reason: String,
    /// How many.
    pub structures: u64,
    /// What the one among them that came nearest fails, and by how much; null if nothing tells.
    #[serde(default)]
    pub nearest: Option<String>,
}

/// Why something could not be had.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExplanationOf {
    /// What could not be had.
    pub about: String,
    /// The limit that fails.
    pub limit: String,
    /// By how much, in `unit`; null where no number says it.
    pub short_by: Option<f64>,
    /// The unit of `short_by`: `mm`, `kg`, a currency; empty without one.
    pub unit: String,
    /// The whole of it as a sentence.
    pub sentence: String,
    /// The smallest change that would do; empty if none is known.
    pub smallest_change: String,
    /// Whether it is proved.
    pub proved: bool,
}

impl From<&Explanation> for ExplanationOf {
    fn from(explanation: &Explanation) -> Self {
        Self {
            about: explanation.about.clone(),
            limit: explanation.limit.clone(),
            short_by: explanation.short_by.and_then(measure::finite),
            unit: explanation.unit.clone(),
            sentence: explanation.sentence.clone(),
            smallest_change: explanation.change.clone(),
            proved: explanation.proved,
        }
    }
}

/// The document of one run.
pub fn document(findings: &Findings<'_>) -> ResultDocument {
    let names = Names::of(findings.scenario);
    let design = |candidate| design(findings.scenario, &names, candidate, findings);
    ResultDocument {
        format: FORMAT.to_owned(),
        version: VERSION,
        scenario: echo::scenario(findings.scenario, &names),
        settings: Settings {
            program: findings.settings.program.clone(),
            keep: findings.settings.keep,
            effort: findings.settings.effort,
            seconds: findings.settings.seconds.and_then(measure::finite),
        },
        like: findings.like.as_ref().map(|(design, kept)| Like {
            design: design.clone(),
            kept: words::kept(*kept).to_owned(),
        }),
        defaults_used: findings.defaults.iter().map(Default::from).collect(),
        designs: findings.candidates.iter().map(design).collect(),
        bounds: bounds(findings),
        explanations: reasons::told(findings).iter().map(ExplanationOf::from).collect(),
    }
}

/// One design of a run as the document of it all has it.
pub fn design_document(
    scenario: &Scenario,
    candidate: &Candidate<'_>,
    stopped_by: Option<crate::explore::Stop>,
) -> chosen::Design {
    build::design(scenario, &Names::of(scenario), candidate, stopped_by)
}

/// The scenario with every default filled in.
pub fn given_document(scenario: &Scenario) -> given::Scenario {
    echo::scenario(scenario, &Names::of(scenario))
}

fn design(
    scenario: &Scenario,
    names: &Names,
    candidate: &Candidate<'_>,
    findings: &Findings<'_>,
) -> chosen::Design {
    build::design(scenario, names, candidate, findings.stopped_by)
}

fn bounds(findings: &Findings<'_>) -> Bounds {
    let best = |criterion: Criterion| {
        let figures =
            findings.candidates.iter().map(|found| found.design.criteria.figure(criterion));
        if criterion.more_is_better() { figures.reduce(f64::max) } else { figures.reduce(f64::min) }
    };
    Bounds {
        best_found: Criterion::ALL
            .into_iter()
            .filter_map(|each| Some((each.key().to_owned(), measure::finite(best(each)?)?)))
            .collect(),
        aims: findings.aims.iter().map(Aim::from).collect(),
        best_possible_score: findings.score_bound.and_then(measure::finite),
        structures_considered: findings.considered.structures,
        pruned: findings
            .considered
            .pruned
            .iter()
            .map(|one| Pruned {
                reason: one.reason.clone(),
                structures: one.structures,
                nearest: one.nearest.clone(),
            })
            .collect(),
        solved: findings.considered.solved,
        stopped_by: findings.stopped_by.map(Into::into),
    }
}

/// The JSON Schema (draft 2020-12) of result documents.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(ResultDocument).to_value()
}

#[cfg(test)]
mod tests;
