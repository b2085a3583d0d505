//! A good design passes; broken one way at a time, the verifier names that fault.

mod chest;
mod cutting;
mod decided;
mod drawers;
mod families;
mod good;
mod job;
mod numbers;
mod solids;
mod stowed;
mod tolerance;
mod work;

use super::*;
use crate::design::{PartId, Role, Solid};
use crate::units::Length;

/// The smallest change that there is.
const HAIR: Length = Length::from_units(1);

/// The faults of the good design after one change to it or to what is given.
fn faults_after(change: impl FnOnce(&mut Scenario, &mut Design)) -> Vec<Fault> {
    let mut scenario = good::scenario();
    let mut design = good::design(&scenario);
    change(&mut scenario, &mut design);
    faults(&scenario, &design)
}

/// Asserts that one of the faults matches a pattern, and that each of them has a sentence of its own.
macro_rules! assert_names {
    ($faults:expr, $pattern:pat $(if $guard:expr)?) => {{
        let faults: Vec<Fault> = $faults;
        assert!(
            faults.iter().any(|fault| matches!(fault, $pattern $(if $guard)?)),
            "{} is not among {faults:#?}",
            stringify!($pattern $(if $guard)?),
        );
        for fault in &faults {
            assert_ne!(fault.to_string(), format!("{fault:?}"), "a sentence, not the variant");
        }
    }};
}
use assert_names;

/// The first part of a role.
fn part_of(design: &Design, role: Role) -> usize {
    design.parts.iter().position(|part| part.role == role).expect("the good design has one")
}

/// The first placed piece of a role.
fn solid_of(design: &mut Design, role: Role) -> &mut Solid {
    let parts = &design.parts;
    design
        .solids
        .iter_mut()
        .find(|solid| parts[solid.part.0 as usize].role == role)
        .expect("the good design has one")
}

#[test]
fn the_good_design_is_verified() {
    let scenario = good::scenario();
    let design = good::design(&scenario);
    match verify(&scenario, design.clone()) {
        Ok(verified) => {
            assert_eq!(verified.get(), &design);
            assert_eq!(verified.drawers.len(), 4);
            assert_eq!(verified.into_inner(), design);
        }
        Err(rejected) => panic!("{rejected}"),
    }
}

#[test]
fn a_rejected_design_comes_back_with_all_its_faults() {
    let scenario = good::scenario();
    let mut design = good::design(&scenario);
    design.cutting.kerf += HAIR;
    design.drawers[0].name = "A9".to_owned();
    let rejected = verify(&scenario, design.clone()).expect_err("a kerf and a name are wrong");
    assert_eq!(rejected.design, design);
    assert_eq!(rejected.faults.len(), 3, "{rejected}");
    assert_names!(rejected.faults.clone(), Fault::Kerf { .. });
    assert_names!(rejected.faults.clone(), Fault::DrawerName { expected, .. } if expected == "A1");
    // Its pull was checked under its true name.
    assert_names!(rejected.faults.clone(), Fault::CheckMissing { .. });
    let text = rejected.to_string();
    assert!(text.starts_with("design 0000001 does not hold:\n- "), "{text}");
    assert!(text.contains("drawer A9 stands where A1 belongs"), "{text}");
}

#[test]
fn what_leads_nowhere_is_named_and_nothing_else_is_tried() {
    let faults = faults_after(|_, design| design.solids[0].part = PartId(9999));
    assert_eq!(faults, [Fault::NoSuch { what: Reference::Part, index: 9999 }]);
    let faults = faults_after(|_, design| design.solids[0].drawer = Some(4));
    assert_eq!(faults, [Fault::NoSuch { what: Reference::Drawer, index: 4 }]);
    let faults = faults_after(|_, design| design.structure.deck.0 = u32::MAX);
    assert_eq!(faults, [Fault::NoSuch { what: Reference::Material, index: u64::from(u32::MAX) }]);
    let faults = faults_after(|_, design| design.cutting.sheets[0].stock.0 = 77);
    assert_eq!(faults, [Fault::NoSuch { what: Reference::Stock, index: 77 }]);
}

#[test]
fn lists_that_do_not_match_are_named() {
    assert_names!(
        faults_after(|_, design| {
            design.drawers.pop();
        }),
        Fault::Lists { what: ListOf::Drawers, expected: 4, found: 3 }
    );
    assert_names!(
        faults_after(|_, design| {
            design.drawers[0].divider_parts.pop();
        }),
        Fault::Lists { what: ListOf::DividerParts, expected: 3, found: 2 }
    );
    assert_names!(
        faults_after(|_, design| design.chest.openings[1].push(HAIR)),
        Fault::Lists { what: ListOf::Openings, expected: 2, found: 3 }
    );
    assert_names!(
        faults_after(|_, design| {
            design.chest.carcass.tiers.pop();
        }),
        Fault::Lists { what: ListOf::Frames, expected: 2, found: 1 }
    );
}

#[test]
fn absurd_numbers_are_named_and_do_not_overflow() {
    for units in [i64::MIN, i64::MAX, -1] {
        assert_names!(
            faults_after(|_, design| design.solids[0].space.size.dx = Length::from_units(units)),
            Fault::Absurd { what: "placed piece", .. }
        );
    }
    assert_names!(
        faults_after(|_, design| design.parts[0].quantity = u32::MAX),
        Fault::AbsurdCount { count: 4_294_967_295, .. }
    );
}
