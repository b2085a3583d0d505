//! The load up to which a rated deck will do.

use super::lumber::Duration;
use super::panel::{Axis, Plies, SpanRating, deflection_span, plywood, twisting};
use super::plate::Plate;
use super::{creep, density};
use crate::units::physics::{AreaLoad, Kilograms, Metres, PlateStiffness};

/// A panel as the yard sells it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    /// As shops call it.
    pub name: &'static str,
    /// Actual thickness in 32nds of an inch.
    pub thickness: u32,
    /// The rating that usually goes with it (APA PDS table 5, from memory).
    pub rating: SpanRating,
    /// Plies (assumption: the fewest that are usual).
    pub plies: Plies,
}

/// Half, five-eighths and three-quarter inch sheathing.
pub const GRADES: [Grade; 3] = [
    Grade { name: "1/2", thickness: 15, rating: SpanRating::R32x16, plies: Plies::Four },
    Grade { name: "5/8", thickness: 19, rating: SpanRating::R40x20, plies: Plies::Five },
    Grade { name: "3/4", thickness: 23, rating: SpanRating::R48x24, plies: Plies::Five },
];

/// What limits a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitedBy {
    /// Sag in sight.
    Sag,
    /// Strength under road shock.
    Bending,
}

/// The most that may be spread over a deck on one span between members `centres` apart and `member` thick, and what limits
/// it: the deck's own checks solved for the load. Sag: f·(δ(load) + K_cr·δ(own)) = span/`sag_share`; bending: f·(`shock`·load +
/// own)·l²/8 = F_b·S·C_D; f is what a plate `length` long does more than a strip ([`Plate::over_strip`]).
pub fn most_load(
    grade: &Grade,
    axis: Axis,
    (centres, member, length): (Metres, Metres, Metres),
    shock: f64,
    sag_share: f64,
) -> (AreaLoad, LimitedBy) {
    let capacity = plywood(grade.rating, grade.plies, axis);
    let thick = Metres::inches(f64::from(grade.thickness) / 32.0);
    let own = Kilograms::of(density::softwood_plywood(thick).in_kilograms_per_square_metre());
    let own = own.weight().in_newtons();
    let span = deflection_span(centres - member);
    let plate = Plate {
        a: span,
        b: length,
        stiffness_x: capacity.stiffness,
        stiffness_y: plywood(grade.rating, grade.plies, axis.other()).stiffness,
        twist: twisting(thick),
        coupling: PlateStiffness::ZERO,
    };
    let [sags, bends] = plate.over_strip();
    let (l, c) = (span.in_metres(), centres.in_metres());
    let per_pascal = 5.0 * l * l * l * l / (384.0 * capacity.stiffness.in_newton_metres());
    let sag = c / sag_share / per_pascal / sags - creep::BED * own;
    let strength = capacity.bending.map_or(0.0, |moment| moment.in_newtons());
    let bending = (strength * Duration::TenMinutes.factor() * 8.0 / (c * c) / bends - own) / shock;
    let (load, by) =
        if sag < bending { (sag, LimitedBy::Sag) } else { (bending, LimitedBy::Bending) };
    (AreaLoad::pascals(load.max(0.0)), by)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn load(grade: usize, axis: Axis, centres: f64) -> f64 {
        let sizes = (Metres::inches(centres), Metres::inches(1.5), Metres::inches(72.0));
        most_load(&GRADES[grade], axis, sizes, 2.0, 240.0).0.in_psf()
    }

    // Relations: thicker, closer, along the grain never carries less; the change from half inch to three quarters is where
    // the README says.
    #[test]
    fn the_load_at_which_a_thicker_deck_is_needed() {
        for centres in [12.0, 16.0, 20.0, 24.0, 30.0] {
            for axis in [Axis::Along, Axis::Across] {
                assert!(load(0, axis, centres) < load(1, axis, centres));
                assert!(load(1, axis, centres) < load(2, axis, centres));
                assert!(load(2, axis, centres + 2.0) < load(2, axis, centres));
            }
            assert!(load(0, Axis::Across, centres) < load(0, Axis::Along, centres));
        }
        let readme = include_str!("../../README.md");
        for centres in [12.0, 16.0, 20.0, 24.0] {
            let [half, five, three] = [0, 1, 2].map(|grade| load(grade, Axis::Across, centres));
            let row = format!("| {centres} in | {half:.0} | {five:.0} | {three:.0} |");
            assert!(readme.contains(&row), "the README should hold {row}");
        }
    }
}
