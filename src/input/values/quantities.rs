//! Numbers with a unit: lengths, weights, forces and the like.

use schemars::{Schema, SchemaGenerator, json_schema};

use crate::input::fault::{Code, Fault};
use crate::input::reader::{At, Node, Reading, Reads, short, written};
use crate::scenario::Measured;
use crate::units::parse::{self, ParseError};
use crate::units::{Area, Length, Mass, Money, UnitSystem, Volume};

/// Reads a number or text as a quantity, or records what is wrong with it.
fn quantity<T>(
    node: &Node<'_>,
    key: &str,
    reading: &mut Reading,
    expects: &str,
    parse: impl FnOnce(&str, UnitSystem) -> Result<T, ParseError>,
) -> Option<T> {
    let Some(text) = written(node.get_ref()) else {
        reading.wrong_type(node, key, expects);
        return None;
    };
    match parse(&text, reading.units) {
        Ok(value) => Some(value),
        Err(wrong) => {
            let span = reading.place_in(node.span(), &text, wrong.place());
            let message = format!("`{}` is not {expects}: {wrong}", short(&text));
            let fault = Fault::at(Code::Unreadable, span, message);
            reading.fault(match wrong.cure() {
                Some(cure) => fault.help(cure),
                None => fault.help(format!("`{key}` should be {expects}")),
            });
            None
        }
    }
}

/// Implements [`Reads`] for quantities.
macro_rules! quantities {
    ($($type:ty, $expects:literal, $examples:tt, $parse:expr;)+) => {$(
        impl Reads for $type {
            const EXPECTS: &'static str = $expects;

            fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
                quantity(node, key, reading, Self::EXPECTS, $parse)
            }

            fn schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "description": Self::EXPECTS,
                    "type": ["number", "string"],
                    "examples": $examples,
                })
            }
        }
    )+};
}

/// A force in newtons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Newtons(pub f64);

/// A modulus of elasticity in pascals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Pascals(pub f64);

/// A load per area in pascals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Pressure(pub f64);

/// A density in kg/m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Density(pub f64);

/// An angle in thousandths of a degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Millidegrees(pub i32);

/// A number in thousandths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Thousandths(pub i64);

/// A plain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Number(pub f64);

quantities! {
    Length, "a length", ["75 1/4", "6 ft 3 in", "190 mm", 0.75], parse::length;
    Mass, "a weight", ["11 lb 4 oz", "4.5 kg", 11], parse::mass;
    Volume, "a volume", ["2 gal", "1.5 L", "1 cu ft"], parse::volume;
    Money, "a price", [38.5], |text, _| parse::money(text);
    Newtons, "a force", ["33 lbf", "150 N"], |text, units| parse::newtons(text, units).map(Newtons);
    Pascals, "a modulus of elasticity", ["1.4e6 psi", "8 GPa"],
        |text, units| parse::pascals(text, units).map(Pascals);
    Pressure, "a load per area", ["40 psf", "2 kPa"],
        |text, units| parse::pressure(text, units).map(Pressure);
    Density, "a density", ["36 lb/ft3", "700 kg/m3"],
        |text, units| parse::density(text, units).map(Density);
    Millidegrees, "an angle in degrees", [1.5], |text, _| parse::millidegrees(text).map(Millidegrees);
    Thousandths, "a number", [5], |text, _| parse::thousandths(text).map(Thousandths);
    Number, "a number", [3], |text, _| parse::number(text).map(Number);
}

/// `75 1/4`, `75 1/4 ± 1/8`, or `{ at = "75 1/4", tol = "1/8" }`.
impl Reads for Measured {
    const EXPECTS: &'static str = "a length";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(table) = node.get_ref().as_table() else {
            let (at, tol) = quantity(node, key, reading, Self::EXPECTS, parse::with_tolerance)?;
            return Some(Self { at, tol });
        };
        reading.refuse_unknown_keys(table, &node.span(), &["at", "tol"]);
        let at = reading.field::<Length>(table, &node.span(), "at", true);
        let tol = reading.field::<Length>(table, &node.span(), "tol", false);
        let tol = tol.map_or(Length::ZERO, |tol| tol.value);
        Some(Self { at: at?.value, tol })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let length = Length::schema(generator);
        json_schema!({
            "anyOf": [
                length,
                {
                    "type": "object",
                    "properties": { "at": length, "tol": length },
                    "required": ["at"],
                    "additionalProperties": false,
                },
            ],
        })
    }
}

/// An area, or the two sides of one.
impl Reads for Area {
    const EXPECTS: &'static str = "an area";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        if node.get_ref().is_array() {
            let [one, other] = <[At<Length>; 2]>::read(node, key, reading)?;
            return Some(one.value.by(other.value));
        }
        quantity(node, key, reading, Self::EXPECTS, parse::area)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let sides = <[At<Length>; 2]>::schema(generator);
        json_schema!({ "anyOf": [{ "type": ["number", "string"], "examples": ["30 sq ft"] }, sides] })
    }
}
