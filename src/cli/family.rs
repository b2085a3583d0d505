//! `family`: one plan for many beds.

use std::io;
use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::args::{Colour, duration};
use super::build::{not_built, page_size, saw, unit_system};
use super::build_args::{FoundArgs, PrintedArgs, SawArg};
use super::explore::{chosen, painted, refusal, search, tell_of_rejected};
use super::files::shown;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::{self, BuildSettings, Cancel, NamedScenario, Settings};

/// Arguments of `family`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright family standard.toml short.toml long.toml --into plans
  bedwright family my-bed.toml friends-bed.toml --design 7k2m9qx --into plans
  bedwright family my-bed.toml friends-bed.toml --into plans --each
  bedwright family my-bed.toml friends-bed.toml --json > family.json

The idea is where the chest stands, its tiers and columns, what its members are
made of and what its drawers slide on. The first scenario gives it, by one of
its designs; every other bed is explored for a design of the same idea with its
own gear, stock and limits, whatever its [chest] section chooses.

Exit code 1: some bed can have no design of the idea; it is said why, and the
plan is written for the others.")]
pub struct FamilyArgs {
    /// The scenario files (TOML); the first one gives the idea.
    #[arg(required = true, num_args = 2..=24, value_name = "SCENARIO")]
    pub scenarios: Vec<PathBuf>,
    /// The first scenario's design to follow, by its id or its first letters; the best if left out.
    #[arg(long, value_name = "ID")]
    pub design: Option<String>,
    /// Write the booklet, the lists and the document into this folder.
    #[arg(long, value_name = "DIR")]
    pub into: Option<PathBuf>,
    /// Write each bed's whole set too, as `build` does, into folders of their own: DIR/bed-1, DIR/bed-2.
    #[arg(long, requires = "into")]
    pub each: bool,
    /// With --each: what the sheets are sawn with.
    #[arg(long, value_enum, default_value_t = SawArg::Guide, requires = "each")]
    pub saw: SawArg,
    /// Overwrite files in DIR that were not made by this program.
    #[arg(long, requires = "into")]
    pub force: bool,
    /// Print the document (JSON) instead of text.
    #[arg(long)]
    pub json: bool,
    /// How it is printed.
    #[command(flatten)]
    pub printed: PrintedArgs,
    /// How its designs are found.
    #[command(flatten)]
    pub found: FoundArgs,
    /// Stop each bed's search after this long with the best so far.
    #[arg(long, value_name = "TIME", value_parser = duration)]
    pub time: Option<Duration>,
}

/// Takes one design idea through several beds.
pub fn family(args: &FamilyArgs, colour: Colour) -> Result<Exit, Failure> {
    let mut read = read_all(args, colour)?.into_iter();
    let Some(first) = read.next() else {
        return Err(Failure::input("error: name two scenarios or more"));
    };
    let fonts =
        app::fonts(&args.printed.font).map_err(|e| Failure::input(format!("error: {e}")))?;
    let cancel = Cancel::new();
    let interrupts = interrupt::listen(&cancel, First::Finishes);
    let settings = Settings {
        threads: usize::from(args.found.threads),
        effort: u64::from(args.found.effort),
        top: usize::from(args.found.top),
        time: args.time,
        cancel,
        most_worth: false,
        prove: false,
        work: None,
        eager: false,
    };
    let (exploration, refused) = search(first.read, settings.clone(), args.found.quiet);
    let Some((_, lead)) = chosen(args.design.as_deref(), &exploration)? else {
        if refused {
            return Err(refusal());
        }
        print("No design satisfies the first scenario: bedwright explore says why.\n")?;
        return Ok(Exit::NoDesign);
    };
    let units = unit_system(args.printed.units).unwrap_or(exploration.scenario().units);
    let meter = Meter::new(args.found.quiet);
    let news = |news: app::Progress<'_>| meter.show(news);
    let run =
        app::family((first.file, &exploration, lead), read.collect(), units, &settings, &news);
    meter.done();
    for other in &run.others {
        if tell_of_rejected(&other.found.rejected) && other.found.designs.is_empty() {
            return Err(refusal());
        }
    }
    let mut told = String::new();
    if let Some(into) = &args.into {
        let made = run.files(page_size(args.printed.paper, units), &fonts);
        let (mut files, mut warnings) = made.map_err(|e| Failure::bug(format!("error: {e}")))?;
        if args.each {
            let settings = BuildSettings {
                saw: saw(args.saw),
                sets: 1,
                paper: page_size(args.printed.paper, units),
            };
            let (more, told) = run.sets(settings, &fonts).map_err(|e| not_built(&e))?;
            files.extend(more);
            warnings.extend(told);
        }
        interrupts.write(into, &files, args.force)?;
        told = format!("\nThe booklet, the lists and the document are in {}\n", into.display());
        for warning in warnings {
            told.push_str(&format!("Notice: {warning}\n"));
        }
    }
    if args.json {
        print(&run.document().map_err(|e| Failure::bug(format!("error: {e}")))?)?;
    } else {
        print(&(painted(&run.page(), coloured(colour, &io::stdout())) + &told))?;
    }
    Ok(if run.is_complete() { Exit::Done } else { Exit::NoDesign })
}

/// Every scenario, or everything that is wrong with any.
fn read_all(args: &FamilyArgs, colour: Colour) -> Result<Vec<NamedScenario>, Failure> {
    let mut good = Vec::new();
    let mut wrong = Vec::new();
    for file in &args.scenarios {
        match app::read(file) {
            Ok(read) => good.push(NamedScenario { file: file.clone(), read }),
            Err(error) => wrong.push(shown(&error, colour)),
        }
    }
    if wrong.is_empty() { Ok(good) } else { Err(Failure::input(wrong.join("\n"))) }
}
