//! Which stretches of an edge boxes hide, exactly.
//!
//! Everything is seen from infinitely far along one of the eight directions (±1, ±1, ±1), in which an
//! isometric drawing looks. A point p of an edge is hidden by a box if the ray p + t·v, t > 0, toward the
//! eye meets the box's inside. Along an edge in axis a, with s its place on that axis, the two other axes ask
//! t to lie in an open interval with whole ends, and the axis itself asks s + t·vₐ to lie in another; the
//! s for which such a t exists are again an open interval with whole ends. So no rounding decides what is
//! seen, and there is no order of faces to get wrong.

/// An axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// The first.
    X,
    /// The second.
    Y,
    /// The third.
    Z,
}

impl Axis {
    pub(super) const ALL: [Axis; 3] = [Axis::X, Axis::Y, Axis::Z];

    pub(super) fn others(self) -> (usize, usize) {
        match self {
            Axis::X => (1, 2),
            Axis::Y => (0, 2),
            Axis::Z => (0, 1),
        }
    }
}

/// A box along the axes in whole units of any size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Block3 {
    /// Its corner with the least coordinates.
    pub low: [i64; 3],
    /// Its corner with the greatest.
    pub high: [i64; 3],
}

impl Block3 {
    /// The box moved.
    pub fn moved(self, by: [i64; 3]) -> Block3 {
        let go = |p: [i64; 3]| [p[0] + by[0], p[1] + by[1], p[2] + by[2]];
        Block3 { low: go(self.low), high: go(self.high) }
    }

    /// The smallest box that holds both.
    pub fn hull(self, other: Block3) -> Block3 {
        let pick = |f: fn(i64, i64) -> i64, a: [i64; 3], b: [i64; 3]| {
            [f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2])]
        };
        Block3 {
            low: pick(i64::min, self.low, other.low),
            high: pick(i64::max, self.high, other.high),
        }
    }

    /// Its middle, rounded down.
    pub fn centre(self) -> [i64; 3] {
        let mid = |i: usize| i64::midpoint(self.low[i], self.high[i]);
        [mid(0), mid(1), mid(2)]
    }

    pub(super) fn is_solid(self) -> bool {
        (0..3).all(|i| self.low[i] < self.high[i])
    }
}

/// A stretch along an axis: `at` gives its place on the other two, and what it has on its own is its
/// beginning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Edge {
    pub axis: Axis,
    pub at: [i64; 3],
    /// Where it ends on its axis.
    pub end: i64,
}

/// The twelve edges of a box.
pub(super) fn edges(of: Block3) -> Vec<Edge> {
    let mut all = Vec::with_capacity(12);
    for axis in Axis::ALL {
        let (b, c) = axis.others();
        for pb in [of.low[b], of.high[b]] {
            for pc in [of.low[c], of.high[c]] {
                let mut at = of.low;
                at[b] = pb;
                at[c] = pc;
                all.push(Edge { axis, at, end: of.high[axis as usize] });
            }
        }
    }
    all
}

/// The stretch of an edge's axis within which a box hides it; `None` if it hides nothing.
fn hidden_by(edge: &Edge, eye: [i64; 3], of: Block3) -> Option<(i64, i64)> {
    let a = edge.axis as usize;
    let (b, c) = edge.axis.others();
    let (mut t0, mut t1) = (0, i64::MAX);
    for i in [b, c] {
        let (near, far) = if eye[i] > 0 {
            (of.low[i] - edge.at[i], of.high[i] - edge.at[i])
        } else {
            (edge.at[i] - of.high[i], edge.at[i] - of.low[i])
        };
        t0 = t0.max(near);
        t1 = t1.min(far);
    }
    if t0 >= t1 {
        return None;
    }
    // s in (low − t·v, high − t·v) for some t in (t0, t1).
    let span = if eye[a] > 0 {
        (of.low[a] - t1, of.high[a] - t0)
    } else {
        (of.low[a] + t0, of.high[a] + t1)
    };
    let cut = (span.0.max(edge.at[a]), span.1.min(edge.end));
    (cut.0 < cut.1).then_some(cut)
}

/// The stretches of an edge that no box hides, in order. O(boxes · log boxes).
pub(super) fn seen(edge: &Edge, eye: [i64; 3], boxes: &[Block3]) -> Vec<(i64, i64)> {
    let mut hidden: Vec<(i64, i64)> =
        boxes.iter().filter_map(|of| hidden_by(edge, eye, *of)).collect();
    hidden.sort_unstable();
    let mut stretches = Vec::new();
    let mut from = edge.at[edge.axis as usize];
    for (begin, end) in hidden {
        if begin > from {
            stretches.push((from, begin));
        }
        from = from.max(end);
    }
    if from < edge.end {
        stretches.push((from, edge.end));
    }
    stretches
}

/// Whether no box hides a point. O(boxes).
pub(super) fn point_seen(p: [i64; 3], eye: [i64; 3], boxes: &[Block3]) -> bool {
    boxes.iter().all(|of| {
        let (mut t0, mut t1) = (0, i64::MAX);
        for i in 0..3 {
            let (near, far) = if eye[i] > 0 {
                (of.low[i] - p[i], of.high[i] - p[i])
            } else {
                (p[i] - of.high[i], p[i] - of.low[i])
            };
            t0 = t0.max(near);
            t1 = t1.min(far);
        }
        t0 >= t1
    })
}

/// Joins stretches that lie on one line and touch or overlap. O(n log n).
pub(super) fn merged(mut all: Vec<Edge>) -> Vec<Edge> {
    let key = |e: &Edge| {
        let (b, c) = e.axis.others();
        (e.axis, e.at[b], e.at[c], e.at[e.axis as usize], e.end)
    };
    all.sort_unstable_by_key(key);
    let mut out: Vec<Edge> = Vec::with_capacity(all.len());
    for edge in all {
        let a = edge.axis as usize;
        let (b, c) = edge.axis.others();
        match out.last_mut() {
            Some(last)
                if last.axis == edge.axis
                    && last.at[b] == edge.at[b]
                    && last.at[c] == edge.at[c]
                    && edge.at[a] <= last.end =>
            {
                last.end = last.end.max(edge.end);
            }
            _ => out.push(edge),
        }
    }
    out
}
