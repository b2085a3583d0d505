//! Section properties of a rectangular board and of an equal angle.

use crate::units::physics::{Metres, SecondMoment, SectionModulus, SquareMetres};

/// A rectangular section, seen along the beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Across the load.
    pub width: Metres,
    /// In the direction of the load.
    pub depth: Metres,
}

impl Rectangle {
    /// Cross-sectional area, b·h.
    pub fn area(self) -> SquareMetres {
        self.width * self.depth
    }

    /// Second moment of area about the bending axis, b·h³/12 (textbook).
    pub fn second_moment(self) -> SecondMoment {
        let (b, h) = (self.width.in_metres(), self.depth.in_metres());
        SecondMoment::metres_to_fourth(b * h * h * h / 12.0)
    }

    /// Elastic section modulus, b·h²/6 (textbook).
    pub fn section_modulus(self) -> SectionModulus {
        let (b, h) = (self.width.in_metres(), self.depth.in_metres());
        SectionModulus::cubic_metres(b * h * h / 6.0)
    }

    /// The same board turned on its other face.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { width: self.depth, depth: self.width }
    }
}

/// An equal angle, bent about an axis along one of its legs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Angle {
    /// Either leg, outside.
    pub leg: Metres,
    /// Of either leg. Less than the leg.
    pub thickness: Metres,
}

impl Angle {
    /// Second moment of area about its centroid, and from there to the far fibre: two rectangles, roundings left out (derived).
    fn about_centroid(self) -> (f64, f64) {
        let (b, t) = (self.leg.in_metres(), self.thickness.in_metres());
        let (flat, upright) = (b * t, (b - t) * t);
        let (low, high) = (t / 2.0, t + (b - t) / 2.0);
        let centre = (flat * low + upright * high) / (flat + upright);
        let own = b * t * t * t / 12.0 + t * (b - t) * (b - t) * (b - t) / 12.0;
        let moved =
            flat * (centre - low) * (centre - low) + upright * (high - centre) * (high - centre);
        (own + moved, b - centre)
    }

    /// Second moment of area.
    pub fn second_moment(self) -> SecondMoment {
        SecondMoment::metres_to_fourth(self.about_centroid().0)
    }

    /// Elastic section modulus at the upright leg's tip.
    pub fn section_modulus(self) -> SectionModulus {
        let (second, far) = self.about_centroid();
        SectionModulus::cubic_metres(second / far)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::{close, near};

    // AISC Manual, L1 x 1 x 1/8 (from memory): I 0.022 in⁴, S 0.031 in³; roundings make up the difference.
    #[test]
    fn a_small_angle_has_the_tabulated_properties() {
        let angle = Angle { leg: Metres::inches(1.0), thickness: Metres::inches(0.125) };
        close(angle.second_moment().in_inches_to_fourth(), 0.022, 0.03);
        close(angle.section_modulus().in_cubic_inches(), 0.031, 0.03);
    }

    fn two_by_ten_on_edge() -> Rectangle {
        Rectangle { width: Metres::inches(1.5), depth: Metres::inches(9.25) }
    }

    // NDS Supplement 2018, Table 1B, section properties of dressed lumber (seen quoted); the
    // values also follow from the formulas.
    #[test]
    fn two_by_ten_on_edge_has_the_tabulated_properties() {
        let board = two_by_ten_on_edge();
        close(board.width.in_millimetres(), 38.10, 1e-5);
        close(board.depth.in_millimetres(), 234.95, 1e-5);
        close(board.area().in_square_inches(), 13.875, 1e-5);
        close(board.second_moment().in_inches_to_fourth(), 98.9316, 1e-5);
        close(board.section_modulus().in_cubic_inches(), 21.3906, 1e-5);
    }

    // As above, about the weak axis.
    #[test]
    fn two_by_ten_flat_has_the_tabulated_properties() {
        let board = two_by_ten_on_edge().turned();
        close(board.second_moment().in_inches_to_fourth(), 9.25 * 3.375 / 12.0, 1e-12);
        // As printed, to half of its last digit.
        near(board.second_moment().in_inches_to_fourth(), 2.6016, 5e-5);
        close(board.section_modulus().in_cubic_inches(), 3.46875, 1e-5);
    }

    // NDS Supplement 2018, Table 1B (seen quoted): nominal size, A in², S in³, I in⁴ on edge.
    #[test]
    fn all_dressed_sizes_have_the_tabulated_properties() {
        let rows = [
            (0.75, 3.5, 2.625, 1.5312, 2.6797),
            (0.75, 5.5, 4.125, 3.7812, 10.3984),
            (0.75, 7.25, 5.4375, 6.5703, 23.8174),
            (0.75, 9.25, 6.9375, 10.6953, 49.4658),
            (0.75, 11.25, 8.4375, 15.8203, 88.9893),
            (1.5, 3.5, 5.25, 3.0625, 5.3594),
            (1.5, 5.5, 8.25, 7.5625, 20.7969),
            (1.5, 7.25, 10.875, 13.1406, 47.6348),
            (1.5, 9.25, 13.875, 21.3906, 98.9316),
            (1.5, 11.25, 16.875, 31.6406, 177.9785),
            (3.5, 3.5, 12.25, 7.1458, 12.5052),
        ];
        for (thickness, width, area, modulus, moment) in rows {
            let board =
                Rectangle { width: Metres::inches(thickness), depth: Metres::inches(width) };
            close(board.area().in_square_inches(), area, 1e-9);
            close(board.section_modulus().in_cubic_inches(), modulus, 4e-5);
            close(board.second_moment().in_inches_to_fourth(), moment, 4e-5);
        }
    }
}
