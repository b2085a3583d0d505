//! One quantity by itself, as a person typed it.

use crate::units::{Length, UnitSystem, parse};

/// A length and what it may be out by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeasuredLength {
    /// The length.
    pub at: Length,
    /// How far it may be out either way.
    pub tolerance: Length,
}

/// What is wrong with a quantity, and what would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// What is wrong.
    pub what: String,
    /// What would do instead, if that is known.
    pub cure: Option<String>,
}

/// A length as in a scenario: `6 ft 3 in`, `75 1/4 ± 1/8`.
///
/// # Errors
/// In the words that a scenario's faults have.
pub fn length(text: &str, units: UnitSystem) -> Result<MeasuredLength, Unreadable> {
    match parse::with_tolerance(text, units) {
        Ok((at, tolerance)) => Ok(MeasuredLength { at, tolerance }),
        Err(wrong) => Err(Unreadable {
            what: format!("`{}` is not a length: {wrong}", super::reader::short(text)),
            cure: wrong.cure(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_read_as_in_a_file() {
        let read = length("6 ft 3 in ± 1/8", UnitSystem::Inch).expect("a length");
        assert_eq!((read.at, read.tolerance), (Length::inches(75, 1), Length::inches(1, 8)));
        let wrong = length("1/3 in", UnitSystem::Inch).expect_err("no third of an inch");
        assert!(wrong.cure.is_some_and(|cure| cure.contains("21/64 in")));
    }
}
