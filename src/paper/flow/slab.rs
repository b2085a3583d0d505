//! Slabs: what no page break divides.

use std::rc::Rc;

use super::super::drawing::{
    Anchor, Drawing, Fill, Item, Layer, Pen, Point, Rect, Shape, Text, at, rect,
};
use super::super::font::Fonts;
use super::super::measure::{NOTE, SMALL};
use super::beside::beside;
use super::grid::slabs_of_grid;
use super::{Block, Rich};

/// Baseline to baseline, in capital heights.
pub(super) const LEADING: f64 = 1.75;
/// From a line's top to its baseline, in capital heights.
pub(super) const TO_BASELINE: f64 = 1.3;

/// A strip of a page as wide as its column.
#[derive(Debug, Clone, Default)]
pub(super) struct Slab {
    pub height: f64,
    /// Clear space above it, unless it begins a page.
    pub before: f64,
    pub items: Vec<Item>,
    /// Whether it wants the next on its page.
    pub with_next: bool,
    /// Level and text of a heading.
    pub heading: Option<(usize, String)>,
    /// What is set again above it where it begins a page.
    pub again: Option<Rc<Slab>>,
    /// A page of its own, with the place for its number.
    pub sheet: Option<(Drawing, Option<Point>)>,
    pub breaks: bool,
    /// A picture on it: where, and the words that stand for it.
    pub figure: Option<(Rect, String)>,
    /// Cells of a table on it.
    pub cells: Vec<CellPlace>,
}

/// Where a cell of a table stands on its slab.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CellPlace {
    pub rect: Rect,
    pub head: bool,
}

impl CellPlace {
    /// It, so far to the right and down.
    pub fn moved(self, x: f64, y: f64) -> Self {
        let r = self.rect;
        Self { rect: rect(r.x0 + x, r.y0 + y, r.x1 + x, r.y1 + y), ..self }
    }
}

impl Slab {
    pub fn text(&mut self, text: Text) {
        self.items.push(Item { layer: Layer::Labels, shape: Shape::Text(text) });
    }

    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.items.push(Item { layer: Layer::Frame, shape: Shape::Line { from, to, pen } });
    }

    pub fn rect(&mut self, rect: Rect, pen: Pen) {
        let shape = Shape::Rect { rect, pen: Some(pen), fill: Fill::White };
        self.items.push(Item { layer: Layer::Frame, shape });
    }
}

/// The slabs of a block in a column `width` mm wide.
pub(super) fn slabs(block: &Block, fonts: &Fonts, width: f64) -> Vec<Slab> {
    match block {
        Block::Heading { level, text } => heading(*level, text, fonts, width),
        Block::Text(text) => paragraph(text, fonts, NOTE, 0.0, width, 2.2),
        Block::Small(text) => paragraph(text, fonts, SMALL, 0.0, width, 1.6),
        Block::List(all) => hung(all, fonts, width, |_, slab| {
            let dot = Shape::Circle {
                centre: at(2.0, NOTE * (TO_BASELINE - 0.5)),
                radius: 0.55,
                pen: None,
                fill: Fill::Black,
            };
            slab.items.push(Item { layer: Layer::Labels, shape: dot });
        }),
        Block::Steps(all) => hung(all, fonts, width, |i, slab| {
            let place = at(4.2, NOTE * TO_BASELINE);
            slab.text(Text::new(place, (i + 1).to_string(), NOTE, Anchor::End).bold());
        }),
        Block::Checks(all) => {
            hung(all, fonts, width, |_, slab| slab.rect(tick_box(0.6, 0.0), Pen::Thin))
        }
        Block::Grid(grid) => slabs_of_grid(grid, fonts, width),
        Block::Figure { drawing, caption } => figure(drawing, caption, fonts, width),
        Block::Beside { drawing, caption, blocks } => {
            beside(drawing, caption, blocks, fonts, width)
        }
        Block::Sheet { drawing, number } => {
            vec![Slab { sheet: Some((drawing.clone(), *number)), ..Slab::default() }]
        }
        Block::Together(blocks) => {
            let mut all: Vec<Slab> = blocks.iter().flat_map(|b| slabs(b, fonts, width)).collect();
            let last = all.len().saturating_sub(1);
            all.iter_mut().take(last).for_each(|slab| slab.with_next = true);
            all
        }
        Block::Lead(blocks) => {
            let mut all: Vec<Slab> = blocks.iter().flat_map(|b| slabs(b, fonts, width)).collect();
            all.iter_mut().for_each(|slab| slab.with_next = true);
            all
        }
        Block::Gap(height) => vec![Slab { before: *height, ..Slab::default() }],
        Block::Break => vec![Slab { breaks: true, ..Slab::default() }],
    }
}

/// A box to tick, beside a first line of ordinary text whose top is at `y`.
pub(super) fn tick_box(x: f64, y: f64) -> Rect {
    const SIDE: f64 = 3.0;
    let bottom = y + NOTE * TO_BASELINE + 0.2;
    rect(x, bottom - SIDE, x + SIDE, bottom)
}

fn heading(level: usize, text: &str, fonts: &Fonts, width: f64) -> Vec<Slab> {
    let (height, before) = match level {
        0 | 1 => (5.0, 10.0),
        2 => (3.5, 6.0),
        _ => (NOTE, 4.0),
    };
    let rich = Rich::default().bold(text);
    let mut slab = Slab {
        before,
        with_next: true,
        heading: Some((level, text.to_owned())),
        ..Slab::default()
    };
    set_lines(&mut slab, &rich, fonts, height, 0.0, width);
    if level <= 1 {
        slab.height += 1.6;
        slab.line(at(0.0, slab.height), at(width, slab.height), Pen::Thick);
        slab.height += 0.6;
    }
    vec![slab]
}

/// A paragraph as one slab a line; its first two and its last two lines stay together.
fn paragraph(
    text: &Rich,
    fonts: &Fonts,
    height: f64,
    x: f64,
    width: f64,
    before: f64,
) -> Vec<Slab> {
    let lines = text.lines(fonts, height, width - x);
    let count = lines.len();
    lines
        .iter()
        .enumerate()
        .map(|(i, line)| {
            let mut slab = Slab {
                height: height * LEADING,
                before: if i == 0 { before } else { 0.0 },
                with_next: count > 1 && (i == 0 || i + 2 == count),
                ..Slab::default()
            };
            line.texts(fonts, x, height * TO_BASELINE, height)
                .into_iter()
                .for_each(|t| slab.text(t));
            slab
        })
        .collect()
}

fn hung(all: &[Rich], fonts: &Fonts, width: f64, mark: impl Fn(usize, &mut Slab)) -> Vec<Slab> {
    let mut out = Vec::new();
    for (i, text) in all.iter().enumerate() {
        let mut slabs = paragraph(text, fonts, NOTE, 6.5, width, 1.3);
        if let Some(first) = slabs.first_mut() {
            mark(i, first);
        }
        out.extend(slabs);
    }
    out
}

/// A drawing in the middle of its column with its caption.
pub(super) fn figure(drawing: &Drawing, caption: &Rich, fonts: &Fonts, width: f64) -> Vec<Slab> {
    let mut slab = Slab { before: 3.0, ..Slab::default() };
    let left = ((width - drawing.width) / 2.0).max(0.0);
    slab.items = drawing
        .items
        .iter()
        .map(|item| Item { layer: item.layer, shape: item.shape.moved(left, 0.0) })
        .collect();
    slab.height = drawing.height;
    let area = rect(left, 0.0, left + drawing.width, drawing.height).grown(0.5);
    let (title, words) = (&drawing.title, &drawing.description);
    let said = if words.starts_with(title) { words.clone() } else { format!("{title}. {words}") };
    slab.figure = Some((area, said));
    if !caption.words().trim().is_empty() {
        slab.height += 1.5;
        set_lines(&mut slab, caption, fonts, SMALL, 0.0, width);
        slab.height += 1.0;
    }
    vec![slab]
}

/// Sets a text at the foot of a slab, which grows by it.
pub(super) fn set_lines(
    slab: &mut Slab,
    text: &Rich,
    fonts: &Fonts,
    height: f64,
    x: f64,
    width: f64,
) {
    for line in text.lines(fonts, height, width) {
        let baseline = slab.height + height * TO_BASELINE;
        line.texts(fonts, x, baseline, height).into_iter().for_each(|t| slab.text(t));
        slab.height += height * LEADING;
    }
}
