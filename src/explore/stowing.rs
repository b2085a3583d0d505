//! Stowing the gear in every kind of drawers, and a first look at what comes of it.

use std::collections::BTreeSet;

use super::even::is_near;
use super::field::{Field, Group, beside};
use super::ideal::empty;
use super::pipeline::{Sketch, Stowed, Widest, sketch};
use super::promise::{by_materials, in_turn};
use super::rank::{Scale, dominates, goodness};
use super::reason::Reason;
use super::search::Search;
use super::unfit::unfit;
use super::{Considered, Stage};
use crate::design::derive::carcass;
use crate::design::{Carcass, Layout, Structure};
use crate::mechanics;
use crate::solve::budget::{Budget, Stop};
use crate::stow::{self, Care};

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
        let most = (self.allowance(SKETCHES) / chosen.len().max(1)).max(4);
        let results = self.map(Stage::Stowing, chosen, |group| self.stow(group, most));
        let mut stowed = Vec::new();
        let mut stopped_by = None;
        for result in results {
            match result {
                Ok(tried) => {
                    considered.stowings += u64::from(tried.is_stowed);
                    stowed.extend(tried.stowed);
                    for (structure, reason) in tried.refused {
                        considered.discarded.add(reason);
                        field.refused.insert(structure);
                    }
                }
                Err(stop) => stopped_by = stopped_by.or(stop),
            }
        }
        (stowed, stopped_by)
    }

    /// Stows a group; of its structures at most `most` are looked at, those of each deck, bottom and drawer bottom in turn, the
    /// cheapest materials first, and those that hold when empty go on.
    fn stow(&self, group: &Group, most: usize) -> Result<Tried, Option<Stop>> {
        // More effort goes to more structures and to refining the best, so that a first design never waits long.
        let mut budget = self.budget(STOW_WORK).share(STOW_WORK * self.settings.effort.min(4));
        if !budget.spend(0) {
            return Err(budget.stopped());
        }
        let mut tried = Tried::default();
        let mut hopeful: Vec<(&Structure, Carcass)> = Vec::new();
        for structure in by_materials(self.scenario, &group.members).into_iter().take(most) {
            let Ok(frames) = carcass(self.scenario, structure) else { continue };
            match self.holds_empty(structure, &frames) {
                Ok(()) => hopeful.push((structure, frames)),
                Err(reason) => tried.refused.push((structure.clone(), reason)),
            }
        }
        let Some((first, frames)) = hopeful.first() else { return Ok(tried) };
        let result = self.stow_in(first, frames, Widest::Any, &mut budget);
        tried.is_stowed = true;
        if let Some((content, copies)) = result.missing.first() {
            let beside = beside(self.scenario, first, frames);
            let (content, copies, proved) = (*content, *copies, result.proved_missing);
            let reason = unfit(self.scenario, frames, &beside, content, copies, proved);
            let all = group.members.iter();
            tried.refused = all.map(|structure| (structure.clone(), reason.clone())).collect();
            return Ok(tried);
        }
        tried.stowed.extend(hopeful.into_iter().map(|(structure, carcass)| Stowed {
            structure: structure.clone(),
            carcass,
            stowage: result.stowage.clone(),
            value_bound: result.value_bound,
            widest: Widest::Any,
        }));
        Ok(tried)
    }

    /// Whether a chest could hold: one that fails a check by far when its drawers are equal and empty is hardly mended by gear
    /// and less equal drawers, and that costs a fraction of a stowing to see.
    fn holds_empty(&self, structure: &Structure, frames: &Carcass) -> Result<(), Reason> {
        let one = Stowed {
            structure: structure.clone(),
            carcass: frames.clone(),
            stowage: empty(frames),
            value_bound: 0,
            widest: Widest::Any,
        };
        match sketch(self.scenario, &one) {
            Err(Reason::CheckFails { name, value, limit, unit }) if !is_near(value, limit) => {
                Err(Reason::CheckFails { name, value, limit, unit })
            }
            // Where seams lie, for one, hangs on the widths.
            _ => Ok(()),
        }
    }

    /// Stows a structure's drawers, none heavier than can be pulled nor with more on its bottom than that bears, as far as that
    /// can be had.
    pub(super) fn stow_in(
        &self,
        structure: &Structure,
        frames: &Carcass,
        widest: Widest,
        budget: &mut Budget,
    ) -> stow::Stowed {
        let most = mechanics::most_gear(self.scenario, structure, frames);
        let strain = |tier: usize, layout: &Layout| {
            mechanics::bottom_strain(self.scenario, structure, &frames.tiers[tier], layout)
        };
        let care = Care { most: &most, strain: &strain };
        widest.stow(self.scenario, structure, frames, care, budget)
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

/// What came of a group.
#[derive(Debug, Default)]
struct Tried {
    /// Its structures with their gear.
    stowed: Vec<Stowed>,
    /// Those that are none, and why.
    refused: Vec<(Structure, Reason)>,
    /// Whether gear was stowed at all.
    is_stowed: bool,
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
