//! After the search: the design that stows most worth, whether it would be offered or not.
//!
//! The search looks for designs to offer, and leaves the ways to stow more alone that only go with a check beyond a guide value.
//! A bound over everything that is allowed has to be held against the best of everything that is allowed: here the drawers
//! that may take more than the best so far are stowed with more work, those that promise most first, until none is left
//! that may or the allowance is spent.

use std::cmp::Reverse;

use super::Stage;
use super::field::{Field, Group};
use super::finishing::CUT_WORK;
use super::pipeline::{Stowed, Widest, finish, sketch};
use super::promise::{in_turn, material_price};
use super::search::Search;
use crate::design::derive::carcass;
use crate::design::{Content, Design, Stowage};
use crate::scenario::{Demand, Scenario};

/// Work of one stowing, first and for those that are still open then.
const LOOKS: [u64; 2] = [1_000_000, 6_000_000];
/// Work in all, per unit of effort.
const WORK: u64 = 160_000_000;
/// How many groups at once: all of a round know the same of the best, whatever the number of threads.
const AT_ONCE: usize = 8;
/// Structures of one stowing that are built and checked at most.
const BUILT: usize = 24;
/// What building and checking one counts for.
const SKETCH: u64 = 20_000;

impl Search<'_> {
    /// Designs that stow more than any of `finished`, the last the most.
    pub(super) fn most_worth(
        &self,
        field: &Field,
        finished: &[(Design, i64)],
    ) -> Vec<(Design, i64)> {
        let mut found: Vec<(Design, i64)> = Vec::new();
        let mut left = WORK.saturating_mul(self.settings.effort);
        let mut order: Vec<&Group> = field.groups.iter().collect();
        order.sort_by_key(|group| (Reverse(group.value_bound), Reverse(group.room)));
        for work in LOOKS {
            let mut waiting = order.iter().copied();
            while left > 0 && self.asked_to_stop().is_none() {
                let best = most(finished).max(most(&found));
                let open = waiting.by_ref().filter(|group| Some(group.value_bound) > best);
                let next: Vec<&Group> = open.take(AT_ONCE).collect();
                if next.is_empty() {
                    break;
                }
                let looks = self.map(Stage::MostWorth, &next, |group| self.more(group, best, work));
                for (design, spent) in looks {
                    left = left.saturating_sub(spent);
                    let better =
                        |one: &(Design, i64)| Some(one.0.criteria.value_milli) > most(&found);
                    found.extend(design.filter(better));
                }
            }
        }
        found
    }

    /// A design of the group that stows more than `best`, and the work that it took.
    fn more(&self, group: &Group, best: Option<i64>, work: u64) -> (Option<(Design, i64)>, u64) {
        let first = &group.members[0];
        let Ok(frames) = carcass(self.scenario, first) else { return (None, 1) };
        let mut spent = 0;
        for widest in Widest::ALL {
            let mut budget = self.budget(1).share(work);
            if !budget.spend(0) {
                break;
            }
            let stowed = self.stow_in(first, &frames, widest, &mut budget);
            spent += budget.spent() + 1;
            if !stowed.missing.is_empty() || Some(worth(self.scenario, &stowed.stowage)) <= best {
                // Less unequal drawers take no more.
                break;
            }
            let (built, sketches) = self.built(group, &stowed.stowage, widest);
            spent += sketches * SKETCH;
            let Some(one) = built else { continue };
            let mut cutting = self.budget(1).share(CUT_WORK);
            let design = finish(self.scenario, &one, &mut cutting).ok();
            spent += cutting.spent();
            if design.is_some() {
                return (design, spent);
            }
        }
        (None, spent)
    }

    /// The structure of the group that is allowed with this stowage and has the fewest checks beyond a guide value, and how many
    /// were looked at.
    fn built(&self, group: &Group, stowage: &Stowage, widest: Widest) -> (Option<Stowed>, u64) {
        let order = in_turn(
            group.members.iter().collect(),
            |one| (one.deck, one.deck_grain, one.bottom, one.drawer_bottom),
            |one| material_price(self.scenario, one),
        );
        let mut sketches = 0;
        let mut best: Option<(usize, Stowed)> = None;
        for structure in order.into_iter().take(BUILT) {
            let Ok(carcass) = carcass(self.scenario, structure) else { continue };
            let one = Stowed {
                structure: structure.clone(),
                carcass,
                stowage: stowage.clone(),
                value_bound: group.value_bound,
                widest,
            };
            sketches += 1;
            let Ok(sketch) = sketch(self.scenario, &one) else { continue };
            let better = best.as_ref().is_none_or(|(beyond, _)| sketch.beyond < *beyond);
            if better {
                best = Some((sketch.beyond, one));
            }
            if sketch.beyond == 0 {
                break;
            }
        }
        (best.map(|(_, one)| one), sketches)
    }
}

/// The most worth that any of some designs stows.
fn most(designs: &[(Design, i64)]) -> Option<i64> {
    designs.iter().map(|(design, _)| design.criteria.value_milli).max()
}

/// Points of optional things in a stowage, thousandths.
fn worth(scenario: &Scenario, stowage: &Stowage) -> i64 {
    let plans = stowage.tiers.iter().flatten();
    let plans = plans.chain(stowage.pockets.iter().map(|(_, plan)| plan));
    let demand = |content| match content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    };
    let worth = |content| match demand(content) {
        Demand::Worth(milli) => milli,
        Demand::Must => 0,
    };
    plans.flat_map(|plan| &plan.items).map(|item| worth(item.content)).sum()
}
