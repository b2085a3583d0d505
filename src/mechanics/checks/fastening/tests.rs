//! Seams of built chests and what their screws hold.

use super::fixed;
use crate::design::Structure;
use crate::mechanics::checks::fixture::*;
use crate::mechanics::lateral::{self, Joint};
use crate::mechanics::screw;
use crate::mechanics::testing::close;
use crate::scenario::fixture::full_size;
use crate::scenario::{Fastening, Runs};
use crate::units::Length;
use crate::units::physics::{Metres, Stress};

// Derived: the yield equations for No. 8 through half-inch plywood into SPF, for ten minutes, times the screws counted.
#[test]
fn the_bottom_seams_hold_by_the_yield_equations() {
    let scenario = heavy(full_size(), 40);
    let whole = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    let checks = whole.checks(&scenario);
    let seams = named(&checks, "bottom seams, braking");
    let eight = screw::gauge(8).expect("tabulated");
    let joint = Joint {
        diameter: eight.root,
        diameter_factor: lateral::diameter_factor(eight.shank),
        bending_yield: eight.bending_yield,
        main_length: Metres::millimetres(25.0) - eight.shank,
        main_bearing: lateral::wood_bearing(0.42),
        side_length: Metres::inches(0.5),
        side_bearing: Stress::psi(3350.0),
    };
    let one = joint.single_shear().0.in_newtons() * 1.6;
    let count = (seams.limit / one).round();
    close(seams.limit, count * one, 1e-6);
    assert!(said(seams).contains(&format!("{count:.0} No. 8 screws")), "{}", said(seams));
}

#[test]
fn screws_follow_loads_as_well_as_spacing() {
    let screws = |kg: i64| {
        let mut scenario = heavy(full_size(), kg);
        let sparse = Fastening { spacing: Length::inches(24, 1), ends: Length::inches(2, 1) };
        scenario.allowances.drawer_screws = sparse;
        let mut whole = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
        let (_, checks) = fixed(&scenario, &whole.structure, &mut whole.built);
        assert!(starting(&checks, "side seam").passes(), "{kg} kg");
        whole.built.fixings.drawer.fastening.spacing
    };
    assert_eq!(screws(10), Length::inches(24, 1), "as asked for");
    assert!(screws(500) < Length::inches(24, 1));
}

// NDS Commentary table C12.1.5.7 (from memory): 2.5 diameters of No. 8 either side want 0.82 in.
#[test]
fn thin_edges_are_said_to_want_lead_holes() {
    let scenario = full_size();
    let whole = chest(&scenario, &[2], Runs::Strip, &[]);
    let thick = whole.checks(&scenario);
    let members = named(&thick, "edge of the members");
    close(members.limit, 5.0 * 0.164 * 25.4, 1e-9);
    assert!(members.passes() && named(&thick, "edge of the drawers' sides").passes());
    let thin = scenario.stock.material_named("1x8").expect("the fixture stocks it");
    let mut tiers = whole.structure.tiers.clone();
    tiers.iter_mut().for_each(|tier| tier.member = thin);
    let thin = rebuilt(&scenario, Structure { tiers, ..whole.structure }, &[]).checks(&scenario);
    let members = named(&thin, "edge of the members");
    assert!(!members.passes() && members.note && said(members).contains("lead holes"));
}
