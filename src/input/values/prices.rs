//! Boards' prices.

use schemars::{Schema, SchemaGenerator, json_schema};

use crate::input::fault::{Code, Fault};
use crate::input::outside::BoardPrice;
use crate::input::reader::{At, Node, Reading, Reads, short};
use crate::units::parse;
use crate::units::{Length, Money};

/// A board's price, or its price with how many are at hand and how many can be had.
#[derive(Debug, Clone)]
pub(in crate::input) struct PriceOf(pub BoardPrice);

impl Reads for PriceOf {
    const EXPECTS: &'static str = "a price";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        if node.get_ref().is_table() {
            return BoardPrice::read(node, key, reading).map(Self);
        }
        let value = Money::read(node, key, reading)?;
        let price = Some(At { value, span: node.span() });
        Some(Self(BoardPrice { price, on_hand: None, most: None }))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let (price, table) = (Money::schema(generator), BoardPrice::schema(generator));
        json_schema!({ "anyOf": [price, table] })
    }
}

/// A table of lengths and their prices.
#[derive(Debug, Clone)]
pub(in crate::input) struct PricedLengths(pub Vec<(At<Length>, At<PriceOf>)>);

impl Reads for PricedLengths {
    const EXPECTS: &'static str = "a table of lengths and prices, { \"8 ft\" = 9.80 }";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(table) = node.get_ref().as_table() else {
            reading.wrong_type(node, key, Self::EXPECTS);
            return None;
        };
        let mut all = Vec::with_capacity(table.len());
        for (key, node) in table.iter() {
            let price = PriceOf::read(node, key.get_ref(), reading);
            let price = price.map(|value| At { value, span: node.span() });
            match parse::length(key.get_ref(), reading.units) {
                Ok(value) => all.extend(price.map(|p| (At { value, span: key.span() }, p))),
                Err(wrong) => {
                    let message = format!("`{}` is not a length: {wrong}", short(key.get_ref()));
                    let help = wrong.cure().unwrap_or_else(|| "keys are lengths here".into());
                    reading.fault(Fault::at(Code::Unreadable, key.span(), message).help(help));
                }
            }
        }
        // What was there has been reported: an empty table is another fault.
        if all.is_empty() && !table.is_empty() {
            return None;
        }
        // The tree is in the order of the keys' letters; people expect short before long.
        all.sort_by_key(|(length, _)| (length.value, length.span.start));
        Some(Self(all))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let price = PriceOf::schema(generator);
        json_schema!({
            "type": "object",
            "additionalProperties": price,
            "minProperties": 1,
            "examples": [{ "8 ft": 9.8, "10 ft": { "price": 12.6, "on_hand": 2 } }],
        })
    }
}
