use super::*;
use crate::solve::budget::Budget;

pub(in crate::solve) mod brute;
mod exact;
mod panels;
mod published;
mod relations;
mod replay;

use replay::replay;

/// A generator for tests (xorshift64; Marsaglia, J. Stat. Softw. 8, 2003).
pub(super) struct Rng(u64);

impl Rng {
    pub(super) fn new(seed: u64) -> Self {
        let mut rng = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        for _ in 0..8 {
            rng.next();
        }
        rng
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number in `lo..=hi`.
    pub(super) fn between(&mut self, lo: i64, hi: i64) -> i64 {
        lo + (self.next() >> 11) as i64 % (hi - lo + 1)
    }
}

/// The layout, its worth and the bound; checked by cutting.
fn solve(problem: &LayoutProblem, work: u64) -> (Layout, i64, i64) {
    let outcome = best_layout(problem, &mut Budget::work(work), &mut |_| ());
    let (layout, objective, bound) = match outcome {
        Outcome::Optimal { best, objective } => (best, objective, objective),
        Outcome::Feasible { best, objective, bound, .. } => (best, objective, bound),
        other => panic!("{other:?}: {problem:?}"),
    };
    assert_eq!(replay(problem, &layout), Ok(objective), "{problem:?}");
    assert!(objective <= bound, "{objective} above {bound}: {problem:?}");
    (layout, objective, bound)
}

/// The optimum, which must be proved.
fn optimum(problem: &LayoutProblem, work: u64) -> i64 {
    let (_, objective, bound) = solve(problem, work);
    assert_eq!(objective, bound, "not proved: {problem:?}");
    objective
}
