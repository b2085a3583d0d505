//! From exact model coordinates to the page.

use super::drawing::{Point, Rect, at, rect};

/// A drawing scale 1 : n.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(u32);

impl Scale {
    /// Full size and the reductions recommended by ISO 5455:1979, table in clause 5.1.
    pub const METRIC: &[Scale] = &[
        Scale(1),
        Scale(2),
        Scale(5),
        Scale(10),
        Scale(20),
        Scale(50),
        Scale(100),
        Scale(200),
        Scale(500),
        Scale(1000),
        Scale(2000),
        Scale(5000),
        Scale(10_000),
    ];

    /// Full size and the reductions that an architect's rule in inches has, from 3 in to the foot (1 : 4) to
    /// 1/16 in to the foot (1 : 192), then its engineer's ones (ASME Y14.1's customary scales: from memory).
    pub const INCH: &[Scale] = &[
        Scale(1),
        Scale(2),
        Scale(4),
        Scale(8),
        Scale(12),
        Scale(16),
        Scale(24),
        Scale(32),
        Scale(48),
        Scale(64),
        Scale(96),
        Scale(128),
        Scale(192),
        Scale(360),
        Scale(600),
        Scale(1200),
        Scale(2400),
        Scale(6000),
        Scale(12_000),
    ];

    /// The metric ones with 1 : 15 and 1 : 25 between, for figures whose room is given: ISO 5455 lets intermediate
    /// scales stand where the recommended ones do not serve (clause 5: from memory).
    pub const METRIC_BETWEEN: &[Scale] = &[
        Scale(1),
        Scale(2),
        Scale(5),
        Scale(10),
        Scale(15),
        Scale(20),
        Scale(25),
        Scale(50),
        Scale(100),
        Scale(200),
        Scale(500),
        Scale(1000),
        Scale(10_000),
    ];

    /// Finer steps still, for pictures that nobody measures from.
    pub const PICTURE: &[Scale] = &[
        Scale(1),
        Scale(2),
        Scale(3),
        Scale(4),
        Scale(5),
        Scale(6),
        Scale(8),
        Scale(10),
        Scale(12),
        Scale(15),
        Scale(18),
        Scale(20),
        Scale(24),
        Scale(27),
        Scale(30),
        Scale(35),
        Scale(40),
        Scale(50),
        Scale(60),
        Scale(80),
        Scale(100),
        Scale(200),
        Scale(500),
        Scale(1000),
        Scale(10_000),
    ];

    /// The n of 1 : n.
    pub fn reduction(self) -> u32 {
        self.0
    }

    /// The largest scale of a series at which something `width` × `height` mm in truth fits into `room`
    /// (width, height in mm on paper); `None` if even its smallest is too large.
    pub fn fitting(series: &[Scale], width: f64, height: f64, room: (f64, f64)) -> Option<Scale> {
        series.iter().copied().find(|s| {
            let n = f64::from(s.0);
            width / n <= room.0 && height / n <= room.1
        })
    }

    /// The last of a series.
    pub fn smallest(series: &[Scale]) -> Scale {
        series.last().copied().unwrap_or(Scale(1))
    }

    /// Millimetres on paper of `mm` in truth.
    pub fn drawn(self, mm: f64) -> f64 {
        mm / f64::from(self.0)
    }
}

impl std::fmt::Display for Scale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "1:{}", self.0)
    }
}

/// Where a model lies on the page: a corner of it is pinned to a place, and its second axis points up
/// the page or down it. Model coordinates are whole numbers of any unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Model units in a millimetre.
    pub units_per_mm: i64,
    /// The scale.
    pub scale: Scale,
    /// The model point that is pinned.
    pub from: (i64, i64),
    /// Where it is pinned.
    pub to: Point,
    /// Whether the model's second axis points up the page.
    pub up: bool,
}

impl View {
    /// Millimetres on paper of a model length.
    pub fn length(&self, model: i64) -> f64 {
        self.scale.drawn(model as f64 / self.units_per_mm as f64)
    }

    /// A model point on paper.
    pub fn point(&self, x: i64, y: i64) -> Point {
        let dy = self.length(y - self.from.1);
        at(self.to.x + self.length(x - self.from.0), self.to.y + if self.up { -dy } else { dy })
    }

    /// A model rectangle on paper, from its corner (x, y) with its extents.
    pub fn rect(&self, x: i64, y: i64, dx: i64, dy: i64) -> Rect {
        let (p, q) = (self.point(x, y), self.point(x + dx, y + dy));
        rect(p.x, p.y, q.x, q.y)
    }
}

/// Paper to print on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PageSize {
    /// 210 × 297 mm (ISO 216).
    A4,
    /// 297 × 420 mm (ISO 216).
    A3,
    /// 8 1/2 × 11 in (ANSI/ASME Y14.1 size A).
    Letter,
    /// 11 × 17 in (ANSI/ASME Y14.1 size B).
    Tabloid,
}

impl PageSize {
    /// Width and height upright, mm.
    pub fn upright(self) -> (f64, f64) {
        match self {
            PageSize::A4 => (210.0, 297.0),
            PageSize::A3 => (297.0, 420.0),
            PageSize::Letter => (215.9, 279.4),
            PageSize::Tabloid => (279.4, 431.8),
        }
    }

    /// Width and height lying on its side, mm.
    pub fn sideways(self) -> (f64, f64) {
        let (w, h) = self.upright();
        (h, w)
    }
}
