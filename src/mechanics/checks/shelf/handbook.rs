//! What hangs over.

use crate::mechanics::Standing::Derived;
use crate::mechanics::beam::overhang;
use crate::mechanics::handbook::Group;
use crate::units::physics::{BendingStiffness, Force, Metres};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("shelf");
    let stiffness = BendingStiffness::newton_square_metres(2000.0);
    let (reach, span) = (Metres::of(0.5), Metres::of(1.2));
    let (_, tip) = overhang(Force::newtons(300.0), reach, span, stiffness);
    of.case(28, Derived, "P·a²(L+a)/3EI", 1e-6, &[(tip.in_millimetres(), 21.25)]);
    of
}
