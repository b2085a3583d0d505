//! Parts and placed pieces: materials and sizes, no two in one place, all in the bed and none in a well.

use super::case::{Case, well_faces_doubled};
use super::fault::{Fault, Side};
use super::placing;
use crate::design::{Box3, Part, Role, Solid};
use crate::scenario::{Form, MaterialId, Section};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    parts(case, faults);
    placed_counts(case, faults);
    role_counts(case, faults);
    for solid in &case.design.solids {
        size(case, solid, faults);
        moves(case, solid, faults);
        in_bed(case, solid, faults);
        stands(case, solid, faults);
    }
    dividers(case, faults);
    overlaps(case, faults);
    placing::check(case, faults);
}

fn parts(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let parts = &case.design.parts;
    for (index, part) in parts.iter().enumerate() {
        let mark = || part.mark.clone();
        if parts[..index].iter().any(|other| other.mark == part.mark) {
            faults.push(Fault::MarkTwice { part: mark() });
        }
        let material = case.thickness(part.material);
        if part.thickness != material {
            let stated = part.thickness;
            faults.push(Fault::PartThickness { part: mark(), stated, material });
        }
        if !of_chosen_material(case, part) {
            faults.push(Fault::PartMaterial { part: mark(), role: part.role });
        }
        if part.quantity > 0 && !any_stock_holds(case, part) {
            faults.push(Fault::LargerThanStock { part: mark() });
        }
        hatch(case, part, faults);
    }
}

/// Whether a part is of the material that the structure or the scenario's choices give its role.
fn of_chosen_material(case: &Case<'_>, part: &Part) -> bool {
    let chosen = &case.design.structure;
    let is = |id: MaterialId| part.material == id;
    match part.role {
        Role::Bottom | Role::Shelf => is(chosen.bottom),
        Role::Deck => is(chosen.deck),
        Role::Member | Role::Back => chosen.tiers.iter().any(|tier| is(tier.member)),
        Role::Side | Role::DrawerFront | Role::DrawerBack | Role::Guard => is(chosen.sides),
        Role::DrawerBottom => is(chosen.drawer_bottom),
        Role::AppliedFront => is(chosen.front),
        Role::Divider => is(chosen.divider),
        Role::CornerBlock => case.scenario.choices.corner_blocks.is_some_and(is),
        Role::Packing | Role::Outrigger | Role::StopBlock | Role::Lid => true,
    }
}

/// Whether some stock of its material holds a part, in the direction that its grain asks for and after the trims.
fn any_stock_holds(case: &Case<'_>, part: &Part) -> bool {
    let material = case.material(part.material);
    case.scenario.stock.of(part.material).any(|(_, item)| match (item.form, material.section) {
        (Form::Board { length }, Section::Board { width }) => {
            part.length <= length && part.width <= width
        }
        (Form::Sheet { along, across }, _) => {
            let trims = if item.is_offcut() { Length::ZERO } else { case.scenario.shop.edge_trim };
            let room = [along - trims * 2, across - trims * 2];
            super::cutting::ways(&part.into(), material.grain)
                .any(|[x, y]| x <= room[0] && y <= room[1])
        }
        (Form::Board { .. }, Section::Sheet) => false,
    })
}

/// A part goes in through the hatch end first: its two lesser extents pass the opening, one way round or the other.
fn hatch(case: &Case<'_>, part: &Part, faults: &mut Vec<Fault>) {
    let Some(opening) = &case.scenario.bed.opening else { return };
    let mut extents = [part.length, part.width, part.thickness];
    extents.sort();
    let mut room = [opening.width, opening.height];
    room.sort();
    let by = (extents[0] - room[0]).max(extents[1] - room[1]);
    if by.is_positive() {
        faults.push(Fault::Hatch { what: format!("part {}", part.mark), by });
    }
}

/// Every copy is placed, save of those roles that are fitted on the spot: these are all placed or not at all.
fn placed_counts(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let mut placed = vec![0_u64; case.design.parts.len()];
    for solid in &case.design.solids {
        placed[solid.part.0 as usize] += 1;
    }
    for (part, placed) in case.design.parts.iter().zip(placed) {
        let fitted = matches!(part.role, Role::CornerBlock | Role::StopBlock | Role::Packing);
        let quantity = u64::from(part.quantity);
        if placed != quantity && !(fitted && placed == 0) {
            faults.push(Fault::SolidCount { part: part.mark.clone(), quantity, placed });
        }
    }
}

/// Corner blocks: two lengths of square stock a drawer, each of which gives two blocks. Stop blocks: the same number for
/// every drawer, or none if they are left to what falls from the saw. Packing only under a chest that is lifted, and then
/// under each of its members.
fn role_counts(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let drawers = case.design.drawers.len() as u64;
    let mut expect = |role, expected: u64| {
        let found = case.quantity_of(role);
        if found != expected {
            faults.push(Fault::RoleCount { role, expected, found });
        }
    };
    let blocks = if case.scenario.choices.corner_blocks.is_some() { drawers * 2 } else { 0 };
    expect(Role::CornerBlock, blocks);
    expect(Role::StopBlock, case.quantity_of(Role::StopBlock) / drawers.max(1) * drawers);
    expect(Role::Lid, case.design.pockets.len() as u64);
    let members = case.design.chest.openings.first().map_or(0, |row| row.len() as u64 + 1);
    let packing = case.quantity_of(Role::Packing);
    let lifted = case.design.chest.carcass.lift.is_positive();
    expect(
        Role::Packing,
        if lifted { packing.div_ceil(members.max(1)).max(1) * members } else { 0 },
    );
}

/// A placed piece has its part's extents, turned as it may be.
fn size(case: &Case<'_>, solid: &Solid, faults: &mut Vec<Fault>) {
    let part = case.part(solid.part);
    let mut cut = [part.length, part.width, part.thickness];
    let mut placed = [solid.space.size.dx, solid.space.size.dy, solid.space.size.dz];
    cut.sort();
    placed.sort();
    if cut != placed {
        faults.push(Fault::SolidSize { part: part.mark.clone() });
    }
}

/// Whether a solid stands where a pocket's plan has a divider.
fn in_pocket(case: &Case<'_>, solid: &Solid) -> bool {
    let mut dividers = case.design.pockets.iter().flat_map(|pocket| {
        pocket.plan.dividers.iter().map(|divider| divider.moved(pocket.space.at))
    });
    dividers.any(|divider| divider == solid.space)
}

/// A drawer's boards move with a drawer, everything else stays; a pocket's dividers stay too.
fn moves(case: &Case<'_>, solid: &Solid, faults: &mut Vec<Fault>) {
    let role = case.part(solid.part).role;
    if role == Role::Divider && solid.drawer.is_none() && in_pocket(case, solid) {
        return;
    }
    let of_drawer = matches!(
        role,
        Role::Side
            | Role::DrawerFront
            | Role::DrawerBack
            | Role::Guard
            | Role::DrawerBottom
            | Role::AppliedFront
            | Role::CornerBlock
            | Role::Divider
    );
    if of_drawer != solid.drawer.is_some() {
        faults.push(Fault::MovesWith { part: case.mark(solid.part) });
    }
}

fn in_bed(case: &Case<'_>, solid: &Solid, faults: &mut Vec<Fault>) {
    let bed = &case.scenario.bed;
    let (at, far) = (solid.space.at, solid.space.far());
    let out = [
        -at.x,
        -at.y,
        -at.z,
        far.x - bed.width.at,
        far.y - bed.length.at,
        far.z - bed.clear_height.at,
    ];
    let by = out.into_iter().max().unwrap_or_default();
    if by.is_positive() {
        faults.push(Fault::OutsideBed { part: case.mark(solid.part), by });
    }
    for (side, by) in into_wells(case, solid.space) {
        faults.push(Fault::InWell { part: case.mark(solid.part), side, by });
    }
}

/// How far a space reaches into each wheel well, across: only those that it does reach into.
pub(super) fn into_wells(case: &Case<'_>, space: Box3) -> Vec<(Side, Length)> {
    let bed = &case.scenario.bed;
    let (Some(wells), Some((left, right))) = (&bed.wells, well_faces_doubled(bed)) else {
        return Vec::new();
    };
    let (at, far) = (space.at, space.far());
    let beside = at.y < wells.from_tailgate + wells.length && far.y > wells.from_tailgate;
    if !(beside && at.z < wells.height) {
        return Vec::new();
    }
    // Doubled, as the wells' faces are; half a unit counts as one.
    let sides = [(Side::Left, left - at.x * 2), (Side::Right, far.x * 2 - right)];
    let into = sides.into_iter().filter(|(_, doubled)| doubled.is_positive());
    into.map(|(side, doubled)| (side, Length::from_units((doubled.units() + 1) / 2))).collect()
}

/// Packing lies under the chest, outriggers stand on the floor, lids are no higher than the deck.
fn stands(case: &Case<'_>, solid: &Solid, faults: &mut Vec<Fault>) {
    let role = case.part(solid.part).role;
    let lift = case.design.chest.carcass.lift;
    let by = match role {
        Role::Packing => (solid.space.far().z - lift).max(-solid.space.at.z),
        Role::Outrigger => solid.space.at.z.abs_diff(Length::ZERO),
        Role::Lid => solid.space.far().z - case.design.chest.carcass.top_z,
        _ => Length::ZERO,
    };
    if by.is_positive() {
        faults.push(Fault::Misplaced { part: case.mark(solid.part), role, by });
    }
}

/// Each divider is of the part that is named for it.
fn dividers(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let drawers = case.design.drawers.iter().enumerate().map(|(index, drawer)| {
        let spot = format!("drawer {}", drawer.name);
        (spot, Some(index), drawer.inside_at, &drawer.plan, &drawer.divider_parts)
    });
    let pockets = case.design.pockets.iter().map(|pocket| {
        let spot = super::fault::Place::Pocket(pocket.place).to_string();
        (spot, None, pocket.space.at, &pocket.plan, &pocket.divider_parts)
    });
    for (spot, moves_with, inside_at, plan, parts) in drawers.chain(pockets) {
        for (divider, part) in plan.dividers.iter().zip(parts) {
            let space = divider.moved(inside_at);
            let named = |solid: &Solid| {
                solid.part == *part && solid.drawer == moves_with && solid.space == space
            };
            let role = case.part(*part).role;
            if role != Role::Divider || !case.design.solids.iter().any(named) {
                faults.push(Fault::Missing { role: Role::Divider, spot: spot.clone() });
            }
        }
    }
}

/// No two placed pieces share any space; faces may touch. O(pieces²), cut short along y and x.
fn overlaps(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let solids = &case.design.solids;
    for (index, one) in solids.iter().enumerate() {
        for other in &solids[index + 1..] {
            if let Some(by) = common(one.space, other.space) {
                let (one, other) = (case.mark(one.part), case.mark(other.part));
                faults.push(Fault::Overlap { one, other, by });
            }
        }
    }
}

/// The extents of what two boxes share; `None` if that has no volume.
pub(super) fn common(a: Box3, b: Box3) -> Option<[Length; 3]> {
    let dx = a.far().x.min(b.far().x) - a.at.x.max(b.at.x);
    if !dx.is_positive() {
        return None;
    }
    let dy = a.far().y.min(b.far().y) - a.at.y.max(b.at.y);
    if !dy.is_positive() {
        return None;
    }
    let dz = a.far().z.min(b.far().z) - a.at.z.max(b.at.z);
    dz.is_positive().then_some([dx, dy, dz])
}
