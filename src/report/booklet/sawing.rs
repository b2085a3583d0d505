//! The booklet's cutting plans: a figure and an ordered list for every sheet and board.

use super::lists::columns;
use super::{Job, figures, line, rich};
use crate::design::work::Saw;
use crate::paper::flow::{Block, page_room};
use crate::report::drawings;
use crate::report::figures::{count, length_unit};
use crate::report::naming::Names;
use crate::report::work;
use crate::units::Length;

/// A list of so few cuts stays with its sheet's figure; a longer one may go on over the page.
const SHORT: usize = 12;

/// Sheets, boards, what is ripped and what is kept.
pub fn sawing(job: &Job<'_>) -> Vec<Block> {
    let table = work::cuts(job.scenario, job.design, job.work);
    let setting = format!("setting ({})", length_unit(job.scenario.units));
    let wanted = [
        ("cut", ">cut"),
        ("set-up", ">set-up"),
        ("with", "with"),
        ("piece", "piece"),
        ("cut runs", "runs"),
        ("measured from", "from"),
        (setting.as_str(), ">setting"),
        ("gives", "gives"),
        ("beyond the kerf", "beyond"),
    ];
    let mut blocks = vec![Block::Break, Block::section("Cutting plans")];
    blocks.extend(advice(job));
    let names = Names::of(job.scenario);
    let (width, height) = page_room(job.size);
    let heights = figure_heights(job, height);
    let sheets = job.work.cutting.sheets.iter().zip(&job.work.sawing.sheets);
    for (index, (layout, cuts)) in sheets.enumerate() {
        let pattern = format!("sheet {}", index + 1);
        let times = match layout.repeat {
            1 => String::new(),
            n => format!(", {n} sheets cut alike"),
        };
        let drawing = figures::sheet(job, index, (width, heights[index]));
        let mut together = vec![
            Block::heading(format!(
                "Sheet {}: {}{times}",
                index + 1,
                line(names.stock(layout.stock))
            )),
            Block::Figure {
                drawing,
                caption: rich(&format!(
                    "{}, {} new. The sheet's grain runs from left to right. Numbers on the lines are the \
                     cuts' order.",
                    count(cuts.cuts.len() as u64, "cut", "cuts"),
                    count(u64::from(cuts.setups), "set-up", "set-ups"),
                )),
            },
        ];
        let list = Block::Grid(columns(&table, &wanted, |row| row[1] == pattern));
        if cuts.cuts.len() <= SHORT {
            together.push(list);
            blocks.push(Block::Together(together));
        } else {
            blocks.extend([Block::Together(together), list]);
        }
    }
    blocks.extend(boards(job, &table, &wanted));
    blocks.extend(kept(job));
    blocks
}

/// Heading, caption and the head of a sheet's list take so much of a page, a row so much, mm.
const AROUND: f64 = 32.0;
const ROW: f64 = 5.1;

/// Heights that the sheets' figures may take, mm. The first stands below what is said of all; of the others two that follow each
/// other share a page where their short lists leave both figures room enough to be read.
fn figure_heights(job: &Job<'_>, page: f64) -> Vec<f64> {
    const LEAST: f64 = 0.19;
    let cuts: Vec<usize> = job.work.sawing.sheets.iter().map(|sheet| sheet.cuts.len()).collect();
    let most = page * 0.305;
    let mut heights = Vec::with_capacity(cuts.len());
    heights.extend(cuts.first().map(|cuts| figure_height(page, *cuts)));
    while heights.len() < cuts.len() {
        let rest = &cuts[heights.len()..];
        let short = |cuts: &usize| *cuts <= SHORT;
        let share = rest.get(..2).filter(|pair| pair.iter().all(short)).map(|pair| {
            let rows: usize = pair.iter().sum();
            (page - 2.0 * AROUND - ROW * rows as f64) / 2.0
        });
        match share.filter(|share| *share >= page * LEAST) {
            Some(share) => heights.extend([share.min(most); 2]),
            None => heights.push(figure_height(page, rest[0])),
        }
    }
    heights
}

/// Height that one sheet's figure may take, mm: with a short list so much that it leaves half of the page.
fn figure_height(page: f64, cuts: usize) -> f64 {
    let half = page / 2.0 - AROUND - ROW * cuts as f64;
    if half < page * 0.2 { page * 0.305 } else { half.min(page * 0.305) }
}

/// How to read the lists, and what the saw wants.
fn advice(job: &Job<'_>) -> Vec<Block> {
    let kerf = job.work.cutting.kerf.show(job.scenario.units);
    let sawing = &job.work.sawing;
    let sheets: u32 = sawing.sheets.iter().map(|sheet| sheet.setups).sum();
    let boards: u32 = sawing.boards.iter().map(|board| board.setups).sum();
    let blocks = u32::from(!sawing.diagonals.is_empty());
    let mut widths: Vec<Length> = sawing.rips.iter().map(|rip| rip.setting).collect();
    widths.dedup();
    let others = boards + blocks + u32::try_from(widths.len()).unwrap_or(u32::MAX);
    let cuts: usize = job.work.sawing.sheets.iter().map(|sheet| sheet.cuts.len()).sum();
    let mut said = vec![
        format!(
            "Every cut goes straight from edge to edge. The setting is from the named edge of the piece (a \
             factory edge where it says so) to the near side of the blade; the kerf of {kerf} always lies beyond it, away from that edge."
        ),
        "A piece is called by its sheet's number and a letter as it comes off the saw: write it on at once. \
         The first cuts bring a sheet to what one person can carry. Cuts at one setting follow each other; \
         a new set-up has a new number."
            .to_owned(),
        format!(
            "{} on the sheets with {}; {} more for boards and blocks.",
            count(cuts as u64, "cut", "cuts"),
            count(u64::from(sheets), "set-up", "set-ups"),
            count(u64::from(others), "set-up", "set-ups")
        ),
    ];
    said.push(match job.work.sawing.saw {
        Saw::Guide => "Hand-held saw along a guide: good face down, because the blade comes up through the \
                       wood and tears the upper face. Lay the sheet on foam or battens so that both sides are \
                       carried through the cut. Measure from the edge and clamp the guide where your saw's base \
                       puts the blade at the setting."
            .to_owned(),
        Saw::Table => "Table saw: good face up, because the teeth come down through the wood at the front. \
                       The named edge runs along the fence (or against the stop on the sled); a panel too large \
                       for either goes under the guide first. Support what leaves the table, use a push stick \
                       where the setting is under a hand's width, and never cut free-hand."
            .to_owned(),
    });
    said.into_iter().map(|text| Block::text(&text)).collect()
}

fn boards(job: &Job<'_>, table: &crate::paper::Table, wanted: &[(&str, &str)]) -> Vec<Block> {
    if job.work.cutting.boards.is_empty() {
        return Vec::new();
    }
    let mut blocks = Vec::new();
    let mut together = vec![
        Block::heading("Boards"),
        Block::text(
            "Square the end first where it needs it. Each piece is measured from the end that was sawn last, \
             the kerf beyond; set the stop once for like lengths.",
        ),
    ];
    let (width, height) = page_room(job.size);
    let plan = &job.work.cutting;
    for drawing in drawings::board_figures(job.design, job.scenario, plan, (width, height - 20.0)) {
        together.push(Block::Figure { drawing, caption: rich("") });
        blocks.push(Block::Together(std::mem::take(&mut together)));
    }
    let mut wanted = wanted.to_vec();
    wanted[3] = ("pattern", "board");
    wanted.insert(4, ("times", ">times"));
    wanted.retain(|(name, _)| !matches!(*name, "cut runs" | "measured from"));
    blocks.push(Block::Grid(columns(table, &wanted, |row| row[1].starts_with("board "))));
    // The part comes last: the last column of words takes the room that is left.
    let after: Vec<(&str, &str)> = ["cut", "set-up", "with", "times"]
        .iter()
        .filter_map(|name| wanted.iter().find(|(known, _)| known == name).copied())
        .chain(wanted.iter().find(|(name, _)| name.starts_with("setting")).copied())
        .chain([("gives", "gives")])
        .collect();
    let rips = columns(table, &after, |row| row[1] == "to width" || row[1] == "diagonal");
    if !rips.rows.is_empty() {
        blocks.push(Block::Together(vec![
            Block::heading("Boards to width, and blocks"),
            Block::text(
            "After cutting to length: rip the better edge against the fence. Square lengths for corner \
             blocks are sawn corner to corner last, held in a cradle.",
            ),
            Block::Grid(rips),
        ]));
    }
    blocks
}

/// Where each rest goes.
fn kept(job: &Job<'_>) -> Vec<Block> {
    let units = job.scenario.units;
    let mut kept: Vec<String> = Vec::new();
    for (sheet, cuts) in job.work.sawing.sheets.iter().enumerate() {
        for (index, rest) in (0..).zip(&cuts.kept) {
            kept.push(format!(
                "*{}* {} x {}",
                work::kept(sheet, index),
                rest.dx.figure(units),
                rest.dy.figure(units)
            ));
        }
    }
    let mut said = Vec::new();
    if !kept.is_empty() {
        said.push(rich(&format!(
            "To the rack, along the grain x across it; they stand in offcuts.toml: {}.",
            kept.join(", ")
        )));
    }
    said.push(rich(
        "Stop blocks, guide pieces and spacers come from the waste strips: keep a handful until the end.",
    ));
    vec![Block::Together(vec![Block::heading("What is left"), Block::List(said)])]
}
