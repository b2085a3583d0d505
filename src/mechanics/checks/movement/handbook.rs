//! Wood through the seasons, air, plastic through the year.

use super::thermal;
use crate::mechanics::Standing::{Derived, FromMemory, Published};
use crate::mechanics::handbook::Group;
use crate::mechanics::movement::{
    LUMBER_THICKNESS, LUMBER_WIDTH, change, change_beyond, change_coefficient,
    equilibrium_moisture, lumber_shrinkage,
};
use crate::units::physics::Metres;

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("movement");
    seasons(&mut of);
    examples(&mut of);
    of
}

fn seasons(of: &mut Group) {
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

fn examples(of: &mut Group) {
    // Wood magazine, September 2021: flat-sawn red alder 8 in wide over 6 %, 8 × 0.0026 × 6.
    let alder = change(Metres::inches(8.0), 0.0026, 6.0, 12.0).in_inches();
    of.case(68, Published, "Wood magazine, September 2021, red alder", 1e-9, &[(alder, 0.1248)]);
    // Green, FPL-RP-489: lumber from green to 15 % shrinks 2.80 % in width and 2.35 % in thickness (PS 20-70's figures).
    let green = "Green, FPL-RP-489, and PS 20-70's factors that it quotes";
    of.one(69, Published, green, 0.01, (lumber_shrinkage(LUMBER_WIDTH, 15.0), 2.80));
    of.one(69, Published, green, 0.01, (lumber_shrinkage(LUMBER_THICKNESS, 15.0), 2.35));
    // Missouri S&T, course 5260, problem 4.34: 0.2 % per percent, 13.25 in from 19 to 10 %.
    let joist = change(Metres::inches(13.25), 0.002, 19.0, 10.0).in_inches();
    of.case(70, Published, "Missouri S&T 5260, problem 4.34", 1e-9, &[(joist, -0.2385)]);
}

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}
