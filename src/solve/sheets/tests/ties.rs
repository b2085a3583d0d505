//! Of the plans of one price the first, against all ways to share the parts out and all ways to cut each sheet.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::rests::Brute;
use super::*;

/// Price, area of the sheets, area kept, pieces of it, different sheets.
type Rank = (i64, i64, Reverse<i64>, i64, usize);

/// A part's sides in a fixed order, as far as they do not matter.
fn kind(part: &SheetPart) -> (i64, i64, bool) {
    let (a, b) = (part.width, part.height);
    if part.turn { (a.max(b), a.min(b), a != b) } else { (a, b, false) }
}

struct Sharing<'a> {
    problem: &'a SheetProblem,
    parts: Vec<&'a SheetPart>,
    brute: Brute<'a>,
    left: Vec<u32>,
    taken: Vec<(usize, usize)>,
    best: Option<Rank>,
}

impl Sharing<'_> {
    /// All ways to go on with a set of parts.
    fn go(&mut self, set: usize, so_far: Rank) {
        if set == 0 {
            let content = |&(sheet, set): &(usize, usize)| {
                let parts = (0..self.parts.len()).filter(|i| set >> i & 1 == 1);
                let mut kinds: Vec<_> = parts.map(|i| kind(self.parts[i])).collect();
                kinds.sort_unstable();
                (sheet, kinds)
            };
            let different: BTreeSet<_> = self.taken.iter().map(content).collect();
            let rank = (so_far.0, so_far.1, so_far.2, so_far.3, different.len());
            self.best = Some(self.best.map_or(rank, |best| best.min(rank)));
            return;
        }
        let first = set & set.wrapping_neg();
        for take in (1..=set).filter(|take| take & !set == 0 && take & first != 0) {
            for s in 0..self.left.len() {
                let sheet = &self.problem.sheets[s];
                if self.left[s] == 0 {
                    continue;
                }
                let Some(kept) = self.brute.best(sheet.width, sheet.height, take) else { continue };
                self.left[s] -= 1;
                self.taken.push((s, take));
                let area = so_far.1 + sheet.width * sheet.height;
                let kept = (Reverse(so_far.2.0 + kept.0), so_far.3 - kept.1);
                self.go(set ^ take, (so_far.0 + sheet.price, area, kept.0, kept.1, 0));
                self.taken.pop();
                self.left[s] += 1;
            }
        }
    }
}

fn rank(problem: &SheetProblem, plan: &SheetPlan) -> Rank {
    let mut rank: Rank = (0, 0, Reverse(0), 0, 0);
    let (a, b) = problem.keep;
    let mut different = BTreeSet::new();
    for cut in &plan.sheets {
        let sheet = &problem.sheets[cut.sheet];
        rank.0 += sheet.price;
        rank.1 += sheet.width * sheet.height;
        let keep = |r: &&Rect| r.dx.min(r.dy) >= a.min(b) && r.dx.max(r.dy) >= a.max(b);
        for rest in cut.rests.iter().filter(keep) {
            rank.2.0 += rest.dx * rest.dy;
            rank.3 += 1;
        }
        let mut kinds: Vec<_> = cut.pieces.iter().map(|p| kind(&problem.parts[p.part])).collect();
        kinds.sort_unstable();
        different.insert((cut.sheet, kinds));
    }
    rank.4 = different.len();
    rank
}

#[test]
fn equal_prices_are_settled_as_trying_everything_says() {
    let mut rng = Rng::new(33);
    let (mut jobs, mut equal, mut same, mut several, mut kept, mut alike) = (0, 0, [0; 5], 0, 0, 0);
    while jobs < 150 {
        let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
        let mut sheets = vec![Sheet { width: 9, height: 8, price: between(0, 2), limit: Some(4) }];
        if between(0, 1) == 1 {
            sheets.push(Sheet { width: 6, height: 6, price: between(0, 2), limit: Some(2) });
        }
        let mut left = between(3, 5);
        let mut parts = Vec::new();
        while left > 0 {
            let count = between(1, left.min(4));
            left -= count;
            let (width, height, turn) = (between(2, 7), between(2, 6), between(0, 1) == 1);
            parts.push(SheetPart { width, height, count: count as u32, turn });
        }
        let keep = (between(1, 3), between(2, 4));
        let kerf = between(0, 1);
        let problem = SheetProblem { kerf, sheets, parts, keep, stages: Stages::ANY };
        let brute = Brute::new(&problem);
        let all = brute.parts.len();
        let left = problem.sheets.iter().map(|s| s.limit.unwrap_or(9)).collect();
        let (parts, taken) = (brute.parts.clone(), Vec::new());
        let mut sharing = Sharing { problem: &problem, parts, brute, left, taken, best: None };
        sharing.go((1 << all) - 1, (0, 0, Reverse(0), 0, 0));
        let Some(truth) = sharing.best else { continue };
        let (_, _, plan) = solve(&problem, 3_000_000);
        let found = rank(&problem, &plan);
        assert!(found >= truth, "{found:?} before {truth:?}: {problem:?}");
        assert_eq!(found.0, truth.0, "{problem:?}");
        jobs += 1;
        let agree = [
            true,
            found.1 == truth.1,
            (found.1, found.2) == (truth.1, truth.2),
            (found.1, found.2, found.3) == (truth.1, truth.2, truth.3),
            found == truth,
        ];
        agree.iter().zip(&mut same).for_each(|(agree, same)| *same += i32::from(*agree));
        equal += i32::from(found == truth);
        if found != truth {
            println!("{found:?} for {truth:?}: {problem:?}");
        }
        several += i32::from(plan.sheets.len() > 1);
        kept += i32::from(truth.3 > 0);
        alike += i32::from(truth.4 < plan.sheets.len());
    }
    println!("{same:?} of {jobs}; {several} of several sheets, {kept} keep rests, {alike} alike");
    assert!(several > 80 && kept > 100 && alike > 20, "{several} {kept} {alike}");
    assert!(equal >= jobs - 1, "{equal} of {jobs}");
}
