//! Masses as whole micrograms.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// A mass in whole micrograms. Masses decide no fit, so what is finer is rounded on the way in.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(i64);

impl Mass {
    /// No mass.
    pub const ZERO: Self = Self(0);
    /// One kilogram.
    pub const KG: Self = Self(1_000_000_000);
    /// One avoirdupois pound, 0.45359237 kg exactly.
    pub const POUND: Self = Self(453_592_370);

    /// A mass of `micrograms`.
    pub const fn from_micrograms(micrograms: i64) -> Self {
        Self(micrograms)
    }

    /// The nearest mass to `kg` kilograms; nonsense (NaN, beyond range) saturates.
    pub fn from_kg(kg: f64) -> Self {
        Self((kg * Self::KG.0 as f64).round() as i64)
    }

    /// The number of micrograms.
    pub const fn micrograms(self) -> i64 {
        self.0
    }

    /// The mass in kilograms.
    pub fn to_kg(self) -> f64 {
        self.0 as f64 / Self::KG.0 as f64
    }

    /// The mass in pounds.
    pub fn to_pounds(self) -> f64 {
        self.0 as f64 / Self::POUND.0 as f64
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Mass {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Mass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Mul<i64> for Mass {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(masses: I) -> Self {
        masses.fold(Self::ZERO, Add::add)
    }
}
