//! What is proved of the best of each criterion.

use std::cmp::Ordering;

use crate::design::{Criteria, Design, DesignId};
use crate::scenario::Criterion;

/// The criteria that are bounded, in the order in which they are looked at.
pub const AIMS: [Criterion; 6] = [
    Criterion::Value,
    Criterion::UsableVolume,
    Criterion::Cost,
    Criterion::Mass,
    Criterion::Reach,
    Criterion::Waste,
];

/// What is known of the best that one criterion can be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AimBound {
    /// Which.
    pub criterion: Criterion,
    /// The best of any design that was found and is allowed, in the criterion's unit, and that design, which need not be
    /// offered; `None` if there is none.
    pub best: Option<(f64, DesignId)>,
    /// The best of those that are offered, as as few of their checks as can be are beyond a guide value.
    pub offered: Option<(f64, DesignId)>,
    /// No design that the scenario allows is better than this.
    pub bound: f64,
    /// Whether they meet: compared in the criterion's integers where it has them.
    pub proved: bool,
}

impl AimBound {
    /// Whether the best of those that are offered is less than of those that are allowed.
    pub fn is_beyond_guides(&self) -> bool {
        let figure = |of: Option<(f64, DesignId)>| of.map(|(figure, _)| figure);
        figure(self.best) != figure(self.offered)
    }

    /// How far apart best and bound are as a share of the best; 0 if it is proved, `None` without a best.
    pub fn gap(&self) -> Option<f64> {
        let (best, _) = self.best?;
        Some(match self.proved {
            true => 0.0,
            false => ((self.bound - best) / best.abs().max(f64::MIN_POSITIVE)).abs(),
        })
    }
}

/// How one design stands to another by one criterion: `Greater` is better. Exact wherever the criterion is an integer.
pub fn compare(criterion: Criterion, a: &Criteria, b: &Criteria) -> Ordering {
    match criterion {
        Criterion::Value => a.value_milli.cmp(&b.value_milli),
        Criterion::UsableVolume => a.usable_volume.units().cmp(&b.usable_volume.units()),
        Criterion::Cost => b.cost.cmp(&a.cost),
        Criterion::Mass => b.mass.cmp(&a.mass),
        Criterion::Simplicity => b.simplicity.cmp(&a.simplicity),
        Criterion::Reach | Criterion::Waste | Criterion::Margin => {
            let (a, b) = (a.figure(criterion), b.figure(criterion));
            if criterion.more_is_better() { a.total_cmp(&b) } else { b.total_cmp(&a) }
        }
    }
}

/// The best of `ideals` by one criterion.
pub fn best_ideal<'a>(
    criterion: Criterion,
    ideals: impl Iterator<Item = &'a Criteria>,
) -> Option<&'a Criteria> {
    ideals.max_by(|a, b| compare(criterion, a, b))
}

/// The best finished design by one criterion; of equals the one with the smallest id.
pub fn best_design<'a>(
    criterion: Criterion,
    designs: impl Iterator<Item = &'a Design>,
) -> Option<&'a Design> {
    designs
        .max_by(|a, b| compare(criterion, &a.criteria, &b.criteria).then_with(|| b.id.cmp(&a.id)))
}

/// What is known of each aim, given the ideals of everything that may still be a design, all designs that were found and those
/// of them that are offered.
pub fn aims<'a>(
    ideals: impl Iterator<Item = &'a Criteria> + Clone,
    designs: impl Iterator<Item = &'a Design> + Clone,
    offered: impl Iterator<Item = &'a Design> + Clone,
) -> Vec<AimBound> {
    AIMS.into_iter()
        .filter_map(|criterion| {
            let ideal = best_ideal(criterion, ideals.clone())?;
            // Of equals one that is offered.
            let of_offered = best_design(criterion, offered.clone());
            let best = best_design(criterion, designs.clone()).map(|best| match of_offered {
                Some(own) if compare(criterion, &own.criteria, &best.criteria).is_eq() => own,
                _ => best,
            });
            let proved = best
                .is_some_and(|best| compare(criterion, &best.criteria, ideal) != Ordering::Less);
            Some(AimBound {
                criterion,
                best: best.map(|best| (best.criteria.figure(criterion), best.id)),
                offered: of_offered.map(|best| (best.criteria.figure(criterion), best.id)),
                bound: ideal.figure(criterion),
                proved,
            })
        })
        .collect()
}
