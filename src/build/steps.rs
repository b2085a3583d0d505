//! The assembly in an order in which every screw can be reached.
//!
//! Common practice, no source: the frame on its bottom, what is inside each tier before the panel over it closes it, upper
//! members that stand right above lower ones after their panel is screwed down (nothing can be driven through it there),
//! corner blocks before the applied fronts cover their screws, the board that guards a lock after the front's screws
//! and the lock behind it, the deck last.

use std::collections::BTreeSet;

use crate::design::work::{HoleKind, Piece, PieceId, Row, Side, Step, StepKind};
use crate::design::{Design, Role};

/// The steps of one set.
pub fn steps(design: &Design, pieces: &[Piece], rows: &[Row]) -> Vec<Step> {
    let mut bench = Bench { design, pieces, rows, steps: Vec::new() };
    let frame = bench.frame();
    let boxes = bench.boxes();
    bench.finish(frame, boxes);
    bench.drive();
    bench.steps
}

struct Bench<'a> {
    design: &'a Design,
    pieces: &'a [Piece],
    rows: &'a [Row],
    steps: Vec<Step>,
}

impl Bench<'_> {
    fn role(&self, id: PieceId) -> Role {
        self.design.part(self.pieces[id.0 as usize].part).role
    }

    /// The pieces that a test holds for.
    fn which(&self, test: impl Fn(Role, &Piece) -> bool) -> Vec<PieceId> {
        let all = (0..).map(PieceId).zip(self.pieces);
        all.filter(|(id, piece)| test(self.role(*id), piece)).map(|(id, _)| id).collect()
    }

    fn step(&mut self, kind: StepKind, pieces: Vec<PieceId>, joins: Vec<usize>) -> usize {
        self.steps.push(Step { kind, pieces, rows: Vec::new(), joins });
        self.steps.len() - 1
    }

    /// Everything of the chest up to its highest members; the last step of it.
    fn frame(&mut self) -> usize {
        let mut last = 0;
        for (tier, frame) in self.design.chest.carcass.tiers.iter().enumerate() {
            let z = frame.z;
            let stands = |role: Role, piece: &Piece| {
                matches!(role, Role::Member | Role::Back)
                    && piece.space.is_some_and(|space| space.at.z == z)
            };
            if tier == 0 {
                let pieces = self.which(|role, piece| role == Role::Bottom || stands(role, piece));
                last = self.step(StepKind::Frame, pieces, Vec::new());
            } else {
                last = self.upper(tier, &stands, last);
            }
            last = self.step(StepKind::Runs(tier), Vec::new(), vec![last]);
        }
        last
    }

    fn upper(&mut self, tier: usize, stands: &dyn Fn(Role, &Piece) -> bool, below: usize) -> usize {
        let z = self.design.chest.carcass.tiers[tier].z;
        let is_last = tier + 1 == self.design.chest.carcass.tiers.len();
        let shelf = self.which(|role, piece| {
            role == Role::Shelf && piece.space.is_some_and(|space| space.far().z == z)
        });
        let uprights = self.which(stands);
        let toed =
            |id: PieceId| self.rows.iter().any(|row| row.kind == HoleKind::Toe && row.piece == id);
        let (later, mut first): (Vec<PieceId>, Vec<PieceId>) =
            uprights.into_iter().partition(|id| toed(*id));
        let outriggers =
            if is_last { self.which(|role, _| role == Role::Outrigger) } else { Vec::new() };
        let (new, joins) = if first.is_empty() && outriggers.is_empty() {
            (shelf, vec![below])
        } else {
            first.extend(shelf);
            let mut module = self.step(StepKind::Module(tier), first, Vec::new());
            if !outriggers.is_empty() {
                // They stand right below the outer members and cover the screws into these.
                module = self.step(StepKind::Outriggers, outriggers, vec![module]);
            }
            (Vec::new(), vec![below, module])
        };
        let mut last = self.step(StepKind::Shelf(tier), new, joins);
        if !later.is_empty() {
            last = self.step(StepKind::Members(tier), later, vec![last]);
        }
        last
    }

    /// The boxes, those that are made of as many of the same things together; the last step of each kind.
    fn boxes(&mut self) -> Vec<usize> {
        let of_box = |role: Role| {
            matches!(role, Role::DrawerBottom | Role::Side | Role::DrawerFront | Role::DrawerBack)
        };
        let mut kinds: Vec<(Vec<Role>, Vec<usize>)> = Vec::new();
        for index in 0..self.design.drawers.len() {
            let pieces = self.which(|role, piece| {
                piece.drawer == Some(index) && (of_box(role) || role == Role::CornerBlock)
            });
            let mut roles: Vec<Role> = pieces.iter().map(|id| self.role(*id)).collect();
            roles.sort_unstable();
            match kinds.iter_mut().find(|(known, _)| *known == roles) {
                Some((_, drawers)) => drawers.push(index),
                None => kinds.push((roles, vec![index])),
            }
        }
        let mut last = Vec::new();
        for (_, drawers) in kinds {
            let of = |piece: &Piece| piece.drawer.is_some_and(|drawer| drawers.contains(&drawer));
            let boards = self.which(|role, piece| of(piece) && of_box(role));
            let blocks = self.which(|role, piece| of(piece) && role == Role::CornerBlock);
            let mut step = self.step(StepKind::Boxes(drawers.clone()), boards, Vec::new());
            if !blocks.is_empty() {
                step = self.step(StepKind::Blocks(drawers.clone()), blocks, vec![step]);
            }
            last.push(step);
        }
        last
    }

    /// Drawers fitted, deck on, into the vehicle.
    fn finish(&mut self, frame: usize, boxes: Vec<usize>) {
        let stops = self.which(|role, _| role == Role::StopBlock);
        let mut joins = vec![frame];
        joins.extend(boxes);
        let mut last = self.step(StepKind::Fit, stops, joins);
        let mut next = |bench: &mut Self, kind: StepKind, pieces: Vec<PieceId>, always: bool| {
            if always || !pieces.is_empty() {
                last = bench.step(kind, pieces, vec![last]);
            }
        };
        let is = |wanted: Role| move |role: Role, _: &Piece| role == wanted;
        let fronts = self.which(is(Role::AppliedFront));
        next(self, StepKind::Fronts, fronts, true);
        let locks = self.rows.iter().any(|row| row.kind == HoleKind::Lock);
        if locks {
            next(self, StepKind::Locks, Vec::new(), true);
        }
        let guards = self.which(is(Role::Guard));
        next(self, StepKind::Guards, guards, false);
        let dividers = self.which(|role, piece| role == Role::Divider && piece.drawer.is_some());
        next(self, StepKind::Dividers, dividers, false);
        let decks = self.which(is(Role::Deck));
        next(self, StepKind::Deck, decks, true);
        let packing = self.which(is(Role::Packing));
        next(self, StepKind::Vehicle, packing, true);
        next(self, StepKind::HoldDown, Vec::new(), true);
        next(self, StepKind::Stow, Vec::new(), true);
        let pockets = self.which(|role, piece| {
            role == Role::Lid || (role == Role::Divider && piece.drawer.is_none())
        });
        next(self, StepKind::Pockets, pockets, false);
    }

    /// Gives every row to the step in which it is bored or driven.
    fn drive(&mut self) {
        let mut present: Vec<BTreeSet<PieceId>> = Vec::with_capacity(self.steps.len());
        for step in &self.steps {
            let mut here: BTreeSet<PieceId> = step.pieces.iter().copied().collect();
            step.joins.iter().for_each(|joined| here.extend(present[*joined].iter().copied()));
            present.push(here);
        }
        for (index, row) in self.rows.iter().enumerate() {
            let there = |step: usize| {
                let has = |id: PieceId| present[step].contains(&id);
                has(row.piece) && row.into.is_none_or(has)
            };
            let wanted = self.wanted(row);
            let suits = |step: &usize| {
                there(*step) && wanted.as_ref().is_none_or(|kind| *kind == self.steps[*step].kind)
            };
            let found = (0..self.steps.len()).find(suits);
            // What has no step of its own goes where its pieces first meet.
            let found = found.or_else(|| (0..self.steps.len()).find(|step| there(*step)));
            if let Some(step) = found {
                self.steps[step].rows.push(index);
            }
        }
    }

    /// The step that a row waits for; `None` for the first in which its pieces meet.
    fn wanted(&self, row: &Row) -> Option<StepKind> {
        Some(match row.kind {
            HoleKind::Strip => StepKind::Runs(self.strip_tier(row)),
            HoleKind::Handle => StepKind::Fronts,
            HoleKind::Lock | HoleKind::Rod | HoleKind::RodMate => StepKind::Locks,
            // Nuts are let in from above while the bottom can be reached; the bolts come from under the bed.
            HoleKind::HoldDown => StepKind::Frame,
            HoleKind::Bracket => StepKind::Pockets,
            HoleKind::Angle => StepKind::Deck,
            HoleKind::Chest
            | HoleKind::Toe
            | HoleKind::Drawer
            | HoleKind::Block
            | HoleKind::Front
            | HoleKind::Divider => return None,
        })
    }

    /// The tier whose openings a strip lies in.
    fn strip_tier(&self, row: &Row) -> usize {
        let space = self.pieces[row.piece.0 as usize].space;
        let z = space.map(|space| if row.side == Side::Top { space.far().z } else { space.at.z });
        let tiers = &self.design.chest.carcass.tiers;
        tiers.iter().position(|frame| Some(frame.z) == z).unwrap_or(0)
    }
}
