//! Drawers in their openings: gaps, box, inside, applied fronts.

use super::case::Case;
use super::fault::{Dimension, Direction, Fault, Side};
use crate::design::{Box3, Drawer, Point, Role, Size, Solid, TierFrame};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    for (index, seat) in seats(case).iter().enumerate() {
        let drawer = &case.design.drawers[index];
        name(drawer, seat, faults);
        if off(drawer.opening, seat.opening).is_positive() {
            let by = off(drawer.opening, seat.opening);
            faults.push(Fault::Opening { drawer: drawer.name.clone(), by });
        }
        in_opening(case, drawer, seat, faults);
        inside(case, drawer, seat.frame, faults);
        fronts(case, index, seat, faults);
        hatch(case, index, faults);
    }
    reveals(case, faults);
}

/// Where a drawer belongs.
pub(super) struct Seat<'a> {
    pub tier: usize,
    pub column: usize,
    pub frame: &'a TierFrame,
    /// The space between members and panels, from the chest's widths.
    pub opening: Box3,
}

/// The seats of all drawers: tier by tier from the bottom, each from left to right.
pub(super) fn seats<'a>(case: &Case<'a>) -> Vec<Seat<'a>> {
    let chest = &case.design.chest;
    let mut seats = Vec::with_capacity(case.design.drawers.len());
    for (tier, (frame, openings)) in chest.carcass.tiers.iter().zip(&chest.openings).enumerate() {
        let member = case.thickness(case.design.structure.tiers[tier].member);
        let mut x = frame.x;
        for (column, width) in openings.iter().enumerate() {
            x += member;
            let at = Point::new(x, chest.carcass.front_y, frame.z);
            let size = Size::new(*width, chest.carcass.length - member, frame.height);
            seats.push(Seat { tier, column, frame, opening: Box3 { at, size } });
            x += *width;
        }
    }
    seats
}

/// How far two boxes differ at most, in a corner or an extent.
pub(super) fn off(a: Box3, b: Box3) -> Length {
    let corners = [(a.at, b.at), (a.far(), b.far())];
    let differences =
        corners.map(|(a, b)| a.x.abs_diff(b.x).max(a.y.abs_diff(b.y)).max(a.z.abs_diff(b.z)));
    differences[0].max(differences[1])
}

/// Tiers are letters from the bottom, columns numbers from the left.
fn name(drawer: &Drawer, seat: &Seat<'_>, faults: &mut Vec<Fault>) {
    let letter = char::from(b'A' + u8::try_from(seat.tier.min(25)).unwrap_or(25));
    let expected = format!("{letter}{}", seat.column + 1);
    if drawer.name != expected || drawer.tier != seat.tier || drawer.column != seat.column {
        faults.push(Fault::DrawerName { drawer: drawer.name.clone(), expected });
    }
}

/// The box keeps its gaps to the sides, stands on its runs, is flush in front, leaves room for the stops behind and the
/// clearance above.
fn in_opening(case: &Case<'_>, drawer: &Drawer, seat: &Seat<'_>, faults: &mut Vec<Fault>) {
    let allow = &case.scenario.allowances;
    let (hole, outside) = (seat.opening, drawer.outside);
    let name = || drawer.name.clone();
    let gap = case.side_gap();
    for (side, has) in
        [(Side::Left, outside.at.x - hole.at.x), (Side::Right, hole.far().x - outside.far().x)]
    {
        if has != gap {
            faults.push(Fault::SideGap { drawer: name(), side, by: gap - has });
        }
    }
    let run = seat.frame.run_height;
    let stands = outside.at.z - hole.at.z;
    if stands != run {
        faults.push(Fault::RunHeight { drawer: name(), by: run - stands });
    }
    let flush = hole.at.y - outside.at.y;
    if flush != Length::ZERO {
        faults.push(Fault::FrontFlush { drawer: name(), by: flush });
    }
    let behind = hole.far().y - outside.far().y;
    if behind != allow.stop {
        faults.push(Fault::StopGap { drawer: name(), by: allow.stop - behind });
    }
    let above = hole.far().z - outside.far().z;
    if above < allow.top_clearance {
        faults.push(Fault::TopClearance { drawer: name(), by: allow.top_clearance - above });
    }
    let bottom = case.thickness(case.design.structure.drawer_bottom);
    let (stated, derived) = (outside.size.dz, bottom + seat.frame.side_height);
    if stated != derived {
        faults.push(Fault::BoxHeight { drawer: name(), stated, derived });
    }
}

/// The inside is what sides, front, back, guard, blocks, bottom and carpet leave of the box.
fn inside(case: &Case<'_>, drawer: &Drawer, frame: &TierFrame, faults: &mut Vec<Fault>) {
    let chosen = &case.design.structure;
    let allow = &case.scenario.allowances;
    let side = case.thickness(chosen.sides);
    let box_ = drawer.outside;
    let floor = case.thickness(chosen.drawer_bottom) + case.carpet();
    let begins = Point::new(box_.at.x + side, box_.at.y + frame.drawer_inside_y, box_.at.z + floor);
    let ends = Point::new(
        box_.far().x - side,
        box_.far().y - side - case.corner_block(),
        frame.z + frame.height - allow.top_clearance,
    );
    let (at, size) = (drawer.inside_at, drawer.inside);
    use Direction::*;
    for (along, stated, derived) in
        [(Across, at.x, begins.x), (Along, at.y, begins.y), (Up, at.z, begins.z)]
    {
        if stated != derived {
            faults.push(Fault::InsideAt { drawer: drawer.name.clone(), along, stated, derived });
        }
    }
    for (along, stated, derived) in [
        (Across, size.dx, ends.x - begins.x),
        (Along, size.dy, ends.y - begins.y),
        (Up, size.dz, ends.z - begins.z),
    ] {
        if stated != derived {
            faults.push(Fault::InsideSize { drawer: drawer.name.clone(), along, stated, derived });
        }
    }
    for (what, has, least) in [
        (Dimension::DrawerInsideWidth, size.dx, allow.least_drawer_width),
        (Dimension::ClearHeight, size.dz, allow.least_drawer_height),
    ] {
        let by = least - has;
        if by.is_positive() {
            faults.push(Fault::TooSmall { drawer: drawer.name.clone(), what, by });
        }
    }
}

/// The applied fronts of one drawer (there should be one; `placing` counts them).
fn applied<'a>(case: &Case<'a>, drawer: usize) -> impl Iterator<Item = &'a Solid> {
    case.solids_of(Role::AppliedFront)
        .map(|(_, solid)| solid)
        .filter(move |solid| solid.drawer == Some(drawer))
}

/// An applied front stands before its drawer's box and covers it, from the box's underside up, and passes under what
/// is above it.
fn fronts(case: &Case<'_>, index: usize, seat: &Seat<'_>, faults: &mut Vec<Fault>) {
    let drawer = &case.design.drawers[index];
    let allow = &case.scenario.allowances;
    let thick = case.thickness(case.design.structure.front);
    for solid in applied(case, index) {
        let (at, far) = (solid.space.at, solid.space.far());
        let box_ = drawer.outside;
        let astray = [
            at.x - box_.at.x,
            box_.far().x - far.x,
            at.y.abs_diff(box_.at.y - thick),
            far.y.abs_diff(box_.at.y),
            at.z.abs_diff(box_.at.z),
            solid.space.size.dz.abs_diff(seat.frame.front_height),
        ];
        let by = astray.into_iter().max().unwrap_or_default();
        if by.is_positive() {
            faults.push(Fault::FrontUncovered { drawer: drawer.name.clone(), by });
        }
        let by = far.z + allow.front_gap - seat.opening.far().z;
        if by.is_positive() {
            faults.push(Fault::FrontBlocked { drawer: drawer.name.clone(), by });
        }
        let by = (seat.frame.x - at.x).max(far.x - seat.frame.x - seat.frame.width);
        if by.is_positive() {
            faults.push(Fault::FrontBeyond { drawer: drawer.name.clone(), by });
        }
    }
}

/// Applied fronts side by side keep their reveal.
fn reveals(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let reveal = case.scenario.allowances.front_reveal;
    let drawers = &case.design.drawers;
    for (index, pair) in drawers.windows(2).enumerate() {
        if pair[0].tier != pair[1].tier {
            continue;
        }
        for left in applied(case, index) {
            for right in applied(case, index + 1) {
                let by = reveal - (right.space.at.x - left.space.far().x);
                if by.is_positive() {
                    let (drawer, neighbour) = (pair[0].name.clone(), pair[1].name.clone());
                    faults.push(Fault::FrontReveal { drawer, neighbour, by });
                }
            }
        }
    }
}

/// A drawer comes out through the hatch opening, which is taken as standing on the floor in the middle of the bed.
fn hatch(case: &Case<'_>, index: usize, faults: &mut Vec<Fault>) {
    let Some(opening) = &case.scenario.bed.opening else { return };
    let width = case.scenario.bed.width.at;
    let boxes = std::iter::once(case.design.drawers[index].outside);
    let moving = boxes.chain(applied(case, index).map(|solid| solid.space));
    let over = moving.map(|space| {
        // Doubled, so that the middle of an odd width stays whole; half a unit counts as one.
        let left = width - opening.width - space.at.x * 2;
        let right = space.far().x * 2 - width - opening.width;
        let aside = Length::from_units((left.max(right).units() + 1) / 2);
        aside.max(space.far().z - opening.height)
    });
    let by = over.max().unwrap_or_default();
    if by.is_positive() {
        let what = format!("drawer {}", case.design.drawers[index].name);
        faults.push(Fault::Hatch { what, by });
    }
}
