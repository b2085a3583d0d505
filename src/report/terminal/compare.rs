//! Choices side by side at the terminal.

use super::page::{Page, Style, clipped};
use crate::paper::{Cell, Column, Table};
use crate::report::comparison::{Comparison, Differences, Side, differences, flip, held, varied};
use crate::report::figures::{criterion_figure, criterion_unit, decimal};
use crate::report::stowed::tally;
use crate::report::words;
use crate::scenario::Criterion;

/// So many sides stand beside each other; more go into another table.
const ABREAST: usize = 4;

/// The whole comparison.
pub fn comparison(found: &Comparison<'_>) -> Page {
    let mut page = Page::new();
    page.say(Style::Strong, "", &super::scenario_line(found.scenario));
    page.heading(&format!("Compared by {}", varied(found.by)));
    let held = held(found);
    if !held.is_empty() {
        let text = format!("As decided, every choice keeps {}.", held.join(" and "));
        page.say(Style::Plain, "", &text);
    }
    for sides in found.sides.chunks(ABREAST) {
        page.table(&table(found, sides));
    }
    in_words(&mut page, found);
    against_the_winner(&mut page, found);
    flips(&mut page, found);
    if let Some(stop) = found.stopped_by {
        let text = format!("Searches were stopped early: {}.", words::stop(stop));
        page.say(Style::Bad, "", &text);
    }
    page
}

/// A row for each criterion, a column for each side.
fn table(found: &Comparison<'_>, sides: &[Side<'_>]) -> Table {
    let mut columns = vec![Column::words("")];
    columns.extend(sides.iter().map(|side| Column::count(clipped(&side.label, 14))));
    let mut table = Table::new("", columns);
    let mut row = |head: String, cell: &dyn Fn(&Side<'_>) -> Option<String>| {
        let cells = sides.iter().map(|side| Cell::text(cell(side).unwrap_or("-".to_owned())));
        table.row([Cell::text(head)].into_iter().chain(cells));
    };
    row("best design".to_owned(), &|side| Some(side.best.as_ref()?.design.id.to_string()));
    row("points".to_owned(), &|side| Some(format!("{:.1}", side.best.as_ref()?.standing.score)));
    row("stowed".to_owned(), &|side| {
        let (stowed, all) = tally(found.scenario, side.best.as_ref()?.design);
        Some(format!("{stowed} of {all}"))
    });
    for each in Criterion::ALL {
        let unit = criterion_unit(each, found.scenario.units, &found.scenario.currency);
        let name = words::criterion(each);
        let head = if unit.is_empty() { name.to_owned() } else { format!("{name}, {unit}") };
        row(head, &|side| {
            let figure = side.best.as_ref()?.design.criteria.figure(each);
            Some(criterion_figure(each, figure, found.scenario.units))
        });
    }
    table
}

/// What each side's best design is, or why there is none.
fn in_words(page: &mut Page, found: &Comparison<'_>) {
    page.blank();
    for side in &found.sides {
        let lead = format!("{}  ", side.label);
        match (&side.best, &side.why_none) {
            (Some(best), _) => {
                let text = words::structure(found.scenario, &best.design.structure);
                page.say(Style::Plain, &lead, &text);
            }
            (None, Some(why)) if why.change.is_empty() => {
                page.say(Style::Bad, &lead, &why.sentence)
            }
            (None, Some(why)) => page.say(
                Style::Bad,
                &lead,
                &format!("{} What would do: {}.", why.sentence, why.change),
            ),
            (None, None) => {
                page.say(Style::Bad, &lead, "no design was found before the search was stopped")
            }
        }
    }
}

fn against_the_winner(page: &mut Page, found: &Comparison<'_>) {
    let Some((winner, best)) =
        found.winner.and_then(|at| Some((at, found.sides[at].best.as_ref()?)))
    else {
        return;
    };
    let won = &found.sides[winner].label;
    page.heading(&format!("Most points: {won}, {}", decimal(best.standing.score, 1)));
    for (at, side) in found.sides.iter().enumerate().filter(|(at, _)| *at != winner) {
        if let Some(other) = &side.best {
            let told = differences(found.scenario, best, other);
            page.say(Style::Plain, &format!("{}  ", found.sides[at].label), &said(&told));
        }
    }
}

/// `better: …; worse: …; also stows …; does without …`.
fn said(told: &Differences) -> String {
    let clause = |lead: &str, what: &[String]| {
        (!what.is_empty()).then(|| format!("{lead} {}", what.join(", ")))
    };
    let clauses: Vec<String> = [
        clause("better:", &told.gained),
        clause("worse:", &told.lost),
        clause("also stows", &told.stowed_more),
        clause("does without", &told.stowed_less),
    ]
    .into_iter()
    .flatten()
    .collect();
    if clauses.is_empty() { "is no different in figures".to_owned() } else { clauses.join("; ") }
}

fn flips(page: &mut Page, found: &Comparison<'_>) {
    if found.winner.is_none() || found.sides.len() < 2 {
        return;
    }
    page.heading("Where it would flip");
    if found.flips.is_empty() {
        page.say(Style::Plain, "  ", "Nowhere: no other weight or price changes the winner.");
    }
    for each in &found.flips {
        page.say(Style::Plain, "  ", &format!("{}.", flip(found, each)));
    }
}
