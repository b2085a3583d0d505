//! Panels as strips and plates, beams.

use crate::mechanics::Standing::{Derived, FromMemory, Published};
use crate::mechanics::beam::{EQUAL_SPANS, equal_spans_deflection};
use crate::mechanics::handbook::Group;
use crate::mechanics::panel::{
    Axis, Plies, SpanRating, Spans, deflection, deflection_span, load_by_bending, load_by_shear,
    plywood, thickness_range,
};
use crate::mechanics::plate::{Load, Plate};
use crate::mechanics::strip::Strip;
use crate::units::physics::{
    AreaLoad, BendingStiffness, Force, LineLoad, Metres, MomentPerWidth, PlateStiffness, Stress,
};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("deck");
    panels(&mut of);
    beams(&mut of);
    plates(&mut of);
    spans(&mut of);
    of
}

fn panels(of: &mut Group) {
    let (panel, ps1) = (thickness_range(23), "PS 1, APA's performance category page");
    of.one(3, Published, ps1, 0.02, (panel.least.in_millimetres(), 17.46));
    of.one(3, Published, ps1, 0.02, (panel.most.in_millimetres(), 19.05));
    of.one(3, Published, ps1, 0.02, (panel.stack_spread(3).in_millimetres(), 4.76));
    let rated = |axis| plywood(SpanRating::R48x24, Plies::Five, axis).stiffness;
    let table = "AWC ASD/LRFD Manual, table M9.2-1 (read in a scan)";
    of.case(
        11,
        Published,
        table,
        1e-4,
        &[
            (rated(Axis::Along).in_newton_metres(), 4142.8),
            (rated(Axis::Across).in_newton_metres(), 861.5),
        ],
    );
    let example = "worked example published with open panel design code";
    let stiffness = PlateStiffness::pound_square_inches_per_foot(126_500.0);
    let span = Metres::inches(30.75);
    let sag = deflection(Spans::Three, AreaLoad::psf(32.881), span, stiffness);
    of.case(12, Published, example, 1e-4, &[(sag.in_inches(), 0.133_33)]);
    let bends = MomentPerWidth::pound_inches_per_foot(407.0) * 1.15;
    let bends = load_by_bending(Spans::Three, bends, Metres::inches(32.0)).in_psf();
    of.case(13, Published, example, 1e-3, &[(bends, 54.85)]);
    let shears = LineLoad::pounds_force_per_foot(198.0) * 1.15;
    let shears = load_by_shear(Spans::Three, shears, Metres::inches(30.5)).in_psf();
    of.case(14, Published, example, 1e-3, &[(shears, 149.3)]);
    let span = deflection_span(Metres::inches(22.5));
    let sag = |axis| deflection(Spans::One, AreaLoad::psf(100.0), span, rated(axis)).in_inches();
    let rule = "table M9.2-1 with the span rule of APA PDS 4.5";
    of.case(15, Derived, rule, 1e-3, &[(sag(Axis::Along), 0.0661), (sag(Axis::Across), 0.3177)]);
}

fn beams(of: &mut Group) {
    let textbook = "textbook coefficients; two structural libraries agree";
    let unit = BendingStiffness::newton_square_metres(1.0);
    let load = LineLoad::newtons_per_metre(1.0);
    for (index, row) in EQUAL_SPANS.iter().enumerate() {
        let strip = Strip::new(&vec![Metres::of(1.0); index + 1], unit);
        let bent = strip.solve(&strip.uniform(load));
        of.case(
            26,
            Derived,
            textbook,
            1e-3,
            &[
                (bent.deflection.in_metres(), row.deflection),
                (bent.sagging.in_newton_metres(), row.span_moment),
            ],
        );
        let hogging = bent.hogging.in_newton_metres();
        of.one(26, Derived, textbook, 1e-3 * 0.125, (hogging, -row.support_moment));
    }
    let stiffness = BendingStiffness::newton_square_metres(1176.9);
    let load = LineLoad::newtons_per_metre(1500.0);
    for (spans, expected) in [(3, 0.2246), (2, 0.1767), (1, 0.4248)] {
        let row = &EQUAL_SPANS[spans - 1];
        let sag = equal_spans_deflection(row, load, Metres::of(0.4), stiffness).in_millimetres();
        of.case(27, Derived, textbook, 2e-3, &[(sag, expected)]);
    }
}

fn unit(ratio: f64) -> Plate {
    let d = PlateStiffness::newton_metres(1.0);
    let (a, b) = (Metres::of(1.0), Metres::of(ratio));
    Plate { a, b, stiffness_x: d, stiffness_y: d, twist: d, coupling: d * 0.3 }
}

fn sag(plate: &Plate, pascals: f64) -> f64 {
    plate.at_centre(Load::Uniform(AreaLoad::pascals(pascals))).deflection.in_millimetres()
}

fn plates(of: &mut Group) {
    let table = "Timoshenko and Woinowsky-Krieger, table 8 (recomputed)";
    let one = Load::Uniform(AreaLoad::pascals(1.0));
    for (ratio, expected) in
        [(1.0, 0.004_062_4), (1.5, 0.007_724_0), (2.0, 0.010_128_7), (3.0, 0.012_232_7)]
    {
        let found = unit(ratio).at_centre(one).deflection.in_metres();
        of.case(29, Published, table, 2e-4, &[(found, expected)]);
    }
    let bent = unit(2.0).at_centre(one);
    of.case(
        30,
        Published,
        table,
        2e-3,
        &[(bent.moment_x.in_newtons(), 0.1017), (bent.moment_y.in_newtons(), 0.0464)],
    );
    for (ratio, expected) in [(1.0, 0.011_60), (2.0, 0.0165)] {
        let plate = unit(ratio);
        let (x, y) = (plate.a / 2.0, plate.b / 2.0);
        let load = Load::Point { x, y, force: Force::newtons(1.0) };
        let found = plate.at_centre(load).deflection.in_metres();
        of.case(31, Published, "Roark, case 1b over 10.92", 2e-3, &[(found, expected)]);
    }
    let (modulus, thick) = (Stress::gigapascals(8.0), Metres::millimetres(18.0));
    let plate = Plate::isotropic(Metres::of(0.6), Metres::of(1.2), modulus, thick, 0.3);
    of.case(32, Derived, "Navier's series", 1e-3, &[(sag(&plate, 2000.0), 0.6145)]);
    let of_1000 = PlateStiffness::newton_metres(1e3);
    let square = Plate {
        stiffness_x: of_1000,
        stiffness_y: of_1000,
        twist: of_1000,
        coupling: PlateStiffness::ZERO,
        ..unit(1.0)
    };
    of.case(36, Derived, "an isotropic plate", 1e-4, &[(sag(&square, 1000.0), 4.0624)]);
    // Rolling shear from memory: the row that the worked example uses.
    let shear = plywood(SpanRating::R32x16, Plies::Five, Axis::Along).planar_shear;
    let shear = shear.map_or(0.0, LineLoad::in_pounds_force_per_foot);
    of.case(14, FromMemory, "APA PDS, 165 lb/ft times 1.2", 1e-9, &[(shear, 198.0)]);
}

/// Continuous beams that others have worked.
fn spans(of: &mut Group) {
    // Singer and Pytel, Strength of Materials, problem 822, as mathalino.com prints its answer: the middle one of three spans
    // αL, L, βL under w alone has M₂ = −(wL²/4)·(1 + 2β)/(4(α + 1)(1 + β) − 1), M₃ likewise.
    let singer = "Singer and Pytel, problem 822 (answers printed by mathalino.com)";
    let (alpha, beta, span, load): (f64, f64, f64, f64) = (1.5, 0.75, 4.0, 2.0);
    let spans = [alpha * span, span, beta * span].map(Metres::of);
    let strip = Strip::new(&spans, BendingStiffness::newton_square_metres(1.0));
    let moments = strip.support_moments(&[strip.whole_span(1, LineLoad::newtons_per_metre(load))]);
    let below = 4.0 * (alpha + 1.0) * (1.0 + beta) - 1.0;
    let answer = |other: f64| load * span * span / 4.0 * (1.0 + 2.0 * other) / below;
    of.case(
        66,
        Published,
        singer,
        1e-9,
        &[
            (moments[1].in_newton_metres().abs(), answer(beta)),
            (moments[2].in_newton_metres().abs(), answer(alpha)),
        ],
    );
    // mathalino.com, three-moment equation: 300 N/m over three supports 3 m apart with equal overhangs x = 1.319 m that make
    // the reactions alike; the moment at the middle is −207 N·m, the reactions 863.8 N.
    let equal = "mathalino.com, three-moment equation, beam with equal reactions";
    let (w, span, x): (f64, f64, f64) = (300.0, 3.0, 1.319);
    let end = w * x * x / 2.0;
    let middle = EQUAL_SPANS[1].support_moment * w * span * span + end / 2.0;
    // An overhang's moment reaches the end reaction by its lever: (end − middle moment) over the span.
    let reaction = w * x + EQUAL_SPANS[1].end_reaction * w * span + 1.5 * end / span;
    of.one(67, Published, equal, 0.5, (middle, -207.0));
    of.one(67, Published, equal, 0.5, (reaction, 863.8));
}
