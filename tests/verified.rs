//! Every design that the explorer lists for a demo scenario stands up to the verifier, and so do its work plans: cuts
//! replayed, every screw in what it holds, every step within reach.

use std::collections::BTreeMap;
use std::path::Path;

use bedwright::build::work_plan;
use bedwright::design::work::Saw;
use bedwright::explore::{Settings, explore};
use bedwright::input;
use bedwright::scenario::Scenario;
use bedwright::units::Length;
use bedwright::verify::{verify, verify_work};

fn demo(name: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name);
    input::read(&path).expect("a demo scenario reads").scenario
}

/// Explores a scenario and verifies all that is listed, which must be something, and how each is to be made.
#[track_caller]
fn assert_all_hold(scenario: &Scenario) {
    let found = explore(scenario, &Settings::default(), &|_| {});
    let considered = &found.considered;
    assert!(!found.ranked.is_empty(), "nothing for {}: {considered:#?}", scenario.title);
    let mut faults: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for ranked in found.ranked {
        let id = ranked.design.id.to_string();
        match verify(scenario, ranked.design) {
            Err(rejected) => {
                let named = rejected.faults.iter().map(ToString::to_string);
                faults.insert(id, named.collect());
            }
            Ok(design) => {
                for saw in [Saw::Guide, Saw::Table] {
                    let work = work_plan(scenario, &design, design.cutting.clone(), 1, saw);
                    if let Err(rejected) = verify_work(scenario, &design, work) {
                        let named = rejected.faults.iter().map(ToString::to_string);
                        faults.insert(format!("{id}, {saw:?}"), named.collect());
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}: {faults:#?}", scenario.title);
}

#[test]
fn a_trades_full_size_bed() {
    assert_all_hold(&demo("trade-fullsize.toml"));
}

#[test]
fn a_mid_size_bed_for_camping() {
    assert_all_hold(&demo("camping-midsize.toml"));
}

#[test]
fn a_van_floor_in_millimetres() {
    assert_all_hold(&demo("van-birch.toml"));
}

/// Odd measures leave remainders everywhere: nothing may be rounded the wrong way.
#[test]
fn measures_a_hair_off() {
    let mut scenario = demo("trade-fullsize.toml");
    let hair = Length::from_units(1);
    scenario.bed.length.at += hair;
    scenario.bed.width.at += hair * 3;
    scenario.shop.kerf += hair;
    for id in scenario.gear.ids() {
        scenario.gear[id].size[0] += hair;
        scenario.gear[id].padding += hair * 7;
    }
    assert_all_hold(&scenario);
}
