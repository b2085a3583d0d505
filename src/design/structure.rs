//! The discrete choices, and what follows from them before a column width is chosen.

use crate::design::drawer::Layout;
use crate::scenario::{DeckGrain, Family, MaterialId, Runs};
use crate::units::Length;

/// Every discrete choice of a design.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Structure {
    /// Where the chest stands.
    pub family: Family,
    /// Whether tiers between the wells are held to one sheet's width, so that their panels have no seams; otherwise they take
    /// the width there is.
    pub seamless: bool,
    /// Bottom to top; 1 to 3. In [`Family::AboveWells`] the last is the full-width one.
    pub tiers: Vec<TierChoice>,
    /// Material of the bottom panel and of the panels between tiers.
    pub bottom: MaterialId,
    /// Material of the deck.
    pub deck: MaterialId,
    /// Which way the deck's grain runs.
    pub deck_grain: DeckGrain,
    /// Material of the drawers' sides, front, back and guard boards.
    pub sides: MaterialId,
    /// Material of the drawers' bottoms.
    pub drawer_bottom: MaterialId,
    /// Material of the applied fronts.
    pub front: MaterialId,
    /// Material of the dividers.
    pub divider: MaterialId,
    /// What the drawers slide on.
    pub runs: Runs,
}

/// The choices of one tier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TierChoice {
    /// How many openings side by side; 1 to 4.
    pub columns: u32,
    /// What its members and its back are made of.
    pub member: MaterialId,
    /// How high its members stand, which is the openings' height. A board's own width unless it is ripped sheet.
    pub height: Length,
}

/// What follows from a structure in a bed before column widths are chosen: the outside of the chest and
/// each tier's frame. Made by the functions of [`super::derive`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carcass {
    /// Members and back piece together, along y.
    pub length: Length,
    /// y of the members' front edges (the handle room).
    pub front_y: Length,
    /// What lifts the chest so that drawers clear the open tailgate, or a full-width tier the wells: the height of the
    /// bottom panel's underside above the floor.
    pub lift: Length,
    /// Of the lift, what the open tailgate asks for; the rest is for the wells or comes of the packing's thickness.
    pub lift_for_tailgate: Length,
    /// Bottom to top.
    pub tiers: Vec<TierFrame>,
    /// z of the deck's underside.
    pub deck_z: Length,
    /// z of the deck's top: the height of the whole above the floor.
    pub top_z: Length,
}

/// One tier's frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TierFrame {
    /// z of the panel's top on which its members and drawers stand.
    pub z: Length,
    /// The openings' height.
    pub height: Length,
    /// x of its left side.
    pub x: Length,
    /// Its whole width, outer members included.
    pub width: Length,
    /// Thickness of one member.
    pub member: Length,
    /// Length of its members: the chest's less the back piece's thickness.
    pub inside_length: Length,
    /// How many openings.
    pub columns: u32,
    /// Σ of the openings' widths: the width less the members' thicknesses.
    pub openings_width: Length,
    /// What a drawer's inside is narrower than its opening: both gaps and both side boards.
    pub width_taken: Length,
    /// From opening to drawer, each side.
    pub side_gap: Length,
    /// Outside length of its drawers.
    pub drawer_length: Length,
    /// Inside length of its drawers: what gear and dividers can use.
    pub drawer_inside_length: Length,
    /// y in the drawer, from its outside front, at which the inside begins.
    pub drawer_inside_y: Length,
    /// From the panel to the drawer's underside (the strip).
    pub run_height: Length,
    /// From the drawer's underside to its clear inside (bottom board and carpet).
    pub floor_height: Length,
    /// Clear inside height of its drawers.
    pub clear_height: Length,
    /// Height of its drawers' side boards, which stand on the bottom board.
    pub side_height: Length,
    /// Height of its drawers' dividers.
    pub divider_height: Length,
    /// Height of its applied fronts, from the drawer's underside up.
    pub front_height: Length,
}

impl TierFrame {
    /// Σ of its drawers' inside widths.
    pub fn inside_width(&self) -> Length {
        self.openings_width - self.width_taken * i64::from(self.columns)
    }

    /// Empty drawers as equally wide as `step` allows; what rounding leaves is the first one's.
    pub fn empty_drawers(&self, step: Length) -> Vec<Layout> {
        let columns = i64::from(self.columns.max(1));
        let each = (self.inside_width() / columns).floor_to(step);
        let rest = self.inside_width() - each * (columns - 1);
        let drawer = |column| Layout {
            width: if column == 0 { rest } else { each },
            length: self.drawer_inside_length,
            height: self.clear_height,
            ..Layout::default()
        };
        (0..columns).map(drawer).collect()
    }
}
