//! Screws and nails: withdrawal, distances, and how many a seam takes.
//!
//! The equations are dimensional: lb per inch from a diameter in inches.

use crate::units::physics::{Force, LineLoad, Metres, Stress};

/// A cut-thread wood screw by its gauge number (ASME B18.6.1; NDS 2018, Appendix L, quoted for
/// No. 10 in two places). Rolled-thread, drywall and proprietary screws are not these: their
/// makers' reports count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodScrew {
    /// Gauge number.
    pub gauge: u32,
    /// Shank diameter D.
    pub shank: Metres,
    /// Root diameter of the thread, D_r.
    pub root: Metres,
    /// Bending yield strength, F_yb (No. 10 quoted; the others from memory).
    pub bending_yield: Stress,
}

/// The gauges tabulated.
pub const WOOD_SCREWS: [WoodScrew; 5] = [
    wood_screw(6, 0.138, 0.113, 100e3),
    wood_screw(8, 0.164, 0.131, 90e3),
    wood_screw(10, 0.190, 0.152, 80e3),
    wood_screw(12, 0.216, 0.171, 80e3),
    wood_screw(14, 0.242, 0.196, 70e3),
];

const fn wood_screw(gauge: u32, shank_in: f64, root_in: f64, bending_yield_psi: f64) -> WoodScrew {
    WoodScrew {
        gauge,
        shank: Metres::inches(shank_in),
        root: Metres::inches(root_in),
        bending_yield: Stress::psi(bending_yield_psi),
    }
}

/// The screw of a gauge number.
pub fn gauge(number: u32) -> Option<WoodScrew> {
    WOOD_SCREWS.into_iter().find(|screw| screw.gauge == number)
}

/// Allowable withdrawal of a wood screw from side grain per length of thread, normal duration:
/// 2850·G²·D lb/in (NDS 2018, 12.2.2). Nothing from end grain.
pub fn screw_withdrawal(gravity: f64, shank: Metres) -> LineLoad {
    LineLoad::pounds_force_per_inch(2850.0 * gravity * gravity * shank.in_inches())
}

/// Allowable withdrawal of a nail from side grain per length of penetration: 1380·G^2.5·D lb/in
/// (NDS 2018, 12.2.3).
pub fn nail_withdrawal(gravity: f64, diameter: Metres) -> LineLoad {
    let wood = libm::pow(gravity, 2.5);
    LineLoad::pounds_force_per_inch(1380.0 * wood * diameter.in_inches())
}

/// Allowable withdrawal of a lag screw from side grain per length of thread: 1800·G^1.5·D^0.75
/// lb/in (NDS 2018, 12.2.1).
pub fn lag_withdrawal(gravity: f64, diameter: Metres) -> LineLoad {
    let (wood, size) = (libm::pow(gravity, 1.5), libm::pow(diameter.in_inches(), 0.75));
    LineLoad::pounds_force_per_inch(1800.0 * wood * size)
}

/// *Ultimate* (average greatest) withdrawal of a wood screw: 15 700·G²·D·L lb (Wood Handbook
/// FPL-GTR-190, chapter 8, from memory). Five and a half times the allowable value: never compare
/// a load with it.
pub fn ultimate_screw_withdrawal(gravity: f64, shank: Metres, thread: Metres) -> Force {
    let per_inch = 15_700.0 * gravity * gravity * shank.in_inches();
    LineLoad::pounds_force_per_inch(per_inch) * thread
}

/// What remains of a withdrawal value in the edge of plywood, where tests give less than the
/// equation: a half (assumption).
pub const PLYWOOD_EDGE_SHARE: f64 = 0.5;
/// What remains of a lateral value in end grain (NDS 2018, 12.5.2, C_eg).
pub const END_GRAIN_SHARE: f64 = 0.67;

/// Least distances of wood screws as multiples of the shank diameter (NDS Commentary, Table
/// C12.1.5.7, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distances {
    /// To an edge.
    pub edge: f64,
    /// To an end that is pulled.
    pub end_tension: f64,
    /// To an end that is pushed.
    pub end_compression: f64,
    /// Along the grain between screws of a row.
    pub pitch_along: f64,
    /// Across the grain between screws of a row.
    pub pitch_across: f64,
    /// Between rows.
    pub rows: f64,
}

/// Without lead holes.
pub const UNDRILLED: Distances = Distances {
    edge: 2.5,
    end_tension: 15.0,
    end_compression: 10.0,
    pitch_along: 15.0,
    pitch_across: 10.0,
    rows: 5.0,
};
/// With lead holes.
pub const DRILLED: Distances = Distances {
    edge: 2.5,
    end_tension: 10.0,
    end_compression: 5.0,
    pitch_along: 10.0,
    pitch_across: 5.0,
    rows: 3.0,
};

/// The thinnest piece whose edge takes a screw on its centre line with the edge distance kept on
/// both sides.
pub fn thinnest_edge(screw: &WoodScrew, distances: &Distances) -> Metres {
    screw.shank * (2.0 * distances.edge)
}

/// Screws along a seam, in any one integer unit of length: two at `end` from either end and as few
/// between as keep the pitch to `most`, n = ⌈(L − 2·end)/most⌉ + 1. A seam too short for both ends
/// takes one in its middle. `most` must be greater than nothing.
///
/// Spacing of 150 to 200 mm along panel edges and 40 to 50 mm from ends is common practice, no
/// source.
pub fn count_along(seam: i64, end: i64, most: i64) -> i64 {
    let between = seam - 2 * end;
    if between <= 0 {
        return i64::from(seam > 0);
    }
    between.div_euclid(most.max(1)) + i64::from(between.rem_euclid(most.max(1)) > 0) + 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;
    use crate::units::physics::Metres;

    const SPF: f64 = 0.42;

    // ASME B18.6.1: shank = 0.060 + 0.013·gauge, in (derived, fits every row).
    #[test]
    fn shanks_follow_the_gauge_rule() {
        for screw in WOOD_SCREWS {
            let rule = 0.060 + 0.013 * f64::from(screw.gauge);
            close(screw.shank.in_inches(), rule, 1e-9);
            assert!(screw.root < screw.shank);
        }
    }

    // NDS 2018, 12.2.2; a worked example prints 109 lb per inch.
    #[test]
    fn withdrawal_of_a_number_10_screw() {
        let screw = gauge(10).unwrap();
        let held = screw_withdrawal(0.45, screw.shank) * Metres::inches(1.0);
        close(held.in_pounds_force(), 109.65, 1e-3);
    }

    // NDS 2018, 12.2.2: No. 8 in spruce-pine-fir.
    #[test]
    fn withdrawal_of_a_number_8_screw() {
        let screw = gauge(8).unwrap();
        let held = screw_withdrawal(SPF, screw.shank) * Metres::millimetres(31.75);
        close(held.in_newtons(), 458.4, 1e-3);
    }

    // NDS 2018, 12.2.2, lb per inch of thread in spruce-pine-fir, Douglas fir-larch, southern pine.
    #[test]
    fn withdrawal_by_gauge_and_species() {
        let rows = [
            (6, 69.4, 98.3, 119.0),
            (8, 82.4, 116.8, 141.4),
            (10, 95.5, 135.4, 163.8),
            (12, 108.6, 153.9, 186.2),
        ];
        for (number, spf, fir, pine) in rows {
            let shank = gauge(number).unwrap().shank;
            for (gravity, expected) in [(SPF, spf), (0.50, fir), (0.55, pine)] {
                let held = screw_withdrawal(gravity, shank).in_pounds_force_per_inch();
                close(held, expected, 1e-3);
            }
        }
    }

    // NDS 2018, 12.2.3; reproduces a published worked example.
    #[test]
    fn withdrawal_of_a_nail() {
        let held = nail_withdrawal(SPF, Metres::inches(0.131));
        close(held.in_pounds_force_per_inch(), 20.667, 1e-4);
        close(held.in_newtons_per_metre(), 3619.3, 1e-4);
        close((held * Metres::inches(2.395)).in_pounds_force(), 49.50, 1e-4);
    }

    // NDS 2018, 12.2.1; reproduces a published worked example.
    #[test]
    fn withdrawal_of_a_lag_screw() {
        let held = lag_withdrawal(0.55, Metres::inches(0.5));
        close(held.in_pounds_force_per_inch(), 436.56, 1e-4);
        let total = held * Metres::inches(2.1875);
        close(total.in_pounds_force(), 954.98, 1e-4);
        close(total.in_newtons(), 4247.9, 1e-4);
    }

    // Wood Handbook FPL-GTR-190, chapter 8 (from memory): inch form, and the metric form
    // 108.25·G²·D·L that the handbook gives beside it.
    #[test]
    fn ultimate_withdrawal_in_both_forms() {
        let (shank, thread) = (gauge(8).unwrap().shank, Metres::inches(1.0));
        let ultimate = ultimate_screw_withdrawal(0.46, shank, thread);
        close(ultimate.in_pounds_force(), 544.8, 1e-3);
        close(ultimate.in_newtons(), 2423.6, 1e-3);
        let metric = 108.25 * 0.46 * 0.46 * shank.in_millimetres() * thread.in_millimetres();
        close(ultimate.in_newtons(), metric, 1e-3);
    }

    // NDS Commentary, Table C12.1.5.7 (from memory): a 23/32 in panel is too thin for the edge
    // distance of a No. 8 screw, whose 2.5·D is 10.4 mm against 9.13 mm.
    #[test]
    fn a_panel_edge_is_too_thin_for_a_number_8() {
        let screw = gauge(8).unwrap();
        let thinnest = thinnest_edge(&screw, &UNDRILLED);
        close(thinnest.in_millimetres() / 2.0, 10.4, 2e-3);
        let panel = Metres::inches(23.0 / 32.0);
        close(panel.in_millimetres() / 2.0, 9.13, 1e-3);
        assert!(thinnest > panel);
        assert_eq!(DRILLED.edge, UNDRILLED.edge);
        assert!(thinnest < Metres::inches(1.5));
    }

    // Counted by hand; ends of 50 mm and a pitch of at most 200 mm are common practice, no source.
    #[test]
    fn screws_along_a_seam() {
        let count = count_along(1830, 50, 200);
        assert_eq!(count, 10);
        close((1830.0 - 100.0) / (count - 1) as f64, 192.22, 0.01 / 192.22);
        assert_eq!(count_along(500, 50, 200), 3);
        assert_eq!(count_along(501, 50, 200), 4);
        assert_eq!(count_along(100, 50, 200), 1);
        assert_eq!(count_along(0, 50, 200), 0);
        assert_eq!(count_along(101, 50, 200), 2);
    }
}
