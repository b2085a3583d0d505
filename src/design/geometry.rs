//! Points, sizes and boxes in space, exact.

use crate::units::{Length, Volume};

/// A place in some frame.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// Across.
    pub x: Length,
    /// Toward the cab.
    pub y: Length,
    /// Up.
    pub z: Length,
}

/// Extents along the axes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// Across.
    pub dx: Length,
    /// Toward the cab.
    pub dy: Length,
    /// Up.
    pub dz: Length,
}

impl Size {
    /// The room inside.
    pub fn volume(self) -> Volume {
        self.dx.by(self.dy).by(self.dz)
    }
}

/// A box along the axes: its corner nearest the origin, and its extents.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Box3 {
    /// The corner with the least coordinates.
    pub at: Point,
    /// The extents.
    pub size: Size,
}

impl Point {
    /// The place `x`, `y`, `z`.
    pub const fn new(x: Length, y: Length, z: Length) -> Self {
        Self { x, y, z }
    }
}

impl Size {
    /// The extents `dx`, `dy`, `dz`.
    pub const fn new(dx: Length, dy: Length, dz: Length) -> Self {
        Self { dx, dy, dz }
    }
}

impl Box3 {
    /// The corner with the greatest coordinates.
    pub fn far(self) -> Point {
        Point::new(self.at.x + self.size.dx, self.at.y + self.size.dy, self.at.z + self.size.dz)
    }

    /// The same box moved by `by`.
    pub fn moved(self, by: Point) -> Self {
        Self { at: Point::new(self.at.x + by.x, self.at.y + by.y, self.at.z + by.z), ..self }
    }
}
