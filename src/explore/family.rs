//! One design idea in many beds: what of a design is the idea, and a scenario held to it.
//!
//! The idea is what a common plan can share: where the chest stands, how many tiers of how many columns, what each tier's
//! members are made of and, where it can be, how high they stand, what the drawers slide on. Widths and lengths follow each
//! bed and its gear.

use super::search::explore_among;
use super::why::used;
use super::{Explored, Progress, Settings};
use crate::design::{Design, Structure};
use crate::scenario::{Family, MaterialId, Runs, Scenario, Section};
use crate::units::Length;

/// What a family of designs has in common.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Idea {
    /// Where the chest stands.
    pub family: Family,
    /// What the drawers slide on.
    pub runs: Runs,
    /// Bottom to top: how many columns, what the members are made of, and how high they stand.
    pub tiers: Vec<(u32, Wood, Length)>,
    /// Bottom, deck, drawers' sides, drawers' bottoms, fronts, dividers.
    sheets: [Wood; 6],
}

/// A material as another scenario may know it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wood {
    /// What the first scenario calls it.
    pub name: String,
    /// Sheet, or board of a width.
    pub section: Section,
    /// Its thickness.
    pub thickness: Length,
}

impl Wood {
    fn of(scenario: &Scenario, id: MaterialId) -> Self {
        let material = &scenario.stock.materials[id];
        Self {
            name: material.name.clone(),
            section: material.section,
            thickness: material.thickness,
        }
    }

    /// The material of a scenario that is this one: of the same size and, if there are several, of the same name.
    fn found_in(&self, scenario: &Scenario) -> Option<MaterialId> {
        let materials = &scenario.stock.materials;
        let mut alike = materials.iter().filter(|(_, material)| {
            (material.section, material.thickness) == (self.section, self.thickness)
        });
        let named = alike.clone().find(|(_, material)| material.name == self.name);
        named.or_else(|| alike.next()).map(|(id, _)| id)
    }
}

/// A scenario that has nothing to choose but what an idea leaves open.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// The scenario.
    pub scenario: Scenario,
    /// Materials of the idea that the scenario does not have; it keeps its own choices in their place.
    pub without: Vec<String>,
    tiers: Vec<(u32, MaterialId, Length)>,
}

impl Idea {
    /// The idea of a design.
    pub fn of(scenario: &Scenario, design: &Design) -> Self {
        let structure = &design.structure;
        let wood = |id| Wood::of(scenario, id);
        let tiers = structure.tiers.iter();
        Self {
            family: structure.family,
            runs: structure.runs,
            tiers: tiers.map(|tier| (tier.columns, wood(tier.member), tier.height)).collect(),
            sheets: [
                structure.bottom,
                structure.deck,
                structure.sides,
                structure.drawer_bottom,
                structure.front,
                structure.divider,
            ]
            .map(wood),
        }
    }

    /// Another scenario held to the idea, whatever its own choices are.
    ///
    /// # Errors
    /// The first member stock that it does not have.
    pub fn held(&self, scenario: &Scenario) -> Result<Held, &Wood> {
        let mut tiers = Vec::with_capacity(self.tiers.len());
        for (columns, wood, height) in &self.tiers {
            tiers.push((*columns, wood.found_in(scenario).ok_or(wood)?, *height));
        }
        let mut held = scenario.clone();
        let choices = &mut held.choices;
        choices.families = vec![self.family];
        choices.runs_on = vec![self.runs];
        choices.tiers = vec![self.tiers.len() as u32];
        choices.columns = used(tiers.iter().map(|(columns, _, _)| *columns));
        choices.members = used(tiers.iter().map(|(_, member, _)| *member));
        let lists = choices.panels_mut();
        let mut without = Vec::new();
        for (list, wood) in lists.into_iter().zip(&self.sheets) {
            match wood.found_in(scenario) {
                Some(id) => *list = vec![id],
                None => without.push(wood.name.clone()),
            }
        }
        without.sort();
        without.dedup();
        Ok(Held { scenario: held, without, tiers })
    }
}

impl Held {
    /// Explores the structures that are of the idea, tier for tier: with ripped members as high as the idea's, so that what
    /// is cut to their height is the same in all beds, or, if the bed or its gear allows none so, of any height.
    pub fn explore(&self, settings: &Settings, report: &(dyn Fn(Progress) + Sync)) -> Explored {
        let of_it = |structure: Structure| self.is_of_it(&structure).then_some(structure);
        let alike = |structure: Structure| {
            let mut alike = of_it(structure)?;
            for (tier, (_, _, height)) in alike.tiers.iter_mut().zip(&self.tiers) {
                tier.height = *height;
            }
            Some(alike)
        };
        let found = explore_among(&self.scenario, &alike, settings, report);
        if found.ranked.is_empty() && found.stopped_by.is_none() {
            return explore_among(&self.scenario, &of_it, settings, report);
        }
        found
    }

    /// Whether a structure that the held scenario allows is of the idea: which tier has which columns and members.
    fn is_of_it(&self, structure: &Structure) -> bool {
        let tiers = structure.tiers.iter().map(|tier| (tier.columns, tier.member));
        tiers.eq(self.tiers.iter().map(|(columns, member, _)| (*columns, *member)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explore::explore;
    use crate::scenario::fixture::{full_size, inches};

    #[test]
    fn a_shorter_bed_gets_the_same_tiers_and_nothing_else() {
        let scenario = full_size();
        let settings = Settings { threads: 1, ..Settings::default() };
        let best = explore(&scenario, &settings, &|_| {}).ranked.remove(0).design;
        let idea = Idea::of(&scenario, &best);
        let mut short = scenario.clone();
        short.bed.length.at -= inches(10);
        short.choices.columns = vec![3];
        let held = idea.held(&short).expect("the stock is the same");
        assert_eq!(held.without, [""; 0]);
        let found = held.explore(&settings, &|_| {}).ranked;
        let tiers = |design: &Design| {
            let tiers = design.structure.tiers.iter();
            tiers.map(|tier| (tier.columns, tier.member)).collect::<Vec<_>>()
        };
        assert!(!found.is_empty());
        for ranked in &found {
            assert_eq!(tiers(&ranked.design), tiers(&best));
            assert!(ranked.design.chest.carcass.length < best.chest.carcass.length);
        }
    }

    #[test]
    fn stock_is_known_by_its_size_and_what_is_lacking_is_named() {
        let scenario = full_size();
        let settings = Settings { threads: 1, ..Settings::default() };
        let best = explore(&scenario, &settings, &|_| {}).ranked.remove(0).design;
        let idea = Idea::of(&scenario, &best);
        let member = best.structure.tiers[0].member;
        let mut other = scenario.clone();
        other.stock.materials[member].name = "joist".to_owned();
        let held = idea.held(&other).expect("it has the size under another name");
        assert!(held.tiers.iter().any(|(_, id, _)| *id == member));
        other.stock.materials[member].thickness = inches(2);
        let lacking = idea.held(&other).expect_err("no such board");
        assert_eq!(lacking.name, scenario.stock.materials[member].name);
    }
}
