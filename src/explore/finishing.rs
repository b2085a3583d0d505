//! Finishing the most promising: cut, bought, checked; the best of them stowed and cut again with more work.

use std::collections::BTreeMap;

use super::field::Field;
use super::pipeline::{Stowed, Widest, finish};
use super::rank::RankedDesign;
use super::reason::Reason;
use super::search::Search;
use super::stowing::Sketched;
use super::{Considered, Stage};
use crate::design::derive::carcass;
use crate::design::{Design, Structure};
use crate::scenario::Family;
use crate::solve::budget::Budget;
use crate::units::Length;

/// Work of a stowing that is refined.
pub(super) const STOW_WORK_REFINED: u64 = 8_000_000;
/// Designs finished in one round after the sketch, and rounds made while kinds are left without a design.
const FINISHED: usize = 48;
const ROUNDS: usize = 3;
/// Designs of the front finished beyond those, per unit of effort.
const FRONT: usize = 48;
/// Of those, how many are refined.
const REFINED: usize = 8;
/// Sketches of one kind that are finished in one round at most.
const PER_KIND: usize = 4;
/// Work of one cutting plan, first and refined.
pub(super) const CUT_WORK: u64 = 100_000;
const CUT_WORK_REFINED: u64 = 1_000_000;
/// What is still finished once the search was told to stop.
const FINISHED_IN_HASTE: usize = 4;

/// What twins share before they are built.
type Kind = (Family, bool, Vec<(u32, Length)>);

fn kind(structure: &Structure) -> Kind {
    let tiers = structure.tiers.iter().map(|tier| (tier.columns, tier.height)).collect();
    (structure.family, structure.seamless, tiers)
}

/// What finishing made of some: designs with the most that their drawers could be worth, and why others are none.
type Ended = (Vec<(Design, i64)>, Vec<(Structure, Reason)>);

impl Search<'_> {
    /// Finishes the most promising, a few of each kind; kinds of which none passed get another round. Then what is on the
    /// front and was not among them, so that the front does not hang on the weights.
    pub(super) fn finish_in_rounds(
        &self,
        sketched: &mut Sketched,
        field: &mut Field,
        considered: &mut Considered,
    ) -> (Vec<Stowed>, Vec<(Design, i64)>) {
        let Sketched { all: waiting, front } = sketched;
        let mut tried = Vec::new();
        let mut finished: Vec<(Design, i64)> = Vec::new();
        for round in 0..=ROUNDS {
            let haste = self.asked_to_stop().is_some();
            let most = if haste { FINISHED_IN_HASTE } else { FINISHED };
            let done: Vec<Kind> =
                finished.iter().map(|(design, _)| kind(&design.structure)).collect();
            let shortlist = match round {
                ROUNDS => waiting
                    .extract_if(.., |one| front.contains(&one.structure))
                    .take(self.allowance(FRONT))
                    .collect(),
                _ => take_some_of_each_kind(waiting, &done, most),
            };
            if shortlist.is_empty() {
                continue;
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
    pub(super) fn refine(&self, first: &[RankedDesign], tried: &[Stowed]) -> Vec<(Design, i64)> {
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
