//! The set that goes with a design that is built: cuts in order, drawings, lists.

use thiserror::Error;

use super::exploration::{Exploration, Shown};
use super::folder::OutFile;
use super::papers::papers;
use super::set::{SetError, Supplies, document_of_one, result_file, set_of};
use crate::build;
use crate::cut;
use crate::design::work::{Saw, WorkPlan};
use crate::design::{CuttingPlan, Part, Purchase};
use crate::paper::{self, Fonts, PageSize};
use crate::report;
use crate::report::booklet::SetCosts;
use crate::scenario::Scenario;
use crate::solve::budget::Budget;
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
    /// What each of several sets saves against one built alone, in words; nothing for a single one.
    pub saving: Option<String>,
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
    build_in(exploration, shown, settings, &Fonts::bundled())
}

/// The same set in other typefaces.
///
/// # Errors
/// [`BuildError`].
pub fn build_in(
    exploration: &Exploration,
    shown: &Shown,
    settings: BuildSettings,
    fonts: &Fonts,
) -> Result<BuiltSet, BuildError> {
    let scenario = exploration.scenario();
    let design = &shown.design;
    let nested = nest(scenario, design, settings.sets)?;
    let cutting = nested.unwrap_or_else(|| design.cutting.clone());
    let work = build::work_plan(scenario, design, cutting, settings.sets, settings.saw);
    let work = verify_work(scenario, design, work)?;
    let several = (settings.sets > 1).then(|| several(&design.purchases, &work));
    let supplies =
        Supplies { sets: work.sets, purchases: &work.purchases, hardware: &work.hardware };
    let mut files = set_of(exploration, shown, supplies)?;
    files.push(result_file(document_of_one(exploration, shown)?));
    let lists = [
        ("cuts.csv", report::work::cuts(scenario, design, &work)),
        ("holes.csv", report::work::holes(scenario, design, &work)),
        ("hardware.csv", report::work::hardware(scenario, &work)),
        ("assembly.csv", report::work::step_list(scenario, design, &work)),
    ];
    for (name, table) in lists {
        let bytes = paper::csv(&table).map_err(|e| SetError::new(name, e))?;
        files.push(OutFile { name: name.to_owned(), bytes });
    }
    let offcuts = report::work::offcuts(scenario, design, &work).into_bytes();
    files.push(OutFile { name: "offcuts.toml".to_owned(), bytes: offcuts });
    let sets = several.map(|costs| report::booklet::saving(costs, &scenario.currency));
    let job = report::booklet::Job {
        scenario,
        design,
        work: &work,
        size: settings.paper,
        sets: sets.as_deref(),
    };
    let (papers, warnings) = papers(&job, fonts)?;
    files.extend(papers);
    Ok(BuiltSet { files, work, saving: sets, warnings })
}

/// The parts of several sets on stock bought together; `None` for a single set, which is cut already.
fn nest(
    scenario: &Scenario,
    design: &crate::design::Design,
    sets: u32,
) -> Result<Option<CuttingPlan>, BuildError> {
    if sets == 1 {
        return Ok(None);
    }
    let parts: Vec<Part> = design
        .parts
        .iter()
        .map(|part| Part { quantity: part.quantity.saturating_mul(sets), ..part.clone() })
        .collect();
    let mut budget = Budget::work(NESTING * u64::from(sets));
    let cut = cut::plan(scenario, &parts, &mut budget).map_err(|_| BuildError::Stock { sets })?;
    Ok(Some(cut.plan))
}

/// What one set costs alone and what several cost together.
fn several(alone: &[Purchase], work: &WorkPlan) -> SetCosts {
    let cost = |bought: &[Purchase]| bought.iter().map(|line| line.cost).sum();
    let on_hand = work.purchases.iter().any(|line| line.on_hand > 0);
    SetCosts { sets: work.sets, alone: cost(alone), together: cost(&work.purchases), on_hand }
}
