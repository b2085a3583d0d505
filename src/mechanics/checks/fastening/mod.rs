//! Screwed seams of the chest: loads across them, how many screws they take, and whether the wood is thick enough for them.
//!
//! - Inputs: screws by spacing along each seam, their gauge, what they go through and into; all that stands on the bottom panel,
//!   each tier's drawers. Corner blocks are checked where they are pulled ([`super::drawer`]); no design has cleats.
//! - Formula: the bottom panel is bolted to the bed: under braking all above it pushes across its seams, and the drawers against
//!   the backs, which the panels over and under them hold (screws into members' ends count for nothing in withdrawal). Capacity by
//!   the yield equations, NDS 12.3 ([`crate::mechanics::lateral`]); [`fix`] brings screws closer until it is enough.
//! - Limit: what the screws hold for ten minutes; distances of NDS Commentary table C12.1.5.7, with lead holes (from memory).
//! - Sentence: how many screws of what gauge; where lead holes are wanted.

mod fix;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

pub use fix::{fixed, fixed_unless_refused};

use super::fastened::{Screwed, THREAD};
use super::weights::Weights;
use super::{Figure, Kind, Subject, worst};
use crate::design::derive::hardware::screws;
use crate::design::{Check, Seams};
use crate::mechanics::restraint::Direction;
use crate::mechanics::screw;
use crate::scenario::{Material, MaterialId, Scenario};
use crate::units::physics::{Force, Kilograms, Metres};

const SOURCE: &str = "49 CFR 393.102, 0.8 g; NDS 12.3 yield equations, C_D 1.6";
const DISTANCES: &str = "NDS Commentary table C12.1.5.7, with lead holes (from memory)";

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let mut checks: Vec<Check> = bottom(scenario, subject, weights).into_iter().collect();
    checks.extend(worst(backs(scenario, subject, weights)));
    let structure = subject.structure;
    let member = structure.tiers.iter().map(|tier| &scenario.stock.materials[tier.member]);
    let thinnest = member.min_by_key(|material| material.thickness);
    let sides = &scenario.stock.materials[structure.sides];
    if let Some(member) = thinnest {
        checks.push(edge("edge of the members", member, subject.fixings.chest));
    }
    checks.push(edge("edge of the drawers' sides", sides, subject.fixings.drawer));
    checks.push(ends("ends of the chest's seams", subject.fixings.chest));
    checks.push(ends("ends of the drawers' seams", subject.fixings.drawer));
    checks
}

fn chest_screw<'a>(scenario: &'a Scenario, subject: &Subject<'_>, main: MaterialId) -> Screwed<'a> {
    Screwed {
        gauge: subject.fixings.chest.gauge,
        side: &scenario.stock.materials[subject.structure.bottom],
        main: &scenario.stock.materials[main],
    }
}

fn across(name: String, push: Force, count: u32, screw: &Screwed<'_>, what: &str) -> Check {
    let holds = screw.lateral() * f64::from(count);
    Figure::at_most(push.in_newtons(), holds.in_newtons(), "N").named(
        name,
        Kind::Strength,
        SOURCE,
        remark!(
            format!("{count} {}", screw.words()),
            THREAD,
            format!(" of thread (assumption); {what}"),
        ),
    )
}

/// All that stands on the bottom panel pushes across its seams.
fn bottom(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Option<Check> {
    let frame = subject.chest.carcass.tiers.first()?;
    let tier = subject.structure.tiers.first()?;
    let seams = subject.fixings.chest.fastening;
    let count = screws(frame.inside_length, seams) * (frame.columns + 1);
    let all = weights.drawers.iter().fold(weights.fixed, |all, drawer| all.and(*drawer));
    let push = all.mass().weight() * Direction::Forward.breaking();
    let screw = chest_screw(scenario, subject, tier.member);
    Some(across(
        "bottom seams, braking".into(),
        push,
        count,
        &screw,
        "all that stands on the panel",
    ))
}

/// The drawers of a tier push against its back.
fn backs(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let tiers = subject.chest.carcass.tiers.iter().zip(&subject.structure.tiers);
    let one = |(index, (frame, tier)): (
        usize,
        (&crate::design::TierFrame, &crate::design::TierChoice),
    )| {
        let bodies = subject.drawers.iter().zip(&weights.drawers);
        let inside = bodies.filter(|(drawer, _)| drawer.tier == index);
        let mass: Kilograms = inside.map(|(_, body)| body.mass()).sum();
        let count = 2 * screws(frame.width, subject.fixings.chest.fastening);
        let push = mass.weight() * Direction::Forward.breaking();
        let screw = chest_screw(scenario, subject, tier.member);
        let letter = super::shelf::letter(index);
        across(
            format!("back of tier {letter}, braking"),
            push,
            count,
            &screw,
            "its drawers against it",
        )
    };
    tiers.enumerate().map(one).collect()
}

/// A screw on a board's edge wants so much wood on either side.
fn edge(name: &str, material: &Material, seams: Seams) -> Check {
    let screw = screw::gauge(seams.gauge).unwrap_or(screw::WOOD_SCREWS[1]);
    let wanted = screw::thinnest_edge(&screw, &screw::DRILLED);
    let thick = Metres::from(material.thickness);
    Figure::at_least(thick.in_millimetres(), wanted.in_millimetres(), "mm").named(
        name.to_owned(),
        Kind::Note,
        DISTANCES,
        remark!(
            format!("No. {} screws want 2.5 diameters either side; where it is thinner drill lead holes and stay in its middle", seams.gauge),
        ),
    )
}

/// The first screw of a seam stands off the member's end, and screws off one another.
fn ends(name: &str, seams: Seams) -> Check {
    let screw = screw::gauge(seams.gauge).unwrap_or(screw::WOOD_SCREWS[1]);
    let wanted = screw.shank * screw::DRILLED.end_tension;
    let least = Metres::from(seams.fastening.ends.min(seams.fastening.spacing));
    Figure::at_least(least.in_millimetres(), wanted.in_millimetres(), "mm").named(
        name.to_owned(),
        Kind::Note,
        DISTANCES,
        remark!(
            format!("No. {} screws every ", seams.gauge),
            Metres::from(seams.fastening.spacing),
            ", the first ",
            Metres::from(seams.fastening.ends),
            " from the end; 10 diameters from a pulled end and from each other",
        ),
    )
}
