//! What was decided before the search, in the words of a scenario file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::Mm;
use crate::scenario::{self as given, End};

/// What was decided of tiers and drawers.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Decided {
    /// Tiers of which something was decided.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub tiers: Vec<DecidedTier>,
    /// Drawers that there had to be.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub drawers: Vec<DecidedDrawer>,
}

/// A tier of which something was decided.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DecidedTier {
    /// A is the lowest.
    pub name: String,
    /// How many drawers side by side.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub columns: Option<u32>,
    /// What its members are made of.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub members: Option<String>,
}

/// A drawer that there had to be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DecidedDrawer {
    /// A1 is the leftmost of the lowest tier.
    pub name: String,
    /// Its inside width.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub width: Option<Mm>,
    /// Its clear inside height.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub height: Option<Mm>,
}

/// Where a thing must stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Place {
    /// A drawer (`A1`), a tier (`A`), `left`, `right`, or one of these in a tier (`A right`).
    #[serde(rename = "in", skip_serializing_if = "Option::is_none", default)]
    pub within: Option<String>,
    /// At which end of its drawer.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub end: Option<DrawerEnd>,
}

/// An end of a drawer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DrawerEnd {
    /// The front.
    Tailgate,
    /// The back.
    Cab,
}

impl Decided {
    /// Of a scenario.
    pub(super) fn of(scenario: &given::Scenario) -> Self {
        let name = |id: given::MaterialId| scenario.stock.materials[id].name.clone();
        let tiers = scenario.decided.tiers.iter().map(|tier| DecidedTier {
            name: tier.name(),
            columns: tier.columns,
            members: tier.member.map(name),
        });
        let drawers = scenario.decided.drawers.iter().map(|drawer| DecidedDrawer {
            name: drawer.name(),
            width: drawer.width.map(Mm::from),
            height: drawer.height.map(Mm::from),
        });
        Self { tiers: tiers.collect(), drawers: drawers.collect() }
    }

    /// Whether nothing was.
    pub fn is_empty(&self) -> bool {
        self.tiers.is_empty() && self.drawers.is_empty()
    }
}

impl From<&given::Place> for Place {
    fn from(place: &given::Place) -> Self {
        let within = Some(place.to_string()).filter(|within| !within.is_empty());
        let end = place.end.map(|end| match end {
            End::Tailgate => DrawerEnd::Tailgate,
            End::Cab => DrawerEnd::Cab,
        });
        Self { within, end }
    }
}
