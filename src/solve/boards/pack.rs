//! Plans that waste next to nothing, bar by bar, the longest piece first.
//!
//! Where a plan of as few bars as the bound allows may waste but little in all, a bar is as good as
//! what it wastes: the longest piece left is put in, and what goes with it is chosen among the
//! fullest completions (bin completion; Korf, AAAI 2002, from memory). Short pieces go with long
//! ones, so that the rest grows alike and has ever more ways. The first bars are chosen for good,
//! the last ones by a depth-first search; where that fails, all begins anew with other choices.
//!
//! Without proof, and for one kind of bar. Choices are drawn from a generator of fixed seed.

use super::cover::{Cover, Way};
use super::greedy::Rest;
use super::model::{Model, Pattern, Plan};
use crate::solve::budget::Budget;

/// More than this share of a bar to waste in all is too much.
const MOST_WASTE: i64 = 8;

/// Bars that the depth-first search takes over.
const LAST_BARS: i64 = 24;

/// Nodes of one depth-first search.
const NODES_AT_ONCE: u64 = 4_000;

/// Completions of a bar among which the first bars choose, and nodes to find them.
const CHOICE: usize = 12;
const NODES_A_BAR: u64 = 600;

/// Completions of a bar that the depth-first search tries.
const TRIED: usize = 10;

/// Ways to fill a bar that are listed, and nodes to list them.
const LISTED: usize = 20_000;
const LISTING: u64 = 100_000;

/// Remembers so many rests that had no plan.
const MEMORY: usize = 1 << 13;

/// A plan for `rest` of at most `price`, looked for with `nodes` nodes; `None` if none is found, if
/// there are several kinds of bar, or if more may be wasted than this is good for.
pub(super) fn pack(
    model: &Model,
    rest: &Rest,
    price: i128,
    nodes: u64,
    budget: &mut Budget,
) -> Option<Plan> {
    let [kind] = &model.kinds[..] else { return None };
    if kind.price <= 0 || kind.only.is_some() || rest.leasts[0] > 0 {
        return None;
    }
    let bars = i64::try_from(price / i128::from(kind.price)).ok()?;
    let bars = bars.min(rest.limits[0].map_or(i64::MAX, i64::from));
    let slack = bars.checked_mul(kind.cap)?.checked_sub(model.length_of(&rest.demand))?;
    if !(0..=kind.cap / MOST_WASTE).contains(&slack) {
        return None;
    }
    let mut packing = Packing::new(model, &rest.demand, bars, slack);
    let mut vary = false;
    loop {
        let found = packing.attempt(vary, nodes);
        let go_on = budget.spend(packing.spent());
        if found {
            return Some(packing.plan());
        }
        if !go_on || packing.nodes >= nodes || bars <= LAST_BARS || packing.listed {
            return None;
        }
        vary = true;
    }
}

struct Packing<'a> {
    model: &'a Model,
    cap: i64,
    demand: &'a [u32],
    bars: i64,
    slack: i64,
    left: Vec<u32>,
    /// What the bars so far may still waste, and how many bars are left.
    spare: i64,
    open: i64,
    chosen: Vec<Vec<usize>>,
    nodes: u64,
    told: u64,
    random: u64,
    /// A number for each piece; a rest is known by the sum over its pieces.
    names: Vec<u64>,
    rest: u64,
    dead: Vec<u64>,
    /// Whether all ways to fill a bar could be listed at the start.
    listed: bool,
}

impl<'a> Packing<'a> {
    fn new(model: &'a Model, demand: &'a [u32], bars: i64, slack: i64) -> Self {
        let mut packing = Self {
            model,
            cap: model.kinds[0].cap,
            demand,
            bars,
            slack,
            left: Vec::new(),
            spare: slack,
            open: bars,
            chosen: Vec::new(),
            nodes: 0,
            told: 0,
            random: 0x9e37_79b9_7f4a_7c15,
            names: Vec::new(),
            rest: 0,
            dead: vec![0; MEMORY],
            listed: false,
        };
        packing.names = model.pieces.iter().map(|_| packing.draw()).collect();
        packing
    }

    /// SplitMix64 (Steele, Lea & Flood, OOPSLA 2014).
    fn draw(&mut self) -> u64 {
        self.random = self.random.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.random;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Nodes since this was asked last.
    fn spent(&mut self) -> u64 {
        let spent = self.nodes - self.told;
        self.told = self.nodes;
        spent / 4 + 1
    }

    fn plan(&self) -> Plan {
        let mut plan = Plan::default();
        for bar in &self.chosen {
            *plan.bars.entry(Pattern { kind: 0, counts: counted(bar) }).or_insert(0) += 1;
        }
        plan
    }

    /// One plan from the start; `false` if it came to nothing.
    fn attempt(&mut self, vary: bool, nodes: u64) -> bool {
        self.left = self.demand.to_vec();
        (self.spare, self.open) = (self.slack, self.bars);
        self.chosen.clear();
        let names = self.names.iter().zip(&self.left);
        self.rest = names.fold(0, |sum, (&n, &d)| sum.wrapping_add(n.wrapping_mul(d.into())));
        if !vary && let Some(ways) = self.list() {
            self.listed = true;
            return self.cover(&ways, nodes);
        }
        while self.open > LAST_BARS {
            let Some(first) = self.longest_left() else { return true };
            let mut found = self.completions(first, CHOICE, NODES_A_BAR);
            if found.is_empty() {
                return false;
            }
            found.sort_by_key(|f| f.0);
            let full = found.iter().take_while(|f| f.0 == found[0].0).count() as u64;
            let at = if vary { self.draw() % full } else { 0 };
            let (_, bar) = found.swap_remove(at as usize);
            self.take(bar);
        }
        if let Some(ways) = self.list() {
            let most = nodes.min(self.nodes + NODES_AT_ONCE);
            return self.cover(&ways, most);
        }
        let most = self.nodes + NODES_AT_ONCE;
        self.complete(most)
    }

    /// Every way to fill a bar that wastes no more than is spare; `None` if there are too many.
    fn list(&mut self) -> Option<Vec<Way>> {
        let mut ways = Vec::new();
        let mut nodes = LISTING;
        for first in 0..self.left.len() {
            if self.left[first] == 0 {
                continue;
            }
            let before = self.nodes;
            let found = self.completions(first, LISTED + 1 - ways.len(), nodes);
            let used = self.nodes - before;
            if ways.len() + found.len() > LISTED || used >= nodes {
                return None;
            }
            nodes -= used;
            ways.extend(found.into_iter().map(|(waste, bar)| {
                Way { pattern: Pattern { kind: 0, counts: counted(&bar) }, waste }
            }));
        }
        Some(ways)
    }

    /// Covers what is left by listed ways.
    fn cover(&mut self, ways: &[Way], most: u64) -> bool {
        let mut cover = Cover::new(ways, &self.left, self.spare, self.open);
        // What is listed has paid for itself.
        let found = cover.find(8 * most.saturating_sub(self.nodes));
        self.nodes += cover.work / 8;
        let Some(found) = found else { return false };
        for p in found {
            let counts = ways[p].pattern.counts.iter();
            self.chosen.push(counts.flat_map(|&(i, n)| (0..n).map(move |_| i)).collect());
        }
        true
    }

    fn longest_left(&self) -> Option<usize> {
        self.left.iter().position(|&d| d > 0)
    }

    fn take(&mut self, bar: Vec<usize>) {
        let mut used = 0;
        for &i in &bar {
            self.left[i] -= 1;
            self.rest = self.rest.wrapping_sub(self.names[i]);
            used += self.model.pieces[i].len;
        }
        self.spare -= self.cap - used;
        self.open -= 1;
        self.chosen.push(bar);
    }

    fn undo(&mut self) {
        let Some(bar) = self.chosen.pop() else { return };
        let mut used = 0;
        for &i in &bar {
            self.left[i] += 1;
            self.rest = self.rest.wrapping_add(self.names[i]);
            used += self.model.pieces[i].len;
        }
        self.spare += self.cap - used;
        self.open += 1;
    }

    /// Depth-first search for the bars that are left, until `most` nodes are counted.
    fn complete(&mut self, most: u64) -> bool {
        let Some(first) = self.longest_left() else { return true };
        if self.open == 0 || self.nodes >= most {
            return false;
        }
        let place = (self.rest >> 32) as usize % MEMORY;
        if self.dead[place] == self.rest {
            return false;
        }
        let mut found = self.completions(first, TRIED, NODES_A_BAR);
        found.sort_by_key(|f| f.0);
        for (_, bar) in found {
            self.take(bar);
            if self.complete(most) {
                return true;
            }
            self.undo();
        }
        self.dead[place] = self.rest;
        false
    }

    /// Up to `most` ways to fill a bar that holds a piece, as (waste, pieces in order), the longest
    /// second piece first.
    fn completions(&mut self, first: usize, most: usize, nodes: u64) -> Vec<(i64, Vec<usize>)> {
        let shortest = self.left.iter().rposition(|&d| d > 0).map_or(0, |i| self.model.pieces[i].len);
        let mut fill = Fill {
            packing: self,
            shortest,
            most,
            nodes,
            bar: vec![first],
            found: Vec::new(),
        };
        fill.packing.left[first] -= 1;
        let rest = fill.packing.cap - fill.packing.model.pieces[first].len;
        fill.go(first, rest);
        let found = fill.found;
        self.left[first] += 1;
        found
    }
}

/// How many of each piece a bar holds, its pieces being in order.
fn counted(bar: &[usize]) -> Vec<(usize, u32)> {
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for &i in bar {
        match counts.last_mut() {
            Some(last) if last.0 == i => last.1 += 1,
            _ => counts.push((i, 1)),
        }
    }
    counts
}

struct Fill<'a, 'm> {
    packing: &'a mut Packing<'m>,
    shortest: i64,
    most: usize,
    nodes: u64,
    bar: Vec<usize>,
    found: Vec<(i64, Vec<usize>)>,
}

impl Fill<'_, '_> {
    /// Adds pieces from `from` on to the bar in every way that wastes no more than is spare.
    fn go(&mut self, from: usize, rest: i64) {
        let spare = self.packing.spare;
        if rest < self.shortest {
            if rest <= spare {
                self.found.push((rest, self.bar.clone()));
            }
            return;
        }
        let pieces = &self.packing.model.pieces;
        let mut at = from + pieces[from..].partition_point(|p| p.len > rest);
        let mut added = false;
        while at < pieces.len() {
            if self.nodes == 0 || self.found.len() >= self.most {
                return;
            }
            self.nodes -= 1;
            self.packing.nodes += 1;
            let len = pieces[at].len;
            let over = rest - len;
            if over > spare && over < self.shortest {
                // Nothing fits beside it: on to those that leave room for another.
                let room = rest - self.shortest;
                at += pieces[at..].partition_point(|p| p.len > room);
                continue;
            }
            if self.packing.left[at] > 0 {
                added = true;
                self.packing.left[at] -= 1;
                self.bar.push(at);
                self.go(at, over);
                self.bar.pop();
                self.packing.left[at] += 1;
            }
            at += 1;
        }
        if !added && rest <= spare {
            self.found.push((rest, self.bar.clone()));
        }
    }
}
