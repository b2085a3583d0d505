//! Exact lengths, areas, volumes, masses and money, typed forces; parsing and showing them.
//!
//! Geometry is exact: a [`Length`] is a whole number of 12.5 nm, in which the millimetre, the
//! thousandth of a millimetre, the 1/128 inch and the thousandth of an inch are whole numbers.
//! What people write is read exactly or refused; nothing is rounded on the way in.

mod length;
mod mass;
mod money;
pub mod parse;
pub mod physics;
mod show;

pub use length::{Area, Length, Volume};
pub use mass::Mass;
pub use money::Money;

/// How a person writes and reads lengths: inches with fractions, or millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UnitSystem {
    /// Inches and pounds.
    Inch,
    /// Millimetres and kilograms.
    Metric,
}
