//! Letters, parts and shopping of many beds, for spreadsheets.

use super::letters::letters;
use super::parts::parts;
use super::{Built, Family, name};
use crate::paper::{Cell, Column, Table};
use crate::report::naming::Names;
use crate::report::tables::{Lengths, bought_cells};
use crate::report::words;
use crate::units::Length;

/// A row for each letter, a column for each bed; in inches also in millimetres.
pub fn letter_table(family: &Family<'_>) -> Table {
    let built = family.built();
    let names: Vec<String> = built.iter().map(|bed| name(bed.place)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let lengths = Lengths(family.units);
    let mut columns = vec![Column::words("letter"), Column::words("length")];
    columns.extend(lengths.columns(&names));
    columns.push(Column::words("same in all"));
    let mut table = Table::new("Letters", columns);
    for letter in letters(family) {
        let mut row = vec![Cell::text(&letter.letter), Cell::text(&letter.what)];
        row.extend(held(lengths, &letter.values));
        row.push(Cell::text(if letter.is_shared() { "yes" } else { "no" }));
        table.row(row);
    }
    table
}

/// Cells of lengths some of which are not there.
fn held(lengths: Lengths, values: &[Option<Length>]) -> Vec<Cell> {
    let each: Vec<Vec<Cell>> = values
        .iter()
        .map(|value| match value {
            Some(length) => lengths.cells(&[*length]),
            None => lengths.cells(&[Length::ZERO]).into_iter().map(|_| Cell::Empty).collect(),
        })
        .collect();
    let systems = lengths.cells(&[Length::ZERO]).len();
    (0..systems).flat_map(|at| each.iter().map(move |cells| cells[at].clone())).collect()
}

/// A row for each kind of part, with its number in each bed; those that all beds share first.
pub fn part_table(family: &Family<'_>) -> Table {
    let built = family.built();
    let lengths = Lengths(family.units);
    let mut columns =
        vec![Column::words("shared by all"), Column::words("part"), Column::words("material")];
    columns.extend(lengths.columns(&["length", "width", "thickness"]));
    for bed in &built {
        columns.push(Column::count(format!("{} number", name(bed.place))));
        columns.push(Column::words(format!("{} marks", name(bed.place))));
    }
    let mut table = Table::new("Parts of all beds", columns);
    let (shared, own) = parts(family);
    let all = shared.iter().map(|one| ("yes", one)).chain(own.iter().map(|one| ("no", one)));
    for (is_shared, one) in all {
        let mut row = vec![
            Cell::text(is_shared),
            Cell::text(words::role(one.role)),
            Cell::text(&one.material),
        ];
        row.extend(lengths.cells(&one.size));
        for (number, marks) in &one.beds {
            row.extend([Cell::number(number), Cell::text(marks.join(" "))]);
        }
        table.row(row);
    }
    table
}

/// What to buy for each bed.
pub fn shopping_table(family: &Family<'_>) -> Table {
    let mut table = Table::new(
        "Shopping of all beds",
        vec![
            Column::words("bed"),
            Column::words("scenario"),
            Column::words("what"),
            Column::count("needed"),
            Column::count("on hand"),
            Column::count("buy"),
            Column::count("each"),
            Column::count("cost"),
            Column::words("currency"),
        ],
    );
    for Built { place, scenario, design } in family.built() {
        let names = Names::of(scenario);
        for bought in &design.purchases {
            let mut row = vec![Cell::text(name(place)), Cell::text(&scenario.title)];
            row.extend(bought_cells(&names, bought));
            row.push(Cell::text(&scenario.currency));
            table.row(row);
        }
    }
    table
}
