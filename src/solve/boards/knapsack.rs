//! The most valuable way to fill a bar, for every kind of bar: the pricing of column generation.
//!
//! A bounded knapsack, solved exactly in integers. Short capacities by dynamic programming over
//! the length, all kinds from one table (`O(cap * stages)`, a stage per power of two of a count);
//! long ones by depth-first branch and bound, pieces by value per length, under Dantzig's bound
//! (Martello & Toth, Knapsack Problems, 1990, section 3.5), kind by kind. Where branch and bound
//! meets its node limit it still returns a proved upper bound, and the best filling seen.

use crate::solve::budget::Budget;

/// A piece that may be used `most` times, each worth `value`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::solve) struct Item {
    pub piece: usize,
    pub len: i64,
    pub most: u32,
    pub value: i64,
}

/// The best filling found of one capacity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::solve) struct Filling {
    /// Its value.
    pub value: i64,
    /// No filling is worth more; equal to `value` if proved best.
    pub bound: i64,
    /// (piece, how many), pieces ascending.
    pub counts: Vec<(usize, u32)>,
}

/// No filling's value may pass this, so that tables can hold 32 bits.
pub(super) const TOP: i64 = 1 << 30;

/// Tables larger than this are not built; branch and bound takes over.
const MOST_CELLS: i64 = 3 << 20;

/// Table cells that count as one step of work.
const CELLS_PER_STEP: u64 = 16;

/// Nodes of one branch and bound, where its result is to be proved.
pub(super) const THOROUGH: u64 = 2_000_000;

/// Nodes of one branch and bound, where any good filling will do.
pub(in crate::solve) const QUICK: u64 = 20_000;

/// Best filling of each capacity. Items of no value or that do not fit are left out; every
/// filling's value must stay below [`TOP`]. Branch and bound stops after `effort` nodes.
pub(in crate::solve) fn fill(
    caps: &[i64],
    items: &[Item],
    effort: u64,
    budget: &mut Budget,
) -> Vec<Filling> {
    let longest = caps.iter().copied().max().unwrap_or(0);
    let mut items: Vec<Item> = (items.iter().copied())
        .map(|item| Item {
            most: item.most.min(u32::try_from(longest / item.len).unwrap_or(u32::MAX)),
            ..item
        })
        .filter(|item| item.value > 0 && item.most > 0)
        .collect();
    let stages: i64 = items.iter().map(|i| i64::from(u32::BITS - i.most.leading_zeros())).sum();
    if (stages + 1).saturating_mul(longest) <= MOST_CELLS {
        return Table::build(longest, &items, budget).read(caps);
    }
    items.sort_by(|a, b| {
        let (a_rate, b_rate) =
            (i128::from(a.value) * i128::from(b.len), i128::from(b.value) * i128::from(a.len));
        b_rate.cmp(&a_rate).then(b.len.cmp(&a.len)).then(a.piece.cmp(&b.piece))
    });
    caps.iter().map(|&cap| branch(cap, &items, effort, budget)).collect()
}

/// A piece taken `times` at once or not at all.
#[derive(Debug, Clone, Copy)]
struct Stage {
    piece: usize,
    times: u32,
    len: usize,
    value: i32,
}

/// Best value per capacity after each stage.
struct Table {
    stages: Vec<Stage>,
    width: usize,
    cells: Vec<i32>,
}

impl Table {
    fn build(longest: i64, items: &[Item], budget: &mut Budget) -> Self {
        let width = usize::try_from(longest).unwrap_or(0) + 1;
        let stages = stages(items);
        budget.spend((stages.len() * width) as u64 / CELLS_PER_STEP + 1);
        let mut cells = vec![0i32; (stages.len() + 1) * width];
        for (s, stage) in stages.iter().enumerate() {
            let (old, new) = cells[s * width..(s + 2) * width].split_at_mut(width);
            let len = stage.len.min(width);
            new[..len].copy_from_slice(&old[..len]);
            for ((new, &skip), &from) in new[len..].iter_mut().zip(&old[len..]).zip(&*old) {
                *new = skip.max(from + stage.value);
            }
        }
        Self { stages, width, cells }
    }

    fn read(&self, caps: &[i64]) -> Vec<Filling> {
        caps.iter().map(|&cap| self.read_one(usize::try_from(cap).unwrap_or(0))).collect()
    }

    fn read_one(&self, cap: usize) -> Filling {
        let at = |s: usize, c: usize| self.cells[s * self.width + c];
        let value = i64::from(at(self.stages.len(), cap));
        let mut counts: Vec<(usize, u32)> = Vec::new();
        let mut c = cap;
        for (s, stage) in self.stages.iter().enumerate().rev() {
            if at(s + 1, c) != at(s, c) {
                c -= stage.len;
                match counts.last_mut() {
                    Some(last) if last.0 == stage.piece => last.1 += stage.times,
                    _ => counts.push((stage.piece, stage.times)),
                }
            }
        }
        counts.sort_unstable();
        Filling { value, bound: value, counts }
    }
}

/// Upper bounds of what the items from one on can hold of some length.
pub(super) struct Suffix {
    exact: Option<(Table, Vec<usize>)>,
    /// Best value per length among the items from one on, as (value, length).
    rates: Vec<(i64, i64)>,
}

impl Suffix {
    /// Bounds for `items`, exact if `longest` is short enough for a table.
    pub fn new(longest: i64, items: &[Item], budget: &mut Budget) -> Self {
        let mut rates = vec![(0, 1); items.len() + 1];
        for (i, item) in items.iter().enumerate().rev() {
            let after = rates[i + 1];
            let better = i128::from(item.value) * i128::from(after.1)
                > i128::from(after.0) * i128::from(item.len);
            rates[i] = if better { (item.value, item.len) } else { after };
        }
        let backwards: Vec<Item> = items.iter().rev().copied().collect();
        let stages = |item: &Item| u32::BITS - item.most.leading_zeros();
        let total: i64 = items.iter().map(|i| i64::from(stages(i))).sum();
        let exact = ((total + 1).saturating_mul(longest) <= MOST_CELLS).then(|| {
            // ends[i]: stages that items i.. take up, which come first in the table.
            let mut ends = vec![0; items.len() + 1];
            for (i, item) in items.iter().enumerate().rev() {
                ends[i] = ends[i + 1] + stages(item) as usize;
            }
            (Table::build(longest, &backwards, budget), ends)
        });
        Self { exact, rates }
    }

    /// Steps of work that it took.
    pub fn work(&self) -> u64 {
        self.exact.as_ref().map_or(1, |(table, _)| table.cells.len() as u64 / CELLS_PER_STEP)
    }

    /// No filling of `rest` with items `from..` is worth more.
    pub fn most(&self, from: usize, rest: i64) -> i64 {
        match &self.exact {
            Some((table, ends)) => {
                let rest = usize::try_from(rest).unwrap_or(0);
                i64::from(table.cells[ends[from] * table.width + rest])
            }
            None => {
                let (value, len) = self.rates[from];
                let most = i128::from(rest) * i128::from(value) / i128::from(len);
                i64::try_from(most).unwrap_or(i64::MAX)
            }
        }
    }
}

/// Counts split into powers of two and a rest, so that every count up to `most` is a sum.
fn stages(items: &[Item]) -> Vec<Stage> {
    let mut stages = Vec::new();
    for item in items {
        let mut left = item.most;
        let mut times = 1;
        while left > 0 {
            let take = times.min(left);
            stages.push(Stage {
                piece: item.piece,
                times: take,
                // Saturating: what does not fit any table is never taken.
                len: usize::try_from(item.len.saturating_mul(i64::from(take)))
                    .unwrap_or(usize::MAX),
                value: i32::try_from(item.value.saturating_mul(i64::from(take)))
                    .unwrap_or(i32::MAX / 2),
            });
            left -= take;
            times = times.saturating_mul(2);
        }
    }
    stages
}

/// Depth-first search in order of value per length; the greedy filling comes first.
fn branch(cap: i64, items: &[Item], effort: u64, budget: &mut Budget) -> Filling {
    let items: Vec<Item> = items.iter().copied().filter(|i| i.len <= cap).collect();
    let mut search = Branch::new(&items, effort);
    let whole = search.rest_bound(0, cap);
    search.dive(0, cap, 0);
    budget.spend(search.nodes);
    let mut counts: Vec<(usize, u32)> = items
        .iter()
        .zip(&search.best_taken)
        .filter(|(_, n)| **n > 0)
        .map(|(i, &n)| (i.piece, n))
        .collect();
    counts.sort_unstable();
    let bound = if search.nodes >= effort { whole.max(search.best) } else { search.best };
    Filling { value: search.best, bound, counts }
}

struct Branch<'a> {
    items: &'a [Item],
    /// Items from short to long, and at each place the most valuable item up to there.
    by_length: Vec<(i64, usize)>,
    shortest: i64,
    best: i64,
    best_taken: Vec<u32>,
    taken: Vec<u32>,
    nodes: u64,
    effort: u64,
}

impl<'a> Branch<'a> {
    fn new(items: &'a [Item], effort: u64) -> Self {
        let mut order: Vec<usize> = (0..items.len()).collect();
        order.sort_by_key(|&i| (items[i].len, std::cmp::Reverse(items[i].value), i));
        let by_length: Vec<(i64, usize)> = (order.into_iter())
            .scan(None, |best: &mut Option<usize>, i| {
                if best.is_none_or(|b| items[i].value > items[b].value) {
                    *best = Some(i);
                }
                Some((items[i].len, best.unwrap_or(i)))
            })
            .collect();
        Self {
            shortest: by_length.first().map_or(i64::MAX, |b| b.0),
            by_length,
            items,
            best: 0,
            best_taken: vec![0; items.len()],
            taken: vec![0; items.len()],
            nodes: 0,
            effort,
        }
    }

    /// Dantzig's bound, rounded down, for `rest` length and the items from `from` on.
    fn rest_bound(&self, from: usize, rest: i64) -> i64 {
        let mut rest = rest;
        let mut value = 0i64;
        for item in &self.items[from..] {
            let fit = i64::from(item.most).min(rest / item.len);
            value += item.value * fit;
            rest -= item.len * fit;
            if fit < i64::from(item.most) {
                return value + part_of(rest, item);
            }
        }
        value
    }

    fn dive(&mut self, at: usize, rest: i64, value: i64) {
        if value > self.best {
            self.best = value;
            self.best_taken.clone_from(&self.taken);
        }
        if rest < self.shortest {
            return;
        }
        if rest < self.shortest.saturating_mul(2) && self.last(rest, value) {
            return;
        }
        // One round per item: all counts but none go deeper, none goes on in this loop.
        for at in at..self.items.len() {
            self.nodes += 1;
            let item = self.items[at];
            // Items go by falling rate: all that follow together hold no more than this one would.
            if value + part_of(rest, &item) <= self.best || self.nodes >= self.effort {
                return;
            }
            if item.len > rest {
                continue;
            }
            let most = i64::from(item.most).min(rest / item.len);
            for n in (0..=most).rev() {
                // Likewise fewer of this one can only lower the bound.
                let (rest, value) = (rest - n * item.len, value + n * item.value);
                if value + self.rest_bound(at + 1, rest) <= self.best {
                    return;
                }
                if n > 0 {
                    self.taken[at] = u32::try_from(n).unwrap_or(u32::MAX);
                    self.dive(at + 1, rest, value);
                    self.taken[at] = 0;
                }
            }
        }
    }

    /// Where only one more piece fits: takes the most valuable that does. `false` if that one is
    /// used up and the search has to go on.
    fn last(&mut self, rest: i64, value: i64) -> bool {
        let fit = self.by_length.partition_point(|b| b.0 <= rest);
        let Some(&(_, item)) = fit.checked_sub(1).and_then(|at| self.by_length.get(at)) else {
            return true;
        };
        let value = value + self.items[item].value;
        if value > self.best {
            if self.taken[item] >= self.items[item].most {
                return false;
            }
            self.best = value;
            self.best_taken.clone_from(&self.taken);
            self.best_taken[item] += 1;
        }
        true
    }
}

/// What `rest` length of an item is worth, rounded down.
fn part_of(rest: i64, item: &Item) -> i64 {
    // Values stay below 2^30, so that short lengths need no wider numbers.
    match rest.checked_mul(item.value) {
        Some(whole) => whole / item.len,
        None => {
            let whole = i128::from(rest) * i128::from(item.value) / i128::from(item.len);
            i64::try_from(whole).unwrap_or(i64::MAX / 2)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Best value by trying every count of every item.
    fn brute(cap: i64, items: &[Item]) -> i64 {
        let Some((first, rest)) = items.split_first() else { return 0 };
        (0..=i64::from(first.most))
            .take_while(|n| n * first.len <= cap)
            .map(|n| n * first.value + brute(cap - n * first.len, rest))
            .max()
            .unwrap_or(0)
    }

    fn value_of(filling: &Filling, cap: i64, items: &[Item]) -> i64 {
        let of = |piece: usize| items.iter().find(|i| i.piece == piece).expect("an item's piece");
        let mut value = 0;
        let mut length = 0;
        for &(piece, n) in &filling.counts {
            assert!(n > 0 && n <= of(piece).most);
            value += of(piece).value * i64::from(n);
            length += of(piece).len * i64::from(n);
        }
        assert!(length <= cap);
        value
    }

    #[test]
    fn table_and_branching_agree_with_trying_everything() {
        let mut state = 1u64;
        let mut next = |most: u64| {
            state = state.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(1);
            ((state >> 33) % most) as i64
        };
        for _ in 0..2000 {
            let cap = 1 + next(40);
            let mut items: Vec<Item> = (0..1 + next(5) as usize)
                .map(|piece| Item {
                    piece,
                    len: 1 + next(20),
                    most: 1 + next(3) as u32,
                    value: 1 + next(30),
                })
                .collect();
            items.sort_by(|a, b| (b.value * a.len).cmp(&(a.value * b.len)));
            let best = brute(cap, &items);
            let budget = &mut Budget::work(u64::MAX);
            let by_table = &Table::build(cap, &items, budget).read(&[cap])[0];
            let by_branching = &branch(cap, &items, THOROUGH, budget);
            for filling in [by_table, by_branching] {
                assert_eq!((filling.value, filling.bound), (best, best), "{cap} {items:?}");
                assert_eq!(value_of(filling, cap, &items), best);
            }
            let hasty = branch(cap, &items, 3, budget);
            assert!(hasty.value <= best && best <= hasty.bound);
            let suffix = Suffix::new(cap, &items, budget);
            for from in 0..=items.len() {
                assert_eq!(suffix.most(from, cap), brute(cap, &items[from..]));
            }
        }
    }
}
