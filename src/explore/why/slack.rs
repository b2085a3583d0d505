//! What binds a design, and how much room there is to everything else that might.

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
        let [x, y, tallest] = taken(drawer);
        found.push(length(Held::DrawerWidth(drawer.name.clone()), drawer.inside.dx - x));
        found.push(length(Held::DrawerLength(drawer.name.clone()), drawer.inside.dy - y));
        if let Some((content, z)) = tallest_of(drawer) {
            let held = Held::DrawerHeight(drawer.name.clone(), content);
            found.push(length(held, drawer.inside.dz - z.max(tallest)));
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

/// How far the gear and dividers of a drawer reach from its inside left front bottom corner.
fn taken(drawer: &Drawer) -> [Length; 3] {
    let plan = &drawer.plan;
    let boxes = plan.items.iter().map(|item| item.space).chain(plan.dividers.iter().copied());
    boxes.fold([Length::ZERO; 3], |far, space| {
        let ends =
            [space.at.x + space.size.dx, space.at.y + space.size.dy, space.at.z + space.size.dz];
        [far[0].max(ends[0]), far[1].max(ends[1]), far[2].max(ends[2])]
    })
}

/// The content that reaches highest, and how high.
fn tallest_of(drawer: &Drawer) -> Option<(Content, Length)> {
    let tops = drawer.plan.items.iter();
    tops.map(|item| (item.content, item.space.at.z + item.space.size.dz))
        .max_by_key(|(content, top)| (*top, std::cmp::Reverse(*content)))
}
