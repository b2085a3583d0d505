//! Worked examples that others have published, each with where it was read.

use super::Group;
use crate::mechanics::Standing::Published;
use crate::mechanics::beam::EQUAL_SPANS;
use crate::mechanics::jamming::locking_friction;
use crate::mechanics::movement::{LUMBER_WIDTH, change, lumber_shrinkage};
use crate::mechanics::pull::runaway_slope;
use crate::mechanics::strip::Strip;
use crate::units::physics::{BendingStiffness, Kilograms, LineLoad, Metres};

pub(super) fn cases() -> Group {
    let mut of = Group::new("worked examples");
    // Beer and Johnston, Statics, sample problem 4.13: a bracket whose two contacts are 6 in apart along a pipe, μ 0.25, locks
    // once its load stands 12 in from the pipe's axis. A drawer in its guides is the same bracket lying down.
    let bracket = "Beer and Johnston, Statics, sample problem 4.13 (bracket on a pipe)";
    let friction = locking_friction(Metres::inches(6.0), Metres::inches(12.0));
    of.case(65, Published, bracket, 1e-12, &[(friction, 0.25)]);
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
    // Wood magazine, September 2021: flat-sawn red alder 8 in wide over 6 %, 8 × 0.0026 × 6.
    let alder = change(Metres::inches(8.0), 0.0026, 6.0, 12.0).in_inches();
    of.case(68, Published, "Wood magazine, September 2021, red alder", 1e-9, &[(alder, 0.1248)]);
    // Green, FPL-RP-489: lumber from green to 15 % shrinks 2.80 % in width and 2.35 % in thickness (PS 20-70's figures).
    let green = "Green, FPL-RP-489, and PS 20-70's factors that it quotes";
    of.one(69, Published, green, 0.01, (lumber_shrinkage(LUMBER_WIDTH, 15.0), 2.80));
    let thickness = crate::mechanics::movement::LUMBER_THICKNESS;
    of.one(69, Published, green, 0.01, (lumber_shrinkage(thickness, 15.0), 2.35));
    // Missouri S&T, course 5260, problem 4.34: 0.2 % per percent, 13.25 in from 19 to 10 %.
    let joist = change(Metres::inches(13.25), 0.002, 19.0, 10.0).in_inches();
    of.case(70, Published, "Missouri S&T 5260, problem 4.34", 1e-9, &[(joist, -0.2385)]);
    // CCOHS on NIOSH's lifting equation: a load constant of 23 kg, about 51 lb; and a crate on a plane at 35° slides with μ 0.65
    // (brainmass.com), as a board tilted to measure friction would show.
    let ccohs = "CCOHS on NIOSH's lifting equation";
    of.one(71, Published, ccohs, 0.5, (Kilograms::of(23.0).in_pounds(), 51.0));
    of.holds(71, Published, "a crate at 35°, μ 0.65 (brainmass.com)", runaway_slope(0.65) < 35.0);
    of
}
