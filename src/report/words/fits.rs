//! Words for fits and what they hang on.

use crate::explore::fits::{Deviation, Fit, FitOf, Holds, Source, Taped};
use crate::report::words;
use crate::scenario::{Scenario, Section, tier_letter};

/// What fits into what: `drawers of tier A between their members`.
pub fn fit(scenario: &Scenario, of: &FitOf) -> String {
    let tier = |tier: &usize| format!("tier {}", tier_letter(*tier as u32));
    match of {
        FitOf::Across(at) => format!("{} in the bed's width", tier(at)),
        FitOf::Along => "chest in the bed's length".to_owned(),
        FitOf::Under => "chest under what it must stay under".to_owned(),
        FitOf::OverTailgate => "lowest drawers over the open tailgate".to_owned(),
        FitOf::OverWells => "full-width tier over the wheel wells".to_owned(),
        FitOf::DrawersAcross(at) => format!("drawers of {} between their members", tier(at)),
        FitOf::DrawersUnder(at) => format!("drawers of {} under what is above", tier(at)),
        FitOf::FrontsAcross(at) => format!("fronts of {} side by side", tier(at)),
        FitOf::FrontsUnder(at) => format!("fronts of {} under what is above", tier(at)),
        FitOf::HatchAcross(drawer) => format!("drawer {drawer} through the opening's width"),
        FitOf::HatchUp(drawer) => format!("drawer {drawer} through the opening's height"),
        FitOf::GearAcross(drawer) => format!("gear side by side in {drawer}"),
        FitOf::GearAlong(drawer) => format!("gear one behind the other in {drawer}"),
        FitOf::GearUnder(drawer, content) => {
            format!("{} under what is above {drawer}", words::content(scenario, *content))
        }
    }
}

/// How surely it holds.
pub const fn holds(holds: Holds) -> &'static str {
    match holds {
        Holds::WorstCase => "at worst case",
        Holds::Average => "on average only",
        Holds::No => "not even on average",
    }
}

/// Where a deviation comes from: `the thickness of 1/2 plywood`.
pub fn source(scenario: &Scenario, source: Source) -> String {
    let taped = |what: Taped| match what {
        Taped::Length => "the bed's length",
        Taped::Width => "the bed's width",
        Taped::BetweenWells => "the width between the wheel wells",
        Taped::ClearHeight => "the clear height",
        Taped::WellHeight => "the wheel wells' height",
        Taped::TailgateRise => "the open tailgate's height",
        Taped::HatchWidth => "the opening's width",
        Taped::HatchHeight => "the opening's height",
    };
    match source {
        Source::Tape(what) => taped(what).to_owned(),
        Source::Stock(id) => {
            let material = &scenario.stock.materials[id];
            match material.section {
                Section::Sheet => format!("the thickness of {}", material.name),
                Section::Board { .. } => format!("the section of {}", material.name),
            }
        }
        Source::Season(id) => {
            format!("{} over the seasons", scenario.stock.materials[id].name)
        }
        Source::Saw => "a cut".to_owned(),
        Source::Gear(id) => format!("the size of {}", scenario.gear[id].name),
        Source::Loose(id) => format!("the room for {}", scenario.loose[id].name),
    }
}

/// A fit in a sentence: `gear side by side in A1: 1/8 in to spare; 7/32 in at worst, 1/8 in on average, most of it …`.
pub fn sentence(scenario: &Scenario, one: &Fit) -> String {
    let units = scenario.units;
    let stack = &one.stack;
    let most = stack
        .largest()
        .map(|Deviation { from, .. }| format!(", most of it {}", source(scenario, from)));
    format!(
        "{}: {} to spare, {} off at worst and {} on average{}",
        fit(scenario, &one.of),
        stack.margin.show(units),
        stack.worst().show(units),
        stack.root_sum_square().show(units),
        most.unwrap_or_default()
    )
}
