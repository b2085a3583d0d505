//! First-fit-decreasing shelves: what a patient person does by hand, and what the search must beat.

use super::bays::CellPick;
use super::lane::{BayPick, LanePick};
use super::state::State;
use super::table::{Fixed, Table};
use super::{Filling, LaneProblem, Spot};

/// Fills the halls by first-fit-decreasing shelves: the copies by falling width (what must be
/// placed first), each into the first lane that has the length for it, else into a new lane in the
/// first hall that has the width. One cell to a bay, each footprint with its long side along the
/// lane where it may be.
pub fn shelves(problem: &LaneProblem) -> Filling {
    let table = Table::new(problem);
    shelve(&table).into_filling(problem, &table)
}

pub(super) fn shelve(table: &Table) -> State {
    let mut state = State::empty(table);
    let mut order: Vec<usize> = (0..table.classes.len()).collect();
    order.sort_by_key(|&class| {
        let row = &table.classes[class];
        (!row.must, std::cmp::Reverse(narrowest(table, class)), std::cmp::Reverse(row.value), class)
    });
    for class in order {
        while state.left[class] > 0 {
            if !(join(table, &mut state, class) || open(table, &mut state, class)) {
                break;
            }
        }
    }
    state
}

fn narrowest(table: &Table, class: usize) -> Option<i64> {
    let rows = table.halls.iter().flat_map(|hall| &hall.fixed);
    rows.filter(|row| row.class == class).map(|row| row.width).min()
}

fn cell(row: &Fixed, left: u32) -> BayPick {
    let copies = row.copies.min(left);
    let Fixed { shape, class, width, spot, .. } = *row;
    BayPick {
        length: row.length,
        cells: vec![CellPick { shape, class, copies, width, spot, loose: None }],
    }
}

/// Puts a cell into the first lane with room.
fn join(table: &Table, state: &mut State, class: usize) -> bool {
    for (hall, row) in table.halls.iter().enumerate() {
        for at in 0..state.halls[hall].len() {
            let lane = &state.halls[hall][at];
            let column = lane.column();
            let strange = |spot: Spot| spot.column.is_some() && spot.column != column;
            let taken: i64 = lane.bays.iter().map(|bay| bay.length).sum();
            let rest = row.length - taken;
            let rigid = row.fixed.iter().filter(|shape| shape.class == class);
            let rigid = rigid.filter(|shape| {
                shape.width <= lane.width && shape.length <= rest && !strange(shape.spot)
            });
            let rigid = rigid.min_by_key(|shape| (shape.length, std::cmp::Reverse(shape.copies)));
            let bay = rigid.map(|shape| cell(shape, state.left[class])).or_else(|| {
                let mut loose = row.loose.iter().filter(|shape| shape.class == class);
                let shape = loose.next().filter(|shape| !strange(shape.spot))?;
                let length = shape.length_at(lane.width - row.divider)? + row.divider;
                let (width, copies) = (lane.width, shape.copies.min(state.left[class]));
                let (spot, shape, loose) = (shape.spot, shape.shape, Some(*shape));
                let cell = CellPick { shape, class, copies, width, spot, loose };
                (length <= rest).then(|| BayPick { length, cells: vec![cell] })
            });
            if let Some(bay) = bay {
                let mut lane = LanePick::clone(&state.remove(hall, at));
                lane.bays.push(bay);
                state.add(hall, lane);
                let last = state.halls[hall].len() - 1;
                state.halls[hall].swap(at, last);
                return true;
            }
        }
    }
    false
}

/// Opens a lane for a cell in the first hall with room.
fn open(table: &Table, state: &mut State, class: usize) -> bool {
    for (hall, row) in table.halls.iter().enumerate() {
        let rigid = row.fixed.iter().filter(|shape| shape.class == class);
        if let Some(shape) = rigid.min_by_key(|shape| (shape.width, shape.length)) {
            if state.takes(table, hall, shape.width, shape.spot.column) {
                let bays = vec![cell(shape, state.left[class])];
                state.add(hall, LanePick { width: shape.width, price: 0, bays });
                return true;
            }
            continue;
        }
        for shape in row.loose.iter().filter(|shape| shape.class == class) {
            // A square cell.
            let side = shape.area.isqrt().max(shape.least);
            let side = if side.saturating_mul(side) < shape.area { side + 1 } else { side };
            let width = side + row.divider;
            if width <= row.length && state.takes(table, hall, width, shape.spot.column) {
                let copies = shape.copies.min(state.left[class]);
                let loose = Some(*shape);
                let (shape, spot) = (shape.shape, shape.spot);
                let cell = CellPick { shape, class, copies, width, spot, loose };
                let bays = vec![BayPick { length: width, cells: vec![cell] }];
                state.add(hall, LanePick { width, price: 0, bays });
                return true;
            }
        }
    }
    false
}
