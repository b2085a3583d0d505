//! What is hidden is hidden, against a slow twin that walks rays; pictures fit their room.

use super::hidden::seen;
use super::*;

fn block(low: [i64; 3], high: [i64; 3]) -> Block3 {
    Block3 { low, high }
}

/// Pseudo-random numbers, the same on every machine (Marsaglia's xorshift, 2003).
struct Draw(u64);

impl Draw {
    fn below(&mut self, n: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.unsigned_abs()) as i64
    }
}

/// Whether a body hides the point, by walking the ray in steps of a quarter of a unit, which miss no inside as all
/// corners are whole and all slopes 45°.
fn hides(body: Body, p: [i64; 3], eye: [i64; 3]) -> bool {
    let of = body.space;
    (1..480).any(|step| {
        let here = [0, 1, 2].map(|i| 4 * p[i] + eye[i] * step);
        let inside = (0..3).all(|i| 4 * of.low[i] < here[i] && here[i] < 4 * of.high[i]);
        // Nearer to the kept corner than to the sawn-off one, by steps along x and y.
        let from = |i: usize, far: bool| {
            if far { 4 * of.high[i] - here[i] } else { here[i] - 4 * of.low[i] }
        };
        let kept = |h: Half| from(0, h.right) + from(1, h.rear) < 4 * (of.high[0] - of.low[0]);
        inside && body.half.is_none_or(kept)
    })
}

#[test]
fn edges_are_hidden_exactly_where_rays_say_so() {
    let mut draw = Draw(0x9e37_79b9_7f4a_7c15);
    let mut both = (0, 0);
    for _ in 0..300 {
        let boxes: Vec<Body> = (0..4)
            .map(|i| {
                let low = [0; 3].map(|_: i64| 4 * draw.below(8));
                let mut space = block(low, low.map(|l| l + 4 + 4 * draw.below(6)));
                let half = (i % 2 == 1)
                    .then(|| Half { right: draw.below(2) == 1, rear: draw.below(2) == 1 });
                if half.is_some() {
                    space.high[1] = low[1] + space.high[0] - low[0];
                }
                Body { space, half }
            })
            .collect();
        let eye = [Eye::RightAbove, Eye::LeftAbove, Eye::RightBelow, Eye::LeftBelow]
            [draw.below(4) as usize]
            .direction();
        for edge in boxes[0].edges().into_iter().chain(boxes[1].edges()) {
            let a = edge.axis as usize;
            let visible = seen(&edge, eye, &boxes);
            // All sizes are fours, so that stretches end at fours too: odd places lie strictly within one.
            for s in (edge.at[a] + 1..edge.end).step_by(2) {
                let mut p = edge.at;
                p[a] = s;
                let by_rays = !boxes.iter().any(|b| hides(*b, p, eye));
                let inside = visible.iter().any(|(from, to)| *from < s && s < *to);
                assert!(inside == by_rays, "{edge:?} at {s}: {visible:?}");
                if by_rays { both.0 += 1 } else { both.1 += 1 }
            }
        }
    }
    assert!(both.0 > 1000 && both.1 > 1000, "the draw has both: {both:?}");
}

#[test]
fn sawn_edges_are_hidden_exactly_where_rays_say_so() {
    let mut draw = Draw(0x2545_f491_4f6c_dd1d);
    let mut both = (0, 0);
    for _ in 0..300 {
        let low = [0; 3].map(|_: i64| 4 * draw.below(8));
        let side = 4 + 4 * draw.below(6);
        let half = Half { right: draw.below(2) == 1, rear: draw.below(2) == 1 };
        let own = Body { space: block(low, low.map(|l| l + side)), half: Some(half) };
        let mut all: Vec<Body> = (0..3)
            .map(|_| {
                let low = [0; 3].map(|_: i64| 4 * draw.below(8));
                Body::from(block(low, low.map(|l| l + 4 + 4 * draw.below(6))))
            })
            .collect();
        all.push(own);
        let eye = [Eye::RightAbove, Eye::LeftAbove, Eye::RightBelow, Eye::LeftBelow]
            [draw.below(4) as usize]
            .direction();
        for slant in own.slants(eye) {
            let visible = slant.seen(eye, &all);
            for s in (1..side).step_by(2) {
                let by_rays = !all.iter().any(|b| hides(*b, slant.point(s), eye));
                let inside = visible.iter().any(|(from, to)| *from < s && s < *to);
                assert!(inside == by_rays, "{slant:?} at {s}: {visible:?}");
                if by_rays { both.0 += 1 } else { both.1 += 1 }
            }
        }
    }
    assert!(both.0 > 500 && both.1 > 500, "the draw has both: {both:?}");
}

#[test]
fn a_lone_box_shows_nine_edges() {
    let scene = Scene { pieces: vec![Piece::new(block([0; 3], [40, 60, 20]))], ..Scene::default() };
    let set = Setting { units_per_mm: 1, room: (200.0, 200.0), scales: Scale::METRIC };
    let (drawing, scale) = scene.draw("box", "a box", set).expect("it fits");
    assert_eq!(scale.reduction(), 1);
    assert_eq!(drawing.items.len(), 9);
    let ink = drawing.ink().expect("nine lines");
    assert!(drawing.page().contains(&ink));
    // Isometric: across (40 + 60)·cos 30°, up (40 + 60)/2 + 20.
    assert!((ink.width() - 100.0 * COS).abs() < 1e-9 && (ink.height() - 70.0).abs() < 1e-9);
}

/// Three boxes that overlap in a ring have no order of centroids nor of any kind: each hides a part of the
/// next.
#[test]
fn a_ring_of_overlaps_is_drawn_right() {
    let ring = [
        block([0, 0, 20], [60, 10, 30]),
        block([50, -40, 0], [60, 40, 10]),
        block([0, -40, 0], [10, -30, 60]),
    ];
    let bodies = ring.map(Body::from);
    let eye = Eye::RightAbove.direction();
    for one in ring {
        let parts: i64 =
            edges(one).iter().flat_map(|e| seen(e, eye, &bodies)).map(|(from, to)| to - from).sum();
        let alone: i64 = edges(one)
            .iter()
            .flat_map(|e| seen(e, eye, &[one.into()]))
            .map(|(from, to)| to - from)
            .sum();
        assert!(parts <= alone);
    }
}

#[test]
fn what_is_drawn_apart_is_joined_to_its_place_and_named() {
    let mut lid = Piece::new(block([0, 0, 20], [400, 600, 30]));
    lid.apart = [0, 0, 200];
    lid.mark = Some("D1".to_owned());
    let mut body = Piece::new(block([0, 0, 0], [400, 600, 20]));
    body.new = false;
    body.mark = Some("B1".to_owned());
    let rods =
        vec![Rod { axis: Axis::Z, at: [200, 100, 60], length: 60, radius: 3, head: Some(true) }];
    let scene = Scene { pieces: vec![lid, body], rods, eye: Eye::LeftAbove };
    let set = Setting { units_per_mm: 1, room: (170.0, 150.0), scales: Scale::METRIC };
    let (drawing, scale) = scene.draw("lid", "a lid above a box", set).expect("it fits");
    assert_eq!(scale.reduction(), 10);
    let count = |pen: Pen| {
        drawing
            .items
            .iter()
            .filter(|i| matches!(&i.shape, Shape::Line { pen: p, .. } if *p == pen))
            .count()
    };
    assert!(count(Pen::Centre) >= 1, "the way home");
    assert!(count(Pen::Thick) == 9);
    let words: Vec<&str> = drawing.text_boxes().into_iter().map(|(_, t)| t).collect();
    assert!(words.contains(&"D1") && words.contains(&"B1"));
    assert!(drawing.page().contains(&drawing.ink().expect("lines")));
    assert_eq!(scene.draw("lid", "a lid above a box", set).expect("again").0, drawing);
}
