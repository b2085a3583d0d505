//! Orthotropic plates and free edges, with an edge beam and without, against finite elements (`plates.py`).

use bedwright::mechanics::checks::deck::free_edge::FreeEdge;
use bedwright::mechanics::panel::{Axis, Plies, SpanRating, plywood};
use bedwright::mechanics::plate::{Load, Plate};
use bedwright::units::physics::{BendingStiffness, Force, Metres, PlateStiffness};
use serde_json::{Value, json};

/// A rated panel's stiffnesses along and across its grain, and what the twist of 15/32 or 23/32 in plywood adds.
fn panels() -> [(PlateStiffness, PlateStiffness, f64); 3] {
    let of = |rating, plies, axis| plywood(rating, plies, axis).stiffness;
    let (half, three) = ((SpanRating::R32x16, Plies::Four), (SpanRating::R48x24, Plies::Five));
    [
        (of(half.0, half.1, Axis::Across), of(half.0, half.1, Axis::Along), 112.5),
        (of(three.0, three.1, Axis::Across), of(three.0, three.1, Axis::Along), 405.7),
        (of(three.0, three.1, Axis::Along), of(three.0, three.1, Axis::Across), 405.7),
    ]
}

const SPANS: [f64; 2] = [0.4, 0.7];
const FORCE: f64 = 1100.0;
const FOOT: f64 = 0.05;
/// Stiffness of a beam along the free edge: none, and a small steel angle.
const BEAMS: [f64; 2] = [0.0, 1850.0];

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().expect("a number")
}

#[track_caller]
fn close(found: f64, expected: f64, share: f64, what: &str) {
    assert!((found / expected - 1.0).abs() <= share, "{what}: {found} is not {expected}");
}

#[test]
fn finite_elements_agree_on_orthotropic_plates_and_free_edges() {
    let mut questions = Vec::new();
    for (dx, dy, h) in panels() {
        let (dx, dy) = (dx.in_newton_metres(), dy.in_newton_metres());
        for a in SPANS {
            let plate = json!({"a": a, "b": 1.8, "dx": dx, "dy": dy, "h": h});
            let with = |more: Value| {
                let mut one = plate.clone();
                for (key, value) in more.as_object().expect("an object") {
                    one[key] = value.clone();
                }
                one
            };
            let middle = json!({"p": FORCE, "x": a / 2.0, "y": 0.9, "w": FOOT, "d": FOOT});
            questions.push(with(json!({"load": middle})));
            let edge = json!({"p": FORCE, "x": a / 2.0, "y": 0.0, "w": FOOT, "d": 0.0});
            for beam in BEAMS {
                questions.push(with(json!({"load": edge, "free": true, "beam": beam})));
            }
        }
    }
    let asked = Value::from(questions);
    let Some(answers) = super::ask("plates.py", &["numpy"], &asked) else { return };
    let mut answers = answers.as_array().expect("an answer a question").iter();
    for (dx, dy, h) in panels() {
        let twist = PlateStiffness::newton_metres(h);
        for a in SPANS {
            let span = Metres::of(a);
            let (b, foot, force) = (Metres::of(1.8), Metres::of(FOOT), Force::newtons(FORCE));
            let coupling = PlateStiffness::ZERO;
            let plate = Plate { a: span, b, stiffness_x: dx, stiffness_y: dy, twist, coupling };
            let (x, y) = (span / 2.0, b / 2.0);
            let load = Load::Patch { x, y, dx: foot, dy: foot, load: force / foot / foot };
            let ours = plate.under(&[load], 63).at(x, y);
            let theirs = answers.next().expect("one a question");
            close(ours.deflection.in_metres(), number(theirs, "deflection"), 2e-3, "a plate's sag");
            close(ours.moment_x.in_newtons(), number(theirs, "moment"), 0.03, "a plate's moment");
            for beam in BEAMS {
                let beam = BendingStiffness::newton_square_metres(beam);
                let edge = FreeEdge { span, along: dx, across: dy, twist, beam };
                let ours = edge.under(force, foot);
                let theirs = answers.next().expect("one a question");
                let deflection = number(theirs, "deflection");
                close(ours.deflection.in_metres(), deflection, 5e-3, "a free edge's sag");
                close(ours.moment.in_newtons(), number(theirs, "moment"), 0.03, "its moment");
            }
        }
    }
}
