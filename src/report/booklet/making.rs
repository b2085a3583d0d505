//! The booklet's drilling schedule and assembly.

use super::{Job, figures, plain, rich, templates};
use crate::design::Role;
use crate::design::work::Plane;
use crate::paper::flow::{Block, Grid, GridCell};
use crate::paper::tiles;
use crate::report::figures::length_unit_word;
use crate::report::words;
use crate::report::work::{Stage, origin, schedule, steps};
use crate::scenario::HardwareUse;

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
    let mut blocks = vec![lead, Block::Grid(grid)];
    blocks.extend(full_size(job));
    blocks
}

/// What there is a template of and on which page, and what of a chest this one has not.
fn full_size(job: &Job<'_>) -> Vec<Block> {
    let mut grid = Grid::new(&["Template", ">pages"]);
    let mut page = 1;
    for template in templates::templates(job) {
        let last = page + tiles(&template.drawing, job.size).len() - 1;
        let pages = if last > page { format!("{page} to {last}") } else { page.to_string() };
        grid.row([GridCell::text(&plain(&template.drawing.title)), GridCell::text(&pages)]);
        page = last + 1;
    }
    let lids = job.design.parts.iter().any(|part| part.role == Role::Lid && part.quantity > 0);
    let mut told = vec![if lids {
        "Hinges: this design has none. The infill lids beside the chest lie on their brackets and lift out; the \
         deck is screwed down."
            .to_owned()
    } else {
        "Hinges: this design has none. The deck is screwed down, and there are no lids beside the chest, nor \
         brackets for any."
            .to_owned()
    }];
    let named: Vec<String> =
        templates::hinges(job.scenario).map(|hinge| plain(&hinge.name)).collect();
    let listed = job.scenario.stock.hardware_for(HardwareUse::Hinge).count();
    if !named.is_empty() {
        told.push(format!(
            "For whoever hangs a lid, there is the pattern of {}.",
            named.join(", ")
        ));
    }
    if named.len() < listed {
        told.push(
            "The scenario lists hinges without saying where their screws are: mark these from the leaf itself."
                .to_owned(),
        );
    }
    let lead = vec![
        Block::heading("Templates at full size"),
        Block::text("In templates.pdf, to be printed at 100 %, and each as a file for machines."),
    ];
    vec![Block::Lead(lead), Block::Grid(grid), Block::text(&told.join(" "))]
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
