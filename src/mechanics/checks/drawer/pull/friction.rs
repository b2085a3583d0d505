//! Coefficients of friction.
//!
//! Low friction is wanted under drawers and not under the chest: take the high end for the pull of
//! a drawer and the low end for holding the chest down.

use crate::mechanics::Standing;

/// A pair of surfaces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// At the start.
    pub start: f64,
    /// While sliding.
    pub sliding: f64,
    /// How the values are known.
    pub standing: Standing,
    /// Where from, for the report.
    pub source: &'static str,
}

/// Share of the static coefficient that is left in motion (CTU Code, appendix 2).
pub const SLIDING_SHARE: f64 = 0.75;

/// UHMW-PE strip under a waxed or coated panel. No published value for the pair was found: on
/// polished steel suppliers give 0.15 to 0.20 at the start (ASTM D1894), and the CTU Code gives
/// plastic on plywood 0.20.
pub const PLASTIC_STRIP: Friction = Friction {
    start: 0.20,
    sliding: 0.15,
    standing: Standing::Assumption,
    source: "assumption: plastic on coated plywood, like CTU Code app. 2, plastic on plywood",
};

/// Waxed hardwood runners on wood (textbook value, from memory).
pub const WAXED_WOOD: Friction = Friction {
    start: 0.20,
    sliding: 0.15,
    standing: Standing::FromMemory,
    source: "waxed wood on wood, textbook value from memory",
};

/// Ball-bearing slides roll: makers print a rating, not a coefficient.
pub const BALL_BEARINGS: Friction = Friction {
    start: 0.03,
    sliding: 0.02,
    standing: Standing::Assumption,
    source: "assumption: ball-bearing slides",
};

#[cfg(test)]
mod tests {
    use super::*;

    // CTU Code, appendix 2: the dynamic coefficient is 75 % of the static one.
    #[test]
    fn nothing_slides_harder_than_it_starts() {
        let all = [PLASTIC_STRIP, WAXED_WOOD, BALL_BEARINGS];
        for pair in all {
            assert!(0.0 < pair.sliding && pair.sliding < pair.start, "{}", pair.source);
            assert_ne!(pair.standing, Standing::Published, "none of these pairs was found");
        }
        for wood in [PLASTIC_STRIP, WAXED_WOOD] {
            assert!((wood.sliding / wood.start - SLIDING_SHARE).abs() < 1e-12, "{}", wood.source);
        }
    }
}
