//! Strips, beams with overhangs and plates against PyNiteFEA, a general structural library.
//!
//! Beams agree to a thousandth. Plates of rectangular elements converge from a coarse mesh: a hundredth is asked of them. The
//! strip that stands for a free edge under a foot is a rule on the safe side: it must not sag less than the plate.

use bedwright::mechanics::beam::overhang;
use bedwright::mechanics::checks::deck::free_edge::FreeEdge;
use bedwright::mechanics::plate::{Load, Plate};
use bedwright::mechanics::strip::{Patch, Strip};
use bedwright::units::physics::{
    AreaLoad, BendingStiffness, Force, LineLoad, Metres, PlateStiffness,
};
use serde_json::{Value, json};

/// Spans in metres, loads as (span, from, to, N/m).
type StripCase = (&'static [f64], &'static [(usize, f64, f64, f64)]);

const STRIPS: [StripCase; 3] = [
    (&[0.6], &[(0, 0.1, 0.4, 1500.0)]),
    (&[0.5, 0.7, 0.4], &[(0, 0.0, 0.5, 1000.0), (1, 0.2, 0.45, 4000.0)]),
    (
        &[0.45, 0.45, 0.6, 0.3],
        &[(0, 0.0, 0.45, 800.0), (2, 0.0, 0.6, 800.0), (3, 0.1, 0.2, 5000.0)],
    ),
];
const EI: f64 = 1000.0;
/// Isotropic plates: sides in metres, stiffness.
const PLATES: [(f64, f64, f64); 2] = [(0.6, 1.2, 388.8), (0.5, 0.75, 200.0)];
/// A free edge: span, stiffness.
const EDGES: [(f64, f64); 1] = [(0.5, 400.0)];
/// Side of the foot at the free edge, along it; half as deep.
const FOOT: f64 = 0.1;

fn questions() -> Value {
    let strips = STRIPS.iter().map(|(spans, loads)| {
        let loads: Vec<Value> = loads
            .iter()
            .map(|(span, from, to, w)| json!({"span": span, "from": from, "to": to, "w": w}))
            .collect();
        json!({"strip": {"spans": spans, "ei": EI, "loads": loads}})
    });
    let overhang = json!({"overhang": {"span": 1.2, "reach": 0.5, "ei": 2000.0, "p": 300.0}});
    let plates = PLATES
        .iter()
        .map(|(a, b, d)| json!({"plate": {"a": a, "b": b, "d": d, "q": 2000.0, "mesh": 8}}));
    let edges = EDGES.iter().map(|(span, d)| {
        json!({"plate": {"a": span, "b": span * 1.2, "d": d, "q": 440_000.0, "mesh": 10,
            "free_edge": true, "patch": [FOOT, FOOT / 2.0]}})
    });
    strips.chain([overhang]).chain(plates).chain(edges).collect()
}

fn close(found: f64, expected: f64, share: f64, what: &str) {
    assert!(
        (found - expected).abs() <= share * expected.abs(),
        "{what}: {found} is not {expected} within {share} of it"
    );
}

#[test]
fn a_structural_library_agrees_on_strips_beams_and_plates() {
    let Some(answers) = super::ask("structures.py", &["Pynite"], &questions()) else { return };
    let answers = answers.as_array().expect("an answer a question");
    let number = |value: &Value| value.as_f64().expect("a number");
    let (strips, rest) = answers.split_at(STRIPS.len());
    for ((spans, loads), answer) in STRIPS.iter().zip(strips) {
        let lengths: Vec<Metres> = spans.iter().map(|span| Metres::of(*span)).collect();
        let strip = Strip::new(&lengths, BendingStiffness::newton_square_metres(EI));
        let patches: Vec<Patch> = loads
            .iter()
            .map(|(span, from, to, w)| Patch {
                span: *span,
                from: Metres::of(*from),
                to: Metres::of(*to),
                load: LineLoad::newtons_per_metre(*w),
            })
            .collect();
        let deepest = answer["deflections"].as_array().expect("one a span").iter().map(number);
        let deepest = deepest.fold(0.0, f64::max);
        close(strip.solve(&patches).deflection.in_metres(), deepest, 2e-3, "a strip's sag");
        let moments = strip.support_moments(&patches);
        let inner = moments.iter().skip(1).zip(answer["moments"].as_array().expect("a list"));
        for (ours, theirs) in inner {
            close(ours.in_newton_metres().abs(), number(theirs), 1e-3, "a moment over a support");
        }
    }
    let (_, tip) = overhang(
        Force::newtons(300.0),
        Metres::of(0.5),
        Metres::of(1.2),
        BendingStiffness::newton_square_metres(2000.0),
    );
    close(tip.in_metres(), number(&rest[0]["tip"]), 1e-6, "an overhang's tip");
    let (plates, edges) = rest[1..].split_at(PLATES.len());
    for ((a, b, d), answer) in PLATES.iter().zip(plates) {
        let d = PlateStiffness::newton_metres(*d);
        let plate = Plate {
            a: Metres::of(*a),
            b: Metres::of(*b),
            stiffness_x: d,
            stiffness_y: d,
            twist: d,
            coupling: PlateStiffness::ZERO,
        };
        let ours = plate.at_centre(Load::Uniform(AreaLoad::pascals(2000.0))).deflection;
        close(ours.in_metres(), number(&answer["deflection"]), 0.01, "a plate's sag");
    }
    for ((span, d), answer) in EDGES.iter().zip(edges) {
        let (span, foot) = (Metres::of(*span), Metres::of(FOOT));
        let d = PlateStiffness::newton_metres(*d);
        let beam = BendingStiffness::ZERO;
        let edge = FreeEdge { span, along: d, across: d, twist: d, beam };
        let force = Force::newtons(440_000.0 * FOOT * FOOT / 2.0);
        let ours = edge.under(force, foot).deflection.in_metres();
        let theirs = number(&answer["deflection"]);
        assert!(theirs <= ours && ours < 1.2 * theirs, "a free edge: {ours} for {theirs}");
    }
}
