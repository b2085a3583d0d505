//! Time, memory and quality of the explorer on the demo scenarios and on one of 120 items.
//!
//! `cargo bench --bench explore` prints a table; nothing here is judged. Each scenario is explored in a process of its own,
//! so that its peak memory is its own. Beside the worth stowed stands what plain first-fit-decreasing shelves stow in the
//! drawers of the same design.

mod mechanics;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use bedwright::design::{Content, Stowage};
use bedwright::explore::{Settings, explore};
use bedwright::input::read;
use bedwright::scenario::{Demand, Gear, Scenario, Turn};
use bedwright::solve::budget::Budget;
use bedwright::stow::{stow, stow_on_shelves};
use bedwright::units::{Length, Mass};

/// Work of the thorough stowing that shelves are compared with.
const THOROUGH: u64 = 50_000_000;

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
        "{:<18} {:>5} {:>10} {:>8} {:>8} {:>7} {:>7} {:>7} {:>7} {:>7} {:>7}",
        "scenario",
        "items",
        "structures",
        "stowings",
        "finished",
        "time s",
        "MB",
        "score",
        "worth",
        "bound",
        "shelves"
    );
    let program = std::env::current_exe().expect("a running program has a path");
    for name in ["trade-fullsize", "camping-midsize", "van-birch", "items-120"] {
        let output =
            Command::new(&program).arg(name).output().expect("this program can be run again");
        print!("{}", String::from_utf8_lossy(&output.stdout));
    }
    println!(
        "worth, bound, shelves: points of optional gear in the drawers of the best design, its proved bound, and by"
    );
    println!("first-fit-decreasing shelves (a minus: gear that must fit was left out).");
}

fn one(name: &str) {
    let scenario = match name {
        "items-120" => of_120_items(),
        name => scenario(name),
    };
    let begun = Instant::now();
    let found = explore(&scenario, &Settings::default(), &|_| {});
    let seconds = begun.elapsed().as_secs_f64();
    let items: u32 =
        scenario.gear.values().map(|gear| gear.count).sum::<u32>() + scenario.loose.len() as u32;
    let Some(best) = found.ranked.first() else {
        println!("{name:<18} {items:>5} no design");
        return;
    };
    let (structure, carcass) = (&best.design.structure, &best.design.chest.carcass);
    let shelves = stow_on_shelves(&scenario, structure, carcass);
    let thorough = stow(&scenario, structure, carcass, &mut Budget::work(THOROUGH));
    let short = if shelves.missing.is_empty() { "" } else { "-" };
    println!(
        "{:<18} {:>5} {:>10} {:>8} {:>8} {:>7.2} {:>7} {:>7.2} {:>7.1} {:>7.1} {:>7}",
        name,
        items,
        found.considered.structures,
        found.considered.stowings,
        found.considered.finished,
        seconds,
        peak_megabytes().map_or("?".to_owned(), |mb| mb.to_string()),
        best.score,
        best.design.criteria.value_milli as f64 / 1000.0,
        thorough.value_bound as f64 / 1000.0,
        format!("{:.1}{short}", worth(&scenario, &shelves.stowage)),
    );
}

fn scenario(name: &str) -> Scenario {
    let path = folder().join(format!("{name}.toml"));
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

/// The trade demo's bed and stock with 120 things of random sizes, all optional; the same on every run.
fn of_120_items() -> Scenario {
    let mut scenario = scenario("trade-fullsize");
    let mut state: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut random = move |least: i64, most: i64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        least + (state % (most - least + 1) as u64) as i64
    };
    scenario.gear = (0..120)
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
