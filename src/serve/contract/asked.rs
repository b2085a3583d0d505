//! What is asked: the bodies and queries of requests. Unknown keys are refused.

use serde::Deserialize;

use crate::app::edit::Edit;

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

/// What to read as lengths: `POST /api/measure`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measure {
    /// What was typed.
    pub texts: Vec<String>,
}

/// What was copied from a spreadsheet or a CSV file: `POST /api/paste`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Paste {
    /// The cells.
    pub text: String,
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
