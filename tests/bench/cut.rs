//! Quality, time and memory of the cutting engines.
//!
//! ```text
//! cargo bench --bench cut                        own draws of the published classes of boards, sheets and layouts, and
//!                                                published instances
//! cargo bench --bench cut -- growth              time, memory and gap against parts and sheets
//! cargo bench --bench cut -- folder DIR          every instance in a folder, in the usual plain text formats
//! cargo bench --bench cut -- beside              the same jobs by OR-tools CP-SAT and HiGHS, where they are installed
//! ```
//!
//! `--seconds S` bounds each instance (2 if left out), `--threads N` is how many threads sheets may use (2), `--draws N` says
//! how many draws of each class are made, or which draw grows (2), and `--turn` lets all parts of the sheets turn. Nothing here is judged. Each set runs in a process of its own, so that its peak
//! memory is its own, one instance after the other.
//!
//! Formats of a folder: one-dimensional files hold the number of parts, the capacity, and a length a line. Two-dimensional
//! files hold instances one after the other: lines that begin with the class, the number of parts, the instance's two numbers
//! and the sheet's two sides, each followed by words, then the two sides of a part a line.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use bedwright::solve::boards::{Bar, BarPart, BarProblem, cut_bars};
use bedwright::solve::budget::Budget;
use bedwright::solve::layouts::{LayoutPiece, LayoutProblem, best_layout};
use bedwright::solve::outcome::Outcome;
use bedwright::solve::sheets::{Sheet, SheetPart, SheetProblem, cut_sheets_on};
use bedwright::solve::stages::Stages;

#[path = "draws/boards.rs"]
mod boards;
#[path = "draws/layouts.rs"]
mod layouts;
#[path = "draws/sheets.rs"]
#[allow(dead_code, reason = "other benches draw the rest")]
mod sheets;

#[path = "cut/beside.rs"]
mod beside;
#[path = "cut/files.rs"]
mod files;
#[path = "cut/sets.rs"]
mod sets;

/// A job of any kind.
enum Problem {
    /// One-dimensional.
    Bars(BarProblem),
    /// Two-dimensional.
    Sheets(SheetProblem),
    /// The most worth out of one panel.
    Layout(LayoutProblem),
}

/// A job with its name.
struct Instance {
    name: String,
    problem: Problem,
}

/// What is asked for on the command line.
#[derive(Debug, Clone)]
struct Wish {
    seconds: f64,
    draws: u64,
    threads: usize,
    turn: bool,
}

/// What became of an instance.
struct Run {
    /// Price of the plan, or worth of the layout; none if there is none.
    cost: Option<i64>,
    bound: i64,
    time: Duration,
}

fn main() {
    let mut wish = Wish { seconds: 2.0, draws: 2, threads: 2, turn: false };
    let mut words = Vec::new();
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut number = || arguments.next().and_then(|n| n.parse::<f64>().ok());
        match argument.as_str() {
            "--seconds" => wish.seconds = number().expect("--seconds takes a number"),
            "--draws" => wish.draws = number().expect("--draws takes a number") as u64,
            "--threads" => wish.threads = number().expect("--threads takes a number") as usize,
            "--turn" => wish.turn = true,
            // What cargo says to every bench.
            "--bench" => {}
            _ => words.push(argument),
        }
    }
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        [] => all(&wish),
        ["set", name] => println!("{}", row(name, &runs(&sets::set(name, &wish), &wish))),
        ["growth"] => sets::growth(&wish),
        ["growth", parts, sheets] => sets::grown(parts, sheets, &wish),
        ["folder", path] => folder(Path::new(path), &wish),
        ["beside"] => beside::beside(&wish),
        _ => eprintln!("growth, folder DIR or beside; --seconds S, --draws N, --turn"),
    }
}

/// This program again with other words, so that memory is counted anew.
fn again(words: &[&str], wish: &Wish) -> String {
    let program = std::env::current_exe().expect("a running program has a path");
    let mut command = Command::new(program);
    command.args(words).args(["--seconds", &wish.seconds.to_string()]);
    command.args(["--draws", &wish.draws.to_string(), "--threads", &wish.threads.to_string()]);
    if wish.turn {
        command.arg("--turn");
    }
    let output = command.output().expect("this program can be run again");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn all(wish: &Wish) {
    heading();
    for name in sets::NAMES {
        print!("{}", again(&["set", name], wish));
    }
    println!(
        "bins: sum of prices, one a bin where there is one size, or worth of layouts; gaps: how far the bounds are from them;"
    );
    let Wish { seconds, threads, .. } = wish;
    println!(
        "{seconds} s at most for each instance, one after the other, sheets on {threads} threads."
    );
}

fn folder(path: &Path, wish: &Wish) {
    let mut names: Vec<PathBuf> = std::fs::read_dir(path)
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_file())
        .collect();
    names.sort();
    heading();
    let mut every = Vec::new();
    for path in names {
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into());
        let found = files::read(&path, wish.turn);
        if found.is_empty() {
            eprintln!("{name}: no instance in a known format");
            continue;
        }
        let found = runs(&found, wish);
        // Files of one instance each only count in the sum.
        if found.len() > 1 {
            println!("{}", row(&name, &found));
        }
        every.extend(found);
    }
    println!("{}", row("all", &every));
}

/// Runs every instance with the same limit.
fn runs(instances: &[Instance], wish: &Wish) -> Vec<Run> {
    instances.iter().map(|instance| run(&instance.problem, wish)).collect()
}

fn run(problem: &Problem, wish: &Wish) -> Run {
    let begun = Instant::now();
    let deadline = begun + Duration::from_secs_f64(wish.seconds);
    let mut budget = Budget::work(u64::MAX).until(Some(deadline));
    let (cost, bound) = match problem {
        Problem::Bars(problem) => known(cut_bars(problem, &mut budget)),
        Problem::Sheets(problem) => known(cut_sheets_on(problem, wish.threads, &mut budget)),
        Problem::Layout(problem) => known(best_layout(problem, &mut budget, &mut |_| {})),
    };
    Run { cost, bound, time: begun.elapsed() }
}

fn known<T, R>(outcome: Outcome<T, R>) -> (Option<i64>, i64) {
    match outcome {
        Outcome::Optimal { objective, .. } => (Some(objective), objective),
        Outcome::Feasible { objective, bound, .. } => (Some(objective), bound),
        Outcome::Infeasible(_) | Outcome::Unknown { .. } => (None, 0),
    }
}

fn heading() {
    println!(
        "{:<22} {:>9} {:>7} {:>9} {:>7} {:>9} {:>9} {:>5}",
        "set", "instances", "proved", "bins", "gaps", "median s", "worst s", "MB"
    );
}

fn row(name: &str, runs: &[Run]) -> String {
    let solved: Vec<&Run> = runs.iter().filter(|run| run.cost.is_some()).collect();
    let cost: i64 = solved.iter().filter_map(|run| run.cost).sum();
    let bound: i64 = solved.iter().map(|run| run.bound).sum();
    let proved = solved.iter().filter(|run| run.cost == Some(run.bound)).count();
    let mut times: Vec<f64> = runs.iter().map(|run| run.time.as_secs_f64()).collect();
    times.sort_by(f64::total_cmp);
    let at = |place: usize| times.get(place).copied().unwrap_or(0.0);
    format!(
        "{:<22} {:>9} {:>7} {:>9} {:>7} {:>9.4} {:>9.3} {:>5}",
        name,
        runs.len(),
        proved,
        cost,
        (cost - bound).abs(),
        at(times.len() / 2),
        at(times.len().saturating_sub(1)),
        peak_megabytes().map_or("?".to_owned(), |mb| mb.to_string()),
    )
}

/// Parts of one length of bar.
fn bars(capacity: i64, lengths: &[i64]) -> Problem {
    let bar = Bar { length: capacity, price: 1, limit: None };
    let part = |&length: &i64| BarPart { length, count: 1 };
    Problem::Bars(BarProblem {
        kerf: 0,
        keep: None,
        bars: vec![bar],
        parts: lengths.iter().map(part).collect(),
    })
}

/// The most memory that this process has held, where the system tells.
fn peak_megabytes() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<u64>().ok().map(|kilobytes| kilobytes / 1024)
}
