//! The booklet's drilling schedule and assembly.

use super::{Job, figures, plain, rich};
use crate::design::work::Plane;
use crate::paper::flow::{Block, Grid, GridCell};
use crate::report::figures::length_unit_word;
use crate::report::words;
use crate::report::work::{Stage, origin, schedule, steps};

/// Part by part, every hole.
pub fn drilling(job: &Job<'_>) -> Vec<Block> {
    let (scenario, design, work) = (job.scenario, job.design, job.work);
    let lead = Block::Lead(vec![
        Block::section("Drilling and screws"),
        Block::text(&format!(
            "Places are in {} in the part's own frame, to the middle of the hole. Where several are listed \
             along and several across, every one along goes with every one across. Countersink on the face \
             that is named. A screw's bore is for its shank; pilot holes in what it holds follow its packet. \
             Angled screws are marked where they enter, and lean toward the panel. A cut-out is width x height \
             around its middle and goes through the front board too.",
            length_unit_word(scenario.units)
        )),
    ]);
    let mut grid = Grid::new(&["For", "face", "bore", ">holes", "along", "across"]);
    for entry in schedule(scenario, design, work) {
        let part = design.part(entry.part);
        let space = design.solids.iter().find(|solid| solid.part == entry.part);
        let from = space.map_or("", |solid| origin(Plane::of(part.role, solid.space)));
        grid.row([GridCell::Band(rich(&format!(
            "*{}*, {}: {}; {from}",
            part.mark,
            words::role(part.role),
            plain(&entry.pieces.join(", "))
        )))]);
        for row in &entry.rows {
            grid.row([
                GridCell::text(row.what),
                GridCell::text(row.face),
                GridCell::text(&row.bore),
                GridCell::text(&row.count.to_string()),
                GridCell::text(&row.along),
                GridCell::text(&row.across),
            ]);
        }
    }
    vec![lead, Block::Grid(grid)]
}

/// Every step with its drawing.
pub fn assembly(job: &Job<'_>) -> Vec<Block> {
    let mut blocks = vec![Block::Lead(vec![
        Block::section(Stage::Bench.name()),
        Block::text(
            "Thick lines show what a step adds, thin ones what stands already. Tick each check before going \
             on; where the order matters the step says why.",
        ),
    ])];
    let mut stage = Stage::Bench;
    for (index, step) in steps(job.scenario, job.design, job.work).into_iter().enumerate() {
        if step.stage != stage {
            stage = step.stage;
            blocks.push(Block::Lead(vec![Block::section(stage.name())]));
        }
        let mut told = Vec::new();
        if !step.parts.is_empty() {
            told.push(Block::Text(rich(&format!("Parts: {}", step.parts.join("; ")))));
        }
        if !step.hardware.is_empty() {
            told.push(Block::Text(rich(&format!("Hardware: {}", step.hardware.join(", ")))));
        }
        told.push(Block::Steps(step.does.iter().map(|text| rich(text)).collect()));
        if let Some(why) = &step.why {
            told.push(Block::Text(rich(&format!("*Why now:* {why}"))));
        }
        told.push(Block::Checks(vec![rich(&step.check)]));
        let mut together = vec![Block::heading(format!("Step {}: {}", index + 1, step.title))];
        let caption = rich(&figures::caption(job, index));
        match (figures::step(job, index, figures::room(job, index)), figures::wide(job, index)) {
            (Some(drawing), false) => {
                together.push(Block::Beside { drawing, caption, blocks: told });
            }
            (drawing, _) => {
                together.extend(drawing.map(|drawing| Block::Figure { drawing, caption }));
                together.extend(told);
            }
        }
        blocks.push(Block::Together(together));
    }
    blocks
}
