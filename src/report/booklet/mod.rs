//! The booklet that goes to the shop: one design from the tape measure to the first drive.
//!
//! - [`booklet`]: everything in reading order, which `paper::flow` breaks into pages;
//! - [`labels`]: a label for every piece;
//! - [`shapes`]: every flat part and every nested sheet at full size, for machines;
//! - [`templates`]: what is bored, at full size on paper.

mod figures;
mod lists;
mod making;
mod sawing;
pub mod shapes;
pub mod templates;

use crate::design::work::WorkPlan;
use crate::design::{Design, Role};
use crate::paper::PageSize;
use crate::paper::flow::{Block, Booklet, Label, Rich, page_room};
use crate::report::figures::{count, sizes};
use crate::report::work::piece_name;
use crate::report::{cautions, words};
use crate::scenario::Scenario;
use crate::units::Money;
use crate::verify::Verified;

/// Height that a figure's heading takes at the head of a page, mm.
const HEADING: f64 = 10.0;

/// What the booklet is made from.
#[derive(Debug, Clone, Copy)]
pub struct Job<'a> {
    /// What was given.
    pub scenario: &'a Scenario,
    /// What is built.
    pub design: &'a Verified<Design>,
    /// How.
    pub work: &'a Verified<WorkPlan>,
    /// The paper, upright.
    pub size: PageSize,
    /// What several sets save, in words; nothing for one.
    pub sets: Option<&'a str>,
}

/// The whole booklet.
pub fn booklet(job: &Job<'_>) -> Booklet {
    let mut body = lists::measure(job);
    body.extend(lists::shopping(job));
    body.extend(sawing::sawing(job));
    body.extend(lists::parts(job));
    body.extend(making::drilling(job));
    body.extend(making::assembly(job));
    body.extend(layouts(job));
    body.extend(lists::finishing(job));
    body.extend(lists::checks(job));
    body.extend(last_words(job));
    let title = line(&job.scenario.title);
    Booklet {
        title: title.clone(),
        description: format!("How to build design {} for {title}.", job.design.id),
        size: job.size,
        cover: cover(job),
        contents: Some("Contents".to_owned()),
        body,
        header: title,
        footer: format!("Design {}", job.design.id),
    }
}

/// Text of others on one line.
pub(in crate::report) fn line(text: &str) -> String {
    text.replace(['\n', '\r', '\t'], " ")
}

/// The same as part of a marked text: its asterisks make nothing bold.
pub(in crate::report) fn plain(text: &str) -> String {
    line(text).replace('*', crate::paper::flow::ASTERISK)
}

fn rich(text: &str) -> Rich {
    Rich::marked(text)
}

fn cover(job: &Job<'_>) -> Vec<Block> {
    let (scenario, design) = (job.scenario, job.design);
    let mut blocks = vec![
        Block::section(line(&scenario.title)),
        Block::text(&format!("Building plan of design *{}*", design.id)),
    ];
    let (width, height) = page_room(job.size);
    if let Some(drawing) = figures::whole(job, (width, height * 0.45)) {
        let door = words::rear_door(scenario.bed.kind);
        let caption = format!("The chest with every drawer shut, seen from the {door}'s right.");
        let caption = rich(&caption);
        blocks.push(Block::Figure { drawing, caption });
    }
    blocks.push(Block::Grid(lists::summary(job)));
    if let Some(sets) = job.sets {
        blocks.push(Block::text(sets));
    }
    blocks.push(Block::Small(rich(
        "Computed from what the scenario says, not certified. Read the cautions on the last pages before \
         anything is cut.",
    )));
    blocks
}

/// Where the gear lies, plans of the tiers, elevation and section, each under its own heading.
fn layouts(job: &Job<'_>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Lead(vec![
            Block::section("Drawer layouts with their gear"),
            Block::text(
                "Places are from the inside left front corner of each drawer; the plans on the next pages \
                 show them from above.",
            ),
        ]),
        Block::Grid(lists::gear(job)),
    ];
    blocks.extend(lists::left_out(job));
    let (width, height) = page_room(job.size);
    let room = (width, height - HEADING);
    for named in crate::report::drawings::figures(job.design, job.scenario, room) {
        let title = named.drawing.title.clone();
        blocks.push(Block::Together(vec![
            Block::heading(title),
            Block::Figure { drawing: named.drawing, caption: rich("") },
        ]));
    }
    blocks
}

fn last_words(job: &Job<'_>) -> Vec<Block> {
    let said = cautions::cautions(job.scenario, job.design);
    let said = said.iter().map(|caution| rich(&plain(&caution.words(job.scenario)))).collect();
    vec![Block::section("Cautions"), Block::List(said)]
}

/// The booklet's own figures, each with the name of its file: sheets with their cuts in order, steps of the assembly.
pub fn drawings(job: &Job<'_>) -> Vec<(String, crate::paper::Drawing)> {
    let room = page_room(job.size);
    let sheets = (0..job.work.cutting.sheets.len())
        .map(|index| (format!("cuts-sheet-{}", index + 1), figures::sheet(job, index, room)));
    let steps = (0..job.work.steps.len()).filter_map(|index| {
        let drawing = figures::step(job, index, figures::room(job, index))?;
        Some((format!("step-{}", index + 1), drawing))
    });
    let whole = figures::whole(job, room).map(|drawing| ("chest".to_owned(), drawing));
    whole.into_iter().chain(sheets).chain(steps).collect()
}

/// A label for every piece of all sets.
pub fn labels(job: &Job<'_>) -> Vec<Label> {
    let (scenario, design, work) = (job.scenario, job.design, job.work);
    let mut labels = Vec::new();
    for set in 0..work.sets {
        for (index, piece) in (0..).zip(&work.pieces) {
            let part = design.part(piece.part);
            let id = crate::design::work::PieceId(index);
            let mut lines = vec![
                piece_name(design, work, id),
                words::role(part.role).to_owned(),
                sizes(&[part.length, part.width, part.thickness], scenario.units),
                line(&scenario.stock.materials[part.material].name),
            ];
            if part.role == Role::CornerBlock {
                lines.push("saw on the diagonal: two blocks".to_owned());
            }
            if work.sets > 1 {
                lines.push(format!("set {} of {}", set + 1, work.sets));
            }
            labels.push(Label { mark: part.mark.clone(), lines });
        }
    }
    labels
}

/// What several sets cost together, and one alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SetCosts {
    /// How many.
    pub sets: u32,
    /// What is bought for one set built alone.
    pub alone: Money,
    /// What is bought for all of them built together.
    pub together: Money,
    /// Whether something on hand goes into them, which serves only once.
    pub on_hand: bool,
}

/// What building several sets at once saves, in words.
pub fn saving(costs: SetCosts, currency: &str) -> String {
    let SetCosts { sets, alone, together, on_hand } = costs;
    let difference = alone * i64::from(sets) - together;
    let each = Money::from_parts(difference.parts().abs() / i64::from(sets));
    let told = if difference.parts() < 0 { "costs" } else { "saves" };
    let more = if difference.parts() < 0 { " more" } else { "" };
    let mut text = format!(
        "{} at once, nested and bought together, cost {together} {currency}; one alone costs {alone} \
         {currency}: that {told} {each} {currency}{more} a set. Shopping and cutting are for all the sets; \
         drilling and assembly are for each.",
        count(u64::from(sets), "set", "sets")
    );
    if on_hand {
        text.push_str(" What is on hand is used up once, and is counted in full for one alone.");
    }
    text
}

#[cfg(test)]
mod tests;
