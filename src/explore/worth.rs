//! The most worth: among what can be offered, and then of all that is allowed.
//!
//! The search weighs all aims, and where the most can be stowed only with a check beyond a guide value it finds what is not
//! offered. So drawers in which an empty chest holds are stowed once more for worth alone, and what comes of them is listed with
//! the rest ([`Search::worth_offered`]).
//!
//! A bound over everything that is allowed, though, has to be held against the best of everything that is allowed, offered or
//! not. Once the ranking stands, the drawers that may take more than the best known are stowed with more work, at heights that are not
//! listed too, until none is left that may or the allowance is spent ([`Search::most_worth`]).

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Stage;
use super::field::{Field, Group, StowKey, bears};
use super::finishing::CUT_WORK;
use super::heights::shared_heights;
use super::ideal::{empty, volume};
use super::pipeline::{Stowed, Widest, finish, sketch};
use super::promise::{by_materials, in_turn};
use super::search::Search;
use super::stowing::STOW_WORK;
use crate::design::derive::carcass;
use crate::design::{Content, Design, Stowage, Structure};
use crate::scenario::{Demand, Scenario};
use crate::stow;

/// Work of one stowing and how many groups get it, per unit of effort: those that may take most, then those that promise most.
const LOOKS: [(u64, usize); 3] = [(1_000_000, 16), (8_000_000, 4), (16_000_000, 2)];
/// Work in all, per unit of effort, and for how many kinds of things. With more of them the work of each stowing rises with their
/// number and its root, that in all with its square.
const WORK: u64 = 500_000_000;
const KINDS: u64 = 40;
/// What is not allowed as it is stowed promises less by this share of it.
const HELD_BACK: i64 = 16;
/// How many groups at once: all of a round know the same of the best, whatever the number of threads.
const AT_ONCE: usize = 8;
/// Structures of one stowing that are built and checked at most.
const BUILT: usize = 12;
/// What building and checking one counts for.
const SKETCH: u64 = 20_000;
/// Groups looked at for the most worth that can be offered, and of those how many are stowed, per unit of effort.
const PROBED: usize = 48;
const OFFERED: usize = 16;
/// How wide drawers may be, one after the other, and how many of those make the first look and the last.
const FEW: usize = 4;
const WIDTHS: [Widest; 6] = [
    Widest::Any,
    Widest::Share(125),
    Widest::Share(112),
    Widest::Share(102),
    Widest::Share(150),
    Widest::Share(137),
];

/// What is looked for.
#[derive(Debug, Clone, Copy)]
struct Wanted {
    /// More worth than this.
    above: Option<i64>,
    /// With no more checks beyond a guide value than this.
    beyond: usize,
    /// Work of one stowing.
    work: u64,
    /// In so many of [`WIDTHS`].
    widths: usize,
    /// Whether to go on to all of those once something is allowed: less unequal drawers seldom hold more, but every search ends
    /// elsewhere.
    go_on: bool,
}

/// What came of looking into a group.
#[derive(Debug)]
struct Look {
    design: Option<(Design, i64)>,
    /// The most worth that was stowed, whether it was allowed or not, thousandths of a point.
    stowed: i64,
    /// The most that was stowed and is allowed, whether it is more than what is known or not.
    allowed: Option<i64>,
    /// The work that it took.
    spent: u64,
}

impl Look {
    /// What more work may come to: of what is stowed and not allowed, not all.
    fn promise(&self) -> i64 {
        self.allowed.unwrap_or(0).max(self.stowed - self.stowed / HELD_BACK)
    }
}

impl Search<'_> {
    /// Designs that would be offered beside `finished` and stow more than any of those that are.
    pub(super) fn worth_offered(
        &self,
        field: &Field,
        finished: &[(Design, i64)],
    ) -> Vec<(Design, i64)> {
        // Where nothing is known that could be offered, anything that is allowed can be.
        let fewest = finished.iter().map(|(design, _)| design.beyond()).min();
        let fewest = fewest.unwrap_or(usize::MAX);
        let offered = finished.iter().filter(|(design, _)| design.beyond() == fewest);
        let above = offered.map(|(design, _)| design.criteria.value_milli).max();
        let wanted = Wanted { above, beyond: fewest, work: STOW_WORK, widths: FEW, go_on: false };
        let open = field.groups.iter().filter(|group| Some(group.value_bound) > above);
        let mut order = by_columns(open.collect());
        order.truncate(self.allowance(PROBED));
        if self.asked_to_stop().is_some() {
            return Vec::new();
        }
        let mut left = self.allowance(OFFERED);
        let mut found: Vec<(Design, i64)> = Vec::new();
        for next in order.chunks(AT_ONCE) {
            let hopeful = self.map(Stage::Chasing, next, |group| self.hopeful(group, fewest));
            let hopeful: Vec<Group> = hopeful.into_iter().flatten().take(left).collect();
            left -= hopeful.len();
            let wanted = Wanted { above: above.max(most(&found)), ..wanted };
            let looks = self.map(Stage::Chasing, &hopeful, |group| self.more(group, wanted).design);
            found.extend(looks.into_iter().flatten());
            if left == 0 || self.asked_to_stop().is_some() {
                break;
            }
        }
        // Only the best: the list is for designs that are good by all aims.
        found.sort_by_key(|(design, _)| (Reverse(design.criteria.value_milli), design.id));
        found.truncate(1);
        found
    }

    /// Designs that stow more than any of `finished`, the last the most.
    pub(super) fn most_worth(
        &self,
        field: &Field,
        finished: &[(Design, i64)],
    ) -> Vec<(Design, i64)> {
        let mut found: Vec<(Design, i64)> = Vec::new();
        let kinds = (self.scenario.gear.len() + self.scenario.loose.len()) as u64;
        let kinds = kinds.max(KINDS);
        let work = WORK / KINDS * kinds / KINDS * kinds;
        let mut left = work.saturating_mul(self.settings.effort);
        let best = |found: &[(Design, i64)]| most(finished).max(most(found));
        let known = best(&[]);
        let open = field.groups.iter().filter(|group| Some(group.value_bound) > known);
        let mut groups: Vec<Group> = open.cloned().collect();
        if groups.is_empty() && field.ideals().all(|ideal| Some(ideal.value_milli) <= known) {
            return found;
        }
        groups.extend(self.at_shared_heights(field, known));
        let mut order = by_columns(groups.iter().collect());
        for (round, (work, most)) in LOOKS.into_iter().enumerate() {
            let work = work / KINDS * kinds / 16 * (kinds * 256 / KINDS).isqrt();
            let most = self.allowance(most);
            let widths = if round == 1 { WIDTHS.len() } else { FEW };
            let mut hopeful: Vec<(i64, &Group)> = Vec::new();
            for next in order.chunks(AT_ONCE.min(most)) {
                if hopeful.len() >= most || left < work * (widths * next.len()) as u64 {
                    break;
                }
                let above = best(&found);
                let next: Vec<&Group> =
                    next.iter().copied().filter(|group| Some(group.value_bound) > above).collect();
                if left == 0 || self.asked_to_stop().is_some() {
                    return found;
                }
                let wanted = Wanted { above, beyond: usize::MAX, work, widths, go_on: round > 0 };
                let looks = self.map(Stage::MostWorth, &next, |group| {
                    Some(self.more(&self.hopeful(group, usize::MAX)?, wanted))
                });
                for (look, group) in looks.into_iter().zip(next) {
                    let Some(look) = look else {
                        left = left.saturating_sub(SKETCH);
                        continue;
                    };
                    left = left.saturating_sub(look.spent);
                    hopeful.push((look.promise(), group));
                    let better =
                        |one: &(Design, i64)| Some(one.0.criteria.value_milli) > best(&found);
                    found.extend(look.design.filter(better));
                }
            }
            hopeful.sort_by_key(|(promise, _)| Reverse(*promise));
            order = hopeful.into_iter().map(|(_, group)| group).collect();
        }
        found
    }

    /// Groups of structures whose ripped members share the clear height in ways that are not listed, where they may take more than
    /// `known`.
    fn at_shared_heights(&self, field: &Field, known: Option<i64>) -> Vec<Group> {
        let structures = shared_heights(self.scenario, field.open_above(known));
        let unknown: Vec<Structure> =
            structures.into_iter().filter(|one| !field.alive.contains_key(one)).collect();
        let keys = self.map(Stage::MostWorth, &unknown, |structure| {
            let frames = carcass(self.scenario, structure).ok()?;
            Some((self.key(structure, &frames), volume(&frames).units()))
        });
        let mut groups: BTreeMap<StowKey, Group> = BTreeMap::new();
        for (structure, key) in unknown.into_iter().zip(keys) {
            let Some((key, room)) = key else { continue };
            let new = Group { members: Vec::new(), room, value_bound: i64::MAX };
            groups.entry(key).or_insert(new).members.push(structure);
        }
        let groups: Vec<Group> = groups.into_values().collect();
        let bounds = self.map(Stage::MostWorth, &groups, |group| {
            let first = &group.members[0];
            let frames = carcass(self.scenario, first).ok()?;
            let bears = bears(self.scenario, &group.members, &frames);
            stow::bound(self.scenario, first, &frames, &bears).ok()
        });
        let bounded = groups.into_iter().zip(bounds);
        bounded
            .filter_map(|(group, bound)| Some(Group { value_bound: bound?, ..group }))
            .filter(|group| Some(group.value_bound) > known)
            .collect()
    }

    /// The group with some of its structures, from the first on that is allowed, with no more checks than so many beyond a guide
    /// value, when its drawers are equal and empty: gear and less equal drawers seldom mend one.
    fn hopeful(&self, group: &Group, beyond: usize) -> Option<Group> {
        let order = by_materials(self.scenario, &group.members);
        let fails = |structure: &&Structure| {
            let Ok(carcass) = carcass(self.scenario, structure) else { return true };
            let stowage = empty(&carcass);
            let one = self.stowed(group, structure, carcass, stowage, Widest::Any);
            sketch(self.scenario, &one).map_or(true, |sketch| sketch.beyond > beyond)
        };
        let members: Vec<Structure> =
            order.into_iter().take(BUILT).skip_while(fails).cloned().collect();
        (!members.is_empty()).then(|| Group { members, ..group.clone() })
    }

    fn stowed(
        &self,
        group: &Group,
        structure: &Structure,
        carcass: crate::design::Carcass,
        stowage: Stowage,
        widest: Widest,
    ) -> Stowed {
        let (structure, value_bound) = (structure.clone(), group.value_bound);
        Stowed { structure, carcass, stowage, value_bound, widest }
    }

    /// A design of the group as wanted, if one is found.
    fn more(&self, group: &Group, wanted: Wanted) -> Look {
        let first = &group.members[0];
        let mut look = Look { design: None, stowed: 0, allowed: None, spent: SKETCH };
        let Ok(frames) = carcass(self.scenario, first) else { return look };
        // A single column is as wide as it is.
        let alone = frames.tiers.iter().all(|tier| tier.columns == 1);
        let widths = if alone { 1 } else { wanted.widths };
        for widest in &WIDTHS[..widths] {
            let mut budget = self.budget(1).share(wanted.work);
            if !budget.spend(0) {
                break;
            }
            let stowed = self.stow_in(first, &frames, *widest, &mut budget);
            look.spent += budget.spent();
            if !stowed.missing.is_empty() {
                continue;
            }
            let worth = worth(self.scenario, &stowed.stowage);
            look.stowed = look.stowed.max(worth);
            if Some(worth) <= look.allowed {
                continue;
            }
            let one = self.built(group, &stowed.stowage, *widest, wanted.beyond);
            look.spent += group.members.len() as u64 * SKETCH;
            let Some(one) = one else { continue };
            look.allowed = Some(worth);
            if Some(worth) > wanted.above {
                let mut cutting = self.budget(1).share(CUT_WORK);
                look.design = finish(self.scenario, &one, &mut cutting).ok().or(look.design);
                look.spent += cutting.spent();
            }
            if !wanted.go_on || worth >= group.value_bound {
                break;
            }
        }
        look
    }

    /// The structure of the group that is allowed with this stowage and has the fewest checks beyond a guide value.
    fn built(
        &self,
        group: &Group,
        stowage: &Stowage,
        widest: Widest,
        beyond: usize,
    ) -> Option<Stowed> {
        let mut best: Option<(usize, Stowed)> = None;
        for structure in &group.members {
            let Ok(carcass) = carcass(self.scenario, structure) else { continue };
            let one = self.stowed(group, structure, carcass, stowage.clone(), widest);
            let Ok(sketch) = sketch(self.scenario, &one) else { continue };
            let better = best.as_ref().is_none_or(|(fewest, _)| sketch.beyond < *fewest);
            if better && sketch.beyond <= beyond {
                best = Some((sketch.beyond, one));
            }
            if sketch.beyond == 0 {
                break;
            }
        }
        best.map(|(_, one)| one)
    }
}

/// The groups of each kind of columns in turn, those that may take most first.
fn by_columns(groups: Vec<&Group>) -> Vec<&Group> {
    let columns = |group: &&Group| -> Vec<u32> {
        group.members[0].tiers.iter().map(|tier| tier.columns).collect()
    };
    in_turn(groups, columns, |group| (Reverse(group.value_bound), Reverse(group.room)))
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
