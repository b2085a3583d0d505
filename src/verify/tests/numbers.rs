//! Faults of criteria, limits and checks; and what no number may do.

use super::*;
use crate::design::{Box3, Criteria, Layout, Rect};
use crate::scenario::fixture::inches;
use crate::scenario::{Criterion, GearId};
use crate::units::{Mass, Money, Volume};

fn criteria(change: fn(&mut Criteria)) -> Vec<Fault> {
    faults_after(|_, design| change(&mut design.criteria))
}

#[test]
fn criteria_that_the_design_does_not_give() {
    macro_rules! named {
        ($($what:literal: $change:expr),* $(,)?) => {$(
            assert_names!(criteria($change), Fault::Figure { what: $what, .. });
        )*};
    }
    named! {
        "usable_volume": |c| c.usable_volume = c.usable_volume + Volume::from_units(1),
        "value": |c| c.value_milli += 1,
        "reach": |c| c.reach_mm *= 1.0 + 1e-6,
        "reach": |c| c.reach_mm = f64::NAN,
        "waste": |c| c.waste += 1e-6,
        "sheet_waste": |c| c.sheet_waste -= 1e-6,
        "board_waste": |c| c.board_waste = 0.0,
        "cost": |c| c.cost = c.cost - Money::from_parts(1),
        "mass": |c| c.mass += Mass::from_kg(0.001),
        "loaded_mass": |c| c.loaded_mass += Mass::POUND,
        "margin": |c| c.margin = None,
        "margin": |c| c.margin = Some(2.1),
        "simplicity": |c| c.simplicity -= 1,
    }
}

#[test]
fn reach_is_the_pull_that_frees_the_far_end() {
    // Only the saw is ever used: 3 1/2 in before the inside, 15 1/2 in to it, 18 in long.
    let mut scenario = good::scenario();
    for id in scenario.gear.ids() {
        scenario.gear[id].uses_milli = if id == good::SAW { 7000 } else { 0 };
    }
    scenario.loose[good::STAPLES].uses_milli = 0;
    let mut design = good::design(&scenario);
    design.criteria.reach_mm = 37.0 * 25.4;
    assert_eq!(faults(&scenario, &design), []);
    // As much use of the jack, which is in a pocket, halves it.
    scenario.gear[good::JACK].uses_milli = 7000;
    design.criteria.reach_mm = 18.5 * 25.4;
    assert_eq!(faults(&scenario, &design), []);
}

#[test]
fn limits_of_the_aims() {
    assert_names!(
        faults_after(|scenario, design| {
            scenario.aims.limits.cost = Some(design.criteria.cost - Money::from_parts(1));
        }),
        Fault::OverLimit { what: Criterion::Cost, .. }
    );
    assert_names!(
        faults_after(|scenario, _| scenario.aims.limits.mass = Some(Mass::KG)),
        Fault::OverLimit { what: Criterion::Mass, limit: 1.0, .. }
    );
    assert_names!(
        faults_after(|scenario, _| scenario.aims.limits.pull_newtons = Some(59.0)),
        Fault::CheckFails { check, limit: 59.0, .. } if check == "pull of drawer A1"
    );
}

#[test]
fn checks_that_limits_ask_for() {
    assert_names!(
        faults_after(|_, design| design.checks.retain(|check| check.name != "pull of drawer B1")),
        Fault::CheckMissing { what } if what == "pull of drawer B1"
    );
    assert_names!(
        faults_after(|_, design| design.checks.retain(|check| check.name != "deck sag, loaded")),
        Fault::CheckMissing { what } if what == "deck loaded"
    );
    assert_names!(
        faults_after(|_, design| design.checks[0].value = 4.5),
        Fault::CheckFails { check, value: 4.5, limit: 4.0 } if check == "deck sag, loaded"
    );
    let advice = faults_after(|_, design| {
        design.checks[0].value = 4.5;
        design.checks[0].advisory = true;
        design.criteria.margin = Some(design.checks[0].margin());
    });
    assert!(advice.is_empty(), "{advice:?}");
    assert_names!(
        faults_after(|_, design| {
            design.checks[1].value = 148.0;
            design.checks[1].advisory = true;
        }),
        Fault::CheckFails { check, limit: 147.0, .. } if check == "pull of drawer A1"
    );
    for odd in [f64::NAN, f64::INFINITY] {
        assert_names!(
            faults_after(|_, design| design.checks[1].value = odd),
            Fault::CheckNotFinite { check } if check == "pull of drawer A1"
        );
    }
}

/// Every length of a design that follows from something: not where in its room a thing lies, nor how much of what is left
/// of a sheet is kept, which are free.
fn lengths(design: &mut Design) -> Vec<&mut Length> {
    let mut all: Vec<&mut Length> = vec![];
    let carcass = &mut design.chest.carcass;
    all.extend([&mut carcass.length, &mut carcass.front_y, &mut carcass.lift]);
    all.extend([&mut carcass.lift_for_tailgate, &mut carcass.deck_z, &mut carcass.top_z]);
    for frame in &mut carcass.tiers {
        all.extend([&mut frame.z, &mut frame.height, &mut frame.x, &mut frame.width]);
        all.extend([&mut frame.member, &mut frame.inside_length, &mut frame.openings_width]);
        all.extend([&mut frame.width_taken, &mut frame.side_gap, &mut frame.drawer_length]);
        all.extend([&mut frame.drawer_inside_length, &mut frame.drawer_inside_y]);
        all.extend([&mut frame.run_height, &mut frame.floor_height, &mut frame.clear_height]);
        all.extend([&mut frame.side_height, &mut frame.front_height]);
    }
    all.extend(design.chest.openings.iter_mut().flatten());
    all.extend(design.structure.tiers.iter_mut().map(|tier| &mut tier.height));
    for drawer in &mut design.drawers {
        all.extend(sides(&mut drawer.opening));
        all.extend(sides(&mut drawer.outside));
        let (at, size) = (&mut drawer.inside_at, &mut drawer.inside);
        all.extend([&mut at.x, &mut at.y, &mut at.z, &mut size.dx, &mut size.dy, &mut size.dz]);
        all.extend(plan(&mut drawer.plan));
    }
    for pocket in &mut design.pockets {
        all.extend(sides(&mut pocket.space));
        all.extend(plan(&mut pocket.plan));
    }
    for part in &mut design.parts {
        all.extend([&mut part.length, &mut part.width, &mut part.thickness]);
    }
    all.extend(design.solids.iter_mut().flat_map(|solid| sides(&mut solid.space)));
    all.push(&mut design.cutting.kerf);
    for sheet in &mut design.cutting.sheets {
        all.push(&mut sheet.trim);
        all.extend(sheet.pieces.iter_mut().flat_map(|piece| rect(&mut piece.at)));
        all.extend(sheet.offcuts.iter_mut().flat_map(|rest| [&mut rest.x, &mut rest.y]));
        for cut in &mut sheet.cuts {
            all.extend(rect(&mut cut.panel));
            all.push(&mut cut.at);
        }
    }
    for board in &mut design.cutting.boards {
        all.push(&mut board.offcut);
        for piece in &mut board.pieces {
            all.extend([&mut piece.at, &mut piece.length]);
        }
    }
    all
}

fn sides(of: &mut Box3) -> [&mut Length; 6] {
    let (at, size) = (&mut of.at, &mut of.size);
    [&mut at.x, &mut at.y, &mut at.z, &mut size.dx, &mut size.dy, &mut size.dz]
}

fn rect(of: &mut Rect) -> [&mut Length; 4] {
    [&mut of.x, &mut of.y, &mut of.dx, &mut of.dy]
}

fn plan(of: &mut Layout) -> Vec<&mut Length> {
    let mut all = vec![&mut of.width, &mut of.length, &mut of.height];
    all.extend(of.dividers.iter_mut().flat_map(sides));
    let gear =
        |item: &&mut crate::design::Item| matches!(item.content, crate::design::Content::Gear(_));
    all.extend(of.items.iter_mut().filter(gear).flat_map(|item| {
        let [_, _, z, dx, dy, dz] = sides(&mut item.space);
        [z, dx, dy, dz]
    }));
    all
}

#[test]
fn no_length_can_be_a_hair_off() {
    let scenario = good::scenario();
    let good = good::design(&scenario);
    let count = lengths(&mut good.clone()).len();
    assert!(count > 850, "{count} lengths");
    for by in [HAIR, -HAIR] {
        let unnoticed: Vec<usize> = (0..count)
            .filter(|index| {
                let mut design = good.clone();
                *lengths(&mut design)[*index] += by;
                faults(&scenario, &design).is_empty()
            })
            .collect();
        assert!(unnoticed.is_empty(), "{unnoticed:?} of {count} lengths, off by {by:?}");
    }
}

#[test]
fn no_number_makes_it_panic() {
    let scenario = good::scenario();
    let good = good::design(&scenario);
    let count = lengths(&mut good.clone()).len();
    let wild = [i64::MIN, i64::MAX, -1, 0, 1, Length::mm(100_000).units(), Length::mm(-3).units()];
    for index in (0..count).step_by(7) {
        for units in wild {
            let mut design = good.clone();
            *lengths(&mut design)[index] = Length::from_units(units);
            let faults = faults(&scenario, &design);
            let text: String = faults.iter().map(|fault| format!("{fault}\n")).collect();
            assert!(text.len() >= faults.len());
        }
    }
}

#[test]
fn an_empty_design_is_no_design() {
    let scenario = good::scenario();
    let mut design = good::design(&scenario);
    design.structure.tiers.clear();
    design.chest.carcass.tiers.clear();
    design.chest.openings.clear();
    design.drawers.clear();
    design.pockets.clear();
    design.parts.clear();
    design.solids.clear();
    design.cutting.sheets.clear();
    design.cutting.boards.clear();
    assert_names!(
        faults(&scenario, &design),
        Fault::Lists { what: ListOf::Frames, expected: 1, found: 0 }
    );
}

#[test]
fn thousands_of_dividers_do_not_exhaust_the_stack() {
    let faults = faults_after(|scenario, design| {
        let drawer = &mut design.drawers[3];
        let board = Box3 {
            size: crate::design::Size::new(drawer.inside.dx, Length::from_units(1), inches(1)),
            at: crate::design::Point::default(),
        };
        drawer.plan.dividers = (0..1500)
            .map(|index| {
                let mut board = board;
                board.at.y = Length::from_units(2 * index + 1);
                board
            })
            .collect();
        drawer.divider_parts = vec![PartId(0); 1500];
        scenario.gear[GearId(0)].share = true;
    });
    assert_names!(faults, Fault::DividerSize { .. });
}
