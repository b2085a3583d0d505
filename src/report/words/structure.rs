//! What a design is, in a few words.

use crate::design::{Structure, TierChoice};
use crate::scenario::{DeckGrain, Family, Scenario};

use super::names::{family, runs};

/// The whole of it: `2 tiers: 2 drawers of 2x8 under 1 of 2x10; sides of 1x8, on plastic strip`.
pub fn structure(scenario: &Scenario, structure: &Structure) -> String {
    let sides = &scenario.stock.materials[structure.sides].name;
    let mut text = tiers(scenario, structure);
    if structure.family == Family::AboveWells {
        text.push_str(", full width above the wells");
    }
    if structure.deck_grain == DeckGrain::Across {
        text.push_str("; deck's grain across the members");
    }
    text.push_str(&format!("; sides of {sides}, on {}", runs(structure.runs)));
    text
}

/// Tiers, drawers and member stock: `2 tiers: 2 drawers of 2x8 under 1 of 2x10`.
pub fn tiers(scenario: &Scenario, structure: &Structure) -> String {
    if let Some(text) = all_ripped(scenario, structure) {
        return text;
    }
    let mut names = structure.tiers.iter().map(|tier| of(scenario, tier));
    let Some((first_count, first_stock)) = names.next() else {
        return "no tier".to_owned();
    };
    let plural = if first_count == 1 { "drawer" } else { "drawers" };
    let rest: Vec<(u32, String)> = names.collect();
    if rest.is_empty() {
        return format!("1 tier: {first_count} {plural} of {first_stock}");
    }
    let count = rest.len() + 1;
    if rest.iter().all(|(drawers, stock)| (*drawers, stock) == (first_count, &first_stock)) {
        return format!("{count} tiers, each {first_count} {plural} of {first_stock}");
    }
    let mut text = format!("{count} tiers: {first_count} {plural} of {first_stock}");
    let mut below = first_stock;
    for (drawers, stock) in rest {
        text.push_str(&format!(" under {drawers}"));
        if stock != below {
            text.push_str(&format!(" of {stock}"));
        }
        below = stock;
    }
    text
}

/// Several tiers of one sheet, ripped to a height each: `2 tiers of 3/4 plywood ripped to 9 1/2 and 7 1/4 in: 1 drawer
/// under 2`. `None` for any other structure.
fn all_ripped(scenario: &Scenario, structure: &Structure) -> Option<String> {
    let [first, .., last] = structure.tiers.as_slice() else { return None };
    let material = &scenario.stock.materials[first.member];
    if material.is_board() || structure.tiers.iter().any(|tier| tier.member != first.member) {
        return None;
    }
    let level = structure.tiers.iter().all(|tier| tier.height == first.height);
    let lower = structure.tiers.iter().take(structure.tiers.len() - 1);
    let lower: Vec<String> = lower.map(|tier| tier.height.figure(scenario.units)).collect();
    let heights = if level {
        first.height.show(scenario.units)
    } else {
        format!("{} and {}", lower.join(", "), last.height.show(scenario.units))
    };
    let mut columns = structure.tiers.iter().map(|tier| tier.columns);
    let bottom = columns.next().unwrap_or(0);
    let drawers = if bottom == 1 { "drawer" } else { "drawers" };
    let above: String = columns.map(|columns| format!(" under {columns}")).collect();
    let count = structure.tiers.len();
    Some(format!(
        "{count} tiers of {} ripped to {heights}: {bottom} {drawers}{above}",
        material.name
    ))
}

/// How many drawers a tier has and what its members are: a board by its name, ripped sheet with its height.
fn of(scenario: &Scenario, tier: &TierChoice) -> (u32, String) {
    let material = &scenario.stock.materials[tier.member];
    let stock = if material.is_board() {
        material.name.clone()
    } else {
        format!("{} ripped to {}", material.name, tier.height.show(scenario.units))
    };
    (tier.columns, stock)
}

/// Where the chest stands, as an adverb; nothing where the floor is clear from wall to wall.
pub fn placing(scenario: &Scenario, structure: &Structure) -> &'static str {
    match (structure.family, scenario.bed.wells.is_some()) {
        (Family::BetweenWells, false) => "from wall to wall",
        (chosen, _) => family(chosen),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;
    use crate::units::Length;

    #[test]
    fn tiers_are_told_from_the_bottom_up() {
        let scenario = fixture::locksmith();
        let mut structure = fixture::structure(&scenario);
        assert_eq!(
            super::structure(&scenario, &structure),
            "2 tiers: 2 drawers of 2x8 under 1 of 2x10; sides of 1x8, on plastic strip"
        );
        structure.tiers[1] = TierChoice { columns: 3, ..structure.tiers[0] };
        assert_eq!(tiers(&scenario, &structure), "2 tiers: 2 drawers of 2x8 under 3");
        structure.tiers[1] = structure.tiers[0];
        assert_eq!(tiers(&scenario, &structure), "2 tiers, each 2 drawers of 2x8");
        structure.tiers.truncate(1);
        structure.tiers[0].columns = 1;
        assert_eq!(tiers(&scenario, &structure), "1 tier: 1 drawer of 2x8");
    }

    #[test]
    fn ripped_sheet_says_how_high_it_stands() {
        let scenario = fixture::locksmith();
        let mut structure = fixture::structure(&scenario);
        let sheet = scenario.stock.material_named("3/4 plywood").expect("a fixture's material");
        structure.tiers =
            vec![TierChoice { columns: 2, member: sheet, height: Length::inches(19, 2) }];
        assert_eq!(
            tiers(&scenario, &structure),
            "1 tier: 2 drawers of 3/4 plywood ripped to 9 1/2 in"
        );
        structure.tiers.push(TierChoice {
            columns: 1,
            member: sheet,
            height: Length::inches(29, 4),
        });
        assert_eq!(
            tiers(&scenario, &structure),
            "2 tiers of 3/4 plywood ripped to 9 1/2 and 7 1/4 in: 2 drawers under 1"
        );
        structure.tiers[1].height = structure.tiers[0].height;
        assert_eq!(
            tiers(&scenario, &structure),
            "2 tiers of 3/4 plywood ripped to 9 1/2 in: 2 drawers under 1"
        );
    }

    #[test]
    fn a_full_width_tier_is_named() {
        let scenario = fixture::locksmith();
        let mut structure = fixture::structure(&scenario);
        structure.family = Family::AboveWells;
        assert!(super::structure(&scenario, &structure).contains(", full width above the wells;"));
        assert_eq!(placing(&scenario, &structure), "top tier at full width above the wheel wells");
    }
}
