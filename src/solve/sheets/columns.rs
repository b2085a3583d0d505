//! Which sets of parts to cut from one sheet each: column generation, for a bound and for a plan.
//!
//! The pattern model of Gilmore & Gomory (Oper. Res. 9, 1961) with sets of parts for patterns, in
//! its dual form: `y_i` is the worth of a part of kind `i`, `z_s` what one more sheet `s` of a
//! limited size is worth above its price `p_s`:
//!
//! ```text
//! max  Σ d_i y_i - Σ L_s z_s    s.t.  Σ_i a_i y_i ≤ p_s + z_s  for each set a that sheet s holds
//! ```
//!
//! The master's answer is floating point and is rounded to whole numbers; what no set is worth
//! more than is then found by exact pricing ([`super::pricing`]), and the bound follows from those
//! whole numbers alone (Farley, Oper. Res. 38, 1990): with `M_s` the most that a set of sheet `s`
//! is worth, `θ y` is dual feasible for `θ = min p_s / M_s`. Pricing looks for sets above the
//! value that a proof of the present plan needs, so that finding none *is* the proof.
//!
//! A dive then fixes sets by how often the master takes them, and prices again for what is left.
//! What it cannot place within the goal, [`super::walk`] goes on with.

use std::collections::BTreeSet;

use super::bound;
use super::job::Job;
use super::pricing::{MOST_KINDS, Pricer, Set};
use super::rng::Rng;
use super::wide;
use crate::solve::budget::Budget;
use crate::solve::lp::{DualMaster, cover};

/// Values of parts are scaled so that the dearest sheet's price is about this.
const ONE: i64 = 1 << 40;
/// What a part, and a further sheet, may be worth in the dearest sheet's price.
const MOST_WORTH: f64 = 4.0;
const MOST_RENT: f64 = 256.0;
/// Sets per round of pricing.
const ENOUGH: usize = 24;
/// Work of one round of pricing, and of one kind that leads sets in it: first quickly, then, if
/// nothing was found, thoroughly.
const PER_PRICING: [(u64, u64); 2] = [(2_000_000, 100_000), (96_000_000, 96_000_000)];
/// Work of one layout that prices where sets are not searched to their end.
const PER_LAYOUT: u64 = 5_000_000;
/// Sets that the first master begins with.
const START: usize = 60;
/// The most sets kept.
const POOL: usize = 40_000;
/// The most parts a sheet may hold on average.
const MOST_PER_SHEET: usize = 7;
/// The most kinds where more parts come out of a sheet.
const MOST_ALIKE: usize = 40;
/// Sets that a residual problem begins with.
const CARRIED: usize = 400;

/// A set of parts and the sheet that holds it.
pub(super) type Column = (usize, Set);

/// The sets seen, and what prices new ones.
pub(super) struct Columns<'a> {
    job: &'a Job,
    pricers: Vec<Pricer<'a>>,
    pool: Vec<Column>,
    seen: BTreeSet<Column>,
    scale: i64,
    dearest: f64,
    /// Whether few enough parts come out of a sheet to search sets one by one.
    few: bool,
    /// The relaxation of the whole job.
    last: Option<Relaxed>,
}

/// What a relaxation says.
struct Relaxed {
    /// Worth of each kind, scaled.
    values: Vec<i64>,
    /// Worth of a further sheet above its price, scaled.
    extra: Vec<i64>,
    /// The master's objective, in prices.
    objective: f64,
    /// No plan for the parts is cheaper.
    bound: i64,
    /// The sets of its master.
    rows: Vec<Column>,
    /// Whether there is nothing more to find.
    settled: bool,
}

impl<'a> Columns<'a> {
    /// The machine, if few parts come out of a sheet or there are few kinds, and sheets cost something.
    pub(super) fn new(job: &'a Job, sheets: usize) -> Option<Self> {
        let dearest = job.sheets.iter().map(|s| s.price).max().unwrap_or(0);
        let few = job.items <= MOST_PER_SHEET * sheets && job.kinds.len() <= MOST_KINDS;
        let alike = job.kinds.len() <= MOST_ALIKE;
        let free = job.sheets.iter().any(|s| s.price == 0 && s.limit as usize >= job.items);
        ((few || alike) && dearest > 0 && !free).then(|| Self {
            job,
            few,
            pricers: (0..job.sheets.len()).map(|s| Pricer::new(job, s)).collect(),
            pool: Vec::new(),
            seen: BTreeSet::new(),
            scale: (ONE / dearest).max(1),
            dearest: dearest as f64,
            last: None,
        })
    }

    /// Adds a set that is known to come out of a sheet.
    pub(super) fn add(&mut self, sheet: usize, mut set: Set) {
        set.sort_unstable();
        if !set.is_empty() && self.pool.len() < POOL && self.seen.insert((sheet, set.clone())) {
            self.pool.push((sheet, set));
        }
    }

    /// Whether few enough parts come out of a sheet to search sets one by one.
    pub(super) fn few(&self) -> bool {
        self.few
    }

    /// The pricer of a sheet.
    pub(super) fn pricer(&self, sheet: usize) -> &Pricer<'a> {
        &self.pricers[sheet]
    }

    /// Works on the relaxation of the whole job until it shows that no plan is cheaper than
    /// `price`, or that it cannot show so, or the budget is spent; call it again to go on. The
    /// least price that is shown.
    pub(super) fn bound(&mut self, price: i64, budget: &mut Budget) -> i64 {
        let counts: Vec<u32> = self.job.kinds.iter().map(|k| k.count).collect();
        let pool = self.begin_with(&counts);
        if let Some(relaxed) = self.relax(&counts, pool, Some(price), 4_000, budget) {
            let before = self.last.as_ref().map_or(0, |r| r.bound);
            self.last = Some(Relaxed { bound: relaxed.bound.max(before), ..relaxed });
        }
        self.last.as_ref().map_or(0, |r| r.bound)
    }

    /// Whether [`Self::bound`] has more to do for a plan of this price.
    pub(super) fn may_prove(&self, price: i64) -> bool {
        let goal = bound::total_below(self.job, price) as f64;
        self.last
            .as_ref()
            .is_none_or(|r| !r.settled && r.bound < price && r.objective > goal * (1.0 + 1e-9))
    }

    /// Whether a plan below this price may exist by the master as it is.
    pub(super) fn may_dive(&self, price: i64) -> bool {
        let goal = bound::total_below(self.job, price) as f64;
        // Large sets are known to come out of a sheet, but not how.
        self.few && self.last.as_ref().is_some_and(|r| r.objective <= goal * (1.0 + 1e-9))
    }

    fn begin_with(&self, left: &[u32]) -> Vec<Column> {
        match &self.last {
            Some(relaxed) => self.residual(left, relaxed),
            None => self.pool.iter().take(START).cloned().collect(),
        }
    }

    /// Sets for as many parts as a dive places within `goal`.
    pub(super) fn dive(&mut self, goal: i64, rng: &mut Rng, budget: &mut Budget) -> Vec<Column> {
        let mut left: Vec<u32> = self.job.kinds.iter().map(|k| k.count).collect();
        let (mut fixed, mut spent) = (Vec::new(), 0);
        let mut there: Vec<u32> = self.job.sheets.iter().map(|s| s.limit).collect();
        let mut pool = self.begin_with(&left);
        let mut rounds = 40;
        while left.iter().any(|n| *n > 0) {
            let Some(relaxed) = self.relax(&left, pool.clone(), None, rounds, budget) else {
                break;
            };
            rounds = 20;
            if spent as f64 + relaxed.objective > goal as f64 * (1.0 + 1e-9) + 1e-6 * self.dearest {
                break;
            }
            pool = self.residual(&left, &relaxed);
            if !budget.look() {
                break;
            }
            let Some(taken) = self.shares(&left, &pool, &relaxed) else { break };
            budget.spend(20_000);
            let mut order: Vec<(i64, usize)> = taken
                .iter()
                .enumerate()
                .filter(|(_, x)| **x > 1e-6)
                .map(|(i, x)| ((x.min(1.0) * 1000.0) as i64, i))
                .collect();
            for (rank, _) in &mut order {
                if *rank < 990 {
                    *rank -= rng.below(250) as i64;
                }
            }
            order.sort_by_key(|o| (std::cmp::Reverse(o.0), o.1));
            let mut any = false;
            for (rank, i) in order {
                if any && rank < 850 {
                    break;
                }
                let (sheet, set) = &pool[i];
                // The master's prices know of the limits; what it takes need not keep them.
                if !fits(set, &left) || there[*sheet] == 0 {
                    continue;
                }
                there[*sheet] -= 1;
                set.iter().for_each(|k| left[*k as usize] -= 1);
                spent += self.job.sheets[*sheet].price;
                fixed.push((*sheet, set.clone()));
                any = true;
            }
            if !any {
                break;
            }
        }
        fixed
    }

    /// How often each set of the pool is taken: only those that the values pay for can be.
    fn shares(&self, left: &[u32], pool: &[Column], relaxed: &Relaxed) -> Option<Vec<f64>> {
        let demand: Vec<f64> = left.iter().map(|n| f64::from(*n)).collect();
        let tight: Vec<usize> = (0..pool.len())
            .filter(|i| self.slack(&pool[*i], relaxed) <= self.tolerance())
            .collect();
        let price = |s: usize| self.job.sheets[s].price as f64 / self.dearest;
        let model: Vec<_> =
            tight.iter().map(|i| (price(pool[*i].0), counted(&pool[*i].1))).collect();
        let x = cover(&demand, &model)?;
        let mut all = vec![0.0; pool.len()];
        for (i, x) in tight.iter().zip(x) {
            all[*i] = x;
        }
        Some(all)
    }

    fn tolerance(&self) -> i64 {
        (self.scale.saturating_mul(self.dearest as i64)) >> 16
    }

    /// What a sheet costs above the worth of the set cut from it.
    fn slack(&self, column: &Column, relaxed: &Relaxed) -> i64 {
        let worth: i64 = column.1.iter().map(|k| relaxed.values[*k as usize]).sum();
        self.charge(column.0) + relaxed.extra[column.0] - worth
    }

    fn charge(&self, sheet: usize) -> i64 {
        self.job.sheets[sheet].price * self.scale
    }

    /// The master's sets cut down to the parts that are left, the cheapest by the values first.
    fn residual(&self, left: &[u32], relaxed: &Relaxed) -> Vec<Column> {
        let mut all: BTreeSet<(i64, Column)> = BTreeSet::new();
        for (sheet, set) in &relaxed.rows {
            let kept = cut_down(set, left);
            if !kept.is_empty() {
                let column = (*sheet, kept);
                all.insert((self.slack(&column, relaxed), column));
            }
        }
        all.into_iter().map(|c| c.1).take(CARRIED).collect()
    }

    /// Prices by the sets of `pool` and, for `rounds` rounds, further ones. With a `price` to prove
    /// it ends when that is done.
    fn relax(
        &mut self,
        left: &[u32],
        pool: Vec<Column>,
        price: Option<i64>,
        rounds: usize,
        budget: &mut Budget,
    ) -> Option<Relaxed> {
        if !budget.look() {
            return None;
        }
        let mut master = self.master(left);
        for (sheet, set) in &pool {
            self.set_row(&mut master, *sheet, set);
        }
        let mut rows = pool;
        let goal =
            price.map_or(f64::MAX, |p| (bound::total_below(self.job, p)) as f64 * (1.0 + 1e-9));
        let mut best = 0;
        for round in 0.. {
            let mut now = self.read(&mut master)?;
            let go_on = round < rounds
                && budget.spend(400 * (rows.len() as u64 + 50) + self.pool.len() as u64 / 2);
            // A plan below the price cannot be ruled out any more.
            let open = price.is_some() && now.objective <= goal;
            let before = rows.len();
            if go_on && !open {
                let mut new = self.known(left, &now);
                let searched = if self.few { &PER_PRICING[..] } else { &[] };
                for per in searched.iter().copied().map(Some).chain([None]) {
                    if new.is_empty() && price.is_none_or(|p| best < p) {
                        let bound;
                        (new, bound) = self.price(left, &now, price, budget, per);
                        best = best.max(bound);
                    }
                }
                if price.is_none_or(|p| best < p) {
                    for (sheet, set) in new {
                        // Each row is a small program of its own.
                        if !budget.look() || !self.set_row(&mut master, sheet, &set) {
                            break;
                        }
                        self.add(sheet, set.clone());
                        rows.push((sheet, set));
                    }
                }
            }
            if rows.len() == before {
                now.settled = budget.stopped().is_none();
                return Some(Relaxed { bound: best, rows, ..now });
            }
        }
        None
    }

    fn set_row(&self, master: &mut DualMaster, sheet: usize, set: &[u32]) -> bool {
        master.add(sheet, &counted(set), self.job.sheets[sheet].price as f64 / self.dearest)
    }

    /// The sets seen that are worth most above their price, cut down to what is left.
    fn known(&self, left: &[u32], now: &Relaxed) -> Vec<Column> {
        let mut best: Vec<(i64, Column)> = Vec::new();
        for column in &self.pool {
            let worth: i64 = column.1.iter().map(|k| now.values[*k as usize]).sum();
            let may = self.charge(column.0) + now.extra[column.0];
            let least = may + (may >> 14) + 1;
            if worth <= least || (best.len() == ENOUGH && worth - may <= best[ENOUGH - 1].0) {
                continue;
            }
            let column = (column.0, cut_down(&column.1, left));
            let worth: i64 = column.1.iter().map(|k| now.values[*k as usize]).sum();
            if worth > least && !best.iter().any(|b| b.1 == column) {
                let place = best.partition_point(|b| b.0 >= worth - may);
                best.insert(place, (worth - may, column));
                best.truncate(ENOUGH);
            }
        }
        best.into_iter().map(|b| b.1).collect()
    }

    fn master(&self, left: &[u32]) -> DualMaster {
        let demand: Vec<f64> = left.iter().map(|n| f64::from(*n)).collect();
        let ceiling: Vec<f64> = self
            .job
            .kinds
            .iter()
            .map(|k| {
                let holds = self.job.sheets.iter().filter(|s| self.job.fits(k, s));
                holds.map(|s| s.price as f64 / self.dearest).fold(f64::INFINITY, f64::min)
            })
            .map(|c| if c.is_finite() { c } else { 1.0 })
            .collect();
        let limited = |s: &super::job::JobSheet| (s.limit as usize) < self.job.items;
        let scarce = self.job.sheets.iter().any(limited);
        // With limits a part may be worth more than any sheet that is left.
        let ceiling =
            ceiling.into_iter().map(|c| if scarce { MOST_WORTH } else { c }).collect::<Vec<_>>();
        let limits: Vec<_> =
            self.job.sheets.iter().map(|s| limited(s).then_some(s.limit)).collect();
        DualMaster::new(&demand, &ceiling, &limits)
    }

    fn read(&self, master: &mut DualMaster) -> Option<Relaxed> {
        let prices = master.solve()?;
        let whole = self.scale as f64 * self.dearest;
        // Whatever the library says, sums of these stay far from the ends of their type.
        let round = |v: &f64, most: f64| (v.min(most) * whole).floor() as i64;
        Some(Relaxed {
            values: prices.worth.iter().map(|v| round(v, MOST_WORTH)).collect(),
            extra: prices.scarcity.iter().map(|v| round(v, MOST_RENT)).collect(),
            objective: prices.objective * self.dearest,
            bound: 0,
            rows: Vec::new(),
            settled: false,
        })
    }

    /// Sets worth more than they may be, and the bound that their absence proves.
    fn price(
        &self,
        left: &[u32],
        now: &Relaxed,
        price: Option<i64>,
        budget: &mut Budget,
        per: Option<(u64, u64)>,
    ) -> (Vec<Column>, i64) {
        let sum: i128 =
            left.iter().zip(&now.values).map(|(n, v)| i128::from(*n) * i128::from(*v)).sum();
        let rent: i128 = self
            .job
            .sheets
            .iter()
            .zip(&now.extra)
            .map(|(s, z)| i128::from(s.limit) * i128::from(*z))
            .sum();
        let below = price
            .map_or(0, |p| i128::from(bound::total_below(self.job, p)) * i128::from(self.scale));
        // With values less by `below + rent` to `sum` no set may be worth more than its sheet's price and rent: then the bound
        // is just above `below`. Something is lost by rounding.
        let limits: i128 = self.job.sheets.iter().map(|s| i128::from(s.limit)).sum();
        let shrunk = (below + rent, sum - limits - 2);
        let may_prove = below > 0 && shrunk.1 > shrunk.0;
        let mut sets = Vec::new();
        let mut caps = Vec::new();
        for (s, pricer) in self.pricers.iter().enumerate() {
            let may = self.charge(s) + now.extra[s];
            // A proof needs no more than that no set is worth this.
            let proof =
                if may_prove { (i128::from(may) * shrunk.1 / shrunk.0) as i64 } else { may };
            let threshold = proof.max(may + (may >> 18) + 1);
            let Some((work, each)) = per else {
                let mut share = budget.share(PER_LAYOUT.min(budget.left()));
                let (set, cap) = wide::best_set(self.job, s, &now.values, left, &mut share);
                budget.spend(share.spent());
                caps.push(cap.max(threshold));
                sets.extend(set.filter(|set| set.0 > threshold).map(|(_, set)| (s, set)));
                continue;
            };
            let priced = pricer.price(&now.values, left, threshold, ENOUGH, budget, work, each);
            caps.push(priced.cap);
            sets.extend(priced.sets.into_iter().map(|(_, set)| (s, set)));
        }
        let alone = self.farley(sum, &caps, (1, 1));
        let bound = if may_prove { alone.max(self.farley(sum, &caps, shrunk)) } else { alone };
        (sets, bound)
    }

    /// The bound by values that sum to `sum` when no set of a sheet is worth more than its cap; the values are made less
    /// by at least this ratio.
    fn farley(&self, sum: i128, caps: &[i64], ratio: (i128, i128)) -> i64 {
        if caps.contains(&i64::MAX) {
            return 0;
        }
        let limited = |s: usize| (self.job.sheets[s].limit as usize) < self.job.items;
        let (mut num, mut den) = ratio;
        for s in (0..caps.len()).filter(|s| !limited(*s)) {
            let (p, m) = (i128::from(self.charge(s)), i128::from(caps[s]));
            if p < m && p * den < num * m {
                (num, den) = (p, m);
            }
        }
        let rent: i128 = (0..caps.len())
            .filter(|s| limited(*s))
            .map(|s| {
                let over =
                    (num * i128::from(caps[s])).div_euclid(den) + 1 - i128::from(self.charge(s));
                i128::from(self.job.sheets[s].limit) * over.max(0)
            })
            .sum();
        let total = (sum * num).div_euclid(den) - rent;
        let scale = i128::from(self.scale);
        let price = i64::try_from((total.max(0) + scale - 1) / scale).unwrap_or(0);
        bound::next_total(self.job, price)
    }
}

/// A sorted set without what is more than is left.
fn cut_down(set: &[u32], left: &[u32]) -> Set {
    let mut kept: Set = Vec::with_capacity(set.len());
    for k in set {
        let have = kept.iter().rev().take_while(|h| *h == k).count();
        if have < left[*k as usize] as usize {
            kept.push(*k);
        }
    }
    kept
}

fn fits(set: &[u32], left: &[u32]) -> bool {
    counted(set).iter().all(|(k, n)| left[*k] >= *n)
}

/// A sorted set as kinds with their numbers.
fn counted(set: &[u32]) -> Vec<(usize, u32)> {
    let mut all: Vec<(usize, u32)> = Vec::new();
    for &k in set {
        match all.last_mut() {
            Some(last) if last.0 == k as usize => last.1 += 1,
            _ => all.push((k as usize, 1)),
        }
    }
    all
}
