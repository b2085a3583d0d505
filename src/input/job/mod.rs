//! Cutting jobs: a TOML file with stock, shop and parts, or a CSV file of parts beside a TOML file of the rest.
//!
//! The stock and shop sections go through the same readers and builders as a scenario's.

mod build;
mod outside;
mod parts;
mod table;

use std::path::Path;

use serde_json::{Value, json};

use super::build::DefaultUsed;
use super::fault::{Code, Fault};
use super::file::{InputError, Opened, text_of};
use super::reader::{Node, Reads};
use crate::scenario::CuttingJob;
use toml::de::DeValue;

/// A cutting job that has been read without fault.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadJob {
    /// What it says, with every default filled in.
    pub job: CuttingJob,
    /// What it left open, and what was taken instead.
    pub defaults_used: Vec<DefaultUsed>,
}

/// Reads a cutting job: a TOML file, or a CSV file of parts with `stock` naming the TOML file of the rest.
///
/// # Errors
/// Every fault of every file concerned; never empty.
pub fn read_job(path: &Path, stock: Option<&Path>) -> Result<ReadJob, Vec<InputError>> {
    let named = |path: &Path| path.display().to_string();
    let Some(stock) = stock else {
        let text = text_of_job(path).map_err(|wrong| vec![wrong])?;
        let folder = path.parent().unwrap_or(Path::new(""));
        return parse_job(&named(path), &text, None, &|name| {
            let path = folder.join(name);
            text_of_table(&path).map(|text| (path.display().to_string(), text))
        });
    };
    let parts = text_of_table(path);
    let text = text_of_job(stock);
    match (parts, text) {
        (Ok(parts), Ok(text)) => {
            let title = path.file_stem().map_or_else(String::new, |s| s.to_string_lossy().into());
            let table = Beside { name: named(path), text: parts, title };
            parse_job(&named(stock), &text, Some(table), &|name| {
                text_of_table(Path::new(name)).map(|text| (name.to_owned(), text))
            })
        }
        (parts, text) => Err(parts.err().into_iter().chain(text.err()).collect()),
    }
}

fn text_of_job(path: &Path) -> Result<String, InputError> {
    text_of(path).map_err(|wrong| wrong.begin_with("`bedwright cut --help` shows a job"))
}

fn text_of_table(path: &Path) -> Result<String, InputError> {
    text_of(path).map_err(|wrong| wrong.begin_with(HEADINGS_FIRST))
}

/// How a table of parts begins.
const HEADINGS_FIRST: &str = "begin with a line of headings: name,material,length,width,count";

/// A table of parts that was named beside its stock.
struct Beside {
    name: String,
    text: String,
    /// What the job is called unless the stock's file says.
    title: String,
}

/// Fetches a file that a job names: what it is called where faults are shown, and its text.
type Open<'o> = dyn Fn(&str) -> Result<(String, String), InputError> + 'o;

/// Reads the text of a job called `name`; `open` fetches the table of parts that it may name.
fn parse_job(
    name: &str,
    text: &str,
    beside: Option<Beside>,
    open: &Open<'_>,
) -> Result<ReadJob, Vec<InputError>> {
    let mut opened = Opened::new(name, text);
    if beside.is_some() {
        only_stock(&mut opened.root);
    }
    let file = outside::Job::read(&opened.root, "job", &mut opened.builder.reading);
    let title = beside.as_ref().map_or_else(|| opened.title("job"), |table| table.title.clone());
    let mut errors = Vec::new();
    let (mut job, places) = file.as_ref().map(|file| opened.builder.job(file, &title)).unzip();
    let table = match (&beside, file.as_ref().and_then(|file| file.parts_from.as_ref())) {
        (Some(table), _) => Some(Ok((table.name.clone(), table.text.clone()))),
        (None, Some(from)) => Some(open(&from.value)),
        (None, None) => None,
    };
    let has_table = table.is_some();
    match (table, &mut job) {
        (Some(Err(wrong)), _) => errors.push(wrong),
        (Some(Ok((name, text))), Some(job)) => {
            let whole = opened.builder.stock_is_whole;
            errors.extend(table::read(&name, &text, job, whole).err().map(InputError::from));
        }
        _ => {}
    }
    if let (Some(file), Some(job)) = (&file, &job) {
        let listed = file.part.as_ref().is_some_and(|parts| !parts.value.is_empty());
        if !listed && !has_table && !opened.builder.reading.is_misspelt("part") {
            opened
                .builder
                .fault(Fault::of_file(Code::Missing, "there is nothing to cut").help(
                    "list [[part]] tables, or name a CSV file: `parts_from = \"parts.csv\"`",
                ));
        }
        // Too many copies can only be told when both lists are read.
        opened.builder.not_too_many(job, 0, places.as_deref().unwrap_or_default());
    }
    match opened.close(job) {
        Ok(closed) if errors.is_empty() => {
            Ok(ReadJob { job: closed.made, defaults_used: closed.defaults })
        }
        Ok(_) => Err(errors),
        Err(faults) => {
            errors.insert(0, InputError::Faulty(faults));
            Err(errors)
        }
    }
}

/// Takes out of a scenario, or of another job, what a table of parts has no use for.
fn only_stock(root: &mut Node<'_>) {
    if let DeValue::Table(table) = root.get_mut() {
        let scenarios = crate::input::outside::Scenario::KEYS
            .iter()
            .filter(|key| !outside::Job::KEYS.contains(key));
        for key in scenarios.chain(&["part", "parts_from"]) {
            table.remove(*key);
        }
    }
}

/// The JSON Schema (draft 2020-12) of a cutting job's file, read as JSON.
pub fn job_schema() -> Value {
    let mut schema = schemars::generate::SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<outside::Job>();
    schema.insert("title".into(), json!("Bedwright cutting job"));
    schema.to_value()
}

#[cfg(test)]
mod tests;
