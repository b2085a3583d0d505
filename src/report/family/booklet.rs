//! The pages of one plan for many beds.

use super::letters::Letter;
use super::parts::{Shared, parts};
use super::{Built, Family, drawing, letters, name};
use crate::paper::PageSize;
use crate::paper::flow::{Block, Booklet, Grid, GridCell, Rich, page_room};
use crate::report::booklet::{line, plain};
use crate::report::figures::{count, length_unit_word, sizes};
use crate::report::naming::Names;
use crate::report::{cautions, words};
use crate::scenario::Scenario;

/// So many beds stand beside each other in a table; more go into another.
const ABREAST: usize = 5;

fn text(text: impl AsRef<str>) -> GridCell {
    GridCell::text(text.as_ref())
}

/// The whole booklet.
pub fn booklet(family: &Family<'_>, size: PageSize) -> Booklet {
    let letters = letters::letters(family);
    let built = family.built();
    let mut body = common(family, &letters, size);
    body.extend(table(family, &letters));
    body.extend(shared(family));
    for bed in &built {
        body.extend(shopping(family, bed));
    }
    body.extend(last_words(family));
    Booklet {
        title: "One plan for many beds".to_owned(),
        description: format!("One chest for {}.", count(family.beds.len() as u64, "bed", "beds")),
        size,
        cover: cover(family, &letters, size),
        contents: Some("Contents".to_owned()),
        body,
        header: "One plan for many beds".to_owned(),
        footer: built
            .first()
            .map(|lead| format!("After design {}", lead.design.id))
            .unwrap_or_default(),
    }
}

fn cover(family: &Family<'_>, letters: &[Letter], size: PageSize) -> Vec<Block> {
    let units = family.units;
    let mut grid = Grid::new(&["", "Scenario", ">bed", "design", ">drawers", ">to buy", ">empty"]);
    for (place, bed) in family.beds.iter().enumerate() {
        let scenario = bed.scenario;
        let floor = sizes(&[scenario.bed.length.at, scenario.bed.width.at], units);
        let mut row = vec![GridCell::bold(name(place)), text(plain(&scenario.title)), text(floor)];
        match bed.best.as_ref().map(|best| best.design) {
            Some(design) => row.extend([
                text(design.id.to_string()),
                text(design.drawers.len().to_string()),
                text(format!("{} {}", design.criteria.cost, scenario.currency)),
                text(design.criteria.mass.show(units)),
            ]),
            None => row.push(text("*none*")),
        }
        grid.row(row);
    }
    let mut blocks = vec![
        Block::section("One plan for many beds"),
        Block::text(&format!("The idea: {}.", plain(&family.idea()))),
        Block::Grid(grid),
        Block::text(&format!(
            "Lengths are in {}. Each bed's design is for that bed's own gear and stock, and has passed the \
             verifier against its own scenario.",
            length_unit_word(units)
        )),
    ];
    let (width, height) = page_room(size);
    let front = drawing::drawings(family, letters, (width, height * 0.4)).into_iter().next();
    if let Some(named) = front {
        let caption = Rich::marked("The chest in the first bed, from the open tailgate.");
        blocks.insert(2, Block::Figure { drawing: named.drawing, caption });
    }
    let notes: Vec<Rich> = notes(family).iter().map(|note| Rich::marked(note)).collect();
    if !notes.is_empty() {
        blocks.push(Block::heading("Not the same everywhere"));
        blocks.push(Block::List(notes));
    }
    blocks.push(Block::Small(Rich::marked(
        "Computed from what the scenarios say, not certified. Measure your own bed again, and read the cautions \
         on the last pages before anything is cut.",
    )));
    blocks
}

/// Beds without a design, and materials that a bed does not have.
fn notes(family: &Family<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    for (place, bed) in family.beds.iter().enumerate() {
        if bed.best.is_none() {
            notes.push(format!(
                "*{}* has no design of this idea. {}",
                name(place),
                plain(&bed.why())
            ));
        } else if !bed.without.is_empty() {
            notes.push(format!(
                "*{}* has no {} in stock and uses its own in its place.",
                name(place),
                plain(&bed.without.join(", "))
            ));
        }
    }
    notes
}

fn common(family: &Family<'_>, letters: &[Letter], size: PageSize) -> Vec<Block> {
    let (width, height) = page_room(size);
    let mut blocks = vec![
        Block::Break,
        Block::section("The common drawing"),
        Block::text(&format!(
            "Drawn to the first bed's sizes; every letter stands for a length that the table below gives for \
             each bed. Tiers are lettered from the bottom up, drawers numbered from the left.{}",
            match family.built().len() {
                1 => " Only one bed has a design of it.",
                _ => "",
            }
        )),
    ];
    for named in drawing::drawings(family, letters, (width, height * 0.45)) {
        let caption = Rich::marked(&format!("*{}.*", named.drawing.title));
        blocks.push(Block::Figure { drawing: named.drawing, caption });
    }
    blocks
}

fn table(family: &Family<'_>, letters: &[Letter]) -> Vec<Block> {
    let built = family.built();
    let mut blocks = vec![
        Block::Break,
        Block::section("The letters for each bed"),
        Block::text(&format!(
            "In {}. What is bold differs from the first bed's.",
            length_unit_word(family.units)
        )),
    ];
    for (part, beds) in built.chunks(ABREAST).enumerate() {
        let heads: Vec<String> = ["", "Length"]
            .map(str::to_owned)
            .into_iter()
            .chain(beds.iter().map(|bed| format!(">{}", name(bed.place))))
            .collect();
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        let mut grid = Grid::new(&heads);
        for letter in letters {
            let first = letter.values.first().copied().flatten();
            let values = letter.values.iter().skip(part * ABREAST).take(beds.len());
            let values = values.map(|value| match value {
                Some(length) if *value == first => text(length.figure(family.units)),
                Some(length) => GridCell::bold(length.figure(family.units)),
                None => text("—"),
            });
            let lead = [GridCell::bold(&*letter.letter), text(&letter.what)];
            grid.row(lead.into_iter().chain(values));
        }
        blocks.push(Block::Grid(grid));
    }
    blocks
}

fn shared(family: &Family<'_>) -> Vec<Block> {
    let built = family.built();
    let (shared, own) = parts(family);
    let mut blocks = vec![Block::Break, Block::section("The parts")];
    let alike = shared.len();
    let lead = format!(
        "{} of {} are cut alike for every bed: a jig or a stop set once serves all. Marks are those of each \
         bed's own plan.",
        alike,
        count((alike + own.len()) as u64, "kind of part", "kinds of part")
    );
    blocks.push(Block::text(&lead));
    for (title, list) in [("Shared by all", &shared), ("Of their own", &own)] {
        if list.is_empty() {
            continue;
        }
        blocks.push(Block::heading(title));
        for (part, beds) in built.chunks(ABREAST).enumerate() {
            let from = part * ABREAST;
            let shown = list
                .iter()
                .filter(|one| one.beds[from..from + beds.len()].iter().any(|bed| bed.0 > 0));
            blocks.push(Block::Grid(parts_grid(family, shown, beds, from)));
        }
    }
    blocks
}

fn parts_grid<'s>(
    family: &Family<'_>,
    list: impl Iterator<Item = &'s Shared>,
    beds: &[Built<'_>],
    from: usize,
) -> Grid {
    let heads: Vec<String> = ["Part", "of", ">size"]
        .map(str::to_owned)
        .into_iter()
        .chain(beds.iter().map(|bed| format!(">{}", name(bed.place))))
        .collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let mut grid = Grid::new(&heads);
    for one in list {
        let lead = [
            text(words::role(one.role)),
            text(plain(&one.material)),
            text(sizes(&one.size, family.units)),
        ];
        let beds = one.beds[from..from + beds.len()].iter();
        let numbers = beds.map(|(number, marks)| match number {
            0 => text("—"),
            number => text(format!("{number} ({})", marks.join(", "))),
        });
        grid.row(lead.into_iter().chain(numbers));
    }
    grid
}

fn shopping(family: &Family<'_>, bed: &Built<'_>) -> Vec<Block> {
    let scenario: &Scenario = bed.scenario;
    let names = Names::of(scenario);
    let currency = &scenario.currency;
    let (each, cost) = (format!(">each, {currency}"), format!(">cost, {currency}"));
    let mut grid = Grid::new(&["What", ">need", ">on hand", ">buy", &each, &cost, "got"]);
    for bought in &bed.design.purchases {
        grid.row([
            text(plain(names.purchase(bought.what))),
            text(bought.quantity.to_string()),
            text(bought.on_hand.to_string()),
            text(bought.quantity.saturating_sub(bought.on_hand).to_string()),
            text(bought.unit_price.to_string()),
            text(bought.cost.to_string()),
            GridCell::Tick,
        ]);
    }
    let mut blocks = Vec::new();
    if family.built().first().is_some_and(|lead| lead.place == bed.place) {
        blocks.push(Block::Break);
        blocks.push(Block::section("Shopping lists"));
    }
    blocks.push(Block::heading(format!("For {}, {}", name(bed.place), line(&scenario.title))));
    blocks.push(Block::text(&format!(
        "*{} {currency}* in all, what is on hand not counted.",
        bed.design.criteria.cost
    )));
    blocks.push(Block::Grid(grid));
    blocks
}

/// What every bed calls for, then what only some do.
fn last_words(family: &Family<'_>) -> Vec<Block> {
    let built = family.built();
    let mut said: Vec<(String, Vec<usize>)> = Vec::new();
    for bed in &built {
        for caution in cautions::cautions(bed.scenario, bed.design) {
            let words = plain(&caution.words(bed.scenario));
            match said.iter_mut().find(|(known, _)| *known == words) {
                Some((_, places)) => places.push(bed.place),
                None => said.push((words, vec![bed.place])),
            }
        }
    }
    let list = said.into_iter().map(|(words, places)| {
        if places.len() == built.len() {
            return Rich::marked(&words);
        }
        let names: Vec<String> = places.into_iter().map(name).collect();
        Rich::marked(&format!("*Of {}.* {words}", names.join(", ")))
    });
    vec![Block::Break, Block::section("Cautions"), Block::List(list.collect())]
}
