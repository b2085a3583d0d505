//! Answers about designs: in the list, from every side, written out.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::report::document::chosen;

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
    /// The best of those that are offered, as no others have fewer checks beyond a guide value.
    pub offered: Option<f64>,
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
