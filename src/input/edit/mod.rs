//! A scenario's text as fields, and the fields' changes back into the text.
//!
//! The text is the document: [`apply`] changes it in one place and leaves comments, order, spelling and unknown keys
//! alone; [`fields()`] shows its values as they were typed; [`Places`] says which field a fault stands at.

mod change;
mod fields;
#[cfg(test)]
mod tests;

pub use change::{Change, Edit, EditError, apply};
pub use fields::{Places, fields, to_measure};

use super::template::MARK;
use serde::{Deserialize, Serialize};

/// One step of the way to a field: a key of a table, or a row of a list from 0.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Step {
    /// A row of a list.
    Row(usize),
    /// A key of a table.
    Key(String),
}

/// Whether the value bears the mark of a typical one, which is to be measured.
fn is_marked(value: &toml_edit::Value) -> bool {
    let suffix = value.decor().suffix().and_then(toml_edit::RawString::as_str).unwrap_or_default();
    suffix.trim_start().starts_with(MARK)
}

/// The way to a field as people would write it: `gear[3].size`.
pub fn shown(path: &[Step]) -> String {
    let mut text = String::new();
    for step in path {
        match step {
            Step::Row(row) => text.push_str(&format!("[{row}]")),
            Step::Key(key) if text.is_empty() => text.push_str(key),
            Step::Key(key) => text.push_str(&format!(".{key}")),
        }
    }
    text
}
