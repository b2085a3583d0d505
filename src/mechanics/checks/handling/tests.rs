//! Lifting and carrying built chests.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::fixture::{full_size, inches};
use crate::scenario::{HatchOpening, Runs};
use crate::units::Mass;

#[test]
fn a_chest_is_slid_in_whole_or_put_together_in_the_bed() {
    let mut scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[]);
    let wide = whole.built.chest.carcass.tiers[0].width;
    let through = |scenario: &crate::scenario::Scenario| {
        let checks = whole.checks(scenario);
        named(&checks, "chest through the opening").clone()
    };
    let ungiven = through(&scenario);
    assert!(ungiven.passes() && from(&ungiven).contains("no opening is given"), "{ungiven:?}");
    assert!(said(&ungiven).contains("slid in whole") && said(&ungiven).contains("measure the"));
    scenario.bed.opening = Some(HatchOpening { width: wide, height: inches(30) });
    let just = through(&scenario);
    assert!(just.passes() && from(&just).contains("as measured"));
    close(just.value, wide.to_mm(), 1e-12);
    scenario.bed.opening = Some(HatchOpening { width: wide - inches(1), height: inches(30) });
    let tight = through(&scenario);
    assert!(!tight.passes() && tight.note && said(&tight).contains("together in the bed"));
    scenario.bed.opening = Some(HatchOpening { width: wide, height: inches(5) });
    assert!(said(&through(&scenario)).contains("height"));
}

#[test]
fn too_heavy_or_too_long_for_one_is_named() {
    let mut scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[]);
    let checks = whole.checks(&scenario);
    let heaviest = named(&checks, "heaviest part, one person");
    let longest = named(&checks, "longest part, one person");
    close(heaviest.limit, 23.0, 2e-2);
    assert!(heaviest.passes() && longest.passes());
    assert!(said(heaviest).contains("part "), "{heaviest:?}");
    scenario.engineering.lift = Mass::KG * 2;
    scenario.engineering.carry = inches(40);
    let checks = whole.checks(&scenario);
    for name in ["heaviest part, one person", "longest part, one person"] {
        let check = named(&checks, name);
        assert!(!check.passes() && check.note, "{check:?}");
    }
    assert!(!named(&checks, "chest without drawers, two persons").passes());
}
