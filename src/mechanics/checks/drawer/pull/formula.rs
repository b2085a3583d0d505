//! The pull that moves a drawer, and what a person can be asked to pull.

use crate::units::physics::{Force, Kilograms};

/// Comfortable up to here: near the 110 N that the Canadian occupational health centre lists for
/// an extended arm (from memory). Assumption.
pub const COMFORTABLE: Force = Force::newtons(110.0);
/// Hard up to here: 15 kg-force, the guideline for women starting a load (HSE RR228, for L23).
pub const HARD: Force = Force::newtons(147.1);
/// Nobody should be asked for more: 20 kg-force, the same guideline for men.
pub const MOST: Force = Force::newtons(196.0);
/// To keep a load moving: 10 kg-force, the same guideline for men (from memory).
pub const KEEP_MOVING: Force = Force::newtons(98.1);

/// The pull along a slope (degrees, positive when the drawer opens uphill):
/// m·g·(μ·cos θ + sin θ). Negative when it runs away by itself.
pub fn force(mass: Kilograms, friction: f64, slope_degrees: f64) -> Force {
    let slope = slope_degrees.to_radians();
    mass.weight() * (friction * libm::cos(slope) + libm::sin(slope))
}

/// The slope in degrees beyond which a drawer opens by itself, atan μ.
pub fn runaway_slope(start_friction: f64) -> f64 {
    libm::atan(start_friction).to_degrees()
}

/// The heaviest drawer that `limit` starts on the level.
pub fn heaviest(limit: Force, friction: f64) -> Kilograms {
    (limit / friction).mass_lifted()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    // Derived: a block on an incline.
    #[test]
    fn a_loaded_drawer_on_the_level_and_on_slopes() {
        let mass = Kilograms::of(60.0);
        close(force(mass, 0.15, 0.0).in_newtons(), 88.26, 1e-3);
        close(force(mass, 0.15, 4.0).in_newtons(), 129.09, 1e-3);
        close(force(mass, 0.15, -4.0).in_newtons(), 47.00, 1e-3);
        close(runaway_slope(0.15), 8.53, 1e-3);
        let at_rest = force(mass, 0.15, -runaway_slope(0.15)).in_newtons();
        assert!(at_rest.abs() < 1e-9);
    }

    // HSE RR228's guideline for starting a load, over an assumed coefficient.
    #[test]
    fn the_heaviest_drawer_one_can_start() {
        close(heaviest(HARD, 0.20).in_kilograms(), 75.0, 1e-3);
        assert!(KEEP_MOVING < COMFORTABLE && COMFORTABLE < HARD && HARD < MOST);
    }
}
