//! Bottoms under their gear.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::panel::{self, Axis, Plies, SpanRating, Spans};
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;
use crate::units::physics::{Kilograms, Metres};

// Derived: twice (creep) the sag that a strip as wide as the case would have is an upper bound, since
// the panel's stiff way spreads it; the panel's sag under the case's weight spread over all of it a
// lower one.
#[test]
fn a_drawer_bottom_sags_under_its_gear() {
    let scenario = heavy(full_size(), 30);
    let built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    let checks = built.checks(&scenario);
    let sag = starting(&checks, "drawer bottom sag");
    let drawer = &built.built.drawers[0];
    let stiffness = panel::plywood(SpanRating::R32x16, Plies::Four, Axis::Across).stiffness;
    let span = Metres::from(drawer.outside.size.dx) - Metres::millimetres(25.0);
    let weight = Kilograms::of(30.0).weight();
    let spread = |length: Metres| {
        let load = weight / span / length;
        panel::deflection(Spans::One, load, span, stiffness).in_millimetres() * 2.0
    };
    let least = spread(Metres::from(drawer.outside.size.dy));
    let most = spread(Metres::inches(15.0)) * 8.0 / 5.0;
    assert!(sag.value > least && sag.value < most, "{least} {} {most}", sag.value);
    assert!(said(sag).contains("Kilograms(30.0)"), "{}", said(sag));
    let empty = chest(&scenario, &[2], Runs::Strip, &[]).checks(&scenario);
    let empty = starting(&empty, "drawer bottom sag");
    assert!(empty.value > 0.0 && empty.value < sag.value / 3.0);
}
