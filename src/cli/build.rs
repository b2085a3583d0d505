//! `build`: everything needed to build one design.

use super::args::Colour;
use super::build_args::{BuildArgs, PaperArg, SawArg, UnitsArg};
use super::explore::{chosen, refusal, search};
use super::files::read;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, print};
use crate::app::{
    self, BuildError, BuildSettings, Cancel, PageSize, Saw, Settings, UnitSystem, terminal,
};

/// Explores a scenario again, takes one design and writes its set.
pub fn build(args: &BuildArgs, colour: Colour) -> Result<Exit, Failure> {
    let mut read = read(&args.scenario, colour)?;
    if let Some(units) = unit_system(args.printed.units) {
        read.scenario.units = units;
    }
    let fonts =
        app::fonts(&args.printed.font).map_err(|e| Failure::input(format!("error: {e}")))?;
    let cancel = Cancel::new();
    let interrupts = interrupt::listen(&cancel, First::Abandons);
    let settings = Settings {
        threads: usize::from(args.found.threads),
        effort: u64::from(args.found.effort),
        top: usize::from(args.found.top),
        time: None,
        cancel,
        work: None,
        most_worth: false,
        prove: false,
        ..Settings::default()
    };
    let (exploration, refused) = search(read, settings, args.found.quiet);
    if exploration.stopped_by.is_some() {
        // Its designs are not those that were listed before.
        return Err(Failure::interrupted());
    }
    let Some((rank, shown)) = chosen(args.design.as_deref(), &exploration)? else {
        if refused {
            return Err(refusal());
        }
        print("No design satisfies this scenario: bedwright explore says why.\n")?;
        return Ok(Exit::NoDesign);
    };
    let settings = BuildSettings {
        saw: saw(args.saw),
        sets: u32::from(args.sets),
        paper: page_size(args.printed.paper, exploration.scenario().units),
    };
    let built = app::build_in(&exploration, shown, settings, &fonts).map_err(|e| not_built(&e))?;
    interrupts.write(&args.into, &built.files, args.force)?;
    let mut text = format!(
        "Design {} (number {rank} of those listed): {} files in {}\n",
        shown.id(),
        built.files.len(),
        args.into.display()
    );
    if let Some(saving) = &built.saving {
        text.push_str(&terminal::paragraph(saving).to_string());
    }
    for warning in &built.warnings {
        text.push_str(&format!("Notice: {warning}\n"));
    }
    print(&text)
}

/// Why no set was put together.
pub(super) fn not_built(error: &BuildError) -> Failure {
    let said = format!("error: {error}");
    if error.is_bug() { Failure::bug(said) } else { Failure::input(said) }
}

pub(super) const fn saw(saw: SawArg) -> Saw {
    match saw {
        SawArg::Guide => Saw::Guide,
        SawArg::Table => Saw::Table,
    }
}

/// How lengths are to be shown, if that was said.
pub(super) fn unit_system(units: Option<UnitsArg>) -> Option<UnitSystem> {
    units.map(|units| match units {
        UnitsArg::In => UnitSystem::Inch,
        UnitsArg::Mm => UnitSystem::Metric,
    })
}

/// The paper that was asked for, or the one that goes with the units.
pub(super) fn page_size(paper: Option<PaperArg>, units: UnitSystem) -> PageSize {
    match (paper, units) {
        (Some(PaperArg::Letter), _) | (None, UnitSystem::Inch) => PageSize::Letter,
        (Some(PaperArg::A4), _) | (None, UnitSystem::Metric) => PageSize::A4,
    }
}
