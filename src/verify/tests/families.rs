//! Chests of every family, empty: derivations and verifier agree on each, and lifts, packing and outriggers are looked at.

use super::*;
use crate::design::{Structure, TierChoice};
use crate::scenario::fixture::{inches, sixteenths};
use crate::scenario::{
    Demand, Family, Hardware, HardwareId, HardwareUse, HatchOpening, Runs, Sold, Wells,
};

/// The good scenario with nothing that has to be stowed, low wells, and high enough for any two tiers.
fn scenario() -> Scenario {
    let mut scenario = good::scenario();
    for id in scenario.gear.ids() {
        scenario.gear[id].demand = Demand::Worth(1000);
    }
    scenario.bed.clear_height.at = inches(40);
    scenario.aims.limits = Default::default();
    scenario.choices.runs_on = vec![Runs::Strip, Runs::Waxed, Runs::Slides];
    scenario.choices.tiers = vec![1, 2, 3];
    scenario.choices.columns = vec![1, 2, 3, 4];
    let slides = Hardware {
        name: "slides".to_owned(),
        use_: HardwareUse::Slides,
        sold: Sold::Each { pack: 1 },
        thickness: sixteenths(8),
        ..scenario.stock.hardware[HardwareId(0)].clone()
    };
    scenario.stock.hardware.push(slides);
    scenario
}

fn structure(scenario: &Scenario, family: Family, columns: &[u32]) -> Structure {
    let like = good::structure(scenario);
    let member = like.tiers[0].member;
    let tier = |&columns: &u32| TierChoice { columns, member, height: sixteenths(116) };
    Structure { family, tiers: columns.iter().map(tier).collect(), ..like }
}

/// Verifies an empty chest, which must stand.
#[track_caller]
fn assert_holds(scenario: &Scenario, structure: Structure) -> Design {
    let design = good::empty(scenario, structure).expect("the chest stands");
    match verify(scenario, design) {
        Ok(verified) => verified.into_inner(),
        Err(rejected) => panic!("{rejected}"),
    }
}

#[test]
fn every_family_and_number_of_columns() {
    let scenario = scenario();
    for seamless in [false, true] {
        for columns in [&[1][..], &[2], &[3], &[4], &[1, 2], &[3, 2], &[2, 3, 4]] {
            let structure =
                Structure { seamless, ..structure(&scenario, Family::BetweenWells, columns) };
            // A panel wider than the sheet needs a member to land on.
            match good::empty(&scenario, structure.clone()) {
                Ok(_) => drop(assert_holds(&scenario, structure)),
                Err(misfit) => assert!(!seamless && columns.contains(&1), "{misfit:?}"),
            }
        }
    }
}

#[test]
fn every_kind_of_run_with_and_without_locks_and_blocks() {
    let mut scenario = scenario();
    let square = scenario.choices.corner_blocks;
    for locks in [true, false] {
        for blocks in [square, None] {
            scenario.choices.locks = locks;
            scenario.choices.corner_blocks = blocks;
            for runs in [Runs::Strip, Runs::Waxed, Runs::Slides] {
                let like = structure(&scenario, Family::BetweenWells, &[2, 3]);
                assert_holds(&scenario, Structure { runs, ..like });
            }
        }
    }
}

#[test]
fn above_the_wells_on_packing_and_outriggers() {
    let scenario = scenario();
    for columns in [&[2][..], &[3], &[2, 3], &[2, 2, 4]] {
        let design = assert_holds(&scenario, structure(&scenario, Family::AboveWells, columns));
        // One tier below leaves 1 1/2 in missing of 9 1/4 in; three leave nothing.
        let lift = design.chest.carcass.lift;
        match columns.len() {
            1 => assert!(lift >= sixteenths(148)),
            2 => assert!(lift >= sixteenths(24)),
            _ => assert_eq!(lift, Length::ZERO),
        }
    }
}

#[test]
fn low_packing_is_counted_for_each_member() {
    let mut scenario = scenario();
    let tailgate = scenario.bed.tailgate.as_mut().expect("a pickup has one");
    tailgate.rise = inches(1);
    let mut design = assert_holds(&scenario, structure(&scenario, Family::BetweenWells, &[2, 2]));
    assert!(design.chest.carcass.lift.is_positive());
    let part = part_of(&design, Role::Packing);
    design.parts[part].quantity -= 1;
    assert_names!(
        faults(&scenario, &design),
        Fault::RoleCount { role: Role::Packing, expected, found } if expected % 3 == 0 && *found + 1 == *expected
    );
}

#[test]
fn an_outrigger_is_missed_on_its_side() {
    let scenario = scenario();
    let mut design = assert_holds(&scenario, structure(&scenario, Family::AboveWells, &[2, 3]));
    let parts = design.parts.clone();
    let middle = scenario.bed.width.at / 2;
    design.solids.retain(|solid| {
        parts[solid.part.0 as usize].role != Role::Outrigger || solid.space.at.x > middle
    });
    assert_names!(faults(&scenario, &design), Fault::NoOutrigger { side: Side::Left });
    let mut design = assert_holds(&scenario, structure(&scenario, Family::AboveWells, &[2, 3]));
    solid_of(&mut design, Role::Outrigger).space.at.z += HAIR;
    assert_names!(
        faults(&scenario, &design),
        Fault::Misplaced { role: Role::Outrigger, by, .. } if *by == HAIR
    );
}

#[test]
fn a_floor_without_wells_in_millimetres() {
    let mut scenario = scenario();
    scenario.bed.wells = None;
    scenario.bed.tailgate = None;
    scenario.bed.width.at = Length::mm(1401);
    scenario.shop.step = Length::MM;
    scenario.choices.locks = false;
    assert_holds(&scenario, structure(&scenario, Family::BetweenWells, &[2, 3]));
}

#[test]
fn wells_an_odd_number_of_units_apart() {
    let mut scenario = scenario();
    let wells = scenario.bed.wells.expect("a bed with wells");
    let mut between = wells.between;
    between.at += HAIR;
    scenario.bed.wells = Some(Wells { between, ..wells });
    scenario.shop.step = HAIR;
    scenario.allowances.fit = HAIR;
    let design = assert_holds(&scenario, structure(&scenario, Family::BetweenWells, &[2, 2]));
    assert_eq!(design.chest.carcass.tiers[0].width, between.at - HAIR);
}

#[test]
fn a_hatch_that_holds_the_upper_tier_to_about_the_lower_ones_width() {
    let mut scenario = scenario();
    let between = scenario.bed.wells.expect("a bed with wells").between.at;
    // The panel between the tiers is 1/2 in thick, and so would be what carries its edges.
    for (wider, carried) in [(0, false), (8, false), (15, false), (16, true), (32, true)] {
        let width = between + sixteenths(wider);
        scenario.bed.opening = Some(HatchOpening { width, height: inches(40) });
        let design = assert_holds(&scenario, structure(&scenario, Family::AboveWells, &[2, 2]));
        let tiers = &design.chest.carcass.tiers;
        assert_eq!(tiers[1].width, tiers[0].width + sixteenths(wider));
        assert_eq!(design.parts.iter().any(|part| part.role == Role::Outrigger), carried);
    }
}
