//! Wood through the seasons and plastic through the year.
//!
//! - Inputs: widths across the grain of members, sides, fronts and solid dividers; the range of moisture; the clearances; the
//!   longest strip and the year's range of temperature.
//! - Formula: built at the middle of the range, wood comes to either end of it: ΔD = D·C·ΔM (Wood Handbook eq. 13-2) with the
//!   tangential coefficient of the worst common softwood, nothing in a panel's plane. A strip grows by α·L·ΔT ([`thermal`]) from
//!   its middle either way.
//! - Limit: of the top clearance, of the gap over the fronts and beside the drawers 1 mm must be left; a strip's holes are slots.
//! - Sentence: how far each moves, between what moistures; how long the slots must be.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;
pub mod thermal;

use super::{Figure, Kind, Subject};
use crate::design::{Check, Remark};
use crate::mechanics::movement::{change, change_coefficient};
use crate::scenario::{Material, Runs, Scenario};
use crate::units::Length;
use crate::units::physics::Metres;

/// Tangential shrinkage of Douglas-fir, the most of the common building softwoods whose row was read (Wood Handbook table 4-3).
const SHRINKAGE: f64 = 7.6;
/// Of the clearance, what must be left (assumption).
const LEFT: Metres = Metres::of(0.001);
fn source() -> Remark {
    remark!(
        "Wood Handbook eq. 13-2, flat-sawn Douglas-fir 7.6 % (table 4-3); ",
        LEFT,
        " left (assumption)"
    )
}

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let mut checks: Vec<Check> = top(scenario, subject).into_iter().collect();
    checks.extend(front(scenario, subject));
    checks.extend(beside(scenario, subject));
    checks.extend(strip(scenario, subject));
    checks
}

/// How far a width across the grain of a material moves from the middle of the moisture range to one end of it; panels
/// hardly at all.
fn swing(scenario: &Scenario, material: &Material, width: Length) -> Metres {
    let [driest, wettest] = scenario.engineering.moisture;
    if !material.is_board() {
        return Metres::ZERO;
    }
    change(Metres::from(width), change_coefficient(SHRINKAGE), driest, wettest) / 2.0
}

fn words(scenario: &Scenario) -> String {
    let [driest, wettest] = scenario.engineering.moisture;
    format!("from {}% moisture to {driest}% and {wettest}% (assumption)", (driest + wettest) / 2.0)
}

fn at_least(left: Metres) -> Figure {
    Figure::at_least(left.in_millimetres(), LEFT.in_millimetres(), "mm")
}

/// The top clearance when members are driest, less what the drawer's own sides give back, or wettest the other way about.
fn top(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let sides = &scenario.stock.materials[subject.structure.sides];
    let tiers = subject.chest.carcass.tiers.iter().zip(&subject.structure.tiers);
    let apart = tiers.map(|(frame, tier)| {
        let member = swing(scenario, &scenario.stock.materials[tier.member], frame.height);
        let side = swing(scenario, sides, frame.side_height);
        ((member - side).abs(), member, side)
    });
    let (apart, member, side) = apart.max_by(|a, b| a.0.in_metres().total_cmp(&b.0.in_metres()))?;
    let left = Metres::from(scenario.allowances.top_clearance) - apart;
    Some(at_least(left).named(
        "top clearance through the year".into(),
        Kind::Note,
        source(),
        remark!(
            "members move by ",
            member,
            ", drawer sides by ",
            side,
            format!(", {}", words(scenario))
        ),
    ))
}

/// The gap over solid applied fronts in the wettest season.
fn front(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    let material = &scenario.stock.materials[subject.structure.front];
    let highest = subject.chest.carcass.tiers.iter().map(|frame| frame.front_height).max()?;
    let grows = swing(scenario, material, highest);
    if grows <= Metres::ZERO {
        return None;
    }
    let left = Metres::from(scenario.allowances.front_gap) - grows;
    Some(at_least(left).named(
        "gap over fronts, wettest".into(),
        Kind::Note,
        source(),
        remark!("a solid front grows by ", grows, format!(", {}", words(scenario))),
    ))
}

/// The gap beside drawers when members and solid sides are thickest.
fn beside(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    if subject.structure.runs == Runs::Slides {
        return None;
    }
    let sides = &scenario.stock.materials[subject.structure.sides];
    let grows = |tier: &crate::design::TierChoice| {
        let member = &scenario.stock.materials[tier.member];
        // Half a member's growth on either side of an opening; a drawer's sides are fixed by its bottom.
        swing(scenario, member, member.thickness) / 2.0
            + swing(scenario, sides, sides.thickness) / 2.0
    };
    let most = subject.structure.tiers.iter().map(grows).reduce(Metres::max)?;
    let left = Metres::from(scenario.allowances.side_gap) - most;
    Some(at_least(left).named(
        "side gap, wettest".into(),
        Kind::Note,
        source(),
        remark!(
            "members and sides thicken by ",
            most,
            format!(" beside a drawer, {}", words(scenario))
        ),
    ))
}

/// A strip's growth from its middle either way, against slots as long as two screw diameters.
fn strip(scenario: &Scenario, subject: &Subject<'_>) -> Option<Check> {
    if subject.structure.runs != Runs::Strip {
        return None;
    }
    let longest = subject.drawers.iter().map(|drawer| drawer.opening.size.dy).max()?;
    let swing = scenario.engineering.temperature_swing;
    let grows = thermal::growth(Metres::from(longest), thermal::UHMW_PE, swing) / 2.0;
    let figure = Figure::at_most(grows.in_millimetres(), SLOT.in_millimetres(), "mm");
    Some(figure.named(
        "slots of strips".into(),
        Kind::Note,
        remark!("α·L·ΔT, UHMW-PE 2e-4 per K (from memory); slots of ", SLOT, " (assumption)"),
        remark!(
            "fix strips in their middle and slot the other holes by ",
            grows,
            format!(" at the ends, {swing} K between seasons (assumption)"),
        ),
    ))
}

/// Slot that a strip's screw hole is cut to (assumption).
const SLOT: Metres = Metres::of(0.010);
