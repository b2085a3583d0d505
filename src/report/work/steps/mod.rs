//! The assembly in words: what each step uses, what is done, why there, and what to check before going on.

mod chest;
mod drawers;
mod vehicle;

use std::collections::BTreeMap;

use crate::design::work::{HoleKind, PieceId, Step, StepKind, WorkPlan};
use crate::design::{Design, Drawer, PartId, Role};
use crate::report::words;
use crate::scenario::Scenario;
use crate::units::{Length, UnitSystem};
use crate::verify::Verified;

/// One step as it is printed. Parts' marks stand between asterisks, which print bold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepText {
    /// Where in the work it belongs.
    pub stage: Stage,
    /// What is done.
    pub title: String,
    /// New parts by what they are: `member *M1* x 3, *M2*`.
    pub parts: Vec<String>,
    /// Screws and other hardware, with their numbers.
    pub hardware: Vec<String>,
    /// What to do, a sentence or two each.
    pub does: Vec<String>,
    /// Why here and not earlier or later, where that matters.
    pub why: Option<String>,
    /// What must hold before going on.
    pub check: String,
}

/// The parts of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// On the bench.
    Bench,
    /// Into the vehicle.
    Vehicle,
}

impl Stage {
    const fn of(kind: &StepKind) -> Self {
        match kind {
            StepKind::Vehicle | StepKind::HoldDown | StepKind::Stow | StepKind::Pockets => {
                Self::Vehicle
            }
            _ => Self::Bench,
        }
    }

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bench => "Assembly",
            Self::Vehicle => "Fitting into the vehicle",
        }
    }
}

/// Every step of the assembly.
pub fn steps(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: &Verified<WorkPlan>,
) -> Vec<StepText> {
    let teller = Teller { scenario, design, work };
    work.steps.iter().map(|step| teller.step(step)).collect()
}

struct Teller<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    work: &'a WorkPlan,
}

/// What is said of a step beside its lists.
struct Said {
    title: String,
    does: Vec<String>,
    why: Option<&'static str>,
    check: String,
}

impl Teller<'_> {
    fn step(&self, step: &Step) -> StepText {
        let Said { title, does, why, check } = match &step.kind {
            StepKind::Frame => self.frame(step),
            StepKind::Module(tier) => self.module(step, *tier),
            StepKind::Outriggers => self.outriggers(step),
            StepKind::Shelf(tier) => self.shelf(*tier),
            StepKind::Members(tier) => self.members(step, *tier),
            StepKind::Runs(tier) => self.runs(*tier),
            StepKind::Boxes(drawers) => self.boxes(drawers),
            StepKind::Blocks(drawers) => self.blocks(step, drawers),
            StepKind::Fit => self.fit(),
            StepKind::Fronts => self.fronts(),
            StepKind::Locks => self.locks(),
            StepKind::Guards => self.guards(step),
            StepKind::Dividers => self.dividers(),
            StepKind::Deck => self.deck(step),
            StepKind::Vehicle => self.vehicle(step),
            StepKind::HoldDown => self.hold_down(),
            StepKind::Stow => self.stow(),
            StepKind::Pockets => self.pockets(step),
        };
        StepText {
            stage: Stage::of(&step.kind),
            title,
            parts: self.parts(step),
            hardware: self.hardware(step),
            does,
            why: why.map(str::to_owned),
            check,
        }
    }

    /// New parts in the order of their marks' list, those of one role together.
    fn parts(&self, step: &Step) -> Vec<String> {
        let mut counts: BTreeMap<PartId, u32> = BTreeMap::new();
        for id in &step.pieces {
            *counts.entry(self.work.piece(*id).part).or_default() += 1;
        }
        let mut roles: Vec<(Role, Vec<String>)> = Vec::new();
        for (id, times) in counts {
            let part = self.design.part(id);
            let shown = match times {
                1 => format!("*{}*", part.mark),
                _ => format!("*{}* x {times}", part.mark),
            };
            match roles.iter_mut().find(|(role, _)| *role == part.role) {
                Some((_, marks)) => marks.push(shown),
                None => roles.push((part.role, vec![shown])),
            }
        }
        let shown = roles.into_iter();
        shown.map(|(role, marks)| format!("{} {}", words::role(role), marks.join(", "))).collect()
    }

    /// Screws driven, by what they are.
    fn hardware(&self, step: &Step) -> Vec<String> {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for row in step.rows.iter().map(|row| &self.work.rows[*row]) {
            let what = match (row.kind.takes(), row.kind) {
                (Some(use_), _) => words::hardware_use(use_),
                (None, HoleKind::Strip) => "strip screws",
                (None, HoleKind::Angle) => "angle screws",
                (None, _) => continue,
            };
            *counts.entry(what).or_default() += row.holes.len();
        }
        counts.into_iter().map(|(what, times)| format!("{times} {what}")).collect()
    }

    fn show(&self, length: Length) -> String {
        length.show(self.scenario.units)
    }

    /// The letter of a tier, as in its drawers' names.
    fn letter(&self, tier: usize) -> String {
        let drawer = self.design.drawers.iter().find(|drawer| drawer.tier == tier);
        drawer.map_or_else(
            || (tier + 1).to_string(),
            |drawer| drawer.name.chars().take_while(|c| c.is_alphabetic()).collect(),
        )
    }

    /// The marks of a step's new parts of one role: `*N1*, *N2*`.
    fn marks(&self, pieces: &[PieceId], role: Role) -> String {
        let mut ids: Vec<PartId> = pieces.iter().map(|id| self.work.piece(*id).part).collect();
        ids.sort();
        ids.dedup();
        self.list(ids.into_iter().filter(|id| self.design.part(*id).role == role))
    }

    fn list(&self, ids: impl Iterator<Item = PartId>) -> String {
        let marks: Vec<String> = ids.map(|id| format!("*{}*", self.design.part(id).mark)).collect();
        match marks.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, others)) => format!("{} and {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// All marks of a role.
    fn all(&self, role: Role) -> String {
        let parts = (0..).map(PartId).zip(&self.design.parts);
        self.list(parts.filter(|(_, part)| part.role == role).map(|(id, _)| id))
    }

    fn names(&self, drawers: &[usize]) -> String {
        let names: Vec<&str> =
            drawers.iter().map(|index| self.design.drawers[*index].name.as_str()).collect();
        match names.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} and {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// How far diagonals may differ (common practice, no source).
    fn square(&self) -> &'static str {
        match self.scenario.units {
            UnitSystem::Inch => "1/8 in",
            UnitSystem::Metric => "3 mm",
        }
    }

    /// The openings of a tier, as their drawers are called.
    fn openings(&self, tier: usize) -> String {
        let drawers = self.design.drawers.iter().filter(|drawer| drawer.tier == tier);
        let all = drawers.map(|d: &Drawer| format!("{} {}", d.name, self.show(d.opening.size.dx)));
        all.collect::<Vec<_>>().join(", ")
    }
}
