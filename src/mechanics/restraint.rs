//! Holding the chest in place.
//!
//! 49 CFR 393.102 and 393.106 are written for commercial vehicles and serve here as a design
//! basis. Crash loads are an order of magnitude higher and outside of this.

use crate::units::physics::{Force, Kilograms};

/// A direction in which the load would move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Under braking.
    Forward,
    /// Under acceleration.
    Rearward,
    /// In a bend.
    Sideways,
}

impl Direction {
    /// Deceleration in g that the breaking strength of the securement must withstand (49 CFR
    /// 393.102(a)).
    pub const fn breaking(self) -> f64 {
        match self {
            Self::Forward => 0.8,
            Self::Rearward | Self::Sideways => 0.5,
        }
    }

    /// Deceleration in g within the working load limit (49 CFR 393.102(b)).
    pub const fn working(self) -> f64 {
        match self {
            Self::Forward => 0.435,
            Self::Rearward => 0.5,
            Self::Sideways => 0.25,
        }
    }
}

/// Downward force wanted where the body does not contain the load: 20 % of its weight (49 CFR
/// 393.102(c)).
pub const DOWNWARD_SHARE: f64 = 0.2;

/// Safety on forces that hold forward, and in other directions (EN 12195-1, from memory).
pub const EN_SAFETY_FORWARD: f64 = 1.25;
/// The same in other directions.
pub const EN_SAFETY_OTHER: f64 = 1.1;

/// What fastenings must hold against `acceleration` in g after friction (0 is the safe default):
/// (c − μ)·m·g, never less than nothing.
pub fn needed(mass: Kilograms, acceleration: f64, friction: f64) -> Force {
    mass.weight() * (acceleration - friction).max(0.0)
}

/// How a tiedown runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tiedown {
    /// From the vehicle to the cargo: counts half its working load limit.
    ToCargo,
    /// From the vehicle over the cargo to its other side: counts whole.
    OverCargo,
}

/// Sum of the working load limits that count (49 CFR 393.106(d), as summaries give it).
pub fn counted_limit(tiedowns: &[(Tiedown, Kilograms)]) -> Kilograms {
    tiedowns
        .iter()
        .map(|&(run, limit)| match run {
            Tiedown::ToCargo => limit * 0.5,
            Tiedown::OverCargo => limit,
        })
        .sum()
}

/// What that sum must reach: half the cargo's mass (same section).
pub fn limit_wanted(cargo: Kilograms) -> Kilograms {
    cargo * 0.5
}

/// Tension of each of `straps` over the top, at `angle_degrees` from the floor (EN 12195-1, from
/// memory): F_T = (c_x − μ·c_z)·m·g·f_s/(2·n·μ·sin α), with f_s 1.25 forward and 1.1 otherwise.
pub fn over_top_tension(
    mass: Kilograms,
    horizontal: f64,
    vertical: f64,
    friction: f64,
    straps: u32,
    angle_degrees: f64,
    safety: f64,
) -> Force {
    let grip = 2.0 * f64::from(straps) * friction * libm::sin(angle_degrees.to_radians());
    mass.weight() * ((horizontal - friction * vertical).max(0.0) * safety / grip)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    const MASS: Kilograms = Kilograms::of(300.0);

    // 49 CFR 393.102 (read).
    #[test]
    fn fastenings_of_a_chest_of_300_kg() {
        let forward = Direction::Forward.breaking();
        close(needed(MASS, forward, 0.0).in_newtons(), 2353.6, 1e-3);
        close(needed(MASS, forward, 0.3).in_newtons(), 1471.0, 1e-3);
        close(needed(MASS, Direction::Sideways.breaking(), 0.3).in_newtons(), 588.4, 1e-3);
        close(needed(MASS, Direction::Forward.working(), 0.0).in_newtons(), 1279.8, 1e-3);
        close((MASS.weight() * DOWNWARD_SHARE).in_newtons(), 588.4, 1e-3);
        assert_eq!(needed(MASS, 0.25, 0.3), Force::ZERO);
        assert_eq!(Direction::Rearward.working(), Direction::Rearward.breaking());
    }

    // 49 CFR 393.106(d), as a driver handbook summarises it.
    #[test]
    fn four_short_tiedowns_are_not_enough() {
        close(limit_wanted(MASS).in_kilograms(), 150.0, 1e-3);
        let limit = Kilograms::of(50.0);
        let direct = counted_limit(&[(Tiedown::ToCargo, limit); 4]);
        close(direct.in_kilograms(), 100.0, 1e-9);
        assert!(direct < limit_wanted(MASS));
        let over = counted_limit(&[(Tiedown::OverCargo, limit); 4]);
        assert!(over > limit_wanted(MASS));
    }

    // EN 12195-1 (formula from memory).
    #[test]
    fn straps_over_the_top() {
        let tension = over_top_tension(MASS, 0.8, 1.0, 0.45, 2, 60.0, 1.25);
        close(tension.in_newtons(), 825.7, 1e-3);
    }
}
