//! Which limits conflict where no design satisfies a scenario, and the least change of each that mends it.
//!
//! A set of limits conflicts if no design satisfies all of them; it is minimal if giving up any one of them leaves a design.
//! One is found by deletion: each limit in turn is given up for good if there is still no design without it (Chinneck,
//! Feasibility and Infeasibility in Optimization, 2008, chapter 6; from memory). What is left then holds only limits that
//! each are needed for the conflict.

use super::{Asker, Measure, contents, drawers};
use crate::design::Content;
use crate::scenario::{Demand, MaterialId, Place, Scenario};
use crate::units::{Length, Mass, Money};

/// What may stand in the way of any design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// A measurement of the bed.
    Bed(Measure),
    /// The most that may be spent.
    Cost,
    /// The most that the empty chest may weigh.
    Mass,
    /// The hardest pull.
    Pull,
    /// What the deck must carry.
    DeckLoad,
    /// What the vehicle may still carry.
    Payload,
    /// Something that must be stowed.
    Must(Content),
    /// Where something must stand.
    Place(Content),
    /// What is decided of a tier, from 0 at the bottom.
    Tier(u32),
    /// What is decided of a drawer: its tier, and its column from 0 at the left.
    Drawer(u32, u32),
}

/// A change after which there is a design; each was explored and has one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cure {
    /// So much more of a measurement.
    Longer(Measure, Length),
    /// This much may be spent.
    Cost(Money),
    /// The chest may weigh this.
    Mass(Mass),
    /// A pull of this many newtons.
    Pull(f64),
    /// The deck need carry only this.
    DeckLoad(Mass),
    /// So much payload.
    Payload(Mass),
    /// It need not be stowed.
    Without(Content),
    /// Members of this stock too.
    Member(MaterialId),
    /// It may stand elsewhere.
    Anywhere(Content),
    /// Nothing is decided of the tier.
    OpenTier(u32),
    /// The drawer has this inside width.
    DrawerWidth(u32, u32, Length),
    /// The drawer has this clear height.
    DrawerHeight(u32, u32, Length),
    /// Nothing is decided of the drawer.
    OpenDrawer(u32, u32),
}

/// Limits that cannot all be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// What is decided first. None of them can be left out of it: with all others given up no design keeps them, and without any one of them there
    /// is one.
    pub limits: Vec<Limit>,
    /// Further such sets: each is found with something of those before it given up, and a few at most.
    pub others: Vec<Vec<Limit>>,
    /// For each what would mend it alone, as far as one was found; then stock that would.
    pub cures: Vec<Cure>,
}

/// How far a measurement is stretched to see whether it is in the way at all.
const STRETCH: Length = Length::mm(600);
/// Amounts are eased in hundredths of themselves, up to three times.
const PERCENT: i64 = 200;

/// Sets looked for beyond the first.
const OTHERS: usize = 2;

/// The minimal conflicts of a scenario without a design, with the first one's cures; none if there is a design after all, or
/// the conflict does not lie in these limits.
pub fn conflict(scenario: &Scenario, asker: &Asker<'_>) -> Option<Conflict> {
    let stands = |scenario: &Scenario| asker.most_worth(scenario).is_some();
    let mut limits = minimal(scenario, asker)?;
    // Whoever decided something last asks about that.
    limits.sort_by_key(|limit| !limit.is_decided());
    let mut cures: Vec<Cure> =
        limits.iter().filter_map(|limit| limit.cure(scenario, asker)).collect();
    if limits.contains(&Limit::Bed(Measure::Height)) {
        cures.extend(
            other_members(scenario)
                .filter(|id| {
                    let mut more = scenario.clone();
                    more.choices.members.push(*id);
                    stands(&more)
                })
                .map(Cure::Member),
        );
    }
    let mut others: Vec<Vec<Limit>> = Vec::new();
    let mut rest = scenario.clone();
    for _ in 0..OTHERS {
        // What a bed measures is there; anything else can be given up.
        let last = others.last().unwrap_or(&limits);
        let given = last.iter().find(|limit| !matches!(limit, Limit::Bed(_)));
        let Some(given) = given else { break };
        rest = given.lifted(&rest);
        if stands(&rest) {
            break;
        }
        let Some(next) = minimal(&rest, asker) else { break };
        others.push(next);
    }
    Some(Conflict { limits, others, cures })
}

/// A minimal conflict of a scenario that has no design.
fn minimal(scenario: &Scenario, asker: &Asker<'_>) -> Option<Vec<Limit>> {
    let stands = |scenario: &Scenario| asker.most_worth(scenario).is_some();
    let mut given_up = scenario.clone();
    let mut limits = Vec::new();
    let musts: Vec<Limit> = contents(scenario)
        .filter(|content| demanded(scenario, *content))
        .map(Limit::Must)
        .collect();
    let places: Vec<Limit> = contents(scenario)
        .filter(|content| place(scenario, *content).is_some())
        .map(Limit::Place)
        .collect();
    let drawers = scenario.decided.drawers.iter();
    let groups = [
        vec![Limit::Pull],
        vec![Limit::DeckLoad],
        vec![Limit::Mass],
        vec![Limit::Cost],
        vec![Limit::Payload],
        musts,
        places,
        scenario.decided.tiers.iter().map(|tier| Limit::Tier(tier.tier)).collect(),
        drawers.map(|drawer| Limit::Drawer(drawer.tier, drawer.column)).collect(),
        vec![Limit::Bed(Measure::Width)],
        vec![Limit::Bed(Measure::Length)],
        vec![Limit::Bed(Measure::Height)],
    ];
    for group in groups {
        // A whole group that is not in the way costs one search.
        let without =
            group.iter().fold(given_up.clone(), |scenario, limit| limit.lifted(&scenario));
        if without == given_up {
            continue;
        }
        if !stands(&without) {
            given_up = without;
            continue;
        }
        for limit in group {
            let without = limit.lifted(&given_up);
            if stands(&without) {
                limits.push(limit);
            } else {
                given_up = without;
            }
        }
    }
    (!limits.is_empty() && !asker.stopped()).then_some(limits)
}

fn demanded(scenario: &Scenario, content: Content) -> bool {
    let demand = match content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    };
    demand == Demand::Must
}

/// Stock that members could be made of and the scenario doesn't list for it.
fn other_members(scenario: &Scenario) -> impl Iterator<Item = MaterialId> {
    let listed = &scenario.choices.members;
    let least = listed.iter().map(|id| scenario.stock.materials[*id].thickness).min();
    scenario
        .stock
        .materials
        .iter()
        .filter(move |(id, material)| !listed.contains(id) && Some(material.thickness) >= least)
        .map(|(id, _)| id)
}

impl Limit {
    /// Whether somebody decided it of the design, as against what the bed, the gear or the purse demand.
    pub const fn is_decided(&self) -> bool {
        matches!(self, Self::Place(_) | Self::Tier(_) | Self::Drawer(..))
    }

    /// The scenario without this limit.
    fn lifted(self, scenario: &Scenario) -> Scenario {
        let mut free = scenario.clone();
        let limits = &mut free.aims.limits;
        match self {
            Self::Bed(measure) => return measure.changed(scenario, STRETCH).unwrap_or(free),
            Self::Cost => limits.cost = None,
            Self::Mass => limits.mass = None,
            Self::Pull => limits.pull_newtons = None,
            Self::DeckLoad => limits.deck_load = None,
            Self::Payload => free.bed.payload = None,
            Self::Must(content) => return without(scenario, content),
            Self::Place(content) => return anywhere(scenario, content),
            Self::Tier(tier) => free.decided.tiers.retain(|decided| decided.tier != tier),
            Self::Drawer(tier, column) => {
                free.decided.drawers.retain(|drawer| (drawer.tier, drawer.column) != (tier, column))
            }
        }
        free
    }

    /// The least change of this limit alone that leaves a design.
    fn cure(self, scenario: &Scenario, asker: &Asker<'_>) -> Option<Cure> {
        let stands = |changed: Option<Scenario>| {
            changed.is_some_and(|changed| asker.most_worth(&changed).is_some())
        };
        let step = scenario.shop.step;
        if let Self::Bed(measure) = self {
            let longer = |steps: i64| measure.changed(scenario, step * steps);
            let steps =
                asker.least(STRETCH.units() / step.units(), |steps| stands(longer(steps)))?;
            return Some(Cure::Longer(measure, step * steps));
        }
        if let Self::Must(content) = self {
            return stands(Some(without(scenario, content))).then_some(Cure::Without(content));
        }
        match self {
            Self::Place(content) => {
                return stands(Some(self.lifted(scenario))).then_some(Cure::Anywhere(content));
            }
            Self::Tier(tier) => {
                return stands(Some(self.lifted(scenario))).then_some(Cure::OpenTier(tier));
            }
            Self::Drawer(tier, column) => {
                return drawers::cure(scenario, (tier, column), asker).or_else(|| {
                    stands(Some(self.lifted(scenario))).then_some(Cure::OpenDrawer(tier, column))
                });
            }
            _ => {}
        }
        let percent = asker.least(PERCENT, |percent| {
            stands(self.eased(scenario, percent).map(|(changed, _)| changed))
        })?;
        self.eased(scenario, percent).map(|(_, cure)| cure)
    }

    /// The limit eased by so many hundredths of itself.
    fn eased(self, scenario: &Scenario, percent: i64) -> Option<(Scenario, Cure)> {
        let mut eased = scenario.clone();
        let limits = &mut eased.aims.limits;
        let more = 1.0 + percent as f64 / 100.0;
        let cure = match self {
            Self::Cost => {
                let cost = limits.cost?;
                let most = Money::from_parts(cost.parts() + cost.parts() * percent / 100);
                limits.cost = Some(most);
                Cure::Cost(most)
            }
            Self::Mass => {
                let most = Mass::from_kg(limits.mass?.to_kg() * more);
                limits.mass = Some(most);
                Cure::Mass(most)
            }
            Self::Pull => {
                let most = limits.pull_newtons? * more;
                limits.pull_newtons = Some(most);
                Cure::Pull(most)
            }
            Self::DeckLoad => {
                let least = Mass::from_kg(limits.deck_load?.to_kg() / more);
                limits.deck_load = Some(least);
                Cure::DeckLoad(least)
            }
            Self::Payload => {
                let most = Mass::from_kg(eased.bed.payload?.to_kg() * more);
                eased.bed.payload = Some(most);
                Cure::Payload(most)
            }
            Self::Bed(_) | Self::Must(_) | Self::Place(_) | Self::Tier(_) | Self::Drawer(..) => {
                return None;
            }
        };
        Some((eased, cure))
    }
}

fn place(scenario: &Scenario, content: Content) -> Option<Place> {
    match content {
        Content::Gear(id) => scenario.gear[id].place,
        Content::Loose(id) => scenario.loose[id].place,
    }
}

/// The scenario in which it may stand anywhere.
fn anywhere(scenario: &Scenario, content: Content) -> Scenario {
    let mut free = scenario.clone();
    match content {
        Content::Gear(id) => free.gear[id].place = None,
        Content::Loose(id) => free.loose[id].place = None,
    }
    free
}

/// The scenario in which it need not be stowed.
fn without(scenario: &Scenario, content: Content) -> Scenario {
    let mut without = anywhere(scenario, content);
    match content {
        Content::Gear(id) => without.gear[id].demand = Demand::Worth(0),
        Content::Loose(id) => without.loose[id].demand = Demand::Worth(0),
    }
    without
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explore::Settings;
    use crate::scenario::Gear;
    use crate::scenario::fixture::{full_size, inches, optional};

    #[test]
    fn two_things_that_fail_in_different_ways_are_two_conflicts() {
        let mut scenario = full_size();
        scenario.choices.tiers = vec![1];
        let must = |name, size| Gear { demand: Demand::Must, ..optional(name, size, 1, 1) };
        let long = scenario.gear.push(must("mast", [100, 3, 3]));
        let wide = scenario.gear.push(must("sled", [90, 80, 3]));
        let settings = Settings::default();
        let asker = Asker::new(&settings, &|_| {});
        let found = conflict(&scenario, &asker).expect("neither goes in");
        let named: Vec<&Limit> = found.limits.iter().chain(found.others.iter().flatten()).collect();
        for id in [long, wide] {
            assert!(named.contains(&&Limit::Must(Content::Gear(id))), "{found:?}");
        }
        assert_eq!(found.others.len(), 1, "{found:?}");
        assert_eq!(found.cures, [], "no one change makes room for both");
    }

    #[test]
    fn a_bed_too_low_for_what_must_fit_says_so_and_by_how_much() {
        let mut scenario = full_size();
        scenario.choices.tiers = vec![1];
        scenario.bed.clear_height.at = inches(8);
        let settings = Settings::default();
        let asker = Asker::new(&settings, &|_| {});
        let found = conflict(&scenario, &asker).expect("eight inches are too low");
        assert!(found.limits.contains(&Limit::Bed(Measure::Height)), "{found:?}");
        let Some(Cure::Longer(Measure::Height, by)) = found.cures.first().copied() else {
            panic!("{found:?}")
        };
        let mended = |by| Measure::Height.changed(&scenario, by).and_then(|s| asker.most_worth(&s));
        assert!(mended(by).is_some(), "the cure works");
        assert!(mended(by - scenario.shop.step).is_none(), "a step less does not");
    }
}
