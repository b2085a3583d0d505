//! Plans that waste next to nothing, bar by bar, the longest piece first.
//!
//! Where a plan of as few bars as the bound allows may waste but little in all, a bar is as good as
//! what it wastes: the longest piece left is put in, and what goes with it is chosen among the
//! fullest completions (bin completion; Korf, AAAI 2002, from memory). What is wasted is counted in
//! the weights of the bound: at first lengths, later the prices of the LP, by which a bar of few
//! long pieces may waste nothing where one of many short ones does. Short pieces go with long ones,
//! so that the rest grows alike and has ever more ways. Where all ways to fill a bar can be listed,
//! [`super::cover`] looks for an exact cover. Else the first bars are chosen for good, the last
//! ones by a depth-first search; where that fails, all begins anew with other choices.
//!
//! Without proof, and for one kind of bar. Choices are drawn from a generator of fixed seed.

use super::cover::{Cover, Way};
use super::greedy::Rest;
use super::knapsack::{Item, Suffix};
use super::model::{Model, Pattern, Plan};
use crate::solve::budget::Budget;

/// More than this share of a bar to waste in all is too much.
const MOST_WASTE: i64 = 8;

/// Wastes that differ by less than this share of a bar count as equal.
const FINE: i64 = 1 << 12;

/// Bars that the depth-first search takes over.
const LAST_BARS: i64 = 24;

/// Nodes of one depth-first search, and of listing the ways to fill its bars.
const NODES_AT_ONCE: u64 = 10_000;

/// Completions of a bar among which the first bars choose, and nodes to find them.
const CHOICE: usize = 12;
const NODES_A_BAR: u64 = 600;

/// Completions of a bar that the depth-first search tries.
const TRIED: usize = 10;

/// Ways to fill a bar that are listed.
const LISTED: usize = 20_000;

/// Rounds of choices.
const ROUNDS: u64 = 40;

/// Remembers so many rests that had no plan.
const MEMORY: usize = 1 << 12;

/// What bars are to hold: weights of the pieces, and the most that a bar can hold of them.
pub(super) struct Aim<'a> {
    pub weights: &'a [i64],
    pub worth: i64,
}

/// A plan for `rest` of at most `price`, looked for with `nodes` nodes; `None` if none is found, if
/// there are several kinds of bar, or if more may be wasted than this is good for.
pub(super) fn pack(
    model: &Model,
    rest: &Rest,
    aim: &Aim<'_>,
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
    let weighed = aim.weights.iter().zip(&rest.demand);
    let held = weighed.fold(0i64, |sum, (&u, &d)| sum.saturating_add(u.saturating_mul(d.into())));
    let spare = bars.checked_mul(aim.worth)?.checked_sub(held)?;
    if !(0..=aim.worth / MOST_WASTE).contains(&spare) {
        return None;
    }
    let mut packing = Packing::new(model, aim);
    for round in 0..ROUNDS {
        packing.restart(&rest.demand, bars, spare);
        let found = packing.attempt(round, nodes);
        let go_on = budget.spend(packing.spent());
        if found {
            return Some(packing.plan());
        }
        if !go_on || packing.nodes >= nodes || packing.listed {
            break;
        }
    }
    None
}

struct Packing<'a> {
    model: &'a Model,
    aim: &'a Aim<'a>,
    /// What the pieces from one on can hold at most of some length.
    suffix: Suffix,
    left: Vec<u32>,
    /// What the bars left may waste, and how many bars are left.
    spare: i64,
    open: i64,
    /// The pieces of every bar so far, longest first.
    chosen: Vec<Vec<usize>>,
    nodes: u64,
    told: u64,
    /// Work done beside nodes.
    aside: u64,
    random: u64,
    /// A number for each piece; a rest is known by the sum over its pieces.
    names: Vec<u64>,
    rest: u64,
    dead: Vec<u64>,
    /// Whether all ways to fill a bar could be listed at the start.
    listed: bool,
}

impl<'a> Packing<'a> {
    fn new(model: &'a Model, aim: &'a Aim<'a>) -> Self {
        let mut packing = Self {
            model,
            aim,
            suffix: Suffix::new(0, &[], &mut Budget::work(0)),
            left: Vec::new(),
            spare: 0,
            open: 0,
            chosen: Vec::new(),
            nodes: 0,
            told: 0,
            aside: 0,
            random: 0x9e37_79b9_7f4a_7c15,
            names: Vec::new(),
            rest: 0,
            dead: vec![0; MEMORY],
            listed: false,
        };
        packing.names = model.pieces.iter().map(|_| packing.draw()).collect();
        packing
    }

    fn restart(&mut self, demand: &[u32], bars: i64, spare: i64) {
        if self.left != demand {
            self.left = demand.to_vec();
            self.look_again();
        }
        (self.spare, self.open) = (spare, bars);
        self.chosen.clear();
        let names = self.names.iter().zip(demand);
        self.rest = names.fold(0, |sum, (&n, &d)| sum.wrapping_add(n.wrapping_mul(d.into())));
    }

    /// SplitMix64 (Steele, Lea & Flood, OOPSLA 2014).
    fn draw(&mut self) -> u64 {
        self.random = self.random.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.random;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Steps of work since this was asked last.
    fn spent(&mut self) -> u64 {
        let nodes = self.nodes - self.told;
        self.told = self.nodes;
        nodes / 4 + std::mem::take(&mut self.aside) + 1
    }

    /// Reckons again with what is left.
    fn look_again(&mut self) {
        self.suffix = suffix(self.model, &self.left, self.aim);
        self.aside += self.suffix.work();
    }

    fn plan(&self) -> Plan {
        let mut plan = Plan::default();
        for bar in &self.chosen {
            *plan.bars.entry(Pattern { kind: 0, counts: counted(bar) }).or_insert(0) += 1;
        }
        plan
    }

    /// One plan from the start; `false` if it came to nothing. The first takes the fullest bars, the
    /// others choose among those that are about as full.
    fn attempt(&mut self, round: u64, nodes: u64) -> bool {
        if round == 0
            && let Some(ways) = self.list(nodes / 8)
        {
            self.listed = true;
            return self.cover(&ways, nodes);
        }
        while self.open > LAST_BARS {
            let Some(first) = self.longest_left() else { return true };
            let mut found = self.completions(first, CHOICE, NODES_A_BAR);
            if found.is_empty() {
                self.look_again();
                found = self.completions(first, CHOICE, NODES_A_BAR);
            }
            if found.is_empty() {
                return false;
            }
            let fine = self.aim.worth / FINE + 1;
            found.sort_by_key(|f| f.0 / fine);
            let full = found.iter().take_while(|f| f.0 / fine == found[0].0 / fine).count();
            let at = if round == 0 { 0 } else { self.draw() as usize % full };
            let (_, bar) = found.swap_remove(at);
            self.take(bar);
        }
        self.look_again();
        if let Some(ways) = self.list(NODES_AT_ONCE / 5) {
            let most = nodes.min(self.nodes + NODES_AT_ONCE);
            return self.cover(&ways, most);
        }
        let most = self.nodes + NODES_AT_ONCE;
        self.complete(most)
    }

    /// Every way to fill a bar that wastes no more than is spare; `None` if there are too many.
    fn list(&mut self, nodes: u64) -> Option<Vec<Way>> {
        let mut ways = Vec::new();
        let mut nodes = nodes;
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
            let way = |(waste, bar): (i64, Vec<usize>)| {
                let pattern = Pattern { kind: 0, counts: counted(&bar) };
                Way { pattern, waste }
            };
            ways.extend(found.into_iter().map(way));
        }
        Some(ways)
    }

    /// Covers what is left by listed ways.
    fn cover(&mut self, ways: &[Way], most: u64) -> bool {
        let mut cover = Cover::new(ways, &self.left, self.spare, self.open);
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

    /// What a bar wastes.
    fn waste(&self, bar: &[usize]) -> i64 {
        self.aim.worth - bar.iter().map(|&i| self.aim.weights[i]).sum::<i64>()
    }

    fn take(&mut self, bar: Vec<usize>) {
        for &i in &bar {
            self.left[i] -= 1;
            self.rest = self.rest.wrapping_sub(self.names[i]);
        }
        self.spare -= self.waste(&bar);
        self.open -= 1;
        self.chosen.push(bar);
    }

    fn undo(&mut self) {
        let Some(bar) = self.chosen.pop() else { return };
        for &i in &bar {
            self.left[i] += 1;
            self.rest = self.rest.wrapping_add(self.names[i]);
        }
        self.spare += self.waste(&bar);
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
        let fine = self.aim.worth / FINE + 1;
        found.sort_by_key(|f| f.0 / fine);
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

    /// Up to `most` ways to fill a bar that holds a piece and none longer, as (waste, pieces in
    /// order), the longest second piece first.
    fn completions(&mut self, first: usize, most: usize, nodes: u64) -> Vec<(i64, Vec<usize>)> {
        let last = self.left.iter().rposition(|&d| d > 0).unwrap_or(0);
        let shortest = self.model.pieces[last].len;
        let needed = self.aim.worth - self.spare;
        let rest = self.model.kinds[0].cap - self.model.pieces[first].len;
        let bar = vec![first];
        self.left[first] -= 1;
        let mut fill =
            Fill { packing: self, shortest, needed, most, nodes, bar, found: Vec::new() };
        fill.go(first, rest, fill.packing.aim.weights[first]);
        let found = fill.found;
        self.left[first] += 1;
        found
    }
}

/// What pieces can hold at most, so many of each being left.
fn suffix(model: &Model, left: &[u32], aim: &Aim<'_>) -> Suffix {
    let cap = model.kinds[0].cap;
    let items: Vec<Item> = (model.pieces.iter().zip(left).zip(aim.weights).enumerate())
        .map(|(piece, ((p, &d), &value))| {
            let fit = u32::try_from(cap / p.len).unwrap_or(u32::MAX);
            Item { piece, len: p.len, most: d.min(fit), value }
        })
        .collect();
    Suffix::new(cap, &items, &mut Budget::work(u64::MAX))
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
    /// What a bar has to hold.
    needed: i64,
    most: usize,
    nodes: u64,
    bar: Vec<usize>,
    found: Vec<(i64, Vec<usize>)>,
}

impl Fill<'_, '_> {
    /// Adds pieces from `from` on to the bar in every way that holds what it has to.
    fn go(&mut self, from: usize, rest: i64, value: i64) {
        let pieces = &self.packing.model.pieces;
        let mut added = false;
        let fit = if rest < self.shortest {
            pieces.len()
        } else {
            from + pieces[from..].partition_point(|p| p.len > rest)
        };
        for (at, piece) in pieces.iter().enumerate().skip(fit) {
            if self.nodes == 0 || self.found.len() >= self.most {
                return;
            }
            self.nodes -= 1;
            self.packing.nodes += 1;
            if value + self.packing.suffix.most(at, rest) < self.needed {
                break;
            }
            if self.packing.left[at] == 0 {
                continue;
            }
            added = true;
            let (rest, value) = (rest - piece.len, value + self.packing.aim.weights[at]);
            if value + self.packing.suffix.most(at, rest) >= self.needed {
                self.packing.left[at] -= 1;
                self.bar.push(at);
                self.go(at, rest, value);
                self.bar.pop();
                self.packing.left[at] += 1;
            }
        }
        if !added && value >= self.needed {
            self.found.push((self.packing.aim.worth - value, self.bar.clone()));
        }
    }
}
