//! The set of files that goes with an exploration and one of its designs.

use thiserror::Error;

use super::exploration::{Exploration, Shown};
use super::folder::OutFile;
use crate::design::{HardwareLine, Purchase};
use crate::paper;
use crate::report::comparison::Comparison;
use crate::report::{drawings, tables};

/// A file could not be put together: a fault of the program.
#[derive(Debug, Error)]
#[error("cannot put {name} together: {why}")]
pub struct SetError {
    name: String,
    why: String,
}

impl SetError {
    /// Why `name` could not be put together.
    pub(super) fn new(name: &str, why: impl std::fmt::Display) -> Self {
        Self { name: name.to_owned(), why: why.to_string() }
    }
}

/// Drawings and lists of one design, and the result document with all of them.
///
/// # Errors
/// [`SetError`] if a file cannot be put together.
pub fn set(exploration: &Exploration, shown: &Shown) -> Result<Vec<OutFile>, SetError> {
    let design = &shown.design;
    let supplies = Supplies { sets: 1, purchases: &design.purchases, hardware: &design.hardware };
    let mut files = set_of(exploration, shown, supplies)?;
    files.push(result_file(document(exploration)?));
    Ok(files)
}

/// The result document as a file of a set.
pub(super) fn result_file(text: String) -> OutFile {
    OutFile { name: "result.json".to_owned(), bytes: text.into_bytes() }
}

/// What is bought for how many sets.
#[derive(Debug, Clone, Copy)]
pub(super) struct Supplies<'a> {
    pub sets: u32,
    pub purchases: &'a [Purchase],
    pub hardware: &'a [HardwareLine],
}

/// Drawings of one design, and its lists for so many sets.
pub(super) fn set_of(
    exploration: &Exploration,
    shown: &Shown,
    supplies: Supplies<'_>,
) -> Result<Vec<OutFile>, SetError> {
    let scenario = exploration.scenario();
    let mut files = Vec::new();
    for named in drawings::drawings(&shown.design, scenario) {
        let bytes = paper::svg(&named.drawing).into_bytes();
        files.push(OutFile { name: format!("{}.svg", named.name), bytes });
    }
    let lists = [
        ("parts.csv", tables::parts(scenario, &shown.design, supplies.sets)),
        ("shopping.csv", tables::shopping(scenario, supplies.purchases, supplies.hardware)),
        ("gear.csv", tables::gear(scenario, &shown.design)),
        ("checks.csv", tables::checks(scenario.units, &shown.design)),
    ];
    for (name, table) in lists {
        let bytes = paper::csv(&table).map_err(|e| SetError::new(name, e))?;
        files.push(OutFile { name: name.to_owned(), bytes });
    }
    Ok(files)
}

/// The result document with one of its designs alone, and what it came from: the scenario, the settings, the bounds.
///
/// # Errors
/// [`SetError`] if a number in it is not finite.
pub(super) fn document_of_one(
    exploration: &Exploration,
    shown: &Shown,
) -> Result<String, SetError> {
    let mut findings = exploration.findings();
    let mut ranked = (1..).zip(&exploration.designs);
    let rank = ranked.find(|(_, one)| one.design.id == shown.design.id).map(|(rank, _)| rank);
    findings.candidates = rank.map(|rank| shown.candidate(rank)).into_iter().collect();
    text("result.json", &crate::report::document(&findings))
}

/// The result document as text.
///
/// # Errors
/// [`SetError`] if a number in it is not finite.
pub fn document(exploration: &Exploration) -> Result<String, SetError> {
    text("result.json", &crate::report::document(&exploration.findings()))
}

/// The comparison document as text.
///
/// # Errors
/// [`SetError`] if a number in it is not finite.
pub fn comparison_document(found: &Comparison<'_>) -> Result<String, SetError> {
    text("the comparison", &crate::report::comparison_document(found))
}

/// The explanation document as text.
///
/// # Errors
/// [`SetError`] if a number in it is not finite.
pub fn explanation_document(found: &crate::report::WhyOf<'_>) -> Result<String, SetError> {
    text("the explanation", &crate::report::explanation_document(found))
}

pub(super) fn text(name: &str, document: &impl serde::Serialize) -> Result<String, SetError> {
    let text = serde_json::to_string_pretty(document)
        .map_err(|e| SetError { name: name.to_owned(), why: e.to_string() })?;
    Ok(text + "\n")
}
