//! Use cases: data to data. The front doors parse what they are asked, call one of these and show what comes back.

mod comparison;
mod explanation;
mod exploration;
pub mod folder;
mod set;

pub use comparison::{CompareError, SideBySide, compare_choices, compare_named};
pub use explanation::{ExplainError, Explained, Question, explain};
pub use exploration::{Exploration, Shown, explore};
pub use set::{SetError, comparison_document, document, explanation_document, set};

pub use crate::explore::compare::By;
pub use crate::explore::{Progress, Settings, Stage, Standing};
pub use crate::input::{
    CLASSES, DefaultUsed, Faults, InputError, Look, Read, read, schema as scenario_schema, template,
};
pub use crate::report::schema as result_schema;
pub use crate::report::terminal;
pub use crate::report::{comparison_schema, explanation_schema};
pub use crate::solve::budget::{Cancel, Stop};
pub use crate::verify::Rejected;
