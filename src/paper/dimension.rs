//! Dimension lines, and their rows outside a view.
//!
//! Texts stand above their lines and are read from below or from the right; lines end in oblique strokes; the shorter
//! dimensions stand nearer the view (ISO 129-1: from memory; ASME Y14.5 would have all texts level and arrows).

use super::drawing::{Anchor, Fill, Pen, Point, Rect, Shape, Text, Turn, at};
use super::measure::{DESCENT, NOTE, SMALL, text_width};

/// A dimension: its line between two ticks, the projection lines that lead to it, and its text.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// One end of the dimension line.
    pub from: Point,
    /// The other.
    pub to: Point,
    /// Projection lines.
    pub projections: Vec<(Point, Point)>,
    /// From the dimension line to a text that stands away from it; empty if it stands at the line.
    pub leader: Vec<Point>,
    /// What it says.
    pub text: Text,
}

/// Half the extent of a tick, an oblique stroke across each end of the line.
const TICK: f64 = 0.9;

impl Dimension {
    /// The lines and the text it is made of, for writers that have no dimensions of their own.
    pub fn parts(&self) -> Vec<Shape> {
        let thin = |from: Point, to: Point| Shape::Line { from, to, pen: Pen::Thin };
        let mut parts: Vec<Shape> = self.projections.iter().map(|(p, q)| thin(*p, *q)).collect();
        parts.push(thin(self.from, self.to));
        for end in [self.from, self.to] {
            parts.push(Shape::Line {
                from: at(end.x - TICK, end.y + TICK),
                to: at(end.x + TICK, end.y - TICK),
                pen: Pen::Thick,
            });
        }
        if self.leader.len() > 1 {
            parts.push(Shape::Path {
                points: self.leader.clone(),
                closed: false,
                pen: Some(Pen::Thin),
                fill: Fill::None,
            });
        }
        parts.push(Shape::Text(self.text.clone()));
        parts
    }
}

/// The side of a view at which dimensions stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Above it.
    Top,
    /// Below it.
    Bottom,
    /// Left of it; texts run upward.
    Left,
    /// Right of it; texts run upward.
    Right,
}

/// One dimension of a row: where it begins and ends along the side (x above and below, y left and
/// right, in mm on paper), and what it says.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// What it says.
    pub text: String,
}

impl Span {
    /// A span, whichever way round its ends are given.
    pub fn new(a: f64, b: f64, text: impl Into<String>) -> Span {
        Span { from: a.min(b), to: a.max(b), text: text.into() }
    }
}

/// A rectangle in a side's own frame: `u` along it, `v` outward from the view's edge.
#[derive(Debug, Clone, Copy)]
struct Strip {
    u0: f64,
    u1: f64,
    v0: f64,
    v1: f64,
}

/// What one side holds so far.
#[derive(Debug, Clone, Default)]
struct Stack {
    /// Where the next row may begin.
    next: f64,
    /// What texts and leaders take.
    taken: Vec<Strip>,
}

/// Rows of dimensions outside a view, each further out than the last.
///
/// Rows are asked for from the finest, nearest the view, to the overall one. A text that does not fit
/// between its ticks is made smaller, and failing that moved outward with a leader, texts side by
/// side in the order of their spans. Projection lines of later rows are broken where they would cross
/// an earlier text.
#[derive(Debug, Clone)]
pub struct DimensionRows {
    view: Rect,
    stacks: [Stack; 4],
}

/// Clear space between the view and its first row.
const FIRST: f64 = 4.0;
/// Clear space between rows.
const BETWEEN: f64 = 2.0;
/// Clear space between a dimension line and a text above it.
const ABOVE: f64 = 0.7;
/// Clear space between a dimension line and a text moved away from it.
const AWAY: f64 = 2.6;
/// How far projection lines reach past the dimension line.
const PAST: f64 = 1.5;
/// Clear space between the view's edge and a projection line.
const OFF: f64 = 1.0;
/// Room on each side of a text between ticks.
const BESIDE: f64 = 1.2;

/// The height a text takes across its line.
fn line_height(height: f64) -> f64 {
    height * (1.06 + DESCENT)
}

/// A text of a row, before it has a place on the page.
struct Placed {
    height: f64,
    /// Middle along the side.
    u: f64,
    /// Extent across, outward.
    v: (f64, f64),
    leader: Vec<(f64, f64)>,
}

impl DimensionRows {
    /// No rows yet around the rectangle that everything drawn of the view lies in.
    pub fn around(view: Rect) -> Self {
        let stack = Stack { next: FIRST, taken: Vec::new() };
        DimensionRows { view, stacks: [stack.clone(), stack.clone(), stack.clone(), stack] }
    }

    /// The view and all rows so far.
    pub fn extent(&self) -> Rect {
        let mut all = self.view;
        for side in [Side::Top, Side::Bottom, Side::Left, Side::Right] {
            let stack = &self.stacks[side as usize];
            for strip in &stack.taken {
                // Ticks and projection lines reach as far out as the row does.
                let out = stack.next - BETWEEN;
                let (p, q) =
                    (self.place(side, strip.u0, strip.v0), self.place(side, strip.u1, out));
                all = all.hull(&super::drawing::rect(p.x, p.y, q.x, q.y));
            }
        }
        all
    }

    /// Adds a row of dimensions at a side and gives their shapes. Spans of no length are left out.
    /// O(n log n) in the spans, times the texts of earlier rows.
    pub fn row(&mut self, side: Side, spans: &[Span]) -> Vec<Shape> {
        let mut spans: Vec<&Span> = spans.iter().filter(|s| s.to - s.from > 1e-6).collect();
        if spans.is_empty() {
            return Vec::new();
        }
        spans.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        let start = self.stacks[side as usize].next;
        // Texts stand above their line as the page is read: outward at the top and the left, between
        // view and line elsewhere. Moved texts stand beyond the line always.
        let outward = matches!(side, Side::Top | Side::Left);
        let inline = ABOVE + line_height(NOTE);
        let line = if outward { start } else { start + inline };
        let beyond = line + if outward { inline + AWAY - ABOVE } else { AWAY };
        let placed = place_texts(&spans, line, outward, beyond);

        let mut seen: Vec<f64> = Vec::new();
        let mut shapes = Vec::with_capacity(spans.len());
        for (span, text) in spans.iter().zip(&placed) {
            let mut projections = Vec::new();
            for u in [span.from, span.to] {
                if !seen.iter().any(|s| (s - u).abs() < 1e-6) {
                    seen.push(u);
                    projections.extend(self.projection(side, u, line + PAST));
                }
            }
            shapes.push(Shape::Dimension(Dimension {
                from: self.place(side, span.from, line),
                to: self.place(side, span.to, line),
                projections,
                leader: text.leader.iter().map(|(u, v)| self.place(side, *u, *v)).collect(),
                text: self.text(side, &span.text, text),
            }));
        }
        self.take(side, &spans, &placed, line);
        shapes
    }

    fn take(&mut self, side: Side, spans: &[&Span], placed: &[Placed], line: f64) {
        let stack = &mut self.stacks[side as usize];
        let mut outermost = line + PAST;
        for (span, text) in spans.iter().zip(placed) {
            let half = text_width(&span.text, text.height, false) / 2.0;
            let (v0, v1) = text.v;
            stack.taken.push(Strip { u0: text.u - half, u1: text.u + half, v0, v1 });
            stack.taken.push(Strip { u0: span.from, u1: span.to, v0: line, v1: line });
            outermost = outermost.max(v1);
        }
        stack.next = outermost + BETWEEN;
    }

    /// A projection line at `u` from the view's edge out to `end`, broken around texts in its way.
    fn projection(&self, side: Side, u: f64, end: f64) -> Vec<(Point, Point)> {
        const CLEAR: f64 = 0.4;
        let mut gaps: Vec<(f64, f64)> = self.stacks[side as usize]
            .taken
            .iter()
            .filter(|s| s.v1 > s.v0 && s.u0 - CLEAR < u && u < s.u1 + CLEAR)
            .map(|s| (s.v0 - CLEAR, s.v1 + CLEAR))
            .collect();
        gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut pieces = Vec::new();
        let mut begin = OFF;
        for (v0, v1) in gaps {
            if v0 > begin {
                pieces.push((begin, v0.min(end)));
            }
            begin = begin.max(v1);
        }
        if begin < end {
            pieces.push((begin, end));
        }
        pieces
            .into_iter()
            .map(|(v0, v1)| (self.place(side, u, v0), self.place(side, u, v1)))
            .collect()
    }

    /// From a side's frame to the page.
    fn place(&self, side: Side, u: f64, v: f64) -> Point {
        match side {
            Side::Top => at(u, self.view.y0 - v),
            Side::Bottom => at(u, self.view.y1 + v),
            Side::Left => at(self.view.x0 - v, u),
            Side::Right => at(self.view.x1 + v, u),
        }
    }

    fn text(&self, side: Side, words: &str, placed: &Placed) -> Text {
        let down = DESCENT * placed.height;
        let (v0, v1) = placed.v;
        // The baseline lies at the lower edge as the text is read.
        let baseline = match side {
            Side::Top | Side::Left => v0 + down,
            Side::Bottom | Side::Right => v1 - down,
        };
        let turn = match side {
            Side::Top | Side::Bottom => Turn::Level,
            Side::Left | Side::Right => Turn::Upward,
        };
        Text::new(self.place(side, placed.u, baseline), words, placed.height, Anchor::Middle)
            .turned(turn)
    }
}

/// Chooses a place for each text of a row: between its ticks, or beyond the line.
fn place_texts(spans: &[&Span], line: f64, outward: bool, beyond: f64) -> Vec<Placed> {
    let mut placed: Vec<Placed> = Vec::with_capacity(spans.len());
    let mut moved: Vec<usize> = Vec::new();
    for (i, span) in spans.iter().enumerate() {
        let room = span.to - span.from - 2.0 * BESIDE;
        let fits = |h: &f64| text_width(&span.text, *h, false) <= room;
        let middle = (span.from + span.to) / 2.0;
        let height = [NOTE, SMALL].into_iter().find(fits);
        let h = height.unwrap_or(SMALL);
        let v = match (height, outward) {
            (Some(_), true) => (line + ABOVE, line + ABOVE + line_height(h)),
            (Some(_), false) => (line - ABOVE - line_height(h), line - ABOVE),
            (None, _) => (beyond, beyond + line_height(h)),
        };
        if height.is_none() {
            moved.push(i);
        }
        placed.push(Placed { height: h, u: middle, v, leader: Vec::new() });
    }
    let wants: Vec<(f64, f64)> =
        moved.iter().map(|&i| (placed[i].u, text_width(&spans[i].text, SMALL, false))).collect();
    for (&i, u) in moved.iter().zip(side_by_side(&wants, 1.5)) {
        let middle = placed[i].u;
        // Straight out past the texts between ticks, then aslant to the moved text.
        let bend = if outward { beyond - AWAY + ABOVE } else { line };
        placed[i].leader = vec![(middle, line), (middle, bend), (u, beyond - 0.3)];
        placed[i].u = u;
    }
    placed
}

/// Middles for boxes of given (wished middle, width) in a row, in order and at least `gap` apart,
/// near to their wishes: boxes that would overlap are joined into a group that stands where its
/// members' mean shift is nil, as in pool-adjacent-violators regression. O(n).
fn side_by_side(wants: &[(f64, f64)], gap: f64) -> Vec<f64> {
    struct Group {
        first: usize,
        count: usize,
        /// Sum over members of (wished left end of the group, given the member's wish).
        sum: f64,
        width: f64,
    }
    let mut groups: Vec<Group> = Vec::new();
    for (i, (middle, width)) in wants.iter().enumerate() {
        let mut new = Group { first: i, count: 1, sum: middle - width / 2.0, width: width + gap };
        while let Some(last) = groups.last() {
            let (left, right) = (last.sum / last.count as f64, new.sum / new.count as f64);
            if left + last.width <= right {
                break;
            }
            new = Group {
                first: last.first,
                count: last.count + new.count,
                sum: last.sum + new.sum - last.width * new.count as f64,
                width: last.width + new.width,
            };
            groups.pop();
        }
        groups.push(new);
    }
    let mut middles = Vec::with_capacity(wants.len());
    for group in groups {
        let mut left = group.sum / group.count as f64;
        for (_, width) in &wants[group.first..group.first + group.count] {
            middles.push(left + width / 2.0);
            left += width + gap;
        }
    }
    middles
}
