//! Gear in the drawers under braking and in bends: what slides, what stops it, what that asks of the divider.
//!
//! - Inputs: every thing where it stands, the dividers with their height and material, friction under the gear.
//! - Formula: a thing slides where its friction is less than the acceleration (49 CFR 393.102). It comes to rest on the next
//!   divider, board or thing in its way; what stands behind pushes along. A divider is a board between its ends: M = F·l/8; a free
//!   run s ends at v = √(2·a·s).
//! - Limit: F_b·S of the divider's height for ten minutes; 50 mm of free run (assumption).
//! - Sentence: which divider stops what load over what span; what a thing meets, how fast.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::fastened::face_strength;
use super::{Figure, Kind, Subject, worst};
use crate::design::derive::figures::mass_of;
use crate::design::{Box3, Check, Drawer};
use crate::mechanics::lumber::Duration;
use crate::mechanics::restraint::{Direction, needed};
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{Force, Kilograms, Metres};

/// A thing gathers speed over its free run: more than this rattles and bruises (assumption).
const FREE_RUN: Metres = Metres::of(0.05);

/// One way along which things slide, in a drawer's frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Toward the cab.
    Forward,
    /// Toward the tailgate.
    Rearward,
    /// To the right; to the left is alike for strength.
    Sideways,
}

impl Way {
    const ALL: [Self; 3] = [Self::Forward, Self::Rearward, Self::Sideways];

    fn acceleration(self) -> f64 {
        match self {
            Self::Forward => Direction::Forward.breaking(),
            Self::Rearward => Direction::Rearward.breaking(),
            Self::Sideways => Direction::Sideways.breaking(),
        }
    }

    /// From here on along the way, and across it: `(start, end)` of each.
    fn along(self, space: &Box3) -> (Length, Length) {
        let (at, far) = (space.at, space.far());
        match self {
            Self::Forward => (at.y, far.y),
            Self::Rearward => (Length::ZERO - far.y, Length::ZERO - at.y),
            Self::Sideways => (at.x, far.x),
        }
    }

    fn across(self, space: &Box3) -> (Length, Length) {
        let (at, far) = (space.at, space.far());
        match self {
            Self::Forward | Self::Rearward => (at.x, far.x),
            Self::Sideways => (at.y, far.y),
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Forward => "braking",
            Self::Rearward => "starting off",
            Self::Sideways => "a bend",
        }
    }
}

/// What stops a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stop {
    Divider(usize),
    Item(usize),
    Wall,
}

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let runs = subject.drawers.iter().filter_map(|drawer| free_run(scenario, drawer));
    let pressed = subject.drawers.iter().flat_map(|drawer| pressed(scenario, subject, drawer));
    [worst(pressed), worst(runs)].into_iter().flatten().collect()
}

/// The nearest thing in the way of `mover`, and how far it slides before it is stopped.
fn stop(drawer: &Drawer, mover: usize, way: Way) -> (Stop, Length) {
    let plan = &drawer.plan;
    let space = plan.items[mover].space;
    let (_, head) = way.along(&space);
    let side = way.across(&space);
    let met = |other: &Box3| {
        let (start, _) = way.along(other);
        let (from, to) = way.across(other);
        let beside = from < side.1 && side.0 < to;
        let level = other.at.z < space.far().z && space.at.z < other.far().z;
        (beside && level && start >= head).then_some(start - head)
    };
    let wall = match way {
        Way::Forward => drawer.inside.dy - head,
        Way::Rearward => Length::ZERO - head,
        Way::Sideways => drawer.inside.dx - head,
    };
    let dividers = plan.dividers.iter().enumerate();
    let dividers = dividers.filter_map(|(at, space)| Some((met(space)?, Stop::Divider(at))));
    let items = plan.items.iter().enumerate().filter(|(at, _)| *at != mover);
    let items = items.filter_map(|(at, item)| Some((met(&item.space)?, Stop::Item(at))));
    let all = dividers.chain(items).chain([(wall, Stop::Wall)]);
    let (gap, stop) = all.min_by_key(|(gap, _)| *gap).unwrap_or((wall, Stop::Wall));
    (stop, gap)
}

/// What comes to press on a divider, along one way, with what stands behind: the push, and where along the divider.
fn pushes(scenario: &Scenario, drawer: &Drawer, way: Way) -> Vec<(usize, Force, Length)> {
    let mut pushes = Vec::new();
    let stops: Vec<Stop> =
        (0..drawer.plan.items.len()).map(|item| stop(drawer, item, way).0).collect();
    for (index, item) in drawer.plan.items.iter().enumerate() {
        let mass = Kilograms::from(mass_of(scenario, item.content));
        let push = needed(mass, way.acceleration(), scenario.engineering.gear_friction);
        let mut at = index;
        // A chain of things ends at a divider or a wall after as many steps as there are things.
        for _ in 0..=stops.len() {
            match stops[at] {
                Stop::Item(next) => at = next,
                Stop::Divider(divider) => {
                    let (from, to) = way.across(&item.space);
                    pushes.push((divider, push, from + (to - from) / 2));
                    break;
                }
                Stop::Wall => break,
            }
        }
    }
    pushes
}

/// Where a divider is held against a push along `way`: its ends, and the dividers that butt against its far face.
fn props(drawer: &Drawer, divider: usize, way: Way) -> Vec<Length> {
    let space = &drawer.plan.dividers[divider];
    let (from, to) = way.across(space);
    let (_, face) = way.along(space);
    let butts = drawer.plan.dividers.iter().filter(|other| way.along(other).0 == face);
    let middles = butts.map(|other| {
        let (a, b) = way.across(other);
        a + (b - a) / 2
    });
    let mut props: Vec<Length> = middles.filter(|at| from < *at && *at < to).collect();
    props.extend([from, to]);
    props.sort_unstable();
    props
}

/// Each stretch of a divider that something slides against.
fn pressed(scenario: &Scenario, subject: &Subject<'_>, drawer: &Drawer) -> Vec<Check> {
    let material = &scenario.stock.materials[subject.structure.divider];
    let (strength, known) = face_strength(material);
    let mut checks = Vec::new();
    for way in Way::ALL {
        let pushes = pushes(scenario, drawer, way);
        for (divider, space) in drawer.plan.dividers.iter().enumerate() {
            let mine = pushes.iter().filter(|(at, _, _)| *at == divider);
            if mine.clone().next().is_none() || !space.size.dz.is_positive() {
                continue;
            }
            let mark = drawer
                .divider_parts
                .get(divider)
                .and_then(|id| subject.parts.get(id.0 as usize))
                .map_or_else(String::new, |part| format!("divider {} ", part.mark));
            let limit = strength * Metres::from(space.size.dz) * Duration::TenMinutes.factor();
            for pair in props(drawer, divider, way).windows(2) {
                let within = mine.clone().filter(|(_, _, at)| pair[0] <= *at && *at < pair[1]);
                let load: Force = within.map(|(_, push, _)| *push).sum();
                let span = Metres::from(pair[1] - pair[0]);
                let moment = load * span / 8.0;
                let figure =
                    Figure::at_most(moment.in_newton_metres(), limit.in_newton_metres(), "N·m");
                if load <= Force::ZERO {
                    continue;
                }
                checks.push(
                    figure.named(
                        format!("divider in {}, {}", drawer.name, way.words()),
                        Kind::Note,
                        remark!(format!(
                            "49 CFR 393.102, {} g; F·l/8 (derived); ",
                            way.acceleration()
                        ))
                        .and(known.clone())
                        .and("; C_D 1.6"),
                        remark!(
                            format!("{mark}stops "),
                            load,
                            " over ",
                            span,
                            format!(
                                ", friction {} under the gear (assumption)",
                                scenario.engineering.gear_friction
                            ),
                        ),
                    ),
                );
            }
        }
    }
    checks
}

/// The longest free run of a thing in a drawer under braking.
fn free_run(scenario: &Scenario, drawer: &Drawer) -> Option<Check> {
    if scenario.engineering.gear_friction >= Way::Forward.acceleration() {
        return None;
    }
    let runs = (0..drawer.plan.items.len()).map(|item| stop(drawer, item, Way::Forward));
    let (stopped_by, longest) = runs.max_by_key(|(_, gap)| *gap)?;
    let longest = Metres::from(longest.or_zero());
    let share = Way::Forward.acceleration() - scenario.engineering.gear_friction;
    let speed =
        (2.0 * share * crate::units::physics::STANDARD_GRAVITY * longest.in_metres()).sqrt();
    let by = match stopped_by {
        Stop::Divider(_) => "a divider",
        Stop::Item(_) => "other gear",
        Stop::Wall => "the drawer's back",
    };
    let figure = Figure::at_most(longest.in_millimetres(), FREE_RUN.in_millimetres(), "mm");
    Some(figure.named(
        format!("free run of gear in {}", drawer.name),
        Kind::Note,
        remark!("49 CFR 393.102, 0.8 g; v² = 2·a·s (derived); ", FREE_RUN, " (assumption)"),
        remark!(
            format!("meets {by} at {speed:.1} m/s when braking, friction {} (assumption); fill the gap or share the cell", scenario.engineering.gear_friction),
        ),
    ))
}
