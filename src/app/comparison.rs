//! Compare choices, or designs by their ids.

use thiserror::Error;

use super::exploration::{Exploration, Shown, explore};
use crate::design::Design;
use crate::explore::compare::{By, Compared, compare, compare_designs, picks};
use crate::explore::flip::Flip;
use crate::explore::rank::Scale;
use crate::explore::{Progress, Settings, Stop};
use crate::input::Read;
use crate::report;
use crate::report::comparison::{Comparison, Side, label};
use crate::scenario::{Criterion, Decided, Scenario};
use crate::verify::{Rejected, Verified, verify};

/// Why there is nothing to compare.
#[derive(Debug, Error, PartialEq)]
pub enum CompareError {
    /// The scenario leaves only one choice.
    #[error("the scenario leaves no choice of {by}: {key} names {names}, and two are wanted")]
    OneChoice {
        /// What was to be varied.
        by: &'static str,
        /// The scenario's key.
        key: &'static str,
        /// How many it names.
        names: usize,
    },
    /// What is decided of tiers and drawers leaves only one choice.
    #[error(
        "what is decided of tiers and drawers leaves no choice of {by}: leave it out of [[tier]] or [[drawer]] to compare"
    )]
    Decided {
        /// What was to be varied.
        by: &'static str,
    },
    /// No design found has this id.
    #[error("no design found is '{wanted}'; those nearest to it are {near}")]
    Unknown {
        /// What was asked for.
        wanted: String,
        /// Ids like it.
        near: String,
    },
    /// More than one design begins so.
    #[error("more than one design begins with '{wanted}': {found}")]
    Ambiguous {
        /// What was asked for.
        wanted: String,
        /// Ids that begin so.
        found: String,
    },
}

/// Choices side by side, every design verified.
#[derive(Debug)]
pub struct SideBySide {
    read: Read,
    by: Option<By>,
    sides: Vec<Outcome>,
    winner: Option<usize>,
    flips: Vec<Flip>,
    stopped_by: Option<Stop>,
    /// Designs that the verifier refused: each is a fault of the program.
    pub rejected: Vec<Rejected>,
}

#[derive(Debug)]
struct Outcome {
    label: String,
    best: Option<(Verified<Design>, f64, [f64; 8])>,
    why_none: Option<report::Explanation>,
}

/// Explores every choice that the scenario leaves open and puts their best designs side by side.
///
/// # Errors
/// [`CompareError::OneChoice`] if there is nothing to choose.
pub fn compare_choices(
    read: Read,
    by: By,
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> Result<SideBySide, CompareError> {
    let open = picks(&read.scenario, by);
    if open.len() < 2 {
        let varied = report::comparison::varied(Some(by));
        let mut free = read.scenario.clone();
        free.decided = Decided::default();
        let (key, names) = (key(by), picks(&free, by).len());
        return Err(match names {
            ..2 => CompareError::OneChoice { by: varied, key, names: names.max(1) },
            _ => CompareError::Decided { by: varied },
        });
    }
    let Compared { choices, flips } = compare(&read.scenario, &open, settings, progress);
    let winner = Compared { choices: choices.clone(), flips: Vec::new() }.winner();
    let mut rejected = Vec::new();
    let stopped_by = choices.iter().find_map(|choice| choice.stopped_by);
    let sides = choices.into_iter().map(|choice| {
        let why_none = (choice.best.is_none() && choice.stopped_by.is_none())
            .then(|| report::reasons::why_none(&read.scenario, &choice.considered));
        let best = choice.best.and_then(|best| match verify(&read.scenario, best.design) {
            Ok(design) => Some((design, best.score, best.contributions)),
            Err(refused) => {
                rejected.push(*refused);
                None
            }
        });
        Outcome { label: label(&read.scenario, choice.pick), best, why_none }
    });
    let sides = sides.collect();
    Ok(SideBySide { sides, by: Some(by), winner, flips, stopped_by, rejected, read })
}

/// Where the scenario lists what may be chosen.
const fn key(by: By) -> &'static str {
    match by {
        By::Columns => "chest.columns",
        By::Tiers => "chest.tiers",
        By::Board => "chest.members",
        By::Runs => "chest.runs_on",
        By::Sheet => "every list of sheets under [chest]",
    }
}

/// Explores the scenario and puts those of its designs side by side whose ids begin as named.
///
/// # Errors
/// [`CompareError`] if a name fits no design or several.
pub fn compare_named(
    read: Read,
    ids: &[String],
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> Result<SideBySide, CompareError> {
    const ALL: usize = 1000;
    let settings = Settings { top: ALL, most_worth: false, ..settings.clone() };
    let Exploration { read, designs, rejected, stopped_by, .. } = explore(read, settings, progress);
    let mut chosen: Vec<usize> = Vec::new();
    for wanted in ids {
        chosen.push(named(&designs, wanted)?);
    }
    let scale = Scale::of(&read.scenario);
    let compared: Vec<&Design> = chosen.iter().map(|at| designs[*at].design.get()).collect();
    let flips = compare_designs(&read.scenario, &scale, &compared);
    let mut places: Vec<(usize, usize)> = chosen.iter().copied().enumerate().collect();
    places.sort_by_key(|(_, rank)| *rank);
    let winner = places.first().map(|(place, _)| *place);
    let mut designs: Vec<Option<Shown>> = designs.into_iter().map(Some).collect();
    let sides = chosen.iter().filter_map(|at| designs[*at].take()).map(|shown| Outcome {
        label: shown.id().to_string(),
        best: Some((shown.design, shown.score, shown.contributions)),
        why_none: None,
    });
    let sides = sides.collect();
    Ok(SideBySide { sides, by: None, winner, flips, stopped_by, rejected, read })
}

/// The place of the one design whose id begins with `wanted`.
pub(super) fn named(designs: &[Shown], wanted: &str) -> Result<usize, CompareError> {
    let ids: Vec<String> = designs.iter().map(|shown| shown.id().to_string()).collect();
    let found: Vec<usize> = (0..ids.len()).filter(|at| ids[*at].starts_with(wanted)).collect();
    match found.as_slice() {
        [one] => Ok(*one),
        [] => Err(CompareError::Unknown { wanted: wanted.to_owned(), near: near(&ids, wanted) }),
        several => Err(CompareError::Ambiguous {
            wanted: wanted.to_owned(),
            found: several.iter().map(|at| ids[*at].as_str()).collect::<Vec<_>>().join(", "),
        }),
    }
}

/// The few ids that are spelt most like `wanted`.
pub fn near(ids: &[String], wanted: &str) -> String {
    const FEW: usize = 5;
    let mut ranked: Vec<(usize, &String)> =
        ids.iter().map(|id| (strsim::damerau_levenshtein(id, wanted), id)).collect();
    ranked.sort();
    let few = ranked.iter().take(FEW).map(|(_, id)| id.as_str());
    few.collect::<Vec<_>>().join(", ")
}

impl SideBySide {
    /// The scenario.
    pub fn scenario(&self) -> &Scenario {
        &self.read.scenario
    }

    /// Whether any choice has a design.
    pub fn has_design(&self) -> bool {
        self.sides.iter().any(|side| side.best.is_some())
    }

    /// What the report is made from.
    pub fn comparison(&self) -> Comparison<'_> {
        let sides = self.sides.iter().map(|side| Side {
            label: side.label.clone(),
            best: side.best.as_ref().map(|(design, score, contributions)| {
                let standing = report::Standing {
                    score: *score,
                    contributions: Criterion::ALL.into_iter().zip(*contributions).collect(),
                    ..report::Standing::default()
                };
                report::Candidate::new(design, 1, standing)
            }),
            why_none: side.why_none.clone(),
        });
        Comparison {
            scenario: &self.read.scenario,
            by: self.by,
            sides: sides.collect(),
            winner: self.winner,
            flips: self.flips.clone(),
            stopped_by: self.stopped_by,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_like_the_one_asked_for_are_named_first() {
        let ids = ["abc1234", "xyz9876", "abd1234"].map(str::to_owned);
        assert_eq!(near(&ids, "abc1235"), "abc1234, abd1234, xyz9876");
    }
}
