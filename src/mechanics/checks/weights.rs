//! What each thing weighs and where its centre is.

use super::Subject;
use crate::design::derive::figures::{chest_mass, mass_of};
use crate::design::{Box3, Layout, Point, Role};
use crate::scenario::{HardwareUse, Scenario};
use crate::units::physics::{Kilograms, Metres};

/// A mass with its centre, in the bed's frame, every drawer shut.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Body {
    mass: f64,
    moment_x: f64,
    moment_y: f64,
    moment_z: f64,
}

impl Body {
    pub(super) fn mass(&self) -> Kilograms {
        Kilograms::of(self.mass)
    }

    pub(super) fn x(&self) -> Metres {
        Metres::of(if self.mass > 0.0 { self.moment_x / self.mass } else { 0.0 })
    }

    pub(super) fn y(&self) -> Metres {
        Metres::of(if self.mass > 0.0 { self.moment_y / self.mass } else { 0.0 })
    }

    pub(super) fn z(&self) -> Metres {
        Metres::of(if self.mass > 0.0 { self.moment_z / self.mass } else { 0.0 })
    }

    /// This and another together.
    #[must_use]
    pub(super) fn and(self, other: Self) -> Self {
        Self {
            mass: self.mass + other.mass,
            moment_x: self.moment_x + other.moment_x,
            moment_y: self.moment_y + other.moment_y,
            moment_z: self.moment_z + other.moment_z,
        }
    }

    /// The same with more mass at its own centre.
    #[must_use]
    fn and_mass(self, mass: f64) -> Self {
        let [x, y, z] = [self.x(), self.y(), self.z()].map(|at| mass * at.in_metres());
        self.and(Self { mass, moment_x: x, moment_y: y, moment_z: z })
    }

    /// Adds something whose middle is its centre.
    fn add(&mut self, mass: f64, space: Box3) {
        let (at, size) = (space.at, space.size);
        self.mass += mass;
        self.moment_x += mass * middle(at.x, size.dx);
        self.moment_y += mass * middle(at.y, size.dy);
        self.moment_z += mass * middle(at.z, size.dz);
    }
}

/// The chest, its drawers with their gear, and what is in the pockets.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Weights {
    /// What does not move.
    pub(super) fixed: Body,
    /// Each drawer with what is in it.
    pub(super) drawers: Vec<Body>,
    /// What is in the pockets.
    pub(super) pockets: Body,
}

/// Hardware that moves with the drawers, in equal shares.
const MOVING: [HardwareUse; 5] = [
    HardwareUse::Handle,
    HardwareUse::Lock,
    HardwareUse::LockRod,
    HardwareUse::Carpet,
    HardwareUse::DrawerScrew,
];

impl Weights {
    pub(super) fn of(scenario: &Scenario, subject: &Subject<'_>) -> Self {
        let mut fixed = Body::default();
        let mut drawers = vec![Body::default(); subject.drawers.len()];
        for solid in subject.solids {
            let Some(part) = subject.part_of(solid) else { continue };
            let size = solid.space.size;
            let volume = size.dx.to_metres() * size.dy.to_metres() * size.dz.to_metres();
            let mass = volume * scenario.stock.materials[part.material].density;
            let body = match solid.drawer.and_then(|index| drawers.get_mut(index)) {
                Some(drawer) => drawer,
                None => &mut fixed,
            };
            body.add(mass, solid.space);
        }
        let placed = drawers.iter().fold(fixed, |all, drawer| all.and(*drawer));
        let whole = chest_mass(scenario, subject.parts, subject.hardware).to_kg();
        let moving = unplaced_moving(scenario, subject);
        let rest = (whole - placed.mass - moving).max(0.0);
        let share = moving / drawers.len().max(1) as f64;
        fixed = fixed.and_mass(rest);
        for (body, drawer) in drawers.iter_mut().zip(subject.drawers) {
            *body = body.and_mass(share).and(contents(scenario, &drawer.plan, drawer.inside_at));
        }
        let pockets = subject.pockets.iter().fold(Body::default(), |all, pocket| {
            all.and(contents(scenario, &pocket.plan, pocket.space.at))
        });
        Self { fixed, drawers, pockets }
    }

    /// Everything, the pockets' contents included.
    pub(super) fn all(&self) -> Body {
        self.drawers.iter().fold(self.fixed.and(self.pockets), |all, drawer| all.and(*drawer))
    }
}

/// Corner blocks and the drawers' hardware, which are counted and not placed.
fn unplaced_moving(scenario: &Scenario, subject: &Subject<'_>) -> f64 {
    let blocks: Vec<_> =
        subject.parts.iter().filter(|part| part.role == Role::CornerBlock).cloned().collect();
    let lines: Vec<_> =
        subject.hardware.iter().filter(|line| MOVING.contains(&line.use_)).cloned().collect();
    chest_mass(scenario, &blocks, &lines).to_kg()
}

fn contents(scenario: &Scenario, plan: &Layout, origin: Point) -> Body {
    let mut body = Body::default();
    for item in &plan.items {
        body.add(mass_of(scenario, item.content).to_kg(), item.space.moved(origin));
    }
    body
}

fn middle(from: crate::units::Length, extent: crate::units::Length) -> f64 {
    from.to_metres() + extent.to_metres() / 2.0
}
