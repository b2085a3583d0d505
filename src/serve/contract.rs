//! What goes over the wire: the shapes of requests and answers, as JSON. See the room's front page for who asks what.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::app::edit::{Edit, Step};
use crate::report::document::{chosen, given};

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
    /// The changes: [`Edit`]; `{at, typed}`, `{at, set}`, `{at, remove: true}`, `{at, insert}`, `{at, insert_typical}`,
    /// `{at, measured: true}`, `{at, move_to}`.
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
    /// The score of the design that ranks first so far.
    pub best: Option<f64>,
    /// No design scores more than this; null until known.
    pub bound: Option<f64>,
    /// Milliseconds since it began.
    pub elapsed_ms: u64,
    /// Milliseconds from its beginning until its first verified design could be fetched.
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

/// How everything is: `GET /api/status`, the same that the events tell.
#[derive(Debug, Clone, Serialize)]
pub struct Status {
    /// Another one for every start of the server: a page that comes back to another session starts anew.
    pub session: String,
    /// The document's revision.
    pub revision: u64,
    /// The live run.
    pub run: RunNews,
    /// What was asked besides, without the answers.
    pub jobs: Vec<Job>,
    /// The folder that sets can be written into; null if none was named.
    pub into: Option<String>,
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
    /// ordered by `beyond`, the fewest first, then by score, the most first; equals by id.
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
    /// How many of its checks are beyond a guide value: whoever has fewer comes first, whatever it scores.
    pub beyond: usize,
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

/// What to read as lengths: `POST /api/measure`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measure {
    /// What was typed.
    pub texts: Vec<String>,
}

/// One of the answers to [`Measure`].
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

/// What was copied from a spreadsheet or a CSV file: `POST /api/paste`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Paste {
    /// The cells.
    pub text: String,
}

/// What became of a [`Paste`]: nothing is changed yet.
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

/// A design from every side: `GET /api/designs/ID`.
#[derive(Debug, Clone, Serialize)]
pub struct Seen {
    /// The run that it is of.
    pub run: u64,
    /// The document's revision that it is of.
    pub revision: u64,
    /// Whether it is of the document as it is now.
    pub current: bool,
    /// The design as a result document has it; lengths in mm.
    pub design: chosen::Design,
    /// `parts`, `shopping`, `gear`, `checks`: in the scenario's units.
    pub tables: BTreeMap<&'static str, Table>,
    /// What the verdicts of its checks mean.
    pub verdicts: String,
    /// What to be careful about.
    pub cautions: Vec<String>,
    /// Why what it leaves out is left out.
    pub left_out: Vec<Reason>,
    /// What the command line shows of it.
    pub lines: Vec<Line>,
    /// Its drawings.
    pub drawings: Vec<Drawing>,
}

/// A table to be shown.
#[derive(Debug, Clone, Serialize)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a text for each column.
    pub rows: Vec<Vec<String>>,
}

/// A column's head.
#[derive(Debug, Clone, Serialize)]
pub struct Column {
    /// What its cells are.
    pub heading: String,
    /// Their unit, if they have one.
    pub unit: Option<String>,
    /// Whether they are numbers.
    pub number: bool,
}

/// A line as the command line shows it.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// `plain`, `heading`, `strong`, `bad`, `caution`, `faint`.
    pub style: &'static str,
    /// At most 80 columns.
    pub text: String,
}

/// A drawing: its SVG is at `/api/designs/ID/drawings/NAME.svg`.
#[derive(Debug, Clone, Serialize)]
pub struct Drawing {
    /// `plan-tier-a`, `front-elevation`, `side-section`, `cut-sheet-1`, `cut-boards-1`.
    pub name: String,
    /// Its title.
    pub title: String,
}

/// A box in space: `GET /api/designs/ID/solid`.
#[derive(Debug, Clone, Serialize)]
pub struct Solid {
    /// The part's mark, or the gear's name.
    pub mark: String,
    /// A part's role as a result document has it (`deck`, `member`, `drawer_side`, …), `gear` or `loose`.
    pub kind: String,
    /// What it is, in words.
    pub name: String,
    /// The drawer that it moves with (`A1`); null if it stays.
    pub drawer: Option<String>,
    /// x0, y0, z0, x1, y1, z1 in mm, in the bed's frame with drawers shut: x across from the left wall, y from the closed tailgate
    /// toward the cab, z up from the floor. Drawers are pulled toward −y.
    #[serde(rename = "box")]
    pub space: [f64; 6],
}

/// What is asked of the program besides the live run: `POST /api/jobs`. Answers come when they are ready.
#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Ask {
    /// Why a design is as it is, or why there is none.
    Why {
        /// The design's id; null for the best.
        #[serde(default)]
        design: Option<String>,
        /// Only what would let in this thing that it leaves out.
        #[serde(default)]
        item: Option<String>,
    },
    /// Choices side by side, each explored by itself, with what would turn the verdict.
    CompareBy {
        /// `columns`, `tiers`, `board`, `sheet` or `runs`.
        by: Vary,
    },
    /// Designs side by side.
    Compare {
        /// Their ids; at least two.
        designs: Vec<String>,
    },
    /// What would be if the document were changed; it is not.
    Trial {
        /// The changes.
        edits: Vec<Edit>,
    },
}

/// What a comparison varies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Vary {
    /// Drawers beside one another.
    Columns,
    /// Tiers.
    Tiers,
    /// The members' stock.
    Board,
    /// Sheet materials.
    Sheet,
    /// What drawers slide on.
    Runs,
}

/// How something asked for is: `GET /api/jobs/JOB`, and the event `job` without the answer.
#[derive(Debug, Clone, Serialize)]
pub struct Job {
    /// Its number.
    pub job: u64,
    /// `why`, `compare` or `trial`.
    pub kind: &'static str,
    /// The document's revision that it is of.
    pub revision: u64,
    /// Where it is.
    pub state: RunState,
    /// What it is doing.
    pub stage: Option<&'static str>,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage.
    pub of: u64,
    /// Milliseconds since it began.
    pub elapsed_ms: u64,
    /// With `failed`: what happened.
    pub what: Option<String>,
    /// With `done`: [`Worded`] for `why` and `compare`, [`Designs`] for `trial`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub answer: Option<serde_json::Value>,
}

/// The answer to `why` and `compare`.
#[derive(Debug, Clone, Serialize)]
pub struct Worded {
    /// The document that the command line prints with `--json`.
    pub document: serde_json::Value,
    /// What the command line prints without.
    pub lines: Vec<Line>,
}

/// What was written: `POST /api/designs/ID/into`.
#[derive(Debug, Clone, Serialize)]
pub struct Written {
    /// The folder.
    pub folder: String,
    /// The files in it.
    pub files: Vec<String>,
    /// What the reader must be told of them.
    pub warnings: Vec<String>,
}

/// How a set is asked for: query of `set.zip`, `booklet.pdf` and `into`.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetWanted {
    /// `a4` or `letter`; by the scenario's units if left out.
    #[serde(default)]
    pub paper: Option<Paper>,
    /// `guide` or `table`: what the sheets are sawn with; a guide if left out.
    #[serde(default)]
    pub saw: Option<SawKind>,
    /// How many sets are built at once; 1 if left out.
    #[serde(default)]
    pub sets: Option<u32>,
    /// `into`: over files that were not made here.
    #[serde(default)]
    pub over: bool,
}

/// A paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// ISO A4.
    A4,
    /// US Letter.
    Letter,
}

/// A saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SawKind {
    /// A hand-held saw along a guide.
    Guide,
    /// A table saw.
    Table,
}
