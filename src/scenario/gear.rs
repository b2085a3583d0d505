//! What must be stowed.

use super::decided::Place;
use crate::units::{Length, Mass, Volume};

/// Which ways a thing may be turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    /// As it stands, its first size along the drawer (y).
    Fixed,
    /// Spun about the vertical: first and second size may swap.
    Base,
    /// Any of its six ways.
    Any,
}

/// Whether a thing has to be stowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Demand {
    /// Every copy has to fit; it has no worth.
    Must,
    /// Each copy stowed is worth this many thousandths of a point.
    Worth(i64),
}

/// A thing with a shape, and how many there are of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Gear {
    /// Its name, unique in the scenario.
    pub name: String,
    /// As it stands: length, width, height. All positive.
    pub size: [Length; 3],
    /// Mass of one.
    pub mass: Mass,
    /// How many; at least one, at most 1000.
    pub count: u32,
    /// How it may be turned.
    pub turn: Turn,
    /// Whether it has to fit.
    pub demand: Demand,
    /// Thousandths of uses per week.
    pub uses_milli: i64,
    /// Gear of one group stays in one drawer where it can.
    pub near: Option<String>,
    /// Copies of it may share a cell with no divider between.
    pub share: bool,
    /// How many of its own kind may stand on one another, itself included; at least one. Each stands wholly within the
    /// outline of the one under it.
    pub stack: u32,
    /// Free room kept around it on every side, and above: its own, not shared with its neighbours' or with a divider. Copies
    /// stacked on one another may do without between them.
    pub padding: Length,
    /// Whether it may live in a side pocket beside the wheel wells.
    pub pocket: bool,
    /// Where it must stand, if that is decided: all its copies then have to fit there, and never in a pocket.
    pub place: Option<Place>,
}

impl Gear {
    /// The ways it may stand, as (along x, along y, along z), each once, without its padding.
    pub fn stances(&self) -> Vec<[Length; 3]> {
        stances_of(self.size, self.turn)
    }
}

/// The ways a thing of `size` (length, width, height as it stands) may stand, as (along x, along y, along z), each once.
pub fn stances_of(size: [Length; 3], turn: Turn) -> Vec<[Length; 3]> {
    let [length, width, height] = size;
    let mut ways = match turn {
        Turn::Fixed => vec![[width, length, height]],
        Turn::Base => vec![[width, length, height], [length, width, height]],
        Turn::Any => vec![
            [width, length, height],
            [length, width, height],
            [width, height, length],
            [height, width, length],
            [length, height, width],
            [height, length, width],
        ],
    };
    let mut seen = Vec::with_capacity(ways.len());
    ways.retain(|way| {
        !seen.contains(way) && {
            seen.push(*way);
            true
        }
    });
    ways
}

/// What has a volume and no shape: screws, rope, gloves.
#[derive(Debug, Clone, PartialEq)]
pub struct Loose {
    /// Its name, unique in the scenario.
    pub name: String,
    /// How much room it takes. Positive.
    pub volume: Volume,
    /// No side of its cell may be under this. Positive.
    pub least: Length,
    /// Its mass.
    pub mass: Mass,
    /// Whether it has to fit.
    pub demand: Demand,
    /// Thousandths of uses per week.
    pub uses_milli: i64,
    /// Gear of one group stays in one drawer where it can.
    pub near: Option<String>,
    /// Where it must stand, if that is decided: it then has to fit there.
    pub place: Option<Place>,
}
