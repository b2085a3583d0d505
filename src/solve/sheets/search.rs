//! Plans by insertion, then ever cheaper goals, then better rests.
//!
//! The first plans insert the parts in several orders, opening a sheet when nothing else holds a
//! part. From the best of them a [`Walk`] is sent out for a goal one step cheaper: sheets worth
//! less, and as few parts left out as can be. When nothing is left out the goal is met, and the
//! next one is set, until the price is proved or the work is spent. (After Gardeyn & Wauters, "A
//! goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem with
//! guillotine constraints", Eur. J. Oper. Res. 301, 2022; from memory, with another tree and
//! other moves.) A last walk shifts parts about for larger rests.

use std::collections::BTreeSet;

use super::job::Job;
use super::layout;
use super::miner::Miner;
use super::rng::Rng;
use super::tree::{Bin, Depth, Lying, Place};
use super::walk::{Aim, MANY, Walk};
use crate::solve::budget::{Budget, Stop};
use crate::solve::saw::kept;

/// Scaled sides stay below this, so that scaled areas fit easily.
const SCALE: i64 = 1 << 20;
/// The share of the work that goes into the price; the rest, and a third of what it leaves, goes into the rests.
const FOR_PRICE: (u64, u64) = (5, 6);
/// The most work for the rests.
const FOR_RESTS: u64 = 3_000_000;
/// Rests are worth a share of the sheet in these; a further piece costs [`PIECE`] of them.
const SHEET: i64 = 32768;
/// See [`SHEET`]: a fifth of a per cent of a sheet.
const PIECE: i64 = 64;

/// Length of late acceptance of the first line's walks.
const HISTORY: usize = 100;
/// Work of the first round, in which one line walks alone; every round doubles it.
const FIRST_ROUND: u64 = 3_000_000;
/// The most work of one round.
const LAST_ROUND: u64 = 24_000_000;

/// With so many parts a sheet, and more than [`MANY`] of those, sheets are filled one by one too.
const PER_FILLED: usize = 8;
/// The most work for that.
const FOR_FILLING: u64 = 200_000_000;
/// How much more than their area large parts count for (see [`super::fill`]).
const LEANS: [i64; 3] = [2, 4, 1];

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

/// What the search needs to know of a kind.
pub(super) struct Shape {
    /// Sides as they may lie.
    pub ways: Vec<[i64; 2]>,
    /// For each way, how many ends along each axis must be edges of the sheet as they came.
    pub touch: Vec<[u8; 2]>,
    /// Scaled area.
    pub area: i64,
    count: u32,
}

/// The job in the search's terms.
pub(super) struct Space<'a> {
    pub job: &'a Job,
    pub shapes: Vec<Shape>,
    /// Scaled areas of the sheets.
    areas: Vec<i64>,
    /// Price, with the number of sheets as a tie-breaker.
    pub costs: Vec<i128>,
    shift: u32,
    /// The shortest side of any part.
    least: i64,
    /// Whether parts ask for edges of their sheets.
    edged: bool,
}

/// Sheets in use and kinds left out.
#[derive(Clone)]
pub(super) struct State {
    pub bins: Vec<Bin>,
    pub out: Vec<u32>,
    /// What the sheets cost.
    pub cost: i128,
}

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

/// What the search found.
pub(super) struct Found {
    /// The sheets, if all parts could be placed.
    pub bins: Option<Vec<Bin>>,
    /// No plan is cheaper.
    pub bound: i64,
    /// What ended the search for a cheaper one.
    pub stopped_by: Option<Stop>,
}

/// The cheapest plan found; `bound` is a price that none is below.
pub(super) fn search(job: &Job, bound: i64, threads: usize, budget: &mut Budget) -> Found {
    let space = Space::new(job);
    let mut spare = budget.share(budget.left() / FOR_PRICE.1 * FOR_PRICE.0);
    let (best, bound) = space.cheapest(bound, threads, &mut spare);
    let stopped_by = spare.stopped();
    let Some(mut best) = best else {
        budget.spend(spare.spent());
        return Found { bins: None, bound, stopped_by };
    };
    if !matches!(stopped_by, Some(Stop::Clock | Stop::Cancelled)) {
        let work =
            (budget.left() / FOR_PRICE.1).max((budget.left().saturating_sub(spare.spent())) / 3);
        let work = work.min(FOR_RESTS);
        let mut share = budget.share(work);
        let mut walk = Walk::new(&space, best, Aim::Rests, i128::MAX, HISTORY);
        walk.run(&mut Rng::new(3), &mut share);
        best = walk.best();
        best.bins.retain(|bin| !bin.nodes.is_empty());
        budget.spend(share.spent());
    }
    budget.spend(spare.spent());
    Found { bins: Some(best.bins), bound, stopped_by }
}

/// Runs two tasks, side by side if there are two threads to be had.
fn both<A: Send, B: Send>(
    threads: usize,
    a: impl FnOnce() -> A + Send,
    b: impl FnOnce() -> B + Send,
) -> (A, B) {
    if threads < 2 {
        return (a(), b());
    }
    std::thread::scope(|scope| {
        let second = scope.spawn(b);
        let first = a();
        match second.join() {
            Ok(second) => (first, second),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

impl<'a> Space<'a> {
    fn new(job: &'a Job) -> Self {
        let longest = job.sheets.iter().flat_map(|s| s.size).max().unwrap_or(1);
        let mut shift = 0;
        while longest >> shift >= SCALE {
            shift += 1;
        }
        let area = |size: [i64; 2]| ((size[0] >> shift) * (size[1] >> shift)).max(1);
        let shape = |k: &super::job::Kind| {
            let (mut ways, mut touch) = (vec![k.size], vec![k.touch]);
            if k.turn {
                ways.push([k.size[1], k.size[0]]);
                touch.push([k.touch[1], k.touch[0]]);
            }
            Shape { ways, touch, area: area(k.size), count: k.count }
        };
        let shapes = job.kinds.iter().map(shape).collect();
        let areas = job.sheets.iter().map(|s| area(s.size)).collect();
        let per = job.items as i128 + 1;
        let costs = job.sheets.iter().map(|s| i128::from(s.price) * per + 1).collect();
        let least = job.kinds.iter().flat_map(|k| k.size).min().unwrap_or(1);
        let edged = job.is_edged();
        Self { job, shapes, areas, costs, shift, least, edged }
    }

    /// The cheapest state without parts left out, and a price that no plan is below.
    ///
    /// One line of search walks; when its first stretch has not met the bound, a second joins it
    /// ([`super::miner`]). Both go on from what was known when their round began, and are merged
    /// when both have spent the round's work, so that it does not matter how many threads there
    /// are.
    fn cheapest(
        &self,
        mut bound: i64,
        threads: usize,
        budget: &mut Budget,
    ) -> (Option<State>, i64) {
        let mut rng = Rng::new(1);
        let mut best = self.first(bound, budget);
        if !best.out.is_empty() {
            let mut walk = Walk::new(self, best, Aim::AllIn, i128::MAX, HISTORY);
            if !walk.run(&mut rng, budget) {
                return (None, bound);
            }
            best = walk.found();
            self.tidy(&mut best);
        }
        self.refill(&mut best, bound, &mut rng, budget);
        let mut walk: Option<Walk> = None;
        let mut miner: Option<Miner> = None;
        let mut round = FIRST_ROUND;
        while budget.stopped().is_none() && !self.is_proved(&best, bound) {
            let work = round.min(budget.left().max(1));
            let first = walk.get_or_insert_with(|| {
                let mut walk = Walk::new(self, best.clone(), Aim::AllIn, best.cost - 1, HISTORY);
                walk.seen = miner.is_none().then(BTreeSet::new);
                walk
            });
            let found = if round == FIRST_ROUND {
                let mut share = budget.share(work);
                let met = first.run(&mut rng, &mut share);
                budget.spend(share.spent());
                [met.then(|| walk.take().map(Walk::found)).flatten(), None]
            } else {
                let seen = first.seen.take().unwrap_or_default();
                let second = miner
                    .get_or_insert_with(|| Miner::new(self, &best, bound, seen, budget.left()));
                let mut shares = [budget.share(work / 2), budget.share(work / 2)];
                let [one, two] = &mut shares;
                let (met, mined) =
                    both(threads, || first.run(&mut rng, one), || second.run(&best, two));
                bound = bound.max(second.bound());
                budget.spend(shares.iter().map(Budget::spent).sum());
                [met.then(|| walk.take().map(Walk::found)).flatten(), mined]
            };
            for mut state in found.into_iter().flatten() {
                self.tidy(&mut state);
                if state.cost < best.cost {
                    best = state;
                    walk = None;
                }
            }
            round = (round * 2).min(LAST_ROUND);
        }
        (Some(best), bound)
    }

    /// Takes plans that fill sheet by sheet instead, where there are many sheets of many parts each and they are cheaper.
    fn refill(&self, best: &mut State, bound: i64, rng: &mut Rng, budget: &mut Budget) {
        let many = best.bins.len() > MANY && self.job.items >= PER_FILLED * best.bins.len();
        if !many {
            return;
        }
        let mut share = budget.share((budget.left() / 3).min(FOR_FILLING));
        for lean in LEANS {
            if share.stopped().is_some() || self.is_proved(best, bound) {
                break;
            }
            let state = self.filled(lean, rng, &mut share);
            if state.out.is_empty() && state.cost < best.cost {
                *best = state;
            }
        }
        budget.spend(share.spent());
    }

    /// Gives empty sheets back.
    fn tidy(&self, state: &mut State) {
        state.bins.retain(|bin| !bin.nodes.is_empty());
        state.cost = self.cost(state);
    }

    /// The price of the sheets in use.
    pub(super) fn price(&self, state: &State) -> i64 {
        state.bins.iter().map(|b| self.job.sheets[b.sheet].price).sum()
    }

    /// A sheet without parts.
    pub(super) fn empty(&self, sheet: usize) -> Bin {
        let of = &self.job.sheets[sheet];
        let depth = Depth::new(self.job.stages, of.flipped);
        let bin = Bin::new(sheet, of.size, self.areas[sheet], self.least, depth);
        if self.edged { bin.with_edges(of.ends()) } else { bin }
    }

    /// The best of some plans that insert part after part: the fewest left out, then the cheapest.
    fn first(&self, bound: i64, budget: &mut Budget) -> State {
        let mut best: Option<State> = None;
        for order in 0..ORDERS {
            for fit in FITS {
                let enough = |b: &State| {
                    budget.stopped().is_some() || (b.out.is_empty() && self.is_proved(b, bound))
                };
                if best.as_ref().is_some_and(enough) {
                    break;
                }
                let state = self.construct(order, fit, budget);
                let key = |s: &State| (self.area_of(&s.out), s.cost);
                if best.as_ref().is_none_or(|b| key(&state) < key(b)) {
                    best = Some(state);
                }
            }
        }
        best.unwrap_or(State { bins: Vec::new(), out: Vec::new(), cost: 0 })
    }

    /// Whether the price is at the bound and, by area, fewer sheets would not do.
    fn is_proved(&self, state: &State, bound: i64) -> bool {
        let price = self.price(state);
        let largest = self.areas.iter().max().copied().unwrap_or(1);
        let used: i64 = state.bins.iter().map(|b| b.used).sum();
        // With one size the price is the number.
        let one_size = self.job.sheets.len() == 1 && self.job.sheets[0].price > 0;
        price <= bound && (one_size || used > largest * (state.bins.len() as i64 - 1))
    }

    /// What the sheets in use cost.
    pub(super) fn cost(&self, state: &State) -> i128 {
        state.bins.iter().map(|b| self.costs[b.sheet]).sum()
    }

    /// Scaled area of a list of kinds.
    pub(super) fn area_of(&self, kinds: &[u32]) -> i64 {
        kinds.iter().map(|k| self.shapes[*k as usize].area).sum()
    }

    /// Scaled area of a rectangle.
    pub(super) fn scaled(&self, size: [i64; 2]) -> i64 {
        (size[0] >> self.shift) * (size[1] >> self.shift)
    }

    /// A scaled area as a share of the largest sheet, in [`SHEET`]s.
    pub(super) fn share(&self, area: i64) -> i64 {
        area * SHEET / self.areas.iter().max().copied().unwrap_or(1)
    }

    /// Area and number of a sheet's rests worth keeping.
    pub(super) fn kept(&self, bin: &Bin) -> (i128, usize) {
        kept(self.job.keep, &layout::cut_sheet(self.job, bin).rests)
    }

    /// What rests of an area in so many pieces are worth to the search, in [`SHEET`]s.
    pub(super) fn worth_of(&self, (area, pieces): (i128, usize)) -> i64 {
        let unit = i128::from(self.job.unit);
        let largest = self.job.sheets.iter().map(|s| i128::from(s.size[0]) * i128::from(s.size[1]));
        let largest = largest.max().unwrap_or(1) * unit * unit;
        let share = i64::try_from(area * i128::from(SHEET) / largest).unwrap_or(SHEET);
        share - PIECE * pieces as i64
    }

    /// All parts in one pass, opening sheets as needed.
    fn construct(&self, order: usize, fit: Fit, budget: &mut Budget) -> State {
        let mut state = State { bins: Vec::new(), out: Vec::new(), cost: 0 };
        let mut list: Vec<u32> = Vec::with_capacity(self.job.items);
        for (kind, shape) in self.shapes.iter().enumerate() {
            list.extend(std::iter::repeat_n(kind as u32, shape.count as usize));
        }
        self.sort(&mut list, order);
        let how = Insertion { limit: i128::MAX, fit, blink: 0, within: &[] };
        let mut touched = Vec::new();
        let looks = self.insert_all(&mut state, &list, &how, &mut Rng::new(0), &mut touched);
        budget.spend(looks);
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
            let (best, seen) = self.best_place(state, kind, how, opened, rng);
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
        state: &State,
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
        for b in places.chain(opened..state.bins.len()) {
            let bin = &state.bins[b];
            if bin.area - bin.used < shape.area {
                continue;
            }
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
