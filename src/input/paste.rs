//! Gear pasted from a spreadsheet or a CSV file, as rows for the scenario.
//!
//! Cells are taken over as they were typed; a quantity that cannot be read is told of, and is taken all the same, to be
//! mended where the row then stands, like anything else that is typed. Only lines that cannot become a row are refused.

use serde_json::{Map, Value as Json, json};

use super::reader::short;
use super::words::near;
use crate::units::UnitSystem;
use crate::units::parse::{self, ParseError};

/// What was pasted.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pasted {
    /// A row of `gear` for each line, as [`super::edit::Change::Insert`] takes it.
    pub rows: Vec<Json>,
    /// Lines and columns that were not taken, and what of them has to be mended.
    pub faults: Vec<PasteFault>,
}

/// What was not taken of what was pasted, or cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PasteFault {
    /// From 1.
    pub line: usize,
    /// From 1; 0 for the whole line.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// What would do instead.
    pub cure: String,
}

/// What a heading may be, and the key that it stands for.
const HEADINGS: [(&str, &str); 34] = [
    ("name", "name"),
    ("item", "name"),
    ("what", "name"),
    ("description", "name"),
    ("size", "size"),
    ("dimensions", "size"),
    ("l x w x h", "size"),
    ("length", "length"),
    ("l", "length"),
    ("depth", "length"),
    ("width", "width"),
    ("w", "width"),
    ("height", "height"),
    ("h", "height"),
    ("weight", "weight"),
    ("mass", "weight"),
    ("wt", "weight"),
    ("lb", "weight"),
    ("kg", "weight"),
    ("count", "count"),
    ("quantity", "count"),
    ("qty", "count"),
    ("pieces", "count"),
    ("worth", "worth"),
    ("value", "worth"),
    ("points", "worth"),
    ("must", "must"),
    ("must fit", "must"),
    ("use", "use"),
    ("how often", "use"),
    ("turn", "turn"),
    ("near", "near"),
    ("group", "near"),
    ("stack", "stack"),
];

/// The columns where there is no line of headings.
const USUAL: [&str; 6] = ["name", "length", "width", "height", "weight", "count"];

/// No more lines are taken.
const MOST: usize = 1000;

/// Reads a table of gear for a scenario of these units: cells parted by tabs, or by commas or semicolons if there is no
/// tab; with a line of headings or, without one, in the order name, length, width, height, weight, count.
pub fn paste_gear(text: &str, units: UnitSystem) -> Pasted {
    let mut pasted = Pasted::default();
    let lines = lines(text, &mut pasted);
    let Some((first_line, first)) = lines.first() else {
        pasted.refuse(
            0,
            0,
            "there is nothing in it",
            "copy the lines with their sizes and weights",
        );
        return pasted;
    };
    let known: Vec<Option<&str>> = first.iter().map(|cell| key_of(cell)).collect();
    let headed = known.iter().flatten().count() >= 2 || known == [Some("name")];
    let columns: Vec<Option<Column>> = match headed {
        true => pasted.columns(*first_line, first),
        false if first.get(1).is_some_and(|cell| sizes(cell).is_some()) => {
            ["name", "size", "weight", "count"].map(|key| Some(Column { key, unit: "" })).to_vec()
        }
        false => USUAL.map(|key| Some(Column { key, unit: "" })).to_vec(),
    };
    for (line, cells) in lines.iter().skip(usize::from(headed)) {
        let row = pasted.row(*line, cells, &columns);
        if let Some(row) = &row {
            pasted.unreadable(*line, row, units);
        }
        pasted.rows.extend(row);
    }
    pasted
}

/// What a column's cells are.
#[derive(Debug, Clone, Copy)]
struct Column {
    key: &'static str,
    /// The unit that its heading names, for bare numbers.
    unit: &'static str,
}

/// The lines that hold anything, with their numbers from 1.
fn lines(text: &str, pasted: &mut Pasted) -> Vec<(usize, Vec<String>)> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let first = body.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let delimiter = [b'\t', b';', b','].into_iter().find(|one| first.as_bytes().contains(one));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(delimiter.unwrap_or(b'\t'))
        .from_reader(body.as_bytes());
    let mut all = Vec::new();
    for record in reader.records() {
        let Ok(record) = record else {
            pasted.refuse(0, 0, "it is no text", "copy the cells anew");
            break;
        };
        let line = record.position().map_or(0, |place| place.line());
        if record.iter().all(str::is_empty) {
            continue;
        }
        if all.len() > MOST {
            let what = format!("more than {MOST} lines");
            pasted.refuse(line as usize, 0, &what, "paste the rest by itself");
            break;
        }
        all.push((line as usize, record.iter().map(str::to_owned).collect()));
    }
    all
}

/// The key that a heading stands for, its unit in brackets left out.
fn key_of(heading: &str) -> Option<&'static str> {
    let text = heading.to_lowercase();
    let text = text.split(['(', '[']).next().unwrap_or_default().trim();
    HEADINGS.iter().find(|(word, _)| *word == text).map(|(_, key)| *key)
}

/// The unit that a heading names.
fn unit_of(heading: &str) -> &'static str {
    let text = heading.to_lowercase();
    let inside = text.split(['(', '[']).nth(1).unwrap_or(&text);
    let word = inside.trim_end_matches([')', ']']).trim();
    let units = [
        ("in", "in"),
        ("inch", "in"),
        ("inches", "in"),
        ("\"", "in"),
        ("ft", "ft"),
        ("mm", "mm"),
        ("cm", "cm"),
        ("m", "m"),
        ("lb", "lb"),
        ("lbs", "lb"),
        ("kg", "kg"),
        ("g", "g"),
    ];
    units.iter().find(|(known, _)| *known == word).map_or("", |(_, unit)| unit)
}

/// Three sizes in one cell: `19 x 14 1/2 x 5 1/2`.
fn sizes(cell: &str) -> Option<[String; 3]> {
    let parts: Vec<String> =
        cell.split(['x', 'X', '×']).map(|part| part.trim().to_owned()).collect();
    parts.try_into().ok().filter(|parts: &[String; 3]| parts.iter().all(|part| !part.is_empty()))
}

impl Pasted {
    fn refuse(&mut self, line: usize, column: usize, what: &str, cure: &str) {
        self.faults.push(PasteFault { line, column, what: what.to_owned(), cure: cure.to_owned() });
    }

    fn columns(&mut self, line: usize, headings: &[String]) -> Vec<Option<Column>> {
        let mut all: Vec<Option<Column>> = Vec::new();
        for (column, heading) in (1..).zip(headings) {
            let key = key_of(heading);
            let twice = all.iter().flatten().any(|known| Some(known.key) == key);
            match key {
                Some(key) if !twice => all.push(Some(Column { key, unit: unit_of(heading) })),
                _ => {
                    all.push(None);
                    if twice {
                        let what = format!("the column `{heading}` comes twice");
                        self.refuse(line, column, &what, "the first of them is taken");
                    } else if !heading.is_empty() {
                        let what = format!("`{heading}` is not a known column");
                        let like = near(heading, HEADINGS.iter().map(|(word, _)| *word));
                        let cure = like.map_or_else(
                            || {
                                "it is left out; known are name, length, width, height, weight, \
                                count, worth, must, use, turn, near and stack"
                                    .to_owned()
                            },
                            |word| format!("it is left out; was `{word}` meant?"),
                        );
                        self.refuse(line, column, &what, &cure);
                    }
                }
            }
        }
        all
    }

    fn row(&mut self, line: usize, cells: &[String], columns: &[Option<Column>]) -> Option<Json> {
        let cell = |key: &str| {
            let column = columns.iter().position(|one| one.is_some_and(|one| one.key == key))?;
            let text = cells.get(column).filter(|text| !text.is_empty())?;
            columns[column].map(|column| quantity(text, column.unit))
        };
        let text = |key: &str| cell(key).and_then(|value| value.as_str().map(str::to_owned));
        let Some(name) = text("name").or_else(|| cell("name").map(|value| value.to_string()))
        else {
            self.refuse(line, 0, "this line has no name", "give it one");
            return None;
        };
        let mut row = Map::new();
        row.insert("name".to_owned(), name.clone().into());
        let size = match text("size").as_deref().and_then(sizes) {
            Some(parts) => Some(json!(parts.map(|part| quantity(&part, "")))),
            None => match (cell("length"), cell("width"), cell("height")) {
                (Some(length), Some(width), Some(height)) => Some(json!([length, width, height])),
                _ => None,
            },
        };
        match size {
            Some(size) => _ = row.insert("size".to_owned(), size),
            None => {
                let what = format!("`{name}` lacks its three sizes");
                self.refuse(line, 0, &what, "give length, width and height as it stands");
            }
        }
        match cell("weight") {
            Some(weight) => _ = row.insert("weight".to_owned(), weight),
            None => {
                self.refuse(
                    line,
                    0,
                    &format!("`{name}` lacks its weight"),
                    "weigh it and type it in",
                );
            }
        }
        for key in ["count", "worth", "stack", "use", "turn", "near"] {
            if let Some(value) = cell(key) {
                row.insert(key.to_owned(), value);
            }
        }
        if let Some(must) = text("must") {
            let yes =
                ["yes", "y", "true", "1", "x", "must"].contains(&must.to_lowercase().as_str());
            row.insert("must".to_owned(), yes.into());
        } else if cell("must") == Some(json!(1)) {
            row.insert("must".to_owned(), true.into());
        }
        Some(Json::Object(row))
    }

    /// Tells of quantities that can't be read.
    fn unreadable(&mut self, line: usize, row: &Json, units: UnitSystem) {
        let name = typed(&row["name"]);
        let sizes = row["size"].as_array().into_iter().flatten();
        let sizes =
            sizes.map(|size| (size, "length", parse::with_tolerance(&typed(size), units).err()));
        let weight = row.get("weight");
        let weight =
            weight.map(|weight| (weight, "weight", parse::mass(&typed(weight), units).err()));
        let wrong = |(value, what, error): (&Json, _, Option<ParseError>)| {
            let error = error?;
            let value = short(&typed(value)).into_owned();
            let cure = error.cure().unwrap_or_else(|| "mend it here or in the list".to_owned());
            Some((format!("`{value}` of `{name}` is no {what}: {error}"), cure))
        };
        let all: Vec<(String, String)> = sizes.chain(weight).filter_map(wrong).collect();
        for (what, cure) in all {
            self.refuse(line, 0, &what, &cure);
        }
    }
}

/// A value as it was typed.
fn typed(value: &Json) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

/// A cell as a value: a bare number as a number, with the heading's unit as a text.
fn quantity(text: &str, unit: &str) -> Json {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let bare = digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || "./ -".contains(c));
    if bare && !unit.is_empty() {
        return format!("{text} {unit}").into();
    }
    match serde_json::from_str::<serde_json::Number>(text) {
        Ok(number) => Json::Number(number),
        Err(_) => text.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Pasted {
        paste_gear(text, UnitSystem::Inch)
    }

    #[test]
    fn cells_from_a_spreadsheet_become_rows() {
        let pasted = read(
            "Name\tLength\tWidth\tHeight\tWeight (lb)\tQty\nDrill case\t15\t12 1/2\t5\t12\t2\n\nSaw\t16\"\t13\t9\t15 lb\t\n",
        );
        assert_eq!(pasted.faults, []);
        assert_eq!(
            pasted.rows,
            [
                json!({"name": "Drill case", "size": [15, "12 1/2", 5], "weight": "12 lb", "count": 2}),
                json!({"name": "Saw", "size": ["16\"", 13, 9], "weight": "15 lb"}),
            ]
        );
    }

    #[test]
    fn a_table_without_headings_is_read_in_the_usual_order() {
        let pasted = read("Drill case,15,12,5,12 lb,2\n");
        assert_eq!(pasted.faults, []);
        let row = json!({"name": "Drill case", "size": [15, 12, 5], "weight": "12 lb", "count": 2});
        assert_eq!(pasted.rows, [row]);
        let pasted = read("Drill case\t15 x 12 x 5\t12 lb\n");
        let row = json!({"name": "Drill case", "size": [15, 12, 5], "weight": "12 lb"});
        assert_eq!(pasted.rows, [row]);
    }

    #[test]
    fn what_is_not_taken_is_named_with_its_place() {
        let pasted = read("name;lenght;width;height;weight\nSaw;16;13;9;15 lb\n;1;2;3;4\n");
        assert_eq!(pasted.rows, [json!({"name": "Saw", "weight": "15 lb"})]);
        let places: Vec<(usize, usize)> =
            pasted.faults.iter().map(|fault| (fault.line, fault.column)).collect();
        assert_eq!(places, [(1, 2), (2, 0), (3, 0)]);
        assert!(pasted.faults[0].cure.contains("`length`"));
        assert_eq!(read(" \n").faults.len(), 1);
    }

    #[test]
    fn quantities_that_cannot_be_read_are_told_of_and_taken_to_be_mended() {
        let pasted = read(
            "name\tlength\twidth\theight\tweight\nSaw\tlong\t13 1/2\t9\t15 lbs\nVise\t1\t2\t3\theavy\n",
        );
        let told: Vec<&str> = pasted.faults.iter().map(|fault| fault.what.as_str()).collect();
        let [long, heavy] = told[..] else { panic!("{told:?}") };
        assert!(long.starts_with("`long` of `Saw` is no length: "), "{long}");
        assert!(heavy.starts_with("`heavy` of `Vise` is no weight: "), "{heavy}");
        assert_eq!(pasted.rows[0]["size"], json!(["long", "13 1/2", 9]));
    }
}
