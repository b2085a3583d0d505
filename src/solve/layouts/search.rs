//! The order in which bounds are drawn and layouts sought.
//!
//! 1. A greedy layout, so that there is an answer whatever the budget.
//! 2. Prices on copies by subgradient steps, for tables with a low bound.
//! 3. Passes of the builder (see `build`) with ever wider beams. With each beam the goal comes down from the bound: what is above
//!    it is little and found or refuted fast, and either narrows the gap. The last beam is no beam at all: its passes
//!    lower the bound, and end with the optimum.

use super::Progress;
use super::build::{End, Known, Limits, pass};
use super::frame::{Fineness, Frame};
use super::greedy::first_layout;
use super::job::{Job, Kind};
use super::prices::lowest;
use super::tables::Tables;
use super::trace::{Node, Tree};
use crate::solve::budget::{Budget, Stop};

/// What was found and proved, in the job's worths.
#[derive(Debug, Clone)]
pub(super) struct Found {
    /// The best layout, in the job's kinds.
    pub tree: Tree,
    pub worth: i64,
    /// No layout is worth more.
    pub bound: i64,
    pub stopped: Option<Stop>,
}

/// Blocks kept in a cell, pass after pass; 0: all.
pub(super) const BEAMS: [usize; 4] = [4, 32, 256, 0];

/// Blocks kept in memory; about 100 bytes each.
pub(super) const MOST_BLOCKS: usize = 4_000_000;

/// Points along a side for a first search where a fine grid has many more.
const COARSE: usize = 32;

/// Work for that at most, and the beams it takes.
const COARSE_WORK: u64 = 100_000_000;
const COARSE_BEAMS: [usize; 2] = [2, 8];

/// Subgradient steps; where tables are large, as many as cost `PRICE_WORK`.
const ROUNDS: u32 = 150;
const PRICE_WORK: u64 = 1_000_000_000;

/// Finds the best layout of a job's panel. A layout worth `known` or less need not be told from that.
pub(super) fn search(job: &Job, budget: &mut Budget, progress: &mut dyn FnMut(Progress)) -> Found {
    let (tree, worth) = first_layout(job);
    let mut found = Found { tree, worth, bound: area_bound(job), stopped: None };
    let fine = fineness(budget, false);
    if let Some(frame) = Frame::new(job, fine) {
        let coarse = Fineness { points: COARSE, ..fine };
        if frame.x.len() * frame.y.len() > 40 * COARSE * COARSE {
            // A good layout first, from blocks sorted by size only roughly.
            let frame = Frame::new(job, coarse).expect("the fine one has pieces");
            let mut share = budget.share(COARSE_WORK.min(budget.left() / 4));
            improve(job, &frame, &COARSE_BEAMS, &mut found, &mut share, progress);
            budget.spend(share.spent());
        }
        improve(job, &frame, &BEAMS, &mut found, budget, progress);
    }
    found.stopped = budget.stopped();
    found
}

/// A grid that suits the budget: filling its tables takes a small part of it.
pub(super) fn fineness(budget: &Budget, widths: bool) -> Fineness {
    let root = (budget.left() / 64).max(1).ilog2() / 3;
    Fineness { points: (1usize << root).clamp(24, 500), widths }
}

/// The most worth that fits by area: copies by worth per area, the last one in part.
pub(super) fn area_bound(job: &Job) -> i64 {
    let area = |k: &Kind| i128::from(k.ways[0][0]) * i128::from(k.ways[0][1]);
    let mut left = i128::from(job.size[0]) * i128::from(job.size[1]);
    let mut kinds: Vec<&Kind> = job.kinds.iter().collect();
    if left.checked_mul(1 << 60).is_none() {
        // Too large to compare worth per area: all copies.
        return kinds.iter().map(|k| k.worth * i64::from(k.copies)).sum();
    }
    kinds.sort_by_key(|k| k.worth);
    kinds.sort_by(|a, b| (i128::from(b.worth) * area(a)).cmp(&(i128::from(a.worth) * area(b))));
    let mut worth = 0;
    for kind in kinds {
        let copies = i128::from(kind.copies).min(left / area(kind));
        worth += copies * i128::from(kind.worth);
        left -= copies * area(kind);
        if copies < i128::from(kind.copies) {
            worth += i128::from(kind.worth) * left / area(kind);
            break;
        }
    }
    i64::try_from(worth).expect("no more than all copies are worth")
}

fn improve(
    job: &Job,
    frame: &Frame,
    beams: &[usize],
    found: &mut Found,
    budget: &mut Budget,
    progress: &mut dyn FnMut(Progress),
) {
    let mut tell = |found: &Found, budget: &Budget| {
        let (worth, bound) = (found.worth * job.coin, found.bound * job.coin);
        progress(Progress { worth, bound, work: budget.spent() });
    };
    tell(found, budget);
    let (n, m) = (frame.x.len(), frame.y.len());
    let cells = (n * m * (n + m)) as u64;
    let rounds =
        u32::try_from(PRICE_WORK.min(budget.left() / 4) / cells).unwrap_or(ROUNDS).min(ROUNDS);
    let Some(mut tables) = lowest(frame, n - 1, found.worth, rounds, budget) else { return };
    found.bound = found.bound.min(tables.bound(frame, n - 1, m - 1));
    tell(found, budget);
    if found.worth >= found.bound || tables.look_outside(frame, &vec![0; n], budget).is_none() {
        return;
    }
    let tables = [tables];
    for beam in beams.iter().copied() {
        let mut step = (found.bound - found.worth) / 64 + 1;
        loop {
            if found.worth >= found.bound {
                return;
            }
            let goal = (found.bound - step + 1).max(found.worth + 1);
            let end = one_pass(frame, &tables, goal, beam, found, budget);
            if end == End::Complete {
                found.bound = found.bound.min(found.worth.max(goal - 1));
            }
            tell(found, budget);
            match end {
                End::Stopped => return,
                _ if goal <= found.worth + 1 => break,
                _ => step = step.saturating_mul(3),
            }
        }
    }
}

/// One pass of the builder; improves what was found.
fn one_pass(
    frame: &Frame,
    tables: &[Tables],
    goal: i64,
    beam: usize,
    found: &mut Found,
    budget: &mut Budget,
) -> End {
    let n = frame.x.len();
    let mut known = Known { worth: vec![goal - 1; n], tree: vec![Tree::new(); n] };
    let end =
        pass(frame, tables, &mut known, &[goal], Limits { beam, blocks: MOST_BLOCKS }, budget);
    if known.worth[n - 1] >= goal {
        found.worth = known.worth[n - 1];
        found.tree = job_tree(frame, &known.tree[n - 1]);
    }
    end
}

/// A tree in the job's kinds.
pub(super) fn job_tree(frame: &Frame, tree: &Tree) -> Tree {
    let kind = |node: &Node| match *node {
        Node::Piece { kind, way } => {
            Node::Piece { kind: frame.kinds[kind as usize].kind as u32, way }
        }
        join @ Node::Join { .. } => join,
    };
    tree.iter().map(kind).collect()
}
