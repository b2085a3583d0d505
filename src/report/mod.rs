//! From verified designs to drawings, tables and documents.

pub mod booklet;
pub mod cautions;
pub mod comparison;
pub mod document;
pub mod drawings;
pub mod family;
mod figures;
#[cfg(test)]
mod fixture;
pub mod job;
mod naming;
pub mod reasons;
mod stowed;
mod subject;
pub mod tables;
pub mod terminal;
pub mod why;
pub mod words;
pub mod work;

pub use document::comparison::{
    ComparisonDocument, document as comparison_document, schema as comparison_schema,
};
pub use document::explanation::{
    ExplanationDocument, document as explanation_document, schema as explanation_schema,
};
pub use document::family::{FamilyDocument, document as family_document, schema as family_schema};
pub use document::job::{JobDocument, job_document, job_schema};
pub use document::{ResultDocument, design_document, document, given_document, schema};
pub use figures::{criterion_figure, criterion_unit};
pub use naming::Names;
pub use subject::{
    Candidate, Considered, DefaultUsed, Explanation, Findings, Settings, Standing, WhyOf,
};
