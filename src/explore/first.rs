//! A few designs at once, for who watches: the search proper begins after them and finds what it would have found.

use super::Stage;
use super::field::Group;
use super::finishing::CUT_WORK;
use super::pipeline::{Stowed, Widest, finish};
use super::promise::{by_materials, in_turn};
use super::search::Search;
use crate::design::derive::carcass;

/// Stowings tried at most.
const TRIED: usize = 48;
/// So many designs are enough.
const ENOUGH: usize = 6;
/// How many at once.
const AT_ONCE: usize = 4;
/// Work of one stowing: a fraction of what the search spends.
const WORK: u64 = 60_000;
/// So many structures of a group are tried to be finished.
const OF_A_GROUP: usize = 4;

impl Search<'_> {
    /// Stows and finishes the roomiest of every kind of columns in turn, until some are designs.
    pub(super) fn first(&self, groups: &[Group]) {
        let columns = |group: &&Group| -> Vec<u32> {
            group.members[0].tiers.iter().map(|tier| tier.columns).collect()
        };
        let order =
            in_turn(groups.iter().collect(), columns, |group| std::cmp::Reverse(group.room));
        let mut enough = ENOUGH;
        for some in order[..TRIED.min(order.len())].chunks(AT_ONCE) {
            let found = self.map(Stage::First, some, |group| self.finish_one(group));
            enough = enough.saturating_sub(found.iter().filter(|found| **found).count());
            if enough == 0 || self.asked_to_stop().is_some() {
                return;
            }
        }
    }

    /// Whether one of the group is a design, which is then told of.
    fn finish_one(&self, group: &Group) -> bool {
        let first = &group.members[0];
        let Ok(frames) = carcass(self.scenario, first) else { return false };
        let mut budget = self.budget(1).share(WORK);
        let stowed = self.stow_in(first, &frames, Widest::Any, &mut budget);
        if !stowed.missing.is_empty() {
            return false;
        }
        let order = by_materials(self.scenario, &group.members);
        order.into_iter().take(OF_A_GROUP).any(|structure| {
            let Ok(carcass) = carcass(self.scenario, structure) else { return false };
            let stowed = Stowed {
                structure: structure.clone(),
                carcass,
                stowage: stowed.stowage.clone(),
                value_bound: stowed.value_bound,
                widest: Widest::Any,
            };
            let mut cutting = self.budget(1).share(CUT_WORK);
            let finished = finish(self.scenario, &stowed, &mut cutting);
            if let Ok((design, value_bound)) = &finished {
                self.tell_of(Stage::First, design, *value_bound);
            }
            finished.is_ok()
        })
    }
}
