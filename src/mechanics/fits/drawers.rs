//! Drawers in their openings, and through the hatch.

use super::{Fit, FitOf, Sizes, Source, Stack, Taped};
use crate::design::{Design, TierFrame};
use crate::scenario::{Measured, Runs, Scenario};
use crate::units::Length;

pub(super) fn fits(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let sizes = Sizes { scenario };
    let mut all = Vec::new();
    for (tier, frame) in design.chest.carcass.tiers.iter().enumerate() {
        let mut add = |of, stack| all.push(Fit { of, stack });
        add(FitOf::DrawersAcross(tier), across(&sizes, design, tier, frame));
        add(FitOf::DrawersUnder(tier), under(&sizes, design, tier));
        if frame.columns > 1 {
            add(FitOf::FrontsAcross(tier), reveal(&sizes));
        }
        add(FitOf::FrontsUnder(tier), fronts_under(&sizes, design, tier, frame));
    }
    all.extend(hatch(&sizes, design));
    all
}

/// A drawer between two members: both gaps, against where the members are put, how thick they are and how the drawer's
/// bottom is cut. Slides bring their own play.
fn across(sizes: &Sizes<'_>, design: &Design, tier: usize, frame: &TierFrame) -> Stack {
    let (structure, tolerance) = (&design.structure, &sizes.scenario.tolerance);
    let member = structure.tiers[tier].member;
    // The gap takes in a strip beside the drawer, or the slides themselves: what those may be pressed is not counted.
    let sides = match structure.runs {
        Runs::Slides => tolerance.saw,
        Runs::Strip | Runs::Waxed => frame.side_gap * 2,
    };
    // Half a member's deviation from either side, of the same stock.
    Stack::new(sides)
        .with(Source::Stock(member), sizes.thickness(member))
        .with(Source::Season(member), sizes.season(member, frame.member))
        .with_cuts(3, tolerance.saw)
}

/// A drawer under the panel above it: the top clearance, against member, side, bottom and carpet.
fn under(sizes: &Sizes<'_>, design: &Design, tier: usize) -> Stack {
    let (structure, scenario) = (&design.structure, sizes.scenario);
    let frame = &design.chest.carcass.tiers[tier];
    let choice = &structure.tiers[tier];
    let bottom = scenario.stock.materials[structure.drawer_bottom].thickness;
    let margin = frame.height - frame.run_height - bottom - frame.side_height;
    let (from, by) = sizes.width(choice.member, choice.height);
    let (side_from, side_by) = sizes.width(structure.sides, frame.side_height);
    let moved = sizes
        .season(choice.member, frame.height)
        .abs_diff(sizes.season(structure.sides, frame.side_height));
    Stack::new(margin)
        .with(from, by)
        .with(side_from, side_by)
        .with(Source::Stock(structure.drawer_bottom), sizes.thickness(structure.drawer_bottom))
        .with(Source::Season(choice.member), moved)
}

/// Two applied fronts side by side: each is put by hand.
fn reveal(sizes: &Sizes<'_>) -> Stack {
    Stack::new(sizes.scenario.allowances.front_reveal).with_cuts(2, sizes.scenario.tolerance.saw)
}

/// An applied front under the panel above it.
fn fronts_under(sizes: &Sizes<'_>, design: &Design, tier: usize, frame: &TierFrame) -> Stack {
    let structure = &design.structure;
    let choice = &structure.tiers[tier];
    let margin = frame.height - frame.run_height - frame.front_height;
    let (from, by) = sizes.width(choice.member, choice.height);
    let (front_from, front_by) = sizes.width(structure.front, frame.front_height);
    let moved = sizes
        .season(choice.member, frame.height)
        .abs_diff(sizes.season(structure.front, frame.front_height));
    Stack::new(margin)
        .with(from, by)
        .with(front_from, front_by)
        .with(Source::Season(structure.front), moved)
}

/// Each drawer through the hatch opening, which stands on the floor in the middle of the bed.
fn hatch(sizes: &Sizes<'_>, design: &Design) -> Vec<Fit> {
    let scenario = sizes.scenario;
    let Some(opening) = &scenario.bed.opening else { return Vec::new() };
    let saw = scenario.tolerance.saw;
    let mut all = Vec::new();
    for drawer in &design.drawers {
        let (left, right) = (drawer.outside.at.x, drawer.outside.far().x);
        let aside = (scenario.bed.width.at - opening.width) / 2;
        let margin = (left - aside).min(scenario.bed.width.at - aside - right);
        // Half of what the opening may be narrower counts on either side, and where the chest stands.
        let tape = sizes.tape(Measured::exact(opening.width));
        let stack = Stack::new(margin)
            .with(Source::Tape(Taped::HatchWidth), half(tape))
            .with(Source::Tape(Taped::Width), half(sizes.tape(scenario.bed.width)))
            .with_cuts(1, saw);
        all.push(Fit { of: FitOf::HatchAcross(drawer.name.clone()), stack });
        let tape = sizes.tape(Measured::exact(opening.height));
        let stack = Stack::new(opening.height - drawer.outside.far().z)
            .with(Source::Tape(Taped::HatchHeight), tape)
            .with_cuts(1, saw);
        all.push(Fit { of: FitOf::HatchUp(drawer.name.clone()), stack });
    }
    all
}

/// Half of a length, rounded up.
fn half(length: Length) -> Length {
    Length::from_units((length.units() + 1) / 2)
}
