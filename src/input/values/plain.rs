//! Counts, yes or no, names, how often.

use schemars::{Schema, SchemaGenerator, json_schema};

use super::quantities::Thousandths;
use super::words::{unknown_word, word_of};
use crate::input::fault::{Code, Fault};
use crate::input::reader::{Node, Reading, Reads, written};
use crate::units::parse;

/// A whole number.
impl Reads for i64 {
    const EXPECTS: &'static str = "a whole number";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let integer = node.get_ref().as_integer();
        let number = integer.map(|i| i64::from_str_radix(i.as_str(), i.radix()));
        match number {
            Some(Ok(number)) => Some(number),
            Some(Err(_)) => {
                let message = format!("`{key}` is beyond any count");
                reading.fault(Fault::at(Code::OutOfRange, node.span(), message));
                None
            }
            None => {
                reading.wrong_type(node, key, Self::EXPECTS);
                None
            }
        }
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer" })
    }
}

impl Reads for bool {
    const EXPECTS: &'static str = "true or false";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let value = node.get_ref().as_bool();
        if value.is_none() {
            reading.wrong_type(node, key, Self::EXPECTS);
        }
        value
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "boolean" })
    }
}

/// The longest name that is taken, in characters.
pub(in crate::input) const LONGEST_NAME: usize = 100;

/// A name: one line, not empty, trimmed.
impl Reads for String {
    const EXPECTS: &'static str = "text";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(text) = node.get_ref().as_str() else {
            reading.wrong_type(node, key, "text in quotes");
            return None;
        };
        let text = text.trim();
        let wrong = if text.is_empty() {
            "is empty".to_owned()
        } else if text.contains(char::is_control) {
            "holds a line break or another control character".to_owned()
        } else if text.chars().count() > LONGEST_NAME {
            format!("is longer than {LONGEST_NAME} characters")
        } else {
            return Some(text.to_owned());
        };
        let message = format!("`{key}` {wrong}");
        reading.fault(Fault::at(Code::OutOfRange, node.span(), message));
        None
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "minLength": 1, "maxLength": LONGEST_NAME })
    }
}

/// How often a thing is used: a word, or uses per week. In thousandths of uses per week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Uses(pub i64);

/// The words for how often, in thousandths of uses per week.
const USES: [(&str, i64); 4] =
    [("daily", 7000), ("weekly", 1000), ("monthly", 250), ("rarely", 50)];

impl Reads for Uses {
    const EXPECTS: &'static str = "daily, weekly, monthly, rarely, or uses per week";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(text) = node.get_ref().as_str() else {
            return Thousandths::read(node, key, reading).map(|uses| Self(uses.0));
        };
        let words = USES.map(|(word, uses)| (word, Self(uses)));
        word_of(&words, text).or_else(|| {
            let uses = parse::thousandths(text).ok().map(Self);
            if uses.is_none() {
                unknown_word(&words, node, text, reading);
            }
            uses
        })
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        let words = USES.map(|(word, _)| word);
        json_schema!({ "anyOf": [{ "type": "number", "minimum": 0 }, { "enum": words }] })
    }
}

/// How many stages of cuts there may be; none for as many as wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) struct StageLimit(pub Option<u8>);

impl Reads for StageLimit {
    const EXPECTS: &'static str = "2, 3 or \"unlimited\"";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let limit = match (written(node.get_ref()), node.get_ref().as_str()) {
            (_, Some("unlimited")) => Some(Self(None)),
            (Some(text), _) => match text.trim() {
                "2" => Some(Self(Some(2))),
                "3" => Some(Self(Some(3))),
                _ => None,
            },
            (None, _) => None,
        };
        if limit.is_none() {
            reading.wrong_type(node, key, Self::EXPECTS);
        }
        limit
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "description": Self::EXPECTS, "enum": [2, 3, "unlimited"] })
    }
}
