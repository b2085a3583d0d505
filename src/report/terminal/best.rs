//! The best design: what it is, its drawers, what is in them, what to buy, what was checked.

use super::page::{Page, Style};
use crate::design::{Check, Design, Need, PurchaseOf, Size, Verdict};
use crate::explore::{Governing, governing};
use crate::paper::{Cell, Column, Table};
use crate::report::figures::{count, length_unit, sizes};
use crate::report::naming::Names;
use crate::report::stowed::{counted, front_to_back, holders, load};
use crate::report::subject::{Candidate, Findings};
use crate::report::words;
use crate::scenario::Scenario;
use crate::units::{Length, Money, UnitSystem};

/// One design in full.
pub fn best(findings: &Findings<'_>, found: &Candidate<'_>) -> Page {
    let (scenario, design) = (findings.scenario, found.design);
    let mut page = Page::new();
    page.heading(&format!("Design {}: {}", design.id, words::tiers(scenario, &design.structure)));
    chest(&mut page, scenario, design);
    drawers(&mut page, scenario, design);
    gear(&mut page, scenario, design);
    left_out(&mut page, scenario, design);
    shopping(&mut page, scenario, design);
    checks(&mut page, scenario, design);
    super::fits::said(&mut page, scenario, design);
    page
}

fn chest(page: &mut Page, scenario: &Scenario, design: &Design) {
    let carcass = &design.chest.carcass;
    let units = scenario.units;
    let width = carcass.tiers.iter().map(|tier| tier.width).max().unwrap_or(Length::ZERO);
    page.say(
        Style::Plain,
        "  ",
        &format!(
            "Chest {} long, {} wide, deck {} above the floor, {}.",
            carcass.length.show(units),
            width.show(units),
            carcass.top_z.show(units),
            words::placing(scenario, &design.structure)
        ),
    );
    if carcass.lift.is_positive() {
        let mut text = format!("It stands on {} of packing", carcass.lift.show(units));
        if carcass.lift_for_tailgate.is_positive() {
            let asked = carcass.lift_for_tailgate.show(units);
            text.push_str(&format!("; its drawers need {asked} to clear the open tailgate"));
        }
        page.say(Style::Plain, "  ", &format!("{text}."));
    }
    let structure = &design.structure;
    let name = |id| &scenario.stock.materials[id].name;
    page.say(
        Style::Plain,
        "  ",
        &format!(
            "Bottom and shelves of {}, deck of {}; drawers with sides of {}, bottoms of {}, \
             fronts of {} and dividers of {}, on {}.",
            name(structure.bottom),
            name(structure.deck),
            name(structure.sides),
            name(structure.drawer_bottom),
            name(structure.front),
            name(structure.divider),
            words::runs(structure.runs)
        ),
    );
    page.say(
        Style::Plain,
        "  ",
        &format!(
            "Empty it weighs {}, with its gear {}.",
            design.criteria.mass.show(units),
            design.criteria.loaded_mass.show(units)
        ),
    );
}

fn drawers(page: &mut Page, scenario: &Scenario, design: &Design) {
    let units = scenario.units;
    let unit = length_unit(units);
    page.heading(&format!("Drawers and openings ({unit})"));
    let mut table = Table::new(
        "",
        vec![
            Column::words("drawer"),
            Column::words(""),
            Column::count("width"),
            Column::count("length"),
            Column::count("height"),
        ],
    );
    for drawer in &design.drawers {
        let mut row = |name: &str, what: &str, size: Size| {
            let figure = |length: Length| Cell::text(length.figure(units));
            table.row([
                Cell::text(name),
                Cell::text(what),
                figure(size.dx),
                figure(size.dy),
                figure(size.dz),
            ]);
        };
        row(&drawer.name, "opening", drawer.opening.size);
        row("", "box", drawer.outside.size);
        row("", "clear inside", drawer.inside);
    }
    page.table(&table);
    page.say(Style::Plain, "", &words::left_over(scenario, design));
    for pocket in &design.pockets {
        let size = pocket.space.size;
        let text = format!(
            "{}: {} {unit} clear under its lid",
            words::pocket(pocket.place),
            sizes(&[size.dx, size.dy, size.dz], units)
        );
        page.say(Style::Plain, "", &text);
    }
}

fn gear(page: &mut Page, scenario: &Scenario, design: &Design) {
    page.heading("What is in them, from front to back");
    for holder in holders(design) {
        let names: Vec<String> = front_to_back(holder.plan)
            .into_iter()
            .map(|(content, copies)| counted(scenario, content, copies))
            .collect();
        let text = if names.is_empty() {
            "nothing".to_owned()
        } else {
            let load = load(scenario, holder.plan).show(scenario.units);
            format!("{load}: {}", names.join("; "))
        };
        page.say(Style::Plain, &format!("{}  ", holder.name), &text);
    }
}

fn left_out(page: &mut Page, scenario: &Scenario, design: &Design) {
    if design.left_out.is_empty() {
        return;
    }
    page.heading("Not stowed");
    // What is left out for one and the same reason is listed together.
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for left in &design.left_out {
        let name = counted(scenario, left.content, left.count);
        let why = words::left_out(left.why, scenario.units);
        match reasons.iter_mut().find(|(reason, _)| *reason == why) {
            Some((_, names)) => names.push(name),
            None => reasons.push((why, vec![name])),
        }
    }
    for (why, names) in reasons {
        page.say(Style::Plain, "  ", &format!("{}: {why}", names.join("; ")));
    }
}

fn shopping(page: &mut Page, scenario: &Scenario, design: &Design) {
    page.heading("What to buy");
    let names = Names::of(scenario);
    page.table(&super::shopping::shopping(&names, &scenario.currency, &design.purchases));
    page.say(Style::Strong, "", &total(scenario, design));
    unpriced(page, scenario, design);
}

fn total(scenario: &Scenario, design: &Design) -> String {
    let cost = |wanted: fn(&PurchaseOf) -> bool| -> Money {
        let of = design.purchases.iter().filter(|bought| wanted(&bought.what));
        of.map(|bought| bought.cost).sum()
    };
    let wood = cost(|what| matches!(what, PurchaseOf::Stock(_)));
    let hardware = cost(|what| matches!(what, PurchaseOf::Hardware(_)));
    format!(
        "{} {} in all: wood {wood}, hardware {hardware}.",
        design.criteria.cost, scenario.currency
    )
}

/// What the design needs and the scenario's stock does not list.
fn unpriced(page: &mut Page, scenario: &Scenario, design: &Design) {
    let missing: Vec<String> = design
        .hardware
        .iter()
        .filter(|line| line.hardware.is_none())
        .map(|line| {
            let what = words::hardware_use(line.use_);
            match line.need {
                Need::Count(needed) => format!("{needed} {what}"),
                Need::Length(length) => format!("{} of {what}", length.show(scenario.units)),
                Need::Area(area) => format!("{} of {what}", area.show(scenario.units)),
            }
        })
        .collect();
    if !missing.is_empty() {
        let text = format!(
            "Also needed, but not in the scenario's hardware and so not priced: {}.",
            missing.join(", ")
        );
        page.say(Style::Plain, "", &text);
    }
}

/// What passes so many times over is counted and not listed.
const AMPLE: f64 = 3.0;

fn checks(page: &mut Page, scenario: &Scenario, design: &Design) {
    if design.checks.is_empty() {
        return;
    }
    page.blank();
    let style = if design.beyond() == 0 { Style::Heading } else { Style::Bad };
    page.say(style, "", &format!("Checks: {}", words::verdicts(&design.checks)));
    let mut table = Table::new(
        "",
        vec![
            Column::words("check"),
            Column::count("found"),
            Column::words("limit"),
            Column::count("margin"),
            Column::words(""),
        ],
    );
    let (shown, ample): (Vec<&Check>, Vec<&Check>) =
        design.checks.iter().partition(|check| check.margin() < AMPLE);
    for check in shown {
        table.row([
            Cell::text(&check.name),
            Cell::text(words::found(check, scenario.units)),
            Cell::text(words::limit(check, scenario.units)),
            Cell::text(margin(check)),
            Cell::text(words::verdict(check.verdict())),
        ]);
    }
    page.table(&table);
    let seen = Verdict::ALL.into_iter().filter(|one| {
        *one != Verdict::Holds && design.checks.iter().any(|check| check.verdict() == *one)
    });
    for one in seen {
        page.say(Style::Faint, &format!("{}: ", words::verdict(one)), words::verdict_means(one));
    }
    if !ample.is_empty() {
        let pass = count(ample.len() as u64, "check passes", "checks pass");
        page.say(Style::Plain, "", &format!("{pass} {AMPLE} times over or more."));
    }
    if let Some(Governing { check, levers }) = governing(&design.checks) {
        let lifts: Vec<&str> = levers.iter().map(|each| words::lever(*each)).collect();
        let text = format!("{}. What would lift it: {}.", check.name, lifts.join(", "));
        page.say(Style::Plain, "The margin rests on ", &text);
    }
    let assumed = assumptions(scenario.units, design);
    if !assumed.is_empty() {
        page.say(Style::Faint, "Assumed: ", &format!("{}.", assumed.join("; ")));
    }
    page.say(Style::Faint, "", "The documents give each check's source and remarks.");
}

/// What the checks say they assume, each once, without the mark by which they say so.
fn assumptions(units: UnitSystem, design: &Design) -> Vec<String> {
    const MARK: &str = " (assumption)";
    let remark = |check: &Check| words::remark(&check.remark, units);
    let shown = design.checks.iter().filter(|check| check.margin() < AMPLE);
    let texts: Vec<String> =
        shown.flat_map(|check| [words::remark(&check.source, units), remark(check)]).collect();
    let clauses = texts.iter().flat_map(|text| text.split(';'));
    said_once(clauses.filter_map(|clause| clause.rfind(MARK).map(|end| &clause[..end])))
        .into_iter()
        .map(|clause| clause.replace(MARK, ""))
        .collect()
}

/// How many times over a check passes; a dash where nothing loads it.
fn margin(check: &Check) -> String {
    let margin = check.margin();
    if margin.is_finite() { format!("{margin:.2}") } else { "-".to_owned() }
}

/// Each text that says something, once, in the order in which they come.
fn said_once<'a>(texts: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for text in texts.map(str::trim).filter(|text| !text.is_empty()) {
        if !said.iter().any(|earlier| earlier == text) {
            said.push(text.to_owned());
        }
    }
    said
}
