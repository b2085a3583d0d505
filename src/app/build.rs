//! The set that goes with a design that is built: cuts in order, drawings, lists.

use thiserror::Error;

use super::exploration::{Exploration, Shown};
use super::folder::OutFile;
use super::papers::papers;
use super::set::{SetError, set};
use crate::build;
use crate::cut;
use crate::design::work::{Saw, WorkPlan};
use crate::design::{Part, PurchaseOf};
use crate::paper::{self, PageSize};
use crate::report;
use crate::scenario::Scenario;
use crate::solve::budget::Budget;
use crate::units::Money;
use crate::verify::{RejectedWork, Verified, verify_work};

/// Work spent on nesting several sets together, for each of them.
const NESTING: u64 = 4_000_000;

/// How a set is to be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BuildSettings {
    /// What the sheets are sawn with.
    pub saw: Saw,
    /// How many sets are built at once; at least 1.
    pub sets: u32,
    /// The booklet's paper, upright.
    pub paper: PageSize,
}

/// A set, and what building several at once saves.
#[derive(Debug)]
pub struct BuiltSet {
    /// Every file.
    pub files: Vec<OutFile>,
    /// The work plan.
    pub work: Verified<WorkPlan>,
    /// What each set saves in stock against one built alone; nothing for a single one.
    pub saved_per_set: Option<Money>,
    /// What the reader must be told of the papers.
    pub warnings: Vec<String>,
}

/// Why no set was put together.
#[derive(Debug, Error)]
pub enum BuildError {
    /// So many sets cannot be cut from the stock that can be had.
    #[error("{sets} sets cannot be cut from the stock that can be had")]
    Stock {
        /// How many were asked for.
        sets: u32,
    },
    /// A file could not be put together: a fault of the program.
    #[error(transparent)]
    Set(#[from] SetError),
    /// The work plan did not pass the verifier: a fault of the program.
    #[error(transparent)]
    Work(#[from] Box<RejectedWork>),
}

impl BuildError {
    /// Whether the program is at fault and not what was asked of it.
    pub const fn is_bug(&self) -> bool {
        !matches!(self, Self::Stock { .. })
    }
}

/// Puts everything together that a person needs to build one listed design.
///
/// # Errors
/// [`BuildError`].
pub fn build(
    exploration: &Exploration,
    shown: &Shown,
    settings: BuildSettings,
) -> Result<BuiltSet, BuildError> {
    let scenario = exploration.scenario();
    let design = &shown.design;
    let nested = nest(scenario, design, settings.sets)?;
    let saved_per_set = nested.as_ref().map(|nested| {
        let alone: Money = stock_cost(&design.purchases);
        Money::from_parts(
            (alone * i64::from(settings.sets) - stock_cost(&nested.purchases)).parts()
                / i64::from(settings.sets),
        )
    });
    let cutting = nested.map_or_else(|| design.cutting.clone(), |nested| nested.plan);
    let work = build::work_plan(scenario, design, cutting, settings.sets, settings.saw);
    let work = verify_work(scenario, design, work)?;
    let mut files = set(exploration, shown)?;
    let lists = [
        ("cuts.csv", report::work::cuts(scenario, design, &work)),
        ("holes.csv", report::work::holes(scenario, design, &work)),
        ("hardware.csv", report::work::hardware(scenario, design)),
        ("assembly.csv", report::work::step_list(scenario, design, &work)),
    ];
    for (name, table) in lists {
        let bytes = paper::csv(&table).map_err(|e| SetError::new(name, e))?;
        files.push(OutFile { name: name.to_owned(), bytes });
    }
    let offcuts = report::work::offcuts(scenario, design, &work).into_bytes();
    files.push(OutFile { name: "offcuts.toml".to_owned(), bytes: offcuts });
    let sets = saved_per_set
        .map(|saved| report::booklet::saving(settings.sets, saved, &scenario.currency));
    let job = report::booklet::Job {
        scenario,
        design,
        work: &work,
        size: settings.paper,
        sets: sets.as_deref(),
    };
    let (papers, warnings) = papers(&job)?;
    files.extend(papers);
    Ok(BuiltSet { files, work, saved_per_set, warnings })
}

/// The parts of several sets on stock bought together; `None` for a single set, which is cut already.
fn nest(
    scenario: &Scenario,
    design: &crate::design::Design,
    sets: u32,
) -> Result<Option<cut::StockCut>, BuildError> {
    if sets == 1 {
        return Ok(None);
    }
    let parts: Vec<Part> = design
        .parts
        .iter()
        .map(|part| Part { quantity: part.quantity.saturating_mul(sets), ..part.clone() })
        .collect();
    let mut budget = Budget::work(NESTING * u64::from(sets));
    cut::plan(scenario, &parts, &mut budget).map(Some).map_err(|_| BuildError::Stock { sets })
}

/// What the stock alone costs.
fn stock_cost(purchases: &[crate::design::Purchase]) -> Money {
    let stock = purchases.iter().filter(|bought| matches!(bought.what, PurchaseOf::Stock(_)));
    stock.map(|bought| bought.cost).sum()
}
