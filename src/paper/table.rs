//! Tables as data.

/// How the cells of a column line up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A column's head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// What its cells are.
    pub heading: String,
    /// The unit they are in, if they have one.
    pub unit: Option<String>,
    /// How they line up.
    pub align: Align,
}

impl Column {
    /// A column of words.
    pub fn words(heading: impl Into<String>) -> Column {
        Column { heading: heading.into(), unit: None, align: Align::Left }
    }

    /// A column of counts or other numbers without a unit.
    pub fn count(heading: impl Into<String>) -> Column {
        Column { heading: heading.into(), unit: None, align: Align::Right }
    }

    /// A column of numbers in a unit.
    pub fn in_unit(heading: impl Into<String>, unit: impl Into<String>) -> Column {
        Column { heading: heading.into(), unit: Some(unit.into()), align: Align::Right }
    }

    /// The heading with its unit: `length (mm)`.
    pub fn head(&self) -> String {
        match &self.unit {
            Some(unit) => format!("{} ({unit})", self.heading),
            None => self.heading.clone(),
        }
    }
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// Words, which programs must not take for a formula.
    Text(String),
    /// A decimal number, already written out.
    Number(String),
    /// Nothing.
    Empty,
}

impl Cell {
    /// Words.
    pub fn text(text: impl Into<String>) -> Cell {
        Cell::Text(text.into())
    }

    /// A number by its text, if that is a plain decimal one; words otherwise.
    pub fn number(text: impl ToString) -> Cell {
        let text = text.to_string();
        let digits = text.strip_prefix('-').unwrap_or(&text);
        let plain = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.')
            && digits.bytes().filter(|b| *b == b'.').count() <= 1
            && digits.bytes().any(|b| b.is_ascii_digit());
        if plain { Cell::Number(text) } else { Cell::Text(text) }
    }

    /// What is shown.
    pub fn shown(&self) -> &str {
        match self {
            Cell::Text(text) | Cell::Number(text) => text,
            Cell::Empty => "",
        }
    }
}

/// A table: every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What it lists.
    pub title: String,
    columns: Vec<Column>,
    rows: Vec<Vec<Cell>>,
}

impl Table {
    /// A table without rows.
    pub fn new(title: impl Into<String>, columns: Vec<Column>) -> Table {
        Table { title: title.into(), columns, rows: Vec::new() }
    }

    /// Adds a row; what is missing of it stays empty, and cells beyond the last column get columns
    /// without a heading, so that nothing is lost.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Cell>) {
        let mut cells: Vec<Cell> = cells.into_iter().collect();
        while self.columns.len() < cells.len() {
            self.columns.push(Column::words(""));
            self.rows.iter_mut().for_each(|row| row.push(Cell::Empty));
        }
        cells.resize(self.columns.len(), Cell::Empty);
        self.rows.push(cells);
    }

    /// The columns, left to right.
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// The rows, top to bottom.
    pub fn rows(&self) -> &[Vec<Cell>] {
        &self.rows
    }
}
