//! The rounds of the search.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use super::field::{Field, Group, StowKey, beside};
use super::pipeline::{Sketch, Stowed, Widest, finish, sketch};
use super::promise::{in_turn, material_price};
use super::proof::aims;
use super::rank::{RankedDesign, Scale, order, rank, told_apart};
use super::reason::Reason;
use super::unfit::unfit;
use super::{Considered, Explored, Found, Progress, Settings, Stage};
use crate::design::derive::carcass;
use crate::design::{Carcass, Criteria, Design, Structure};
use crate::mechanics;
use crate::scenario::{Family, Scenario};
use crate::solve::budget::{Budget, Stop};
use crate::solve::crew::Crew;
use crate::stow;
use crate::units::Length;

/// Different stowing problems looked into at most, per unit of effort.
const STOWINGS: usize = 400;
/// Work of one stowing, first and refined.
pub(super) const STOW_WORK: u64 = 600_000;
pub(super) const STOW_WORK_REFINED: u64 = 8_000_000;
/// Structures sketched at most, per unit of effort.
const SKETCHES: usize = 4_800;
/// Designs finished in one round after the sketch, and rounds made while kinds are left without a design.
const FINISHED: usize = 48;
const ROUNDS: usize = 3;
/// Of those, how many are refined.
const REFINED: usize = 8;
/// Sketches of one kind that are finished in one round at most.
const PER_KIND: usize = 4;
/// Work of one cutting plan, first and refined.
pub(super) const CUT_WORK: u64 = 100_000;
const CUT_WORK_REFINED: u64 = 1_000_000;
/// What is still finished once the search was told to stop.
const FINISHED_IN_HASTE: usize = 4;

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

/// What twins share before they are built.
type Kind = (Family, bool, Vec<(u32, Length)>);

fn kind(structure: &Structure) -> Kind {
    let tiers = structure.tiers.iter().map(|tier| (tier.columns, tier.height)).collect();
    (structure.family, structure.seamless, tiers)
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
        let mut waiting = self.sketch_all(stowed, &mut field, &mut considered);
        go_on()?;
        let (shortlist, mut finished) =
            self.finish_in_rounds(&mut waiting, &mut field, &mut considered);
        go_on()?;
        let (kinds, twins) = told_apart(order(self.scenario, finished.clone()));
        let first: Vec<RankedDesign> = kinds.into_iter().chain(twins).collect();
        finished.extend(self.refine(&first, &shortlist));
        self.chase(&field, &mut finished);
        if self.settings.prove {
            let spent = self.prove(&field, &mut finished);
            stopped_by = stopped_by.or(self.asked_to_stop()).or(spent);
        }
        go_on()?;
        Some(self.explored(&field, finished, &waiting, considered, stopped_by))
    }

    /// No design of the field scores more than this.
    fn score_bound(&self, field: &Field) -> Option<f64> {
        let scale = Scale::of(self.scenario);
        field.ideals().map(|ideal| scale.score(self.scenario, ideal).0).reduce(f64::max)
    }

    /// Everything that was found, ranked, and what is proved of it.
    fn explored(
        &self,
        field: &Field,
        finished: Vec<(Design, i64)>,
        waiting: &[Stowed],
        mut considered: Considered,
        stopped_by: Option<Stop>,
    ) -> Explored {
        let structures = |finished: &[(Design, i64)]| -> BTreeSet<Structure> {
            finished.iter().map(|(design, _)| self.as_listed(&design.structure)).collect()
        };
        let done = structures(&finished);
        considered.finished = done.len() as u64;
        let finished = offered(finished);
        considered.beyond_guides = (done.len() - structures(&finished).len()) as u64;
        let aims = aims(field.ideals(), finished.iter().map(|(design, _)| design));
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

    /// Stows the most promising groups. Where there are more than the allowance, the roomiest of each kind of columns come in
    /// turn, so that every kind is looked into before any is exhausted.
    fn stow_all(
        &self,
        field: &mut Field,
        considered: &mut Considered,
    ) -> (Vec<Stowed>, Option<Stop>) {
        let columns = |group: &&Group| -> Vec<u32> {
            group.members[0].tiers.iter().map(|tier| tier.columns).collect()
        };
        let order =
            in_turn(field.groups.iter().collect(), columns, |group| std::cmp::Reverse(group.room));
        let (chosen, _) = order.split_at(self.allowance(STOWINGS).min(order.len()));
        considered.stowings = chosen.len() as u64;
        let most = (self.allowance(SKETCHES) / chosen.len().max(1)).max(4);
        let results = self.map(Stage::Stowing, chosen, |group| self.stow(group, most));
        let mut stowed = Vec::new();
        let mut stopped_by = None;
        let mut refused = Vec::new();
        for (group, result) in chosen.iter().zip(results) {
            match result {
                Ok(Ok(some)) => stowed.extend(some),
                Ok(Err(reason)) => {
                    group.members.iter().for_each(|_| considered.discarded.add(reason.clone()));
                    refused.extend(group.members.iter().cloned());
                }
                Err(stop) => stopped_by = stopped_by.or(stop),
            }
        }
        field.refused.extend(refused);
        (stowed, stopped_by)
    }

    /// Stows a group; of its structures at most `most` go on, those of each deck, bottom and drawer bottom in turn, the cheapest materials first.
    fn stow(
        &self,
        group: &Group,
        most: usize,
    ) -> Result<Result<Vec<Stowed>, Reason>, Option<Stop>> {
        // More effort goes to more structures and to refining the best, so that a first design never waits long.
        let mut budget = self.budget(STOW_WORK).share(STOW_WORK * self.settings.effort.min(4));
        if !budget.spend(0) {
            return Err(budget.stopped());
        }
        let first = &group.members[0];
        let Ok(frames) = carcass(self.scenario, first) else { return Ok(Ok(Vec::new())) };
        let result = self.stow_in(first, &frames, Widest::Any, &mut budget);
        if let Some((content, copies)) = result.missing.first() {
            let beside = beside(self.scenario, first, &frames);
            return Ok(Err(unfit(
                self.scenario,
                &frames,
                &beside,
                *content,
                *copies,
                result.proved_missing,
            )));
        }
        let order = in_turn(
            group.members.iter().collect(),
            |structure| {
                (structure.deck, structure.deck_grain, structure.bottom, structure.drawer_bottom)
            },
            |structure| material_price(self.scenario, structure),
        );
        let some = order.into_iter().take(most).filter_map(|structure| {
            Some(Stowed {
                structure: structure.clone(),
                carcass: carcass(self.scenario, structure).ok()?,
                stowage: result.stowage.clone(),
                value_bound: result.value_bound,
                widest: Widest::Any,
            })
        });
        Ok(Ok(some.collect()))
    }

    /// Every stowed structure, the most promising by its estimate first.
    fn sketch_all(
        &self,
        stowed: Vec<Stowed>,
        field: &mut Field,
        considered: &mut Considered,
    ) -> Vec<Stowed> {
        let sketches = self.map(Stage::Sketching, &stowed, |one| sketch(self.scenario, one));
        let mut sketched: Vec<(Stowed, Sketch)> = Vec::new();
        let mut failed = Vec::new();
        for (one, sketch) in stowed.into_iter().zip(sketches) {
            match sketch {
                Ok(sketch) => sketched.push((one, sketch)),
                Err(reason) => failed.push((one, reason)),
            }
        }
        let (mended, refused) = self.even_out(failed);
        sketched.extend(mended);
        for (structure, reason) in refused {
            considered.discarded.add(reason);
            field.refused.insert(structure);
        }
        let scale = Scale::of(self.scenario);
        let mut scored: Vec<(usize, f64, Stowed)> = sketched
            .into_iter()
            .map(|(one, sketch)| {
                (sketch.beyond, scale.score(self.scenario, &sketch.criteria).0, one)
            })
            .collect();
        // Those whose checks hold first: the others are offered only where none are such.
        scored.sort_by(|a, b| {
            let better = a.0.cmp(&b.0).then(b.1.total_cmp(&a.1));
            better.then_with(|| a.2.structure.cmp(&b.2.structure))
        });
        scored.into_iter().map(|(_, _, one)| one).collect()
    }

    /// Stows what failed a check again in drawers of less unequal widths, and sketches that; what still fails keeps its reason.
    /// Structures that share a stowing are stowed together.
    fn even_out(&self, failed: Vec<(Stowed, Reason)>) -> Evened {
        let mut groups: BTreeMap<StowKey, Vec<(Stowed, Reason)>> = BTreeMap::new();
        let mut refused = Vec::new();
        for (one, reason) in failed {
            let several = one.carcass.tiers.iter().any(|tier| tier.columns > 1);
            if several && matches!(reason, Reason::CheckFails { .. }) {
                let key = self.key(&one.structure, &one.carcass);
                groups.entry(key).or_default().push((one, reason));
            } else {
                refused.push((one.structure, reason));
            }
        }
        let groups: Vec<Vec<(Stowed, Reason)>> = groups.into_values().collect();
        let results = self.map(Stage::Sketching, &groups, |group| self.evened(group));
        let mut mended = Vec::new();
        for (some, rest) in results {
            mended.extend(some);
            refused.extend(rest);
        }
        (mended, refused)
    }

    fn evened(&self, group: &[(Stowed, Reason)]) -> Evened {
        let mut open: Vec<&(Stowed, Reason)> = group.iter().collect();
        let mut mended = Vec::new();
        for widest in Widest::ALL.into_iter().filter(|widest| *widest != Widest::Any) {
            let Some((first, _)) = open.first() else { break };
            let mut budget = self.budget(1).share(STOW_WORK);
            if !budget.spend(0) {
                break;
            }
            let found = self.stow_in(&first.structure, &first.carcass, widest, &mut budget);
            if !found.missing.is_empty() {
                continue;
            }
            open.retain(|(one, _)| {
                let evened = Stowed { stowage: found.stowage.clone(), widest, ..one.clone() };
                let sketch = sketch(self.scenario, &evened);
                let fails = sketch.is_err();
                mended.extend(sketch.ok().map(|sketch| (evened, sketch)));
                fails
            });
        }
        let refused = open.into_iter().map(|(one, reason)| (one.structure.clone(), reason.clone()));
        (mended, refused.collect())
    }

    /// Finishes the most promising, a few of each kind; kinds of which none passed get another round.
    fn finish_in_rounds(
        &self,
        waiting: &mut Vec<Stowed>,
        field: &mut Field,
        considered: &mut Considered,
    ) -> (Vec<Stowed>, Vec<(Design, i64)>) {
        let mut tried = Vec::new();
        let mut finished: Vec<(Design, i64)> = Vec::new();
        for _ in 0..ROUNDS {
            let haste = self.asked_to_stop().is_some();
            let most = if haste { FINISHED_IN_HASTE } else { FINISHED };
            let done: Vec<Kind> =
                finished.iter().map(|(design, _)| kind(&design.structure)).collect();
            let shortlist = take_some_of_each_kind(waiting, &done, most);
            if shortlist.is_empty() {
                break;
            }
            let (passed, reasons) = self.finish_all(&shortlist, Stage::Finishing, CUT_WORK);
            for (structure, reason) in reasons {
                considered.discarded.add(reason);
                field.refused.insert(structure);
            }
            finished.extend(passed);
            tried.extend(shortlist);
            if haste && !finished.is_empty() {
                break;
            }
        }
        (tried, finished)
    }

    fn finish_all(&self, stowed: &[Stowed], stage: Stage, work: u64) -> Ended {
        let results = self.map(stage, stowed, |one| {
            // Finishing goes on in small when the search was told to stop, so that what was found is not lost.
            let mut budget = self.budget(work);
            if !budget.spend(0) {
                budget = Budget::work(CUT_WORK / 10);
            }
            let finished = finish(self.scenario, one, &mut budget);
            if let Ok((design, value_bound)) = &finished {
                self.tell_of(stage, design, *value_bound);
            }
            finished
        });
        let mut passed = Vec::new();
        let mut reasons = Vec::new();
        for (one, result) in stowed.iter().zip(results) {
            match result {
                Ok(design) => passed.push(design),
                Err(reason) => reasons.push((one.structure.clone(), reason)),
            }
        }
        (passed, reasons)
    }

    /// Stows and cuts the best again with more work, and tries the other fronts on them.
    fn refine(&self, first: &[RankedDesign], tried: &[Stowed]) -> Vec<(Design, i64)> {
        if self.asked_to_stop().is_some() {
            return Vec::new();
        }
        let best: Vec<&Stowed> = first
            .iter()
            .take(REFINED)
            .filter_map(|ranked| tried.iter().find(|one| one.structure == ranked.design.structure))
            .collect();
        let restowed = self.map(Stage::Refining, &best, |one| self.restow(one));
        let variants: Vec<Stowed> = restowed.iter().flat_map(|one| self.variants(one)).collect();
        self.finish_all(&variants, Stage::Refining, CUT_WORK_REFINED).0
    }

    /// Stows a structure's drawers, none heavier than can be pulled as far as that can be had.
    pub(super) fn stow_in(
        &self,
        structure: &Structure,
        frames: &Carcass,
        widest: Widest,
        budget: &mut Budget,
    ) -> stow::Stowed {
        let most = mechanics::most_gear(self.scenario, structure, frames);
        widest.stow(self.scenario, structure, frames, &most, budget)
    }

    /// The same structure stowed with more work.
    fn restow(&self, one: &Stowed) -> Stowed {
        let mut budget = self.budget(STOW_WORK_REFINED);
        let again = self.stow_in(&one.structure, &one.carcass, one.widest, &mut budget);
        if !again.missing.is_empty() {
            return one.clone();
        }
        // The bound of evened drawers says nothing of others.
        let value_bound = match one.widest {
            Widest::Any => again.value_bound.min(one.value_bound),
            Widest::Share(_) => one.value_bound,
        };
        Stowed { stowage: again.stowage, value_bound, ..one.clone() }
    }

    /// The structure with every front that can be chosen.
    fn variants(&self, one: &Stowed) -> Vec<Stowed> {
        let fronts = self.scenario.choices.fronts.iter();
        fronts
            .filter_map(|front| {
                let structure = Structure { front: *front, ..one.structure.clone() };
                let carcass = carcass(self.scenario, &structure).ok()?;
                Some(Stowed { structure, carcass, ..one.clone() })
            })
            .collect()
    }
}

/// What stowing more evenly made of some: those that pass with their sketches, and why others still do not.
type Evened = (Vec<(Stowed, Sketch)>, Vec<(Structure, Reason)>);

/// Those of which the fewest checks don't hold: none, wherever that can be had.
fn offered(mut finished: Vec<(Design, i64)>) -> Vec<(Design, i64)> {
    let fewest = finished.iter().map(|(design, _)| design.beyond()).min();
    finished.retain(|(design, _)| Some(design.beyond()) == fewest);
    finished
}

/// What finishing made of some: designs with the most that their drawers could be worth, and why others are none.
type Ended = (Vec<(Design, i64)>, Vec<(Structure, Reason)>);

/// Takes the most promising out of `waiting`, a few of each kind that is not among `done`.
fn take_some_of_each_kind(waiting: &mut Vec<Stowed>, done: &[Kind], most: usize) -> Vec<Stowed> {
    let mut taken: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut chosen = Vec::new();
    let mut rest = Vec::with_capacity(waiting.len());
    for one in waiting.drain(..) {
        let kind = kind(&one.structure);
        let wanted = chosen.len() < most && !done.contains(&kind);
        let count = taken.entry(kind).or_default();
        if wanted && *count < PER_KIND {
            *count += 1;
            chosen.push(one);
        } else {
            rest.push(one);
        }
    }
    // The first round goes on to more of each kind while there is room.
    if done.is_empty() {
        let more = (most - chosen.len()).min(rest.len());
        chosen.extend(rest.drain(..more));
    }
    *waiting = rest;
    chosen
}
