//! The cutting engines' promises in time: a first plan within 20 ms for 60 parts, and an end within 50 ms of being told,
//! whenever that is; and that whoever waits hears how a search comes on.
//!
//! Other programs may hold the processor at any moment, so each is tried some times, and the best try counts.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use bedwright::app::{Cancel, Found, JobSettings, cut, read_job};
use bedwright::solve::boards::{Bar, BarPart, BarProblem, cut_bars, cut_bars_watched, take_bars};
use bedwright::solve::budget::{Budget, Stop};
use bedwright::solve::layouts::{
    LayoutPiece, LayoutProblem, PanelsProblem, StockPanel, best_layout, take_panels,
};
use bedwright::solve::sheets::{
    Axis, Edges, Sheet, SheetPart, SheetProblem, cut_sheets_watched, cut_sheets_with,
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

/// The first of some tries that is within the limit, or else the shortest of all.
fn best(limit: Duration, mut tried: impl FnMut() -> Duration) -> Duration {
    let mut shortest = Duration::MAX;
    for _ in 0..TRIES {
        shortest = shortest.min(tried());
        if shortest <= limit {
            break;
        }
    }
    shortest
}

/// When the first plan of a search is told. It is given the budget and what to call when it has a plan.
fn first(search: impl Fn(&mut Budget, &mut dyn FnMut())) -> Duration {
    best(FIRST, || {
        let begun = Instant::now();
        let mut first = None;
        let mut budget = Budget::work(u64::MAX).until(Some(begun + FIRST));
        search(&mut budget, &mut || {
            first.get_or_insert_with(|| begun.elapsed());
        });
        first.expect("a plan")
    })
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
    let took = first(|budget, tell| {
        cut_bars_watched(&problem, budget, &mut |now| now.objective.iter().for_each(|_| tell()));
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
        let took = first(|budget, tell| {
            cut_sheets_watched(&problem, &Edges::default(), 1, budget, &mut |now| {
                now.objective.iter().for_each(|_| tell());
            });
        });
        println!("first plan of {} parts, sheets of {name}: {took:?}", problem.parts.len());
        assert!(took <= FIRST, "{took:?}");
    }
}

/// Parts as pieces that are worth about their area.
fn pieces(parts: &[SheetPart], most: u32) -> Vec<LayoutPiece> {
    let piece = |part: &SheetPart| LayoutPiece {
        width: part.width,
        height: part.height,
        worth: part.width * part.height / 100 + part.width % 17,
        most,
        turn: part.turn,
    };
    parts.iter().map(piece).collect()
}

/// A panel and sixty kinds of pieces, after a recipe of the benches.
fn panel() -> LayoutProblem {
    LayoutProblem {
        kerf: 3,
        panel: (2440, 1220),
        pieces: pieces(&sheets::chest(5, 12, 50, 2).parts, 2),
        stages: Stages::ANY,
        least_rip: 0,
        keep: (300, 300),
    }
}

#[test]
fn a_first_layout_comes_at_once() {
    let _alone = alone();
    let problem = panel();
    let took = first(|budget, tell| {
        best_layout(&problem, budget, &mut |now| {
            if now.worth > 0 {
                tell();
            }
        });
    });
    println!("first layout of {} kinds of pieces: {took:?}", problem.pieces.len());
    assert!(took <= FIRST, "{took:?}");
}

/// When a search is told to stop: in its beginning, and when it has long come to its later stages.
const TOLD_AFTER: [u64; 6] = [3, 15, 40, 120, 350, 900];

/// How long it takes to come back after the flag is raised, at the worst of some moments. The search says what stopped it.
fn after_flag(search: impl Fn(&Cancel) -> Option<Stop> + Sync) -> Duration {
    let called_off = AtomicUsize::new(0);
    let told_after = |pause: u64| {
        best(END, || {
            let cancel = Cancel::new();
            thread::scope(|scope| {
                let running = scope.spawn(|| (search(&cancel), Instant::now()));
                thread::sleep(Duration::from_millis(pause));
                let told = Instant::now();
                cancel.raise();
                let (stopped, ended) = running.join().expect("no panic");
                // One that had its answer already is not stopped.
                assert!(matches!(stopped, None | Some(Stop::Cancelled)), "{stopped:?}");
                called_off.fetch_add(usize::from(stopped.is_some()), Ordering::Relaxed);
                ended.saturating_duration_since(told)
            })
        })
    };
    let worst = TOLD_AFTER.into_iter().map(told_after).max().unwrap_or_default();
    assert!(called_off.into_inner() >= TOLD_AFTER.len() / 2, "the search was to take longer");
    worst
}

/// The same of a search that is given a budget.
fn after_cancel(search: impl Fn(Budget) -> Option<Stop> + Sync) -> Duration {
    after_flag(|cancel| search(Budget::work(u64::MAX).cancelled_by(cancel)))
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

/// Jobs whose searches are of every kind: many sheets that are filled, few parts to a sheet and their sets, many parts to a
/// sheet, stages, edges, several sizes.
#[test]
fn sheets_end_soon_after_being_told() {
    let _alone = alone();
    let plain = |problem: SheetProblem, threads| (problem, Edges::default(), threads);
    let staged = |first| Stages { most: Some(3), trim: true, first };
    let raw = [[true; 2]; 2];
    let edges = Edges { sheets: vec![raw], parts: vec![[true, false]; 30] };
    let jobs = [
        ("20 sheets", plain(sheets::chest(20, 15, 50, 6), 1)),
        ("20 sheets", plain(sheets::chest(20, 15, 50, 1), 2)),
        ("class 7", plain(sheets::class(7, 20, false, 5), 2)),
        ("class 10", plain(sheets::class(10, 100, true, 2), 1)),
        ("class 5", plain(sheets::class(5, 100, true, 1), 2)),
        ("four sizes", plain(sheets::mixed(12, 50, 1).0, 1)),
        (
            "stages",
            plain(SheetProblem { stages: staged(Some(Axis::X)), ..sheets::chest(6, 13, 50, 3) }, 1),
        ),
        ("edges", (sheets::chest(6, 13, 50, 3), edges, 1)),
    ];
    for (name, (problem, edges, threads)) in jobs {
        let took = after_cancel(|mut budget| {
            cut_sheets_with(&problem, &edges, threads, &mut budget)
                .found()
                .expect("a plan")
                .stopped_by
        });
        println!("{name} on {threads} threads end after {took:?}");
        assert!(took <= END, "{name}: {took:?}");
    }
}

#[test]
fn a_layout_ends_soon_after_being_told() {
    let _alone = alone();
    let problem = panel();
    let took = after_cancel(|mut budget| {
        let outcome = best_layout(&problem, &mut budget, &mut |_| {});
        assert!(outcome.best().is_some_and(|layout| layout.worth > 0));
        budget.stopped()
    });
    println!("a layout ends after {took:?}");
    assert!(took <= END, "{took:?}");
}

/// Parts with worths out of some hundred offcuts, of sheets and of boards.
#[test]
fn what_is_worth_most_ends_soon_after_being_told() {
    let _alone = alone();
    let panels = PanelsProblem {
        kerf: 3,
        panels: (0..100)
            .map(|i| StockPanel { width: 2440 - 7 * i, height: 1220, count: 1 })
            .collect(),
        pieces: pieces(&sheets::chest(10, 8, 50, 3).parts, 10),
        stages: Stages::ANY,
        least_rip: 0,
        keep: (300, 300),
    };
    let took = after_cancel(|mut budget| {
        let outcome = take_panels(&panels, &mut budget, &mut |_| {});
        assert!(outcome.best().is_some_and(|taken| !taken.is_empty()));
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

/// A job's file of so many kinds of sheet parts and of boards, and how many of each of these.
fn job(kinds: usize, boards: u32) -> String {
    let mut text = "units = \"mm\"\n[shop]\nkerf = 3\n[[sheet]]\nname = \"ply\"\nsize = [2440, 1220]\nprice = 70\n\
         [[board]]\nname = \"batten\"\nsection = [20, 40]\nlengths = { 2400 = 3.10, 3600 = 4.50 }\n"
        .to_owned();
    let mut random = boards::Random(3);
    for i in 0..kinds {
        let (a, b) = (random.range(200, 1200), random.range(200, 1100));
        text += &format!(
            "[[part]]\nname = \"P{i}\"\nmaterial = \"ply\"\nsize = [{a}, {b}]\nturn = true\n"
        );
        text += &format!(
            "[[part]]\nname = \"B{i}\"\nmaterial = \"batten\"\nlength = {a}\ncount = {boards}\n"
        );
    }
    text
}

/// Sixty parts of both: a plan that cuts all, and what it may cost at least, are told at once and ever better.
#[test]
fn a_job_of_both_has_a_first_plan_at_once() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    std::fs::write(&path, job(30, 1)).expect("a file in it");
    let took = best(FIRST, || {
        let told = Mutex::new(Vec::new());
        let begun = Instant::now();
        let read = read_job(&path, None).unwrap_or_else(|errors| panic!("{errors:?}"));
        let time = Some(Duration::from_millis(300));
        let settings = JobSettings { threads: 2, work: u64::MAX, time, cancel: Cancel::new() };
        let run = cut(read, settings, &|now| {
            told.lock().expect("no panic").push((begun.elapsed(), now));
        });
        let Found::Plan { plan, .. } = run.found else { panic!("no plan") };
        let told = told.into_inner().expect("no panic");
        let found: Vec<_> = told.iter().filter_map(|(at, now)| Some((*at, now.found?))).collect();
        assert!(found.windows(2).all(|two| two[1].1.0 <= two[0].1.0 && two[1].1.1 >= two[0].1.1));
        let last = told.last().expect("something is told").1;
        assert_eq!((last.done, last.of), (2, 2));
        assert_eq!(last.found.map(|(cost, _)| cost), Some(plan.cost()));
        found.first().expect("a plan is told").0
    });
    println!("first plan of a job of 30 sheet parts and 30 boards, file and all: {took:?}");
    assert!(took <= FIRST, "{took:?}");
}

/// The whole way: read, cut, verified.
#[test]
fn a_job_of_both_ends_soon_after_being_told() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    std::fs::write(&path, job(60, 3)).expect("a file in it");
    let took = after_flag(|cancel| {
        let read = read_job(&path, None).unwrap_or_else(|errors| panic!("{errors:?}"));
        let cancel = cancel.clone();
        let settings = JobSettings { threads: 2, work: u64::MAX, time: None, cancel };
        let run = cut(read, settings, &|_| {});
        let Found::Plan { stopped_by, .. } = run.found else { panic!("a plan all the same") };
        stopped_by
    });
    println!("a job of 60 sheet parts and 180 boards ends after {took:?}");
    assert!(took <= END, "{took:?}");
}
