//! `compare`: choices side by side.

use std::io;

use super::args::{Colour, CompareArgs, Vary};
use super::explore::{painted, tell_of_rejected};
use super::files::read;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::{self, By, Cancel, Settings, terminal};

/// Puts choices, or named designs, side by side.
pub fn compare(args: &CompareArgs, colour: Colour) -> Result<Exit, Failure> {
    let read = read(&args.scenario, colour)?;
    let cancel = Cancel::new();
    interrupt::listen(&cancel, First::Finishes);
    let settings = Settings {
        threads: usize::from(args.threads),
        effort: u64::from(args.effort),
        time: args.time,
        cancel,
        ..Settings::default()
    };
    let meter = Meter::new(args.quiet);
    let news = |news: app::Progress<'_>| meter.show(news);
    let compared = match args.by {
        Some(by) => app::compare_choices(read, varied(by), &settings, &news),
        None => app::compare_named(read, &args.designs, &settings, &news),
    };
    meter.done();
    let compared = compared.map_err(|e| Failure::input(format!("error: {e}")))?;
    if tell_of_rejected(&compared.rejected) && !compared.has_design() {
        return Err(Failure::bug(
            "error: no design passed the verifier: this is a fault of the program",
        ));
    }
    let comparison = compared.comparison();
    if args.json {
        let text = app::comparison_document(&comparison)
            .map_err(|e| Failure::bug(format!("error: {e}")))?;
        print(&text)?;
    } else {
        print(&painted(&terminal::comparison(&comparison), coloured(colour, &io::stdout())))?;
    }
    Ok(if compared.has_design() { Exit::Done } else { Exit::NoDesign })
}

const fn varied(by: Vary) -> By {
    match by {
        Vary::Columns => By::Columns,
        Vary::Tiers => By::Tiers,
        Vary::Board => By::Board,
        Vary::Sheet => By::Sheet,
        Vary::Runs => By::Runs,
    }
}
