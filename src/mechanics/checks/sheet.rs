//! What a sheet material of the scenario can carry, from what is said of it.

use super::Figure;
use crate::design::Remark;
use crate::mechanics::lumber::Duration;
use crate::mechanics::panel::{
    self, Axis, Capacity, Plies, SpanRating, WORKING_MODULUS_ACROSS, WORKING_MODULUS_ALONG,
    twisting,
};
use crate::mechanics::plate::{Plate, Response};
use crate::scenario::{Material, Stiffness};
use crate::units::physics::{Metres, PlateStiffness, Stress};

/// Capacities both ways, and how they are known.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sheet {
    pub(super) along: Capacity,
    pub(super) across: Capacity,
    pub(super) source: &'static str,
    pub(super) remark: Remark,
}

/// Denser than this, a panel is taken for many-ply hardwood (birch 700 ± 50 kg/m³, softwood 460 to
/// 580).
const HARDWOOD_DENSITY: f64 = 620.0;
/// Stiffness across the grain over that along it, of many thin plies. Assumption: thirteen equal
/// plies whose wood is a twentieth as stiff across come to 0.66.
const MANY_PLY_SHARE: f64 = 0.6;
/// The same of five to seven plies. Assumption: five equal plies come to 0.31, rated five-ply
/// panels to 0.2.
const FEW_PLY_SHARE: f64 = 0.25;

impl Sheet {
    pub(super) fn of(material: &Material) -> Self {
        let thickness = Metres::from(material.thickness);
        match &material.stiffness {
            Stiffness::SpanRating(text) => match SpanRating::parse(text) {
                Some(rating) => Self::rated(rating, thickness),
                None => Self::unknown(material, thickness),
            },
            Stiffness::Modulus(pascals) => Self::known(material, Stress::pascals(*pascals)),
            Stiffness::Grade(_) | Stiffness::Unknown => Self::unknown(material, thickness),
        }
    }

    pub(super) fn capacity(&self, axis: Axis) -> Capacity {
        match axis {
            Axis::Along => self.along,
            Axis::Across => self.across,
        }
    }

    /// A plate of it, `axis` along x and the other along y, on four edges.
    pub(super) fn plate(&self, axis: Axis, a: Metres, b: Metres, material: &Material) -> Plate {
        Plate {
            a,
            b,
            stiffness_x: self.capacity(axis).stiffness,
            stiffness_y: self.capacity(axis.other()).stiffness,
            twist: twisting(material.thickness.into()),
            coupling: PlateStiffness::ZERO,
        }
    }

    /// The plate's moments, times a factor, against the strength for ten minutes: the worse way, if
    /// the strengths are known.
    pub(super) fn bending(&self, axis: Axis, bent: &Response, factor: f64) -> Option<Figure> {
        let x = (self.capacity(axis).bending?, bent.moment_x);
        let y = (self.capacity(axis.other()).bending?, bent.moment_y);
        let (strength, moment) = if x.1 / x.0 >= y.1 / y.0 { x } else { y };
        let limit = strength * Duration::TenMinutes.factor();
        Some(Figure::at_most((moment * factor).in_newtons(), limit.in_newtons(), "N·m/m"))
    }

    fn rated(rating: SpanRating, thickness: Metres) -> Self {
        let plies = plies_of(thickness);
        let count = match plies {
            Plies::Three => "three",
            Plies::Four => "four",
            Plies::Five => "five",
        };
        Self {
            along: panel::plywood(rating, plies, Axis::Along),
            across: panel::plywood(rating, plies, Axis::Across),
            source: "AWC ASD/LRFD Manual table M9.2-1",
            remark: remark!(format!("{} plywood, {count} plies (assumption)", rating.label())),
        }
    }

    fn known(material: &Material, modulus: Stress) -> Self {
        let thickness = Metres::from(material.thickness);
        let share =
            if material.density > HARDWOOD_DENSITY { MANY_PLY_SHARE } else { FEW_PLY_SHARE };
        Self {
            along: panel::unrated(modulus, thickness),
            across: panel::unrated(modulus * share, thickness),
            source: "E·t³/12, modulus as given",
            remark: remark!(format!("{share} of the modulus across the grain (assumption)")),
        }
    }

    fn unknown(material: &Material, thickness: Metres) -> Self {
        if material.density > HARDWOOD_DENSITY {
            let mut sheet = Self::known(material, WORKING_MODULUS_ALONG);
            sheet.source = "E·t³/12, working modulus (assumption)";
            sheet.remark = remark!(
                "not rated: ",
                WORKING_MODULUS_ALONG,
                format!(", {MANY_PLY_SHARE} of it across (assumption)"),
            );
            return sheet;
        }
        Self {
            along: panel::unrated(WORKING_MODULUS_ALONG, thickness),
            across: panel::unrated(WORKING_MODULUS_ACROSS, thickness),
            source: "E·t³/12, working modulus (assumption)",
            remark: remark!(
                "not rated: ",
                WORKING_MODULUS_ALONG,
                " along and ",
                WORKING_MODULUS_ACROSS,
                " across the grain (assumption)",
            ),
        }
    }
}

/// How many plies a rated panel of that thickness is taken to have (assumption: the fewest that
/// are usual).
fn plies_of(thickness: Metres) -> Plies {
    match thickness.in_millimetres() {
        t if t < 11.0 => Plies::Three,
        t if t < 15.0 => Plies::Four,
        _ => Plies::Five,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;
    use crate::scenario::Section;
    use crate::units::Length;

    fn material(thickness: Length, density: f64, stiffness: Stiffness) -> Material {
        Material {
            name: "sheet".into(),
            section: Section::Sheet,
            thickness,
            density,
            stiffness,
            grain: true,
        }
    }

    fn said(sheet: &Sheet) -> String {
        format!("{:?}", sheet.remark)
    }

    // AWC ASD/LRFD Manual, Table M9.2-1.
    #[test]
    fn a_rating_counts_before_anything_else() {
        let rating = Stiffness::SpanRating("48/24".into());
        let sheet = Sheet::of(&material(Length::inches(23, 32), 577.0, rating));
        close(sheet.along.stiffness.in_newton_metres(), 4142.8, 1e-4);
        close(sheet.across.stiffness.in_newton_metres(), 861.5, 1e-4);
        assert!(sheet.along.bending.is_some() && said(&sheet).contains("five plies"));
        let thin = Stiffness::SpanRating("32/16".into());
        let thin = Sheet::of(&material(Length::inches(15, 32), 577.0, thin));
        assert!(said(&thin).contains("four plies"));
    }

    // Derived: E·t³/12.
    #[test]
    fn a_modulus_is_taken_as_given() {
        let sheet = Sheet::of(&material(Length::mm(18), 700.0, Stiffness::Modulus(10e9)));
        close(sheet.along.stiffness.in_newton_metres(), 4860.0, 1e-9);
        close(sheet.across.stiffness.in_newton_metres(), 4860.0 * 0.6, 1e-9);
        assert_eq!(sheet.along.bending, None);
    }

    #[test]
    fn nothing_known_is_said_to_be_assumed() {
        for stiffness in [Stiffness::Unknown, Stiffness::SpanRating("strong".into())] {
            let sheet = Sheet::of(&material(Length::mm(12), 500.0, stiffness));
            assert!(sheet.source.contains("assumption") && said(&sheet).contains("not rated"));
            close(sheet.along.stiffness.in_newton_metres(), 1152.0, 1e-9);
            close(sheet.across.stiffness.in_newton_metres(), 288.0, 1e-9);
        }
        let birch = Sheet::of(&material(Length::mm(12), 700.0, Stiffness::Unknown));
        assert!(birch.across.stiffness > birch.along.stiffness * 0.5);
    }
}
