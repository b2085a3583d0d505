//! What is decided already: the explorer completes the rest.

use std::fmt;

use super::ids::MaterialId;
use crate::units::Length;

/// Decisions on tiers and drawers. Where a thing must stand is told beside the thing itself.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Decided {
    /// No two for the same tier.
    pub tiers: Vec<DecidedTier>,
    /// No two for the same drawer.
    pub drawers: Vec<DecidedDrawer>,
}

/// What is decided of one tier. It goes before what the lists of choices say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DecidedTier {
    /// Which, from 0 at the bottom.
    pub tier: u32,
    /// How many drawers side by side; 1 to 4.
    pub columns: Option<u32>,
    /// What its members are made of.
    pub member: Option<MaterialId>,
}

/// A drawer that there has to be, and what is decided of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DecidedDrawer {
    /// Its tier, from 0 at the bottom.
    pub tier: u32,
    /// Its column, from 0 at the left.
    pub column: u32,
    /// Its inside width.
    pub width: Option<Length>,
    /// Its clear inside height.
    pub height: Option<Length>,
}

impl DecidedTier {
    /// `A` is the lowest.
    pub fn name(&self) -> String {
        tier_letter(self.tier)
    }
}

impl DecidedDrawer {
    /// `A1` is the leftmost of the lowest tier.
    pub fn name(&self) -> String {
        drawer_name(self.tier, self.column)
    }
}

/// A tier's letter, from 0 at the bottom: `A`.
pub fn tier_letter(tier: u32) -> String {
    char::from(b'A' + u8::try_from(tier.min(25)).unwrap_or(25)).to_string()
}

/// A drawer's name, tier and column from 0: `A1`.
pub fn drawer_name(tier: u32, column: u32) -> String {
    format!("{}{}", tier_letter(tier), column + 1)
}

impl Decided {
    /// Whether nothing is.
    pub fn is_empty(&self) -> bool {
        self.tiers.is_empty() && self.drawers.is_empty()
    }

    /// How many columns a tier must have.
    pub fn columns(&self, tier: usize) -> Option<u32> {
        self.tiers.iter().find(|decided| decided.tier as usize == tier)?.columns
    }

    /// What a tier's members must be made of.
    pub fn member(&self, tier: usize) -> Option<MaterialId> {
        self.tiers.iter().find(|decided| decided.tier as usize == tier)?.member
    }

    /// The decided inside width of a drawer.
    pub fn width(&self, tier: usize, column: u32) -> Option<Length> {
        let of = |drawer: &&DecidedDrawer| drawer.tier as usize == tier && drawer.column == column;
        self.drawers.iter().find(of)?.width
    }

    /// The decided clear heights of a tier's drawers.
    pub fn heights(&self, tier: usize) -> impl Iterator<Item = Length> {
        let of = self.drawers.iter().filter(move |drawer| drawer.tier as usize == tier);
        of.filter_map(|drawer| drawer.height)
    }

    /// How many tiers there have to be at least.
    pub fn least_tiers(&self) -> u32 {
        let tiers = self.tiers.iter().map(|decided| decided.tier);
        let drawers = self.drawers.iter().map(|drawer| drawer.tier);
        tiers.chain(drawers).max().map_or(0, |last| last + 1)
    }

    /// How many columns a tier has to have at least.
    pub fn least_columns(&self, tier: usize) -> u32 {
        let of = self.drawers.iter().filter(|drawer| drawer.tier as usize == tier);
        of.map(|drawer| drawer.column + 1).max().unwrap_or(1)
    }
}

/// Where a thing must stand, all its copies.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// In a drawer of this tier, from 0 at the bottom.
    pub tier: Option<u32>,
    /// In a drawer of this column.
    pub column: Option<ColumnAt>,
    /// At this end of its drawer: nothing that need not be there stands between.
    pub end: Option<End>,
}

/// Which column of a tier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ColumnAt {
    /// From 0 at the left.
    FromLeft(u32),
    /// The rightmost.
    Right,
}

/// An end of a drawer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// The front, by the tailgate or hatch.
    Tailgate,
    /// The back, toward the cab.
    Cab,
}

impl ColumnAt {
    /// Its number from 0 at the left among so many columns; `None` if there is no such column.
    pub fn among(self, columns: u32) -> Option<u32> {
        match self {
            Self::FromLeft(column) => (column < columns).then_some(column),
            Self::Right => columns.checked_sub(1),
        }
    }
}

/// In the words of a scenario file: `A1`, `A right`, `left`; empty where no drawer is named.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match (self.tier, self.column) {
            (None, None) => String::new(),
            (Some(tier), None) => tier_letter(tier),
            (Some(tier), Some(ColumnAt::FromLeft(column))) => drawer_name(tier, column),
            (Some(tier), Some(ColumnAt::Right)) => format!("{} right", tier_letter(tier)),
            (None, Some(ColumnAt::FromLeft(0))) => "left".to_owned(),
            // No scenario file says so, and a scenario made in Rust may.
            (None, Some(ColumnAt::FromLeft(column))) => format!("column {}", column + 1),
            (None, Some(ColumnAt::Right)) => "right".to_owned(),
        };
        f.pad(&text)
    }
}

impl Place {
    /// Whether a thing that must stand here may stand in some drawer of this tier with so many columns.
    pub fn allows(&self, tier: usize, columns: u32) -> bool {
        self.tier.is_none_or(|only| only as usize == tier)
            && self.column.is_none_or(|column| column.among(columns).is_some())
    }
}
