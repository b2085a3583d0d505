//! Fits in the result document.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::Mm;
use crate::design;
use crate::explore::fits::{self, Holds};
use crate::report::words;
use crate::scenario::{self as given, Demanded, Scenario};

/// How far sizes may be off, and what was asked of fits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tolerance {
    /// What designs had to bear.
    pub demand: Demand,
    /// A tape measure's reading, where none was given with a measurement.
    pub tape: Mm,
    /// A cut, and where a part is put.
    pub saw: Mm,
    /// A sheet's thickness.
    pub sheet: Mm,
    /// A board's thickness and width.
    pub board: Mm,
    /// A measured thing that is stowed.
    pub gear: Mm,
}

/// What designs had to bear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Demand {
    /// Nothing.
    Nothing,
    /// Deviations as the root of the sum of squares.
    Average,
    /// Every deviation at its worst at once.
    WorstCase,
}

impl From<&given::Tolerance> for Tolerance {
    fn from(tolerance: &given::Tolerance) -> Self {
        Self {
            demand: match tolerance.demanded {
                Demanded::Nothing => Demand::Nothing,
                Demanded::Average => Demand::Average,
                Demanded::WorstCase => Demand::WorstCase,
            },
            tape: tolerance.tape.into(),
            saw: tolerance.saw.into(),
            sheet: tolerance.sheet.into(),
            board: tolerance.board.into(),
            gear: tolerance.gear.into(),
        }
    }
}

/// Which fits hold however far sizes are off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fits {
    /// Each fit.
    pub list: Vec<Fit>,
    /// What to measure again first; nothing if all hold at worst case.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub measure_first: Option<String>,
}

/// A fit with its margin and what may eat it up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fit {
    /// What fits into what.
    pub of: String,
    /// What is left if every size is as drawn; negative if that does not fit.
    pub margin: Mm,
    /// The sum of all deviations.
    pub worst_case: Mm,
    /// The root of the sum of their squares, rounded up.
    pub root_sum_square: Mm,
    /// How surely it holds.
    pub holds: Surely,
    /// How far each size may be off, pieces of one material together.
    pub deviations: Vec<Deviation>,
}

/// How surely a fit holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Surely {
    /// Every deviation at its worst at once.
    WorstCase,
    /// As the root of the sum of squares.
    Average,
    /// Not even so.
    No,
}

/// How far a size may be off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Deviation {
    /// Which.
    pub from: String,
    /// Either way.
    pub by: Mm,
}

pub(super) fn of(scenario: &Scenario, design: &design::Design) -> Fits {
    let all = fits::fits(scenario, design);
    let first = fits::measure_first(&all);
    Fits {
        measure_first: first.map(|(_, source)| words::fits::source(scenario, source)),
        list: all.iter().map(|one| fit(scenario, one)).collect(),
    }
}

fn fit(scenario: &Scenario, fit: &fits::Fit) -> Fit {
    let stack = &fit.stack;
    let deviation = |one: &fits::Deviation| Deviation {
        from: words::fits::source(scenario, one.from),
        by: one.by.into(),
    };
    Fit {
        of: words::fits::fit(scenario, &fit.of),
        margin: stack.margin.into(),
        worst_case: stack.worst().into(),
        root_sum_square: stack.root_sum_square().into(),
        holds: match stack.holds() {
            Holds::WorstCase => Surely::WorstCase,
            Holds::Average => Surely::Average,
            Holds::No => Surely::No,
        },
        deviations: stack.deviations.iter().map(deviation).collect(),
    }
}
