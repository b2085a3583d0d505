//! The pull of built drawers.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;
use crate::units::physics::STANDARD_GRAVITY;

// Derived: μ·m·g, with the skew of a load to one side, against the limit as given or HSE's.
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
