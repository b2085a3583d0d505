//! Better plans of the same price: longer offcuts in fewer pieces, fewer patterns.
//!
//! Two bars at a time are cut anew: the first takes the fullest choice of what lies on both, the
//! second the rest, which then leaves the longer offcut. Whatever comes first in the order of
//! [`super::model::Cost`] is kept. A local search without proof, on a small share of the work.

use super::knapsack::{self, Item, QUICK};
use super::model::{Pattern, Plan};
use super::search::Search;
use crate::solve::budget::Budget;

/// Steps that this may take where offcuts are kept, and where only patterns are at stake.
const MOST_WORK: u64 = 300_000;
const LITTLE_WORK: u64 = 40_000;

/// Plans with more patterns than this are left as they are.
const MOST_PATTERNS: usize = 60;

/// Improves the best plan until no pair of bars does it.
pub(super) fn polish(search: &mut Search, budget: &mut Budget) {
    let most = if search.model.keeps() { MOST_WORK } else { LITTLE_WORK };
    let mut share = budget.share(most.min(budget.left()));
    while let Some(better) = step(search, &mut share) {
        search.offer(&better);
    }
    budget.spend(share.spent().min(budget.left()));
}

/// The first better plan that differs in two bars.
fn step(search: &Search, budget: &mut Budget) -> Option<Plan> {
    let (cost, plan) = search.best()?;
    let patterns: Vec<&Pattern> =
        plan.bars.keys().filter(|p| search.model.kinds[p.kind].only.is_none()).collect();
    if patterns.len() > MOST_PATTERNS {
        return None;
    }
    for first in &patterns {
        for second in &patterns {
            let alone = first == second && plan.bars[*first] < 2;
            if alone || !budget.spend(20) {
                continue;
            }
            let Some([a, b]) = recut(search, first, second, budget) else { continue };
            for times in [plan.bars[*first].min(plan.bars[*second]), 1] {
                // Twice the same pattern uses up its bars by two.
                let times = if first == second { times / 2 } else { times }.max(1);
                if search.model.kinds.len() == 1
                    && !improves(search, plan, [*first, *second], [&a, &b], times)
                {
                    continue;
                }
                let mut other = plan.clone();
                for (old, n) in [(*first, times), (*second, times)] {
                    if let Some(bars) = other.bars.get_mut(old) {
                        *bars = bars.saturating_sub(n);
                    }
                }
                other.bars.retain(|_, n| *n > 0);
                for new in [&a, &b].into_iter().filter(|p| !p.counts.is_empty()) {
                    *other.bars.entry(new.clone()).or_insert(0) += times;
                }
                let other = search.model.shrink(&other);
                if search.model.cost(&other) < *cost {
                    return Some(other);
                }
            }
        }
    }
    None
}

/// Whether a plan is better for cutting `times` bars of two patterns otherwise, where there is but
/// one kind of bar, so that the difference can be told from those alone.
fn improves(
    search: &Search,
    plan: &Plan,
    old: [&Pattern; 2],
    new: [&Pattern; 2],
    times: u32,
) -> bool {
    let model = &search.model;
    if new.iter().any(|p| p.counts.is_empty()) {
        return true;
    }
    let kept = |p: &Pattern| model.kept(p.kind, model.used(&p.counts));
    let longer = new.map(kept).iter().sum::<i64>() - old.map(kept).iter().sum::<i64>();
    let pieces = |of: [&Pattern; 2]| of.iter().filter(|p| kept(p) > 0).count();
    // Both taken twice are one pattern.
    let gone = |p: &Pattern| {
        let taken = old.iter().filter(|o| **o == p).count() as u32 * times;
        plan.bars.get(p).is_none_or(|&n| n <= taken)
    };
    let distinct = |of: [&Pattern; 2]| if of[0] == of[1] { 1 } else { 2 };
    let settings =
        |all: Vec<&&Pattern>| (all.len(), all.iter().map(|p| model.settings(p)).sum::<usize>());
    let lost = settings(old.iter().take(distinct(old)).filter(|p| gone(p)).collect());
    let there = |p: &Pattern| plan.bars.contains_key(p) && !(old.contains(&p) && gone(p));
    let added = settings(new.iter().take(distinct(new)).filter(|p| !there(p)).collect());
    (std::cmp::Reverse(longer), pieces(new), added) < (std::cmp::Reverse(0), pieces(old), lost)
}

/// What lies on two bars, the first as full as can be.
fn recut(
    search: &Search,
    first: &Pattern,
    second: &Pattern,
    budget: &mut Budget,
) -> Option<[Pattern; 2]> {
    let model = &search.model;
    let mut both = first.counts.clone();
    for &(i, n) in &second.counts {
        match both.iter_mut().find(|c| c.0 == i) {
            Some(same) => same.1 += n,
            None => both.push((i, n)),
        }
    }
    both.sort_unstable();
    // Values are lengths, scaled below what a filling may be worth.
    let cap = model.kinds[first.kind].cap;
    let down = cap / knapsack::TOP + 1;
    let item = |&(i, n): &(usize, u32)| {
        let len = model.pieces[i].len;
        Item { piece: i, len, most: n, value: len / down }
    };
    let items: Vec<Item> = both.iter().map(item).collect();
    let filled = knapsack::fill(&[cap], &items, QUICK, budget).pop()?;
    if model.used(&filled.counts) <= model.used(&first.counts) {
        return None;
    }
    let taken = |i: usize| filled.counts.iter().find(|c| c.0 == i).map_or(0, |c| c.1);
    let rest = both.iter().map(|&(i, n)| (i, n - taken(i))).filter(|c| c.1 > 0).collect();
    let first = Pattern { kind: first.kind, counts: filled.counts.clone() };
    Some([first, Pattern { kind: second.kind, counts: rest }])
}
