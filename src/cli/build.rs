//! `build`: everything needed to build one design.

use super::args::Colour;
use super::build_args::{BuildArgs, PaperArg, SawArg, UnitsArg};
use super::explore::{chosen, in_the_way, refusal, search};
use super::files::read;
use super::interrupt;
use super::out::{Exit, Failure, print};
use crate::app::{self, BuildSettings, Cancel, PageSize, Saw, Settings, UnitSystem, folder};

/// Explores a scenario again, takes one design and writes its set.
pub fn build(args: &BuildArgs, colour: Colour) -> Result<Exit, Failure> {
    let mut read = read(&args.scenario, colour)?;
    if let Some(units) = args.units {
        read.scenario.units = match units {
            UnitsArg::In => UnitSystem::Inch,
            UnitsArg::Mm => UnitSystem::Metric,
        };
    }
    let cancel = Cancel::new();
    interrupt::listen(&cancel);
    let settings = Settings {
        threads: usize::from(args.threads),
        effort: u64::from(args.effort),
        top: usize::from(args.top),
        time: None,
        cancel,
        work: None,
        prove: false,
    };
    let (exploration, refused) = search(read, settings, args.quiet);
    if exploration.stopped_by.is_some() {
        return Err(Failure::input(
            "error: the search was interrupted, so its designs are not those listed before; \
             nothing was written",
        ));
    }
    let Some((rank, shown)) = chosen(args.design.as_deref(), &exploration)? else {
        if refused {
            return Err(refusal());
        }
        print("No design satisfies this scenario: bedwright explore says why.\n")?;
        return Ok(Exit::NoDesign);
    };
    let settings = BuildSettings {
        saw: match args.saw {
            SawArg::Guide => Saw::Guide,
            SawArg::Table => Saw::Table,
        },
        sets: u32::from(args.sets),
        paper: match (args.paper, exploration.scenario().units) {
            (Some(PaperArg::Letter), _) | (None, UnitSystem::Inch) => PageSize::Letter,
            (Some(PaperArg::A4), _) | (None, UnitSystem::Metric) => PageSize::A4,
        },
    };
    let built = app::build(&exploration, shown, settings).map_err(|error| {
        let said = format!("error: {error}");
        if error.is_bug() { Failure::bug(said) } else { Failure::input(said) }
    })?;
    folder::write(&args.into, &built.files, args.force).map_err(|e| in_the_way(&e))?;
    let mut text = format!(
        "Design {} (number {rank} of those listed): {} files in {}\n",
        shown.id(),
        built.files.len(),
        args.into.display()
    );
    if let Some(saved) = built.saved_per_set {
        text.push_str(&format!(
            "{} sets cut together save {saved} {} a set against each cut alone.\n",
            args.sets,
            exploration.scenario().currency
        ));
    }
    for warning in &built.warnings {
        text.push_str(&format!("Notice: {warning}\n"));
    }
    print(&text)
}
