//! Published instances, with their optima.

use super::*;

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
/// the LP is 60.998, so its bound says 61; the optimum is 62, which a complete search proves.
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
    match cut_bars(&problem, &mut Budget::work(1_000_000_000)) {
        Outcome::Optimal { best, objective } => {
            assert_eq!((check(&problem, &best), objective), (62, 62));
        }
        other => panic!("not proved: {other:?}"),
    }
}

/// Our own, recomputed by column generation with an arc-flow model: the LP is 125.4667, the next
/// price 125.50, the cheapest plan 126.90 (ten short bars and one long one).
fn three_lengths(kerf: i64) -> BarProblem {
    BarProblem {
        kerf,
        keep: None,
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
