//! How left-over width was used.

use crate::design::Design;
use crate::design::derive::spare::spare;
use crate::scenario::{Scenario, tier_letter};
use crate::units::Length;

/// What the gear leaves over of the drawers' widths and where it went:
/// `Of the drawers' widths the gear leaves 2 1/4 in of tier A (A1 1 in, A2 1 1/4 in) and nothing of tier B. …`
pub fn left_over(scenario: &Scenario, design: &Design) -> String {
    let carcass = &design.chest.carcass;
    let mut nothing = true;
    let tiers: Vec<String> = (carcass.tiers.iter().enumerate())
        .map(|(tier, frame)| {
            let drawers = design.drawers.iter().filter(|drawer| drawer.tier == tier);
            let each: Vec<(&str, Length)> = drawers
                .map(|drawer| (drawer.name.as_str(), spare(scenario, frame, drawer)[0]))
                .filter(|(_, over)| over.is_positive())
                .collect();
            let sum: Length = each.iter().map(|(_, over)| *over).sum();
            let letter = tier_letter(tier as u32);
            if !sum.is_positive() {
                return format!("nothing of tier {letter}");
            }
            nothing = false;
            let shown = |over: Length| over.show(scenario.units);
            let each: Vec<String> =
                each.iter().map(|(name, over)| format!("{name} {}", shown(*over))).collect();
            format!("{} of tier {letter} ({})", shown(sum), each.join(", "))
        })
        .collect();
    if nothing {
        return "The gear takes up the whole width of the drawers.".to_owned();
    }
    format!(
        "Of the drawers' widths the gear leaves {}. It went to the narrowest drawers first, as even openings strain deck \
         and shelves least, and within a drawer evenly to its lanes.",
        tiers.join(" and ")
    )
}
