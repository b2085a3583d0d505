//! What goes over the wire: the shapes of requests and answers, as JSON. See the room's front page for who asks what.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::app::edit::{Edit, Step};

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
    /// Whether something can be undone.
    pub can_undo: bool,
    /// Whether something undone can be done again.
    pub can_redo: bool,
    /// `in` or `mm`: how bare numbers are read.
    pub units: &'static str,
    /// The text as tables and lists; numbers and texts as they were typed (`"52.00"`, `"6 ft 6 in"`). Null if the text is no
    /// TOML: then only the text can be changed.
    pub fields: Option<serde_json::Value>,
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

/// Another text in the place of all of it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewText {
    /// The revision that was changed.
    pub revision: u64,
    /// The text.
    pub text: String,
}

/// Changes of fields, made all or none, in order.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewFields {
    /// The revision that was changed.
    pub revision: u64,
    /// The changes: `{at, typed}`, `{at, set}`, `{at, remove: true}`, `{at, insert}`, `{at, move_to}`.
    pub edits: Vec<Edit>,
}

/// A step back or forth.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Turn {
    /// The revision that is seen.
    pub revision: u64,
}

/// To save.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Save {
    /// The revision that is to be saved.
    pub revision: u64,
    /// Whether over what another program wrote.
    #[serde(default)]
    pub over: bool,
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

/// How the live run is: the event `run`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunNews {
    /// Its number; grows. 0 before the first.
    pub run: u64,
    /// The document's revision that it explores.
    pub revision: u64,
    /// Where it is.
    pub state: RunState,
    /// What it is doing: `dimensions`, `bounding`, `stowing`, `sketching`, `finishing`, `refining`, `chasing`, `proving`.
    pub stage: Option<&'static str>,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage.
    pub of: u64,
    /// Designs finished so far.
    pub found: u64,
    /// The best score so far.
    pub best: Option<f64>,
    /// No design scores more than this; null until known.
    pub bound: Option<f64>,
    /// Milliseconds since it began.
    pub elapsed_ms: u64,
    /// Milliseconds from its beginning to its first design.
    pub first_ms: Option<u64>,
    /// The version of the list of designs; fetch it again when this grows.
    pub designs: u64,
    /// With `failed`: what happened.
    pub what: Option<String>,
}

/// Where a run is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RunState {
    /// Nothing to explore: the document has faults.
    Idle,
    /// Going on.
    Running,
    /// Ended by itself; its list is final.
    Done,
    /// Given up, as the document was changed or somebody asked.
    Cancelled,
    /// The program is at fault.
    Failed,
}

/// The designs of the live run, best first: the answer to `GET /api/designs`.
#[derive(Debug, Clone, Serialize)]
pub struct Designs {
    /// The run that they are of; 0 if there are none yet.
    pub run: u64,
    /// The document's revision that they are of. Older than the document's while a new run has found nothing.
    pub revision: u64,
    /// The version of the list.
    pub version: u64,
    /// Whether the run has ended and the list is what the command line would rank.
    pub is_final: bool,
    /// What ended the search early: `work`, `clock`, `cancelled`; null if it ran to its end.
    pub stopped_by: Option<&'static str>,
    /// The scenario's weights by criterion. A design's score is Σ of (100 × weight) × share ÷ (Σ weights), each sum
    /// from left to right in the order of `criteria`, in double precision: then it is exact to the last bit. Designs are
    /// ordered by score, the most first; equals by id.
    pub weights: BTreeMap<&'static str, f64>,
    /// The criteria in their order.
    pub criteria: Vec<CriterionWords>,
    /// What is known of the best of each criterion.
    pub aims: Vec<Aim>,
    /// No design scores more than this by the scenario's weights; null until known.
    pub score_bound: Option<f64>,
    /// The designs, best first.
    pub designs: Vec<Listed>,
    /// Structures looked at and what became of them: reason and count.
    pub considered: Vec<(String, u64)>,
    /// Why there is no design, or why the best leaves something out.
    pub reasons: Vec<Reason>,
}

/// A criterion.
#[derive(Debug, Clone, Serialize)]
pub struct CriterionWords {
    /// Its key: `usable_volume`.
    pub key: &'static str,
    /// What to call it.
    pub name: &'static str,
    /// The unit of the figures; empty for none.
    pub unit: String,
    /// Whether more is better.
    pub more_is_better: bool,
}

/// What is known of the best that one criterion can be.
#[derive(Debug, Clone, Serialize)]
pub struct Aim {
    /// The criterion.
    pub criterion: &'static str,
    /// The best that was found.
    pub best: Option<f64>,
    /// The id of the design that has it.
    pub design: Option<String>,
    /// No design is better.
    pub bound: Option<f64>,
    /// Whether they meet.
    pub proved: bool,
}

/// Why something cannot be had.
#[derive(Debug, Clone, Serialize)]
pub struct Reason {
    /// What.
    pub about: String,
    /// The whole of it as a sentence.
    pub sentence: String,
    /// The smallest change that would do; empty if none is known.
    pub change: String,
    /// Whether it is proved.
    pub proved: bool,
}

/// A design in the list.
#[derive(Debug, Clone, Serialize)]
pub struct Listed {
    /// Its id.
    pub id: String,
    /// From 1.
    pub rank: usize,
    /// 0 to 100, by the scenario's weights.
    pub score: f64,
    /// Whether no other design found is at least as good in everything and better in something.
    pub undominated: bool,
    /// Drawers beside one another, tier by tier from the bottom.
    pub columns: Vec<u32>,
    /// Heights of the openings, tier by tier, mm.
    pub heights: Vec<f64>,
    /// `between_wells` or `above_wells`.
    pub family: String,
    /// The members' stock, tier by tier.
    pub boards: Vec<String>,
    /// The deck's material.
    pub deck: String,
    /// `strip`, `waxed` or `slides`.
    pub runs: String,
    /// Figures by criterion; null for a margin where nothing is loaded.
    pub figures: BTreeMap<&'static str, Option<f64>>,
    /// How good the design is by each criterion, 0 to 1: what weights are multiplied with.
    pub shares: BTreeMap<&'static str, f64>,
    /// How many finished designs much like it are not listed.
    pub twins: u32,
    /// How many things are left out.
    pub left_out: u32,
    /// What it is, in words.
    pub words: String,
}
