//! The pull that starts a drawer, and how it jams.
//!
//! P = m·g·(μ·cos θ + sin θ), and what skew adds: P = R·(1 − 2μc/ℓ)/(1 − 2μe/ℓ), locked where ℓ ≤ 2μe. Limits: the scenario's, or
//! HSE RR228's 20 kg-force; the guided length over the whole travel.

use super::{Extending, Figure, Kind};
use crate::design::Check;
use crate::mechanics::jamming::{Guided, Pull, locking_length, skew};
use crate::mechanics::pull;
use crate::scenario::Scenario;
use crate::units::physics::{Force, Metres};

impl Extending<'_> {
    /// The pull that starts it on the level, with the skew that a load to one side adds.
    pub(super) fn pull(&self) -> Check {
        let straight = pull::force(self.body.mass(), self.friction.start, 0.0);
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
        let uphill = pull::force(mass, self.friction.start, slope);
        let running = pull::force(mass, self.friction.sliding, 0.0);
        let mut said = remark!(
            mass,
            format!(", level, {}; ", feel(force)),
            running,
            " to keep it moving, ",
            uphill,
            format!(" if it opens {slope}° uphill; too heavy from "),
            pull::heaviest(limit, self.friction.start),
        );
        if offset.abs() > Metres::millimetres(HANDLE_OFFSET) && !self.on_slides() {
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

    /// How far to the right of the drawer's middle its weight lies; a handle there pulls it straight.
    fn offset(&self) -> Metres {
        self.body.x() - (Metres::from(self.drawer.outside.at.x) + self.width() / 2.0)
    }

    /// What is still guided when it stands open, against the length at which a pull at a corner locks it.
    pub(super) fn jam(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let offset = self.width() / 2.0;
        let locks = locking_length(self.friction.start, offset);
        let clearance = Metres::from(self.frame.side_gap) * 2.0;
        let (_, lead) = skew(clearance, self.length(), self.width());
        let doubles = (self.length() - locks * 2.0).max(Metres::ZERO);
        let figure =
            Figure::at_least(self.engaged().in_millimetres(), locks.in_millimetres(), "mm");
        Some(figure.named(
            format!("guided length of {}, open", self.drawer.name),
            Kind::Advice,
            format!("locks at 2·μ·e (derived); μ {} at the sides", self.friction.start),
            remark!(
                "pulled at a corner, e = ",
                offset,
                ", the pull doubles when it is out by ",
                doubles,
                " and locks at ",
                (self.length() - locks).max(Metres::ZERO),
                "; shut, one corner may lead the other by ",
                lead,
                " if the side gaps are not taken up by guides",
            ),
        ))
    }
}

/// What a pull may be at most, by whose word, and whether that is a duty.
pub(super) fn pull_limit(scenario: &Scenario) -> (Force, &'static str, Kind) {
    match scenario.aims.limits.pull_newtons {
        Some(limit) => (Force::newtons(limit), "limit as given", Kind::Duty),
        None => (pull::MOST, "limit of HSE RR228, 20 kg-force", Kind::Advice),
    }
}

/// Beside the middle by less than this, a handle may as well be in the middle (assumption), mm.
const HANDLE_OFFSET: f64 = 15.0;

/// How a pull feels: comfortable to 110 N, hard to 147 N (HSE RR228, women), too much over 196 N.
fn feel(force: Force) -> &'static str {
    match force {
        force if force <= pull::COMFORTABLE => "comfortable",
        force if force <= pull::HARD => "hard",
        force if force <= pull::MOST => "very hard",
        _ => "too much for one person",
    }
}
