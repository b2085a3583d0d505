//! Orthotropic plates, and creep.

use crate::mechanics::Standing::{Derived, Published};
use crate::mechanics::creep;
use crate::mechanics::handbook::Group;
use crate::mechanics::plate::{Load, Plate};
use crate::mechanics::strip::Strip;
use crate::units::physics::{AreaLoad, BendingStiffness, LineLoad, Metres, PlateStiffness};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("drawer bottom");
    plates(&mut of);
    let long = |factor| {
        creep::long_term(Metres::millimetres(1.2), Metres::millimetres(2.0), factor)
            .in_millimetres()
    };
    of.case(
        10,
        Published,
        "NDS eq. 3.5-1, K_cr as AWC's answers quote it",
        1e-9,
        &[(long(creep::SEASONED_LUMBER_DRY), 3.8), (long(creep::BED), 4.4)],
    );
    of
}

fn plates(of: &mut Group) {
    let (strong, weak) = (4142.777, 861.509);
    of.case(
        33,
        Derived,
        "Navier's series; finite differences agree",
        1e-3,
        &[
            (sag(&rated(strong, weak, 300.0), 2000.0), 0.8607),
            (sag(&rated(strong, weak, 0.0), 2000.0), 0.8749),
        ],
    );
    let turned = sag(&rated(weak, strong, 300.0), 2000.0);
    of.case(34, Derived, "Navier's series; finite differences agree", 1e-3, &[(turned, 3.3226)]);
    let strip = Strip::new(&[Metres::of(0.6)], BendingStiffness::newton_square_metres(strong));
    let strip = strip.solve(&strip.uniform(LineLoad::newtons_per_metre(2000.0)));
    of.case(35, Derived, "5qa⁴/384D_x", 1e-3, &[(strip.deflection.in_millimetres(), 0.8147)]);
}

fn rated(x: f64, y: f64, twist: f64) -> Plate {
    let of = PlateStiffness::newton_metres;
    Plate {
        a: Metres::of(0.6),
        b: Metres::of(1.2),
        stiffness_x: of(x),
        stiffness_y: of(y),
        twist: of(twist),
        coupling: PlateStiffness::ZERO,
    }
}

fn sag(plate: &Plate, pascals: f64) -> f64 {
    plate.at_centre(Load::Uniform(AreaLoad::pascals(pascals))).deflection.in_millimetres()
}
