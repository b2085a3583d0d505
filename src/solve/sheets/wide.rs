//! The most valuable set of parts of one sheet where sets are too large to be searched one by one ([`super::pricing`]): a
//! layout of the sheet, with a bound that holds whatever the search leaves open.

use super::job::Job;
use super::pricing::Set;
use crate::solve::budget::Budget;
use crate::solve::layouts::{LayoutPiece, LayoutProblem, best_layout};
use crate::solve::stages::Stages;

/// The best set found and what none is worth more than; `values` and `counts` are by kind.
pub(super) fn best_set(
    job: &Job,
    sheet: usize,
    values: &[i64],
    counts: &[u32],
    budget: &mut Budget,
) -> (Option<(i64, Set)>, i64) {
    let pieces = job.kinds.iter().zip(values).zip(counts).map(|((kind, worth), most)| {
        let [width, height] = kind.size;
        LayoutPiece { width, height, worth: *worth, most: *most, turn: kind.turn }
    });
    let [width, height] = job.sheets[sheet].size;
    let problem = LayoutProblem {
        // Kinds and sheets are grown by the kerf already.
        kerf: 0,
        panel: (width, height),
        pieces: pieces.collect(),
        // The first stage is along either axis here, which holds no less.
        stages: Stages { first: None, ..job.stages },
        least_rip: 0,
        keep: (1, 1),
    };
    let Ok(found) = best_layout(&problem, budget, &mut |_| ()).found() else {
        return (None, i64::MAX);
    };
    let mut set: Set = found.best.pieces.iter().map(|piece| piece.part as u32).collect();
    set.sort_unstable();
    let worth = found.best.worth;
    ((worth > 0).then_some((worth, set)), found.bound)
}
