//! Use cases: data to data. The front doors parse what they are asked, call one of these and show what comes back.

mod build;
mod comparison;
mod desk;
mod explanation;
mod exploration;
mod family;
pub mod folder;
mod gathering;
mod job;
mod likeness;
mod papers;
mod reading;
mod set;

pub use build::{BuildError, BuildSettings, BuiltSet, build, build_in};
pub use comparison::{CompareError, SideBySide, compare_choices, compare_named};
pub use desk::{Desk, SaveError};
pub use explanation::{ExplainError, Explained, Question, explain};
pub use exploration::{Exploration, Shown, explore};
pub use family::{FamilyRun, Named as NamedScenario, family};
pub use gathering::Gathering;
pub use job::{Found, JobRun, cut};
pub use likeness::explore_like;
pub use papers::{FontError, fonts};
pub use reading::{read, widened};
pub use set::{SetError, comparison_document, document, explanation_document, set};

pub use crate::cut::job::{JobProgress, Settings as JobSettings};
pub use crate::design::work::Saw;
pub use crate::explore::compare::By;
pub use crate::explore::{Progress, Proving, Settings, Stage, Standing};
pub use crate::input::{
    CLASSES, DefaultUsed, Fault, Faults, InputError, Look, PasteFault, Read, ReadJob, STARTERS,
    edit, job_schema, measure, parse, paste_gear, read_job, schema as scenario_schema, template,
};
pub use crate::paper::PageSize;
pub use crate::report::terminal;
pub use crate::report::{
    comparison_schema, explanation_schema, family_schema, job_schema as cutting_schema,
    schema as result_schema,
};
pub use crate::scenario::Criterion;
pub use crate::solve::budget::{Cancel, Stop};
pub use crate::units::UnitSystem;
pub use crate::verify::Rejected;
