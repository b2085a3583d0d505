//! Every layout of a tiny problem, by trying every cut of every panel.
//!
//! For each panel the sets of counts that can be cut from it, as bits of a word; cuts at every
//! whole position, with the blade's width taken off. No grown sizes, no normal patterns, no tables.

use super::*;
use std::collections::BTreeMap;

/// All count sets of a problem, numbered by mixed radix; at most 64.
struct Codes {
    /// Place value of each piece.
    base: Vec<usize>,
    limits: Vec<usize>,
    total: usize,
}

impl Codes {
    fn new(problem: &LayoutProblem) -> Self {
        let (mut base, mut limits, mut total) = (Vec::new(), Vec::new(), 1);
        for piece in &problem.pieces {
            base.push(total);
            limits.push(piece.most as usize);
            total *= piece.most as usize + 1;
        }
        assert!(total <= 64, "too many sets of counts for a word");
        Self { base, limits, total }
    }

    fn sum(&self, a: usize, b: usize) -> Option<usize> {
        let digit = |code: usize, i: usize| code / self.base[i] % (self.limits[i] + 1);
        let fits = (0..self.base.len()).all(|i| digit(a, i) + digit(b, i) <= self.limits[i]);
        fits.then_some(a + b)
    }

    fn sums(&self, a: u64, b: u64) -> u64 {
        if a == 1 || b == 1 {
            return a | b;
        }
        let bits = |set: u64| (0..self.total).filter(move |c| set >> c & 1 == 1);
        bits(a).flat_map(|a| bits(b).filter_map(move |b| self.sum(a, b))).fold(0, |s, c| s | 1 << c)
    }
}

pub(in crate::solve) struct Brute<'a> {
    problem: &'a LayoutProblem,
    codes: Codes,
    memo: BTreeMap<(i64, i64, u8, Option<Axis>), u64>,
}

impl<'a> Brute<'a> {
    pub(in crate::solve) fn new(problem: &'a LayoutProblem) -> Self {
        Self { problem, codes: Codes::new(problem), memo: BTreeMap::new() }
    }

    /// The greatest worth of a panel `width` wide.
    pub(super) fn best(&mut self, width: i64) -> i64 {
        let sets = self.sets(width);
        self.worth(sets)
    }

    /// The greatest worth of this panel and another of a problem with the same pieces.
    pub(super) fn best_with(&mut self, other: &mut Brute) -> i64 {
        let sets = [self.sets(self.problem.panel.0), other.sets(other.problem.panel.0)];
        self.worth(self.codes.sums(sets[0], sets[1]))
    }

    /// The sets of counts that a panel `width` wide holds: as bits, by mixed radix of the counts (the first piece's
    /// first, each of `most + 1` digits).
    pub(in crate::solve) fn sets(&mut self, width: i64) -> u64 {
        let height = self.problem.panel.1;
        let stages = self.problem.stages;
        match (stages.most, stages.first) {
            (None, _) => self.any(width, height),
            (Some(most), Some(first)) => self.staged(width, height, most, first),
            (Some(most), None) => {
                self.staged(width, height, most, Axis::X)
                    | self.staged(width, height, most, Axis::Y)
            }
        }
    }

    fn worth(&self, sets: u64) -> i64 {
        let worth = |code: usize| -> i64 {
            let pieces = self.problem.pieces.iter().enumerate();
            let count = |i: usize| code / self.codes.base[i] % (self.codes.limits[i] + 1);
            pieces.map(|(i, p)| p.worth * count(i) as i64).sum()
        };
        (0..self.codes.total)
            .filter(|c| sets >> c & 1 == 1)
            .map(worth)
            .max()
            .expect("the empty set")
    }

    /// Sets from a panel by any cuts.
    fn any(&mut self, w: i64, h: i64) -> u64 {
        if w <= 0 || h <= 0 {
            return 1;
        }
        if let Some(sets) = self.memo.get(&(w, h, 0, None)) {
            return *sets;
        }
        let mut sets = self.pieces(w, h, None);
        for x in 1..w {
            let a = if x < self.problem.least_rip { 1 } else { self.any(x, h) };
            let rest = w - x - self.problem.kerf;
            let b = if rest < self.problem.least_rip { 1 } else { self.any(rest, h) };
            sets |= self.codes.sums(a, b);
        }
        for y in 1..h {
            let a = if y < self.problem.least_rip { 1 } else { self.any(w, y) };
            let rest = h - y - self.problem.kerf;
            let b = if rest < self.problem.least_rip { 1 } else { self.any(w, rest) };
            sets |= self.codes.sums(a, b);
        }
        self.memo.insert((w, h, 0, None), sets);
        sets
    }

    /// Sets from a panel by this many stages, the first along `axis`.
    fn staged(&mut self, w: i64, h: i64, stages: u8, axis: Axis) -> u64 {
        if w <= 0 || h <= 0 {
            return 1;
        }
        if let Some(sets) = self.memo.get(&(w, h, stages, Some(axis))) {
            return *sets;
        }
        let other = if axis == Axis::X { Axis::Y } else { Axis::X };
        let sets = if stages == 0 {
            self.pieces(w, h, self.problem.stages.trim.then_some(axis))
        } else {
            let mut sets = self.staged(w, h, stages - 1, other);
            let whole = if axis == Axis::X { w } else { h };
            for at in 1..whole {
                let rest = whole - at - self.problem.kerf;
                let (a, b) = match axis {
                    Axis::X => ((at, h), (rest, h)),
                    Axis::Y => ((w, at), (w, rest)),
                };
                let rip = self.problem.least_rip;
                let a = if at < rip { 1 } else { self.staged(a.0, a.1, stages - 1, other) };
                let b = if rest < rip { 1 } else { self.staged(b.0, b.1, stages, axis) };
                sets |= self.codes.sums(a, b);
            }
            sets
        };
        self.memo.insert((w, h, stages, Some(axis)), sets);
        sets
    }

    /// Nothing, or a piece of just this size, or one that comes out by a last trim along `axis`.
    fn pieces(&self, w: i64, h: i64, trim: Option<Axis>) -> u64 {
        let mut sets = 1;
        for (i, piece) in self.problem.pieces.iter().enumerate().filter(|(_, p)| p.most > 0) {
            let turned = piece.turn.then_some((piece.height, piece.width));
            let rip = self.problem.least_rip;
            for (pw, ph) in [(piece.width, piece.height)].into_iter().chain(turned) {
                let fits = match trim {
                    None => pw == w && ph == h,
                    Some(Axis::X) => ph == h && (pw == w || (pw < w && pw >= rip)),
                    Some(Axis::Y) => pw == w && (ph == h || (ph < h && ph >= rip)),
                };
                if fits {
                    sets |= 1 << self.codes.base[i];
                }
            }
        }
        sets
    }
}

/// A tiny problem; which kind depends on the draw.
pub(super) fn tiny(rng: &mut Rng) -> LayoutProblem {
    let mut total = 1;
    let mut pieces = Vec::new();
    let panel = (rng.between(4, 11), rng.between(4, 11));
    while pieces.len() < 5 {
        let most = rng.between(1, 3);
        total *= most + 1;
        if total > 36 {
            break;
        }
        let (width, height) = (rng.between(1, panel.0 * 3 / 4), rng.between(1, panel.1 * 3 / 4));
        let worth = if rng.between(0, 1) == 0 { width * height } else { rng.between(1, 30) };
        let turn = rng.between(0, 1) == 1;
        pieces.push(LayoutPiece { width, height, worth, most: most as u32, turn });
    }
    let most = [None, None, Some(1), Some(2), Some(2), Some(3)][rng.between(0, 5) as usize];
    let first = [None, Some(Axis::X), Some(Axis::Y)][rng.between(0, 2) as usize];
    let trim = rng.between(0, 1) == 1;
    LayoutProblem {
        kerf: rng.between(0, 2),
        panel,
        pieces,
        stages: Stages { most, trim, first },
        least_rip: [0, 0, 0, 2, 3][rng.between(0, 4) as usize],
        keep: (2, 3),
    }
}
