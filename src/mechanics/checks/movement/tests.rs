//! The seasons of built chests.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::movement::{change, change_coefficient};
use crate::mechanics::testing::close;
use crate::scenario::fixture::full_size;
use crate::scenario::{Runs, Scenario};
use crate::units::Length;
use crate::units::physics::Metres;

fn left(scenario: &Scenario, name: &str) -> f64 {
    let checks = chest(scenario, &[2], Runs::Strip, &[]).checks(scenario);
    named(&checks, name).value
}

// Derived from Wood Handbook eq. 13-2: half the swing from 6 to 14 % at Douglas-fir's 7.6 % tangential shrinkage.
#[test]
fn what_the_seasons_leave_of_the_clearances() {
    let scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[]);
    let frame = &whole.built.chest.carcass.tiers[0];
    let half = |width: Length| {
        change(Metres::from(width), change_coefficient(7.6), 6.0, 14.0).in_millimetres() / 2.0
    };
    let top = scenario.allowances.top_clearance.to_mm();
    let moved = (half(frame.height) - half(frame.side_height)).abs();
    close(left(&scenario, "top clearance through the year"), top - moved, 1e-9);
    let front = scenario.allowances.front_gap.to_mm() - half(frame.front_height);
    close(left(&scenario, "gap over fronts, wettest"), front, 1e-9);
    assert!(half(frame.front_height) > 1.0, "a solid front of 7 in moves more than a millimetre");
}

// Relations: a narrower range of moisture leaves more, panels hardly move, slots follow the temperature.
#[test]
fn what_moves_less_leaves_more() {
    let mut scenario = full_size();
    let wide = left(&scenario, "gap over fronts, wettest");
    scenario.engineering.moisture = [9.0, 11.0];
    assert!(left(&scenario, "gap over fronts, wettest") > wide);
    let mut panel = full_size();
    let half = panel.stock.material_named("1/2 plywood").expect("the fixture stocks it");
    let whole = chest(&panel, &[2], Runs::Strip, &[]);
    let structure = crate::design::Structure { front: half, ..whole.structure };
    let checks = rebuilt(&panel, structure, &[]).checks(&panel);
    assert!(!names(&checks).contains(&"gap over fronts, wettest"), "plywood is left out");
    let slot = |scenario: &Scenario| left(scenario, "slots of strips");
    let year = slot(&panel);
    panel.engineering.temperature_swing *= 2.0;
    close(slot(&panel), 2.0 * year, 1e-9);
    let waxed = chest(&panel, &[2], Runs::Waxed, &[]).checks(&panel);
    assert!(!names(&waxed).contains(&"slots of strips"), "no strips, no slots");
}
