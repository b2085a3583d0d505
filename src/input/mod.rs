//! Scenario file to [`crate::scenario::Scenario`], every fault with its place.
//!
//! ```text
//! bytes -> text -> spanned TOML tree -> outside tables -> inside types
//!  file     file       toml             reader, values    build, rules
//! ```
//!
//! No step stops at the first fault. `outside` describes the format once: the reader and the JSON Schema come from it.

mod build;
mod density;
mod fault;
mod file;
mod outside;
mod reader;
mod rules;
mod schema;
#[cfg(test)]
mod tests;
mod values;
mod words;

pub use build::DefaultUsed;
pub use fault::{Code, Fault, Faults, Look, Source, Span, render};
pub use file::{InputError, LARGEST_FILE, Read, parse, read};
pub use schema::schema;
