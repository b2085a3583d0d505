//! Where a comparison would flip: the weight or the price at which another choice becomes the best.
//!
//! A design's points, as a function of one weight or of the price of one stock, lie on a straight line; the points of a
//! choice are the upper envelope of the lines of its designs. The winner loses where its envelope first meets the
//! challenger's. Both choices are then explored anew a hair before and beyond that weight or price: designs that are
//! better there join the envelopes, until the crossing stays where it is.

use super::rank::Scale;
use crate::design::{Design, PurchaseOf};
use crate::scenario::{Criterion, MaterialId, Scenario};
use crate::units::Money;

/// What is turned until the winner changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turning {
    /// The weight of a criterion.
    Weight(Criterion),
    /// The price of a stock in every length or size, as a multiple of today's.
    Price(MaterialId),
}

/// The point at which a challenger becomes as good as the winner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flip {
    /// Which choice becomes as good.
    pub challenger: usize,
    /// What is turned.
    pub turning: Turning,
    /// Where it stands today: the weight, or 1.
    pub now: f64,
    /// Where both are as good.
    pub at: f64,
    /// Whether exploring both choices a hair before and beyond that point brought no design that moves it.
    pub settled: bool,
}

impl Flip {
    /// How far off it is, for comparing different weights: the ratio's logarithm, softened near 0.
    pub(super) fn step(&self) -> f64 {
        const SOFT: f64 = 0.1;
        libm::log((self.at + SOFT) / (self.now + SOFT)).abs()
    }
}

/// Points as a function of what is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Line {
    at_0: f64,
    slope: f64,
}

impl Line {
    fn at(&self, x: f64) -> f64 {
        self.at_0 + self.slope * x
    }

    fn crossing(&self, other: &Self) -> Option<f64> {
        let x = (other.at_0 - self.at_0) / (self.slope - other.slope);
        x.is_finite().then_some(x)
    }
}

fn envelope(lines: &[Line], x: f64) -> f64 {
    lines.iter().map(|line| line.at(x)).fold(f64::NEG_INFINITY, f64::max)
}

/// Points that count as equal, of about a hundred times the weights.
const EQUAL: f64 = 1e-9;

/// The x nearest to `now`, not negative, at which the challenger's envelope reaches the winner's.
///
/// Where the envelopes meet, a line of each crosses, so that it is enough to look at every crossing: O(n·m·(n + m)).
fn nearest_meeting(winner: &[Line], challenger: &[Line], now: f64) -> Option<f64> {
    let crossings = winner.iter().flat_map(|a| challenger.iter().filter_map(|b| a.crossing(b)));
    crossings
        .filter(|x| *x >= 0.0 && envelope(challenger, *x) >= envelope(winner, *x) - EQUAL)
        .min_by(|a, b| (a - now).abs().total_cmp(&(b - now).abs()))
}

/// How often both choices are explored anew at a crossing that moves.
const ROUNDS: usize = 4;
/// How far before and beyond a crossing they are explored, as a share of the way from today.
const HAIR: f64 = 0.01;

fn join(pool: &mut Vec<Design>, found: Vec<Design>) {
    for design in found {
        // One design may be cut in several ways, which cost and waste differently.
        let known = |other: &Design| other.id == design.id && other.cutting == design.cutting;
        if !pool.iter().any(known) {
            pool.push(design);
        }
    }
}

/// The winner of a comparison against the others.
pub(super) struct Contest<'a> {
    pub scenario: &'a Scenario,
    pub scale: &'a Scale,
    pub winner: usize,
}

impl Contest<'_> {
    /// The flip among the designs known.
    pub fn flip(&self, pools: &[Vec<Design>], challenger: usize, turning: Turning) -> Option<Flip> {
        let now = match turning {
            Turning::Weight(criterion) => self.scenario.aims.weight(criterion),
            Turning::Price(_) => 1.0,
        };
        let lines = |choice: usize| -> Vec<Line> {
            pools[choice].iter().map(|design| self.line(design, turning)).collect()
        };
        let at = nearest_meeting(&lines(self.winner), &lines(challenger), now)?;
        Some(Flip { challenger, turning, now, at, settled: false })
    }

    /// The flip after both choices were explored anew a hair before and beyond where it lies.
    pub fn settle(
        &self,
        pools: &mut [Vec<Design>],
        challenger: usize,
        turning: Turning,
        again: &dyn Fn(usize, &Scenario) -> Vec<Design>,
    ) -> Option<Flip> {
        let mut flip = self.flip(pools, challenger, turning)?;
        'rounds: for _ in 0..ROUNDS {
            for side in [-HAIR, HAIR] {
                let there = self.turned(turning, flip.at + side * (flip.at - flip.now));
                for choice in [self.winner, challenger] {
                    join(&mut pools[choice], again(choice, &there));
                }
                let moved = self.flip(pools, challenger, turning)?;
                if (moved.at - flip.at).abs() > EQUAL * flip.at.abs().max(1.0) {
                    flip = moved;
                    continue 'rounds;
                }
            }
            return Some(Flip { settled: true, ..flip });
        }
        Some(flip)
    }

    /// The scenario with the weight or the prices there.
    fn turned(&self, turning: Turning, at: f64) -> Scenario {
        let mut scenario = self.scenario.clone();
        match turning {
            Turning::Weight(criterion) => scenario.aims.weights[criterion as usize] = at,
            Turning::Price(stock) => {
                for id in scenario.stock.items.ids() {
                    if scenario.stock.items[id].material == stock {
                        let parts = scenario.stock.items[id].price.parts() as f64 * at;
                        scenario.stock.items[id].price = Money::from_parts(parts.round() as i64);
                    }
                }
            }
        }
        scenario
    }

    /// A design's points, times the sum of the weights over a hundred.
    fn line(&self, design: &Design, turning: Turning) -> Line {
        let share = |each: Criterion| match each {
            Criterion::Cost => self.scale.cost_share(self.cost(design)),
            _ => self.scale.share(&design.criteria, each),
        };
        let weighted = |each: &Criterion| self.scenario.aims.weight(*each) * share(*each);
        let all = Criterion::ALL.iter();
        match turning {
            Turning::Weight(turned) => Line {
                at_0: all.filter(|each| **each != turned).map(weighted).sum(),
                slope: share(turned),
            },
            Turning::Price(stock) => {
                let spent = self.spent(design, |item| item == stock);
                let slope = self.scale.cost_share(spent) - self.scale.cost_share(0.0);
                let slope = slope * self.scenario.aims.weight(Criterion::Cost);
                Line { at_0: all.map(weighted).sum::<f64>() - slope, slope }
            }
        }
    }

    /// What a design's purchases cost at the scenario's own prices, whatever they were when it was found.
    fn cost(&self, design: &Design) -> f64 {
        self.spent(design, |_| true) + self.fittings(design)
    }

    fn spent(&self, design: &Design, of: impl Fn(MaterialId) -> bool) -> f64 {
        let bought = design.purchases.iter().filter_map(|line| match line.what {
            PurchaseOf::Stock(id) => {
                let item = &self.scenario.stock.items[id];
                let price = item.price.to_units();
                of(item.material).then(|| f64::from(line.quantity - line.on_hand) * price)
            }
            PurchaseOf::Hardware(_) => None,
        });
        bought.sum()
    }

    fn fittings(&self, design: &Design) -> f64 {
        let lines = design.purchases.iter();
        let hardware = lines.filter(|line| matches!(line.what, PurchaseOf::Hardware(_)));
        hardware.map(|line| line.cost.to_units()).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(at_0: f64, slope: f64) -> Line {
        Line { at_0, slope }
    }

    #[test]
    fn two_lines_meet_where_arithmetic_says() {
        // 5 + x against 3 + 2x meet at 2.
        assert_eq!(nearest_meeting(&[line(5.0, 1.0)], &[line(3.0, 2.0)], 0.5), Some(2.0));
        // Parallel lines never do.
        assert_eq!(nearest_meeting(&[line(5.0, 1.0)], &[line(3.0, 1.0)], 0.5), None);
        // Nor where it would take a negative weight.
        assert_eq!(nearest_meeting(&[line(5.0, 2.0)], &[line(3.0, 1.0)], 0.5), None);
    }

    #[test]
    fn a_second_design_of_the_winner_holds_the_challenger_off() {
        let winner = [line(5.0, 1.0), line(2.5, 2.0)];
        // Alone the first would be caught up at x = 2.5 by 2 + 2.2x; the second is ahead there until 2.5 = 0.2x.
        let challenger = [line(2.0, 2.2)];
        let alone = nearest_meeting(&winner[..1], &challenger, 0.0).expect("they meet");
        assert!((alone - 2.5).abs() < 1e-12);
        let both = nearest_meeting(&winner, &challenger, 0.0).expect("they meet");
        // At 2.5 the winner's envelope is max(7.5, 7.5); the challenger's is 7.5: they touch there already.
        assert!((both - 2.5).abs() < 1e-12);
        let later = nearest_meeting(&[line(5.0, 1.0), line(2.6, 2.0)], &challenger, 0.0);
        assert!(later.expect("they meet") > 2.5 + 0.4);
    }

    #[test]
    fn the_nearest_of_several_meetings_is_taken_on_either_side() {
        let challenger = [line(4.0, 0.0), line(-10.0, 5.0)];
        // 2 + x is caught from above for x under 2, and from x = 3 on.
        assert_eq!(nearest_meeting(&[line(2.0, 1.0)], &challenger, 2.9), Some(3.0));
        assert_eq!(nearest_meeting(&[line(2.0, 1.0)], &challenger, 2.1), Some(2.0));
    }
}
