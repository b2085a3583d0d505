//! Loads, factors and limits of the checks: choices, each open to change and shown where it matters.

use crate::units::{Length, Mass, UnitSystem};

/// The rule by which the chest is held in the vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Securing {
    /// 49 CFR 393.102: 0.8 g forward, 0.5 g rearward and sideways, a fifth of the weight downward; no friction counted
    /// unless the floor's is given.
    Cfr,
    /// EN 12195-1: the same accelerations, friction counted, times a safety of 1.25 forward and 1.1 otherwise (values from
    /// memory).
    En,
}

/// What the checks assume. Every factor is positive; frictions are not negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Engineering {
    /// By which rule the chest is held.
    pub securing: Securing,
    /// What bumps multiply loads by, for strength only.
    pub road_shock: f64,
    /// What a person stands with in one place, newtons.
    pub person_newtons: f64,
    /// Side of the square on which a person may stand.
    pub foot: Length,
    /// How many times its first sag wood comes to under what stays on it: K_cr.
    pub creep: f64,
    /// Sag that is seen is a span over this.
    pub sag_share: f64,
    /// Sag that is felt under a person and springs back is a span over this.
    pub felt_share: f64,
    /// Friction at the start under drawers as measured; `None` for the value usual for what they run on.
    pub start_friction: Option<f64>,
    /// Friction that may be counted on between chest and bed floor.
    pub floor_friction: f64,
    /// Friction between gear and a drawer's floor.
    pub gear_friction: f64,
    /// Stabilising over overturning moment that is wanted.
    pub tip_safety: f64,
    /// What of a drawer must stay in the chest when it is drawn out; a fifth of its length, if that is more.
    pub engagement: Length,
    /// Slope, degrees, on which drawers are opened uphill.
    pub slope_deg: f64,
    /// Driest and wettest moisture content of the wood over the year, percent.
    pub moisture: [f64; 2],
    /// Between the coldest and the warmest day, kelvin.
    pub temperature_swing: f64,
    /// Diameter of the bolts that hold the chest down, unless their rating is given.
    pub bolt: Length,
    /// What one person lifts.
    pub lift: Mass,
    /// The longest part that one person carries.
    pub carry: Length,
    /// A lock's pins from the middle of its plate.
    pub lock_radius: Length,
    /// Diameter of a lock's rods.
    pub lock_rod: Length,
}

impl Engineering {
    /// The usual values, in round figures of the unit system.
    pub fn usual(units: UnitSystem) -> Self {
        let either = |sixteenths: i64, mm: i64| match units {
            UnitSystem::Inch => Length::inches(sixteenths, 16),
            UnitSystem::Metric => Length::mm(mm),
        };
        let inch = units == UnitSystem::Inch;
        Self {
            securing: Securing::Cfr,
            road_shock: 2.0,
            person_newtons: 1100.0,
            foot: either(32, 50),
            creep: 2.0,
            sag_share: 240.0,
            felt_share: 120.0,
            start_friction: None,
            floor_friction: 0.0,
            gear_friction: 0.3,
            tip_safety: 1.5,
            engagement: either(192, 300),
            slope_deg: 4.0,
            moisture: [6.0, 14.0],
            temperature_swing: 40.0,
            bolt: either(5, 8),
            lift: if inch { Mass::POUND * 51 } else { Mass::KG * 23 },
            carry: either(1536, 2440),
            lock_radius: either(24, 38),
            lock_rod: either(4, 6),
        }
    }
}
