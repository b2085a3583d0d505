//! Panels, the cuts through them and what is left over: what every engine of the plane makes its plans with.

use crate::solve::sheets::{Axis, Rect, SheetCut};

/// A panel grown by the kerf, in units of an engine's own.
#[derive(Clone, Copy)]
pub(super) struct Panel {
    /// Its corner of least coordinates.
    pub at: [i64; 2],
    /// Its sides.
    pub size: [i64; 2],
    /// Whether the edges at the low and the high end of each axis are the sheet's as they came.
    pub raw: [[bool; 2]; 2],
}

/// Cuts made so far, in the problem's own coordinates.
pub(super) struct Saw {
    /// One unit of the panels in the problem's.
    pub unit: i64,
    /// In the problem's units.
    pub kerf: i64,
    /// Whether x and y of the panels are exchanged against the problem's.
    pub flipped: bool,
    /// In an order in which each panel exists when it is cut.
    pub cuts: Vec<SheetCut>,
    /// What is left over; what the blade eats is not.
    pub rests: Vec<Rect>,
}

impl Saw {
    /// One that has cut nothing.
    pub fn new(unit: i64, kerf: i64, flipped: bool) -> Self {
        Self { unit, kerf, flipped, cuts: Vec::new(), rests: Vec::new() }
    }

    /// Cuts `size` off along `axis` if there is more; the two panels.
    pub fn split(&mut self, panel: Panel, axis: usize, size: i64) -> (Panel, Panel) {
        let (mut first, mut behind) = (panel, panel);
        first.size[axis] = size;
        behind.at[axis] += size;
        behind.size[axis] -= size;
        if behind.size[axis] > 0 {
            first.raw[axis][1] = false;
            behind.raw[axis][0] = false;
            let at = behind.at[axis] * self.unit - self.kerf;
            let axis = if (axis == 0) != self.flipped { Axis::X } else { Axis::Y };
            self.cuts.push(SheetCut { panel: self.rect(panel), axis, at });
        }
        (first, behind)
    }

    /// Cuts `size` off and leaves what is behind.
    pub fn trim(&mut self, panel: Panel, axis: usize, size: i64) -> Panel {
        let (first, behind) = self.split(panel, axis, size);
        if behind.size[axis] > 0 {
            self.rest(behind);
        }
        first
    }

    /// The true rectangle of a panel; without extent if the blade eats it.
    pub fn rect(&self, panel: Panel) -> Rect {
        let [mut x, mut y] = panel.at.map(|c| c * self.unit);
        let [mut dx, mut dy] = panel.size.map(|c| c * self.unit - self.kerf);
        if self.flipped {
            std::mem::swap(&mut x, &mut y);
            std::mem::swap(&mut dx, &mut dy);
        }
        Rect { x, y, dx, dy }
    }

    /// Leaves a panel over.
    pub fn rest(&mut self, panel: Panel) {
        let rect = self.rect(panel);
        if rect.dx > 0 && rect.dy > 0 {
            self.rests.push(rect);
        }
    }
}

/// Area and number of the rests worth keeping, of which the shorter and the longer side reach those of `keep`.
pub(super) fn kept(keep: [i64; 2], rests: &[Rect]) -> (i128, usize) {
    let keep = |r: &&Rect| r.dx.min(r.dy) >= keep[0] && r.dx.max(r.dy) >= keep[1];
    let kept = rests.iter().filter(keep);
    kept.fold((0, 0), |(area, n), r| (area + i128::from(r.dx) * i128::from(r.dy), n + 1))
}
