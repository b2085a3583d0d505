use serde_json::Value;

use super::*;
use crate::report::fixture;

fn produced() -> Value {
    let scenario = fixture::locksmith();
    let designs = [fixture::design(&scenario)];
    let document = document(&fixture::findings(&scenario, &designs));
    serde_json::to_value(&document).expect("the document is plain data")
}

#[test]
fn a_produced_document_satisfies_the_published_schema() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    let validator = jsonschema::draft202012::new(&schema).expect("the schema is one");
    let document = produced();
    let faults: Vec<String> =
        validator.iter_errors(&document).map(|fault| fault.to_string()).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn the_schema_refuses_a_document_with_a_length_in_words() {
    let validator = jsonschema::draft202012::new(&schema()).expect("the schema is one");
    let mut document = produced();
    document["designs"][0]["drawers"][0]["gear"][0]["dx"] = "12 1/2 in".into();
    assert!(!validator.is_valid(&document));
    let mut document = produced();
    document["designs"][0]["parts"][0]["role"] = "lintel".into();
    assert!(!validator.is_valid(&document));
    let mut document = produced();
    document["designs"][0].as_object_mut().expect("a design is an object").remove("cutting");
    assert!(!validator.is_valid(&document));
}

#[test]
fn every_number_in_the_schema_says_its_unit() {
    let schema = schema();
    for (unit, word) in [("Mm", "millimetres"), ("Kg", "kilograms"), ("Litres", "litres")] {
        let description = schema["$defs"][unit]["description"].as_str().unwrap_or_default();
        assert!(description.contains(word), "{unit}: {description}");
    }
}

#[test]
fn a_document_reads_back_as_what_was_written() {
    let scenario = fixture::locksmith();
    let designs = [fixture::design(&scenario)];
    let written = document(&fixture::findings(&scenario, &designs));
    let text = serde_json::to_string_pretty(&written).expect("plain data");
    let read: ResultDocument = serde_json::from_str(&text).expect("its own document");
    assert!(read == written, "a document changed on the way through its text");
}

#[test]
fn numbers_beyond_json_become_null() {
    let scenario = fixture::locksmith();
    let mut design = fixture::design(&scenario);
    design.checks[0].value = 0.0;
    design.checks[1].value = f64::NAN;
    let designs = [design];
    let written = document(&fixture::findings(&scenario, &designs));
    let checks = &written.designs[0].checks;
    assert_eq!((checks[0].margin, checks[0].pass), (None, true));
    assert_eq!((checks[1].value, checks[1].pass), (None, false));
}

#[test]
fn an_empty_result_is_a_document_too() {
    let scenario = fixture::locksmith();
    let written = document(&fixture::findings(&scenario, &[]));
    assert!(written.designs.is_empty() && written.bounds.best_found.is_empty());
    let value = serde_json::to_value(&written).expect("plain data");
    let validator = jsonschema::draft202012::new(&schema()).expect("the schema is one");
    assert!(validator.is_valid(&value));
}

#[test]
fn an_outsider_can_recheck_a_design() {
    let document = produced();
    assert_eq!(outsider::faults(&document), Vec::<String>::new());
}

/// Breaks the document one way at a time: the outsider has to notice.
#[test]
fn an_outsider_notices_what_is_broken() {
    type Break = fn(&mut Value);
    let ways: [(&str, Break); 8] = [
        ("gear sticks out", |design| design["drawers"][0]["gear"][0]["x"] = (-1.0).into()),
        ("gear overlaps gear", |design| {
            let first = design["drawers"][0]["gear"][0].clone();
            design["drawers"][0]["gear"][1]["y"] = first["y"].clone();
        }),
        ("gear stands in a divider", |design| {
            let item = &mut design["drawers"][0]["gear"][0]["dy"];
            *item = (item.as_f64().unwrap_or(0.0) + 1.0).into();
        }),
        ("a part is not cut", |design| {
            let quantity = &mut design["parts"][0]["quantity"];
            *quantity = (quantity.as_u64().unwrap_or(0) + 1).into();
        }),
        ("a piece is cut too small", |design| {
            design["cutting"]["boards"][0]["pieces"][0]["length"] = 10.0.into();
        }),
        ("the total does not add up", |design| design["cost"]["total"] = 1.0.into()),
        ("a line does not multiply", |design| {
            design["purchase"][0]["quantity"] = 77.into();
        }),
        ("a copy is missing", |design| {
            design["drawers"][0]["gear"].as_array_mut().expect("a list").pop();
        }),
    ];
    for (what, breaks) in ways {
        let mut document = produced();
        breaks(&mut document["designs"][0]);
        assert!(!outsider::faults(&document).is_empty(), "unnoticed: {what}");
    }
}

/// A checker that has only the JSON: it uses no type of this crate.
mod outsider {
    use std::collections::BTreeMap;

    use serde_json::Value;

    /// Millimetres to whole 12.5 nm, which they must be.
    fn units(value: &Value) -> i64 {
        let exact = value.as_f64().unwrap_or(f64::NAN) * 80_000.0;
        assert!((exact - exact.round()).abs() < 1e-3, "{value} is not exact");
        exact.round() as i64
    }

    /// Ten-thousandths of the currency.
    fn money(value: &Value) -> i64 {
        (value.as_f64().unwrap_or(f64::NAN) * 10_000.0).round() as i64
    }

    fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
        value[key].as_array().map_or(&[], Vec::as_slice)
    }

    type Span = [i64; 6];

    fn span(value: &Value) -> Span {
        let at = |key: &str| units(&value[key]);
        let (x, y, z) = (at("x"), at("y"), at("z"));
        [x, x + at("dx"), y, y + at("dy"), z, z + at("dz")]
    }

    fn overlap(a: &Span, b: &Span) -> bool {
        (0..3).all(|axis| a[2 * axis] < b[2 * axis + 1] && b[2 * axis] < a[2 * axis + 1])
    }

    pub fn faults(document: &Value) -> Vec<String> {
        let mut faults = Vec::new();
        for design in list(document, "designs") {
            for drawer in list(design, "drawers") {
                stowing(drawer, &mut faults);
            }
            solids(design, &mut faults);
            copies(&document["scenario"], design, &mut faults);
            pieces(design, &mut faults);
            costs(design, &mut faults);
            volume(design, &mut faults);
        }
        faults
    }

    fn stowing(drawer: &Value, faults: &mut Vec<String>) {
        let inside: Vec<i64> = list(drawer, "inside").iter().map(units).collect();
        let things: Vec<(&Value, Span)> = ["dividers", "gear", "loose"]
            .iter()
            .flat_map(|key| list(drawer, key))
            .map(|thing| (thing, span(thing)))
            .collect();
        for (index, (thing, space)) in things.iter().enumerate() {
            if (0..3).any(|axis| space[2 * axis] < 0 || space[2 * axis + 1] > inside[axis]) {
                faults.push(format!("sticks out of its drawer: {thing}"));
            }
            for (other, taken) in &things[index + 1..] {
                if overlap(space, taken)
                    && !(thing["mark"].is_string() && other["mark"].is_string())
                {
                    faults.push(format!("overlaps: {thing} and {other}"));
                }
            }
        }
    }

    /// No two boards of chest and drawers stand in the same room, dividers (which cross in halved joints) apart.
    fn solids(design: &Value, faults: &mut Vec<String>) {
        let chest = ["members", "panels", "others"].map(|key| list(&design["chest"], key));
        let drawers = list(design, "drawers").iter().map(|drawer| list(drawer, "boards"));
        let boards: Vec<&Value> = chest
            .into_iter()
            .chain(drawers)
            .flatten()
            .filter(|board| board["role"] != "divider")
            .collect();
        for (index, board) in boards.iter().enumerate() {
            for other in &boards[index + 1..] {
                if overlap(&span(board), &span(other)) {
                    faults.push(format!("stand in one another: {board} and {other}"));
                }
            }
        }
    }

    fn copies(scenario: &Value, design: &Value, faults: &mut Vec<String>) {
        let mut found: BTreeMap<&str, u64> = BTreeMap::new();
        for key in ["drawers", "pockets"] {
            for holder in list(design, key) {
                for thing in list(holder, "gear") {
                    *found.entry(thing["name"].as_str().unwrap_or_default()).or_default() += 1;
                }
            }
        }
        for left in list(design, "left_out") {
            *found.entry(left["name"].as_str().unwrap_or_default()).or_default() +=
                left["count"].as_u64().unwrap_or(0);
        }
        for gear in list(scenario, "gear") {
            let name = gear["name"].as_str().unwrap_or_default();
            let count = found.get(name).copied().unwrap_or(0);
            if gear["count"].as_u64() != Some(count) {
                faults.push(format!("{name}: {count} accounted for"));
            }
        }
    }

    fn pieces(design: &Value, faults: &mut Vec<String>) {
        let cutting = &design["cutting"];
        for part in list(design, "parts") {
            let sides = |value: &Value, a: &str, b: &str| {
                let mut sides = [units(&value[a]), units(&value[b])];
                sides.sort_unstable();
                sides
            };
            let mut count = 0;
            for pattern in list(cutting, "sheets") {
                let like = |piece: &&Value| {
                    piece["mark"] == part["mark"]
                        && sides(piece, "dx", "dy") == sides(part, "length", "width")
                };
                let pieces = list(pattern, "pieces").iter().filter(like).count() as u64;
                count += pieces * pattern["repeat"].as_u64().unwrap_or(0);
            }
            for pattern in list(cutting, "boards") {
                let like = |piece: &&Value| {
                    piece["mark"] == part["mark"] && piece["length"] == part["length"]
                };
                let pieces = list(pattern, "pieces").iter().filter(like).count() as u64;
                count += pieces * pattern["repeat"].as_u64().unwrap_or(0);
            }
            if part["quantity"].as_u64() != Some(count) {
                faults.push(format!("{}: {count} cut", part["mark"]));
            }
        }
    }

    fn costs(design: &Value, faults: &mut Vec<String>) {
        let mut sums: BTreeMap<&str, i64> = BTreeMap::new();
        for line in list(design, "purchase") {
            let count = |key: &str| line[key].as_i64().unwrap_or(0);
            let cost = money(&line["unit_price"]) * (count("quantity") - count("on_hand"));
            if cost != money(&line["cost"]) {
                faults.push(format!("does not multiply: {line}"));
            }
            *sums.entry(line["kind"].as_str().unwrap_or_default()).or_default() += cost;
        }
        let sum = |kind: &str| sums.get(kind).copied().unwrap_or(0);
        let cost = &design["cost"];
        for (key, kind) in [("sheets", "sheet"), ("boards", "board"), ("hardware", "hardware")] {
            if money(&cost[key]) != sum(kind) {
                faults.push(format!("cost of {key}"));
            }
        }
        let total: i64 = sums.values().sum();
        if money(&cost["total"]) != total || money(&design["criteria"]["cost"]) != total {
            faults.push("cost in total".to_owned());
        }
    }

    fn volume(design: &Value, faults: &mut Vec<String>) {
        let litres: f64 = list(design, "drawers")
            .iter()
            .map(|drawer| {
                list(drawer, "inside").iter().filter_map(Value::as_f64).product::<f64>() / 1e6
            })
            .sum();
        let said = design["criteria"]["usable_volume"].as_f64().unwrap_or(f64::NAN);
        if (litres - said).abs() > 1e-6 {
            faults.push(format!("usable volume: {said}, not {litres}"));
        }
    }
}
