//! Panels exchanged and a few sheets at a time filled anew, where there are many of many parts each.
//!
//! What is too much for the sheets that a goal allows is left out at first. Then panels change places ([`super::swaps`]), and in
//! turn with that some sheets are taken, the emptier ones more
//! often, and filled one after the other from what they hold and what is left out ([`super::fill`]). That is kept if less is
//! left out, or hardly more; a little less evenly spread free space of the sheets makes up for that. Two lines work side by side on
//! half of the sheets each, with half of what is left out, and all is shared out anew from round to round. (Large
//! neighbourhood search after Shaw, "Using constraint programming and local search methods to solve vehicle routing problems",
//! CP 1998; from memory.)

use super::fill::Pool;
use super::rng::Rng;
use super::space::{Space, State};
use super::tree::{Bin, Scratch};
use crate::solve::budget::Budget;

/// The fewest and the most sheets that are filled anew together.
const SHEETS: [usize; 2] = [2, 4];
/// Rounds without a better one after which a sheet is given up.
const PATIENCE: usize = 60;
/// Work of each line until sheets are shared out anew.
const PER_ROUND: u64 = 500_000;
/// With less work than this it comes to nothing.
pub(super) const LEAST: u64 = 10_000_000;
/// How much more than their area large parts count for (see [`Space::worths`]).
const LEAN: i64 = 3;

/// What is left out may become worth more by less than this, in the parts of a sheet that [`Space::worths`] counts, and this
/// share of what it is.
const SLACK: (usize, usize) = (5, 100);
/// What is left out against the squares of the sheets' free areas.
pub(super) const OUT: i64 = 1 << 16;

/// Sheets and what is left out.
#[derive(Debug)]
pub(super) struct Line {
    pub bins: Vec<Bin>,
    pub out: Vec<u32>,
    pub rng: Rng,
}

impl Space<'_> {
    /// A state without parts left out that costs no more than `limit`, from one that costs more.
    pub(super) fn windows(
        &self,
        from: &State,
        limit: i128,
        values: Option<&[i64]>,
        threads: usize,
        budget: &mut Budget,
    ) -> Option<State> {
        let mut cur = from.clone();
        while cur.cost > limit {
            let least = (0..cur.bins.len()).min_by_key(|b| cur.bins[*b].used)?;
            let bin = cur.bins.swap_remove(least);
            cur.cost -= self.costs[bin.sheet];
            cur.out.extend(bin.kinds());
        }
        let worth = self.worths(LEAN, values);
        let mut rng = Rng::new(5);
        while !cur.out.is_empty() && budget.stopped().is_none() {
            for i in (1..cur.bins.len()).rev() {
                cur.bins.swap(i, rng.below(i + 1));
            }
            cur.out.sort_by_key(|kind| (std::cmp::Reverse(worth[*kind as usize]), *kind));
            let mut line = || Line {
                bins: Vec::new(),
                out: Vec::new(),
                rng: Rng::new(rng.below(1 << 30) as u64),
            };
            let mut lines = [line(), line()];
            for (i, bin) in cur.bins.drain(..).enumerate() {
                lines[i % 2].bins.push(bin);
            }
            for (i, kind) in cur.out.drain(..).enumerate() {
                lines[i % 2].out.push(kind);
            }
            let work = PER_ROUND.min(budget.left() / 2 + 1);
            let mut shares = [budget.share(work), budget.share(work)];
            let [(one, first), (two, second)] = {
                let [a, b] = &mut lines;
                let [c, d] = &mut shares;
                [(a, c), (b, d)]
            };
            let go = |line: &mut Line, budget: &mut Budget| {
                let mut share = budget.share(budget.left() / 2);
                self.swap_some(line, &worth, &mut share);
                budget.spend(share.spent());
                self.refill_some(line, &worth, budget);
            };
            super::search::both(threads, || go(one, first), || go(two, second));
            // One that has nothing left to do spends less.
            budget.spend(shares.iter().map(Budget::spent).sum::<u64>().max(1));
            for line in lines {
                cur.bins.extend(line.bins);
                cur.out.extend(line.out);
            }
        }
        cur.bins.retain(|bin| !bin.nodes.is_empty());
        cur.cost = self.cost(&cur);
        cur.out.is_empty().then_some(cur)
    }

    /// Windows of a line until nothing is left out or the work is spent.
    fn refill_some(&self, line: &mut Line, worth: &[i64], budget: &mut Budget) {
        let total = |out: &[u32]| out.iter().map(|k| worth[*k as usize]).sum::<i64>();
        let spread = |bin: &Bin| self.share(bin.area - bin.used).pow(2);
        let mut scratch = Scratch::default();
        while budget.stopped().is_none() && !line.bins.is_empty() {
            let chosen = choose(line);
            let mut left = vec![0u32; self.shapes.len()];
            line.out.iter().for_each(|k| left[*k as usize] += 1);
            for b in &chosen {
                line.bins[*b].kinds().iter().for_each(|k| left[*k as usize] += 1);
            }
            let mut new = Vec::with_capacity(chosen.len());
            for &b in &chosen {
                let lists = self.lists(&left);
                let pool = Pool { left: &left, worth, lists: &lists };
                // What others have not taken of it.
                let mut bin = line.bins[b].clone();
                self.keep_only(&mut bin, &left, &mut scratch);
                let bin = self.fill_from(bin, pool, PATIENCE, &mut line.rng, budget);
                bin.kinds().iter().for_each(|k| left[*k as usize] -= 1);
                new.push(bin);
            }
            let kinds = left.iter().enumerate();
            let out: Vec<u32> =
                kinds.flat_map(|(k, n)| std::iter::repeat_n(k as u32, *n as usize)).collect();
            let before: i64 = chosen.iter().map(|b| spread(&line.bins[*b])).sum();
            let after: i64 = new.iter().map(spread).sum();
            let (was, now) = (total(&line.out), total(&out));
            let slack = line.rng.below(SLACK.0 + was as usize / SLACK.1) as i64;
            if (now - was) * OUT + before - after <= slack * OUT {
                line.out = out;
                for (b, bin) in chosen.into_iter().zip(new) {
                    line.bins[b] = bin;
                }
            }
        }
    }

    /// Takes out of a sheet what is not in the pool.
    fn keep_only(&self, bin: &mut Bin, pool: &[u32], scratch: &mut Scratch) {
        let mut left = pool.to_vec();
        let mut gone = vec![false; bin.nodes.len()];
        for (node, gone) in bin.nodes.iter().zip(&mut gone).filter(|(node, _)| node.is_leaf()) {
            let there = &mut left[node.kind as usize];
            *gone = *there == 0;
            *there = there.saturating_sub(1);
            if *gone {
                bin.used -= self.shapes[node.kind as usize].area;
            }
        }
        if gone.contains(&true) {
            bin.remove(&gone, scratch);
        }
    }
}

/// Some sheets, each the emptier one of two.
fn choose(line: &mut Line) -> Vec<usize> {
    let Line { bins, rng, .. } = line;
    let size = SHEETS[0] + rng.below(SHEETS[1] - SHEETS[0] + 1);
    let mut chosen = Vec::new();
    while chosen.len() < size.min(bins.len()) {
        let (a, b) = (rng.below(bins.len()), rng.below(bins.len()));
        let free = |b: usize| bins[b].area - bins[b].used;
        let b = if free(a) > free(b) { a } else { b };
        if !chosen.contains(&b) {
            chosen.push(b);
        } else if chosen.len() + 1 == bins.len() {
            // The fullest one alone is left.
            break;
        }
    }
    chosen
}
