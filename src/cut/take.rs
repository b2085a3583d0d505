//! The most valuable parts out of limited stock: panel by panel, each filled for the most worth of what is left.
//!
//! A board is a panel one unit wide whose pieces are as wide: only its length is ever cut. The bound lets every panel choose
//! from all copies; it is exact for a single panel, and no less than the truth for several.

use std::collections::BTreeMap;

use crate::solve::budget::{Budget, Stop};
use crate::solve::layouts::{Layout, LayoutPiece, LayoutProblem, WORTHIEST, best_layout};
use crate::solve::outcome::Outcome;
use crate::solve::stages::Stages;

/// Panels alike.
#[derive(Debug, Clone, Copy)]
pub(super) struct Panels {
    /// What the caller knows them by.
    pub of: usize,
    /// Usable extents.
    pub size: (i64, i64),
    /// How many.
    pub count: u32,
}

/// What is cut from which panel, for how much.
#[derive(Debug, Clone, Default)]
pub(super) struct Filled {
    /// Each panel used, with [`Panels::of`].
    pub layouts: Vec<(usize, Layout)>,
    /// No choice is worth more.
    pub bound: i64,
    /// What ended a search that has not proved its layout.
    pub stopped_by: Option<Stop>,
}

/// The most panels that are filled one by one.
const MOST_PANELS: u32 = 500;

/// Fills panels in their order. `None` if the worths are beyond what can be added up.
pub(super) fn fill(
    kerf: i64,
    keep: (i64, i64),
    panels: &[Panels],
    pieces: &[LayoutPiece],
    budget: &mut Budget,
) -> Option<Filled> {
    let total = pieces.iter().try_fold(0_i64, |sum, piece| {
        sum.checked_add(piece.worth.checked_mul(i64::from(piece.most))?)
    });
    let total = total.filter(|total| *total <= WORTHIEST)?;
    let mut filled = Filled::default();
    let mut left = pieces.to_vec();
    let mut bounds: BTreeMap<(i64, i64), i64> = BTreeMap::new();
    let mut bound = 0_i64;
    let count: u32 = panels.iter().map(|panels| panels.count.min(MOST_PANELS)).sum();
    let mut to_come = count.clamp(1, MOST_PANELS);
    for panels in panels {
        for _ in 0..panels.count.min(to_come) {
            let share = budget.left() / u64::from(to_come.max(1));
            to_come = to_come.saturating_sub(1);
            let whole = left.iter().zip(pieces).all(|(left, piece)| left.most == piece.most);
            let mut part = budget.share(share);
            let (layout, most, stopped_by) = one(kerf, keep, panels.size, &left, &mut part);
            budget.spend(part.spent().min(budget.left()));
            if whole {
                bounds.entry(panels.size).or_insert(most);
            }
            filled.stopped_by = filled.stopped_by.max(stopped_by);
            if layout.pieces.is_empty() {
                break;
            }
            for piece in &layout.pieces {
                left[piece.part].most = left[piece.part].most.saturating_sub(1);
            }
            filled.layouts.push((panels.of, layout));
        }
        // What one such panel holds at most, if it may choose from all copies.
        let most = *bounds.entry(panels.size).or_insert_with(|| {
            let mut part = budget.share(budget.left() / 8);
            let most = one(kerf, keep, panels.size, pieces, &mut part).1;
            budget.spend(part.spent().min(budget.left()));
            most
        });
        bound = bound.saturating_add(most.saturating_mul(i64::from(panels.count)));
    }
    filled.bound = bound.min(total);
    Some(filled)
}

/// The best layout of one panel, and what none exceeds.
fn one(
    kerf: i64,
    keep: (i64, i64),
    panel: (i64, i64),
    pieces: &[LayoutPiece],
    budget: &mut Budget,
) -> (Layout, i64, Option<Stop>) {
    // Where nothing is left of a piece it keeps its place with no copies.
    let problem = LayoutProblem {
        kerf,
        panel,
        pieces: pieces.to_vec(),
        stages: Stages::ANY,
        least_rip: 0,
        keep,
    };
    match best_layout(&problem, budget, &mut |_| {}) {
        Outcome::Optimal { best, objective } => (best, objective, None),
        Outcome::Feasible { best, bound, stopped_by, .. } => (best, bound, stopped_by),
        Outcome::Infeasible(_) | Outcome::Unknown { .. } => (Layout::default(), i64::MAX, None),
    }
}
