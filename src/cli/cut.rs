//! `cut`: a parts list out of stock.

use std::io;
use std::path::PathBuf;
use std::time::Duration;

use clap::{ArgAction, Args};

use super::args::{Colour, duration};
use super::explore::painted;
use super::files::shown;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::{self, Cancel, Found, JobSettings};

/// Arguments of `cut`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright cut scenarios/workbench-cut.toml --into plans
  bedwright cut parts.csv --stock my-bed.toml
  bedwright cut job.toml --time 10s --json > cutting.json

A job is a TOML file; `bedwright schema job` describes it in full:
  units = \"mm\"
  [shop]
  kerf = 3.2                  # what the blade takes
  edge_trim = 5               # off each edge of a bought sheet
  stages = 3                  # all cuts along, across, along: as a panel saw
                              # works; left out: any number, any order
  [[sheet]]
  name = \"birch 18\"
  size = [2440, 1220]         # along the grain, across it
  price = 74                  # most = 3, on_hand = 1: limits, what is there
  [[board]]
  name = \"pine 45x95\"
  section = [45, 95]
  lengths = { 2400 = 7.9, 3600 = 11.5 }
  [[offcut]]                  # used first, costs nothing
  of = \"birch 18\"
  size = [900, 610]
  [[part]]
  name = \"Side\"
  material = \"birch 18\"
  size = [1900, 230]          # of a board: its length, its width
  count = 4
  turn = true                 # may be cut across the grain
  factory = \"along\"           # a long edge has to be a factory edge
  worth = 7                   # need not be cut: where stock is limited, the
                              # most worth is; left out: it has to be

A CSV file has a line of headings and a line for each part:
  name,material,length,width,count,turn,worth,factory
  Side,birch 18,1900,230,4,yes,,along

Ctrl-C ends the search and shows the best so far; a second one quits at once.")]
pub struct CutArgs {
    /// The job (TOML), or a table of parts (CSV) with --stock.
    pub job: PathBuf,
    /// A job or scenario file (TOML) whose stock and shop serve for a table of parts.
    #[arg(long, value_name = "FILE")]
    pub stock: Option<PathBuf>,
    /// Write drawings and the cutting document into this folder.
    #[arg(long, value_name = "DIR")]
    pub into: Option<PathBuf>,
    /// Overwrite files in DIR that were not made by this program.
    #[arg(long, requires = "into")]
    pub force: bool,
    /// Print the cutting document (JSON) instead of text.
    #[arg(long)]
    pub json: bool,
    /// Worker threads; 0 for one a core. Changes nothing but the time taken.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub threads: u16,
    /// Steps of work to spend; more finds cheaper plans. As many as the time allows, if only --time is given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    pub work: Option<u64>,
    /// Stop after this long with the best so far: 10s, 500ms, 2m.
    #[arg(long, value_name = "TIME", value_parser = duration)]
    pub time: Option<Duration>,
    /// Show no progress.
    #[arg(long, short, action = ArgAction::SetTrue)]
    pub quiet: bool,
}

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
    let interrupts = interrupt::listen(&cancel, First::Finishes);
    let otherwise = if args.time.is_some() { u64::MAX } else { USUAL_WORK };
    let settings = JobSettings {
        threads: usize::from(args.threads),
        work: args.work.unwrap_or(otherwise),
        time: args.time,
        cancel,
    };
    let meter = Meter::new(args.quiet);
    let run = app::cut(read, settings, &|now| meter.cutting(now));
    meter.done();
    if let Found::Rejected(rejected) = &run.found {
        return Err(Failure::bug(format!(
            "BUG: the plan did not pass the verifier and is not shown; please report this:\n{rejected}"
        )));
    }
    let planned = matches!(run.found, Found::Plan { .. });
    if let Some(into) = args.into.as_ref().filter(|_| planned) {
        let files = run.files().map_err(|e| Failure::bug(format!("error: {e}")))?;
        interrupts.write(into, &files, args.force)?;
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
