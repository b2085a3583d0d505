//! Drawers drawn out.

use super::stays_in;
use crate::design::{Check, Point};
use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::testing::close;
use crate::scenario::fixture::{full_size, inches};
use crate::scenario::{Runs, Scenario};
use crate::units::Length;
use crate::units::physics::Kilograms;

// Derived: drawn out, a case at the front presses the back end up, one at the back does not.
#[test]
fn where_the_weight_lies_decides_uplift_and_tipping() {
    let scenario = heavy(full_size(), 80);
    let back = chest(&scenario, &[2], Runs::Strip, &[]).built.drawers[0].inside.dy - inches(15);
    let rear = case(Point::new(Length::ZERO, back, Length::ZERO));
    let (front, rear) = (
        chest(&scenario, &[2], Runs::Strip, &[at_front()]),
        chest(&scenario, &[2], Runs::Strip, &[rear]),
    );
    let (front_checks, rear_checks) = (front.checks(&scenario), rear.checks(&scenario));
    let uplift = starting(&front_checks, "uplift");
    let weights = Weights::of(&scenario, &front.subject());
    let drawer = &front.built.drawers[0];
    let (weight, length) = (weights.drawers[0].mass().weight(), drawer.outside.size.dy.to_metres());
    let engaged = (length / 5.0).max(0.3);
    let centre = weights.drawers[0].y().in_metres() - drawer.outside.at.y.to_metres();
    let expected = weight.in_newtons() * (length - engaged - centre) / engaged;
    close(uplift.value, expected, 1e-9);
    // Screws from 2 in on every 6 in: 2, 8, 14 in of the 14.6 in engaged, on two members.
    assert!(said(uplift).contains("6 No. 8 screws"), "{}", said(uplift));
    let per_screw = 2850.0 * 0.42 * 0.42 * 0.164 * (25.0 / 25.4) * 4.448_221_615 * 1.6;
    close(uplift.limit, 6.0 * per_screw, 1e-6);

    let tip = |checks: &[Check]| starting(checks, "tipping").value;
    assert!(tip(&front_checks) > tip(&rear_checks));
    let lip = front.built.chest.carcass.front_y.to_metres();
    let (fixed, other) = (weights.fixed, weights.drawers[1]);
    let moment = |mass: Kilograms, arm: f64| mass.in_kilograms() * arm;
    let stable = moment(fixed.mass(), fixed.y().in_metres() - lip)
        + moment(other.mass(), other.y().in_metres() - lip);
    let open = weights.drawers[0];
    let over = moment(open.mass(), length - engaged + lip - open.y().in_metres());
    let single = over / stable;
    assert!(
        (tip(&front_checks) - single).abs() < 0.02 * single,
        "the two drawers are nearly alike"
    );
}

// Derived: a fifth of the drawer, what the scenario asks for, or 2·μ·e of a pull at its corner, and no more than half of it.
#[test]
fn the_stop_leaves_in_what_guides_the_drawer() {
    let mut scenario = full_size();
    let drawer = |scenario: &Scenario| chest(scenario, &[1], Runs::Strip, &[]);
    let whole = drawer(&scenario);
    let outside = whole.built.drawers[0].outside.size;
    let (long, wide) = (outside.dy.to_mm(), outside.dx.to_mm());
    let stays = |scenario: &Scenario| {
        let whole = drawer(scenario);
        let stays = stays_in(scenario, &whole.structure, &whole.built.drawers[0]);
        let checks = whole.checks(scenario);
        let guided = named(&checks, "guided length of A1, open");
        close(guided.value, stays.in_millimetres(), 1e-9);
        (stays.in_millimetres(), guided.passes())
    };
    let (fifth, _) = stays(&scenario);
    close(fifth, long / 5.0, 1e-9);
    scenario.engineering.engagement = inches(20);
    close(stays(&scenario).0, 508.0, 1e-9);
    scenario.engineering.start_friction = Some(0.6);
    let (locks, passes) = stays(&scenario);
    close(locks, 0.6 * wide, 1e-9);
    assert!(passes, "it is just not locked");
    scenario.engineering.start_friction = Some(1.0);
    let (half, passes) = stays(&scenario);
    close(half, long / 2.0, 1e-9);
    assert!(!passes, "wider than half its length, with friction of one, it can't be helped");
}
