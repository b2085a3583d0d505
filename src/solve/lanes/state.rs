//! A filling while it is being searched for.

use std::cmp::Reverse;
use std::rc::Rc;

use super::columns::{Limits, can_share_out, share_out};
use super::lane::LanePick;
use super::table::{HallTable, Table};
use super::{Bay, Cell, Column, FilledHall, Filling, Lane, LaneProblem};

/// Lanes in halls and what is left over. Sizes are grown.
#[derive(Debug, Clone)]
pub(super) struct State {
    pub halls: Vec<Vec<Rc<LanePick>>>,
    pub left: Vec<u32>,
}

/// How good a filling is; greater is better.
pub(super) type Rank = (Reverse<u64>, i64, Reverse<i64>, Reverse<usize>);

impl State {
    pub fn empty(table: &Table) -> Self {
        Self {
            halls: vec![Vec::new(); table.halls.len()],
            left: table.classes.iter().map(|class| class.count).collect(),
        }
    }

    /// Grown width its lanes take.
    pub fn used(&self, hall: usize) -> i64 {
        self.halls[hall].iter().map(|lane| lane.width).sum()
    }

    /// The widest lane (grown) that still goes into a hall, as far as widths alone tell.
    pub fn room(&self, table: &Table, hall: usize) -> i64 {
        let row = &table.halls[hall];
        let lanes = self.halls[hall].len();
        let empty = row.columns.saturating_sub(lanes + 1) as i64;
        (row.width - self.used(hall) - empty * row.least).min(row.most)
    }

    /// The same for every hall.
    pub fn rooms(&self, table: &Table) -> Vec<i64> {
        (0..self.halls.len()).map(|hall| self.room(table, hall)).collect()
    }

    /// Whether the hall's columns can take one more lane of this grown width, in the column it is for.
    pub fn takes(&self, table: &Table, hall: usize, width: i64, column: Option<u32>) -> bool {
        if width > self.room(table, hall) {
            return false;
        }
        let row = &table.halls[hall];
        if row.columns == 1 {
            return self.used(hall) + width <= row.most;
        }
        let widths = self.halls[hall].iter().map(|lane| lane.width).chain([width]);
        let widths: Vec<i64> = widths.map(|width| width - row.divider).collect();
        let mut columns = columns_of(&self.halls[hall]);
        columns.push(column);
        can_share_out(&widths, &columns, &limits(row))
    }

    /// Whether every hall's lanes can be shared out over its columns.
    pub fn is_shared_out(&self, table: &Table) -> bool {
        self.halls.iter().zip(&table.halls).all(|(lanes, row)| {
            let widths: Vec<i64> = lanes.iter().map(|lane| lane.width - row.divider).collect();
            can_share_out(&widths, &columns_of(lanes), &limits(row))
        })
    }

    pub fn add(&mut self, hall: usize, lane: LanePick) {
        for cell in lane.cells() {
            // A lane never uses more than was left when it was built.
            self.left[cell.class] = self.left[cell.class].saturating_sub(cell.copies);
        }
        self.halls[hall].push(Rc::new(lane));
    }

    pub fn remove(&mut self, hall: usize, lane: usize) -> Rc<LanePick> {
        let lane = self.halls[hall].swap_remove(lane);
        for cell in lane.cells() {
            self.left[cell.class] += cell.copies;
        }
        lane
    }

    /// Whether nothing that fits anywhere is left over.
    pub fn is_done(&self, table: &Table) -> bool {
        let rows = table.classes.iter().zip(&self.left);
        rows.into_iter().all(|(class, left)| *left == 0 || class.area.is_none())
    }

    pub fn value(&self, table: &Table) -> i64 {
        let worth = table.classes.iter().zip(&self.left).map(|(class, left)| {
            class.value.saturating_mul(i64::from(class.count.saturating_sub(*left)))
        });
        worth.fold(0, i64::saturating_add)
    }

    /// `must` copies without a place.
    pub fn missing(&self, table: &Table) -> u64 {
        let rows = table.classes.iter().zip(&self.left).filter(|(class, _)| class.must);
        rows.map(|(_, left)| u64::from(*left)).sum()
    }

    pub fn rank(&self, table: &Table) -> Rank {
        let width = (0..self.halls.len()).map(|hall| self.used(hall)).sum();
        let lanes = self.halls.iter().map(Vec::len).sum();
        (Reverse(self.missing(table)), self.value(table), Reverse(width), Reverse(lanes))
    }

    /// The filling in the problem's own sizes, lanes shared out over columns.
    pub fn into_filling(self, problem: &LaneProblem, table: &Table) -> Filling {
        let placed = table.classes.iter().zip(&self.left).map(|(row, left)| row.count - left);
        let placed = placed.collect();
        let left = problem.classes.iter().zip(&self.left).enumerate();
        let missing = left.filter(|(_, (class, left))| class.must && **left > 0);
        let missing = missing.map(|(index, (_, left))| (index, *left)).collect();
        let halls = self.halls.iter().zip(&table.halls);
        let halls = halls.map(|(lanes, row)| fill_columns(lanes, row)).collect();
        Filling { halls, placed, missing }
    }
}

/// The column that each lane has to stand in.
fn columns_of(lanes: &[Rc<LanePick>]) -> Vec<Option<u32>> {
    lanes.iter().map(|lane| lane.column()).collect()
}

fn limits(row: &HallTable) -> Limits {
    let divider = row.divider;
    Limits {
        divider,
        columns: row.columns,
        width: row.width - row.columns as i64 * divider,
        least: row.least - divider,
        most: row.most - divider,
    }
}

fn fill_columns(lanes: &[Rc<LanePick>], row: &HallTable) -> FilledHall {
    let divider = row.divider;
    let limits = limits(row);
    let widths: Vec<i64> = lanes.iter().map(|lane| lane.width - divider).collect();
    // Every lane was added only after a way to share them out had been found; removing lanes
    // keeps it, so the fallback is never taken.
    let at = share_out(&widths, &columns_of(lanes), &limits, None, &|_, _| 0)
        .unwrap_or_else(|| vec![0; widths.len()]);
    let mut columns: Vec<Column> = vec![Column { width: 0, lanes: Vec::new() }; row.columns];
    for (lane, column) in lanes.iter().zip(&at) {
        columns[*column].lanes.push(finish(lane, divider));
    }
    let contents: Vec<i64> = columns
        .iter()
        .map(|column| limits.content(column.lanes.iter().map(|lane| lane.width)))
        .collect();
    for (column, width) in columns.iter_mut().zip(limits.hand_out(&contents)) {
        column.width = width;
    }
    FilledHall { columns }
}

fn finish(lane: &LanePick, divider: i64) -> Lane {
    let bay = |bay: &super::lane::BayPick| {
        let length = bay.length - divider;
        let cell = |cell: &super::bays::CellPick| {
            let (shape, copies, width) = (cell.shape, cell.copies, cell.width - divider);
            Cell { shape, copies, width, length }
        };
        Bay { length, cells: bay.cells.iter().map(cell).collect() }
    };
    Lane { width: lane.width - divider, bays: lane.bays.iter().map(bay).collect() }
}
