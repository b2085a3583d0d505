//! Locks of built drawers.

use super::{Lock, lock};
use crate::design::derive::fastening::{pieces, rows};
use crate::design::work::{HoleKind, Row};
use crate::design::{Role, Structure};
use crate::mechanics::checks::fixture::*;
use crate::mechanics::testing::close;
use crate::scenario::fixture::full_size;
use crate::scenario::{Runs, Scenario};
use crate::units::Length;

fn locks(scenario: &Scenario, whole: &Whole) -> Vec<Lock> {
    let subject = whole.subject();
    subject.drawers.iter().map(|drawer| lock(scenario, &subject, drawer)).collect()
}

// Derived: a quarter turn of a pin r out pushes a rod through a hole X away by √(X² + r²) − (X − r).
#[test]
fn throw_and_length_are_plane_geometry() {
    let scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[]);
    let drawer = &whole.built.drawers[0];
    let radius = scenario.engineering.lock_radius.to_metres();
    let side = scenario.stock.materials[whole.structure.sides].thickness.to_metres();
    let hole = drawer.outside.size.dx.to_metres() / 2.0 - side;
    let throw = (hole * hole + radius * radius).sqrt() - (hole - radius);
    let found = locks(&scenario, &whole)[0];
    close(found.throw.in_metres(), throw, 1e-9);
    let gap = whole.built.chest.carcass.tiers[0].side_gap.to_metres();
    let retracted = found.rod.in_metres() - found.throw.in_metres() + radius;
    // Drawn in, the tip stands no farther out than 3 mm inside the side's outer face.
    assert!(retracted <= hole + side - 0.003 + 1e-9, "{found:?}");
    // Thrown, it crosses the gap and enters the member, not through it.
    close(found.rod.in_metres() + radius, hole + side + gap + found.engagement.in_metres(), 1e-9);
    let member = whole.built.chest.carcass.tiers[0].member.to_metres();
    assert!(found.engagement.in_metres() < member / 2.0, "neighbours meet end to end");
}

#[test]
fn the_holes_that_are_drilled_are_those_that_are_checked() {
    let scenario = full_size();
    let whole = chest(&scenario, &[3], Runs::Strip, &[]);
    let subject = whole.subject();
    let (rows, pieces) = (rows(&scenario, &subject), pieces(&subject));
    let checks = whole.checks(&scenario);
    let said = said(starting(&checks, "lock rods of"));
    for (index, lock) in locks(&scenario, &whole).iter().enumerate() {
        let drawer = &whole.built.drawers[index];
        // Rows are in the members' own frames: along, and across from the lower edge.
        let beside = |row: &&Row| {
            let space = pieces[row.piece.0 as usize].space.expect("members have their place");
            let opening = drawer.opening;
            let touches = space.far().x == opening.at.x || space.at.x == opening.far().x;
            let place = [lock.y - space.at.y, lock.z - space.at.z];
            touches && row.kind == HoleKind::RodMate && row.holes == [place]
        };
        assert!(rows.iter().filter(beside).count() >= 2, "{}: {lock:?}", drawer.name);
    }
    assert!(said.contains("from the closed tailgate"), "{said}");
}

#[test]
fn holes_of_neighbours_in_thin_members_do_not_meet() {
    let mut scenario = full_size();
    let thin = scenario.stock.material_named("1x8").expect("the fixture stocks it");
    let mut whole = chest(&scenario, &[3], Runs::Strip, &[]);
    let heights = |scenario: &Scenario, whole: &Whole| -> Vec<Length> {
        locks(scenario, whole).iter().map(|lock| lock.z).collect()
    };
    let thick = heights(&scenario, &whole);
    assert!(thick.windows(2).all(|pair| pair[0] == pair[1]), "end to end in 1 1/2 in");
    let mut tiers = whole.structure.tiers.clone();
    tiers.iter_mut().for_each(|tier| tier.member = thin);
    whole = rebuilt(&scenario, Structure { tiers, ..whole.structure.clone() }, &[]);
    let thin = heights(&scenario, &whole);
    let rod = scenario.engineering.lock_rod;
    assert!(thin.windows(2).all(|pair| pair[0].abs_diff(pair[1]) >= rod * 2), "{thin:?}");
    // Staggered or not, they stay within the sides.
    for (lock, drawer) in locks(&scenario, &whole).iter().zip(&whole.built.drawers) {
        assert!(lock.z + rod < drawer.outside.far().z);
    }
    scenario.choices.locks = false;
    assert!(!names(&whole.checks(&scenario)).iter().any(|name| name.contains("lock")));
}

// The stop board stands across the whole drawer, behind the rods, as high as the sides: gear can't come to the lock.
#[test]
fn the_guard_keeps_gear_off_the_rods() {
    let scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    for (index, lock) in locks(&scenario, &whole).iter().enumerate() {
        let drawer = &whole.built.drawers[index];
        let built = &whole.built;
        let role = |role: Role| {
            let mut mine = built.solids.iter().filter(|solid| solid.drawer == Some(index));
            let found = mine.find(|solid| built.parts[solid.part.0 as usize].role == role);
            found.expect("every locked drawer has one").space
        };
        let (guard, front) = (role(Role::Guard), role(Role::DrawerFront));
        let rod = scenario.engineering.lock_rod;
        assert!(front.far().y + rod / 2 <= lock.y && lock.y + rod / 2 <= guard.at.y);
        assert_eq!(guard.size.dx, drawer.inside.dx, "from side to side");
        assert!(lock.z + rod / 2 < guard.far().z, "{lock:?} {guard:?}");
        assert!(drawer.inside_at.y >= guard.far().y, "gear begins behind it");
    }
}

// Derived: bending across gap and half the engagement, against shear and bearing; thicker rods hold more.
#[test]
fn thicker_rods_hold_more() {
    let mut scenario = heavy(full_size(), 40);
    let limit = |scenario: &Scenario| {
        let checks = chest(scenario, &[2], Runs::Strip, &[at_front()]).checks(scenario);
        let check = starting(&checks, "lock of");
        assert!(said(check).contains("no security rating"));
        (check.value, check.limit)
    };
    let (load, thin) = limit(&scenario);
    scenario.engineering.lock_rod = Length::inches(3, 8);
    let (same, thick) = limit(&scenario);
    assert!(thick > thin && (same - load).abs() < 1e-9);
}
