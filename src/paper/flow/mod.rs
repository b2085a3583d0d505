//! Running text, tables and figures, broken into pages.
//!
//! A [`Booklet`] is a list of [`Block`]s in reading order. [`compose()`] lays them out with the bundled
//! faces' own widths and gives a [`Document`](super::Document) whose every page is a
//! [`Drawing`], so that the same writers serve. Blocks become slabs, which no page break
//! divides; a table's head is set again where the table goes on.

mod beside;
mod compose;
mod contents;
mod grid;
mod labels;
mod rich;
mod slab;

pub use compose::{Booklet, Composed, compose, page_room};
pub use grid::{Grid, GridCell, GridColumn};
pub use labels::{Label, label_sheets};
pub use rich::{ASTERISK, Rich};

use super::drawing::{Drawing, Point};

/// A piece of a booklet.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading; levels 1 and 2 are listed in the contents and the reader's side bar.
    Heading {
        /// 1 for a section's.
        level: usize,
        /// What it says.
        text: String,
    },
    /// A paragraph.
    Text(Rich),
    /// A paragraph in small type.
    Small(Rich),
    /// Paragraphs with a dot before each.
    List(Vec<Rich>),
    /// Paragraphs numbered from 1.
    Steps(Vec<Rich>),
    /// Paragraphs with a box to tick before each.
    Checks(Vec<Rich>),
    /// A table.
    Grid(Grid),
    /// A drawing at its own size in the middle of the column, with a line below it. It is not made to
    /// fit: its maker chose its scale.
    Figure {
        /// The drawing, cut to what is on it.
        drawing: Drawing,
        /// What stands below it.
        caption: Rich,
    },
    /// A drawing at the left with blocks in what is left of the column beside it. No page break divides them.
    Beside {
        /// The drawing, cut to what is on it.
        drawing: Drawing,
        /// What stands below it.
        caption: Rich,
        /// What stands beside it.
        blocks: Vec<Block>,
    },
    /// A page that is drawn already, with the place for its number.
    Sheet {
        /// The page.
        drawing: Drawing,
        /// Where its number begins, if it is to have one.
        number: Option<Point>,
    },
    /// Blocks that stay on one page if one page can hold them.
    Together(Vec<Block>),
    /// Blocks that stay together and with the first lines of what follows.
    Lead(Vec<Block>),
    /// Clear space, mm.
    Gap(f64),
    /// What follows begins a page.
    Break,
}

impl Block {
    /// A section's heading.
    pub fn section(text: impl Into<String>) -> Block {
        Block::Heading { level: 1, text: text.into() }
    }

    /// A heading within a section.
    pub fn heading(text: impl Into<String>) -> Block {
        Block::Heading { level: 2, text: text.into() }
    }

    /// A paragraph; `*so*` is bold, as in [`Rich::marked`].
    pub fn text(text: &str) -> Block {
        Block::Text(Rich::marked(text))
    }
}

#[cfg(test)]
mod tests;
