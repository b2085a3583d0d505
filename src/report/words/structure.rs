//! What a design is, in a few words.

use crate::design::{Structure, TierChoice};
use crate::scenario::{Family, Scenario};

use super::names::{family, runs};

/// The whole of it: `2 tiers: 2 drawers of 2x8 under 1 of 2x10; sides of 1x8, on plastic strip`.
pub fn structure(scenario: &Scenario, structure: &Structure) -> String {
    let sides = &scenario.stock.materials[structure.sides].name;
    let mut text = tiers(scenario, structure);
    if structure.family == Family::AboveWells {
        text.push_str(", ");
        text.push_str(family(structure.family));
    }
    text.push_str(&format!("; sides of {sides}, on {}", runs(structure.runs)));
    text
}

/// Tiers, drawers and member stock: `2 tiers: 2 drawers of 2x8 under 1 of 2x10`.
pub fn tiers(scenario: &Scenario, structure: &Structure) -> String {
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
        let scenario = fixture::electrician();
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
        let scenario = fixture::electrician();
        let mut structure = fixture::structure(&scenario);
        let sheet = scenario.stock.material_named("3/4 plywood").expect("a fixture's material");
        structure.tiers =
            vec![TierChoice { columns: 2, member: sheet, height: Length::inches(19, 2) }];
        assert_eq!(
            tiers(&scenario, &structure),
            "1 tier: 2 drawers of 3/4 plywood ripped to 9 1/2 in"
        );
    }

    #[test]
    fn a_full_width_tier_is_named() {
        let scenario = fixture::electrician();
        let mut structure = fixture::structure(&scenario);
        structure.family = Family::AboveWells;
        assert!(
            super::structure(&scenario, &structure).contains("at full width above the wheel wells")
        );
        assert_eq!(placing(&scenario, &structure), "top tier at full width above the wheel wells");
    }
}
