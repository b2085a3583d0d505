//! The checks on a built chest: figures recomputed by hand, and relations that must hold.

use super::*;
use crate::design::derive::figures::{chest_mass, gear_mass};
use crate::design::derive::{build, carcass, hardware};
use crate::design::{Box3, Carcass, Content, Item, Layout, Point, Size, Stowage, TierChoice};
use crate::mechanics::panel::{self, Axis, Plies, SpanRating, Spans};
use crate::mechanics::testing::close;
use crate::scenario::fixture::{full_size, inches, sixteenths};
use crate::scenario::{Family, GearId, HardwareUse, Runs, Sold};
use crate::units::physics::{AreaLoad, Kilograms, Metres, STANDARD_GRAVITY};
use crate::units::{Length, Mass};

/// A chest with everything that the checks look at.
struct Whole {
    structure: Structure,
    built: Built,
    hardware: Vec<HardwareLine>,
}

impl Whole {
    fn subject(&self) -> Subject<'_> {
        Subject::of(&self.structure, &self.built, &self.hardware)
    }

    fn checks(&self, scenario: &Scenario) -> Vec<Check> {
        checks(scenario, self.subject())
    }
}

fn structure(scenario: &Scenario, columns: &[u32], runs: Runs) -> Structure {
    let named = |name: &str| scenario.stock.material_named(name).expect("the fixture stocks it");
    let tiers = columns.iter().map(|columns| TierChoice {
        columns: *columns,
        member: named("2x8"),
        height: sixteenths(116),
    });
    Structure {
        family: Family::BetweenWells,
        // One opening has no member on which a panel wider than its sheets could be seamed.
        seamless: columns.contains(&1),
        tiers: tiers.collect(),
        bottom: named("1/2 plywood"),
        deck: named("1/2 plywood"),
        deck_grain: crate::scenario::DeckGrain::Along,
        sides: named("1x8"),
        drawer_bottom: named("1/2 plywood"),
        front: named("1x8"),
        divider: named("1/2 plywood"),
        runs,
    }
}

/// Drawers of equal width (what rounding leaves in the first), each with `gear` standing at its
/// front left corner, or pushed to the right, or at the back.
fn stowed(carcass: &Carcass, gear: &[Item]) -> Stowage {
    let tiers = carcass.tiers.iter().map(|frame| {
        let each = (frame.inside_width() / i64::from(frame.columns)).floor_to(sixteenths(1));
        let rest = frame.inside_width() - each * i64::from(frame.columns - 1);
        (0..frame.columns)
            .map(|column| Layout {
                width: if column == 0 { rest } else { each },
                length: frame.drawer_inside_length,
                height: frame.clear_height,
                items: gear.to_vec(),
                ..Layout::default()
            })
            .collect()
    });
    Stowage { tiers: tiers.collect(), ..Stowage::default() }
}

fn chest(scenario: &Scenario, columns: &[u32], runs: Runs, gear: &[Item]) -> Whole {
    let structure = structure(scenario, columns, runs);
    let carcass = carcass(scenario, &structure).expect("it stands");
    let stowage = stowed(&carcass, gear);
    let built = build(scenario, &structure, carcass, stowage).expect("it can be built");
    let hardware = hardware::hardware(scenario, &structure, &built);
    Whole { structure, built, hardware }
}

/// The fixture's first gear, at a place in its drawer.
fn case(at: Point) -> Item {
    let size = Size::new(inches(12), inches(15), inches(5));
    Item { content: Content::Gear(GearId(0)), copy: 0, space: Box3 { at, size } }
}

fn at_front() -> Item {
    case(Point::default())
}

fn named<'a>(checks: &'a [Check], name: &str) -> &'a Check {
    checks
        .iter()
        .find(|check| check.name == name)
        .unwrap_or_else(|| panic!("no check {name} among {:?}", names(checks)))
}

fn names(checks: &[Check]) -> Vec<&str> {
    checks.iter().map(|check| check.name.as_str()).collect()
}

/// A check's remark with its quantities as they are.
fn said(check: &Check) -> String {
    format!("{:?}", check.remark)
}

/// Where a check comes from.
fn from(check: &Check) -> String {
    format!("{:?}", check.source)
}

fn heavy(mut scenario: Scenario, kg: i64) -> Scenario {
    scenario.gear[GearId(0)].mass = Mass::KG * kg;
    scenario
}

#[test]
fn weights_add_up_to_chest_and_gear() {
    let scenario = full_size();
    let chest = chest(&scenario, &[2, 3], Runs::Strip, &[at_front()]);
    let all = Weights::of(&scenario, &chest.subject()).all().mass().in_kilograms();
    let built = &chest.built;
    let wood = chest_mass(&scenario, &built.parts, &chest.hardware).to_kg();
    let gear = gear_mass(&scenario, &built.drawers, &built.pockets).to_kg();
    close(all, wood + gear, 1e-9);
    assert!(gear > 5.0 * 3.0, "five drawers with a case of 8 lb each");
}

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
        scenario.stock.hardware.push(crate::scenario::Hardware {
            name: "angle".into(),
            use_: HardwareUse::Angle,
            sold: Sold::Length { length: inches(96) },
            price: crate::units::Money::ONE,
            on_hand: 0,
            mass: Mass::ZERO,
            thickness: Length::inches(1, 8),
            rating: None,
            slide: None,
            leg: Some(inches(leg)),
            modulus: Some(gigapascals * 1e9),
            plate: crate::scenario::Plate::default(),
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
        let mut built = chest(scenario, &[columns], Runs::Strip, &[]);
        let deck = scenario.stock.material_named(deck).expect("the fixture stocks it");
        let structure = Structure { deck, ..built.structure.clone() };
        let carcass = carcass(scenario, &structure).expect("it stands");
        let stowage = stowed(&carcass, &[]);
        built.built = build(scenario, &structure, carcass, stowage).expect("it can be built");
        named(&built.checks(scenario), name).value
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

// Derived: μ·m·g, with the skew of a load to one side, against the limit as given or HSE's.
#[test]
fn the_pull_follows_mass_friction_and_skew() {
    let mut scenario = heavy(full_size(), 40);
    let built = chest(&scenario, &[1], Runs::Strip, &[at_front()]);
    let weights = Weights::of(&scenario, &built.subject());
    let drawer = &built.built.drawers[0];
    let body = weights.drawers[0];
    let straight = 0.2 * body.mass().in_kilograms() * STANDARD_GRAVITY;
    let middle = drawer.outside.at.x.to_metres() + drawer.outside.size.dx.to_metres() / 2.0;
    let offset = (middle - body.x().in_metres()).abs();
    assert!(offset > 0.1, "the case stands at the left");
    let skew = 1.0 + 2.0 * 0.2 * offset / drawer.outside.size.dy.to_metres();
    let checks = built.checks(&scenario);
    let pull = named(&checks, "pull of drawer A1");
    close(pull.value, straight * skew, 1e-9);
    close(pull.limit, 196.0, 1e-12);
    assert!(from(pull).contains("assumption") && from(pull).contains("HSE"));
    scenario.aims.limits.pull_newtons = Some(50.0);
    let checks = built.checks(&scenario);
    let pull = named(&checks, "pull of drawer A1");
    assert!(!pull.passes() && from(pull).contains("as given"));
}

#[test]
fn slides_roll_and_have_a_rating() {
    let mut scenario = heavy(full_size(), 60);
    let slides = scenario.stock.hardware.push(crate::scenario::Hardware {
        name: "full-extension slides".into(),
        use_: HardwareUse::Slides,
        sold: Sold::Each { pack: 1 },
        price: crate::units::Money::ONE * 40,
        on_hand: 0,
        mass: Mass::KG,
        thickness: Length::inches(1, 2),
        rating: Some(Mass::KG * 50),
        slide: None,
        leg: None,
        modulus: None,
        plate: crate::scenario::Plate::default(),
    });
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let strip = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(
        named(&checks, "pull of drawer A1").value < named(&strip, "pull of drawer A1").value / 4.0
    );
    let load = checks.iter().find(|check| check.name.starts_with("load on slides"));
    let load = load.expect("the slides are rated");
    assert!(!load.passes() && load.strength && load.value > 60.0, "{load:?}");
    assert!(!names(&checks).iter().any(|name| name.starts_with("guided length")));
    scenario.stock.hardware[slides].rating = Some(Mass::KG * 100);
    let checks = built.checks(&scenario);
    let load = checks.iter().find(|check| check.name.starts_with("load on slides"));
    let load = load.expect("the slides are rated");
    assert!(load.passes() && said(load).contains("assumption"), "for which length is not said");
}

#[test]
fn the_longest_slides_that_fit_carry_what_they_are_rated_for() {
    let mut scenario = heavy(full_size(), 40);
    let mut pair = |inches_long: i64, kg: i64| {
        scenario.stock.hardware.push(crate::scenario::Hardware {
            name: format!("slides {inches_long}"),
            use_: HardwareUse::Slides,
            sold: Sold::Each { pack: 1 },
            price: crate::units::Money::ONE * 40,
            on_hand: 0,
            mass: Mass::KG,
            thickness: Length::inches(1, 2),
            rating: Some(Mass::KG * kg),
            slide: Some(inches(inches_long)),
            leg: None,
            modulus: None,
            plate: crate::scenario::Plate::default(),
        });
    };
    // The longer, the less they carry; the longest is longer than the drawer.
    pair(36, 120);
    pair(60, 100);
    pair(84, 60);
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let starting = |start: &str| {
        let found = checks.iter().find(|check| check.name.starts_with(start));
        found.unwrap_or_else(|| panic!("no check {start}")).clone()
    };
    let (load, length) = (starting("load on slides"), starting("length of slides"));
    close(load.limit, 100.0, 1e-12);
    assert!(load.passes() && length.passes(), "{load:?} {length:?}");
    close(length.value, 60.0 * 25.4, 1e-12);
    // Only too long a pair is a fault, not a remark.
    let kept = scenario.stock.hardware.values().cloned();
    let kept = kept.filter(|slides| slides.slide.is_none_or(|long| long > inches(80)));
    scenario.stock.hardware = kept.collect();
    let built = chest(&scenario, &[2], Runs::Slides, &[at_front()]);
    let checks = built.checks(&scenario);
    let length = checks.iter().find(|check| check.name.starts_with("length of slides"));
    let length = length.expect("its length is given");
    assert!(!length.passes() && length.refuses(), "{length:?}");
}

// Derived: twice (creep) the sag that a strip as wide as the case would have is an upper bound, since
// the panel's stiff way spreads it; the panel's sag under the case's weight spread over all of it a
// lower one.
#[test]
fn a_drawer_bottom_sags_under_its_gear() {
    let scenario = heavy(full_size(), 30);
    let built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    let checks = built.checks(&scenario);
    let sag = checks.iter().find(|check| check.name.starts_with("drawer bottom sag")).unwrap();
    let drawer = &built.built.drawers[0];
    let stiffness = panel::plywood(SpanRating::R32x16, Plies::Four, Axis::Across).stiffness;
    let span = Metres::from(drawer.outside.size.dx) - Metres::millimetres(25.0);
    let weight = Kilograms::of(30.0).weight();
    let spread = |length: Metres| {
        let load = weight / span / length;
        panel::deflection(Spans::One, load, span, stiffness).in_millimetres() * 2.0
    };
    let least = spread(Metres::from(drawer.outside.size.dy));
    let most = spread(Metres::inches(15.0)) * 8.0 / 5.0;
    assert!(sag.value > least && sag.value < most, "{least} {} {most}", sag.value);
    assert!(said(sag).contains("Kilograms(30.0)"), "{}", said(sag));
    let empty = chest(&scenario, &[2], Runs::Strip, &[]).checks(&scenario);
    let empty = empty.iter().find(|check| check.name.starts_with("drawer bottom sag")).unwrap();
    assert!(empty.value > 0.0 && empty.value < sag.value / 3.0);
}

// Derived: drawn out, a case at the front presses the back end up, one at the back does not.
#[test]
fn where_the_weight_lies_decides_uplift_and_tipping() {
    let scenario = heavy(full_size(), 80);
    let back = chest(&scenario, &[2], Runs::Strip, &[]).built.drawers[0].inside.dy - inches(15);
    let rear = case(Point::new(Length::ZERO, back, Length::ZERO));
    let (front, rear) = (
        chest(&scenario, &[2], Runs::Strip, &[at_front()]),
        chest(&scenario, &[2], Runs::Strip, &[rear]),
    );
    let (front_checks, rear_checks) = (front.checks(&scenario), rear.checks(&scenario));
    let uplift = front_checks.iter().find(|check| check.name.starts_with("uplift")).unwrap();
    let weights = Weights::of(&scenario, &front.subject());
    let drawer = &front.built.drawers[0];
    let (weight, length) = (weights.drawers[0].mass().weight(), drawer.outside.size.dy.to_metres());
    let engaged = (length / 5.0).max(0.3);
    let centre = weights.drawers[0].y().in_metres() - drawer.outside.at.y.to_metres();
    let expected = weight.in_newtons() * (length - engaged - centre) / engaged;
    close(uplift.value, expected, 1e-9);
    // Screws from 2 in on every 6 in: 2, 8, 14 in of the 14.6 in engaged, on two members.
    assert!(said(uplift).contains("6 No. 8 screws"), "{}", said(uplift));
    let per_screw = 2850.0 * 0.42 * 0.42 * 0.164 * (25.0 / 25.4) * 4.448_221_615 * 1.6;
    close(uplift.limit, 6.0 * per_screw, 1e-6);

    let tip = |checks: &[Check]| {
        checks.iter().find(|check| check.name.starts_with("tipping")).unwrap().value
    };
    assert!(tip(&front_checks) > tip(&rear_checks));
    let lip = front.built.chest.carcass.front_y.to_metres();
    let (fixed, other) = (weights.fixed, weights.drawers[1]);
    let moment = |mass: Kilograms, arm: f64| mass.in_kilograms() * arm;
    let stable = moment(fixed.mass(), fixed.y().in_metres() - lip)
        + moment(other.mass(), other.y().in_metres() - lip);
    let open = weights.drawers[0];
    let over = moment(open.mass(), length - engaged + lip - open.y().in_metres());
    let single = over / stable;
    assert!(
        (tip(&front_checks) - single).abs() < 0.02 * single,
        "the two drawers are nearly alike"
    );
}

#[test]
fn guides_that_are_too_short_are_found() {
    let scenario = full_size();
    let checks = chest(&scenario, &[1], Runs::Strip, &[]).checks(&scenario);
    let jam = named(&checks, "guided length of A1, open");
    // A single drawer of some 49 in: 2 · 0.2 · half of it.
    let width = chest(&scenario, &[1], Runs::Strip, &[]).built.drawers[0].outside.size.dx.to_mm();
    close(jam.limit, 0.2 * width, 1e-9);
    close(jam.value, (73.25 * 25.4_f64 / 5.0).max(300.0), 1e-9);
    assert!(jam.passes());
}

#[test]
fn payload_tailgate_and_axle_are_the_vehicles() {
    let mut scenario = full_size();
    let built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    let checks = built.checks(&scenario);
    let payload = named(&checks, "payload");
    assert!(payload.passes());
    close(payload.limit, (Mass::POUND * 1200).to_kg(), 1e-12);
    // The fixture's tailgate lies flush: bottom panel and strip clear it by 3/4 in.
    let clearance = named(&checks, "tailgate clearance");
    close(clearance.value, 0.75 * 25.4, 1e-12);
    assert!(clearance.passes() && !names(&checks).contains(&"relief of front axle"));

    scenario.bed.payload = Some(Mass::KG * 60);
    scenario.bed.wheelbase = Some(inches(145));
    scenario.bed.rear_axle_from_tailgate = Some(inches(43));
    scenario.bed.tailgate.as_mut().expect("it has one").rise = inches(1);
    let checks = built.checks(&scenario);
    assert!(!named(&checks, "payload").passes());
    assert!(!named(&checks, "tailgate clearance").passes(), "built for a flush tailgate");
    let all = Weights::of(&scenario, &built.subject()).all();
    let axle = named(&checks, "relief of front axle");
    let lifted = all.mass().in_kilograms() * (1.0922 - all.y().in_metres()) / (145.0 * 0.0254);
    assert!(lifted > 0.0, "the cases stand at the tail");
    close(axle.value, lifted, 1e-9);

    let rebuilt = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(named(&rebuilt, "tailgate clearance").passes(), "lifted for it");
}

// Relation: a shelf sags where upper members stand between lower ones, and hardly where they line up.
#[test]
fn a_shelf_feels_where_the_tier_above_stands() {
    let mut scenario = heavy(full_size(), 10);
    scenario.aims.limits.deck_load = Some(Mass::POUND * 300);
    let sag = |columns: &[u32]| {
        let checks = chest(&scenario, columns, Runs::Strip, &[at_front()]).checks(&scenario);
        named(&checks, "shelf sag, tier B").value
    };
    let (aligned, between) = (sag(&[2, 2]), sag(&[2, 1]));
    assert!(aligned > 0.0, "its own weight and the runs beside the members");
    assert!(sag(&[2, 3]) > 2.0 * aligned, "{aligned}");
    assert!(between > 0.0);
    let one_tier = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(!names(&one_tier).iter().any(|name| name.starts_with("shelf")));
}

// Relation: heavier gear is never better for pull, bottom, uplift, tipping or payload.
#[test]
fn heavier_gear_is_never_better() {
    let (light, loaded) = (heavy(full_size(), 5), heavy(full_size(), 50));
    let built = chest(&light, &[2, 2], Runs::Strip, &[at_front()]);
    let (before, after) = (built.checks(&light), built.checks(&loaded));
    let mut compared = 0;
    for check in &after {
        let Some(lighter) = before.iter().find(|other| other.name == check.name) else { continue };
        if check.sense == Sense::Most {
            assert!(check.value >= lighter.value - 1e-9, "{}", check.name);
            compared += 1;
        }
    }
    assert!(compared >= 8, "{compared} checks in common");
}

// EN 12195-1: its safety forward is 1.25 and otherwise 1.1 (from memory), and the floor's friction counts; 49 CFR 393.102
// has neither. Bolts follow.
#[test]
fn the_rule_of_securing_sets_what_the_bolts_must_hold() {
    let mut scenario = heavy(full_size(), 60);
    let demand = |scenario: &Scenario| {
        let checks = chest(scenario, &[2], Runs::Strip, &[at_front()]).checks(scenario);
        ["hold-down, braking", "hold-down, in a bend"].map(|name| named(&checks, name).clone())
    };
    let cfr = demand(&scenario);
    scenario.engineering.securing = crate::scenario::Securing::En;
    let en = demand(&scenario);
    close(en[0].value, 1.25 * cfr[0].value, 1e-9);
    close(en[1].value, 1.1 * cfr[1].value, 1e-9);
    assert!(from(&cfr[0]).contains("49 CFR 393.102") && from(&en[0]).contains("EN 12195-1"));
    scenario.engineering.floor_friction = 0.3;
    let rough = demand(&scenario);
    close(rough[0].value, en[0].value * (0.8 - 0.3) / 0.8, 1e-9);
    assert!(said(&rough[0]).contains("friction 0.3 counted"), "{:?}", rough[0]);
    // As many bolts as that takes, on a design that is fixed.
    let bolts = |kg: i64| {
        let scenario = heavy(scenario.clone(), kg);
        let mut built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
        fixed(&scenario, &built.structure, &mut built.built);
        built.built.fixings.hold_downs
    };
    assert!(bolts(10) < bolts(400) && bolts(400) <= 16);
}

#[test]
fn every_check_is_finite_and_says_where_it_comes_from() {
    let mut scenario = heavy(full_size(), 20);
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    scenario.bed.wheelbase = Some(inches(145));
    scenario.bed.rear_axle_from_tailgate = Some(inches(43));
    scenario.bed.clear_height.at = inches(40);
    let tiers: [&[u32]; 6] = [&[1], &[3], &[4], &[1, 2], &[2, 3], &[1, 2, 4]];
    for columns in tiers {
        for runs in [Runs::Strip, Runs::Waxed, Runs::Slides] {
            for gear in [&[][..], &[at_front()]] {
                let checks = chest(&scenario, columns, runs, gear).checks(&scenario);
                assert!(checks.len() >= 9, "{:?}", names(&checks));
                for check in &checks {
                    assert!(check.value.is_finite() && check.limit.is_finite(), "{check:?}");
                    assert!(!check.source.0.is_empty() && !check.remark.0.is_empty(), "{check:?}");
                }
                let mut sorted = names(&checks);
                sorted.sort_unstable();
                sorted.dedup();
                assert_eq!(sorted.len(), checks.len(), "no name twice");
            }
        }
    }
}

fn above_wells(scenario: &Scenario) -> Vec<Check> {
    let structure =
        Structure { family: Family::AboveWells, ..structure(scenario, &[2, 3], Runs::Strip) };
    let carcass = carcass(scenario, &structure).expect("it stands");
    let stowage = stowed(&carcass, &[at_front()]);
    let built = build(scenario, &structure, carcass, stowage).expect("it can be built");
    let hardware = hardware::hardware(scenario, &structure, &built);
    checks(scenario, Subject::of(&structure, &built, &hardware))
}

// A full-width tier stands on the tier below it and on boards at the walls; without those its edges
// hang over, which must not go unseen.
#[test]
fn a_full_width_tier_needs_something_at_the_walls() {
    let mut scenario = full_size();
    scenario.aims.limits.deck_load = Some(Mass::POUND * 400);
    scenario.bed.clear_height.at = inches(40);
    let carried = above_wells(&scenario);
    assert!(names(&carried).contains(&"shelf sag, tier B"));
    assert!(!names(&carried).contains(&"shelf overhang, tier B"), "outriggers carry it");
    scenario.allowances.least_pocket = inches(100);
    let hanging = above_wells(&scenario);
    let overhang = named(&hanging, "shelf overhang, tier B");
    assert!(!overhang.passes() && overhang.strength, "{overhang:?}");
}
