//! The pull that starts a drawer.
//!
//! - Inputs: the drawer's mass with its gear and how far beside its middle that lies; what it runs on, or the friction that was
//!   measured.
//! - Formula: P = m·g·(μ·cos θ + sin θ) ([`formula`]) with what the skew of a load to one side adds ([`super::jamming`]).
//! - Limit: the scenario's own, or HSE RR228's 20 kg-force; half of that to keep it moving.
//! - Sentence: how the pull feels, what keeps it moving, what it takes uphill, the weight from which it is too heavy, where the
//!   handle is best, the slope on which it opens by itself.

pub mod formula;
pub mod friction;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
mod most;
#[cfg(test)]
mod tests;

pub use most::{most_allowed, most_gear};

use super::jamming::formula::{Guided, Pull};
use super::{Extending, Figure, Kind};
use crate::design::Check;
use crate::mechanics::checks::Subject;
use crate::mechanics::checks::weights::Weights;
use crate::scenario::{Runs, Scenario};
use crate::units::physics::{Force, Metres};
use friction::Friction;

impl Extending<'_> {
    /// The pull that starts it on the level, with the skew that a load to one side adds.
    pub(super) fn pull(&self) -> Check {
        let straight = formula::force(self.body.mass(), self.friction.start, 0.0);
        let offset = self.offset();
        let guided = Guided {
            engaged: self.length(),
            side_friction: self.friction.start,
            pull_offset: Metres::ZERO,
            load_offset: if self.on_slides() { Metres::ZERO } else { offset },
        };
        // A pull in the middle never locks: the load's own offset only adds to it.
        let force = match guided.pull(straight) {
            Pull::Moves { pull, .. } => pull,
            Pull::Locks => straight,
        };
        let (limit, whose, kind) = pull_limit(self.scenario);
        let slope = self.engineering().slope_deg;
        let mass = self.body.mass();
        let uphill = formula::force(mass, self.friction.start, slope);
        let running = formula::force(mass, self.friction.sliding, 0.0);
        let mut said = remark!(
            mass,
            format!(", level, {}; ", feel(force)),
            running,
            " to keep it moving, ",
            uphill,
            format!(" if it opens {slope}° uphill; too heavy from "),
            formula::heaviest(limit, self.friction.start),
        );
        if let Some(offset) = self.handle() {
            let side = if offset > Metres::ZERO { " right" } else { " left" };
            said =
                said.and("; handle best ").and(offset.abs()).and(format!("{side} of the middle"));
        }
        Figure::at_most(force.in_newtons(), limit.in_newtons(), "N").named(
            format!("pull of drawer {}", self.drawer.name),
            kind,
            format!("μ {} ({}); {whose}", self.friction.start, self.friction.source),
            said,
        )
    }

    /// What keeps it moving, on the level.
    pub(super) fn moving(&self) -> Check {
        let force = formula::force(self.body.mass(), self.friction.sliding, 0.0);
        let limit = formula::KEEP_MOVING;
        Figure::at_most(force.in_newtons(), limit.in_newtons(), "N").named(
            format!("drawer {} kept moving", self.drawer.name),
            Kind::Note,
            format!(
                "μ {} sliding ({}); HSE's guideline for keeping a load moving, 10 kg-force (from memory)",
                self.friction.sliding, self.friction.source
            ),
            remark!(self.body.mass(), ", level; beyond it draw it out in stages"),
        )
    }

    /// What starts it where the vehicle stands nose down, so that it opens uphill.
    pub(super) fn uphill(&self) -> Check {
        let slope = self.engineering().slope_deg;
        let force = formula::force(self.body.mass(), self.friction.start, slope);
        let (limit, whose, _) = pull_limit(self.scenario);
        let away = formula::runaway_slope(self.friction.start);
        Figure::at_most(force.in_newtons(), limit.in_newtons(), "N").named(
            format!("drawer {} opened uphill", self.drawer.name),
            Kind::Note,
            format!("m·g·(μ·cos θ + sin θ) (derived); {slope}° (assumption); {whose}"),
            remark!(
                self.body.mass(),
                format!(
                    "; parked the other way it opens by itself beyond {away:.1}°, if it is not latched"
                ),
            ),
        )
    }

    /// How far to the right of its middle a handle pulls it straight, where that is worth placing it there.
    fn handle(&self) -> Option<Metres> {
        let offset = self.offset();
        (!self.on_slides() && offset.abs() > Metres::millimetres(HANDLE_OFFSET)).then_some(offset)
    }

    /// How far to the right of the drawer's middle its weight lies; a handle there pulls it straight.
    fn offset(&self) -> Metres {
        self.body.x() - (Metres::from(self.drawer.outside.at.x) + self.width() / 2.0)
    }
}

/// For each drawer how far to the right of its middle a handle would pull it straight, loaded as it is; none where the middle
/// will do.
pub fn handles(scenario: &Scenario, subject: Subject<'_>) -> Vec<Option<Metres>> {
    let weights = Weights::of(scenario, &subject);
    let drawers = subject.drawers.iter().enumerate();
    let of = |(index, drawer)| Extending::of(scenario, &subject, &weights, index, drawer).handle();
    drawers.map(of).collect()
}

/// What a pull may be at most, by whose word, and whether that is a duty.
pub(super) fn pull_limit(scenario: &Scenario) -> (Force, &'static str, Kind) {
    match scenario.aims.limits.pull_newtons {
        Some(limit) => (Force::newtons(limit), "limit as given", Kind::Duty),
        None => (formula::MOST, "limit of HSE RR228, 20 kg-force", Kind::Advice),
    }
}

/// Beside the middle by less than this, a handle may as well be in the middle (assumption), mm.
const HANDLE_OFFSET: f64 = 15.0;

/// How a pull feels: comfortable to 110 N, hard to 147 N (HSE RR228, women), too much over 196 N.
fn feel(force: Force) -> &'static str {
    match force {
        force if force <= formula::COMFORTABLE => "comfortable",
        force if force <= formula::HARD => "hard",
        force if force <= formula::MOST => "very hard",
        _ => "too much for one person",
    }
}

/// What friction the drawers of a chest run with: as measured, or usual for what they run on.
pub(super) fn friction_of(scenario: &Scenario, runs: Runs) -> Friction {
    let usual = match runs {
        Runs::Strip => friction::PLASTIC_STRIP,
        Runs::Waxed => friction::WAXED_WOOD,
        Runs::Slides => return friction::BALL_BEARINGS,
    };
    match scenario.engineering.start_friction {
        Some(start) => Friction {
            start,
            sliding: start * friction::SLIDING_SHARE,
            source: "as measured",
            ..usual
        },
        None => usual,
    }
}
