//! Why a result is as it is, and what would change it. Nothing here is argued: every answer is a scenario changed in one place
//! and explored again.

mod conflict;
mod drawers;
mod slack;
mod worth;

pub use conflict::{Conflict, Cure, Limit, conflict};
pub use slack::{Held, Room, Slack, slacks};
pub use worth::{LetIn, REACH, Step, Worth, let_in, sharpened, worth, worth_of};

use std::cell::Cell;
use std::time::{Duration, Instant};

use super::{Progress, Settings, Stop, explore};
use crate::design::{Content, Design};
use crate::scenario::Scenario;
use crate::units::Length;

/// What a tape measure says of the bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// The floor's length.
    Length,
    /// The width from wall to wall and, alike, between the wells.
    Width,
    /// What the deck must stay under.
    Height,
}

impl Measure {
    /// Each.
    pub const ALL: [Self; 3] = [Self::Length, Self::Width, Self::Height];

    /// The scenario with so much more of it, or less where `by` is negative; nothing where that is no bed.
    pub fn changed(self, scenario: &Scenario, by: Length) -> Option<Scenario> {
        let mut changed = scenario.clone();
        let bed = &mut changed.bed;
        match self {
            Self::Length => bed.length.at += by,
            Self::Height => bed.clear_height.at += by,
            Self::Width => {
                bed.width.at += by;
                if let Some(wells) = &mut bed.wells {
                    wells.between.at += by;
                }
            }
        }
        let wells_fit = bed.wells.as_ref().is_none_or(|wells| {
            wells.between.at.is_positive() && wells.from_tailgate + wells.length <= bed.length.at
        });
        let positive = [bed.length.at, bed.width.at, bed.clear_height.at];
        (wells_fit && positive.iter().all(|length| length.is_positive())).then_some(changed)
    }
}

/// Searches again and again with one clock and one report.
pub struct Asker<'a> {
    settings: &'a Settings,
    report: &'a (dyn Fn(Progress<'_>) + Sync),
    deadline: Option<Instant>,
    asked: Cell<u64>,
}

impl<'a> Asker<'a> {
    /// An asker; a time limit is one for all that it is asked.
    pub fn new(settings: &'a Settings, report: &'a (dyn Fn(Progress<'_>) + Sync)) -> Self {
        let deadline = settings.time.and_then(|time| Instant::now().checked_add(time));
        Self { settings, report, deadline, asked: Cell::new(0) }
    }

    /// How many searches were made.
    pub fn asked(&self) -> u64 {
        self.asked.get()
    }

    /// The design of a scenario that stows the most worth among those listed; none if there is none, or the search was stopped.
    pub fn most_worth(&self, scenario: &Scenario) -> Option<Design> {
        self.asked.set(self.asked.get() + 1);
        let left = |deadline: Instant| deadline.saturating_duration_since(Instant::now());
        let time: Option<Duration> = self.deadline.map(left);
        let found = explore(
            scenario,
            &Settings { time, most_worth: false, ..self.settings.clone() },
            self.report,
        );
        let designs = found.ranked.into_iter().map(|ranked| ranked.design);
        designs.reduce(|best, next| {
            if next.criteria.value_milli > best.criteria.value_milli { next } else { best }
        })
    }

    /// Whether anything told the searches to stop.
    pub fn stopped(&self) -> bool {
        self.stopped_by().is_some()
    }

    /// What told the searches to stop, if anything did: what was not found then proves nothing.
    pub fn stopped_by(&self) -> Option<Stop> {
        if self.settings.cancel.is_raised() {
            return Some(Stop::Cancelled);
        }
        self.deadline.filter(|at| Instant::now() >= *at).map(|_| Stop::Clock)
    }

    /// The least of `1..=most` for which `holds`, by halving: `holds` is taken to hold for all above the first for which it does.
    /// O(log `most`) questions.
    pub fn least(&self, most: i64, holds: impl Fn(i64) -> bool) -> Option<i64> {
        if most < 1 || !holds(most) {
            return None;
        }
        let (mut fails, mut does) = (0, most);
        while does - fails > 1 {
            let middle = fails + (does - fails) / 2;
            if holds(middle) {
                does = middle;
            } else {
                fails = middle;
            }
        }
        (!self.stopped()).then_some(does)
    }
}

/// The scenario with nothing left to choose but what the design itself chose; heights of ripped members stay free.
pub fn held_to(scenario: &Scenario, design: &Design) -> Scenario {
    let mut held = scenario.clone();
    let (choices, chosen) = (&mut held.choices, &design.structure);
    choices.families = vec![chosen.family];
    choices.tiers = vec![chosen.tiers.len() as u32];
    choices.columns = used(chosen.tiers.iter().map(|tier| tier.columns));
    choices.members = used(chosen.tiers.iter().map(|tier| tier.member));
    choices.bottom = vec![chosen.bottom];
    choices.deck = vec![chosen.deck];
    choices.drawer_sides = vec![chosen.sides];
    choices.drawer_bottoms = vec![chosen.drawer_bottom];
    choices.fronts = vec![chosen.front];
    choices.dividers = vec![chosen.divider];
    choices.runs_on = vec![chosen.runs];
    held
}

/// Each of them once, in their order.
pub(super) fn used<T: PartialEq>(all: impl Iterator<Item = T>) -> Vec<T> {
    let mut list = Vec::new();
    for one in all {
        if !list.contains(&one) {
            list.push(one);
        }
    }
    list
}

/// How many copies of something a design leaves out.
fn left(design: &Design, content: Content) -> u32 {
    let lines = design.left_out.iter().filter(|left| left.content == content);
    lines.map(|left| left.count).sum()
}

/// Everything that is to be stowed.
fn contents(scenario: &Scenario) -> impl Iterator<Item = Content> {
    let gear = scenario.gear.ids().map(Content::Gear);
    gear.chain(scenario.loose.ids().map(Content::Loose))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::{full_size, inches};

    #[test]
    fn halving_finds_the_first_that_holds_in_few_questions() {
        let settings = Settings::default();
        let asker = Asker::new(&settings, &|_| {});
        for first in 1..=64 {
            let questions = Cell::new(0);
            let found = asker.least(64, |at| {
                questions.set(questions.get() + 1);
                at >= first
            });
            assert_eq!(found, Some(first));
            assert!(questions.get() <= 7, "{}", questions.get());
        }
        assert_eq!(asker.least(64, |_| false), None);
        assert_eq!(asker.least(0, |_| true), None);
    }

    #[test]
    fn a_bed_that_would_end_within_its_wells_is_none() {
        let scenario = full_size();
        let wells = scenario.bed.wells.expect("the fixture has wells");
        let behind = scenario.bed.length.at - wells.from_tailgate - wells.length;
        assert!(Measure::Length.changed(&scenario, -behind).is_some());
        assert!(Measure::Length.changed(&scenario, -behind - inches(1)).is_none());
        let wider = Measure::Width.changed(&scenario, inches(1)).expect("a bed");
        assert_eq!(wider.bed.floor_width(), scenario.bed.floor_width() + inches(1));
    }
}
