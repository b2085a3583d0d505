//! The cutting engines' promises in time: a first plan within 20 ms for 60 parts, and an end within 50 ms of being told.
//!
//! Other programs may hold the processor at any moment, so each is tried some times, and the best try counts.

use std::thread;
use std::time::{Duration, Instant};

use bedwright::app::{Cancel, Found, JobSettings, cut, read_job};
use bedwright::solve::boards::{Bar, BarPart, BarProblem, cut_bars, cut_bars_watched, take_bars};
use bedwright::solve::budget::{Budget, Stop};
use bedwright::solve::layouts::{LayoutPiece, PanelsProblem, StockPanel, take_panels};
use bedwright::solve::sheets::{
    Edges, Sheet, SheetPart, SheetProblem, cut_sheets_on, cut_sheets_watched,
};
use bedwright::solve::stages::Stages;

use crate::alone;

#[allow(dead_code, reason = "the benches draw the rest")]
#[path = "../bench/draws/boards.rs"]
mod boards;
#[allow(dead_code, reason = "the benches draw the rest")]
#[path = "../bench/draws/sheets.rs"]
mod sheets;

const FIRST: Duration = Duration::from_millis(20);
const END: Duration = Duration::from_millis(50);
const TRIES: usize = 5;

/// The shortest of some tries.
fn best(tried: impl FnMut() -> Duration) -> Duration {
    std::iter::repeat_with(tried).take(TRIES).min().unwrap_or(Duration::MAX)
}

/// Parts of few kinds that fill `bars` bars without waste, five in each: hard to find and hard to give up.
fn full_bars(bars: usize) -> BarProblem {
    let mut random = boards::Random(5);
    let mut lengths = Vec::new();
    for _ in 0..bars {
        let four: Vec<i64> = (0..4).map(|_| random.range(150_000, 250_000)).collect();
        lengths.push(1_000_000 - four.iter().sum::<i64>());
        lengths.extend(four);
    }
    let parts = lengths.iter().map(|&length| BarPart { length, count: 1 }).collect();
    let bars = vec![Bar { length: 1_000_000, price: 1, limit: None }];
    BarProblem { kerf: 0, keep: None, bars, parts }
}

#[test]
fn a_first_plan_of_boards_comes_at_once() {
    let _alone = alone();
    let problem = full_bars(12);
    let took = best(|| {
        let begun = Instant::now();
        let mut first = None;
        let mut budget = Budget::work(u64::MAX).until(Some(begun + FIRST));
        cut_bars_watched(&problem, &mut budget, &mut |progress| {
            if progress.objective.is_some() {
                first.get_or_insert_with(|| begun.elapsed());
            }
        });
        first.expect("a plan")
    });
    println!("first plan of 60 boards: {took:?}");
    assert!(took <= FIRST, "{took:?}");
}

#[test]
fn a_first_plan_of_sheets_comes_at_once() {
    let _alone = alone();
    // About 60 parts each: of one size of sheets, and of four of which two are limited.
    for (name, problem) in
        [("one size", sheets::chest(5, 12, 50, 1)), ("four sizes", sheets::mixed(12, 50, 1).0)]
    {
        let took = best(|| {
            let begun = Instant::now();
            let mut first = None;
            let mut budget = Budget::work(u64::MAX).until(Some(begun + FIRST));
            let edges = Edges::default();
            cut_sheets_watched(&problem, &edges, 1, &mut budget, &mut |progress| {
                if progress.objective.is_some() {
                    first.get_or_insert_with(|| begun.elapsed());
                }
            });
            first.expect("a plan")
        });
        println!("first plan of {} parts, sheets of {name}: {took:?}", problem.parts.len());
        assert!(took <= FIRST, "{took:?}");
    }
}

/// How long it takes to come back after being told to stop.
fn after_cancel(search: impl Fn(Budget) -> Option<Stop> + Sync) -> Duration {
    best(|| {
        let cancel = Cancel::new();
        thread::scope(|scope| {
            let budget = Budget::work(u64::MAX).cancelled_by(&cancel);
            let running = scope.spawn(|| {
                let stopped = search(budget);
                (stopped, Instant::now())
            });
            thread::sleep(Duration::from_millis(150));
            let told = Instant::now();
            cancel.raise();
            let (stopped, ended) = running.join().expect("no panic");
            assert_eq!(stopped, Some(Stop::Cancelled), "the job was to take longer");
            ended.saturating_duration_since(told)
        })
    })
}

#[test]
fn boards_end_soon_after_being_told() {
    let _alone = alone();
    let problem = full_bars(80);
    let took = after_cancel(|mut budget| {
        let outcome = cut_bars(&problem, &mut budget);
        assert!(outcome.best().is_some());
        budget.stopped()
    });
    println!("boards end after {took:?}");
    assert!(took <= END, "{took:?}");
}

#[test]
fn sheets_end_soon_after_being_told() {
    let _alone = alone();
    for (class, threads) in [(6, 1), (1, 2), (8, 2)] {
        let problem = sheets::chest(20, 15, 50, class);
        let took = after_cancel(|mut budget| {
            let outcome = cut_sheets_on(&problem, threads, &mut budget);
            assert!(outcome.best().is_some());
            budget.stopped()
        });
        println!("sheets on {threads} threads end after {took:?}");
        assert!(took <= END, "{threads} threads: {took:?}");
    }
}

/// Parts with worths out of some hundred offcuts, of sheets and of boards.
#[test]
fn what_is_worth_most_ends_soon_after_being_told() {
    let _alone = alone();
    let parts = sheets::chest(10, 8, 50, 3).parts;
    let piece = |part: &SheetPart| LayoutPiece {
        width: part.width,
        height: part.height,
        worth: part.width * part.height / 100 + part.width % 17,
        most: 10,
        turn: part.turn,
    };
    let panels = PanelsProblem {
        kerf: 3,
        panels: (0..100)
            .map(|i| StockPanel { width: 2440 - 7 * i, height: 1220, count: 1 })
            .collect(),
        pieces: parts.iter().map(piece).collect(),
        stages: Stages::ANY,
        least_rip: 0,
        keep: (300, 300),
    };
    let took = after_cancel(|mut budget| {
        let outcome = take_panels(&panels, &mut budget, &mut |_| {});
        assert!(outcome.best().is_some_and(|taken| taken.len() > 1));
        budget.stopped()
    });
    println!("a choice for 100 offcuts of sheets ends after {took:?}");
    assert!(took <= END, "{took:?}");
    let BarProblem { mut bars, parts, .. } = full_bars(80);
    bars =
        (0..60).map(|i| Bar { length: 1_000_000 - 100 * i, limit: Some(1), ..bars[0] }).collect();
    let worths: Vec<i64> = parts.iter().map(|part| part.length / 100 + part.length % 17).collect();
    let problem = BarProblem { kerf: 0, keep: None, bars, parts };
    let took = after_cancel(|mut budget| {
        let outcome = take_bars(&problem, &worths, &mut budget);
        assert!(outcome.best().is_some());
        budget.stopped()
    });
    println!("a choice for 60 offcuts of boards ends after {took:?}");
    assert!(took <= END, "{took:?}");
}

/// The whole way: read, cut, verified.
#[test]
fn a_job_of_both_ends_soon_after_being_told() {
    let _alone = alone();
    let mut text = "units = \"mm\"\n[shop]\nkerf = 3\n[[sheet]]\nname = \"ply\"\nsize = [2440, 1220]\nprice = 70\n\
         [[board]]\nname = \"batten\"\nsection = [20, 40]\nlengths = { 2400 = 3.10, 3600 = 4.50 }\n"
        .to_owned();
    let mut random = boards::Random(3);
    for i in 0..60 {
        let (a, b) = (random.range(200, 1200), random.range(200, 1100));
        text += &format!(
            "[[part]]\nname = \"P{i}\"\nmaterial = \"ply\"\nsize = [{a}, {b}]\nturn = true\n"
        );
        text +=
            &format!("[[part]]\nname = \"B{i}\"\nmaterial = \"batten\"\nlength = {a}\ncount = 3\n");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    std::fs::write(&path, text).expect("a file in it");
    let took = best(|| {
        let read = read_job(&path, None).unwrap_or_else(|errors| panic!("{errors:?}"));
        let cancel = Cancel::new();
        let settings =
            JobSettings { threads: 2, work: u64::MAX, time: None, cancel: cancel.clone() };
        thread::scope(|scope| {
            let running = scope.spawn(|| (cut(read, settings, &|_| {}), Instant::now()));
            thread::sleep(Duration::from_millis(200));
            let told = Instant::now();
            cancel.raise();
            let (run, ended) = running.join().expect("no panic");
            assert!(matches!(run.found, Found::Plan { .. }), "a plan all the same");
            ended.saturating_duration_since(told)
        })
    });
    println!("a job of 60 sheet parts and 180 boards ends after {took:?}");
    assert!(took <= END, "{took:?}");
}
