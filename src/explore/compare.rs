//! Choices side by side: each explored with only itself to choose, all measured by one scale.

use std::time::{Duration, Instant};

use super::flip::{self, Flip, Turning};
use super::rank::Scale;
use super::{Considered, Explored, Progress, Settings, Stop, explore};
use crate::design::Design;
use crate::scenario::{Criterion, DecidedTier, MaterialId, Runs, Scenario};

/// What is varied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Drawers side by side, the same in every tier.
    Columns,
    /// Tiers.
    Tiers,
    /// The members' stock.
    Board,
    /// Each sheet material in every place that it may take; the other places keep their choices.
    Sheet,
    /// What drawers slide on.
    Runs,
}

/// One choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pick {
    /// So many drawers side by side in every tier.
    Columns(u32),
    /// So many tiers.
    Tiers(u32),
    /// Members of this stock.
    Board(MaterialId),
    /// This sheet wherever it may be.
    Sheet(MaterialId),
    /// This under the drawers.
    Runs(Runs),
}

/// A choice explored.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The choice.
    pub pick: Pick,
    /// The best design with it; none if no design has it.
    pub best: Option<Scored>,
    /// What became of its structures.
    pub considered: Considered,
    /// What ended its search early from outside, if anything did.
    pub stopped_by: Option<Stop>,
}

/// A design with its points on the comparison's scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Scored {
    /// The design.
    pub design: Design,
    /// 0 to 100.
    pub score: f64,
    /// What each criterion gave of the score, in the order of [`Criterion::ALL`].
    pub contributions: [f64; 8],
}

/// Choices side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// In the scenario's order.
    pub choices: Vec<Choice>,
    /// Where another choice would be the best.
    pub flips: Vec<Flip>,
}

impl Compared {
    /// The choice whose best design has the most points, of those of which the fewest checks don't hold; ties go to the
    /// first. None if no choice has a design.
    pub fn winner(&self) -> Option<usize> {
        let best = || self.choices.iter().map(|choice| choice.best.as_ref());
        let fewest = best().flatten().map(|best| best.design.beyond()).min();
        let counts = |best: &&Scored| Some(best.design.beyond()) == fewest;
        best_of(best().map(|best| best.filter(counts).map(|best| best.score)))
    }
}

/// The choices that a scenario leaves open, in its order; what is decided of tiers and drawers is not open.
pub fn picks(scenario: &Scenario, by: By) -> Vec<Pick> {
    let (choices, decided) = (&scenario.choices, &scenario.decided);
    let most = choices.tiers.iter().copied().max().unwrap_or(0) as usize;
    match by {
        By::Columns => {
            let free = |columns: &u32| {
                (0..most).any(|tier| {
                    decided.columns(tier).is_none() && *columns >= decided.least_columns(tier)
                })
            };
            choices.columns.iter().copied().filter(free).map(Pick::Columns).collect()
        }
        By::Tiers => {
            let enough = |tiers: &u32| *tiers >= decided.least_tiers();
            choices.tiers.iter().copied().filter(enough).map(Pick::Tiers).collect()
        }
        By::Board => {
            let free = (0..most).any(|tier| decided.member(tier).is_none());
            let members = choices.members.iter().copied().filter(|_| free);
            members.map(Pick::Board).collect()
        }
        By::Runs => choices.runs_on.iter().copied().map(Pick::Runs).collect(),
        By::Sheet => {
            let mut found: Vec<MaterialId> = Vec::new();
            let open = scenario.choices.panels().into_iter().filter(|list| list.len() > 1);
            for id in open.flatten().filter(|id| !scenario.stock.materials[**id].is_board()) {
                if !found.contains(id) {
                    found.push(*id);
                }
            }
            found.into_iter().map(Pick::Sheet).collect()
        }
    }
}

/// What is decided of tiers goes before what is compared: those of which the columns, or the board, are not varied.
pub fn held(scenario: &Scenario, by: By) -> Vec<DecidedTier> {
    let tiers = scenario.decided.tiers.iter().copied();
    let part = tiers.map(|tier| match by {
        By::Columns => DecidedTier { member: None, ..tier },
        By::Board => DecidedTier { columns: None, ..tier },
        By::Tiers | By::Sheet | By::Runs => DecidedTier { columns: None, member: None, ..tier },
    });
    part.filter(|tier| tier.columns.is_some() || tier.member.is_some()).collect()
}

/// The scenario with nothing else to choose from than `pick`; what is decided stays.
pub fn restricted(scenario: &Scenario, pick: Pick) -> Scenario {
    let mut narrowed = scenario.clone();
    let choices = &mut narrowed.choices;
    match pick {
        Pick::Columns(columns) => choices.columns = vec![columns],
        Pick::Tiers(tiers) => choices.tiers = vec![tiers],
        Pick::Board(member) => choices.members = vec![member],
        Pick::Runs(runs) => choices.runs_on = vec![runs],
        Pick::Sheet(sheet) => {
            for list in choices.panels_mut().into_iter().filter(|list| list.contains(&sheet)) {
                *list = vec![sheet];
            }
        }
    }
    narrowed
}

/// Explores each choice and finds where the winner would change.
///
/// Every choice is explored on its own with the whole work allowance, so a comparison takes as many searches as there are
/// choices, and two more for every flip that is settled. A time limit is one for all.
pub fn compare(
    scenario: &Scenario,
    picks: &[Pick],
    settings: &Settings,
    report: &(dyn Fn(Progress<'_>) + Sync),
) -> Compared {
    let runs = Runner::new(settings, report);
    let explored: Vec<Explored> =
        picks.iter().map(|pick| runs.run(&restricted(scenario, *pick))).collect();
    let scale = Scale::of(scenario);
    let pools: Vec<Vec<Design>> = explored
        .iter()
        .map(|found| found.ranked.iter().map(|ranked| ranked.design.clone()).collect())
        .collect();
    let choices: Vec<Choice> = picks
        .iter()
        .zip(explored)
        .zip(&pools)
        .map(|((pick, found), pool)| Choice {
            pick: *pick,
            best: best_design(scenario, &scale, pool),
            considered: found.considered,
            stopped_by: found.stopped_by,
        })
        .collect();
    let mut compared = Compared { choices, flips: Vec::new() };
    if let Some(winner) = compared.winner() {
        let contest = flip::Contest { scenario, scale: &scale, winner };
        let again = |choice: usize, changed: &Scenario| {
            let found = runs.run(&restricted(changed, picks[choice]));
            found.ranked.into_iter().map(|ranked| ranked.design).collect()
        };
        compared.flips = flips(&contest, picks, pools, &again);
    }
    compared
}

/// Finished designs side by side, as they are.
pub fn compare_designs(scenario: &Scenario, scale: &Scale, designs: &[&Design]) -> Vec<Flip> {
    let scored: Vec<f64> =
        designs.iter().map(|design| scale.score(scenario, &design.criteria).0).collect();
    let Some(winner) = best_of(scored.into_iter().map(Some)) else { return Vec::new() };
    let pools = designs.iter().map(|design| vec![(*design).clone()]).collect();
    let contest = flip::Contest { scenario, scale, winner };
    flips(&contest, &[], pools, &|_, _| Vec::new())
}

/// For every choice that does not win: the two weights, and for stock the prices, nearest to today's at which it would.
fn flips(
    contest: &flip::Contest<'_>,
    picks: &[Pick],
    mut pools: Vec<Vec<Design>>,
    again: &dyn Fn(usize, &Scenario) -> Vec<Design>,
) -> Vec<Flip> {
    const WEIGHTS: usize = 2;
    let mut found = Vec::new();
    for challenger in (0..pools.len()).filter(|choice| *choice != contest.winner) {
        // No weight and no price makes up for a check that doesn't hold.
        let beyond = |choice: usize| pools[choice].first().map(Design::beyond);
        if pools[challenger].is_empty() || beyond(challenger) > beyond(contest.winner) {
            continue;
        }
        let mut weights: Vec<Flip> = Criterion::ALL
            .into_iter()
            .filter_map(|each| contest.flip(&pools, challenger, Turning::Weight(each)))
            .collect();
        weights.sort_by(|a, b| a.step().total_cmp(&b.step()));
        let of = |choice: usize| picks.get(choice).copied();
        let prices = [of(contest.winner), of(challenger)].into_iter().flatten().filter_map(
            |pick| match pick {
                Pick::Board(stock) | Pick::Sheet(stock) => Some(Turning::Price(stock)),
                Pick::Columns(_) | Pick::Tiers(_) | Pick::Runs(_) => None,
            },
        );
        let turnings: Vec<Turning> =
            weights.into_iter().take(WEIGHTS).map(|flip| flip.turning).chain(prices).collect();
        for turning in turnings {
            found.extend(contest.settle(&mut pools, challenger, turning, again));
        }
    }
    found
}

fn best_design(scenario: &Scenario, scale: &Scale, pool: &[Design]) -> Option<Scored> {
    let scored = |design: &Design| scale.score(scenario, &design.criteria);
    let best = best_of(pool.iter().map(|design| Some(scored(design).0)))?;
    let (score, contributions) = scored(&pool[best]);
    Some(Scored { design: pool[best].clone(), score, contributions })
}

/// The place of the largest score; the first of equals.
fn best_of(scores: impl Iterator<Item = Option<f64>>) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for (place, score) in scores.enumerate() {
        if let Some(score) = score
            && best.is_none_or(|(_, most)| score > most)
        {
            best = Some((place, score));
        }
    }
    best.map(|(place, _)| place)
}

/// Searches that share one clock.
struct Runner<'a> {
    settings: &'a Settings,
    report: &'a (dyn Fn(Progress<'_>) + Sync),
    deadline: Option<Instant>,
}

/// All that a search finishes may win at another weight.
const LISTED: usize = 1000;

impl<'a> Runner<'a> {
    fn new(settings: &'a Settings, report: &'a (dyn Fn(Progress<'_>) + Sync)) -> Self {
        let deadline = settings.time.and_then(|time| Instant::now().checked_add(time));
        Self { settings, report, deadline }
    }

    fn run(&self, scenario: &Scenario) -> Explored {
        let left = |deadline: Instant| deadline.saturating_duration_since(Instant::now());
        let time: Option<Duration> = self.deadline.map(left);
        let settings = Settings { top: LISTED, time, most_worth: false, ..self.settings.clone() };
        explore(scenario, &settings, self.report)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::full_size;

    #[test]
    fn every_open_choice_is_a_pick_and_nothing_else() {
        let scenario = full_size();
        let columns = picks(&scenario, By::Columns);
        assert_eq!(
            columns,
            scenario.choices.columns.iter().map(|c| Pick::Columns(*c)).collect::<Vec<_>>()
        );
        for pick in picks(&scenario, By::Sheet) {
            let narrowed = restricted(&scenario, pick);
            let Pick::Sheet(sheet) = pick else { panic!("{pick:?} is no sheet") };
            assert!(
                narrowed
                    .choices
                    .panels()
                    .into_iter()
                    .all(|list| list.len() == 1 || !list.contains(&sheet))
            );
        }
    }

    #[test]
    fn what_is_decided_of_a_tier_is_kept_and_told() {
        let mut scenario = full_size();
        let of = |tier, columns| DecidedTier { tier, columns: Some(columns), member: None };
        scenario.decided.tiers = vec![of(0, 2)];
        assert_eq!(picks(&scenario, By::Columns).len(), scenario.choices.columns.len());
        assert_eq!(held(&scenario, By::Columns), [of(0, 2)]);
        assert_eq!(held(&scenario, By::Board), []);
        let narrowed = restricted(&scenario, Pick::Columns(3));
        let (all, _) = crate::explore::structures::structures(&narrowed);
        let columns =
            all.iter().map(|one| one.tiers.iter().map(|tier| tier.columns).collect::<Vec<u32>>());
        for columns in columns {
            assert_eq!(columns[0], 2);
            assert!(columns[1..].iter().all(|upper| *upper == 3), "{columns:?}");
        }
        // Once every tier is decided, nothing is left to compare.
        scenario.decided.tiers.push(of(1, 3));
        assert_eq!(picks(&scenario, By::Columns), []);
    }

    #[test]
    fn the_best_over_the_choices_is_the_best_over_all() {
        let scenario = full_size();
        let settings = Settings { threads: 1, ..Settings::default() };
        let compared = compare(&scenario, &picks(&scenario, By::Board), &settings, &|_| {});
        let winner = compared.winner().expect("the fixture has designs");
        let best = compared.choices[winner].best.as_ref().expect("the winner has one");
        for choice in compared.choices.iter().filter_map(|choice| choice.best.as_ref()) {
            assert!(choice.score <= best.score);
            assert!((choice.contributions.iter().sum::<f64>() - choice.score).abs() < 1e-9);
        }
    }
}
