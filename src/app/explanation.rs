//! Explain a design, what it leaves out, or why there is none.

use super::comparison::{CompareError, named};
use super::exploration::{Exploration, Shown, explore};
use crate::design::Content;
use crate::explore::why::{
    self, Asker, Conflict, LetIn, Slack, Worth, conflict, let_in, slacks, worth,
};
use crate::explore::{Progress, Settings, Stop};
use crate::input::Read;
use crate::report;
use crate::scenario::Scenario;

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct Question {
    /// The design's id or its first letters; none for the best.
    pub design: Option<String>,
    /// The thing left out; none for those worth most.
    pub item: Option<String>,
}

/// An explanation with the exploration that it is of.
#[derive(Debug)]
pub struct Explained {
    /// What was explored.
    pub exploration: Exploration,
    /// The place of the design explained among `exploration.designs`.
    pub at: usize,
    /// What binds and what is left.
    pub slacks: Vec<Slack>,
    /// What each measurement is worth.
    pub worth: Vec<Worth>,
    /// What would let in what is left out.
    pub let_in: Vec<LetIn>,
    /// Which limits conflict, where there is no design.
    pub conflict: Option<Conflict>,
    /// Searches made for it.
    pub asked: u64,
    /// What ended them early, if anything did.
    pub stopped_by: Option<Stop>,
}

/// So many things left out are explained unless one is named.
const LEFT_OUT: usize = 3;

/// Explores, then changes the scenario in one place after another and explores again.
///
/// # Errors
/// If no design, or nothing left out, is called as asked.
pub fn explain(
    read: Read,
    question: &Question,
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> Result<Explained, ExplainError> {
    let exploration = explore(read, settings.clone(), progress);
    let asker = Asker::new(settings, progress);
    let scenario = exploration.scenario();
    if exploration.designs.is_empty() {
        let wanted = !settings.cancel.is_abandoned();
        let conflict = wanted.then(|| conflict(scenario, &asker)).flatten();
        let (asked, stopped_by) = (asker.asked(), asker.stopped_by());
        let (slacks, worth, let_in) = (Vec::new(), Vec::new(), Vec::new());
        return Ok(Explained {
            exploration,
            at: 0,
            slacks,
            worth,
            let_in,
            conflict,
            asked,
            stopped_by,
        });
    }
    let at = match &question.design {
        Some(wanted) => named(&exploration.designs, wanted)?,
        None => 0,
    };
    let design = exploration.designs[at].design.get();
    let (found, wanted) = match &question.item {
        Some(name) => {
            let content = left_out(scenario, &exploration.designs[at], name)?;
            (Vec::new(), vec![content])
        }
        None => (worth(scenario, design, &asker), dearest_left_out(scenario, design)),
    };
    let let_in: Vec<LetIn> =
        wanted.into_iter().map(|content| let_in(scenario, design, content, &asker)).collect();
    let found = why::sharpened(scenario, design, found, &let_in, &asker);
    let slacks = slacks(scenario, design);
    let (asked, stopped_by) = (asker.asked(), asker.stopped_by());
    Ok(Explained {
        at,
        slacks,
        worth: found,
        let_in,
        conflict: None,
        asked,
        stopped_by,
        exploration,
    })
}

/// Why nothing can be explained.
#[derive(Debug, thiserror::Error)]
pub enum ExplainError {
    /// No such design.
    #[error(transparent)]
    Design(#[from] CompareError),
    /// Nothing left out is called so.
    #[error("design {design} leaves out nothing called '{wanted}'; {left}")]
    Item {
        /// The design.
        design: String,
        /// What was asked for.
        wanted: String,
        /// What it does leave out.
        left: String,
    },
}

/// What the design leaves out of this name.
fn left_out(scenario: &Scenario, shown: &Shown, name: &str) -> Result<Content, ExplainError> {
    let lines = &shown.design.left_out;
    let called = |content| report::words::content(scenario, content);
    let found = lines.iter().find(|left| called(left.content).eq_ignore_ascii_case(name));
    found.map(|left| left.content).ok_or_else(|| {
        let names: Vec<&str> = lines.iter().map(|left| called(left.content)).collect();
        let left = if names.is_empty() {
            "it stows everything".to_owned()
        } else {
            format!("it leaves out {}", names.join(", "))
        };
        ExplainError::Item { design: shown.id().to_string(), wanted: name.to_owned(), left }
    })
}

/// The kinds of thing left out that are worth most, a few.
fn dearest_left_out(scenario: &Scenario, design: &crate::design::Design) -> Vec<Content> {
    let mut contents: Vec<Content> = design.left_out.iter().map(|left| left.content).collect();
    contents.sort_by_key(|content| std::cmp::Reverse(why::worth_of(scenario, *content)));
    contents.truncate(LEFT_OUT);
    contents
}

impl Explained {
    /// The scenario.
    pub fn scenario(&self) -> &Scenario {
        self.exploration.scenario()
    }

    /// What the report is made from.
    pub fn explanation(&self) -> report::WhyOf<'_> {
        let shown = self.exploration.designs.get(self.at);
        report::WhyOf {
            scenario: self.scenario(),
            found: shown.map(|shown| shown.candidate(self.at + 1)),
            slacks: &self.slacks,
            worth: &self.worth,
            let_in: &self.let_in,
            conflict: self.conflict.as_ref(),
            why_none: match shown {
                None => self.exploration.findings().explanations,
                Some(_) => Vec::new(),
            },
            asked: self.asked,
            stopped_by: self.exploration.stopped_by.or(self.stopped_by),
        }
    }
}
