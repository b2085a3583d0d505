//! What one person lifts.

use crate::mechanics::Standing::Published;
use crate::mechanics::handbook::Group;
use crate::units::physics::Kilograms;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("handling");
    let ccohs = "CCOHS on NIOSH's lifting equation: a load constant of 23 kg, about 51 lb";
    of.one(71, Published, ccohs, 0.5, (Kilograms::of(23.0).in_pounds(), 51.0));
    of
}
