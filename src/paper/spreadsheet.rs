//! Tables as CSV.

use super::table::{Cell, Table};

/// Writes a table as CSV in UTF-8: a header line, commas, quotes where needed, CRLF line ends
/// (RFC 4180).
///
/// Spreadsheet programs run a cell that begins with `=`, `+`, `-` or `@` as a formula, and skip blanks
/// before it. Words that begin so get an apostrophe in front, as do those that begin with a tab or
/// a line end (the OWASP advice against CSV injection); numbers are left as they are.
///
/// # Errors
///
/// Those of the CSV writer; writing to memory has none of its own.
pub fn csv(table: &Table) -> Result<Vec<u8>, csv::Error> {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(table.columns().iter().map(|c| harmless(&c.head())))?;
    for row in table.rows() {
        writer.write_record(row.iter().map(|cell| match cell {
            Cell::Text(text) => harmless(text),
            Cell::Number(text) => text.clone(),
            Cell::Empty => String::new(),
        }))?;
    }
    writer.into_inner().map_err(|e| csv::Error::from(e.into_error()))
}

fn harmless(text: &str) -> String {
    let risky_start = text.starts_with(['\t', '\r', '\n']);
    let risky_word = text.trim_start().starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    if risky_start || risky_word { format!("'{text}") } else { text.to_owned() }
}
