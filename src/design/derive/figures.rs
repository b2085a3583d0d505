//! What a design is ranked by, counted and weighed.

use std::collections::BTreeSet;

use crate::design::cutting::{CuttingPlan, Purchase};
use crate::design::drawer::{Content, Drawer, Layout, Pocket};
use crate::design::parts::{HardwareLine, Need, Part};
use crate::design::structure::Carcass;
use crate::design::whole::{Check, Criteria};
use crate::scenario::{Demand, Scenario, Section, Sold};
use crate::units::{Length, Mass, Money, Volume};

/// Everything that the criteria are taken from.
#[derive(Debug, Clone, Copy)]
pub struct Figured<'a> {
    /// The frames.
    pub carcass: &'a Carcass,
    /// The drawers with their gear.
    pub drawers: &'a [Drawer],
    /// The pockets with their gear.
    pub pockets: &'a [Pocket],
    /// The parts.
    pub parts: &'a [Part],
    /// The hardware.
    pub hardware: &'a [HardwareLine],
    /// The cutting plan.
    pub cutting: &'a CuttingPlan,
    /// The shopping list.
    pub purchases: &'a [Purchase],
    /// The checks.
    pub checks: &'a [Check],
}

/// Every criterion of a design.
pub fn criteria(scenario: &Scenario, of: Figured<'_>) -> Criteria {
    let (sheets, boards) = (sheet_use(scenario, of), board_use(scenario, of));
    let mass = chest_mass(scenario, of.parts, of.hardware);
    Criteria {
        usable_volume: of.drawers.iter().map(|drawer| drawer.inside.volume()).sum(),
        value_milli: value_milli(scenario, of.drawers, of.pockets),
        reach_mm: reach_mm(scenario, of),
        waste: (sheets + boards).waste(),
        sheet_waste: sheets.waste(),
        board_waste: boards.waste(),
        cost: of.purchases.iter().map(|purchase| purchase.cost).sum::<Money>(),
        mass,
        loaded_mass: mass + gear_mass(scenario, of.drawers, of.pockets),
        margin: margin(of.checks),
        simplicity: simplicity(of),
    }
}

fn layouts<'a>(drawers: &'a [Drawer], pockets: &'a [Pocket]) -> impl Iterator<Item = &'a Layout> {
    drawers.iter().map(|drawer| &drawer.plan).chain(pockets.iter().map(|pocket| &pocket.plan))
}

fn demand(scenario: &Scenario, content: Content) -> Demand {
    match content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    }
}

fn uses_milli(scenario: &Scenario, content: Content) -> i64 {
    match content {
        Content::Gear(id) => scenario.gear[id].uses_milli,
        Content::Loose(id) => scenario.loose[id].uses_milli,
    }
}

/// The mass of one copy.
pub fn mass_of(scenario: &Scenario, content: Content) -> Mass {
    match content {
        Content::Gear(id) => scenario.gear[id].mass,
        Content::Loose(id) => scenario.loose[id].mass,
    }
}

/// Σ worth of the stowed optional gear, in thousandths of a point.
pub fn value_milli(scenario: &Scenario, drawers: &[Drawer], pockets: &[Pocket]) -> i64 {
    layouts(drawers, pockets)
        .flat_map(|plan| &plan.items)
        .map(|item| match demand(scenario, item.content) {
            Demand::Worth(milli) => milli,
            Demand::Must => 0,
        })
        .sum()
}

/// Σ uses × pull ÷ Σ uses. The pull to lift a thing out of a drawer is how far the drawer must come out for the whole of
/// it to stand clear of the chest's front: the far end of the thing from the drawer's outside front. A pocket needs none.
fn reach_mm(scenario: &Scenario, of: Figured<'_>) -> f64 {
    let mut pulled: i128 = 0;
    let mut uses: i128 = 0;
    for drawer in of.drawers {
        let front = of.carcass.tiers[drawer.tier].drawer_inside_y;
        for item in &drawer.plan.items {
            let use_ = i128::from(uses_milli(scenario, item.content));
            pulled += use_ * i128::from((front + item.space.far().y).units());
            uses += use_;
        }
    }
    for item in of.pockets.iter().flat_map(|pocket| &pocket.plan.items) {
        uses += i128::from(uses_milli(scenario, item.content));
    }
    if uses == 0 { 0.0 } else { pulled as f64 / uses as f64 / Length::MM.units() as f64 }
}

/// The mass of all the gear stowed.
pub fn gear_mass(scenario: &Scenario, drawers: &[Drawer], pockets: &[Pocket]) -> Mass {
    layouts(drawers, pockets)
        .flat_map(|plan| &plan.items)
        .map(|item| mass_of(scenario, item.content))
        .sum()
}

/// The mass of the empty chest: its parts at their materials' density, and its hardware where its mass is known.
pub fn chest_mass(scenario: &Scenario, parts: &[Part], hardware: &[HardwareLine]) -> Mass {
    let wood: Mass = parts
        .iter()
        .map(|part| {
            scenario.stock.materials[part.material].mass_of(part.length.by(part.width))
                * i64::from(part.quantity)
        })
        .sum();
    wood + hardware.iter().map(|line| hardware_mass(scenario, line)).sum::<Mass>()
}

fn hardware_mass(scenario: &Scenario, line: &HardwareLine) -> Mass {
    let Some(id) = line.hardware else { return Mass::ZERO };
    let hardware = &scenario.stock.hardware[id];
    let each = hardware.mass;
    match (line.need, hardware.sold) {
        (Need::Count(count), _) => each * i64::from(count),
        (Need::Length(length), Sold::Each { .. }) if length.is_positive() => each,
        (Need::Length(length), Sold::Ripped { width, .. }) => {
            Mass::from_kg(each.to_kg() * length.by(width).to_square_metres())
        }
        (Need::Length(length), _) => Mass::from_kg(each.to_kg() * length.to_metres()),
        (Need::Area(_), Sold::Each { .. }) => each,
        (Need::Area(area), _) => Mass::from_kg(each.to_kg() * area.to_square_metres()),
    }
}

/// Stock used up, and what of it became parts or kept offcuts.
#[derive(Debug, Clone, Copy, Default)]
struct Use {
    stock: Volume,
    kept: Volume,
}

impl Use {
    fn waste(self) -> f64 {
        if self.stock == Volume::ZERO {
            return 0.0;
        }
        (self.stock - self.kept).units() as f64 / self.stock.units() as f64
    }
}

impl std::ops::Add for Use {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { stock: self.stock + other.stock, kept: self.kept + other.kept }
    }
}

fn sheet_use(scenario: &Scenario, of: Figured<'_>) -> Use {
    let mut total = Use::default();
    for layout in &of.cutting.sheets {
        let item = &scenario.stock.items[layout.stock];
        let material = &scenario.stock.materials[item.material];
        let repeat = i64::from(layout.repeat);
        let pieces = layout.pieces.iter().map(|piece| piece.at.dx.by(piece.at.dy));
        let offcuts = layout.offcuts.iter().map(|rest| rest.dx.by(rest.dy));
        let kept = pieces.chain(offcuts).sum::<crate::units::Area>();
        total.stock = total.stock + item.face(material).by(material.thickness) * repeat;
        total.kept = total.kept + kept.by(material.thickness) * repeat;
    }
    total
}

/// An offcut of a board is kept if its length reaches the longer of the least sides and its section the shorter, or if it
/// is as long as that and a whole board wide.
fn board_use(scenario: &Scenario, of: Figured<'_>) -> Use {
    let mut total = Use::default();
    for layout in &of.cutting.boards {
        let item = &scenario.stock.items[layout.stock];
        let material = &scenario.stock.materials[item.material];
        let Section::Board { width } = material.section else { continue };
        let repeat = i64::from(layout.repeat);
        let pieces: crate::units::Area = layout
            .pieces
            .iter()
            .map(|piece| piece.length.by(of.parts[piece.part.0 as usize].width))
            .sum();
        let keeps = layout.offcut >= scenario.shop.keep_offcut[0];
        let offcut = if keeps { layout.offcut.by(width) } else { crate::units::Area::ZERO };
        total.stock = total.stock + item.face(material).by(material.thickness) * repeat;
        total.kept = total.kept + (pieces + offcut).by(material.thickness) * repeat;
    }
    total
}

/// Pieces of wood to cut, and different patterns to set the saw up for.
fn simplicity(of: Figured<'_>) -> u32 {
    let pieces: u32 = of.parts.iter().map(|part| part.quantity).sum();
    let sizes: BTreeSet<_> =
        of.parts.iter().map(|part| (part.material, part.length, part.width)).collect();
    let patterns = of.cutting.sheets.len() + of.cutting.boards.len() + sizes.len();
    pieces.saturating_add(u32::try_from(patterns).unwrap_or(u32::MAX))
}

/// The least margin over the strength checks.
fn margin(checks: &[Check]) -> Option<f64> {
    checks.iter().filter(|check| check.strength).map(Check::margin).reduce(f64::min)
}
