//! How far sizes may be off, and what is asked of fits.

use crate::units::{Length, UnitSystem};

/// How much of the spread of sizes a design has to bear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Demanded {
    /// Nothing: what holds is told.
    Nothing,
    /// The root of the sum of squares: all but a few of many chests fit.
    Average,
    /// Every deviation at its worst at once.
    WorstCase,
}

/// How far sizes may be off either way. None is negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// What is asked of fits.
    pub demanded: Demanded,
    /// A tape measure's reading, where none is given with a measurement.
    pub tape: Length,
    /// A cut, and where a part is put.
    pub saw: Length,
    /// A sheet's thickness; of sheets over 13/16 in, a twentieth of it if that is more.
    pub sheet: Length,
    /// A board's thickness and width.
    pub board: Length,
    /// A measured thing that is stowed.
    pub gear: Length,
}

impl Tolerance {
    /// The usual values, in round figures of the unit system.
    ///
    /// Sheets: unsanded structural plywood may be 1/32 in off up to 13/16 in and a twentieth above (PS 1, Performance
    /// Categories). The others are common practice, no source.
    pub fn usual(units: UnitSystem) -> Self {
        let either = |inches: (i64, i64), tenths_of_mm: i64| match units {
            UnitSystem::Inch => Length::inches(inches.0, inches.1),
            UnitSystem::Metric => Length::mm(tenths_of_mm) / 10,
        };
        Self {
            demanded: Demanded::Nothing,
            tape: either((1, 16), 15),
            saw: either((1, 32), 8),
            sheet: either((1, 32), 5),
            board: either((1, 32), 8),
            gear: either((1, 16), 15),
        }
    }

    /// How far the thickness of a sheet may be off.
    pub fn of_sheet(&self, thickness: Length) -> Length {
        match thickness > Length::inches(13, 16) {
            true => self.sheet.max(thickness / 20),
            false => self.sheet,
        }
    }
}
