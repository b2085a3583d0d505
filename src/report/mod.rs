//! From verified designs to drawings, tables and documents.

pub mod document;
pub mod drawings;
#[cfg(test)]
mod fixture;
mod naming;
mod subject;
pub mod words;

pub use document::{ResultDocument, document, schema};
pub use naming::Names;
pub use subject::{Candidate, Considered, DefaultUsed, Explanation, Findings, Settings};
