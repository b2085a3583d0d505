//! Bottom, panels between tiers and deck cover the chest, and their seams lie on members.

use super::case::Case;
use super::fault::{Fault, Side};
use crate::design::{Axis, Box3, Grain, Role, Solid};
use crate::scenario::DeckGrain;
use crate::units::{Area, Length};

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let levels = levels(case);
    let mut lies_somewhere = vec![false; case.design.solids.len()];
    for (number, level) in levels.iter().enumerate() {
        let panels: Vec<(usize, &Solid)> =
            case.solids_of(level.role).filter(|(_, solid)| solid.space.at.z == level.z).collect();
        cover(case, number, level, &panels, faults);
        for (index, solid) in panels {
            lies_somewhere[index] = true;
            seams(case, level, solid, faults);
        }
    }
    faults.extend(case.solids_of(Role::Deck).filter_map(|(_, solid)| against_grain(case, solid)));
    for role in [Role::Bottom, Role::Shelf, Role::Deck] {
        for (_, solid) in case.solids_of(role).filter(|(index, _)| !lies_somewhere[*index]) {
            let of_role = levels.iter().filter(|level| level.role == role);
            let by = of_role.map(|level| level.z.abs_diff(solid.space.at.z)).min();
            let by = by.unwrap_or(solid.space.at.z);
            faults.push(Fault::PanelAstray { part: case.mark(solid.part), by });
        }
    }
    carried(case, faults);
}

/// A panel of the deck whose grain runs otherwise than the structure says, by which its strength was reckoned.
fn against_grain(case: &Case<'_>, solid: &Solid) -> Option<Fault> {
    let part = case.design.parts.get(solid.part.0 as usize)?;
    let along_grain = match part.grain {
        Grain::Along => part.length,
        Grain::Across => part.width,
        Grain::Either => return None,
    };
    let size = solid.space.size;
    let wanted = match case.design.structure.deck_grain {
        DeckGrain::Along => size.dy,
        DeckGrain::Across => size.dx,
    };
    (along_grain != wanted).then(|| Fault::DeckGrain { part: part.mark.clone() })
}

/// One panel of the chest: what it has to cover.
struct Level {
    role: Role,
    z: Length,
    x: [Length; 2],
    y: [Length; 2],
}

/// A panel under each tier, and the deck. A panel between tiers of different width is as wide as both together.
fn levels(case: &Case<'_>) -> Vec<Level> {
    let carcass = &case.design.chest.carcass;
    let panel = case.thickness(case.design.structure.bottom);
    let (front, back) = (carcass.front_y, carcass.front_y + carcass.length);
    let mut levels = Vec::with_capacity(carcass.tiers.len() + 1);
    let mut below: Option<[Length; 2]> = None;
    for frame in &carcass.tiers {
        let mut x = [frame.x, frame.x + frame.width];
        let own = x;
        if let Some(below) = below {
            x = [x[0].min(below[0]), x[1].max(below[1])];
        }
        let role = if below.is_none() { Role::Bottom } else { Role::Shelf };
        levels.push(Level { role, z: frame.z - panel, x, y: [front, back] });
        below = Some(own);
    }
    if let Some(x) = below {
        let y = [front - case.scenario.allowances.deck_overhang, back];
        levels.push(Level { role: Role::Deck, z: carcass.deck_z, x, y });
    }
    levels
}

/// The panels cover the level: none reaches beyond it, and their areas add up to it (that they do not overlap is
/// checked for all solids together).
fn cover(
    case: &Case<'_>,
    number: usize,
    level: &Level,
    panels: &[(usize, &Solid)],
    faults: &mut Vec<Fault>,
) {
    let mut covered = Area::ZERO;
    for (_, solid) in panels {
        let (at, far) = (solid.space.at, solid.space.far());
        let beyond = [level.x[0] - at.x, far.x - level.x[1], level.y[0] - at.y, far.y - level.y[1]];
        let by = beyond.into_iter().max().unwrap_or_default();
        if by.is_positive() {
            faults.push(Fault::PanelAstray { part: case.mark(solid.part), by });
        }
        let dx = far.x.min(level.x[1]) - at.x.max(level.x[0]);
        let dy = far.y.min(level.y[1]) - at.y.max(level.y[0]);
        covered = covered + dx.or_zero().by(dy.or_zero());
    }
    let whole = (level.x[1] - level.x[0]).or_zero().by((level.y[1] - level.y[0]).or_zero());
    if covered < whole {
        faults.push(Fault::PanelGap { role: level.role, level: number, missing: whole - covered });
    }
}

/// Every edge of a panel inside its level is a seam: along y it lies within the thickness of a member under or on the
/// panel (or of an outrigger under it), with some of the member on either side; across, along x, no member can carry it.
fn seams(case: &Case<'_>, level: &Level, solid: &Solid, faults: &mut Vec<Fault>) {
    let (at, far) = (solid.space.at, solid.space.far());
    let bears = |support: &Box3, seam: Length| {
        support.at.x < seam
            && seam < support.far().x
            && (support.far().z == at.z || support.at.z == far.z)
    };
    let supports = || {
        case.solids_of(Role::Member).chain(case.solids_of(Role::Outrigger)).map(|(_, at)| at.space)
    };
    // The left edge of one panel is the right edge of its neighbour: looking at one of them suffices.
    if at.x > level.x[0] && at.x < level.x[1] && !supports().any(|support| bears(&support, at.x)) {
        faults.push(Fault::SeamOffMember { part: case.mark(solid.part), axis: Axis::X, at: at.x });
    }
    if at.y > level.y[0] && at.y < level.y[1] {
        faults.push(Fault::SeamOffMember { part: case.mark(solid.part), axis: Axis::Y, at: at.y });
    }
}

/// A lifted chest stands on something, and a full-width tier is carried on both sides outside the tier below; an edge that
/// hangs over by no more than the panel's own thickness carries itself.
fn carried(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let carcass = &case.design.chest.carcass;
    if carcass.lift.is_positive()
        && case.quantity_of(Role::Packing) + case.quantity_of(Role::Outrigger) == 0
    {
        faults.push(Fault::NoPacking { lift: carcass.lift });
    }
    let panel = case.thickness(case.design.structure.bottom);
    for pair in carcass.tiers.windows(2) {
        let (below, above) = (&pair[0], &pair[1]);
        let underside = above.z - panel;
        let stands = |within: [Length; 2]| {
            case.solids_of(Role::Outrigger).any(|(_, solid)| {
                let (at, far) = (solid.space.at, solid.space.far());
                far.z == underside && at.x >= within[0] && far.x <= within[1]
            })
        };
        for (side, within) in [
            (Side::Left, [above.x, below.x]),
            (Side::Right, [below.x + below.width, above.x + above.width]),
        ] {
            if within[1] - within[0] > panel && !stands(within) {
                faults.push(Fault::NoOutrigger { side });
            }
        }
    }
}
