//! The least change of a drawer's decided size that leaves a design.

use std::collections::BTreeSet;

use super::{Asker, Cure};
use crate::design::derive::carcass;
use crate::explore::every_structure;
use crate::scenario::{DecidedDrawer, Scenario};
use crate::units::Length;

/// Heights tried, the nearest to the decided one first.
const TRIED: usize = 8;

/// Another width or height of the drawer with which there is a design, as near to what is decided as was found; none if it
/// takes giving up both, or the drawer itself.
pub(super) fn cure(scenario: &Scenario, at: (u32, u32), asker: &Asker<'_>) -> Option<Cure> {
    let drawers = &scenario.decided.drawers;
    let index = drawers.iter().position(|drawer| (drawer.tier, drawer.column) == at)?;
    let DecidedDrawer { width, height, .. } = drawers[index];
    let with = |change: &dyn Fn(&mut DecidedDrawer)| {
        let mut changed = scenario.clone();
        change(&mut changed.decided.drawers[index]);
        changed
    };
    let stands = |changed: &Scenario| asker.most_worth(changed).is_some();
    if let Some(width) = width
        && stands(&with(&|drawer| drawer.width = None))
    {
        let other = |to: Length| stands(&with(&|drawer| drawer.width = Some(to)));
        let found = nearest_width(scenario, width, asker, &other)?;
        return Some(Cure::DrawerWidth(at.0, at.1, found));
    }
    if let Some(height) = height {
        let free = with(&|drawer| drawer.height = None);
        let mut heights: Vec<Length> = heights(&free, at.0 as usize).into_iter().collect();
        heights.sort_by_key(|other| (other.abs_diff(height), *other));
        let does = |to: &Length| stands(&with(&|drawer| drawer.height = Some(*to)));
        let found = heights.into_iter().take(TRIED).find(does)?;
        return Some(Cure::DrawerHeight(at.0, at.1, found));
    }
    None
}

/// The nearest width that does, in steps of the shop, by halving to either side: what does at some width is taken to do
/// from there on towards the width that the drawer would have by itself.
fn nearest_width(
    scenario: &Scenario,
    width: Length,
    asker: &Asker<'_>,
    does: &dyn Fn(Length) -> bool,
) -> Option<Length> {
    let step = scenario.shop.step;
    let least = scenario.allowances.least_drawer_width;
    let most = scenario.bed.width.at;
    let sides = [(-1, width - least), (1, most - width)];
    let found = sides.into_iter().filter_map(|(sign, reach)| {
        let to = |steps: i64| width + step * (steps * sign);
        // Far off it fails again, so that halving needs a reach at which it does: doubled until one is found.
        let last = reach.units() / step.units();
        let reaches = std::iter::successors(Some(1), |reach| Some(reach * 2));
        let reach = reaches.take_while(|reach| *reach <= last).find(|reach| does(to(*reach)))?;
        asker.least(reach, |steps| does(to(steps))).map(|steps| (steps, to(steps)))
    });
    found.min().map(|(_, width)| width)
}

/// The clear heights that the drawers of a tier may have.
fn heights(scenario: &Scenario, tier: usize) -> BTreeSet<Length> {
    let structures = every_structure(scenario);
    let frames = structures.iter().filter_map(|structure| carcass(scenario, structure).ok());
    frames.filter_map(|frames| Some(frames.tiers.get(tier)?.clear_height)).collect()
}
