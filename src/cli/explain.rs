//! `explain`: why a design is as it is, or why there is none.

use std::io;

use super::args::{Colour, ExplainArgs};
use super::explore::{painted, tell_of_rejected};
use super::files::read;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::{self, Cancel, Question, Settings, terminal};

/// Explains a design, what it leaves out, or why there is none.
pub fn explain(args: &ExplainArgs, colour: Colour) -> Result<Exit, Failure> {
    let read = read(&args.scenario, colour)?;
    let cancel = Cancel::new();
    interrupt::listen(&cancel, First::Finishes);
    let settings = Settings {
        threads: usize::from(args.threads),
        time: args.time,
        cancel,
        most_worth: false,
        ..Settings::default()
    };
    let question = Question { design: args.design.clone(), item: args.item.clone() };
    let meter = Meter::new(args.quiet);
    let explained = app::explain(read, &question, &settings, &|news| meter.show(news));
    meter.done();
    let explained = explained.map_err(|e| Failure::input(format!("error: {e}")))?;
    tell_of_rejected(&explained.exploration.rejected);
    let found = explained.explanation();
    if args.json {
        let text =
            app::explanation_document(&found).map_err(|e| Failure::bug(format!("error: {e}")))?;
        print(&text)?;
    } else {
        print(&painted(&terminal::explanation(&found), coloured(colour, &io::stdout())))?;
    }
    Ok(if explained.exploration.designs.is_empty() { Exit::NoDesign } else { Exit::Done })
}
