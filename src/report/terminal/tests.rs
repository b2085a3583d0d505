use super::*;
use crate::design::Design;
use crate::explore::Stop;
use crate::paper::display_width;
use crate::report::fixture;
use crate::report::subject::Explanation;
use crate::units::UnitSystem;

fn text_of(scenario: &Scenario, change: impl FnOnce(&mut Design)) -> String {
    let mut first = fixture::design(scenario);
    change(&mut first);
    let second = fixture::design(scenario);
    let designs = [first, second];
    whole(&fixture::findings(scenario, &designs)).to_string()
}

fn assert_narrow(text: &str) {
    for line in text.lines() {
        assert!(display_width(line) <= WIDTH, "{} columns: {line}", display_width(line));
        assert!(!line.contains('\u{1b}'), "an escape gets through: {line:?}");
    }
}

/// The text without its line breaks, so that a sentence is found wherever it wraps.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_whole_run_reads_within_80_columns() {
    let text = text_of(&fixture::locksmith(), |design| design.checks[3].value = 151.3);
    println!("{text}");
    assert_narrow(&text);
    assert_eq!(
        text.lines().next(),
        Some("Service locksmith, full-size bed: bed 78 1/2 x 66 in, 17 things (5 must fit)")
    );
    for row in [
        "1* 8t5cy4t    24.1    9.3  701.10   382   36.5  15 of 17",
        "A1      opening       21 3/4  73 3/4    7 1/4",
        "        clear inside  19 3/4  67 3/4  6 13/32",
        "  5  1/2 plywood 4x8                                 38.50      192.50",
        "pull of drawer B1    34 lbf  at most 33 lbf       0.97  fails",
    ] {
        assert!(text.lines().any(|line| line == row), "missing: {row}");
    }
    let text = flowing(&text);
    for said in [
        "A2 93 lb: Wire spool, 500 ft (6); Wire nuts and staples",
        "Generator: 13 19/32 in too high for every drawer",
        "701.10 USD in all: wood 493.40, hardware 207.70.",
        "not priced: 4 hold-downs.",
        "[chest] handle_room 3 in",
        "density 700 kg/m³ of birch 6.5; birch 9",
        "on plastic strip (and 3 much like it)",
        "Assumed: road shock 2 times the load.",
    ] {
        assert!(text.contains(said), "missing: {said}");
    }
}

#[test]
fn no_name_however_long_widens_a_line_or_gets_lost() {
    let scenario = fixture::wordy(40);
    let text = text_of(&scenario, |design| {
        design.checks[0].name = "sag of the deck between ".repeat(8);
        design.checks[0].unit = "kilogram-force per square centimetre";
        design.checks[1].value = 1e30;
        design.drawers[0].name = "A".repeat(120);
    });
    println!("{text}");
    assert_narrow(&text);
    for number in 0..40 {
        assert!(flowing(&text).contains(&format!("number {number} ")), "{number} got lost");
    }
}

#[test]
fn a_metric_run_shows_millimetres_and_kilograms_only() {
    let mut scenario = fixture::locksmith();
    scenario.units = UnitSystem::Metric;
    scenario.currency = "EUR".to_owned();
    let text = text_of(&scenario, |_| ());
    assert_narrow(&text);
    assert!(flowing(&text).contains("A1 opening 552.45 1873.25 184.15"), "{text}");
    assert!(text.contains("payload            208.4 kg"), "{text}");
    for imperial in [" lb", " lbf", "cu ft", "(in)"] {
        assert!(!text.contains(imperial), "{imperial}: {text}");
    }
}

#[test]
fn a_search_cut_short_says_so() {
    let scenario = fixture::locksmith();
    let designs = [fixture::design(&scenario)];
    let mut findings = fixture::findings(&scenario, &designs);
    assert!(!whole(&findings).to_string().contains("stopped early"));
    findings.stopped_by = Some(Stop::Cancelled);
    let page = whole(&findings);
    let said = page.lines().iter().find(|line| line.text.contains("stopped early"));
    assert_eq!(said.map(|line| line.style), Some(Style::Bad));
}

#[test]
fn no_design_names_the_limit_and_the_shortfall() {
    let scenario = fixture::locksmith();
    let mut findings = fixture::findings(&scenario, &[]);
    findings.explanations = vec![Explanation {
        about: "every structure".to_owned(),
        limit: "clear height".to_owned(),
        short_by: Some(9.525),
        unit: "mm".to_owned(),
        sentence: "Every chest stands at least 3/8 in too high.".to_owned(),
        change: "3/8 in more clear height, or lower member stock".to_owned(),
        proved: true,
    }];
    let text = whole(&findings).to_string();
    assert_narrow(&text);
    assert!(text.contains("No design satisfies the scenario"), "{text}");
    assert!(text.contains("at least 3/8 in too high"), "{text}");
    assert!(text.contains("What would do: 3/8 in more clear height"), "{text}");
    assert!(!text.contains("Take care") && !text.contains("not proved"), "{text}");
}
