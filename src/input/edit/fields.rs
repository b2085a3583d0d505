//! The text as fields, and the places of fields in the text.

use std::ops::Range;

use serde_json::{Map, Value as Json};
use toml_edit::{Document, DocumentMut, Item, TableLike, Value};

use super::{Step, is_marked};
use crate::input::fault::Fault;

/// What the text holds, tables as objects and lists as arrays. Numbers and texts are given as they were typed, without
/// quotes: `52.00`, `6 ft 6 in`. `None` if the text is no TOML.
pub fn fields(text: &str) -> Option<Json> {
    let document = Document::parse(text).ok()?;
    Some(of_table(document.as_table(), text))
}

fn of_item(item: &Item, text: &str) -> Json {
    match item {
        Item::None => Json::Null,
        Item::Value(value) => of_value(value, text),
        Item::Table(table) => of_table(table, text),
        Item::ArrayOfTables(rows) => rows.iter().map(|row| of_table(row, text)).collect(),
    }
}

fn of_table(table: &dyn TableLike, text: &str) -> Json {
    let entries = table.iter().map(|(key, item)| (key.to_owned(), of_item(item, text)));
    Json::Object(entries.collect::<Map<_, _>>())
}

fn of_value(value: &Value, text: &str) -> Json {
    match value {
        Value::String(string) => string.value().as_str().into(),
        Value::Boolean(yes) => (*yes.value()).into(),
        Value::Array(list) => list.iter().map(|value| of_value(value, text)).collect(),
        Value::InlineTable(table) => of_table(table, text),
        Value::Integer(_) | Value::Float(_) | Value::Datetime(_) => {
            let typed = value.span().and_then(|span| text.get(span)).unwrap_or_default();
            typed.trim().into()
        }
    }
}

/// The fields whose values are typical ones, marked as still to be measured.
pub fn to_measure(text: &str) -> Vec<Vec<Step>> {
    let mut found = Vec::new();
    if let Ok(document) = text.parse::<DocumentMut>() {
        marked(document.as_item(), &mut Vec::new(), &mut found);
    }
    found
}

fn marked(item: &Item, path: &mut Vec<Step>, found: &mut Vec<Vec<Step>>) {
    if item.as_value().is_some_and(is_marked) {
        found.push(path.clone());
    }
    if let Some(table) = item.as_table_like() {
        for (key, item) in table.iter() {
            path.push(Step::Key(key.to_owned()));
            marked(item, path, found);
            path.pop();
        }
    }
    for (row, table) in item.as_array_of_tables().into_iter().flatten().enumerate() {
        path.push(Step::Row(row));
        for (key, item) in table.iter() {
            path.push(Step::Key(key.to_owned()));
            marked(item, path, found);
            path.pop();
        }
        path.pop();
    }
}

/// Where every field stands in a text.
#[derive(Debug, Clone, Default)]
pub struct Places(Vec<(Range<usize>, Vec<Step>)>);

impl Places {
    /// The places of a text; none if it is no TOML.
    pub fn of(text: &str) -> Self {
        let mut places = Self::default();
        if let Ok(document) = Document::parse(text) {
            places.table(document.as_table(), &mut Vec::new());
        }
        places
    }

    /// The field that a fault is at: the innermost that holds its first byte. Empty for the file as a whole.
    pub fn path_of(&self, fault: &Fault) -> Vec<Step> {
        let start = fault.span.as_ref().map(|span| span.start);
        let holding =
            self.0.iter().filter(|(place, _)| start.is_some_and(|at| place.contains(&at)));
        // Of equal places the later is the deeper.
        let innermost = holding.rev().min_by_key(|(place, _)| place.len());
        let mut path = innermost.map(|(_, path)| path.clone()).unwrap_or_default();
        path.extend(fault.key.map(|key| Step::Key(key.to_owned())));
        path
    }

    fn add(&mut self, span: Option<Range<usize>>, path: &[Step]) {
        self.0.extend(span.map(|span| (span, path.to_vec())));
    }

    fn table(&mut self, table: &dyn TableLike, path: &mut Vec<Step>) {
        for (name, item) in table.iter() {
            path.push(Step::Key(name.to_owned()));
            self.add(table.key(name).and_then(|key| key.span()), path);
            self.item(item, path);
            path.pop();
        }
    }

    fn item(&mut self, item: &Item, path: &mut Vec<Step>) {
        match item {
            Item::None => {}
            Item::Value(value) => self.value(value, path),
            Item::Table(table) => {
                self.add(table.span(), path);
                self.table(table, path);
            }
            Item::ArrayOfTables(rows) => {
                for (row, table) in rows.iter().enumerate() {
                    path.push(Step::Row(row));
                    self.add(table.span(), path);
                    self.table(table, path);
                    path.pop();
                }
            }
        }
    }

    fn value(&mut self, value: &Value, path: &mut Vec<Step>) {
        self.add(value.span(), path);
        match value {
            Value::Array(list) => {
                for (row, value) in list.iter().enumerate() {
                    path.push(Step::Row(row));
                    self.value(value, path);
                    path.pop();
                }
            }
            Value::InlineTable(table) => self.table(table, path),
            _ => {}
        }
    }
}
