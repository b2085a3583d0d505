//! Where each placed piece must stand: members, backs and the boards of every drawer, matched with what is placed.

use super::case::Case;
use super::drawers::{Seat, off, seats};
use super::fault::Fault;
use crate::design::{Box3, Point, Role, Size};
use crate::units::Length;

/// The roles whose places follow from the design to the last unit.
pub(super) const EXACT: [Role; 8] = [
    Role::Member,
    Role::Back,
    Role::Side,
    Role::DrawerFront,
    Role::DrawerBack,
    Role::Guard,
    Role::DrawerBottom,
    Role::Divider,
];

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let seats = seats(case);
    for role in [Role::Member, Role::Back] {
        let wanted = chest_pieces(case, role);
        matched(case, role, None, "the chest", &wanted, faults);
    }
    for (index, seat) in seats.iter().enumerate() {
        let spot = format!("drawer {}", case.design.drawers[index].name);
        for role in EXACT.into_iter().skip(2) {
            let wanted = drawer_pieces(case, index, seat, role);
            matched(case, role, Some(index), &spot, &wanted, faults);
        }
        let fronts = case.solids_of(Role::AppliedFront);
        let found = fronts.filter(|(_, solid)| solid.drawer == Some(index)).count();
        if found == 0 {
            faults.push(Fault::Missing { role: Role::AppliedFront, spot: spot.clone() });
        }
        if found > 1 {
            let part = case.drawer_name(index);
            faults.push(Fault::Surplus { part, role: Role::AppliedFront });
        }
    }
}

/// Members and back pieces of every tier.
fn chest_pieces(case: &Case<'_>, role: Role) -> Vec<Box3> {
    let chest = &case.design.chest;
    let y = chest.carcass.front_y;
    let mut pieces = Vec::new();
    for (tier, frame) in chest.carcass.tiers.iter().enumerate() {
        let thick = case.thickness(case.design.structure.tiers[tier].member);
        let length = chest.carcass.length - thick;
        if role == Role::Back {
            let at = Point::new(frame.x, y + length, frame.z);
            pieces.push(Box3 { at, size: Size::new(frame.width, thick, frame.height) });
            continue;
        }
        let mut x = frame.x;
        for width in chest.openings[tier].iter().chain([&Length::ZERO]) {
            let size = Size::new(thick, length, frame.height);
            pieces.push(Box3 { at: Point::new(x, y, frame.z), size });
            x += thick + *width;
        }
    }
    pieces
}

/// The boards of one drawer that have the given role.
fn drawer_pieces(case: &Case<'_>, index: usize, seat: &Seat<'_>, role: Role) -> Vec<Box3> {
    let drawer = &case.design.drawers[index];
    let chosen = &case.design.structure;
    let t = case.thickness(chosen.sides);
    let bottom = case.thickness(chosen.drawer_bottom);
    let (at, size) = (drawer.outside.at, drawer.outside.size);
    let z = at.z + bottom;
    let high = seat.frame.side_height;
    let side = |x: Length| Box3 { at: Point::new(x, at.y, z), size: Size::new(t, size.dy, high) };
    let between = |y: Length| Box3 {
        at: Point::new(at.x + t, y, z),
        size: Size::new(size.dx - t * 2, t, high),
    };
    match role {
        Role::Side => vec![side(at.x), side(at.x + size.dx - t)],
        Role::DrawerFront => vec![between(at.y)],
        Role::DrawerBack => vec![between(at.y + size.dy - t)],
        Role::Guard if case.scenario.choices.locks => {
            vec![between(at.y + seat.frame.drawer_inside_y - t)]
        }
        Role::DrawerBottom => {
            vec![Box3 { at, size: Size::new(size.dx, size.dy, bottom) }]
        }
        Role::Divider => {
            drawer.plan.dividers.iter().map(|divider| divider.moved(drawer.inside_at)).collect()
        }
        _ => Vec::new(),
    }
}

/// Matches the pieces placed for a role with those wanted: equal ones first, then one by one what is left of both.
fn matched(
    case: &Case<'_>,
    role: Role,
    drawer: Option<usize>,
    spot: &str,
    wanted: &[Box3],
    faults: &mut Vec<Fault>,
) {
    let mut placed: Vec<_> =
        case.solids_of(role).filter(|(_, solid)| solid.drawer == drawer).collect();
    let mut missing = Vec::new();
    for want in wanted {
        match placed.iter().position(|(_, solid)| solid.space == *want) {
            Some(found) => {
                placed.swap_remove(found);
            }
            None => missing.push(*want),
        }
    }
    placed.sort_by_key(|(index, _)| *index);
    let mut placed = placed.into_iter();
    for want in missing {
        faults.push(match placed.next() {
            Some((_, solid)) => {
                let by = off(solid.space, want);
                Fault::Misplaced { part: case.mark(solid.part), role, by }
            }
            None => Fault::Missing { role, spot: spot.to_owned() },
        });
    }
    faults.extend(placed.map(|(_, solid)| Fault::Surplus { part: case.mark(solid.part), role }));
}
