//! The independent verifier: re-derives everything a design says from the design and the scenario alone.
//!
//! It shares no code with the search: of the `design` room it reads the data types and never the derivations. What the
//! types' docs say is the law; where this room's arithmetic and the search's differ, one of them is wrong, and the
//! design is rejected until they agree.
//!
//! [`verify()`] and, for the plans of cutting jobs, [`verify_plan`] are the only makers of [`Verified`], which is all that
//! reports and drawings accept. A rejected design comes
//! back with every [`Fault`] found, not only the first. A design whose references lead nowhere, whose lists do not match or
//! whose lengths are absurd cannot be measured: it is rejected for those alone.
//!
//! One file per subject: `sane` (references, lists, lengths), `chest`, `panels`, `drawers`, `solids`,
//! `placing` (where each part must stand), `layout` and `parting` (what is stowed and how it is divided),
//! `decided` (what the scenario leaves no choice of), `tolerance` (fits that are demanded), `pockets`, `counts`, `cutting`, `purchases`, `criteria`; `work` replays work plans. Fits are integer comparisons throughout. Floats occur in the criteria,
//! and in the tangent of the tailgate's slope, which is rounded up.
//!
//! To add a rule: a variant of [`Fault`] with its numbers, its sentence in `words`, the check in the file of its subject, and
//! a test in `tests` that breaks a good design that one way.

mod case;
mod chest;
mod counts;
mod criteria;
mod cutting;
mod decided;
mod drawers;
mod fault;
mod job;
mod layout;
mod panels;
mod parting;
mod placing;
mod pockets;
mod purchases;
mod sane;
mod solids;
#[cfg(test)]
mod tests;
mod tolerance;
mod words;
mod work;

use std::fmt;
use std::ops::Deref;

pub use job::{RejectedPlan, verify_plan};
pub use work::{RejectedWork, WorkFault, verify_work};

pub use fault::{Dimension, Direction, Fault, ListOf, Place, Reference, Side};

use crate::design::Design;
use crate::scenario::Scenario;
use case::Case;

/// Something that the verifier has re-checked and found without fault. Only [`verify()`] and [`verify_plan`] make one.
#[derive(Debug, Clone, PartialEq)]
pub struct Verified<T>(T);

impl<T> Verified<T> {
    /// What was verified.
    pub const fn get(&self) -> &T {
        &self.0
    }

    /// What was verified, to be changed: it then needs to be verified again.
    pub fn into_inner(self) -> T {
        self.0
    }
}

impl<T> Deref for Verified<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

/// A design that does not hold, with everything that is wrong with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Rejected {
    /// The design.
    pub design: Design,
    /// Its faults, in the order of the checks; never empty.
    pub faults: Vec<Fault>,
}

/// A line per fault.
impl fmt::Display for Rejected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "design {} does not hold:", self.design.id)?;
        self.faults.iter().try_for_each(|fault| write!(f, "\n- {fault}"))
    }
}

impl std::error::Error for Rejected {}

/// Re-checks a design against its scenario.
///
/// The scenario is taken as consistent (its own docs say what that means); the design may hold anything. Quadratic in
/// the number of solids, of items in a drawer and of pieces on a sheet.
///
/// # Errors
/// The design with all its faults.
pub fn verify(scenario: &Scenario, design: Design) -> Result<Verified<Design>, Box<Rejected>> {
    let faults = faults(scenario, &design);
    if faults.is_empty() {
        Ok(Verified(design))
    } else {
        Err(Box::new(Rejected { design, faults }))
    }
}

/// Every fault of a design.
fn faults(scenario: &Scenario, design: &Design) -> Vec<Fault> {
    let mut faults = Vec::new();
    sane::check(scenario, design, &mut faults);
    if !faults.is_empty() {
        return faults;
    }
    let case = Case { scenario, design };
    const CHECKS: [fn(&Case<'_>, &mut Vec<Fault>); 12] = [
        chest::check,
        panels::check,
        drawers::check,
        decided::check,
        solids::check,
        layout::check,
        pockets::check,
        tolerance::check,
        counts::check,
        cutting::check,
        purchases::check,
        criteria::check,
    ];
    for check in CHECKS {
        check(&case, &mut faults);
    }
    faults
}
