//! Filling rectangles lane by lane: a three-stage guillotine knapsack over several halls at once,
//! where the columns a hall is split into come out of the lanes and not the other way round.
//!
//! # The problem
//!
//! A *hall* is a rectangle that is split lengthwise into a fixed number of *columns*; a column is
//! split lengthwise into *lanes* that run its full length, a lane crosswise into *bays*, a bay
//! lengthwise into *cells*, and a cell holds one *shape*: some copies of one *class*. Between all
//! neighbours inside a column stands a divider of one thickness `d` (each hall has its own).
//!
//! A lane may stand in any column, so a hall with `C` columns is a set of `K` lanes with
//! `Σ w + (K − C)·d ≤ W`, `W` being the sum of the columns' widths; which lane goes to which
//! column is a partition that only the least and the most width of a column restrict.
//!
//! A shape may have a *spot*: the column that it has to stand in, and the end of its lane that it has to stand at. Lanes
//! with a shape of some column stand in that column and hold no shape of another; bays for the two ends are kept apart, so
//! that sorting a lane's bays puts each where it belongs.
//!
//! Wanted: every copy of a `must` class, then the greatest sum of values, then the least width
//! used, then the fewest lanes.
//!
//! # Grown sizes
//!
//! Everything inside works on sizes grown by `d`: cells `(w + d) × (l + d)` in a hall of
//! `(W + C·d) × (L + d)` need no kerf any more, cut for cut (by induction every panel stands for
//! itself grown by `d` both ways). Areas of grown cells therefore add up to no more than the grown
//! halls, which is what the bound starts from.
//!
//! # The search
//!
//! First-fit-decreasing shelves give a first filling. Then lanes are built one at a time around
//! the hardest copy left: for each promising width a bounded knapsack along the lane chooses among
//! bays, with prices in place of values, and the lane that earns most per width is kept. Prices of
//! classes that were left out rise (sequential value correction, after Belov & Scheithauer, from
//! memory). Then lanes are taken out and rebuilt around what was left out for as long as the
//! budget lasts; what is worse is borne at first, and less and less of it later (threshold accepting). It loses where a good hall needs several lanes of unusual width at once.
//!
//! # The bound
//!
//! Grown areas against grown halls, as a fractional knapsack over all halls together and, by weak
//! duality with a price on each hall, over each hall apart and in whole copies; the `bound` file says how. What halls may
//! carry has its price too. In integers, and valid for every filling. It knows nothing of how lengths and widths go together,
//! so on halls that cannot hold everything it stays a few per cent above what can be had.

use super::budget::Budget;
use super::outcome::Outcome;

mod bays;
mod bound;
mod columns;
mod lane;
mod search;
mod shelves;
mod state;
mod table;
#[cfg(test)]
mod tests;

pub use columns::{Limits, Loads, share_out};
pub use shelves::shelves;

/// What is to be filled, with what.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LaneProblem {
    /// The kinds of things.
    pub classes: Vec<Class>,
    /// The rectangles.
    pub halls: Vec<Hall>,
}

/// A kind of thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Class {
    /// Copies there are to place at most.
    pub count: u32,
    /// What one placed copy is worth, not negative.
    pub value: i64,
    /// Whether every copy has to be placed.
    pub must: bool,
}

/// A rectangle split into columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hall {
    /// Thickness of the divider between any two neighbours inside a column, not negative.
    pub divider: i64,
    /// Length of every lane.
    pub length: i64,
    /// Sum of the columns' widths (what stands between two columns is not counted).
    pub width: i64,
    /// Number of columns, at least one.
    pub columns: u32,
    /// A column is at least this wide.
    pub least_column: i64,
    /// A column is at most this wide.
    pub most_column: Option<i64>,
    /// What a cell of this hall may hold.
    pub shapes: Vec<Shape>,
}

/// What one cell may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shape {
    /// Index of its class.
    pub class: usize,
    /// Copies it holds; when fewer are left, it may hold fewer in the same room.
    pub copies: u32,
    /// The room it takes.
    pub form: Form,
    /// Where in the hall it has to stand. The same for all shapes of a class in one hall.
    pub spot: Spot,
}

/// Where in a hall a shape has to stand; anywhere by default.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// The column, an index under the hall's number of columns.
    pub column: Option<u32>,
    /// The end of its lane: nothing of another spot stands between it and that end.
    pub end: Option<LaneEnd>,
}

/// An end of a lane.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LaneEnd {
    /// Where the lane begins.
    First,
    /// Where it ends.
    Last,
}

/// The room a shape takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A cell at least this wide and long; turned, it is another shape.
    Fixed {
        /// Across the lane.
        width: i64,
        /// Along the lane.
        length: i64,
    },
    /// A cell of whatever sides, none under `least`, whose product reaches `area`.
    Area {
        /// Width times length.
        area: i64,
        /// The least side.
        least: i64,
    },
}

/// A filling of all halls.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filling {
    /// One for each hall of the problem.
    pub halls: Vec<FilledHall>,
    /// Copies placed of each class.
    pub placed: Vec<u32>,
    /// Classes that had to be placed and were not all found room for, with the copies missing.
    pub missing: Vec<(usize, u32)>,
}

impl Filling {
    /// Whether every `must` copy has its place. A filling that is not complete is no solution,
    /// only the best attempt.
    pub fn is_complete(&self) -> bool {
        self.missing.is_empty()
    }
}

/// A hall's columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FilledHall {
    /// As many as the hall has; those that no shape's spot names in no particular order.
    pub columns: Vec<Column>,
}

/// A column with its lanes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its inside width; the lanes and their dividers may leave some of it over.
    pub width: i64,
    /// From one side to the other, in no particular order.
    pub lanes: Vec<Lane>,
}

/// A lane with its bays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lane {
    /// The width its contents need.
    pub width: i64,
    /// Along the lane, in no particular order; with their dividers they may leave length over.
    pub bays: Vec<Bay>,
}

/// A bay with its cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bay {
    /// The length its contents need.
    pub length: i64,
    /// Side by side across the lane; with their dividers they may leave width over.
    pub cells: Vec<Cell>,
}

/// A cell and what it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cell {
    /// Index into the hall's shapes.
    pub shape: usize,
    /// Copies in it, at most the shape's.
    pub copies: u32,
    /// Across the lane.
    pub width: i64,
    /// Along the lane: the bay's length.
    pub length: i64,
}

/// Why no filling places every `must` copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LaneReason {
    /// The least widths of a hall's columns exceed the hall.
    Columns {
        /// Index of the hall.
        hall: usize,
        /// Width missing.
        short_by: i64,
    },
    /// No hall has a shape for this class.
    NoShape {
        /// Index of the class.
        class: usize,
    },
    /// Every shape of this class is too large for its hall; this one lacks least.
    TooLarge {
        /// Index of the class.
        class: usize,
        /// The hall where least is missing.
        hall: usize,
        /// The shape there.
        shape: usize,
        /// Width missing.
        short_width: i64,
        /// Length missing.
        short_length: i64,
    },
    /// These classes, which only these halls can take, need more area than the halls have,
    /// dividers counted in.
    TooMuch {
        /// Indices of the classes.
        classes: Vec<usize>,
        /// Indices of the halls.
        halls: Vec<usize>,
        /// Area needed at least.
        needed: i128,
        /// Area there is.
        available: i128,
    },
}

/// Fills the halls.
///
/// One step of the budget is one knapsack cell (about ten nanoseconds): two hundred thousand are
/// a quick look, ten million a thorough one. The objective and the bound count the values of
/// everything placed. `Infeasible` is proved; a filling in which `must` copies are missing comes
/// back as `Feasible` with [`Filling::missing`] saying which, and is no solution. Sizes are meant to
/// stay under 2³⁰ and values under 2⁴⁰; a shape that is not positive, or names no class, is ignored.
pub fn fill(problem: &LaneProblem, budget: &mut Budget) -> Outcome<Filling, LaneReason> {
    let table = table::Table::new(problem);
    if let Some(reason) = bound::impossible(problem, &table) {
        return Outcome::Infeasible(reason);
    }
    let bound = bound::value(&table, Burden::default());
    let found = search::search(&table, bound, budget);
    let objective = found.value(&table);
    let best = found.into_filling(problem, &table);
    if best.is_complete() && objective >= bound {
        return Outcome::Optimal { best, objective };
    }
    Outcome::Feasible { best, objective, bound, stopped_by: budget.stopped() }
}

/// What halls may carry. [`fill`] knows nothing of it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Burden<'a> {
    /// What a copy of each class weighs, not negative; nothing beyond the end.
    pub copies: &'a [i64],
    /// What each hall may carry in all; anything beyond the end.
    pub most: &'a [Option<i64>],
}

/// The bound of [`fill`] without a search: no filling that places every `must` copy, in halls that carry no more than they may, is
/// worth more.
///
/// # Errors
/// A proof that there is no such filling whatever halls may carry, if a simple one exists.
pub fn bound(problem: &LaneProblem, burden: Burden<'_>) -> Result<i64, LaneReason> {
    let table = table::Table::new(problem);
    match bound::impossible(problem, &table) {
        Some(reason) => Err(reason),
        None => Ok(bound::value(&table, burden)),
    }
}
