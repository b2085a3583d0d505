//! What is given: bed, gear, stock, shop, what may be chosen, aims.
//!
//! These are plain values, complete and consistent: whoever makes a [`Scenario`] (the `input` room from a
//! file, a test in Rust) has filled every default in and refused what cannot be. The invariants are
//! stated at the fields.

mod aims;
mod bed;
mod chest;
mod decided;
mod engineering;
#[cfg(test)]
pub(crate) mod fixture;
mod gear;
mod ids;
mod job;
mod stock;
mod tolerance;

pub use aims::{Aims, Criterion, Limits};
pub use bed::{Bed, BedKind, HatchOpening, Measured, Tailgate, Wells};
pub use chest::{Allowances, Choices, DeckGrain, Family, Fastening, Runs};
pub use decided::{
    ColumnAt, Decided, DecidedDrawer, DecidedTier, End, Place, drawer_name, tier_letter,
};
pub use engineering::{Engineering, Securing};
pub use gear::{Demand, Gear, Loose, Turn, stances_of};
pub use ids::{GearId, HardwareId, Keyed, LooseId, MaterialId, StockId};
pub use job::{CuttingJob, FactoryEdges, FactoryNeed, JobPart};
pub use stock::{
    Form, Hardware, HardwareUse, Material, Plate, Section, Shop, Sold, Stiffness, Stock, StockItem,
};
pub use tolerance::{Demanded, Tolerance};

use crate::units::UnitSystem;

/// Everything that is given for one vehicle: the answer to "what have we got?".
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// One line that names it.
    pub title: String,
    /// How its lengths are shown.
    pub units: UnitSystem,
    /// The currency of every price, as its three-letter code (ISO 4217) or as written.
    pub currency: String,
    /// What was measured of the vehicle.
    pub bed: Bed,
    /// Things with a shape to stow. Names are unique over gear and loose goods together.
    pub gear: Keyed<GearId, Gear>,
    /// Things with a volume and no shape.
    pub loose: Keyed<LooseId, Loose>,
    /// What can be bought or is at hand.
    pub stock: Stock,
    /// The saw and the bench.
    pub shop: Shop,
    /// What the explorer may choose from.
    pub choices: Choices,
    /// What is decided already.
    pub decided: Decided,
    /// Gaps and clearances that every derivation uses.
    pub allowances: Allowances,
    /// How far sizes may be off, and what is asked of fits.
    pub tolerance: Tolerance,
    /// Loads, factors and limits of the checks.
    pub engineering: Engineering,
    /// Weights and limits.
    pub aims: Aims,
}
