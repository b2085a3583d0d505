//! What is too much for a drawer's bottom.

use super::*;
use crate::design::Layout;
use crate::design::derive::figures::mass_of;
use crate::solve::lanes::Limits;
use crate::stow::relief::{Shared, relieved, sharings};

fn mass(scenario: &Scenario, layout: &Layout) -> Mass {
    layout.items.iter().map(|item| mass_of(scenario, item.content)).sum()
}

/// M·w² of a drawer, kg·m².
fn burden(scenario: &Scenario, layout: &Layout) -> f64 {
    mass(scenario, layout).to_kg() * layout.width.to_metres().powi(2)
}

#[test]
fn ways_to_share_lanes_out_begin_with_what_strains_least() {
    let limits = Limits { divider: 2, columns: 2, width: 104, least: 10, most: 104 };
    let kg = 1_000_000_000;
    let (widths, masses) = ([30, 20, 20, 8], [40 * kg, 5 * kg, 5 * kg, kg]);
    let shared = Shared { widths: &widths, masses: &masses, held: &[None; 4], most: None };
    let found = sharings(&shared, &limits, None, 100);
    // Alone, the heavy one has the narrowest drawer that there can be for it.
    assert_eq!(found[0], [0, 1, 1, 1]);
    let mut each = found.clone();
    each.sort();
    each.dedup();
    assert_eq!((each.len(), found.len()), (8, 8), "each way once, columns being alike: {found:?}");
    // What is held stays, and what may not be so heavy comes last.
    let held = [None, Some(1), None, Some(1)];
    let found = sharings(&Shared { held: &held, ..shared }, &limits, None, 100);
    assert!(found.len() == 4 && found.iter().all(|at| at[1] == 1 && at[3] == 1), "{found:?}");
    let found = sharings(&Shared { most: Some(45 * kg), ..shared }, &limits, None, 100);
    assert_eq!(found.last(), Some(&vec![0; 4]));
    let found = sharings(&shared, &limits, Some(&[0, 1, 1, 0]), 100);
    assert_eq!(found, [[0, 1, 1, 1]], "nothing else is better than with the lightest beside it");
    let narrow = Limits { width: 60, ..limits };
    assert!(
        sharings(&shared, &narrow, None, 100).is_empty(),
        "82 and a divider are too much for 60"
    );
}

#[test]
fn width_that_nothing_needs_goes_to_the_drawer_that_bears_least() {
    let (step, all) = (sixteenths(1), inches(40));
    let floor = [inches(4); 3];
    let masses = [Mass::KG * 40, Mass::KG * 10, Mass::KG];
    let widths = relieved(&floor, &masses, all, all, step);
    assert_eq!(widths.iter().copied().sum::<Length>(), all);
    assert!(widths[0] < widths[1] && widths[1] < widths[2], "{widths:?}");
    // M·w² is the same for all that have more than they need, to within a step.
    let bears = |at: usize| (masses[at].to_kg() + 2.0) * widths[at].to_metres().powi(2);
    assert!((bears(0) / bears(1) - 1.0).abs() < 0.03, "{widths:?}");
    let held = relieved(&floor, &masses, all, inches(16), step);
    assert!(held.iter().all(|width| *width <= inches(16)), "{held:?}");
    assert_eq!(held.iter().copied().sum::<Length>(), all);
    // Where none may be as wide as it takes to fill it, all are.
    let tight = relieved(&floor, &masses, all, inches(10), step);
    assert_eq!(tight.iter().copied().sum::<Length>(), all);
}

#[test]
fn heavy_gear_is_parted_where_it_strains_the_bottom() {
    let mut scenario = full_size();
    let long = |name: &str, count: u32, mass: Mass| crate::scenario::Gear {
        mass,
        turn: Turn::Fixed,
        ..gear(name, [66, 7, 5], count)
    };
    let near = |name: &str| crate::scenario::Gear {
        near: Some("smithy".into()),
        ..long(name, 1, Mass::KG * 40)
    };
    let gear = [near("anvil"), near("swage block"), long("pillow", 2, Mass::KG)];
    scenario.gear = gear.into_iter().collect();
    scenario.loose = std::iter::empty().collect();
    let structure = structure(&scenario, &[2]);
    let carcass = carcass(&scenario, &structure).expect("the chest stands in its bed");
    let most = |care: Care<'_>| {
        let found = stow(&scenario, &structure, &carcass, care, &mut Budget::work(200_000));
        check(&scenario, &structure, &carcass, &found.stowage).expect("it is sound");
        assert!(found.missing.is_empty() && found.stowage.left_out.is_empty());
        let burdens = found.stowage.tiers[0].iter().map(|layout| burden(&scenario, layout));
        burdens.fold(0.0, f64::max)
    };
    // What belongs together lies together, unless it is too much there.
    let plain = most(Care::NONE);
    let strain = |_: usize, layout: &Layout| burden(&scenario, layout);
    let relieved = most(Care { strain: &strain, ..Care::NONE });
    assert!(relieved < plain * 0.6, "{relieved} {plain}");
    // What bears all of it stays as it is.
    let strong = |_: usize, layout: &Layout| burden(&scenario, layout) / 1000.0;
    assert_eq!(most(Care { strain: &strong, ..Care::NONE }), plain);
}
