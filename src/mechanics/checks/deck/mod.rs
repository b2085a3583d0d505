//! The deck: a load spread over it, as a continuous strip from member to member and as an orthotropic plate, and a [`person`] at the
//! worst places, as a plate.
//!
//! - Inputs: spans between members, the panel's stiffness and strengths the way its grain lies, the load spread over the whole
//!   deck, its own weight; a person on a square foot, the angle at the front edge.
//! - Formula: three-moment equations with the worst pattern of loaded spans ([`crate::mechanics::strip`]), times what a plate
//!   under the same load does more than a strip; δ = K_cr·δ(own) + δ(load); Navier's plate ([`crate::mechanics::plate`]); a plate with a [`free_edge`].
//! - Limit: a span over the share that is seen (felt, under a person); F_b·S and F_s(Ib/Q) for ten minutes against the load times
//!   road shock; the angle's yield.
//! - Sentence: the span, how the panel's capacity is known, what is assumed of load, person and front edge.

pub mod free_edge;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
mod person;
#[cfg(test)]
mod tests;

pub(super) use person::refused_over;

use super::laid::Laid;
use super::sheet::Sheet;
use super::{Figure, Kind, Subject, worst};
use crate::design::{Check, Role};
use crate::mechanics::creep;
use crate::mechanics::lumber::Duration;
use crate::mechanics::strip::Strip;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{AreaLoad, Density, Kilograms, Metres, SquareMetres};

/// Waves of the plate's series: within a percent for the moments under a patch.
pub(super) const WAVES: u32 = 31;
/// A strip one metre wide stands for the panel.
pub(super) const WIDTH: Metres = Metres::of(1.0);

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let mut checks = loaded(scenario, subject);
    checks.extend(person::checks(scenario, subject));
    checks
}

/// Those under the load that the scenario names, in which a person has no part.
pub(super) fn loaded(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let Some(load) = deck_load(scenario, subject) else { return Vec::new() };
    let panels = Laid::of(subject, Role::Deck);
    let loaded = panels.iter().flat_map(|panel| under_load(scenario, panel, load));
    let mut by_name: Vec<Vec<Check>> = vec![Vec::new(); 3];
    for check in loaded {
        let place = SHORT.iter().position(|name| check.name == *name).unwrap_or(0);
        by_name[place].push(check);
    }
    by_name.into_iter().filter_map(worst).collect()
}

const SHORT: [&str; 3] = ["deck sag, loaded", "deck bending, loaded", "deck shear, loaded"];

/// What the deck must carry, evenly spread over the whole of it: as a mass in all or as a load per area, the more of the two.
pub(super) fn deck_load(scenario: &Scenario, subject: &Subject<'_>) -> Option<AreaLoad> {
    let limits = &scenario.aims.limits;
    let area = deck_area(subject);
    let mass = limits.deck_load.filter(|_| area > SquareMetres::ZERO).map(|mass| {
        let weight = Kilograms::from(mass).weight();
        AreaLoad::pascals(weight.in_newtons() / area.in_square_metres())
    });
    let pressure = limits.deck_pressure.map(AreaLoad::pascals);
    match (mass, pressure) {
        (Some(mass), Some(pressure)) => Some(mass.max(pressure)),
        (mass, pressure) => mass.or(pressure),
    }
}

/// The same for the whole deck.
pub(super) fn deck_mass(scenario: &Scenario, subject: &Subject<'_>) -> Kilograms {
    let load = deck_load(scenario, subject).unwrap_or(AreaLoad::ZERO);
    (load * deck_area(subject)).mass_lifted()
}

fn deck_area(subject: &Subject<'_>) -> SquareMetres {
    let decks = subject
        .solids
        .iter()
        .filter(|solid| subject.part_of(solid).is_some_and(|part| part.role == Role::Deck));
    decks.map(|solid| Metres::from(solid.space.size.dx) * Metres::from(solid.space.size.dy)).sum()
}

/// The bending under the load that the scenario names, if it is refused wherever an opening is this wide, whatever lies beside it.
///
/// With h and h' the moments over the span's supports under a load w everywhere, its middle bends by wl²/8 − (h + h')/2, so
/// that no less than wl²/16 is found somewhere; where one end turns freely, as of two spans, wl²/12. Patterns of the load and what
/// a plate bends more than a strip only add.
pub(super) fn bends_over(
    scenario: &Scenario,
    subject: &Subject<'_>,
    opening: Length,
) -> Option<Check> {
    let load = deck_load(scenario, subject)?;
    let panels = Laid::of(subject, Role::Deck);
    let panel = panels.first()?;
    let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
    let strength = sheet.capacity(panel.axis).bending? * Duration::TenMinutes.factor();
    let all = load * scenario.engineering.road_shock + own_weight(scenario, panel);
    let share = if subject.chest.carcass.tiers.last()?.columns > 2 { 16.0 } else { 12.0 };
    let least = all.in_pascals() * opening.to_metres() * opening.to_metres() / share;
    // A part in a thousand for what is rounded.
    (least > strength.in_newtons() * 1.001).then(|| {
        Figure::at_most(least, strength.in_newtons(), "N·m/m").named(
            SHORT[1].into(),
            Kind::Strength,
            format!("{}; NDS table 2.3.2, C_D 1.6", sheet.source),
            remark!("at the least, over the widest opening"),
        )
    })
}

/// A panel's own weight per area.
pub(super) fn own_weight(scenario: &Scenario, panel: &Laid) -> AreaLoad {
    let material = &scenario.stock.materials[panel.material];
    let density = Density::kilograms_per_cubic_metre(material.density);
    let mass = density * Metres::from(material.thickness);
    AreaLoad::pascals(Kilograms::of(mass.in_kilograms_per_square_metre()).weight().in_newtons())
}

/// Sag and, where the panel's strengths are known, bending and shear under the load wherever it is worst.
fn under_load(scenario: &Scenario, panel: &Laid, load: AreaLoad) -> Vec<Check> {
    let engineering = &scenario.engineering;
    let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
    let capacity = sheet.capacity(panel.axis);
    let stiffness = capacity.stiffness * WIDTH;
    let own = own_weight(scenario, panel) * WIDTH;
    let strip = Strip::new(&panel.sag_spans(), stiffness);
    let bent = strip.worst_uniform(load * WIDTH);
    let sustained = strip.solve(&strip.uniform(own)).deflection;
    let span = panel.spans()[bent.span];
    let (clear, length) = (panel.sag_spans()[bent.span], Metres::from(panel.space.size.dy));
    let material = &scenario.stock.materials[panel.material];
    let [sags, bends] = sheet.plate(panel.axis, clear, length, material).over_strip();
    let sag = Figure::at_most(
        creep::long_term(sustained, bent.deflection, engineering.creep).in_millimetres() * sags,
        span.in_millimetres() / engineering.sag_share,
        "mm",
    )
    .named(
        SHORT[0].into(),
        Kind::Guide,
        format!(
            "{}; APA PDS 4.5; Navier's plate where it sags more; NDS 3.5-1, K_cr {} (assumption); L/{} (assumption)",
            sheet.source, engineering.creep, engineering.sag_share
        ),
        remark!(span, " between members, load not left on for good (assumption), ")
            .and(sheet.remark.clone()),
    );
    let shock = engineering.road_shock;
    let shaken = || {
        remark!(format!("road shock {shock} times the load (assumption), "))
            .and(sheet.remark.clone())
    };
    let strip = Strip::new(&panel.spans(), stiffness);
    let live = strip.worst_uniform(load * WIDTH);
    let dead = strip.solve(&strip.uniform(own));
    let bending = capacity.bending.map(|strength| {
        Figure::at_most(
            ((live.moment() * shock + dead.moment()) / WIDTH).in_newtons() * bends,
            (strength * Duration::TenMinutes.factor()).in_newtons(),
            "N·m/m",
        )
        .named(
            SHORT[1].into(),
            Kind::Strength,
            format!("{}; NDS table 2.3.2, C_D 1.6", sheet.source),
            shaken(),
        )
    });
    let shear = capacity.planar_shear.map(|strength| {
        Figure::at_most(
            ((live.shear * shock + dead.shear) / WIDTH).in_newtons_per_metre(),
            (strength * Duration::TenMinutes.factor()).in_newtons_per_metre(),
            "N/m",
        )
        .named(
            SHORT[2].into(),
            Kind::Guide,
            "APA PDS planar shear, value from memory, half of it across the grain (assumption); C_D 1.6",
            shaken(),
        )
    });
    [Some(sag), bending, shear].into_iter().flatten().collect()
}
