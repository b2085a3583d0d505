//! Lumber's sections and strengths, on edge and flat.

use crate::mechanics::Standing::{Derived, Published};
use crate::mechanics::beam;
use crate::mechanics::handbook::Group;
use crate::mechanics::lumber::{NominalWidth, Use, bending_strength, grade_named, moment_capacity};
use crate::mechanics::section::Rectangle;
use crate::units::physics::{LineLoad, Metres, Stress};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("members");
    sections(&mut of);
    strengths(&mut of);
    of
}

fn sections(of: &mut Group) {
    let table = "NDS Supplement 2018, table 1B (seen quoted)";
    let edge = board(9.25);
    of.case(
        1,
        Published,
        table,
        1e-5,
        &[
            (edge.width.in_millimetres(), 38.10),
            (edge.depth.in_millimetres(), 234.95),
            (edge.second_moment().in_inches_to_fourth(), 98.9316),
            (edge.section_modulus().in_cubic_inches(), 21.3906),
        ],
    );
    let flat = edge.turned();
    of.one(2, Published, table, 5e-5, (flat.second_moment().in_inches_to_fourth(), 2.6016));
    of.case(2, Published, table, 1e-5, &[(flat.section_modulus().in_cubic_inches(), 3.46875)]);
}

fn strengths(of: &mut Group) {
    let table = "NDS Supplement 2018, table 4A (seen quoted)";
    let strength = |grade: &str, width, lying| {
        bending_strength(&grade_named(grade).expect("a known grade"), width, lying)
    };
    let edge = strength("SPF No. 2", NominalWidth::Eight, Use::OnEdge);
    let moment = moment_capacity(edge, board(7.25));
    of.case(
        6,
        Published,
        table,
        1e-3,
        &[
            (edge.in_psi(), 1050.0),
            (edge.in_megapascals(), 7.239),
            (moment.in_pound_inches(), 13_798.0),
            (moment.in_newton_metres(), 1558.9),
        ],
    );
    let flat = strength("SPF No. 2", NominalWidth::Ten, Use::Flat);
    let moment = moment_capacity(flat, board(9.25).turned());
    of.case(
        7,
        Published,
        table,
        1e-3,
        &[
            (flat.in_psi(), 1155.0),
            (moment.in_pound_inches(), 4006.4),
            (moment.in_newton_metres(), 452.7),
        ],
    );
    let stiffness = Stress::psi(1.4e6) * board(9.25).turned().second_moment();
    let load = LineLoad::newtons_per_metre(1000.0);
    let sag = beam::uniform_deflection(load, Metres::of(0.9), stiffness);
    of.case(9, Derived, "5wL⁴/384EI, E of table 4A", 1e-3, &[(sag.in_millimetres(), 0.8173)]);
}

fn board(width: f64) -> Rectangle {
    Rectangle { width: Metres::inches(1.5), depth: Metres::inches(width) }
}
