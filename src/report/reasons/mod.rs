//! Sentences for why there is no design, from the search's typed reasons: which limit fails, by how much, what would do.

mod misfit;

use misfit::{misfit, no_structure, openings_alone_too_high};

use crate::design::{Content, Design, LeftOut};
use crate::explore::family::Wood;
use crate::explore::{self, Dimension, LimitKind, Reason, ReasonKind};
use crate::report::figures::{count, decimal, quantity};
use crate::report::stowed::counted;
use crate::report::subject::{Considered, Explanation, Findings, Pruned};
use crate::report::words;
use crate::scenario::{MaterialId, Place, Scenario, Section, Turn};
use crate::units::Length;

/// How much was looked at, in words.
pub fn considered(scenario: &Scenario, considered: &explore::Considered) -> Considered {
    let mut pruned: Vec<Pruned> = Vec::new();
    let mut say = |reason: String, structures, nearest| {
        if structures > 0 {
            pruned.push(Pruned { reason, structures, nearest });
        }
    };
    let mut early = considered.too_high;
    if considered.discarded.iter().all(|(of, ..)| of != ReasonKind::Height) {
        say(kind(ReasonKind::Height).to_owned(), std::mem::take(&mut early), None);
    }
    for (of, structures, nearest) in considered.discarded.iter() {
        let more = if of == ReasonKind::Height { early } else { 0 };
        let nearest = explanation(scenario, nearest).sentence;
        say(kind(of).to_owned(), structures + more, Some(nearest));
    }
    let beyond =
        "were worked out and are not offered, as more of their checks are beyond a guide value";
    say(beyond.to_owned(), considered.beyond_guides, None);
    let most = decimal(considered.outscored_by, 1);
    let outscored = format!("cannot score above {most}, which the best does");
    say(outscored, considered.outscored, None);
    say("looked less promising once stowed".to_owned(), considered.sketched, None);
    say("were not looked into".to_owned(), considered.unexplored, None);
    Considered { structures: considered.structures, pruned, solved: considered.finished }
}

/// Why structures were discarded, as what is said of them: `would stand too high`.
pub const fn kind(of: ReasonKind) -> &'static str {
    match of {
        ReasonKind::Height => "would stand too high",
        ReasonKind::Length => "would leave too little length for drawers",
        ReasonKind::Width => "would have drawers too narrow",
        ReasonKind::DrawerHeight => "would have drawers too low",
        ReasonKind::Decided => "would not have the drawers that are decided",
        ReasonKind::Seam => "would have a seam where no member stands",
        ReasonKind::Stock => "cannot be cut from the stock",
        ReasonKind::Wells => "need wheel wells to stand above",
        ReasonKind::Must => "cannot take what must fit",
        ReasonKind::Limit => "would exceed a limit",
        ReasonKind::Check => "would fail a check",
        ReasonKind::Fit => "would have a fit that does not hold as demanded",
    }
}

/// Why no design satisfies the scenario: the nearest miss of those structures that came furthest on the way from bed to
/// finished design.
///
/// It is proved if every structure was looked into, none was finished, and the reason itself leaves no doubt.
pub fn why_none(scenario: &Scenario, considered: &explore::Considered) -> Explanation {
    let exhausted = considered.unexplored == 0 && considered.sketched == 0;
    match considered.discarded.nearest() {
        Some(reason) => {
            let said = explanation(scenario, reason);
            Explanation { proved: said.proved && exhausted, ..said }
        }
        None if considered.too_high > 0 => openings_alone_too_high(scenario),
        None => no_structure(),
    }
}

/// Why a bed can have no design of an idea whose members are of a stock that it does not have.
pub fn no_such_member(scenario: &Scenario, wood: &Wood) -> Explanation {
    let show = |length: Length| length.show(scenario.units);
    let size = match wood.section {
        Section::Board { width } => {
            format!("boards of {} by {}", wood.thickness.figure(scenario.units), show(width))
        }
        Section::Sheet => format!("sheets of {}", show(wood.thickness)),
    };
    plain(
        "members",
        "stock",
        format!("Its members are of {}, and the scenario lists no {size}.", wood.name),
        &format!("{size} in the stock"),
    )
}

/// A reason as a sentence with its numbers.
///
/// `proved` says whether the reason holds for its structure without doubt; whether it holds for all of them is for the
/// caller to say.
pub fn explanation(scenario: &Scenario, reason: &Reason) -> Explanation {
    match reason {
        Reason::Misfit(one) => misfit(scenario, *one),
        Reason::GearTooLarge { content, dimension, by } => {
            too_large(scenario, *content, *dimension, *by)
        }
        Reason::MustLeftOut { content, copies, proved } => {
            must_left_out(scenario, *content, *copies, *proved)
        }
        Reason::NotCut { material, by } => not_cut(scenario, *material, *by),
        Reason::OverLimit { limit, value, most } => over_limit(scenario, *limit, *value, *most),
        Reason::Loose { of, by } => short(
            "every design found",
            *by,
            format!(
                "The nearest design has a fit that does not hold as demanded, {}: {} is missing at \
                 worst.",
                words::fits::fit(scenario, of),
                by.show(scenario.units)
            ),
            "wider gaps, smaller tolerances once measured, or demand = \"average\"".to_owned(),
        ),
        Reason::CheckFails { name, value, limit, unit } => {
            let shown = |figure| quantity(figure, unit, scenario.units);
            Explanation {
                about: "every design found".to_owned(),
                limit: name.clone(),
                short_by: Some((value - limit).abs()),
                unit: (*unit).to_owned(),
                sentence: format!(
                    "The nearest design fails the check of {name}: {} found, {} allowed.",
                    shown(*value),
                    shown(*limit)
                ),
                change: explore::levers(name)
                    .iter()
                    .map(|each| words::lever(*each))
                    .collect::<Vec<&str>>()
                    .join(", "),
                proved: false,
            }
        }
    }
}

/// Why what could not be had cannot be had, and what the best design leaves out.
pub fn told(findings: &Findings<'_>) -> Vec<Explanation> {
    let best = findings.candidates.first();
    let left_out = best.map(|found| left_out(findings.scenario, found.design));
    findings.explanations.iter().cloned().chain(left_out.into_iter().flatten()).collect()
}

/// What a design leaves out although it was asked for, for the document.
pub fn left_out(scenario: &Scenario, design: &Design) -> Vec<Explanation> {
    let explain = |left: &crate::design::Unstowed| {
        let name = counted(scenario, left.content, left.count);
        let (limit, by) = match left.why {
            LeftOut::TooHigh { by } => ("clear height of the drawers", Some(by)),
            LeftOut::TooLarge { by } => ("length and width of the drawers", Some(by)),
            LeftOut::NoRoom => ("room in the drawers", None),
        };
        Explanation {
            sentence: format!(
                "Design {} leaves out {name}: {}.",
                design.id,
                words::left_out(left.why, scenario.units)
            ),
            about: name,
            limit: limit.to_owned(),
            short_by: by.map(Length::to_mm),
            unit: if by.is_some() { "mm".to_owned() } else { String::new() },
            change: String::new(),
            proved: by.is_some(),
        }
    };
    design.left_out.iter().map(explain).collect()
}

/// An explanation about every structure whose shortfall is a length.
fn short(limit: &str, by: Length, sentence: String, change: String) -> Explanation {
    Explanation {
        about: "every structure".to_owned(),
        limit: limit.to_owned(),
        short_by: Some(by.to_mm()),
        unit: "mm".to_owned(),
        sentence,
        change,
        proved: true,
    }
}

/// An explanation that no number measures.
fn plain(about: &str, limit: &str, sentence: String, change: &str) -> Explanation {
    Explanation {
        about: about.to_owned(),
        limit: limit.to_owned(),
        short_by: None,
        unit: String::new(),
        sentence,
        change: change.to_owned(),
        proved: true,
    }
}

fn too_large(
    scenario: &Scenario,
    content: Content,
    dimension: Dimension,
    by: Length,
) -> Explanation {
    let name = words::content(scenario, content);
    let by_shown = by.show(scenario.units);
    let (word, limit) = match dimension {
        Dimension::Height => ("high", "clear height of the drawers"),
        Dimension::Length => ("long", "inside length of the drawers"),
        Dimension::Width => ("wide", "inside width of the drawers"),
    };
    let may_turn = match content {
        Content::Gear(id) => scenario.gear[id].turn == Turn::Any,
        Content::Loose(_) => true,
    };
    let turned = if may_turn { "however turned" } else { "in the ways it may be turned" };
    let (must, which, else_) = demand(scenario, content);
    let turn = if may_turn { "" } else { "`turn = \"any\"` if it may lie on another side, or " };
    Explanation {
        about: name.to_owned(),
        limit: limit.to_owned(),
        short_by: Some(by.to_mm()),
        unit: "mm".to_owned(),
        sentence: format!("{name} {must}, but is {by_shown} too {word} for {which}, {turned}."),
        change: format!("drawers {by_shown} {} inside, {turn}{else_}", more(dimension)),
        proved: true,
    }
}

/// What is demanded of a thing, of which drawers, and what could be demanded instead.
fn demand(scenario: &Scenario, content: Content) -> (String, &'static str, &'static str) {
    let place = match content {
        Content::Gear(id) => scenario.gear[id].place,
        Content::Loose(id) => scenario.loose[id].place,
    };
    let which = match place {
        Some(Place { tier: Some(_), column: Some(_), .. }) => "that drawer",
        Some(Place { tier: None, column: None, .. }) => "every drawer",
        Some(_) => "every drawer there",
        None => return ("must fit".to_owned(), "every drawer", "a worth instead of `must`"),
    };
    (words::decided::place(scenario, content), which, "another place for it")
}

const fn more(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Height => "higher",
        Dimension::Length => "longer",
        Dimension::Width => "wider",
    }
}

fn must_left_out(scenario: &Scenario, content: Content, copies: u32, proved: bool) -> Explanation {
    let name = words::content(scenario, content);
    let found = if proved { "there is no room for" } else { "no room was found for" };
    let left = count(u64::from(copies), "copy", "copies");
    let (must, ..) = demand(scenario, content);
    Explanation {
        about: name.to_owned(),
        limit: "room in the drawers".to_owned(),
        short_by: Some(f64::from(copies)),
        unit: "copies".to_owned(),
        sentence: format!("{name} {must}, but {found} {left} of it beside what else must."),
        change: "fewer things that must fit, more tiers, or thinner dividers".to_owned(),
        proved,
    }
}

fn not_cut(scenario: &Scenario, material: MaterialId, by: Option<Length>) -> Explanation {
    let name = &scenario.stock.materials[material].name;
    match by {
        Some(by) => {
            let shown = by.show(scenario.units);
            let sentence =
                format!("A part of {name} is {shown} larger than the largest piece to be had.");
            let change = format!("{name} in a size {shown} larger");
            Explanation { about: name.clone(), ..short("stock size", by, sentence, change) }
        }
        None => plain(
            name,
            "stock quantity",
            format!("Not enough of {name} can be had for all the parts."),
            "more of it: a higher `most`, or none at all",
        ),
    }
}

fn over_limit(scenario: &Scenario, limit: LimitKind, value: f64, most: f64) -> Explanation {
    let (what, unit, shown): (_, &str, Box<dyn Fn(f64) -> String>) = match limit {
        LimitKind::Cost => ("cost", &scenario.currency, {
            Box::new(|amount| format!("{} {}", decimal_money(amount), scenario.currency))
        }),
        LimitKind::Mass => ("mass", "kg", Box::new(|mass| quantity(mass, "kg", scenario.units))),
    };
    Explanation {
        about: "every design found".to_owned(),
        limit: format!("{what} limit"),
        short_by: Some(value - most),
        unit: unit.to_owned(),
        sentence: format!(
            "The nearest design exceeds the {what} limit of {} by {}.",
            shown(most),
            shown(value - most)
        ),
        change: format!("a {what} limit of {}, or cheaper or lighter stock", shown(value)),
        proved: false,
    }
}

fn decimal_money(amount: f64) -> String {
    if amount.abs() < 1e12 { format!("{amount:.2}") } else { decimal(amount, 2) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::derive::Misfit;
    use crate::explore::Discarded;
    use crate::report::fixture;
    use crate::scenario::ColumnAt;

    fn inch(numerator: i64, denominator: i64) -> Length {
        Length::inches(numerator, denominator)
    }

    fn every_misfit(material: MaterialId) -> [Misfit; 11] {
        let by = inch(3, 8);
        [
            Misfit::TooShort { by },
            Misfit::HandleRoom { by },
            Misfit::TooHigh { by },
            Misfit::TooLow { tier: 1, by },
            Misfit::TooNarrow { tier: 0, by },
            Misfit::DecidedHeight { tier: 0, has: by, wanted: by * 2 },
            Misfit::DecidedWidths { tier: 0, taken: by, room: by * 2 },
            Misfit::SeamOffMember { material },
            Misfit::NoStock { material },
            Misfit::NoWells,
            Misfit::WidthsDoNotAdd { tier: 30 },
        ]
    }

    #[test]
    fn every_misfit_says_by_how_much_and_what_would_do() {
        let scenario = fixture::locksmith();
        for misfit in every_misfit(scenario.choices.deck[0]) {
            let said = explanation(&scenario, &Reason::Misfit(misfit));
            assert!(said.sentence.ends_with('.'), "{}", said.sentence);
            assert_eq!(said.short_by.is_some(), said.sentence.contains("3/8 in"), "{said:?}");
            if let Some(by) = said.short_by {
                assert_eq!((by, said.unit.as_str()), (9.525, "mm"));
            }
            let blames_itself = matches!(misfit, Misfit::WidthsDoNotAdd { .. });
            assert_eq!(said.change.is_empty(), blames_itself, "{said:?}");
        }
    }

    #[test]
    fn what_must_fit_and_cannot_is_named_with_its_shortfall() {
        let scenario = fixture::locksmith();
        let content = fixture::content(&scenario, "Hammer drill case");
        let by = inch(5, 4);
        let reason = Reason::GearTooLarge { content, dimension: Dimension::Height, by };
        let said = explanation(&scenario, &reason);
        assert_eq!(
            said.sentence,
            "Hammer drill case must fit, but is 1 1/4 in too high for every drawer, in the ways \
             it may be turned."
        );
        assert!(said.change.contains("1 1/4 in higher") && said.change.contains("turn = \"any\""));
        let reason = Reason::MustLeftOut { content, copies: 2, proved: false };
        let said = explanation(&scenario, &reason);
        assert!(said.sentence.contains("no room was found for 2 copies"), "{}", said.sentence);
        assert!(!said.proved);
    }

    #[test]
    fn what_stands_where_it_was_put_is_told_of_that_place() {
        let mut scenario = fixture::locksmith();
        let content = fixture::content(&scenario, "Hammer drill case");
        let Content::Gear(id) = content else { panic!("it has a shape") };
        let too_high =
            Reason::GearTooLarge { content, dimension: Dimension::Height, by: inch(5, 4) };
        let mut said = |place: Place| {
            scenario.gear[id].place = Some(place);
            explanation(&scenario, &too_high)
        };
        let b1 = Place { tier: Some(1), column: Some(ColumnAt::FromLeft(0)), end: None };
        assert_eq!(
            said(b1).sentence,
            "Hammer drill case must stand in B1, but is 1 1/4 in too high for that drawer, in the \
             ways it may be turned."
        );
        assert!(said(b1).change.ends_with("another place for it"), "{}", said(b1).change);
        let of_tier = said(Place { column: None, ..b1 }).sentence;
        assert!(
            of_tier.contains("must stand in B, but is 1 1/4 in too high for every drawer there")
        );
        let left = Reason::MustLeftOut { content, copies: 1, proved: true };
        let sentence = explanation(&scenario, &left).sentence;
        assert!(sentence.starts_with("Hammer drill case must stand in B, but there is no room"));
    }

    #[test]
    fn limits_and_checks_are_given_in_the_scenarios_units() {
        let scenario = fixture::locksmith();
        let reason = Reason::OverLimit { limit: LimitKind::Cost, value: 812.5, most: 750.0 };
        let said = explanation(&scenario, &reason);
        assert_eq!(
            said.sentence,
            "The nearest design exceeds the cost limit of 750.00 USD by 62.50 USD."
        );
        let reason = Reason::OverLimit { limit: LimitKind::Mass, value: 113.4, most: 90.72 };
        let said = explanation(&scenario, &reason);
        assert!(said.sentence.contains("mass limit of 200 lb by 50 lb"), "{}", said.sentence);
        assert_eq!(said.unit, "kg");
        let name = "deck sag".to_owned();
        let reason = Reason::CheckFails { name, value: 5.08, limit: 2.54, unit: "mm" };
        let said = explanation(&scenario, &reason);
        assert!(said.sentence.contains("deck sag: 0.2 in found, 0.1 in allowed"), "{said:?}");
    }

    #[test]
    fn the_nearest_miss_of_what_came_furthest_is_told() {
        let scenario = fixture::locksmith();
        let mut discarded = Discarded::default();
        discarded.add(Reason::Misfit(Misfit::TooHigh { by: inch(3, 8) }));
        discarded.add(Reason::Misfit(Misfit::TooHigh { by: inch(2, 1) }));
        let high = explore::Considered { discarded: discarded.clone(), ..Default::default() };
        let said = why_none(&scenario, &high);
        assert!(said.proved && said.sentence.contains("3/8 in too high"), "{said:?}");
        let partly = explore::Considered { unexplored: 1, ..high };
        assert!(!why_none(&scenario, &partly).proved);
        discarded.add(Reason::OverLimit { limit: LimitKind::Cost, value: 812.5, most: 750.0 });
        let considered =
            explore::Considered { structures: 9, too_high: 6, discarded, ..Default::default() };
        let said = why_none(&scenario, &considered);
        assert!(said.sentence.contains("cost limit") && !said.proved, "{said:?}");
        let told = super::considered(&scenario, &considered);
        let high = told.pruned.iter().find(|one| one.reason == "would stand too high");
        let high = high.expect("those too high are told");
        assert_eq!(high.structures, 8);
        assert!(high.nearest.as_ref().is_some_and(|said| said.contains("3/8 in")), "{told:?}");
        let cost = told.pruned.iter().find(|one| one.reason == "would exceed a limit");
        let nearest = cost.and_then(|one| one.nearest.clone()).unwrap_or_default();
        assert!(nearest.contains("750.00") && nearest.contains("62.50"), "{nearest}");
    }

    #[test]
    fn a_scenario_that_allows_nothing_is_told_so() {
        let mut scenario = fixture::locksmith();
        let none = explore::Considered::default();
        assert!(why_none(&scenario, &none).sentence.contains("allow no chest at all"));
        scenario.bed.clear_height.at = inch(6, 1);
        let high = explore::Considered { structures: 4, too_high: 4, ..Default::default() };
        let said = why_none(&scenario, &high);
        assert!(said.sentence.contains("1 1/4 in too high"), "{}", said.sentence);
        assert_eq!(super::considered(&scenario, &high).pruned.len(), 1);
    }

    #[test]
    fn what_a_design_leaves_out_is_explained_for_the_document() {
        let scenario = fixture::locksmith();
        let said = left_out(&scenario, &fixture::design(&scenario));
        let about: Vec<&str> = said.iter().map(|each| each.about.as_str()).collect();
        assert_eq!(about, ["Extension ladder", "Generator"]);
        assert_eq!(said[1].short_by, Some(345.28125));
        assert!(said[1].sentence.contains("13 19/32 in too high"), "{}", said[1].sentence);
    }
}
