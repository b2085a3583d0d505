//! Why a structure was discarded: typed, with numbers; `report` words it.

use std::collections::BTreeMap;

use crate::design::Content;
use crate::design::derive::Misfit;
use crate::mechanics::fits::FitOf;
use crate::units::Length;

/// Why no design came of a structure.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Its dimensions do not go into the bed.
    Misfit(Misfit),
    /// Something that must be stowed is larger than any of its drawers, however turned.
    GearTooLarge {
        /// What it is.
        content: Content,
        /// The dimension that fails.
        dimension: Dimension,
        /// By how much.
        by: Length,
    },
    /// Not every copy of what must be stowed found room.
    MustLeftOut {
        /// The first such thing.
        content: Content,
        /// How many of its copies are left.
        copies: u32,
        /// Whether it is proved that they cannot be stowed.
        proved: bool,
    },
    /// The parts cannot be cut from the stock that can be had.
    NotCut {
        /// The material that does not reach.
        material: crate::scenario::MaterialId,
        /// What a part exceeds the largest piece by; nothing if it is the number of pieces that does not reach.
        by: Option<Length>,
    },
    /// A limit of the aims is exceeded.
    OverLimit {
        /// Which.
        limit: LimitKind,
        /// What the design needs.
        value: f64,
        /// What is allowed.
        most: f64,
    },
    /// A fit does not hold as surely as is demanded.
    Loose {
        /// Which fit.
        of: FitOf,
        /// What it lacks at worst case.
        by: Length,
    },
    /// A check fails.
    CheckFails {
        /// The check's name.
        name: String,
        /// What was found.
        value: f64,
        /// What is allowed.
        limit: f64,
        /// Unit of both.
        unit: &'static str,
    },
}

/// A dimension of a thing that does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dimension {
    /// Up.
    Height,
    /// Along the drawer.
    Length,
    /// Across the drawer.
    Width,
}

/// A hard limit of the aims.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LimitKind {
    /// Money.
    Cost,
    /// The empty chest, kg.
    Mass,
}

/// Kinds of reason, for counting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ReasonKind {
    /// The chest would be too high.
    Height,
    /// Too little length.
    Length,
    /// Drawers too narrow.
    Width,
    /// Drawers too low.
    DrawerHeight,
    /// Drawers that are not as decided.
    Decided,
    /// No member for a seam.
    Seam,
    /// No stock.
    Stock,
    /// No wells to stand above.
    Wells,
    /// Something that must be stowed does not fit.
    Must,
    /// A limit of the aims.
    Limit,
    /// A check.
    Check,
    /// A fit.
    Fit,
}

impl Reason {
    /// Its kind.
    pub fn kind(&self) -> ReasonKind {
        match self {
            Self::Misfit(misfit) => match misfit {
                Misfit::TooHigh { .. } => ReasonKind::Height,
                Misfit::TooShort { .. } | Misfit::HandleRoom { .. } => ReasonKind::Length,
                Misfit::TooNarrow { .. } | Misfit::WidthsDoNotAdd { .. } => ReasonKind::Width,
                Misfit::TooLow { .. } => ReasonKind::DrawerHeight,
                Misfit::DecidedHeight { .. } | Misfit::DecidedWidths { .. } => ReasonKind::Decided,
                Misfit::SeamOffMember { .. } => ReasonKind::Seam,
                Misfit::NoStock { .. } => ReasonKind::Stock,
                Misfit::NoWells => ReasonKind::Wells,
            },
            Self::GearTooLarge { .. } | Self::MustLeftOut { .. } => ReasonKind::Must,
            Self::NotCut { .. } => ReasonKind::Stock,
            Self::OverLimit { .. } => ReasonKind::Limit,
            Self::Loose { .. } => ReasonKind::Fit,
            Self::CheckFails { .. } => ReasonKind::Check,
        }
    }

    /// How far from standing: the smaller the nearer, comparable only within a kind.
    fn distance(&self) -> f64 {
        match self {
            Self::Misfit(
                Misfit::TooHigh { by }
                | Misfit::TooShort { by }
                | Misfit::HandleRoom { by }
                | Misfit::TooNarrow { by, .. }
                | Misfit::TooLow { by, .. },
            )
            | Self::GearTooLarge { by, .. } => by.to_mm(),
            Self::Misfit(
                Misfit::DecidedHeight { has: a, wanted: b, .. }
                | Misfit::DecidedWidths { taken: a, room: b, .. },
            ) => a.abs_diff(*b).to_mm(),
            Self::Misfit(_) => 0.0,
            Self::NotCut { by, .. } => by.map_or(0.0, Length::to_mm),
            Self::MustLeftOut { copies, .. } => f64::from(*copies),
            Self::OverLimit { value, most, .. } => value - most,
            Self::Loose { by, .. } => by.to_mm(),
            Self::CheckFails { value, limit, .. } => (value - limit).abs(),
        }
    }
}

/// How many structures each kind of reason discarded, with the nearest miss of the kind.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Discarded(BTreeMap<ReasonKind, (u64, Option<Reason>)>);

impl Discarded {
    /// Counts one more.
    pub fn add(&mut self, reason: Reason) {
        let (count, nearest) = self.0.entry(reason.kind()).or_default();
        *count += 1;
        if nearest.as_ref().is_none_or(|old| reason.distance() < old.distance()) {
            *nearest = Some(reason);
        }
    }

    /// Each kind with its count and its nearest miss.
    pub fn iter(&self) -> impl Iterator<Item = (ReasonKind, u64, &Reason)> {
        self.0
            .iter()
            .filter_map(|(kind, (count, nearest))| Some((*kind, *count, nearest.as_ref()?)))
    }

    /// How many in all.
    pub fn total(&self) -> u64 {
        self.0.values().map(|(count, _)| count).sum()
    }

    /// The reason to show when nothing stands: of the kind met last on the way from bed to finished design, the nearest miss,
    /// since what got furthest is nearest to standing.
    pub fn nearest(&self) -> Option<&Reason> {
        const LAST_FIRST: [ReasonKind; 12] = [
            ReasonKind::Limit,
            ReasonKind::Fit,
            ReasonKind::Check,
            ReasonKind::Must,
            ReasonKind::Seam,
            ReasonKind::Stock,
            ReasonKind::Decided,
            ReasonKind::Height,
            ReasonKind::DrawerHeight,
            ReasonKind::Width,
            ReasonKind::Length,
            ReasonKind::Wells,
        ];
        LAST_FIRST.iter().find_map(|kind| self.0.get(kind)?.1.as_ref())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn too_high(mm: i64) -> Reason {
        Reason::Misfit(Misfit::TooHigh { by: Length::mm(mm) })
    }

    #[test]
    fn the_nearest_miss_of_the_furthest_stage_is_shown() {
        let mut discarded = Discarded::default();
        discarded.add(too_high(30));
        discarded.add(too_high(9));
        discarded.add(too_high(12));
        assert_eq!(discarded.total(), 3);
        assert_eq!(discarded.nearest(), Some(&too_high(9)));
        let over = Reason::OverLimit { limit: LimitKind::Cost, value: 610.0, most: 600.0 };
        discarded.add(over.clone());
        assert_eq!(discarded.nearest(), Some(&over));
    }
}
