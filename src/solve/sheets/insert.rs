//! Parts one by one to where they fit best.

use super::rng::Rng;
use super::space::{SCALE, Shape, Space, State};
use super::tree::{Bin, Lying, Place};
use crate::solve::budget::{Budget, Stop};

/// Parts between two looks at whether to stop.
const AT_ONCE: usize = 64;
/// The sheets that are looked at in a hurry.
const LAST: usize = 4;

/// How often in a thousand times a sheet is opened without regard to its price for its size.
const ANY_SHEET: usize = 150;

/// How places are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fit {
    /// Least left over on the shorter side.
    ShortSide,
    /// Least waste beside the neighbour.
    Mismatch,
    /// Smallest free rectangle.
    Area,
}

pub(super) const FITS: [Fit; 3] = [Fit::ShortSide, Fit::Mismatch, Fit::Area];

/// The orders in which [`Space::sort`] puts parts.
pub(super) const ORDERS: usize = 6;

/// How a list of parts is inserted.
pub(super) struct Insertion<'w> {
    /// Sheets are opened while their cost stays within this.
    pub limit: i128,
    pub fit: Fit,
    /// Places overlooked in a thousand; with any, choices between sheets are drawn too.
    pub blink: usize,
    /// The sheets in use that are looked at; empty for all.
    pub within: &'w [usize],
}

impl Space<'_> {
    /// All parts in one pass, opening sheets as needed. When a clock or a flag says stop, parts are left out from there on,
    /// or, where a plan is wanted at `any_rate`, put on the last sheets without looking at the others.
    pub(super) fn construct(
        &self,
        order: usize,
        fit: Fit,
        any_rate: bool,
        budget: &mut Budget,
    ) -> State {
        let mut state = State { bins: Vec::new(), out: Vec::new(), cost: 0 };
        let mut list: Vec<u32> = Vec::with_capacity(self.job.items);
        for (kind, shape) in self.shapes.iter().enumerate() {
            list.extend(std::iter::repeat_n(kind as u32, shape.count as usize));
        }
        self.sort(&mut list, order);
        let (mut touched, mut rng) = (Vec::new(), Rng::new(0));
        for some in list.chunks(AT_ONCE) {
            let hurried = matches!(budget.stopped(), Some(Stop::Clock | Stop::Cancelled));
            if hurried && !any_rate {
                state.out.extend(some);
                continue;
            }
            let bins = state.bins.len();
            let last: Vec<usize> = (bins.saturating_sub(LAST)..bins).collect();
            let within = if hurried { &last[..] } else { &[] };
            let how = Insertion { limit: i128::MAX, fit, blink: 0, within };
            budget.spend(self.insert_all(&mut state, some, &how, &mut rng, &mut touched));
        }
        state
    }

    /// Puts kinds in one of [`ORDERS`] orders, the large ones first.
    pub(super) fn sort(&self, list: &mut [u32], order: usize) {
        let side = |kind: u32, d: usize| self.shapes[kind as usize].ways[0][d];
        match order {
            0 => list.sort(),
            1 => list.sort_by_key(|k| std::cmp::Reverse((side(*k, 0), side(*k, 1)))),
            2 => list.sort_by_key(|k| std::cmp::Reverse((side(*k, 1), side(*k, 0)))),
            3 => list.sort_by_key(|k| std::cmp::Reverse(side(*k, 0).max(side(*k, 1)))),
            4 => list.sort_by_key(|k| std::cmp::Reverse(side(*k, 0) + side(*k, 1))),
            _ => list.sort_by_key(|k| std::cmp::Reverse(side(*k, 0).min(side(*k, 1)))),
        }
    }

    /// Inserts the kinds of `list` one by one where they fit best; what fits nowhere opens a
    /// sheet, or is left out. Notes the sheets that changed and returns the places looked at.
    pub(super) fn insert_all(
        &self,
        state: &mut State,
        list: &[u32],
        how: &Insertion,
        rng: &mut Rng,
        touched: &mut Vec<usize>,
    ) -> u64 {
        let mut looks = 0;
        let mut failed = u32::MAX;
        let opened = state.bins.len();
        for &kind in list {
            if kind == failed {
                state.out.push(kind);
                continue;
            }
            let (best, seen) = self.best_place(&mut state.bins, kind, how, opened, rng);
            looks += seen;
            let area = self.shapes[kind as usize].area;
            if let Some((b, place, way)) = best {
                touched.push(b);
                state.bins[b].insert(self.lying(kind, way), area, place);
                looks += state.bins[b].nodes.len() as u64;
            } else if let Some((sheet, way)) = self.new_sheet(state, kind, how, rng) {
                touched.push(state.bins.len());
                let mut bin = self.empty(sheet);
                bin.insert(self.lying(kind, way), area, Place::Alone);
                state.bins.push(bin);
                state.cost += self.costs[sheet];
            } else {
                failed = kind;
                state.out.push(kind);
            }
        }
        looks
    }

    /// Where a part fits best in the sheets in use, and how many places were looked at. Those from `opened` on are looked at
    /// in any case.
    #[allow(clippy::type_complexity)]
    pub(super) fn best_place(
        &self,
        bins: &mut [Bin],
        kind: u32,
        how: &Insertion,
        opened: usize,
        rng: &mut Rng,
    ) -> (Option<(usize, Place, usize)>, u64) {
        let shape = &self.shapes[kind as usize];
        let (mut best, mut looks) = (None, 1);
        let mut least = i64::MAX;
        let old = if how.within.is_empty() { opened } else { how.within.len() };
        let places = (0..old).map(|place| how.within.get(place).copied().unwrap_or(place));
        for b in places.chain(opened..bins.len()) {
            let bin = &mut bins[b];
            if bin.area - bin.used < shape.area {
                continue;
            }
            bin.freshen();
            looks += 1 + bin.free.len() as u64;
            for (which, &way) in shape.ways.iter().enumerate() {
                bin.places(way, |place, axis, free, need| {
                    let score = self.score(how.fit, way, axis, free, need);
                    if score < least
                        && bin.takes(place, shape.touch[which])
                        && !(how.blink > 0 && rng.chance(how.blink))
                    {
                        least = score;
                        best = Some((b, place, which));
                    }
                });
            }
        }
        (best, looks)
    }

    /// A part as it lies in one of its ways.
    pub(super) fn lying(&self, kind: u32, way: usize) -> Lying {
        let shape = &self.shapes[kind as usize];
        Lying { kind, size: shape.ways[way], touch: shape.touch[way] }
    }

    /// How well a part of sides `way` fills a place; less is better.
    pub(super) fn score(
        &self,
        fit: Fit,
        way: [i64; 2],
        axis: usize,
        free: [i64; 2],
        need: [i64; 2],
    ) -> i64 {
        let along = free[axis] - way[axis];
        let across = free[1 - axis] - way[1 - axis];
        let small = |x: i64| x >> self.shift;
        match fit {
            Fit::ShortSide => small(along.min(across)) * (2 * SCALE) + small(along.max(across)),
            Fit::Area => small(free[0]) * small(free[1]),
            Fit::Mismatch => {
                let over = way[1 - axis] - need[1 - axis];
                let waste = if over > 0 {
                    small(need[axis]) * small(over)
                } else {
                    small(way[axis]) * small(-over)
                };
                waste.min(small(along) * small(way[1 - axis].max(need[1 - axis])))
            }
        }
    }

    /// A sheet to open for a part, and how the part lies on it.
    fn new_sheet(
        &self,
        state: &State,
        kind: u32,
        how: &Insertion,
        rng: &mut Rng,
    ) -> Option<(usize, usize)> {
        let mut best: Option<(i128, usize, usize)> = None;
        // Now and then any sheet will do, however dear for its size: others may leave no room for it.
        let any = how.blink > 0 && self.job.sheets.len() > 1 && rng.chance(ANY_SHEET);
        for (sheet, s) in self.job.sheets.iter().enumerate() {
            let open = state.bins.iter().filter(|b| b.sheet == sheet).count();
            if state.cost + self.costs[sheet] > how.limit || open >= s.limit as usize {
                continue;
            }
            let Shape { ways, touch, .. } = &self.shapes[kind as usize];
            let there = s.ends();
            let fits = |way: &usize| {
                (0..2).all(|d| ways[*way][d] <= s.size[d] && touch[*way][d] <= there[d])
            };
            let count = (0..ways.len()).filter(fits).count();
            let pick = if how.blink > 0 { rng.below(count) } else { 0 };
            let Some(way) = (0..ways.len()).filter(fits).nth(pick) else { continue };
            // Price per area, by which the first plans go; later ones try others too.
            let rate = self.costs[sheet] * (1 << 40) / i128::from(self.areas[sheet]);
            let noise = if how.blink > 0 { rng.below(1000) } else { 0 };
            let rate = if any { noise as i128 } else { rate * (1000 + noise as i128) };
            if best.is_none_or(|b| rate < b.0) {
                best = Some((rate, sheet, way));
            }
        }
        best.map(|(_, sheet, way)| (sheet, way))
    }
}
