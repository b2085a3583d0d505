//! Lanes moved and exchanged between tiers, so that no drawer is heavier than it should be.
//!
//! The engine fills a hall for the worth of what is in it and knows nothing of weights. Where what it put into one tier cannot
//! be shared out to that tier's drawers without one of them being too heavy, a lane goes to another tier in which the same
//! block of copies stands just so, alone or against one or two lanes of that tier. What lessens the excess most is done first;
//! of equals, what brings weight lower. Worth and dividers stay as they are.

use super::pose::Posed;
use crate::scenario::Scenario;
use crate::solve::lanes::{Cell, Lane, Limits, Loads, Spot, share_out};
use crate::units::Mass;

/// Moves and exchanges at most.
const ROUNDS: usize = 8;
/// Exchanges looked into for each of them, the most promising first.
const LOOKED_INTO: usize = 12;

/// Lanes that go from one hall to another, and those that come back, as indices.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Exchange {
    from: usize,
    lane: usize,
    to: usize,
    back: Vec<usize>,
}

/// How far lanes are from what is wanted: excess weight, then Σ mass × tier; less is better.
type Standing = (i64, i128);

impl Posed<'_> {
    /// What a drawer of a hall should hold at most; nothing is said of pockets.
    pub(super) fn most(&self, hall: usize, most: &[Mass]) -> Option<Mass> {
        self.stretches.get(hall).and_then(|stretch| most.get(stretch.tier)).copied()
    }

    /// What a hall's columns must keep to.
    pub(super) fn limits(&self, hall: usize) -> Limits {
        let space = &self.problem.halls[hall];
        Limits {
            divider: space.divider,
            columns: space.columns as usize,
            width: space.width,
            least: space.least_column,
            most: space.most_column.unwrap_or(space.width),
        }
    }

    /// The lanes of each hall with drawers' excess weight gone as far as exchanges between tiers can do that.
    pub(super) fn lightened(
        &self,
        scenario: &Scenario,
        mut halls: Vec<Vec<Lane>>,
        most: &[Mass],
    ) -> Vec<Vec<Lane>> {
        let drawers = self.stretches.len();
        if most.is_empty() || drawers < 2 {
            return halls;
        }
        for _ in 0..ROUNDS {
            match self.lighter(scenario, &halls, most) {
                Some(after) => halls = after,
                None => break,
            }
        }
        halls
    }

    /// The halls after the exchange that lessens the excess most, of equals the one that brings weight lowest; `None` if there is
    /// no excess or nothing lessens it.
    fn lighter(
        &self,
        scenario: &Scenario,
        halls: &[Vec<Lane>],
        most: &[Mass],
    ) -> Option<Vec<Vec<Lane>>> {
        let weight = |hall: usize| self.weights(scenario, hall, &halls[hall]).iter().sum::<i64>();
        let light = |hall: usize| {
            self.most(hall, most).is_none_or(|most| weight(hall) <= most.micrograms())
        };
        // What one drawer could hold is too heavy in none, however it is shared out.
        if (0..self.stretches.len()).all(light) {
            return None;
        }
        let excess: Vec<Option<i64>> = (0..self.stretches.len())
            .map(|hall| self.excess(scenario, hall, &halls[hall], most))
            .collect();
        let sum = |excess: &[Option<i64>]| -> i64 { excess.iter().flatten().sum() };
        let mut best: (Standing, Option<Vec<Vec<Lane>>>) = ((sum(&excess), i128::MIN), None);
        let promising = self.promising(scenario, halls, &excess, most);
        let fitting = promising.iter().filter(|(_, exchange)| self.has_room(halls, exchange));
        let after =
            fitting.filter_map(|(least, one)| Some((least, one, self.exchanged(halls, one)?)));
        for (least, exchange, after) in after.take(LOOKED_INTO) {
            // None of the rest can leave less.
            if best.0.0 < *least {
                break;
            }
            let mut then = excess.clone();
            for hall in [exchange.from, exchange.to] {
                then[hall] = self.excess(scenario, hall, &after[hall], most);
            }
            let sound = then[exchange.from].is_some() && then[exchange.to].is_some();
            let found = (sum(&then), self.height(scenario, &after));
            if sound && found < best.0 {
                best = (found, Some(after));
            }
        }
        best.1
    }

    /// By how much the drawers of a hall are too heavy together once its lanes are shared out as well as they can be, in
    /// micrograms; `None` if they have no room.
    fn excess(
        &self,
        scenario: &Scenario,
        hall: usize,
        lanes: &[Lane],
        most: &[Mass],
    ) -> Option<i64> {
        let limits = self.limits(hall);
        let most = self.most(hall, most)?.micrograms();
        let weights = self.weights(scenario, hall, lanes);
        let widths: Vec<i64> = lanes.iter().map(|lane| lane.width).collect();
        let held: Vec<Option<u32>> = lanes.iter().map(|lane| self.column(hall, lane)).collect();
        let loads = Loads { lanes: &weights, most };
        let column_of = share_out(&widths, &held, &limits, Some(loads), &|_, _| 0)?;
        let mut carried = vec![0i64; limits.columns];
        for (weight, column) in weights.iter().zip(column_of) {
            carried[column] = carried[column].saturating_add(*weight);
        }
        Some(carried.into_iter().map(|load| (load - most).max(0)).sum())
    }

    fn weights(&self, scenario: &Scenario, hall: usize, lanes: &[Lane]) -> Vec<i64> {
        lanes.iter().map(|lane| self.mass(scenario, hall, lane).micrograms()).collect()
    }

    /// Σ mass × tier: less is lower.
    fn height(&self, scenario: &Scenario, halls: &[Vec<Lane>]) -> i128 {
        let of = |(hall, lanes): (usize, &Vec<Lane>)| -> i128 {
            let weight: i64 = self.weights(scenario, hall, lanes).iter().sum();
            i128::from(weight) * self.stretches[hall].tier as i128
        };
        halls.iter().take(self.stretches.len()).enumerate().map(of).sum()
    }

    /// Exchanges by which something heavier leaves a hall in excess than comes back, each with the least excess of all that it may
    /// leave; the least first.
    fn promising(
        &self,
        scenario: &Scenario,
        halls: &[Vec<Lane>],
        excess: &[Option<i64>],
        most: &[Mass],
    ) -> Vec<(i64, Exchange)> {
        let weights: Vec<Vec<i64>> = (0..self.stretches.len())
            .map(|hall| self.weights(scenario, hall, &halls[hall]))
            .collect();
        // What all drawers of a hall together hold too much, whatever is shared out how.
        let beyond = |hall: usize, change: i64| {
            let columns = i64::from(self.problem.halls[hall].columns);
            let most = self.most(hall, most).map_or(i64::MAX, Mass::micrograms);
            (weights[hall].iter().sum::<i64>() + change - most.saturating_mul(columns)).max(0)
        };
        let sum: i64 = excess.iter().flatten().sum();
        let mut found = Vec::new();
        for from in (0..excess.len()).filter(|hall| excess[*hall] > Some(0)) {
            for to in (0..excess.len()).filter(|to| *to != from) {
                for (lane, weight) in weights[from].iter().enumerate() {
                    for back in handfuls(weights[to].len()) {
                        let gone = weight - back.iter().map(|at| weights[to][*at]).sum::<i64>();
                        if gone > 0 {
                            let others = [from, to]
                                .into_iter()
                                .fold(sum, |sum, hall| sum - excess[hall].unwrap_or(0));
                            let left = others + beyond(from, -gone) + beyond(to, gone);
                            if left < sum {
                                found.push((left, -gone, Exchange { from, lane, to, back }));
                            }
                        }
                    }
                }
            }
        }
        found.sort_unstable();
        found.into_iter().map(|(left, _, exchange)| (left, exchange)).collect()
    }

    /// Whether both halls are wide enough after an exchange, columns aside.
    fn has_room(&self, halls: &[Vec<Lane>], exchange: &Exchange) -> bool {
        let Exchange { from, lane, to, back } = exchange;
        let fits = |hall: usize, change: i64, more: i64| {
            let Limits { divider, columns, width, .. } = self.limits(hall);
            let grown: i64 = halls[hall].iter().map(|lane| lane.width + divider).sum();
            grown + change + more * divider <= width + columns as i64 * divider
        };
        let goes = halls[*from][*lane].width;
        let comes: i64 = back.iter().map(|at| halls[*to][*at].width).sum();
        let more = back.len() as i64 - 1;
        fits(*from, comes - goes, more) && fits(*to, goes - comes, -more)
    }

    /// The halls after an exchange; `None` if a block of one has no like in the other.
    fn exchanged(&self, halls: &[Vec<Lane>], exchange: &Exchange) -> Option<Vec<Vec<Lane>>> {
        let Exchange { from, lane, to, back } = exchange;
        let goes = self.carried(*from, *to, &halls[*from][*lane])?;
        let comes = back
            .iter()
            .map(|at| self.carried(*to, *from, &halls[*to][*at]))
            .collect::<Option<Vec<Lane>>>()?;
        let mut after = halls.to_vec();
        after[*from].remove(*lane);
        after[*from].extend(comes);
        let mut index = 0;
        after[*to].retain(|_| {
            index += 1;
            !back.contains(&(index - 1))
        });
        after[*to].push(goes);
        Some(after)
    }

    /// A lane as it stands in another hall: every cell's block is posed there too and none is held to a place.
    fn carried(&self, from: usize, to: usize, lane: &Lane) -> Option<Lane> {
        let divider = self.problem.halls[to].divider;
        let long: i64 = lane.bays.iter().map(|bay| bay.length + divider).sum();
        if long - divider > self.problem.halls[to].length {
            return None;
        }
        let mut carried = lane.clone();
        for cell in carried.bays.iter_mut().flat_map(|bay| &mut bay.cells) {
            *cell = Cell { shape: self.alike(from, cell.shape, to)?, ..*cell };
        }
        Some(carried)
    }

    /// The shape of another hall that is the same block of the same thing.
    fn alike(&self, from: usize, shape: usize, to: usize) -> Option<usize> {
        let wanted = &self.problem.halls[from].shapes[shape];
        if wanted.spot != Spot::default() {
            return None;
        }
        let shapes = self.problem.halls[to].shapes.iter().zip(&self.blocks[to]);
        let block = &self.blocks[from][shape];
        shapes
            .enumerate()
            .find(|(_, (shape, other))| *shape == wanted && *other == block)
            .map(|(at, _)| at)
    }
}

/// None, each one and each two of so many.
fn handfuls(count: usize) -> Vec<Vec<usize>> {
    let ones = (0..count).map(|one| vec![one]);
    let twos = (0..count).flat_map(|one| (one + 1..count).map(move |other| vec![one, other]));
    [Vec::new()].into_iter().chain(ones).chain(twos).collect()
}
