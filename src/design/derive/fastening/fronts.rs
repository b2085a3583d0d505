//! What is let into a drawer's front: handle and lock, clear of its edges, of each other, of the screws and of the rods.
//!
//! Both go through the applied front and the front board behind it, so that they must lie within what the two share. A
//! lock's rods run behind both, level with its middle. Sizes are those of the largest that the scenario lists; a handle or
//! lock whose plate it does not tell is marked from its own (common practice, no source).

use super::rods::{PLATE, rod_place};
use super::{Driller, Placed, Woods, at_least_two, middle, xs};
use crate::design::derive::carcass::corner_block;
use crate::design::drawer::Drawer;
use crate::design::geometry::{Box3, Point};
use crate::design::parts::{Role, Solid};
use crate::design::work::{HoleKind, Side};
use crate::scenario::{HardwareUse, Scenario};
use crate::units::Length;

/// Wood left around what is let into a front, if there is room (an assumption).
const RIM: Length = Length::inches(3, 8);
/// Less wood than this does not hold (an assumption).
pub const LEAST_RIM: Length = Length::mm(6);
/// How far a screw from below or from the side reaches into the front board, its point included (an assumption).
const REACH: Length = Length::mm(20);
/// From the corner blocks (or the ends) to the screws of the applied front (an assumption), and how near they may come
/// where these would be in the way of a handle.
const INSETS: [Length; 2] = [Length::inches(1, 1), Length::inches(1, 2)];

/// A stretch across and one up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Area {
    x: [Length; 2],
    z: [Length; 2],
}

impl Area {
    fn around([x, z]: [Length; 2], [wide, high]: [Length; 2]) -> Self {
        Self { x: [x - wide / 2, x + wide / 2], z: [z - high / 2, z + high / 2] }
    }

    /// The wood between it and the edges of what it lies in; negative where it leaves that.
    fn inside(&self, of: &Self) -> Length {
        let along = |own: [Length; 2], all: [Length; 2]| (own[0] - all[0]).min(all[1] - own[1]);
        along(self.x, of.x).min(along(self.z, of.z))
    }

    /// The wood between it and another, straight across or straight up; negative where they meet.
    fn apart(&self, other: &Self) -> Length {
        let gap = |a: [Length; 2], b: [Length; 2]| (b[0] - a[1]).max(a[0] - b[1]);
        gap(self.x, other.x).max(gap(self.z, other.z))
    }
}

/// The places of a front, across and up in the bed's frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Places {
    pub handle: [Length; 2],
    pub lock: Option<[Length; 2]>,
    /// Of the screws from inside into the applied front.
    pub screws: [[Length; 2]; 4],
}

/// A front before anything is let into it.
pub(super) struct Face<'a> {
    scenario: &'a Scenario,
    board: Box3,
    front: Box3,
    /// z of the rods' line.
    rods: Option<Length>,
    /// z of the screws through the sides into the board's ends.
    ends: Vec<Length>,
}

impl<'a> Face<'a> {
    pub fn new(woods: &Woods<'_>, scenario: &'a Scenario, drawer: &Drawer, at: [Box3; 2]) -> Self {
        let rods = scenario.choices.locks.then(|| rod_place(scenario, woods, drawer).z);
        let [board, front] = at;
        let fastening = woods.fixings.drawer.fastening;
        let ends = at_least_two(board.size.dz, fastening, scenario.shop.step);
        let ends = ends.into_iter().map(|place| board.at.z + place).collect();
        Self { scenario, board, front, rods, ends }
    }

    /// Everything where there is room for it; where there is none, where it comes nearest to having it.
    pub fn places(&self) -> Places {
        let all = INSETS.into_iter().flat_map(|inset| {
            let screws = self.screws(inset);
            self.handles().into_iter().map(move |handle| (handle, screws))
        });
        let mut best = None;
        for (handle, screws) in all {
            let places = Places { handle, lock: self.lock(), screws };
            let room = self.room(&places).unwrap_or(RIM).min(RIM);
            if best.is_none_or(|(most, _)| room > most) {
                best = Some((room, places));
            }
        }
        best.expect("there is always one way at least").1
    }

    /// The least wood around what is let in; nothing where no plate is told.
    fn room(&self, places: &Places) -> Option<Length> {
        let handle = self.let_in(HardwareUse::Handle, Some(places.handle));
        let lock = self.let_in(HardwareUse::Lock, places.lock);
        let both = [handle, lock].into_iter().flatten();
        let edges = both.clone().map(|own| own.inside(&self.shared()));
        let point = |at: [Length; 2]| Area::around(at, [Length::ZERO; 2]);
        let bored = || places.screws.into_iter().chain(self.block_screws());
        let screws = both.clone().flat_map(|own| bored().map(move |at| own.apart(&point(at))));
        let between = handle.zip(lock).map(|(a, b)| a.apart(&b));
        let rods = handle.zip(self.rods_area()).map(|(own, rods)| own.apart(&rods));
        let tips = both.clone().flat_map(|own| self.tips().map(move |tip| own.apart(&tip)));
        edges.chain(screws).chain(between).chain(rods).chain(tips).min()
    }

    /// What a handle or a lock takes of the front around its middle.
    fn let_in(&self, use_: HardwareUse, middle: Option<[Length; 2]>) -> Option<Area> {
        let size = self.largest(use_);
        size.iter().any(|side| side.is_positive()).then_some(())?;
        Some(Area::around(middle?, size))
    }

    /// Where the rods run, from side to side, if a handle reaches through to them.
    fn rods_area(&self) -> Option<Area> {
        let mut handles = self.scenario.stock.hardware_for(HardwareUse::Handle);
        handles.find(|(_, handle)| handle.plate.cut_out.is_some())?;
        let (from, to) = xs(self.board);
        let thick = self.scenario.engineering.lock_rod;
        Some(Area::around([middle((from, to)), self.rods?], [to - from, thick]))
    }

    /// What both boards have; its ends as much shorter as the sides' screws reach farther in than the rim.
    fn shared(&self) -> Area {
        let (board, front) = (self.board, self.front);
        let end = REACH - RIM;
        let x = [(board.at.x + end).max(front.at.x), (board.far().x - end).min(front.far().x)];
        Area { x, z: [board.at.z.max(front.at.z), board.far().z.min(front.far().z)] }
    }

    /// What the screws through the sides take of the board's ends, less the least wood beside their points.
    fn tips(&self) -> impl Iterator<Item = Area> {
        let (from, to) = xs(self.board);
        let deep = REACH - LEAST_RIM;
        let at =
            move |z: Length| [[from, from + deep], [to - deep, to]].map(|x| Area { x, z: [z; 2] });
        self.ends.iter().flat_map(move |z| at(*z))
    }

    fn lock(&self) -> Option<[Length; 2]> {
        Some([middle(xs(self.front)), self.rods?])
    }

    /// The four screws from inside, beside the corner blocks.
    fn screws(&self, inset: Length) -> [[Length; 2]; 4] {
        let (from, to) = xs(self.board);
        let inset = (corner_block(self.scenario) + inset).min((to - from) / 4);
        let quarter = (self.board.size.dz / 4).floor_to(self.scenario.shop.step);
        let (low, high) = (self.board.at.z + quarter, self.board.far().z - quarter);
        [[from + inset, low], [to - inset, low], [from + inset, high], [to - inset, high]]
    }

    /// Through the front board into the corner blocks, if there are any.
    fn block_screws(&self) -> impl Iterator<Item = [Length; 2]> + use<> {
        let leg = corner_block(self.scenario);
        let (from, to) = xs(self.board);
        let z = self.board.at.z + block_heights(self.board.size.dz, self.scenario.shop.step)[1];
        let both = [[from + leg / 2, z], [to - leg / 2, z]];
        both.into_iter().filter(move |_| leg.is_positive())
    }

    /// Places of a handle's middle, the best first: under or over the lock, where there is more room; beside it, off the line
    /// of its rods, where its plate has room in neither.
    fn handles(&self) -> Vec<[Length; 2]> {
        let (board, front) = (self.board, self.front);
        let x = middle(xs(front));
        let [[wide, high], [lock_wide, lock_high]] =
            [HardwareUse::Handle, HardwareUse::Lock].map(|use_| self.largest(use_));
        let (low, top) = (board.at.z + RIM + high / 2, board.far().z - RIM - high / 2);
        let within =
            |z: Length| if high.is_positive() && low <= top { z.clamp(low, top) } else { z };
        let Some(z) = self.rods else {
            return vec![[x, within(front.at.z + front.size.dz / 2)]];
        };
        let (below, above) = (z - front.at.z, front.far().z - z);
        let clear = lock_high / 2 + RIM + high / 2;
        let (mut under, mut over) =
            (within(front.at.z + (below / 2).min(PLATE)), within(z + above / 2));
        if high.is_positive() || lock_high.is_positive() {
            (under, over) = (under.min(z - clear), over.max(z + clear));
        }
        let mut all = if below >= above { vec![under, over] } else { vec![over, under] }
            .into_iter()
            .map(|z| [x, z])
            .collect::<Vec<_>>();
        let aside = (lock_wide / 2 + RIM + wide / 2).ceil_to(self.scenario.shop.step);
        let off = self.scenario.engineering.lock_rod / 2 + RIM + high / 2;
        all.extend([z - off, z + off, within(z)].map(|z| [x - aside, z]));
        // On a narrow front between the screws in its ends.
        let past = RIM + high / 2;
        let ends = self.ends.iter().flat_map(|end| [*end - past, *end + past]);
        all.extend(ends.map(|z| [x, within(z)]));
        all
    }

    /// Width and height that the largest handle or lock that is listed takes of a front.
    fn largest(&self, use_: HardwareUse) -> [Length; 2] {
        let listed = self.scenario.stock.hardware_for(use_);
        listed
            .map(|(_, hardware)| hardware.plate.extents())
            .fold([Length::ZERO; 2], |known, own| [known[0].max(own[0]), known[1].max(own[1])])
    }

    /// A screw's place from below along the front board, moved off what is let in so low that it would reach it.
    pub fn beside(&self, places: &Places, along: Length) -> Length {
        let (from, to) = xs(self.board);
        let lowest = self.board.at.z + REACH;
        let all = [
            self.let_in(HardwareUse::Handle, Some(places.handle)),
            self.let_in(HardwareUse::Lock, places.lock),
        ];
        let step = self.scenario.shop.step;
        let low = || all.iter().flatten().filter(|own| own.z[0] < lowest);
        // Off the one it may come into the way of the other.
        let free = |place: &Length| {
            let x = from + *place;
            !low().any(|own| own.x[0] - LEAST_RIM < x && x < own.x[1] + LEAST_RIM)
        };
        let room = |place: &Length| LEAST_RIM <= *place && *place <= to - from - LEAST_RIM;
        let off = low().flat_map(|own| {
            let left = (own.x[0] - LEAST_RIM - from).floor_to(step);
            let right = (own.x[1] + LEAST_RIM - from).ceil_to(step);
            [left, right].into_iter().filter(room)
        });
        let nearer = std::iter::once(along).chain(off).filter(free);
        nearer.min_by_key(|place| place.abs_diff(along)).unwrap_or(along)
    }
}

/// Heights of the screws into a corner block: through the side at a third and through front or back at two thirds of a
/// board's height, so that they miss each other and the rod between them. To the shop's step: nobody can mark a third.
pub(super) fn block_heights(board: Length, step: Length) -> [Length; 2] {
    [board / 3, board * 2 / 3].map(|z| z.floor_to(step))
}

/// The least wood left around the handle and the lock of a drawer's front; nothing where neither tells what it takes.
pub fn front_room(scenario: &Scenario, woods: &Woods<'_>, drawer: usize) -> Option<Length> {
    let of = |role: Role| {
        let own = |solid: &&Solid| {
            solid.drawer == Some(drawer) && woods.parts[solid.part.0 as usize].role == role
        };
        woods.solids.iter().find(own).map(|solid| solid.space)
    };
    let at = [of(Role::DrawerFront)?, of(Role::AppliedFront)?];
    let face = Face::new(woods, scenario, &woods.drawers[drawer], at);
    face.room(&face.places())
}

impl<'a> Driller<'a> {
    /// The front of a drawer, and where everything in it goes.
    pub(super) fn face(&self, drawer: usize, board: Placed, applied: Placed) -> (Face<'a>, Places) {
        let at = [board.space, applied.space];
        let face = Face::new(self.woods, self.scenario, &self.woods.drawers[drawer], at);
        let places = face.places();
        (face, places)
    }

    /// Four screws from inside into the applied front; handle and lock in it.
    pub(super) fn front(&mut self, board: Placed, applied: Placed, places: &Places) {
        let (rear, front) = (board.space.far().y, applied.space.at.y);
        let screws = places.screws.map(|[x, z]| Point::new(x, rear, z));
        self.row(board, Some(applied.id), HoleKind::Front, Side::Rear, screws);
        let at = |[x, z]: [Length; 2]| Point::new(x, front, z);
        self.row(applied, None, HoleKind::Handle, Side::Front, [at(places.handle)]);
        if let Some(lock) = places.lock {
            self.row(applied, None, HoleKind::Lock, Side::Front, [at(lock)]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::full_size;
    use crate::scenario::{Hardware, Plate};

    fn space(x: i64, z: i64, dx: i64, dz: i64) -> Box3 {
        let mm = Length::mm;
        Box3 {
            at: Point::new(mm(x), mm(0), mm(z)),
            size: crate::design::Size::new(mm(dx), mm(18), mm(dz)),
        }
    }

    /// A scenario whose handles and locks are recessed so far, mm.
    fn with_plates(handle: [i64; 2], lock: [i64; 2]) -> Scenario {
        let mut scenario = full_size();
        let first = scenario.stock.hardware.ids().next().expect("hardware");
        let latch = Hardware { use_: HardwareUse::Lock, ..scenario.stock.hardware[first].clone() };
        scenario.stock.hardware.push(latch);
        for id in scenario.stock.hardware.ids() {
            let hardware = &mut scenario.stock.hardware[id];
            let size = match hardware.use_ {
                HardwareUse::Handle => handle,
                HardwareUse::Lock => lock,
                _ => continue,
            };
            hardware.plate = Plate { cut_out: Some(size.map(Length::mm)), screws: None };
        }
        scenario
    }

    /// A front of some size with a recessed handle and a lock whose sizes are told, mm.
    fn least(size: [i64; 2], handle: [i64; 2], lock: [i64; 2]) -> (Length, Places, Length) {
        let scenario = with_plates(handle, lock);
        let [wide, high] = size;
        let (board, front) = (space(12, 12, wide - 24, high - 12), space(0, 0, wide, high));
        let rods = board.at.z + board.size.dz / 2;
        let face = Face { scenario: &scenario, board, front, rods: Some(rods), ends: Vec::new() };
        let places = face.places();
        let room = face.room(&places).expect("both are told");
        (room, places, rods)
    }

    #[test]
    fn a_high_front_takes_both_over_each_other() {
        let (room, places, rods) = least([500, 170], [127, 32], [76, 44]);
        assert!(room >= RIM, "{room:?}");
        assert_eq!(places.handle[0], places.lock.expect("a lock")[0]);
        assert_ne!(places.handle[1], rods);
    }

    #[test]
    fn a_lower_one_beside_each_other_off_the_rods_and_the_lowest_not_at_all() {
        let (room, places, rods) = least([500, 130], [127, 32], [76, 44]);
        assert!(room >= RIM, "{room:?}");
        assert_ne!(places.handle[0], places.lock.expect("a lock")[0]);
        let off = places.handle[1].abs_diff(rods);
        assert!(off > Length::mm(16) + RIM, "the cup would lie on the rods: {off:?}");
        let (room, ..) = least([500, 80], [127, 32], [76, 44]);
        assert!(room < LEAST_RIM, "{room:?}");
        let (room, ..) = least([190, 170], [127, 32], [76, 44]);
        assert!(room < LEAST_RIM, "no room between the screws: {room:?}");
    }

    #[test]
    fn a_screw_from_below_keeps_off_what_stands_beside_each_other() {
        let scenario = with_plates([100, 80], [100, 80]);
        let (board, front) = (space(12, 12, 576, 88), space(0, 0, 600, 100));
        let face = Face {
            scenario: &scenario,
            board,
            front,
            rods: Some(Length::mm(56)),
            ends: Vec::new(),
        };
        let at = |x: i64| [Length::mm(x), Length::mm(56)];
        let places = Places { handle: at(190), lock: Some(at(300)), screws: [at(0); 4] };
        // Between the two are 10 mm: less than a screw needs on both of its sides.
        for along in [Length::mm(130), Length::mm(180), Length::mm(230), Length::mm(330)] {
            let x = (board.at.x + face.beside(&places, along)).to_mm();
            assert!(x <= 134.0 || x >= 356.0, "{along:?}: {x}");
        }
        assert_eq!(face.beside(&places, Length::mm(40)), Length::mm(40));
    }

    #[test]
    fn a_handle_keeps_off_the_screws_in_the_ends() {
        let scenario = full_size();
        let (board, front) = (space(12, 12, 166, 158), space(0, 0, 190, 170));
        let mut face = Face { scenario: &scenario, board, front, rods: None, ends: vec![] };
        let places = face.places();
        // A plate from end to end of the board but for 19 mm.
        let own = Area::around(places.handle, [Length::mm(128), Length::ZERO]);
        let nearest = |face: &Face| face.tips().map(|tip| own.apart(&tip)).min();
        assert_eq!(nearest(&face), None);
        face.ends = vec![places.handle[1] + Length::mm(5)];
        assert_eq!(nearest(&face), Some(Length::mm(5)), "14 mm of screw, and 5 mm above it");
        face.ends = vec![places.handle[1] + Length::mm(15)];
        assert_eq!(nearest(&face), Some(Length::mm(15)));
    }

    #[test]
    fn screws_of_a_narrow_front_make_room() {
        let (room, places, _) = least([270, 170], [127, 32], [76, 44]);
        assert!(room >= LEAST_RIM, "{room:?} {places:?}");
    }
}
