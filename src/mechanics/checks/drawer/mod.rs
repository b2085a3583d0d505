//! Each drawer: its bottom and sides, its front, its pull, how it jams, and what it does when it is drawn out.

pub(in crate::mechanics) mod bottom;
mod front;
pub mod jamming;
pub mod open;
pub mod pull;
pub(in crate::mechanics) mod sides;
mod slides;

pub use bottom::bottom_strain;
pub use open::stays_in;
pub use pull::{handles, most_allowed, most_gear};

use super::fastened::Screwed;
use super::weights::{Body, Weights};
use super::{Figure, Kind, Subject, worst};
use crate::design::derive::figures::mass_of;
use crate::design::{Check, Drawer, Role, Solid, TierFrame};
use crate::scenario::{Engineering, Material, Runs, Scenario};
use crate::units::physics::{Kilograms, Metres};
use pull::friction::Friction;

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let all: Vec<Extending<'_>> = subject
        .drawers
        .iter()
        .enumerate()
        .map(|(index, drawer)| Extending::of(scenario, subject, weights, index, drawer))
        .collect();
    let (sags, bends): (Vec<_>, Vec<_>) = all.iter().filter_map(Extending::bottom).unzip();
    let mut checks: Vec<Check> = all.iter().map(Extending::pull).collect();
    checks.extend(worst(all.iter().map(Extending::moving)));
    checks.extend(worst(all.iter().map(Extending::uphill)));
    checks.extend(worst(sags));
    checks.extend(worst(bends.into_iter().flatten()));
    checks.extend(worst(all.iter().filter_map(Extending::sides)));
    checks.extend(worst(all.iter().filter_map(Extending::bottom_screws)));
    checks.extend(worst(all.iter().filter_map(Extending::side_seam)));
    checks.extend(worst(all.iter().filter_map(Extending::front)));
    checks.extend(worst(all.iter().filter_map(Extending::let_in)));
    checks.extend(worst(all.iter().filter_map(Extending::slides)));
    checks.extend(worst(all.iter().filter_map(Extending::slides_fit)));
    checks.extend(worst(all.iter().filter_map(Extending::jam)));
    checks.extend(worst(all.iter().filter_map(Extending::uplift)));
    checks.extend(worst(all.iter().filter_map(Extending::drop)));
    checks.extend(worst(all.iter().filter_map(Extending::tailgate)));
    checks.extend(worst(all.iter().map(Extending::tips)));
    checks
}

/// One drawer of a chest, with what its checks share.
pub(super) struct Extending<'a> {
    scenario: &'a Scenario,
    subject: &'a Subject<'a>,
    weights: &'a Weights,
    index: usize,
    drawer: &'a Drawer,
    frame: &'a TierFrame,
    body: Body,
    friction: Friction,
}

impl<'a> Extending<'a> {
    pub(super) fn of(
        scenario: &'a Scenario,
        subject: &'a Subject<'a>,
        weights: &'a Weights,
        index: usize,
        drawer: &'a Drawer,
    ) -> Self {
        let friction = pull::friction_of(scenario, subject.structure.runs);
        let frame = &subject.chest.carcass.tiers[drawer.tier];
        let body = weights.drawers[index];
        Self { scenario, subject, weights, index, drawer, frame, body, friction }
    }

    fn engineering(&self) -> &'a Engineering {
        &self.scenario.engineering
    }

    fn on_slides(&self) -> bool {
        self.subject.structure.runs == Runs::Slides
    }

    fn length(&self) -> Metres {
        Metres::from(self.drawer.outside.size.dy)
    }

    fn width(&self) -> Metres {
        Metres::from(self.drawer.outside.size.dx)
    }

    /// What stays in the chest when it is drawn out: what its stop leaves there; slides bring it out by their own length, or
    /// whole.
    fn engaged(&self) -> Metres {
        if self.on_slides() {
            let long = self.slides_used().and_then(|slides| slides.slide);
            let out = long.map_or(self.length(), Metres::from);
            return (self.length() - out).max(Metres::ZERO);
        }
        open::stays_in(self.scenario, self.subject.structure, self.drawer)
    }

    /// How far it comes out.
    fn travel(&self) -> Metres {
        self.length() - self.engaged()
    }

    /// The centre of mass behind its front.
    fn centre(&self) -> Metres {
        self.body.y() - Metres::from(self.drawer.outside.at.y)
    }

    /// What is stowed in it.
    fn gear(&self) -> Kilograms {
        let items = self.drawer.plan.items.iter();
        items.map(|item| Kilograms::from(mass_of(self.scenario, item.content))).sum()
    }

    fn material(&self, id: crate::scenario::MaterialId) -> &'a Material {
        &self.scenario.stock.materials[id]
    }

    /// A piece of it.
    fn piece(&self, role: Role) -> Option<&'a Solid> {
        self.subject.solids.iter().find(|solid| {
            solid.drawer == Some(self.index)
                && self.subject.part_of(solid).is_some_and(|part| part.role == role)
        })
    }

    /// One of the drawers' screws, through `side` into the edge or face of `main`.
    fn drawer_screw(&self, side: &'a Material, main: &'a Material) -> Screwed<'a> {
        Screwed { gauge: self.subject.fixings.drawer.gauge, side, main }
    }

    /// One of the chest's screws, through the panel into a member.
    fn chest_screw(&self) -> Screwed<'a> {
        Screwed {
            gauge: self.subject.fixings.chest.gauge,
            side: self.material(self.subject.structure.bottom),
            main: self.material(self.subject.structure.tiers[self.drawer.tier].member),
        }
    }
}
