//! The second line of search: column generation for the bound, dives for plans, walks from what
//! the dives leave.
//!
//! Where sheets hold too many parts for that, it walks with a longer memory than the first line, from the best plan and then
//! from others that are filled sheet by sheet ([`super::fill`]).

use std::collections::BTreeSet;

use super::bound;
use super::columns::{Column, Columns};
use super::rng::Rng;
use super::space::{Space, State};
use super::tree::Bin;
use super::walk::{Aim, Walk};
use crate::solve::budget::Budget;

/// Work of the first walk after a dive; later ones take more.
const AFTER_DIVE: u64 = 3_000_000;
/// Work of a walk from the best plan, where there are no dives; then of the first from a plan filled sheet by sheet.
const FROM_BEST: u64 = 1_000_000;
const AFTER_FILL: u64 = 700_000;
/// Rounds without a better one after which a sheet that is filled is given up.
const PATIENCE: usize = 1_000;
/// With more parts than this on a sheet on average, sets are many and dear to price, and walks do better: it walks for
/// [`WALKS_FIRST`] steps before it turns to sets.
const EASY_SETS: usize = 5;
/// See [`EASY_SETS`].
const WALKS_FIRST: u64 = 30_000_000;
/// It is no more than this part of all the work.
const WALKS_SHARE: u64 = 8;
/// Length of late acceptance of this line's walks.
const HISTORY: usize = 400;

/// What a walk that has nothing to walk on is taken to spend.
const FOR_NOTHING: u64 = 1_000;

/// The second line of search.
pub(super) struct Miner<'s> {
    space: &'s Space<'s>,
    columns: Option<Columns<'s>>,
    rng: Rng,
    walk: Option<Walk<'s>>,
    /// The price that the bound was last worked out against.
    against: i64,
    /// No plan is cheaper.
    bound: i64,
    dives: u64,
    /// Plans filled sheet by sheet so far.
    fills: u64,
    /// What is left of the present walk's work.
    walk_left: u64,
    /// Steps to walk before it turns to sets.
    before: u64,
}

impl<'s> Miner<'s> {
    /// A line that begins with the sheets of `best`.
    /// `seen` are sets of parts that sheets are known to hold; `work` is what is left for both lines.
    pub(super) fn new(
        space: &'s Space<'s>,
        best: &State,
        bound: i64,
        seen: BTreeSet<Column>,
        work: u64,
    ) -> Self {
        let mut columns = Columns::new(space.job, best.bins.len());
        if let Some(columns) = &mut columns {
            best.bins.iter().for_each(|b| columns.add(b.sheet, b.kinds()));
            seen.into_iter().for_each(|(sheet, set)| columns.add(sheet, set));
        }
        let rng = Rng::new(2);
        let easy = space.job.items <= EASY_SETS * best.bins.len();
        let before = if easy { 0 } else { WALKS_FIRST.min(work / WALKS_SHARE) };
        let (dives, fills, walk_left) = (0, 0, 0);
        let against = i64::MAX;
        Self { space, columns, rng, walk: None, against, bound, dives, fills, walk_left, before }
    }

    /// No plan is cheaper than this, as far as this line knows.
    pub(super) fn bound(&self) -> i64 {
        self.bound
    }

    /// Goes on until a cheaper state than `best` is found, `best` is proved or the work is spent.
    pub(super) fn run(&mut self, best: &State, budget: &mut Budget) -> Option<State> {
        let price = self.space.price(best);
        let goal = best.cost - 1;
        if self.against > price {
            self.against = price;
            self.walk = None;
        }
        if self.columns.is_some() && self.before > 0 {
            let first = self.walk.get_or_insert_with(|| {
                Walk::new(self.space, best.clone(), Aim::AllIn, goal, HISTORY)
            });
            let mut share = budget.share(self.before.min(budget.left()));
            let met = first.run(&mut self.rng, &mut share);
            budget.spend(share.spent());
            self.before -= share.spent().min(self.before);
            if met {
                return self.walk.take().map(Walk::found);
            }
            if self.before > 0 {
                return None;
            }
            self.walk = None;
        }
        self.prove(best, price, budget);
        while budget.stopped().is_none() && self.bound < price {
            if self.walk.is_none() {
                let (state, work) = self.begin(best, price, budget);
                if state.out.is_empty() && state.cost <= goal {
                    return Some(state);
                }
                let mut walk = Walk::new(self.space, state, Aim::AllIn, goal, HISTORY);
                walk.seen = self.columns.is_some().then(BTreeSet::new);
                self.walk = Some(walk);
                self.walk_left = work;
            }
            let mut share = budget.share(self.walk_left.min(budget.left()));
            let found = self.go(&mut share);
            budget.spend(share.spent());
            self.walk_left = self.walk_left.saturating_sub(share.spent());
            if found.is_some() {
                return found;
            }
            // A walk without sheets spends nothing, and would go on for ever.
            if share.spent() == 0 {
                budget.spend(FOR_NOTHING);
                self.walk_left = 0;
            }
            if self.walk_left == 0 {
                self.walk = None;
            }
        }
        None
    }

    /// The present walk, to its end or the budget's.
    fn go(&mut self, budget: &mut Budget) -> Option<State> {
        let walk = self.walk.as_mut()?;
        if walk.run(&mut self.rng, budget) {
            return self.walk.take().map(Walk::found);
        }
        if let (Some(columns), Some(seen)) = (&mut self.columns, walk.seen.take()) {
            seen.into_iter().for_each(|(sheet, set)| columns.add(sheet, set));
        }
        None
    }

    fn prove(&mut self, best: &State, price: i64, budget: &mut Budget) {
        let Some(columns) = &mut self.columns else { return };
        best.bins.iter().for_each(|b| columns.add(b.sheet, b.kinds()));
        if columns.may_prove(price) {
            self.bound = self.bound.max(columns.bound(price, budget));
        }
    }

    /// The best plan at first, then others that are filled sheet by sheet.
    fn fill(&mut self, best: &State, budget: &mut Budget) -> (State, u64) {
        self.fills += 1;
        if self.fills == 1 {
            return (best.clone(), FROM_BEST);
        }
        let lean = self.rng.below(6) as i64;
        let worths = self.space.worths(lean, None);
        let state = self.space.filled(&worths, PATIENCE, &mut self.rng, budget);
        (state, AFTER_FILL * self.fills.min(8))
    }

    /// A state to walk from, and for how long.
    fn begin(&mut self, best: &State, price: i64, budget: &mut Budget) -> (State, u64) {
        let columns = self.columns.as_mut().filter(|c| c.may_dive(price));
        let Some(columns) = columns else {
            // Where few parts come out of a sheet there is little to choose from.
            let walks = self.columns.as_ref().is_some_and(Columns::few);
            return if walks { (best.clone(), u64::MAX) } else { self.fill(best, budget) };
        };
        let fixed = columns.dive(bound::total_below(self.space.job, price), &mut self.rng, budget);
        self.dives += 1;
        let state = state(self.space, columns, &fixed);
        // Under a limit on stages it may be that none of the dive's sheets can be cut: there is nothing to walk on.
        if state.bins.is_empty() {
            return self.fill(best, budget);
        }
        (state, AFTER_DIVE * self.dives.min(8))
    }
}

/// The sheets that hold the sets, and all other parts left out.
fn state(space: &Space, columns: &Columns, fixed: &[Column]) -> State {
    let mut left: Vec<u32> = space.job.kinds.iter().map(|k| k.count).collect();
    let mut state = State { bins: Vec::new(), out: Vec::new(), cost: 0 };
    for (sheet, set) in fixed {
        let Some(cut) = columns.pricer(*sheet).cut(set) else { continue };
        let area = |k: u32| space.shapes[k as usize].area;
        let way = |kind: u32, size: [i64; 2]| {
            let ways = &space.shapes[kind as usize].ways;
            space.lying(kind, ways.iter().position(|way| *way == size).unwrap_or(0))
        };
        let bin: Bin = space.empty(*sheet).cut_as(&cut, area, way);
        // The sets are priced without a limit on stages and without regard to edges.
        if !bin.is_within_stages() || !bin.has_its_edges() {
            continue;
        }
        state.bins.push(bin);
        set.iter().for_each(|k| left[*k as usize] -= 1);
    }
    state.cost = space.cost(&state);
    for (kind, n) in left.iter().enumerate() {
        state.out.extend(std::iter::repeat_n(kind as u32, *n as usize));
    }
    state
}
