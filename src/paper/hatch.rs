//! Hatching as lines, so that every writer draws the same and none needs patterns of its own.

use super::drawing::{Hatch, Point, at};

/// The lines of a hatch clipped to a simple polygon, as pairs of ends.
///
/// Lines lie on a lattice fixed to the page, so that neighbouring areas of one hatch match. A
/// lattice line meets the polygon's edges in an even number of crossings, taken in pairs along it.
/// O(lines × corners).
pub fn hatch_lines(polygon: &[Point], hatch: Hatch) -> Vec<(Point, Point)> {
    // Spacing is measured across the lines; a slanting lattice steps by spacing × √2 in x + y.
    const ROOT2: f64 = std::f64::consts::SQRT_2;
    match hatch {
        Hatch::Rising => lattice(polygon, 1.0, 1.0, 3.0 * ROOT2),
        Hatch::Falling => lattice(polygon, -1.0, 1.0, 3.0 * ROOT2),
        Hatch::Level => lattice(polygon, 0.0, 1.0, 2.0),
        Hatch::Dense => lattice(polygon, 1.0, 1.0, 1.2 * ROOT2),
        Hatch::Crossed => {
            let mut lines = lattice(polygon, 1.0, 1.0, 4.0 * ROOT2);
            lines.extend(lattice(polygon, -1.0, 1.0, 4.0 * ROOT2));
            lines
        }
    }
}

/// Lines a·x + b·y = k·step for whole k, clipped. On paper y grows downward, so that x + y is
/// constant along a line rising to the right.
fn lattice(polygon: &[Point], a: f64, b: f64, step: f64) -> Vec<(Point, Point)> {
    let level = |p: &Point| a * p.x + b * p.y;
    let low = polygon.iter().map(level).fold(f64::INFINITY, f64::min);
    let high = polygon.iter().map(level).fold(f64::NEG_INFINITY, f64::max);
    let mut lines = Vec::new();
    let finite = low.is_finite() && high.is_finite();
    // A page holds some hundreds of lines; beyond that the polygon isn't on any paper.
    if polygon.len() < 3 || !finite || (high - low) / step > 10_000.0 {
        return lines;
    }
    let first = (low / step).ceil() as i64;
    let last = (high / step).floor() as i64;
    for k in first..=last {
        let c = k as f64 * step;
        let mut crossings: Vec<Point> = (0..polygon.len())
            .filter_map(|i| crossing(polygon[i], polygon[(i + 1) % polygon.len()], &level, c))
            .collect();
        crossings.sort_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
        for pair in crossings.chunks_exact(2) {
            if pair[0] != pair[1] {
                lines.push((pair[0], pair[1]));
            }
        }
    }
    lines
}

/// Where the edge p to q meets level c. An edge owns its lower end only, so that a corner counts
/// once where the line passes through, and twice or not at all where it touches.
fn crossing(p: Point, q: Point, level: &impl Fn(&Point) -> f64, c: f64) -> Option<Point> {
    let (lp, lq) = (level(&p), level(&q));
    if (lp <= c) == (lq <= c) {
        return None;
    }
    let t = (c - lp) / (lq - lp);
    Some(at(p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)))
}
