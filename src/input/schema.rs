//! The scenario file's JSON Schema.

use schemars::generate::SchemaSettings;
use schemars::{Schema, json_schema};
use serde_json::{Map, Value, json};

use super::outside::Scenario;

/// The JSON Schema (draft 2020-12) of a scenario file, read as JSON.
///
/// It is made from the description that the reader is made from. It knows the shape; what makes sense together only
/// the reader knows.
pub fn schema() -> Value {
    let mut schema =
        SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<Scenario>();
    schema.insert("title".into(), json!("Bedwright scenario"));
    schema.to_value()
}

/// The schema of a table: its description and fields (key, description, whether it must be there, schema).
pub(super) fn table<const N: usize>(
    description: &str,
    fields: [(&'static str, &'static str, bool, Schema); N],
) -> Schema {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for (key, description, must, schema) in fields {
        properties.insert(key.to_owned(), described(schema, description.trim()));
        if must {
            required.push(key);
        }
    }
    let mut table = json_schema!({
        "description": description.trim(),
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    });
    if !required.is_empty() {
        table.insert("required".into(), json!(required));
    }
    table
}

fn described(mut schema: Schema, description: &str) -> Value {
    schema.insert("description".into(), json!(description));
    schema.to_value()
}
