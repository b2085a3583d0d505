//! Where every screw goes, and what else is bored.
//!
//! Every panel is screwed to each member and back that it lies on; every back to its members' ends; a drawer's bottom to
//! its sides, front and back, these to each other, to the corner blocks and to the applied front. Spacing and distances
//! from the ends are the scenario's; the rest is common practice, no source. Counts of screws to buy come from here.

mod chest;
mod drawers;
mod fronts;
mod rods;

pub use fronts::{LEAST_RIM, front_room};
pub use rods::{RodPlace, rod_place};

use super::build::Built;
use super::hardware::screws;
use crate::design::drawer::{Drawer, Pocket};
use crate::design::fixings::Fixings;
use crate::design::geometry::{Box3, Point};
use crate::design::parts::{Part, PartId, Role, Solid};
use crate::design::structure::Structure;
use crate::design::whole::{Chest, Design};
use crate::design::work::{HoleKind, Piece, PieceId, Plane, Row, Side};
use crate::scenario::{Fastening, Scenario};
use crate::units::Length;

/// The wood of a design, before or after it has all the rest.
#[derive(Debug, Clone, Copy)]
pub struct Woods<'a> {
    /// The discrete choices.
    pub structure: &'a Structure,
    /// Frames and openings.
    pub chest: &'a Chest,
    /// The drawers.
    pub drawers: &'a [Drawer],
    /// The pockets that are used.
    pub pockets: &'a [Pocket],
    /// Every part.
    pub parts: &'a [Part],
    /// Every placed piece.
    pub solids: &'a [Solid],
    /// How its seams are screwed.
    pub fixings: &'a Fixings,
}

impl<'a> Woods<'a> {
    /// That of a chest that is built and not yet cut.
    pub fn of(structure: &'a Structure, built: &'a Built) -> Self {
        let Built { chest, drawers, pockets, parts, solids, fixings } = built;
        Self { structure, chest, drawers, pockets, parts, solids, fixings }
    }
}

impl<'a> From<&'a Design> for Woods<'a> {
    fn from(design: &'a Design) -> Self {
        Self {
            structure: &design.structure,
            chest: &design.chest,
            drawers: &design.drawers,
            pockets: &design.pockets,
            parts: &design.parts,
            solids: &design.solids,
            fixings: &design.fixings,
        }
    }
}

/// Every piece of one set: the placed ones in the design's order, then the copies of parts without a place.
pub fn pieces(woods: &Woods<'_>) -> Vec<Piece> {
    let placed = woods.solids.iter().map(|solid| Piece {
        part: solid.part,
        space: Some(solid.space),
        drawer: solid.drawer,
    });
    let mut pieces: Vec<Piece> = placed.collect();
    for (index, part) in woods.parts.iter().enumerate() {
        let id = PartId(u32::try_from(index).expect("a chest has fewer than 2^32 kinds of part"));
        let placed = pieces.iter().filter(|piece| piece.part == id).count();
        let loose = (part.quantity as usize).saturating_sub(placed);
        let loose = (0..loose).map(|_| Piece { part: id, space: None, drawer: None });
        pieces.extend(loose);
    }
    give_blocks_their_drawers(woods, &mut pieces);
    pieces
}

/// Corner blocks have no place, but each drawer has two lengths of its own: those as high as its sides.
fn give_blocks_their_drawers(woods: &Woods<'_>, pieces: &mut [Piece]) {
    for (index, drawer) in woods.drawers.iter().enumerate() {
        let height = woods.chest.carcass.tiers[drawer.tier].side_height;
        let part = |piece: &Piece| &woods.parts[piece.part.0 as usize];
        let free = pieces.iter_mut().filter(|piece| {
            piece.space.is_none()
                && piece.drawer.is_none()
                && part(piece).role == Role::CornerBlock
                && part(piece).length == height
        });
        free.take(2).for_each(|piece| piece.drawer = Some(index));
    }
}

/// Every row of holes of one set.
pub fn rows(scenario: &Scenario, woods: &Woods<'_>) -> Vec<Row> {
    let pieces = pieces(woods);
    let mut driller = Driller { scenario, woods, pieces: &pieces, rows: Vec::new() };
    driller.chest();
    for drawer in 0..woods.drawers.len() {
        driller.drawer(drawer);
    }
    driller.pockets();
    driller.rows
}

/// Places along a seam: the first and last at their distance from its ends, those between evenly, down to `step`.
/// One in the middle of a seam that is too short for two.
pub fn along(seam: Length, fastening: Fastening, step: Length) -> Vec<Length> {
    let count = i64::from(screws(seam, fastening));
    let between = seam - fastening.ends * 2;
    match count - 1 {
        0 => vec![seam / 2],
        spaces => (0..count)
            .map(|index| match index {
                _ if index == spaces => seam - fastening.ends,
                _ => fastening.ends + (between * index / spaces).floor_to(step),
            })
            .collect(),
    }
}

/// At least two: where a seam has room for one only, at its quarters.
fn at_least_two(seam: Length, fastening: Fastening, step: Length) -> Vec<Length> {
    let places = along(seam, fastening, step);
    if places.len() > 1 { places } else { vec![seam / 4, seam - seam / 4] }
}

struct Driller<'a> {
    scenario: &'a Scenario,
    woods: &'a Woods<'a>,
    pieces: &'a [Piece],
    rows: Vec<Row>,
}

/// A placed piece.
#[derive(Clone, Copy)]
struct Placed {
    id: PieceId,
    role: Role,
    space: Box3,
}

impl<'a> Driller<'a> {
    /// The placed pieces of a role that move with a drawer, or with none.
    fn placed(&self, role: Role, drawer: Option<usize>) -> Vec<Placed> {
        let all = (0..).map(PieceId).zip(self.pieces);
        all.filter(|(_, piece)| {
            self.woods.parts[piece.part.0 as usize].role == role && piece.drawer == drawer
        })
        .filter_map(|(id, piece)| Some(Placed { id, role, space: piece.space? }))
        .collect()
    }

    /// Adds a row of holes at places given in the bed's frame.
    fn row(
        &mut self,
        piece: Placed,
        into: Option<PieceId>,
        kind: HoleKind,
        side: Side,
        places: impl IntoIterator<Item = Point>,
    ) {
        let plane = Plane::of(piece.role, piece.space);
        let at = piece.space.at;
        let holes: Vec<[Length; 2]> = places
            .into_iter()
            .map(|place| match plane {
                Plane::Flat => [place.y - at.y, place.x - at.x],
                Plane::Lengthwise => [place.y - at.y, place.z - at.z],
                Plane::Crosswise => [place.x - at.x, place.z - at.z],
            })
            .collect();
        if !holes.is_empty() {
            self.rows.push(Row { piece: piece.id, into, kind, side, holes });
        }
    }

    fn step(&self) -> Length {
        self.scenario.shop.step
    }
}

/// Where two stretches meet; `None` if they do not.
fn common(a: (Length, Length), b: (Length, Length)) -> Option<(Length, Length)> {
    let (from, to) = (a.0.max(b.0), a.1.min(b.1));
    (from < to).then_some((from, to))
}

fn xs(space: Box3) -> (Length, Length) {
    (space.at.x, space.far().x)
}

fn ys(space: Box3) -> (Length, Length) {
    (space.at.y, space.far().y)
}

fn middle((from, to): (Length, Length)) -> Length {
    from + (to - from) / 2
}
