//! `vet`, `new` and `schema`.

use std::fmt::Write as _;
use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::Path;

use super::args::{Colour, Document, NewArgs, SchemaArgs, VetArgs};
use super::out::{Exit, Failure, coloured, print};
use crate::app::{self, InputError, Look, Read};

/// Width of everything that is printed.
const WIDTH: usize = 80;

/// Reads a scenario, or says everything that is wrong with it.
pub fn read(path: &Path, colour: Colour) -> Result<Read, Failure> {
    app::read(path).map_err(|error| Failure::input(shown(&error, colour)))
}

/// What is wrong with an input, as it is told.
pub fn shown(error: &InputError, colour: Colour) -> String {
    let look = Look { colour: coloured(colour, &io::stderr()), width: WIDTH };
    match error {
        InputError::Faulty(faults) => faults.render(look),
        other => format!("error: {other}\n"),
    }
}

/// Checks a scenario file and lists the defaults.
pub fn vet(args: &VetArgs, colour: Colour) -> Result<Exit, Failure> {
    let read = read(&args.scenario, colour)?;
    let mut text = format!("{}: no faults\n", args.scenario.display());
    if !read.warnings.is_empty() {
        let _ = writeln!(text, "\nNotices:");
        for warning in &read.warnings {
            let _ = writeln!(text, "  {}", warning.message);
        }
    }
    if !read.defaults_used.is_empty() {
        let _ = writeln!(text, "\nDefaults that will be used:");
        let widest = read.defaults_used.iter().map(|one| one.key.len()).max().unwrap_or(0);
        for used in &read.defaults_used {
            let _ = writeln!(text, "  {:<widest$}  {}", used.key, used.value_shown);
        }
    }
    print(&text)
}

/// Writes a scenario to start from.
pub fn new(args: &NewArgs) -> Result<Exit, Failure> {
    let Some(text) = app::template(&args.from) else {
        let known: Vec<String> = app::CLASSES
            .iter()
            .map(|class| format!("  {:<20} {}", class.name, class.what))
            .collect();
        return Err(Failure::input(format!(
            "error: no class of bed '{}'; there are\n{}",
            args.from,
            known.join("\n")
        )));
    };
    let Some(path) = &args.into else { return print(&text) };
    whole(path, &text).map_err(|error| {
        let why = match error.kind() {
            io::ErrorKind::AlreadyExists => "it exists already; name another file".to_owned(),
            _ => error.to_string(),
        };
        Failure::input(format!("error: cannot write {}: {why}", path.display()))
    })?;
    print(&format!("wrote {}: measure, edit, then: bedwright explore {0}\n", path.display()))
}

/// Writes a file that is not there yet: whole or, on a full disk, not at all.
fn whole(path: &Path, text: &str) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if written.is_err() {
        // Ours, and only half of it.
        let _ = fs::remove_file(path);
    }
    written
}

/// Prints a schema.
pub fn schema(args: &SchemaArgs) -> Result<Exit, Failure> {
    let schema = match args.document {
        Document::Scenario => app::scenario_schema(),
        Document::Result => app::result_schema(),
        Document::Comparison => app::comparison_schema(),
        Document::Explanation => app::explanation_schema(),
        Document::Family => app::family_schema(),
        Document::Job => app::job_schema(),
        Document::Cutting => app::cutting_schema(),
    };
    print(&format!("{schema:#}\n"))
}
