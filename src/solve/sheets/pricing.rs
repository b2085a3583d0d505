//! The most valuable sets of parts that come out of one sheet.
//!
//! A depth-first search over kinds in the order of value per weight, where the weight is the area
//! or a product of dual feasible functions ([`bound::weights`]), whichever bounds the values best.
//! Whether a set can be cut is
//! decided exactly: for every subset of it the least rectangles (none inside another) that it can
//! be cut from, each from two rectangles of a smaller pair of subsets side by side. That takes
//! `3^m` steps for `m` parts, so it serves where few parts come out of a sheet; what lies deeper
//! than [`DEEPEST`] or beyond the work allowed is bounded by its weight instead, and the cap that
//! is handed back holds for every set all the same.

use std::cell::RefCell;

use super::bound;
use super::hulls::{Growth, Hulls, LARGEST_SET};
use super::job::Job;
use super::tree::Cuttable;
use crate::solve::budget::Budget;

/// Sets are searched to this many parts.
const DEEPEST: usize = 12;
const _: () = assert!(DEEPEST < LARGEST_SET, "a set searched and one part more are remembered");
/// The weight that no sheet's parts exceed.
const WHOLE: i64 = 1 << 16;
/// Pairs of functions looked at for the weights, squared.
const EFFORT: usize = 100_000;
/// The most kinds that are priced.
pub(super) const MOST_KINDS: usize = 128;

/// Parts of one sheet: kinds in increasing order, as often as they are taken.
pub(super) type Set = Vec<u32>;

/// What a round of pricing found.
pub(super) struct Priced {
    /// For each kind that leads a set worth more than the threshold, the best such set found.
    pub sets: Vec<(i64, Set)>,
    /// No set is worth more than this; at least the threshold.
    pub cap: i64,
}

/// Searches the sets of parts of one sheet.
pub(super) struct Pricer<'a> {
    job: &'a Job,
    size: [i64; 2],
    /// Weights of the kinds, several ways; the last are by area.
    weights: Vec<Vec<i64>>,
    /// Which kinds can lie on one sheet with which.
    compatible: Vec<u128>,
    /// What sets come out of.
    hulls: RefCell<Hulls>,
}

struct Dive<'p> {
    pricer: &'p Pricer<'p>,
    values: &'p [i64],
    weights: &'p [i64],
    hulls: &'p mut Hulls,
    set: Vec<u32>,
    best: i64,
    found: Option<(i64, Set)>,
    /// The most that a set not looked at may be worth.
    missed: i64,
    /// Steps that may still be taken for this leading kind.
    left: u64,
    budget: &'p mut Budget,
}

impl<'a> Pricer<'a> {
    /// A pricer for sheet `sheet` of a job of at most [`MOST_KINDS`] kinds.
    pub(super) fn new(job: &'a Job, sheet: usize) -> Self {
        let size = job.sheets[sheet].size;
        let weights = bound::weights(job, sheet, WHOLE, EFFORT);
        let hulls = RefCell::default();
        let mut pricer = Self { job, size, weights, compatible: Vec::new(), hulls };
        let n = job.kinds.len();
        let mut compatible = vec![0u128; n];
        let mut hulls = Hulls::default();
        for i in 0..n {
            for j in 0..=i {
                if pricer.begin(&mut hulls, i) && pricer.holds(&mut hulls, 1, j) {
                    compatible[i] |= 1 << j;
                    compatible[j] |= 1 << i;
                }
            }
        }
        pricer.compatible = compatible;
        pricer
    }

    /// The best sets by each kind that may lead them, and what no set is worth more than. Takes
    /// at most about `work` steps, `each` for one leading kind, and stops early once `enough`
    /// sets are found (the cap then is `i64::MAX`).
    #[allow(clippy::too_many_arguments)]
    pub(super) fn price(
        &self,
        values: &[i64],
        counts: &[u32],
        threshold: i64,
        enough: usize,
        budget: &mut Budget,
        work: u64,
        each: u64,
    ) -> Priced {
        let (weights, candidates) = self.order(values, counts);
        let mut priced = Priced { sets: Vec::new(), cap: threshold };
        let mut left = work.min(budget.left());
        let mut hulls = self.hulls.borrow_mut();
        for lead in 0..candidates.len() {
            if fill(values, weights, &candidates[lead..], WHOLE) <= threshold {
                break;
            }
            if priced.sets.len() >= enough || !budget.spend(0) {
                priced.cap = i64::MAX;
                break;
            }
            let allowed = left.min(each);
            let mut dive = Dive {
                pricer: self,
                values,
                weights,
                hulls: &mut hulls,
                set: Vec::new(),
                best: threshold,
                found: None,
                missed: 0,
                left: allowed,
                budget: &mut *budget,
            };
            dive.take(&candidates[lead..], 0, 0, WHOLE);
            left -= allowed - dive.left;
            priced.cap = priced.cap.max(dive.best).max(dive.missed);
            priced.sets.extend(dive.found);
        }
        priced
    }

    fn fits(&self, kind: usize) -> bool {
        self.ways(kind).iter().any(|w| w[0] <= self.size[0] && w[1] <= self.size[1])
    }

    fn ways(&self, kind: usize) -> [[i64; 2]; 2] {
        let kind = &self.job.kinds[kind];
        let [w, h] = kind.size;
        if kind.turn { [[w, h], [h, w]] } else { [[w, h]; 2] }
    }

    /// The weights that bound the values best, and the kinds with their counts in falling order
    /// of value per weight.
    fn order(&self, values: &[i64], counts: &[u32]) -> (&[i64], Vec<(u32, u32)>) {
        let usable: Vec<(u32, u32)> = (0..values.len() as u32)
            .filter(|k| values[*k as usize] > 0 && self.fits(*k as usize))
            .map(|k| (k, counts[k as usize]))
            .filter(|c| c.1 > 0)
            .collect();
        let sorted = |weights: &Vec<i64>| {
            let mut order = usable.clone();
            let rate =
                |x: u32, y: u32| i128::from(values[x as usize]) * i128::from(weights[y as usize]);
            order.sort_by(|a, b| rate(b.0, a.0).cmp(&rate(a.0, b.0)).then(a.0.cmp(&b.0)));
            (fill(values, weights, &order, WHOLE), order)
        };
        let all = self.weights.iter().map(|w| (sorted(w), w));
        let best = all.min_by_key(|((most, _), _)| *most);
        best.map_or((&[], Vec::new()), |((_, order), weights)| (weights, order))
    }

    fn begin(&self, hulls: &mut Hulls, kind: usize) -> bool {
        hulls.begin();
        self.holds(hulls, 0, kind)
    }

    /// Adds a part at place `m` of the list; whether all can still be cut from the sheet.
    fn holds(&self, hulls: &mut Hulls, m: usize, kind: usize) -> bool {
        self.grow(hulls, m, kind, &mut |_| true) == Growth::Fits
    }

    /// Adds a part at place `m` of the list. `spend` takes steps off and says whether to go on.
    fn grow(
        &self,
        hulls: &mut Hulls,
        m: usize,
        kind: usize,
        spend: &mut dyn FnMut(u64) -> bool,
    ) -> Growth {
        hulls.grow(m, kind, self.ways(kind), self.size, spend)
    }

    /// The sheet cut into the parts of a set, if it can be.
    pub(super) fn cut(&self, set: &[u32]) -> Option<Cuttable> {
        let mut hulls = self.hulls.borrow_mut();
        hulls.begin();
        if set.is_empty() || set.len() > DEEPEST + 1 {
            return None;
        }
        for (m, k) in set.iter().enumerate() {
            if !self.holds(&mut hulls, m, *k as usize) {
                return None;
            }
        }
        hulls.fill_in(self.size, &mut |_| true);
        let all = (1 << set.len()) - 1;
        let whole = *hulls.of(all).first()?;
        self.split(&hulls, set, all, whole)
    }

    /// How a subset comes out of one of its least rectangles.
    fn split(&self, hulls: &Hulls, set: &[u32], mask: usize, size: [i64; 2]) -> Option<Cuttable> {
        if mask.count_ones() == 1 {
            return Some(Cuttable::Part(set[mask.trailing_zeros() as usize], size));
        }
        let mut first = (mask - 1) & mask;
        while first > 0 {
            for a in hulls.of(first) {
                for b in hulls.of(mask ^ first) {
                    for axis in [0, 1] {
                        let along = a[axis] + b[axis] == size[axis];
                        let across = a[1 - axis].max(b[1 - axis]) == size[1 - axis];
                        if along && across {
                            let parts = [(first, *a), (mask ^ first, *b)]
                                .map(|(m, s)| self.split(hulls, set, m, s));
                            let parts = parts.into_iter().collect::<Option<Vec<_>>>()?;
                            return Some(Cuttable::Row(axis, parts));
                        }
                    }
                }
            }
            first = (first - 1) & mask;
        }
        None
    }
}

/// What candidates in falling order of value per weight may be worth in a room.
fn fill(values: &[i64], weights: &[i64], candidates: &[(u32, u32)], mut room: i64) -> i64 {
    let mut worth = 0;
    for &(k, count) in candidates {
        let (each, value) = (weights[k as usize], values[k as usize]);
        let all = each * i64::from(count);
        if all > room {
            // Some whole ones, and the next in part, rounded up.
            return worth + (value * room) / each.max(1) + 1;
        }
        worth += value * i64::from(count);
        room -= all;
    }
    worth
}

impl Dive<'_> {
    /// Takes the first candidate, which fits by compatibility, and goes on from there.
    fn take(&mut self, candidates: &[(u32, u32)], depth: usize, value: i64, room: i64) {
        let (kind, count) = candidates[0];
        let value = value + self.values[kind as usize];
        let room = room - self.weights[kind as usize];
        if depth == 0 {
            self.hulls.begin();
        }
        let growth = self.grow(depth, kind);
        match growth {
            Growth::Fits => {}
            Growth::TooMuch => return,
            Growth::Unknown => {
                let rest = fill(self.values, self.weights, &candidates[1..], room);
                let again = self.values[kind as usize] * i64::from(count - 1);
                self.missed = self.missed.max(value + rest + again);
                return;
            }
        }
        self.set.push(kind);
        if value > self.best {
            self.best = value;
            let mut set = self.set.clone();
            set.sort_unstable();
            self.found = Some((value, set));
        }
        let ok = self.pricer.compatible[kind as usize];
        let mut next: Vec<(u32, u32)> = Vec::with_capacity(candidates.len());
        if count > 1 {
            next.push((kind, count - 1));
        }
        next.extend(&candidates[1..]);
        next.retain(|c| ok >> c.0 & 1 == 1 && self.weights[c.0 as usize] <= room);
        self.keep_fitting(&mut next, depth + 1, value, room);
        for i in 0..next.len() {
            if value + fill(self.values, self.weights, &next[i..], room) <= self.best {
                break;
            }
            self.take(&next[i..], depth + 1, value, room);
        }
        self.set.pop();
    }

    /// Leaves out the first candidates that do not come out of the sheet with the set, as far as they would be taken.
    fn keep_fitting(&mut self, next: &mut Vec<(u32, u32)>, depth: usize, value: i64, room: i64) {
        let mut i = 0;
        while i < next.len() {
            if value + fill(self.values, self.weights, &next[i..], room) <= self.best {
                return;
            }
            if self.grow(depth, next[i].0) == Growth::TooMuch {
                next.remove(i);
            } else {
                i += 1;
            }
        }
    }

    /// Adds a kind at place `depth` of the list.
    fn grow(&mut self, depth: usize, kind: u32) -> Growth {
        if depth >= DEEPEST || !self.budget.spend(2) {
            return Growth::Unknown;
        }
        self.left = self.left.saturating_sub(2);
        let (left, budget) = (&mut self.left, &mut *self.budget);
        self.pricer.grow(self.hulls, depth, kind as usize, &mut |steps| {
            *left = left.saturating_sub(steps);
            budget.spend(steps) && *left > 0
        })
    }
}
