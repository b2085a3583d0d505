//! Lists of gear to start from: generic things of typical sizes, each of them to be measured.
//!
//! The figures are common practice, rounded, from no source: they only spare typing.

use serde_json::{Value as Json, json};

use crate::units::UnitSystem;

/// A list to start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Starter {
    /// Its name in requests.
    pub name: &'static str,
    /// What it is of, in a few words.
    pub what: &'static str,
    table: &'static str,
}

/// Every list.
pub const STARTERS: [Starter; 3] = [
    Starter {
        name: "workshop",
        what: "Tools of a travelling workshop",
        table: include_str!("starters/workshop.csv"),
    },
    Starter {
        name: "camping",
        what: "Cooking and sleeping outdoors",
        table: include_str!("starters/camping.csv"),
    },
    Starter {
        name: "recovery",
        what: "Getting unstuck and home again",
        table: include_str!("starters/recovery.csv"),
    },
];

impl Starter {
    /// Its rows of `gear`, in the units of the scenario that they are for.
    pub fn rows(&self, units: UnitSystem) -> Vec<Json> {
        let mut reader = csv::Reader::from_reader(self.table.as_bytes());
        let rows = reader.deserialize::<Row>().filter_map(Result::ok);
        rows.map(|row| row.in_units(units)).collect()
    }
}

/// A line of a list.
#[derive(Debug, serde::Deserialize)]
struct Row {
    name: String,
    length: f64,
    width: f64,
    height: f64,
    weight: f64,
    length_mm: f64,
    width_mm: f64,
    height_mm: f64,
    weight_kg: f64,
    count: u32,
    worth: u32,
    #[serde(rename = "use")]
    use_: String,
    turn: String,
    stack: u32,
}

impl Row {
    fn in_units(self, units: UnitSystem) -> Json {
        let (size, weight) = match units {
            UnitSystem::Inch => ([self.length, self.width, self.height], self.weight),
            UnitSystem::Metric => ([self.length_mm, self.width_mm, self.height_mm], self.weight_kg),
        };
        let mut row = json!({
            "name": self.name,
            "size": size.map(number),
            "weight": number(weight),
            "worth": self.worth,
            "use": self.use_,
            "turn": self.turn,
        });
        if self.count > 1 {
            row["count"] = self.count.into();
        }
        if self.stack > 1 {
            row["stack"] = self.stack.into();
        }
        row
    }
}

/// A whole number without a point.
fn number(value: f64) -> Json {
    if value.fract() == 0.0 { json!(value as i64) } else { json!(value) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::edit::{Change, Edit, Step, apply, to_measure};
    use crate::input::{Code, parse, template};

    #[test]
    fn every_list_goes_into_a_scenario_of_either_units_and_is_marked() {
        for (class, units) in
            [("full-size-standard", UnitSystem::Inch), ("van-floor", UnitSystem::Metric)]
        {
            let text = template(class).expect("a template");
            assert_eq!(parse("t.toml", &text).expect("no fault").scenario.units, units);
            let marked = to_measure(&text).len();
            for starter in STARTERS {
                let rows = starter.rows(units);
                assert!(rows.len() >= 10, "{}: {}", starter.name, rows.len());
                let edit = Edit {
                    at: vec![Step::Key("gear".to_owned())],
                    change: Change::InsertTypical(Json::Array(rows.clone())),
                };
                let longer = apply(&text, &[edit]).expect("a list at the end");
                assert_eq!(to_measure(&longer).len(), marked + 2 * rows.len());
                // Names of the template's own gear may come twice; nothing else is wrong.
                if let Err(faults) = parse("t.toml", &longer) {
                    let other = faults.list.iter().find(|fault| fault.code != Code::Duplicate);
                    assert!(other.is_none(), "{}: {faults}", starter.name);
                }
            }
        }
    }
}
