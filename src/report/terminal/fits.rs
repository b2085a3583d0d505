//! Which fits hold however far sizes are off.

use super::page::{Page, Style};
use crate::design::Design;
use crate::explore::fits::{Holds, fits, measure_first};
use crate::report::words;
use crate::scenario::Scenario;

/// How many fits hold at worst case, each that does not, and what to measure again first.
pub fn said(page: &mut Page, scenario: &Scenario, design: &Design) {
    let all = fits(scenario, design);
    page.heading("Fits, if sizes are off as [tolerance] says");
    let sure = all.iter().filter(|fit| fit.stack.holds() == Holds::WorstCase).count();
    page.say(
        Style::Plain,
        "",
        &match sure == all.len() {
            true => format!("All {sure} hold with every size at its worst at once."),
            false => format!(
                "{sure} of {} hold with every size at its worst at once. The others:",
                all.len()
            ),
        },
    );
    for level in [Holds::No, Holds::Average] {
        for fit in all.iter().filter(|fit| fit.stack.holds() == level) {
            let text = format!(
                "- {}: {}.",
                words::fits::holds(level),
                words::fits::sentence(scenario, fit)
            );
            let style = if level == Holds::No { Style::Caution } else { Style::Plain };
            page.say(style, "", &text);
        }
    }
    if let Some((fit, source)) = measure_first(&all) {
        let text = format!(
            "Measure again first: {}, for {}.",
            words::fits::source(scenario, source),
            words::fits::fit(scenario, &fit.of)
        );
        page.say(Style::Strong, "", &text);
    }
}
