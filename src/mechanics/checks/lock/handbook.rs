//! Rods in a slide and through a hole, and what they hold.

use super::formula::{
    MILD_STEEL_YIELD, RodThroughHole, SlidingRod, area, bending_yield, shear_yield, slot_height,
};
use crate::mechanics::Standing::{Derived, Published};
use crate::mechanics::handbook::Group;
use crate::units::physics::Metres;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("lock");
    let plane = "plane geometry";
    let rod = SlidingRod { radius: mm(38.1), length: mm(300.0), offset: mm(0.0) };
    let beside = SlidingRod { offset: mm(10.0), ..rod };
    of.case(
        55,
        Derived,
        plane,
        1e-4,
        &[
            (rod.throw(90.0, 0.0).in_millimetres(), 40.529),
            (rod.throw(60.0, 0.0).in_millimetres(), 20.870),
            (beside.throw(90.0, 0.0).in_millimetres(), 39.252),
        ],
    );
    let rod = RodThroughHole { radius: mm(38.1), hole: mm(300.0), length: mm(320.0) };
    for (turn, out, tilt) in [(0.0, 58.10, 0.0), (45.0, 45.615, 5.635), (90.0, 17.590, 7.238)] {
        let found = rod.projection(turn).in_millimetres();
        of.case(56, Derived, plane, 1e-3, &[(found, out), (rod.tilt(turn), tilt)]);
    }
    let (tilt, turn) = rod.greatest_tilt();
    of.case(57, Derived, plane, 1e-4, &[(tilt, 7.2963), (turn, 82.704)]);
    let slot = slot_height(mm(6.35), mm(19.05), 7.2963).in_millimetres();
    of.case(58, Derived, plane, 1e-3, &[(slot, 8.841)]);
    let rod = mm(6.35);
    of.case(
        59,
        Published,
        "textbook strength of materials, A36's 36 ksi (quoted)",
        1e-3,
        &[
            (area(rod).in_square_millimetres(), 31.669),
            (shear_yield(rod, MILD_STEEL_YIELD).in_newtons(), 4571.0),
            (bending_yield(rod, MILD_STEEL_YIELD, mm(10.0)).in_newtons(), 628.4),
        ],
    );
    of
}

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}
