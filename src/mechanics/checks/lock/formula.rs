//! Rods that a turning plate throws into the members.
//!
//! The plate turns by θ from the rod's line; the rod is pinned to it at radius r. All formulas are
//! plane geometry, derived; angles are in degrees. Two rods at opposite pins move equally and
//! oppositely.

use crate::units::physics::{Force, Metres, Moment, SectionModulus, SquareMetres, Stress};
use std::f64::consts::PI;

/// A rod whose far end runs in a straight slide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlidingRod {
    /// Pin's radius on the plate, r.
    pub radius: Metres,
    /// Rod's length from pin to slide, ℓ, more than r + |h|.
    pub length: Metres,
    /// How far the slide's line passes beside the pivot, h.
    pub offset: Metres,
}

impl SlidingRod {
    /// How far the sliding end stands from the pivot: r·cos θ + √(ℓ² − (r·sin θ − h)²).
    pub fn reach(&self, degrees: f64) -> Metres {
        let (r, l) = (self.radius.in_metres(), self.length.in_metres());
        let across = self.across(degrees);
        let along = (l * l - across * across).max(0.0).sqrt();
        Metres::of(r * libm::cos(degrees.to_radians()) + along)
    }

    /// How far the rod moves out when the plate turns between two angles.
    pub fn throw(&self, from_degrees: f64, to_degrees: f64) -> Metres {
        self.reach(to_degrees) - self.reach(from_degrees)
    }

    /// The rod's tilt, asin((r·sin θ − h)/ℓ).
    pub fn tilt(&self, degrees: f64) -> f64 {
        libm::asin(self.across(degrees) / self.length.in_metres()).to_degrees()
    }

    fn across(&self, degrees: f64) -> f64 {
        self.radius.in_metres() * libm::sin(degrees.to_radians()) - self.offset.in_metres()
    }
}

/// A straight rod through a fixed hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodThroughHole {
    /// Pin's radius on the plate, r.
    pub radius: Metres,
    /// Hole's distance from the pivot, X, more than r.
    pub hole: Metres,
    /// Rod's length, ℓ.
    pub length: Metres,
}

impl RodThroughHole {
    /// How far the rod's tip stands beyond the hole (negative: short of it).
    pub fn projection(&self, degrees: f64) -> Metres {
        let (along, across) = self.pin_to_hole(degrees);
        self.length - Metres::of((along * along + across * across).sqrt())
    }

    /// The rod's tilt there, atan2(r·sin θ, X − r·cos θ).
    pub fn tilt(&self, degrees: f64) -> f64 {
        let (along, across) = self.pin_to_hole(degrees);
        libm::atan2(across, along).to_degrees()
    }

    /// The greatest tilt, asin(r/X), and the angle at which it occurs, acos(r/X).
    pub fn greatest_tilt(&self) -> (f64, f64) {
        let share = self.radius / self.hole;
        (libm::asin(share).to_degrees(), libm::acos(share).to_degrees())
    }

    fn pin_to_hole(&self, degrees: f64) -> (f64, f64) {
        let (r, turn) = (self.radius.in_metres(), degrees.to_radians());
        (self.hole.in_metres() - r * libm::cos(turn), r * libm::sin(turn))
    }
}

/// Height of the slot that lets a rod tilt one way through a wall: t·tan φ + d/cos φ, before
/// clearance.
pub fn slot_height(rod: Metres, wall: Metres, tilt_degrees: f64) -> Metres {
    let tilt = tilt_degrees.to_radians();
    wall * libm::tan(tilt) + rod / libm::cos(tilt)
}

/// How far a rod should enter its member: 12 mm or twice its diameter, whichever is more
/// (assumption).
pub fn engagement_wanted(rod: Metres) -> Metres {
    Metres::millimetres(12.0).max(rod * 2.0)
}

/// A round rod's section.
pub fn area(diameter: Metres) -> SquareMetres {
    diameter * diameter * (PI / 4.0)
}

/// The force that yields a round rod in pure shear, A·F_y/√3 (distortion energy, textbook).
pub fn shear_yield(diameter: Metres, yield_stress: Stress) -> Force {
    yield_stress * area(diameter) / 3.0_f64.sqrt()
}

/// The force that yields it in bending across a gap: F_y·π·d³/32 over the arm.
pub fn bending_yield(diameter: Metres, yield_stress: Stress, arm: Metres) -> Force {
    let d = diameter.in_metres();
    let modulus = SectionModulus::cubic_metres(PI * d * d * d / 32.0);
    let moment: Moment = yield_stress * modulus;
    moment / arm
}

/// Yield stress of A36 steel, 36 ksi (quoted).
pub const MILD_STEEL_YIELD: Stress = Stress::megapascals(250.0);

/// Of the yield stress, what is allowed in bending and shear of plain steel (textbook, from memory).
pub const STEEL_SHARE: f64 = 0.6;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::{close, near};

    fn mm(number: f64) -> Metres {
        Metres::millimetres(number)
    }

    // Derived geometry; a second calculation agrees.
    #[test]
    fn throw_of_a_sliding_rod() {
        let rod = SlidingRod { radius: mm(38.1), length: mm(300.0), offset: mm(0.0) };
        close(rod.throw(90.0, 0.0).in_millimetres(), 40.529, 1e-4);
        close(rod.throw(60.0, 0.0).in_millimetres(), 20.870, 1e-4);
        let beside = SlidingRod { offset: mm(10.0), ..rod };
        close(beside.throw(90.0, 0.0).in_millimetres(), 39.252, 1e-4);
        near(rod.tilt(0.0), 0.0, 1e-12);
        close(rod.tilt(90.0), libm::asin(38.1 / 300.0).to_degrees(), 1e-12);
    }

    fn through_hole() -> RodThroughHole {
        RodThroughHole { radius: mm(38.1), hole: mm(300.0), length: mm(320.0) }
    }

    // Derived geometry; a second calculation agrees.
    #[test]
    fn projection_and_tilt_through_a_hole() {
        let rod = through_hole();
        for (turn, out, tilt) in [(0.0, 58.10, 0.0), (45.0, 45.615, 5.635), (90.0, 17.590, 7.238)] {
            close(rod.projection(turn).in_millimetres(), out, 1e-3);
            near(rod.tilt(turn), tilt, 1e-3 * tilt + 1e-12);
        }
    }

    // Derived; a search over a grid of angles finds the same.
    #[test]
    fn the_greatest_tilt() {
        let (tilt, turn) = through_hole().greatest_tilt();
        close(tilt, 7.2963, 1e-4);
        close(turn, 82.704, 1e-4);
        for degrees in 0..=180 {
            assert!(through_hole().tilt(f64::from(degrees)) <= tilt + 1e-12);
        }
        close(through_hole().tilt(turn), tilt, 1e-9);
    }

    // Derived geometry.
    #[test]
    fn the_slot_for_a_tilting_rod() {
        close(slot_height(mm(6.35), mm(19.05), 7.2963).in_millimetres(), 8.841, 1e-3);
        close(slot_height(mm(6.35), mm(19.05), 0.0).in_millimetres(), 6.35, 1e-12);
        close(engagement_wanted(mm(6.35)).in_millimetres(), 12.7, 1e-9);
    }

    // Textbook strength of materials, A36's yield stress (quoted).
    #[test]
    fn strength_of_a_quarter_inch_rod() {
        let rod = mm(6.35);
        close(area(rod).in_square_millimetres(), 31.669, 1e-3);
        close(shear_yield(rod, MILD_STEEL_YIELD).in_newtons(), 4571.0, 1e-3);
        close(bending_yield(rod, MILD_STEEL_YIELD, mm(10.0)).in_newtons(), 628.4, 1e-3);
    }
}
