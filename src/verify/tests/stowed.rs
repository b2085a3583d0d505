//! Faults of what is stowed: layouts, dividers, pockets, counts.

use super::good::{CLAMP, DRILL, JACK, METER, SAW, STAPLES, TIN, VACUUM, item};
use super::*;
use crate::design::{Content, Item, Layout};
use crate::scenario::fixture::{inches, sixteenths};
use crate::units::Volume;

/// The faults after a change to the layout of drawer A1.
fn plan(change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
    faults_after(|_, design| change(&mut design.drawers[0].plan))
}

/// The index of an item in A1.
const DRILL_AT: usize = 0;
const STAPLES_AT: usize = 1;
const SAW_AT: usize = 2;
const TIN_AT: usize = 3;

fn in_a1(place: &Place) -> bool {
    *place == Place::Drawer("A1".to_owned())
}

#[test]
fn a_layout_for_another_size() {
    assert_names!(
        plan(|plan| plan.length += HAIR),
        Fault::PlanSize { place, along: Direction::Along, .. } if in_a1(place)
    );
}

#[test]
fn a_thing_that_reaches_out() {
    assert_names!(
        plan(|plan| plan.items[SAW_AT].space.at.x = -HAIR),
        Fault::ItemOutside { item, along: Direction::Across, by, .. }
            if item == "saw" && *by == HAIR
    );
    assert_names!(
        plan(|plan| plan.items[TIN_AT].space.at.z = sixteenths(65)),
        Fault::ItemOutside { item, along: Direction::Up, by, .. }
            if item == "tin (1)" && *by == sixteenths(1)
    );
    // The meter keeps an inch around it, and above.
    assert_names!(
        faults_after(|_, design| design.drawers[3].plan.items[0].space.at.y -= HAIR),
        Fault::ItemOutside { item, along: Direction::Along, by, .. }
            if item == "meter" && *by == HAIR
    );
    assert_names!(
        faults_after(|scenario, _| scenario.gear[METER].padding = sixteenths(33)),
        Fault::ItemOutside { item, along: Direction::Up, by, .. }
            if item == "meter" && *by == sixteenths(1)
    );
}

#[test]
fn two_things_in_one_place() {
    assert_names!(
        plan(|plan| plan.items[STAPLES_AT].space.at.x -= sixteenths(9)),
        Fault::ItemsOverlap { one, other, .. } if one == "drill case (1)" && other == "staples"
    );
    // Side by side, tins touch; with padding they would not have room.
    assert_names!(
        faults_after(|scenario, _| scenario.gear[TIN].padding = HAIR),
        Fault::ItemsOverlap { one, other, .. } if one == "tin (1)" && other == "tin (3)"
    );
    assert_names!(
        plan(|plan| plan.items[TIN_AT + 1].space.at.z -= HAIR),
        Fault::ItemsOverlap { one, other, .. } if one == "tin (1)" && other == "tin (2)"
    );
}

#[test]
fn a_thing_in_a_divider() {
    assert_names!(
        plan(|plan| plan.items[SAW_AT].space.at.x += HAIR),
        Fault::ItemInDivider { item, divider: 2, .. } if item == "saw"
    );
    assert_names!(
        faults_after(|scenario, _| scenario.gear[SAW].padding = HAIR),
        Fault::ItemInDivider { item, divider: 0, .. } if item == "saw"
    );
}

#[test]
fn a_thing_turned_as_it_may_not_be() {
    // The drill case spins about the vertical; it may not lie on its side.
    assert_names!(
        faults_after(|_, design| {
            design.drawers[1].plan.items[0] =
                item(Content::Gear(DRILL), 1, [0, 0, 0], [80, 240, 192]);
        }),
        Fault::Stance { item, .. } if item == "drill case (2)"
    );
    assert_names!(
        plan(|plan| plan.items[SAW_AT].space.size.dy -= HAIR),
        Fault::Stance { item, .. } if item == "saw"
    );
}

#[test]
fn things_that_hang_in_the_air() {
    assert_names!(
        plan(|plan| plan.items[STAPLES_AT].space.at.z = HAIR),
        Fault::Unsupported { item, .. } if item == "staples"
    );
    assert_names!(
        plan(|plan| plan.items[TIN_AT + 1].space.at.z += HAIR),
        Fault::Unsupported { item, .. } if item == "tin (2)"
    );
    // Half beside the tin under it.
    assert_names!(
        plan(|plan| plan.items[TIN_AT + 1].space.at.x += sixteenths(38)),
        Fault::Unsupported { item, .. } if item == "tin (2)"
    );
}

#[test]
fn a_stack_too_high() {
    assert_names!(
        faults_after(|scenario, _| scenario.gear[TIN].stack = 1),
        Fault::StackTooHigh { item, level: 2, most: 1, .. } if item == "tin (2)"
    );
    let third = item(Content::Gear(TIN), 2, [168, 248, 64], [96, 96, 32]);
    assert_names!(
        plan(|plan| plan.items[TIN_AT + 2] = third),
        Fault::StackTooHigh { item, level: 3, most: 2, .. } if item == "tin (3)"
    );
}

#[test]
fn loose_goods_without_their_room() {
    assert_names!(
        plan(|plan| plan.items[STAPLES_AT].space.size.dx = sixteenths(63)),
        Fault::LooseTooNarrow { item, by, .. } if item == "staples" && *by == sixteenths(1)
    );
    // The drawer is 6 in high, which is the least side of their cell.
    assert_names!(
        faults_after(|scenario, _| scenario.loose[STAPLES].least = inches(9)),
        Fault::LooseTooNarrow { item, by, .. } if item == "staples" && *by == inches(3)
    );
    // 8 3/8 × 15 × 2 in are 251 1/4 in³, and a gallon is 231 in³.
    let space = sixteenths(134).by(inches(15)).by(inches(2));
    let missing = Volume::GALLON * 2 - space;
    assert_names!(
        faults_after(|scenario, _| scenario.loose[STAPLES].volume = Volume::GALLON * 2),
        Fault::LooseTooLittle { item, missing: found, .. }
            if item == "staples" && *found == missing
    );
}

#[test]
fn a_divider_out_of_place_or_size() {
    assert_names!(
        plan(|plan| plan.dividers[1].at.y -= HAIR),
        Fault::DividerOutside { divider: 1, by, .. } if *by == HAIR
    );
    assert_names!(
        plan(|plan| plan.dividers[1].size.dz -= HAIR),
        Fault::DividerSize { divider: 1, stated, derived, .. } if *stated == *derived - HAIR
    );
    assert_names!(
        plan(|plan| plan.dividers[1].size.dx += HAIR),
        Fault::DividerSize { divider: 1, derived, .. } if *derived == sixteenths(8)
    );
    assert_names!(
        faults_after(|_, design| {
            // Divider 1 claims the part of divider 0.
            let drawer = &mut design.drawers[0];
            drawer.divider_parts[1] = drawer.divider_parts[0];
        }),
        Fault::Missing { role: Role::Divider, spot } if spot == "drawer A1"
    );
}

#[test]
fn a_divider_that_ends_in_the_open() {
    assert_names!(
        plan(|plan| plan.dividers[2].size.dy -= HAIR),
        Fault::DividerNotEdgeToEdge { divider: 2, .. }
    );
    assert_names!(
        plan(|plan| plan.dividers[0].size.dx -= HAIR),
        Fault::DividerNotEdgeToEdge { divider: 0, .. }
    );
}

#[test]
fn dividers_in_a_pinwheel_are_no_guillotine() {
    let thick = 8;
    let wheel = [
        ([0, 300, 0], [200, thick, 57]),
        ([200, 0, 0], [thick, 608, 57]),
        ([92, 600, 0], [108, thick, 57]),
        ([92, 308, 0], [thick, 292, 57]),
    ];
    let faults = faults_after(|_, design| {
        design.drawers[3].plan.dividers =
            wheel.map(|(at, size)| item(Content::Gear(METER), 0, at, size).space).to_vec();
        design.drawers[3].divider_parts = vec![PartId(0); 4];
    });
    for divider in 0..4 {
        assert_names!(
            faults.clone(),
            Fault::DividerNotEdgeToEdge { place: Place::Drawer(drawer), divider: found }
                if drawer == "B2" && *found == divider
        );
    }
}

#[test]
fn neighbours_without_a_divider() {
    let without = |removed: usize| {
        plan(|plan| {
            plan.dividers.remove(removed);
        })
    };
    // Lists no longer match, which is all that is said: take the part away too.
    assert_names!(without(1), Fault::Lists { what: ListOf::DividerParts, .. });
    let faults = faults_after(|_, design| {
        design.drawers[0].plan.dividers.remove(1);
        design.drawers[0].divider_parts.remove(1);
    });
    assert_names!(
        faults.clone(),
        Fault::NotParted { one, other, .. } if one == "drill case (1)" && other == "staples"
    );
    assert_names!(faults, Fault::Surplus { role: Role::Divider, .. });
    // Tins share their cell only because they are marked so; one on another they may always.
    let faults = faults_after(|scenario, _| scenario.gear[TIN].share = false);
    assert_names!(
        faults.clone(),
        Fault::NotParted { one, other, .. } if one == "tin (1)" && other == "tin (3)"
    );
    let stacked = |fault: &Fault| matches!(fault, Fault::NotParted { one, other, .. } if one == "tin (1)" && other == "tin (2)");
    assert!(!faults.iter().any(stacked), "{faults:?}");
}

#[test]
fn pockets_only_for_gear_that_may_live_there() {
    let place = Place::Pocket(crate::design::PocketPlace::LeftRear);
    assert_names!(
        faults_after(|scenario, _| scenario.gear[JACK].pocket = false),
        Fault::NotForPockets { place: found, item } if *found == place && item == "jack"
    );
    assert_names!(
        faults_after(|scenario, _| scenario.choices.pockets = false),
        Fault::NoPocket { place: found } if *found == place
    );
    assert_names!(
        faults_after(|_, design| {
            let again = design.pockets[0].clone();
            design.pockets.push(again);
        }),
        Fault::PocketTwice { place: found } if *found == place
    );
    assert_names!(
        faults_after(|_, design| {
            let board = design.drawers[0].plan.dividers[0];
            design.pockets[0].plan.dividers.push(board);
        }),
        Fault::Lists { what: ListOf::DividerParts, expected: 1, found: 0 }
    );
}

#[test]
fn dividers_of_a_pocket_are_parts_that_part_it() {
    let board = |at: [i64; 3], size: [i64; 3]| item(Content::Gear(JACK), 0, at, size).space;
    let divided = |space: crate::design::Box3| {
        faults_after(|_, design| {
            let part = part_of(design, Role::Divider);
            design.pockets[0].plan.dividers.push(space);
            design.pockets[0].divider_parts.push(PartId(u32::try_from(part).expect("few")));
        })
    };
    // The pocket is 6 3/8 × 21 in, the jack 5 × 10 in.
    let across = board([0, 200, 0], [102, 8, 57]);
    let faults = divided(across);
    assert_names!(
        faults.clone(),
        Fault::Missing { role: Role::Divider, spot } if spot == "the left rear pocket"
    );
    let whole = |fault: &Fault| {
        matches!(
            fault,
            Fault::DividerNotEdgeToEdge { .. }
                | Fault::DividerSize { .. }
                | Fault::DividerOutside { .. }
        )
    };
    assert!(!faults.iter().any(whole), "{faults:?}");
    assert_names!(
        divided(board([0, 200, 0], [101, 8, 57])),
        Fault::DividerNotEdgeToEdge { place: Place::Pocket(_), divider: 0 }
    );
    assert_names!(
        divided(board([0, 200, 0], [102, 7, 57])),
        Fault::DividerSize { place: Place::Pocket(_), divider: 0, .. }
    );
    assert_names!(
        divided(board([0, 140, 0], [102, 8, 57])),
        Fault::ItemInDivider { place: Place::Pocket(_), item, divider: 0 } if item == "jack"
    );
}

#[test]
fn a_pocket_that_is_not_clear() {
    for (axis, grow) in [(0, 1), (1, 1), (2, 1), (0, -1), (1, -1)] {
        let faults = faults_after(|_, design| {
            let space = &mut design.pockets[0].space;
            let (at, size) = match axis {
                0 => (&mut space.at.x, &mut space.size.dx),
                1 => (&mut space.at.y, &mut space.size.dy),
                _ => (&mut space.at.z, &mut space.size.dz),
            };
            *size += HAIR;
            if grow < 0 {
                *at -= HAIR;
            }
        });
        assert_names!(
            faults,
            Fault::PocketNotClear { by, .. } if *by == HAIR
        );
    }
}

#[test]
fn copies_stowed_twice_or_from_nowhere() {
    assert_names!(
        plan(|plan| plan.items[DRILL_AT].copy = 1),
        Fault::CopyTwice { item, copy: 1 } if item == "drill case"
    );
    assert_names!(
        plan(|plan| plan.items[DRILL_AT].copy = 2),
        Fault::NoSuchCopy { item, copy: 2, count: 2 } if item == "drill case"
    );
}

#[test]
fn counts_that_do_not_add_up() {
    assert_names!(
        faults_after(|_, design| design.left_out.clear()),
        Fault::CountsDoNotAdd { item, stowed: 2, left_out: 0, count: 3 } if item == "clamps"
    );
    assert_names!(
        faults_after(|_, design| design.left_out[0].content = Content::Gear(VACUUM)),
        Fault::CountsDoNotAdd { item, stowed: 1, left_out: 1, count: 1 } if item == "vacuum"
    );
    assert_names!(
        faults_after(|scenario, _| scenario.gear[CLAMP].count = u32::MAX),
        Fault::CountsDoNotAdd { count: 4_294_967_295, .. }
    );
}

#[test]
fn a_must_that_is_left_out() {
    let faults = faults_after(|_, design| {
        let items = &mut design.drawers[0].plan.items;
        let saw: Item = items.remove(SAW_AT);
        let left = crate::design::LeftOut::NoRoom;
        design.left_out.push(crate::design::Unstowed { content: saw.content, count: 1, why: left });
    });
    assert_names!(
        faults,
        Fault::MustLeftOut { item, missing: 1 } if item == "saw"
    );
}

#[test]
fn a_reason_that_does_not_hold() {
    use crate::design::LeftOut;
    let why = |why: LeftOut| faults_after(|_, design| design.left_out[0].why = why);
    // Clamps of 30 × 4 × 4 in, in drawers 6 in high.
    assert_names!(
        why(LeftOut::TooHigh { by: HAIR }),
        Fault::WrongReason { item, derived, .. } if item == "clamps" && *derived == -inches(2)
    );
    assert_names!(
        why(LeftOut::TooLarge { by: HAIR }),
        Fault::WrongReason { item, derived, .. } if item == "clamps" && *derived == -sixteenths(270)
    );
    // 20 in of clamp are 14 in too high for any of them.
    let high = |by: Length| {
        faults_after(|scenario, design| {
            let other = Content::Gear(scenario.gear.push(crate::scenario::Gear {
                size: [inches(4), inches(4), inches(20)],
                name: "pole".to_owned(),
                count: 1,
                ..scenario.gear[CLAMP].clone()
            }));
            let why = LeftOut::TooHigh { by };
            let pole = crate::design::Unstowed { content: other, count: 1, why };
            design.left_out.push(pole);
        })
    };
    assert!(high(inches(14)).is_empty());
    assert_names!(
        high(inches(14) + HAIR),
        Fault::WrongReason { item, .. } if item == "pole"
    );
}
