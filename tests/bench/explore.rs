//! Time, memory and quality of the explorer on the demo scenarios, on two of them with more gear than room, and on made-up lists.
//!
//! `cargo bench --bench explore` prints a table; nothing here is judged. Each scenario is explored in a process of its own,
//! so that its peak memory is its own. Beside the worth stowed stands what plain first-fit-decreasing shelves stow in the
//! drawers of the same design.

mod mechanics;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::time::Instant;

use bedwright::design::{Content, Stowage};
use bedwright::explore::{Settings, explore};
use bedwright::input::read;
use bedwright::scenario::{Criterion, Demand, Gear, Scenario, Turn};
use bedwright::stow::stow_on_shelves;
use bedwright::units::{Length, Mass};

/// The demos, two of them with more gear than they have room for, and made-up lists.
const NAMES: [&str; 9] = [
    "trade-fullsize",
    "trade-longbed",
    "trade-shortbed",
    "camping-midsize",
    "van-birch",
    "camping-overfull",
    "van-overfull",
    "items-40",
    "items-120",
];

fn main() {
    let name = std::env::args().skip(1).find(|argument| !argument.starts_with("--"));
    match name {
        Some(name) if name == "mechanics" => checks(),
        Some(name) => one(&name),
        None => all(),
    }
}

/// `cargo bench --bench explore -- mechanics`: what the checks cost and the loads that decks carry.
fn checks() {
    for name in ["trade-fullsize", "camping-midsize", "van-birch"] {
        mechanics::cost(name, &scenario(name));
    }
    mechanics::thresholds();
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

fn all() {
    println!(
        "{:<16} {:>5} {:>7} {:>6} {:>5} {:>6} {:>6} {:>6} {:>6} {:>4} {:>6} {:>6} {:>7}",
        "scenario",
        "items",
        "struct.",
        "nodes",
        "fin.",
        "1st s",
        "best s",
        "proof s",
        "all s",
        "MB",
        "worth",
        "bound",
        "shelves"
    );
    let program = std::env::current_exe().expect("a running program has a path");
    for name in NAMES {
        let output =
            Command::new(&program).arg(name).output().expect("this program can be run again");
        print!("{}", String::from_utf8_lossy(&output.stdout));
    }
    println!(
        "struct.: structures the scenario allows; nodes: stowing problems solved; fin.: structures finished."
    );
    println!(
        "1st, best, proof: when the first design, the most worth, and the proof of it were found (-: not proved)."
    );
    println!(
        "worth, bound: the most points stowed by any design, and what none that is allowed can beat; shelves: points of"
    );
    println!(
        "first-fit-decreasing shelves in the best-ranked design's drawers (a minus: gear that must fit was left out)."
    );
}

fn one(name: &str) {
    let scenario = match name {
        "items-40" => of_items(40),
        "items-120" => of_items(120),
        "camping-overfull" => overfull("camping-midsize"),
        "van-overfull" => overfull("van-birch"),
        name => scenario(name),
    };
    let begun = Instant::now();
    let seen = Mutex::new((None, None));
    let found = explore(&scenario, &Settings::default(), &|news| {
        let (Some(one), Ok(mut seen)) = (news.found, seen.lock()) else { return };
        let now = begun.elapsed().as_secs_f64();
        seen.0.get_or_insert(now);
        if seen.1.is_none_or(|(best, _)| one.value_milli > best) {
            seen.1 = Some((one.value_milli, now));
        }
    });
    let seconds = begun.elapsed().as_secs_f64();
    let (first, most) = seen.into_inner().unwrap_or_default();
    let items: u32 =
        scenario.gear.values().map(|gear| gear.count).sum::<u32>() + scenario.loose.len() as u32;
    let value = found.aims.iter().find(|aim| aim.criterion == Criterion::Value);
    let (Some(best), Some(value)) = (found.ranked.first(), value) else {
        println!("{name:<16} {items:>5} no design");
        return;
    };
    let (structure, carcass) = (&best.design.structure, &best.design.chest.carcass);
    let shelves = stow_on_shelves(&scenario, structure, carcass);
    let short = if shelves.missing.is_empty() { "" } else { "-" };
    let to_best = most.map_or(f64::NAN, |(_, now)| now);
    let proof = if value.proved { format!("{to_best:.2}") } else { "-".to_owned() };
    println!(
        "{:<16} {:>5} {:>7} {:>6} {:>5} {:>6.2} {:>6.2} {:>7} {:>6.2} {:>4} {:>6.1} {:>6.1} {:>7}",
        name,
        items,
        found.considered.structures,
        found.considered.stowings,
        found.considered.finished,
        first.unwrap_or(f64::NAN),
        to_best,
        proof,
        seconds,
        peak_megabytes().map_or("?".to_owned(), |mb| mb.to_string()),
        value.best.map_or(f64::NAN, |(best, _)| best),
        value.bound,
        format!("{:.1}{short}", worth(&scenario, &shelves.stowage)),
    );
}

fn scenario(name: &str) -> Scenario {
    let path = folder().join(format!("{name}.toml"));
    read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display())).scenario
}

/// A demo with the gear that lies beside it in `overfull`.
fn overfull(name: &str) -> Scenario {
    let file = format!("{name}.toml");
    let more = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench/overfull").join(&file);
    let read_text = |path: &Path| {
        std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    };
    let text = format!("{}\n{}", read_text(&folder().join(&file)), read_text(&more));
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("overfull-{file}"));
    std::fs::write(&path, text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display())).scenario
}

/// Points of optional gear in a stowage.
fn worth(scenario: &Scenario, stowage: &Stowage) -> f64 {
    let layouts =
        stowage.tiers.iter().flatten().chain(stowage.pockets.iter().map(|(_, layout)| layout));
    let demand = |content| match content {
        Content::Gear(id) => scenario.gear[id].demand,
        Content::Loose(id) => scenario.loose[id].demand,
    };
    let milli: i64 = layouts
        .flat_map(|layout| &layout.items)
        .map(|item| match demand(item.content) {
            Demand::Worth(milli) => milli,
            Demand::Must => 0,
        })
        .sum();
    milli as f64 / 1000.0
}

/// The trade demo's bed and stock with so many things of random sizes, all optional; the same on every run.
fn of_items(items: u32) -> Scenario {
    let mut scenario = scenario("trade-fullsize");
    let mut state: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut random = move |least: i64, most: i64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        least + (state % (most - least + 1) as u64) as i64
    };
    scenario.gear = (0..items)
        .map(|number| Gear {
            name: format!("thing {number}"),
            size: [random(12, 80), random(10, 56), random(6, 36)]
                .map(|quarters| Length::inches(quarters, 4)),
            mass: Mass::POUND * random(1, 6),
            count: 1,
            turn: if number % 3 == 0 { Turn::Any } else { Turn::Base },
            demand: Demand::Worth(random(1, 9) * 1000),
            uses_milli: random(0, 7) * 1000,
            near: None,
            share: false,
            stack: 1,
            padding: Length::ZERO,
            pocket: number % 5 == 0,
            place: None,
        })
        .collect();
    scenario.loose = Default::default();
    scenario
}

/// The most memory that this process has held, where the system tells.
fn peak_megabytes() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<u64>().ok().map(|kilobytes| kilobytes / 1024)
}
