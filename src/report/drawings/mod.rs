//! A design as workshop drawings: plans, front elevation, side section, cutting diagrams.
//!
//! - [`plan`]: a horizontal cut through one tier, seen from above, with the gear;
//! - [`front`]: the chest in its bed, seen from the open tailgate;
//! - [`side`]: an upright cut along the chest; [`upright`] is what both have in common;
//! - [`sheets`], [`boards`]: what is sawn from what;
//! - [`page`]: border, title strip, notes and keys, and the choice of paper and scale.
//!
//! Each is drawn on the smallest paper at the largest standard scale that leaves room for its
//! dimensions and its key; lengths are in the scenario's units.

mod boards;
mod front;
mod page;
mod plan;
mod sheets;
mod side;
mod upright;

use crate::design::{CuttingPlan, Design, JobPlan, PartId};
use crate::paper::Drawing;
use crate::scenario::{CuttingJob, HardwareUse, Scenario, Stock};
use crate::units::Length;
use crate::verify::Verified;
use page::Papers;

/// A drawing and what its file is called, without an ending.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedDrawing {
    /// Lower-case words joined by hyphens: `plan-tier-a`.
    pub name: String,
    /// The drawing.
    pub drawing: Drawing,
}

/// Every drawing of a design in the order in which they are used: plans from the lowest tier up, front
/// elevation, sheets, boards. Each says which page of how many it is. Only what was verified goes to
/// the saw.
pub fn drawings(design: &Verified<Design>, scenario: &Scenario) -> Vec<NamedDrawing> {
    draw_all(design.get(), scenario)
}

/// The drawings of the whole as figures of a booklet, each at most `room` (mm) wide and high: plans, front
/// elevation, side section.
pub fn figures(
    design: &Verified<Design>,
    scenario: &Scenario,
    room: (f64, f64),
) -> Vec<NamedDrawing> {
    whole(design.get(), scenario, Papers::Within(scenario.units, room))
}

/// How boards are cut, as figures of a booklet.
pub fn board_figures(
    design: &Verified<Design>,
    scenario: &Scenario,
    plan: &CuttingPlan,
    room: (f64, f64),
) -> Vec<Drawing> {
    let marks = design.parts.iter().map(|part| part.mark.as_str()).collect();
    let of = page::Of::design(design, scenario);
    let plans = Plans { plan, marks, widths: Vec::new(), stock: &scenario.stock, of };
    boards::boards(&plans, Papers::Within(scenario.units, room))
}

fn whole(design: &Design, scenario: &Scenario, papers: Papers) -> Vec<NamedDrawing> {
    let mut all = Vec::new();
    for tier in 0..design.chest.carcass.tiers.len() {
        let name = format!("plan-tier-{}", tier_letter(tier).to_lowercase());
        all.push(NamedDrawing { name, drawing: plan::plan(design, scenario, tier, papers) });
    }
    let front = front::front(design, scenario, papers);
    all.push(NamedDrawing { name: "front-elevation".to_owned(), drawing: front });
    let side = side::side(design, scenario, papers);
    all.push(NamedDrawing { name: "side-section".to_owned(), drawing: side });
    all
}

fn draw_all(design: &Design, scenario: &Scenario) -> Vec<NamedDrawing> {
    let mut all = whole(design, scenario, Papers::Own(scenario.units));
    let marks = design.parts.iter().map(|part| part.mark.as_str()).collect();
    let of = page::Of::design(design, scenario);
    let (plan, widths) = (&design.cutting, Vec::new());
    let plans = Plans { plan, marks, widths, stock: &scenario.stock, of };
    all.extend(plans.draw());
    numbered(all)
}

/// The cutting diagrams of a job: sheets, then boards.
pub fn job_drawings(plan: &Verified<JobPlan>, job: &CuttingJob) -> Vec<NamedDrawing> {
    let marks = job.parts.iter().map(|part| part.name.as_str()).collect();
    let of = page::Of { title: &job.title, units: job.units, design: None };
    let widths = job.parts.iter().map(|part| part.width).collect();
    numbered(Plans { plan: &plan.cutting, marks, widths, stock: &job.stock, of }.draw())
}

/// Cutting plans and what is written on them.
struct Plans<'a> {
    plan: &'a CuttingPlan,
    /// By part.
    marks: Vec<&'a str>,
    /// By part, where boards' drawings have to say what is ripped; a chest's lists do.
    widths: Vec<Length>,
    stock: &'a Stock,
    of: page::Of<'a>,
}

impl<'a> Plans<'a> {
    fn mark(&self, part: PartId) -> &'a str {
        self.marks.get(part.0 as usize).copied().unwrap_or_default()
    }

    fn draw(&self) -> Vec<NamedDrawing> {
        let sheets = (0..self.plan.sheets.len()).map(|index| NamedDrawing {
            name: format!("cut-sheet-{}", index + 1),
            drawing: sheets::sheet(self, index),
        });
        let boards = boards::boards(self, Papers::Own(self.of.units)).into_iter().enumerate();
        let boards = boards.map(|(index, drawing)| NamedDrawing {
            name: format!("cut-boards-{}", index + 1),
            drawing,
        });
        sheets.chain(boards).collect()
    }
}

/// Each says which page of how many it is.
fn numbered(mut all: Vec<NamedDrawing>) -> Vec<NamedDrawing> {
    let of = all.len();
    for (index, named) in all.iter_mut().enumerate() {
        page::number(&mut named.drawing, index + 1, of);
    }
    all
}

/// How thick the lining of the drawers' floors is, where the scenario lists one.
fn lining(scenario: &Scenario) -> Option<Length> {
    let mut listed = scenario.stock.hardware_for(HardwareUse::Carpet);
    listed.next().map(|(_, lining)| lining.thickness)
}

/// The letter of a tier, from `A` at the bottom, as in the drawers' names.
pub(in crate::report) fn tier_letter(tier: usize) -> String {
    u8::try_from(tier)
        .ok()
        .filter(|tier| *tier < 26)
        .map_or_else(|| (tier + 1).to_string(), |tier| char::from(b'A' + tier).to_string())
}

#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;
