//! The canonical problem with the extents at which it is looked at.

use super::job::Job;
use super::line::Line;
use crate::solve::sheets::Axis;

/// A way in which a piece may lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Way {
    /// Grown sides in job units.
    pub size: [i64; 2],
    /// The extents it may be taken for.
    pub snapped: [i64; 2],
}

/// A kind of piece that is looked up in tables.
#[derive(Debug, Clone)]
pub(super) struct FrameKind {
    pub ways: Vec<Way>,
    pub worth: i64,
    pub copies: u32,
    /// Which kind of the job.
    pub kind: usize,
}

/// A problem and its grid.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub size: [i64; 2],
    pub x: Line,
    pub y: Line,
    pub kinds: Vec<FrameKind>,
    /// The worth of all copies of the kinds that are too small for the grid.
    pub tiny: i64,
    /// Axes of the rows of level 1, 2 …, if stages are limited.
    pub levels: Vec<usize>,
    /// Whether pieces must fill their last row across.
    pub exact: bool,
    /// One unit of worth in the tables.
    pub scale: i64,
}

/// How fine the grid may be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fineness {
    /// Points along a side.
    pub points: usize,
    /// Whether every width up to the panel's is looked at, not only the panel's own.
    pub widths: bool,
}

impl Frame {
    /// The frame of a job; `None` if no piece fits.
    pub fn new(job: &Job, fineness: Fineness) -> Option<Self> {
        if job.kinds.is_empty() {
            return None;
        }
        let x = if fineness.widths { Line::normal } else { Line::raster };
        let x = x(&job.sides(0), job.size[0], fineness.points);
        let y = Line::raster(&job.sides(1), job.size[1], fineness.points);
        let first = job.stages.first.map_or(0, |axis| usize::from(axis == Axis::Y));
        let most = job.stages.most.map_or(0, usize::from);
        let levels = (1..=most).map(|level| (first + most - level) % 2).collect();
        let mut frame = Self {
            size: job.size,
            x,
            y,
            kinds: Vec::new(),
            tiny: 0,
            levels,
            exact: most > 0 && !job.stages.trim,
            scale: 1,
        };
        for (index, kind) in job.kinds.iter().enumerate() {
            frame.add(index, kind);
        }
        let most: i64 = job.kinds.iter().map(|k| k.worth * i64::from(k.copies)).sum();
        while frame.scale < 1 << 10 && most < (1 << 59) / frame.scale {
            frame.scale *= 2;
        }
        Some(frame)
    }

    fn add(&mut self, index: usize, kind: &super::job::Kind) {
        let ways: Option<Vec<Way>> = kind.ways.iter().map(|size| self.way(*size)).collect();
        match ways {
            Some(ways) => self.kinds.push(FrameKind {
                ways,
                worth: kind.worth,
                copies: kind.copies,
                kind: index,
            }),
            None => self.tiny += kind.worth * i64::from(kind.copies),
        }
    }

    /// `None` if it is too small for the grid.
    fn way(&self, size: [i64; 2]) -> Option<Way> {
        let snapped = [self.x.snap(size[0])?, self.y.snap(size[1])?];
        let seen = self.x.index(snapped[0]) > 0 && self.y.index(snapped[1]) > 0;
        seen.then_some(Way { size, snapped })
    }

    /// The cell of a block's extents.
    pub fn cell(&self, size: [i64; 2]) -> usize {
        self.x.index(size[0]) * self.y.len() + self.y.index(size[1])
    }

    /// The extents a block may be taken for; `None` if it is larger than the panel.
    pub fn snap(&self, size: [i64; 2]) -> Option<[i64; 2]> {
        if size[0] > self.size[0] || size[1] > self.size[1] {
            return None;
        }
        Some([self.x.snap(size[0])?, self.y.snap(size[1])?])
    }
}
