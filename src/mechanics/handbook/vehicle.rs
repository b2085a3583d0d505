//! Securing and weights.

use super::Group;
use crate::mechanics::Standing::{Derived, FromMemory, Published};
use crate::mechanics::axles::{added, centre_of_mass};
use crate::mechanics::restraint::{
    DOWNWARD_SHARE, Direction, Tiedown, counted_limit, limit_wanted, needed, over_top_tension,
};
use crate::units::physics::{Kilograms, Metres};

pub(super) fn cases() -> Group {
    let mut of = Group::new("vehicle");
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
    let axles = |ahead| added(Kilograms::of(200.0), Metres::of(ahead), Metres::of(3.6));
    let (ahead, behind) = (axles(0.3), axles(-0.5));
    of.case(
        48,
        Derived,
        "moments about the rear axle",
        1e-3,
        &[
            (ahead.front.in_kilograms(), 16.67),
            (ahead.rear.in_kilograms(), 183.33),
            (behind.front.in_kilograms(), -27.78),
            (behind.rear.in_kilograms(), 227.78),
        ],
    );
    let masses = [(80.0, 0.95), (60.0, 0.9), (40.0, 0.9), (30.0, 0.4)]
        .map(|(mass, at)| (Kilograms::of(mass), Metres::of(at)));
    let centre = centre_of_mass(&masses).map_or(0.0, Metres::in_metres);
    of.case(49, Derived, "the weighted mean", 1e-4, &[(centre, 0.8476)]);
    of
}
