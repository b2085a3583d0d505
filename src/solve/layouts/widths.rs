//! The best layouts of panels of one height and every width, from one run.
//!
//! The tables of `tables` answer every width at once. So does the builder: a block is kept if there is *some* width
//! at which it could be part of a layout better than what is known there. That is the same recursion
//! from outside with other ends: `end(w) = −(what must be reached at w)` in place of 0.

use super::build::{End, Known, Limits, pass};
use super::frame::Frame;
use super::job::Job;
use super::layout::{layout, needed_width};
use super::prices::lowest;
use super::search::{BEAMS, MOST_BLOCKS, area_bound, fineness, job_tree};
use super::tables::Tables;
use super::trace::Tree;
use super::{Layout, LayoutProblem, LayoutReason, directed};
use crate::solve::budget::{Budget, Stop};
use crate::solve::sheets::Axis;
use crate::solve::stages::Stages;

/// What panels of every width up to the problem's hold.
#[derive(Debug, Clone)]
pub struct WidthTable {
    /// By width, ascending; the first is of width 0. A row stands for all widths from its own up to the next row's.
    pub rows: Vec<WidthRow>,
    /// What ended the search before every row was proved, if anything did.
    pub stopped_by: Option<Stop>,
    height: i64,
    jobs: Vec<Job>,
    /// Job and tree of each row.
    trees: Vec<(usize, Tree)>,
}

/// What panels of some widths hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WidthRow {
    /// The least width the row stands for.
    pub width: i64,
    /// Worth of a layout that fits this width.
    pub worth: i64,
    /// No layout of any width below the next row's is worth more.
    pub bound: i64,
}

impl WidthTable {
    /// The row that stands for a width; the first one for widths below 0.
    pub fn row_at(&self, width: i64) -> usize {
        self.rows.partition_point(|row| row.width <= width).saturating_sub(1)
    }

    /// The layout of a row, in a panel of the row's own width; where a single stage of cuts along the height must leave
    /// pieces of just the panel's width, in a panel of the width that it needs.
    pub fn layout(&self, row: usize) -> Layout {
        let (job, tree) = &self.trees[row];
        let job = &self.jobs[*job];
        let Stages { most, trim, first } = job.stages;
        let width = match (most, trim, first) {
            (Some(1), false, Some(Axis::Y)) => needed_width(job, tree),
            _ => self.rows[row].width,
        };
        layout(job, (width, self.height), tree)
    }
}

/// The table of a problem's panel height and all widths up to its width.
///
/// A row's worth is the best over panels *at most* that wide. Such panels are taken to be ripped to their
/// width, so that a piece's side across must not be below `least_rip` even if it is the panel's own. The rows are exact
/// where the sums of the pieces' widths are few (some hundreds); else they are an even grid, whose bounds hold for
/// all widths a row stands for.
///
/// # Errors
///
/// As [`super::best_layout`].
pub fn width_table(
    problem: &LayoutProblem,
    budget: &mut Budget,
) -> Result<WidthTable, LayoutReason> {
    let mut whole: Option<WidthTable> = None;
    let directed = directed(problem);
    for (n, problem) in directed.iter().enumerate() {
        let job = Job::for_widths(problem)?;
        let mut share = budget.share(budget.left() / (directed.len() - n) as u64);
        let part = one_table(job, problem.panel.1, &mut share);
        budget.spend(share.spent());
        whole = Some(match whole {
            None => part,
            Some(other) => other.or(part),
        });
    }
    Ok(whole.expect("there is at least one direction"))
}

/// What is known of each point of the frame's `x`.
struct Rows {
    worth: Vec<i64>,
    bound: Vec<i64>,
    trees: Vec<Tree>,
}

fn one_table(job: Job, height: i64, budget: &mut Budget) -> WidthTable {
    let all = area_bound(&job);
    let mut rows = Rows { worth: vec![0], bound: vec![all], trees: vec![Tree::new()] };
    let mut widths = vec![0];
    if let Some(frame) = Frame::new(&job, fineness(budget, true)) {
        let n = frame.x.len();
        rows = Rows { worth: vec![0; n], bound: vec![all; n], trees: vec![Tree::new(); n] };
        widths = (0..n).map(|i| (frame.x.at(i) * job.unit - job.kerf).max(0)).collect();
        fill(&frame, &mut rows, budget);
    }
    let rests = rows.worth.iter().zip(&rows.bound).zip(widths);
    WidthTable {
        rows: rests
            .map(|((worth, bound), width)| WidthRow {
                width,
                worth: worth * job.coin,
                bound: bound * job.coin,
            })
            .collect(),
        stopped_by: budget.stopped(),
        height,
        trees: rows.trees.into_iter().map(|tree| (0, tree)).collect(),
        jobs: vec![job],
    }
}

fn fill(frame: &Frame, rows: &mut Rows, budget: &mut Budget) {
    let (n, m) = (frame.x.len(), frame.y.len());
    let mut tables: Vec<Tables> = Vec::new();
    // Prices that suit wide panels suit narrow ones less: some of each, and none at all.
    for (part, rounds) in [(4, 60), (2, 40), (1, 0)] {
        let Some(priced) = lowest(frame, (n - 1) * part / 4, 0, rounds, budget) else { break };
        let mut most = 0;
        for i in 0..n {
            most = most.max(priced.bound(frame, i, m - 1));
            rows.bound[i] = rows.bound[i].min(most);
        }
        tables.push(priced);
    }
    rows.settle();
    if tables.is_empty() {
        return;
    }
    for beam in BEAMS {
        let mut part = 64;
        loop {
            let goals: Vec<i64> = (rows.worth.iter().zip(&rows.bound))
                .map(|(worth, bound)| (bound - (bound - worth) / part).max(worth + 1))
                .collect();
            let ends: Vec<i64> = goals.iter().map(|goal| -goal * frame.scale).collect();
            for tables in &mut tables {
                if tables.look_outside(frame, &ends, budget).is_none() {
                    return;
                }
            }
            let end = one_pass(frame, &tables, &goals, beam, rows, budget);
            if end == End::Stopped || rows.settled() {
                return;
            }
            if part == 1 {
                break;
            }
            part /= 4;
        }
    }
}

fn one_pass(
    frame: &Frame,
    tables: &[Tables],
    goals: &[i64],
    beam: usize,
    rows: &mut Rows,
    budget: &mut Budget,
) -> End {
    let start = goals.iter().map(|goal| goal - 1).collect();
    let mut known = Known { worth: start, tree: vec![Tree::new(); goals.len()] };
    let limits = Limits { beam, blocks: MOST_BLOCKS };
    let end = pass(frame, tables, &mut known, goals, limits, budget);
    for (i, goal) in goals.iter().enumerate() {
        if known.worth[i] >= *goal {
            rows.worth[i] = known.worth[i];
            rows.trees[i] = job_tree(frame, &known.tree[i]);
        }
        if end == End::Complete {
            rows.bound[i] = rows.bound[i].min(rows.worth[i].max(goal - 1));
        }
    }
    rows.settle();
    end
}

impl Rows {
    /// A wider panel holds what a narrower one does, and is bounded by a wider one's bound.
    fn settle(&mut self) {
        for i in 1..self.worth.len() {
            if self.worth[i] < self.worth[i - 1] {
                self.worth[i] = self.worth[i - 1];
                self.trees[i] = self.trees[i - 1].clone();
            }
        }
        for i in (1..self.bound.len()).rev() {
            self.bound[i - 1] = self.bound[i - 1].min(self.bound[i]);
        }
    }

    fn settled(&self) -> bool {
        self.worth.iter().zip(&self.bound).all(|(worth, bound)| worth >= bound)
    }
}

impl WidthTable {
    /// The better of two tables at each width.
    fn or(self, other: Self) -> Self {
        let mut widths: Vec<i64> = self.rows.iter().chain(&other.rows).map(|r| r.width).collect();
        widths.sort_unstable();
        widths.dedup();
        let jobs = [self.jobs.clone(), other.jobs.clone()].concat();
        let (mut rows, mut trees) = (Vec::new(), Vec::new());
        for width in widths {
            let (a, b) = (self.row_at(width), other.row_at(width));
            let bound = self.rows[a].bound.max(other.rows[b].bound);
            let (worth, tree) = if self.rows[a].worth >= other.rows[b].worth {
                (self.rows[a].worth, self.trees[a].clone())
            } else {
                let (job, tree) = other.trees[b].clone();
                (other.rows[b].worth, (job + self.jobs.len(), tree))
            };
            rows.push(WidthRow { width, worth, bound });
            trees.push(tree);
        }
        let stopped_by = self.stopped_by.or(other.stopped_by);
        Self { rows, stopped_by, height: self.height, jobs, trees }
    }
}
