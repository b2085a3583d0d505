//! Changing a text in one place.

use serde::Deserialize;
use serde_json::{Map, Value as Json};
use thiserror::Error;
use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, RawString, Table, TableLike, Value,
};

use super::{Step, is_marked, shown};
use crate::input::template::MARK;

/// A change at one place.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Edit {
    /// The way to the field.
    pub at: Vec<Step>,
    /// What becomes of it.
    #[serde(flatten)]
    pub change: Change,
}

/// What becomes of a field.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// What a person typed for a quantity: a bare number becomes one, anything else a text.
    Typed(String),
    /// Exactly this. An object set on a table changes the keys that it names (`null` removes one) and keeps the others.
    Set(Json),
    /// Removed; `false` does nothing. Comments above it stay.
    Remove(bool),
    /// A new row before the one named, or at the end of the list named; a list of several.
    Insert(Json),
    /// The same with the sizes and weights marked as typical ones, to be measured.
    InsertTypical(Json),
    /// The mark of a typical value goes: it was measured. `false` does nothing. Setting a value takes its mark away too.
    Measured(bool),
    /// The row goes to this place among the others, from 0.
    MoveTo(usize),
}

/// Why a change cannot be made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EditError {
    /// The text is no TOML, so no field of it can be changed.
    #[error("the text has a fault of syntax: mend it there before changing fields ({0})")]
    Syntax(String),
    /// The way leads nowhere.
    #[error("there is no {0} to change")]
    NoPlace(String),
    /// Such a change is none of this place.
    #[error("{0} cannot be changed so: {1}")]
    Unfit(String, &'static str),
}

/// The text with all the changes made, one after the other.
///
/// # Errors
/// [`EditError`] of the first that cannot be made.
pub fn apply(text: &str, edits: &[Edit]) -> Result<String, EditError> {
    let mut document: DocumentMut = text
        .parse()
        .map_err(|e: toml_edit::TomlError| EditError::Syntax(e.message().to_owned()))?;
    let mut trailing = document.trailing().as_str().unwrap_or_default().to_owned();
    for edit in edits {
        let mut changing = Changing { at: &edit.at, homeless: String::new() };
        changing.table(document.as_table_mut(), &edit.at, &edit.change)?;
        trailing.insert_str(0, &changing.homeless);
    }
    document.set_trailing(trailing);
    Ok(document.to_string())
}

/// A change being made.
struct Changing<'a> {
    at: &'a [Step],
    /// Comments above what was removed, for which no other place is left.
    homeless: String,
}

impl Changing<'_> {
    fn nowhere(&self) -> EditError {
        EditError::NoPlace(shown(self.at))
    }

    fn unfit(&self, why: &'static str) -> EditError {
        EditError::Unfit(shown(self.at), why)
    }

    fn item(&mut self, item: &mut Item, way: &[Step], change: &Change) -> Result<(), EditError> {
        match item {
            Item::Value(value) => self.value(value, way, change),
            Item::Table(table) => self.table(table, way, change),
            Item::ArrayOfTables(rows) => self.rows(rows, way, change),
            Item::None => Err(self.nowhere()),
        }
    }

    fn value(&mut self, value: &mut Value, way: &[Step], change: &Change) -> Result<(), EditError> {
        match value {
            Value::InlineTable(table) => self.table(table, way, change),
            Value::Array(list) => self.list(list, way, change),
            _ => Err(self.nowhere()),
        }
    }

    fn table(
        &mut self,
        table: &mut dyn TableLike,
        way: &[Step],
        change: &Change,
    ) -> Result<(), EditError> {
        let Some((Step::Key(key), rest)) = way.split_first() else {
            return Err(self.nowhere());
        };
        if !rest.is_empty() {
            if !table.contains_key(key) {
                let makes =
                    !matches!(change, Change::Remove(_) | Change::MoveTo(_) | Change::Measured(_));
                if !makes || matches!(rest[0], Step::Row(_)) {
                    return Err(self.nowhere());
                }
                table.insert(key, empty_table(table_is_root(self.at, way)));
            }
            let item = table.get_mut(key).ok_or_else(|| self.nowhere())?;
            return self.item(item, rest, change);
        }
        match change {
            Change::Typed(text) => put(table, key, Item::Value(typed(text))),
            Change::Set(Json::Object(object)) => self.merge(table, key, object)?,
            Change::Set(json) => {
                let item = self.item_of(json)?;
                put(table, key, item);
            }
            Change::Remove(true) => self.remove_key(table, key),
            Change::Remove(false) => {}
            Change::Insert(json) | Change::InsertTypical(json) => {
                let typical = matches!(change, Change::InsertTypical(_));
                if !table.contains_key(key) {
                    table.insert(key, Item::ArrayOfTables(ArrayOfTables::new()));
                }
                match table.get_mut(key) {
                    Some(Item::ArrayOfTables(rows)) => {
                        let end = rows.len();
                        self.insert_rows(rows, end, json, typical)?;
                    }
                    Some(Item::Value(Value::Array(list))) => {
                        let end = list.len();
                        self.insert_values(list, end, json)?;
                    }
                    _ => return Err(self.unfit("it is no list")),
                }
            }
            Change::MoveTo(_) => return Err(self.unfit("only rows of a list can be moved")),
            Change::Measured(yes) => {
                let item = table.get_mut(key).ok_or_else(|| self.nowhere())?;
                if let (true, Some(value)) = (*yes, item.as_value_mut()) {
                    unmark(value);
                }
            }
        }
        Ok(())
    }

    /// Changes the keys of the table at `key` that `object` names.
    fn merge(
        &mut self,
        table: &mut dyn TableLike,
        key: &str,
        object: &Map<String, Json>,
    ) -> Result<(), EditError> {
        if !table.get(key).is_some_and(Item::is_table_like) {
            let root = self.at.len() == 1;
            put(table, key, empty_table(root));
        }
        let inside = table.get_mut(key).and_then(Item::as_table_like_mut);
        let inside = inside.ok_or(EditError::NoPlace(shown(self.at)))?;
        self.merge_into(inside, object)
    }

    fn merge_into(
        &mut self,
        table: &mut dyn TableLike,
        object: &Map<String, Json>,
    ) -> Result<(), EditError> {
        for (key, json) in object {
            match json {
                Json::Null => self.remove_key(table, key),
                json => {
                    let item = self.item_of(json)?;
                    put(table, key, item);
                }
            }
        }
        Ok(())
    }

    /// Removes a key; the comment lines above it go to the next key.
    fn remove_key(&mut self, table: &mut dyn TableLike, key: &str) {
        let keys: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
        let place = keys.iter().position(|one| one == key);
        let above = match table.get(key) {
            Some(Item::Table(inside)) => prefix_of(inside.decor().prefix()),
            Some(Item::ArrayOfTables(rows)) => {
                rows.iter().map(|row| prefix_of(row.decor().prefix())).collect()
            }
            _ => table.key(key).map(|key| prefix_of(key.leaf_decor().prefix())).unwrap_or_default(),
        };
        table.remove(key);
        if !above.contains('#') {
            return;
        }
        let next = place.and_then(|place| keys.get(place + 1)).cloned();
        if !next.is_some_and(|next| hand_down(table, &next, &above)) {
            self.homeless.push_str(&above);
        }
    }

    fn rows(
        &mut self,
        rows: &mut ArrayOfTables,
        way: &[Step],
        change: &Change,
    ) -> Result<(), EditError> {
        let Some((Step::Row(row), rest)) = way.split_first() else {
            return Err(self.nowhere());
        };
        let row = *row;
        let there = row < rows.len();
        if !rest.is_empty() {
            let table = rows.get_mut(row).ok_or_else(|| self.nowhere())?;
            return self.table(table, rest, change);
        }
        match change {
            Change::Insert(json) if row <= rows.len() => self.insert_rows(rows, row, json, false),
            Change::InsertTypical(json) if row <= rows.len() => {
                self.insert_rows(rows, row, json, true)
            }
            Change::Set(Json::Object(object)) if there => {
                let table = rows.get_mut(row).ok_or_else(|| self.nowhere())?;
                self.merge_into(table, object)
            }
            Change::Remove(false) => Ok(()),
            Change::Remove(true) if there => {
                let removed = rows.remove(row);
                let above = prefix_of(removed.decor().prefix());
                if above.contains('#') {
                    match rows.get_mut(row) {
                        Some(next) => put_above(next.decor_mut(), &above),
                        None => self.homeless.push_str(&above),
                    }
                }
                Ok(())
            }
            Change::MoveTo(to) if there && *to < rows.len() => {
                move_row(rows, row, *to);
                Ok(())
            }
            Change::Typed(_) | Change::Set(_) if there => Err(self.unfit("a row is a table")),
            _ => Err(self.nowhere()),
        }
    }

    fn list(&mut self, list: &mut Array, way: &[Step], change: &Change) -> Result<(), EditError> {
        let Some((Step::Row(row), rest)) = way.split_first() else {
            return Err(self.nowhere());
        };
        let row = *row;
        let there = row < list.len();
        if !rest.is_empty() {
            let value = list.get_mut(row).ok_or_else(|| self.nowhere())?;
            return self.value(value, rest, change);
        }
        match change {
            Change::Insert(json) if row <= list.len() => self.insert_values(list, row, json),
            Change::Typed(text) if there => {
                replace(list, row, typed(text));
                Ok(())
            }
            Change::Set(Json::Object(object))
                if list.get(row).is_some_and(Value::is_inline_table) =>
            {
                let table = list.get_mut(row).and_then(Value::as_inline_table_mut);
                self.merge_into(table.ok_or(EditError::NoPlace(shown(self.at)))?, object)
            }
            Change::Set(json) if there => {
                let value = self.value_of(json)?;
                replace(list, row, value);
                Ok(())
            }
            Change::Remove(false) => Ok(()),
            Change::Remove(true) if there => {
                let removed = list.remove(row);
                let above = prefix_of(removed.decor().prefix());
                if above.contains('#') {
                    match list.get_mut(row) {
                        Some(next) => put_above(next.decor_mut(), &above),
                        None => {
                            let trailing = list.trailing().as_str().unwrap_or_default().to_owned();
                            list.set_trailing(above + &trailing);
                        }
                    }
                }
                Ok(())
            }
            Change::MoveTo(to) if there && *to < list.len() => {
                let value = list.remove(row);
                list.insert_formatted(*to, value);
                Ok(())
            }
            _ => Err(self.nowhere()),
        }
    }

    fn insert_rows(
        &self,
        rows: &mut ArrayOfTables,
        at: usize,
        json: &Json,
        typical: bool,
    ) -> Result<(), EditError> {
        let one = std::slice::from_ref(json);
        let new = json.as_array().map_or(one, Vec::as_slice);
        let before =
            at.checked_sub(1).and_then(|before| rows.get(before)).and_then(Table::position);
        let next = rows.get(at).and_then(Table::position);
        for (offset, json) in new.iter().enumerate() {
            let Json::Object(object) = json else {
                return Err(self.unfit("a row is an object of keys and values"));
            };
            let mut table = Table::new();
            table.decor_mut().set_prefix("\n");
            // Tables are written in the order of their positions, equal ones in the order of the list.
            table.set_position(before.or(next));
            for (key, json) in object.iter().filter(|(_, json)| !json.is_null()) {
                let mut value = self.value_of(json)?;
                if typical && ["size", "weight", "volume"].contains(&key.as_str()) {
                    value.decor_mut().set_suffix(format!("  {MARK}"));
                }
                table.insert(key, Item::Value(value));
            }
            rows.insert(at + offset, table);
        }
        Ok(())
    }

    fn insert_values(&self, list: &mut Array, at: usize, json: &Json) -> Result<(), EditError> {
        let one = std::slice::from_ref(json);
        let new = json.as_array().map_or(one, Vec::as_slice);
        for (offset, json) in new.iter().enumerate() {
            list.insert(at + offset, self.value_of(json)?);
        }
        Ok(())
    }

    fn item_of(&self, json: &Json) -> Result<Item, EditError> {
        let rows =
            json.as_array().filter(|rows| !rows.is_empty() && rows.iter().all(Json::is_object));
        match rows {
            Some(_) if self.at.len() == 1 => {
                let mut rows = ArrayOfTables::new();
                self.insert_rows(&mut rows, 0, json, false)?;
                Ok(Item::ArrayOfTables(rows))
            }
            _ => Ok(Item::Value(self.value_of(json)?)),
        }
    }

    fn value_of(&self, json: &Json) -> Result<Value, EditError> {
        Ok(match json {
            Json::Null => return Err(self.unfit("null is no value; remove it instead")),
            Json::Bool(yes) => (*yes).into(),
            Json::Number(number) => match (number.as_i64(), number.as_f64()) {
                (Some(whole), _) => whole.into(),
                (None, Some(float)) => float.into(),
                (None, None) => return Err(self.unfit("the number is beyond every range")),
            },
            Json::String(text) => text.as_str().into(),
            Json::Array(list) => {
                let values: Vec<Value> =
                    list.iter().map(|json| self.value_of(json)).collect::<Result<_, _>>()?;
                Value::Array(values.into_iter().collect())
            }
            Json::Object(object) => {
                let mut table = InlineTable::new();
                for (key, json) in object.iter().filter(|(_, json)| !json.is_null()) {
                    table.insert(key, self.value_of(json)?);
                }
                Value::InlineTable(table)
            }
        })
    }
}

/// Whether the table at the start of `way` is the document itself.
fn table_is_root(at: &[Step], way: &[Step]) -> bool {
    at.len() == way.len()
}

/// A table to be filled: with a header of its own in the document, inline elsewhere.
fn empty_table(in_root: bool) -> Item {
    if in_root {
        let mut table = Table::new();
        table.decor_mut().set_prefix("\n");
        Item::Table(table)
    } else {
        Item::Value(Value::InlineTable(InlineTable::new()))
    }
}

/// What a person typed: a bare number if it is one in TOML too, keeping its digits.
fn typed(text: &str) -> Value {
    let text = text.trim();
    let digits = text.strip_prefix('-').unwrap_or(text);
    let plain = digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    match text.parse::<Value>() {
        Ok(value) if plain && (value.is_integer() || value.is_float()) => value,
        _ => text.into(),
    }
}

/// Puts `item` at `key`. A value takes the spaces and comments around the one that it replaces.
fn put(table: &mut dyn TableLike, key: &str, mut item: Item) {
    let Some(old) = table.get_mut(key) else {
        table.insert(key, item);
        return;
    };
    if let (Item::Value(old), Item::Value(new)) = (&*old, &mut item) {
        *new.decor_mut() = old.decor().clone();
        unmark(new);
    }
    *old = item;
}

/// Takes away the mark of a typical value.
fn unmark(value: &mut Value) {
    if is_marked(value) {
        value.decor_mut().set_suffix("");
    }
}

/// Replaces a value of a list, keeping the spaces and comments around it.
fn replace(list: &mut Array, row: usize, mut new: Value) {
    if let Some(old) = list.get_mut(row) {
        *new.decor_mut() = old.decor().clone();
        *old = new;
    }
}

fn prefix_of(prefix: Option<&RawString>) -> String {
    prefix.and_then(RawString::as_str).unwrap_or_default().to_owned()
}

fn put_above(decor: &mut toml_edit::Decor, above: &str) {
    let own = prefix_of(decor.prefix());
    decor.set_prefix(above.to_owned() + &own);
}

/// Puts a comment above the entry at `key`. Whether there is one to take it.
fn hand_down(table: &mut dyn TableLike, key: &str, above: &str) -> bool {
    if table.get(key).is_some_and(Item::is_value) {
        let Some(mut key) = table.key_mut(key) else { return false };
        put_above(key.leaf_decor_mut(), above);
        return true;
    }
    let decor = match table.get_mut(key) {
        Some(Item::Table(inside)) => Some(inside.decor_mut()),
        Some(Item::ArrayOfTables(rows)) => rows.get_mut(0).map(Table::decor_mut),
        _ => None,
    };
    decor.map(|decor| put_above(decor, above)).is_some()
}

/// Moves a row, its comments with it. Tables are written in the order of their positions, so these stay where they were.
fn move_row(rows: &mut ArrayOfTables, from: usize, to: usize) {
    let positions: Vec<Option<isize>> = rows.iter().map(Table::position).collect();
    let table = rows.remove(from);
    rows.insert(to, table);
    for (table, position) in rows.iter_mut().zip(positions) {
        table.set_position(position);
    }
}
