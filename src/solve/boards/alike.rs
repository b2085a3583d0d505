//! Fewer different patterns at the same price and offcuts: two that become one, three that become two.
//!
//! The 2-to-1 and 3-to-2 combinations of Foerster & Waescher, "Pattern reduction in one-dimensional cutting stock problems",
//! Int. J. Prod. Res. 38 (2000); from memory. A local search without proof; whatever does not come first in the order of
//! [`super::model::Cost`] is dropped.

use std::collections::BTreeMap;

use super::model::{Pattern, Plan};
use super::search::Search;
use crate::solve::budget::Budget;

/// Steps that this may take.
const MOST_WORK: u64 = 400_000;
/// Of more patterns than this only the first are looked at.
const MOST_PATTERNS: usize = 40;
/// Pairs of contents looked at for each three patterns and each way to share out their bars.
const MOST_PAIRS: usize = 40;
/// With no more bars than this all ways to share them out are looked at.
const FEW_BARS: u32 = 12;

/// Improves the best plan until no two or three patterns do it.
pub(super) fn alike(search: &mut Search, budget: &mut Budget) {
    let mut share = budget.share(MOST_WORK.min(budget.left()));
    while let Some(better) = step(search, &mut share) {
        search.offer(&better);
    }
    budget.spend(share.spent().min(budget.left()));
}

/// The first better plan.
fn step(search: &Search, budget: &mut Budget) -> Option<Plan> {
    let (_, plan) = search.best()?;
    let all = plan.bars.iter().filter(|(p, _)| search.model.kinds[p.kind].only.is_none());
    let all: Vec<(&Pattern, u32)> = all.map(|(p, n)| (p, *n)).take(MOST_PATTERNS).collect();
    for i in 0..all.len() {
        for j in 0..i {
            if let Some(better) = merged(search, plan, &[all[i], all[j]], budget) {
                return Some(better);
            }
        }
    }
    for i in 0..all.len() {
        for j in 0..i {
            for k in 0..j {
                if let Some(better) = merged(search, plan, &[all[i], all[j], all[k]], budget) {
                    return Some(better);
                }
            }
        }
    }
    None
}

/// The plan with one pattern less than these, which are of one kind of bar, if there is one that comes before it.
fn merged(
    search: &Search,
    plan: &Plan,
    old: &[(&Pattern, u32)],
    budget: &mut Budget,
) -> Option<Plan> {
    let kind = old[0].0.kind;
    if old.iter().any(|(p, _)| p.kind != kind) || !budget.spend(4) {
        return None;
    }
    let model = &search.model;
    let mut all: BTreeMap<usize, u32> = BTreeMap::new();
    for (pattern, times) in old {
        for (piece, n) in &pattern.counts {
            let sum = all.entry(*piece).or_default();
            *sum = sum.checked_add(n.checked_mul(*times)?)?;
        }
    }
    let bars = old.iter().try_fold(0u32, |sum, (_, n)| sum.checked_add(*n))?;
    let shares: Vec<u32> = match old.len() {
        2 => vec![0],
        _ if bars <= FEW_BARS => (1..=bars / 2).collect(),
        _ => old.iter().map(|(_, n)| *n.min(&(bars - n))).collect(),
    };
    let cap = model.kinds[kind].cap;
    for once in shares {
        for counts in pairs(&all, [once, bars - once], cap, |i| model.pieces[i].len, budget) {
            let mut other = plan.clone();
            old.iter().for_each(|(pattern, _)| _ = other.bars.remove(*pattern));
            for (counts, times) in counts.into_iter().zip([once, bars - once]) {
                if times > 0 && !counts.is_empty() {
                    *other.bars.entry(Pattern { kind, counts }).or_insert(0) += times;
                }
            }
            budget.spend(other.bars.len() as u64);
            let other = model.shrink(&other);
            if search.best().is_some_and(|(cost, _)| model.cost(&other) < *cost) {
                return Some(other);
            }
        }
    }
    None
}

/// What is cut from a bar: (piece, how many).
type Counts = Vec<(usize, u32)>;

/// Pairs of contents of bars of length `cap` that are all pieces when they are cut so often.
fn pairs(
    all: &BTreeMap<usize, u32>,
    times: [u32; 2],
    cap: i64,
    length: impl Fn(usize) -> i64,
    budget: &mut Budget,
) -> Vec<[Counts; 2]> {
    let mut pairs = vec![([Counts::new(), Counts::new()], [0i64; 2])];
    for (&piece, &n) in all {
        let mut longer = Vec::new();
        for (contents, used) in &pairs {
            let most = n.checked_div(times[0]).unwrap_or(0);
            for first in 0..=most {
                let rest = n - first * times[0];
                if !rest.is_multiple_of(times[1]) || longer.len() >= MOST_PAIRS {
                    continue;
                }
                let numbers = [first, rest / times[1]];
                let used = [0, 1].map(|s| {
                    length(piece).saturating_mul(i64::from(numbers[s])).saturating_add(used[s])
                });
                if used.iter().any(|used| *used > cap) {
                    continue;
                }
                let mut contents = contents.clone();
                for (content, n) in contents.iter_mut().zip(numbers).filter(|(_, n)| *n > 0) {
                    content.push((piece, n));
                }
                longer.push((contents, used));
            }
        }
        if !budget.spend(1 + longer.len() as u64) {
            return Vec::new();
        }
        pairs = longer;
    }
    pairs.into_iter().map(|(contents, _)| contents).collect()
}
