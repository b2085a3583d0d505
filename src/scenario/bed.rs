//! What a tape measure says of the vehicle.
//!
//! Axes: x across the bed (0 at the left wall), y from the closed tailgate toward the cab, z up from
//! the bed floor.

use crate::units::{Length, Mass};

/// A measurement with how far it may be off either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Measured {
    /// What the tape said.
    pub at: Length,
    /// How far off it may be, either way; zero if nothing was said.
    pub tol: Length,
}

impl Measured {
    /// A measurement taken as exact.
    pub const fn exact(at: Length) -> Self {
        Self { at, tol: Length::ZERO }
    }
}

/// Whether the bed is an open box or the floor of a closed vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BedKind {
    /// A pickup's box, with a tailgate and usually wheel wells.
    Pickup,
    /// The cargo floor of an SUV or van, with a hatch or doors.
    Cargo,
}

/// The bed.
#[derive(Debug, Clone, PartialEq)]
pub struct Bed {
    /// Pickup or cargo floor.
    pub kind: BedKind,
    /// Floor from the closed tailgate (or hatch) to the front wall. Positive.
    pub length: Measured,
    /// Wall to wall. Positive.
    pub width: Measured,
    /// The two wheel wells, alike on both sides; `None` where the floor is clear.
    pub wells: Option<Wells>,
    /// Floor to the top of the side rail; `None` where there is no rail.
    pub depth: Option<Measured>,
    /// What the finished deck must stay under (rail, cover or roof), from the floor. Positive.
    pub clear_height: Measured,
    /// The hatch or door opening that everything going in whole must pass.
    pub opening: Option<HatchOpening>,
    /// The tailgate, which moving drawers pass over when it is open.
    pub tailgate: Option<Tailgate>,
    /// What the vehicle may still carry, for chest and gear together.
    pub payload: Option<Mass>,
    /// Distance between the axles.
    pub wheelbase: Option<Length>,
    /// From the closed tailgate along the floor toward the cab to the rear axle; negative if behind the tailgate.
    pub rear_axle_from_tailgate: Option<Length>,
    /// What the front axle may still bear: its rating less what a scale says of it.
    pub front_axle_room: Option<Mass>,
    /// The same of the rear axle.
    pub rear_axle_room: Option<Mass>,
    /// Whether people sleep in the vehicle, beside or above the chest.
    pub sleeps: bool,
}

impl Bed {
    /// The width a chest on the floor may take before fit allowances: between the wells if there are any.
    pub fn floor_width(&self) -> Length {
        self.wells.as_ref().map_or(self.width.at, |wells| wells.between.at)
    }
}

/// The two wheel wells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wells {
    /// Clear width between them, less than the bed's width.
    pub between: Measured,
    /// From the closed tailgate to where they start.
    pub from_tailgate: Length,
    /// Their length along the bed; start and length stay within the bed.
    pub length: Length,
    /// Their height above the floor.
    pub height: Length,
}

/// A hatch or door opening: on the bed floor, in the middle of its width. Drawers come out through it shut or open, and
/// every part goes in through it end first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HatchOpening {
    /// Least clear width.
    pub width: Length,
    /// Least clear height.
    pub height: Length,
}

/// The open tailgate, as drawers see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tailgate {
    /// How far its highest point near the floor's edge stands above the floor.
    pub rise: Length,
    /// How it slopes upward away from the bed, in thousandths of a degree; negative where it falls. Within ±30°.
    pub slope_millideg: i32,
    /// Its length away from the bed when open.
    pub length: Length,
    /// What its maker says it carries.
    pub rating: Option<Mass>,
}
