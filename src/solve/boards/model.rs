//! The problem in small integers, and plans in them.

use std::collections::BTreeMap;

use super::{BarPattern, BarPlan, BarProblem, BarReason};

/// A kind of bar, grown by one kerf and divided by the common divisor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Kind {
    pub cap: i64,
    pub price: i64,
    pub limit: Option<u32>,
    /// At least so many are to be cut: 0, but for what a search supposes.
    pub least: u32,
    /// No bar at all but leave to go without one such piece: its price is what that costs.
    pub only: Option<usize>,
    /// Index in the problem.
    pub bar: usize,
}

/// All parts of one length, grown by one kerf and divided by the common divisor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Piece {
    pub len: i64,
    pub demand: u32,
    /// (index in the problem, count), in the problem's order.
    members: Vec<(usize, u32)>,
}

/// The problem as the search sees it: kinds from short to long, pieces from long to short.
///
/// With kerf `k`, parts `w` fit a bar `L` if `sum w + (n - 1) k <= L`, which is
/// `sum (w + k) <= L + k`: grown lengths need no kerf. All grown lengths are then divided by their
/// greatest common divisor, and capacities likewise, rounded down: no sum falls in between.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Model {
    pub kinds: Vec<Kind>,
    pub pieces: Vec<Piece>,
    /// What leaving one part uncut costs; more than any plan that cuts all, once one is known.
    pub penalty: i64,
}

/// One way to cut one kind of bar: (piece, how many), pieces ascending, none zero.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pattern {
    pub kind: usize,
    pub counts: Vec<(usize, u32)>,
}

/// What a plan costs, compared from the first field to the last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub missing: u64,
    pub price: i128,
    pub length: i128,
    pub patterns: usize,
}

/// Patterns with how often each is cut, and what could not be cut.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Plan {
    pub bars: BTreeMap<Pattern, u32>,
    pub missing: Vec<(usize, u32)>,
}

impl Model {
    /// Translates a problem; `Err` if a part is longer than every bar that can be had.
    pub fn new(problem: &BarProblem) -> Result<Self, BarReason> {
        let kerf = problem.kerf.max(0);
        let had = problem.bars.iter().filter(|b| b.length > 0 && b.limit != Some(0));
        let longest = had.map(|b| b.length).max().unwrap_or(0);
        let wanted = || problem.parts.iter().enumerate().filter(|(_, p)| p.count > 0);
        if let Some((part, p)) = wanted().max_by_key(|(i, p)| (p.length, std::cmp::Reverse(*i)))
            && p.length > longest
        {
            return Err(BarReason::PartTooLong { part, by: p.length - longest });
        }
        let grown = |w: i64| w.saturating_add(kerf);
        let unit = wanted()
            .filter(|(_, p)| p.length > 0)
            .fold(0, |g, (_, p)| gcd(g, grown(p.length)))
            .max(1);
        let mut by_length: BTreeMap<i64, Vec<(usize, u32)>> = BTreeMap::new();
        for (i, p) in wanted().filter(|(_, p)| p.length > 0) {
            by_length.entry(grown(p.length) / unit).or_default().push((i, p.count));
        }
        let pieces: Vec<Piece> = by_length
            .into_iter()
            .rev()
            .map(|(len, members)| {
                let demand = members.iter().fold(0u32, |sum, m| sum.saturating_add(m.1));
                Piece { len, demand, members }
            })
            .collect();
        let total = pieces.iter().fold(0u32, |sum, p| sum.saturating_add(p.demand));
        let shortest = pieces.last().map_or(i64::MAX, |p| p.len);
        let mut kinds: Vec<Kind> = (problem.bars.iter().enumerate())
            .map(|(bar, b)| Kind {
                cap: if b.length > 0 { grown(b.length) / unit } else { 0 },
                price: b.price.max(0),
                limit: b.limit.filter(|&l| l < total),
                least: 0,
                only: None,
                bar,
            })
            .filter(|k| k.limit != Some(0) && k.cap >= shortest)
            .collect();
        kinds.sort_by_key(|k| (k.cap, k.price, k.limit.unwrap_or(u32::MAX), k.bar));
        Ok(Self { kinds, pieces, penalty: i64::MAX })
    }

    /// Demand of every piece.
    pub fn demand(&self) -> Vec<u32> {
        self.pieces.iter().map(|p| p.demand).collect()
    }

    /// Limit of every kind.
    pub fn limits(&self) -> Vec<Option<u32>> {
        self.kinds.iter().map(|k| k.limit).collect()
    }

    /// Longest capacity.
    pub fn longest(&self) -> i64 {
        self.kinds.last().map_or(0, |k| k.cap)
    }

    /// Length that a pattern uses.
    pub fn used(&self, counts: &[(usize, u32)]) -> i64 {
        counts.iter().map(|&(i, n)| self.pieces[i].len * i64::from(n)).sum()
    }

    /// The greatest common divisor of all prices, at least 1: no plan's price lies in between.
    pub fn price_step(&self) -> i64 {
        self.kinds.iter().fold(0, |g, k| gcd(g, k.price)).max(1)
    }

    /// What a plan costs.
    pub fn cost(&self, plan: &Plan) -> Cost {
        let sum = |of: fn(&Kind) -> i64| -> i128 {
            plan.bars
                .iter()
                .map(|(p, &n)| i128::from(of(&self.kinds[p.kind])) * i128::from(n))
                .sum()
        };
        Cost {
            missing: plan.missing.iter().map(|&(_, n)| u64::from(n)).sum(),
            price: sum(|k| k.price),
            length: sum(|k| k.cap),
            patterns: plan.bars.len(),
        }
    }

    /// Puts each pattern on the bar that suits it best: cheapest, then shortest, long contents
    /// first; never dearer than before. Limits are kept.
    pub fn shrink(&self, plan: &Plan) -> Plan {
        let mut left = self.limits();
        for (p, &n) in &plan.bars {
            if let Some(left) = &mut left[p.kind] {
                *left = left.saturating_sub(n);
            }
        }
        let mut bars: Vec<(i64, &Pattern, u32)> =
            plan.bars.iter().map(|(p, &n)| (self.used(&p.counts), p, n)).collect();
        bars.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(b.1)));
        let mut out = Plan { bars: BTreeMap::new(), missing: plan.missing.clone() };
        for (used, pattern, repeat) in bars {
            let now = pattern.kind;
            let mut repeat = repeat;
            while repeat > 0 {
                let suits = |&j: &usize| {
                    self.kinds[j].cap >= used && (j == now || left[j].is_none_or(|l| l > 0))
                };
                let best = (0..self.kinds.len())
                    .filter(suits)
                    .min_by_key(|&j| (self.kinds[j].price, self.kinds[j].cap, j))
                    .unwrap_or(now);
                let mut times = repeat;
                if best != now {
                    times = times.min(left[best].unwrap_or(u32::MAX));
                    left[best] = left[best].map(|l| l - times);
                    left[now] = left[now].map(|l| l + times);
                }
                repeat -= times;
                let pattern = Pattern { kind: best, counts: pattern.counts.clone() };
                *out.bars.entry(pattern).or_insert(0) += times;
            }
        }
        out
    }

    /// The plan in the problem's terms: pieces handed out to the parts they stand for.
    pub fn translate(&self, plan: &Plan) -> BarPlan {
        let mut open: Vec<Vec<(usize, u32)>> =
            self.pieces.iter().map(|p| p.members.iter().rev().copied().collect()).collect();
        let mut bars: BTreeMap<(usize, Vec<(usize, u32)>), u32> = BTreeMap::new();
        for (pattern, &repeat) in &plan.bars {
            let mut repeat = repeat;
            while repeat > 0 {
                let (counts, same) = hand_out(&mut open, &pattern.counts, repeat);
                *bars.entry((self.kinds[pattern.kind].bar, counts)).or_insert(0) += same;
                repeat -= same;
            }
        }
        let mut patterns: Vec<BarPattern> = bars
            .into_iter()
            .map(|((bar, counts), repeat)| BarPattern { bar, repeat, counts })
            .collect();
        patterns.sort_unstable();
        BarPlan { patterns }
    }

    /// The first part in the problem that `missing` leaves uncut.
    pub fn first_missing(&self, missing: &[(usize, u32)]) -> Option<(usize, u32)> {
        missing
            .iter()
            .filter_map(|&(i, n)| Some((self.pieces[i].members.first()?.0, n)))
            .min_by_key(|&(part, _)| part)
    }
}

/// Takes one bar's pieces from the parts still open, and says on how many of the next `repeat`
/// bars the very same parts can be cut.
fn hand_out(
    open: &mut [Vec<(usize, u32)>],
    counts: &[(usize, u32)],
    repeat: u32,
) -> (Vec<(usize, u32)>, u32) {
    let mut taken: BTreeMap<usize, u32> = BTreeMap::new();
    let mut same = repeat;
    for &(piece, n) in counts {
        let mut need = n;
        for &(part, left) in open[piece].iter().rev() {
            let take = need.min(left);
            if let Some(times) = left.checked_div(take) {
                same = same.min(times);
                *taken.entry(part).or_insert(0) += take;
                need -= take;
            }
            if need == 0 {
                break;
            }
        }
    }
    let same = same.max(1);
    for &(piece, _) in counts {
        for (part, left) in open[piece].iter_mut() {
            if let Some(&take) = taken.get(part) {
                *left = left.saturating_sub(take * same);
            }
        }
        open[piece].retain(|&(_, left)| left > 0);
    }
    (taken.into_iter().collect(), same)
}

/// Greatest common divisor of two numbers that are not negative; that of 0 and `b` is `b`.
fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
