//! Faults of what is decided already.

use super::good::{CLAMP, DRILL, JACK, SAW, STAPLES, TIN};
use super::*;
use crate::design::{Box3, Point, Size};
use crate::scenario::GearId;
use crate::scenario::fixture::sixteenths;
use crate::scenario::{ColumnAt, DecidedDrawer, DecidedTier, End, MaterialId, Place as Wanted};

/// The good design after something was decided of its lowest left drawer, A1.
fn drawer(width: Option<Length>, height: Option<Length>) -> Vec<Fault> {
    faults_after(|scenario, _| {
        scenario.decided.drawers.push(DecidedDrawer { tier: 0, column: 0, width, height });
    })
}

#[test]
fn a_drawer_of_another_size() {
    let design = good::design(&good::scenario());
    let inside = design.drawers[0].inside;
    assert_eq!(drawer(Some(inside.dx), Some(inside.dz)), []);
    let found = drawer(Some(inside.dx + HAIR), None);
    assert_names!(found, Fault::DecidedSize { along: Direction::Across, drawer, .. } if drawer == "A1");
    let found = drawer(None, Some(inside.dz - HAIR));
    assert_names!(found, Fault::DecidedSize { along: Direction::Up, .. });
}

#[test]
fn a_drawer_that_there_has_to_be() {
    assert_names!(
        faults_after(|scenario, _| {
            let (width, height) = (None, None);
            scenario.decided.drawers.push(DecidedDrawer { tier: 1, column: 2, width, height });
        }),
        Fault::DecidedDrawer { drawer } if drawer == "B3"
    );
}

#[test]
fn a_tier_that_is_otherwise() {
    let tier = |tier, columns, member| {
        faults_after(|scenario, _| {
            scenario.decided.tiers.push(DecidedTier { tier, columns, member });
        })
    };
    assert_eq!(tier(1, Some(2), None), []);
    assert_names!(
        tier(1, Some(3), None),
        Fault::DecidedTier { tier: 1, what: "number of columns" }
    );
    assert_names!(tier(0, None, Some(MaterialId(0))), Fault::DecidedTier { what: "member", .. });
    assert_names!(tier(2, None, None), Fault::DecidedTier { tier: 2, what: "place" });
}

/// The faults when gear has to stand somewhere.
fn placed(gear: GearId, place: Wanted) -> Vec<Fault> {
    faults_after(|scenario, _| scenario.gear[gear].place = Some(place))
}

#[test]
fn a_thing_in_another_drawer() {
    let at = |tier, column| Wanted { tier, column, end: None };
    assert_eq!(placed(SAW, at(Some(0), Some(ColumnAt::FromLeft(0)))), []);
    let wrong = |faults| assert_names!(faults, Fault::WrongDrawer { item, .. } if item == "saw");
    wrong(placed(SAW, at(Some(1), None)));
    wrong(placed(SAW, at(None, Some(ColumnAt::FromLeft(1)))));
    wrong(placed(SAW, at(None, Some(ColumnAt::Right))));
    assert_eq!(placed(DRILL, at(Some(0), None)), [], "one in A1, one in A2");
    // What has a place is not for a pocket, and all of it is stowed.
    assert_names!(placed(JACK, at(None, None)), Fault::WrongDrawer { item, .. } if item == "jack");
    assert_names!(placed(CLAMP, at(None, None)), Fault::MustLeftOut { item, missing: 1 } if item == "clamps");
}

#[test]
fn a_thing_off_its_end() {
    let end = |end| Wanted { end: Some(end), ..Wanted::default() };
    assert_eq!(placed(DRILL, end(End::Tailgate)), []);
    assert_names!(
        placed(SAW, end(End::Tailgate)),
        Fault::NotAtEnd { item, before: Some(before), .. } if item == "saw" && before == "drill case (1)"
    );
    assert_names!(placed(DRILL, end(End::Cab)), Fault::NotAtEnd { before: Some(_), .. });
    // Four tins in one cell: none is before another's end but tins.
    assert_eq!(placed(TIN, end(End::Cab)), []);
    // A divider behind it closes an empty cell.
    assert_names!(
        faults_after(|scenario, design| {
            scenario.gear[SAW].place = Some(end(End::Cab));
            let board = Box3 {
                at: Point::new(Length::ZERO, sixteenths(800), Length::ZERO),
                size: Size::new(sixteenths(160), sixteenths(8), sixteenths(57)),
            };
            design.drawers[0].plan.dividers.push(board);
            let part = design.drawers[0].divider_parts[0];
            design.drawers[0].divider_parts.push(part);
        }),
        Fault::NotAtEnd { item, before: None, .. } if item == "saw"
    );
    assert_names!(
        faults_after(|scenario, _| scenario.loose[STAPLES].place = Some(end(End::Cab))),
        Fault::NotAtEnd { item, .. } if item == "staples"
    );
}
