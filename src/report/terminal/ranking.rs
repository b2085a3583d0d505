//! The ranking, and how much was looked at.

use super::page::{Page, Style, WIDTH, clipped};
use crate::paper::display_width;
use crate::report::figures::{count, criterion_figure, criterion_unit, decimal};
use crate::report::stowed::{counted, tally};
use crate::report::subject::{Candidate, Findings};
use crate::report::words;
use crate::scenario::{Criterion, Scenario};

/// The figures of each row, after rank and id.
const SHOWN: [Criterion; 5] =
    [Criterion::UsableVolume, Criterion::Waste, Criterion::Cost, Criterion::Mass, Criterion::Reach];

/// The designs, best first: a row of figures each, then what it is and what it leaves out.
pub fn ranking(findings: &Findings<'_>) -> Page {
    let mut page = Page::new();
    page.heading(&format!(
        "{}, best first",
        count(findings.candidates.len() as u64, "design", "designs")
    ));
    if let Some((id, kept)) = &findings.like {
        page.say(Style::Plain, "", &format!("Like {id}: kept is its {}.", words::kept(*kept)));
    }
    let rows: Vec<Vec<String>> =
        findings.candidates.iter().map(|found| figures(findings.scenario, found)).collect();
    let heads = heads(findings.scenario);
    let widths: Vec<usize> = (0..heads[0].len())
        .map(|column| {
            let cells = heads.iter().chain(&rows).map(|row| display_width(&row[column]));
            cells.max().unwrap_or(0)
        })
        .collect();
    for head in &heads {
        page.say_row(Style::Faint, head, &widths);
    }
    for (found, row) in findings.candidates.iter().zip(&rows) {
        page.say_row(Style::Strong, row, &widths);
        in_words(&mut page, findings.scenario, found);
    }
    if findings.candidates.iter().any(|found| found.standing.undominated) {
        page.say(Style::Faint, "", "* no other design found is as good in everything.");
    }
    page.append(looked_at(findings));
    page
}

fn heads(scenario: &Scenario) -> [Vec<String>; 2] {
    let names = ["usable", "waste", "cost", "mass", "reach"];
    let mut names: Vec<String> = names.map(str::to_owned).to_vec();
    names.splice(0..0, ["".to_owned(), "design".to_owned()]);
    names.push("stowed".to_owned());
    let unit = |each| clipped(criterion_unit(each, scenario.units, &scenario.currency), 8);
    let mut units = vec![String::new(); 2];
    units.extend(SHOWN.map(unit));
    units.push(String::new());
    [names, units]
}

fn figures(scenario: &Scenario, found: &Candidate<'_>) -> Vec<String> {
    let criteria = &found.design.criteria;
    let (stowed, all) = tally(scenario, found.design);
    let mark = if found.standing.undominated { "*" } else { " " };
    let mut row = vec![format!("{}{mark}", found.rank), found.design.id.to_string()];
    row.extend(SHOWN.map(|each| criterion_figure(each, criteria.figure(each), scenario.units)));
    row.push(format!("{stowed} of {all}"));
    row
}

/// What the design is, how many are much like it, and what it leaves out.
fn in_words(page: &mut Page, scenario: &Scenario, found: &Candidate<'_>) {
    let design = found.design;
    let mut text = words::structure(scenario, &design.structure);
    if found.standing.near_twins > 0 {
        text.push_str(&format!(" (and {} much like it)", found.standing.near_twins));
    }
    page.say(Style::Plain, INDENT, &text);
    if !design.left_out.is_empty() {
        let mut names: Vec<String> = design
            .left_out
            .iter()
            .map(|left| counted(scenario, left.content, left.count))
            .collect();
        if names.len() > NAMED + 1 {
            let more = names.len() - NAMED;
            names.truncate(NAMED);
            names.push(format!("and {more} more"));
        }
        page.say(Style::Plain, INDENT, &format!("not stowed: {}", names.join("; ")));
    }
}

/// How many of the things left out a row names; the best design's own section names them all.
const NAMED: usize = 5;
/// Under the ids.
const INDENT: &str = "    ";

/// How much was looked at, and what that proves.
pub(super) fn looked_at(findings: &Findings<'_>) -> Page {
    let mut page = Page::new();
    let considered = &findings.considered;
    if considered.structures > 0 {
        let mut text = format!(
            "Of {} that the scenario allows, {} were worked out to the end",
            count(considered.structures, "structure", "structures"),
            considered.solved
        );
        for one in &considered.pruned {
            text.push_str(&format!("; {} {}", one.structures, one.reason));
        }
        text.push('.');
        page.say(Style::Faint, "", &text);
        for one in &considered.pruned {
            let Some(nearest) = &one.nearest else { continue };
            page.say(Style::Faint, "", &format!("  {}: {nearest}", one.reason));
        }
    }
    if !findings.candidates.is_empty() {
        page.append(proved(findings));
    }
    if let Some(stop) = findings.stopped_by {
        let text = format!(
            "The search was stopped early: {}. Better designs may exist.",
            words::stop(stop)
        );
        page.say(Style::Bad, "", &text);
    }
    page
}

/// For each criterion the best found, and what no design that the scenario allows can beat.
fn proved(findings: &Findings<'_>) -> Page {
    let mut page = Page::new();
    let scenario = findings.scenario;
    let mut text = "Each design is re-checked independently. ".to_owned();
    let score = findings.candidates.iter().map(|found| found.standing.score).reduce(f64::max);
    match score.zip(findings.score_bound) {
        Some((best, bound)) if best >= bound => text.push_str("The best is proved to be it."),
        Some((best, bound)) => text.push_str(&format!(
            "The best scores {}; none that the scenario allows scores above {}.",
            decimal(best, 1),
            decimal(bound, 1)
        )),
        None => text.push_str("None is proved to be the best."),
    }
    page.say(Style::Faint, "", &text);
    for aim in &findings.aims {
        let shown = |figure| {
            let unit = criterion_unit(aim.criterion, scenario.units, &scenario.currency);
            format!("{} {unit}", criterion_figure(aim.criterion, figure, scenario.units))
        };
        let Some((best, id)) = aim.best else { continue };
        let name = aim.criterion.key().replace('_', " ");
        // What is beyond a guide value cannot be chosen: what can be comes first.
        let found = match aim.offered {
            Some((offered, id)) if aim.is_beyond_guides() => format!(
                "{} (design {id}); {} beyond a guide value, which is not offered",
                shown(offered),
                shown(best)
            ),
            _ => format!("{} (design {id})", shown(best)),
        };
        let rest = match aim.gap() {
            _ if aim.proved && aim.is_beyond_guides() => {
                "that is proved to be the best there is".to_owned()
            }
            _ if aim.proved => "proved to be the best there is".to_owned(),
            Some(gap) if aim.bound != 0.0 || scenario.aims.limits.cost.is_some() => format!(
                "none can have {} than {}, {} % off",
                if aim.criterion.more_is_better() { "more" } else { "less" },
                match aim.criterion {
                    // Far below what is found: finer than that.
                    Criterion::Waste => format!("{} %", decimal(aim.bound * 100.0, 3)),
                    _ => shown(aim.bound),
                },
                decimal(gap * 100.0, 1)
            ),
            // Rests that are worth keeping are no waste, and the more is bought the more is left of it.
            _ => "not bounded, as no limit on cost holds back what is bought".to_owned(),
        };
        page.say(Style::Faint, "", &format!("  {name}: {found}; {rest}."));
    }
    page
}

impl Page {
    /// Cells in columns, all but the second (the id) to the right; what is too wide for a line wraps.
    fn say_row(&mut self, style: Style, cells: &[String], widths: &[usize]) {
        let mut line = String::new();
        for (index, (cell, width)) in cells.iter().zip(widths).enumerate() {
            let pad = " ".repeat(width.saturating_sub(display_width(cell)));
            let gap = if index < 2 { " " } else { "  " };
            let gap = if index == 0 { "" } else { gap };
            line.push_str(gap);
            let (before, after) = if index == 1 { ("", &*pad) } else { (&*pad, "") };
            line.push_str(&format!("{before}{cell}{after}"));
        }
        let line = line.trim_end();
        if display_width(line) <= WIDTH {
            self.push(style, line.to_owned());
        } else {
            self.say(style, "", line);
        }
    }
}
