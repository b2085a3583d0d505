//! Pull on the level and on slopes.

use super::formula::{HARD, force, heaviest, runaway_slope};
use crate::mechanics::Standing::{Assumption, Derived, Published};
use crate::mechanics::handbook::Group;
use crate::units::physics::Kilograms;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("pull");
    let at = |slope| force(Kilograms::of(60.0), 0.15, slope).in_newtons();
    of.case(
        40,
        Derived,
        "m·g·(μ·cos θ + sin θ)",
        1e-3,
        &[(at(0.0), 88.26), (at(4.0), 129.09), (at(-4.0), 47.00)],
    );
    let most = heaviest(HARD, 0.20).in_kilograms();
    of.case(41, Assumption, "HSE RR228's 15 kg-force over μ 0.20", 1e-3, &[(most, 75.0)]);
    // A crate on a plane at 35° slides with μ 0.65, as a board tilted to measure friction would show.
    let crate_on_plane = "a crate at 35°, μ 0.65 (brainmass.com)";
    of.holds(71, Published, crate_on_plane, runaway_slope(0.65) < 35.0);
    of
}
