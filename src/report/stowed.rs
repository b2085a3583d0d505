//! What a design stows, counted.

use crate::design::{Content, Design, Layout};
use crate::scenario::Scenario;
use crate::units::Mass;

/// A place that holds gear: a drawer or a pocket.
#[derive(Debug, Clone, Copy)]
pub struct Holder<'a> {
    /// What it is called.
    pub name: &'a str,
    /// What is in it.
    pub plan: &'a Layout,
}

/// Drawers in their order, then pockets.
pub fn holders(design: &Design) -> Vec<Holder<'_>> {
    let drawers = design.drawers.iter().map(|drawer| (drawer.name.as_str(), &drawer.plan));
    let pockets =
        design.pockets.iter().map(|pocket| (super::words::pocket(pocket.place), &pocket.plan));
    drawers.chain(pockets).map(|(name, plan)| Holder { name, plan }).collect()
}

/// Mass of one copy.
pub fn mass_of(scenario: &Scenario, content: Content) -> Mass {
    match content {
        Content::Gear(id) => scenario.gear[id].mass,
        Content::Loose(id) => scenario.loose[id].mass,
    }
}

/// Mass of what a layout holds.
pub fn load(scenario: &Scenario, plan: &Layout) -> Mass {
    plan.items.iter().map(|item| mass_of(scenario, item.content)).sum()
}

/// What a layout holds from front to back, copies of one kind together where the first of them stands.
pub fn front_to_back(plan: &Layout) -> Vec<(Content, u32)> {
    let mut items: Vec<_> = plan.items.iter().collect();
    items.sort_by_key(|item| (item.space.at.y, item.space.at.x, item.space.at.z, item.content));
    let mut kinds: Vec<(Content, u32)> = Vec::new();
    for item in items {
        match kinds.iter_mut().find(|(content, _)| *content == item.content) {
            Some((_, copies)) => *copies += 1,
            None => kinds.push((item.content, 1)),
        }
    }
    kinds
}

/// How many things are stowed, and how many there are.
pub fn tally(scenario: &Scenario, design: &Design) -> (u64, u64) {
    let stowed = holders(design).iter().map(|holder| holder.plan.items.len() as u64).sum();
    let gear: u64 = scenario.gear.values().map(|gear| u64::from(gear.count)).sum();
    (stowed, gear + scenario.loose.len() as u64)
}

/// `Fish tape reel (2)`: the name, and how many if there are more than one.
pub fn counted(scenario: &Scenario, content: Content, copies: u32) -> String {
    let name = super::words::content(scenario, content);
    if copies == 1 { name.to_owned() } else { format!("{name} ({copies})") }
}
