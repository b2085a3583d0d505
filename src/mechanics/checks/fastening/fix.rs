//! As many screws and hold-downs as the checks ask for.

use crate::design::derive::{Built, hardware::hardware};
use crate::design::{Check, HardwareLine, Structure};
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::checks::{Subject, checks, hold_down};
use crate::mechanics::screw;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::Metres;

/// Rounds in which more screws and what they weigh settle.
const ROUNDS: usize = 3;
/// Checks that closer screws in the chest lift, and in the drawers, by how they begin.
const BY_CHEST_SCREWS: [&str; 3] = ["uplift by", "bottom seams", "back of tier"];
const BY_DRAWER_SCREWS: [&str; 3] = ["bottom screws of", "side seam of", "front of"];
/// Checks that no screws lift: a chest that is refused for one of them needs no more looking at.
const BY_NO_SCREWS: [&str; 3] = ["deck ", "shelf ", "drawer bottom "];

/// Sets a chest's screws and hold-downs by load as well as by spacing, and counts its hardware.
///
/// The gauge is the usual one, or the next smaller where the members' edges are too thin for it. Screws come closer, in
/// halves and thirds of the scenario's spacing and never nearer than ten diameters, until no check that they lift fails;
/// hold-downs are as few as hold, in pairs, four at least. Returns hardware and checks as they then are.
pub fn fixed(
    scenario: &Scenario,
    structure: &Structure,
    built: &mut Built,
) -> (Vec<HardwareLine>, Vec<Check>) {
    settled(scenario, structure, built, &[])
}

/// The same, but for a chest that is refused whatever its screws: its hardware and checks are as they are at first.
pub fn fixed_unless_refused(
    scenario: &Scenario,
    structure: &Structure,
    built: &mut Built,
) -> (Vec<HardwareLine>, Vec<Check>) {
    settled(scenario, structure, built, &BY_NO_SCREWS)
}

/// As [`fixed`], until a check is refused that begins with one of `hopeless`.
fn settled(
    scenario: &Scenario,
    structure: &Structure,
    built: &mut Built,
    hopeless: &[&str],
) -> (Vec<HardwareLine>, Vec<Check>) {
    gauges(scenario, structure, built);
    let mut lines = hardware(scenario, structure, built);
    for _ in 0..ROUNDS {
        let subject = Subject::of(structure, built, &lines);
        let weights = Weights::of(scenario, &subject);
        let bolts = hold_down::hold_downs(scenario, &subject, &weights);
        let found = checks(scenario, subject);
        let fails = |starts: &[&str]| {
            let named = |check: &&Check| starts.iter().any(|start| check.name.starts_with(start));
            found.iter().filter(named).any(|check| !check.passes())
        };
        let refused = |check: &Check| {
            check.refuses() && hopeless.iter().any(|start| check.name.starts_with(start))
        };
        if found.iter().any(refused) {
            return (lines, found);
        }
        let (chest, drawer) = (fails(&BY_CHEST_SCREWS), fails(&BY_DRAWER_SCREWS));
        let before = built.fixings;
        built.fixings.hold_downs = bolts.max(before.hold_downs);
        let allow = &scenario.allowances;
        let step = scenario.shop.step;
        if chest {
            let spacing = &mut built.fixings.chest.fastening.spacing;
            *spacing = closer(*spacing, allow.chest_screws.spacing, step, before.chest.gauge);
        }
        if drawer {
            let spacing = &mut built.fixings.drawer.fastening.spacing;
            *spacing = closer(*spacing, allow.drawer_screws.spacing, step, before.drawer.gauge);
        }
        if built.fixings == before {
            return (lines, found);
        }
        lines = hardware(scenario, structure, built);
    }
    let found = checks(scenario, Subject::of(structure, built, &lines));
    (lines, found)
}

/// The next of a half and a third of the spacing asked for, no nearer than ten diameters.
fn closer(now: Length, asked: Length, step: Length, gauge: u32) -> Length {
    let shank = screw::gauge(gauge).map_or(Metres::ZERO, |screw| screw.shank);
    let pitch = (shank * screw::DRILLED.pitch_along).in_millimetres();
    let least = Length::from_units((pitch * Length::MM.units() as f64).ceil() as i64);
    let next = [asked / 2, asked / 3].into_iter().map(|next| next.floor_to(step));
    next.filter(|next| *next < now && *next >= least).max().unwrap_or(now)
}

/// A smaller gauge where the members are too thin for the usual one.
fn gauges(scenario: &Scenario, structure: &Structure, built: &mut Built) {
    let members =
        structure.tiers.iter().map(|tier| scenario.stock.materials[tier.member].thickness);
    let Some(thinnest) = members.min() else { return };
    let fits = |gauge: u32| {
        screw::gauge(gauge).is_some_and(|screw| {
            screw::thinnest_edge(&screw, &screw::DRILLED) <= Metres::from(thinnest)
        })
    };
    if !fits(built.fixings.chest.gauge) {
        built.fixings.chest.gauge = screw::WOOD_SCREWS[0].gauge;
    }
}
