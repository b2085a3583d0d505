//! One function per quantity.

use super::error::ParseError;
use super::ratio::Ratio;
use super::token::{Term, terms};
use crate::units::{Area, Length, Mass, Money, UnitSystem, Volume};

/// A unit: its names, its size in the quantity's smallest unit, and its rank (larger units first).
struct Unit {
    names: &'static [&'static str],
    size: Ratio,
    system: UnitSystem,
}

const fn unit(names: &'static [&'static str], size: i128, system: UnitSystem) -> Unit {
    Unit { names, size: Ratio::whole(size), system }
}

use UnitSystem::{Inch, Metric};

struct Quantity {
    name: &'static str,
    units: &'static [Unit],
    /// The units' names for people.
    listed: &'static str,
    /// The unit of bare numbers in each system, as indices of `units`.
    bare: [usize; 2],
    /// The largest magnitude, in the smallest unit.
    most: i128,
    limit: &'static str,
}

const INCH: i128 = Length::INCH.units() as i128;
const MM: i128 = Length::MM.units() as i128;

const LENGTH: Quantity = Quantity {
    name: "length",
    units: &[
        unit(&["m", "metre", "metres", "meter", "meters"], 1000 * MM, Metric),
        unit(&["ft", "foot", "feet", "'"], 12 * INCH, Inch),
        unit(&["in", "inch", "inches", "ins", "\""], INCH, Inch),
        unit(&["cm"], 10 * MM, Metric),
        unit(&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], MM, Metric),
    ],
    listed: "in, ft, mm, cm, m",
    bare: [2, 4],
    most: 1_000_000 * MM,
    limit: "1 km",
};

/// A length. Bare numbers are inches or millimetres, as `units` says; a bare number after feet is inches.
///
/// # Errors
/// If it is none, is not a whole number of 12.5 nm (the two nearest 1/128 in, 0.001 in or
/// 0.001 mm are named), or is longer than 1 km.
pub fn length(text: &str, units: UnitSystem) -> Result<Length, ParseError> {
    let (sum, terms) = LENGTH.sum(text, units)?;
    LENGTH.within(sum.rounded())?;
    let whole = sum.to_whole().map_err(|_| between_steps(sum, &terms, units))?;
    Ok(Length::from_units(LENGTH.held(whole)?))
}

/// The steps on either side of a length that is too fine, in the unit it was written in.
fn between_steps(sum: Ratio, terms: &[Term], units: UnitSystem) -> ParseError {
    let last = terms.last().map(|term| (term.unit.as_ref(), term.decimal));
    let metric = match last.and_then(|(unit, _)| unit) {
        Some((name, _)) => LENGTH.find(name).is_some_and(|unit| unit.system == Metric),
        None => units == Metric && terms.len() == 1,
    };
    let decimal = last.is_some_and(|(_, decimal)| decimal);
    let step = match (metric, decimal) {
        (true, _) => MM / 1000,
        (false, true) => INCH / 1000,
        (false, false) => i128::from(Length::INCH_128TH.units()),
    };
    let below = sum.over.div_euclid(sum.under).div_euclid(step);
    let shown = |steps: i128| {
        let length = Length::from_units(i64::try_from(steps * step).unwrap_or(0));
        if metric { format!("{} mm", length.to_mm()) } else { length.show(Inch) }
    };
    ParseError::TooFine { below: shown(below), above: shown(below + 1) }
}

/// A length that may carry how far it is off either way: `50 3/4 ± 1/8`, `50 3/4 +/- 1/8 in`.
///
/// A unit after the tolerance holds for a bare number before it too.
///
/// # Errors
/// As [`length`], for either part.
pub fn with_tolerance(text: &str, units: UnitSystem) -> Result<(Length, Length), ParseError> {
    let signs = ["±", "+/-", "+-"];
    let Some((place, sign)) = signs.iter().find_map(|sign| Some((text.find(sign)?, sign))) else {
        return Ok((length(text, units)?, Length::ZERO));
    };
    let (before, after) = (&text[..place], &text[place + sign.len()..]);
    let further_on = |fault| moved(fault, place + sign.len());
    let bare = terms(before)?.iter().all(|term| term.unit.is_none());
    let said = terms(after).map_err(further_on)?;
    let tol = length(after, units).map_err(further_on)?;
    match said.last().and_then(|term| term.unit.as_ref()) {
        Some((unit, _)) if bare => Ok((length(&format!("{before} {unit}"), units)?, tol)),
        _ => Ok((length(before, units)?, tol)),
    }
}

/// The same fault, `by` bytes further on.
fn moved(mut fault: ParseError, by: usize) -> ParseError {
    match &mut fault {
        ParseError::Unexpected { at, .. }
        | ParseError::NoNumber { at }
        | ParseError::Comma { at }
        | ParseError::OverZero { at }
        | ParseError::UnknownUnit { at, .. }
        | ParseError::UnitOrder { at, .. } => *at = at.start + by..at.end + by,
        _ => {}
    }
    fault
}

/// Sizes in eighths of a microgram: an ounce is 28 349 523.125 µg.
const MASS: Quantity = Quantity {
    name: "weight",
    units: &[
        unit(&["t", "tonne", "tonnes"], 8_000_000_000_000, Metric),
        unit(&["kg", "kgs", "kilogram", "kilograms"], 8_000_000_000, Metric),
        unit(&["lb", "lbs", "pound", "pounds", "lbm"], 8 * 453_592_370, Inch),
        unit(&["oz", "ounce", "ounces"], 453_592_370 / 2, Inch),
        unit(&["g", "gram", "grams"], 8_000_000, Metric),
    ],
    listed: "lb, oz, kg, g",
    bare: [2, 1],
    most: 8_000_000_000_000_000,
    limit: "1000 t",
};

/// A mass, rounded to the microgram (masses decide no fit). Bare numbers are pounds or kilograms; a bare number after
/// pounds is ounces.
///
/// # Errors
/// If it is none, or over 1000 t.
pub fn mass(text: &str, units: UnitSystem) -> Result<Mass, ParseError> {
    let (sum, _) = MASS.sum(text, units)?;
    let micrograms = Ratio { over: sum.over, under: MASS.checked(sum.under.checked_mul(8))? };
    MASS.held(sum.rounded())?;
    Ok(Mass::from_micrograms(MASS.held(micrograms.rounded())?))
}

const CUBIC_INCH: i128 = INCH * INCH * INCH;
const LITRE: i128 = Volume::LITRE.units();

const VOLUME: Quantity = Quantity {
    name: "volume",
    units: &[
        unit(
            &["cu ft", "cubic ft", "cubic feet", "cubic foot", "ft3", "ft³"],
            1728 * CUBIC_INCH,
            Inch,
        ),
        unit(&["gal", "gallon", "gallons"], 231 * CUBIC_INCH, Inch),
        unit(&["l", "litre", "litres", "liter", "liters"], LITRE, Metric),
        unit(&["qt", "quart", "quarts"], 231 * CUBIC_INCH / 4, Inch),
        unit(&["pt", "pint", "pints"], 231 * CUBIC_INCH / 8, Inch),
        unit(&["cu in", "cubic in", "cubic inch", "cubic inches", "in3", "in³"], CUBIC_INCH, Inch),
        unit(&["cl"], LITRE / 100, Metric),
        unit(&["ml", "cc", "cm3", "cm³"], LITRE / 1000, Metric),
    ],
    listed: "gal (US), qt, pt, cu ft, cu in, L, ml",
    bare: [1, 2],
    most: 1_000_000 * LITRE,
    limit: "1000 m³",
};

/// A volume; gallons, quarts and pints are US liquid ones (231 in³ to the gallon). What is no whole number of cubic
/// units (a cube of 12.5 nm) is rounded up, as what holds it must.
///
/// # Errors
/// If it is none, or over 1000 m³.
pub fn volume(text: &str, units: UnitSystem) -> Result<Volume, ParseError> {
    let (sum, _) = VOLUME.sum(text, units)?;
    let whole = sum.to_whole().unwrap_or_else(|(_, above)| above);
    VOLUME.within(whole)?;
    Ok(Volume::from_units(whole))
}

const SQUARE_MM: i128 = MM * MM;

const AREA: Quantity = Quantity {
    name: "area",
    units: &[
        unit(
            &["m2", "m²", "sq m", "square metres", "square meters"],
            1_000_000 * SQUARE_MM,
            Metric,
        ),
        unit(&["sq ft", "square ft", "square feet", "ft2", "ft²"], 144 * INCH * INCH, Inch),
        unit(&["sq in", "square inches", "in2", "in²"], INCH * INCH, Inch),
    ],
    listed: "sq ft, sq in, m2",
    bare: [1, 0],
    most: 1_000_000 * 1_000_000 * SQUARE_MM,
    limit: "1 km²",
};

/// An area, to the square unit below.
///
/// # Errors
/// If it is none, or over 1 km².
pub fn area(text: &str, units: UnitSystem) -> Result<Area, ParseError> {
    let (sum, _) = AREA.sum(text, units)?;
    let whole = sum.to_whole().unwrap_or_else(|(below, _)| below);
    AREA.within(whole)?;
    Ok(Area::from_units(whole))
}

const PLAIN: Quantity = Quantity {
    name: "number",
    units: &[unit(&[], 1, Inch)],
    listed: "none: write the number alone",
    bare: [0, 0],
    most: 1_000_000_000_000,
    limit: "10^12",
};

/// An amount of the scenario's currency, exact to 1/10 000.
///
/// # Errors
/// If it is no plain number, finer than 1/10 000, or over 10^12.
pub fn money(text: &str) -> Result<Money, ParseError> {
    Ok(Money::from_parts(steps(&PLAIN, text, 10_000)?))
}

/// A number in thousandths: points of worth, uses in a week.
///
/// # Errors
/// If it is no plain number, finer than 1/1000, or over 10^12.
pub fn thousandths(text: &str) -> Result<i64, ParseError> {
    steps(&PLAIN, text, 1000)
}

const ANGLE: Quantity = Quantity {
    name: "angle",
    units: &[unit(&["°", "deg", "degree", "degrees"], 1, Inch)],
    listed: "deg, °",
    bare: [0, 0],
    most: 360,
    limit: "360°",
};

/// An angle in thousandths of a degree.
///
/// # Errors
/// If it is none, finer than 1/1000 degree, or beyond 360°.
pub fn millidegrees(text: &str) -> Result<i32, ParseError> {
    let steps = steps(&ANGLE, text, 1000)?;
    i32::try_from(steps).map_err(|_| ParseError::TooLarge { limit: ANGLE.limit })
}

/// `text` in whole steps of 1/`per`; refused, with its neighbours, if it is finer.
fn steps(quantity: &Quantity, text: &str, per: i128) -> Result<i64, ParseError> {
    let (sum, _) = quantity.sum(text, Inch)?;
    quantity.within(sum.to_whole().unwrap_or_else(|(below, _)| below))?;
    let scaled = quantity.checked(sum.over.checked_mul(per))?;
    let scaled = Ratio { over: scaled, under: sum.under };
    let whole = scaled.to_whole().map_err(|(below, above)| {
        let shown = |steps: i128| format!("{}", steps as f64 / per as f64);
        ParseError::TooFine { below: shown(below), above: shown(above) }
    })?;
    i64::try_from(whole).map_err(|_| ParseError::TooLarge { limit: quantity.limit })
}

/// A plain number, for weights and the like.
///
/// # Errors
/// If it is none, or over 10^12.
pub fn number(text: &str) -> Result<f64, ParseError> {
    let (sum, _) = PLAIN.sum(text, Inch)?;
    PLAIN.within(sum.rounded())?;
    Ok(sum.to_f64())
}

/// Sizes in 10^-13 N: a pound-force is 4.448 221 615 260 5 N exactly (0.453 592 37 kg × 9.806 65 m/s²).
const FORCE: Quantity = Quantity {
    name: "force",
    units: &[
        unit(&["kn"], 10_000_000_000_000_000, Metric),
        unit(&["kgf", "kp"], 98_066_500_000_000, Metric),
        unit(&["lbf", "lb", "lbs"], 44_482_216_152_605, Inch),
        unit(&["n", "newton", "newtons"], 10_000_000_000_000, Metric),
    ],
    listed: "lbf, N, kN, kgf",
    bare: [2, 3],
    most: 10_000_000_000_000_000_000,
    limit: "1 MN",
};

/// A force in newtons.
///
/// # Errors
/// If it is none, or over 1 MN.
pub fn newtons(text: &str, units: UnitSystem) -> Result<f64, ParseError> {
    FORCE.scaled(text, units, 1e13)
}

/// Sizes in 10^-6 Pa: 1 psi = 6894.757 293 Pa (a pound-force on a square inch, rounded at the tenth digit).
const MODULUS: Quantity = Quantity {
    name: "modulus",
    units: &[
        unit(&["gpa"], 1_000_000_000_000_000, Metric),
        unit(&["ksi"], 6_894_757_293_000, Inch),
        unit(&["mpa", "n/mm2", "n/mm²"], 1_000_000_000_000, Metric),
        unit(&["psi"], 6_894_757_293, Inch),
    ],
    listed: "psi, ksi, MPa, GPa",
    bare: [3, 2],
    most: 10_000_000_000_000_000_000,
    limit: "10 TPa",
};

/// A modulus of elasticity in pascals.
///
/// # Errors
/// If it is none, or over 10 TPa.
pub fn pascals(text: &str, units: UnitSystem) -> Result<f64, ParseError> {
    MODULUS.scaled(text, units, 1e6)
}

/// Sizes in 10^-6 Pa: 1 lbf/ft² = 47.880 259 Pa (rounded at the eighth digit).
const PRESSURE: Quantity = Quantity {
    name: "load per area",
    units: &[
        unit(&["kpa", "kn/m2", "kn/m²"], 1_000_000_000, Metric),
        unit(&["pa", "n/m2", "n/m²"], 1_000_000, Metric),
        unit(&["psf", "lb/ft2", "lb/sq ft"], 47_880_259, Inch),
        unit(&["psi"], 6_894_757_293, Inch),
    ],
    listed: "psf, psi, kPa, Pa",
    bare: [2, 0],
    most: 100_000_000_000_000,
    limit: "100 MPa",
};

/// A load per area in pascals.
///
/// # Errors
/// If it is none, or over 100 MPa.
pub fn pressure(text: &str, units: UnitSystem) -> Result<f64, ParseError> {
    PRESSURE.scaled(text, units, 1e6)
}

/// Sizes in 10^-6 kg/m³: 1 lb/ft³ = 0.453 592 37 kg / (0.3048 m)³ = 16.018 463 kg/m³.
const DENSITY: Quantity = Quantity {
    name: "density",
    units: &[
        unit(&["lb/ft3", "lb/ft³", "lb/cu ft", "pcf"], 16_018_463, Inch),
        unit(&["kg/m3", "kg/m³"], 1_000_000, Metric),
    ],
    listed: "lb/ft3, kg/m3",
    bare: [0, 1],
    most: 100_000_000_000,
    limit: "100 000 kg/m³",
};

/// A density in kg/m³.
///
/// # Errors
/// If it is none, or over 100 000 kg/m³.
pub fn density(text: &str, units: UnitSystem) -> Result<f64, ParseError> {
    DENSITY.scaled(text, units, 1e6)
}

impl Quantity {
    /// The sum of the terms of `text` in the smallest unit, and the terms.
    fn sum(&self, text: &str, units: UnitSystem) -> Result<(Ratio, Vec<Term>), ParseError> {
        let terms = terms(text)?;
        let mut sum = Ratio::whole(0);
        let mut before: Option<&Unit> = None;
        for term in &terms {
            let unit = self.unit_of(term, before, units)?;
            let part = self.checked(term.figure.times(unit.size))?;
            sum = self.checked(sum.plus(part))?;
            before = Some(unit);
        }
        Ok((sum, terms))
    }

    /// The unit of one term: its own, or what a bare number means after `before`.
    fn unit_of(
        &self,
        term: &Term,
        before: Option<&Unit>,
        units: UnitSystem,
    ) -> Result<&Unit, ParseError> {
        let bare = &self.units[self.bare[usize::from(units == Metric)]];
        let Some((name, at)) = &term.unit else {
            return match before {
                None => Ok(bare),
                Some(before) => self.implied_after(before).ok_or_else(|| self.out_of_order(term)),
            };
        };
        let unit = self.find(name).ok_or_else(|| ParseError::UnknownUnit {
            at: at.clone(),
            found: name.clone(),
            quantity: self.name,
            units: self.listed,
        })?;
        match before {
            Some(before) if unit.system != before.system || unit.size.over >= before.size.over => {
                Err(ParseError::UnitOrder { at: at.clone(), found: name.clone() })
            }
            _ => Ok(unit),
        }
    }

    /// What a bare number means after a unit: inches after feet, ounces after pounds, else nothing.
    fn implied_after(&self, before: &Unit) -> Option<&Unit> {
        match *before.names.first()? {
            "ft" => self.find("in"),
            "lb" => self.find("oz"),
            _ => None,
        }
    }

    fn out_of_order(&self, term: &Term) -> ParseError {
        ParseError::UnitOrder { at: term.at.clone(), found: "a number without a unit".into() }
    }

    fn find(&self, name: &str) -> Option<&Unit> {
        let name = name.to_lowercase();
        self.units.iter().find(|unit| unit.names.contains(&name.as_str()))
    }

    fn checked<T>(&self, value: Option<T>) -> Result<T, ParseError> {
        value.ok_or(ParseError::TooLarge { limit: self.limit })
    }

    fn within(&self, whole: i128) -> Result<(), ParseError> {
        let fits = whole.checked_abs().is_some_and(|size| size <= self.most);
        self.checked(fits.then_some(()))
    }

    /// A whole number within the quantity's limit.
    fn held(&self, whole: i128) -> Result<i64, ParseError> {
        self.within(whole)?;
        self.checked(i64::try_from(whole).ok())
    }

    /// The quantity as a float, a `per`th of its smallest unit.
    fn scaled(&self, text: &str, units: UnitSystem, per: f64) -> Result<f64, ParseError> {
        let (sum, _) = self.sum(text, units)?;
        self.within(sum.rounded())?;
        Ok(sum.to_f64() / per)
    }
}
