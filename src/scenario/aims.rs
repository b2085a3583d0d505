//! What the user wants: weights and hard limits.

use crate::units::{Mass, Money};

/// One thing that designs are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Criterion {
    /// Room in the drawers, litres; more is better.
    UsableVolume,
    /// Worth of the optional gear stowed, points; more is better.
    Value,
    /// Pull needed to lift things out, weighted by use, mm; less is better.
    Reach,
    /// Share of the stock used up that becomes neither part nor kept offcut; less is better.
    Waste,
    /// What must be bought; less is better.
    Cost,
    /// Mass of the empty chest, kg; less is better.
    Mass,
    /// Least margin over the strength checks; more is better.
    Margin,
    /// Parts and set-ups; fewer is better.
    Simplicity,
}

impl Criterion {
    /// Every criterion, in the order in which they are shown.
    pub const ALL: [Self; 8] = [
        Self::UsableVolume,
        Self::Value,
        Self::Reach,
        Self::Waste,
        Self::Cost,
        Self::Mass,
        Self::Margin,
        Self::Simplicity,
    ];

    /// Its key in scenario files and documents.
    pub const fn key(self) -> &'static str {
        match self {
            Self::UsableVolume => "usable_volume",
            Self::Value => "value",
            Self::Reach => "reach",
            Self::Waste => "waste",
            Self::Cost => "cost",
            Self::Mass => "mass",
            Self::Margin => "margin",
            Self::Simplicity => "simplicity",
        }
    }

    /// Whether more of it is better.
    pub const fn more_is_better(self) -> bool {
        matches!(self, Self::UsableVolume | Self::Value | Self::Margin)
    }
}

/// Weights and hard limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Aims {
    /// The weight of each criterion, in the order of [`Criterion::ALL`]; none is negative.
    pub weights: [f64; 8],
    /// What no design may exceed.
    pub limits: Limits,
}

impl Aims {
    /// The weight of one criterion.
    pub fn weight(&self, criterion: Criterion) -> f64 {
        self.weights[criterion as usize]
    }
}

/// What no design may exceed; `None` where there is no limit.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Limits {
    /// What must be bought.
    pub cost: Option<Money>,
    /// The empty chest.
    pub mass: Option<Mass>,
    /// The pull of any loaded drawer, newtons.
    pub pull_newtons: Option<f64>,
    /// What the deck must carry, evenly spread, as a mass.
    pub deck_load: Option<Mass>,
    /// What the deck must carry on every part of it, pascals; where both are given, the more of the two.
    pub deck_pressure: Option<f64>,
}
