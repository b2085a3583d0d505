//! Every structure that a scenario allows.

use std::collections::BTreeSet;

use itertools::Itertools;

use super::heights::some_shared_heights;

use crate::design::derive::carcass::{carpet, run_height, widest};
use crate::design::{Structure, TierChoice};
use crate::scenario::{DeckGrain, Family, MaterialId, Runs, Scenario, Section};
use crate::units::Length;

/// How many heights are tried for members that are ripped from sheet.
const RIPPED_HEIGHTS: usize = 6;

/// In how many ways, for each choice of all the rest, ripped members share the clear height out without rest.
const SHARED_HEIGHTS: usize = 5;

/// Every structure that the scenario's choices allow, in the order of its lists.
///
/// Fronts are held to the first choice here, as they change no drawer's size: `search` varies them at the end.
/// The tiers' heights are bounded by the clear height, so that combinations which could not stand are not even listed; how
/// many those are is returned beside. Members of ripped sheet get heights that the gear asks for, and one tier
/// what such a height of the other leaves.
pub fn structures(scenario: &Scenario) -> (Vec<Structure>, u64) {
    let choices = &scenario.choices;
    let mut found = Vec::new();
    let mut too_high = 0;
    let materials = itertools::iproduct!(
        &choices.bottom,
        &choices.deck,
        &choices.drawer_sides,
        &choices.drawer_bottoms,
        &choices.dividers,
        &choices.runs_on
    );
    for (bottom, deck, sides, drawer_bottom, divider, runs) in materials {
        let fixed = Fixed {
            bottom: *bottom,
            deck: *deck,
            sides: *sides,
            drawer_bottom: *drawer_bottom,
            front: choices.fronts[0],
            divider: *divider,
            runs: *runs,
        };
        let members = fixed.members(scenario, &choices.members);
        let least = scenario.decided.least_tiers();
        for tiers in choices.tiers.iter().copied().filter(|tiers| *tiers >= least) {
            for grain in choices.deck_grain.iter().copied() {
                if fixed.deck_reaches(scenario, grain) {
                    too_high += fixed.stacks(scenario, &members, tiers, grain, &mut found);
                }
            }
        }
    }
    let listed: BTreeSet<Structure> = found.iter().cloned().collect();
    let shared = some_shared_heights(scenario, listed.iter(), SHARED_HEIGHTS);
    found.extend(shared.into_iter().filter(|one| !listed.contains(one)));
    (found, too_high)
}

struct Fixed {
    bottom: MaterialId,
    deck: MaterialId,
    sides: MaterialId,
    drawer_bottom: MaterialId,
    front: MaterialId,
    divider: MaterialId,
    runs: Runs,
}

impl Fixed {
    /// Each of these members with every height it may have.
    fn members(&self, scenario: &Scenario, of: &[MaterialId]) -> Vec<(MaterialId, Length)> {
        let ripped = self.ripped_heights(scenario);
        let heights = |id: &MaterialId| match scenario.stock.materials[*id].section {
            Section::Board { width } => vec![width],
            Section::Sheet => ripped.clone(),
        };
        of.iter().flat_map(|id| heights(id).into_iter().map(move |height| (*id, height))).collect()
    }

    /// The openings that just take some gear in one of its stances, spread over all that there are.
    fn ripped_heights(&self, scenario: &Scenario) -> Vec<Length> {
        let thickness = |id: MaterialId| scenario.stock.materials[id].thickness;
        let taken = run_height(scenario, self.runs)
            + thickness(self.drawer_bottom)
            + carpet(scenario)
            + scenario.allowances.top_clearance;
        let most = self.room(scenario);
        let heights: Vec<Length> = scenario
            .gear
            .values()
            .flat_map(|gear| {
                (1..=i64::from(gear.stack.min(3))).flat_map(move |high| {
                    gear.stances().into_iter().map(move |[_, _, z]| z * high + gear.padding)
                })
            })
            .map(|height| (height + taken).ceil_to(scenario.shop.step))
            .chain([most.floor_to(scenario.shop.step)])
            .filter(|height| *height <= most)
            .sorted()
            .dedup()
            .collect();
        let decided = (0..scenario.decided.least_tiers() as usize)
            .flat_map(|tier| scenario.decided.heights(tier))
            .map(|height| height + taken)
            .filter(|height| *height <= most);
        let spread = spread(&heights, RIPPED_HEIGHTS).into_iter();
        spread.chain(decided).sorted().dedup().collect()
    }

    /// What each tier's members may be, from the bottom: what is decided, else anything.
    fn members_of(
        &self,
        scenario: &Scenario,
        members: &[(MaterialId, Length)],
        tiers: usize,
    ) -> Vec<Vec<(MaterialId, Length)>> {
        let of = |tier| match scenario.decided.member(tier) {
            Some(only) => self.members(scenario, &[only]),
            None => members.to_vec(),
        };
        (0..tiers).map(of).collect()
    }

    /// What bottom and deck leave of the clear height.
    fn room(&self, scenario: &Scenario) -> Length {
        let thickness = |id: MaterialId| scenario.stock.materials[id].thickness;
        scenario.bed.clear_height.at
            - scenario.allowances.top
            - thickness(self.bottom)
            - thickness(self.deck)
    }

    /// Whether a chest between the wells would take panels wider than their sheets.
    fn is_wider_than_a_sheet(&self, scenario: &Scenario) -> bool {
        let width = scenario.bed.floor_width() - scenario.allowances.fit;
        [self.bottom, self.deck]
            .into_iter()
            .any(|id| widest(scenario, id).is_ok_and(|sheet| width > sheet))
    }

    /// Whether the deck is no deeper than its sheets allow; a shorter chest for the grain's sake is not looked into.
    fn deck_reaches(&self, scenario: &Scenario, grain: DeckGrain) -> bool {
        let allow = &scenario.allowances;
        let deep = scenario.bed.length.at - allow.handle_room - allow.front + allow.deck_overhang;
        let most = || widest(scenario, self.deck).is_ok_and(|sheet| deep <= sheet);
        // Where the grain may only run across, the chest is as long as that allows.
        grain == DeckGrain::Along || scenario.choices.deck_grain.len() == 1 || most()
    }

    /// All stacks of so many tiers; returns how many were left out as too high.
    fn stacks(
        &self,
        scenario: &Scenario,
        members: &[(MaterialId, Length)],
        tiers: u32,
        deck_grain: DeckGrain,
        found: &mut Vec<Structure>,
    ) -> u64 {
        let choices = &scenario.choices;
        let shelf = scenario.stock.materials[self.bottom].thickness;
        let room = self.room(scenario) - shelf * (i64::from(tiers) - 1);
        let families: Vec<(Family, bool)> = choices
            .families
            .iter()
            .filter(|family| **family == Family::BetweenWells || scenario.bed.wells.is_some())
            .flat_map(|family| {
                // A tier that stands above the wells alone, or fits a sheet's width anyway, is the same with and without.
                let alone = *family == Family::AboveWells && tiers == 1;
                let both = self.is_wider_than_a_sheet(scenario) && !alone;
                [false, true]
                    .into_iter()
                    .filter(move |seamless| both || !seamless)
                    .map(|seamless| (*family, seamless))
            })
            .collect();
        let tiers = tiers as usize;
        let columns: Vec<Vec<u32>> =
            (0..tiers).map(|tier| columns_of(scenario, tier)).multi_cartesian_product().collect();
        let mut too_high = 0;
        let members = self.members_of(scenario, members, tiers);
        for stack in members.into_iter().multi_cartesian_product() {
            if stack.iter().map(|(_, height)| *height).sum::<Length>() > room {
                too_high += (families.len() * columns.len()) as u64;
                continue;
            }
            for ((family, seamless), columns) in families.iter().cartesian_product(&columns) {
                let tiers = stack.iter().zip(columns);
                found.push(Structure {
                    family: *family,
                    seamless: *seamless,
                    tiers: tiers
                        .map(|((member, height), columns)| TierChoice {
                            columns: *columns,
                            member: *member,
                            height: *height,
                        })
                        .collect(),
                    bottom: self.bottom,
                    deck: self.deck,
                    deck_grain,
                    sides: self.sides,
                    drawer_bottom: self.drawer_bottom,
                    front: self.front,
                    divider: self.divider,
                    runs: self.runs,
                });
            }
        }
        too_high
    }
}

/// How many columns a tier may have: what is decided, else what may be chosen and has every drawer that there has to be.
fn columns_of(scenario: &Scenario, tier: usize) -> Vec<u32> {
    let least = scenario.decided.least_columns(tier);
    match scenario.decided.columns(tier) {
        Some(only) => vec![only],
        None => scenario.choices.columns.iter().copied().filter(|some| *some >= least).collect(),
    }
}

/// At most `most`, two or more, of `sorted`, the first and the last among them, evenly spread between.
pub fn spread<T: Clone + PartialEq>(sorted: &[T], most: usize) -> Vec<T> {
    if sorted.len() <= most {
        return sorted.to_vec();
    }
    (0..most).map(|pick| sorted[pick * (sorted.len() - 1) / (most - 1)].clone()).dedup().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::{full_size, inches};

    #[test]
    fn every_combination_that_may_stand_is_listed_once() {
        let scenario = full_size();
        let (found, _) = structures(&scenario);
        assert!(found.iter().all_unique());
        // Two decks; families × seamless 4, or 3 for one tier; one tier: 2 members × 3 columns; two tiers: 4 × 9, of which only 2x10 on 2x10 with
        // 18 1/2 + 1/2 + 1/2 + 1/2 or 23/32 = 20 or 20 7/32 in stands under 21 in too.
        assert_eq!(found.len(), 2 * (3 * 2 * 3 + 4 * 4 * 9));
    }

    #[test]
    fn what_cannot_stand_is_counted_but_not_listed() {
        let mut scenario = full_size();
        scenario.bed.clear_height.at = inches(17);
        let (found, too_high) = structures(&scenario);
        // 2x8 on 2x8 needs 14 1/2 + 3/2 = 16 in; with a 2x10 it is 18.
        assert_eq!(found.len(), 2 * (3 * 2 * 3 + 4 * 9));
        assert_eq!(too_high, 2 * 4 * 3 * 9);
    }

    #[test]
    fn spreading_keeps_both_ends() {
        let all: Vec<Length> = (0..20).map(inches).collect();
        let some = spread(&all, 6);
        assert_eq!((some.len(), some[0], some[5]), (6, inches(0), inches(19)));
    }
}
