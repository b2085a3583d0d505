//! Screws, nails, lags: withdrawal, lateral, distances, spacing.

use crate::mechanics::Standing::{Assumption, Derived, FromMemory, Published};
use crate::mechanics::handbook::Group;
use crate::mechanics::lateral::{
    Joint, Mode, PLYWOOD_BEARING, diameter_factor, main_length, wood_bearing,
};
use crate::mechanics::screw::{
    UNDRILLED, gauge, lag_withdrawal, nail_withdrawal, screw_withdrawal, thinnest_edge,
    ultimate_screw_withdrawal,
};
use crate::units::physics::{Metres, Stress};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("fastening");
    withdrawal(&mut of);
    lateral(&mut of);
    let eight = gauge(8).expect("tabulated");
    let (wants, panel) = (thinnest_edge(&eight, &UNDRILLED), Metres::inches(23.0 / 32.0));
    let table = "NDS Commentary, table C12.1.5.7";
    of.one(24, FromMemory, table, 0.02, (wants.in_millimetres() / 2.0, 10.4));
    of.one(24, FromMemory, table, 0.01, (panel.in_millimetres() / 2.0, 9.13));
    of.holds(24, FromMemory, table, wants > panel);
    spacing(&mut of);
    of
}

fn withdrawal(of: &mut Group) {
    let (eight, ten) = (gauge(8).expect("tabulated"), gauge(10).expect("tabulated"));
    let inch = Metres::inches(1.0);
    let held = screw_withdrawal(0.45, ten.shank) * inch;
    let example = "NDS 12.2.2; a worked example prints 109 lb";
    of.case(16, Published, example, 1e-3, &[(held.in_pounds_force(), 109.65)]);
    let held = screw_withdrawal(0.42, eight.shank) * Metres::millimetres(31.75);
    of.case(17, Published, "NDS 12.2.2", 1e-3, &[(held.in_newtons(), 458.4)]);
    let nail = nail_withdrawal(0.42, Metres::inches(0.131));
    of.case(
        18,
        Published,
        "NDS 12.2.3; reproduces a worked example",
        1e-4,
        &[
            (nail.in_pounds_force_per_inch(), 20.667),
            (nail.in_newtons_per_metre(), 3619.3),
            ((nail * Metres::inches(2.395)).in_pounds_force(), 49.50),
        ],
    );
    let lag = lag_withdrawal(0.55, Metres::inches(0.5));
    let whole = lag * Metres::inches(2.1875);
    of.case(
        19,
        Published,
        "NDS 12.2.1; reproduces a worked example",
        1e-4,
        &[
            (lag.in_pounds_force_per_inch(), 436.56),
            (whole.in_pounds_force(), 954.98),
            (whole.in_newtons(), 4247.9),
        ],
    );
    let ultimate = ultimate_screw_withdrawal(0.46, eight.shank, inch);
    let thread = eight.shank.in_millimetres() * 25.4;
    of.case(
        23,
        FromMemory,
        "Wood Handbook, chapter 8, both forms",
        1e-3,
        &[
            (ultimate.in_pounds_force(), 544.8),
            (ultimate.in_newtons(), 2423.6),
            (108.25 * 0.46 * 0.46 * thread, 2423.6),
        ],
    );
}

fn lateral(of: &mut Group) {
    let (eight, ten) = (gauge(8).expect("tabulated"), gauge(10).expect("tabulated"));
    let side = Metres::inches(23.0 / 32.0);
    let joint = Joint {
        diameter: eight.root,
        diameter_factor: diameter_factor(eight.shank),
        bending_yield: eight.bending_yield,
        main_length: main_length(Metres::inches(2.0), side, eight.shank),
        main_bearing: wood_bearing(0.42),
        side_length: side,
        side_bearing: PLYWOOD_BEARING,
    };
    let (load, mode) = joint.single_shear();
    of.case(
        20,
        Derived,
        "NDS 12.3; 2520·D² of the editions before 1991",
        2e-3,
        &[
            (load.in_pounds_force(), 67.2),
            (load.in_newtons(), 299.0),
            (2520.0 * eight.shank.in_inches() * eight.shank.in_inches(), 67.8),
        ],
    );
    of.holds(20, Derived, "NDS 12.3", mode == Mode::HingeSide);
    let nail = Joint {
        diameter: Metres::inches(0.148),
        diameter_factor: 2.2,
        bending_yield: Stress::psi(90e3),
        main_length: Metres::inches(2.25),
        main_bearing: wood_bearing(0.50),
        side_length: Metres::inches(0.75),
        side_bearing: wood_bearing(0.50),
    };
    let (load, mode) = nail.single_shear();
    let awc = "NDS 12.3; reproduces AWC's worked example";
    of.case(
        21,
        Published,
        awc,
        1e-4,
        &[(load.in_pounds_force(), 105.10), (load.in_newtons(), 467.49)],
    );
    of.holds(21, Published, awc, mode == Mode::HingeSide);
    let double = Joint {
        diameter: ten.root,
        diameter_factor: diameter_factor(ten.shank),
        bending_yield: ten.bending_yield,
        main_length: Metres::inches(3.0),
        main_bearing: wood_bearing(0.55),
        side_length: Metres::inches(1.31),
        side_bearing: wood_bearing(0.55),
    };
    let (load, mode) = double.double_shear();
    of.case(
        22,
        Published,
        awc,
        1e-4,
        &[(load.in_pounds_force(), 233.71), (load.in_newtons(), 1039.6)],
    );
    of.holds(22, Published, awc, mode == Mode::TwoHinges);
}

fn spacing(of: &mut Group) {
    // Seams: first and last 50 mm from the ends, no more than 200 mm apart (common practice).
    let count = crate::mechanics::screw::count_along(1830, 50, 200);
    of.one(
        25,
        Assumption,
        "n = ⌈(L − 2·end)/most⌉ + 1, common practice",
        0.0,
        (count as f64, 10.0),
    );
    let pitch = (1830.0 - 100.0) / (count - 1) as f64;
    of.one(25, Assumption, "n = ⌈(L − 2·end)/most⌉ + 1, common practice", 0.01, (pitch, 192.22));
}
