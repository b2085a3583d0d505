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
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for used in defaults {
        let (group, said) = grouped(used);
        match groups.iter_mut().find(|(name, _)| *name == group) {
            Some((_, all)) => all.push(said),
            None => groups.push((group, vec![said])),
        }
    }
    for (group, said) in groups {
        page.say(Style::Faint, "  ", &format!("{group} {}", said.join("; ")));
    }
}

/// What a default is listed under, and what is said of it there: a key of a table under the table, and what is the same
/// for several things under what it is.
fn grouped(used: &DefaultUsed) -> (String, String) {
    let is_table = |name: &str| name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
    if let Some((table, key)) = used.key.split_once('.').filter(|(table, _)| is_table(table)) {
        return (format!("[{table}]"), format!("{key} {}", used.value));
    }
    match used.key.split_once(" of ") {
        Some((what, of)) => (format!("{what} {} of", used.value), of.to_owned()),
        None => (format!("{} {}", used.key, used.value), String::new()),
    }
}
