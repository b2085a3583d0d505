//! What the explorer may choose from, and the gaps that every derivation uses.

use super::ids::MaterialId;
use crate::units::Length;

/// Where a chest stands in the bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Every tier between the wheel wells (or walls, where there are none).
    BetweenWells,
    /// The top tier at full width above the wheel wells; those below between them.
    AboveWells,
}

/// What a drawer slides on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Runs {
    /// Low-friction plastic strip under it and beside it.
    Strip,
    /// Waxed hardwood runners.
    Waxed,
    /// A pair of ball-bearing slides at its sides.
    Slides,
}

/// Which way the deck's grain runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DeckGrain {
    /// Along the members, as a sheet lies in most beds: it spans the weak way.
    Along,
    /// Across them: it spans the strong way. Only where the deck is no deeper than a sheet is wide, as no member carries a
    /// seam across.
    Across,
}

/// What the explorer may choose from. No list is empty and none holds an entry twice.
#[derive(Debug, Clone, PartialEq)]
pub struct Choices {
    /// Where the chest may stand.
    pub families: Vec<Family>,
    /// How many tiers; 1 to 3.
    pub tiers: Vec<u32>,
    /// How many columns a tier may have; 1 to 4.
    pub columns: Vec<u32>,
    /// Members: boards on edge, or sheet ripped to any height.
    pub members: Vec<MaterialId>,
    /// Bottom panel, and the panels between tiers. Sheets.
    pub bottom: Vec<MaterialId>,
    /// Deck. Sheets.
    pub deck: Vec<MaterialId>,
    /// Which way the deck's grain may run.
    pub deck_grain: Vec<DeckGrain>,
    /// Drawer sides, fronts, backs and guards. Boards or sheets.
    pub drawer_sides: Vec<MaterialId>,
    /// Drawer bottoms. Sheets.
    pub drawer_bottoms: Vec<MaterialId>,
    /// Applied fronts. Boards or sheets.
    pub fronts: Vec<MaterialId>,
    /// Dividers. Boards or sheets.
    pub dividers: Vec<MaterialId>,
    /// Square stock for corner blocks; `None` for a drawer without.
    pub corner_blocks: Option<MaterialId>,
    /// What drawers slide on.
    pub runs_on: Vec<Runs>,
    /// Whether drawers have locks, with the room and the guard board that they need.
    pub locks: bool,
    /// Whether the pockets beside the wells are used.
    pub pockets: bool,
}

impl Choices {
    /// Every material that something may be made of, some more than once.
    pub fn materials(&self) -> impl Iterator<Item = MaterialId> {
        let lists = [&self.members].into_iter().chain(self.panels());
        lists.flatten().copied().chain(self.corner_blocks)
    }

    /// What all that is sawn to size may be made of: bottom, deck, drawers' sides, their bottoms, fronts, dividers.
    pub fn panels(&self) -> [&Vec<MaterialId>; 6] {
        [
            &self.bottom,
            &self.deck,
            &self.drawer_sides,
            &self.drawer_bottoms,
            &self.fronts,
            &self.dividers,
        ]
    }

    /// The same lists, to be changed.
    pub fn panels_mut(&mut self) -> [&mut Vec<MaterialId>; 6] {
        [
            &mut self.bottom,
            &mut self.deck,
            &mut self.drawer_sides,
            &mut self.drawer_bottoms,
            &mut self.fronts,
            &mut self.dividers,
        ]
    }
}

/// Gaps and clearances. None is negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowances {
    /// From the members' front edges to the closed tailgate: applied front, deck overhang and handle live in it.
    pub handle_room: Length,
    /// Between the chest's back and the bed's front wall.
    pub front: Length,
    /// Taken off the bed's width, both sides together.
    pub fit: Length,
    /// Between the deck and what it must stay under.
    pub top: Length,
    /// Between a drawer and its opening on each side; a side strip lives in it. Slides bring their own instead.
    pub side_gap: Length,
    /// Height of waxed runners; also what a drawer on slides clears the panel under it by. Strip brings its own.
    pub runner: Length,
    /// Above a drawer's sides and gear, below the panel over it.
    pub top_clearance: Length,
    /// What a drawer is shorter than the chest inside, for stop blocks.
    pub stop: Length,
    /// How far the deck overhangs the frame at the front.
    pub deck_overhang: Length,
    /// Between an applied front and the panel or deck above it.
    pub front_gap: Length,
    /// Between two applied fronts side by side.
    pub front_reveal: Length,
    /// Between the lowest moving edge and the open tailgate.
    pub running: Length,
    /// Between a full-width tier and the wheel wells below it.
    pub well: Length,
    /// Behind a drawer's front board, for lock plate and rods.
    pub lock_room: Length,
    /// Around a pocket's content, on every side.
    pub pocket: Length,
    /// A divider's height, as a fraction of its drawer's clear height in hundredths, rounded down to the shop's step.
    pub divider_percent: u32,
    /// How the chest's and the drawers' seams are screwed.
    pub chest_screws: Fastening,
    /// How the drawers' seams are screwed.
    pub drawer_screws: Fastening,
    /// The narrowest drawer, inside. Positive.
    pub least_drawer_width: Length,
    /// The lowest drawer: no clear height under this. Positive.
    pub least_drawer_height: Length,
    /// Shortest pocket worth a lid, either way.
    pub least_pocket: Length,
}

/// Screws along a seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fastening {
    /// Farthest apart. Positive.
    pub spacing: Length,
    /// From the seam's ends to the first and last.
    pub ends: Length,
}
