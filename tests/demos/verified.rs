//! Every design that the explorer lists for a demo scenario stands up to the verifier, and so do its work plans: cuts
//! replayed, every screw in what it holds, every step within reach.

use std::collections::BTreeMap;

use bedwright::app::{self, Exploration, Settings};
use bedwright::build::work_plan;
use bedwright::design::work::Saw;
use bedwright::units::Length;
use bedwright::verify::verify_work;

use crate::{CAMPING, TRADE, VAN, file};

/// All that is listed, which must be something, holds, and so does how each is to be made.
#[track_caller]
fn assert_all_hold(found: &Exploration) {
    let (scenario, considered) = (found.scenario(), &found.considered);
    assert!(!found.designs.is_empty(), "nothing for {}: {considered:#?}", scenario.title);
    let mut faults: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for rejected in &found.rejected {
        let named = rejected.faults.iter().map(ToString::to_string);
        faults.insert(rejected.design.id.to_string(), named.collect());
    }
    for shown in &found.designs {
        let design = &shown.design;
        for saw in [Saw::Guide, Saw::Table] {
            let work = work_plan(scenario, design, design.cutting.clone(), 1, saw);
            if let Err(rejected) = verify_work(scenario, design, work) {
                let named = rejected.faults.iter().map(ToString::to_string);
                faults.insert(format!("{}, {saw:?}", design.id), named.collect());
            }
        }
    }
    assert!(faults.is_empty(), "{}: {faults:#?}", scenario.title);
}

#[test]
fn a_trades_full_size_bed() {
    assert_all_hold(TRADE.explored());
}

#[test]
fn a_mid_size_bed_for_camping() {
    assert_all_hold(CAMPING.explored());
}

#[test]
fn a_van_floor_in_millimetres() {
    assert_all_hold(VAN.explored());
}

/// Odd measures leave remainders everywhere: nothing may be rounded the wrong way.
#[test]
fn measures_a_hair_off() {
    let mut read = app::read(&file("camping-midsize")).expect("a demo scenario reads");
    let scenario = &mut read.scenario;
    let hair = Length::from_units(1);
    scenario.bed.length.at += hair;
    scenario.bed.width.at += hair * 3;
    scenario.shop.kerf += hair;
    for id in scenario.gear.ids() {
        scenario.gear[id].size[0] += hair;
        scenario.gear[id].padding += hair * 7;
    }
    assert_all_hold(&app::explore(read, Settings::default(), &|_| {}));
}
