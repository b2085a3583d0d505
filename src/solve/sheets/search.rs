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

use super::SheetProgress;
use super::bound;
use super::insert::{FITS, ORDERS};
use super::job::Job;
use super::miner::Miner;
use super::rng::Rng;
use super::space::{SHEET, Space, State};
use super::tree::Bin;
use super::walk::{Aim, MANY, Walk};
use super::windows::LEAST;
use crate::solve::budget::{Budget, Stop};

/// The share of the work that goes into the price; the rest, and a third of what it leaves, goes into the rests.
const FOR_PRICE: (u64, u64) = (5, 6);
/// The most work for the rests, and how much of it for each part.
const FOR_RESTS: u64 = 10_000_000;
/// See [`FOR_RESTS`].
const RESTS_PER_PART: u64 = 200_000;

/// Combinations of sheets looked at to see whether smaller ones would do.
const COMBINATIONS: usize = 10_000;
/// The most work for smaller sheets of a price that is proved, and the share of what is left then.
const FOR_SMALLER: u64 = 10_000_000;
/// See [`FOR_SMALLER`].
const SMALLER_SHARE: u64 = 16;

/// With less work than this there is no bound by functions made to measure…
const FOR_SLICES: u64 = 400_000;
/// … and it takes no more than this part.
const SLICES_SHARE: u64 = 8;

/// Length of late acceptance of the first line's walks.
const HISTORY: usize = 100;
/// Work of the first round, in which one line walks alone; every round doubles it.
const FIRST_ROUND: u64 = 3_000_000;
/// The most work of one round.
const LAST_ROUND: u64 = 192_000_000;

/// With so many parts a sheet, and more than [`MANY`] of those, sheets are filled one by one too.
const PER_FILLED: usize = 8;
/// The most work for that, time after time, and the share of what is left that it is at most.
const FOR_FILLING: [(u64, u64); 3] = [(25_000_000, 9), (80_000_000, 4), (240_000_000, 3)];
/// The share of what is left after that for filling a few sheets at a time anew.
const FOR_WINDOWS: (u64, u64) = (4, 5);
/// Rounds without a better one after which a sheet is given up at first.
const PATIENCE: usize = 10_000;
/// How much more than their area large parts count for, in each of two lines (see [`super::fill`]).
const LEANS: [i64; 2] = [2, 4];

/// What the search found.
pub(super) struct Found {
    /// The sheets, if all parts could be placed.
    pub bins: Option<Vec<Bin>>,
    /// No plan is cheaper.
    pub bound: i64,
    /// What ended the search for a cheaper one.
    pub stopped_by: Option<Stop>,
}

/// Who is told of every better price and bound.
struct News<'w> {
    watch: &'w mut dyn FnMut(SheetProgress),
    told: SheetProgress,
}

impl News<'_> {
    fn tell(&mut self, objective: Option<i64>, bound: i64) {
        let now = SheetProgress { objective, bound: bound.max(self.told.bound) };
        if now != self.told {
            self.told = now;
            (self.watch)(now);
        }
    }
}

/// The cheapest plan found, and a price that none is below. The first bound looks at about `effort` products of values;
/// `watch` is told of every better price and bound.
pub(super) fn search(
    job: &Job,
    effort: usize,
    threads: usize,
    budget: &mut Budget,
    watch: &mut dyn FnMut(SheetProgress),
) -> Found {
    let space = Space::new(job);
    let mut news = News { watch, told: SheetProgress { objective: None, bound: 0 } };
    // Whoever waits has a plan at once; what it is worth is found out after that.
    let first = space.construct(0, FITS[0], true, budget);
    news.tell(space.found(&first), 0);
    let bound = bound::least_price(job, effort, budget);
    let mut spare = budget.share(budget.left() / FOR_PRICE.1 * FOR_PRICE.0);
    let (best, bound) = space.cheapest(first, bound, threads, &mut spare, &mut news);
    let stopped_by = spare.stopped();
    let Some(mut best) = best else {
        budget.spend(spare.spent());
        return Found { bins: None, bound, stopped_by };
    };
    if !matches!(stopped_by, Some(Stop::Clock | Stop::Cancelled)) {
        let work =
            (budget.left() / FOR_PRICE.1).max((budget.left().saturating_sub(spare.spent())) / 3);
        let work = work.min(FOR_RESTS).min(RESTS_PER_PART * job.items as u64);
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
pub(super) fn both<A: Send, B: Send>(
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

impl Space<'_> {
    /// The cheapest state without parts left out, and a price that no plan is below.
    ///
    /// One line of search walks; when its first stretch has not met the bound, a second joins it
    /// ([`super::miner`]). Both go on from what was known when their round began, and are merged
    /// when both have spent the round's work, so that it does not matter how many threads there
    /// are.
    fn cheapest(
        &self,
        first: State,
        mut bound: i64,
        threads: usize,
        budget: &mut Budget,
        news: &mut News,
    ) -> (Option<State>, i64) {
        let mut rng = Rng::new(1);
        let mut best = self.first(first, bound, budget);
        news.tell(self.found(&best), bound);
        if !best.out.is_empty() {
            let mut walk = Walk::new(self, best, Aim::AllIn, i128::MAX, HISTORY);
            if !walk.run(&mut rng, budget) {
                return (None, bound);
            }
            best = walk.found();
            self.tidy(&mut best);
        }
        let mut values = None;
        // Of few sheets they have shown nothing where parts turn.
        let may_help = self.is_many(&best) || !self.job.kinds.iter().any(|kind| kind.turn);
        if may_help && budget.left() >= FOR_SLICES && !self.is_proved(&best, bound) {
            let mut share = budget.share(budget.left() / SLICES_SHARE);
            if let Some((made, worths)) = bound::least_by_slices(self.job, bound, SHEET, &mut share)
            {
                bound = bound.max(made);
                values = Some(worths);
                news.tell(self.found(&best), bound);
            }
            budget.spend(share.spent());
        }
        self.refill(&mut best, bound, values.as_deref(), threads, budget, news);
        news.tell(self.found(&best), bound);
        let mut walk: Option<Walk> = None;
        let mut miner: Option<Miner> = None;
        let mut round = FIRST_ROUND;
        let mut smaller = FOR_SMALLER.min(budget.left() / SMALLER_SHARE);
        while budget.stopped().is_none() && !self.is_proved(&best, bound) {
            let mut work = round.min(budget.left().max(1));
            if self.price(&best) <= bound {
                if smaller == 0 {
                    break;
                }
                work = work.min(smaller);
                smaller -= work;
            }
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
            news.tell(self.found(&best), bound);
            round = (round * 2).min(LAST_ROUND);
        }
        (Some(best), bound)
    }

    /// Takes a plan that fills sheet by sheet instead, where there are many sheets of many parts each and one is cheaper; with more and
    /// more work, as each sheet is filled the better. Then a few sheets at a time are filled anew. `values` are what parts are worth
    /// by the bound.
    fn refill(
        &self,
        best: &mut State,
        bound: i64,
        values: Option<&[i64]>,
        threads: usize,
        budget: &mut Budget,
        news: &mut News,
    ) {
        if !self.is_many(best) {
            return;
        }
        let mut before = 0;
        for (most, part) in FOR_FILLING {
            let each = (budget.left() / part).min(most) / 2;
            if self.is_proved(best, bound) || budget.stopped().is_some() || each < 2 * before {
                break;
            }
            before = each;
            self.fill_twice(best, values, each, threads, budget);
            news.tell(self.found(best), bound);
        }
        let mut share = budget.share(budget.left() / FOR_WINDOWS.1 * FOR_WINDOWS.0);
        let goes_on = |share: &Budget| share.stopped().is_none() && share.left() >= LEAST;
        while goes_on(&share) && !self.is_proved(best, bound) {
            let Some(found) = self.windows(best, best.cost - 1, values, threads, &mut share) else {
                break;
            };
            *best = found;
            news.tell(self.found(best), bound);
        }
        budget.spend(share.spent());
    }

    /// Two plans that fill sheet by sheet, with so much work for each; the better one if it is cheaper, or as dear with less on its
    /// emptiest sheet.
    fn fill_twice(
        &self,
        best: &mut State,
        values: Option<&[i64]>,
        each: u64,
        threads: usize,
        budget: &mut Budget,
    ) {
        let mut shares = [budget.share(each), budget.share(each)];
        let [one, two] = &mut shares;
        let fill = |lean: i64, budget: &mut Budget| {
            let worths = self.worths(lean, values);
            self.filled(&worths, PATIENCE, &mut Rng::new(10 + lean as u64), budget)
        };
        let (a, b) = both(threads, || fill(LEANS[0], one), || fill(LEANS[1], two));
        budget.spend(shares.iter().map(Budget::spent).sum());
        let least = |state: &State| state.bins.iter().map(|bin| bin.used).min();
        for state in [a, b] {
            if state.out.is_empty() && (state.cost, least(&state)) < (best.cost, least(best)) {
                *best = state;
            }
        }
    }

    /// Whether there are many sheets of many parts each.
    fn is_many(&self, state: &State) -> bool {
        state.bins.len() > MANY && self.job.items >= PER_FILLED * state.bins.len()
    }

    /// The best of some plans that insert part after part, of which the first is given: the fewest left out, then the cheapest.
    fn first(&self, given: State, bound: i64, budget: &mut Budget) -> State {
        let mut best = given;
        let ways = (0..ORDERS).flat_map(|order| FITS.map(|fit| (order, fit)));
        for (order, fit) in ways.skip(1) {
            if budget.stopped().is_some() || (best.out.is_empty() && self.is_proved(&best, bound)) {
                break;
            }
            let state = self.construct(order, fit, false, budget);
            let key = |s: &State| (self.area_of(&s.out), s.cost);
            if key(&state) < key(&best) {
                best = state;
            }
        }
        best
    }

    /// The price of a state without parts left out.
    fn found(&self, state: &State) -> Option<i64> {
        state.out.is_empty().then(|| self.price(state))
    }

    /// Whether the price is at the bound and, by area, no smaller sheets of that price would do.
    fn is_proved(&self, state: &State, bound: i64) -> bool {
        let price = self.price(state);
        // With one size the price is the number.
        let one_size = self.job.sheets.len() == 1 && self.job.sheets[0].price > 0;
        price <= bound && (one_size || !self.may_be_smaller(state))
    }

    /// Whether sheets of the same price and less area hold all parts, by area; if that is not found out soon, it is taken to
    /// be so.
    fn may_be_smaller(&self, state: &State) -> bool {
        let used = state.bins.iter().map(|bin| bin.used).sum();
        let search = Smaller { most: state.cost - 1, price: self.price(state), area: used };
        self.any_smaller(0, search, &mut 0)
    }

    /// Whether sheets from a place in the list on do.
    fn any_smaller(&self, from: usize, left: Smaller, nodes: &mut usize) -> bool {
        *nodes += 1;
        if (left.area <= 0 && left.price == 0) || *nodes > COMBINATIONS {
            return true;
        }
        let Some(sheet) = self.job.sheets.get(from) else { return false };
        let holds = |s: usize| {
            i128::from(left.area) * self.costs[s] <= left.most * i128::from(self.areas[s])
        };
        if !(from..self.costs.len()).any(holds) {
            return false;
        }
        let (cost, area) = (self.costs[from], self.areas[from]);
        let most = (left.most / cost).clamp(0, i128::from(sheet.limit)) as i64;
        (0..=most).rev().any(|n| {
            let less = Smaller {
                most: left.most - cost * i128::from(n),
                price: left.price - sheet.price * n,
                area: left.area - area * n,
            };
            less.price >= 0 && self.any_smaller(from + 1, less, nodes)
        })
    }
}

/// What sheets may still cost, must still cost in price, and must still hold.
#[derive(Clone, Copy)]
struct Smaller {
    most: i128,
    price: i64,
    area: i64,
}
