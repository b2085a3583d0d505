//! Gear that slides in built drawers.

use crate::design::{Box3, Point, Size};
use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::fixture::{full_size, inches};
use crate::scenario::{Runs, Scenario};
use crate::units::Length;
use crate::units::physics::STANDARD_GRAVITY;

/// A drawer with a case at its front and a divider across behind it.
fn divided(scenario: &Scenario, gap: Length) -> Whole {
    let mut whole = chest(scenario, &[2], Runs::Strip, &[at_front()]);
    let drawer = &mut whole.built.drawers[0];
    let size = Size::new(drawer.inside.dx, Length::inches(1, 2), inches(4));
    let at = Point::new(Length::ZERO, inches(15) + gap, Length::ZERO);
    drawer.plan.dividers = vec![Box3 { at, size }];
    whole
}

// Derived: 0.8 g less friction 0.3 of 40 kg against the middle of a board between its ends, F·l/8.
#[test]
fn a_divider_stops_what_slides_against_it() {
    let mut scenario = heavy(full_size(), 40);
    scenario.engineering.gear_friction = 0.3;
    let whole = divided(&scenario, Length::ZERO);
    let checks = whole.checks(&scenario);
    let divider = named(&checks, "divider in A1, braking");
    let span = whole.built.drawers[0].inside.dx.to_metres();
    close(divider.value, 40.0 * STANDARD_GRAVITY * 0.5 * span / 8.0, 1e-9);
    assert!(said(divider).contains("friction 0.3 under the gear (assumption)"));
    scenario.engineering.gear_friction = 0.9;
    let checks = divided(&scenario, Length::ZERO).checks(&scenario);
    assert!(!names(&checks).iter().any(|name| name.starts_with("divider in")), "nothing slides");
}

// Derived: v² = 2·a·s.
#[test]
fn a_gap_lets_gear_gather_speed() {
    let mut scenario = heavy(full_size(), 40);
    scenario.engineering.gear_friction = 0.3;
    let whole = divided(&scenario, inches(4));
    let checks = whole.checks(&scenario);
    let run = starting(&checks, "free run of gear");
    // The case in the other drawer has nothing before the back board.
    assert!(run.value > 4.0 * 25.4 && !run.passes() && run.note, "{run:?}");
    assert!(said(run).contains("m/s when braking"));
}
