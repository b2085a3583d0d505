//! The finished design.

use std::fmt;

use super::cutting::{CuttingPlan, Purchase};
use super::drawer::{Drawer, Pocket, Unstowed};
use super::fixings::Fixings;
use super::parts::{HardwareLine, Part, PartId, Solid};
use super::remark::Remark;
use super::structure::{Carcass, Structure};
use crate::scenario::Criterion;
use crate::units::{Mass, Money, Volume};

/// A design from end to end: what it is, where everything stands, what to buy and how to cut it.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// What tells it from every other design; the same on every run and machine.
    pub id: DesignId,
    /// The discrete choices.
    pub structure: Structure,
    /// The outside of the chest and its tiers' frames.
    pub chest: Chest,
    /// Tier by tier from the bottom, each from left to right.
    pub drawers: Vec<Drawer>,
    /// The side pockets that are used.
    pub pockets: Vec<Pocket>,
    /// What is not stowed.
    pub left_out: Vec<Unstowed>,
    /// Every wooden part. `PartId(i)` is `parts[i]`.
    pub parts: Vec<Part>,
    /// Every placed piece of wood. Corner blocks, stop blocks and packing that is shimmed to suit have parts but need
    /// not have solids.
    pub solids: Vec<Solid>,
    /// How it is screwed together and held down.
    pub fixings: Fixings,
    /// Counted hardware.
    pub hardware: Vec<HardwareLine>,
    /// How the parts come out of stock.
    pub cutting: CuttingPlan,
    /// What to buy or take from what is on hand: stock, then hardware.
    pub purchases: Vec<Purchase>,
    /// Strength, pull, payload.
    pub checks: Vec<Check>,
    /// What it is ranked by.
    pub criteria: Criteria,
}

impl Design {
    /// The part of `id`.
    ///
    /// # Panics
    /// If the id belongs to another design.
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.0 as usize]
    }

    /// How many checks don't hold, guide values among them. Those designs are offered of which the fewest don't.
    pub fn beyond(&self) -> usize {
        beyond(&self.checks)
    }
}

/// How many of these checks don't hold.
pub fn beyond(checks: &[Check]) -> usize {
    checks.iter().filter(|check| !check.holds()).count()
}

/// The outside of the chest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chest {
    /// Lengths, heights and the tiers' frames.
    pub carcass: Carcass,
    /// Widths of each tier's openings, from left to right; they fill [`super::TierFrame::openings_width`].
    pub openings: Vec<Vec<crate::units::Length>>,
}

/// A short name made from the design's content.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DesignId(pub u64);

/// Seven letters and digits that are hard to misread (Crockford's base 32), from the low 35 bits.
impl fmt::Display for DesignId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const DIGITS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
        let text: String = (0..7)
            .rev()
            .map(|place| char::from(DIGITS[(self.0 >> (5 * place)) as usize & 31]))
            .collect();
        f.pad(&text)
    }
}

/// What a design is ranked by.
#[derive(Debug, Clone, PartialEq)]
pub struct Criteria {
    /// Σ inside width × length × clear height of the drawers.
    pub usable_volume: Volume,
    /// Σ worth of the stowed optional gear, thousandths of a point.
    pub value_milli: i64,
    /// Σ uses × pull needed to lift the thing out ÷ Σ uses, in mm; 0 if nothing stowed is ever used.
    pub reach_mm: f64,
    /// 1 − (volume of parts + kept offcuts) ÷ volume of stock used up.
    pub waste: f64,
    /// The same over sheets alone; 0 if none are used.
    pub sheet_waste: f64,
    /// The same over boards alone; 0 if none are used.
    pub board_waste: f64,
    /// What must be bought.
    pub cost: Money,
    /// The empty chest: wood and hardware.
    pub mass: Mass,
    /// The chest with all its gear.
    pub loaded_mass: Mass,
    /// Least margin over the strength checks; `None` without any.
    pub margin: Option<f64>,
    /// Pieces of wood to cut, plus their different sizes (by material), plus the cutting patterns.
    pub simplicity: u32,
}

impl Criteria {
    /// One criterion as a number in its unit (litres, points, mm, share, currency, kg, ratio, count).
    pub fn figure(&self, criterion: Criterion) -> f64 {
        match criterion {
            Criterion::UsableVolume => self.usable_volume.to_litres(),
            Criterion::Value => self.value_milli as f64 / 1000.0,
            Criterion::Reach => self.reach_mm,
            Criterion::Waste => self.waste,
            Criterion::Cost => self.cost.to_units(),
            Criterion::Mass => self.mass.to_kg(),
            Criterion::Margin => self.margin.unwrap_or(0.0),
            Criterion::Simplicity => f64::from(self.simplicity),
        }
    }
}

/// One check of strength, pull, payload or clearance.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Short name: `deck sag`, `pull of drawer A2`.
    pub name: String,
    /// What was found.
    pub value: f64,
    /// What is allowed.
    pub limit: f64,
    /// Whether the limit is the most or the least allowed.
    pub sense: Sense,
    /// The unit of both.
    pub unit: &'static str,
    /// Whether it counts as a strength check, whose margin is a criterion.
    pub strength: bool,
    /// Whether the limit is a matter of look, feel or a cautious assumption: failing it is no reason to refuse the design
    /// outright, but it is offered only where none found fails fewer.
    pub advisory: bool,
    /// Whether it is only to know of, as a hint for the bench or the road: never a reason to refuse the design.
    pub note: bool,
    /// Where formula and limit come from, and how well that is known.
    pub source: Remark,
    /// What was assumed.
    pub remark: Remark,
}

impl Check {
    /// Whether the value is within the limit.
    pub fn passes(&self) -> bool {
        match self.sense {
            Sense::Most => self.value <= self.limit,
            Sense::Least => self.value >= self.limit,
        }
    }

    /// How it came out.
    pub fn verdict(&self) -> Verdict {
        match (self.passes(), self.note, self.advisory) {
            (true, _, _) => Verdict::Holds,
            (false, true, _) => Verdict::ToKnow,
            (false, false, true) => Verdict::BeyondGuide,
            (false, false, false) => Verdict::Fails,
        }
    }

    /// Whether the design must not be offered because of it: it fails, and not merely a guide value by less than
    /// three times.
    pub fn refuses(&self) -> bool {
        !self.passes() && !self.note && (!self.advisory || self.margin() * 3.0 < 1.0)
    }

    /// Whether it passes, or is only to know of.
    pub fn holds(&self) -> bool {
        self.note || self.passes()
    }

    /// How many times over it passes: above 1 it passes; endless where there is nothing to hold.
    pub fn margin(&self) -> f64 {
        match self.sense {
            // Nothing may be a negative zero, as of a sum over nothing.
            Sense::Most if self.value <= 0.0 => f64::INFINITY,
            Sense::Most => self.limit / self.value,
            Sense::Least => self.value / self.limit,
        }
    }
}

/// How a check came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The figure is within its limit.
    Holds,
    /// Beyond its limit, of a check that is a hint for the bench or the road and never a reason to refuse.
    ToKnow,
    /// Beyond a limit that is a matter of look, feel or a cautious assumption.
    BeyondGuide,
    /// Beyond a limit of strength or duty: such a design is not offered.
    Fails,
}

impl Verdict {
    /// All of them, the best first.
    pub const ALL: [Self; 4] = [Self::Holds, Self::ToKnow, Self::BeyondGuide, Self::Fails];
}

/// Which way a limit binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sense {
    /// No more than the limit.
    Most,
    /// No less than the limit.
    Least,
}
