//! Softwood lumber: reference design values and the factors on bending strength.
//!
//! Values of NDS Supplement 2018, Tables 4A and 4B, for visually graded dimension lumber, 2 to 4 in
//! thick, dry, normal load duration. They came through texts that quote the tables, not the
//! document itself.

use super::Standing;
use super::section::Rectangle;
use crate::units::Length;
use crate::units::physics::{Moment, Stress};

/// Reference design values of one species group and grade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    /// As a person writes it.
    pub name: &'static str,
    /// Bending, F_b.
    pub bending: Stress,
    /// Shear along the grain, F_v.
    pub shear: Stress,
    /// Compression across the grain, F_c⊥.
    pub bearing: Stress,
    /// Modulus of elasticity, E.
    pub elasticity: Stress,
    /// Specific gravity, ovendry mass and volume (NDS Table 12.3.3A).
    pub gravity: f64,
    /// Whether size is already in F_b (southern pine), so that the size factor is 1.
    pub sized: bool,
    /// How the values were seen.
    pub standing: Standing,
}

/// NDS Supplement 2018, Table 4A (and 4B for southern pine, whose values go by width).
pub const GRADES: [Grade; 5] = [
    grade("SPF No. 2", 875.0, 135.0, 425.0, 1.4e6, 0.42, false),
    grade("DF-L No. 2", 900.0, 180.0, 625.0, 1.6e6, 0.50, false),
    grade("Hem-Fir No. 2", 850.0, 150.0, 405.0, 1.3e6, 0.43, false),
    // Seen in MPa to two digits; the rounding to psi is from memory.
    grade("SYP No. 2 2x8", 925.0, 175.0, 565.0, 1.4e6, 0.55, true),
    grade("SYP No. 2 2x10", 800.0, 175.0, 565.0, 1.4e6, 0.55, true),
];

const fn grade(
    name: &'static str,
    bending: f64,
    shear: f64,
    bearing: f64,
    elasticity: f64,
    gravity: f64,
    sized: bool,
) -> Grade {
    Grade {
        name,
        bending: Stress::psi(bending),
        shear: Stress::psi(shear),
        bearing: Stress::psi(bearing),
        elasticity: Stress::psi(elasticity),
        gravity,
        sized,
        standing: if sized { Standing::FromMemory } else { Standing::Published },
    }
}

/// The grade of that name, capitals and dots aside.
pub fn grade_named(name: &str) -> Option<Grade> {
    let plain = |text: &str| text.to_ascii_lowercase().replace(['.', ' '], "");
    GRADES.into_iter().find(|grade| plain(grade.name) == plain(name))
}

/// Least dressed thickness and width of dry softwood lumber by its nominal inches: thickness 3/4 for
/// 1, else half an inch less; width half an inch less to 6, three quarters less from 8 to 16
/// (PS 20, Table 3, as quoted). Boards at the yard are often a little under: measure them.
pub fn dressed(thickness: i64, width: i64) -> Option<(Length, Length)> {
    let thickness = match thickness {
        1 => Length::inches(3, 4),
        2..=4 => Length::inches(2 * thickness - 1, 2),
        _ => return None,
    };
    let width = match width {
        2..=6 => Length::inches(2 * width - 1, 2),
        8 | 10 | 12 | 14 | 16 => Length::inches(4 * width - 3, 4),
        _ => return None,
    };
    Some((thickness, width))
}

/// Dimension lumber by its nominal width in inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NominalWidth {
    /// 4 in, dressed 3-1/2.
    Four,
    /// 6 in, dressed 5-1/2.
    Six,
    /// 8 in, dressed 7-1/4.
    Eight,
    /// 10 in, dressed 9-1/4.
    Ten,
    /// 12 in, dressed 11-1/4.
    Twelve,
}

impl NominalWidth {
    /// The nominal width of a board of that actual width. Between two sizes it counts as the wider,
    /// whose size factor is smaller; 1/8 in over a dressed size is still that size.
    pub fn of(actual: Length) -> Self {
        let slack = Length::inches(1, 8);
        let sizes = [
            (Self::Four, Length::inches(7, 2)),
            (Self::Six, Length::inches(11, 2)),
            (Self::Eight, Length::inches(29, 4)),
            (Self::Ten, Length::inches(37, 4)),
        ];
        let fits = sizes.into_iter().find(|&(_, dressed)| actual <= dressed + slack);
        fits.map_or(Self::Twelve, |(size, _)| size)
    }

    /// Size factor C_F on F_b for No. 2 lumber to 3 in thick (NDS Supplement 2018, Table 4A).
    pub const fn size_factor(self) -> f64 {
        match self {
            Self::Four => 1.5,
            Self::Six => 1.3,
            Self::Eight => 1.2,
            Self::Ten => 1.1,
            Self::Twelve => 1.0,
        }
    }

    /// Flat-use factor C_fu, 2 in thick (NDS Supplement 2018, Table 4A).
    pub const fn flat_use_factor(self) -> f64 {
        match self {
            Self::Four => 1.1,
            Self::Six | Self::Eight => 1.15,
            Self::Ten | Self::Twelve => 1.2,
        }
    }
}

/// Which way a board carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Load on the narrow face.
    OnEdge,
    /// Load on the wide face.
    Flat,
}

/// F_b with the size factor, and lying flat also the flat-use factor; the two multiply (NDS
/// Supplement 2018, Table 4A adjustment factors). Duration and wet service are not in it.
pub fn bending_strength(grade: &Grade, width: NominalWidth, lying: Use) -> Stress {
    let size = if grade.sized { 1.0 } else { width.size_factor() };
    let flat = match lying {
        Use::OnEdge => 1.0,
        Use::Flat => width.flat_use_factor(),
    };
    grade.bending * size * flat
}

/// The moment at which the extreme fibre reaches `strength`.
pub fn moment_capacity(strength: Stress, section: Rectangle) -> Moment {
    strength * section.section_modulus()
}

/// Load duration factor C_D (NDS 2018, Table 2.3.2: two months as quoted, the rest from memory).
/// Never on E or on bearing across the grain; never above 1.6 on connections.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duration {
    /// Dead load.
    Permanent,
    /// Occupancy; the basis of the tables.
    TenYears,
    /// Snow.
    TwoMonths,
    /// Construction.
    SevenDays,
    /// Wind, earthquake; used here for road shock.
    TenMinutes,
}

impl Duration {
    /// The factor on strength.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Permanent => 0.9,
            Self::TenYears => 1.0,
            Self::TwoMonths => 1.15,
            Self::SevenDays => 1.25,
            Self::TenMinutes => 1.6,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;
    use crate::units::physics::Metres;

    fn board(width_in: f64) -> Rectangle {
        Rectangle { width: Metres::inches(1.5), depth: Metres::inches(width_in) }
    }

    // NDS Supplement 2018, Table 4A (values quoted elsewhere), F_b·C_F and times S.
    #[test]
    fn spf_two_by_eight_on_edge() {
        let grade = grade_named("spf no 2").unwrap();
        let strength = bending_strength(&grade, NominalWidth::Eight, Use::OnEdge);
        close(strength.in_psi(), 1050.0, 1e-3);
        close(strength.in_megapascals(), 7.239, 1e-3);
        let moment = moment_capacity(strength, board(7.25));
        close(moment.in_pound_inches(), 13_798.0, 1e-3);
        close(moment.in_newton_metres(), 1558.9, 1e-3);
    }

    // As above with the flat-use factor.
    #[test]
    fn spf_two_by_ten_flat() {
        let grade = grade_named("SPF No. 2").unwrap();
        let strength = bending_strength(&grade, NominalWidth::Ten, Use::Flat);
        close(strength.in_psi(), 1155.0, 1e-3);
        let moment = moment_capacity(strength, board(9.25).turned());
        close(moment.in_pound_inches(), 4006.4, 1e-3);
        close(moment.in_newton_metres(), 452.7, 1e-3);
    }

    // As above, Douglas fir-larch.
    #[test]
    fn douglas_fir_two_by_ten_on_edge() {
        let grade = grade_named("DF-L No. 2").unwrap();
        let strength = bending_strength(&grade, NominalWidth::Ten, Use::OnEdge);
        close(strength.in_psi(), 990.0, 1e-3);
        close(moment_capacity(strength, board(9.25)).in_newton_metres(), 2392.7, 1e-3);
    }

    // PS 20, Table 3, least dressed sizes of dry lumber (as quoted).
    #[test]
    fn dressed_sizes() {
        let rows = [
            (1, 4, "3/4 x 3 1/2", (3, 4), (7, 2)),
            (1, 12, "3/4 x 11 1/4", (3, 4), (45, 4)),
            (2, 4, "1 1/2 x 3 1/2", (3, 2), (7, 2)),
            (2, 6, "1 1/2 x 5 1/2", (3, 2), (11, 2)),
            (2, 8, "1 1/2 x 7 1/4", (3, 2), (29, 4)),
            (2, 10, "1 1/2 x 9 1/4", (3, 2), (37, 4)),
            (4, 4, "3 1/2 x 3 1/2", (7, 2), (7, 2)),
        ];
        for (thick, wide, name, (t, tt), (w, ww)) in rows {
            let expected = (Length::inches(t, tt), Length::inches(w, ww));
            assert_eq!(dressed(thick, wide), Some(expected), "{name}");
        }
        let (_, width) = dressed(2, 10).unwrap();
        assert_eq!(width, Length::from_units(234_950 * 80));
        assert_eq!(dressed(0, 4), None);
        assert_eq!(dressed(2, 7), None);
        assert_eq!(NominalWidth::of(width), NominalWidth::Ten);
        assert_eq!(NominalWidth::of(Length::inches(6, 1)), NominalWidth::Eight);
        assert_eq!(NominalWidth::of(Length::inches(20, 1)), NominalWidth::Twelve);
    }

    // NDS Supplement 2018, Table 4B: southern pine's values already contain size (from memory).
    #[test]
    fn southern_pine_takes_no_size_factor() {
        let grade = grade_named("SYP No. 2 2x8").unwrap();
        let strength = bending_strength(&grade, NominalWidth::Eight, Use::OnEdge);
        close(strength.in_psi(), 925.0, 1e-12);
        assert_eq!(grade.standing, Standing::FromMemory);
        assert!(grade_named("teak").is_none());
    }
}
