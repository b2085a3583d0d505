//! Lengths, areas and volumes as exact integers.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length in whole units of 12.5 nm.
///
/// The unit is the largest in which 1/128 in, 0.001 in and 0.001 mm are all whole numbers.
/// Additions cannot overflow for anything that a scenario may hold (up to 1 km).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// One millimetre.
    pub const MM: Self = Self(80_000);
    /// One inch, 25.4 mm exactly.
    pub const INCH: Self = Self(2_032_000);
    /// The finest inch fraction in use, 1/128 in.
    pub const INCH_128TH: Self = Self(15_875);

    /// A length of `units` × 12.5 nm.
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// The number of 12.5 nm units.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Whole millimetres.
    pub const fn mm(mm: i64) -> Self {
        Self(mm * Self::MM.0)
    }

    /// `numerator / denominator` inches.
    ///
    /// # Panics
    /// If that is not a whole number of units; meant for constants in code (1/64, 3/8 …).
    pub const fn inches(numerator: i64, denominator: i64) -> Self {
        let units = numerator * Self::INCH.0;
        assert!(units % denominator == 0, "not a whole number of units");
        Self(units / denominator)
    }

    /// The length in millimetres, for physics and for documents. The shortest decimal that reads back as
    /// this float is the exact one for every length under 10 km.
    pub fn to_mm(self) -> f64 {
        self.0 as f64 / Self::MM.0 as f64
    }

    /// The length in metres, for physics only.
    pub fn to_metres(self) -> f64 {
        self.to_mm() / 1000.0
    }

    /// The length in inches, for showing only.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / Self::INCH.0 as f64
    }

    /// The largest multiple of `step` that is no longer than this.
    pub fn floor_to(self, step: Self) -> Self {
        Self(self.0.div_euclid(step.0) * step.0)
    }

    /// The smallest multiple of `step` that is no shorter than this.
    pub fn ceil_to(self, step: Self) -> Self {
        Self(-(-self.0).div_euclid(step.0) * step.0)
    }

    /// This length, or zero if it is negative.
    pub fn or_zero(self) -> Self {
        self.max(Self::ZERO)
    }

    /// Whether it is more than nothing.
    pub fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// The distance between two lengths, however they are ordered.
    pub fn abs_diff(self, other: Self) -> Self {
        Self((self.0 - other.0).abs())
    }

    /// The area of a rectangle of this by `other`.
    pub fn by(self, other: Self) -> Area {
        Area(i128::from(self.0) * i128::from(other.0))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

/// Division into equal parts, rounding toward nothing.
impl Div<i64> for Length {
    type Output = Self;
    fn div(self, parts: i64) -> Self {
        Self(self.0 / parts)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// An exact area, in square units of (12.5 nm)².
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(i128);

impl Area {
    /// No area.
    pub const ZERO: Self = Self(0);

    /// An area of `units` square units.
    pub const fn from_units(units: i128) -> Self {
        Self(units)
    }

    /// The number of square units.
    pub const fn units(self) -> i128 {
        self.0
    }

    /// The area in square metres, for physics and ratios.
    pub fn to_square_metres(self) -> f64 {
        let metre = 1000.0 * Length::MM.0 as f64;
        self.0 as f64 / (metre * metre)
    }

    /// The volume of a prism of this area and `height`. Holds to 10^18 m³.
    pub fn by(self, height: Length) -> Volume {
        Volume(self.0 * i128::from(height.0))
    }
}

impl Add for Area {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Area {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<i64> for Area {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * i128::from(times))
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Self>>(areas: I) -> Self {
        areas.fold(Self::ZERO, Add::add)
    }
}

/// An exact volume, in cubic units of (12.5 nm)³.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(i128);

impl Volume {
    /// No volume.
    pub const ZERO: Self = Self(0);
    /// One litre, 10⁶ mm³.
    pub const LITRE: Self = Self(512_000_000_000_000_000_000);
    /// One US gallon, 231 in³ exactly.
    pub const GALLON: Self = Self(231 * 2_032_000 * 2_032_000 * 2_032_000);

    /// A volume of `units` cubic units.
    pub const fn from_units(units: i128) -> Self {
        Self(units)
    }

    /// The number of cubic units.
    pub const fn units(self) -> i128 {
        self.0
    }

    /// The volume in litres, for criteria and for showing.
    pub fn to_litres(self) -> f64 {
        self.0 as f64 / Self::LITRE.0 as f64
    }

    /// The least base area that holds this volume at `height` (rounded up); `None` if `height` is not positive.
    pub fn base_at(self, height: Length) -> Option<Area> {
        height.is_positive().then(|| Area(-((-self.0).div_euclid(i128::from(height.0)))))
    }
}

impl Add for Volume {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Volume {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<i64> for Volume {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * i128::from(times))
    }
}

impl Sum for Volume {
    fn sum<I: Iterator<Item = Self>>(volumes: I) -> Self {
        volumes.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_unit_divides_every_step_in_use() {
        assert_eq!(Length::INCH_128TH * 128, Length::INCH);
        assert_eq!(Length::INCH.units() % 1000, 0, "0.001 in");
        assert_eq!(Length::MM.units() % 1000, 0, "0.001 mm");
        assert_eq!(Length::INCH * 10, Length::mm(254));
    }

    #[test]
    fn steps_round_the_way_they_say() {
        let step = Length::inches(1, 16);
        let odd = Length::inches(75, 128);
        assert_eq!(odd.floor_to(step), Length::inches(9, 16));
        assert_eq!(odd.ceil_to(step), Length::inches(10, 16));
        assert_eq!((-odd).floor_to(step), -Length::inches(10, 16));
        assert_eq!(step.ceil_to(step), step);
    }

    #[test]
    fn millimetres_print_as_exact_decimals() {
        assert_eq!(Length::inches(15, 32).to_mm().to_string(), "11.90625");
        assert_eq!(Length::from_units(1).to_mm().to_string(), "0.0000125");
        assert_eq!(
            (Length::mm(10_000) + Length::from_units(1)).to_mm().to_string(),
            "10000.0000125"
        );
    }

    #[test]
    fn base_area_rounds_up() {
        let base = Volume::GALLON.base_at(Length::INCH * 7).expect("a positive height");
        assert_eq!(base, (Length::INCH * 33).by(Length::INCH));
        let more = (Volume::GALLON + Volume::from_units(1)).base_at(Length::INCH * 7);
        assert_eq!(more.map(Area::units), Some(base.units() + 1));
        assert_eq!(Volume::LITRE.base_at(Length::ZERO), None);
    }
}
