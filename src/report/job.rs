//! What a cutting job's report is made from.

use super::subject::DefaultUsed;
use crate::design::JobPlan;
use crate::explore::Stop;
use crate::scenario::{CuttingJob, MaterialId, StockId};
use crate::units::Money;
use crate::verify::Verified;

/// Everything that one cutting job has to tell.
#[derive(Debug, Clone)]
pub struct JobFindings<'a> {
    /// What was given.
    pub job: &'a CuttingJob,
    /// How the search was run.
    pub settings: JobSettings,
    /// What the file left out, with the values that stood in.
    pub defaults: Vec<DefaultUsed>,
    /// The plan, if there is one.
    pub plan: Option<&'a Verified<JobPlan>>,
    /// What ended the search before it had proved its answer.
    pub stopped_by: Option<Stop>,
    /// What stock is lacking, where there is no plan.
    pub lacking: Vec<Lacking>,
}

/// How a job was searched: with these and the job anyone gets the same plan.
#[derive(Debug, Clone, PartialEq)]
pub struct JobSettings {
    /// The program's version.
    pub program: String,
    /// Steps of work that were allowed.
    pub work: u64,
    /// The wall-clock limit in seconds; `None` for none. A plan that it cut short depends on the machine.
    pub seconds: Option<f64>,
}

/// Stock of a material that is lacking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lacking {
    /// The material.
    pub material: MaterialId,
    /// With so many more of these a plan was found.
    pub more: Vec<(StockId, u32)>,
    /// Whether it is proved that what there is does not do, nor fewer more.
    pub proved: bool,
}

/// What is known of the cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// No plan costs less.
    Proved,
    /// A plan; one that costs less may exist.
    Found,
    /// There is no plan: proved.
    Impossible,
    /// No plan was found, and none proved impossible.
    Unknown,
}

impl JobFindings<'_> {
    /// What is known.
    pub fn standing(&self) -> Standing {
        match self.plan {
            Some(plan) if self.choosy() && plan.worth_milli(self.job) < plan.worth_bound_milli => {
                Standing::Found
            }
            Some(_) if self.choosy() => Standing::Proved,
            Some(plan) if plan.cutting.proved => Standing::Proved,
            Some(_) => Standing::Found,
            None if self.lacking.iter().any(|lack| lack.proved) => Standing::Impossible,
            None => Standing::Unknown,
        }
    }

    /// Whether the plan leaves parts out: then the worth of the others is what is sought, and the cost is not proved.
    pub fn choosy(&self) -> bool {
        self.plan.is_some_and(|plan| !plan.left_out.is_empty())
    }

    /// What the plan costs beyond its bound, as a share of the bound; nothing beyond nothing.
    pub fn gap(&self) -> Option<f64> {
        let plan = self.plan?;
        let (cost, bound) = (plan.cost(), plan.cutting.bound);
        if cost == bound {
            return Some(0.0);
        }
        (bound > Money::ZERO).then(|| (cost - bound).to_units() / bound.to_units())
    }
}
