//! Fronts of built drawers, pulled hard.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::full_size;

// Relations: corner blocks add to the corners, end grain adds nothing in withdrawal, and a jerk is the most pull times shock.
#[test]
fn blocks_hold_what_end_grain_does_not() {
    let mut scenario = full_size();
    let pulled = |scenario: &crate::scenario::Scenario| {
        let checks = chest(scenario, &[2], Runs::Strip, &[]).checks(scenario);
        starting(&checks, "front of").clone()
    };
    let with = pulled(&scenario);
    close(with.value, 196.0 * scenario.engineering.road_shock, 1e-12);
    assert!(from(&with).contains("end grain counts for nothing in withdrawal"));
    assert!(said(&with).contains("corner blocks take"), "{with:?}");
    scenario.choices.corner_blocks = None;
    let without = pulled(&scenario);
    assert!(without.limit <= with.limit && !said(&without).contains("corner blocks"));
}
