//! Drawings and tables as data, and their writers; no drawers here.
//!
//! A [`Drawing`] is a page in millimetres holding a small closed set of [`Shape`]s on
//! [`Layer`]s; a [`Table`] is columns and rows. Whoever makes them knows what they show; this
//! room only knows paper. Every writer matches the same shapes, so that no two formats can
//! disagree about where a line is.
//!
//! - [`View`] takes exact model coordinates to the page at a standard [`Scale`];
//! - [`DimensionRows`] stacks dimension chains outside a view, clear of its lines and texts;
//! - [`Labels`] names boxes with text that shrinks, wraps or turns to fit, or with a numbered key;
//! - [`flow`] breaks running text, tables and figures into pages;
//! - [`solid`] shows boxes isometrically, hidden lines taken out exactly;
//! - [`tiles`] lays a full-size drawing out over pages that can be taped together;
//! - [`svg()`], [`pdf()`], [`png()`], [`dxf()`], [`csv()`] and [`terminal()`] write; [`Fonts`] holds the bundled faces.
//!
//! Positions on paper are floats in millimetres, right and down from the top left corner. They
//! decide nothing but where ink goes, and only +, −, × and ÷ touch them, so that they are the same
//! on every machine.

mod dimension;
mod drawing;
mod dxf;
pub mod flow;
mod font;
mod hatch;
mod label;
mod measure;
mod pdf;
mod place;
mod png;
mod setting;
pub mod solid;
mod spreadsheet;
mod svg;
mod table;
mod tags;
mod terminal;
mod tile;
mod view;

pub use dimension::{Dimension, DimensionRows, Side, Span};
pub use drawing::{
    Anchor, Drawing, Fill, Hatch, Item, Layer, Pen, Point, Rect, Shape, Text, Turn, at, rect,
};
pub use dxf::dxf;
pub use font::Fonts;
pub use hatch::hatch_lines;
pub use label::{KeyEntry, Labels};
pub use measure::{
    BASELINES, DESCENT, HEIGHTS, NOTE, SMALL, TITLE, shorten, text_box, text_width, wrap,
};
pub use pdf::{Bookmark, Document, Figure, Link, PdfError, TableCell, pdf};
pub use png::{PngError, png};
pub use spreadsheet::csv;
pub use svg::svg;
pub use table::{Align, Cell, Column, Table};
pub use terminal::{display_width, terminal, wrap_words};
pub use tile::tiles;
pub use view::{PageSize, Scale, View};

#[cfg(test)]
pub mod golden;
#[cfg(test)]
mod tests;
