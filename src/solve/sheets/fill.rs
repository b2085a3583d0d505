//! Plans sheet by sheet, for jobs of many: each is filled as well as can be from all parts that are left.
//!
//! Insertion spreads the parts over all sheets and leaves a little of each; with many parts to choose from a single sheet can
//! be filled nearly whole: where something was taken out, each gap gets the part of nearly its sides that leaves least of it.
//! What is filled late has to do with what is left, so parts count for more than their area the
//! larger they are for the sheet, and go early. (Sequential value correction has the same aim: Belov & Scheithauer,
//! "Setup and open-stacks minimization in one-dimensional stock cutting", INFORMS J. Comput. 19, 2007; from memory, with
//! values that are set beforehand.)

use super::gaps::Index;
use super::insert::{FITS, Insertion, ORDERS};
use super::rng::Rng;
use super::space::{Space, State};
use super::tree::{Bin, Scratch};
use crate::solve::budget::Budget;

/// Rounds of ruin and recreate on one sheet, at most.
const ROUNDS: usize = 40_000;
/// Work of a round besides the places looked at.
const PER_ROUND: u64 = 200;
/// How often in a thousand times parts are taken from a list, and not for the gap that they fit best.
const BY_LIST: usize = 100;
/// Parts of the list that are tried after one that fits nowhere.
const MISSES: usize = 60;
/// Rounds without a better one after which it is given up to pack just so many parts on a sheet.
const PATIENCE: usize = 400;

/// What a sheet is filled from.
#[derive(Clone, Copy)]
pub(super) struct Pool<'p> {
    /// How many parts of each kind are left.
    pub left: &'p [u32],
    /// What a part of each kind counts for.
    pub worth: &'p [i64],
    /// The kinds of which some are left, in each order.
    pub lists: &'p [Vec<u32>],
}

impl Space<'_> {
    /// All parts on sheets filled one after the other; what a limit on sheets leaves over is left out, and so is what the
    /// budget does not suffice for. `worth` is by kind. A sheet is given up after so many rounds without a better one as
    /// `patience` says, or when its share of the budget is spent.
    pub(super) fn filled(
        &self,
        worth: &[i64],
        patience: usize,
        rng: &mut Rng,
        budget: &mut Budget,
    ) -> State {
        let mut left: Vec<u32> = self.job.kinds.iter().map(|kind| kind.count).collect();
        let mut state = State { bins: Vec::new(), out: Vec::new(), cost: 0 };
        let kinds: Vec<u32> = (0..left.len() as u32).collect();
        let orders: Vec<Vec<u32>> = (0..ORDERS)
            .map(|order| {
                let mut sorted = kinds.clone();
                self.sort(&mut sorted, order);
                sorted
            })
            .collect();
        let largest = self.areas.iter().max().copied().unwrap_or(1);
        while left.iter().any(|n| *n > 0) && budget.stopped().is_none() {
            let mut best: Option<(i128, Bin)> = None;
            let there = |list: &Vec<u32>| {
                list.iter().copied().filter(|kind| left[*kind as usize] > 0).collect()
            };
            let lists: Vec<Vec<u32>> = orders.iter().map(there).collect();
            let area: i64 =
                self.shapes.iter().zip(&left).map(|(shape, n)| shape.area * i64::from(*n)).sum();
            let sheets = (area / largest + 2) as u64 * self.job.sheets.len() as u64;
            for sheet in 0..self.job.sheets.len() {
                let open = state.bins.iter().filter(|bin| bin.sheet == sheet).count();
                if open >= self.job.sheets[sheet].limit as usize {
                    continue;
                }
                let mut share = budget.share(budget.left() / sheets);
                let pool = Pool { left: &left, worth, lists: &lists };
                let bin = self.fill_from(self.empty(sheet), pool, patience, rng, &mut share);
                budget.spend(share.spent());
                let got: i64 = bin.kinds().iter().map(|kind| worth[*kind as usize]).sum();
                let rate = i128::from(got) * (1 << 60) / self.costs[sheet];
                if got > 0 && best.as_ref().is_none_or(|(before, _)| rate > *before) {
                    best = Some((rate, bin));
                }
            }
            let Some((_, bin)) = best else { break };
            bin.kinds().iter().for_each(|kind| left[*kind as usize] -= 1);
            state.bins.push(bin);
        }
        for (kind, n) in left.iter().enumerate() {
            state.out.extend(std::iter::repeat_n(kind as u32, *n as usize));
        }
        state.cost = self.cost(&state);
        state
    }

    /// The kinds of which some are in a pool, in each order.
    pub(super) fn lists(&self, left: &[u32]) -> Vec<Vec<u32>> {
        let there: Vec<u32> = (0..left.len() as u32).filter(|k| left[*k as usize] > 0).collect();
        let sorted = |order| {
            let mut sorted = there.clone();
            self.sort(&mut sorted, order);
            sorted
        };
        (0..ORDERS).map(sorted).collect()
    }

    /// A sheet that yields parts of just these kinds, in ascending order, if one is found in some thousand rounds.
    pub(super) fn packed(
        &self,
        sheet: usize,
        kinds: &[u32],
        rng: &mut Rng,
        budget: &mut Budget,
    ) -> Option<Bin> {
        if self.area_of(kinds) > self.areas[sheet] {
            return None;
        }
        let mut left = vec![0; self.shapes.len()];
        kinds.iter().for_each(|kind| left[*kind as usize] += 1);
        let lists = self.lists(&left);
        let worth = self.worths(0, None);
        let pool = Pool { left: &left, worth: &worth, lists: &lists };
        let bin = self.fill_from(self.empty(sheet), pool, PATIENCE, rng, budget);
        let mut found = bin.kinds();
        found.sort_unstable();
        (found == kinds).then_some(bin)
    }

    /// What a part of each kind counts for: its area, or its value if there are `values` of which a sheet holds no more than
    /// [`super::space::SHEET`], and more the larger it is for the largest sheet. `lean` says how much more, in quarters.
    pub(super) fn worths(&self, lean: i64, values: Option<&[i64]>) -> Vec<i64> {
        let longest = self.job.sheets.iter().flat_map(|s| s.size).max().unwrap_or(1).max(1);
        let worth = |(i, kind): (usize, &super::job::Kind)| {
            let value = values.map_or_else(|| self.share(self.shapes[i].area), |values| values[i]);
            let share = i128::from(kind.size[0].max(kind.size[1])) * 64 / i128::from(longest);
            let more = value * lean * share as i64 / 256;
            value + more / 8 + 1
        };
        self.job.kinds.iter().enumerate().map(worth).collect()
    }

    /// One sheet with the most worth found of what is left, from one that holds some of it already.
    pub(super) fn fill_from(
        &self,
        from: Bin,
        pool: Pool,
        patience: usize,
        rng: &mut Rng,
        budget: &mut Budget,
    ) -> Bin {
        let Pool { left, worth, lists } = pool;
        let total = |bin: &Bin| {
            let parts = bin.nodes.iter().filter(|node| node.is_leaf());
            parts.map(|node| worth[node.kind as usize]).sum::<i64>()
        };
        let most = self.most_worth(from.sheet, left, worth);
        let index = Index::new(self, left);
        let mut left = left.to_vec();
        from.kinds().iter().for_each(|kind| left[*kind as usize] -= 1);
        let (mut now, mut since) = (total(&from), 0);
        let mut top = now;
        let (mut cur, mut best) = (from.clone(), from.clone());
        cur.freshen();
        let mut state = State { bins: vec![from], out: Vec::new(), cost: 0 };
        // Nothing else of the pool changes.
        let kinds = &lists[0];
        let mut before: Vec<u32> = Vec::with_capacity(kinds.len());
        let mut scratch = Scratch::default();
        for round in 0..ROUNDS {
            if top >= most || since >= patience || budget.stopped().is_some() {
                break;
            }
            before.clear();
            before.extend(kinds.iter().map(|kind| left[*kind as usize]));
            let bin = &mut state.bins[0];
            self.take_some(bin, &mut left, rng, &mut scratch);
            let mut looks = PER_ROUND;
            if !rng.chance(BY_LIST) {
                looks += self.fill_gaps(&mut state.bins[0], &index, &mut left, rng);
            }
            if state.bins[0].nodes.is_empty() || rng.chance(BY_LIST) {
                let pool = &lists[rng.below(ORDERS)];
                let from = if round > 0 { rng.below(1 + pool.len() / 3) } else { 0 };
                looks += self.fill_up(&mut state, pool, from, &mut left, rng);
            }
            budget.spend(looks);
            let is = total(&state.bins[0]);
            if is > top {
                (top, since) = (is, 0);
                best.copy_from(&state.bins[0]);
            } else {
                since += 1;
            }
            // A little worse will do now and then.
            state.bins[0].freshen();
            if is >= now - now / 400 {
                now = is;
                cur.copy_from(&state.bins[0]);
            } else {
                state.bins[0].copy_from(&cur);
                kinds.iter().zip(&before).for_each(|(kind, n)| left[*kind as usize] = *n);
            }
        }
        best
    }

    /// Takes one or two subtrees out of a sheet.
    pub(super) fn take_some(
        &self,
        bin: &mut Bin,
        left: &mut [u32],
        rng: &mut Rng,
        scratch: &mut Scratch,
    ) {
        if bin.nodes.is_empty() {
            return;
        }
        let mut gone = vec![false; bin.nodes.len()];
        for _ in 0..=rng.below(2) {
            mark(bin, rng.below(bin.nodes.len()), &mut gone);
        }
        for (node, _) in bin.nodes.iter().zip(&gone).filter(|(n, g)| **g && n.is_leaf()) {
            bin.used -= self.shapes[node.kind as usize].area;
            left[node.kind as usize] += 1;
        }
        bin.remove(&gone, scratch);
    }

    /// Puts parts of the list, from a place on and round its end, where they fit; how many places were looked at.
    fn fill_up(
        &self,
        state: &mut State,
        pool: &[u32],
        from: usize,
        left: &mut [u32],
        rng: &mut Rng,
    ) -> u64 {
        let how = Insertion { limit: 0, fit: FITS[rng.below(FITS.len())], blink: 10, within: &[0] };
        let mut looks = 0;
        let mut misses = 0;
        for kind in pool[from..].iter().chain(&pool[..from]).copied() {
            while left[kind as usize] > 0 && misses < MISSES {
                let (place, seen) = self.best_place(&mut state.bins, kind, &how, 1, rng);
                looks += seen;
                let Some((_, place, way)) = place else {
                    misses += usize::from(seen > 2);
                    break;
                };
                let bin = &mut state.bins[0];
                bin.insert(self.lying(kind, way), self.shapes[kind as usize].area, place);
                looks += bin.nodes.len() as u64;
                left[kind as usize] -= 1;
            }
        }
        looks
    }

    /// No set of what is left is worth more on a sheet, by area.
    fn most_worth(&self, sheet: usize, left: &[u32], worth: &[i64]) -> i64 {
        let mut order: Vec<usize> = (0..left.len()).filter(|k| left[*k] > 0).collect();
        let area = |k: usize| self.shapes[k].area;
        order.sort_by(|a, b| {
            let rate = |x: usize, y: usize| i128::from(worth[x]) * i128::from(area(y));
            rate(*b, *a).cmp(&rate(*a, *b)).then(a.cmp(b))
        });
        let mut room = self.empty(sheet).area;
        let mut sum = 0;
        for k in order {
            let n = i64::from(left[k]).min(room / area(k));
            sum += n * worth[k];
            room -= n * area(k);
            if n < i64::from(left[k]) {
                return sum + worth[k] * room / area(k);
            }
        }
        sum
    }
}

/// Marks a node and all below it.
pub(super) fn mark(bin: &Bin, root: usize, gone: &mut [bool]) {
    gone[root] = true;
    for (i, node) in bin.nodes.iter().enumerate().skip(root + 1) {
        gone[i] |= gone[node.parent as usize];
    }
}
