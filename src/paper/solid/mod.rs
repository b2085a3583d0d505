//! Boxes, halves of boxes and rods in space, seen isometrically, put together or drawn apart.
//!
//! Boxes in, a [`Drawing`] out. Edges are drawn where they are seen and nowhere else ([`hidden`] says
//! how that is decided without rounding); what was drawn apart is joined to its place by thin lines; parts
//! are named by their marks, in the part where there is room and beside the view with a leader where
//! there is none. The scale is that of the axes: a length along any axis measures its own length over
//! the scale's (ISO 5456-3's isometric axonometry without foreshortening: from memory).

mod hidden;
mod names;

pub use hidden::{Axis, Block3, Half};

use hidden::{Body, Edge, edges, merged, point_seen, seen};

use super::drawing::{Drawing, Fill, Layer, Pen, Point, Rect, Shape, at, rect};
use super::measure::{NOTE, text_width};
use super::view::Scale;

/// From which side the boxes are looked at. The eye is always to the front: toward lesser y.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Eye {
    /// From above, front and right.
    #[default]
    RightAbove,
    /// From above, front and left.
    LeftAbove,
    /// From below, front and right.
    RightBelow,
    /// From below, front and left.
    LeftBelow,
}

impl Eye {
    fn direction(self) -> [i64; 3] {
        match self {
            Eye::RightAbove => [1, -1, 1],
            Eye::LeftAbove => [-1, -1, 1],
            Eye::RightBelow => [1, -1, -1],
            Eye::LeftBelow => [-1, -1, -1],
        }
    }
}

/// A box with what is to be known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Where it belongs.
    pub home: Block3,
    /// How far it is drawn from there.
    pub apart: [i64; 3],
    /// Its mark, if it is to be named.
    pub mark: Option<String>,
    /// Whether it is what the drawing is about: thick lines; thin ones if not.
    pub new: bool,
    /// The half of the box that is there, if it is sawn through upright from corner to corner.
    pub half: Option<Half>,
    /// Whether its upper face is ruled with thin lines: something soft, that is no wood.
    pub ruled: bool,
}

impl Piece {
    /// A piece where it belongs, thick and without a mark.
    pub fn new(home: Block3) -> Piece {
        Piece { home, apart: [0; 3], mark: None, new: true, half: None, ruled: false }
    }

    /// The same, drawn so far from its place.
    pub fn apart(mut self, by: [i64; 3]) -> Piece {
        self.apart = by;
        self
    }

    /// The same with a mark.
    pub fn marked(mut self, mark: impl Into<String>) -> Piece {
        self.mark = Some(mark.into());
        self
    }

    fn shown(&self) -> Block3 {
        self.home.moved(self.apart)
    }

    fn body(&self) -> Body {
        Body { space: self.shown(), half: self.half }
    }
}

/// A round rod, screw or hole along an axis: thin beside the boxes, and it hides nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rod {
    /// Which way it runs.
    pub axis: Axis,
    /// The middle of its lower end.
    pub at: [i64; 3],
    /// Its length.
    pub length: i64,
    /// Its radius.
    pub radius: i64,
    /// Whether it has a head at its upper end (`true`) or at its lower (`false`); `None` if it has none.
    pub head: Option<bool>,
}

/// What to draw.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Scene {
    /// The boxes.
    pub pieces: Vec<Piece>,
    /// The rods.
    pub rods: Vec<Rod>,
    /// From where.
    pub eye: Eye,
}

/// How it is put on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting<'a> {
    /// Model units in a millimetre.
    pub units_per_mm: i64,
    /// Width and height there are, mm, marks included.
    pub room: (f64, f64),
    /// The scales to choose from, the largest first.
    pub scales: &'a [Scale],
}

/// Room for leaders to marks at each side of a view, mm.
const BESIDE: f64 = 4.5;
const MARGIN: f64 = 2.0;
/// Distance of the lines of a ruled face along its axis, mm.
const RULING: f64 = 2.0;

impl Scene {
    /// The view at the largest of the scales that fits, with that scale; `None` if there is nothing to
    /// see or none fits. O(edges × boxes).
    pub fn draw(
        &self,
        title: &str,
        description: &str,
        set: Setting<'_>,
    ) -> Option<(Drawing, Scale)> {
        let boxes: Vec<Body> =
            self.pieces.iter().map(Piece::body).filter(|b| b.space.is_solid()).collect();
        let per_mm = set.units_per_mm as f64;
        let flat = Flat { eye: self.eye.direction(), unit: per_mm, origin: at(0.0, 0.0) };
        let tight = boxes.iter().map(|b| flat.extent(b.space)).reduce(|a, b| a.hull(&b))?;
        let marks = self.pieces.iter().filter_map(|piece| piece.mark.as_deref());
        let longest = marks.map(|mark| text_width(mark, NOTE, true)).fold(0.0, f64::max);
        let beside = if longest > 0.0 { BESIDE + longest } else { MARGIN };
        let room = (set.room.0 - 2.0 * beside, set.room.1 - 2.0 * MARGIN);
        let scale = Scale::fitting(set.scales, tight.width(), tight.height(), room)?;
        let unit = per_mm * f64::from(scale.reduction());
        let (w, h) = (scale.drawn(tight.width()), scale.drawn(tight.height()));
        let size = (w + 2.0 * beside, h + 2.0 * MARGIN);
        let origin = at(beside - scale.drawn(tight.x0), MARGIN - scale.drawn(tight.y0));
        let flat = Flat { unit, origin, ..flat };
        let mut drawing = Drawing::new(title, description, size);
        self.rulings(&mut drawing, flat, &boxes);
        self.lines(&mut drawing, flat, &boxes);
        self.rods(&mut drawing, flat, &boxes);
        self.ways_home(&mut drawing, flat, &boxes);
        let view = rect(beside, MARGIN, beside + w, MARGIN + h);
        names::name(&mut drawing, &self.pieces, flat, &boxes, view);
        Some((drawing, scale))
    }

    /// Edges of new pieces thick, of the others thin; where both lie on a line, thick.
    fn lines(&self, drawing: &mut Drawing, flat: Flat, boxes: &[Body]) {
        for (new, pen) in [(false, Pen::Thin), (true, Pen::Thick)] {
            let mut all = Vec::new();
            for piece in self.pieces.iter().filter(|p| p.new == new && p.shown().is_solid()) {
                for edge in piece.body().edges() {
                    all.extend(stretches(&edge, flat.eye, boxes));
                }
                for slant in piece.body().slants(flat.eye) {
                    for (from, end) in slant.seen(flat.eye, boxes) {
                        let [p, q] = [from, end].map(|along| flat.point(slant.point(along)));
                        drawing.line(Layer::Work, p, q, pen);
                    }
                }
            }
            for edge in merged(all) {
                let (p, q) = flat.edge(&edge);
                drawing.line(Layer::Work, p, q, pen);
            }
        }
    }

    /// Thin lines across the upper faces of ruled pieces, where they are seen.
    fn rulings(&self, drawing: &mut Drawing, flat: Flat, boxes: &[Body]) {
        let step = ((RULING * flat.unit) as i64).max(1);
        for piece in self.pieces.iter().filter(|p| p.ruled && p.shown().is_solid()) {
            let Block3 { low, high } = piece.shown();
            let mut y = low[1] + step;
            while y < high[1] {
                let line = Edge { axis: Axis::X, at: [low[0], y, high[2]], end: high[0] };
                for stretch in stretches(&line, flat.eye, boxes) {
                    let (p, q) = flat.edge(&stretch);
                    drawing.line(Layer::Contents, p, q, Pen::Thin);
                }
                y += step;
            }
        }
    }

    /// Thin lines from each piece that is drawn apart to its place, along the axis of its longest way: from the
    /// outermost corners at either side as the page is seen, where nothing hides them.
    fn ways_home(&self, drawing: &mut Drawing, flat: Flat, boxes: &[Body]) {
        for piece in self.pieces.iter().filter(|p| p.apart != [0; 3] && p.shown().is_solid()) {
            let shown = piece.shown();
            let longest = |axis: &Axis| piece.apart[*axis as usize].abs();
            let Some(axis) = Axis::ALL.into_iter().max_by_key(longest) else { continue };
            let a = axis as usize;
            // From the side that looks home to where that side belongs.
            let (from, end) = if piece.apart[a] > 0 {
                (piece.home.low[a], shown.low[a])
            } else {
                (shown.high[a], piece.home.high[a])
            };
            let along = |edge: &Edge| edge.axis == axis;
            let mut ways: Vec<Edge> = edges(shown).into_iter().filter(along).collect();
            for way in &mut ways {
                way.at[a] = from;
                way.end = end;
            }
            ways.sort_by(|p, q| flat.edge(p).0.x.total_cmp(&flat.edge(q).0.x));
            let outermost = [ways.first(), ways.last()];
            for way in outermost.into_iter().flatten().filter(|way| way.at[a] < way.end) {
                for stretch in stretches(way, flat.eye, boxes) {
                    let (p, q) = flat.edge(&stretch);
                    drawing.line(Layer::Contents, p, q, Pen::Centre);
                }
            }
        }
    }

    fn rods(&self, drawing: &mut Drawing, flat: Flat, boxes: &[Body]) {
        for rod in &self.rods {
            let a = rod.axis as usize;
            let end = rod.at[a] + rod.length;
            for side in [1, -1] {
                let mut from = rod.at;
                let off = flat.across(rod.axis, rod.radius * side);
                (0..3).for_each(|i| from[i] += off[i]);
                for stretch in stretches(&Edge { axis: rod.axis, at: from, end }, flat.eye, boxes) {
                    let (p, q) = flat.edge(&stretch);
                    drawing.line(Layer::Contents, p, q, Pen::Thin);
                }
            }
            let near = if flat.eye[a] > 0 { end } else { rod.at[a] };
            self.ring(drawing, flat, boxes, rod, near, rod.radius);
            if let Some(upper) = rod.head {
                let place = if upper { end } else { rod.at[a] };
                self.ring(drawing, flat, boxes, rod, place, rod.radius * 2);
            }
        }
    }

    /// A circle across a rod where it is seen, as a chain of short lines.
    fn ring(
        &self,
        drawing: &mut Drawing,
        flat: Flat,
        boxes: &[Body],
        rod: &Rod,
        place: i64,
        radius: i64,
    ) {
        const STEPS: i32 = 24;
        let (b, c) = rod.axis.others();
        let mut run: Vec<Point> = Vec::new();
        for step in 0..=STEPS {
            let turn = f64::from(step % STEPS) / f64::from(STEPS) * std::f64::consts::TAU;
            let mut p = rod.at;
            p[rod.axis as usize] = place;
            p[b] += (radius as f64 * libm::cos(turn)) as i64;
            p[c] += (radius as f64 * libm::sin(turn)) as i64;
            if point_seen(p, flat.eye, boxes) {
                run.push(flat.point(p));
            }
            if !point_seen(p, flat.eye, boxes) || step == STEPS {
                if run.len() > 1 {
                    let points = std::mem::take(&mut run);
                    let shape = Shape::Path {
                        points,
                        closed: false,
                        pen: Some(Pen::Thin),
                        fill: Fill::None,
                    };
                    drawing.add(Layer::Contents, shape);
                }
                run.clear();
            }
        }
    }
}

fn stretches(edge: &Edge, eye: [i64; 3], boxes: &[Body]) -> Vec<Edge> {
    let a = edge.axis as usize;
    seen(edge, eye, boxes)
        .into_iter()
        .map(|(from, end)| {
            let mut at = edge.at;
            at[a] = from;
            Edge { axis: edge.axis, at, end }
        })
        .collect()
}

/// From space to the page.
#[derive(Debug, Clone, Copy)]
struct Flat {
    eye: [i64; 3],
    /// Model units in a millimetre of paper along an axis.
    unit: f64,
    origin: Point,
}

/// cos 30°, sin 30°.
const COS: f64 = 0.866_025_403_784_438_6;
const SIN: f64 = 0.5;

impl Flat {
    /// With the eye at (a, b, c) the page's right is (−b, a, 0) and its up (−c·a, −c·b, 2): both to scale of
    /// the axes once the first is taken by cos 30° and the second by sin 30°.
    fn point(&self, p: [i64; 3]) -> Point {
        let [a, b, c] = self.eye.map(|v| v as f64);
        let [x, y, z] = p.map(|v| v as f64 / self.unit);
        let right = (-b * x + a * y) * COS;
        let up = (-c * a * x - c * b * y) * SIN + z;
        at(self.origin.x + right, self.origin.y - up)
    }

    fn edge(&self, edge: &Edge) -> (Point, Point) {
        let mut end = edge.at;
        end[edge.axis as usize] = edge.end;
        (self.point(edge.at), self.point(end))
    }

    fn extent(&self, of: Block3) -> Rect {
        let corner = |i: usize| {
            let pick = |a: usize| if i >> a & 1 == 0 { of.low[a] } else { of.high[a] };
            let p = self.point([pick(0), pick(1), pick(2)]);
            rect(p.x, p.y, p.x, p.y)
        };
        (1..8).map(corner).fold(corner(0), |a, b| a.hull(&b))
    }

    /// A step square to an axis that looks as far out as a cylinder of that radius does.
    fn across(&self, axis: Axis, radius: i64) -> [i64; 3] {
        let (b, c) = axis.others();
        let mut step = [0; 3];
        let part = (radius as f64 * std::f64::consts::FRAC_1_SQRT_2) as i64;
        step[b] = part * self.eye[c];
        step[c] = -part * self.eye[b];
        step
    }
}

#[cfg(test)]
mod tests;
