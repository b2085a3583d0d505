//! What is too heavy for a drawer.

use super::*;
use crate::design::Layout;
use crate::design::derive::figures::mass_of;

/// What each drawer holds, tier by tier.
fn loads(scenario: &Scenario, stowage: &Stowage) -> Vec<Vec<Mass>> {
    let load = |layout: &Layout| -> Mass {
        layout.items.iter().map(|item| mass_of(scenario, item.content)).sum()
    };
    stowage.tiers.iter().map(|tier| tier.iter().map(load).collect()).collect()
}

/// Things as long as a drawer: so many heavy ones, and light ones of the same size.
fn anvils_and_pillows(anvils: u32, pillows: u32) -> Scenario {
    let mut scenario = full_size();
    scenario.bed.clear_height.at = inches(40);
    let long = |name: &str, count: u32, mass: Mass| crate::scenario::Gear {
        mass,
        turn: Turn::Fixed,
        ..gear(name, [66, 6, 5], count)
    };
    scenario.gear = [long("anvil", anvils, Mass::KG * 36), long("pillow", pillows, Mass::KG)]
        .into_iter()
        .collect();
    scenario.loose = std::iter::empty().collect();
    scenario
}

#[test]
fn gear_goes_to_another_tier_where_its_own_is_too_heavy() {
    let scenario = anvils_and_pillows(4, 8);
    let structure = structure(&scenario, &[2, 2]);
    let carcass = carcass(&scenario, &structure).expect("the chest stands in its bed");
    let heaviest = |most: &[Mass]| {
        let found = stow(
            &scenario,
            &structure,
            &carcass,
            Care { most, ..Care::NONE },
            &mut Budget::work(2_000_000),
        );
        assert!(found.missing.is_empty(), "{:?}", found.missing);
        check(&scenario, &structure, &carcass, &found.stowage).expect("it is sound");
        let loads = loads(&scenario, &found.stowage);
        if most.is_empty() {
            // No sharing out within its own tier would do.
            let tier = |tier: &Vec<Mass>| tier.iter().copied().sum::<Mass>();
            assert!(loads.iter().map(tier).max() > Some(Mass::KG * 90), "{loads:?}");
        }
        assert_eq!(loads.iter().flatten().copied().sum::<Mass>(), Mass::KG * (4 * 36 + 8));
        loads.into_iter().flatten().max().expect("there are drawers")
    };
    // Left alone, the engine puts three of them side by side somewhere.
    assert!(heaviest(&[]) > Mass::KG * 45);
    // One in each of four drawers is the only way.
    assert!(heaviest(&[Mass::KG * 45; 2]) <= Mass::KG * 45);
    // Where it can't be had, as near to it as can be.
    assert!(heaviest(&[Mass::KG * 10; 2]) <= Mass::KG * 45);
}

#[test]
fn of_ways_that_lighten_alike_the_lowest_is_taken() {
    let scenario = anvils_and_pillows(2, 10);
    let structure = structure(&scenario, &[2, 1]);
    let carcass = carcass(&scenario, &structure).expect("the chest stands in its bed");
    // The upper drawer may hold none of them, a lower one one each.
    let most = [Mass::KG * 45, Mass::KG * 12];
    let found = stow(
        &scenario,
        &structure,
        &carcass,
        Care { most: &most, ..Care::NONE },
        &mut Budget::work(2_000_000),
    );
    let loads = loads(&scenario, &found.stowage);
    assert!(found.missing.is_empty() && loads[1][0] <= most[1], "{loads:?}");
    assert!(loads[0].iter().all(|load| *load <= most[0]), "{loads:?}");
}
