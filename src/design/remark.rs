//! Sentences whose quantities keep their type until somebody reads them.

use crate::units::physics::{Force, Kilograms, Metres, Stress};

/// A piece of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Phrase {
    /// Words, and numbers without a unit.
    Text(String),
    /// A length.
    Length(Metres),
    /// A mass.
    Mass(Kilograms),
    /// A force.
    Force(Force),
    /// A stress or a modulus.
    Stress(Stress),
}

/// What is said beside a number: clauses parted by semicolons. Worded in the reader's units by `report`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Remark(pub Vec<Phrase>);

impl Remark {
    /// This and more behind it.
    #[must_use]
    pub fn and(mut self, more: impl Into<Self>) -> Self {
        self.0.extend(more.into().0);
        self
    }
}

impl From<&str> for Phrase {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Phrase {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Metres> for Phrase {
    fn from(length: Metres) -> Self {
        Self::Length(length)
    }
}

impl From<Kilograms> for Phrase {
    fn from(mass: Kilograms) -> Self {
        Self::Mass(mass)
    }
}

impl From<Force> for Phrase {
    fn from(force: Force) -> Self {
        Self::Force(force)
    }
}

impl From<Stress> for Phrase {
    fn from(stress: Stress) -> Self {
        Self::Stress(stress)
    }
}

impl<T: Into<Phrase>> From<T> for Remark {
    fn from(one: T) -> Self {
        Self(vec![one.into()])
    }
}
