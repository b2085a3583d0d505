//! A continuous strip over any supports, under uniform and patch loads.
//!
//! Clapeyron's theorem of three moments (textbook): with constant E·I and unyielding supports, the
//! slopes of neighbouring spans agree at each inner support, which gives one equation per support,
//! tridiagonal and diagonally dominant, solved in time linear in the spans. Deflections then
//! follow span by span in closed form. Sagging moments and downward deflections are positive.

use crate::units::physics::{BendingStiffness, Force, LineLoad, Metres, Moment};

/// A load spread evenly over part of one span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patch {
    /// Which span, from the left.
    pub span: usize,
    /// Where the load begins, from the span's left support.
    pub from: Metres,
    /// Where it ends.
    pub to: Metres,
    /// How much.
    pub load: LineLoad,
}

/// A strip over supports at its ends and between its spans.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    spans: Vec<f64>,
    stiffness: f64,
}

/// The worst of a loaded strip, over its whole length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// Greatest downward deflection.
    pub deflection: Metres,
    /// The span in which it is.
    pub span: usize,
    /// Where in the span.
    pub at: Metres,
    /// Greatest sagging moment.
    pub sagging: Moment,
    /// Greatest hogging moment (over a support), as a positive number.
    pub hogging: Moment,
    /// Greatest shear force on any section, as a positive number.
    pub shear: Force,
}

impl Worst {
    /// The greatest moment, whichever way it bends.
    pub fn moment(&self) -> Moment {
        self.sagging.max(self.hogging)
    }

    /// The worse of each of two load cases.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        let deeper = if other.deflection > self.deflection { other } else { self };
        Self {
            sagging: self.sagging.max(other.sagging),
            hogging: self.hogging.max(other.hogging),
            shear: self.shear.max(other.shear),
            ..deeper
        }
    }
}

/// How many points of a span are looked at before the best is refined.
const SAMPLES: usize = 12;

impl Strip {
    /// A strip of constant stiffness over `spans`, all greater than nothing.
    pub fn new(spans: &[Metres], stiffness: BendingStiffness) -> Self {
        let spans: Vec<f64> = spans.iter().map(|span| span.in_metres()).collect();
        debug_assert!(!spans.is_empty() && spans.iter().all(|&span| span > 0.0));
        Self { spans, stiffness: stiffness.in_newton_square_metres() }
    }

    /// The same load on every span.
    pub fn uniform(&self, load: LineLoad) -> Vec<Patch> {
        (0..self.spans.len()).map(|span| self.whole_span(span, load)).collect()
    }

    /// A load on the whole of one span.
    pub fn whole_span(&self, span: usize, load: LineLoad) -> Patch {
        Patch { span, from: Metres::ZERO, to: Metres::of(self.spans[span]), load }
    }

    /// The worst of a movable uniform load: all spans, and for each span it and every second one
    /// from it (worst for sag there), and for each inner support its neighbours and every second
    /// span beyond (worst for the moment there). These patterns are the exact worst cases, because
    /// influence lines change sign from span to span.
    pub fn worst_uniform(&self, load: LineLoad) -> Worst {
        let pick = |chosen: &dyn Fn(usize) -> bool| {
            let spans = (0..self.spans.len()).filter(|&span| chosen(span));
            let patches: Vec<Patch> = spans.map(|span| self.whole_span(span, load)).collect();
            self.solve(&patches)
        };
        let mut worst = pick(&|_| true).or(pick(&|span| span % 2 == 0));
        if self.spans.len() > 1 {
            worst = worst.or(pick(&|span| span % 2 == 1));
        }
        for support in 1..self.spans.len() {
            worst = worst.or(pick(&|span| {
                let away = if span < support { support - 1 - span } else { span - support };
                away % 2 == 0
            }));
        }
        worst
    }

    /// The worst of a patch of given length and load standing anywhere: in the middle of each span
    /// (worst for sag and moment there) and against each support (worst for shear).
    pub fn worst_patch(&self, length: Metres, load: LineLoad) -> Worst {
        let mut worst: Option<Worst> = None;
        for (span, &whole) in self.spans.iter().enumerate() {
            let length = length.in_metres().min(whole);
            for from in [0.0, (whole - length) / 2.0, whole - length] {
                let (from, to) = (Metres::of(from), Metres::of(from + length));
                let case = self.solve(&[Patch { span, from, to, load }]);
                worst = Some(worst.map_or(case, |so_far| so_far.or(case)));
            }
        }
        worst.expect("a strip has at least one span")
    }

    /// Moments over all supports, ends included (where they are nothing).
    pub fn support_moments(&self, patches: &[Patch]) -> Vec<Moment> {
        self.solve_moments(&self.members(patches)).into_iter().map(Moment::newton_metres).collect()
    }

    /// Greatest deflection, moments and shear under `patches`.
    pub fn solve(&self, patches: &[Patch]) -> Worst {
        let members = self.members(patches);
        let moments = self.solve_moments(&members);
        let mut worst: Option<Worst> = None;
        for (index, member) in members.iter().enumerate() {
            let bent = Bent { member, left: moments[index], right: moments[index + 1] };
            let case = self.worst_in_span(index, &bent);
            worst = Some(worst.map_or(case, |so_far| so_far.or(case)));
        }
        worst.expect("a strip has at least one span")
    }

    fn members(&self, patches: &[Patch]) -> Vec<Member> {
        let mut members: Vec<Member> =
            self.spans.iter().map(|&length| Member { length, loads: Vec::new() }).collect();
        for patch in patches {
            let member = &mut members[patch.span];
            let from = patch.from.in_metres().max(0.0);
            let to = patch.to.in_metres().min(member.length);
            member.loads.push((from, to.max(from), patch.load.in_newtons_per_metre()));
        }
        members
    }

    /// The three-moment equations by the tridiagonal algorithm.
    fn solve_moments(&self, members: &[Member]) -> Vec<f64> {
        let supports = self.spans.len() + 1;
        let mut moments = vec![0.0; supports];
        // Forward: row i reads a·M[i-1] + b·M[i] + c·M[i+1] = d.
        let mut ratios = vec![0.0; supports];
        let mut rests = vec![0.0; supports];
        for i in 1..supports - 1 {
            let (left, right) = (&members[i - 1], &members[i]);
            let d = -(left.right_slope() + right.left_slope());
            let (a, c) = (left.length / 6.0, right.length / 6.0);
            let pivot = 2.0 * (a + c) - a * ratios[i - 1];
            ratios[i] = c / pivot;
            rests[i] = (d - a * rests[i - 1]) / pivot;
        }
        for i in (1..supports - 1).rev() {
            moments[i] = rests[i] - ratios[i] * moments[i + 1];
        }
        moments
    }

    fn worst_in_span(&self, span: usize, bent: &Bent<'_>) -> Worst {
        let length = bent.member.length;
        let at = maximise(length, |x| bent.deflection(x));
        let peak = maximise(length, |x| bent.moment(x));
        let hogging = (-bent.left).max(-bent.right).max(0.0);
        let shears = [bent.shear_at_left(), bent.shear_at_right()];
        Worst {
            deflection: Metres::of(bent.deflection(at) / self.stiffness),
            span,
            at: Metres::of(at),
            sagging: Moment::newton_metres(bent.moment(peak).max(0.0)),
            hogging: Moment::newton_metres(hogging),
            shear: Force::newtons(shears[0].abs().max(shears[1].abs())),
        }
    }
}

/// One span with its loads, as a simple beam; deflections and slopes are times E·I.
struct Member {
    length: f64,
    loads: Vec<(f64, f64, f64)>,
}

impl Member {
    /// Slope at the left support under the loads alone: the integral over the patch of
    /// a(L−a)(2L−a)/6L, the slope under a unit load at a.
    fn left_slope(&self) -> f64 {
        let l = self.length;
        let whole = |a: f64| a * a * (l * l - l * a + a * a / 4.0);
        self.loads.iter().map(|&(p, q, w)| w * (whole(q) - whole(p)) / (6.0 * l)).sum()
    }

    /// The same at the right support: the integral of a(L−a)(L+a)/6L.
    fn right_slope(&self) -> f64 {
        let l = self.length;
        let whole = |a: f64| a * a * (l * l / 2.0 - a * a / 4.0);
        self.loads.iter().map(|&(p, q, w)| w * (whole(q) - whole(p)) / (6.0 * l)).sum()
    }

    fn left_reaction(&self) -> f64 {
        let l = self.length;
        self.loads.iter().map(|&(p, q, w)| w * (q - p) * (l - (p + q) / 2.0) / l).sum()
    }

    fn total(&self) -> f64 {
        self.loads.iter().map(|&(p, q, w)| w * (q - p)).sum()
    }
}

/// A span with the moments over its supports.
struct Bent<'a> {
    member: &'a Member,
    left: f64,
    right: f64,
}

impl Bent<'_> {
    fn moment(&self, x: f64) -> f64 {
        let l = self.member.length;
        let patches: f64 = self
            .member
            .loads
            .iter()
            .map(|&(p, q, w)| {
                let (into, beyond) = ((x - p).max(0.0), (x - q).max(0.0));
                w * (beyond * beyond - into * into) / 2.0
            })
            .sum();
        self.member.left_reaction() * x + patches + self.left * (l - x) / l + self.right * x / l
    }

    /// Deflection times E·I.
    fn deflection(&self, x: f64) -> f64 {
        let l = self.member.length;
        let fourth = |v: f64| v * v * v * v;
        let patches: f64 = self
            .member
            .loads
            .iter()
            .map(|&(p, q, w)| w * (fourth((x - p).max(0.0)) - fourth((x - q).max(0.0))) / 24.0)
            .sum();
        self.member.left_slope() * x - self.member.left_reaction() * x * x * x / 6.0
            + patches
            + self.left * x * (l - x) * (2.0 * l - x) / (6.0 * l)
            + self.right * x * (l * l - x * x) / (6.0 * l)
    }

    fn shear_at_left(&self) -> f64 {
        self.member.left_reaction() + (self.right - self.left) / self.member.length
    }

    fn shear_at_right(&self) -> f64 {
        self.shear_at_left() - self.member.total()
    }
}

/// Where on `[0, length]` a smooth function is greatest: sampled, then narrowed by golden section
/// between the best sample's neighbours.
fn maximise(length: f64, value: impl Fn(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let step = length / SAMPLES as f64;
    let (mut best, mut highest) = (0, value(0.0));
    for i in 1..=SAMPLES {
        let here = value(i as f64 * step);
        if here > highest {
            (best, highest) = (i, here);
        }
    }
    let mut low = best.saturating_sub(1) as f64 * step;
    let mut high = ((best + 1).min(SAMPLES)) as f64 * step;
    // Each round keeps 0.618 of the interval: 5e-5 of the length is left, and the value there is
    // flat to the square of that.
    for _ in 0..17 {
        let (inner, outer) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        if value(inner) < value(outer) { low = inner } else { high = outer }
    }
    (low + high) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::beam::EQUAL_SPANS;
    use crate::mechanics::testing::{close, near};

    fn unit_strip(spans: usize) -> Strip {
        Strip::new(&vec![Metres::of(1.0); spans], BendingStiffness::newton_square_metres(1.0))
    }

    const UNIT: LineLoad = LineLoad::newtons_per_metre(1.0);

    // The textbook's coefficients of one to three equal spans, which two frame solvers confirmed.
    #[test]
    fn equal_spans_have_the_textbooks_coefficients() {
        for (index, expected) in EQUAL_SPANS.iter().enumerate() {
            let strip = unit_strip(index + 1);
            let patches = strip.uniform(UNIT);
            let worst = strip.solve(&patches);
            close(worst.deflection.in_metres(), expected.deflection, 1e-3);
            close(worst.sagging.in_newton_metres(), expected.span_moment, 1e-3);
            near(worst.hogging.in_newton_metres(), -expected.support_moment, 1e-9);
            let moments = strip.support_moments(&patches);
            assert_eq!(moments.len(), index + 2);
            let first_shear = 0.5 + moments[1].in_newton_metres();
            close(first_shear, expected.end_reaction, 1e-3);
            if index > 0 {
                // Left of the first inner support the shear is 1 − R_end; right of it half the
                // load plus what the moments at the span's two ends differ by.
                let right = 0.5 + (moments[2] - moments[1]).in_newton_metres();
                close(1.0 - first_shear + right, expected.inner_reaction, 1e-3);
            }
        }
    }

    // The place of the greatest deflection, same textbook tables: 0.5, 0.4215 and 0.446 L.
    #[test]
    fn the_lowest_point_is_where_the_tables_say() {
        for (spans, expected) in [(1, 0.5), (2, 0.4215), (3, 0.446)] {
            let strip = unit_strip(spans);
            let worst = strip.solve(&strip.uniform(UNIT));
            let at = worst.at.in_metres();
            // By symmetry the mirrored place is as deep.
            let at = if worst.span > 0 { 1.0 - at } else { at };
            close(at, expected, 2e-3);
        }
    }

    // Derived: a patch shrunk to a point at mid-span gives PL³/48EI and PL/4.
    #[test]
    fn a_narrow_patch_is_a_point_load() {
        let strip = unit_strip(1);
        let patch = Patch {
            span: 0,
            from: Metres::of(0.4999),
            to: Metres::of(0.5001),
            load: LineLoad::newtons_per_metre(5000.0),
        };
        let worst = strip.solve(&[patch]);
        close(worst.deflection.in_metres(), 1.0 / 48.0, 1e-6);
        close(worst.sagging.in_newton_metres(), 0.25, 1e-3);
        close(worst.shear.in_newtons(), 0.5, 1e-6);
    }

    // Derived: two patches that together fill a span act as the uniform load (superposition).
    #[test]
    fn patches_add_up() {
        let strip = Strip::new(
            &[Metres::of(0.7), Metres::of(1.1), Metres::of(0.4)],
            BendingStiffness::newton_square_metres(900.0),
        );
        let whole = strip.solve(&[strip.whole_span(1, UNIT)]);
        let split = Metres::of(0.35);
        let left = Patch { to: split, ..strip.whole_span(1, UNIT) };
        let right = Patch { from: split, ..strip.whole_span(1, UNIT) };
        let both = strip.solve(&[left, right]);
        close(both.deflection.in_metres(), whole.deflection.in_metres(), 1e-9);
        close(both.sagging.in_newton_metres(), whole.sagging.in_newton_metres(), 1e-9);
        close(both.hogging.in_newton_metres(), whole.hogging.in_newton_metres(), 1e-9);
    }

    // Textbook: one of two equal spans loaded alone has a support moment of wL²/16, and sags more
    // than both loaded.
    #[test]
    fn one_span_loaded_alone_sags_more() {
        let strip = unit_strip(2);
        let alone = strip.solve(&[strip.whole_span(0, UNIT)]);
        near(alone.hogging.in_newton_metres(), 1.0 / 16.0, 1e-9);
        let all = strip.solve(&strip.uniform(UNIT));
        assert!(alone.deflection > all.deflection);
        let worst = strip.worst_uniform(UNIT);
        assert_eq!(worst.deflection, alone.deflection);
        assert_eq!(worst.hogging, all.hogging);
    }

    // Textbook tables of three equal spans under movable load: 0.1013 wL² in an outer span with both
    // outer spans loaded, 0.1167 wL² over the support between two loaded spans.
    #[test]
    fn three_spans_have_the_textbooks_worst_patterns() {
        let worst = unit_strip(3).worst_uniform(UNIT);
        close(worst.sagging.in_newton_metres(), 0.1013, 2e-3);
        close(worst.hogging.in_newton_metres(), 0.1167, 1e-3);
    }

    // Derived: no place of a patch on a fine grid is worse than the places looked at, by more than
    // the little that a shift off mid-span gains in an outer span.
    #[test]
    fn the_worst_patch_is_nearly_the_worst_anywhere() {
        let strip = Strip::new(
            &[Metres::of(0.6), Metres::of(0.45), Metres::of(0.6)],
            BendingStiffness::newton_square_metres(1000.0),
        );
        let (length, load) = (Metres::of(0.3), LineLoad::newtons_per_metre(3000.0));
        let worst = strip.worst_patch(length, load);
        for span in 0..3 {
            let room = strip.spans[span] - 0.3;
            for step in 0..=50 {
                let from = Metres::of(room * f64::from(step) / 50.0);
                let case = strip.solve(&[Patch { span, from, to: from + length, load }]);
                assert!(case.deflection <= worst.deflection * 1.02);
                assert!(case.sagging <= worst.sagging * 1.03);
                assert!(case.shear <= worst.shear * (1.0 + 1e-9));
            }
        }
    }
}
