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
use crate::scenario::Scenario;
use crate::stow;
use crate::units::Length;

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
    /// The ideals of everything that may be a design, listed or not.
    ideals: Vec<Criteria>,
}

impl Field {
    /// The ideals of everything that may be a design, listed or not.
    pub fn ideals(&self) -> impl Iterator<Item = &Criteria> + Clone {
        self.ideals.iter()
    }
}

/// The pockets' spaces beside a carcass.
pub fn beside(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> Vec<Box3> {
    pockets(scenario, structure, carcass).into_iter().map(|(_, space)| space).collect()
}

impl Search<'_> {
    /// Lists, derives, groups and bounds.
    pub(super) fn field(&self, considered: &mut Considered) -> Field {
        let groups = self.groups(considered);
        if self.settings.eager {
            self.first(&groups);
        }
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
        let mut ideals: Vec<Criteria> =
            alive.iter().filter(|(one, _)| fixed(one)).map(|(_, ideal)| ideal.clone()).collect();
        ideals.extend(self.open_heights(&idealist, alive.keys()));
        Field { groups, alive, refused: BTreeSet::new(), ideals }
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
            stow::bound(self.scenario, first, &frames).map_err(|(content, copies)| {
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
