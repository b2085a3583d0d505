//! The scenarios that come with the program.

use super::super::{parse, read};
use crate::scenario::{BedKind, Demand, Scenario};
use crate::units::Area;
use std::path::{Path, PathBuf};

/// Every demo scenario.
pub(super) fn demos() -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut all: Vec<_> = std::fs::read_dir(&folder)
        .expect("the scenarios are part of the repository")
        .map(|entry| entry.expect("a readable folder").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        // Those are cutting jobs.
        .filter(|path| !path.to_string_lossy().ends_with("-cut.toml"))
        .map(|path| (path.clone(), std::fs::read_to_string(&path).expect("a readable file")))
        .collect();
    all.sort();
    all
}

fn demo(name: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name);
    read(&path).unwrap_or_else(|wrong| panic!("{wrong}")).scenario
}

#[test]
fn every_demo_is_without_fault_and_notice() {
    assert!(demos().len() >= 3);
    for (path, text) in demos() {
        let name = path.display().to_string();
        let read = parse(&name, &text).unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(read.warnings, [], "{name}");
    }
}

/// The footprints as they stand, all copies, in square metres.
fn footprint(scenario: &Scenario) -> f64 {
    let gear = scenario.gear.values();
    let area: Area = gear.map(|g| g.size[0].by(g.size[1]) * i64::from(g.count)).sum();
    area.to_square_metres()
}

#[test]
fn demos_are_no_walk_over() {
    for (name, kinds) in [
        ("trade-fullsize.toml", 25..=34),
        ("camping-midsize.toml", 20..=30),
        ("van-birch.toml", 20..=32),
    ] {
        let scenario = demo(name);
        assert!(kinds.contains(&scenario.gear.len()), "{name}: {}", scenario.gear.len());
        let floor = scenario.bed.floor_width().by(scenario.bed.length.at).to_square_metres();
        let tiers = footprint(&scenario) / floor;
        // Two tiers of drawers lose a quarter of the floor to wood and gaps.
        assert!((1.2..2.2).contains(&tiers), "{name}: gear covers {tiers:.2} floors");
        let must = scenario.gear.values().filter(|gear| gear.demand == Demand::Must).count();
        assert!(must >= 6 && must + 8 <= scenario.gear.len(), "{name}: {must} must fit");
        let mass: f64 = scenario.gear.values().map(|g| g.mass.to_kg() * f64::from(g.count)).sum();
        let payload = scenario.bed.payload.map_or(0.0, |payload| payload.to_kg());
        assert!(mass < payload * 0.8, "{name}: {mass:.0} kg of gear on {payload:.0} kg");
    }
}

#[test]
fn the_van_is_a_floor_with_a_hatch() {
    let van = demo("van-birch.toml");
    assert_eq!(van.bed.kind, BedKind::Cargo);
    assert!(van.bed.opening.is_some() && van.bed.tailgate.is_none());
    assert_eq!(van.currency, "EUR");
}
