//! From lanes on a grid to layouts with dividers in exact coordinates.

mod share;

use std::cmp::{Ordering, Reverse};

use super::abreast::heaviest_outside;
use super::left_out::left_out;
use super::pose::{Block, Posed};
use super::relief::Care;
use crate::design::derive::figures::mass_of;
use crate::design::geometry::{Box3, Point, Size};
use crate::design::{Content, Item, Layout, Stowage};
use crate::scenario::Scenario;
use crate::solve::lanes::{Bay, Cell, FilledHall, Filling, Lane, LaneEnd, Limits, Spot};
use crate::units::{Length, Mass};

/// Room left at a lane's end is closed off with a divider if it is larger than this, so that nothing slides about.
const WORTH_CLOSING: Length = Length::inches(1, 2);

/// In which order the bays of a lane lie, as far as nothing holds them to an end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Order {
    /// What is used most in front.
    MostUsedFirst,
    /// The heaviest for their length at the ends, where the front and back boards carry the bottom too.
    HeaviestOutside,
}

/// A space to lay out.
#[derive(Debug, Clone, Copy)]
struct Room {
    hall: usize,
    length: Length,
    height: Length,
    divider_height: Length,
}

impl Posed<'_> {
    /// Every layout of a filling, and what it leaves out.
    ///
    /// Lanes are shared out among the drawers of their tier and, where these are too heavy together, of the others, so that none
    /// has more to bear than it should, as far as that can be had.
    pub fn unfold(&self, scenario: &Scenario, filling: &Filling, care: Care<'_>) -> Stowage {
        let copies = vec![0; self.contents.len()];
        let order = Order::MostUsedFirst;
        let mut unfolder = Unfolder { posed: self, scenario, care, order, copies };
        let mut tiers: Vec<Vec<Layout>> = (self.carcass.tiers.iter())
            .map(|frame| vec![Layout::default(); frame.columns as usize])
            .collect();
        let parted = |(hall, filled): (usize, &FilledHall)| -> Vec<Lane> {
            let lanes = filled.columns.iter().flat_map(|column| column.lanes.clone());
            lanes.flat_map(|lane| unfolder.parted(hall, lane)).collect()
        };
        let halls = filling.halls.iter().enumerate().map(parted).collect();
        let mut halls = self.lightened(scenario, halls, care.most).into_iter();
        let mut next = || halls.next().unwrap_or_default();
        for (hall, stretch) in self.stretches.iter().enumerate() {
            let frame = &self.carcass.tiers[stretch.tier];
            let room = Room {
                hall,
                length: frame.drawer_inside_length,
                height: frame.clear_height,
                divider_height: frame.divider_height,
            };
            let limits = Limits { columns: stretch.columns.len(), ..self.limits(hall) };
            let layouts = unfolder.tier(room, stretch, next(), &limits);
            for (column, layout) in stretch.columns.iter().zip(layouts) {
                tiers[stretch.tier][*column as usize] = layout;
            }
        }
        let mut pockets = Vec::new();
        for (index, (place, space)) in self.places.iter().enumerate() {
            let hall = self.stretches.len() + index;
            let lanes = next();
            if lanes.is_empty() {
                continue;
            }
            let size = space.size;
            let room = Room {
                hall,
                length: size.dy,
                height: size.dz,
                divider_height: size.dz.min(size.dz * 6 / 10),
            };
            pockets.push((*place, unfolder.layout(room, lanes, size.dx)));
        }
        Stowage { tiers, pockets, left_out: left_out(self, scenario, &filling.placed) }
    }
}

/// Questions about lanes.
impl Posed<'_> {
    fn content(&self, hall: usize, cell: &Cell) -> Content {
        self.contents[self.problem.halls[hall].shapes[cell.shape].class]
    }

    fn spot(&self, hall: usize, cell: &Cell) -> Spot {
        self.problem.halls[hall].shapes[cell.shape].spot
    }

    /// The column that a lane must stand in.
    pub(super) fn column(&self, hall: usize, lane: &Lane) -> Option<u32> {
        lane.bays.iter().flat_map(|bay| &bay.cells).find_map(|cell| self.spot(hall, cell).column)
    }

    /// What a lane's gear weighs.
    pub(super) fn mass(&self, scenario: &Scenario, hall: usize, lane: &Lane) -> Mass {
        let cells = lane.bays.iter().flat_map(|bay| &bay.cells);
        cells.map(|cell| mass_of(scenario, self.content(hall, cell)) * i64::from(cell.copies)).sum()
    }
}

struct Unfolder<'a, 'b> {
    posed: &'a Posed<'b>,
    scenario: &'a Scenario,
    care: Care<'a>,
    /// In which order bays lie in their lanes.
    order: Order,
    /// Copies of each class numbered so far.
    copies: Vec<u32>,
}

impl Unfolder<'_, '_> {
    /// The end of its lane that a bay must stand at.
    fn end(&self, hall: usize, bay: &Bay) -> Option<LaneEnd> {
        bay.cells.iter().find_map(|cell| self.posed.spot(hall, cell).end)
    }

    /// A lane that is too heavy for one drawer as a lane for each of its cells, where they stand side by side over its whole
    /// length: that takes the same width, and they may go to different drawers.
    fn parted(&self, hall: usize, lane: Lane) -> Vec<Lane> {
        let heavy =
            self.posed.most(hall, self.care.most).is_some_and(|most| self.mass(hall, &lane) > most);
        match lane.bays.as_slice() {
            [bay] if heavy && bay.cells.len() > 1 => {
                let each = |cell: &Cell| Lane {
                    width: cell.width,
                    bays: vec![Bay { length: bay.length, cells: vec![*cell] }],
                };
                bay.cells.iter().map(each).collect()
            }
            _ => vec![lane],
        }
    }

    /// What a lane's gear weighs.
    fn mass(&self, hall: usize, lane: &Lane) -> Mass {
        self.posed.mass(self.scenario, hall, lane)
    }

    /// What a bay's gear weighs, micrograms.
    fn burden(&self, hall: usize, bay: &Bay) -> i64 {
        let mass = |cell: &Cell| {
            mass_of(self.scenario, self.posed.content(hall, cell)) * i64::from(cell.copies)
        };
        bay.cells.iter().map(mass).sum::<Mass>().micrograms()
    }

    /// The groups of a lane's gear, each once.
    fn groups(&self, hall: usize, lane: &Lane) -> Vec<&str> {
        let mut groups: Vec<&str> = lane
            .bays
            .iter()
            .flat_map(|bay| &bay.cells)
            .filter_map(|cell| match self.posed.content(hall, cell) {
                Content::Gear(id) => self.scenario.gear[id].near.as_deref(),
                Content::Loose(id) => self.scenario.loose[id].near.as_deref(),
            })
            .collect();
        groups.sort_unstable();
        groups.dedup();
        groups
    }

    /// Thousandths of uses per week of a bay's gear.
    fn uses(&self, hall: usize, bay: &Bay) -> i64 {
        let each = |content| match content {
            Content::Gear(id) => self.scenario.gear[id].uses_milli,
            Content::Loose(id) => self.scenario.loose[id].uses_milli,
        };
        bay.cells
            .iter()
            .map(|cell| each(self.posed.content(hall, cell)) * i64::from(cell.copies))
            .sum()
    }

    fn exact(&self, steps: i64) -> Length {
        self.posed.grid * steps
    }

    /// The width that lanes take side by side.
    fn need(&self, lanes: &[Lane]) -> Length {
        let wide: Length = lanes.iter().map(|lane| self.exact(lane.width)).sum();
        wide + self.posed.divider * (lanes.len() as i64 - 1).max(0)
    }

    /// Lays lanes out side by side, the heaviest outside; what the width leaves over goes to them evenly, down to the shop's
    /// step.
    fn layout(&mut self, room: Room, lanes: Vec<Lane>, width: Length) -> Layout {
        let burden = |lane: &Lane| (self.mass(room.hall, lane).micrograms(), lane.width);
        let order = heaviest_outside(&lanes.iter().map(burden).collect::<Vec<_>>());
        let lanes: Vec<Lane> = order.into_iter().map(|lane| lanes[lane].clone()).collect();
        let mut layout =
            Layout { width, length: room.length, height: room.height, ..Layout::default() };
        let spare = width - self.need(&lanes);
        let each = match lanes.len() as i64 {
            0 => Length::ZERO,
            count => (spare / count).floor_to(self.scenario.shop.step),
        };
        let last = lanes.len().saturating_sub(1);
        let mut x = Length::ZERO;
        for (index, lane) in lanes.into_iter().enumerate() {
            let wide = if index == last { width - x } else { self.exact(lane.width) + each };
            self.lane(&mut layout, &room, lane, x, wide);
            x += wide;
            if index < last {
                let size = Size::new(self.posed.divider, room.length, room.divider_height);
                layout.dividers.push(Box3 { at: Point::new(x, Length::ZERO, Length::ZERO), size });
                x += self.posed.divider;
            }
        }
        layout
    }

    /// Lays the bays of a lane one behind the other: those that must stand at the front, the free ones, those that must
    /// stand at the back. What is left over lies before the last.
    ///
    /// The order of each is that of most uses per length first, which makes Σ uses × pull least: single-machine weighted
    /// completion time (Smith, Naval Research Logistics Quarterly 3, 1956; from memory).
    fn lane(&mut self, layout: &mut Layout, room: &Room, mut lane: Lane, x: Length, width: Length) {
        let divider = self.posed.divider;
        let ratio = |bay: &Bay| {
            (
                i128::from(self.uses(room.hall, bay)),
                i128::from((self.exact(bay.length) + divider).units()),
            )
        };
        let group = |bay: &Bay| match self.end(room.hall, bay) {
            Some(LaneEnd::First) => 0,
            None => 1,
            Some(LaneEnd::Last) => 2,
        };
        if self.order == Order::HeaviestOutside {
            let burden = |bay: &Bay| (self.burden(room.hall, bay), bay.length);
            let order = heaviest_outside(&lane.bays.iter().map(burden).collect::<Vec<_>>());
            lane.bays = order.into_iter().map(|bay| lane.bays[bay].clone()).collect();
        }
        let by_use = self.order == Order::MostUsedFirst;
        lane.bays.sort_by(|a, b| {
            let ((uses_a, long_a), (uses_b, long_b)) = (ratio(a), ratio(b));
            let used = (uses_b * long_a).cmp(&(uses_a * long_b)).then(b.length.cmp(&a.length));
            group(a).cmp(&group(b)).then(if by_use { used } else { Ordering::Equal })
        });
        let at_the_back = lane.bays.iter().filter(|bay| group(bay) == 2).count();
        let back = lane.bays.split_off(lane.bays.len() - at_the_back);
        let takes = |bays: &[Bay]| -> Length {
            let long: Length = bays.iter().map(|bay| self.exact(bay.length)).sum();
            long + divider * (bays.len() as i64 - 1).max(0)
        };
        // Where the rear bays begin, and how much the others have.
        let (begins, end) = match back.is_empty() {
            true => (room.length, room.length),
            false => (room.length - takes(&back), room.length - takes(&back) - divider),
        };
        if lane.bays.is_empty() && !back.is_empty() {
            // Nothing before them: a lone divider keeps them back, unless it would close off next to nothing.
            if end > WORTH_CLOSING {
                self.divide(layout, room, Point::new(x, end, Length::ZERO), width);
                self.bays(layout, room, &back, (x, width), (begins, room.length));
            } else {
                self.bays(layout, room, &back, (x, width), (Length::ZERO, room.length));
            }
            return;
        }
        self.bays(layout, room, &lane.bays, (x, width), (Length::ZERO, end));
        if !back.is_empty() {
            self.divide(layout, room, Point::new(x, end, Length::ZERO), width);
            self.bays(layout, room, &back, (x, width), (begins, room.length));
        }
    }

    /// A divider across a lane.
    fn divide(&self, layout: &mut Layout, room: &Room, at: Point, width: Length) {
        let size = Size::new(width, self.posed.divider, room.divider_height);
        layout.dividers.push(Box3 { at, size });
    }

    /// Lays bays one behind the other from `y` to `end`; what the last leaves over is closed off if it is worth that.
    fn bays(
        &mut self,
        layout: &mut Layout,
        room: &Room,
        bays: &[Bay],
        (x, width): (Length, Length),
        (mut y, end): (Length, Length),
    ) {
        let divider = self.posed.divider;
        let last = bays.len().saturating_sub(1);
        for (index, bay) in bays.iter().enumerate() {
            let mut long = self.exact(bay.length);
            let closed = index < last || end - y - long > divider + WORTH_CLOSING;
            if !closed {
                // Its cells reach to the end, and so do the dividers between them.
                long = end - y;
            }
            self.bay(
                layout,
                room,
                bay,
                Point::new(x, y, Length::ZERO),
                Size::new(width, long, room.height),
            );
            y += long;
            if closed {
                self.divide(layout, room, Point::new(x, y, Length::ZERO), width);
                y += divider;
            }
        }
    }

    /// Lays the cells of a bay side by side, the heaviest outside; the last takes the width that is left.
    fn bay(&mut self, layout: &mut Layout, room: &Room, bay: &Bay, at: Point, size: Size) {
        let last = bay.cells.len().saturating_sub(1);
        let end = at.x + size.dx;
        let mut x = at.x;
        let burden = |cell: &Cell| {
            let mass = mass_of(self.scenario, self.posed.content(room.hall, cell));
            ((mass * i64::from(cell.copies)).micrograms(), cell.width)
        };
        let order = heaviest_outside(&bay.cells.iter().map(burden).collect::<Vec<_>>());
        for (index, cell) in order.into_iter().map(|cell| &bay.cells[cell]).enumerate() {
            let wide = if index == last { end - x } else { self.exact(cell.width) };
            let space = Box3 { at: Point { x, ..at }, size: Size { dx: wide, ..size } };
            self.cell(layout, room, cell, space);
            x += wide;
            if index < last {
                let size = Size::new(self.posed.divider, size.dy, room.divider_height);
                layout.dividers.push(Box3 { at: Point { x, ..at }, size });
                x += self.posed.divider;
            }
        }
    }

    /// Puts the copies of a cell where they stand: up first, then along, then across.
    fn cell(&mut self, layout: &mut Layout, room: &Room, cell: &Cell, space: Box3) {
        let class = self.posed.problem.halls[room.hall].shapes[cell.shape].class;
        let content = self.posed.contents[class];
        let block = self.posed.blocks[room.hall][cell.shape];
        for nth in 0..cell.copies {
            let space = match content {
                Content::Gear(_) => place(&block, nth, space.at),
                Content::Loose(id) => self.heap(id, &block, space),
            };
            let copy = self.copies[class];
            self.copies[class] += 1;
            layout.items.push(Item { content, copy, space });
        }
    }

    /// Loose goods fill their cell to the height they need.
    fn heap(&self, id: crate::scenario::LooseId, block: &Block, cell: Box3) -> Box3 {
        let base = cell.size.dx.by(cell.size.dy).units();
        let volume = self.scenario.loose[id].volume.units();
        let need = i64::try_from((volume + base - 1) / base.max(1)).unwrap_or(i64::MAX);
        let height = Length::from_units(need).min(block.stance[2]);
        Box3 { size: Size { dz: height, ..cell.size }, ..cell }
    }
}

/// Where the `nth` copy of a block stands in a cell that begins at `at`.
fn place(block: &Block, nth: u32, at: Point) -> Box3 {
    let [dx, dy, dz] = block.stance;
    let (up, rest) = (nth % block.high, nth / block.high);
    let (along, across) = (rest % block.along, rest / block.along);
    let pitch =
        |side: Length, times: u32| (side + block.padding * 2) * i64::from(times) + block.padding;
    Box3 {
        at: Point::new(
            at.x + pitch(dx, across),
            at.y + pitch(dy, along),
            at.z + dz * i64::from(up),
        ),
        size: Size::new(dx, dy, dz),
    }
}

/// Hands `width` out to columns that need at least `needs` and `least`: equal where that costs nothing, in whole steps, what
/// rounding leaves to the widest. The widths add up to `width` exactly.
fn spread(needs: &[Length], width: Length, least: Length, step: Length) -> Vec<Length> {
    let floor: Vec<Length> = needs.iter().map(|need| (*need).max(least)).collect();
    let at =
        |level: Length| -> Vec<Length> { floor.iter().map(|need| (*need).max(level)).collect() };
    let (mut low, mut high) = (Length::ZERO, width);
    while low < high {
        let middle = Length::from_units(low.units() + (high.units() - low.units() + 1) / 2);
        if at(middle).into_iter().sum::<Length>() <= width {
            low = middle;
        } else {
            high = middle - Length::from_units(1);
        }
    }
    let level = low.floor_to(step);
    let stepped: Vec<Length> = at(level).into_iter().map(|one| one.ceil_to(step)).collect();
    let exact = at(low);
    let widest = (0..needs.len()).max_by_key(|index| (exact[*index], Reverse(*index))).unwrap_or(0);
    for mut widths in [stepped, exact] {
        let others: Length = widths
            .iter()
            .enumerate()
            .filter(|(index, _)| *index != widest)
            .map(|(_, one)| *one)
            .sum();
        let rest = width - others;
        if widths.get(widest).is_some() && rest >= floor[widest] {
            widths[widest] = rest;
            return widths;
        }
    }
    floor
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fixture::{inches, sixteenths};

    #[test]
    fn equal_where_it_costs_nothing() {
        let step = sixteenths(1);
        let widths = spread(&[inches(10), inches(8)], inches(41), inches(6), step);
        assert_eq!(widths, [inches(41) / 2, inches(41) / 2]);
        let odd = spread(&[inches(1); 3], inches(40), inches(6), step);
        assert_eq!(odd.iter().copied().sum::<Length>(), inches(40));
        assert_eq!(odd[1], odd[2]);
        assert_eq!(odd[1], odd[1].floor_to(step));
        assert!(odd[0] - odd[1] < step * 3);
    }

    #[test]
    fn unequal_where_the_gear_asks_for_it() {
        let widths =
            spread(&[inches(30), inches(8), inches(5)], inches(50), inches(6), sixteenths(1));
        assert_eq!(widths, [inches(30), inches(10), inches(10)]);
    }

    #[test]
    fn a_tight_tier_keeps_what_it_needs() {
        let needs = [Length::inches(643, 64), Length::inches(1277, 64)];
        let widths = spread(&needs, inches(30), inches(6), sixteenths(1));
        assert_eq!(widths.iter().copied().sum::<Length>(), inches(30));
        assert!(widths.iter().zip(needs).all(|(width, need)| *width >= need));
    }

    #[test]
    fn copies_of_a_block_stand_up_first_then_along_then_across() {
        let block = Block {
            stance: [inches(4), inches(6), inches(2)],
            padding: sixteenths(4),
            across: 2,
            along: 2,
            high: 2,
        };
        let at = |nth| place(&block, nth, Point::default()).at;
        assert_eq!(at(0), Point::new(sixteenths(4), sixteenths(4), Length::ZERO));
        assert_eq!(at(1).z, inches(2));
        assert_eq!(at(2).y, inches(6) + sixteenths(12));
        assert_eq!(at(4).x, inches(4) + sixteenths(12));
    }
}
