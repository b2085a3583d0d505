//! `cut`: a parts list out of stock.

use std::io;

use super::args::{Colour, CutArgs};
use super::explore::{in_the_way, painted};
use super::files::shown;
use super::interrupt;
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::{self, Cancel, Found, JobSettings, folder};

/// Work spent without a word on it: a few seconds on an ordinary machine.
const USUAL_WORK: u64 = 100_000_000;

/// Cuts a job and shows the plan.
pub fn cut(args: &CutArgs, colour: Colour) -> Result<Exit, Failure> {
    let table = args.job.extension().is_some_and(|end| end.eq_ignore_ascii_case("csv"));
    if table && args.stock.is_none() {
        return Err(Failure::input(format!(
            "error: {} is a table of parts: name the file with its stock, --stock FILE",
            args.job.display()
        )));
    }
    if !table && args.stock.is_some() {
        return Err(Failure::input(format!(
            "error: --stock goes with a table of parts (CSV), and {} is none",
            args.job.display()
        )));
    }
    let read = app::read_job(&args.job, args.stock.as_deref()).map_err(|errors| {
        let all: Vec<String> = errors.iter().map(|error| shown(error, colour)).collect();
        Failure::input(all.join("\n"))
    })?;
    let cancel = Cancel::new();
    interrupt::listen(&cancel);
    let otherwise = if args.time.is_some() { u64::MAX } else { USUAL_WORK };
    let settings = JobSettings {
        threads: usize::from(args.threads),
        work: args.work.unwrap_or(otherwise),
        time: args.time,
        cancel,
    };
    let meter = Meter::new(args.quiet);
    let run = app::cut(read, settings, &|done, of| meter.cutting(done, of));
    meter.done();
    if let Found::Rejected(rejected) = &run.found {
        return Err(Failure::bug(format!(
            "BUG: the plan did not pass the verifier and is not shown; please report this:\n{rejected}"
        )));
    }
    let planned = matches!(run.found, Found::Plan { .. });
    if let Some(into) = args.into.as_ref().filter(|_| planned) {
        let files = run.files().map_err(|e| Failure::bug(format!("error: {e}")))?;
        folder::write(into, &files, args.force).map_err(|e| in_the_way(&e))?;
    }
    if args.json {
        print(&run.document().map_err(|e| Failure::bug(format!("error: {e}")))?)?;
    } else {
        print(&painted(&run.page(), coloured(colour, &io::stdout())))?;
        if let Some(into) = args.into.as_ref().filter(|_| planned) {
            print(&format!("\nDrawings and the cutting document are in {}\n", into.display()))?;
        }
    }
    Ok(if planned { Exit::Done } else { Exit::NoDesign })
}
