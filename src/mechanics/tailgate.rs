//! What a drawer must clear when it is drawn out over the open tailgate.

use crate::units::physics::Metres;

/// How high above the bed floor the open tailgate stands at its highest point under a drawer that
/// is drawn out: its rise, and its slope over the travel, which counts at most the tailgate's own
/// length. A tailgate that hangs down (negative slope) is highest at its hinge. The lowest moving
/// edge must be above this by a running clearance; the shim makes up what bottom panel and strip
/// leave missing of it. Derived geometry.
pub fn highest(rise: Metres, slope_degrees: f64, travel: Metres, tailgate: Metres) -> Metres {
    let over = travel.min(tailgate);
    rise + over * libm::tan(slope_degrees.max(0.0).to_radians())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    fn mm(number: f64) -> Metres {
        Metres::millimetres(number)
    }

    // Derived: rise and slope over the travel.
    #[test]
    fn a_tailgate_that_rises() {
        let height = highest(mm(25.0), 2.0, mm(1350.0), mm(1350.0));
        close(height.in_millimetres(), 72.1, 1e-3);
    }

    // Derived: travel beyond the tailgate's end adds nothing, nor does a slope downward.
    #[test]
    fn only_the_tailgate_itself_counts() {
        let short = highest(mm(25.0), 2.0, mm(1350.0), mm(500.0));
        close(short.in_millimetres(), 25.0 + 500.0 * 0.034_920_77, 1e-6);
        close(highest(mm(25.0), -3.0, mm(1350.0), mm(500.0)).in_millimetres(), 25.0, 1e-12);
    }
}
