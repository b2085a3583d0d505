//! Drawers on slides.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::{full_size, inches};
use crate::units::Mass;

#[test]
fn slides_roll_and_have_a_rating() {
    let mut scenario = heavy(full_size(), 60);
    let pair = scenario.stock.hardware.push(slides(Mass::KG * 50, None));
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let strip = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(
        named(&checks, "pull of drawer A1").value < named(&strip, "pull of drawer A1").value / 4.0
    );
    let load = starting(&checks, "load on slides");
    assert!(!load.passes() && load.strength && load.value > 60.0, "{load:?}");
    assert!(!names(&checks).iter().any(|name| name.starts_with("guided length")));
    scenario.stock.hardware[pair].rating = Some(Mass::KG * 100);
    let checks = built.checks(&scenario);
    let load = starting(&checks, "load on slides");
    assert!(load.passes() && said(load).contains("assumption"), "for which length is not said");
}

#[test]
fn the_longest_slides_that_fit_carry_what_they_are_rated_for() {
    let mut scenario = heavy(full_size(), 40);
    let mut pair = |inches_long: i64, kg: i64| {
        scenario.stock.hardware.push(slides(Mass::KG * kg, Some(inches(inches_long))));
    };
    // The longer, the less they carry; the longest is longer than the drawer.
    pair(36, 120);
    pair(60, 100);
    pair(84, 60);
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let load = starting(&checks, "load on slides");
    let length = starting(&checks, "length of slides");
    close(load.limit, 100.0, 1e-12);
    assert!(load.passes() && length.passes(), "{load:?} {length:?}");
    close(length.value, 60.0 * 25.4, 1e-12);
    // Only too long a pair is a fault, not a remark.
    let kept = scenario.stock.hardware.values().cloned();
    let kept = kept.filter(|slides| slides.slide.is_none_or(|long| long > inches(80)));
    scenario.stock.hardware = kept.collect();
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let length = starting(&checks, "length of slides");
    assert!(!length.passes() && length.refuses(), "{length:?}");
}
