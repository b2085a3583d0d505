//! The rounds of the search.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use super::field::Field;
use super::pipeline::Stowed;
use super::proof::aims;
use super::rank::{RankedDesign, Scale, order, rank, told_apart};
use super::{Considered, Explored, Found, Progress, Settings, Stage};
use crate::design::{Criteria, Design, Structure};
use crate::scenario::Scenario;
use crate::solve::budget::{Budget, Stop};
use crate::solve::crew::Crew;

/// Explores a scenario and ranks what it finds.
///
/// `report` is called from several threads with news of how far it is.
pub fn explore(
    scenario: &Scenario,
    settings: &Settings,
    report: &(dyn Fn(Progress<'_>) + Sync),
) -> Explored {
    explore_among(scenario, &Some, settings, report)
}

/// The same over what is made of each structure, if anything is.
pub(super) fn explore_among(
    scenario: &Scenario,
    keep: &(dyn Fn(Structure) -> Option<Structure> + Sync),
    settings: &Settings,
    report: &(dyn Fn(Progress) + Sync),
) -> Explored {
    let deadline = settings.time.and_then(|time| Instant::now().checked_add(time));
    let crew = Crew::new(settings.threads);
    Search { scenario, keep, settings, report, deadline, crew }.run()
}

/// A running search.
pub(super) struct Search<'a> {
    pub scenario: &'a Scenario,
    /// What of the structures that the scenario allows is looked at.
    pub keep: &'a (dyn Fn(Structure) -> Option<Structure> + Sync),
    pub settings: &'a Settings,
    pub report: &'a (dyn Fn(Progress<'_>) + Sync),
    deadline: Option<Instant>,
    crew: Crew,
}

impl Search<'_> {
    fn run(&self) -> Explored {
        self.run_unless_abandoned().unwrap_or_else(|| Explored {
            ranked: Vec::new(),
            considered: Considered::default(),
            stopped_by: Some(Stop::Cancelled),
            aims: Vec::new(),
            score_bound: None,
        })
    }

    fn run_unless_abandoned(&self) -> Option<Explored> {
        let go_on = || (!self.settings.cancel.is_abandoned()).then_some(());
        go_on()?;
        let mut considered = Considered::default();
        let mut field = self.field(&mut considered);
        go_on()?;
        let score_bound = self.score_bound(&field);
        (self.report)(Progress { score_bound, ..Progress::tasks(Stage::Bounding, 0, 0) });
        let (stowed, mut stopped_by) = self.stow_all(&mut field, &mut considered);
        go_on()?;
        let mut sketched = self.sketch_all(stowed, &mut field, &mut considered);
        go_on()?;
        let (shortlist, mut finished) =
            self.finish_in_rounds(&mut sketched, &mut field, &mut considered);
        go_on()?;
        let (kinds, twins) = told_apart(order(self.scenario, finished.clone()));
        let first: Vec<RankedDesign> = kinds.into_iter().chain(twins).collect();
        finished.extend(self.refine(&first, &shortlist));
        self.chase(&field, &mut finished);
        finished.extend(self.worth_offered(&field, &finished));
        let worth = finished.iter().map(|(design, _)| design.criteria.value_milli).max();
        self.sharpen(&mut field, worth);
        let beside = match self.settings.most_worth {
            true => self.most_worth(&field, &finished),
            false => Vec::new(),
        };
        if self.settings.prove {
            let spent = self.prove(&field, &mut finished, &beside);
            stopped_by = stopped_by.or(self.asked_to_stop()).or(spent);
        }
        go_on()?;
        Some(self.explored(&field, finished, &beside, &sketched.all, considered, stopped_by))
    }

    /// No design of the field scores more than this.
    pub(super) fn score_bound(&self, field: &Field) -> Option<f64> {
        let scale = Scale::of(self.scenario);
        field.ideals().map(|ideal| scale.score(self.scenario, ideal).0).reduce(f64::max)
    }

    /// Everything that was found, ranked, and what is proved of it; what was found `beside` only for being worth more is not listed.
    fn explored(
        &self,
        field: &Field,
        finished: Vec<(Design, i64)>,
        beside: &[(Design, i64)],
        waiting: &[Stowed],
        mut considered: Considered,
        stopped_by: Option<Stop>,
    ) -> Explored {
        let structures = |finished: &[(Design, i64)]| -> BTreeSet<Structure> {
            finished.iter().map(|(design, _)| self.as_listed(&design.structure)).collect()
        };
        let done = structures(&finished);
        considered.finished = done.len() as u64;
        let all: Vec<Design> =
            finished.iter().chain(beside).map(|(design, _)| design.clone()).collect();
        let finished = offered(finished);
        considered.beyond_guides = (done.len() - structures(&finished).len()) as u64;
        let aims = aims(field.ideals(), all.iter(), finished.iter().map(|(design, _)| design));
        let scale = Scale::of(self.scenario);
        let score = |criteria: &Criteria| scale.score(self.scenario, criteria).0;
        let best = finished.iter().map(|(design, _)| score(&design.criteria)).reduce(f64::max);
        let sketched: BTreeSet<&Structure> = waiting.iter().map(|one| &one.structure).collect();
        for (structure, ideal) in &field.alive {
            if field.refused.contains(structure) || done.contains(structure) {
                continue;
            }
            let most = score(ideal);
            match best {
                Some(best) if most <= best => considered.add_outscored(most),
                _ if sketched.contains(structure) => considered.sketched += 1,
                _ => considered.unexplored += 1,
            }
        }
        let score_bound = self.score_bound(field);
        let mut ranked = rank(self.scenario, finished);
        ranked.truncate(self.settings.top);
        let stopped_by = stopped_by.or_else(|| self.asked_to_stop());
        Explored { ranked, considered, stopped_by, aims, score_bound }
    }

    /// Whether the clock or somebody says stop by now.
    pub(super) fn asked_to_stop(&self) -> Option<Stop> {
        let mut probe = self.budget(u64::MAX);
        probe.spend(0);
        probe.stopped()
    }

    pub(super) fn budget(&self, work: u64) -> Budget {
        Budget::work(work.saturating_mul(self.settings.effort))
            .until(self.deadline)
            .cancelled_by(&self.settings.cancel)
    }

    /// An allowance at this effort.
    pub(super) fn allowance(&self, usual: usize) -> usize {
        usual.saturating_mul(usize::try_from(self.settings.effort).unwrap_or(usize::MAX))
    }

    /// News of a finished design.
    pub(super) fn tell_of(&self, stage: Stage, design: &Design, value_bound: i64) {
        let score = Scale::of(self.scenario).score(self.scenario, &design.criteria).0;
        let value_milli = design.criteria.value_milli;
        let found = Found { score, value_milli, design, value_bound };
        (self.report)(Progress { found: Some(found), ..Progress::tasks(stage, 0, 0) });
    }

    /// The structure as it is listed: with the first of the fronts.
    pub(super) fn as_listed(&self, structure: &Structure) -> Structure {
        Structure { front: self.scenario.choices.fronts[0], ..structure.clone() }
    }

    /// Maps in parallel and reports each task done. Nothing comes back once the search was abandoned.
    pub(super) fn map<T: Sync, R: Send>(
        &self,
        stage: Stage,
        items: &[T],
        work: impl Fn(&T) -> R + Sync,
    ) -> Vec<R> {
        let (done, of) = (AtomicU64::new(0), items.len() as u64);
        (self.report)(Progress::tasks(stage, 0, of));
        let results = self.crew.map(items, |item| {
            if self.settings.cancel.is_abandoned() {
                return None;
            }
            let result = work(item);
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            (self.report)(Progress::tasks(stage, done, of));
            Some(result)
        });
        results.into_iter().collect::<Option<Vec<R>>>().unwrap_or_default()
    }
}

/// Those of which the fewest checks don't hold: none, wherever that can be had.
fn offered(mut finished: Vec<(Design, i64)>) -> Vec<(Design, i64)> {
    let fewest = finished.iter().map(|(design, _)| design.beyond()).min();
    finished.retain(|(design, _)| Some(design.beyond()) == fewest);
    finished
}
