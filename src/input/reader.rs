//! Reading a spanned TOML tree without stopping at the first fault.
//!
//! serde stops at the first value that it cannot take; a person mending a file wants them all. So the
//! outside shape is described once, by `outside!`, which makes from each table's fields a struct of
//! optional spanned values, a reader that records faults and goes on, and the table's JSON Schema.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use schemars::{Schema, SchemaGenerator};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::fault::{Code, Fault, Span};
use super::words::near;
use crate::units::UnitSystem;

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct At<T> {
    pub value: T,
    pub span: Span,
}

impl<T> At<T> {
    /// The same place, another value.
    pub fn map<U>(&self, change: impl FnOnce(&T) -> U) -> At<U> {
        At { value: change(&self.value), span: self.span.clone() }
    }
}

/// A node of the tree.
pub(super) type Node<'i> = Spanned<DeValue<'i>>;

/// More faults than this help nobody: what follows is not recorded.
const MOST_FAULTS: usize = 1000;

/// What a reader knows and finds.
#[derive(Debug)]
pub(super) struct Reading {
    /// The file's text.
    text: Arc<str>,
    /// How bare numbers are read.
    pub units: UnitSystem,
    /// What was found wrong so far.
    pub faults: Vec<Fault>,
    /// Keys that seem to be there misspelt, with the start of their table: they are not missing too.
    misspelt: BTreeSet<(usize, &'static str)>,
}

impl Reading {
    pub fn new(text: Arc<str>, units: UnitSystem) -> Self {
        Self { text, units, faults: Vec::new(), misspelt: BTreeSet::new() }
    }

    /// Where bytes `part` of the quantity `written` in the value at `whole` stand in the file. All of
    /// the value, where quotes with escapes or the like make that hard to tell.
    pub fn place_in(&self, whole: Span, written: &str, part: Option<Span>) -> Span {
        let Some(part) = part else { return whole };
        let source = self.text.get(whole.clone()).unwrap_or_default();
        let start = match source.strip_prefix(['"', '\'']) {
            Some(inner) if inner.strip_suffix(['"', '\'']) == Some(written) => whole.start + 1,
            _ if source == written => whole.start,
            _ => return whole,
        };
        start + part.start..start + part.end
    }

    /// Whether some table seems to hold `key`, misspelt.
    pub fn is_misspelt(&self, key: &str) -> bool {
        self.misspelt.iter().any(|(_, misspelt)| *misspelt == key)
    }

    /// Records a fault.
    pub fn fault(&mut self, fault: Fault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        }
    }

    /// Records that `node`, the value of `key`, is not of the type it should be.
    pub fn wrong_type(&mut self, node: &Node<'_>, key: &str, expects: &str) {
        let found = type_of(node.get_ref());
        let message = format!("`{key}` should be {expects}, and is {found}");
        self.fault(
            Fault::at(Code::WrongType, node.span(), message).label(format!("not {expects}")),
        );
    }

    /// The value of `key` in `table`; a fault if it must be there and is not.
    pub fn field<T: Reads>(
        &mut self,
        table: &DeTable<'_>,
        whole: &Span,
        key: &'static str,
        must: bool,
    ) -> Option<At<T>> {
        let Some(node) = table.get(key) else {
            if must && !self.misspelt.contains(&(whole.start, key)) {
                let message = format!("`{key}` is missing");
                let help = format!("add `{key} = …`, {}", T::EXPECTS);
                // The root has no place of its own.
                let span = (!whole.is_empty()).then(|| whole.clone());
                let fault =
                    Fault { span, key: Some(key), ..Fault::of_file(Code::Missing, message) };
                self.fault(fault.help(help));
            }
            return None;
        };
        let value = T::read(node, key, self)?;
        Some(At { value, span: node.span() })
    }

    /// Records every key of `table` that is none of `known`, with the nearest that is.
    pub fn refuse_unknown_keys(
        &mut self,
        table: &DeTable<'_>,
        whole: &Span,
        known: &[&'static str],
    ) {
        for (key, _) in table.iter() {
            let name = key.get_ref().as_ref();
            if known.contains(&name) {
                continue;
            }
            // What is there already cannot be meant.
            let free = known.iter().copied().filter(|key| !table.contains_key(*key));
            let help = match near(name, free) {
                Some(word) => {
                    self.misspelt.insert((whole.start, word));
                    format!("did you mean `{word}`?")
                }
                None => format!("known here: {}", known.join(", ")),
            };
            let message = format!("`{}` is not a key here", short(name));
            let fault = Fault::at(Code::UnknownKey, key.span(), message);
            self.fault(fault.label("unknown key").help(help));
        }
    }
}

/// What a value of the scenario file may be.
pub(super) trait Reads: Sized {
    /// What it should be, with its article: `a length`.
    const EXPECTS: &'static str;

    /// Reads the value of `key`, or records why that cannot be.
    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self>;

    /// Its JSON Schema.
    fn schema(generator: &mut SchemaGenerator) -> Schema;
}

/// What a TOML value is, with its article.
pub(super) fn type_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// The text of a number or string: what a quantity is read from. `None` for anything else.
pub(super) fn written<'n>(value: &'n DeValue<'_>) -> Option<Cow<'n, str>> {
    match value {
        DeValue::String(text) => Some(Cow::Borrowed(text.as_ref())),
        DeValue::Float(float) => Some(Cow::Borrowed(float.as_str())),
        DeValue::Integer(integer) if integer.radix() == 10 => Some(Cow::Borrowed(integer.as_str())),
        DeValue::Integer(integer) => i128::from_str_radix(integer.as_str(), integer.radix())
            .ok()
            .map(|number| Cow::Owned(number.to_string())),
        _ => None,
    }
}

/// `text`, cut where a message would drown in it.
pub(super) fn short(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(40) {
        Some((end, _)) => Cow::Owned(format!("{}…", &text[..end])),
        None => Cow::Borrowed(text),
    }
}

/// A list; every entry is read, whatever is wrong with the others. One value alone will do for a list of one.
impl<T: Reads> Reads for Vec<At<T>> {
    const EXPECTS: &'static str = "a list";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let one = std::slice::from_ref(node);
        let nodes = node.get_ref().as_array().map_or(one, |list| list);
        let mut all = Vec::with_capacity(nodes.len());
        for node in nodes {
            let value = T::read(node, key, reading);
            all.extend(value.map(|value| At { value, span: node.span() }));
        }
        Some(all)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let items = T::schema(generator);
        schemars::json_schema!({
            "anyOf": [{ "type": "array", "items": items }, items],
        })
    }
}

/// Exactly so many values.
impl<T: Reads, const N: usize> Reads for [At<T>; N] {
    const EXPECTS: &'static str = match N {
        2 => "a list of two",
        3 => "a list of three",
        _ => "a list",
    };

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(list) = node.get_ref().as_array() else {
            reading.wrong_type(node, key, Self::EXPECTS);
            return None;
        };
        if list.len() != N {
            let message = format!("`{key}` should be {}, and has {}", Self::EXPECTS, list.len());
            reading.fault(Fault::at(Code::WrongType, node.span(), message));
        }
        let read = |node: &Node<'_>| {
            T::read(node, key, reading).map(|value| At { value, span: node.span() })
        };
        let values: Vec<Option<At<T>>> = list.iter().map(read).collect();
        values.into_iter().collect::<Option<Vec<_>>>()?.try_into().ok()
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let items = T::schema(generator);
        schemars::json_schema!({ "type": "array", "items": items, "minItems": N, "maxItems": N })
    }
}

/// Describes tables of the scenario file. Each field is `must` (absence is a fault) or `may`; its doc
/// comment is its description in the schema.
macro_rules! outside {
    ($(
        $(#[doc = $doc:literal])+
        $name:ident {$(
            $(#[doc = $field_doc:literal])+
            $must:ident $field:ident: $type:ty,
        )+}
    )+) => {$(
        $(#[doc = $doc])+
        #[derive(Debug, Clone)]
        pub(in crate::input) struct $name {$(
            $(#[doc = $field_doc])+
            pub $field: Option<At<$type>>,
        )+}

        impl $name {
            /// Every key of the table.
            pub(in crate::input) const KEYS: &'static [&'static str] = &[$(outside!(@key $field)),+];
        }

        impl Reads for $name {
            const EXPECTS: &'static str = "a table";

            fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
                let Some(table) = node.get_ref().as_table() else {
                    reading.wrong_type(node, key, Self::EXPECTS);
                    return None;
                };
                let whole = node.span();
                reading.refuse_unknown_keys(table, &whole, Self::KEYS);
                Some(Self {$(
                    $field: reading.field(
                        table, &whole, outside!(@key $field), outside!(@must $must),
                    ),
                )+})
            }

            fn schema(generator: &mut SchemaGenerator) -> Schema {
                generator.subschema_for::<Self>()
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                let fields = [$((
                    outside!(@key $field),
                    concat!($($field_doc),+),
                    outside!(@must $must),
                    <$type as Reads>::schema(generator),
                )),+];
                $crate::input::schema::table(concat!($($doc),+), fields)
            }
        }
    )+};
    (@must must) => { true };
    (@must may) => { false };
    (@key for_) => { "for" };
    (@key use_) => { "use" };
    (@key in_) => { "in" };
    (@key $field:ident) => { stringify!($field) };
}
pub(super) use outside;
