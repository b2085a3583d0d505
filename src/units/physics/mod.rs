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

#[macro_use]
mod define;
mod parse;

pub use parse::QuantityError;

use super::{Length, Mass};
use parse::parse_with;
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

#[cfg(test)]
mod tests;
