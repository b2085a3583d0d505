//! The deck of built chests: figures recomputed by hand, and relations that must hold.

use crate::design::Structure;
use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::sheet::Sheet;
use crate::mechanics::panel::{self, Axis, Plies, SpanRating, Spans};
use crate::mechanics::testing::close;
use crate::mechanics::threshold::{GRADES, Grade, most_load};
use crate::scenario::fixture::{full_size, inches};
use crate::scenario::{Hardware, HardwareUse, Runs, Scenario, Sold};
use crate::units::physics::{AreaLoad, Metres, STANDARD_GRAVITY};
use crate::units::{Length, Mass};

// Derived by hand from AWC ASD/LRFD Manual, Table M9.2-1 and the span rule of APA PDS 4.5: the deck
// of two columns is seamed over the middle member, so each half is a single span across its grain.
#[test]
fn the_decks_sag_is_that_of_a_single_span() {
    let mut scenario = full_size();
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    let chest = chest(&scenario, &[2], Runs::Strip, &[]);
    let checks = chest.checks(&scenario);
    let widest = chest.built.chest.openings[0].iter().max().expect("two openings");
    let frame = &chest.built.chest.carcass.tiers[0];
    let deck_length = chest.built.chest.carcass.length + scenario.allowances.deck_overhang;
    let area = frame.width.by(deck_length).to_square_metres();
    let load = (Mass::POUND * 400).to_kg() * STANDARD_GRAVITY / area;
    let own = 577.0 * 0.0127 * STANDARD_GRAVITY;
    let stiffness = panel::plywood(SpanRating::R32x16, Plies::Four, Axis::Across).stiffness;
    let span = panel::deflection_span(Metres::from(*widest));
    // The deck's own weight stays, and counts twice.
    let load_and_creep = AreaLoad::pascals(load + 2.0 * own);
    let sag = panel::deflection(Spans::One, load_and_creep, span, stiffness);
    let check = named(&checks, "deck sag, loaded");
    close(check.value, sag.in_millimetres(), 1e-3);
    // The limit is of the span between the members' middles; the outer one's is at its middle.
    let middles = Metres::from(*widest + frame.member);
    close(check.limit, middles.in_millimetres() / 240.0, 1e-9);
    assert!(check.strength && said(check).contains("four plies (assumption)"));
    let bending = named(&checks, "deck bending, loaded");
    let moment = (2.0 * load + own) * middles.in_metres() * middles.in_metres() / 8.0;
    close(bending.value, moment, 1e-6);
    // 110 lb-in/ft, four-ply across the grain, for ten minutes.
    close(bending.limit, 110.0 * 0.370_685_135 * 1.6, 1e-6);
}

#[test]
fn without_a_deck_load_only_a_person_is_checked() {
    let scenario = full_size();
    let checks = chest(&scenario, &[2], Runs::Strip, &[]).checks(&scenario);
    assert!(!names(&checks).contains(&"deck sag, loaded"));
    let person = named(&checks, "deck sag, one person");
    // With the drawers shut the free front edge comes down on their fronts: the middle is worse, and half an inch is not
    // enough for two columns.
    assert!(person.value > 20.0 && !person.note && person.refuses(), "{person:?}");
    assert!(said(person).contains("Force(1100.0)") && said(person).contains("in the middle"));
    assert!(said(person).contains("assumption"));
    // Over an open drawer it is worse than anywhere, which is told and refuses nothing.
    let open = named(&checks, "front edge over an open drawer");
    assert!(open.note && !open.passes() && !open.refuses() && open.holds(), "{open:?}");
}

// Relations: what rests on nothing bends freely; an angle takes load off the panel, the more the larger it is; aluminium
// yields before steel of the same size.
#[test]
fn the_front_edge_is_carried_by_fronts_and_angle() {
    let mut scenario = full_size();
    let edge = |scenario: &Scenario, name: &str| {
        let checks = chest(scenario, &[3], Runs::Strip, &[at_front()]).checks(scenario);
        named(&checks, name).clone()
    };
    let shut = edge(&scenario, "front edge sag, one person");
    close(shut.value, 0.25 * 25.4, 1e-12);
    assert!(said(&shut).contains("rests on the shut drawer's front"), "{shut:?}");
    scenario.allowances.deck_overhang = Length::ZERO;
    let free = edge(&scenario, "front edge sag, one person");
    assert!(free.value > 1.5 * shut.value && !said(&free).contains("rests on"), "{free:?}");
    let mut angle = |leg: i64, gigapascals: f64| {
        scenario.stock.hardware = full_size().stock.hardware;
        let sold = Sold::Length { length: inches(96) };
        scenario.stock.hardware.push(Hardware {
            thickness: Length::inches(1, 8),
            leg: Some(inches(leg)),
            modulus: Some(gigapascals * 1e9),
            plate: crate::scenario::Plate::default(),
            ..stocked("angle", HardwareUse::Angle, sold)
        });
        let names = ["front edge sag, one person", "front angle, one person"];
        names.map(|name| edge(&scenario, name))
    };
    let [[_, steel], [small, alu], [large, larger]] =
        [angle(1, 205.0), angle(1, 69.0), angle(2, 69.0)];
    assert!(small.value < free.value && large.value < small.value);
    assert!(alu.limit < steel.limit && alu.limit < larger.limit);
    assert!(!said(&alu).contains("its size is not given"), "{alu:?}");
}

// Relations: closer members, a thicker deck and a lighter load never sag more.
#[test]
fn the_deck_sags_less_where_it_should() {
    let mut scenario = full_size();
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    let sag = |scenario: &Scenario, columns: u32, deck: &str, name: &str| {
        let deck = scenario.stock.material_named(deck).expect("the fixture stocks it");
        let structure = Structure { deck, ..structure(scenario, &[columns], Runs::Strip) };
        named(&rebuilt(scenario, structure, &[]).checks(scenario), name).value
    };
    for name in ["deck sag, loaded", "deck bending, loaded", "deck sag, one person"] {
        let two = sag(&scenario, 2, "1/2 plywood", name);
        assert!(sag(&scenario, 3, "1/2 plywood", name) < two, "{name}");
    }
    let half = sag(&scenario, 2, "1/2 plywood", "deck sag, one person");
    assert!(sag(&scenario, 2, "3/4 plywood", "deck sag, one person") < half);
    let full = sag(&scenario, 2, "1/2 plywood", "deck sag, loaded");
    scenario.aims.limits.deck_load = Some(Mass::POUND * 200);
    assert!(sag(&scenario, 2, "1/2 plywood", "deck sag, loaded") < full);
}

// The README's table is the deck's own checks solved for the load: at that load one of them just holds.
#[test]
fn the_loads_at_which_decks_change_are_those_of_the_checks() {
    let mut scenario = full_size();
    let engineering = scenario.engineering.clone();
    for (deck, grade) in
        [("1/2 plywood", Grade { thickness: 16, ..GRADES[0] }), ("3/4 plywood", GRADES[2])]
    {
        let id = scenario.stock.material_named(deck).expect("the fixture stocks it");
        let structure = Structure { deck: id, ..structure(&scenario, &[2], Runs::Strip) };
        let whole = rebuilt(&scenario, structure, &[]);
        let frame = &whole.built.chest.carcass.tiers[0];
        let widest = whole.built.chest.openings[0].iter().max().expect("two openings");
        let (load, _) = most_load(
            &grade,
            Axis::Across,
            (
                Metres::from(*widest + frame.member),
                Metres::from(frame.member),
                Metres::from(whole.built.chest.carcass.length + scenario.allowances.deck_overhang),
            ),
            engineering.road_shock,
            engineering.sag_share,
        );
        scenario.aims.limits.deck_pressure = Some(load.in_pascals());
        let checks = whole.checks(&scenario);
        let margins =
            ["deck sag, loaded", "deck bending, loaded"].map(|name| named(&checks, name).margin());
        close(margins[0].min(margins[1]), 1.0, 2e-3);
    }
}

// Relation: over one span a long plate that is stiffer along the span than across it sags and bends more than its strip, by a
// few percent (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, the orthotropic plate); one that is stiffer
// across it never is let off for that.
#[test]
fn a_deck_sags_no_less_than_as_a_plate() {
    let scenario = full_size();
    let plywood = scenario.stock.material_named("1/2 plywood").expect("the fixture stocks it");
    let plywood = &scenario.stock.materials[plywood];
    let sheet = Sheet::of(plywood);
    let length = Metres::inches(72.0);
    let times = |axis: Axis, span: Metres| sheet.plate(axis, span, length, plywood).over_strip();
    let most = (1..=30).map(|tenths| times(Axis::Along, length * (f64::from(tenths) / 30.0))[0]);
    let most = most.fold(0.0, f64::max);
    assert!(most > 1.005 && most < 1.1, "{most}");
    assert_eq!(times(Axis::Across, length), [1.0, 1.0]);
}
