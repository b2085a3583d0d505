//! What members ripped to heights that are not listed could give.
//!
//! Ripped members may have any height, and only some are listed. For every choice of materials, columns and boards beside
//! them, the figures here hold for all heights at once: wood and money at the lowest, room at the highest, and value over
//! intervals of heights. Within an interval no stance of any gear comes to fit, so that its upper end stands for the whole
//! of it, and the tiers above get what its lower end leaves.

use std::collections::BTreeMap;

use super::Stage;
use super::field::{OpenIdeal, bears};
use super::ideal::{Idealist, volume};
use super::search::Search;
use super::structures::spread;
use crate::design::derive::carcass;
use crate::design::derive::carcass::{THICKEST_SHIM, carpet, is_full_width, run_height};
use crate::design::{Criteria, Structure};
use crate::scenario::{Demand, Family, MaterialId, Scenario, Section};
use crate::stow;
use crate::units::Length;

/// Added to the clear height where heights of tiers are taken apart from one another.
const BEYOND: Length = Length::mm(100_000);

/// A structure with the heights of its ripped members left open.
struct Open<'a> {
    scenario: &'a Scenario,
    /// With any clear height, as the tiers of a cover may overlap.
    tall: Scenario,
    structure: Structure,
    /// Which tiers are ripped.
    ripped: Vec<usize>,
    /// What the clear height leaves for the ripped tiers together.
    room: Length,
    /// What the wheel wells leave for a tier above them.
    above_wells: Length,
    /// The lowest opening that makes a drawer.
    least: Length,
    /// What an opening is higher than its drawer's clear inside.
    taken: Length,
}

/// What drawers are taken to bear.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bears {
    Anything,
    /// As much as can be pulled.
    Pull,
}

/// Whether a tier's members are ripped from sheet.
pub fn is_ripped(scenario: &Scenario, structure: &Structure, tier: usize) -> bool {
    let member = structure.tiers[tier].member;
    scenario.stock.materials[member].section == Section::Sheet
}

impl Search<'_> {
    /// Ideals that hold for all heights of the ripped members of `structures`, one for each choice of all the rest. Those of a
    /// search that was abandoned are of no use.
    pub(super) fn open_heights<'a>(
        &self,
        idealist: &Idealist<'_>,
        structures: impl Iterator<Item = &'a Structure>,
    ) -> Vec<OpenIdeal> {
        let open = left_open(self.scenario, structures);
        // Fewer columns hold no less, as a divider is thinner than a member: the fewest of each tier stand for all.
        let thin = dividers_are_thin(self.scenario);
        let erased = |one: &Structure| if thin { erased(one) } else { one.clone() };
        let mut fewest: BTreeMap<Structure, Vec<u32>> = BTreeMap::new();
        for one in &open {
            let columns = one.tiers.iter().map(|tier| tier.columns);
            let known = fewest.entry(erased(one)).or_insert_with(|| columns.clone().collect());
            known.iter_mut().zip(columns).for_each(|(least, own)| *least = own.min(*least));
        }
        let fewest: Vec<(Structure, Vec<u32>)> = fewest.into_iter().collect();
        let values = self.map(Stage::Bounding, &fewest, |(structure, columns)| {
            let mut with = structure.clone();
            with.tiers.iter_mut().zip(columns).for_each(|(tier, columns)| tier.columns = *columns);
            Open::new(self.scenario, with).value(Bears::Anything)
        });
        let of = fewest.iter().zip(values);
        let values: BTreeMap<&Structure, i64> =
            of.filter_map(|((structure, _), value)| Some((structure, value?))).collect();
        let ideals = self.map(Stage::Bounding, &open, |one| {
            let value = *values.get(&erased(one))?;
            let ideal = Open::new(self.scenario, one.clone()).ideal(idealist, value)?;
            Some(OpenIdeal { structure: one.clone(), ideal, is_sharp: false })
        });
        ideals.into_iter().flatten().collect()
    }

    /// What no stowage of a structure at any heights of its ripped members is worth more than, if none is refused for being too heavy
    /// to pull; `None` if what must be stowed cannot be at any.
    pub(super) fn worth_at_any_heights(&self, structure: &Structure) -> Option<i64> {
        Open::new(self.scenario, structure.clone()).value(Bears::Pull)
    }
}

/// Those of `structures` that have ripped members, once for each choice of all but their heights.
fn left_open<'a>(
    scenario: &Scenario,
    structures: impl Iterator<Item = &'a Structure>,
) -> Vec<Structure> {
    let mut open: Vec<Structure> = structures
        .filter(|one| (0..one.tiers.len()).any(|tier| is_ripped(scenario, one, tier)))
        .map(|one| with_heights(scenario, one, |_| Length::ZERO))
        .collect();
    open.sort();
    open.dedup();
    open
}

/// The structures with the clear height shared out between two ripped tiers in every way that lets one of them just take something
/// more and leaves the other the rest; a single ripped tier gets all there is.
pub fn shared_heights<'a>(
    scenario: &Scenario,
    structures: impl Iterator<Item = &'a Structure>,
) -> Vec<Structure> {
    let open = left_open(scenario, structures);
    let mut shared: Vec<Structure> =
        open.into_iter().flat_map(|one| Open::new(scenario, one).shared()).collect();
    shared.sort();
    shared.dedup();
    shared
}

/// So many at most of those for each choice of all but the heights, the lowest first tier and the highest among them.
pub fn some_shared_heights<'a>(
    scenario: &Scenario,
    structures: impl Iterator<Item = &'a Structure>,
    most: usize,
) -> Vec<Structure> {
    let open = left_open(scenario, structures);
    let some = |one| {
        let mut shared = Open::new(scenario, one).shared();
        shared.sort();
        shared.dedup();
        spread(&shared, most)
    };
    open.into_iter().flat_map(some).collect()
}

fn dividers_are_thin(scenario: &Scenario) -> bool {
    let thick = |id: &MaterialId| scenario.stock.materials[*id].thickness;
    let choices = &scenario.choices;
    choices.dividers.iter().map(thick).max() <= choices.members.iter().map(thick).min()
}

fn erased(structure: &Structure) -> Structure {
    let mut erased = structure.clone();
    erased.tiers.iter_mut().for_each(|tier| tier.columns = 0);
    erased
}

/// The structure with `height` for each ripped tier.
fn with_heights(
    scenario: &Scenario,
    structure: &Structure,
    height: impl Fn(usize) -> Length,
) -> Structure {
    let mut with = structure.clone();
    for tier in 0..with.tiers.len() {
        if is_ripped(scenario, structure, tier) {
            with.tiers[tier].height = height(tier);
        }
    }
    with
}

impl<'a> Open<'a> {
    fn new(scenario: &'a Scenario, structure: Structure) -> Self {
        let thick = |id| scenario.stock.materials[id].thickness;
        let tiers = structure.tiers.len();
        let ripped: Vec<usize> =
            (0..tiers).filter(|tier| is_ripped(scenario, &structure, *tier)).collect();
        let boards: Length = (structure.tiers.iter().enumerate())
            .filter(|(tier, _)| !ripped.contains(tier))
            .map(|(_, tier)| tier.height)
            .sum();
        let panels = thick(structure.bottom) * tiers as i64 + thick(structure.deck);
        let taken = run_height(scenario, structure.runs)
            + thick(structure.drawer_bottom)
            + carpet(scenario)
            + scenario.allowances.top_clearance;
        let step = scenario.shop.step;
        let least = (scenario.allowances.least_drawer_height + taken).ceil_to(step);
        let clear = scenario.bed.clear_height.at - scenario.allowances.top;
        let mut tall = scenario.clone();
        tall.bed.clear_height.at += BEYOND;
        if let Some(opening) = &mut tall.bed.opening {
            opening.height += BEYOND;
        }
        // What has to be cleared is least under the highest tiers; layers of sheet are no less under more, up to the thickest.
        let tallest = with_heights(scenario, &structure, |_| clear);
        let lift = carcass(&tall, &tallest).map_or(Length::ZERO, |c| match structure.family {
            Family::BetweenWells => c.lift,
            Family::AboveWells => c.lift.min(THICKEST_SHIM).max(c.lift_for_tailgate),
        });
        let wells = scenario.bed.wells.map_or(Length::ZERO, |wells| wells.height);
        let under = wells + scenario.allowances.well + thick(structure.bottom);
        Self {
            room: (clear - panels - boards - lift).floor_to(step),
            above_wells: (clear - thick(structure.deck) - under).floor_to(step),
            scenario,
            tall,
            structure,
            ripped,
            least,
            taken,
        }
    }

    /// The most that one ripped tier can have.
    fn most(&self, tier: usize) -> Length {
        self.held(tier, self.room - self.least * (self.ripped.len() as i64 - 1))
    }

    /// A height held to what a tier above the wells can have.
    fn held(&self, tier: usize, height: Length) -> Length {
        if is_full_width(&self.structure, tier) { height.min(self.above_wells) } else { height }
    }

    /// What all heights together can have at best.
    fn ideal(&self, idealist: &Idealist<'_>, value: i64) -> Option<Criteria> {
        if self.ripped.iter().any(|tier| self.most(*tier) < self.least) {
            return None;
        }
        let high = self.with(|tier| self.most(tier));
        let roomy = carcass(&self.tall, &high).ok()?;
        let mut ideal = self.cheapest(idealist, value)?;
        ideal.reach_mm = super::quickest::least_reach_mm(self.scenario, &roomy);
        let biggest = self.ripped.iter().filter_map(|high| {
            // What one tier at its highest leaves goes to the others: a tier above the wells does not take it all.
            let rest = self.room - self.most(*high) - self.least * (self.ripped.len() as i64 - 2);
            let rest = rest.max(self.least);
            let heights =
                |tier| if tier == *high { self.most(tier) } else { self.held(tier, rest) };
            Some(volume(&carcass(&self.tall, &self.with(heights)).ok()?))
        });
        ideal.usable_volume = biggest.max()?;
        ideal.value_milli = value;
        Some(ideal)
    }

    fn with(&self, height: impl Fn(usize) -> Length) -> Structure {
        with_heights(self.scenario, &self.structure, height)
    }

    /// Every criterion that grows with the heights, at the lowest that what must be stowed allows.
    fn cheapest(&self, idealist: &Idealist<'_>, value: i64) -> Option<Criteria> {
        let needed = self.needed();
        let boards = (0..self.structure.tiers.len()).filter(|tier| !self.ripped.contains(tier));
        let on_boards =
            boards.map(|tier| self.structure.tiers[tier].height).any(|height| height >= needed);
        let lowest: Vec<Structure> = match on_boards || needed <= self.least {
            true => vec![self.with(|_| self.least)],
            false => {
                let raised = self.ripped.iter();
                raised
                    .map(|high| self.with(|tier| if tier == *high { needed } else { self.least }))
                    .collect()
            }
        };
        let ideals = lowest.iter().filter_map(|structure| {
            let frames = carcass(&self.tall, structure).ok()?;
            idealist.ideal(structure, &frames, value).ok()
        });
        ideals.reduce(|a, b| Criteria {
            cost: a.cost.min(b.cost),
            mass: a.mass.min(b.mass),
            loaded_mass: a.loaded_mass.min(b.loaded_mass),
            simplicity: a.simplicity.min(b.simplicity),
            waste: a.waste.min(b.waste),
            ..a
        })
    }

    /// The opening that the highest of the gear that must be stowed needs in its lowest stance.
    fn needed(&self) -> Length {
        let must = self.scenario.gear.values().filter(|gear| gear.demand == Demand::Must);
        let pockets = self.scenario.choices.pockets;
        let lowest = must.filter(|gear| !(pockets && gear.pocket)).filter_map(|gear| {
            let stances = gear.stances().into_iter();
            stances.map(|[_, _, z]| z + gear.padding).min()
        });
        let high = lowest.max().unwrap_or(Length::ZERO);
        (high + self.taken).ceil_to(self.scenario.shop.step)
    }

    /// No stowage at any heights is worth more; `None` if what must be stowed cannot be at any.
    fn value(&self, held: Bears) -> Option<i64> {
        // Heights from the lowest of an interval to those that stand for the whole of it.
        let covers: Vec<[Structure; 2]> = match self.ripped[..] {
            [low, high] => {
                let heights = self.thresholds(low);
                let next = heights.iter().skip(1).map(|next| *next - self.scenario.shop.step);
                let ends = next.chain([self.most(low)]);
                let pairs = heights.iter().copied().zip(ends);
                let cover = |(from, to)| {
                    let above = self.held(high, self.room - from);
                    [(from, self.least), (to, above)]
                        .map(|(own, other)| self.with(|tier| if tier == low { own } else { other }))
                };
                pairs.map(cover).collect()
            }
            _ => vec![[self.with(|_| self.least), self.with(|tier| self.most(tier))]],
        };
        let bounds = covers.iter().filter_map(|[lowest, cover]| {
            // What misfits at these heights does so at every lower one.
            let frames = carcass(&self.tall, cover).ok()?;
            let most = match held {
                Bears::Anything => Vec::new(),
                // Lower drawers weigh less themselves.
                Bears::Pull => carcass(&self.tall, lowest).map_or_else(
                    |_| Vec::new(),
                    |frames| bears(self.scenario, std::slice::from_ref(cover), &frames),
                ),
            };
            stow::bound(self.scenario, cover, &frames, &most).ok()
        });
        bounds.max()
    }

    /// Every way to share the height out that lets a tier just take something more.
    fn shared(&self) -> Vec<Structure> {
        let ways: Vec<[Length; 2]> = match self.ripped[..] {
            [low, high] => {
                let of = |tier: usize| self.thresholds(tier).into_iter();
                let first = of(low).map(|height| [height, self.held(high, self.room - height)]);
                let second = of(high).map(|height| [self.held(low, self.room - height), height]);
                first.chain(second).collect()
            }
            [only] => vec![[self.most(only); 2]],
            _ => Vec::new(),
        };
        let ways = ways.into_iter().filter(|way| way.iter().all(|height| *height >= self.least));
        let with = |[low, high]: [Length; 2]| {
            self.with(|tier| if Some(&tier) == self.ripped.first() { low } else { high })
        };
        ways.map(with).collect()
    }

    /// The openings from which on something more fits, from the least on.
    fn thresholds(&self, tier: usize) -> Vec<Length> {
        let step = self.scenario.shop.step;
        let stances = self.scenario.gear.values().flat_map(|gear| {
            (1..=i64::from(gear.stack.min(gear.count))).flat_map(move |high| {
                gear.stances().into_iter().map(move |[_, _, z]| z * high + gear.padding)
            })
        });
        let mut heights: Vec<Length> = stances
            .map(|height| (height + self.taken).ceil_to(step))
            .filter(|height| *height > self.least && *height <= self.most(tier))
            .chain([self.least])
            .collect();
        heights.sort();
        heights.dedup();
        heights
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::derive::Misfit;
    use crate::explore::every_structure;

    /// Whatever the lower tier takes, the upper one may have all that is left and not a step more.
    #[test]
    fn two_ripped_tiers_share_all_of_the_room_and_no_more() {
        let (mut filled, mut above) = (0, 0);
        for name in ["trade-fullsize", "camping-midsize", "van-birch"] {
            let file = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            let scenario = crate::input::read(file.as_ref()).expect("the demos read").scenario;
            let listed = every_structure(&scenario);
            for structure in left_open(&scenario, listed.iter()).into_iter().step_by(7) {
                let open = Open::new(&scenario, structure);
                let [low, _] = open.ripped[..] else { continue };
                let with = |lower, upper| {
                    let structure = open.with(|tier| if tier == low { lower } else { upper });
                    carcass(&scenario, &structure)
                };
                let most = open.most(low);
                for lower in [open.least, (open.least + (most - open.least) / 2), most] {
                    let lower = lower.floor_to(scenario.shop.step);
                    let rest = open.room - lower;
                    let more = with(lower, rest + scenario.shop.step);
                    let too_high = matches!(more, Err(Misfit::TooHigh { .. }));
                    assert!(more.is_err(), "{name}: {rest:?} over {lower:?}: {:?}", open.structure);
                    // A tier above the wells may have to be lifted more over a low one.
                    if open.structure.family == Family::BetweenWells && too_high {
                        let fits = with(lower, rest);
                        assert!(!matches!(fits, Err(Misfit::TooHigh { .. })), "{name}: {fits:?}");
                        filled += usize::from(fits.is_ok());
                    }
                    above += usize::from(open.structure.family == Family::AboveWells && too_high);
                }
            }
        }
        assert!(filled > 100 && above > 20, "{filled} {above}");
    }
}
