//! The members: what bears on their edges, and how those of a full-width tier carry over the wheel wells.
//!
//! - Inputs: deck load, all that stands above, a person; the members' thickness, height and grade; the boards at the walls.
//! - Formula: load over the contact; between the boards at the walls before and behind the wells a full-width tier's outer member
//!   carries its share of deck and drawers, M = w·l²/8, δ = 5wl⁴/384EI with creep ([`crate::mechanics::beam`]).
//! - Limit: F_c⊥ (NDS Supplement table 4A; panels 360 psi, from memory) without a duration factor; F_b·C_F·S for ten minutes; a
//!   span over the share that is seen.
//! - Sentence: on what width what stands; how far it spans over the wheel well.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::deck::deck_mass;
use super::fastened::{edgewise_strength, grade_of};
use super::weights::Weights;
use super::{Figure, Kind, Subject};
use crate::design::derive::carcass::is_full_width;
use crate::design::{Check, Role};
use crate::mechanics::beam;
use crate::mechanics::lumber::Duration;
use crate::mechanics::section::Rectangle;
use crate::scenario::{Material, Scenario};
use crate::units::Length;
use crate::units::physics::{Force, Kilograms, LineLoad, Metres, Stress};

/// How a panel's edge and face bear (APA, from memory).
const PANEL_BEARING: Stress = Stress::psi(360.0);
/// Working modulus of wood without a grade, the low end of softwoods (assumption).
const WORKING_MODULUS: Stress = Stress::gigapascals(8.0);

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let mut checks: Vec<Check> = bearing(scenario, subject, weights).into_iter().collect();
    checks.extend(over_wells(scenario, subject, weights));
    checks
}

/// All that stands on the lowest tier's members and a person on one of them, over the narrowest contact.
fn bearing(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Option<Check> {
    let frame = subject.chest.carcass.tiers.first()?;
    let tier = subject.structure.tiers.first()?;
    let material = &scenario.stock.materials[tier.member];
    let deck = deck_mass(scenario, subject);
    let above: Kilograms = subject
        .drawers
        .iter()
        .zip(&weights.drawers)
        .filter(|(drawer, _)| drawer.tier > 0)
        .map(|(_, body)| body.mass())
        .sum();
    let all = (deck + above + weights.fixed.mass()).weight() * scenario.engineering.road_shock;
    // A member inside carries a share of two openings' width, at most that of the widest two.
    let widest = subject.chest.openings.first()?.iter().max()?;
    let share = (Metres::from(*widest + frame.member) / Metres::from(frame.width)).min(1.0);
    let line = all * share / Metres::from(frame.inside_length);
    let foot = Metres::from(scenario.engineering.foot);
    let person = Force::newtons(scenario.engineering.person_newtons) / foot;
    let thick = Metres::from(frame.member);
    let stress = Stress::pascals((line + person).in_newtons_per_metre() / thick.in_metres());
    let (limit, known) = match grade_of(material) {
        Some(grade) => {
            (grade.bearing, remark!(format!("NDS Supplement table 4A, {}; ", grade.name)))
        }
        None => (PANEL_BEARING, remark!("members taken for panels; ")),
    };
    let panel = scenario.stock.materials[subject.structure.bottom].is_board();
    let limit = if panel { limit } else { limit.min(PANEL_BEARING) };
    let figure = Figure::at_most(stress.in_megapascals(), limit.in_megapascals(), "MPa");
    Some(figure.named(
        "members' bearing".into(),
        Kind::Strength,
        known.and(remark!("panels ", PANEL_BEARING, " (APA, from memory)")),
        remark!(
            "deck load and all above on ",
            thick,
            ", with a person of ",
            Force::newtons(scenario.engineering.person_newtons),
            " on ",
            foot,
            " of it (assumption)",
        ),
    ))
}

/// The outer members of a full-width tier from board to board at the wall.
fn over_wells(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let top = subject.structure.tiers.len().saturating_sub(1);
    if !is_full_width(subject.structure, top) {
        return Vec::new();
    }
    let Some((span, frame, choice)) = gap(subject).and_then(|span| {
        Some((span, subject.chest.carcass.tiers.get(top)?, subject.structure.tiers.get(top)?))
    }) else {
        return Vec::new();
    };
    let material = &scenario.stock.materials[choice.member];
    let section =
        Rectangle { width: Metres::from(frame.member), depth: Metres::from(frame.height) };
    let (sustained, short) = outer_loads(scenario, subject, weights, top);
    let engineering = &scenario.engineering;
    let (strength, known) = edgewise_strength(material, frame.height);
    let modulus = modulus(material);
    let moment = beam::uniform_moment((sustained + short) * engineering.road_shock, span);
    let holds = strength * section.section_modulus() * Duration::TenMinutes.factor();
    let bending = Figure::at_most(moment.in_newton_metres(), holds.in_newton_metres(), "N·m");
    let sag = beam::uniform_deflection(
        sustained * engineering.creep + short,
        span,
        modulus * section.second_moment(),
    );
    let words = || {
        remark!(
            "outer member over the wheel well, ",
            span,
            " between the boards at the wall, nothing between (assumption)",
        )
    };
    let kind = bending.kind_under_shock(engineering.road_shock);
    let limit = span.in_millimetres() / engineering.sag_share;
    vec![
        bending.named(
            "full-width member bending".into(),
            kind,
            remark!("w·l²/8; ").and(known).and("; C_D 1.6"),
            words(),
        ),
        Figure::at_most(sag.in_millimetres(), limit, "mm").named(
            "full-width member sag".into(),
            Kind::Guide,
            format!(
                "5wl⁴/384EI; NDS 3.5-1, K_cr {} (assumption); L/{} (assumption)",
                engineering.creep, engineering.sag_share
            ),
            words(),
        ),
    ]
}

fn modulus(material: &Material) -> Stress {
    match (&material.stiffness, grade_of(material)) {
        (crate::scenario::Stiffness::Modulus(pascals), _) => Stress::pascals(*pascals),
        (_, Some(grade)) => grade.elasticity,
        _ => WORKING_MODULUS,
    }
}

/// From the board at the wall before the well to the one behind it.
fn gap(subject: &Subject<'_>) -> Option<Metres> {
    let boards = subject
        .solids
        .iter()
        .filter(|solid| subject.part_of(solid).is_some_and(|part| part.role == Role::Outrigger));
    let mut ends: Vec<(Length, Length)> =
        boards.map(|solid| (solid.space.at.y, solid.space.far().y)).collect();
    ends.sort_unstable();
    ends.dedup();
    let [(_, from), (to, _)] = ends[..] else { return None };
    (to > from).then(|| Metres::from(to - from))
}

/// What an outer member carries along its length: half of the outer opening's deck and drawer.
fn outer_loads(
    scenario: &Scenario,
    subject: &Subject<'_>,
    weights: &Weights,
    tier: usize,
) -> (LineLoad, LineLoad) {
    let frame = &subject.chest.carcass.tiers[tier];
    let openings = &subject.chest.openings[tier];
    let ends = [openings.first(), openings.last()].into_iter().flatten();
    let opening = ends.max().copied().unwrap_or(Length::ZERO);
    let share = Metres::from(opening / 2 + frame.member) / Metres::from(frame.width);
    let length = Metres::from(frame.inside_length);
    let deck = deck_mass(scenario, subject);
    let column = |drawer: &crate::design::Drawer| {
        drawer.tier == tier && (drawer.column == 0 || drawer.column + 1 == openings.len())
    };
    let heaviest = subject
        .drawers
        .iter()
        .zip(&weights.drawers)
        .filter(|(drawer, _)| column(drawer))
        .map(|(_, body)| body.mass())
        .fold(Kilograms::ZERO, Kilograms::max);
    let wood = weights.fixed.mass() * share;
    let sustained = (heaviest * 0.5 + wood).weight() / length;
    (sustained, deck.weight() * share / length)
}
