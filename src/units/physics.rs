//! Physical quantities as floats in SI units, one type per meaning.
//!
//! Lengths that decide a fit are the exact integers of the parent module; these floats serve the
//! formulas of strength and friction only. A quantity is made from a named unit
//! (`Force::pounds_force(33.0)`), read in a named unit (`.in_newtons()`), and multiplied only into
//! what the product means (`Force * Metres` is a `Moment`).
//!
//! What means nothing does not compile: a force plus a mass,
//!
//! ```compile_fail,E0308
//! use bedwright::units::physics::{Force, Kilograms};
//! let wrong = Force::newtons(9.8) + Kilograms::of(1.0);
//! ```
//!
//! a stress where a load per area is meant (both may be written in psi),
//!
//! ```compile_fail,E0308
//! use bedwright::units::physics::{AreaLoad, Stress};
//! let wrong: AreaLoad = Stress::psi(40.0);
//! ```
//!
//! or a moment out of two forces. A mass has to be weighed first:
//!
//! ```compile_fail,E0277
//! use bedwright::units::physics::Force;
//! let wrong = Force::newtons(9.8) * Force::newtons(1.0);
//! ```
//!
//! ```
//! use bedwright::units::physics::{Force, Kilograms, Metres, Moment};
//! let right: Force = Force::newtons(9.8) + Kilograms::of(1.0).weight();
//! let moment: Moment = right * Metres::millimetres(500.0);
//! assert!((moment.in_newton_metres() - 9.803).abs() < 1e-3);
//! ```
//!
//! Conversions: 1 in = 25.4 mm and 1 lb = 0.453 592 37 kg exactly, 1 lbf = that times standard
//! gravity, 9.806 65 m/s² (NIST SP 811).

use super::{Length, Mass};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Metres in an inch, exactly.
const INCH: f64 = 0.0254;
/// Newtons in a pound-force.
const LBF: f64 = 4.448_221_615_260_5;
/// Kilograms in an avoirdupois pound, exactly.
const LB: f64 = 0.453_592_37;
/// Metres in a foot, exactly.
const FOOT: f64 = 0.3048;

/// Standard acceleration of gravity, m/s².
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Why a text is not a quantity.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// There is no number at the start.
    #[error("`{text}` does not start with a number; write it like `{example}`")]
    NoNumber {
        /// What was written.
        text: String,
        /// Something that would do.
        example: String,
    },
    /// The number has no unit behind it.
    #[error("`{text}` has no unit; write it like `{example}` (units: {units})")]
    NoUnit {
        /// What was written.
        text: String,
        /// Something that would do.
        example: String,
        /// The units that would do.
        units: String,
    },
    /// The unit is not one of this quantity.
    #[error("`{unit}` is not a unit of {quantity}; use one of {units}")]
    WrongUnit {
        /// The unit that was written.
        unit: String,
        /// The quantity wanted.
        quantity: &'static str,
        /// The units that would do.
        units: String,
    },
    /// The number is beyond what a float holds.
    #[error("`{text}` is too large")]
    TooLarge {
        /// What was written.
        text: String,
    },
}

macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident, $label:literal;
        $( $make:ident / $read:ident = $factor:expr $(, $spelling:literal)* ; )+
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// The spellings that `parse` accepts, with their factors to the SI unit.
            const SPELLINGS: &'static [(&'static str, f64)] = &[$( $( ($spelling, $factor), )* )+];

            $(
                #[doc = concat!("The quantity of which [`Self::", stringify!($read), "`] is `number`.")]
                pub const fn $make(number: f64) -> Self {
                    Self(number * $factor)
                }

                #[doc = concat!("As a number, `", stringify!($read), "`.")]
                pub const fn $read(self) -> f64 {
                    self.0 / $factor
                }
            )+

            /// Reads a number with its unit.
            ///
            /// # Errors
            /// When the number or the unit is missing or not one of this quantity.
            pub fn parse(text: &str) -> Result<Self, QuantityError> {
                parse_with(text, $label, Self::SPELLINGS).map(Self)
            }

            /// The amount without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        /// The ratio of two of a kind is a bare number.
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                Self(parts.map(|part| part.0).sum())
            }
        }
    };
}

/// `A * B = C` in either order (`square` for a type times itself).
macro_rules! product {
    ($a:ident * $b:ident = $c:ident, square) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }
    };
    ($a:ident * $b:ident = $c:ident) => {
        product!($a * $b = $c, square);
        product!($b * $a = $c, square);
    };
}

/// `C / B = A`, written out one by one because two products may share a result and a factor
/// (stress and area load both make a force of an area).
macro_rules! quotient {
    ($c:ident / $b:ident = $a:ident) => {
        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, other: $b) -> $a {
                $a(self.0 / other.0)
            }
        }
    };
}

quantity! {
    /// A length as a float, for formulas only: fits are decided by the exact lengths.
    Metres, "length";
    of / in_metres = 1.0, "m";
    millimetres / in_millimetres = 1e-3, "mm";
    inches / in_inches = INCH, "in";
}
quantity! {
    /// An area as a float.
    SquareMetres, "area";
    of / in_square_metres = 1.0, "m²", "m2";
    square_millimetres / in_square_millimetres = 1e-6, "mm²", "mm2";
    square_inches / in_square_inches = INCH * INCH, "in²", "in2";
}
quantity! {
    /// A volume as a float.
    CubicMetres, "volume";
    of / in_cubic_metres = 1.0, "m³", "m3";
    litres / in_litres = 1e-3, "L", "l";
}
quantity! {
    /// Elastic section modulus S of a beam's section.
    SectionModulus, "section modulus";
    cubic_metres / in_cubic_metres = 1.0;
    cubic_millimetres / in_cubic_millimetres = 1e-9, "mm³", "mm3";
    cubic_inches / in_cubic_inches = INCH * INCH * INCH, "in³", "in3";
}
quantity! {
    /// Second moment of area I of a beam's section.
    SecondMoment, "second moment of area";
    metres_to_fourth / in_metres_to_fourth = 1.0;
    millimetres_to_fourth / in_millimetres_to_fourth = 1e-12, "mm⁴", "mm4";
    inches_to_fourth / in_inches_to_fourth = INCH * INCH * INCH * INCH, "in⁴", "in4";
}
quantity! {
    /// A mass as a float.
    Kilograms, "mass";
    of / in_kilograms = 1.0, "kg";
    pounds / in_pounds = LB, "lb";
}
quantity! {
    /// Mass per volume.
    Density, "density";
    kilograms_per_cubic_metre / in_kilograms_per_cubic_metre = 1.0, "kg/m³", "kg/m3";
    pounds_per_cubic_foot / in_pounds_per_cubic_foot = LB / (FOOT * FOOT * FOOT), "lb/ft³", "lb/ft3", "pcf";
}
quantity! {
    /// Mass per area of a sheet.
    AreaDensity, "mass per area";
    kilograms_per_square_metre / in_kilograms_per_square_metre = 1.0, "kg/m²", "kg/m2";
    pounds_per_square_foot / in_pounds_per_square_foot = LB / (FOOT * FOOT), "lb/ft²", "lb/ft2";
}
quantity! {
    /// A force.
    Force, "force";
    newtons / in_newtons = 1.0, "N";
    kilonewtons / in_kilonewtons = 1e3, "kN";
    pounds_force / in_pounds_force = LBF, "lbf";
    kilograms_force / in_kilograms_force = STANDARD_GRAVITY, "kgf";
}
quantity! {
    /// A force per area inside the material: stress, strength or modulus of elasticity.
    Stress, "stress";
    pascals / in_pascals = 1.0, "Pa";
    kilopascals / in_kilopascals = 1e3, "kPa";
    megapascals / in_megapascals = 1e6, "MPa", "N/mm²", "N/mm2";
    gigapascals / in_gigapascals = 1e9, "GPa";
    psi / in_psi = LBF / (INCH * INCH), "psi";
}
quantity! {
    /// A load spread over an area.
    AreaLoad, "load per area";
    pascals / in_pascals = 1.0, "Pa", "N/m²", "N/m2";
    kilopascals / in_kilopascals = 1e3, "kPa", "kN/m²", "kN/m2";
    psf / in_psf = LBF / (FOOT * FOOT), "psf";
    psi / in_psi = LBF / (INCH * INCH), "psi";
}
quantity! {
    /// A load spread along a line; also a screw's holding per length of thread and the shear of a
    /// panel per width.
    LineLoad, "force per length";
    newtons_per_metre / in_newtons_per_metre = 1.0, "N/m";
    newtons_per_millimetre / in_newtons_per_millimetre = 1e3, "N/mm", "kN/m";
    pounds_force_per_inch / in_pounds_force_per_inch = LBF / INCH, "lbf/in";
    pounds_force_per_foot / in_pounds_force_per_foot = LBF / FOOT, "lbf/ft", "plf";
}
quantity! {
    /// A bending or turning moment.
    Moment, "moment";
    newton_metres / in_newton_metres = 1.0, "N·m", "Nm", "N m";
    pound_inches / in_pound_inches = LBF * INCH, "lbf·in", "lbf in", "lb-in";
}
quantity! {
    /// Bending moment per width of a plate or panel.
    MomentPerWidth, "moment per width";
    newtons / in_newtons = 1.0, "N·m/m", "Nm/m";
    pound_inches_per_foot / in_pound_inches_per_foot = LBF * INCH / FOOT, "lb-in/ft";
}
quantity! {
    /// Bending stiffness E·I of a beam.
    BendingStiffness, "bending stiffness";
    newton_square_metres / in_newton_square_metres = 1.0, "N·m²", "Nm2";
    pound_square_inches / in_pound_square_inches = LBF * INCH * INCH, "lb-in²", "lb-in2";
}
quantity! {
    /// Bending stiffness per width, of a plate (E·t³/12(1−ν²)) or a strip of panel (E·I per width).
    PlateStiffness, "bending stiffness per width";
    newton_metres / in_newton_metres = 1.0, "N·m²/m", "N·m";
    pound_square_inches_per_foot / in_pound_square_inches_per_foot = LBF * INCH * INCH / FOOT, "lb-in²/ft", "lb-in2/ft";
}

product!(Metres * Metres = SquareMetres, square);
product!(SquareMetres * Metres = CubicMetres);
product!(CubicMetres * Density = Kilograms);
product!(SquareMetres * AreaDensity = Kilograms);
product!(Density * Metres = AreaDensity);
product!(LineLoad * Metres = Force);
product!(AreaLoad * Metres = LineLoad);
product!(AreaLoad * SquareMetres = Force);
product!(Force * Metres = Moment);
product!(Stress * SquareMetres = Force);
product!(Stress * SectionModulus = Moment);
product!(Stress * SecondMoment = BendingStiffness);
product!(PlateStiffness * Metres = BendingStiffness);
product!(MomentPerWidth * Metres = Moment);

quotient!(SquareMetres / Metres = Metres);
quotient!(CubicMetres / Metres = SquareMetres);
quotient!(CubicMetres / SquareMetres = Metres);
quotient!(Kilograms / CubicMetres = Density);
quotient!(Kilograms / SquareMetres = AreaDensity);
quotient!(Force / LineLoad = Metres);
quotient!(Force / Metres = LineLoad);
quotient!(LineLoad / Metres = AreaLoad);
quotient!(Force / Stress = SquareMetres);
quotient!(Moment / Metres = Force);
quotient!(Moment / Force = Metres);
quotient!(Moment / SectionModulus = Stress);
quotient!(Moment / Stress = SectionModulus);

impl From<Length> for Metres {
    fn from(exact: Length) -> Self {
        Self(exact.to_metres())
    }
}

impl From<Mass> for Kilograms {
    fn from(exact: Mass) -> Self {
        Self(exact.to_kg())
    }
}

impl Kilograms {
    /// What it weighs under standard gravity.
    pub const fn weight(self) -> Force {
        Force(self.0 * STANDARD_GRAVITY)
    }
}

impl Force {
    /// The mass that weighs this much under standard gravity.
    pub const fn mass_lifted(self) -> Kilograms {
        Kilograms(self.0 / STANDARD_GRAVITY)
    }
}

/// Reads `number unit`; the number may have thousands commas, a fraction and an exponent.
fn parse_with(
    text: &str,
    quantity: &'static str,
    spellings: &[(&str, f64)],
) -> Result<f64, QuantityError> {
    let units = || spellings.iter().map(|(s, _)| *s).collect::<Vec<_>>().join(", ");
    let example = || format!("150 {}", spellings.first().map_or("", |(s, _)| s));
    let trimmed = text.trim();
    let (digits, unit) = trimmed.split_at(number_length(trimmed));
    let Ok(number) = digits.replace(',', "").parse::<f64>() else {
        return Err(QuantityError::NoNumber { text: trimmed.into(), example: example() });
    };
    let unit = unit.trim();
    if unit.is_empty() {
        let (text, example, units) = (trimmed.into(), example(), units());
        return Err(QuantityError::NoUnit { text, example, units });
    }
    let exact = spellings.iter().find(|(s, _)| *s == unit);
    // Capitals are forgiven only where that leaves no doubt: `mpa` and `Mpa` mean MPa, `LBF` lbf.
    let alike = || spellings.iter().find(|(s, _)| s.eq_ignore_ascii_case(unit));
    let Some((_, factor)) = exact.or_else(alike) else {
        return Err(QuantityError::WrongUnit { unit: unit.into(), quantity, units: units() });
    };
    let value = number * factor;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(QuantityError::TooLarge { text: trimmed.into() })
    }
}

/// How many bytes at the start of `text` belong to its number. An `e` counts only with a digit
/// (or a signed digit) behind it, so that no unit beginning with e is swallowed.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let sign = |i: usize| matches!(bytes.get(i), Some(b'+' | b'-'));
    let mut end = usize::from(sign(0));
    while digit(end) || matches!(bytes.get(end), Some(b'.' | b',')) {
        end += 1;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let exponent = end + 1 + usize::from(sign(end + 1));
        if digit(exponent) {
            end = exponent;
            while digit(end) {
                end += 1;
            }
        }
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(actual: f64, expected: f64) {
        assert!((actual - expected).abs() <= 1e-9 * expected.abs(), "{actual} is not {expected}");
    }

    #[test]
    fn conversions_are_those_of_nist_sp_811() {
        close(Force::pounds_force(1.0).in_newtons(), 4.448_221_615_260_5);
        assert!((Stress::psi(1.0).in_pascals() - 6_894.757_293).abs() < 1e-6);
        assert!((AreaLoad::psf(1.0).in_pascals() - 47.880_259).abs() < 1e-6);
        let panel = PlateStiffness::pound_square_inches_per_foot(1.0);
        assert!((panel.in_newton_metres() - 0.009_415_402_42).abs() < 5e-12);
        let strength = MomentPerWidth::pound_inches_per_foot(1.0);
        assert!((strength.in_newtons() - 0.370_685_135).abs() < 1e-9);
        close(LBF, LB * STANDARD_GRAVITY);
    }

    #[test]
    fn products_mean_what_they_say() {
        let force = AreaLoad::kilopascals(2.0) * Metres::of(0.5) * Metres::of(3.0);
        close(force.in_newtons(), 3000.0);
        close((force * Metres::millimetres(100.0)).in_newton_metres(), 300.0);
        close((force / Metres::of(3.0)).in_newtons_per_metre(), 1000.0);
        close(Metres::of(2.0) / Metres::millimetres(500.0), 4.0);
        close(Kilograms::of(10.0).weight().in_newtons(), 98.066_5);
        close(Force::newtons(98.066_5).mass_lifted().in_kilograms(), 10.0);
    }

    #[test]
    fn quantities_are_read_as_written() {
        close(Force::parse("33 lbf").unwrap().in_pounds_force(), 33.0);
        close(Force::parse("1.5kN").unwrap().in_newtons(), 1500.0);
        close(Stress::parse("1,400,000 psi").unwrap().in_psi(), 1.4e6);
        close(Stress::parse(" 1.4e6 psi ").unwrap().in_psi(), 1.4e6);
        close(Stress::parse("8 gpa").unwrap().in_megapascals(), 8000.0);
        close(Stress::parse("9500 N/mm²").unwrap().in_gigapascals(), 9.5);
        close(AreaLoad::parse("40 psf").unwrap().in_psf(), 40.0);
        close(AreaLoad::parse("2 kPa").unwrap().in_pascals(), 2000.0);
        close(Moment::parse("-3 N·m").unwrap().in_newton_metres(), -3.0);
    }

    // NIST SP 811: 1 lbf = 4.448 222 N, 1 psi = 6.894 757 kPa, 1 psf = 47.880 26 Pa.
    #[test]
    fn both_systems_units_of_force_stress_and_load_parse() {
        let force = |text| Force::parse(text).unwrap().in_newtons();
        for (text, newtons) in [("1 lbf", 4.448_222), ("250 N", 250.0), ("1.1 kN", 1100.0)] {
            assert!((force(text) / newtons - 1.0).abs() < 1e-6, "{text}");
        }
        let stress = |text| Stress::parse(text).unwrap().in_pascals();
        for (text, pascals) in [("1 psi", 6_894.757), ("7.2 MPa", 7.2e6), ("250 kPa", 2.5e5)] {
            assert!((stress(text) / pascals - 1.0).abs() < 1e-6, "{text}");
        }
        let load = |text| AreaLoad::parse(text).unwrap().in_pascals();
        for (text, pascals) in [("40 psf", 1915.21), ("1.9 kPa", 1900.0), ("1 psi", 6_894.757)] {
            assert!((load(text) / pascals - 1.0).abs() < 1e-5, "{text}");
        }
        // What measures something else is refused: a mass is no force, a load per area no stress.
        assert!(Force::parse("10 lb").is_err() && Force::parse("10 kg").is_err());
        assert!(Stress::parse("40 psf").is_err() && Force::parse("3 MPa").is_err());
    }

    #[test]
    fn bad_quantities_say_what_would_do() {
        let wrong = Force::parse("33 psi").unwrap_err().to_string();
        assert_eq!(wrong, "`psi` is not a unit of force; use one of N, kN, lbf, kgf");
        let bare = Force::parse("33").unwrap_err().to_string();
        assert!(bare.contains("has no unit") && bare.contains("150 N"), "{bare}");
        for text in ["", "lbf", "-", ".", "e5 N", "1.2.3 N", "é N", "½ N", "--3 N"] {
            let error = Force::parse(text).unwrap_err();
            assert!(matches!(error, QuantityError::NoNumber { .. }), "{text}: {error}");
        }
        assert!(matches!(Force::parse("1e999 N"), Err(QuantityError::TooLarge { .. })));
        assert!(matches!(Force::parse("1e5"), Err(QuantityError::NoUnit { .. })));
        assert!(matches!(Force::parse("1 e N"), Err(QuantityError::WrongUnit { .. })));
    }
}
