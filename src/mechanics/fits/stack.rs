//! Deviations stacked up: at their worst all at once, and as the root of the sum of their squares.
//!
//! A fit has a *margin*, what is left of it if every size is as drawn, and *deviations*, how far each size that it hangs on may
//! be off. It holds at worst case if the margin is no less than the sum of all deviations. Independent deviations seldom
//! conspire: if each stays within its ± as a normal variable stays within three sigma, their sum stays within the root of the
//! sum of squares as often (any text on tolerance analysis; from memory). A fit that holds so holds "on average".
//!
//! Pieces of one material are cut from pieces of the same batch: they are off together, so that their deviations add up before
//! they are squared. Sums and roots are exact integers, the root rounded up.

use crate::scenario::{GearId, LooseId, MaterialId};
use crate::units::Length;

/// Where a deviation comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// A measurement of the vehicle.
    Tape(Taped),
    /// The thickness of a material, or a board's width.
    Stock(MaterialId),
    /// A material that grows and shrinks over the year.
    Season(MaterialId),
    /// A cut, or where a part is put; each is independent of the others.
    Saw,
    /// The measured size of a thing.
    Gear(GearId),
    /// The room that loose goods take.
    Loose(LooseId),
}

/// What is measured of the vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Taped {
    /// The floor's length.
    Length,
    /// Wall to wall.
    Width,
    /// Between the wheel wells.
    BetweenWells,
    /// What the deck must stay under.
    ClearHeight,
    /// The wheel wells' height.
    WellHeight,
    /// The open tailgate's height above the floor.
    TailgateRise,
    /// The hatch opening's width.
    HatchWidth,
    /// The hatch opening's height.
    HatchHeight,
}

/// How far one size may be off, either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Deviation {
    /// Where it comes from.
    pub from: Source,
    /// How far; not negative.
    pub by: Length,
}

/// A margin and what may eat it up.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stack {
    /// What is left if all is as drawn; negative if even that does not fit.
    pub margin: Length,
    /// In the order in which they were added; those that are off together are one.
    pub deviations: Vec<Deviation>,
}

/// How surely a fit holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holds {
    /// Not even on average.
    No,
    /// On average only.
    Average,
    /// At worst case.
    WorstCase,
}

impl Stack {
    /// A margin that nothing eats up yet.
    pub fn new(margin: Length) -> Self {
        Self { margin, deviations: Vec::new() }
    }

    /// With one more deviation: what comes from the same material, measurement or thing is off together.
    #[must_use]
    pub fn with(mut self, from: Source, by: Length) -> Self {
        if !by.is_positive() {
            return self;
        }
        let together = from != Source::Saw;
        match self.deviations.iter_mut().find(|known| together && known.from == from) {
            Some(known) => known.by += by,
            None => self.deviations.push(Deviation { from, by }),
        }
        self
    }

    /// With so many cuts or places, each off on its own.
    #[must_use]
    pub fn with_cuts(mut self, cuts: usize, each: Length) -> Self {
        for _ in 0..cuts {
            self = self.with(Source::Saw, each);
        }
        self
    }

    /// The sum of all deviations.
    pub fn worst(&self) -> Length {
        self.deviations.iter().map(|deviation| deviation.by).sum()
    }

    /// The root of the sum of the squares of all deviations, rounded up.
    pub fn root_sum_square(&self) -> Length {
        let square = |deviation: &Deviation| i128::from(deviation.by.units()).pow(2);
        let sum: i128 = self.deviations.iter().map(square).sum();
        let root = sum.isqrt();
        let up = root + i128::from(root * root < sum);
        // No deviation is over a hundred metres, so that the root is far from the limits of 64 bits.
        Length::from_units(i64::try_from(up).unwrap_or(i64::MAX))
    }

    /// How surely it holds.
    pub fn holds(&self) -> Holds {
        if self.margin >= self.worst() {
            Holds::WorstCase
        } else if self.margin >= self.root_sum_square() {
            Holds::Average
        } else {
            Holds::No
        }
    }

    /// The largest deviation.
    pub fn largest(&self) -> Option<Deviation> {
        self.deviations.iter().copied().reduce(|a, b| if b.by > a.by { b } else { a })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(numerator: i64, denominator: i64) -> Length {
        Length::inches(numerator, denominator)
    }

    /// Four parts of ± 0.5 mm in a row: ± 2 mm at worst, ± 1 mm as a root of squares, exactly.
    #[test]
    fn four_equal_deviations_halve() {
        let stack = Stack::new(Length::mm(1)).with_cuts(4, Length::mm(1) / 2);
        assert_eq!((stack.worst(), stack.root_sum_square()), (Length::mm(2), Length::mm(1)));
        assert_eq!(stack.holds(), Holds::Average);
        assert_eq!(Stack { margin: Length::mm(2), ..stack.clone() }.holds(), Holds::WorstCase);
        let hair = Length::from_units(1);
        assert_eq!(Stack { margin: Length::mm(1) - hair, ..stack }.holds(), Holds::No);
    }

    /// 3, 4 and 12 give 13.
    #[test]
    fn squares_add_up() {
        let (a, b, c) = (Taped::Length, Taped::Width, Taped::ClearHeight);
        let stack = Stack::new(Length::ZERO)
            .with(Source::Tape(a), Length::mm(3))
            .with(Source::Tape(b), Length::mm(4))
            .with(Source::Tape(c), Length::mm(12));
        assert_eq!(stack.root_sum_square(), Length::mm(13));
        assert_eq!(stack.largest().map(|one| one.from), Some(Source::Tape(c)));
        assert_eq!(stack.holds(), Holds::No);
    }

    #[test]
    fn pieces_of_one_material_are_off_together_and_cuts_are_not() {
        let ply = Source::Stock(MaterialId(2));
        let stack = Stack::new(inch(1, 4)).with(ply, inch(1, 32)).with(ply, inch(1, 32));
        assert_eq!(stack.deviations.len(), 1);
        assert_eq!(stack.root_sum_square(), inch(1, 16));
        let cuts = Stack::new(inch(1, 4)).with_cuts(2, inch(1, 32));
        assert!(cuts.root_sum_square() < inch(1, 16) && cuts.worst() == inch(1, 16));
        // The root is rounded up, never down.
        let units = cuts.root_sum_square().units();
        let square = i128::from(units).pow(2);
        assert!(square >= 2 * i128::from(inch(1, 32).units()).pow(2));
    }

    #[test]
    fn a_fit_without_deviations_holds_at_nothing_left() {
        assert_eq!(Stack::new(Length::ZERO).holds(), Holds::WorstCase);
        assert_eq!(Stack::new(Length::from_units(-1)).holds(), Holds::No);
    }
}
