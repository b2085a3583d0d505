//! Wood moves with its moisture, and its moisture with the air.

use super::Standing;
use crate::units::physics::Metres;

/// Green-to-ovendry shrinkage of a species in percent (Wood Handbook FPL-GTR-190, Table 4-3).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shrinkage {
    /// As a person writes it.
    pub species: &'static str,
    /// Across the rings, S_R (quarter-sawn faces).
    pub radial: f64,
    /// Along the rings, S_T (flat-sawn faces).
    pub tangential: f64,
    /// How the values were seen.
    pub standing: Standing,
}

const fn read(species: &'static str, radial: f64, tangential: f64) -> Shrinkage {
    Shrinkage { species, radial, tangential, standing: Standing::Published }
}

const fn recalled(species: &'static str, radial: f64, tangential: f64) -> Shrinkage {
    Shrinkage { species, radial, tangential, standing: Standing::FromMemory }
}

/// Wood Handbook Table 4-3, the rows read in its pages and some from memory.
pub const SHRINKAGES: [Shrinkage; 20] = [
    read("Douglas-fir, coast", 4.8, 7.6),
    read("Fir, white", 3.3, 7.0),
    read("Fir, grand", 3.4, 7.5),
    read("Fir, balsam", 2.9, 6.9),
    read("Redcedar, western", 2.4, 5.0),
    read("Birch, yellow", 7.3, 9.5),
    recalled("Maple, sugar", 4.8, 9.9),
    read("Cherry, black", 3.7, 7.1),
    read("Walnut, black", 5.5, 7.8),
    read("Yellow-poplar", 4.6, 8.2),
    recalled("Hemlock, western", 4.2, 7.8),
    recalled("Pine, loblolly", 4.8, 7.4),
    recalled("Pine, ponderosa", 3.9, 6.2),
    recalled("Pine, lodgepole", 4.3, 6.7),
    recalled("Pine, eastern white", 2.1, 6.1),
    recalled("Spruce, Sitka", 4.3, 7.5),
    recalled("Spruce, Engelmann", 3.8, 7.1),
    recalled("Spruce, red", 3.8, 7.8),
    recalled("Oak, northern red", 4.0, 8.6),
    recalled("Oak, white", 5.6, 10.5),
];

/// Change per percent of moisture, C_R or C_T, from the shrinkage S in percent:
/// (S/3000)/(1 − S/150). Derived from 27 hardwood rows of Wood Handbook Tables 4-3 and 13-5, of
/// which it gives 26 to the last digit.
pub fn change_coefficient(shrinkage_percent: f64) -> f64 {
    shrinkage_percent / 3000.0 / (1.0 - shrinkage_percent / 150.0)
}

/// Change of a width between moisture contents of 6 to 14 %: D·C·(M_F − M_I) (Wood Handbook
/// FPL-GTR-190, eq. 13-2).
pub fn change(width: Metres, coefficient: f64, from_percent: f64, to_percent: f64) -> Metres {
    width * (coefficient * (to_percent - from_percent))
}

/// The same beyond those contents, up to 30 %: D(M_F − M_I)/(30·100/S − 30 + M_I) (Wood Handbook
/// FPL-GTR-190, eq. 13-3; described there, the formula from memory).
pub fn change_beyond(
    width: Metres,
    shrinkage_percent: f64,
    from_percent: f64,
    to_percent: f64,
) -> Metres {
    let per_percent = 30.0 * 100.0 / shrinkage_percent - 30.0 + from_percent;
    width * ((to_percent - from_percent) / per_percent)
}

/// Shrinkage of dimension lumber of most softwoods from green, percent, as S = a − b·M at moisture M between 8 and 19 %
/// (Green, FPL-RP-489, for all but redwood and the cedars): `[a, b]` of its width.
pub const LUMBER_WIDTH: [f64; 2] = [6.031, 0.215];
/// The same of its thickness.
pub const LUMBER_THICKNESS: [f64; 2] = [5.062, 0.181];

/// Shrinkage of lumber from green to a moisture content, percent.
pub fn lumber_shrinkage([a, b]: [f64; 2], moisture_percent: f64) -> f64 {
    a - b * moisture_percent
}

/// Equilibrium moisture content in percent, from degrees Celsius and relative humidity as a share
/// of 1 (Wood Handbook FPL-GTR-190, eq. 4-5; FPL-RN-0268).
pub fn equilibrium_moisture(celsius: f64, humidity: f64) -> f64 {
    let (t, tt) = (celsius, celsius * celsius);
    let w = 349.0 + 1.29 * t + 0.0135 * tt;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * tt;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * tt;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * tt;
    let kh = k * humidity;
    let bound = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + bound / (1.0 + k1 * kh + k1 * k2 * kh * kh))
}

/// Seasonal swing of a covered bed in percent of moisture (assumption).
pub const BED_SWING: (f64, f64) = (6.0, 14.0);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::{close, near};

    // Wood Handbook FPL-GTR-190, worked example of eq. 13-2: a flat-grained board, 8 to 11 %.
    #[test]
    fn the_handbooks_worked_example() {
        let grown = change(Metres::millimetres(232.0), 0.002_45, 8.0, 11.0);
        close(grown.in_millimetres(), 1.705, 1e-3);
        assert!(grown.in_millimetres() > 0.0);
    }

    // Wood Handbook Tables 4-3 (shrinkage) and 13-5 (coefficients).
    #[test]
    fn coefficients_follow_from_shrinkage() {
        near(change_coefficient(7.6), 0.002_67, 5e-6);
        near(change_coefficient(4.8), 0.001_65, 5e-6);
        let tabulated = [
            ("Birch, yellow", 0.002_56, 0.003_38),
            ("Cherry, black", 0.001_26, 0.002_48),
            ("Walnut, black", 0.001_90, 0.002_74),
            ("Maple, sugar", 0.001_65, 0.003_53),
        ];
        for (species, radial, tangential) in tabulated {
            let row = SHRINKAGES.iter().find(|row| row.species == species).unwrap();
            near(change_coefficient(row.radial), radial, 5e-6);
            near(change_coefficient(row.tangential), tangential, 5e-6);
        }
    }

    // Wood Handbook eq. 13-2 (derived): a board as wide as a 2x10, in grand fir and Sitka spruce
    // (coefficients derived or from memory).
    #[test]
    fn a_two_by_ten_through_the_seasons() {
        let width = Metres::millimetres(234.95);
        close(change(width, 0.002_63, 6.0, 12.0).in_millimetres(), 3.708, 1e-3);
        close(change(width, 0.001_48, 6.0, 12.0).in_millimetres(), 2.086, 1e-3);
    }

    // Wood Handbook eq. 13-3 (formula from memory), by hand.
    #[test]
    fn drying_beyond_the_linear_range() {
        let shrunk = change_beyond(Metres::millimetres(150.0), 7.6, 15.0, 6.0);
        close(shrunk.in_millimetres(), -3.555, 1e-3);
    }

    // Wood Handbook eq. 4-5, and Table 4-2's 11.1 and 6.2 % at 65 °F, 60 and 30 %.
    #[test]
    fn equilibrium_with_the_air() {
        near(equilibrium_moisture(20.0, 0.50), 9.27, 0.01);
        near(equilibrium_moisture(30.0, 0.80), 15.55, 0.01);
        let sixty_five_f = (65.0 - 32.0) / 1.8;
        near(equilibrium_moisture(sixty_five_f, 0.60), 11.05, 0.01);
        near(equilibrium_moisture(sixty_five_f, 0.30), 6.21, 0.01);
    }

    // Computed from the same equation, independently: percent at 20 to 90 % humidity.
    #[test]
    fn equilibrium_over_the_range() {
        let humidities = [0.2, 0.3, 0.4, 0.5, 0.6, 0.65, 0.7, 0.8, 0.9];
        let rows = [
            (0.0, [4.61, 6.32, 7.90, 9.52, 11.33, 12.37, 13.55, 16.53, 21.03]),
            (20.0, [4.51, 6.19, 7.72, 9.27, 11.00, 12.00, 13.13, 16.04, 20.53]),
            (30.0, [4.35, 5.99, 7.47, 8.97, 10.64, 11.61, 12.71, 15.55, 19.99]),
        ];
        for (celsius, row) in rows {
            for (humidity, expected) in humidities.into_iter().zip(row) {
                near(equilibrium_moisture(celsius, humidity), expected, 0.01);
            }
        }
    }
}
