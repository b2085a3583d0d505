//! From a design to work: cuts in a person's order, holes, steps of the assembly.
//!
//! What comes out is plain data ([`crate::design::work`]), which `verify` re-checks before anything is printed of it.

mod boards;
mod sheets;
mod steps;

use crate::design::derive::fastening::{self, Woods};
use crate::design::derive::hardware::{for_sets, purchase};
use crate::design::derive::sawing::purchases;
use crate::design::work::{Saw, Sawing, WorkPlan};
use crate::design::{CuttingPlan, Design, HardwareLine, Part};
use crate::scenario::Scenario;

/// The work plan of `sets` sets of a design, whose parts come out of stock as `cutting` says.
pub fn work_plan(
    scenario: &Scenario,
    design: &Design,
    cutting: CuttingPlan,
    sets: u32,
    saw: Saw,
) -> WorkPlan {
    let sawing = sawing(scenario, &design.parts, &cutting, sets, saw);
    let mut purchases = purchases(&scenario.stock, &cutting.sheets, &cutting.boards);
    let lines = design.hardware.iter();
    let hardware: Vec<HardwareLine> =
        lines.filter_map(|line| for_sets(scenario, line, sets)).collect();
    purchases.extend(hardware.iter().filter_map(|line| purchase(scenario, line)));
    let woods = Woods::from(design);
    let (pieces, rows) = (fastening::pieces(&woods), fastening::rows(scenario, &woods));
    let steps = steps::steps(design, &pieces, &rows);
    WorkPlan { sets, cutting, purchases, hardware, sawing, pieces, rows, steps }
}

/// Every cut of a cutting plan in the order in which it is made.
fn sawing(
    scenario: &Scenario,
    parts: &[Part],
    cutting: &CuttingPlan,
    sets: u32,
    saw: Saw,
) -> Sawing {
    let mut setting = None;
    let sheets = cutting
        .sheets
        .iter()
        .map(|layout| {
            let (work, last) = sheets::sheet(scenario, layout, cutting.kerf, saw, setting);
            setting = last;
            work
        })
        .collect();
    Sawing {
        saw,
        sheets,
        boards: boards::boards(scenario, cutting),
        rips: boards::rips(scenario, parts, cutting.kerf, sets),
        diagonals: boards::diagonals(parts, sets),
    }
}
