//! Single values: quantities, counts, names, words from a list.

mod places;
mod plain;
mod prices;
mod quantities;
mod words;

pub(super) use places::{DrawerName, TierName, Where};
pub(super) use plain::{StageLimit, Uses};
pub(super) use prices::PricedLengths;
pub(super) use quantities::{
    Density, Millidegrees, Newtons, Number, Pascals, Pressure, Thousandths,
};
pub(super) use words::{FactoryEdge, FactorySide};
