//! Cut a job, verify the plan, and gather what the report needs.

use super::folder::OutFile;
use super::set::SetError;
use crate::cut::job::{Answer, JobProgress, Lack, Settings as JobSettings, plan_job};
use crate::design::JobPlan;
use crate::design::derive::sawing;
use crate::design::job::blanks;
use crate::input::ReadJob;
use crate::paper;
use crate::report::job::{JobFindings, JobSettings as Reported, Lacking};
use crate::report::{DefaultUsed, drawings, terminal};
use crate::scenario::CuttingJob;
use crate::solve::budget::Stop;
use crate::verify::{RejectedPlan, Verified, verify_plan};

/// A cutting job that was searched.
#[derive(Debug)]
pub struct JobRun {
    /// What was given.
    pub read: ReadJob,
    /// How the search was run.
    pub settings: JobSettings,
    /// What became of it.
    pub found: Found,
}

/// What became of a job.
#[derive(Debug)]
pub enum Found {
    /// A plan that has passed the verifier.
    Plan {
        /// The plan.
        plan: Box<Verified<JobPlan>>,
        /// What ended the search before it had proved its plan.
        stopped_by: Option<Stop>,
    },
    /// Stock is lacking, or no plan was found that makes do with it.
    Short(Vec<Lack>),
    /// A plan that the verifier refused: a fault of the program.
    Rejected(Box<RejectedPlan>),
}

/// Cuts and verifies. `progress` hears how far it has come, from several threads.
pub fn cut(
    read: ReadJob,
    settings: JobSettings,
    progress: &(dyn Fn(JobProgress) + Sync),
) -> JobRun {
    let found = match plan_job(&read.job, &settings, progress) {
        Answer::Short(lacks) => Found::Short(lacks),
        Answer::Cut { cut, left_out, worth_bound_milli, stopped_by } => {
            let plan = JobPlan { left_out, worth_bound_milli, ..whole(&read.job, cut) };
            match verify_plan(&read.job, plan) {
                Ok(plan) => Found::Plan { plan: Box::new(plan), stopped_by },
                Err(refused) => Found::Rejected(refused),
            }
        }
    };
    JobRun { read, settings, found }
}

/// The plan with what it makes of its stock.
fn whole(job: &CuttingJob, cut: crate::cut::StockCut) -> JobPlan {
    let blanks = blanks(job);
    JobPlan {
        sheets: sawing::sheet_waste(&job.stock, &cut.plan),
        boards: sawing::board_waste(&job.stock, &job.shop, &blanks, &cut.plan),
        setups: sawing::setups(&blanks, &cut.plan, &job.stock),
        cutting: cut.plan,
        purchases: cut.purchases,
        ..JobPlan::default()
    }
}

impl JobRun {
    /// What the report is made from.
    pub fn findings(&self) -> JobFindings<'_> {
        let (plan, stopped_by, lacks) = match &self.found {
            Found::Plan { plan, stopped_by } => (Some(&**plan), *stopped_by, &[][..]),
            Found::Short(lacks) => {
                (None, lacks.iter().filter_map(|l| l.stopped_by).max(), &lacks[..])
            }
            Found::Rejected(_) => (None, None, &[][..]),
        };
        let used = self.read.defaults_used.iter();
        JobFindings {
            job: &self.read.job,
            settings: Reported {
                program: env!("CARGO_PKG_VERSION").to_owned(),
                work: self.settings.work,
                seconds: self.settings.time.map(|time| time.as_secs_f64()),
            },
            defaults: used
                .map(|used| DefaultUsed {
                    key: used.key.clone(),
                    value: used.value_shown.clone(),
                    remark: used.basis.to_owned(),
                })
                .collect(),
            plan,
            stopped_by,
            lacking: lacks
                .iter()
                .map(|lack| Lacking {
                    material: lack.material,
                    more: lack.more.clone(),
                    proved: lack.proved,
                })
                .collect(),
        }
    }

    /// What is shown at the terminal.
    pub fn page(&self) -> terminal::Page {
        terminal::job(&self.findings())
    }

    /// The cutting document as text.
    ///
    /// # Errors
    /// [`SetError`] if a number in it is not finite.
    pub fn document(&self) -> Result<String, SetError> {
        let document = crate::report::job_document(&self.findings());
        let text = serde_json::to_string_pretty(&document)
            .map_err(|e| SetError::new("cutting.json", e.to_string()))?;
        Ok(text + "\n")
    }

    /// The drawings of a plan and the document.
    ///
    /// # Errors
    /// [`SetError`] if a file cannot be put together.
    pub fn files(&self) -> Result<Vec<OutFile>, SetError> {
        let mut files = Vec::new();
        if let Found::Plan { plan, .. } = &self.found {
            for named in drawings::job_drawings(plan, &self.read.job) {
                let bytes = paper::svg(&named.drawing).into_bytes();
                files.push(OutFile { name: format!("{}.svg", named.name), bytes });
            }
        }
        let bytes = self.document()?.into_bytes();
        files.push(OutFile { name: "cutting.json".to_owned(), bytes });
        Ok(files)
    }
}
