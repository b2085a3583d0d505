//! `explore`: search, show, write.

use std::io;

use super::args::{Aim, Colour, ExploreArgs};
use super::files::read;
use super::interrupt::{self, First};
use super::out::{Exit, Failure, coloured, print};
use super::progress::Meter;
use crate::app::terminal::{Page, Style};
use crate::app::{self, Cancel, Criterion, Exploration, Read, Settings, Shown, terminal};

/// Explores a scenario and shows the best.
pub fn explore(args: &ExploreArgs, colour: Colour) -> Result<Exit, Failure> {
    let mut read = read(&args.scenario, colour)?;
    for (aim, weight) in &args.weight {
        read.scenario.aims.weights[criterion(*aim) as usize] = *weight;
    }
    let cancel = Cancel::new();
    let interrupts = interrupt::listen(&cancel, First::Finishes);
    let settings = Settings {
        threads: usize::from(args.threads),
        effort: u64::from(args.effort),
        prove: args.prove,
        work: args.work,
        top: usize::from(args.top),
        time: args.time,
        cancel,
        ..Settings::default()
    };
    let (mut exploration, refused) = match &args.like {
        Some(id) => {
            let of = args.of.as_ref().map(|of| self::read(of, colour)).transpose()?;
            search_like(read, of, id, &settings, args)?
        }
        None => search(read, settings, args.quiet),
    };
    if let Some(aim) = args.sort {
        exploration.sort_by(criterion(aim));
    }
    let Some(chosen) = chosen(args.show.as_deref(), &exploration)? else {
        show(args, colour, &exploration, None)?;
        return if refused { Err(refusal()) } else { Ok(Exit::NoDesign) };
    };
    if let Some(into) = &args.into {
        let files =
            app::set(&exploration, chosen.1).map_err(|e| Failure::bug(format!("error: {e}")))?;
        interrupts.write(into, &files, args.force)?;
    }
    show(args, colour, &exploration, Some(chosen))?;
    if let Some(into) = &args.into
        && !args.json
    {
        print(&format!("\nDrawings, lists and the result document are in {}\n", into.display()))?;
    }
    Ok(Exit::Done)
}

const fn criterion(aim: Aim) -> Criterion {
    match aim {
        Aim::UsableVolume => Criterion::UsableVolume,
        Aim::Value => Criterion::Value,
        Aim::Reach => Criterion::Reach,
        Aim::Waste => Criterion::Waste,
        Aim::Cost => Criterion::Cost,
        Aim::Mass => Criterion::Mass,
        Aim::Margin => Criterion::Margin,
        Aim::Simplicity => Criterion::Simplicity,
    }
}

/// Explores with a meter on stderr; also says whether the verifier refused a design.
pub(super) fn search(read: Read, settings: Settings, quiet: bool) -> (Exploration, bool) {
    let meter = Meter::new(quiet);
    let exploration = app::explore(read, settings, &|news| meter.show(news));
    meter.done();
    let refused = tell_of_rejected(&exploration.rejected);
    (exploration, refused)
}

/// The same, starting from a design.
fn search_like(
    read: Read,
    of: Option<Read>,
    id: &str,
    settings: &Settings,
    args: &ExploreArgs,
) -> Result<(Exploration, bool), Failure> {
    let meter = Meter::new(args.quiet);
    let found = app::explore_like(read, of, id, settings, &|news| meter.show(news));
    meter.done();
    let exploration = found.map_err(|error| Failure::input(format!("error: {error}")))?;
    let refused = tell_of_rejected(&exploration.rejected);
    Ok((exploration, refused))
}

/// The design to show with its rank: the best, or the one asked for. None if there is no design at all.
pub(super) fn chosen<'a>(
    wanted: Option<&'a str>,
    exploration: &'a Exploration,
) -> Result<Option<(usize, &'a Shown)>, Failure> {
    let Some(wanted) = wanted.filter(|_| !exploration.designs.is_empty()) else {
        return Ok((1..).zip(&exploration.designs).next());
    };
    let mut named = exploration.named(wanted);
    match (named.next(), named.next()) {
        (Some((index, shown)), None) => Ok(Some((index + 1, shown))),
        (found, _) => {
            let ids: Vec<String> =
                exploration.designs.iter().map(|shown| shown.id().to_string()).collect();
            let what = if found.is_some() {
                format!("more than one design begins with '{wanted}'")
            } else {
                let near = exploration.near(wanted).join(", ");
                format!("no listed design is '{wanted}'; nearest are {near}")
            };
            Err(Failure::input(format!("error: {what}; listed are {}", ids.join(", "))))
        }
    }
}

fn show(
    args: &ExploreArgs,
    colour: Colour,
    exploration: &Exploration,
    chosen: Option<(usize, &Shown)>,
) -> Result<Exit, Failure> {
    if args.json {
        let text = app::document(exploration).map_err(|e| Failure::bug(format!("error: {e}")))?;
        return print(&text);
    }
    let findings = exploration.findings();
    let shown = chosen.map(|(rank, shown)| shown.candidate(rank));
    let page = terminal::showing(&findings, shown.as_ref());
    print(&painted(&page, coloured(colour, &io::stdout())))
}

/// Designs that the verifier refused are faults of the program: said loudly, never shown as designs.
pub(super) fn tell_of_rejected(refused: &[app::Rejected]) -> bool {
    for rejected in refused {
        let faults: Vec<String> =
            rejected.faults.iter().map(|fault| format!("  {fault}")).collect();
        Failure::bug(format!(
            "BUG: design {} did not pass the verifier and is not shown; please report this:\n{}",
            rejected.design.id,
            faults.join("\n")
        ))
        .tell();
    }
    !refused.is_empty()
}

pub(super) fn refusal() -> Failure {
    Failure::bug("error: no design passed the verifier: this is a fault of the program")
}

/// The page as text, coloured by what each line is.
pub(super) fn painted(page: &Page, colour: bool) -> String {
    if !colour {
        return page.to_string();
    }
    let mut text = String::new();
    for line in page.lines() {
        let code = match line.style {
            Style::Plain => "",
            Style::Heading => "\x1b[1;4m",
            Style::Strong => "\x1b[1m",
            Style::Bad => "\x1b[31m",
            Style::Caution => "\x1b[33m",
            Style::Faint => "\x1b[2m",
        };
        let end = if code.is_empty() { "" } else { "\x1b[0m" };
        text.push_str(&format!("{code}{}{end}\n", line.text));
    }
    text
}
