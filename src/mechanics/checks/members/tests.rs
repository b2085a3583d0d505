//! Members of built chests.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::fixture::full_size;
use crate::scenario::{Runs, Scenario};
use crate::units::Mass;

fn bearing(scenario: &Scenario) -> crate::design::Check {
    let checks = chest(scenario, &[2], Runs::Strip, &[]).checks(scenario);
    named(&checks, "members' bearing").clone()
}

// Derived: a person of 1.1 kN over 2 in of a 1 1/2 in member is 0.57 MPa, what stands on it comes on top; plywood bears 360 psi.
#[test]
fn a_person_on_one_member_bears_on_the_panel() {
    let mut scenario = full_size();
    let person = scenario.engineering.person_newtons;
    let contact = scenario.engineering.foot.to_metres() * 0.0381;
    let check = bearing(&scenario);
    let alone = person / contact / 1e6;
    assert!(check.value > alone && check.value < 1.2 * alone, "{check:?}");
    close(check.limit, 360.0 * 6_894.757_293 / 1e6, 1e-6);
    assert!(check.passes() && check.strength);
    scenario.aims.limits.deck_load = Some(Mass::POUND * 4000);
    assert!(bearing(&scenario).value > check.value);
}
