//! Stowing the gear in every kind of drawers, and a first look at what comes of it.

use std::collections::BTreeSet;

use super::field::{Field, Group, beside};
use super::pipeline::{Sketch, Stowed, Widest, sketch};
use super::promise::{in_turn, material_price};
use super::rank::{Scale, dominates, goodness};
use super::reason::Reason;
use super::search::Search;
use super::unfit::unfit;
use super::{Considered, Stage};
use crate::design::derive::carcass;
use crate::design::{Carcass, Structure};
use crate::mechanics;
use crate::solve::budget::{Budget, Stop};
use crate::stow;

/// Different stowing problems looked into at most, per unit of effort.
const STOWINGS: usize = 400;
/// Work of one stowing.
pub(super) const STOW_WORK: u64 = 250_000;
/// Structures sketched at most, per unit of effort.
const SKETCHES: usize = 4_800;

impl Search<'_> {
    /// Stows the most promising groups. Where there are more than the allowance, the roomiest of each kind of columns come in
    /// turn, so that every kind is looked into before any is exhausted.
    pub(super) fn stow_all(
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

    /// Every stowed structure, the most promising by its estimate first, and which of them are on the front.
    pub(super) fn sketch_all(
        &self,
        stowed: Vec<Stowed>,
        field: &mut Field,
        considered: &mut Considered,
    ) -> Sketched {
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
        let front = front_of(&sketched);
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
        let all = scored.into_iter().map(|(_, _, one)| one).collect();
        Sketched { all, front }
    }
}

/// Structures that are stowed and sketched.
pub(super) struct Sketched {
    /// The most promising first.
    pub all: Vec<Stowed>,
    /// Those beside which no other is as good by every criterion and better by one, as far as a sketch tells.
    pub front: BTreeSet<Structure>,
}

/// The undominated of those of which the fewest checks don't hold: no others would be offered.
fn front_of(sketched: &[(Stowed, Sketch)]) -> BTreeSet<Structure> {
    let fewest = sketched.iter().map(|(_, sketch)| sketch.beyond).min();
    let among = sketched.iter().filter(|(_, sketch)| Some(sketch.beyond) == fewest);
    let figures: Vec<_> =
        among.map(|(one, sketch)| (&one.structure, goodness(&sketch.criteria))).collect();
    let undominated =
        figures.iter().filter(|(_, own)| figures.iter().all(|(_, other)| !dominates(other, own)));
    undominated.map(|(structure, _)| (*structure).clone()).collect()
}
