//! Boards on edge.

use crate::mechanics::Standing::Published;
use crate::mechanics::handbook::Group;
use crate::mechanics::lumber::{NominalWidth, Use, bending_strength, grade_named, moment_capacity};
use crate::mechanics::section::Rectangle;
use crate::units::physics::Metres;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("drawer sides");
    let table = "NDS Supplement 2018, table 4A (seen quoted)";
    let grade = grade_named("DF-L No. 2").expect("a known grade");
    let fir = bending_strength(&grade, NominalWidth::Ten, Use::OnEdge);
    let ten = Rectangle { width: Metres::inches(1.5), depth: Metres::inches(9.25) };
    let moment = moment_capacity(fir, ten);
    of.case(
        8,
        Published,
        table,
        1e-3,
        &[(fir.in_psi(), 990.0), (moment.in_newton_metres(), 2392.7)],
    );
    of
}
