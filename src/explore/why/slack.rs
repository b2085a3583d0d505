//! What binds a design, and how much room there is to everything else that might.

use crate::design::derive::spare::spare;
use crate::design::{Content, Design, Drawer};
use crate::scenario::{Family, Scenario};
use crate::units::{Length, Mass, Money};

/// What holds a design back.
#[derive(Debug, Clone, PartialEq)]
pub enum Held {
    /// What the deck must stay under.
    ClearHeight,
    /// The width that the tier may take, from 0 at the bottom.
    Width(usize),
    /// A drawer's inside width, beyond the gear and dividers in it.
    DrawerWidth(String),
    /// A drawer's inside length, likewise.
    DrawerLength(String),
    /// A drawer's clear height above its tallest content.
    DrawerHeight(String, Content),
    /// What may be spent.
    Cost,
    /// What the empty chest may weigh.
    Mass,
    /// What the vehicle may still carry.
    Payload,
    /// The strength check with the least margin.
    Check(String),
}

/// Room left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Room {
    /// A length.
    Length(Length),
    /// An amount.
    Money(Money),
    /// A mass.
    Mass(Mass),
    /// How many times over it holds.
    Times(f64),
}

/// What might hold a design back, with the room left to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Slack {
    /// What.
    pub held: Held,
    /// How much.
    pub room: Room,
    /// Whether it binds: less than a step of the shop is left, or less than a hundredth of a limit.
    pub binds: bool,
}

/// Everything that might hold the design back, the chest first, then its drawers, then limits.
pub fn slacks(scenario: &Scenario, design: &Design) -> Vec<Slack> {
    let step = scenario.shop.step;
    let length =
        |held: Held, left: Length| Slack { held, room: Room::Length(left), binds: left < step };
    let carcass = &design.chest.carcass;
    let top = scenario.bed.clear_height.at - scenario.allowances.top;
    let mut found = vec![length(Held::ClearHeight, top - carcass.top_z)];
    let last = carcass.tiers.len().saturating_sub(1);
    for (at, tier) in carcass.tiers.iter().enumerate() {
        let above = design.structure.family == Family::AboveWells && at == last;
        let width = if above { scenario.bed.width.at } else { scenario.bed.floor_width() };
        found.push(length(Held::Width(at), width - scenario.allowances.fit - tier.width));
    }
    for drawer in &design.drawers {
        let [across, along] = spare(scenario, &carcass.tiers[drawer.tier], drawer);
        found.push(length(Held::DrawerWidth(drawer.name.clone()), across));
        found.push(length(Held::DrawerLength(drawer.name.clone()), along));
        if let Some((content, z)) = tallest_of(scenario, drawer) {
            let held = Held::DrawerHeight(drawer.name.clone(), content);
            found.push(length(held, drawer.inside.dz - z));
        }
    }
    let limits = &scenario.aims.limits;
    if let Some(most) = limits.cost {
        let left = most - design.criteria.cost;
        let binds = left.to_units() < most.to_units() / 100.0;
        found.push(Slack { held: Held::Cost, room: Room::Money(left), binds });
    }
    let mass = |held: Held, most: Mass, value: Mass| {
        let left = most.to_kg() - value.to_kg();
        let room = Room::Mass(Mass::from_kg(left.max(0.0)));
        Slack { held, room, binds: left < most.to_kg() / 100.0 }
    };
    found.extend(limits.mass.map(|most| mass(Held::Mass, most, design.criteria.mass)));
    let payload = scenario.bed.payload;
    found.extend(payload.map(|most| mass(Held::Payload, most, design.criteria.loaded_mass)));
    let strength = design.checks.iter().filter(|check| check.strength);
    let least = strength.min_by(|a, b| a.margin().total_cmp(&b.margin()));
    found.extend(least.map(|check| Slack {
        held: Held::Check(check.name.clone()),
        room: Room::Times(check.margin()),
        binds: check.margin() < 1.01,
    }));
    found
}

/// The content that reaches highest with the room over it, and how high.
fn tallest_of(scenario: &Scenario, drawer: &Drawer) -> Option<(Content, Length)> {
    let padding = |content| match content {
        Content::Gear(id) => scenario.gear[id].padding,
        Content::Loose(_) => Length::ZERO,
    };
    let tops = drawer.plan.items.iter();
    tops.map(|item| (item.content, item.space.far().z + padding(item.content)))
        .max_by_key(|(content, top)| (*top, std::cmp::Reverse(*content)))
}
