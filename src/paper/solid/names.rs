//! Marks on the pieces of a view, and beside it.

use super::super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Point, Rect, Shape, Text, at};
use super::super::measure::{NOTE, SMALL, text_box};
use super::hidden::{Body, point_seen};
use super::{Flat, Piece};

/// Distance of marks beside a view, mm.
const PITCH: f64 = 4.6;

/// Names every piece that has a mark: once on what is seen of it, as near its middle as there is room clear of every
/// line, else at the nearer side of the view with a leader. O(pieces × (boxes + lines)).
pub(super) fn name(d: &mut Drawing, pieces: &[Piece], flat: Flat, boxes: &[Body], view: Rect) {
    let lines = d.lines();
    let mut beside: [Vec<(Point, String)>; 2] = [Vec::new(), Vec::new()];
    let mut taken: Vec<Rect> = Vec::new();
    for piece in pieces {
        let Some(mark) = &piece.mark else { continue };
        let spots = seen_spots(piece.body(), flat, boxes);
        let Some(middle) = spots.first().copied() else { continue };
        let set = |spot: &Point| {
            let place = at(spot.x, spot.y + NOTE / 2.0);
            Text::new(place, mark.clone(), NOTE, Anchor::Middle).bold()
        };
        let clear = |text: &Text| {
            let own = text_box(text).grown(0.3);
            !taken.iter().any(|t| t.overlaps(&own))
                && !lines.iter().any(|(p, q)| own.crossed(*p, *q))
        };
        if let Some(text) = spots.iter().map(set).find(clear) {
            taken.push(text_box(&text));
            d.add(Layer::Labels, text);
        } else {
            let side = usize::from(middle.x > view.centre().x);
            beside[side].push((middle, mark.clone()));
        }
    }
    for (side, marks) in beside.into_iter().enumerate() {
        stack(d, marks, side == 1, view);
    }
}

/// Points across each face toward the eye.
const LATTICE: i64 = 12;

/// Points that are seen of a piece: of its largest seen face first, the nearest to its middle first.
fn seen_spots(of: Body, flat: Flat, boxes: &[Body]) -> Vec<Point> {
    let (low, high) = (of.space.low, of.space.high);
    let mut faces: Vec<(f64, Vec<Point>)> = Vec::new();
    for axis in 0..3 {
        let (b, c) = super::hidden::Axis::ALL[axis].others();
        let mut points = Vec::new();
        for i in 0..LATTICE {
            for j in 0..LATTICE {
                let part =
                    |a: usize, k: i64| low[a] + (high[a] - low[a]) / (2 * LATTICE) * (2 * k + 1);
                let mut p = low;
                p[axis] = if flat.eye[axis] > 0 { high[axis] } else { low[axis] };
                p[b] = part(b, i);
                p[c] = part(c, j);
                if of.holds(p) && point_seen(p, flat.eye, boxes) {
                    points.push(flat.point(p));
                }
            }
        }
        let side = |a: usize| (high[a] - low[a]) as f64 / flat.unit;
        faces.push((points.len() as f64 * side(b) * side(c), points));
    }
    faces.sort_by(|p, q| q.0.total_cmp(&p.0));
    faces.into_iter().flat_map(|(_, points)| from_the_middle(points)).collect()
}

/// The same points, the nearest to the mean of all first.
fn from_the_middle(mut points: Vec<Point>) -> Vec<Point> {
    let n = points.len() as f64;
    let mean = at(
        points.iter().map(|p| p.x).sum::<f64>() / n,
        points.iter().map(|p| p.y).sum::<f64>() / n,
    );
    let off = |p: &Point| (p.x - mean.x) * (p.x - mean.x) + (p.y - mean.y) * (p.y - mean.y);
    points.sort_by(|p, q| off(p).total_cmp(&off(q)));
    points
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
