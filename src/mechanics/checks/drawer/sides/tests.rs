//! Sides of built drawers.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;
use crate::units::physics::STANDARD_GRAVITY;

// Derived: a case at the front of a drawer drawn out to its stop hangs from the lip by its weight times its arm, the box by its
// own weight over half of what stands out.
#[test]
fn the_sides_carry_what_stands_outside() {
    let scenario = heavy(full_size(), 60);
    let whole = chest(&scenario, &[1], Runs::Strip, &[at_front()]);
    let checks = whole.checks(&scenario);
    let sides = named(&checks, "drawer sides bending, A1");
    let drawer = &whole.built.drawers[0];
    let length = drawer.outside.size.dy.to_metres();
    let out = length - (length / 5.0).max(0.3);
    let case = drawer.inside_at.y.to_metres() + 7.5 * 0.0254 - drawer.outside.at.y.to_metres();
    let weights = Weights::of(&scenario, &whole.subject());
    let empty = weights.drawers[0].mass().in_kilograms() - 60.0;
    let moment = 60.0 * (out - case) + empty / length * out * out / 2.0;
    close(sides.value, moment * STANDARD_GRAVITY, 1e-9);
    // Two boards of 3/4 in, ungraded or by their grade, as high as the sides.
    assert!(sides.limit > 0.0 && said(sides).contains("two sides"));
}

#[test]
fn a_bend_leans_on_the_side_seam() {
    let scenario = heavy(full_size(), 60);
    let checks = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    let seam = starting(&checks, "side seam of");
    close(seam.value, 60.0 * STANDARD_GRAVITY * 0.5, 1e-9);
    assert!(from(seam).contains("yield equations"));
}
