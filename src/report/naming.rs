//! Names by which stock and hardware are called in every output, each once.

use std::collections::BTreeSet;

use crate::design::PurchaseOf;
use crate::scenario::{Form, HardwareId, MaterialId, Scenario, Section, Stock, StockId};
use crate::units::Length;

/// What every stock item and hardware is called. Two that a scenario names alike get a number, so that a
/// document's references are never ambiguous.
#[derive(Debug, Clone)]
pub struct Names {
    stock: Vec<String>,
    hardware: Vec<String>,
    materials: Vec<String>,
}

impl Names {
    /// The names of one scenario.
    pub fn of(scenario: &Scenario) -> Self {
        Self::of_stock(&scenario.stock)
    }

    /// The names of some stock.
    pub fn of_stock(stock: &Stock) -> Self {
        Self {
            stock: told_apart(stock.items.values().map(|item| item.name.as_str())),
            hardware: told_apart(stock.hardware.values().map(|item| item.name.as_str())),
            materials: stock.materials.values().map(|material| material.name.clone()).collect(),
        }
    }

    /// What a stock item is called.
    pub fn stock(&self, id: StockId) -> &str {
        self.stock.get(usize::from(id)).map_or("", String::as_str)
    }

    /// What hardware is called.
    pub fn hardware(&self, id: HardwareId) -> &str {
        self.hardware.get(usize::from(id)).map_or("", String::as_str)
    }

    /// What a material is called.
    pub fn material(&self, id: MaterialId) -> &str {
        self.materials.get(usize::from(id)).map_or("", String::as_str)
    }

    /// What something to buy is called.
    pub fn purchase(&self, what: PurchaseOf) -> &str {
        match what {
            PurchaseOf::Stock(id) => self.stock(id),
            PurchaseOf::Hardware(id) => self.hardware(id),
        }
    }
}

/// A name with the size behind it, unless it ends with that already.
pub fn named_and_sized(name: &str, size: &str) -> String {
    if name.ends_with(size) { name.to_owned() } else { format!("{name}, {size}") }
}

/// The names in order, those already taken with the least free number behind.
fn told_apart<'a>(names: impl Iterator<Item = &'a str> + Clone) -> Vec<String> {
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let given: BTreeSet<&str> = names.clone().collect();
    names
        .map(|name| {
            let mut unique = name.to_owned();
            let mut number = 1_u64;
            while taken.contains(&unique) || (number > 1 && given.contains(unique.as_str())) {
                number += 1;
                unique = format!("{name} ({number})");
            }
            taken.insert(unique.clone());
            unique
        })
        .collect()
}

/// A stock item's length along the grain and its width across.
pub fn stock_size(stock: &Stock, id: StockId) -> [Length; 2] {
    let item = &stock.items[id];
    match (item.form, stock.materials[item.material].section) {
        (Form::Sheet { along, across }, _) => [along, across],
        (Form::Board { length }, Section::Board { width }) => [length, width],
        (Form::Board { length }, Section::Sheet) => [length, Length::ZERO],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn like_names_are_told_apart_and_no_number_is_taken_twice() {
        let names = ["offcut", "2x8", "offcut", "offcut (2)", "offcut"];
        assert_eq!(
            told_apart(names.into_iter()),
            ["offcut", "2x8", "offcut (3)", "offcut (2)", "offcut (4)"]
        );
    }
}
