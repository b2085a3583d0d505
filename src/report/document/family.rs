//! The document of one plan for many beds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::Mm;
use super::{ExplanationOf, build, chosen, echo, given, kinds};
use crate::explore::Stop;
use crate::report::family::letters::letters;
use crate::report::family::parts::{Shared, parts};
use crate::report::family::{self, Bed, Family};
use crate::report::naming::Names;

/// What `format` says in every such document.
pub const FORMAT: &str = "bedwright family";

/// One design idea in several beds. Units are those of the result document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Family")]
pub struct FamilyDocument {
    /// Always `bedwright family`.
    pub format: String,
    /// The version of this shape.
    pub version: u32,
    /// The idea in words.
    pub idea: String,
    /// The beds in their order; the first gave the idea.
    pub beds: Vec<FamilyBed>,
    /// The lengths that have a letter in the common drawing.
    pub letters: Vec<LetterOf>,
    /// The kinds of part of all beds, those that every bed shares first.
    pub parts: Vec<FamilyPart>,
    /// What ended a search early; null if all ran to their end.
    pub stopped_by: Option<kinds::Stop>,
}

/// A bed with its design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FamilyBed {
    /// What the lists call it: `bed 1`.
    pub name: String,
    /// The file of its scenario.
    pub file: String,
    /// What was given, every default filled in; for all but the first held to the idea.
    pub scenario: given::Scenario,
    /// Its design; null if it can have none.
    pub design: Option<chosen::Design>,
    /// Why it has none; null if it has one, or the search was stopped before it found one.
    pub why_none: Option<ExplanationOf>,
    /// Materials of the idea that it does not have and uses its own in the place of.
    pub without: Vec<String>,
}

/// A length with its letter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LetterOf {
    /// The letter.
    pub letter: String,
    /// What it is.
    pub what: String,
    /// In each bed that has a design, in their order; null in one that has no such thing.
    pub values: Vec<Option<Mm>>,
    /// Whether it is the same in all of them.
    pub shared: bool,
}

/// A kind of part as it comes off the saw.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FamilyPart {
    /// What it is.
    pub role: kinds::Role,
    /// What it is made of.
    pub material: String,
    /// Length.
    pub length: Mm,
    /// Width.
    pub width: Mm,
    /// Thickness.
    pub thickness: Mm,
    /// Whether every bed that has a design has it.
    pub shared: bool,
    /// How many of it each bed that has a design takes, in their order.
    pub quantities: Vec<u32>,
    /// What it is marked in each of them.
    pub marks: Vec<Vec<String>>,
}

/// The document of one family.
pub fn document(found: &Family<'_>, stopped_by: Option<Stop>) -> FamilyDocument {
    let (shared, own) = parts(found);
    let all = shared.iter().map(|one| (true, one)).chain(own.iter().map(|one| (false, one)));
    FamilyDocument {
        format: FORMAT.to_owned(),
        version: super::VERSION,
        idea: found.idea(),
        beds: (0..).zip(&found.beds).map(|(place, one)| bed(place, one, stopped_by)).collect(),
        letters: letters(found)
            .into_iter()
            .map(|letter| LetterOf {
                shared: letter.is_shared(),
                values: letter.values.iter().map(|value| value.map(Mm::from)).collect(),
                letter: letter.letter,
                what: letter.what,
            })
            .collect(),
        parts: all.map(|(shared, one)| part(shared, one)).collect(),
        stopped_by: stopped_by.map(Into::into),
    }
}

fn bed(place: usize, bed: &Bed<'_>, stopped_by: Option<Stop>) -> FamilyBed {
    let names = Names::of(bed.scenario);
    let design = |best| build::design(bed.scenario, &names, best, stopped_by);
    FamilyBed {
        name: family::name(place),
        file: bed.file.clone(),
        scenario: echo::scenario(bed.scenario, &names),
        design: bed.best.as_ref().map(design),
        why_none: bed.why_none.as_ref().map(ExplanationOf::from),
        without: bed.without.clone(),
    }
}

fn part(shared: bool, one: &Shared) -> FamilyPart {
    let [length, width, thickness] = one.size.map(Mm::from);
    FamilyPart {
        role: one.role.into(),
        material: one.material.clone(),
        length,
        width,
        thickness,
        shared,
        quantities: one.beds.iter().map(|bed| bed.0).collect(),
        marks: one.beds.iter().map(|bed| bed.1.clone()).collect(),
    }
}

/// The JSON Schema (draft 2020-12) of such documents.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(FamilyDocument).to_value()
}
