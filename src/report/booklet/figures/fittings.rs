//! What has no place in the design, as boxes of the usual size, for pictures only.
//!
//! Sizes are assumptions (common practice, no source); nothing is made from them.

use super::{Job, block, cuboid};
use crate::design::work::{HoleKind, Piece as Wood, Plane, Row, Side};
use crate::design::{Box3, Drawer, Part, Point, Role};
use crate::paper::solid::{Axis, Block3, Half, Piece, Rod};
use crate::scenario::{BedKind, HardwareUse, Runs};
use crate::units::Length;

/// Half the width of a strip, and its thickness.
const STRIP: (Length, Length) = (Length::inches(1, 2), Length::inches(1, 8));
/// A handle, from its middle: half as wide, half as high; how far it stands out.
const HANDLE: [Length; 3] = [Length::inches(5, 2), Length::inches(1, 1), Length::inches(3, 4)];
/// A lock behind its board, likewise.
const LOCK: [Length; 3] = [Length::inches(7, 4), Length::inches(7, 4), Length::inches(1, 1)];
/// Half the thickness of a rod.
const ROD: Length = Length::inches(1, 4);
/// How far a rod's tip stands out of the drawer's side.
const TIP: Length = Length::inches(3, 4);
/// A guide piece: along the drawer, and high.
const GUIDE: (Length, Length) = (Length::inches(3, 1), Length::inches(3, 1));
/// A stop block: across, and high.
const STOP: (Length, Length) = (Length::inches(2, 1), Length::inches(2, 1));
/// A leg of the deck's angle, and its thickness.
const ANGLE: (Length, Length) = (Length::inches(1, 1), Length::inches(1, 8));
/// A lining whose thickness is not told.
const THINNEST: Length = Length::mm(2);
/// The bed's floor as it is drawn.
const FLOOR: Length = Length::inches(3, 4);

/// The strips that a step fixes; the first has a name.
pub(super) fn strips(job: &Job<'_>, index: usize) -> Vec<Piece> {
    let (wide, thick) = STRIP;
    let rows = job.work.steps[index].rows.iter().map(|row| &job.work.rows[*row]);
    let rows = rows.filter(|row| row.kind == HoleKind::Strip && row.holes.len() > 1);
    let strips = rows.filter_map(|row| {
        let (first, last) = ends(job, row)?;
        let (low, high) = match row.side {
            Side::Top => {
                ([first.x - wide, first.y, first.z], [last.x + wide, last.y, last.z + thick])
            }
            Side::Left => {
                ([first.x - thick, first.y, first.z - wide], [last.x, last.y, last.z + wide])
            }
            _ => ([first.x, first.y, first.z - wide], [last.x + thick, last.y, last.z + wide]),
        };
        Some(Piece::new(Block3 { low: low.map(Length::units), high: high.map(Length::units) }))
    });
    let mut strips: Vec<Piece> = strips.collect();
    if let Some(first) = strips.first_mut() {
        first.mark = Some(
            if job.design.structure.runs == Runs::Strip { "strip" } else { "runner" }.to_owned(),
        );
    }
    strips
}

/// The lining on a drawer's floor, if the scenario has one: as large as the room between its boards.
pub(super) fn lining(job: &Job<'_>, drawer: usize) -> Option<Box3> {
    let (_, lining) = job.scenario.stock.hardware_for(HardwareUse::Carpet).next()?;
    let drawer = &job.design.drawers[drawer];
    let (at, inside) = (drawer.inside_at, drawer.inside);
    let z = at.z - lining.thickness;
    Some(cuboid([at.x, at.y, z], [inside.dx, inside.dy, lining.thickness.max(THINNEST)]))
}

/// The first and the last hole of a row, in the bed's frame.
fn ends(job: &Job<'_>, row: &Row) -> Option<(Point, Point)> {
    let piece = job.work.piece(row.piece);
    let space = piece.space?;
    let plane = Plane::of(job.design.part(piece.part).role, space);
    let place = |hole: &[Length; 2]| plane.place(space, *hole, row.side);
    Some((place(row.holes.first()?), place(row.holes.last()?)))
}

/// The middle of a drawer's first hole of a kind, in the bed's frame.
fn hole(job: &Job<'_>, drawer: usize, kind: HoleKind) -> Option<Point> {
    let own = |row: &&Row| row.kind == kind && job.work.piece(row.piece).drawer == Some(drawer);
    job.work.rows.iter().find(own).and_then(|row| Some(ends(job, row)?.0))
}

/// The board of a role of a drawer.
pub(super) fn board(job: &Job<'_>, drawer: usize, role: Role) -> Option<Box3> {
    let is = |wood: &&Wood| wood.drawer == Some(drawer) && job.design.part(wood.part).role == role;
    job.work.pieces.iter().find(is)?.space
}

/// The four blocks in a drawer's corners, in place: two lengths sawn on the diagonal.
pub(super) fn blocks(job: &Job<'_>, drawer: usize) -> Vec<(Piece, String)> {
    let own = |wood: &&Wood| {
        wood.drawer == Some(drawer) && job.design.part(wood.part).role == Role::CornerBlock
    };
    let lengths: Vec<&Part> =
        job.work.pieces.iter().filter(own).map(|wood| job.design.part(wood.part)).collect();
    let mut sides: Vec<Box3> = job
        .work
        .pieces
        .iter()
        .filter(|w| w.drawer == Some(drawer) && job.design.part(w.part).role == Role::Side)
        .filter_map(|wood| wood.space)
        .collect();
    sides.sort_by_key(|side| side.at.x);
    let ([left, right], Some(front), Some(back)) =
        (&sides[..], board(job, drawer, Role::DrawerFront), board(job, drawer, Role::DrawerBack))
    else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (part, (edge, rear)) in lengths.into_iter().zip([(front.far().y, false), (back.at.y, true)])
    {
        let leg = part.width;
        let y = if rear { edge - leg } else { edge };
        for (x, is_right) in [(left.far().x, false), (right.at.x - leg, true)] {
            let space = cuboid([x, y, left.at.z], [leg, leg, part.length]);
            let half = Some(Half { right: is_right, rear });
            all.push((Piece { half, ..Piece::new(block(space)) }, part.mark.clone()));
        }
    }
    all
}

/// The pieces that guide a drawer's rear corners, in place; none where slides do.
pub(super) fn guides(job: &Job<'_>, drawer: &Drawer) -> Vec<Box3> {
    if job.design.structure.runs == Runs::Slides {
        return Vec::new();
    }
    let gap = job.design.chest.carcass.tiers[drawer.tier].side_gap;
    let (out, (long, high)) = (drawer.outside, GUIDE);
    let (y, z) = (out.far().y - long, out.at.z + (out.size.dz - high).or_zero() / 2);
    let high = high.min(out.size.dz);
    [out.at.x - gap, out.far().x].map(|x| cuboid([x, y, z], [gap, long, high])).to_vec()
}

/// The blocks that stop a drawer at the back of its opening.
pub(super) fn stops(job: &Job<'_>, drawer: &Drawer) -> Vec<Box3> {
    let (open, deep, (wide, high)) = (drawer.opening, job.scenario.allowances.stop, STOP);
    let y = open.far().y - deep;
    [open.at.x, open.far().x - wide]
        .map(|x| cuboid([x, y, drawer.outside.at.z], [wide, deep, high]))
        .to_vec()
}

/// A drawer's handle on its applied front.
pub(super) fn handle(job: &Job<'_>, drawer: usize) -> Option<Box3> {
    let middle = hole(job, drawer, HoleKind::Handle)?;
    let [wide, high, deep] = HANDLE;
    let at = [middle.x - wide, middle.y - deep, middle.z - high];
    Some(cuboid(at, [wide * 2, deep, high * 2]))
}

/// A drawer's lock behind its front board, and its rods out through the sides.
pub(super) fn lock(job: &Job<'_>, drawer: usize) -> Option<(Box3, Vec<Box3>)> {
    let middle = hole(job, drawer, HoleKind::Lock)?;
    let through = hole(job, drawer, HoleKind::Rod)?;
    let front = board(job, drawer, Role::DrawerFront)?;
    let [wide, high, deep] = LOCK;
    let y = front.far().y;
    let lock = cuboid([middle.x - wide, y, middle.z - high], [wide * 2, deep, high * 2]);
    let out = job.design.drawers[drawer].outside;
    let rod = |from: Length, to: Length| {
        cuboid([from, through.y - ROD, through.z - ROD], [to - from, ROD * 2, ROD * 2])
    };
    let rods = vec![rod(out.at.x - TIP, lock.at.x), rod(lock.far().x, out.far().x + TIP)];
    Some((lock, rods))
}

/// The angle along the deck's front edge, if the step screws one on.
pub(super) fn angle(job: &Job<'_>, index: usize) -> Option<Box3> {
    let mut rows = job.work.steps[index].rows.iter().map(|row| &job.work.rows[*row]);
    rows.find(|row| row.kind == HoleKind::Angle)?;
    let decks = job.design.solids.iter().filter(|s| job.design.part(s.part).role == Role::Deck);
    let decks: Vec<Box3> = decks.map(|solid| solid.space).collect();
    let first = decks.first()?;
    let low = decks.iter().map(|deck| deck.at.x).min()?;
    let high = decks.iter().map(|deck| deck.far().x).max()?;
    let (leg, thick) = ANGLE;
    Some(cuboid([low, first.at.y - thick, first.far().z - leg], [high - low, thick, leg]))
}

/// What lifts the chest: where its pieces have no place of their own, a length under each lowest member.
pub(super) fn packing(job: &Job<'_>) -> Vec<(Box3, String)> {
    let is = |role: Role| move |wood: &&Wood| -> bool { job.design.part(wood.part).role == role };
    let lengths: Vec<&Wood> = job.work.pieces.iter().filter(is(Role::Packing)).collect();
    let Some(lowest) = job.design.chest.carcass.tiers.first() else { return Vec::new() };
    let under = job.work.pieces.iter().filter(is(Role::Member));
    let mut under: Vec<Box3> =
        under.filter_map(|wood| wood.space).filter(|space| space.at.z == lowest.z).collect();
    under.sort_by_key(|space| space.at.x);
    let lift = job.design.chest.carcass.lift;
    let placed = |(at, wood): (usize, &&Wood)| {
        let part = job.design.part(wood.part);
        let space = wood.space.or_else(|| {
            let member = under.get(at % under.len().max(1))?;
            let wide = part.width.max(member.size.dx);
            let x = member.at.x + (member.size.dx - wide) / 2;
            Some(cuboid([x, member.at.y, Length::ZERO], [wide, member.size.dy, lift]))
        })?;
        Some((space, part.mark.clone()))
    };
    lengths.iter().enumerate().filter_map(placed).collect()
}

/// The bed's floor and wheel wells.
pub(super) fn bed(job: &Job<'_>) -> Vec<Piece> {
    let bed = &job.scenario.bed;
    let (long, wide) = (bed.length.at, bed.width.at);
    let name = if bed.kind == BedKind::Pickup { "bed floor" } else { "floor" };
    let floor =
        block(cuboid([Length::ZERO, Length::ZERO, Length::ZERO - FLOOR], [wide, long, FLOOR]));
    let mut all = vec![Piece { new: false, ..Piece::new(floor).marked(name) }];
    if let Some(wells) = bed.wells {
        let side = (wide - wells.between.at) / 2;
        for x in [Length::ZERO, wide - side] {
            let well =
                cuboid([x, wells.from_tailgate, Length::ZERO], [side, wells.length, wells.height]);
            all.push(Piece { new: false, ..Piece::new(block(well)) });
        }
    }
    all
}

/// The axes of the fixings from the bed's floor up to the chest when that is held so far above it.
pub(super) fn hold_downs(job: &Job<'_>, above: Length) -> Vec<Rod> {
    let rows = job.work.rows.iter().filter(|row| row.kind == HoleKind::HoldDown);
    let places = rows.flat_map(|row| {
        let piece = job.work.piece(row.piece);
        let plane =
            piece.space.map(|space| (space, Plane::of(job.design.part(piece.part).role, space)));
        row.holes
            .iter()
            .filter_map(move |hole| plane.map(|(space, plane)| plane.place(space, *hole, row.side)))
    });
    let rod = |place: Point| Rod {
        axis: Axis::Z,
        at: [place.x.units(), place.y.units(), 0],
        length: (job.design.chest.carcass.lift + above).units(),
        radius: (ROD / 2).units(),
        head: Some(false),
    };
    places.map(rod).collect()
}
