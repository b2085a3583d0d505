//! Why a text is not the quantity it should be.

use std::ops::Range;

use thiserror::Error;

/// Why a text could not be read as a quantity. Places are byte ranges of the text.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ParseError {
    /// There is nothing in it.
    #[error("there is nothing here")]
    Empty,
    /// It is longer than any quantity.
    #[error("{bytes} bytes are too many for a measurement (at most {limit})")]
    TooLong {
        /// Its length.
        bytes: usize,
        /// The most that is read.
        limit: usize,
    },
    /// Something stands where it makes no sense.
    #[error("`{found}` makes no sense here")]
    Unexpected {
        /// Where it stands.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
    /// It ends, or goes on, where a number must stand.
    #[error("a number is missing")]
    NoNumber {
        /// Where it is missing.
        at: Range<usize>,
    },
    /// A decimal comma, or a comma between thousands: which, nobody can tell.
    #[error("a comma may mean thousands or decimals")]
    Comma {
        /// Where it stands.
        at: Range<usize>,
    },
    /// A fraction over nothing.
    #[error("nothing can be divided by zero")]
    OverZero {
        /// Where the zero stands.
        at: Range<usize>,
    },
    /// A unit that is not known, or measures something else.
    #[error("`{found}` is not a unit of {quantity}")]
    UnknownUnit {
        /// Where it stands.
        at: Range<usize>,
        /// What stands there.
        found: String,
        /// What was to be measured.
        quantity: &'static str,
        /// The units that would do.
        units: &'static str,
    },
    /// Larger unit after smaller, one twice, or inches with metres.
    #[error("`{found}` cannot follow what stands before it")]
    UnitOrder {
        /// Where the second unit stands.
        at: Range<usize>,
        /// The second unit.
        found: String,
    },
    /// No whole number of the finest step; read exactly or not at all.
    #[error("this falls between {below} and {above}")]
    TooFine {
        /// The next below that would do, as text that can be read.
        below: String,
        /// The next above that would do.
        above: String,
    },
    /// More digits, or a larger number, than can be held.
    #[error("this is beyond what can be held ({limit})")]
    TooLarge {
        /// What can be held, for people.
        limit: &'static str,
    },
}

impl ParseError {
    /// Which bytes of the text are at fault; `None` for all of it.
    pub fn place(&self) -> Option<Range<usize>> {
        match self {
            Self::Unexpected { at, .. }
            | Self::NoNumber { at }
            | Self::Comma { at }
            | Self::OverZero { at }
            | Self::UnknownUnit { at, .. }
            | Self::UnitOrder { at, .. } => Some(at.clone()),
            Self::Empty | Self::TooLong { .. } | Self::TooFine { .. } | Self::TooLarge { .. } => {
                None
            }
        }
    }

    /// What would do instead, where that can be told from the text alone.
    pub fn cure(&self) -> Option<String> {
        match self {
            Self::UnknownUnit { units, .. } => Some(format!("use one of {units}")),
            Self::Comma { .. } => {
                Some("write decimals with a point, thousands with nothing".into())
            }
            Self::TooFine { below, above } => Some(format!("write {below} or {above}")),
            Self::UnitOrder { .. } => {
                Some("go from the larger unit to the smaller, each once, all of one system".into())
            }
            _ => None,
        }
    }
}
