//! The page and the shapes on it.

use super::dimension::Dimension;
use super::measure::text_box;
pub use super::place::{Point, Rect, at, rect};

/// What a line is for, which decides its width and dashes.
///
/// Widths keep the 1 : 2 of thin to thick of ISO 128-2 (line group 0.5). The dashes are its
/// multiples of the line width d as remembered from ISO 128-20:1996 (dash 12d, long dash 24d,
/// gap 3d, dot 0.5d); from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// Visible edges: continuous, 0.5 mm.
    Thick,
    /// Dimension, projection and leader lines, hatching: continuous, 0.25 mm.
    Thin,
    /// Edges behind something: dashed, 0.25 mm.
    Hidden,
    /// Centre lines and axes: long dash and dot, 0.25 mm.
    Centre,
    /// What is not part of the work but beside it: long dash and two dots, 0.25 mm.
    Phantom,
}

impl Pen {
    /// Line width, mm.
    pub fn width(self) -> f64 {
        match self {
            Pen::Thick => 0.5,
            Pen::Thin | Pen::Hidden | Pen::Centre | Pen::Phantom => 0.25,
        }
    }

    /// Dash and gap lengths in turn, mm; empty for a continuous line.
    pub fn dashes(self) -> &'static [f64] {
        match self {
            Pen::Thick | Pen::Thin => &[],
            Pen::Hidden => &[3.0, 0.75],
            Pen::Centre => &[6.0, 0.75, 0.125, 0.75],
            Pen::Phantom => &[6.0, 0.75, 0.125, 0.75, 0.125, 0.75],
        }
    }
}

/// Line patterns that tell areas apart without a grey or a colour.
///
/// Thin continuous lines at 45° to the outlines, as ISO 128-3 (formerly 128-50) and ASME Y14.3 have it for cut surfaces:
/// from memory. Rising, falling and crossed lines tell neighbours apart where those would change the spacing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hatch {
    /// Lines rising to the right, 3 mm apart.
    Rising,
    /// Lines falling to the right, 3 mm apart.
    Falling,
    /// Both ways, 4 mm apart.
    Crossed,
    /// Level lines, 2 mm apart.
    Level,
    /// Lines rising to the right, 1.2 mm apart: solid material cut through.
    Dense,
}

/// What covers the inside of a closed shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies below shows.
    None,
    /// Paper: what lies below is hidden.
    White,
    /// Ink.
    Black,
    /// Lines on paper.
    Hatched(Hatch),
}

/// Which end of a text its place names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins there.
    Start,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    End,
}

/// Which way a text runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Left to right.
    Level,
    /// Bottom to top, read from the right edge of the page.
    Upward,
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where its anchor sits on the baseline.
    pub at: Point,
    /// The words.
    pub text: String,
    /// Height of a capital, mm; see [`HEIGHTS`](super::HEIGHTS).
    pub height: f64,
    /// Which end `at` names.
    pub anchor: Anchor,
    /// Which way it runs.
    pub turn: Turn,
    /// Heavier strokes.
    pub bold: bool,
    /// Whether the paper is cleared behind it first, where it stands on hatching or lines.
    pub clear: bool,
}

impl Text {
    /// Level text of a height with its anchor at a place.
    pub fn new(at: Point, text: impl Into<String>, height: f64, anchor: Anchor) -> Text {
        Text { at, text: text.into(), height, anchor, turn: Turn::Level, bold: false, clear: false }
    }

    /// The same, bold.
    pub fn bold(mut self) -> Text {
        self.bold = true;
        self
    }

    /// The same, with the paper cleared behind it.
    pub fn clear(mut self) -> Text {
        self.clear = true;
        self
    }

    /// The same, running in the given direction.
    pub fn turned(mut self, turn: Turn) -> Text {
        self.turn = turn;
        self
    }
}

/// The closed set of what can be drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
        /// What it is for.
        pen: Pen,
    },
    /// An upright rectangle.
    Rect {
        /// Where.
        rect: Rect,
        /// Its edge, if it has one.
        pen: Option<Pen>,
        /// Its inside.
        fill: Fill,
    },
    /// A chain of straight lines, or a polygon if closed.
    Path {
        /// Corners in order.
        points: Vec<Point>,
        /// Whether the last joins the first; only a closed path has an inside.
        closed: bool,
        /// Its line, if it has one.
        pen: Option<Pen>,
        /// Its inside.
        fill: Fill,
    },
    /// A circle; its fill is not hatched (a hatched one is drawn plain white).
    Circle {
        /// The middle.
        centre: Point,
        /// The radius, mm.
        radius: f64,
        /// Its edge, if it has one.
        pen: Option<Pen>,
        /// Its inside.
        fill: Fill,
    },
    /// A line of text.
    Text(Text),
    /// A dimension line with ticks, projection lines and text.
    Dimension(Dimension),
}

impl Shape {
    /// The same, moved right and down.
    pub fn moved(&self, dx: f64, dy: f64) -> Shape {
        let go = |p: &Point| at(p.x + dx, p.y + dy);
        match self {
            Shape::Line { from, to, pen } => Shape::Line { from: go(from), to: go(to), pen: *pen },
            Shape::Rect { rect: r, pen, fill } => Shape::Rect {
                rect: rect(r.x0 + dx, r.y0 + dy, r.x1 + dx, r.y1 + dy),
                pen: *pen,
                fill: *fill,
            },
            Shape::Path { points, closed, pen, fill } => Shape::Path {
                points: points.iter().map(go).collect(),
                closed: *closed,
                pen: *pen,
                fill: *fill,
            },
            Shape::Circle { centre, radius, pen, fill } => {
                Shape::Circle { centre: go(centre), radius: *radius, pen: *pen, fill: *fill }
            }
            Shape::Text(text) => Shape::Text(Text { at: go(&text.at), ..text.clone() }),
            Shape::Dimension(d) => Shape::Dimension(Dimension {
                from: go(&d.from),
                to: go(&d.to),
                projections: d.projections.iter().map(|(p, q)| (go(p), go(q))).collect(),
                leader: d.leader.iter().map(go).collect(),
                text: Text { at: go(&d.text.at), ..d.text.clone() },
            }),
        }
    }

    /// Its straight lines.
    pub fn lines(&self) -> Vec<(Point, Point)> {
        let chain = |points: &[Point], closed: bool| {
            let mut all: Vec<_> = points.windows(2).map(|w| (w[0], w[1])).collect();
            if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
                all.push((*last, *first));
            }
            all
        };
        match self {
            Shape::Line { from, to, .. } => vec![(*from, *to)],
            Shape::Rect { rect: r, pen: Some(_), .. } => {
                let corners = [at(r.x0, r.y0), at(r.x1, r.y0), at(r.x1, r.y1), at(r.x0, r.y1)];
                chain(&corners, true)
            }
            Shape::Path { points, closed, pen: Some(_), .. } => chain(points, *closed),
            Shape::Dimension(d) => d.parts().iter().flat_map(Shape::lines).collect(),
            Shape::Rect { .. } | Shape::Path { .. } | Shape::Circle { .. } | Shape::Text(_) => {
                Vec::new()
            }
        }
    }

    /// The rectangle that holds it, line widths left out; `None` if it has no points.
    pub fn ink(&self) -> Option<Rect> {
        let hull = |points: &[Point]| {
            points.iter().map(|p| rect(p.x, p.y, p.x, p.y)).reduce(|a, b| a.hull(&b))
        };
        match self {
            Shape::Line { from, to, .. } => hull(&[*from, *to]),
            Shape::Rect { rect, .. } => Some(*rect),
            Shape::Path { points, .. } => hull(points),
            Shape::Circle { centre, radius, .. } => Some(hull(&[*centre])?.grown(*radius)),
            Shape::Text(text) => Some(text_box(text)),
            Shape::Dimension(d) => {
                d.parts().iter().filter_map(Shape::ink).reduce(|a, b| a.hull(&b))
            }
        }
    }
}

impl From<Text> for Shape {
    fn from(text: Text) -> Shape {
        Shape::Text(text)
    }
}

/// Layers, in the order in which they are painted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// What is not part of the work but beside it.
    Surroundings,
    /// The work itself.
    Work,
    /// Where a saw or a router goes through.
    Cut,
    /// Where a bit goes in.
    Drill,
    /// What is marked or scored and not cut through.
    Score,
    /// What the work holds.
    Contents,
    /// Names and marks.
    Labels,
    /// Dimensions.
    Dimensions,
    /// Border, title block, keys and notes.
    Frame,
}

impl Layer {
    /// All of them, in painting order.
    pub const ALL: [Layer; 9] = [
        Layer::Surroundings,
        Layer::Work,
        Layer::Cut,
        Layer::Drill,
        Layer::Score,
        Layer::Contents,
        Layer::Labels,
        Layer::Dimensions,
        Layer::Frame,
    ];

    /// A name for files.
    pub fn name(self) -> &'static str {
        match self {
            Layer::Surroundings => "surroundings",
            Layer::Work => "work",
            Layer::Cut => "cut",
            Layer::Drill => "drill",
            Layer::Score => "score",
            Layer::Contents => "contents",
            Layer::Labels => "labels",
            Layer::Dimensions => "dimensions",
            Layer::Frame => "frame",
        }
    }
}

/// A shape on a layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// When it is painted.
    pub layer: Layer,
    /// What it is.
    pub shape: Shape,
}

/// A page: what it is called, what it shows in words, its size and what is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// A short name, which screen readers say and files are called after.
    pub title: String,
    /// What someone who cannot see it should know.
    pub description: String,
    /// Width of the paper, mm.
    pub width: f64,
    /// Height of the paper, mm.
    pub height: f64,
    /// What is drawn, in painting order within each layer.
    pub items: Vec<Item>,
}

impl Drawing {
    /// An empty page.
    pub fn new(title: impl Into<String>, description: impl Into<String>, size: (f64, f64)) -> Self {
        Drawing {
            title: title.into(),
            description: description.into(),
            width: size.0,
            height: size.1,
            items: Vec::new(),
        }
    }

    /// Adds a shape.
    pub fn add(&mut self, layer: Layer, shape: impl Into<Shape>) {
        self.items.push(Item { layer, shape: shape.into() });
    }

    /// Adds several.
    pub fn add_all(&mut self, layer: Layer, shapes: impl IntoIterator<Item = Shape>) {
        self.items.extend(shapes.into_iter().map(|shape| Item { layer, shape }));
    }

    /// Adds a line.
    pub fn line(&mut self, layer: Layer, from: Point, to: Point, pen: Pen) {
        self.add(layer, Shape::Line { from, to, pen });
    }

    /// Adds a rectangle.
    pub fn rect(&mut self, layer: Layer, rect: Rect, pen: Pen, fill: Fill) {
        self.add(layer, Shape::Rect { rect, pen: Some(pen), fill });
    }

    /// Adds everything on another drawing, moved right and down.
    pub fn place(&mut self, other: &Drawing, dx: f64, dy: f64) {
        self.items.extend(
            other
                .items
                .iter()
                .map(|item| Item { layer: item.layer, shape: item.shape.moved(dx, dy) }),
        );
    }

    /// Every straight line that is drawn with a pen: the sides of rectangles and chains, and what dimensions are
    /// made of, but no hatching: for checking that none goes through a text.
    pub fn lines(&self) -> Vec<(Point, Point)> {
        self.items.iter().flat_map(|item| item.shape.lines()).collect()
    }

    /// The smallest rectangle that holds everything drawn, texts with the room they may need; `None` if
    /// nothing is.
    pub fn ink(&self) -> Option<Rect> {
        self.items.iter().filter_map(|item| item.shape.ink()).reduce(|a, b| a.hull(&b))
    }

    /// The whole page as a rectangle.
    pub fn page(&self) -> Rect {
        rect(0.0, 0.0, self.width, self.height)
    }

    /// Every text with the box it may need, those of dimensions included: for checking that none
    /// covers another or leaves the page.
    pub fn text_boxes(&self) -> Vec<(Rect, &str)> {
        self.items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Text(text) => Some(text),
                Shape::Dimension(dimension) => Some(&dimension.text),
                _ => None,
            })
            .filter(|text| !text.text.trim().is_empty())
            .map(|text| (text_box(text), text.text.as_str()))
            .collect()
    }
}
