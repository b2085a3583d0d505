//! The problem in small integers, and plans in them.

use std::collections::BTreeMap;

use super::{BarPart, BarPattern, BarPlan, BarProblem, BarReason};

/// A kind of bar, grown by one kerf and divided by the common divisor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Kind {
    pub cap: i64,
    /// Length with one kerf, not divided.
    full: i64,
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
    /// What one is worth, where parts may be left; else 0.
    pub worth: i64,
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
    /// What lengths were divided by.
    unit: i64,
    kerf: i64,
    /// The shortest offcut that is kept; `None` if none is.
    keep: Option<i64>,
}

/// One way to cut one kind of bar: (piece, how many), pieces ascending, none zero.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pattern {
    pub kind: usize,
    pub counts: Vec<(usize, u32)>,
}

/// What a plan costs, compared from the first field to the last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Cost {
    pub missing: u64,
    pub price: i128,
    /// Length of the bars that cost nothing: of what is at hand, as little as will do.
    pub free: i128,
    /// Length of the bars less that of the offcuts that are kept.
    pub lost: i128,
    /// Offcuts that are kept.
    pub offcuts: u64,
    pub patterns: usize,
    /// How often the stop is set for all patterns, one after the other, the longest pieces of each first.
    pub settings: usize,
    /// Length of the bars.
    pub length: i128,
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
        let longest = longest_had(problem);
        let wanted = problem.parts.iter().enumerate().filter(|(_, p)| p.count > 0);
        if let Some((part, p)) = wanted.max_by_key(|(i, p)| (p.length, std::cmp::Reverse(*i)))
            && p.length > longest
        {
            return Err(BarReason::PartTooLong { part, by: p.length - longest });
        }
        Ok(Self::translated(problem, |i, p| (p.length > 0).then_some((i, 0))))
    }

    /// The problem of leaving the least worth: bars cost nothing, and a kind of its own lets go of
    /// each piece at its worth. Parts that fit no bar or are worth nothing are left out.
    pub fn leaving(problem: &BarProblem, worth: &[i64]) -> Self {
        let longest = longest_had(problem);
        let mut model = Self::translated(problem, |i, p| {
            let worth = worth.get(i).copied().unwrap_or(0);
            (p.length > 0 && p.length <= longest && worth > 0).then_some((i, worth))
        });
        model.kinds.iter_mut().for_each(|k| k.price = 0);
        let leave = model.pieces.iter().enumerate().map(|(i, p)| Kind {
            cap: p.len,
            full: 0,
            price: p.worth,
            limit: None,
            least: 0,
            only: Some(i),
            bar: usize::MAX,
        });
        let leave: Vec<Kind> = leave.collect();
        model.kinds.extend(leave);
        model
    }

    /// `take` says which parts count, and what one is worth.
    fn translated(
        problem: &BarProblem,
        take: impl Fn(usize, &BarPart) -> Option<(usize, i64)>,
    ) -> Self {
        let kerf = problem.kerf.max(0);
        let grown = |w: i64| w.saturating_add(kerf);
        let wanted: Vec<(usize, i64, &BarPart)> = (problem.parts.iter().enumerate())
            .filter(|(_, p)| p.count > 0)
            .filter_map(|(i, p)| take(i, p).map(|(i, worth)| (i, worth, p)))
            .collect();
        let unit = wanted.iter().fold(0, |g, (_, _, p)| gcd(g, grown(p.length))).max(1);
        let mut by_length: BTreeMap<(i64, i64), Vec<(usize, u32)>> = BTreeMap::new();
        for (i, worth, p) in wanted {
            by_length.entry((grown(p.length) / unit, worth)).or_default().push((i, p.count));
        }
        let pieces: Vec<Piece> = by_length
            .into_iter()
            .rev()
            .map(|((len, worth), members)| {
                let demand = members.iter().fold(0u32, |sum, m| sum.saturating_add(m.1));
                Piece { len, demand, worth, members }
            })
            .collect();
        let total = pieces.iter().fold(0u32, |sum, p| sum.saturating_add(p.demand));
        let shortest = pieces.last().map_or(i64::MAX, |p| p.len);
        let mut kinds: Vec<Kind> = (problem.bars.iter().enumerate())
            .map(|(bar, b)| {
                let full = if b.length > 0 { grown(b.length) } else { 0 };
                let limit = b.limit.filter(|&l| l < total);
                let (cap, price) = (full / unit, b.price.max(0));
                Kind { cap, full, price, limit, least: 0, only: None, bar }
            })
            .filter(|k| k.limit != Some(0) && k.cap >= shortest)
            .collect();
        kinds.sort_by_key(|k| (k.cap, k.price, k.limit.unwrap_or(u32::MAX), k.bar));
        let keep = problem.keep.map(|keep| keep.max(1));
        Self { kinds, pieces, penalty: i64::MAX, unit, kerf, keep }
    }

    /// What all pieces are worth; `None` where that passes 64 bits.
    pub fn total_worth(&self) -> Option<i64> {
        let mut each = self.pieces.iter().map(|p| p.worth.checked_mul(i64::from(p.demand)));
        each.try_fold(0i64, |sum, each| sum.checked_add(each?))
    }

    /// Makes all bars free, and adds any number of the longest at a price of 1.
    pub fn lend(&mut self) {
        self.kinds.iter_mut().for_each(|k| k.price = 0);
        let longest = self.kinds.last().map_or((0, 0), |k| (k.cap, k.full));
        let (cap, full) = longest;
        let bar = usize::MAX;
        self.kinds.push(Kind { cap, full, price: 1, limit: None, least: 0, only: None, bar });
    }

    /// Demand of every piece.
    pub fn demand(&self) -> Vec<u32> {
        self.pieces.iter().map(|p| p.demand).collect()
    }

    /// Length of so many of each piece together; saturates.
    pub fn length_of(&self, demand: &[u32]) -> i64 {
        let each = self.pieces.iter().zip(demand);
        let each = each.map(|(p, &d)| p.len.saturating_mul(i64::from(d)));
        each.fold(0, i64::saturating_add)
    }

    /// Limit of every kind.
    pub fn limits(&self) -> Vec<Option<u32>> {
        self.kinds.iter().map(|k| k.limit).collect()
    }

    /// Longest capacity.
    pub fn longest(&self) -> i64 {
        self.kinds.iter().rfind(|k| k.only.is_none()).map_or(0, |k| k.cap)
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
        let mut cost = Cost {
            missing: plan.missing.iter().map(|&(_, n)| u64::from(n)).sum(),
            ..Cost::default()
        };
        for (pattern, &n) in &plan.bars {
            let kind = &self.kinds[pattern.kind];
            cost.price += i128::from(kind.price) * i128::from(n);
            if kind.only.is_none() {
                cost.free += self.free(pattern.kind) * i128::from(n);
                let offcut = self.kept(pattern.kind, self.used(&pattern.counts));
                cost.lost += i128::from(self.length(pattern.kind) - offcut) * i128::from(n);
                cost.offcuts += u64::from(n) * u64::from(offcut > 0);
                cost.patterns += 1;
                cost.settings += self.settings(pattern);
                cost.length += i128::from(self.length(pattern.kind)) * i128::from(n);
            }
        }
        cost
    }

    /// How often the stop is set for a pattern: once for each length, but for a last piece that ends with the bar.
    pub fn settings(&self, pattern: &Pattern) -> usize {
        let used = self.used(&pattern.counts).saturating_mul(self.unit);
        let spared = pattern.counts.last().is_some_and(|last| last.1 == 1)
            && used == self.kinds[pattern.kind].full;
        pattern.counts.len() - usize::from(spared)
    }

    /// True length of a kind of bar.
    pub fn length(&self, kind: usize) -> i64 {
        self.kinds[kind].full - self.kerf
    }

    /// The same of a kind that costs nothing; 0 of others.
    pub fn free(&self, kind: usize) -> i128 {
        if self.kinds[kind].price == 0 { i128::from(self.length(kind)) } else { 0 }
    }

    /// True length of one piece.
    pub fn piece_length(&self, piece: usize) -> i64 {
        self.pieces[piece].len.saturating_mul(self.unit) - self.kerf
    }

    /// Whether any offcut is worth keeping.
    pub fn keeps(&self) -> bool {
        self.keep.is_some()
    }

    /// Length of the offcut that is kept of a bar of which so much is used; 0 if none is.
    pub fn kept(&self, kind: usize, used: i64) -> i64 {
        let Some(keep) = self.keep else { return 0 };
        // The last cut takes a kerf too.
        let used = used.saturating_mul(self.unit).saturating_add(self.kerf);
        let rest = self.kinds[kind].full.saturating_sub(used);
        if rest >= keep { rest } else { 0 }
    }

    /// Puts each pattern on the bar that suits it best: cheapest, of those that cost nothing the shortest, then of least loss,
    /// then without an offcut, then shortest, long contents first; never dearer than before. Limits are kept.
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
            if self.kinds[now].only.is_some() {
                *out.bars.entry(pattern.clone()).or_insert(0) += repeat;
                continue;
            }
            let mut repeat = repeat;
            while repeat > 0 {
                let suits = |&j: &usize| {
                    self.kinds[j].only.is_none()
                        && self.kinds[j].cap >= used
                        && (j == now || left[j].is_none_or(|l| l > 0))
                };
                let best = (0..self.kinds.len())
                    .filter(suits)
                    .min_by_key(|&j| {
                        let kind = &self.kinds[j];
                        let kept = self.kept(j, used);
                        (kind.price, self.free(j), kind.full - kept, kept > 0, kind.full, j)
                    })
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
        let cut = plan.bars.iter().filter(|(p, _)| self.kinds[p.kind].only.is_none());
        for (pattern, &repeat) in cut {
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

/// Length of the longest bar that can be had.
fn longest_had(problem: &BarProblem) -> i64 {
    let had = problem.bars.iter().filter(|b| b.length > 0 && b.limit != Some(0));
    had.map(|b| b.length).max().unwrap_or(0)
}

/// Greatest common divisor of two numbers that are not negative; that of 0 and `b` is `b`.
fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
