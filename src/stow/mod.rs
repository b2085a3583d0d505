//! Gear into drawers: translates a chest's tiers and pockets to the solver's halls, and its lanes back to
//! drawers with dividers.
//!
//! A tier is a hall as long as its drawers are inside and as wide as they are together; each pocket is a hall of one
//! column. Gear becomes shapes, one for each stance, stack and block of copies that the hall's height allows; loose
//! goods become areas. Which lanes a drawer gets is decided after they are filled, so column widths come out of the gear.

mod abreast;
mod left_out;
mod lighten;
mod pose;
mod relief;
#[cfg(test)]
mod tests;
mod unfold;

pub use left_out::{Extents, padded_stances, spaces};
pub use relief::Care;

use crate::design::derive::figures::mass_of;
use crate::design::derive::pockets::pockets;
use crate::design::{Carcass, Content, Stowage, Structure};
use crate::scenario::Scenario;
use crate::solve::budget::{Budget, Stop};
use crate::solve::lanes::{
    self, Burden, Column, FilledHall, Filling, LaneProblem, LaneReason, fill, shelves,
};
use crate::solve::outcome::Outcome;
use crate::units::Mass;

/// The gear in the drawers and pockets of a carcass.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stowed {
    /// Layouts and what is left out.
    pub stowage: Stowage,
    /// No stowage of these drawers and pockets is worth more, in thousandths of a point.
    pub value_bound: i64,
    /// Things that must be stowed and are not, with the copies missing. A stowage with any is no solution.
    pub missing: Vec<(Content, u32)>,
    /// Whether it is proved that they cannot be stowed.
    pub proved_missing: bool,
    /// What ended the search, if it was not done.
    pub stopped_by: Option<Stop>,
}

/// Stows a scenario's gear in the drawers and pockets of `carcass`.
///
/// No drawer has more to bear than `care` says, as far as that can be had by sharing the same gear out otherwise. A budget of about a
/// million is a quick look, fifty million a thorough one.
pub fn stow(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
    care: Care<'_>,
    budget: &mut Budget,
) -> Stowed {
    fill_posed(scenario, &pose(scenario, structure, carcass), care, budget)
}

/// The same with no drawer wider than so many hundredths (100 at least) of an equal share of its tier, as far as widths are
/// not decided. Wide openings strain deck, shelves and drawer bottoms, which the engine knows nothing of. The bound is that of
/// such stowages only.
pub fn stow_evenly(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
    care: Care<'_>,
    percent: u32,
    budget: &mut Budget,
) -> Stowed {
    let mut posed = pose(scenario, structure, carcass);
    let drawers = posed.stretches.len();
    for hall in posed.problem.halls.iter_mut().take(drawers).filter(|hall| hall.columns > 1) {
        let share = hall.width / i64::from(hall.columns) + 1;
        let widest = share.saturating_mul(i64::from(percent.max(100))) / 100;
        hall.most_column = Some(widest.max(hall.least_column));
    }
    fill_posed(scenario, &posed, care, budget)
}

fn fill_posed(
    scenario: &Scenario,
    posed: &pose::Posed<'_>,
    care: Care<'_>,
    budget: &mut Budget,
) -> Stowed {
    let stowed = |best: &Filling, bound: i64, stopped_by: Option<Stop>| {
        posed.stowed(scenario, best, care, bound, stopped_by)
    };
    match fill(&posed.problem, budget) {
        Outcome::Optimal { best, objective } => stowed(&best, objective, None),
        Outcome::Feasible { best, bound, stopped_by, .. } => stowed(&best, bound, stopped_by),
        Outcome::Infeasible(reason) => posed.impossible(scenario, &reason),
        Outcome::Unknown { stopped_by } => posed.nothing(scenario, stopped_by),
    }
}

/// The same by first-fit-decreasing shelves, the plain way against which [`stow`] is measured.
pub fn stow_on_shelves(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> Stowed {
    let posed = pose(scenario, structure, carcass);
    let filling = shelves(&posed.problem);
    posed.stowed(scenario, &filling, Care::NONE, i64::MAX, None)
}

/// The stowing of a carcass as the solver sees it: tiers from the bottom, then pockets, all lengths in whole steps of one
/// exact grid. What is looked for among is thinned where copies that share a cell allow very many blocks.
pub fn problem(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> LaneProblem {
    pose(scenario, structure, carcass).problem
}

/// No stowage of a carcass that has everything that must be stowed is worth more than this, thousandths of a point, if the
/// drawers of each tier hold no more together than `bears` says; empty for no limit. Takes about a hundred microseconds and
/// holds for every arrangement, not only for those that [`stow`] looks at.
///
/// # Errors
/// Something that must be stowed and is proved not to fit, with its copies.
pub fn bound(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
    bears: &[Mass],
) -> Result<i64, (Content, u32)> {
    let beside = pockets(scenario, structure, carcass);
    let posed = pose::Posed::new(scenario, structure, carcass, beside, pose::Blocks::All);
    let copies: Vec<i64> =
        posed.contents.iter().map(|content| mass_of(scenario, *content).micrograms()).collect();
    let of = |tier: usize| bears.get(tier).map(|mass| mass.micrograms());
    let most: Vec<Option<i64>> = posed.stretches.iter().map(|one| of(one.tier)).collect();
    match lanes::bound(&posed.problem, Burden { copies: &copies, most: &most }) {
        Ok(bound) => Ok(bound),
        Err(reason) => match posed.impossible(scenario, &reason).missing.first() {
            Some(missing) => Err(*missing),
            // Columns too narrow for their hall: no structure with a carcass has them.
            None => Ok(0),
        },
    }
}

fn pose<'a>(scenario: &Scenario, structure: &Structure, carcass: &'a Carcass) -> pose::Posed<'a> {
    let beside = pockets(scenario, structure, carcass);
    pose::Posed::new(scenario, structure, carcass, beside, pose::Blocks::Fewest)
}

impl pose::Posed<'_> {
    fn stowed(
        &self,
        scenario: &Scenario,
        filling: &Filling,
        care: Care<'_>,
        value_bound: i64,
        stopped_by: Option<Stop>,
    ) -> Stowed {
        let missing = filling
            .missing
            .iter()
            .map(|(class, copies)| (self.contents[*class], *copies))
            .collect();
        Stowed {
            stowage: self.unfold(scenario, filling, care),
            value_bound,
            missing,
            proved_missing: false,
            stopped_by,
        }
    }

    /// Nothing stowed; what cannot be is what the reason names.
    fn impossible(&self, scenario: &Scenario, reason: &LaneReason) -> Stowed {
        let culprit = match reason {
            LaneReason::NoShape { class } | LaneReason::TooLarge { class, .. } => Some(*class),
            LaneReason::TooMuch { classes, .. } => classes.first().copied(),
            LaneReason::Columns { .. } => None,
        };
        let nothing = self.nothing(scenario, None);
        let named = culprit.map(|class| (self.contents[class], self.problem.classes[class].count));
        let missing = named.map_or_else(|| nothing.missing.clone(), |named| vec![named]);
        Stowed { missing, proved_missing: true, ..nothing }
    }

    /// Nothing stowed, and everything missing that must be.
    fn nothing(&self, scenario: &Scenario, stopped_by: Option<Stop>) -> Stowed {
        let LaneProblem { classes, halls, .. } = &self.problem;
        let columns = |columns: u32| vec![Column { width: 0, lanes: Vec::new() }; columns as usize];
        let empty = Filling {
            halls: halls.iter().map(|hall| FilledHall { columns: columns(hall.columns) }).collect(),
            placed: vec![0; classes.len()],
            missing: Vec::new(),
        };
        let missing = classes.iter().zip(&self.contents).filter(|(class, _)| class.must);
        Stowed {
            missing: missing.map(|(class, content)| (*content, class.count)).collect(),
            ..self.stowed(scenario, &empty, Care::NONE, 0, stopped_by)
        }
    }
}
