//! Places and rectangles on the page.

/// A place on the page: millimetres right of its left edge and down from its top edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Millimetres from the left edge.
    pub x: f64,
    /// Millimetres from the top edge.
    pub y: f64,
}

/// The point (x, y).
pub const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// An upright rectangle on the page; `x0 <= x1` and `y0 <= y1`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub x0: f64,
    /// Top edge.
    pub y0: f64,
    /// Right edge.
    pub x1: f64,
    /// Bottom edge.
    pub y1: f64,
}

/// The rectangle with these two opposite corners, whichever way round they are given.
pub fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Rect {
    Rect { x0: x0.min(x1), y0: y0.min(y1), x1: x0.max(x1), y1: y0.max(y1) }
}

impl Rect {
    /// Extent across.
    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }

    /// Extent down.
    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }

    /// The middle.
    pub fn centre(&self) -> Point {
        at((self.x0 + self.x1) / 2.0, (self.y0 + self.y1) / 2.0)
    }

    /// The rectangle with every edge moved outward by `by`; inward, but never past the middle, if
    /// `by` is negative.
    pub fn grown(&self, by: f64) -> Rect {
        let c = self.centre();
        Rect {
            x0: (self.x0 - by).min(c.x),
            y0: (self.y0 - by).min(c.y),
            x1: (self.x1 + by).max(c.x),
            y1: (self.y1 + by).max(c.y),
        }
    }

    /// Whether the two share more than an edge. A thousandth of a millimetre of ink is no overlap.
    pub fn overlaps(&self, other: &Rect) -> bool {
        const INK: f64 = 1e-3;
        self.x0 + INK < other.x1
            && other.x0 + INK < self.x1
            && self.y0 + INK < other.y1
            && other.y0 + INK < self.y1
    }

    /// Whether `other` lies inside, edges included, to a thousandth of a millimetre.
    pub fn contains(&self, other: &Rect) -> bool {
        const INK: f64 = 1e-3;
        self.x0 <= other.x0 + INK
            && self.y0 <= other.y0 + INK
            && other.x1 <= self.x1 + INK
            && other.y1 <= self.y1 + INK
    }

    /// The part of a segment that lies inside, edges included; `None` if that has no length (Liang and Barsky's
    /// clipping, 1984).
    pub fn clip(&self, p: Point, q: Point) -> Option<(Point, Point)> {
        let (dx, dy) = (q.x - p.x, q.y - p.y);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let steps = [(-dx, p.x - self.x0), (dx, self.x1 - p.x), (-dy, p.y - self.y0)];
        for (step, room) in steps.into_iter().chain([(dy, self.y1 - p.y)]) {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else {
                leave = leave.min(room / step);
            }
        }
        let place = |t: f64| at(p.x + t * dx, p.y + t * dy);
        (enter < leave).then(|| (place(enter), place(leave)))
    }

    /// Whether a segment goes through the inside, by more than a thousandth of a millimetre of ink.
    pub fn crossed(&self, p: Point, q: Point) -> bool {
        self.grown(-1e-3).clip(p, q).is_some()
    }

    /// The smallest rectangle holding both.
    pub fn hull(&self, other: &Rect) -> Rect {
        Rect {
            x0: self.x0.min(other.x0),
            y0: self.y0.min(other.y0),
            x1: self.x1.max(other.x1),
            y1: self.y1.max(other.y1),
        }
    }
}
