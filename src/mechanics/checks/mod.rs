//! The checks of a design: sag, strength, pull, jamming, tipping, payload, clearance, axles.
//!
//! A folder each; what they share is here: panels as laid and as they carry, screws, weights. Each check is a number against a limit, with the source of both and what was assumed. They
//! compute; they don't certify. Drawers are checked one by one and the worst of a kind is shown,
//! except for the pull, which every drawer shows. None takes more than microseconds per drawer and
//! panel: a design's checks together cost well under a millisecond.

/// A [`Remark`] of texts and quantities, one after the other.
macro_rules! remark {
    ($($piece:expr),+ $(,)?) => {
        $crate::design::Remark(vec![$($crate::design::Phrase::from($piece)),+])
    };
}

pub mod deck;
pub mod drawer;
mod fastened;
pub(super) mod fastening;
#[cfg(test)]
mod fixture;
pub(super) mod gear;
pub(super) mod handling;
pub(super) mod hold_down;
mod laid;
pub mod lock;
pub(super) mod members;
pub mod movement;
mod sheet;
pub(super) mod shelf;
#[cfg(test)]
mod tests;
pub mod vehicle;
mod weights;

use std::ops::Deref;

use crate::design::derive::Built;
use crate::design::derive::fastening::Woods;
use crate::design::{Check, Design, HardwareLine, Part, Remark, Sense, Solid, Structure};
use crate::scenario::Scenario;
use crate::units::Length;
pub use drawer::{bottom_strain, handles, most_allowed, most_gear, stays_in};
pub use fastening::{fixed, fixed_unless_refused};
pub use lock::{Lock, lock};
use weights::Weights;

/// A design as far as the checks need it: everything but its cutting plan.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    woods: Woods<'a>,
    /// The hardware.
    pub hardware: &'a [HardwareLine],
}

/// Its wood is looked at far more often than its hardware.
impl<'a> Deref for Subject<'a> {
    type Target = Woods<'a>;

    fn deref(&self) -> &Woods<'a> {
        &self.woods
    }
}

impl<'a> Subject<'a> {
    /// A chest that is built and not yet cut.
    pub fn of(structure: &'a Structure, built: &'a Built, hardware: &'a [HardwareLine]) -> Self {
        Self { woods: Woods::of(structure, built), hardware }
    }

    fn part_of(&self, solid: &Solid) -> Option<&'a Part> {
        self.parts.get(solid.part.0 as usize)
    }
}

impl<'a> From<&'a Design> for Subject<'a> {
    fn from(design: &'a Design) -> Self {
        Self { woods: design.into(), hardware: &design.hardware }
    }
}

/// Every check that the scenario gives the numbers for, in a fixed order: deck, shelves, drawers,
/// vehicle.
pub fn checks(scenario: &Scenario, subject: Subject<'_>) -> Vec<Check> {
    let weights = Weights::of(scenario, &subject);
    let mut checks = deck::checks(scenario, &subject);
    checks.extend(shelf::checks(scenario, &subject, &weights));
    checks.extend(members::checks(scenario, &subject, &weights));
    checks.extend(drawer::checks(scenario, &subject, &weights));
    checks.extend(fastening::checks(scenario, &subject, &weights));
    checks.extend(hold_down::checks(scenario, &subject, &weights));
    checks.extend(gear::checks(scenario, &subject));
    checks.extend(lock::checks(scenario, &subject, &weights));
    checks.extend(movement::checks(scenario, &subject));
    checks.extend(vehicle::checks(scenario, &subject, &weights));
    checks.extend(handling::checks(scenario, &subject, &weights));
    checks
}

/// Those of [`checks`] that gear has no part in: the deck's.
pub fn deck_checks(scenario: &Scenario, subject: Subject<'_>) -> Vec<Check> {
    deck::loaded(scenario, &subject)
}

/// A deck check that refuses every design in which the widest opening of the top tier is as wide as the first length or wider,
/// up to the second, whatever is stowed; `None` if none is known. The subject's openings may be of any width.
pub fn deck_refused_over(
    scenario: &Scenario,
    subject: Subject<'_>,
    openings: [Length; 2],
) -> Option<Check> {
    deck::bends_over(scenario, &subject, openings[0])
        .or_else(|| deck::refused_over(scenario, &subject, openings))
}

/// A shelf check that refuses every design whose top tier stands over a single opening and has none wider than that, whatever
/// is stowed; `None` if none is known.
pub fn shelf_refused(scenario: &Scenario, subject: Subject<'_>, widest: Length) -> Option<Check> {
    shelf::refused_over_one_opening(scenario, &subject, widest)
}

/// The one that passes by the least (or fails by the most), the first of equals.
fn worst(checks: impl IntoIterator<Item = Check>) -> Option<Check> {
    checks.into_iter().min_by(|a, b| a.margin().total_cmp(&b.margin()))
}

/// What a check is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Strength of the wood and its fastenings: designs are ranked by its margin.
    Strength,
    /// Sag of the wood against what is usually found to look and feel right, or strength under a load that is an assumption:
    /// ranked by as well, but no reason to refuse.
    Guide,
    /// Something else that must hold.
    Duty,
    /// Something else to know of, against an assumption.
    Advice,
    /// A hint for the bench or the road, whatever its figure.
    Note,
}

/// A value with a limit, before its source and remark.
struct Figure {
    value: f64,
    limit: f64,
    sense: Sense,
    unit: &'static str,
}

impl Figure {
    /// Strength under a load that an assumed road shock multiplies by `shock`: a design that would hold at rest is not refused.
    fn kind_under_shock(&self, shock: f64) -> Kind {
        if self.value > shock * self.limit { Kind::Strength } else { Kind::Guide }
    }

    fn at_most(value: f64, limit: f64, unit: &'static str) -> Self {
        Self { value, limit, sense: Sense::Most, unit }
    }

    fn at_least(value: f64, limit: f64, unit: &'static str) -> Self {
        Self { value, limit, sense: Sense::Least, unit }
    }

    fn named(
        self,
        name: String,
        kind: Kind,
        source: impl Into<Remark>,
        remark: impl Into<Remark>,
    ) -> Check {
        let Self { value, limit, sense, unit } = self;
        let strength = matches!(kind, Kind::Strength | Kind::Guide);
        let advisory = matches!(kind, Kind::Guide | Kind::Advice | Kind::Note);
        let note = kind == Kind::Note;
        let (source, remark) = (source.into(), remark.into());
        Check { name, value, limit, sense, unit, strength, advisory, note, source, remark }
    }
}
