//! Starting from a design: its structure and stowing, fixed in a scenario that may have changed since.

use crate::design::{Content, Design};
use crate::scenario::{
    ColumnAt, DecidedDrawer, DecidedTier, GearId, LooseId, MaterialId, Place, Scenario,
};

/// How much of a design is kept, the most first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kept {
    /// The structure, the drawers' widths save that of the widest in each tier, the heights of ripped tiers, and which drawer
    /// everything is in.
    All,
    /// The structure, and which drawer everything is in.
    Stowing,
    /// The structure.
    Structure,
    /// Nothing.
    Nothing,
}

impl Kept {
    /// From the most to the least.
    pub const ALL: [Self; 4] = [Self::All, Self::Stowing, Self::Structure, Self::Nothing];
}

/// `scenario` with so much of `design` fixed, which was made for `was`. Materials and things are told by their names; what is
/// decided in `scenario` itself stays.
///
/// A thing whose copies are in several drawers is held to their tier if that is one; what the design leaves out, what is in a
/// pocket and what is new may stand anywhere.
pub fn like(scenario: &Scenario, was: &Scenario, design: &Design, kept: Kept) -> Scenario {
    let mut fixed = scenario.clone();
    if kept == Kept::Nothing {
        return fixed;
    }
    structure(&mut fixed, was, design);
    if kept == Kept::All {
        sizes(&mut fixed, design);
    }
    if kept <= Kept::Stowing {
        places(&mut fixed, was, design);
    }
    fixed
}

fn structure(fixed: &mut Scenario, was: &Scenario, design: &Design) {
    let chosen = &design.structure;
    let materials = fixed.stock.materials.clone();
    let named = |id: MaterialId| {
        let name = &was.stock.materials[id].name;
        materials.iter().find(|(_, material)| material.name == *name).map(|(id, _)| id)
    };
    let choices = &mut fixed.choices;
    // What can no longer be chosen stays open.
    if choices.families.contains(&chosen.family) {
        choices.families = vec![chosen.family];
    }
    let tiers = chosen.tiers.len() as u32;
    if choices.tiers.contains(&tiers) {
        choices.tiers = vec![tiers];
        for (tier, choice) in chosen.tiers.iter().enumerate() {
            let tier = tier as u32;
            if fixed.decided.tiers.iter().all(|decided| decided.tier != tier) {
                let (columns, member) = (Some(choice.columns), named(choice.member));
                fixed.decided.tiers.push(DecidedTier { tier, columns, member });
            }
        }
    }
    let lists = [
        (&mut choices.bottom, chosen.bottom),
        (&mut choices.deck, chosen.deck),
        (&mut choices.drawer_sides, chosen.sides),
        (&mut choices.drawer_bottoms, chosen.drawer_bottom),
        (&mut choices.fronts, chosen.front),
        (&mut choices.dividers, chosen.divider),
    ];
    for (list, id) in lists {
        if let Some(id) = named(id).filter(|id| list.contains(id)) {
            *list = vec![id];
        }
    }
    if choices.runs_on.contains(&chosen.runs) {
        choices.runs_on = vec![chosen.runs];
    }
}

fn sizes(fixed: &mut Scenario, design: &Design) {
    for tier in 0..design.structure.tiers.len() {
        let drawers = || design.drawers.iter().filter(move |drawer| drawer.tier == tier);
        let widest = drawers().max_by_key(|drawer| (drawer.inside.dx, drawer.column));
        let widest = widest.map(|drawer| drawer.column);
        let ripped = !fixed.stock.materials[design.structure.tiers[tier].member].is_board();
        for drawer in drawers() {
            let (at, column) = (tier as u32, drawer.column as u32);
            let decided = &mut fixed.decided.drawers;
            if decided.iter().any(|other| (other.tier, other.column) == (at, column)) {
                continue;
            }
            let width = (Some(drawer.column) != widest).then_some(drawer.inside.dx);
            let height = ripped.then_some(drawer.inside.dz);
            decided.push(DecidedDrawer { tier: at, column, width, height });
        }
    }
}

fn places(fixed: &mut Scenario, was: &Scenario, design: &Design) {
    let gear: Vec<GearId> = fixed.gear.ids().collect();
    for id in gear {
        let now = &fixed.gear[id];
        let then =
            was.gear.iter().find(|(_, gear)| gear.name == now.name && gear.count == now.count);
        let place = then.and_then(|(id, gear)| place(design, Content::Gear(id), gear.count));
        fixed.gear[id].place = fixed.gear[id].place.or(place);
    }
    let loose: Vec<LooseId> = fixed.loose.ids().collect();
    for id in loose {
        let then = was.loose.iter().find(|(_, loose)| loose.name == fixed.loose[id].name);
        let place = then.and_then(|(id, _)| place(design, Content::Loose(id), 1));
        fixed.loose[id].place = fixed.loose[id].place.or(place);
    }
}

/// Where all copies of a thing stand in a design; none if some do not, or they have no drawer or tier in common.
fn place(design: &Design, content: Content, count: u32) -> Option<Place> {
    let within = |drawer: &crate::design::Drawer| {
        drawer.plan.items.iter().filter(|item| item.content == content).count()
    };
    let holders = || design.drawers.iter().filter(|drawer| within(drawer) > 0);
    let stowed: usize = holders().map(within).sum();
    let first = holders().next().filter(|_| stowed == count as usize)?;
    if holders().any(|drawer| drawer.tier != first.tier) {
        return None;
    }
    let one = holders().all(|drawer| drawer.column == first.column);
    let column = one.then_some(ColumnAt::FromLeft(first.column as u32));
    Some(Place { tier: Some(first.tier as u32), column, end: None })
}
