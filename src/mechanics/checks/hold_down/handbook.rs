//! Demand of 49 CFR 393.102 and 393.106 and of EN 12195-1.

use crate::mechanics::Standing::{FromMemory, Published};
use crate::mechanics::handbook::Group;
use crate::mechanics::restraint::{
    DOWNWARD_SHARE, Direction, Tiedown, counted_limit, limit_wanted, needed, over_top_tension,
};
use crate::units::physics::Kilograms;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("hold-down");
    let mass = Kilograms::of(300.0);
    let rule = "49 CFR 393.102 (read)";
    let held = |acceleration, friction| needed(mass, acceleration, friction).in_newtons();
    of.case(
        45,
        Published,
        rule,
        1e-3,
        &[
            (held(Direction::Forward.breaking(), 0.0), 2353.6),
            (held(Direction::Forward.breaking(), 0.3), 1471.0),
            (held(Direction::Sideways.breaking(), 0.3), 588.4),
            (held(Direction::Forward.working(), 0.0), 1279.8),
            ((mass.weight() * DOWNWARD_SHARE).in_newtons(), 588.4),
        ],
    );
    let sum = "49 CFR 393.106(d) as a driver handbook summarises it";
    let four = counted_limit(&[(Tiedown::ToCargo, Kilograms::of(50.0)); 4]);
    of.case(
        46,
        Published,
        sum,
        1e-9,
        &[(limit_wanted(mass).in_kilograms(), 150.0), (four.in_kilograms(), 100.0)],
    );
    of.holds(46, Published, sum, four < limit_wanted(mass));
    let strap = over_top_tension(mass, 0.8, 1.0, 0.45, 2, 60.0, 1.25).in_newtons();
    of.case(47, FromMemory, "EN 12195-1", 1e-3, &[(strap, 825.7)]);
    of
}
