//! Tables as text of a fixed width.

use comfy_table::{
    CellAlignment, ContentArrangement, ContentLineStyle, LineStyle, Table as Grid, TableStyle,
};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::table::{Align, Table};

/// Blanks between columns.
const GAP: u16 = 2;

/// Columns a text takes on a terminal: two for wide characters, none for combining ones.
pub fn display_width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// Writes a table in lines of at most `width` columns, each ended by a line feed.
///
/// Long cells wrap within their column. Where there are more columns than such a width can carry,
/// each row becomes a small list of its own. Control characters are made visible, so that no name
/// can move the cursor.
pub fn terminal(table: &Table, width: usize) -> String {
    let width = width.max(1);
    let mut out = String::new();
    for line in wrap_words(&table.title, width) {
        push_line(&mut out, &line);
    }
    let lines = grid(table, width).unwrap_or_else(|| lists(table, width));
    for line in lines {
        push_line(&mut out, &line);
    }
    out
}

fn push_line(out: &mut String, line: &str) {
    out.push_str(line.trim_end());
    out.push('\n');
}

/// Side by side, if that does justice to the cells: no line too long, no word broken.
fn grid(table: &Table, width: usize) -> Option<Vec<String>> {
    let longest_word = |text: &str| text.split_whitespace().map(display_width).max().unwrap_or(0);
    let mut least = 0;
    let mut grid = Grid::new();
    grid.load_style(
        TableStyle::new()
            .header_lines(ContentLineStyle::none())
            .header_separator(LineStyle::none().fill('─'))
            .content_lines(ContentLineStyle::none()),
    );
    grid.set_header(table.columns().iter().map(|c| visible(&c.head())));
    for row in table.rows() {
        grid.add_row(row.iter().map(|cell| visible(cell.shown())));
    }
    grid.set_content_arrangement(ContentArrangement::Dynamic);
    // The gap after the last column is trimmed from each line.
    grid.set_width(u16::try_from(width).unwrap_or(u16::MAX - GAP).saturating_add(GAP));
    for (i, column) in table.columns().iter().enumerate() {
        let cells = table.rows().iter().map(|row| longest_word(row[i].shown()));
        least += cells.chain([longest_word(&column.head())]).max().unwrap_or(0);
        let align = match column.align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        };
        if let Some(column) = grid.column_mut(i) {
            column.set_padding((0, GAP)).set_cell_alignment(align);
        }
    }
    least += usize::from(GAP) * table.columns().len().saturating_sub(1);
    if least > width {
        return None;
    }
    let lines: Vec<String> = grid
        .to_string()
        .lines()
        .map(|line| line.trim_end().to_owned())
        .map(|line| {
            if line.starts_with('─') {
                "─".repeat(width.min(display_width(&line)))
            } else {
                line
            }
        })
        .collect();
    lines.iter().all(|line| display_width(line) <= width).then_some(lines)
}

/// Each row as `heading: cell` lines, rows parted by an empty line.
fn lists(table: &Table, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for (i, row) in table.rows().iter().enumerate() {
        if i > 0 {
            lines.push(String::new());
        }
        for (column, cell) in table.columns().iter().zip(row) {
            if !cell.shown().is_empty() {
                lines.extend(wrap_words(&format!("{}: {}", column.head(), cell.shown()), width));
            }
        }
    }
    lines
}

/// Breaks a text into lines of at most `width` terminal columns: between words, or within a word that
/// is longer than a line. A character that is wider than a whole line becomes a question mark.
pub fn wrap_words(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines: Vec<String> = Vec::new();
    for word in visible(text).split_whitespace() {
        let room = lines.last().map_or(0, |line| width.saturating_sub(display_width(line)));
        if display_width(word) < room {
            if let Some(line) = lines.last_mut() {
                line.push(' ');
                line.push_str(word);
            }
            continue;
        }
        let mut line = String::new();
        for c in word.chars() {
            let c = if c.width().unwrap_or(0) > width { '?' } else { c };
            // Measured as a whole: what joins may change what it joins.
            line.push(c);
            if display_width(&line) > width {
                line.pop();
                lines.push(std::mem::replace(&mut line, c.to_string()));
            }
        }
        lines.push(line);
    }
    lines
}

/// Control characters shown as the replacement character; line ends and tabs as blanks.
fn visible(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' | '\r' => ' ',
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect()
}
