//! Plans by insertion, improved by ruin and recreate towards ever cheaper goals.
//!
//! A state is a set of sheets in use, each a slicing tree, and the parts left out. The first
//! plans insert the parts in several orders, opening a sheet when nothing else holds a part. Then
//! the search sets itself a goal, one step cheaper than the best plan: it may only have sheets
//! worth less than that, leaves out what does not fit, and minimises the area left out by taking
//! parts out of a few sheets and inserting them again, accepting by late acceptance (Burke &
//! Bykov, Eur. J. Oper. Res. 258, 2017). When nothing is left out the goal is met, and the next
//! one is set. (After Gardeyn & Wauters, "A goal-driven ruin and recreate heuristic for the 2D
//! variable-sized bin packing problem with guillotine constraints", Eur. J. Oper. Res. 301, 2022;
//! from memory, with another tree and other moves.)

use super::job::Job;
use super::rng::Rng;
use super::tree::{Bin, Place};
use crate::solve::budget::Budget;

/// Scaled sides stay below this, so that scaled areas fit easily.
const SCALE: i64 = 1 << 20;

/// Length of the list of late acceptance.
const HISTORY: usize = 300;
/// Places overlooked in a thousand.
const BLINK: usize = 10;
/// Work of one round of ruin and recreate besides the places looked at.
const PER_STEP: u64 = 50;
/// At most about this many parts are taken out at once.
const RUIN: usize = 14;

/// How places are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fit {
    /// Least left over on the shorter side.
    ShortSide,
    /// Least waste beside the neighbour.
    Mismatch,
    /// Smallest free rectangle.
    Area,
}

const FITS: [Fit; 3] = [Fit::ShortSide, Fit::Mismatch, Fit::Area];

/// What the search needs to know of a kind.
struct Shape {
    /// Sides as they may lie.
    ways: Vec<[i64; 2]>,
    /// Scaled area.
    area: i64,
    count: u32,
}

struct Space<'a> {
    job: &'a Job,
    shapes: Vec<Shape>,
    /// Scaled areas of the sheets.
    areas: Vec<i64>,
    /// Price with the number of sheets as a tie-breaker.
    costs: Vec<i128>,
    shift: u32,
}

/// Sheets in use and kinds left out.
#[derive(Clone)]
struct State {
    bins: Vec<Bin>,
    out: Vec<u32>,
    out_area: i64,
    cost: i128,
}

/// The cheapest plan found; `None` if not all parts could be placed.
pub(super) fn search(job: &Job, bound: i64, budget: &mut Budget) -> Option<Vec<Bin>> {
    let space = Space::new(job);
    let mut best: Option<State> = None;
    for order in 0..6 {
        for fit in FITS {
            let state = space.construct(order, fit, budget);
            let key = |s: &State| (s.out_area, s.cost);
            if best.as_ref().is_none_or(|b| key(&state) < key(b)) {
                best = Some(state);
            }
        }
    }
    let mut best = best?;
    let mut rng = Rng::new(1);
    if !best.out.is_empty() {
        best = space.reach(&best, i128::MAX, &mut rng, budget)?;
    }
    while !space.is_proved(&best, bound) {
        let goal = best.cost - 1;
        match space.reach(&best, goal, &mut rng, budget) {
            Some(state) => best = state,
            None => break,
        }
    }
    Some(best.bins)
}

impl<'a> Space<'a> {
    fn new(job: &'a Job) -> Self {
        let longest = job.sheets.iter().flat_map(|s| s.size).max().unwrap_or(1);
        let mut shift = 0;
        while longest >> shift >= SCALE {
            shift += 1;
        }
        let area = |size: [i64; 2]| ((size[0] >> shift) * (size[1] >> shift)).max(1);
        let shapes = job
            .kinds
            .iter()
            .map(|k| {
                let mut ways = vec![k.size];
                if k.turn {
                    ways.push([k.size[1], k.size[0]]);
                }
                Shape { ways, area: area(k.size), count: k.count }
            })
            .collect();
        let areas = job.sheets.iter().map(|s| area(s.size)).collect();
        let per = job.items as i128 + 1;
        let costs = job.sheets.iter().map(|s| i128::from(s.price) * per + 1).collect();
        Self { job, shapes, areas, costs, shift }
    }

    /// Whether the price is at the bound and one sheet fewer would not do by area.
    fn is_proved(&self, state: &State, bound: i64) -> bool {
        let price: i64 = state.bins.iter().map(|b| self.job.sheets[b.sheet].price).sum();
        let largest = self.areas.iter().max().copied().unwrap_or(1);
        let used: i64 = state.bins.iter().map(|b| b.used).sum();
        price <= bound
            && (self.job.sheets.len() == 1 || used > largest * (state.bins.len() as i64 - 1))
    }

    /// All parts in one pass, opening sheets as needed.
    fn construct(&self, order: usize, fit: Fit, budget: &mut Budget) -> State {
        let mut state = State { bins: Vec::new(), out: Vec::new(), out_area: 0, cost: 0 };
        let mut list: Vec<u32> = Vec::with_capacity(self.job.items);
        for (kind, shape) in self.shapes.iter().enumerate() {
            list.extend(std::iter::repeat_n(kind as u32, shape.count as usize));
        }
        self.sort(&mut list, order);
        self.insert_all(
            &mut state,
            &list,
            i128::MAX,
            fit,
            0,
            &mut Rng::new(0),
            budget,
            &mut Vec::new(),
        );
        state
    }

    fn sort(&self, list: &mut [u32], order: usize) {
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
    /// sheet within `limit`, or is left out. Places are overlooked `blink` times in a thousand.
    #[allow(clippy::too_many_arguments)]
    fn insert_all(
        &self,
        state: &mut State,
        list: &[u32],
        limit: i128,
        fit: Fit,
        blink: usize,
        rng: &mut Rng,
        budget: &mut Budget,
        touched: &mut Vec<usize>,
    ) {
        let mut failed = u32::MAX;
        for &kind in list {
            let shape = &self.shapes[kind as usize];
            let mut best: Option<(i64, usize, Place, [i64; 2])> = None;
            let mut looks = 1;
            if failed != kind {
                for (b, bin) in state.bins.iter().enumerate() {
                    if bin.area - bin.used < shape.area {
                        continue;
                    }
                    looks += bin.nodes.len() as u64;
                    for &way in &shape.ways {
                        bin.places(way, |place, axis, free, need| {
                            let score = self.score(fit, way, axis, free, need);
                            if best.is_none_or(|b| score < b.0) && !(blink > 0 && rng.chance(blink))
                            {
                                best = Some((score, b, place, way));
                            }
                        });
                    }
                }
            }
            budget.spend(looks);
            if let Some((_, b, place, way)) = best {
                touched.push(b);
                state.bins[b].insert(kind, way, shape.area, place);
            } else if let Some((sheet, way)) = self.new_sheet(state, kind, limit, blink > 0, rng) {
                touched.push(state.bins.len());
                let mut bin = Bin::new(sheet, self.job.sheets[sheet].size, self.areas[sheet]);
                bin.insert(kind, way, shape.area, Place::Alone);
                state.bins.push(bin);
                state.cost += self.costs[sheet];
            } else {
                failed = kind;
                state.out.push(kind);
                state.out_area += shape.area;
            }
        }
    }

    /// A plan that costs no more than `goal`, from the best one so far.
    fn reach(&self, best: &State, goal: i128, rng: &mut Rng, budget: &mut Budget) -> Option<State> {
        let mut cur = best.clone();
        while cur.cost > goal {
            let least = (0..cur.bins.len()).min_by_key(|b| cur.bins[*b].used)?;
            let bin = cur.bins.swap_remove(least);
            cur.cost -= self.costs[bin.sheet];
            for leaf in bin.nodes.iter().filter(|n| n.is_leaf()) {
                cur.out.push(leaf.kind);
                cur.out_area += self.shapes[leaf.kind as usize].area;
            }
        }
        let mixed = self.job.sheets.len() > 1;
        let mut next = cur.clone();
        let mut touched = Vec::new();
        let mut history = vec![self.value(&cur); HISTORY];
        let mut step = 0;
        while budget.stopped().is_none() {
            if !cur.out.is_empty() && cur.bins.is_empty() && !mixed {
                return None;
            }
            touched.clear();
            let mut list = std::mem::take(&mut next.out);
            next.out_area = 0;
            self.ruin(&mut next, &mut list, &mut touched, rng);
            budget.spend(PER_STEP);
            let before = next.bins.len();
            if mixed {
                next.bins.retain(|b| !b.nodes.is_empty());
                next.cost = next.bins.iter().map(|b| self.costs[b.sheet]).sum();
            }
            let closed = next.bins.len() != before;
            self.sort(&mut list, rng.below(6));
            if rng.chance(300) {
                for i in 1..list.len() {
                    if rng.chance(200) {
                        list.swap(i, i - 1);
                    }
                }
            }
            let fit = FITS[rng.below(FITS.len())];
            self.insert_all(&mut next, &list, goal, fit, BLINK, rng, budget, &mut touched);
            if next.out.is_empty() {
                return Some(next);
            }
            let (was, is) = (self.value(&cur), self.value(&next));
            let slot = step % HISTORY;
            let accept = is <= was || is <= history[slot];
            let (from, to) = if accept { (&next, &mut cur) } else { (&cur, &mut next) };
            if closed || from.bins.len() != to.bins.len() {
                to.clone_from(from);
            } else {
                to.out.clone_from(&from.out);
                (to.out_area, to.cost) = (from.out_area, from.cost);
                for &b in &touched {
                    to.bins[b].copy_from(&from.bins[b]);
                }
            }
            history[slot] = history[slot].min(self.value(&cur));
            step += 1;
        }
        None
    }

    /// What the walk minimises: area left out first, then free space spread thin.
    fn value(&self, state: &State) -> i64 {
        let unit = self.areas.iter().max().copied().unwrap_or(1);
        let part = |area: i64| area * 32768 / unit;
        let spread: i64 = state.bins.iter().map(|b| part(b.area - b.used).pow(2)).sum();
        part(state.out_area) * 65536 * 2 - spread
    }

    /// Takes some parts out of some sheets.
    fn ruin(
        &self,
        state: &mut State,
        list: &mut Vec<u32>,
        touched: &mut Vec<usize>,
        rng: &mut Rng,
    ) {
        let bins = state.bins.len();
        if bins == 0 {
            return;
        }
        let few = 1 + rng.below(bins.min(3));
        let mut quota = 1 + rng.below((self.job.items / 2).clamp(1, RUIN));
        for _ in 0..few {
            let b = rng.below(bins);
            if touched.contains(&b) || state.bins[b].nodes.is_empty() {
                continue;
            }
            touched.push(b);
            let bin = &mut state.bins[b];
            let n = bin.nodes.len();
            let mut gone = vec![false; n];
            let whole = rng.chance(100);
            while quota > 0 || whole {
                let root = if whole { 0 } else { rng.below(n) };
                gone[root] = true;
                for i in root + 1..n {
                    gone[i] |= gone[bin.nodes[i].parent as usize];
                }
                quota = quota.saturating_sub(gone.iter().filter(|g| **g).count());
                if whole || rng.chance(400) {
                    break;
                }
            }
            for (i, node) in bin.nodes.iter().enumerate() {
                if gone[i] && node.is_leaf() {
                    bin.used -= self.shapes[node.kind as usize].area;
                    list.push(node.kind);
                }
            }
            bin.remove(&gone);
        }
    }

    fn score(&self, fit: Fit, way: [i64; 2], axis: usize, free: [i64; 2], need: [i64; 2]) -> i64 {
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
        limit: i128,
        random: bool,
        rng: &mut Rng,
    ) -> Option<(usize, [i64; 2])> {
        let mut best: Option<(i128, usize, [i64; 2])> = None;
        for (sheet, s) in self.job.sheets.iter().enumerate() {
            if state.cost + self.costs[sheet] > limit {
                continue;
            }
            let open = state.bins.iter().filter(|b| b.sheet == sheet).count();
            if open >= s.limit as usize {
                continue;
            }
            let fits = |w: &&[i64; 2]| w[0] <= s.size[0] && w[1] <= s.size[1];
            let ways: Vec<&[i64; 2]> =
                self.shapes[kind as usize].ways.iter().filter(fits).collect();
            if ways.is_empty() {
                continue;
            }
            let way = if random { ways[rng.below(ways.len())] } else { ways[0] };
            // Price per area, by which the first plans go; later ones try others too.
            let rate = self.costs[sheet] * (1 << 40) / i128::from(self.areas[sheet]);
            let rate = if random { rate * (1000 + rng.below(1000) as i128) } else { rate };
            if best.is_none_or(|b| rate < b.0) {
                best = Some((rate, sheet, *way));
            }
        }
        best.map(|(_, sheet, way)| (sheet, way))
    }
}
