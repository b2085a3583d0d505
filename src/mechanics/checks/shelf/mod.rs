//! Panels between tiers, which carry the drawers and members above them, and what hangs over beyond the members below.
//!
//! - Inputs: line loads of runs and members above, where each stands between the members below; the panel's own weight.
//! - Formula: three-moment equations ([`crate::mechanics::strip`]); beyond the outer members δ = P·a²(L+a)/3EI.
//! - Limit: a span over the share that is seen, creep included, or the clearance below if that is less; F_b·S for ten minutes
//!   against the load times road shock.
//! - Sentence: the span and how the panel's stiffness is known; how far beyond the last member the load stands.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
mod least;
#[cfg(test)]
mod tests;

pub(in crate::mechanics::checks) use least::refused_over_one_opening;

use super::deck::{WIDTH, deck_mass, own_weight};
use super::laid::{Laid, Overhang};
use super::sheet::Sheet;
use super::weights::Weights;
use super::{Figure, Kind, Subject, worst};
use crate::design::{Check, Role, TierFrame};
use crate::mechanics::beam;
use crate::mechanics::lumber::Duration;
use crate::mechanics::strip::{Patch, Strip};
use crate::scenario::{Runs, Scenario};
use crate::units::Length;
use crate::units::physics::{Force, Kilograms, LineLoad, Metres, Moment};

/// Width of a strip or runner under a drawer (assumption).
pub(super) const RUN_WIDTH: Length = Length::mm(25);

/// For each tier but the lowest: sag and bending of the panel under it.
pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let panels = Laid::of(subject, Role::Shelf);
    let frames = subject.chest.carcass.tiers.iter().enumerate().skip(1);
    let mut all = Vec::new();
    for (tier, frame) in frames {
        let under = panels.iter().filter(|panel| panel.space.far().z == frame.z);
        let carried = Carried::of(scenario, subject, weights, tier);
        let (sags, bends): (Vec<_>, Vec<_>) =
            under.map(|panel| carried.checks(scenario, panel, tier)).unzip();
        all.extend(worst(sags));
        all.extend(worst(bends.into_iter().flatten()));
        let under = panels.iter().filter(|panel| panel.space.far().z == frame.z);
        all.extend(worst(under.flat_map(|panel| carried.wings(scenario, panel, tier))));
    }
    all
}

/// Line loads along y that a tier's panel carries, with where each lies along x.
struct Carried {
    loads: Vec<Carry>,
}

/// One line load.
struct Carry {
    from: Length,
    to: Length,
    /// Wood and gear, which stay.
    sustained: LineLoad,
    /// What is put on the deck.
    short: LineLoad,
}

impl Carried {
    fn of(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights, tier: usize) -> Self {
        let frame = &subject.chest.carcass.tiers[tier];
        let mut loads = members(scenario, subject, weights, tier, frame);
        let drawers = subject.drawers.iter().zip(&weights.drawers);
        for (drawer, body) in drawers.filter(|(drawer, _)| drawer.tier == tier) {
            let half = body.mass().weight() / 2.0 / Metres::from(drawer.outside.size.dy);
            let (left, right) = match subject.structure.runs {
                // Slides hang the drawer on the members beside it.
                Runs::Slides => (drawer.opening.at.x - frame.member, drawer.opening.far().x),
                Runs::Strip | Runs::Waxed => {
                    (drawer.outside.at.x, drawer.outside.far().x - RUN_WIDTH)
                }
            };
            let width =
                if subject.structure.runs == Runs::Slides { frame.member } else { RUN_WIDTH };
            loads.extend([left, right].map(|x| Carry {
                from: x,
                to: x + width,
                sustained: half,
                short: LineLoad::ZERO,
            }));
        }
        Self { loads }
    }

    fn checks(&self, scenario: &Scenario, panel: &Laid, tier: usize) -> (Check, Option<Check>) {
        let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
        let capacity = sheet.capacity(panel.axis);
        let strip = Strip::new(&panel.spans(), capacity.stiffness * WIDTH);
        let patches = |own: f64, sustained: f64, short: f64| -> Vec<Patch> {
            let lines = self.loads.iter().flat_map(|carry| {
                let line = carry.sustained * sustained + carry.short * short;
                let spread = line / Metres::from(carry.to - carry.from) * WIDTH;
                panel.patches(carry.from, carry.to, spread)
            });
            lines.chain(strip.uniform(own_weight(scenario, panel) * (WIDTH * own))).collect()
        };
        // What stays sags K_cr times as far in the long run; the strip is linear, so that loads
        // may be scaled instead of sags.
        let (creep, shock) = (scenario.engineering.creep, scenario.engineering.road_shock);
        let bent = strip.solve(&patches(creep, creep, 1.0));
        let span = panel.spans()[bent.span];
        let free = Metres::from(scenario.allowances.top_clearance);
        let letter = letter(tier);
        let sag = Figure::at_most(
            bent.deflection.in_millimetres(),
            (span / scenario.engineering.sag_share).min(free).in_millimetres(),
            "mm",
        )
        .named(
            format!("shelf sag, tier {letter}"),
            Kind::Guide,
            format!(
                "{}; three-moment equations; NDS 3.5-1, K_cr {creep} (assumption)",
                sheet.source
            ),
            remark!(
                format!("L/{} (assumption) of ", scenario.engineering.sag_share),
                span,
                " or the clearance below, ",
            )
            .and(sheet.remark.clone()),
        );
        let bending = capacity.bending.map(|strength| {
            let figure = Figure::at_most(
                (strip.solve(&patches(1.0, shock, shock)).moment() / WIDTH).in_newtons(),
                (strength * Duration::TenMinutes.factor()).in_newtons(),
                "N·m/m",
            );
            let kind = figure.kind_under_shock(shock);
            figure.named(
                format!("shelf bending, tier {letter}"),
                kind,
                format!("{}; three-moment equations; NDS table 2.3.2, C_D 1.6", sheet.source),
                remark!(format!("road shock {shock} times the load (assumption), "))
                    .and(sheet.remark.clone()),
            )
        });
        (sag, bending)
    }
}

impl Carried {
    /// Sag where loads lie beyond the outer supports, as of a tier wider than the one below it with
    /// nothing at the walls to carry its edges. What lies there is taken at its own centre.
    fn wings(&self, scenario: &Scenario, panel: &Laid, tier: usize) -> Vec<Check> {
        let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
        let stiffness = sheet.capacity(panel.axis).stiffness * WIDTH;
        let letter = letter(tier);
        let (creep, share) = (scenario.engineering.creep, scenario.engineering.sag_share);
        let wing = |over: Overhang| {
            let (mut force, mut turning) = (Force::ZERO, Moment::ZERO);
            for carry in &self.loads {
                let middle = carry.from + (carry.to - carry.from) / 2;
                if over.from <= middle && middle <= over.to {
                    let line = carry.sustained * creep + carry.short;
                    let arm = Metres::from(middle.abs_diff(over.support));
                    force = force + line * WIDTH;
                    turning = turning + line * WIDTH * arm;
                }
            }
            if force <= Force::ZERO {
                return None;
            }
            let arm = turning / force;
            let (_, sag) = beam::overhang(force, arm, over.span, stiffness);
            let limit = arm.in_millimetres() * 2.0 / share;
            let figure = Figure::at_most(sag.in_millimetres(), limit, "mm");
            Some(figure.named(
                format!("shelf overhang, tier {letter}"),
                Kind::Guide,
                format!(
                    "{}; P·a²(L+a)/3EI; NDS 3.5-1, K_cr {creep} (assumption); 2a/{share} (assumption)",
                    sheet.source
                ),
                remark!("load ", arm, " beyond the last member below, ").and(sheet.remark.clone()),
            ))
        };
        panel.overhangs().into_iter().filter_map(wing).collect()
    }
}

/// A tier's letter, from the bottom.
pub(super) fn letter(tier: usize) -> char {
    char::from(b'A' + u8::try_from(tier.min(25)).unwrap_or(25))
}

/// What stands on the tier's members, by the width that each carries: the deck with its load and
/// every tier above, spread evenly over the tier.
fn members(
    scenario: &Scenario,
    subject: &Subject<'_>,
    weights: &Weights,
    tier: usize,
    frame: &TierFrame,
) -> Vec<Carry> {
    let above = above(scenario, subject, weights, tier);
    let deck = deck_mass(scenario, subject).weight();
    let length = Metres::from(frame.inside_length);
    let mut places: Vec<Length> = vec![frame.x];
    for opening in &subject.chest.openings[tier] {
        let last = places[places.len() - 1];
        places.push(last + frame.member + *opening);
    }
    let middle = |index: usize| places[index] + frame.member / 2;
    let last = places.len() - 1;
    (0..places.len())
        .map(|index| {
            let from =
                if index == 0 { frame.x } else { middle_of(middle(index - 1), middle(index)) };
            let to = if index == last {
                frame.x + frame.width
            } else {
                middle_of(middle(index), middle(index + 1))
            };
            let share = Metres::from(to - from) / Metres::from(frame.width);
            Carry {
                from: places[index],
                to: places[index] + frame.member,
                sustained: above * share / length,
                short: deck * share / length,
            }
        })
        .collect()
}

fn middle_of(a: Length, b: Length) -> Length {
    a + (b - a) / 2
}

/// The weight on a tier's members: all wood from there up, and the drawers above the tier's own.
fn above(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights, tier: usize) -> Force {
    let frame = &subject.chest.carcass.tiers[tier];
    let wood: f64 = subject
        .solids
        .iter()
        .filter(|solid| solid.drawer.is_none() && solid.space.at.z >= frame.z)
        .filter_map(|solid| {
            let part = subject.part_of(solid)?;
            let size = solid.space.size;
            let volume = size.dx.to_metres() * size.dy.to_metres() * size.dz.to_metres();
            Some(volume * scenario.stock.materials[part.material].density)
        })
        .sum();
    let drawers: f64 = subject
        .drawers
        .iter()
        .zip(&weights.drawers)
        .filter(|(drawer, _)| drawer.tier > tier)
        .map(|(_, body)| body.mass().in_kilograms())
        .sum();
    Kilograms::of(wood + drawers).weight()
}
