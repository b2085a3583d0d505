//! Answers about the document: its text, fields and faults, and what can be put into it.

use serde::Serialize;

use crate::app::edit::Step;
use crate::report::document::given;

/// The document: the answer to `GET /api/document` and to everything that changes it.
#[derive(Debug, Clone, Serialize)]
pub struct Document {
    /// Grows with every change; a change must name the one that it was made on.
    pub revision: u64,
    /// All of the scenario's text.
    pub text: String,
    /// The file, as it was named; null if none was.
    pub file: Option<String>,
    /// Whether the file holds this very text.
    pub saved: bool,
    /// Whether another program changed the file since it was read or saved here.
    pub changed_outside: bool,
    /// Whether the text is what an earlier session left unsaved: undoing it leads to what the file holds.
    pub recovered: bool,
    /// Why the latest unsaved change is kept nowhere but in the program (`cannot write …`); null if it is kept or need not be.
    pub unkept: Option<String>,
    /// Whether something can be undone.
    pub can_undo: bool,
    /// Whether something undone can be done again.
    pub can_redo: bool,
    /// `in` or `mm`: how bare numbers are read.
    pub units: &'static str,
    /// The text as tables and lists; numbers and texts as they were typed (`"52.00"`, `"6 ft 6 in"`). Null if the text is no
    /// TOML: then only the text can be changed.
    pub fields: Option<serde_json::Value>,
    /// The fields whose values are typical ones, still to be measured (`["gear", 3, "size"]`).
    pub to_measure: Vec<Vec<Step>>,
    /// The scenario with every default filled in, lengths in mm: the `scenario` of a result document. Null if there are faults.
    pub given: Option<given::Scenario>,
    /// What the text leaves out, and what stands in: the scenario's keys (`shop.kerf`) with values and reasons.
    pub defaults: Vec<Default>,
    /// Everything that is wrong, and what is worth knowing, in the order of the text.
    pub faults: Vec<Fault>,
    /// Whether the explorer can run: no fault refuses.
    pub sound: bool,
}

/// A default that stands in.
#[derive(Debug, Clone, Serialize)]
pub struct Default {
    /// The key as the file would spell it.
    pub key: String,
    /// The value as a person would write it.
    pub value: String,
    /// Why this value.
    pub why: String,
}

/// A fault, in the words of the command line.
#[derive(Debug, Clone, Serialize)]
pub struct Fault {
    /// A stable word for its kind: `syntax`, `unknown_key`, `missing`, `unreadable`, …, `notice`.
    pub code: &'static str,
    /// The field: `["gear", 3, "size", 0]`. The missing key is its last step. Empty for the file as a whole.
    pub path: Vec<Step>,
    /// From 1; 0 for the file as a whole.
    pub line: usize,
    /// In characters, from 1.
    pub column: usize,
    /// The offending text: from this place of the text, in UTF-16 units as JavaScript counts them.
    pub from: usize,
    /// To this one.
    pub to: usize,
    /// What is wrong.
    pub what: String,
    /// What would do instead; null if nothing is known.
    pub cure: Option<String>,
    /// Whether nothing can be explored with it.
    pub refusing: bool,
}

/// Why something was refused, with a status of 400 and up.
#[derive(Debug, Clone, Serialize)]
pub struct Refusal {
    /// A stable word: `stale`, `changed_outside`, `faulty`, `no_place`, `busy`, `unknown`, …
    pub code: &'static str,
    /// What is wrong.
    pub what: String,
    /// What would do instead.
    pub cure: String,
    /// With `stale` and `changed_outside`: the document as it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub document: Option<Box<Document>>,
}

/// One of the answers to [`Measure`](super::Measure).
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum MeasuredText {
    /// A length.
    Length {
        /// In millimetres.
        mm: f64,
        /// How far it may be out, in millimetres.
        tolerance_mm: f64,
        /// In the scenario's units: `75 1/4 in`.
        words: String,
    },
    /// None.
    Unreadable {
        /// What is wrong.
        what: String,
        /// What would do instead.
        cure: Option<String>,
    },
}

/// What became of a [`Paste`](super::Paste): nothing is changed yet.
#[derive(Debug, Clone, Serialize)]
pub struct PastedGear {
    /// Rows to `insert` at `["gear"]`.
    pub rows: Vec<serde_json::Value>,
    /// Lines and columns that were not taken.
    pub faults: Vec<PasteFault>,
}

/// A line or column that was not taken.
#[derive(Debug, Clone, Serialize)]
pub struct PasteFault {
    /// From 1; 0 for all of it.
    pub line: usize,
    /// From 1; 0 for the whole line.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// What would do instead.
    pub cure: String,
}

/// A list of gear to start from: `GET /api/starters`.
#[derive(Debug, Clone, Serialize)]
pub struct Starter {
    /// Its name.
    pub name: &'static str,
    /// What it is of.
    pub what: &'static str,
    /// Rows to `insert_typical` at `["gear"]`, in the document's units.
    pub rows: Vec<serde_json::Value>,
}

/// A class of bed to start from: `GET /api/classes`.
#[derive(Debug, Clone, Serialize)]
pub struct Class {
    /// Its name.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// A whole scenario: to be put in the document's place.
    pub text: String,
}
