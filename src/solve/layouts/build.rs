//! Building layouts bottom-up: every block that could be part of a layout better than what is known.
//!
//! Two blocks are joined beside or above each other (Wang, Oper. Res. 31, 1983) if the copies suffice and the bound
//! of the tables (see `tables`) leaves hope. Of blocks with equal counts none is kept that is no smaller
//! either way than another. Cells (grid points of a block's two extents) are taken by area, so that
//! a cell is complete when its turn comes; within a cell blocks stand by reduced worth, so that a pair of cells
//! is left as soon as a pair of blocks falls short.
//!
//! If nothing was cut short, what is known at the end is optimal among everything above the goal.

use super::blocks::{Block, Blocks};
use super::frame::Frame;
use super::tables::Tables;
use super::trace::{Node, Tree};
use crate::solve::budget::Budget;
use std::collections::BTreeSet;

/// The best layouts known: for the whole panel, or for each width (point of `x`).
#[derive(Debug, Clone)]
pub(super) struct Known {
    /// Worth at each point of `x`, unscaled, not falling.
    pub worth: Vec<i64>,
    pub tree: Vec<Tree>,
}

/// How a pass is limited.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// Blocks kept in a cell; 0: all.
    pub beam: usize,
    /// Blocks in all.
    pub blocks: usize,
}

/// Why a pass ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum End {
    /// Nothing was left out: no layout is worth at least the goal and more than what is known.
    Complete,
    /// Blocks were left out.
    Cut,
    /// The budget ended, or memory.
    Stopped,
}

/// One pass; improves `known`.
///
/// `goal[i]` is the least worth looked for at point `i` of `x`; with one entry, for the whole panel. All
/// `tables` have looked outside with ends that fit: 0 for one goal, else less than `-goal` scaled.
pub(super) fn pass(
    frame: &Frame,
    tables: &[Tables],
    known: &mut Known,
    goal: &[i64],
    limits: Limits,
    budget: &mut Budget,
) -> End {
    let mut pass = Pass {
        frame,
        tables,
        known,
        need: if let [one] = goal { *one * frame.scale } else { 0 },
        single: goal.len() == 1,
        blocks: Blocks::new(frame, tables.len()),
        level: 0,
        fresh: vec![Fresh { blocks: Vec::new(), floor: i64::MIN }; frame.x.len() * frame.y.len()],
        pending: BTreeSet::new(),
        limits,
        end: End::Complete,
    };
    pass.run(budget);
    pass.end
}

/// The blocks of a cell whose turn has come, the best first.
#[derive(Debug, Clone)]
struct Cell {
    at: [usize; 2],
    best: i64,
    blocks: Vec<u32>,
}

/// Cells that were taken, by either coordinate.
#[derive(Debug)]
struct Shelf {
    cells: Vec<Cell>,
    lines: [Vec<Line>; 2],
}

/// The cells of a shelf that share a coordinate, and the best reduced worth among them.
#[derive(Debug, Clone)]
struct Line {
    best: i64,
    cells: Vec<usize>,
}

impl Shelf {
    fn new(frame: &Frame) -> Self {
        let line = Line { best: i64::MIN / 8, cells: Vec::new() };
        let lines = [vec![line.clone(); frame.x.len()], vec![line; frame.y.len()]];
        Self { cells: Vec::new(), lines }
    }

    fn push(&mut self, cell: Cell) {
        for (axis, lines) in self.lines.iter_mut().enumerate() {
            let line = &mut lines[cell.at[axis]];
            line.best = line.best.max(cell.best);
            line.cells.push(self.cells.len());
        }
        self.cells.push(cell);
    }
}

/// Blocks of a cell whose turn has not come.
#[derive(Debug, Clone)]
struct Fresh {
    blocks: Vec<u32>,
    /// With a beam: what is worth less, reduced, need not come.
    floor: i64,
}

struct Pass<'a> {
    frame: &'a Frame,
    tables: &'a [Tables],
    known: &'a mut Known,
    /// A layout's reduced worth and pool must come to this, scaled.
    need: i64,
    single: bool,
    blocks: Blocks,
    level: usize,
    fresh: Vec<Fresh>,
    pending: BTreeSet<(i64, usize)>,
    limits: Limits,
    end: End,
}

impl Pass<'_> {
    fn run(&mut self, budget: &mut Budget) {
        let mut done = Shelf::new(self.frame);
        if self.frame.levels.is_empty() {
            self.pieces();
            while let (Some(cell), true) = (self.next_cell(), self.end != End::Stopped) {
                done.push(cell.clone());
                let own = Some(done.cells.len() - 1);
                for axis in 0..2 {
                    self.join_shelf(&done, &cell, own, axis, budget);
                }
            }
            return;
        }
        for level in 1..=self.frame.levels.len() {
            self.level = level;
            if level == 1 {
                self.pieces();
            } else {
                self.promote(&done);
            }
            done = self.row_level(budget);
            if self.end == End::Stopped {
                return;
            }
        }
    }

    /// A level of rows: what is fresh are the elements, as rows of one.
    fn row_level(&mut self, budget: &mut Budget) -> Shelf {
        let axis = self.frame.levels[self.level - 1];
        let (mut rows, mut elements) = (Shelf::new(self.frame), Shelf::new(self.frame));
        while let (Some(cell), true) = (self.next_cell(), self.end != End::Stopped) {
            let mut ones = cell.clone();
            ones.blocks.retain(|block| self.is_element(*block));
            // The rows before and these meet the elements before and these, each pair once.
            if let Some(first) = ones.blocks.first() {
                ones.best = self.blocks.reduced(*first)[0];
                self.join_shelf(&rows, &ones, None, axis, budget);
                elements.push(ones);
            }
            self.join_shelf(&elements, &cell, None, axis, budget);
            rows.push(cell);
        }
        rows
    }

    fn is_element(&self, block: u32) -> bool {
        let axis = self.blocks.list[block as usize].axis;
        axis == 2 || usize::from(axis) != self.frame.levels[self.level - 1]
    }

    fn pieces(&mut self) {
        for (k, kind) in self.frame.kinds.iter().enumerate() {
            let counts = self.blocks.counter.one(k);
            for (w, way) in kind.ways.iter().enumerate() {
                let across = match self.frame.levels.first() {
                    Some(axis) if self.frame.exact => way.size[1 - axis],
                    _ => 0,
                };
                let parts = [k as u32, w as u32];
                let block = Blocks::block(way.snapped, kind.worth, 2, parts, across);
                let reduced: Vec<i64> = self.tables.iter().map(|t| t.worth[k]).collect();
                self.offer(block, &counts, &reduced);
            }
        }
    }

    /// What is alive of the level before goes up as it is.
    fn promote(&mut self, before: &Shelf) {
        self.blocks.new_level();
        for id in before.cells.iter().flat_map(|cell| &cell.blocks) {
            let mut block = self.blocks.list[*id as usize];
            if block.alive {
                block.across = 0;
                let counts = self.blocks.counts(*id).to_vec();
                let reduced = self.blocks.reduced(*id).to_vec();
                self.offer(block, &counts, &reduced);
            }
        }
    }

    /// Adds a block if the tables leave hope for it.
    fn offer(&mut self, block: Block, counts: &[u64], reduced: &[i64]) {
        let cell = self.frame.cell(block.size);
        let level = if self.frame.levels.is_empty() { 0 } else { self.level };
        for (tables, reduced) in self.tables.iter().zip(reduced) {
            if tables.pool + reduced + tables.outside[level][cell] < self.need {
                return;
            }
        }
        if let Some(id) = self.blocks.add(block, counts, reduced.iter().copied()) {
            self.queue(id, cell);
        }
    }

    fn queue(&mut self, id: u32, cell: usize) {
        let m = self.frame.y.len();
        let fresh = &mut self.fresh[cell];
        if fresh.blocks.is_empty() {
            let area = self.frame.x.at(cell / m) * self.frame.y.at(cell % m);
            self.pending.insert((area, cell));
        }
        fresh.blocks.push(id);
        let beam = self.limits.beam;
        if beam > 0 && fresh.blocks.len() >= 4 * beam + 16 {
            let key = |b: &u32| (std::cmp::Reverse(self.blocks.reduced(*b)[0]), *b);
            fresh.blocks.sort_by_key(key);
            fresh.blocks.truncate(beam);
            fresh.floor = self.blocks.reduced(fresh.blocks[beam - 1])[0];
            self.end = self.end.max(End::Cut);
        }
        self.learn(id);
    }

    /// Keeps a block as a layout if it is better than what is known.
    fn learn(&mut self, id: u32) {
        let block = self.blocks.list[id as usize];
        if self.level < self.frame.levels.len() {
            return;
        }
        let n = self.frame.x.len();
        let from = if self.single { n - 1 } else { self.frame.x.cover(block.size[0]) };
        let mut tree: Option<Tree> = None;
        for i in from..n {
            if self.known.worth[i] >= block.worth {
                break;
            }
            let tree = tree.get_or_insert_with(|| self.blocks.tree(id));
            self.known.worth[i] = block.worth;
            self.known.tree[i].clone_from(tree);
        }
        if self.single && tree.is_some() {
            self.need = self.need.max((block.worth + 1) * self.frame.scale);
        }
    }

    fn next_cell(&mut self) -> Option<Cell> {
        let (_, cell) = self.pending.pop_first()?;
        let m = self.frame.y.len();
        let fresh = &mut self.fresh[cell];
        let mut blocks = std::mem::take(&mut fresh.blocks);
        fresh.floor = i64::MIN;
        blocks.retain(|b| self.blocks.list[*b as usize].alive);
        blocks.sort_by_key(|b| (std::cmp::Reverse(self.blocks.reduced(*b)[0]), *b));
        if self.limits.beam > 0 && blocks.len() > self.limits.beam {
            blocks.truncate(self.limits.beam);
            self.end = self.end.max(End::Cut);
        }
        let best = blocks.first().map_or(i64::MIN / 8, |b| self.blocks.reduced(*b)[0]);
        Some(Cell { at: [cell / m, cell % m], best, blocks })
    }

    /// Joins the blocks of a cell with those of a shelf along an axis; `own` is the cell's place on the shelf,
    /// if it stands there.
    fn join_shelf(
        &mut self,
        shelf: &Shelf,
        cell: &Cell,
        own: Option<usize>,
        axis: usize,
        budget: &mut Budget,
    ) {
        let tables = self.tables;
        let (outside, pool) = (&tables[0].outside[self.level], tables[0].pool);
        let m = self.frame.y.len();
        let line = if axis == 0 { &self.frame.x } else { &self.frame.y };
        let place = |along: usize, across: usize| {
            if axis == 0 { along * m + across } else { across * m + along }
        };
        let mut steps = 1;
        for (point, others) in shelf.lines[axis].iter().enumerate() {
            let Some(along) = line.meet(point, cell.at[axis]) else { break };
            steps += 1;
            // Outside there is no more, the taller a block is.
            let most = pool + cell.best + others.best + outside[place(along, cell.at[1 - axis])];
            if others.cells.is_empty() || most < self.need {
                continue;
            }
            for other in &others.cells {
                let one = &shelf.cells[*other];
                let joint = place(along, one.at[1 - axis].max(cell.at[1 - axis]));
                steps += 1;
                if pool + one.best + cell.best + outside[joint] >= self.need {
                    let same = own == Some(*other);
                    self.join_lists([&one.blocks, &cell.blocks], same, axis, joint, budget);
                    if self.end == End::Stopped {
                        return;
                    }
                }
            }
        }
        if !budget.spend(steps) {
            self.end = End::Stopped;
        }
    }

    /// Joins the blocks of two lists, the best first; with `same` each pair once.
    fn join_lists(
        &mut self,
        lists: [&[u32]; 2],
        same: bool,
        axis: usize,
        cell: usize,
        budget: &mut Budget,
    ) {
        let outside = self.tables[0].pool + self.tables[0].outside[self.level][cell];
        let mut steps = 1;
        for (n, a) in lists[0].iter().enumerate() {
            let from_a = outside + self.blocks.reduced(*a)[0];
            let skip = if same { n } else { 0 };
            for b in &lists[1][skip..] {
                if from_a + self.blocks.reduced(*b)[0] < self.need {
                    break;
                }
                steps += 4;
                self.join(*a, *b, axis, cell);
            }
            if steps > 1024 {
                if !budget.spend(steps) {
                    self.end = End::Stopped;
                    return;
                }
                steps = 0;
            }
        }
        if !budget.spend(steps) || self.blocks.list.len() > self.limits.blocks {
            self.end = End::Stopped;
        }
    }

    fn join(&mut self, a: u32, b: u32, axis: usize, cell: usize) {
        let (one, other) = (self.blocks.list[a as usize], self.blocks.list[b as usize]);
        if one.across != other.across || !one.alive || !other.alive {
            return;
        }
        if !self.blocks.counter.fit(self.blocks.counts(a), self.blocks.counts(b)) {
            return;
        }
        let mut size = one.size;
        size[axis] += other.size[axis];
        size[1 - axis] = size[1 - axis].max(other.size[1 - axis]);
        let Some(size) = self.frame.snap(size) else { return };
        let cell = if self.frame.x.is_even() || self.frame.y.is_even() {
            self.frame.cell(size)
        } else {
            cell
        };
        if self.blocks.reduced(a)[0] + self.blocks.reduced(b)[0] < self.fresh[cell].floor {
            return;
        }
        for (n, tables) in self.tables.iter().enumerate() {
            let reduced = self.blocks.reduced(a)[n] + self.blocks.reduced(b)[n];
            if tables.pool + reduced + tables.outside[self.level][cell] < self.need {
                return;
            }
        }
        let block = Blocks::block(size, one.worth + other.worth, axis as u8, [a, b], one.across);
        if let Some(id) = self.blocks.add_sum(block, a, b) {
            self.queue(id, cell);
        }
    }
}

impl Blocks {
    /// The layout that a block is.
    pub fn tree(&self, id: u32) -> Tree {
        let mut tree = Tree::new();
        self.add_to_tree(id, &mut tree);
        tree
    }

    fn add_to_tree(&self, id: u32, tree: &mut Tree) -> u32 {
        let block = &self.list[id as usize];
        let [a, b] = block.parts;
        let node = if block.axis == 2 {
            Node::Piece { kind: a, way: b }
        } else {
            let a = self.add_to_tree(a, tree);
            let b = self.add_to_tree(b, tree);
            Node::Join { axis: block.axis, a, b }
        };
        tree.push(node);
        (tree.len() - 1) as u32
    }

    fn add_sum(&mut self, block: Block, a: u32, b: u32) -> Option<u32> {
        let counts: Vec<u64> =
            self.counts(a).iter().zip(self.counts(b)).map(|(a, b)| a + b).collect();
        let reduced: Vec<i64> =
            self.reduced(a).iter().zip(self.reduced(b)).map(|(a, b)| a + b).collect();
        self.add(block, &counts, reduced.into_iter())
    }
}
