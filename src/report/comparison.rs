//! Choices side by side: what the terminal page and the document of a comparison are made from, and its sentences.

use super::figures::{criterion_figure, criterion_unit, decimal};
use super::stowed::counted;
use super::subject::{Candidate, Explanation};
use super::words;
use crate::design::Content;
use crate::explore::Stop;
use crate::explore::compare::{self, By, Pick};
use crate::explore::flip::{Flip, Turning};
use crate::scenario::{Criterion, Scenario};

/// A comparison as it is reported.
#[derive(Debug, Clone)]
pub struct Comparison<'a> {
    /// What was given.
    pub scenario: &'a Scenario,
    /// What is varied; none where designs were named.
    pub by: Option<By>,
    /// The choices in their order.
    pub sides: Vec<Side<'a>>,
    /// The side with the most points.
    pub winner: Option<usize>,
    /// Where another side would win.
    pub flips: Vec<Flip>,
    /// What ended a search early, if anything did.
    pub stopped_by: Option<Stop>,
}

/// One choice.
#[derive(Debug, Clone)]
pub struct Side<'a> {
    /// What it is called.
    pub label: String,
    /// Its best design.
    pub best: Option<Candidate<'a>>,
    /// Why there is none.
    pub why_none: Option<Explanation>,
}

/// What a choice is called: `2 columns`, `2x8`, `plastic strip`.
pub fn label(scenario: &Scenario, pick: Pick) -> String {
    match pick {
        Pick::Columns(columns) => super::figures::count(u64::from(columns), "column", "columns"),
        Pick::Tiers(tiers) => super::figures::count(u64::from(tiers), "tier", "tiers"),
        Pick::Board(id) | Pick::Sheet(id) => scenario.stock.materials[id].name.clone(),
        Pick::Runs(runs) => words::runs(runs).to_owned(),
    }
}

/// What a comparison varies, as the command line spells it.
pub const fn varied(by: Option<By>) -> &'static str {
    match by {
        Some(By::Columns) => "columns",
        Some(By::Tiers) => "tiers",
        Some(By::Board) => "board",
        Some(By::Sheet) => "sheet",
        Some(By::Runs) => "runs",
        None => "designs",
    }
}

/// What the comparison does not vary although it is of its kind, as it is decided: `tier A with 2 columns`.
pub fn held(comparison: &Comparison<'_>) -> Vec<String> {
    let Some(by) = comparison.by else { return Vec::new() };
    let tiers = compare::held(comparison.scenario, by);
    tiers.iter().map(|tier| words::decided::tier(comparison.scenario, tier)).collect()
}

/// How a side differs from the winner.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Differences {
    /// Better by each criterion, in words: `209.30 USD cheaper`, `3.1 cu ft more usable volume`.
    pub gained: Vec<String>,
    /// Worse by each.
    pub lost: Vec<String>,
    /// What it stows and the winner doesn't.
    pub stowed_more: Vec<String>,
    /// What the winner stows and it doesn't.
    pub stowed_less: Vec<String>,
}

/// What `other` gains and loses against `winner`, as far as the figures shown differ.
pub fn differences(
    scenario: &Scenario,
    winner: &Candidate<'_>,
    other: &Candidate<'_>,
) -> Differences {
    let mut found = Differences::default();
    for each in Criterion::ALL {
        let (was, is) = (winner.design.criteria.figure(each), other.design.criteria.figure(each));
        let shown = criterion_figure(each, (is - was).abs(), scenario.units);
        if shown.chars().all(|c| matches!(c, '0' | '.')) {
            continue;
        }
        let unit = criterion_unit(each, scenario.units, &scenario.currency);
        let amount = [&shown, unit].into_iter().filter(|text| !text.is_empty());
        let amount = amount.map(|text| text as &str).collect::<Vec<_>>().join(" ");
        let text = format!("{amount} {}", comparative(each, is > was));
        let better = (is > was) == each.more_is_better();
        if better { found.gained.push(text) } else { found.lost.push(text) }
    }
    for content in contents(scenario) {
        let (before, after) = (left_out(winner, content), left_out(other, content));
        if before > after {
            found.stowed_more.push(counted(scenario, content, before - after));
        } else if after > before {
            found.stowed_less.push(counted(scenario, content, after - before));
        }
    }
    found
}

/// What more or less of a criterion is, after the amount.
const fn comparative(criterion: Criterion, more: bool) -> &'static str {
    match (criterion, more) {
        (Criterion::UsableVolume, true) => "more usable volume",
        (Criterion::UsableVolume, false) => "less usable volume",
        (Criterion::Value, true) => "more worth of gear",
        (Criterion::Value, false) => "less worth of gear",
        (Criterion::Reach, true) => "farther to pull",
        (Criterion::Reach, false) => "less far to pull",
        (Criterion::Waste, true) => "more waste",
        (Criterion::Waste, false) => "less waste",
        (Criterion::Cost, true) => "dearer",
        (Criterion::Cost, false) => "cheaper",
        (Criterion::Mass, true) => "heavier",
        (Criterion::Mass, false) => "lighter",
        (Criterion::Margin, true) => "more strength to spare",
        (Criterion::Margin, false) => "less strength to spare",
        (Criterion::Simplicity, true) => "more parts and set-ups",
        (Criterion::Simplicity, false) => "fewer parts and set-ups",
    }
}

fn contents(scenario: &Scenario) -> impl Iterator<Item = Content> {
    let gear = scenario.gear.ids().map(Content::Gear);
    gear.chain(scenario.loose.ids().map(Content::Loose))
}

fn left_out(found: &Candidate<'_>, content: Content) -> u32 {
    let lines = found.design.left_out.iter().filter(|left| left.content == content);
    lines.map(|left| left.count).sum()
}

/// A flip as a sentence.
pub fn flip(comparison: &Comparison<'_>, flip: &Flip) -> String {
    let challenger = &comparison.sides[flip.challenger].label;
    let scenario = comparison.scenario;
    let text = match flip.turning {
        Turning::Weight(criterion) => format!(
            "{challenger} would win with a weight of {} on {} (now {})",
            decimal(flip.at, 2),
            criterion.key(),
            decimal(flip.now, 2)
        ),
        Turning::Price(stock) => {
            let name = &scenario.stock.materials[stock].name;
            let item = scenario.stock.of(stock).find(|(_, item)| !item.is_offcut());
            let each = item.map(|(_, item)| {
                let now = item.price.to_units();
                format!(" ({}: {:.2} instead of {now:.2})", item.name, now * flip.at)
            });
            let each = each.unwrap_or_default();
            let way = if flip.at > 1.0 { "rose" } else { "fell" };
            format!(
                "{challenger} would win if the price of {name} {way} to {} of today's{each}",
                format_args!("{} %", decimal(flip.at * 100.0, 1))
            )
        }
    };
    if flip.settled { text } else { format!("{text}, or sooner") }
}
