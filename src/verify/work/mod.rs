//! A work plan re-checked: what a person does by it gives exactly the parts of the design.

mod drilling;
mod fault;
mod let_in;
mod sawing;
mod steps;
mod supplies;

use std::fmt;

pub use fault::WorkFault;

use super::Verified;
use crate::design::Design;
use crate::design::work::WorkPlan;
use crate::scenario::Scenario;

/// A work plan that does not hold, with everything that is wrong with it.
#[derive(Debug, Clone, PartialEq)]
pub struct RejectedWork {
    /// The work plan.
    pub work: WorkPlan,
    /// Its faults; never empty.
    pub faults: Vec<WorkFault>,
}

/// A line per fault.
impl fmt::Display for RejectedWork {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the work plan does not hold:")?;
        self.faults.iter().try_for_each(|fault| write!(f, "\n- {fault}"))
    }
}

impl std::error::Error for RejectedWork {}

/// Re-checks a work plan against the design it is for: every cut is replayed on the raw stock, every screw
/// must end in what it holds, what is let into a front must leave wood around it and the rods their way, and every step must have what it needs within reach.
///
/// # Errors
/// The work plan with all its faults.
pub fn verify_work(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: WorkPlan,
) -> Result<Verified<WorkPlan>, Box<RejectedWork>> {
    let mut faults = Vec::new();
    sawing::check(scenario, design, &work, &mut faults);
    supplies::check(scenario, design, &work, &mut faults);
    let before = faults.len();
    drilling::check(scenario, design, &work, &mut faults);
    if faults.len() == before {
        let_in::check(scenario, design, &work, &mut faults);
        steps::check(design, &work, &mut faults);
    }
    if faults.is_empty() {
        Ok(Verified(work))
    } else {
        Err(Box::new(RejectedWork { work, faults }))
    }
}
