//! Money as whole ten-thousandths of the scenario's currency.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// An amount in ten-thousandths of the scenario's currency, so that a screw's price is exact too.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(i64);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// One of the currency's main unit.
    pub const ONE: Self = Self(10_000);

    /// An amount of `parts` ten-thousandths.
    pub const fn from_parts(parts: i64) -> Self {
        Self(parts)
    }

    /// The number of ten-thousandths.
    pub const fn parts(self) -> i64 {
        self.0
    }

    /// The amount in main units; the shortest decimal of this float is the exact one.
    pub fn to_units(self) -> f64 {
        self.0 as f64 / Self::ONE.0 as f64
    }
}

/// To the hundredth, halves away from zero: `38.50`.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = (self.0.abs() + 50) / 100;
        let sign = if self.0 < 0 && hundredths > 0 { "-" } else { "" };
        f.pad(&format!("{sign}{}.{:02}", hundredths / 100, hundredths % 100))
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Mul<i64> for Money {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}
