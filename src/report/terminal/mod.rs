//! What a run has to tell at the terminal, within 80 columns.
//!
//! Everything here is text; who prints it decides about colour by each line's [`Style`].

mod best;
mod compare;
mod explain;
mod family;
mod fits;
mod job;
mod notices;
mod page;
mod ranking;
mod shopping;

pub use best::best;
pub use compare::comparison;
pub use explain::explanation;
pub use family::family;
pub use job::job;
pub use notices::notices;
pub use page::{Line, Page, Style, WIDTH};
pub use ranking::ranking;

use super::subject::{Candidate, Findings};
use crate::report::figures::{count, sizes};
use crate::scenario::{BedKind, Demand, Scenario};

/// All of it, in the order in which one wants to know: the scenario, the ranking, the best design, notices. Without
/// a design, why there is none.
pub fn whole(findings: &Findings<'_>) -> Page {
    showing(findings, findings.candidates.first())
}

/// The same with another than the best design shown.
pub fn showing(findings: &Findings<'_>, shown: Option<&Candidate<'_>>) -> Page {
    let mut page = Page::new();
    page.say(Style::Strong, "", &scenario_line(findings.scenario));
    if findings.candidates.is_empty() {
        page.append(nothing(findings));
    } else {
        page.append(ranking(findings));
    }
    if let Some(shown) = shown {
        page.append(best(findings, shown));
    }
    page.append(notices(findings));
    page
}

/// The scenario in one line of at most 80 columns.
pub fn scenario_line(scenario: &Scenario) -> String {
    let bed = &scenario.bed;
    let kind = match bed.kind {
        BedKind::Pickup => "bed",
        BedKind::Cargo => "cargo floor",
    };
    let size = sizes(&[bed.length.at, bed.width.at], scenario.units);
    let unit = super::figures::length_unit(scenario.units);
    let gear = scenario.gear.values().map(|gear| (gear.demand, u64::from(gear.count)));
    let loose = scenario.loose.values().map(|loose| (loose.demand, 1));
    let things: Vec<(Demand, u64)> = gear.chain(loose).collect();
    let all: u64 = things.iter().map(|(_, copies)| copies).sum();
    let must = |(demand, _): &&(Demand, u64)| *demand == Demand::Must;
    let musts: u64 = things.iter().filter(must).map(|(_, copies)| copies).sum();
    let short = format!("{kind} {size} {unit}, {}", count(all, "thing", "things"));
    let facts = format!("{short} ({musts} must fit)");
    let width = crate::paper::display_width;
    let whole = format!("{}: {facts}", page::clipped(&scenario.title, WIDTH));
    if width(&whole) <= WIDTH {
        return whole;
    }
    let room = WIDTH.saturating_sub(width(&short) + 2);
    page::clipped(&format!("{}: {short}", page::clipped(&scenario.title, room.max(8))), WIDTH)
}

/// A text of any length, wrapped.
pub fn paragraph(text: &str) -> Page {
    let mut page = Page::new();
    page.say(Style::Plain, "", text);
    page
}

/// That no design satisfies the scenario, which limit fails and by how much.
pub fn nothing(findings: &Findings<'_>) -> Page {
    let mut page = Page::new();
    page.heading(match findings.stopped_by {
        None => "No design satisfies the scenario",
        Some(_) => "No design was found before the search was stopped",
    });
    for explanation in &findings.explanations {
        page.say(Style::Bad, "  ", &explanation.sentence);
        if !explanation.change.is_empty() {
            page.say(Style::Plain, "    ", &format!("What would do: {}", explanation.change));
        }
        if !explanation.proved {
            page.say(Style::Faint, "    ", "This is what the search met; it is not proved.");
        }
    }
    page.append(ranking::looked_at(findings));
    page
}

#[cfg(test)]
mod tests;
