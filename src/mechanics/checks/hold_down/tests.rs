//! What the bolts must hold.

use crate::mechanics::checks::fastening::fixed;
use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::fixture::full_size;
use crate::scenario::{Runs, Scenario};

// EN 12195-1: its safety forward is 1.25 and otherwise 1.1 (from memory), and the floor's friction counts; 49 CFR 393.102
// has neither. Bolts follow.
#[test]
fn the_rule_of_securing_sets_what_the_bolts_must_hold() {
    let mut scenario = heavy(full_size(), 60);
    let demand = |scenario: &Scenario| {
        let checks = chest(scenario, &[2], Runs::Strip, &[at_front()]).checks(scenario);
        ["hold-down, braking", "hold-down, in a bend"].map(|name| named(&checks, name).clone())
    };
    let cfr = demand(&scenario);
    scenario.engineering.securing = crate::scenario::Securing::En;
    let en = demand(&scenario);
    close(en[0].value, 1.25 * cfr[0].value, 1e-9);
    close(en[1].value, 1.1 * cfr[1].value, 1e-9);
    assert!(from(&cfr[0]).contains("49 CFR 393.102") && from(&en[0]).contains("EN 12195-1"));
    scenario.engineering.floor_friction = 0.3;
    let rough = demand(&scenario);
    close(rough[0].value, en[0].value * (0.8 - 0.3) / 0.8, 1e-9);
    assert!(said(&rough[0]).contains("friction 0.3 counted"), "{:?}", rough[0]);
    // As many bolts as that takes, on a design that is fixed.
    let bolts = |kg: i64| {
        let scenario = heavy(scenario.clone(), kg);
        let mut built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
        fixed(&scenario, &built.structure, &mut built.built);
        built.built.fixings.hold_downs
    };
    assert!(bolts(10) < bolts(400) && bolts(400) <= 16);
}
