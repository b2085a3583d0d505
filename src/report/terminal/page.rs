//! Lines of text that never exceed the terminal, each with what it is so that the caller may colour it.

use std::fmt;

use crate::paper::{self, Table};

/// No line is wider than this many columns.
pub const WIDTH: usize = 80;

/// What a line is; the caller decides how that looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Ordinary text.
    Plain,
    /// Begins a section.
    Heading,
    /// Matters more than its neighbours.
    Strong,
    /// Something failed or is missing.
    Bad,
    /// To be careful about.
    Caution,
    /// Background.
    Faint,
}

/// One line, without its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub style: Style,
    /// At most [`WIDTH`] columns wide.
    pub text: String,
}

/// Lines from top to bottom. [`fmt::Display`] gives them plain, each ended by a line feed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Page {
    lines: Vec<Line>,
}

impl Page {
    /// No lines yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// The lines from top to bottom.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// Appends another page.
    pub fn append(&mut self, other: Page) {
        self.lines.extend(other.lines);
    }

    pub(super) fn blank(&mut self) {
        self.lines.push(Line { style: Style::Plain, text: String::new() });
    }

    /// A line that is known to be short enough.
    pub(super) fn push(&mut self, style: Style, text: String) {
        self.lines.push(Line { style, text });
    }

    /// A heading with an empty line before it.
    pub(super) fn heading(&mut self, text: &str) {
        self.blank();
        self.say(Style::Heading, "", text);
    }

    /// Text that wraps, its later lines as far in as the `lead` before its first. A lead that would leave too little
    /// room for the text becomes the beginning of it.
    pub(super) fn say(&mut self, style: Style, lead: &str, text: &str) {
        let indent = paper::display_width(lead);
        if indent > WIDTH / 2 {
            return self.say(style, "", &format!("{lead}{text}"));
        }
        let mut lead = lead.to_owned();
        for line in paper::wrap_words(text, WIDTH - indent) {
            self.lines.push(Line { style, text: format!("{lead}{line}") });
            lead = " ".repeat(indent);
        }
    }

    /// A table.
    pub(super) fn table(&mut self, table: &Table) {
        for line in paper::terminal(table, WIDTH).lines() {
            self.lines.push(Line { style: Style::Plain, text: line.to_owned() });
        }
    }
}

impl fmt::Display for Page {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.lines.iter().try_for_each(|line| writeln!(f, "{}", line.text))
    }
}

/// `text` in at most `width` columns, its end given up for `…` if it is longer.
pub(super) fn clipped(text: &str, width: usize) -> String {
    let text = paper::wrap_words(text, usize::MAX).join(" ");
    if paper::display_width(&text) <= width {
        return text;
    }
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if paper::display_width(&kept) + 1 > width {
            kept.pop();
            break;
        }
    }
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_too_long_is_clipped_by_columns_not_letters() {
        assert_eq!(clipped("short", 10), "short");
        assert_eq!(clipped("a longer text", 9), "a longer…");
        assert_eq!(clipped("工具工具工具", 6), "工具…");
        assert_eq!(clipped("two\nlines", 20), "two lines");
    }

    #[test]
    fn later_lines_hang_under_the_first() {
        let mut page = Page::new();
        page.say(Style::Plain, "A1  ", &"word ".repeat(30));
        let lines: Vec<&str> = page.lines().iter().map(|line| line.text.as_str()).collect();
        assert!(lines[0].starts_with("A1  word") && lines[1].starts_with("    word"));
        assert!(lines.iter().all(|line| paper::display_width(line) <= WIDTH));
    }
}
