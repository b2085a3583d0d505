//! Sizes, densities, strengths, movement, sawing.

use super::Group;
use crate::design::derive::hardware::ripped_strips;
use crate::mechanics::Standing::{Assumption, Derived, FromMemory, Published};
use crate::mechanics::lumber::{NominalWidth, Use, bending_strength, grade_named, moment_capacity};
use crate::mechanics::movement::{change, change_beyond, change_coefficient, equilibrium_moisture};
use crate::mechanics::panel::thickness_range;
use crate::mechanics::section::Rectangle;
use crate::mechanics::{beam, creep, density, thermal};
use crate::units::Length;
use crate::units::physics::{LineLoad, Metres, Stress};

fn board(width: f64) -> Rectangle {
    Rectangle { width: Metres::inches(1.5), depth: Metres::inches(width) }
}

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}

pub(super) fn cases() -> Group {
    let mut of = Group::new("wood");
    sizes(&mut of);
    strengths(&mut of);
    movement(&mut of);
    sawing(&mut of);
    of
}

fn sizes(of: &mut Group) {
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
    let (panel, ps1) = (thickness_range(23), "PS 1, APA's performance category page");
    of.one(3, Published, ps1, 0.02, (panel.least.in_millimetres(), 17.46));
    of.one(3, Published, ps1, 0.02, (panel.most.in_millimetres(), 19.05));
    of.one(3, Published, ps1, 0.02, (panel.stack_spread(3).in_millimetres(), 4.76));
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
    let fir = strength("DF-L No. 2", NominalWidth::Ten, Use::OnEdge);
    let moment = moment_capacity(fir, board(9.25));
    of.case(
        8,
        Published,
        table,
        1e-3,
        &[(fir.in_psi(), 990.0), (moment.in_newton_metres(), 2392.7)],
    );
    let stiffness = Stress::psi(1.4e6) * board(9.25).turned().second_moment();
    let load = LineLoad::newtons_per_metre(1000.0);
    let sag = beam::uniform_deflection(load, Metres::of(0.9), stiffness);
    of.case(9, Derived, "5wL⁴/384EI, E of table 4A", 1e-3, &[(sag.in_millimetres(), 0.8173)]);
    let long = |factor| creep::long_term(mm(1.2), mm(2.0), factor).in_millimetres();
    of.case(
        10,
        Published,
        "NDS eq. 3.5-1, K_cr as AWC's answers quote it",
        1e-9,
        &[(long(creep::SEASONED_LUMBER_DRY), 3.8), (long(creep::BED), 4.4)],
    );
}

fn movement(of: &mut Group) {
    let handbook = "Wood Handbook FPL-GTR-190, worked example of eq. 13-2";
    let grown = change(mm(232.0), 0.002_45, 8.0, 11.0);
    of.case(50, Published, handbook, 1e-3, &[(grown.in_millimetres(), 1.705)]);
    let tables = "Wood Handbook tables 4-3 and 13-5";
    of.one(51, Published, tables, 5e-6, (change_coefficient(7.6), 0.002_67));
    of.one(51, Published, tables, 5e-6, (change_coefficient(4.8), 0.001_65));
    let ten = |c| change(mm(234.95), c, 6.0, 12.0).in_millimetres();
    let eq = "Wood Handbook eq. 13-2, grand fir and Sitka spruce";
    of.case(52, Derived, eq, 1e-3, &[(ten(0.002_63), 3.708), (ten(0.001_48), 2.086)]);
    let dried = change_beyond(mm(150.0), 7.6, 15.0, 6.0).in_millimetres();
    of.case(53, FromMemory, "Wood Handbook eq. 13-3", 1e-3, &[(dried, -3.555)]);
    let air = "Wood Handbook eq. 4-5 and table 4-2";
    let sixty_five = (65.0 - 32.0) / 1.8;
    for (celsius, humidity, expected) in
        [(20.0, 0.5, 9.27), (30.0, 0.8, 15.55), (sixty_five, 0.6, 11.05), (sixty_five, 0.3, 6.21)]
    {
        of.one(54, Published, air, 0.01, (equilibrium_moisture(celsius, humidity), expected));
    }
    let strip = thermal::growth(mm(1830.0), thermal::UHMW_PE, 40.0).in_millimetres();
    of.case(64, FromMemory, "α·L·ΔT, UHMW-PE 2e-4 per K", 1e-6, &[(strip, 14.64)]);
}

fn sawing(of: &mut Group) {
    let cut = "n·w + (n − 1)·k ≤ L";
    let (kerf, sheet) = (Length::inches(1, 8), Length::inches(48, 1));
    let four = |from: Length| (from - kerf * 3) / 4;
    of.holds(60, Derived, cut, four(sheet) == Length::inches(11 * 32 + 29, 32));
    // The quarter inch that comes off first is trim and kerf together.
    let trimmed = sheet - Length::inches(1, 4);
    of.holds(60, Derived, cut, four(trimmed) == Length::inches(11 * 32 + 27, 32));
    let inch = ripped_strips(Length::inches(96, 1), Length::inches(127, 8), kerf);
    let metric = ripped_strips(Length::mm(1220), Length::mm(300), Length::mm(32) / 10);
    of.holds(61, Derived, cut, inch == 6 && metric == 4);
    // Seams: first and last 50 mm from the ends, no more than 200 mm apart (common practice).
    let count = crate::mechanics::screw::count_along(1830, 50, 200);
    of.one(
        25,
        Assumption,
        "n = ⌈(L − 2·end)/most⌉ + 1, common practice",
        0.0,
        (count as f64, 10.0),
    );
    let pitch = (1830.0 - 100.0) / (count - 1) as f64;
    of.one(25, Assumption, "n = ⌈(L − 2·end)/most⌉ + 1, common practice", 0.01, (pitch, 192.22));
}
