//! Marks on the pieces of a view, and beside it.

use super::super::drawing::{
    Anchor, Drawing, Fill, Layer, Pen, Point, Rect, Shape, Text, at, rect,
};
use super::super::measure::{NOTE, SMALL, text_box, text_width};
use super::hidden::{Block3, point_seen};
use super::{Flat, Piece};

/// Distance of marks beside a view, mm.
const PITCH: f64 = 4.6;

/// Names every piece that has a mark: once in the middle of its largest seen face if the mark fits
/// there with room to spare, else at the nearer side of the view with a leader to the middle of what is
/// seen of it. O(pieces × boxes).
pub(super) fn name(d: &mut Drawing, pieces: &[Piece], flat: Flat, boxes: &[Block3], view: Rect) {
    let mut beside: [Vec<(Point, String)>; 2] = [Vec::new(), Vec::new()];
    let mut taken: Vec<Rect> = Vec::new();
    for piece in pieces {
        let Some(mark) = &piece.mark else { continue };
        let Some(spot) = seen_middle(piece.shown(), flat, boxes) else { continue };
        let height = NOTE;
        let wide = text_width(mark, height, true) + 2.0;
        let own = rect(
            spot.at.x - wide / 2.0,
            spot.at.y - height,
            spot.at.x + wide / 2.0,
            spot.at.y + height,
        );
        let free = !taken.iter().any(|t| t.overlaps(&own));
        if free && spot.holds(wide, height * 1.8) {
            let place = at(spot.at.x, spot.at.y + height / 2.0);
            let text = Text::new(place, mark.clone(), height, Anchor::Middle).bold();
            taken.push(text_box(&text));
            d.add(Layer::Labels, text);
        } else {
            let side = usize::from(spot.at.x > view.centre().x);
            beside[side].push((spot.at, mark.clone()));
        }
    }
    for (side, marks) in beside.into_iter().enumerate() {
        stack(d, marks, side == 1, view);
    }
}

/// The middle of what is seen of a face, and how much of it that is.
struct Seen {
    at: Point,
    /// Seen points of the face's lattice around the middle.
    points: Vec<Point>,
    /// How far apart they may lie.
    step: f64,
}

impl Seen {
    /// Whether a rectangle of that size around the middle is seen to be free: each of its corners has a seen
    /// point near it.
    fn holds(&self, wide: f64, tall: f64) -> bool {
        [(-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)].iter().all(|(x, y)| {
            let (cx, cy) = (self.at.x + wide * x, self.at.y + tall * y);
            self.points.iter().any(|p| {
                let (dx, dy) = (p.x - cx, p.y - cy);
                dx * dx + dy * dy <= self.step * self.step * 0.5
            })
        })
    }
}

/// Points across each face toward the eye.
const LATTICE: i64 = 12;

fn seen_middle(of: Block3, flat: Flat, boxes: &[Block3]) -> Option<Seen> {
    let mut best: Option<(f64, Seen)> = None;
    for axis in 0..3 {
        let (b, c) = super::hidden::Axis::ALL[axis].others();
        let mut points = Vec::new();
        for i in 0..LATTICE {
            for j in 0..LATTICE {
                let part = |a: usize, k: i64| {
                    let extent = of.high[a] - of.low[a];
                    of.low[a] + extent / (2 * LATTICE) * (2 * k + 1)
                };
                let mut p = of.low;
                p[axis] = if flat.eye[axis] > 0 { of.high[axis] } else { of.low[axis] };
                p[b] = part(b, i);
                p[c] = part(c, j);
                if point_seen(p, flat.eye, boxes) {
                    points.push(flat.point(p));
                }
            }
        }
        let side = |a: usize| (of.high[a] - of.low[a]) as f64 / flat.unit;
        let area = points.len() as f64 * side(b) * side(c);
        let step = side(b).max(side(c)) / LATTICE as f64 * 1.8;
        if let Some(at) = middle(&points)
            && best.as_ref().is_none_or(|(most, _)| area > *most)
        {
            best = Some((area, Seen { at, points, step }));
        }
    }
    best.map(|(_, seen)| seen)
}

/// The point nearest the mean of all.
fn middle(points: &[Point]) -> Option<Point> {
    let n = points.len() as f64;
    let mean = at(
        points.iter().map(|p| p.x).sum::<f64>() / n,
        points.iter().map(|p| p.y).sum::<f64>() / n,
    );
    let off = |p: &Point| (p.x - mean.x) * (p.x - mean.x) + (p.y - mean.y) * (p.y - mean.y);
    points.iter().copied().min_by(|p, q| off(p).total_cmp(&off(q)))
}

/// Marks in a column at a side of the view, level with what they name as far as they have room; alike
/// marks side by side are still one each, as each has its own leader.
fn stack(d: &mut Drawing, mut marks: Vec<(Point, String)>, right: bool, view: Rect) {
    marks.sort_by(|p, q| p.0.y.total_cmp(&q.0.y).then(p.0.x.total_cmp(&q.0.x)).then(p.1.cmp(&q.1)));
    let most = (view.height() / PITCH).floor().max(1.0) as usize;
    let pitch = if marks.len() > most { view.height() / marks.len() as f64 } else { PITCH };
    let height = if pitch < PITCH { SMALL.min(pitch * 0.7) } else { NOTE };
    let mut places: Vec<f64> = Vec::with_capacity(marks.len());
    for (spot, _) in &marks {
        let free = places.last().map_or(view.y0 + pitch / 2.0, |last| last + pitch);
        places.push(spot.y.max(free));
    }
    // Whatever was pushed past the foot pushes back up.
    let mut limit = view.y1 - pitch / 2.0;
    for place in places.iter_mut().rev() {
        *place = place.min(limit);
        limit = *place - pitch;
    }
    for ((spot, mark), y) in marks.into_iter().zip(places) {
        let (x, anchor, tip) = if right {
            (view.x1 + 4.0, Anchor::Start, view.x1 + 3.0)
        } else {
            (view.x0 - 4.0, Anchor::End, view.x0 - 3.0)
        };
        d.add(Layer::Labels, Text::new(at(x, y + height / 2.0), mark, height, anchor).bold());
        d.line(Layer::Labels, at(tip, y), spot, Pen::Thin);
        d.add(
            Layer::Labels,
            Shape::Circle { centre: spot, radius: 0.5, pen: None, fill: Fill::Black },
        );
    }
}
