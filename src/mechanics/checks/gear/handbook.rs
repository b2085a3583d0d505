//! What slides in a bend.

use crate::mechanics::Standing::Published;
use crate::mechanics::handbook::Group;
use crate::mechanics::restraint::{Direction, needed};
use crate::units::physics::Kilograms;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("gear");
    let mass = Kilograms::of(300.0);
    let pushed = needed(mass, Direction::Sideways.breaking(), 0.3).in_newtons();
    of.case(45, Published, "49 CFR 393.102 (read)", 1e-3, &[(pushed, 588.4)]);
    of
}
