//! Brute force, published instances and relations.

use std::collections::BTreeMap;

use super::*;

/// A small deterministic generator (SplitMix64: Steele, Lea & Flood, OOPSLA 2014).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number in `low..=high`.
    fn range(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % u64::try_from(high - low + 1).expect("low <= high")) as i64
    }
}

fn budget() -> Budget {
    Budget::work(1_500_000)
}

fn bar(length: i64, price: i64) -> Bar {
    Bar { length, price, limit: None }
}

fn limited(length: i64, price: i64, limit: u32) -> Bar {
    Bar { length, price, limit: Some(limit) }
}

fn parts(list: &[(i64, u32)]) -> Vec<BarPart> {
    list.iter().map(|&(length, count)| BarPart { length, count }).collect()
}

/// One bar of price 1 and parts written as `size` or `sizexcount`.
fn one_length(capacity: i64, list: &str) -> BarProblem {
    let parts = list
        .split_whitespace()
        .map(|word| {
            let (length, count) = word.split_once('x').unwrap_or((word, "1"));
            let length = length.parse().expect("a size");
            BarPart { length, count: count.parse().expect("a count") }
        })
        .collect();
    BarProblem { kerf: 0, bars: vec![bar(capacity, 1)], parts }
}

/// Checks a plan against the problem alone, in the true lengths, and returns its price.
fn check(problem: &BarProblem, plan: &BarPlan) -> i64 {
    let mut cut = vec![0u32; problem.parts.len()];
    let mut used = vec![0u32; problem.bars.len()];
    let mut price = 0;
    for p in &plan.patterns {
        let bar = problem.bars[p.bar];
        assert!(p.repeat > 0 && !p.counts.is_empty());
        assert!(p.counts.is_sorted_by(|a, b| a.0 < b.0), "parts ascend: {p:?}");
        let pieces: i64 = p.counts.iter().map(|&(_, n)| i64::from(n)).sum();
        let length: i64 =
            p.counts.iter().map(|&(i, n)| problem.parts[i].length * i64::from(n)).sum();
        assert!(length + (pieces - 1) * problem.kerf <= bar.length, "{p:?} does not fit");
        for &(i, n) in &p.counts {
            assert!(n > 0);
            cut[i] += n * p.repeat;
        }
        used[p.bar] += p.repeat;
        price += bar.price * i64::from(p.repeat);
    }
    assert!(plan.patterns.is_sorted_by(|a, b| a < b), "patterns ascend and differ");
    for (i, part) in problem.parts.iter().enumerate() {
        assert_eq!(cut[i], part.count, "part {i}");
    }
    for (bar, &n) in problem.bars.iter().zip(&used) {
        assert!(bar.limit.is_none_or(|limit| n <= limit), "{n} of {bar:?}");
    }
    price
}

/// Checks an outcome's plan and figures; returns objective and bound.
fn solve(problem: &BarProblem) -> (i64, i64) {
    match cut_bars(problem, &mut budget()) {
        Outcome::Optimal { best, objective } => {
            assert_eq!(check(problem, &best), objective);
            (objective, objective)
        }
        Outcome::Feasible { best, objective, bound, .. } => {
            assert_eq!(check(problem, &best), objective);
            assert!(bound < objective);
            (objective, bound)
        }
        other => panic!("no plan for {problem:?}: {other:?}"),
    }
}

fn optimum(problem: &BarProblem) -> i64 {
    let (objective, bound) = solve(problem);
    assert_eq!(objective, bound, "not proved best: {problem:?}");
    objective
}

// ---- brute force ----

/// Least price by trying every content of the bar that holds the first part left, with a memo;
/// `None` if there is no plan.
fn brute_force(problem: &BarProblem) -> Option<i64> {
    let demand: Vec<u32> = problem.parts.iter().map(|p| p.count).collect();
    let limits: Vec<u32> = problem.bars.iter().map(|b| b.limit.unwrap_or(u32::MAX)).collect();
    brute(problem, demand, limits, &mut BTreeMap::new())
}

type Memo = BTreeMap<(Vec<u32>, Vec<u32>), Option<i64>>;

fn brute(problem: &BarProblem, demand: Vec<u32>, limits: Vec<u32>, memo: &mut Memo) -> Option<i64> {
    let Some(first) = demand.iter().position(|&d| d > 0) else { return Some(0) };
    if let Some(&known) = memo.get(&(demand.clone(), limits.clone())) {
        return known;
    }
    let mut best: Option<i64> = None;
    for (j, bar) in problem.bars.iter().enumerate().filter(|&(j, _)| limits[j] > 0) {
        let mut contents = vec![vec![0u32; demand.len()]];
        for (i, part) in problem.parts.iter().enumerate() {
            contents = contents
                .into_iter()
                .flat_map(|c| {
                    (0..=demand[i]).map(move |n| {
                        let mut c = c.clone();
                        c[i] = n;
                        c
                    })
                })
                .filter(|c| {
                    let n: i64 = c.iter().map(|&n| i64::from(n)).sum();
                    let length: i64 =
                        c.iter().zip(&problem.parts).map(|(&n, p)| i64::from(n) * p.length).sum();
                    n == 0 || length + (n - 1) * problem.kerf <= bar.length
                })
                .collect();
            let _ = part;
        }
        for content in contents.into_iter().filter(|c| c[first] > 0) {
            let rest = demand.iter().zip(&content).map(|(d, n)| d - n).collect();
            let mut left = limits.clone();
            if left[j] != u32::MAX {
                left[j] -= 1;
            }
            if let Some(price) = brute(problem, rest, left, memo) {
                let price = price + bar.price;
                best = Some(best.map_or(price, |b| b.min(price)));
            }
        }
    }
    memo.insert((demand, limits), best);
    best
}

fn tiny(random: &mut Random) -> BarProblem {
    let longest = random.range(4, 30);
    let bars = (0..random.range(1, 3))
        .map(|_| Bar {
            length: random.range(2, longest),
            price: random.range(0, 12),
            limit: (random.range(0, 2) == 0).then(|| random.range(0, 3) as u32),
        })
        .collect();
    let kinds = random.range(1, 4);
    let parts = (0..kinds)
        .map(|_| BarPart {
            length: random.range(1, longest.min(15)),
            count: random.range(0, 3) as u32,
        })
        .collect();
    BarProblem { kerf: random.range(0, 2), bars, parts }
}

#[test]
fn agrees_with_brute_force_on_tiny_problems() {
    let mut random = Random(1);
    let (mut solved, mut impossible, mut tight) = (0, 0, 0);
    for _ in 0..4000 {
        let problem = tiny(&mut random);
        let truth = brute_force(&problem);
        match cut_bars(&problem, &mut budget()) {
            Outcome::Optimal { best, objective } => {
                assert_eq!(check(&problem, &best), objective);
                assert_eq!(Some(objective), truth, "{problem:?}");
                solved += 1;
                tight += i32::from(problem.bars.iter().any(|b| b.limit.is_some()));
            }
            Outcome::Infeasible(reason) => {
                assert_eq!(truth, None, "{problem:?} called impossible: {reason:?}");
                impossible += 1;
            }
            other => panic!("{problem:?} (best {truth:?}) unproved: {other:?}"),
        }
    }
    // The generator makes all sorts, or the test would say little.
    assert!(solved > 1500 && impossible > 300 && tight > 300, "{solved} {impossible} {tight}");
}

// ---- published instances ----

/// Falkenauer, J. Heuristics 2:5-30 (1996), the first of the uniform class with 120 items.
#[test]
fn falkenauer_u120_00() {
    let problem = one_length(
        150,
        "98x3 96x2 94 93x2 92 91x2 90 87 86 85x2 84x5 83x2 82x2 81 80x3 79x2 78x4 76 74x2 73x4 72 \
         71 70x3 69x3 67 66 64 62x2 60x2 59 58x3 57x4 55x3 50 49x3 47 46x2 45x2 44x2 43x4 42x5 \
         41x3 39x2 38x3 37 36x3 35 33x3 32x2 30x3 29 28 27x2 26 25x2 24 23x2 20",
    );
    assert_eq!(optimum(&problem), 48);
}

/// The same paper, the first of the triplets with 60 items: twenty bars without any waste.
#[test]
fn falkenauer_t60_00() {
    let problem = one_length(
        1000,
        "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366x3 363 361 357 355 351 \
         350x2 347 320 315 307 303 299 298x2 292 288 287 283 275x2 274 273x2 272x2 271 269x2 268 \
         263 262 261 259 258 255 254 252x3 251",
    );
    assert_eq!(optimum(&problem), 20);
}

/// Scholl, Klein & Juergens, Comput. Oper. Res. 24:627-645 (1997), data set 1.
#[test]
fn scholl_n1c1w1_a() {
    let problem = one_length(
        100,
        "99x2 96x2 92x2 91 88 87 86 85 76 74 72 69 67x2 62 61 56 52 51 49 46 44 42 40x2 33x2 30x2 \
         29 28x2 27 25 24 23 22 21 20 17 14 13 11 10 7x2 3",
    );
    assert_eq!(optimum(&problem), 25);
}

/// Schoenfield, technical report, US Army Space and Missile Defense Command (2002), Hard28 no. 14:
/// the LP is 60.998, so its bound says 61; the optimum is 62.
#[test]
fn hard28_bpp14() {
    let problem = one_length(
        1000,
        "696 686x2 683 675 674 670x2 669 668 665 663x2 662 657 653 649x2 641 632x2 627 622 621 620 \
         619x2 614 612 608 606 605 603x2 599x2 598 597x2 595 593 575 566 558 556 551 544x2 521 518 \
         514x2 505 499 496 494 491x2 490 484 480 474 473x2 466 462x2 457 448 430x2 429 423 419 408 \
         405 403 399 390 389 387 383 382 381 378 370 364 359x2 358 341 340 339 335x2 328 323 321 \
         320 318 305 303x2 293 290 286 283 273 268 263 252 239 231 230 228 224x2 221 211x2 210 209 \
         208 205 197 193x2 185 184 182 173 166 142 133 123 120x2 115 109 95 92 77 72 69 59 57 45 40 \
         39 32 31 29 28 24 22x3 18 17 11",
    );
    let (objective, bound) = solve(&problem);
    assert_eq!(objective, 62);
    assert!(bound == 61 || bound == 62, "{bound}");
}

/// Our own, recomputed by column generation with an arc-flow model: the LP is 125.4667, the next
/// price 125.50, the cheapest plan 126.90 (ten short bars and one long one).
fn three_lengths(kerf: i64) -> BarProblem {
    BarProblem {
        kerf,
        bars: vec![bar(2400, 1100), bar(3000, 1410), bar(3600, 1690)],
        parts: parts(&[(1890, 5), (1640, 5), (798, 4), (725, 3), (540, 2), (430, 6)]),
    }
}

#[test]
fn three_lengths_with_prices() {
    assert_eq!(optimum(&three_lengths(3)), 12690);
    assert_eq!(optimum(&three_lengths(0)), 12650);
    for (bar, price) in [(0, 13200), (1, 14100), (2, 13520)] {
        let mut problem = three_lengths(3);
        problem.bars = vec![problem.bars[bar]];
        assert_eq!(optimum(&problem), price);
    }
}

// ---- kerf, limits, reasons ----

/// n pieces fit if `n w + (n - 1) k <= L`: 2400 holds eight of 300 without kerf, seven with 3.
#[test]
fn kerf_lies_between_pieces() {
    for (kerf, count, bars) in [(0, 8, 1), (3, 7, 1), (3, 8, 2)] {
        let problem = BarProblem { kerf, bars: vec![bar(2400, 1)], parts: parts(&[(300, count)]) };
        assert_eq!(optimum(&problem), bars);
    }
    let whole = BarProblem { kerf: 7, bars: vec![bar(2400, 1)], parts: parts(&[(2400, 2)]) };
    assert_eq!(optimum(&whole), 2, "a part of the bar's own length needs no cut");
}

#[test]
fn what_is_on_hand_goes_first() {
    let problem =
        BarProblem { kerf: 0, bars: vec![bar(10, 7), limited(6, 0, 1)], parts: parts(&[(5, 3)]) };
    let outcome = cut_bars(&problem, &mut budget());
    let plan = outcome.best().expect("a plan");
    assert_eq!(check(&problem, plan), 7);
    assert!(plan.patterns.iter().any(|p| p.bar == 1), "the free bar is used");
}

#[test]
fn a_part_that_is_too_long_is_named() {
    let problem = BarProblem {
        kerf: 3,
        bars: vec![bar(100, 1), limited(900, 1, 0)],
        parts: parts(&[(99, 1), (130, 2), (101, 1)]),
    };
    let outcome = cut_bars(&problem, &mut budget());
    assert_eq!(outcome, Outcome::Infeasible(BarReason::PartTooLong { part: 1, by: 30 }));
}

#[test]
fn too_little_stock_is_proved() {
    let problem = BarProblem {
        kerf: 0,
        bars: vec![limited(10, 3, 2), limited(8, 2, 1)],
        parts: parts(&[(4, 7)]),
    };
    let outcome = cut_bars(&problem, &mut budget());
    assert_eq!(outcome, Outcome::Infeasible(BarReason::OutOfStock { part: 0, missing: 1 }));
}

#[test]
fn nothing_to_cut_costs_nothing() {
    let empty = BarProblem { kerf: 3, bars: vec![], parts: parts(&[(50, 0), (0, 4)]) };
    let outcome = cut_bars(&empty, &mut budget());
    assert_eq!(outcome, Outcome::Optimal { best: BarPlan::default(), objective: 0 });
}

#[test]
fn odd_numbers_do_not_panic() {
    let extremes = [i64::MIN, -1, 0, 1, 7, i64::MAX / 2, i64::MAX];
    for length in extremes {
        for part in extremes {
            for count in [1, u32::MAX] {
                let problem = BarProblem {
                    kerf: length,
                    bars: vec![bar(length, part), bar(part, length), limited(part, 1, 3)],
                    parts: parts(&[(part, count), (length, 3), (5, count)]),
                };
                let _ = cut_bars(&problem, &mut Budget::work(100_000));
            }
        }
    }
}

// ---- relations ----

/// Mid-sized problems as they come from a lumber yard, in whole units.
fn yard(random: &mut Random) -> BarProblem {
    let unit = random.range(1, 3) * 100;
    let bars = (4..=random.range(4, 6))
        .map(|n| bar(n * 6 * unit, n * random.range(95, 105) * 10))
        .collect();
    let parts = (0..random.range(4, 10))
        .map(|_| BarPart {
            length: random.range(2 * unit, 23 * unit),
            count: random.range(1, 5) as u32,
        })
        .collect();
    BarProblem { kerf: random.range(0, unit / 20), bars, parts }
}

#[test]
fn order_and_grouping_of_parts_change_no_cost() {
    let mut random = Random(2);
    for _ in 0..30 {
        let problem = yard(&mut random);
        let before = solve(&problem);
        let mut shuffled = problem.clone();
        shuffled.parts.reverse();
        shuffled.bars.reverse();
        let most = shuffled.parts.iter().position(|p| p.count > 1).unwrap_or(0);
        let split = shuffled.parts[most].count / 2;
        shuffled.parts[most].count -= split;
        let length = shuffled.parts[most].length;
        shuffled.parts.push(BarPart { length, count: split });
        assert_eq!(solve(&shuffled), before, "{problem:?}");
    }
}

#[test]
fn scale_changes_nothing() {
    let mut random = Random(3);
    for _ in 0..40 {
        let problem = yard(&mut random);
        let mut scaled = problem.clone();
        scaled.kerf *= 80_000;
        scaled.bars.iter_mut().for_each(|b| b.length *= 80_000);
        scaled.parts.iter_mut().for_each(|p| p.length *= 80_000);
        let plan = |p| cut_bars(p, &mut budget()).into_best();
        assert_eq!(plan(&scaled), plan(&problem));
    }
}

#[test]
fn more_kerf_is_never_cheaper_and_a_new_length_never_dearer() {
    let mut random = Random(4);
    for _ in 0..40 {
        let problem = yard(&mut random);
        let (cost, bound) = solve(&problem);
        let mut wider = problem.clone();
        wider.kerf += random.range(1, 10);
        if wider.parts.iter().all(|p| p.length <= wider.bars[0].length) {
            assert!(solve(&wider).0 >= bound, "{problem:?}");
        }
        let mut richer = problem.clone();
        let length = random.range(1500, 4000);
        richer.bars.push(bar(length, length * 2));
        assert!(solve(&richer).1 <= cost, "{problem:?}");
    }
}

#[test]
fn the_same_twice_is_the_same() {
    let mut random = Random(5);
    for _ in 0..10 {
        let problem = yard(&mut random);
        let run = || cut_bars(&problem, &mut Budget::work(20_000));
        assert_eq!(run(), run());
    }
}

#[test]
fn a_small_budget_still_answers() {
    let mut random = Random(6);
    for _ in 0..20 {
        let problem = yard(&mut random);
        let (best, _) = solve(&problem);
        for work in [0, 100, 10_000] {
            match cut_bars(&problem, &mut Budget::work(work)) {
                Outcome::Optimal { objective, .. } => assert_eq!(objective, best),
                Outcome::Feasible { best: plan, objective, bound, .. } => {
                    assert_eq!(check(&problem, &plan), objective);
                    assert!(bound <= best && best <= objective);
                }
                other => panic!("{other:?}"),
            }
        }
    }
}

// ---- spoiled answers of the LP ----

/// Any weights at all, honest, scaled, negated or not numbers: the bound stays below the truth.
#[test]
fn spoiled_prices_never_spoil_the_bound() {
    let mut random = Random(7);
    let (mut problems, mut tight) = (0, 0);
    while problems < 600 {
        let problem = tiny(&mut random);
        let Some(truth) = brute_force(&problem) else { continue };
        let Ok(model) = Model::new(&problem) else { continue };
        problems += 1;
        let demand = model.demand();
        let honest = {
            let mut master = crate::solve::lp::DualMaster::new(
                &demand.iter().map(|&d| f64::from(d)).collect::<Vec<_>>(),
                &vec![1e3; demand.len()],
                &model.limits(),
            );
            for (kind, k) in model.kinds.iter().enumerate() {
                for (i, p) in model.pieces.iter().enumerate().filter(|(_, p)| p.len <= k.cap) {
                    let n = u32::try_from(k.cap / p.len).expect("small").min(p.demand);
                    master.add(kind, &[(i, n)], k.price as f64);
                }
            }
            master.solve().map_or(vec![1.0; demand.len()], |prices| prices.worth)
        };
        for spoil in 0..8 {
            let worth: Vec<f64> = honest
                .iter()
                .map(|&w| match spoil {
                    0 => w,
                    1 => -w,
                    2 => w * 1e12,
                    3 => w * 1e-12,
                    4 if random.range(0, 1) == 0 => f64::NAN,
                    5 if random.range(0, 1) == 0 => f64::INFINITY,
                    6 => random.range(-5, 20) as f64,
                    7 => f64::NAN,
                    _ => w,
                })
                .collect();
            let weights = bound::weigh(&model, &demand, &worth);
            let fillings = bound::price(&model, &demand, &weights, 200_000, &mut budget());
            let held: Vec<i64> = fillings.iter().map(|f| f.bound).collect();
            let lower = bound::lower(&model, &demand, &weights, &held);
            assert!(lower <= i128::from(truth), "{lower} > {truth}: {problem:?} {worth:?}");
            tight += u32::from(lower == i128::from(truth) && truth > 0);
        }
    }
    assert!(tight > 300, "a bound of zero would pass too: {tight}");
}
