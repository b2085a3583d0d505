//! `vet`, `new` and `schema`.

use std::fmt::Write as _;
use std::io;

use super::args::{Colour, Document, SchemaArgs, VetArgs};
use super::out::{Exit, Failure, coloured, print};
use crate::app::{self, InputError, Look, Read};

/// Width of everything that is printed.
const WIDTH: usize = 80;

/// Reads a scenario, or says everything that is wrong with it.
pub fn read(path: &std::path::Path, colour: Colour) -> Result<Read, Failure> {
    app::read(path).map_err(|error| {
        let look = Look { colour: coloured(colour, &io::stderr()), width: WIDTH };
        Failure::input(match error {
            InputError::Faulty(faults) => faults.render(look),
            other => format!("error: {other}"),
        })
    })
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

/// Prints a schema.
pub fn schema(args: &SchemaArgs) -> Result<Exit, Failure> {
    let schema = match args.document {
        Document::Scenario => app::scenario_schema(),
        Document::Result => app::result_schema(),
    };
    print(&format!("{schema:#}\n"))
}
