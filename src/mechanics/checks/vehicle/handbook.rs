//! What things weigh, where their centre is, what the axles get.

use super::axles::{added, centre_of_mass};
use crate::mechanics::Standing::{Derived, FromMemory, Published};
use crate::mechanics::density;
use crate::mechanics::handbook::Group;
use crate::units::physics::{Kilograms, Metres};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("vehicle");
    let sheet = Metres::inches(48.0) * Metres::inches(96.0);
    let sheet = sheet * density::softwood_plywood(Metres::inches(23.0 / 32.0));
    let rule = "3 lb/ft² per inch of thickness, a rule of the trade (seen repeated)";
    of.case(4, Published, rule, 1e-3, &[(sheet.in_pounds(), 69.02), (sheet.in_kilograms(), 31.31)]);
    let spf = density::lumber_from_ovendry_gravity(0.42, 12.0);
    of.case(
        5,
        FromMemory,
        "NDS Supplement 2018, 3.1.3",
        1e-3,
        &[(spf.in_pounds_per_cubic_foot(), 28.08), (spf.in_kilograms_per_cubic_metre(), 449.8)],
    );
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
