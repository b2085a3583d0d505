//! The sentences of an explanation: what binds, what a measurement is worth, what would let a thing in, which limits conflict.

use super::figures::{decimal, quantity};
use super::stowed::counted;
use super::words;
use crate::design::Content;
use crate::explore::levers;
use crate::explore::why::{
    Conflict, Cure, Held, LetIn, Limit, Measure, REACH, Room, Slack, Step, Worth,
};
use crate::scenario::Scenario;
use crate::scenario::{drawer_name, tier_letter};
use crate::units::Length;

/// What a measurement is called.
pub const fn measure(measure: Measure) -> &'static str {
    match measure {
        Measure::Length => "length of the bed",
        Measure::Width => "width of the bed",
        Measure::Height => "clear height",
    }
}

/// The adjective for more and for less of a measurement.
const fn comparative(measure: Measure, more: bool) -> &'static str {
    match (measure, more) {
        (Measure::Length, true) => "longer",
        (Measure::Length, false) => "shorter",
        (Measure::Width, true) => "wider",
        (Measure::Width, false) => "narrower",
        (Measure::Height, true) => "higher",
        (Measure::Height, false) => "lower",
    }
}

/// What might hold a design back, and the room left: `clear height: 3/16 in left`.
pub fn slack(scenario: &Scenario, slack: &Slack) -> String {
    slacks(scenario, &[slack]).pop().unwrap_or_default()
}

/// The same of several, those of which as much is left to drawers in the same way in one: `width of drawers A1, A2 and B3:
/// none left`.
pub fn slacks(scenario: &Scenario, slacks: &[&Slack]) -> Vec<String> {
    let mut lines: Vec<(Vec<&str>, String, String)> = Vec::new();
    for slack in slacks {
        let (drawer, what) = held(scenario, &slack.held);
        let room = room(scenario, slack);
        let known = lines.iter_mut().find(|(drawers, known, left)| {
            drawer.is_some() && !drawers.is_empty() && *known == what && *left == room
        });
        match known {
            Some((drawers, ..)) => drawers.extend(drawer),
            None => lines.push((drawer.into_iter().collect(), what, room)),
        }
    }
    let worded = lines.into_iter().map(|(drawers, what, room)| match drawers.as_slice() {
        [] => format!("{what}: {room}"),
        [one] => format!("{what} of drawer {one}: {room}"),
        [some @ .., last] => format!("{what} of drawers {} and {last}: {room}", some.join(", ")),
    });
    worded.collect()
}

/// Which drawer is held back, if it is one, and by what.
fn held<'a>(scenario: &Scenario, held: &'a Held) -> (Option<&'a str>, String) {
    match held {
        Held::ClearHeight => (None, "clear height".to_owned()),
        Held::Width(tier) => (None, format!("width for tier {}", tier_letter(*tier as u32))),
        Held::DrawerWidth(name) => (Some(name), "width".to_owned()),
        Held::DrawerLength(name) => (Some(name), "length".to_owned()),
        Held::DrawerHeight(name, content) => {
            (None, format!("height of drawer {name} over {}", words::content(scenario, *content)))
        }
        Held::Cost => (None, "limit on cost".to_owned()),
        Held::Mass => (None, "limit on mass".to_owned()),
        Held::Payload => (None, "payload".to_owned()),
        Held::Check(name) => (None, format!("check with least margin, {name}")),
    }
}

/// The room left, and what would make more of it where that is known.
fn room(scenario: &Scenario, slack: &Slack) -> String {
    let units = scenario.units;
    let room = match slack.room {
        Room::Length(Length::ZERO) => "none left".to_owned(),
        Room::Length(length) => format!("{} left", length.show(units)),
        Room::Money(money) => format!("{:.2} {} left", money.to_units(), scenario.currency),
        Room::Mass(mass) => format!("{} left", mass.show(units)),
        Room::Times(times) => format!("holds {} times over", decimal(times, 2)),
    };
    match &slack.held {
        Held::Check(name) => {
            let levers: Vec<&str> = levers(name).iter().map(|each| words::lever(*each)).collect();
            format!("{room}; what would lift it: {}", levers.join(", "))
        }
        _ => room,
    }
}

fn list(scenario: &Scenario, copies: &[(Content, u32)]) -> String {
    let names: Vec<String> =
        copies.iter().map(|(content, count)| counted(scenario, *content, *count)).collect();
    names.join(", ")
}

/// What a change of a measurement does: `A bed 1/4 in wider takes Drop cloths too (3 points more).`
pub fn step(scenario: &Scenario, of: Measure, more: bool, step: &Step) -> String {
    let by = step.by.show(scenario.units);
    let bed = match of {
        Measure::Height => format!("A clear height {by} {}", comparative(of, more)),
        _ => format!("A bed {by} {}", comparative(of, more)),
    };
    let Some(value) = step.value else {
        return format!("{bed} leaves no design of this structure.");
    };
    let points = decimal(value.unsigned_abs() as f64 / 1000.0, 1);
    let mut does = Vec::new();
    if !step.comes_in.is_empty() {
        does.push(format!("takes {} too", list(scenario, &step.comes_in)));
    }
    if !step.falls_out.is_empty() {
        does.push(format!("loses {}", list(scenario, &step.falls_out)));
    }
    let way = if value > 0 { "more" } else { "less" };
    let word = if points == "1" { "point" } else { "points" };
    format!("{bed} {} ({points} {word} {way}).", does.join(" and "))
}

/// What a measurement is worth, as sentences.
pub fn worth(scenario: &Scenario, worth: &Worth) -> Vec<String> {
    let told = |found: &Option<Step>, more: bool| match found {
        Some(found) => step(scenario, worth.measure, more, found),
        None if more => String::new(),
        None => {
            let reach = REACH.floor_to(scenario.shop.step).show(scenario.units);
            let less = comparative(worth.measure, false);
            format!("The {} may be up to {reach} {less} without loss.", measure(worth.measure))
        }
    };
    let sentences = [told(&worth.more, true), told(&worth.less, false)];
    sentences.into_iter().filter(|sentence| !sentence.is_empty()).collect()
}

/// What would let a thing in.
pub fn let_in(scenario: &Scenario, found: &LetIn) -> String {
    let name = words::content(scenario, found.content);
    let ways: Vec<String> = found
        .by
        .iter()
        .filter_map(|(of, by)| {
            let by = (*by)?.show(scenario.units);
            Some(format!(
                "{by} more {}",
                match of {
                    Measure::Length => "length",
                    Measure::Width => "width",
                    Measure::Height => "clear height",
                }
            ))
        })
        .collect();
    let mut text = if ways.is_empty() {
        let reach = REACH.floor_to(scenario.shop.step).show(scenario.units);
        format!("{name}: no bed up to {reach} larger takes it in this structure")
    } else {
        format!("{name} would come in with {}", ways.join(", or "))
    };
    match found.instead {
        Some(0) => text.push_str("; another design takes it at no loss"),
        Some(lost) => text.push_str(&format!(
            "; in today's bed it costs {} points of other gear",
            decimal(lost as f64 / 1000.0, 1)
        )),
        None => text.push_str("; no design found for today's bed takes it"),
    }
    text + "."
}

/// What a limit is called.
pub fn limit(scenario: &Scenario, limit: Limit) -> String {
    let amount = |text: Option<String>, what: &str| match text {
        Some(text) => format!("{what} {text}"),
        None => what.to_owned(),
    };
    let (limits, units) = (&scenario.aims.limits, scenario.units);
    match limit {
        Limit::Bed(Measure::Length) => {
            format!("a bed {} long", scenario.bed.length.at.show(units))
        }
        Limit::Bed(Measure::Width) => {
            format!("{} of width on the floor", scenario.bed.floor_width().show(units))
        }
        Limit::Bed(Measure::Height) => {
            format!("a clear height of {}", scenario.bed.clear_height.at.show(units))
        }
        Limit::Cost => {
            let most = limits.cost.map(|most| format!("{:.2}", most.to_units()));
            amount(most, "a cost of at most")
        }
        Limit::Mass => amount(limits.mass.map(|most| most.show(units)), "a chest of at most"),
        Limit::Pull => {
            let most = limits.pull_newtons.map(|most| quantity(most, "N", units));
            amount(most, "a pull of at most")
        }
        Limit::DeckLoad => {
            amount(limits.deck_load.map(|least| least.show(units)), "a deck that carries")
        }
        Limit::Payload => amount(scenario.bed.payload.map(|most| most.show(units)), "a payload of"),
        Limit::Must(content) => format!("{} must fit", words::content(scenario, content)),
        Limit::Place(content) => {
            let name = words::content(scenario, content);
            format!("{name} {}", words::decided::place(scenario, content))
        }
        Limit::Tier(tier) => {
            let decided = scenario.decided.tiers.iter().find(|one| one.tier == tier);
            decided.map_or_else(String::new, |decided| words::decided::tier(scenario, decided))
        }
        Limit::Drawer(tier, column) => {
            let drawers = &scenario.decided.drawers;
            let decided = drawers.iter().find(|one| (one.tier, one.column) == (tier, column));
            decided.map_or_else(String::new, |decided| words::decided::drawer(scenario, decided))
        }
    }
}

/// That limits conflict.
pub fn conflict(scenario: &Scenario, found: &Conflict) -> String {
    let limits: Vec<String> = found.limits.iter().map(|each| limit(scenario, *each)).collect();
    let subject = sentence(&limits.join("; "));
    match limits.len() {
        1 => format!("{subject}: no design keeps this."),
        _ => format!(
            "{subject}: even with all else given up no design keeps all of these, and without any one of them there is one."
        ),
    }
}

/// As it begins a sentence.
fn sentence(text: &str) -> String {
    let mut rest = text.chars();
    rest.next().map_or_else(String::new, |first| first.to_uppercase().chain(rest).collect())
}

/// The further conflicts of a scenario, a sentence each.
pub fn other_conflicts(scenario: &Scenario, found: &Conflict) -> Vec<String> {
    let others = found.others.iter().map(|limits| {
        let limits: Vec<String> = limits.iter().map(|each| limit(scenario, *each)).collect();
        format!("Nor does any keep: {}.", limits.join("; "))
    });
    others.collect()
}

/// A change that mends a conflict.
pub fn cure(scenario: &Scenario, cure: &Cure) -> String {
    let units = scenario.units;
    match cure {
        Cure::Longer(of, by) => format!("{} more {}", by.show(units), measure(*of)),
        Cure::Cost(most) => format!("a cost of up to {:.2} {}", most.to_units(), scenario.currency),
        Cure::Mass(most) => format!("a chest of up to {}", most.show(units)),
        Cure::Pull(most) => format!("a pull of up to {}", quantity(*most, "N", units)),
        Cure::DeckLoad(least) => format!("a deck load of no more than {}", least.show(units)),
        Cure::Payload(most) => format!("a payload of {}", most.show(units)),
        Cure::Without(content) => {
            format!("{} left at home", words::content(scenario, *content))
        }
        Cure::Anywhere(content) => {
            format!("{} wherever it fits", words::content(scenario, *content))
        }
        Cure::OpenTier(tier) => format!("nothing decided of tier {}", tier_letter(*tier)),
        Cure::OpenDrawer(tier, column) => {
            format!("nothing decided of drawer {}", drawer_name(*tier, *column))
        }
        Cure::DrawerWidth(tier, column, width) => {
            let name = drawer_name(*tier, *column);
            format!("drawer {name} {} wide inside", width.show(units))
        }
        Cure::DrawerHeight(tier, column, height) => {
            let name = drawer_name(*tier, *column);
            format!("drawer {name} {} high inside", height.show(units))
        }
        Cure::Member(id) => {
            format!("members of {} as a choice", scenario.stock.materials[*id].name)
        }
    }
}
