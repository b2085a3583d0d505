//! Where a drawer's lock and its rods go.

use super::Woods;
use crate::design::drawer::Drawer;
use crate::scenario::Scenario;
use crate::units::Length;

/// No handle or lock is centred nearer to a front's edge (an assumption).
pub(super) const PLATE: Length = Length::inches(3, 2);
/// How far a rod should enter its member, if that is more than two diameters (an assumption).
const ENTERS: Length = Length::mm(12);
/// Wood left between two holes in a member, or behind one (an assumption).
const WEB: Length = Length::mm(3);

/// The line of a drawer's rods, in the bed's frame with every drawer shut, and how deep a hole in a member may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RodPlace {
    /// From the closed tailgate.
    pub y: Length,
    /// Above the floor.
    pub z: Length,
    /// Deepest hole: neighbours in one member leave wood between them.
    pub deepest: Length,
}

/// Where the rods of a drawer run: halfway between front board and guard, in the middle of the sides' height. Holes of two
/// neighbours in one member must not meet: where it is too thin for both end to end, every second column's stand higher.
pub fn rod_place(scenario: &Scenario, woods: &Woods<'_>, drawer: &Drawer) -> RodPlace {
    let frame = &woods.chest.carcass.tiers[drawer.tier];
    let rod = scenario.engineering.lock_rod;
    let thickness = |material| scenario.stock.materials[material].thickness;
    let board = thickness(woods.structure.sides);
    let y = drawer.outside.at.y + board + (scenario.allowances.lock_room / 2).min(PLATE);
    let sides = drawer.outside.at.z + thickness(woods.structure.drawer_bottom);
    let alone = frame.columns == 1;
    let end_to_end = frame.member >= ENTERS.max(rod * 2) * 2 + WEB;
    let staggered = !alone && !end_to_end && drawer.column % 2 == 1;
    let higher = (rod * 4).min((frame.side_height / 2 - rod).or_zero());
    let z = sides + frame.side_height / 2 + if staggered { higher } else { Length::ZERO };
    let deepest = match alone || !end_to_end {
        true => frame.member - WEB,
        false => (frame.member - WEB) / 2,
    };
    RodPlace { y, z, deepest: deepest.or_zero() }
}
