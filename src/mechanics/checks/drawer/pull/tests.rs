//! The pull of built drawers.

use super::handles;
use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;
use crate::units::physics::STANDARD_GRAVITY;

// Derived: μ·m·g, with the skew of a load to one side, against the limit as given or HSE's.
// Derived: μ·m·g sliding; m·g·(μ·cos θ + sin θ) on the scenario's slope. HSE's 10 kg-force is half of what may start it.
#[test]
fn moving_and_uphill_are_told_beside_the_start() {
    let mut scenario = heavy(full_size(), 40);
    let built = chest(&scenario, &[1], Runs::Waxed, &[at_front()]);
    let mass = Weights::of(&scenario, &built.subject()).drawers[0].mass().in_kilograms();
    let checks = built.checks(&scenario);
    let moving = named(&checks, "drawer A1 kept moving");
    close(moving.value, 0.15 * mass * STANDARD_GRAVITY, 1e-9);
    close(moving.limit, 98.1, 1e-12);
    assert!(moving.note);
    scenario.engineering.slope_deg = 4.0;
    let checks = built.checks(&scenario);
    let uphill = named(&checks, "drawer A1 opened uphill");
    let slope = 4.0_f64.to_radians();
    let share = 0.2 * libm::cos(slope) + libm::sin(slope);
    close(uphill.value, mass * STANDARD_GRAVITY * share, 1e-9);
    assert!(said(uphill).contains("opens by itself beyond 11.3°"), "{}", said(uphill));
}

// A case at the left of one wide drawer: a handle over its weight pulls straight, and the remark says the same.
#[test]
fn a_handle_goes_where_the_weight_is() {
    let scenario = heavy(full_size(), 40);
    let whole = chest(&scenario, &[1], Runs::Strip, &[at_front()]);
    let weights = Weights::of(&scenario, &whole.subject());
    let outside = whole.built.drawers[0].outside;
    let middle = outside.at.x.to_metres() + outside.size.dx.to_metres() / 2.0;
    let [Some(offset)] = handles(&scenario, whole.subject())[..] else { panic!("far to one side") };
    close(offset.in_metres(), weights.drawers[0].x().in_metres() - middle, 1e-9);
    assert!(offset.in_metres() < -0.1);
    assert!(said(named(&whole.checks(&scenario), "pull of drawer A1")).contains(" left of the"));
    let empty = chest(&scenario, &[1], Runs::Strip, &[]);
    assert_eq!(handles(&scenario, empty.subject()), [None]);
    let slides = chest(&scenario, &[1], Runs::Slides, &[at_front()]);
    assert_eq!(handles(&scenario, slides.subject()), [None], "slides guide it");
}

#[test]
fn the_pull_follows_mass_friction_and_skew() {
    let mut scenario = heavy(full_size(), 40);
    let built = chest(&scenario, &[1], Runs::Strip, &[at_front()]);
    let weights = Weights::of(&scenario, &built.subject());
    let drawer = &built.built.drawers[0];
    let body = weights.drawers[0];
    let straight = 0.2 * body.mass().in_kilograms() * STANDARD_GRAVITY;
    let middle = drawer.outside.at.x.to_metres() + drawer.outside.size.dx.to_metres() / 2.0;
    let offset = (middle - body.x().in_metres()).abs();
    assert!(offset > 0.1, "the case stands at the left");
    let skew = 1.0 + 2.0 * 0.2 * offset / drawer.outside.size.dy.to_metres();
    let checks = built.checks(&scenario);
    let pull = named(&checks, "pull of drawer A1");
    close(pull.value, straight * skew, 1e-9);
    close(pull.limit, 196.0, 1e-12);
    assert!(from(pull).contains("assumption") && from(pull).contains("HSE"));
    scenario.aims.limits.pull_newtons = Some(50.0);
    let checks = built.checks(&scenario);
    let pull = named(&checks, "pull of drawer A1");
    assert!(!pull.passes() && from(pull).contains("as given"));
}
