//! A drawer pulled off its middle wedges between its guides.
//!
//! Derivation. The drawer is guided between two parallel faces over an engaged length ℓ, with
//! friction μ at the sides. The resistance R of its base acts at the lateral offset c, the pull P
//! at e. Skewed by its clearance it touches at two opposite corners, with equal forces N by
//! equilibrium across. Along the pull, P = R + 2μN. About the middle the two side frictions are
//! equal and symmetric and add no moment, so that |P·e − R·c| = N·ℓ. Hence, for e ≥ c,
//! P = R(1 − 2μc/ℓ)/(1 − 2μe/ℓ), and the drawer locks whatever the pull when ℓ ≤ 2μe. For e
//! between −c and c the corners change places and the signs with them.

use crate::units::physics::{Force, Metres};

/// A drawer between its guides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guided {
    /// Length still between the guides, ℓ.
    pub engaged: Metres,
    /// Friction at the sides, μ.
    pub side_friction: f64,
    /// Where the pull acts, from the middle, e.
    pub pull_offset: Metres,
    /// Where the base resists, from the middle, c (the load's own offset).
    pub load_offset: Metres,
}

/// What it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pull {
    /// It moves at this pull.
    Moves {
        /// The pull, P.
        pull: Force,
        /// The force at either corner, N.
        corner: Force,
    },
    /// No pull moves it.
    Locks,
}

impl Guided {
    /// The pull that overcomes a base resistance R.
    pub fn pull(&self, resistance: Force) -> Pull {
        // Mirrored so that the load is on the positive side.
        let side = if self.load_offset < Metres::ZERO { -1.0 } else { 1.0 };
        let reach = 2.0 * self.side_friction / self.engaged.in_metres();
        let c = self.load_offset.in_metres() * side;
        let e = self.pull_offset.in_metres() * side;
        let (top, bottom) = if e >= c {
            (1.0 - reach * c, 1.0 - reach * e)
        } else {
            (1.0 + reach * c, 1.0 + reach * e)
        };
        // The pull cannot be less than the base's resistance; a top at or under nothing would need
        // the load so far out that it locks the drawer by itself.
        if bottom <= 0.0 || top <= 0.0 {
            return Pull::Locks;
        }
        let pull = resistance * (top / bottom);
        let corner = (pull.in_newtons() * e - resistance.in_newtons() * c).abs();
        Pull::Moves { pull, corner: Force::newtons(corner / self.engaged.in_metres()) }
    }
}

/// The engaged length at or under which a pull at offset e locks, 2μe.
pub fn locking_length(side_friction: f64, pull_offset: Metres) -> Metres {
    pull_offset.abs() * (2.0 * side_friction)
}

/// The side friction at or above which an engaged length locks, ℓ/(2e).
pub fn locking_friction(engaged: Metres, pull_offset: Metres) -> f64 {
    engaged / (pull_offset.abs() * 2.0)
}

/// Skew of a drawer within a total side clearance, and by how much one front corner of a drawer of
/// `width` then leads the other: tan φ = G/ℓ, lead = width·G/ℓ (small angles). Degrees.
pub fn skew(clearance: Metres, engaged: Metres, width: Metres) -> (f64, Metres) {
    let slope = clearance / engaged;
    (libm::atan(slope).to_degrees(), width * slope)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    fn drawer(engaged: f64, pull: f64, load: f64) -> Guided {
        Guided {
            engaged: Metres::of(engaged),
            side_friction: 0.3,
            pull_offset: Metres::of(pull),
            load_offset: Metres::of(load),
        }
    }

    fn moves(drawer: Guided) -> (f64, f64) {
        match drawer.pull(Force::newtons(100.0)) {
            Pull::Moves { pull, corner } => (pull.in_newtons(), corner.in_newtons()),
            Pull::Locks => panic!("{drawer:?} locks"),
        }
    }

    // Derived above; confirmed by solving the three equilibrium equations.
    #[test]
    fn a_pull_off_the_middle() {
        let (pull, corner) = moves(drawer(0.5, 0.3, 0.0));
        close(pull, 156.25, 1e-9);
        close(corner, 93.75, 1e-9);
    }

    // Derived: a load on the side that is pulled helps; pulled where the load is, nothing wedges.
    #[test]
    fn a_load_on_the_pulled_side() {
        close(moves(drawer(0.5, 0.3, 0.1)).0, 137.5, 1e-9);
        let (pull, corner) = moves(drawer(0.5, 0.1, 0.1));
        close(pull, 100.0, 1e-9);
        assert!(corner.abs() < 1e-12);
    }

    // Derived: every answer satisfies P = R + 2μN, and mirroring changes nothing.
    #[test]
    fn equilibrium_holds_for_every_offset() {
        for e in -5..=5 {
            for c in -5..=5 {
                let (pull_at, load_at) = (f64::from(e) / 10.0, f64::from(c) / 10.0);
                let guided = drawer(0.9, pull_at, load_at);
                let (pull, corner) = moves(guided);
                close(pull, 100.0 + 2.0 * 0.3 * corner, 1e-9);
                close(corner * 0.9, (pull * pull_at - 100.0 * load_at).abs(), 1e-9);
                let (mirrored, _) = moves(drawer(0.9, -pull_at, -load_at));
                close(mirrored, pull, 1e-12);
            }
        }
    }

    // Derived: ℓ ≤ 2μe locks.
    #[test]
    fn too_short_a_guide_locks() {
        let offset = Metres::of(0.3);
        close(locking_length(0.3, offset).in_metres(), 0.18, 1e-9);
        close(locking_friction(Metres::of(0.4), offset), 0.666_7, 1e-4);
        close(locking_friction(Metres::of(0.4), offset), 2.0 / 3.0, 1e-9);
        assert_eq!(drawer(0.18, 0.3, 0.0).pull(Force::newtons(1.0)), Pull::Locks);
        assert!(matches!(drawer(0.19, 0.3, 0.0).pull(Force::newtons(1.0)), Pull::Moves { .. }));
    }

    // Derived: small-angle geometry.
    #[test]
    fn clearance_lets_a_drawer_skew() {
        let (degrees, lead) =
            skew(Metres::millimetres(3.0), Metres::millimetres(900.0), Metres::millimetres(600.0));
        close(degrees, 0.191, 1e-3);
        close(lead.in_millimetres(), 2.0, 1e-3);
    }
}
