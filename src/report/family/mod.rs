//! One plan for many beds: what the beds' designs share, and the letters under which their lengths differ.
//!
//! - [`letters`]: which lengths have a letter, and what each is in every bed;
//! - [`drawing`]: the common drawings, with letters in place of figures;
//! - [`parts`]: the parts that all beds share, and those that differ;
//! - [`booklet`]: the pages; [`tables`]: the same for spreadsheets.

pub mod booklet;
pub mod drawing;
pub mod letters;
pub mod parts;
pub mod tables;

use crate::design::Design;
use crate::report::subject::{Candidate, Explanation};
use crate::report::words;
use crate::scenario::Scenario;
use crate::units::UnitSystem;

/// Several beds and the design that each has of one idea.
#[derive(Debug, Clone)]
pub struct Family<'a> {
    /// The beds in the order in which they were named; the first gave the idea.
    pub beds: Vec<Bed<'a>>,
    /// How lengths are shown, whatever each scenario says.
    pub units: UnitSystem,
}

/// One of the beds.
#[derive(Debug, Clone)]
pub struct Bed<'a> {
    /// The file of its scenario.
    pub file: String,
    /// Its scenario, held to the idea save for the first.
    pub scenario: &'a Scenario,
    /// Its design, as the verifier let it pass; none if it can have none.
    pub best: Option<Candidate<'a>>,
    /// Why it has none; empty for a search that was stopped before it found one.
    pub why_none: Option<Explanation>,
    /// Materials of the idea in whose place it uses its own.
    pub without: Vec<String>,
}

/// A bed that has a design.
#[derive(Debug, Clone, Copy)]
pub struct Built<'a> {
    /// Its place among all beds, from 0.
    pub place: usize,
    /// Its scenario.
    pub scenario: &'a Scenario,
    /// Its design.
    pub design: &'a Design,
}

impl Bed<'_> {
    /// Why it has no design, as a sentence.
    pub fn why(&self) -> String {
        match &self.why_none {
            Some(why) if why.change.is_empty() => why.sentence.clone(),
            Some(why) => format!("{} What would do: {}.", why.sentence, why.change),
            None => "The search was stopped before it found a design.".to_owned(),
        }
    }
}

impl<'a> Family<'a> {
    /// The beds that have a design.
    pub fn built(&self) -> Vec<Built<'a>> {
        let all = self.beds.iter().enumerate();
        all.filter_map(|(place, bed)| {
            let design = bed.best.as_ref()?.design;
            Some(Built { place, scenario: bed.scenario, design })
        })
        .collect()
    }

    /// The idea in words.
    pub fn idea(&self) -> String {
        self.built()
            .first()
            .map(|lead| words::structure(lead.scenario, &lead.design.structure))
            .unwrap_or_default()
    }
}

/// What a bed is called in tables: its number, from 1.
pub fn name(place: usize) -> String {
    format!("bed {}", place + 1)
}
