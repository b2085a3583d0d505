//! Tables on paper.

use std::rc::Rc;

use super::super::drawing::{Anchor, Pen, at, rect};
use super::super::font::Fonts;
use super::super::table::{Align, Cell, Table};
use super::Rich;
use super::slab::{CellPlace, LEADING, Slab, TO_BASELINE};

/// A table to be printed: like [`Table`], with bold text, boxes to tick and room to write.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Grid {
    /// The columns; no row has more cells.
    pub columns: Vec<GridColumn>,
    /// The rows.
    pub rows: Vec<Vec<GridCell>>,
}

/// A column of a [`Grid`].
#[derive(Debug, Clone, PartialEq)]
pub struct GridColumn {
    /// Its heading.
    pub head: String,
    /// How its cells line up.
    pub align: Align,
}

/// What stands in a cell of a [`Grid`].
#[derive(Debug, Clone, PartialEq)]
pub enum GridCell {
    /// Words.
    Text(Rich),
    /// A box to tick.
    Tick,
    /// A box to write in.
    Blank,
    /// Nothing.
    Empty,
    /// Words across the whole table: what the rows below it belong to. The only cell of its row.
    Band(Rich),
}

impl Grid {
    /// A table without rows; a column whose heading begins with `>` lines up at the right.
    pub fn new(heads: &[&str]) -> Grid {
        let column = |head: &&str| match head.strip_prefix('>') {
            Some(head) => GridColumn { head: head.to_owned(), align: Align::Right },
            None => GridColumn { head: (*head).to_owned(), align: Align::Left },
        };
        Grid { columns: heads.iter().map(column).collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: impl IntoIterator<Item = GridCell>) {
        self.rows.push(cells.into_iter().collect());
    }
}

impl GridCell {
    /// Words, `*so*` bold.
    pub fn text(text: &str) -> GridCell {
        GridCell::Text(Rich::marked(text))
    }

    /// Bold words.
    pub fn bold(text: impl Into<String>) -> GridCell {
        GridCell::Text(Rich::default().bold(text))
    }
}

impl From<&Table> for Grid {
    fn from(table: &Table) -> Grid {
        let cell = |cell: &Cell| match cell {
            Cell::Text(text) | Cell::Number(text) => GridCell::Text(Rich::plain(text.as_str())),
            Cell::Empty => GridCell::Empty,
        };
        Grid {
            columns: table
                .columns()
                .iter()
                .map(|c| GridColumn { head: c.head(), align: c.align })
                .collect(),
            rows: table.rows().iter().map(|row| row.iter().map(cell).collect()).collect(),
        }
    }
}

/// Capital height of a table's text, mm.
const HEIGHT: f64 = 2.1;
/// Between columns, mm.
const GUTTER: f64 = 3.0;
/// Above and below a cell's text, mm.
const PAD: f64 = 0.7;
/// A box to write in, mm.
const BLANK: (f64, f64) = (20.0, 5.4);
/// A column no wider than this is one of a few words, mm.
const FEW: f64 = 36.0;
/// Side of a box to tick, mm.
const TICK: f64 = 3.0;

/// A slab a row, each bringing the head again where it begins a page.
pub(super) fn slabs_of_grid(grid: &Grid, fonts: &Fonts, width: f64) -> Vec<Slab> {
    if grid.columns.is_empty() {
        return Vec::new();
    }
    let places = places(&widths(grid, fonts, width));
    let mut head = Slab { before: 2.5, with_next: true, ..Slab::default() };
    head.line(at(0.0, 0.0), at(width, 0.0), Pen::Thick);
    // A list of names and what they stand for needs no headings.
    if grid.columns.iter().any(|column| !column.head.is_empty()) {
        let heads: Vec<GridCell> =
            grid.columns.iter().map(|c| GridCell::bold(c.head.clone())).collect();
        set_row(&mut head, grid, &heads, &places, fonts);
        head.cells.iter_mut().for_each(|cell| cell.head = true);
        head.line(at(0.0, head.height), at(width, head.height), Pen::Thin);
    }
    let again = Rc::new(Slab { before: 0.0, ..head.clone() });
    let mut slabs = vec![head];
    let last = grid.rows.len().saturating_sub(1);
    for (i, cells) in grid.rows.iter().enumerate() {
        let mut slab = Slab { again: Some(Rc::clone(&again)), ..Slab::default() };
        set_row(&mut slab, grid, cells, &places, fonts);
        let pen = if i == last { Pen::Thick } else { Pen::Thin };
        slab.line(at(0.0, slab.height), at(width, slab.height), pen);
        // The last two rows stay together, so that no page begins with one.
        slab.with_next = i + 2 == grid.rows.len() || matches!(cells[..], [GridCell::Band(_)]);
        slabs.push(slab);
    }
    slabs
}

fn set_row(slab: &mut Slab, grid: &Grid, cells: &[GridCell], places: &[(f64, f64)], fonts: &Fonts) {
    let mut tall = HEIGHT * LEADING;
    let whole = [(0.0, places.last().map_or(0.0, |(x, wide)| x + wide))];
    let places = if matches!(cells, [GridCell::Band(_)]) { &whole } else { places };
    for ((cell, column), (x, wide)) in cells.iter().zip(&grid.columns).zip(places) {
        let top = PAD;
        match cell {
            GridCell::Empty => {}
            GridCell::Tick => {
                let (left, bottom) = (*x, top + HEIGHT * TO_BASELINE + 0.4);
                slab.rect(rect(left, bottom - TICK, left + TICK, bottom), Pen::Thin);
            }
            GridCell::Blank => {
                slab.rect(rect(*x, top, x + BLANK.0.min(*wide), top + BLANK.1), Pen::Thin);
                tall = tall.max(BLANK.1 + 0.4);
            }
            GridCell::Text(rich) | GridCell::Band(rich) => {
                let lines = rich.lines(fonts, HEIGHT, *wide + 1e-6);
                for (i, line) in lines.iter().enumerate() {
                    let baseline = top + HEIGHT * (TO_BASELINE + LEADING * i as f64);
                    let left = match column.align {
                        Align::Left => *x,
                        Align::Right => x + wide - line.width,
                    };
                    for mut text in line.texts(fonts, left, baseline, HEIGHT) {
                        // A right-hand column ends exactly at its edge, whatever the reader's face.
                        if column.align == Align::Right && line.pieces.len() == 1 {
                            text.at.x = x + wide;
                            text.anchor = Anchor::End;
                        }
                        slab.text(text);
                    }
                }
                tall = tall.max(HEIGHT * LEADING * lines.len() as f64);
            }
        }
    }
    slab.height = tall + 2.0 * PAD;
    let place = |(x, wide): &(f64, f64)| CellPlace {
        rect: rect(*x - 0.5, 0.0, x + wide + 0.5, slab.height),
        head: false,
    };
    slab.cells = places.iter().map(place).collect();
}

/// The columns' widths: their natural ones where they have room, what is left going to the last column
/// of words; else their widest words' and a share of what is left by how much more they would like. O(cells).
fn widths(grid: &Grid, fonts: &Fonts, width: f64) -> Vec<f64> {
    let room = width - GUTTER * (grid.columns.len() as f64 - 1.0);
    let of = |i: usize, column: &GridColumn| {
        let head = Rich::default().bold(column.head.clone()).widths(fonts, HEIGHT);
        let cells = grid.rows.iter().filter_map(|row| row.get(i)).map(|cell| match cell {
            GridCell::Text(rich) => rich.widths(fonts, HEIGHT),
            GridCell::Tick => (TICK, TICK),
            GridCell::Blank => (BLANK.0, BLANK.0 / 2.0),
            GridCell::Empty | GridCell::Band(_) => (0.0, 0.0),
        });
        // A heading may be broken at its blanks where its cells are narrower.
        let cells = cells.fold((0.0_f64, 0.0_f64), |a, b| (a.0.max(b.0), a.1.max(b.1)));
        (cells.0.max(head.1).max(head.0.min(22.0)), cells.1.max(head.1))
    };
    let wants: Vec<(f64, f64)> = grid.columns.iter().enumerate().map(|(i, c)| of(i, c)).collect();
    let natural: f64 = wants.iter().map(|w| w.0).sum();
    let least: f64 = wants.iter().map(|w| w.1).sum();
    if natural <= room {
        let mut all: Vec<f64> = wants.iter().map(|w| w.0).collect();
        let last =
            grid.columns.iter().rposition(|c| c.align == Align::Left).unwrap_or(all.len() - 1);
        all[last] += room - natural;
        return all;
    }
    if least >= room {
        return wants.iter().map(|w| w.1 * room / least).collect();
    }
    // Columns of a few words have what they like where the long ones leave it to them.
    let few = |w: &(f64, f64)| w.0 <= FEW;
    let kept: f64 = wants.iter().map(|w| if few(w) { w.0 } else { w.1 }).sum();
    let least_of = |w: &(f64, f64)| if kept < room && few(w) { w.0 } else { w.1 };
    let least: f64 = wants.iter().map(least_of).sum();
    let share = (room - least) / (natural - least);
    wants.iter().map(|w| least_of(w) + (w.0 - least_of(w)) * share).collect()
}

/// Where each column begins, with its width.
fn places(widths: &[f64]) -> Vec<(f64, f64)> {
    let mut x = 0.0;
    let mut all = Vec::with_capacity(widths.len());
    for wide in widths {
        all.push((x, *wide));
        x += wide + GUTTER;
    }
    all
}
