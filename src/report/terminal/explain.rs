//! Why a design is as it is, at the terminal.

use super::page::{Page, Style};
use crate::explore::why::{Limit, Slack};
use crate::paper::{Cell, Column, Table};
use crate::report::figures::{criterion_figure, criterion_unit, decimal};
use crate::report::subject::{Candidate, WhyOf};
use crate::report::{why, words};
use crate::scenario::Scenario;

/// The whole explanation.
pub fn explanation(found: &WhyOf<'_>) -> Page {
    let mut page = Page::new();
    page.say(Style::Strong, "", &super::scenario_line(found.scenario));
    match &found.found {
        Some(candidate) => {
            rank(&mut page, found.scenario, candidate);
            bounds(&mut page, found);
            measurements(&mut page, found);
            left_out(&mut page, found);
        }
        None => none(&mut page, found),
    }
    let text = format!(
        "Found by exploring {} changed scenarios; a search may miss a smaller change that would do.",
        found.asked
    );
    page.blank();
    page.say(Style::Faint, "", &text);
    if let Some(stop) = found.stopped_by {
        page.say(Style::Bad, "", &format!("The search was stopped early: {}.", words::stop(stop)));
    }
    page
}

/// What each criterion gave, and could have given.
fn rank(page: &mut Page, scenario: &Scenario, candidate: &Candidate<'_>) {
    let design = candidate.design;
    page.heading(&format!("Design {}: {}", design.id, words::tiers(scenario, &design.structure)));
    let text = format!(
        "Rank {} with {} of 100 points:",
        candidate.rank,
        decimal(candidate.standing.score, 1)
    );
    page.say(Style::Plain, "  ", &text);
    let total: f64 = scenario.aims.weights.iter().sum();
    let columns = ["points", "of", "weight", "figure"].map(Column::count);
    let columns = [Column::words("")].into_iter().chain(columns).chain([Column::words("")]);
    let mut table = Table::new("", columns.collect());
    for (each, points) in &candidate.standing.contributions {
        let weight = scenario.aims.weight(*each);
        let most = if total > 0.0 { 100.0 * weight / total } else { 0.0 };
        let figure = design.criteria.figure(*each);
        table.row([
            Cell::text(words::criterion(*each)),
            Cell::text(format!("{points:.1}")),
            Cell::text(format!("{most:.1}")),
            Cell::text(decimal(weight, 2)),
            Cell::text(criterion_figure(*each, figure, scenario.units)),
            Cell::text(criterion_unit(*each, scenario.units, &scenario.currency)),
        ]);
    }
    page.table(&table);
}

fn bounds(page: &mut Page, found: &WhyOf<'_>) {
    let said = |binds: bool| -> Vec<String> {
        let some: Vec<&Slack> = found.slacks.iter().filter(|slack| slack.binds == binds).collect();
        why::slacks(found.scenario, &some)
    };
    for (heading, lines) in [("What binds it", said(true)), ("Room left", said(false))] {
        page.heading(heading);
        if lines.is_empty() {
            page.say(Style::Plain, "  ", "nothing");
        }
        for line in lines {
            page.say(Style::Plain, "  ", &line);
        }
    }
}

fn measurements(page: &mut Page, found: &WhyOf<'_>) {
    if found.worth.is_empty() {
        return;
    }
    page.heading("What the measurements are worth, in this structure");
    for sentence in found.worth.iter().flat_map(|worth| why::worth(found.scenario, worth)) {
        page.say(Style::Plain, "  ", &sentence);
    }
}

fn left_out(page: &mut Page, found: &WhyOf<'_>) {
    if found.let_in.is_empty() {
        return;
    }
    page.heading("What would let in what is left out");
    for each in found.let_in {
        page.say(Style::Plain, "  ", &why::let_in(found.scenario, each));
    }
}

fn none(page: &mut Page, found: &WhyOf<'_>) {
    page.heading("No design satisfies the scenario");
    let why = |page: &mut Page, style| {
        found.why_none.iter().for_each(|each| page.say(style, "  ", &each.sentence));
    };
    let Some(conflict) = found.conflict else {
        why(page, Style::Bad);
        page.say(Style::Plain, "  ", "No set of limits was found whose easing leaves a design.");
        return;
    };
    // What somebody decided is told first, whatever the nearest design fails in.
    let limits = why::conflict(found.scenario, conflict);
    let decided = conflict.limits.iter().any(Limit::is_decided);
    if decided && !found.why_none.iter().any(|each| limits.starts_with(&each.about)) {
        page.say(Style::Bad, "  ", &limits);
        why(page, Style::Plain);
    } else {
        why(page, Style::Bad);
        page.say(Style::Plain, "  ", &limits);
    }
    for other in why::other_conflicts(found.scenario, conflict) {
        page.say(Style::Plain, "  ", &other);
    }
    page.heading("What would do, each alone and each tried");
    if conflict.cures.is_empty() && found.stopped_by.is_some() {
        page.say(Style::Plain, "  ", "None was found before the search was stopped.");
    } else if conflict.cures.is_empty() {
        page.say(Style::Plain, "  ", "No one of them alone: more than one has to give.");
    }
    for cure in &conflict.cures {
        page.say(Style::Plain, "- ", &why::cure(found.scenario, cure));
    }
}
