//! The deck under the scenario's load and under a person.

use super::laid::Laid;
use super::sheet::Sheet;
use super::{Figure, Kind, Subject, worst};
use crate::design::{Check, Role};
use crate::mechanics::creep;
use crate::mechanics::lumber::Duration;
use crate::mechanics::plate::Load;
use crate::mechanics::strip::Strip;
use crate::scenario::Scenario;
use crate::units::physics::{AreaLoad, Density, Kilograms, Metres, SquareMetres};

/// Sag that is seen: a 240th of the span, creep included (assumption).
pub(super) const SAG_SHARE: f64 = 240.0;
/// Sag under a person, which is felt and not seen (assumption).
const PERSON_SAG_SHARE: f64 = 120.0;
/// Waves of the plate's series: within a percent for the moments under a patch.
pub(super) const WAVES: u32 = 31;
/// Road shock on loads, for strength only (assumption), which takes the ten-minute duration factor.
pub(super) const SHOCK: f64 = 2.0;
/// A strip one metre wide stands for the panel.
pub(super) const WIDTH: Metres = Metres::of(1.0);

/// A person (assumption).
const PERSON: Kilograms = Kilograms::of(100.0);
/// The square on which a person stands with both feet (assumption).
const FEET: Metres = Metres::of(0.3);
/// A person moves: for strength only (assumption).
const STEP: f64 = 1.5;

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let panels = Laid::of(subject, Role::Deck);
    let mut all = Vec::new();
    if let Some(load) = deck_load(scenario, subject) {
        let loaded = panels.iter().map(|panel| under_load(scenario, panel, load));
        let (sags, bends): (Vec<_>, Vec<_>) = loaded.unzip();
        all.extend(worst(sags));
        all.extend(worst(bends.into_iter().flatten()));
    }
    // All of one material and length, so that the widest span is the worst.
    let by_span = |panel: &&Laid| widest(panel).map_or(0.0, Metres::in_metres);
    let worst_panel = panels.iter().max_by(|a, b| by_span(a).total_cmp(&by_span(b)));
    if let Some((sag, bend)) = worst_panel.and_then(|panel| under_person(scenario, panel)) {
        all.push(sag);
        all.extend(bend);
    }
    all
}

/// What the deck must carry, evenly spread over the whole of it.
pub(super) fn deck_load(scenario: &Scenario, subject: &Subject<'_>) -> Option<AreaLoad> {
    let mass = Kilograms::from(scenario.aims.limits.deck_load?);
    let decks = subject
        .solids
        .iter()
        .filter(|solid| subject.part_of(solid).is_some_and(|part| part.role == Role::Deck))
        .map(|solid| Metres::from(solid.space.size.dx) * Metres::from(solid.space.size.dy));
    let area: SquareMetres = decks.sum();
    (area > SquareMetres::ZERO)
        .then(|| AreaLoad::pascals(mass.weight().in_newtons() / area.in_square_metres()))
}

/// A panel's own weight per area.
pub(super) fn own_weight(scenario: &Scenario, panel: &Laid) -> AreaLoad {
    let material = &scenario.stock.materials[panel.material];
    let density = Density::kilograms_per_cubic_metre(material.density);
    let mass = density * Metres::from(material.thickness);
    AreaLoad::pascals(Kilograms::of(mass.in_kilograms_per_square_metre()).weight().in_newtons())
}

/// Sag and, where the panel's strength is known, bending under the load wherever it is worst.
fn under_load(scenario: &Scenario, panel: &Laid, load: AreaLoad) -> (Check, Option<Check>) {
    let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
    let capacity = sheet.capacity(panel.axis);
    let stiffness = capacity.stiffness * WIDTH;
    let own = own_weight(scenario, panel) * WIDTH;
    let strip = Strip::new(&panel.sag_spans(), stiffness);
    let bent = strip.worst_uniform(load * WIDTH);
    let sustained = strip.solve(&strip.uniform(own)).deflection;
    let span = panel.spans()[bent.span];
    let sag = Figure::at_most(
        creep::long_term(sustained, bent.deflection, creep::BED).in_millimetres(),
        span.in_millimetres() / SAG_SHARE,
        "mm",
    )
    .named(
        "deck sag, loaded".into(),
        Kind::Guide,
        format!("{}; APA PDS 4.5; NDS 3.5-1, K_cr 2; L/240 (assumption)", sheet.source),
        format!(
            "{} between members, load not left on for good (assumption), {}",
            millimetres(span),
            sheet.remark
        ),
    );
    let bending = capacity.bending.map(|strength| {
        let strip = Strip::new(&panel.spans(), stiffness);
        let live = strip.worst_uniform(load * WIDTH).moment();
        let dead = strip.solve(&strip.uniform(own)).moment();
        Figure::at_most(
            ((live * SHOCK + dead) / WIDTH).in_newtons(),
            (strength * Duration::TenMinutes.factor()).in_newtons(),
            "N·m/m",
        )
        .named(
            "deck bending, loaded".into(),
            Kind::Strength,
            format!("{}; NDS table 2.3.2, C_D 1.6", sheet.source),
            format!("road shock 2 times the load (assumption), {}", sheet.remark),
        )
    });
    (sag, bending)
}

/// Sag and bending under a person in the middle of the widest span, as a plate from member to
/// member and from back to front. Taken as a simple span, which is on the safe side.
fn under_person(scenario: &Scenario, panel: &Laid) -> Option<(Check, Option<Check>)> {
    let material = &scenario.stock.materials[panel.material];
    let sheet = Sheet::of(material);
    let span = widest(panel).filter(|span| *span > Metres::ZERO)?;
    let plate = sheet.plate(panel.axis, span, Metres::from(panel.space.size.dy), material);
    let (dx, dy) = (FEET.min(plate.a), FEET.min(plate.b));
    let load = PERSON.weight() / dx / dy;
    let (x, y) = (plate.a / 2.0, plate.b / 2.0);
    let response = plate.under(&[Load::Patch { x, y, dx, dy, load }], WAVES).at(x, y);
    let remark = format!(
        "100 kg on 300 mm square, midway between members {} apart (assumption), {}",
        millimetres(span),
        sheet.remark
    );
    let sag = Figure::at_most(
        response.deflection.in_millimetres(),
        span.in_millimetres() / PERSON_SAG_SHARE,
        "mm",
    )
    .named(
        "deck sag, one person".into(),
        Kind::Guide,
        format!("{}; Navier's plate; L/120, it springs back (assumption)", sheet.source),
        remark.clone(),
    );
    let bends = sheet.bending(panel.axis, &response, STEP).map(|figure| {
        let source = format!("{}; Navier's plate; NDS table 2.3.2, C_D 1.6", sheet.source);
        let remark = format!("{remark}; half as much again for a step (assumption)");
        figure.named("deck bending, one person".into(), Kind::Guide, source, remark)
    });
    Some((sag, bends))
}

/// The widest span of a panel.
fn widest(panel: &Laid) -> Option<Metres> {
    panel.sag_spans().into_iter().reduce(Metres::max)
}

/// A length for a remark.
pub(super) fn millimetres(length: Metres) -> String {
    format!("{:.0} mm", length.in_millimetres())
}
