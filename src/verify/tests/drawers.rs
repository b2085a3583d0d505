//! Faults of drawers in their openings.

use super::*;
use crate::design::Drawer;
use crate::scenario::fixture::{inches, sixteenths};

/// The faults after a change to drawer B1.
fn drawer(change: impl FnOnce(&mut Drawer)) -> Vec<Fault> {
    faults_after(|_, design| change(&mut design.drawers[2]))
}

#[test]
fn a_drawer_out_of_its_order() {
    assert_names!(
        faults_after(|_, design| design.drawers.swap(0, 1)),
        Fault::DrawerName { drawer, expected } if drawer == "A2" && expected == "A1"
    );
    assert_names!(
        drawer(|drawer| drawer.tier = 0),
        Fault::DrawerName { drawer, .. } if drawer == "B1"
    );
}

#[test]
fn an_opening_that_is_not_between_the_members() {
    assert_names!(
        drawer(|drawer| drawer.opening.size.dx += HAIR),
        Fault::Opening { drawer, by } if drawer == "B1" && *by == HAIR
    );
}

#[test]
fn a_box_too_near_a_member() {
    assert_names!(
        drawer(|drawer| drawer.outside.at.x -= HAIR),
        Fault::SideGap { drawer, side: Side::Left, by } if drawer == "B1" && *by == HAIR
    );
    assert_names!(
        drawer(|drawer| drawer.outside.size.dx += HAIR),
        Fault::SideGap { side: Side::Right, by, .. } if *by == HAIR
    );
}

#[test]
fn slides_bring_their_own_gap() {
    use crate::scenario::{Hardware, HardwareUse, Runs, Sold};
    let faults = faults_after(|scenario, design| {
        let slides = Hardware {
            name: "slides".to_owned(),
            use_: HardwareUse::Slides,
            sold: Sold::Each { pack: 1 },
            thickness: sixteenths(8),
            ..scenario.stock.hardware[crate::scenario::HardwareId(0)].clone()
        };
        scenario.stock.hardware.push(slides);
        scenario.choices.runs_on.push(Runs::Slides);
        design.structure.runs = Runs::Slides;
    });
    assert_names!(
        faults.clone(),
        Fault::SideGap { drawer, side: Side::Left, by } if drawer == "A1" && *by == sixteenths(4)
    );
    assert_names!(faults, Fault::HardwareNeed { use_: HardwareUse::Slides, stated: 0, least: 4 });
}

#[test]
fn a_box_that_does_not_stand_on_its_strip() {
    assert_names!(
        drawer(|drawer| drawer.outside.at.z -= HAIR),
        Fault::RunHeight { drawer, by } if drawer == "B1" && *by == HAIR
    );
}

#[test]
fn a_box_that_is_not_flush_or_has_no_room_for_stops() {
    assert_names!(
        drawer(|drawer| drawer.outside.at.y -= HAIR),
        Fault::FrontFlush { by, .. } if *by == HAIR
    );
    assert_names!(
        drawer(|drawer| drawer.outside.size.dy += HAIR),
        Fault::StopGap { by, .. } if *by == HAIR
    );
}

#[test]
fn a_box_too_high_for_its_opening() {
    assert_names!(
        drawer(|drawer| drawer.outside.size.dz += HAIR),
        Fault::TopClearance { by, .. } if *by == HAIR
    );
}

#[test]
fn a_box_that_is_not_as_high_as_its_boards() {
    assert_names!(
        drawer(|drawer| drawer.outside.size.dz -= HAIR),
        Fault::BoxHeight { drawer, stated, derived }
            if drawer == "B1" && *stated == *derived - HAIR
    );
}

#[test]
fn an_inside_that_is_not_what_the_boards_leave() {
    for along in [Direction::Across, Direction::Along, Direction::Up] {
        let longer = drawer(|drawer| match along {
            Direction::Across => drawer.inside.dx += HAIR,
            Direction::Along => drawer.inside.dy += HAIR,
            Direction::Up => drawer.inside.dz += HAIR,
        });
        assert_names!(
            longer,
            Fault::InsideSize { along: found, stated, derived, .. }
                if *found == along && *stated == *derived + HAIR
        );
        let moved = drawer(|drawer| match along {
            Direction::Across => drawer.inside_at.x -= HAIR,
            Direction::Along => drawer.inside_at.y -= HAIR,
            Direction::Up => drawer.inside_at.z -= HAIR,
        });
        assert_names!(
            moved,
            Fault::InsideAt { along: found, stated, derived, .. }
                if *found == along && *stated == *derived - HAIR
        );
    }
}

#[test]
fn a_drawer_under_the_least_size() {
    assert_names!(
        faults_after(|scenario, _| scenario.allowances.least_drawer_width = inches(21)),
        Fault::TooSmall { what: Dimension::DrawerInsideWidth, by, .. } if *by == sixteenths(2)
    );
    assert_names!(
        faults_after(|scenario, _| scenario.allowances.least_drawer_height = inches(7)),
        Fault::TooSmall { what: Dimension::ClearHeight, by, .. } if *by == inches(1)
    );
}

#[test]
fn a_front_that_catches_the_overhang() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::AppliedFront).space.size.dz += HAIR),
        Fault::FrontBlocked { drawer, by } if drawer == "A1" && *by == HAIR
    );
}

#[test]
fn a_front_that_is_not_on_its_box() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::AppliedFront).space.at.y -= HAIR),
        Fault::FrontUncovered { drawer, by } if drawer == "A1" && *by == HAIR
    );
    assert_names!(
        faults_after(|_, design| {
            let front = &mut solid_of(design, Role::AppliedFront).space;
            front.at.x += inches(3);
            front.size.dx -= inches(3);
        }),
        Fault::FrontUncovered { drawer, .. } if drawer == "A1"
    );
}

#[test]
fn fronts_too_near_each_other() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::AppliedFront).space.size.dx += sixteenths(1)),
        Fault::FrontReveal { drawer, neighbour, by }
            if drawer == "A1" && neighbour == "A2" && *by == sixteenths(1)
    );
}

#[test]
fn a_front_that_reaches_beyond_the_chest() {
    assert_names!(
        faults_after(|_, design| solid_of(design, Role::AppliedFront).space.at.x -= HAIR),
        Fault::FrontBeyond { drawer, by } if drawer == "A1" && *by == HAIR
    );
}
