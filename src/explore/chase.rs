//! Looking into structures for the sake of one criterion, the most promising first, until it is proved or the work spent.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use super::field::Field;
use super::finishing::{CUT_WORK, STOW_WORK_REFINED};
use super::pipeline::{Stowed, Widest, finish, sketch};
use super::proof::{AIMS, best_design, best_ideal, compare};
use super::rank::Scale;
use super::search::Search;
use super::stowing::STOW_WORK;
use super::{Progress, Proving, Stage, Standing};
use crate::design::derive::carcass;
use crate::design::{Criteria, Design, Structure};
use crate::scenario::Criterion;
use crate::solve::budget::{Budget, Stop};

/// Structures looked into for one criterion, per unit of effort.
const CHASED: usize = 8;
/// How many at once: all of a round know the same of the best, whatever the number of threads.
const AT_ONCE: usize = 8;
/// Work spent to prove, per unit of effort.
const PROVING: u64 = 1_500_000_000;

/// A design and what no stowage of its drawers beats, with the work it took.
type Look = (Option<(Design, i64)>, u64);

impl Search<'_> {
    /// Looks for the best of each single criterion where the ideals promise it.
    pub(super) fn chase(&self, field: &Field, finished: &mut Vec<(Design, i64)>) {
        for criterion in AIMS {
            // Nothing tells beforehand which structure will be cut with the least waste.
            if criterion == Criterion::Waste {
                continue;
            }
            let mut tried = tried(self, finished);
            let mut left = self.allowance(CHASED);
            while left > 0 && self.asked_to_stop().is_none() {
                let better = |ideal: &Criteria, _: &Structure| {
                    let best = best_design(criterion, finished.iter().map(|(design, _)| design));
                    best.is_none_or(|best| {
                        compare(criterion, ideal, &best.criteria) == Ordering::Greater
                    })
                };
                let next =
                    field.next(&tried, left.min(AT_ONCE), better, |a, b| compare(criterion, b, a));
                if next.is_empty() {
                    break;
                }
                left -= next.len();
                tried.extend(next.iter().cloned());
                let looks = self.map(Stage::Chasing, &next, |one| self.look_into(one, STOW_WORK));
                finished.extend(looks.into_iter().filter_map(|(found, _)| found));
            }
        }
    }

    /// Spends work until the value stowed is proved, then the weighted aims; news go out after every round. What was found
    /// `beside` what is listed counts for the value.
    ///
    /// Says that the work was spent, if that ended it.
    pub(super) fn prove(
        &self,
        field: &Field,
        finished: &mut Vec<(Design, i64)>,
        beside: &[(Design, i64)],
    ) -> Option<Stop> {
        let usual = PROVING.saturating_mul(self.settings.effort);
        let all = self.settings.work.unwrap_or(usual);
        let mut left = all;
        let mut work = STOW_WORK_REFINED;
        let mut tried = BTreeSet::new();
        while left > 0 && self.asked_to_stop().is_none() {
            let worth = finished.iter().chain(beside);
            let worth = worth.map(|(design, _)| design.criteria.value_milli).max();
            // What only heights that are not listed leave open of the value is no structure to look into.
            let by_value = self.open_by_value(field, worth, &tried);
            let (next, proving) = match by_value.is_empty() {
                false => (by_value, Proving::Value),
                true => (self.open_by_score(field, finished, &tried), Proving::Score),
            };
            if next.is_empty() {
                // All of them once more and longer, unless nothing is open any more.
                if tried.is_empty() {
                    return None;
                }
                tried.clear();
                work = work.saturating_mul(4);
                continue;
            }
            tried.extend(next.iter().cloned());
            let looks = self.map(Stage::Proving, &next, |one| self.look_into(one, work));
            left = left.saturating_sub(looks.iter().map(|(_, spent)| *spent).sum());
            finished.extend(looks.into_iter().filter_map(|(found, _)| found));
            let standing = match proving {
                Proving::Value => self.value_stands(field, finished, beside),
                Proving::Score => self.score_stands(field, finished),
            };
            let (done, of) = ((all - left) / 1_000_000, all / 1_000_000);
            (self.report)(Progress { standing, ..Progress::tasks(Stage::Proving, done, of) });
        }
        (left == 0).then_some(Stop::Work)
    }

    /// Structures that may stow more than the best; none once it is proved.
    fn open_by_value(
        &self,
        field: &Field,
        best: Option<i64>,
        tried: &BTreeSet<Structure>,
    ) -> Vec<Structure> {
        let may = |ideal: &Criteria| Some(ideal.value_milli) > best;
        if !field.ideals().any(may) {
            return Vec::new();
        }
        field.next(tried, AT_ONCE, |ideal, _| may(ideal), |a, b| b.value_milli.cmp(&a.value_milli))
    }

    /// Structures that may score more than the best.
    fn open_by_score(
        &self,
        field: &Field,
        finished: &[(Design, i64)],
        tried: &BTreeSet<Structure>,
    ) -> Vec<Structure> {
        let scale = Scale::of(self.scenario);
        let score = |criteria: &Criteria| scale.score(self.scenario, criteria).0;
        let fewest = finished.iter().map(|(design, _)| design.beyond()).min();
        let offered = finished.iter().filter(|(design, _)| Some(design.beyond()) == fewest);
        let best = offered.map(|(design, _)| score(&design.criteria)).reduce(f64::max);
        let may = |ideal: &Criteria, _: &Structure| best.is_none_or(|best| score(ideal) > best);
        field.next(tried, AT_ONCE, may, |a, b| score(b).total_cmp(&score(a)))
    }

    /// Where the proof of the value stands.
    fn value_stands(
        &self,
        field: &Field,
        finished: &[(Design, i64)],
        beside: &[(Design, i64)],
    ) -> Option<Standing> {
        let all = finished.iter().chain(beside);
        let best = all.map(|(design, _)| design.criteria.value_milli).max()?;
        let bound = best_ideal(Criterion::Value, field.ideals())?.value_milli;
        Some(Standing { of: Proving::Value, best, bound })
    }

    /// Where the proof of the score stands: of those with the fewest checks beyond a guide value.
    fn score_stands(&self, field: &Field, finished: &[(Design, i64)]) -> Option<Standing> {
        let scale = Scale::of(self.scenario);
        let fewest = finished.iter().map(|(design, _)| design.beyond()).min();
        let offered = finished.iter().filter(|(design, _)| Some(design.beyond()) == fewest);
        let score = |criteria: &Criteria| scale.score(self.scenario, criteria).0;
        let best = offered.map(|(design, _)| score(&design.criteria)).reduce(f64::max)?;
        let bound = self.score_bound(field)?;
        let (best, bound) = ((best * 1000.0).floor() as i64, (bound * 1000.0).ceil() as i64);
        Some(Standing { of: Proving::Score, best, bound })
    }

    /// One structure stowed, built, cut and checked.
    fn look_into(&self, structure: &Structure, work: u64) -> Look {
        let Ok(frames) = carcass(self.scenario, structure) else { return (None, 1) };
        let mut spent = 0;
        let mut value_bound = None;
        let mut passing = None;
        for widest in Widest::ALL {
            let mut budget = self.budget(1).share(work);
            let found = self.stow_in(structure, &frames, widest, &mut budget);
            spent += budget.spent();
            if !found.missing.is_empty() {
                break;
            }
            // The first is of all widths.
            let value_bound = *value_bound.get_or_insert(found.value_bound);
            let stowed = Stowed {
                structure: structure.clone(),
                carcass: frames.clone(),
                stowage: found.stowage,
                value_bound,
                widest,
            };
            if sketch(self.scenario, &stowed).is_ok() {
                passing = Some(stowed);
                break;
            }
        }
        let Some(stowed) = passing else { return (None, spent) };
        let mut cutting = self.budget(1).share(CUT_WORK);
        if !cutting.spend(0) {
            cutting = Budget::work(CUT_WORK / 10);
        }
        let design = finish(self.scenario, &stowed, &mut cutting).ok();
        if let Some((design, value_bound)) = &design {
            self.tell_of(Stage::Chasing, design, *value_bound);
        }
        (design, spent + cutting.spent())
    }
}

/// The structures that have a design, as they are listed.
fn tried(search: &Search<'_>, finished: &[(Design, i64)]) -> BTreeSet<Structure> {
    finished.iter().map(|(design, _)| search.as_listed(&design.structure)).collect()
}

impl Field {
    /// The first of those not tried yet that may be better, in an order of their ideals; ties go by structure.
    fn next(
        &self,
        tried: &BTreeSet<Structure>,
        most: usize,
        may: impl Fn(&Criteria, &Structure) -> bool,
        order: impl Fn(&Criteria, &Criteria) -> Ordering,
    ) -> Vec<Structure> {
        let open =
            self.alive.iter().filter(|(one, ideal)| !tried.contains(*one) && may(ideal, one));
        let mut open: Vec<(&Structure, &Criteria)> = open.collect();
        open.sort_by(|a, b| order(a.1, b.1).then_with(|| a.0.cmp(b.0)));
        open.into_iter().take(most).map(|(one, _)| one.clone()).collect()
    }
}
