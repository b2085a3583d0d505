//! What to know before building: defaults, explanations, assumptions, cautions.

use super::page::{Page, Style};
use crate::report::cautions::cautions;
use crate::report::subject::{DefaultUsed, Findings};

/// Notices on the whole run and cautions for its best design.
pub fn notices(findings: &Findings<'_>) -> Page {
    let mut page = Page::new();
    if !findings.candidates.is_empty() && !findings.explanations.is_empty() {
        page.heading("What could not be had");
        for explanation in &findings.explanations {
            let mut text = explanation.sentence.clone();
            if !explanation.change.is_empty() {
                text.push_str(&format!(" What would do: {}", explanation.change));
            }
            page.say(Style::Plain, "  ", &text);
        }
    }
    defaults(&mut page, &findings.defaults);
    if let Some(first) = findings.candidates.first() {
        page.heading("Take care");
        for caution in cautions(findings.scenario, first.design) {
            page.say(Style::Caution, "- ", &caution.words(findings.scenario));
        }
    }
    page
}

/// Every default, those of one table together.
fn defaults(page: &mut Page, defaults: &[DefaultUsed]) {
    if defaults.is_empty() {
        return;
    }
    page.heading("Not in the scenario, so taken as usual");
    let mut tables: Vec<(&str, Vec<String>)> = Vec::new();
    for used in defaults {
        let (table, key) = used.key.split_once('.').unwrap_or(("", &used.key));
        let said = format!("{key} {}", used.value);
        match tables.iter_mut().find(|(name, _)| *name == table) {
            Some((_, all)) => all.push(said),
            None => tables.push((table, vec![said])),
        }
    }
    for (table, said) in tables {
        let text = match table {
            "" => said.join("; "),
            table => format!("[{table}] {}", said.join("; ")),
        };
        page.say(Style::Faint, "  ", &text);
    }
}
