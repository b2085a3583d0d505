//! Brute force on tiny jobs: all guillotine arrangements of all subsets, all partitions.

use super::*;

/// The least price, or `None` if the job cannot be done. For up to about seven parts.
pub(super) fn least_price(problem: &SheetProblem) -> Option<i64> {
    let parts: Vec<&SheetPart> =
        problem.parts.iter().flat_map(|p| std::iter::repeat_n(p, p.count as usize)).collect();
    let hulls = hulls(&parts, problem.kerf);
    let all = (1usize << parts.len()) - 1;
    // fits[s][set]: whether sheet s holds the set.
    let fits: Vec<Vec<bool>> = problem
        .sheets
        .iter()
        .map(|s| {
            hulls.iter().map(|h| h.iter().any(|[w, h]| *w <= s.width && *h <= s.height)).collect()
        })
        .collect();
    let mut left: Vec<u32> = problem.sheets.iter().map(|s| s.limit.unwrap_or(u32::MAX)).collect();
    partition(problem, &fits, all, &mut left)
}

/// For each set of parts the smallest rectangles (none inside another) that it can be cut from.
fn hulls(parts: &[&SheetPart], kerf: i64) -> Vec<Vec<[i64; 2]>> {
    let mut hulls: Vec<Vec<[i64; 2]>> = vec![vec![[0, 0]]];
    for set in 1usize..1 << parts.len() {
        let mut all = Vec::new();
        if set.count_ones() == 1 {
            let p = parts[set.trailing_zeros() as usize];
            all.push([p.width, p.height]);
            if p.turn {
                all.push([p.height, p.width]);
            }
        }
        let mut a = (set - 1) & set;
        while a > 0 {
            for [wa, ha] in &hulls[a] {
                for [wb, hb] in &hulls[set ^ a] {
                    all.push([wa + kerf + wb, *ha.max(hb)]);
                    all.push([*wa.max(wb), ha + kerf + hb]);
                }
            }
            a = (a - 1) & set;
        }
        all.sort();
        all.dedup();
        let mut lowest = i64::MAX;
        all.retain(|[_, h]| {
            *h < lowest && {
                lowest = *h;
                true
            }
        });
        hulls.push(all);
    }
    hulls
}

/// The least price of sheets for the parts of `set`.
fn partition(
    problem: &SheetProblem,
    fits: &[Vec<bool>],
    set: usize,
    left: &mut [u32],
) -> Option<i64> {
    if set == 0 {
        return Some(0);
    }
    let first = set & set.wrapping_neg();
    let mut best: Option<i64> = None;
    let mut take = set;
    while take > 0 {
        if take & first != 0 {
            for s in 0..fits.len() {
                if fits[s][take] && left[s] > 0 {
                    left[s] -= 1;
                    if let Some(rest) = partition(problem, fits, set ^ take, left) {
                        let price = rest + problem.sheets[s].price;
                        best = Some(best.map_or(price, |b| b.min(price)));
                    }
                    left[s] += 1;
                }
            }
        }
        take = (take - 1) & set;
    }
    best
}

/// A job of up to six parts with kerf, turning and mixed, perhaps limited stock.
pub(super) fn tiny(rng: &mut Rng) -> SheetProblem {
    let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
    let kerf = between(0, 2);
    let sheets = (0..between(1, 3))
        .map(|_| Sheet {
            width: between(8, 20),
            height: between(8, 20),
            price: between(0, 9) * between(0, 2),
            limit: [None, None, Some(between(1, 2) as u32)][between(0, 2) as usize],
        })
        .collect();
    let mut left = between(2, 6);
    let mut parts = Vec::new();
    while left > 0 {
        let count = between(1, left.min(3));
        left -= count;
        let turn = between(0, 1) == 1;
        parts.push(SheetPart {
            width: between(2, 13),
            height: between(2, 13),
            count: count as u32,
            turn,
        });
    }
    SheetProblem { kerf, sheets, parts, keep: (3, 3), stages: Stages::ANY }
}

#[test]
fn tiny_jobs_cost_what_brute_force_says() {
    let mut rng = Rng::new(7);
    let (mut done, mut none, mut several) = (0, 0, 0);
    for _ in 0..700 {
        let problem = tiny(&mut rng);
        let truth = least_price(&problem);
        match cut_sheets(&problem, &mut Budget::work(60_000)) {
            Outcome::Infeasible(_) => {
                assert_eq!(truth, None, "{problem:?}");
                none += 1;
            }
            Outcome::Unknown { .. } => assert_eq!(truth, None, "missed a plan: {problem:?}"),
            Outcome::Optimal { best, objective } => {
                assert_eq!(replay(&problem, &best), Ok(()), "{problem:?}");
                assert_eq!(Some(objective), truth, "{problem:?}");
                done += 1;
                several += usize::from(best.sheets.len() > 1);
            }
            Outcome::Feasible { best, objective, bound, .. } => {
                assert_eq!(replay(&problem, &best), Ok(()), "{problem:?}");
                let truth = truth.expect("a plan was found and replayed");
                assert!(bound <= truth, "bound {bound} above {truth}: {problem:?}");
                assert_eq!(objective, truth, "{problem:?}");
                done += 1;
                several += usize::from(best.sheets.len() > 1);
            }
        }
    }
    // The recipe makes all sorts.
    assert!(done > 400 && none > 25 && several > 150, "{done} {none} {several}");
}
