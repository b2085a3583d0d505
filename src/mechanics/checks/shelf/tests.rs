//! Panels between tiers of built chests.

use crate::design::{Check, Structure};
use crate::mechanics::checks::fixture::*;
use crate::scenario::fixture::{full_size, inches};
use crate::scenario::{Family, Runs, Scenario};
use crate::units::Mass;

// Relation: a shelf sags where upper members stand between lower ones, and hardly where they line up.
#[test]
fn a_shelf_feels_where_the_tier_above_stands() {
    let mut scenario = heavy(full_size(), 10);
    scenario.aims.limits.deck_load = Some(Mass::POUND * 300);
    let sag = |columns: &[u32]| {
        let checks = chest(&scenario, columns, Runs::Strip, &[at_front()]).checks(&scenario);
        named(&checks, "shelf sag, tier B").value
    };
    let (aligned, between) = (sag(&[2, 2]), sag(&[2, 1]));
    assert!(aligned > 0.0, "its own weight and the runs beside the members");
    assert!(sag(&[2, 3]) > 2.0 * aligned, "{aligned}");
    assert!(between > 0.0);
    let one_tier = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(!names(&one_tier).iter().any(|name| name.starts_with("shelf")));
}

fn above_wells(scenario: &Scenario) -> Vec<Check> {
    let structure =
        Structure { family: Family::AboveWells, ..structure(scenario, &[2, 3], Runs::Strip) };
    rebuilt(scenario, structure, &[at_front()]).checks(scenario)
}

// A full-width tier stands on the tier below it and on boards at the walls; without those its edges
// hang over, which must not go unseen.
#[test]
fn a_full_width_tier_needs_something_at_the_walls() {
    let mut scenario = full_size();
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    scenario.bed.clear_height.at = inches(40);
    let carried = above_wells(&scenario);
    assert!(names(&carried).contains(&"shelf sag, tier B"));
    assert!(!names(&carried).contains(&"shelf overhang, tier B"), "outriggers carry it");
    scenario.allowances.least_pocket = inches(100);
    let hanging = above_wells(&scenario);
    let overhang = named(&hanging, "shelf overhang, tier B");
    assert!(!overhang.passes() && overhang.strength, "{overhang:?}");
}
