//! All checks together: relations that must hold.

use super::fixture::*;
use super::weights::Weights;
use crate::design::Sense;
use crate::design::derive::figures::{chest_mass, gear_mass};
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::{full_size, inches};
use crate::units::Mass;

#[test]
fn weights_add_up_to_chest_and_gear() {
    let scenario = full_size();
    let chest = chest(&scenario, &[2, 3], Runs::Strip, &[at_front()]);
    let all = Weights::of(&scenario, &chest.subject()).all().mass().in_kilograms();
    let built = &chest.built;
    let wood = chest_mass(&scenario, &built.parts, &chest.hardware).to_kg();
    let gear = gear_mass(&scenario, &built.drawers, &built.pockets).to_kg();
    close(all, wood + gear, 1e-9);
    assert!(gear > 5.0 * 3.0, "five drawers with a case of 8 lb each");
}

// Relation: heavier gear is never better for pull, bottom, uplift, tipping or payload.
#[test]
fn heavier_gear_is_never_better() {
    let (light, loaded) = (heavy(full_size(), 5), heavy(full_size(), 50));
    let built = chest(&light, &[2, 2], Runs::Strip, &[at_front()]);
    let (before, after) = (built.checks(&light), built.checks(&loaded));
    let mut compared = 0;
    for check in &after {
        let Some(lighter) = before.iter().find(|other| other.name == check.name) else { continue };
        if check.sense == Sense::Most {
            assert!(check.value >= lighter.value - 1e-9, "{}", check.name);
            compared += 1;
        }
    }
    assert!(compared >= 8, "{compared} checks in common");
}

#[test]
fn every_check_is_finite_and_says_where_it_comes_from() {
    let mut scenario = heavy(full_size(), 20);
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    scenario.bed.wheelbase = Some(inches(145));
    scenario.bed.rear_axle_from_tailgate = Some(inches(43));
    scenario.bed.clear_height.at = inches(40);
    let tiers: [&[u32]; 6] = [&[1], &[3], &[4], &[1, 2], &[2, 3], &[1, 2, 4]];
    for columns in tiers {
        for runs in [Runs::Strip, Runs::Waxed, Runs::Slides] {
            for gear in [&[][..], &[at_front()]] {
                let checks = chest(&scenario, columns, runs, gear).checks(&scenario);
                assert!(checks.len() >= 9, "{:?}", names(&checks));
                for check in &checks {
                    assert!(check.value.is_finite() && check.limit.is_finite(), "{check:?}");
                    assert!(!check.source.0.is_empty() && !check.remark.0.is_empty(), "{check:?}");
                }
                let mut sorted = names(&checks);
                sorted.sort_unstable();
                sorted.dedup();
                assert_eq!(sorted.len(), checks.len(), "no name twice");
            }
        }
    }
}
