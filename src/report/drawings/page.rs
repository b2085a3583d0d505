//! Border, title strip, notes and keys; the choice of paper and scale.

use crate::design::{Design, DesignId};
use crate::paper::{
    Anchor, Drawing, Fill, KeyEntry, Layer, NOTE, PageSize, Pen, Point, Rect, SMALL, Scale, Shape,
    Text, at, rect, shorten, text_width, wrap,
};
use crate::scenario::Scenario;
use crate::units::{Length, UnitSystem};

/// From the paper's edge to the border, mm: more than ordinary printers leave white.
const BORDER: f64 = 7.0;
/// Height of the title strip, mm.
const STRIP: f64 = 13.0;
/// Between the border and what is drawn, mm.
const INSIDE: f64 = 2.0;
/// Widths of the title strip's cells from the right, mm: page number, units, scale, design.
const CELLS: [f64; 4] = [18.0, 24.0, 46.0, 24.0];

/// What a drawing is called, and what of.
pub(super) struct Heading<'a> {
    /// What it shows.
    pub title: String,
    /// The same in a few sentences for someone who cannot see it.
    pub description: String,
    /// What it belongs to.
    pub of: Of<'a>,
}

/// What a set of drawings is of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Of<'a> {
    /// The scenario's or the job's.
    pub title: &'a str,
    /// How lengths are written.
    pub units: UnitSystem,
    /// The design; none for a cutting job.
    pub design: Option<DesignId>,
}

impl<'a> Of<'a> {
    /// A design for a scenario.
    pub fn design(design: &Design, scenario: &'a Scenario) -> Self {
        Self { title: &scenario.title, units: scenario.units, design: Some(design.id) }
    }
}

/// Paper and scale.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    size: (f64, f64),
    pub scale: Scale,
}

/// On what to draw.
#[derive(Clone, Copy, Debug)]
pub(super) enum Papers {
    /// On the small or the large paper of a unit system, either way round.
    Own(UnitSystem),
    /// Upright on this, as a page of a booklet.
    Upright(PageSize),
}

/// Papers and scales to try, best first, for something `width` × `height` in truth that needs `margin`
/// (across, down; mm) around it on paper. The small paper comes first where it reaches the scale
/// 1 : `enough` or the large one does no better. The last has room to spare.
pub(super) fn choices(
    papers: Papers,
    sideways: bool,
    (width, height): (Length, Length),
    margin: (f64, f64),
    enough: u32,
) -> Vec<Choice> {
    let sizes = match papers {
        Papers::Own(UnitSystem::Metric) => [PageSize::A4, PageSize::A3],
        Papers::Own(UnitSystem::Inch) => [PageSize::Letter, PageSize::Tabloid],
        Papers::Upright(size) => [size, size],
    };
    let sideways = sideways && matches!(papers, Papers::Own(_));
    let sizes = sizes.map(|p| if sideways { p.sideways() } else { p.upright() });
    let fit = |size: (f64, f64)| {
        let inside = content(size);
        let room = (inside.width() - margin.0, inside.height() - margin.1);
        let scale = Scale::fitting(width.to_mm(), height.to_mm(), room);
        Choice { size, scale: scale.unwrap_or(Scale::STANDARD[Scale::STANDARD.len() - 1]) }
    };
    let [small, large] = sizes.map(fit);
    let mut all = Vec::new();
    let small_first = small.scale.reduction() <= enough || small.scale <= large.scale;
    all.extend(if small_first { [small, large] } else { [large, small] });
    // Half the size or less on the large paper, for keys of any length.
    let spare = |at_least: u32| {
        let reduction = large.scale.reduction().saturating_mul(at_least);
        Scale::STANDARD.into_iter().find(|s| s.reduction() >= reduction)
    };
    all.extend([2, 5].into_iter().filter_map(spare).map(|scale| Choice { scale, ..large }));
    all
}

/// A page being drawn.
pub(super) struct Page {
    pub drawing: Drawing,
    /// Where there is room to draw.
    pub content: Rect,
}

fn content(size: (f64, f64)) -> Rect {
    let edge = BORDER + INSIDE;
    rect(edge, edge, size.0 - edge, size.1 - BORDER - STRIP - INSIDE)
}

impl Page {
    /// A page with border and title strip. A page of several scales, or of none, says so.
    pub fn new(heading: &Heading<'_>, choice: Choice, scaled: &str) -> Page {
        let size = choice.size;
        let mut drawing = Drawing::new(&heading.title, &heading.description, size);
        let border = rect(BORDER, BORDER, size.0 - BORDER, size.1 - BORDER);
        drawing.rect(Layer::Frame, border, Pen::Thick, Fill::None);
        strip(&mut drawing, border, heading, choice.scale, scaled);
        Page { drawing, content: content(size) }
    }

    /// Writes the key and the notes into the free foot of the page; whether they found room. If they
    /// must go there and don't fit, the page says so.
    pub fn foot(&mut self, top: f64, lines: &[String], must: bool) -> bool {
        let area = rect(self.content.x0, top, self.content.x1, self.content.y1);
        let texts = Self::column_text(area, lines);
        let fits = texts.is_some();
        let texts = texts.unwrap_or_else(|| {
            let place = at(area.x0, self.content.y1 - SMALL);
            let sorry = "The key is longer than this page has room for.";
            if must { vec![Text::new(place, sorry, SMALL, Anchor::Start)] } else { Vec::new() }
        });
        self.drawing.add_all(Layer::Frame, texts.into_iter().map(Shape::Text));
        fits || must
    }

    /// Lines of small text from the top of `area` down, in as few columns as hold them; `None` if
    /// no number of columns does. Long lines go on, indented; a word longer than its column is cut.
    fn column_text(area: Rect, lines: &[String]) -> Option<Vec<Text>> {
        const COLUMN_GAP: f64 = 5.0;
        const LEAST_COLUMN: f64 = 42.0;
        if lines.is_empty() {
            return Some(Vec::new());
        }
        let most = ((area.width() + COLUMN_GAP) / (LEAST_COLUMN + COLUMN_GAP)).floor() as usize;
        for columns in 1..=most {
            let count = columns as f64;
            let width = (area.width() - COLUMN_GAP * (count - 1.0)) / count;
            let set: Vec<(f64, String)> = lines.iter().flat_map(|l| set_line(l, width)).collect();
            let rows = set.len().div_ceil(columns);
            if rows as f64 * PITCH > area.height() {
                continue;
            }
            let place = |i: usize| {
                let (column, row) = ((i / rows) as f64, (i % rows) as f64);
                let x = area.x0 + column * (width + COLUMN_GAP);
                at(x, area.y0 + PITCH * (row + 1.0) - SMALL * 0.4)
            };
            let text = |(i, (indent, line)): (usize, (f64, String))| {
                let p = place(i);
                Text::new(at(p.x + indent, p.y), line, SMALL, Anchor::Start)
            };
            return Some(set.into_iter().enumerate().map(text).collect());
        }
        None
    }
}

/// Distance of baselines of small text, mm.
const PITCH: f64 = SMALL * 1.7;

/// A line broken to a width: (indent, text).
fn set_line(line: &str, width: f64) -> Vec<(f64, String)> {
    const INDENT: f64 = 3.0;
    if text_width(line, SMALL, false) <= width {
        return vec![(0.0, line.to_owned())];
    }
    match wrap(line, SMALL, width - INDENT) {
        Some(lines) => {
            let indent = |i: usize| if i == 0 { 0.0 } else { INDENT };
            lines.into_iter().enumerate().map(|(i, line)| (indent(i), line)).collect()
        }
        None => vec![(0.0, shorten(line, SMALL, false, width))],
    }
}

/// A length whose figures stay on one line.
pub(super) fn held(length: Length, units: UnitSystem) -> String {
    length.figure(units).replace(' ', "\u{a0}")
}

/// Two lengths that may part after the sign, but not within.
pub(super) fn held_pair(a: Length, b: Length, units: UnitSystem) -> String {
    format!("{}\u{a0}× {}", held(a, units), held(b, units))
}

/// The key's lines: `3  Spirit level`.
pub(super) fn key_lines(key: &[KeyEntry]) -> Vec<String> {
    key.iter()
        .map(|entry| {
            let text = entry.text.replace('\n', " ");
            match entry.boxes {
                1 => format!("{}  {text}", entry.number),
                n => format!("{}  {text} ({n} times)", entry.number),
            }
        })
        .collect()
}

fn strip(d: &mut Drawing, border: Rect, heading: &Heading<'_>, scale: Scale, scaled: &str) {
    let top = border.y1 - STRIP;
    d.line(Layer::Frame, at(border.x0, top), at(border.x1, top), Pen::Thick);
    let lengths = match heading.of.units {
        UnitSystem::Inch => "inches",
        UnitSystem::Metric => "millimetres",
    };
    let scale_text = if scaled.is_empty() { scale.to_string() } else { scaled.to_owned() };
    let design = match heading.of.design {
        Some(id) => ("design", id.to_string()),
        None => ("", "cutting job".to_owned()),
    };
    let texts = [
        ("page", String::new()),
        ("lengths in", lengths.to_owned()),
        ("scale", scale_text),
        design,
    ];
    let mut right = border.x1;
    for (width, (caption, value)) in CELLS.into_iter().zip(texts) {
        let left = right - width;
        d.line(Layer::Frame, at(left, top), at(left, border.y1), Pen::Thin);
        d.add(Layer::Frame, Text::new(at(left + 2.0, top + 4.2), caption, SMALL, Anchor::Start));
        let value = shorten(&value, NOTE, false, width - 3.0);
        d.add(Layer::Frame, Text::new(at(left + 2.0, top + 9.6), value, NOTE, Anchor::Start));
        if caption == "scale" && scaled.is_empty() {
            scale_bar(d, rect(left + 16.0, top, right - 2.0, border.y1), scale, heading.of.units);
        }
        right = left;
    }
    let room = right - border.x0 - 4.0;
    let title = shorten(&heading.title, NOTE, true, room);
    let of = shorten(heading.of.title, SMALL, false, room);
    d.add(
        Layer::Frame,
        Text::new(at(border.x0 + 2.0, top + 5.4), title, NOTE, Anchor::Start).bold(),
    );
    d.add(Layer::Frame, Text::new(at(border.x0 + 2.0, top + 10.2), of, SMALL, Anchor::Start));
}

/// A ruler, so that a print that was shrunk to fit its paper can still be measured.
fn scale_bar(d: &mut Drawing, room: Rect, scale: Scale, units: UnitSystem) {
    let steps: Vec<Length> = match units {
        UnitSystem::Inch => [1, 2, 6, 12, 24, 48, 120, 240, 600].map(|n| Length::INCH * n).to_vec(),
        UnitSystem::Metric => {
            [20, 50, 100, 200, 500, 1000, 2000, 5000].map(|n| Length::MM * n).to_vec()
        }
    };
    let drawn = |length: Length| scale.drawn(length.to_mm());
    let most = room.width() - 4.0;
    let Some(length) = steps.into_iter().rev().find(|step| drawn(*step) <= most) else { return };
    let (x0, y0) = (room.x0, room.y0 + 3.2);
    let half = drawn(length) / 2.0;
    d.rect(Layer::Frame, rect(x0, y0, x0 + half, y0 + 1.6), Pen::Thin, Fill::Black);
    d.rect(Layer::Frame, rect(x0 + half, y0, x0 + 2.0 * half, y0 + 1.6), Pen::Thin, Fill::White);
    let text = length.show(units);
    d.add(Layer::Frame, Text::new(at(x0, y0 + 6.0), text, SMALL, Anchor::Start));
}

/// Where the page number begins in the title strip.
pub(super) fn number_place(d: &Drawing) -> Point {
    at(d.width - BORDER - CELLS[0] + 2.0, d.height - BORDER - STRIP + 9.6)
}

/// Writes the page number into the title strip.
pub(super) fn number(d: &mut Drawing, page: usize, of: usize) {
    let place = number_place(d);
    let text = shorten(&format!("{page} of {of}"), NOTE, false, CELLS[0] - 3.0);
    d.add(Layer::Frame, Text::new(place, text, NOTE, Anchor::Start));
}
