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

/// The same strip, dusty.
pub const PLASTIC_STRIP_DUSTY: Friction = Friction {
    start: 0.30,
    sliding: 0.225,
    standing: Standing::Assumption,
    source: "assumption: plastic on dusty plywood",
};

/// Waxed hardwood runners on wood (textbook value, from memory).
pub const WAXED_WOOD: Friction = Friction {
    start: 0.20,
    sliding: 0.15,
    standing: Standing::FromMemory,
    source: "waxed wood on wood, textbook value from memory",
};

/// Planed wood on plywood (CTU Code, appendix 2).
pub const PLANED_WOOD_ON_PLYWOOD: Friction = Friction {
    start: 0.30,
    sliding: 0.30 * SLIDING_SHARE,
    standing: Standing::Published,
    source: "CTU Code app. 2, planed wood on plywood",
};

/// Sawn wood on plywood (CTU Code, appendix 2).
pub const SAWN_WOOD_ON_PLYWOOD: Friction = Friction {
    start: 0.45,
    sliding: 0.45 * SLIDING_SHARE,
    standing: Standing::Published,
    source: "CTU Code app. 2, sawn wood on plywood",
};

/// Planed wood on stainless steel (CTU Code, appendix 2), the low end for a chest on a bed floor.
pub const PLANED_WOOD_ON_STEEL: Friction = Friction {
    start: 0.20,
    sliding: 0.20 * SLIDING_SHARE,
    standing: Standing::Published,
    source: "CTU Code app. 2, planed wood on steel",
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
        let all = [
            PLASTIC_STRIP,
            PLASTIC_STRIP_DUSTY,
            WAXED_WOOD,
            PLANED_WOOD_ON_PLYWOOD,
            SAWN_WOOD_ON_PLYWOOD,
            PLANED_WOOD_ON_STEEL,
            BALL_BEARINGS,
        ];
        for pair in all {
            assert!(0.0 < pair.sliding && pair.sliding < pair.start, "{}", pair.source);
            if pair.standing == Standing::Published {
                assert!((pair.sliding / pair.start - 0.75).abs() < 1e-12);
            }
        }
    }
}
