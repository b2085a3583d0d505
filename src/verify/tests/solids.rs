//! Faults of parts and placed pieces.

use super::*;
use crate::scenario::fixture::{inches, sixteenths};

#[test]
fn two_pieces_in_one_place() {
    let faults = faults_after(|_, design| {
        // A drawer side grows into the strip's gap: it meets the member.
        let side = &mut solid_of(design, Role::Side).space;
        side.at.x -= sixteenths(5);
        side.size.dx += sixteenths(5);
    });
    assert_names!(
        faults,
        Fault::Overlap { one, other, by: [dx, ..] }
            if one.starts_with('M') && other.starts_with('S') && *dx == sixteenths(1)
    );
}

#[test]
fn faces_that_touch_do_not_overlap() {
    let faults = faults_after(|_, _| {});
    assert!(faults.is_empty(), "boards of a box touch: {faults:?}");
}

#[test]
fn a_piece_out_of_the_bed_or_in_a_well() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Lid).space.at.x = -HAIR),
        Fault::OutsideBed { by, .. } if *by == HAIR
    );
    // The lid lies before the well, 18 in high; pushed back and down it would be in it.
    let faults = faults_after(|_, design| {
        let lid = &mut solid_of(design, Role::Lid).space.at;
        lid.y += inches(4);
        lid.z = inches(8);
    });
    assert_names!(
        faults,
        Fault::InWell { part, side: Side::Left, by } if part == "L1" && *by == sixteenths(115 - 8)
    );
}

#[test]
fn a_lid_that_stands_above_the_deck() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Lid).space.at.z += HAIR),
        Fault::Misplaced { role: Role::Lid, by, .. } if *by == HAIR
    );
}

#[test]
fn a_piece_that_is_not_as_large_as_its_part() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Back).space.size.dx -= HAIR),
        Fault::SolidSize { part } if part == "K1"
    );
}

#[test]
fn more_pieces_than_copies() {
    let faults = faults_after(|_, design| {
        let part = part_of(design, Role::Member);
        design.parts[part].quantity -= 1;
    });
    assert_names!(
        faults,
        Fault::SolidCount { part, quantity: 5, placed: 6 } if part == "M1"
    );
}

#[test]
fn a_piece_that_moves_with_the_wrong_drawer() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Member).drawer = Some(0)),
        Fault::MovesWith { part } if part == "M1"
    );
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Guard).drawer = None),
        Fault::MovesWith { part } if part == "G1"
    );
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::Guard).drawer = Some(1)),
        Fault::Missing { role: Role::Guard, spot } if spot == "drawer A1"
    );
}

#[test]
fn pieces_missing_surplus_or_misplaced() {
    for role in [
        Role::Member,
        Role::Back,
        Role::Side,
        Role::DrawerFront,
        Role::DrawerBack,
        Role::Guard,
        Role::DrawerBottom,
        Role::AppliedFront,
        Role::Divider,
    ] {
        let without = faults_after(|_, design| {
            let gone = *solid_of(design, role);
            design.solids.retain(|solid| *solid != gone);
        });
        assert_names!(
            without,
            Fault::Missing { role: found, .. } if *found == role
        );
        let doubled = faults_after(|_, design| {
            let more = *solid_of(design, role);
            design.solids.push(more);
        });
        assert_names!(
            doubled.clone(),
            Fault::Surplus { role: found, .. } if *found == role
        );
        assert_names!(doubled, Fault::Overlap { .. });
        if role != Role::AppliedFront {
            let moved = faults_after(|_, design| solid_of(design, role).space.at.z += HAIR);
            assert_names!(
                moved,
                Fault::Misplaced { role: found, by, .. } if *found == role && *by == HAIR
            );
        }
    }
}

#[test]
fn parts_of_the_wrong_material_or_thickness() {
    let deck = |design: &Design| design.structure.deck;
    let faults = faults_after(|_, design| {
        let (part, deck) = (part_of(design, Role::DrawerBottom), deck(design));
        design.parts[part].material = deck;
    });
    assert_names!(faults.clone(), Fault::PartMaterial { role: Role::DrawerBottom, .. });
    assert_names!(
        faults.clone(),
        Fault::PartThickness { material, .. } if *material == Length::inches(23, 32)
    );
    assert_names!(faults, Fault::PieceMaterial { .. });
}

#[test]
fn two_parts_with_one_mark() {
    let faults = faults_after(|_, design| design.parts[1].mark = design.parts[0].mark.clone());
    assert_names!(faults, Fault::MarkTwice { .. });
}

#[test]
fn a_part_larger_than_any_sheet_or_board() {
    let faults = faults_after(|scenario, _| {
        for id in scenario.stock.items.ids() {
            if let crate::scenario::Form::Sheet { along, .. } = &mut scenario.stock.items[id].form {
                *along = inches(75);
            }
        }
    });
    assert_names!(faults, Fault::LargerThanStock { part } if part == "D1");
    let faults = faults_after(|_, design| {
        let part = part_of(design, Role::Side);
        design.parts[part].width = inches(8);
    });
    assert_names!(faults, Fault::LargerThanStock { part } if part == "S1");
}

#[test]
fn corner_blocks_stop_blocks_and_lids_are_counted() {
    let faults = faults_after(|_, design| {
        let part = part_of(design, Role::CornerBlock);
        design.parts[part].quantity = 7;
    });
    assert_names!(faults, Fault::RoleCount { role: Role::CornerBlock, expected: 8, found: 7 });
    let faults = faults_after(|_, design| {
        let mut part = design.parts[part_of(design, Role::CornerBlock)].clone();
        part.role = Role::StopBlock;
        part.quantity = 6;
        design.parts.push(part);
    });
    assert_names!(faults, Fault::RoleCount { role: Role::StopBlock, expected: 4, found: 6 });
    let faults = faults_after(|_, design| design.pockets.clear());
    assert_names!(faults, Fault::RoleCount { role: Role::Lid, expected: 0, found: 1 });
}
