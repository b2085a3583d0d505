//! Handbook formulas and the checks built on them.
//!
//! A folder for each check ([`mod@checks`]): inputs, formula, limit, the sentence for the report, tests against published values.
//! Formulas that several checks need, and tables, stand beside them, one file per subject. Three kinds of number occur, and every doc comment says which:
//! a *published* value names its source (and says "from memory" where no page was seen); a
//! *derived* one follows from formulas in the same file; an *assumption* is a choice that the user
//! may change and that a report must show. Engineering reference, not certification: the rating of
//! a vehicle or a fastener always wins.
//!
//! To add a check: write its formula as a pure function of [`crate::units::physics`] types, test it against a source, and only
//! then give it a place among the checks of a design.

pub mod beam;
pub mod checks;
pub mod creep;
pub mod density;
pub mod fits;
pub mod governing;
#[cfg(test)]
mod handbook;
pub mod lateral;
pub mod lumber;
pub mod movement;
pub mod panel;
pub mod plate;
pub mod restraint;
pub mod screw;
pub mod section;
pub mod strip;
pub mod threshold;

pub use checks::{
    Lock, Subject, bottom_strain, checks, deck_checks, deck_refused_over, fixed,
    fixed_unless_refused, handles, lock, most_allowed, most_gear, shelf_refused, stays_in,
};
pub use governing::{Governing, Lever, governing, levers};

/// Where a number comes from, for the report that shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in the source named beside it, or in a text that quotes it.
    Published,
    /// The source is named, but the value is from memory: look it up before relying on it.
    FromMemory,
    /// Follows from formulas.
    Derived,
    /// Common practice or a choice of ours, open to change.
    Assumption,
}

#[cfg(test)]
pub(crate) mod testing {
    /// Asserts that `actual` is within `relative` of `expected`.
    #[track_caller]
    pub(crate) fn close(actual: f64, expected: f64, relative: f64) {
        let allowed = relative * expected.abs();
        assert!(
            (actual - expected).abs() <= allowed,
            "{actual} is not {expected} within {allowed}"
        );
    }

    /// Asserts that `actual` is within `absolute` of `expected`.
    #[track_caller]
    pub(crate) fn near(actual: f64, expected: f64, absolute: f64) {
        assert!(
            (actual - expected).abs() <= absolute,
            "{actual} is not {expected} within {absolute}"
        );
    }
}
