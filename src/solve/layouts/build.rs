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
        fresh: vec![Vec::new(); frame.x.len() * frame.y.len()],
        pending: BTreeSet::new(),
        done: Vec::new(),
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

struct Pass<'a> {
    frame: &'a Frame,
    tables: &'a [Tables],
    known: &'a mut Known,
    /// A layout's reduced worth and pool must come to this, scaled.
    need: i64,
    single: bool,
    blocks: Blocks,
    level: usize,
    fresh: Vec<Vec<u32>>,
    pending: BTreeSet<(i64, usize)>,
    done: Vec<Cell>,
    limits: Limits,
    end: End,
}

impl Pass<'_> {
    fn run(&mut self, budget: &mut Budget) {
        if self.frame.levels.is_empty() {
            self.pieces();
            while let Some(cell) = self.next_cell() {
                self.done.push(cell);
                let last = self.done.len() - 1;
                for other in 0..=last {
                    for axis in 0..2 {
                        self.join_cells(other, last, axis, budget);
                    }
                    if self.end == End::Stopped {
                        return;
                    }
                }
            }
            return;
        }
        self.level = 1;
        self.pieces();
        for level in 1..=self.frame.levels.len() {
            self.level = level;
            self.row_level(budget);
            if self.end == End::Stopped {
                return;
            }
        }
    }

    /// A level of rows: the elements stand in `fresh`, and first are rows of one.
    fn row_level(&mut self, budget: &mut Budget) {
        let axis = self.frame.levels[self.level - 1];
        let mut elements: Vec<Cell> = Vec::new();
        if self.level > 1 {
            // What is alive of the level before goes up as it is.
            self.blocks.new_level();
            let before: Vec<u32> = self.done.drain(..).flat_map(|c| c.blocks).collect();
            for id in before {
                let block = self.blocks.list[id as usize];
                if block.alive {
                    self.promote(block, id);
                }
            }
        }
        while let Some(cell) = self.next_cell() {
            let ones: Vec<u32> =
                cell.blocks.iter().copied().filter(|b| self.is_element(*b)).collect();
            if let Some(first) = ones.first() {
                let best = self.blocks.reduced(*first)[0];
                elements.push(Cell { at: cell.at, best, blocks: ones });
            }
            self.done.push(cell);
            let last = self.done.len() - 1;
            // Rows grow in order: an element joins the rows that came before or with it.
            let is_new = elements.last().is_some_and(|e| e.at == self.done[last].at);
            for element in &elements {
                self.join_row(last, element, axis, budget);
            }
            if let (true, Some(element)) = (is_new, elements.last()) {
                for row in 0..last {
                    self.join_row(row, element, axis, budget);
                }
            }
            if self.end == End::Stopped {
                return;
            }
        }
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

    fn promote(&mut self, mut block: Block, id: u32) {
        block.across = 0;
        let counts = self.blocks.counts(id).to_vec();
        let reduced = self.blocks.reduced(id).to_vec();
        self.offer(block, &counts, &reduced);
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
        if self.fresh[cell].is_empty() {
            let area = self.frame.x.at(cell / m) * self.frame.y.at(cell % m);
            self.pending.insert((area, cell));
        }
        self.fresh[cell].push(id);
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
        let mut blocks = std::mem::take(&mut self.fresh[cell]);
        blocks.retain(|b| self.blocks.list[*b as usize].alive);
        blocks.sort_by_key(|b| (std::cmp::Reverse(self.blocks.reduced(*b)[0]), *b));
        if self.limits.beam > 0 && blocks.len() > self.limits.beam {
            blocks.truncate(self.limits.beam);
            self.end = self.end.max(End::Cut);
        }
        let best = blocks.first().map_or(i64::MIN / 8, |b| self.blocks.reduced(*b)[0]);
        Some(Cell { at: [cell / m, cell % m], best, blocks })
    }

    /// The least cell that blocks of two cells can be joined to.
    fn joint(&self, a: [usize; 2], b: [usize; 2], axis: usize) -> Option<usize> {
        let m = self.frame.y.len();
        Some(if axis == 0 {
            self.frame.x.meet(a[0], b[0])? * m + a[1].max(b[1])
        } else {
            a[0].max(b[0]) * m + self.frame.y.meet(a[1], b[1])?
        })
    }

    fn join_cells(&mut self, a: usize, b: usize, axis: usize, budget: &mut Budget) {
        let (one, other) = (&self.done[a], &self.done[b]);
        let Some(cell) = self.joint(one.at, other.at, axis) else { return };
        let t = &self.tables[0];
        if t.pool + one.best + other.best + t.outside[self.level][cell] < self.need {
            return;
        }
        let same = a == b;
        let (mut one, mut other) = (one.blocks.clone(), other.blocks.clone());
        self.join_lists(&mut one, &mut other, same, axis, cell, budget);
    }

    fn join_row(&mut self, row: usize, element: &Cell, axis: usize, budget: &mut Budget) {
        let rows = &self.done[row];
        let Some(cell) = self.joint(rows.at, element.at, axis) else { return };
        let t = &self.tables[0];
        if t.pool + rows.best + element.best + t.outside[self.level][cell] < self.need {
            return;
        }
        let (mut one, mut other) = (rows.blocks.clone(), element.blocks.clone());
        self.join_lists(&mut one, &mut other, false, axis, cell, budget);
    }

    /// Joins the blocks of two lists, the best first; with `same` each pair once.
    fn join_lists(
        &mut self,
        one: &mut [u32],
        other: &mut [u32],
        same: bool,
        axis: usize,
        cell: usize,
        budget: &mut Budget,
    ) {
        let outside = self.tables[0].pool + self.tables[0].outside[self.level][cell];
        let mut steps = 1;
        for (n, a) in one.iter().enumerate() {
            let from_a = outside + self.blocks.reduced(*a)[0];
            let skip = if same { n } else { 0 };
            for b in &other[skip..] {
                if from_a + self.blocks.reduced(*b)[0] < self.need {
                    break;
                }
                steps += 1;
                self.join(*a, *b, axis, cell);
            }
            if steps > 256 {
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

/// Rows of the same counts as their tree.
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
