//! Every structure that may have a design, with what none of its designs can beat; and those that cannot, with the proof.

use std::collections::{BTreeMap, BTreeSet};

use super::heights::is_ripped;
use super::ideal::{Idealist, volume};
use super::reason::Reason;
use super::search::Search;
use super::structures::structures;
use super::unfit::{misplaced, unfit};
use super::{Considered, Stage};
use crate::design::derive::carcass;
use crate::design::derive::panels::seams_have_members;
use crate::design::derive::pockets::pockets;
use crate::design::geometry::Box3;
use crate::design::{Carcass, Criteria, Structure};
use crate::mechanics;
use crate::scenario::Scenario;
use crate::stow;
use crate::units::{Length, Mass};

/// What decides a stowing: structures that agree in all of it share one.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct StowKey {
    tiers: Vec<[Length; 5]>,
    divider: Length,
    pockets: Vec<Box3>,
}

/// Structures that share a stowing.
#[derive(Debug, Clone)]
pub struct Group {
    /// At least one.
    pub members: Vec<Structure>,
    /// The room in the drawers, cubic units.
    pub room: i128,
    /// No stowage of theirs is worth more, thousandths of a point.
    pub value_bound: i64,
}

/// The structures that are not proved impossible.
#[derive(Debug, Default)]
pub struct Field {
    /// In the order of their drawers' sizes.
    pub groups: Vec<Group>,
    /// Each listed structure with its ideal.
    pub alive: BTreeMap<Structure, Criteria>,
    /// Of those, refused once they were looked into, which proves nothing of their other designs.
    pub refused: BTreeSet<Structure>,
    /// Ideals of listed structures whose heights are all there are.
    fixed: Vec<Criteria>,
    /// Ideals of the others, for all heights at once, listed or not.
    open: Vec<OpenIdeal>,
}

/// The ideal of all heights that the ripped members of a structure may have.
#[derive(Debug, Clone)]
pub struct OpenIdeal {
    /// With heights of nothing.
    pub structure: Structure,
    /// What none of its designs can beat.
    pub ideal: Criteria,
    /// Whether its worth is of its own columns and what its drawers bear, not only of the fewest columns.
    pub is_sharp: bool,
}

impl Field {
    /// The structures with their heights left open that may be worth more than `known`.
    pub fn open_above(&self, known: Option<i64>) -> impl Iterator<Item = &Structure> {
        let open = self.open.iter();
        let open = open.filter(move |open| Some(open.ideal.value_milli) > known);
        open.map(|open| &open.structure)
    }

    /// The ideals of everything that may be a design, listed or not.
    pub fn ideals(&self) -> impl Iterator<Item = &Criteria> + Clone {
        self.fixed.iter().chain(self.open.iter().map(|open| &open.ideal))
    }
}

/// The pockets' spaces beside a carcass.
pub fn beside(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> Vec<Box3> {
    pockets(scenario, structure, carcass).into_iter().map(|(_, space)| space).collect()
}

/// What the drawers of each tier may hold together in the structure that lets them hold most.
pub fn bears(scenario: &Scenario, structures: &[Structure], carcass: &Carcass) -> Vec<Mass> {
    let most = |frame| {
        let each = structures.iter().map(|one| mechanics::most_allowed(scenario, one, frame));
        each.max().unwrap_or(Mass::ZERO)
    };
    carcass.tiers.iter().map(most).collect()
}

impl Search<'_> {
    /// Lists, derives, groups and bounds.
    pub(super) fn field(&self, considered: &mut Considered) -> Field {
        let groups = self.groups(considered);
        if self.settings.eager {
            self.first(&groups);
        }
        // Whatever stands at heights that are listed may hold at others what it does not at those.
        let standing: Vec<Structure> =
            groups.iter().flat_map(|group| group.members.iter().cloned()).collect();
        let groups = self.bounded(groups, considered);
        if self.settings.cancel.is_abandoned() {
            return Field::default();
        }
        let idealist = Idealist::new(self.scenario);
        let members: Vec<(&Structure, i64)> = groups
            .iter()
            .flat_map(|group| group.members.iter().map(|one| (one, group.value_bound)))
            .collect();
        let ideals = self.map(Stage::Bounding, &members, |(structure, value)| {
            let carcass = carcass(self.scenario, structure).map_err(Reason::Misfit)?;
            seams_have_members(self.scenario, structure, &carcass).map_err(Reason::Misfit)?;
            idealist.ideal(structure, &carcass, *value)
        });
        let mut alive = BTreeMap::new();
        for ((structure, _), ideal) in members.into_iter().zip(ideals) {
            match ideal {
                Ok(ideal) => {
                    alive.insert(structure.clone(), ideal);
                }
                Err(reason) => considered.discarded.add(reason),
            }
        }
        let mut groups = groups;
        groups.iter_mut().for_each(|group| group.members.retain(|one| alive.contains_key(one)));
        groups.retain(|group| !group.members.is_empty());
        // Ripped members may have heights that are not listed: theirs stand for the listed ones too.
        let fixed =
            |one: &Structure| (0..one.tiers.len()).all(|tier| !is_ripped(self.scenario, one, tier));
        let ideals = alive.iter().filter(|(one, _)| fixed(one));
        let ideals = ideals.map(|(_, ideal)| ideal.clone()).collect();
        let open = self.open_heights(&idealist, standing.iter());
        Field { groups, alive, refused: BTreeSet::new(), fixed: ideals, open }
    }

    /// Lowers the bound on worth, as long as it is beyond `known`, by looking at the structures that may be worth most more closely:
    /// with their own columns, and no heavier than their drawers bear.
    pub(super) fn sharpen(&self, field: &mut Field, known: Option<i64>) {
        loop {
            let most = field.ideals().map(|ideal| ideal.value_milli).max();
            let is_next = |open: &OpenIdeal| {
                Some(open.ideal.value_milli) == most && most > known && !open.is_sharp
            };
            let next: Vec<Structure> = field
                .open
                .iter()
                .filter(|open| is_next(open))
                .map(|open| open.structure.clone())
                .collect();
            if next.is_empty() || self.asked_to_stop().is_some() {
                return;
            }
            let values = self.map(Stage::MostWorth, &next, |one| self.worth_at_any_heights(one));
            let mut values = next.iter().zip(values).collect::<BTreeMap<_, _>>();
            field.open.retain_mut(|open| {
                let Some(value) = values.remove(&open.structure) else { return true };
                open.is_sharp = true;
                // What must be stowed cannot be.
                let Some(value) = value else { return false };
                open.ideal.value_milli = open.ideal.value_milli.min(value);
                true
            });
        }
    }

    /// Every structure that stands in the bed, with those that share its stowing.
    fn groups(&self, considered: &mut Considered) -> Vec<Group> {
        let (listed, too_high) = structures(self.scenario);
        let mut seen = BTreeSet::new();
        let kept = listed.into_iter().filter_map(self.keep);
        let listed: Vec<Structure> = kept.filter(|one| seen.insert(one.clone())).collect();
        considered.too_high = too_high;
        considered.structures = listed.len() as u64 + too_high;
        let derived = self.map(Stage::Dimensions, &listed, |structure| {
            carcass(self.scenario, structure)
                .map(|carcass| (self.key(structure, &carcass), volume(&carcass).units()))
        });
        let mut groups: BTreeMap<StowKey, Group> = BTreeMap::new();
        for (structure, derived) in listed.into_iter().zip(derived) {
            match derived {
                Ok((key, room)) => {
                    groups
                        .entry(key)
                        .or_insert(Group { members: Vec::new(), room, value_bound: i64::MAX })
                        .members
                        .push(structure);
                }
                Err(misfit) => considered.discarded.add(Reason::Misfit(misfit)),
            }
        }
        groups.into_values().collect()
    }

    /// The groups with their bounds, without those of which it is proved that they cannot take what must be stowed.
    fn bounded(&self, groups: Vec<Group>, considered: &mut Considered) -> Vec<Group> {
        let bounds = self.map(Stage::Bounding, &groups, |group| {
            let first = &group.members[0];
            let frames = carcass(self.scenario, first).map_err(Reason::Misfit)?;
            let bears = bears(self.scenario, &group.members, &frames);
            stow::bound(self.scenario, first, &frames, &bears).map_err(|(content, copies)| {
                let beside = beside(self.scenario, first, &frames);
                // What somebody put somewhere is told before what merely does not fit.
                misplaced(self.scenario, &frames, &beside).unwrap_or_else(|| {
                    unfit(self.scenario, &frames, &beside, content, copies, true)
                })
            })
        });
        let mut kept = Vec::with_capacity(groups.len());
        for (group, bound) in groups.into_iter().zip(bounds) {
            match bound {
                Ok(value_bound) => kept.push(Group { value_bound, ..group }),
                Err(reason) => {
                    group.members.iter().for_each(|_| considered.discarded.add(reason.clone()));
                }
            }
        }
        kept
    }

    pub(super) fn key(&self, structure: &Structure, carcass: &Carcass) -> StowKey {
        let tiers = carcass.tiers.iter().map(|frame| {
            let columns = Length::from_units(i64::from(frame.columns));
            [
                frame.clear_height,
                frame.drawer_inside_length,
                frame.inside_width(),
                frame.divider_height,
                columns,
            ]
        });
        StowKey {
            tiers: tiers.collect(),
            divider: self.scenario.stock.materials[structure.divider].thickness,
            pockets: beside(self.scenario, structure, carcass),
        }
    }
}
