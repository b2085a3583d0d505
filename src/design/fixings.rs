//! How the chest is screwed together and held down.

use crate::scenario::{Fastening, Scenario};

/// Screws and hold-downs of a design: the usual ones, or more where a check asks for more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fixings {
    /// Along the chest's seams.
    pub chest: Seams,
    /// Along the drawers' seams.
    pub drawer: Seams,
    /// Bolts through the bottom panel into the bed.
    pub hold_downs: u32,
}

/// Screws along seams of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seams {
    /// Screw gauge: its shank is 0.060 + 0.013 · gauge inches.
    pub gauge: u32,
    /// Spacing and end distance; no coarser than the scenario's.
    pub fastening: Fastening,
}

/// The fewest hold-downs (common practice, no source: one near each corner).
pub const LEAST_HOLD_DOWNS: u32 = 4;

impl Fixings {
    /// What is taken where no check asks for more: No. 8 in the chest and No. 6 in the drawers (common practice, no source)
    /// at the scenario's spacing, four hold-downs.
    pub fn usual(scenario: &Scenario) -> Self {
        let allow = &scenario.allowances;
        Self {
            chest: Seams { gauge: 8, fastening: allow.chest_screws },
            drawer: Seams { gauge: 6, fastening: allow.drawer_screws },
            hold_downs: LEAST_HOLD_DOWNS,
        }
    }
}
