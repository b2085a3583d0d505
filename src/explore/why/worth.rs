//! What a measurement is worth, and what would let a thing in that was left out.

use super::{Asker, Measure, contents, held_to, left};
use crate::design::{Content, Design};
use crate::scenario::{Demand, Scenario};
use crate::units::Length;

/// Changes of a measurement are looked for as far as this.
pub const REACH: Length = Length::mm(100);

/// What a measurement is worth to a design's structure.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// The measurement.
    pub measure: Measure,
    /// The least more of it with which more worth is stowed; none within 100 mm.
    pub more: Option<Step>,
    /// The least less of it with which less worth is stowed, or no such design stands; none within 100 mm.
    pub less: Option<Step>,
}

/// A change and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// How much more or less; positive.
    pub by: Length,
    /// The worth then stowed less today's, thousandths of a point; none if no such design stands.
    pub value: Option<i64>,
    /// What comes in, with how many copies.
    pub comes_in: Vec<(Content, u32)>,
    /// What falls out.
    pub falls_out: Vec<(Content, u32)>,
}

/// What each measurement is worth to the structure of `design`.
///
/// Sizes go by the shop's step. Each answer takes at most 2 + log₂ of the steps in 100 mm searches. A heuristic search may miss a
/// smaller change that would do, so that a step up is an upper bound of the least one.
pub fn worth(scenario: &Scenario, design: &Design, asker: &Asker<'_>) -> Vec<Worth> {
    let held = held_to(scenario, design);
    let Some(today) = asker.most_worth(&held) else { return Vec::new() };
    let step = scenario.shop.step;
    let most = REACH.units() / step.units();
    let after = |measure: Measure, by: Length| asker.most_worth(&measure.changed(&held, by)?);
    let value = |found: &Option<Design>| found.as_ref().map(|design| design.criteria.value_milli);
    let was = Some(today.criteria.value_milli);
    let told = |measure: Measure, steps: i64, sign: i64| {
        let by = step * steps;
        let then = after(measure, by * sign);
        let changed = then.as_ref().map(|then| changes(scenario, &today, then));
        let (comes_in, falls_out) = changed.unwrap_or_default();
        Step { by, value: value(&then).zip(was).map(|(then, was)| then - was), comes_in, falls_out }
    };
    let nothing_left = today.left_out.is_empty();
    Measure::ALL
        .into_iter()
        .map(|measure| {
            let more = if nothing_left {
                None
            } else {
                asker.least(most, |steps| value(&after(measure, step * steps)) > was)
            };
            let less = asker.least(most, |steps| value(&after(measure, -step * steps)) < was);
            Worth {
                measure,
                more: more.map(|steps| told(measure, steps, 1)),
                less: less.map(|steps| told(measure, steps, -1)),
            }
        })
        .collect()
}

/// The same with every step up that letting something in shows to be smaller: halving passes over what comes and goes.
pub fn sharpened(
    scenario: &Scenario,
    design: &Design,
    mut found: Vec<Worth>,
    let_in: &[LetIn],
    asker: &Asker<'_>,
) -> Vec<Worth> {
    let held = held_to(scenario, design);
    for worth in &mut found {
        let measure = worth.measure;
        let ways = let_in.iter().filter(|each| worth_of(scenario, each.content) > 0);
        let by = |each: &LetIn| each.by.iter().find(|(of, _)| *of == measure)?.1;
        let least = ways.filter_map(|each| Some((by(each)?, each.content))).min();
        let Some((by, content)) = least else { continue };
        if worth.more.as_ref().is_some_and(|more| more.by <= by) {
            continue;
        }
        let larger = measure.changed(&held, by);
        let then = larger.and_then(|larger| asker.most_worth(&must(&larger, content)));
        let Some(then) = then else { continue };
        let value = value_in(scenario, &then) - value_in(scenario, design);
        let (comes_in, falls_out) = changes(scenario, design, &then);
        if value > 0 {
            worth.more = Some(Step { by, value: Some(value), comes_in, falls_out });
        }
    }
    found
}

/// What a design stows by the worths of `scenario`, thousandths of a point, whatever it had to stow.
fn value_in(scenario: &Scenario, design: &Design) -> i64 {
    contents(scenario).map(|content| stowed_worth(scenario, design, content)).sum()
}

/// Copies of something, each kind with how many.
type Copies = Vec<(Content, u32)>;

/// What `after` stows and `before` doesn't, and the other way round.
fn changes(scenario: &Scenario, before: &Design, after: &Design) -> (Copies, Copies) {
    let (mut comes_in, mut falls_out) = (Copies::new(), Copies::new());
    for content in contents(scenario) {
        let (was, is) = (left(before, content), left(after, content));
        if was > is {
            comes_in.push((content, was - is));
        } else if is > was {
            falls_out.push((content, is - was));
        }
    }
    (comes_in, falls_out)
}

/// What would let something in without anything of more worth falling out.
#[derive(Debug, Clone, PartialEq)]
pub struct LetIn {
    /// What was left out.
    pub content: Content,
    /// The least more of each measurement that lets all its copies in, everything else stowed being worth as much as before;
    /// none within 100 mm.
    pub by: Vec<(Measure, Option<Length>)>,
    /// What it costs in worth, thousandths of a point, to stow it all the same in today's bed, with whatever structure; none if
    /// no design found takes it.
    pub instead: Option<i64>,
}

/// What would let `content` into the structure of `design`.
pub fn let_in(scenario: &Scenario, design: &Design, content: Content, asker: &Asker<'_>) -> LetIn {
    let step = scenario.shop.step;
    let most = REACH.units() / step.units();
    let wanted = must(scenario, content);
    let held = held_to(&wanted, design);
    let was = design.criteria.value_milli - stowed_worth(scenario, design, content);
    let by = Measure::ALL.map(|measure| {
        let does = |steps: i64| {
            let changed = measure.changed(&held, step * steps);
            let found = changed.and_then(|changed| asker.most_worth(&changed));
            found.is_some_and(|found| found.criteria.value_milli >= was)
        };
        (measure, asker.least(most, does).map(|steps| step * steps))
    });
    let instead = asker.most_worth(&wanted).map(|found| was - found.criteria.value_milli);
    LetIn { content, by: by.into(), instead: instead.map(|lost| lost.max(0)) }
}

/// What the stowed copies of something are worth.
fn stowed_worth(scenario: &Scenario, design: &Design, content: Content) -> i64 {
    let count = match content {
        Content::Gear(id) => scenario.gear[id].count,
        Content::Loose(_) => 1,
    };
    worth_of(scenario, content) * i64::from(count - left(design, content))
}

/// What one copy is worth, thousandths of a point; 0 for what must fit.
pub fn worth_of(scenario: &Scenario, content: Content) -> i64 {
    let demand = match content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    };
    match demand {
        Demand::Worth(each) => each,
        Demand::Must => 0,
    }
}

/// The scenario in which it must fit.
fn must(scenario: &Scenario, content: Content) -> Scenario {
    let mut wanted = scenario.clone();
    match content {
        Content::Gear(id) => wanted.gear[id].demand = Demand::Must,
        Content::Loose(id) => wanted.loose[id].demand = Demand::Must,
    }
    wanted
}
