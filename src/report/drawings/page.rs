//! Border, title strip, notes and keys; the choice of paper and scale.

use std::iter;

use crate::design::{Design, DesignId};
use crate::paper::{
    Anchor, Drawing, Fill, KeyEntry, Layer, NOTE, PageSize, Pen, Point, Rect, SMALL, Scale, Shape,
    Text, at, rect, shorten, text_width, wrap,
};
use crate::report::figures::length_unit_word;
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
    /// Whether the drawing has a border and a title strip of its own.
    framed: bool,
}

/// On what to draw.
#[derive(Clone, Copy, Debug)]
pub(super) enum Papers {
    /// On the small or the large paper of a unit system, either way round, with border and title strip.
    Own(UnitSystem),
    /// As a figure within the column of somebody else's page: at most this wide and high, mm.
    Within(UnitSystem, (f64, f64)),
}

impl Papers {
    /// The scales that a rule of the unit system has.
    const fn scales(self) -> &'static [Scale] {
        match self {
            Self::Own(UnitSystem::Metric) => Scale::METRIC,
            Self::Within(UnitSystem::Metric, _) => Scale::METRIC_BETWEEN,
            Self::Own(UnitSystem::Inch) | Self::Within(UnitSystem::Inch, _) => Scale::INCH,
        }
    }
}

/// Papers and scales to try, best first, for something `width` × `height` in truth that needs `margin`
/// (across, down; mm) around it on paper. The small paper comes first where it reaches the scale
/// 1 : `enough` (or near it in inches) or the large one does no better. The last has room to spare.
pub(super) fn choices(
    papers: Papers,
    sideways: bool,
    (width, height): (Length, Length),
    margin: (f64, f64),
    enough: u32,
) -> Vec<Choice> {
    let framed = matches!(papers, Papers::Own(_));
    let turned = |size: PageSize| if sideways { size.sideways() } else { size.upright() };
    let sizes = match papers {
        Papers::Own(UnitSystem::Metric) => [PageSize::A4, PageSize::A3].map(turned),
        Papers::Own(UnitSystem::Inch) => [PageSize::Letter, PageSize::Tabloid].map(turned),
        Papers::Within(_, room) => [room, room],
    };
    let scales = papers.scales();
    let fit = |size: (f64, f64)| {
        let inside = content(size, framed);
        let room = (inside.width() - margin.0, inside.height() - margin.1);
        let scale = Scale::fitting(scales, width.to_mm(), height.to_mm(), room);
        Choice { size, scale: scale.unwrap_or(Scale::smallest(scales)), framed }
    };
    let [small, large] = sizes.map(fit);
    if !framed {
        // A figure's room is given: only a smaller scale can make more of it.
        let smaller = scales.iter().filter(|scale| **scale > small.scale).take(4);
        return iter::once(small.scale)
            .chain(smaller.copied())
            .map(|scale| Choice { scale, ..small })
            .collect();
    }
    let mut all = Vec::new();
    let enough = enough + enough / 5;
    let small_first = small.scale.reduction() <= enough || small.scale <= large.scale;
    all.extend(if small_first { [small, large] } else { [large, small] });
    // Half the size or less on the large paper, for keys of any length.
    let spare = |at_least: u32| {
        let reduction = large.scale.reduction().saturating_mul(at_least);
        scales.iter().copied().find(|s| s.reduction() >= reduction)
    };
    all.extend([2, 5].into_iter().filter_map(spare).map(|scale| Choice { scale, ..large }));
    all
}

/// What the first choice gives that is enough; of the last, `draw` is told that there is no other.
pub(super) fn on_the_first(
    choices: &[Choice],
    heading: &Heading<'_>,
    draw: impl Fn(Choice, bool) -> Option<Drawing>,
) -> Drawing {
    let last = choices.len().saturating_sub(1);
    let drawn = choices.iter().enumerate().find_map(|(at, choice)| draw(*choice, at == last));
    let choice = choices.last().copied();
    drawn.unwrap_or_else(|| {
        let choice = choice.expect("there are always several choices");
        Page::new(heading, choice, "").drawing
    })
}

/// A page being drawn.
pub(super) struct Page {
    pub drawing: Drawing,
    /// Where there is room to draw.
    pub content: Rect,
    /// What a figure without a title strip says of its scale.
    scale: Option<String>,
}

fn content(size: (f64, f64), framed: bool) -> Rect {
    if !framed {
        return rect(0.0, 0.0, size.0, size.1);
    }
    let edge = BORDER + INSIDE;
    rect(edge, edge, size.0 - edge, size.1 - BORDER - STRIP - INSIDE)
}

impl Page {
    /// A page with border and title strip, or a figure without. One of several scales, or of none, says so.
    pub fn new(heading: &Heading<'_>, choice: Choice, scaled: &str) -> Page {
        let size = choice.size;
        let mut drawing = Drawing::new(&heading.title, &heading.description, size);
        let scale = if scaled.is_empty() { choice.scale.to_string() } else { scaled.to_owned() };
        let said = format!("Scale {scale}, lengths in {}.", length_unit_word(heading.of.units));
        if choice.framed {
            let border = rect(BORDER, BORDER, size.0 - BORDER, size.1 - BORDER);
            drawing.rect(Layer::Frame, border, Pen::Thick, Fill::None);
            strip(&mut drawing, border, heading, choice.scale, scaled);
        }
        let scale = (!choice.framed).then_some(said);
        Page { drawing, content: content(size, choice.framed), scale }
    }

    /// The place on the page of the upper left corner of something so wide, centred between margins.
    pub fn centred(&self, width: f64, (left, right): (f64, f64), above: f64) -> Point {
        let spare = self.content.width() - left - right - width;
        at(self.content.x0 + left + spare.max(0.0) / 2.0, self.content.y0 + above)
    }

    /// Writes the key and the notes below `top`, and cuts a figure off below what is drawn; `None` if they have no
    /// room. If they must go there and don't fit, the page says so.
    pub fn finish(mut self, top: f64, mut lines: Vec<String>, must: bool) -> Option<Drawing> {
        let figure = self.scale.is_some();
        lines.extend(self.scale.take());
        if !self.foot(top, &lines, must) {
            return None;
        }
        if figure && let Some(ink) = self.drawing.ink() {
            // No more paper than ink, across at least as much.
            let d = &mut self.drawing;
            let fits = ink.width() <= d.width + 1e-6 && ink.height() <= d.height + 1e-6;
            let left = if ink.x0 < 0.0 || ink.x1 > d.width { ink.x0 } else { 0.0 };
            for item in &mut d.items {
                item.shape = item.shape.moved(-left, -ink.y0);
            }
            d.height = ink.height().min(d.height);
            if !fits && !must {
                return None;
            }
        }
        Some(self.drawing)
    }

    /// Writes the key and the notes into the free foot of the page; whether they found room. If they
    /// must go there and don't fit, the page says so.
    fn foot(&mut self, top: f64, lines: &[String], must: bool) -> bool {
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
    let scale_text = if scaled.is_empty() { scale.to_string() } else { scaled.to_owned() };
    let design = match heading.of.design {
        Some(id) => ("design", id.to_string()),
        None => ("", "cutting job".to_owned()),
    };
    let texts = [
        ("page", String::new()),
        ("lengths in", length_unit_word(heading.of.units).to_owned()),
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

/// Writes the page number into the title strip.
pub(super) fn number(d: &mut Drawing, page: usize, of: usize) {
    let place = at(d.width - BORDER - CELLS[0] + 2.0, d.height - BORDER - STRIP + 9.6);
    let text = shorten(&format!("{page} of {of}"), NOTE, false, CELLS[0] - 3.0);
    d.add(Layer::Frame, Text::new(place, text, NOTE, Anchor::Start));
}
