//! Straight beams: the closed forms of the textbooks.
//!
//! [`super::strip`] solves continuous beams of any spans; the coefficients here are for equal ones
//! and serve as its tests, and where a closed form is all that is wanted.

use crate::units::physics::{BendingStiffness, Force, LineLoad, Metres, Moment};

/// Coefficients of a beam over equal spans, every span under the same uniform load w.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EqualSpans {
    /// Reaction at an end, times w·L.
    pub end_reaction: f64,
    /// Reaction at an inner support, times w·L (nothing for one span).
    pub inner_reaction: f64,
    /// Moment over an inner support, times w·L² (negative: it bends the other way).
    pub support_moment: f64,
    /// Greatest moment within an end span, times w·L².
    pub span_moment: f64,
    /// Greatest deflection, times w·L⁴/(E·I).
    pub deflection: f64,
}

/// For one, two or three spans (any structures textbook; recomputed with independent solvers).
pub const EQUAL_SPANS: [EqualSpans; 3] = [
    EqualSpans {
        end_reaction: 0.5,
        inner_reaction: 0.0,
        support_moment: 0.0,
        span_moment: 0.125,
        deflection: 5.0 / 384.0,
    },
    EqualSpans {
        end_reaction: 0.375,
        inner_reaction: 1.25,
        support_moment: -0.125,
        span_moment: 0.070_312_5,
        deflection: 0.005_416_1,
    },
    EqualSpans {
        end_reaction: 0.4,
        inner_reaction: 1.1,
        support_moment: -0.1,
        span_moment: 0.08,
        deflection: 0.006_884_9,
    },
];

/// Greatest deflection of a simple span under a uniform load, 5wL⁴/(384EI).
pub fn uniform_deflection(load: LineLoad, span: Metres, stiffness: BendingStiffness) -> Metres {
    equal_spans_deflection(&EQUAL_SPANS[0], load, span, stiffness)
}

/// Greatest deflection of equal spans all under a uniform load.
pub fn equal_spans_deflection(
    spans: &EqualSpans,
    load: LineLoad,
    span: Metres,
    stiffness: BendingStiffness,
) -> Metres {
    let (w, l) = (load.in_newtons_per_metre(), span.in_metres());
    let ei = stiffness.in_newton_square_metres();
    Metres::of(spans.deflection * w * l * l * l * l / ei)
}

/// Greatest moment of a simple span under a uniform load, wL²/8.
pub fn uniform_moment(load: LineLoad, span: Metres) -> Moment {
    load * span * span / 8.0
}

/// Deflection under a load at mid-span of a simple span, PL³/(48EI).
pub fn midspan_load_deflection(load: Force, span: Metres, stiffness: BendingStiffness) -> Metres {
    let (p, l) = (load.in_newtons(), span.in_metres());
    Metres::of(p * l * l * l / (48.0 * stiffness.in_newton_square_metres()))
}

/// Moment under a load at mid-span of a simple span, PL/4.
pub fn midspan_load_moment(load: Force, span: Metres) -> Moment {
    load * span / 4.0
}

/// A load at the tip of an overhang `reach` beyond a simple span: moment over the support P·a, tip
/// deflection P·a²(L + a)/(3EI).
pub fn overhang(
    load: Force,
    reach: Metres,
    span: Metres,
    stiffness: BendingStiffness,
) -> (Moment, Metres) {
    let (p, a, l) = (load.in_newtons(), reach.in_metres(), span.in_metres());
    let tip = p * a * a * (l + a) / (3.0 * stiffness.in_newton_square_metres());
    (load * reach, Metres::of(tip))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::section::Rectangle;
    use crate::mechanics::testing::close;
    use crate::units::physics::Stress;

    // 5wL⁴/384EI; E of NDS Supplement 2018, Table 4A (quoted elsewhere).
    #[test]
    fn a_two_by_ten_lying_flat_sags() {
        let board = Rectangle { width: Metres::inches(9.25), depth: Metres::inches(1.5) };
        let stiffness = Stress::psi(1.4e6) * board.second_moment();
        let load = LineLoad::newtons_per_metre(1000.0);
        let sag = uniform_deflection(load, Metres::of(0.9), stiffness);
        close(sag.in_millimetres(), 0.8173, 1e-3);
    }

    // Derived: the textbook coefficients on a strip of panel 1 m wide.
    #[test]
    fn a_strip_over_three_two_and_one_spans() {
        let stiffness = BendingStiffness::newton_square_metres(1176.9);
        let load = LineLoad::newtons_per_metre(1500.0);
        for (spans, expected) in [(3, 0.2246), (2, 0.1767), (1, 0.4248)] {
            let coefficients = &EQUAL_SPANS[spans - 1];
            let sag = equal_spans_deflection(coefficients, load, Metres::of(0.4), stiffness);
            close(sag.in_millimetres(), expected, 2e-3);
        }
    }

    // Derived by hand from P·a²(L+a)/3EI.
    #[test]
    fn a_loaded_overhang() {
        let stiffness = BendingStiffness::newton_square_metres(2000.0);
        let (reach, span) = (Metres::of(0.5), Metres::of(1.2));
        let (moment, tip) = overhang(Force::newtons(300.0), reach, span, stiffness);
        close(tip.in_millimetres(), 21.25, 1e-6);
        close(moment.in_newton_metres(), 150.0, 1e-9);
    }

    // Textbook: a load at mid-span sags 8/5 as much as the same load spread out, with twice its
    // moment.
    #[test]
    fn a_point_load_is_worse_than_a_spread_one() {
        let stiffness = BendingStiffness::newton_square_metres(5000.0);
        let (span, force) = (Metres::of(0.8), Force::newtons(1000.0));
        let point = midspan_load_deflection(force, span, stiffness);
        let spread = uniform_deflection(force / span, span, stiffness);
        close(point / spread, 8.0 / 5.0, 1e-12);
        close(midspan_load_moment(force, span) / uniform_moment(force / span, span), 2.0, 1e-12);
    }
}
