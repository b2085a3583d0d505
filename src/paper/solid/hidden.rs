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

/// Half of a box that is square seen from above, sawn through upright from corner to corner: which of its
/// upright edges is kept whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Half {
    /// Whether that edge is at the greater x.
    pub right: bool,
    /// Whether it is at the greater y.
    pub rear: bool,
}

impl Half {
    /// The signs of (x, y) in the half space `sx·x + sy·y > level`, and the level.
    fn plane(self, of: Block3) -> (i64, i64, i64) {
        let sign = |far: bool| if far { 1 } else { -1 };
        let (sx, sy) = (sign(self.right), sign(self.rear));
        let y = if sx == sy { of.high[1] } else { of.low[1] };
        (sx, sy, sx * of.low[0] + sy * y)
    }
}

/// What stands in space: a box or half of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Body {
    /// The box.
    pub space: Block3,
    /// The half of it that is there; all of it if none.
    pub half: Option<Half>,
}

impl From<Block3> for Body {
    fn from(space: Block3) -> Body {
        Body { space, half: None }
    }
}

impl Body {
    /// Whether a point of the box is on this half.
    pub(super) fn holds(self, p: [i64; 3]) -> bool {
        self.half.is_none_or(|half| {
            let (sx, sy, level) = half.plane(self.space);
            sx * p[0] + sy * p[1] >= level
        })
    }

    /// Its edges along the axes.
    pub(super) fn edges(self) -> Vec<Edge> {
        let all = edges(self.space);
        let Some(half) = self.half else { return all };
        let at_corner = |edge: &Edge, axis: usize, far: bool| {
            edge.at[axis] == if far { self.space.high[axis] } else { self.space.low[axis] }
        };
        let kept = |edge: &Edge| match edge.axis {
            Axis::X => at_corner(edge, 1, half.rear),
            Axis::Y => at_corner(edge, 0, half.right),
            Axis::Z => at_corner(edge, 0, half.right) || at_corner(edge, 1, half.rear),
        };
        all.into_iter().filter(kept).collect()
    }

    /// The edges of its sawn face that look toward the eye.
    pub(super) fn slants(self, eye: [i64; 3]) -> Vec<Slant> {
        let Some(half) = self.half else { return Vec::new() };
        let (low, high) = (self.space.low, self.space.high);
        let (sx, sy, _) = half.plane(self.space);
        let face = sx * eye[0] + sy * eye[1] < 0;
        let (from, step) = if sx == sy { (high[1], -1) } else { (low[1], 1) };
        let ends = [(low[2], eye[2] < 0), (high[2], eye[2] > 0)];
        let seen = ends.into_iter().filter(|(_, end)| face || *end);
        seen.map(|(z, _)| Slant { at: [low[0], from, z], step, length: high[0] - low[0] }).collect()
    }
}

/// An edge at 45° in a level plane: from `at`, so far along x and `step` (1 or −1) times as far along y.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Slant {
    pub at: [i64; 3],
    pub step: i64,
    pub length: i64,
}

impl Slant {
    pub fn point(&self, along: i64) -> [i64; 3] {
        [self.at[0] + along, self.at[1] + self.step * along, self.at[2]]
    }

    /// The stretches that no box hides, as lengths along x. Halves of boxes count as whole ones: blocks stand apart.
    pub fn seen(&self, eye: [i64; 3], bodies: &[Body]) -> Vec<(i64, i64)> {
        let others = bodies.iter().filter(|body| body.slants(eye).iter().all(|own| own != self));
        let hidden = others.filter_map(|body| self.hidden_by(eye, body.space)).collect();
        left_over(0, self.length, hidden)
    }

    /// With s along the edge and t along the ray, x asks p = s + t·vx to lie in an interval, y the same of s − t·vx or of p
    /// itself, z of t: a polygon whose corners are whole, or half, numbers.
    fn hidden_by(&self, eye: [i64; 3], of: Block3) -> Option<(i64, i64)> {
        let near = |i: usize, sign: i64| {
            let (a, b) = (sign * (of.low[i] - self.at[i]), sign * (of.high[i] - self.at[i]));
            (a.min(b), a.max(b))
        };
        let (t0, t1) = near(2, eye[2]);
        let t0 = t0.max(0);
        let p = near(0, 1);
        let q = near(1, self.step);
        // t·vx lies between these.
        let turn = if eye[0] > 0 { (t0, t1) } else { (-t1, -t0) };
        if t0 >= t1 {
            return None;
        }
        let span = if eye[0] * eye[1] == self.step {
            let w = (p.0.max(q.0), p.1.min(q.1));
            if w.0 >= w.1 {
                return None;
            }
            (w.0 - turn.1, w.1 - turn.0)
        } else {
            let d = ((2 * turn.0).max(p.0 - q.1), (2 * turn.1).min(p.1 - q.0));
            if d.0 >= d.1 {
                return None;
            }
            // The least and greatest p + q over the rectangle between the lines p − q = d.
            let least = (2 * p.0 - d.1).max(2 * q.0 + d.0).max(p.0 + q.0);
            let most = (2 * p.1 - d.0).min(2 * q.1 + d.1).min(p.1 + q.1);
            (least.div_euclid(2), most.div_euclid(2))
        };
        let cut = (span.0.max(0), span.1.min(self.length));
        (cut.0 < cut.1).then_some(cut)
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

/// The stretch of an edge's axis within which a body hides it; `None` if it hides nothing.
fn hidden_by(edge: &Edge, eye: [i64; 3], body: Body) -> Option<(i64, i64)> {
    let of = body.space;
    let a = edge.axis as usize;
    let (b, c) = edge.axis.others();
    let (mut t0, mut t1) = ray(edge.at, eye, of, &[b, c])?;
    let span = match body.half {
        Some(half) if a < 2 => halved(edge, eye, of, half, (t0, t1))?,
        half => {
            if let Some(half) = half {
                (t0, t1) = shortened(edge.at, eye, half.plane(of), (t0, t1))?;
            }
            // s in (low − t·v, high − t·v) for some t in (t0, t1).
            if eye[a] > 0 {
                (of.low[a] - t1, of.high[a] - t0)
            } else {
                (of.low[a] + t0, of.high[a] + t1)
            }
        }
    };
    let cut = (span.0.max(edge.at[a]), span.1.min(edge.end));
    (cut.0 < cut.1).then_some(cut)
}

/// The t > 0 for which p + t·v lies in a box's extents along the axes named; `None` if there are none.
fn ray(p: [i64; 3], eye: [i64; 3], of: Block3, axes: &[usize]) -> Option<(i64, i64)> {
    let (mut t0, mut t1) = (0, i64::MAX);
    for &i in axes {
        let (near, far) = if eye[i] > 0 {
            (of.low[i] - p[i], of.high[i] - p[i])
        } else {
            (p[i] - of.high[i], p[i] - of.low[i])
        };
        t0 = t0.max(near);
        t1 = t1.min(far);
    }
    (t0 < t1).then_some((t0, t1))
}

/// Those of them for which it lies beyond an upright plane too; to half a unit.
fn shortened(
    p: [i64; 3],
    eye: [i64; 3],
    (sx, sy, level): (i64, i64, i64),
    (t0, t1): (i64, i64),
) -> Option<(i64, i64)> {
    let beyond = sx * p[0] + sy * p[1] - level;
    let (t0, t1) = match sx * eye[0] + sy * eye[1] {
        0 if beyond <= 0 => return None,
        0 => (t0, t1),
        m if m > 0 => (t0.max((-beyond).div_euclid(2)), t1),
        _ => (t0, t1.min(beyond.div_euclid(2))),
    };
    (t0 < t1).then_some((t0, t1))
}

/// What half a box hides of a level edge: with w = s + t·vₐ, a rectangle in (t, w) less what lies on the wrong side of
/// a line at 45°; its corners are whole numbers.
fn halved(
    edge: &Edge,
    eye: [i64; 3],
    of: Block3,
    half: Half,
    (t0, t1): (i64, i64),
) -> Option<(i64, i64)> {
    let a = edge.axis as usize;
    let b = 1 - a;
    let (sx, sy, level) = half.plane(of);
    let (sa, sb) = if a == 0 { (sx, sy) } else { (sy, sx) };
    let other = |t: i64| edge.at[b] + t * eye[b];
    let (low, high) = (of.low[a], of.high[a]);
    let corners = [(t0, low), (t0, high), (t1, low), (t1, high)];
    let beyond = |(t, w): &(i64, i64)| sa * w + sb * other(*t) - level;
    if corners.iter().all(|corner| beyond(corner) <= 0) {
        return None;
    }
    let mut all: Vec<(i64, i64)> = corners.into_iter().filter(|c| beyond(c) >= 0).collect();
    all.extend([t0, t1].map(|t| (t, sa * (level - sb * other(t)))));
    all.extend([low, high].map(|w| (eye[b] * (sb * (level - sa * w) - edge.at[b]), w)));
    let inside = |(t, w): &(i64, i64)| (t0..=t1).contains(t) && (low..=high).contains(w);
    let places = all.into_iter().filter(inside).map(|(t, w)| w - eye[a] * t);
    places.fold(None, |span: Option<(i64, i64)>, s| {
        Some(span.map_or((s, s), |(least, most)| (least.min(s), most.max(s))))
    })
}

/// The stretches of an edge that no body hides, in order. O(bodies · log bodies).
pub(super) fn seen(edge: &Edge, eye: [i64; 3], bodies: &[Body]) -> Vec<(i64, i64)> {
    let hidden = bodies.iter().filter_map(|of| hidden_by(edge, eye, *of)).collect();
    left_over(edge.at[edge.axis as usize], edge.end, hidden)
}

/// What is left of a stretch without these.
fn left_over(from: i64, end: i64, mut hidden: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    hidden.sort_unstable();
    let mut stretches = Vec::new();
    let mut from = from;
    for (begin, end) in hidden {
        if begin > from {
            stretches.push((from, begin));
        }
        from = from.max(end);
    }
    if from < end {
        stretches.push((from, end));
    }
    stretches
}

/// Whether no body hides a point. O(bodies).
pub(super) fn point_seen(p: [i64; 3], eye: [i64; 3], bodies: &[Body]) -> bool {
    bodies.iter().all(|body| {
        let Some(stretch) = ray(p, eye, body.space, &[0, 1, 2]) else { return true };
        let beyond = |half: Half| shortened(p, eye, half.plane(body.space), stretch);
        body.half.is_some_and(|half| beyond(half).is_none())
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
