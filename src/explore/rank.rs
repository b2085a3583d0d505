//! From finished designs to a ranking: points per criterion, the front of undominated designs, twins.

use std::collections::BTreeSet;

use super::promise::price_per_area;
use crate::design::{Criteria, Design};
use crate::scenario::{Criterion, Demand, Scenario};
use crate::units::Length;

/// A design in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct RankedDesign {
    /// The design.
    pub design: Design,
    /// 0 to 100.
    pub score: f64,
    /// What each criterion gave of the score, in the order of [`Criterion::ALL`].
    pub contributions: [f64; 8],
    /// Whether no other finished design is at least as good by every criterion and better by one.
    pub undominated: bool,
    /// How many more finished designs are of the same family with the same columns and heights.
    pub twins: u32,
    /// No design with these tiers can stow more worth than this (thousandths of a point).
    pub value_bound: i64,
}

/// What each criterion is measured against. Fixed by the scenario alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    volume: f64,
    value: f64,
    reach: f64,
    cost: f64,
    mass: f64,
    simplicity: f64,
}

impl Scale {
    /// The scenario's scale, whatever designs are compared: points mean the same in every search of it.
    ///
    /// Volume against the bed's floor times its clear height, value against all that is optional, reach against the bed's
    /// length, cost and mass against their limits. Where there is no limit, and for simplicity, against about twice what the
    /// largest chest that may be chosen takes (an assumption: it only decides how much a unit counts).
    pub fn of(scenario: &Scenario) -> Self {
        let (bed, limits) = (&scenario.bed, &scenario.aims.limits);
        let most = |list: &[u32]| f64::from(list.iter().copied().max().unwrap_or(1));
        let (tiers, columns) = (most(&scenario.choices.tiers), most(&scenario.choices.columns));
        // In floors of the bed: a bottom, a deck and a back, and for each tier a shelf, drawer bottoms, sides, members.
        let faces = 6.0 + 8.0 * tiers;
        let floor = bed.length.at.by(bed.width.at).to_square_metres();
        let materials = &scenario.stock.materials;
        // Only what may be used: stock that nothing may be made of changes no points.
        let sheets = || scenario.choices.materials().filter(|id| !materials[*id].is_board());
        let dearest = sheets().map(|id| price_per_area(scenario, id));
        let heaviest =
            sheets().map(|id| materials[id].thickness.to_metres() * materials[id].density);
        let usual_cost = faces * floor * dearest.fold(0.0, f64::max);
        let usual_mass = faces * floor * heaviest.fold(0.0, f64::max);
        Self {
            volume: bed.length.at.by(bed.width.at).by(bed.clear_height.at).to_litres(),
            value: optional_worth(scenario) as f64 / 1000.0,
            reach: bed.length.at.to_mm(),
            cost: limits.cost.map_or(usual_cost, |limit| limit.to_units()),
            mass: limits.mass.map_or(usual_mass, |limit| limit.to_kg()),
            simplicity: 60.0 * (1.0 + tiers * columns),
        }
    }

    /// How good a design is by one criterion, from 0 to 1.
    pub fn share(&self, criteria: &Criteria, criterion: Criterion) -> f64 {
        let figure = criteria.figure(criterion);
        let of = |whole: f64| if whole > 0.0 { figure / whole } else { 0.0 };
        let share = match criterion {
            Criterion::UsableVolume => of(self.volume),
            Criterion::Value if self.value > 0.0 => of(self.value),
            Criterion::Value => 1.0,
            Criterion::Reach => 1.0 - of(self.reach),
            Criterion::Waste => 1.0 - figure,
            Criterion::Cost => 1.0 - of(self.cost),
            Criterion::Mass => 1.0 - of(self.mass),
            // Nothing at a third of the limit, where a guide value refuses; three times over is as good as it gets.
            Criterion::Margin if figure > 0.0 => libm::log(3.0 * figure) / libm::log(9.0),
            Criterion::Margin => 0.0,
            Criterion::Simplicity => 1.0 - of(self.simplicity),
        };
        share.clamp(0.0, 1.0)
    }

    /// How good a cost is, unclamped so that it stays linear: 1 for nothing, 0 for the scale's whole.
    pub(super) fn cost_share(&self, cost: f64) -> f64 {
        if self.cost > 0.0 { 1.0 - cost / self.cost } else { 1.0 }
    }

    /// Score and contributions by the scenario's weights.
    pub fn score(&self, scenario: &Scenario, criteria: &Criteria) -> (f64, [f64; 8]) {
        let total: f64 = scenario.aims.weights.iter().sum();
        let points = Criterion::ALL.map(|criterion| match total > 0.0 {
            true => {
                100.0 * scenario.aims.weight(criterion) * self.share(criteria, criterion) / total
            }
            false => 0.0,
        });
        (points.iter().sum(), points)
    }
}

/// The worth of all optional gear together, thousandths of a point.
pub fn optional_worth(scenario: &Scenario) -> i64 {
    let worth = |demand| match demand {
        Demand::Worth(milli) => milli,
        Demand::Must => 0,
    };
    let gear =
        scenario.gear.values().map(|gear| worth(gear.demand).saturating_mul(i64::from(gear.count)));
    let loose = scenario.loose.values().map(|loose| worth(loose.demand));
    gear.chain(loose).fold(0, i64::saturating_add)
}

/// Ranks finished designs, best first; ties go to the smaller id. Each stands for its twins: only the best of a family
/// with the same columns and heights is listed. Undominated is meant over all that were finished.
pub fn rank(scenario: &Scenario, finished: Vec<(Design, i64)>) -> Vec<RankedDesign> {
    let (mut listed, twins) = told_apart(order(scenario, finished));
    for twin in twins {
        let of = listed.iter_mut().find(|kept| likeness(&kept.design) == likeness(&twin.design));
        of.expect("a twin is one of a design that is listed").twins += 1;
    }
    listed
}

/// Parts the best of every kind from its twins, each in the order given.
pub fn told_apart(ranked: Vec<RankedDesign>) -> (Vec<RankedDesign>, Vec<RankedDesign>) {
    let mut kinds = BTreeSet::new();
    ranked.into_iter().partition(|next| kinds.insert(likeness(&next.design)))
}

/// Every finished design with its points, those of which the fewest checks fail first, then by points; ties go to the smaller id. One cut in two ways is there once, the better.
pub fn order(scenario: &Scenario, finished: Vec<(Design, i64)>) -> Vec<RankedDesign> {
    let scale = Scale::of(scenario);
    let all: Vec<[f64; 8]> =
        finished.iter().map(|(design, _)| goodness(&design.criteria)).collect();
    let mut ranked: Vec<RankedDesign> = finished
        .into_iter()
        .zip(&all)
        .map(|((design, value_bound), own)| {
            let (score, contributions) = scale.score(scenario, &design.criteria);
            let undominated = !all.iter().any(|other| dominates(other, own));
            RankedDesign { design, score, contributions, undominated, twins: 0, value_bound }
        })
        .collect();
    ranked.sort_by(|a, b| {
        let better = a.design.beyond().cmp(&b.design.beyond()).then(b.score.total_cmp(&a.score));
        better.then(a.design.id.cmp(&b.design.id))
    });
    let mut seen = BTreeSet::new();
    ranked.retain(|next| seen.insert(next.design.id));
    ranked
}

/// What twins share: where the chest stands, and each tier's columns and height.
pub fn likeness(design: &Design) -> (crate::scenario::Family, bool, Vec<(u32, Length)>) {
    let tiers = design.structure.tiers.iter().map(|tier| (tier.columns, tier.height)).collect();
    (design.structure.family, design.structure.seamless, tiers)
}

/// Every criterion turned so that more is better.
pub(super) fn goodness(criteria: &Criteria) -> [f64; 8] {
    Criterion::ALL.map(|criterion| {
        let figure = criteria.figure(criterion);
        if criterion.more_is_better() { figure } else { -figure }
    })
}

/// Whether one is as good as another by every criterion and better by one.
pub(super) fn dominates(other: &[f64; 8], own: &[f64; 8]) -> bool {
    let no_worse = other.iter().zip(own).all(|(a, b)| a >= b);
    no_worse && other.iter().zip(own).any(|(a, b)| a > b)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::full_size;
    use crate::units::{Mass, Money, Volume};

    fn criteria(litres: i64, cost: i64) -> Criteria {
        Criteria {
            usable_volume: Volume::LITRE * litres,
            value_milli: 0,
            reach_mm: 500.0,
            waste: 0.2,
            sheet_waste: 0.2,
            board_waste: 0.2,
            cost: Money::ONE * cost,
            mass: Mass::from_kg(60.0),
            loaded_mass: Mass::from_kg(160.0),
            margin: Some(2.0),
            simplicity: 60,
        }
    }

    #[test]
    fn contributions_add_up_to_the_score() {
        let scenario = full_size();
        let all = [criteria(300, 200), criteria(320, 260)];
        let scale = Scale::of(&scenario);
        for one in &all {
            let (score, parts) = scale.score(&scenario, one);
            assert!((score - parts.iter().sum::<f64>()).abs() < 1e-9);
            assert!((0.0..=100.0).contains(&score));
        }
    }

    #[test]
    fn a_design_that_is_dearer_and_no_better_is_dominated() {
        let (cheap, dear) = (goodness(&criteria(300, 200)), goodness(&criteria(300, 260)));
        assert!(dominates(&cheap, &dear));
        assert!(!dominates(&dear, &cheap));
        assert!(!dominates(&cheap, &cheap));
        assert!(!dominates(&cheap, &goodness(&criteria(310, 260))));
    }
}
