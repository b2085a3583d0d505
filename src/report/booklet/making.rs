//! The booklet's drilling schedule and assembly.

use super::{Job, figures, plain, rich};
use crate::design::work::Plane;
use crate::paper::flow::{Block, Grid, GridCell, page_room};
use crate::report::figures::length_unit_word;
use crate::report::words;
use crate::report::work::{Stage, origin, schedule, steps};

/// Part by part, every hole.
pub fn drilling(job: &Job<'_>) -> Vec<Block> {
    let (scenario, design, work) = (job.scenario, job.design, job.work);
    let mut blocks = vec![
        Block::Break,
        Block::section("Drilling and screws"),
        Block::text(&format!(
            "Places are in {} in the part's own frame, to the middle of the hole. Where several are listed \
             along and several across, every one along goes with every one across. Countersink on the face \
             that is named; pilot holes follow the screws' packet. Angled screws are marked where they enter, \
             and lean toward the panel.",
            length_unit_word(scenario.units)
        )),
    ];
    for entry in schedule(scenario, design, work) {
        let part = design.part(entry.part);
        let mut grid = Grid::new(&["For", "face", ">holes", "along", "across"]);
        for row in &entry.rows {
            grid.row([
                GridCell::text(row.what),
                GridCell::text(row.face),
                GridCell::text(&row.count.to_string()),
                GridCell::text(&row.along),
                GridCell::text(&row.across),
            ]);
        }
        let space = design.solids.iter().find(|solid| solid.part == entry.part);
        let from = space.map_or("", |solid| origin(Plane::of(part.role, solid.space)));
        let shown = entry.pieces.join("; ");
        blocks.push(Block::Together(vec![
            Block::Text(rich(&format!(
                "*{}*, {}: {}",
                part.mark,
                words::role(part.role),
                plain(&shown)
            ))),
            Block::Small(rich(from)),
            Block::Grid(grid),
        ]));
    }
    blocks
}

/// Every step with its drawing.
pub fn assembly(job: &Job<'_>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Break,
        Block::section(Stage::Bench.name()),
        Block::text(
            "Thick lines show what a step adds, thin ones what stands already. Tick each check before going \
             on; where the order matters the step says why.",
        ),
    ];
    let (width, height) = page_room(job.size);
    let mut stage = Stage::Bench;
    for (index, step) in steps(job.scenario, job.design, job.work).into_iter().enumerate() {
        if step.stage != stage {
            stage = step.stage;
            blocks.extend([Block::Break, Block::section(stage.name())]);
        }
        let mut together = vec![Block::heading(format!("Step {}: {}", index + 1, step.title))];
        if let Some(drawing) =
            figures::step(job, index, (width, height * figures::share(&job.work.steps[index])))
        {
            together.push(Block::Figure { drawing, caption: rich("") });
        }
        if !step.parts.is_empty() {
            together.push(Block::Text(rich(&format!("Parts: {}", step.parts.join(", ")))));
        }
        if !step.hardware.is_empty() {
            together.push(Block::Text(rich(&format!("Hardware: {}", step.hardware.join(", ")))));
        }
        together.push(Block::Steps(step.does.iter().map(|text| rich(text)).collect()));
        if let Some(why) = &step.why {
            together.push(Block::Text(rich(&format!("*Why now:* {why}"))));
        }
        together.push(Block::Checks(vec![rich(&step.check)]));
        blocks.push(Block::Together(together));
    }
    blocks
}
