//! Reading quantities as people write them, exactly.
//!
//! Every figure is read as a ratio of two whole numbers; no float is involved until a quantity that
//! is a float inside (force, modulus, density) is done. A length that is no whole number of 12.5 nm is refused
//! together with the two nearest that would do. Nothing here panics: arithmetic is checked, and
//! texts over [`LONGEST_TEXT`] bytes are refused before they are looked at.
//!
//! | read | by | bare numbers are |
//! | --- | --- | --- |
//! | `6 ft 3 in`, `6' 3 1/2"`, `75-1/4`, `¾`, `19 cm` | [`length`] | inches or millimetres |
//! | `50 3/4 ± 1/8` | [`with_tolerance`] | the same |
//! | `11 lb 4 oz`, `4.5 kg` | [`mass`] | pounds or kilograms |
//! | `2 gal`, `1.5 L`, `1 cu ft` | [`volume`] | US gallons or litres |
//! | `32 sq ft`, `3 m2` | [`area`] | square feet or square metres |
//! | `38.50` | [`money`] | the scenario's currency |
//! | `33 lbf`, `150 N` | [`newtons`] | pounds-force or newtons |
//! | `1.4e6 psi`, `8 GPa` | [`pascals`] | psi or MPa |
//! | `28 lb/ft3`, `450 kg/m3` | [`density`] | lb/ft³ or kg/m³ |
//! | `2.5`, `2.5°` | [`millidegrees`] | degrees |
//! | `5`, `2 1/2` | [`number`], [`thousandths`] | themselves |

mod error;
mod quantity;
mod ratio;
#[cfg(test)]
mod tests;
mod token;

pub use error::ParseError;
pub use quantity::{
    area, density, length, mass, millidegrees, money, newtons, number, pascals, pressure,
    thousandths, volume, with_tolerance,
};

/// Longer texts are refused unread: no quantity takes as much.
pub const LONGEST_TEXT: usize = 80;
