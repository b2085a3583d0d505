//! The length of guide of built drawers.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;

#[test]
fn guides_that_are_too_short_are_found() {
    let scenario = full_size();
    let checks = chest(&scenario, &[1], Runs::Strip, &[]).checks(&scenario);
    let jam = named(&checks, "guided length of A1, open");
    // A single drawer of some 49 in: 2 · 0.2 · half of it.
    let width = chest(&scenario, &[1], Runs::Strip, &[]).built.drawers[0].outside.size.dx.to_mm();
    close(jam.limit, 0.2 * width, 1e-9);
    close(jam.value, (73.25 * 25.4_f64 / 5.0).max(300.0), 1e-9);
    assert!(jam.passes());
}
