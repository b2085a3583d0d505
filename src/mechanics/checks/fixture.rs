//! Chests to be checked, and how their checks are found.

use super::{Subject, checks};
use crate::design::derive::{Built, build, carcass, hardware};
use crate::design::{
    Box3, Carcass, Check, Content, HardwareLine, Item, Layout, Point, Size, Stowage, Structure,
    TierChoice,
};
use crate::scenario::fixture::{inches, sixteenths};
use crate::scenario::{Family, GearId, Hardware, HardwareUse, Runs, Scenario, Sold};
use crate::units::{Length, Mass, Money};

/// A chest with everything that the checks look at.
pub(super) struct Whole {
    pub(super) structure: Structure,
    pub(super) built: Built,
    pub(super) hardware: Vec<HardwareLine>,
}

impl Whole {
    pub(super) fn subject(&self) -> Subject<'_> {
        Subject::of(&self.structure, &self.built, &self.hardware)
    }

    pub(super) fn checks(&self, scenario: &Scenario) -> Vec<Check> {
        checks(scenario, self.subject())
    }
}

pub(super) fn structure(scenario: &Scenario, columns: &[u32], runs: Runs) -> Structure {
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
pub(super) fn stowed(carcass: &Carcass, gear: &[Item]) -> Stowage {
    let tiers = carcass.tiers.iter().map(|frame| {
        let drawers = frame.empty_drawers(sixteenths(1)).into_iter();
        drawers.map(|drawer| Layout { items: gear.to_vec(), ..drawer }).collect()
    });
    Stowage { tiers: tiers.collect(), ..Stowage::default() }
}

pub(super) fn chest(scenario: &Scenario, columns: &[u32], runs: Runs, gear: &[Item]) -> Whole {
    rebuilt(scenario, structure(scenario, columns, runs), gear)
}

/// A chest of another structure.
pub(super) fn rebuilt(scenario: &Scenario, structure: Structure, gear: &[Item]) -> Whole {
    let carcass = carcass(scenario, &structure).expect("it stands");
    let stowage = stowed(&carcass, gear);
    let built = build(scenario, &structure, carcass, stowage).expect("it can be built");
    let hardware = hardware::hardware(scenario, &structure, &built);
    Whole { structure, built, hardware }
}

/// The fixture's first gear, at a place in its drawer.
pub(super) fn case(at: Point) -> Item {
    let size = Size::new(inches(12), inches(15), inches(5));
    Item { content: Content::Gear(GearId(0)), copy: 0, space: Box3 { at, size } }
}

pub(super) fn at_front() -> Item {
    case(Point::default())
}

pub(super) fn named<'a>(checks: &'a [Check], name: &str) -> &'a Check {
    checks
        .iter()
        .find(|check| check.name == name)
        .unwrap_or_else(|| panic!("no check {name} among {:?}", names(checks)))
}

pub(super) fn names(checks: &[Check]) -> Vec<&str> {
    checks.iter().map(|check| check.name.as_str()).collect()
}

/// A check's remark with its quantities as they are.
pub(super) fn said(check: &Check) -> String {
    format!("{:?}", check.remark)
}

/// Where a check comes from.
pub(super) fn from(check: &Check) -> String {
    format!("{:?}", check.source)
}

pub(super) fn heavy(mut scenario: Scenario, kg: i64) -> Scenario {
    scenario.gear[GearId(0)].mass = Mass::KG * kg;
    scenario
}

/// The first check whose name begins so.
pub(super) fn starting<'a>(checks: &'a [Check], start: &str) -> &'a Check {
    let found = checks.iter().find(|check| check.name.starts_with(start));
    found.unwrap_or_else(|| panic!("no check {start} among {:?}", names(checks)))
}

/// Hardware of which the fixture stocks none.
pub(super) fn stocked(name: &str, use_: HardwareUse, sold: Sold) -> Hardware {
    Hardware {
        name: name.into(),
        use_,
        sold,
        price: Money::ONE * 40,
        on_hand: 0,
        mass: Mass::ZERO,
        thickness: Length::inches(1, 2),
        rating: None,
        slide: None,
        leg: None,
        modulus: None,
        plate: crate::scenario::Plate::default(),
    }
}

/// A pair of slides of which one may be rated and of known length.
pub(super) fn slides(rating: Mass, long: Option<Length>) -> Hardware {
    let pair = stocked("slides", HardwareUse::Slides, Sold::Each { pack: 1 });
    Hardware { rating: Some(rating), slide: long, mass: Mass::KG, ..pair }
}
