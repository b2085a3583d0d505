//! Drawers, pockets and what is stowed in them.

use super::geometry::{Box3, Point, Size};
use super::parts::PartId;
use crate::scenario::{GearId, LooseId};
use crate::units::Length;

/// The gear in all drawers and pockets, and what is left out, before the chest has parts.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stowage {
    /// Each tier's columns from left to right: the layout of its drawer.
    pub tiers: Vec<Vec<Layout>>,
    /// The pockets that are used.
    pub pockets: Vec<(PocketPlace, Layout)>,
    /// What is not stowed.
    pub left_out: Vec<Unstowed>,
}

/// The plan of one drawer or pocket, in its own frame.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Layout {
    /// Inside width, along x.
    pub width: Length,
    /// Inside length, along y.
    pub length: Length,
    /// Clear height.
    pub height: Length,
    /// Divider boards: a layout divides space edge to edge, so these follow from a guillotine cut each. Every board runs from
    /// wall or divider to wall or divider, stands on the floor and is as high as its tier's.
    pub dividers: Vec<Box3>,
    /// Gear and loose goods. No two overlap; those of different cells are parted by a divider.
    pub items: Vec<Item>,
}

/// Something stowed, in its drawer's or pocket's frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Item {
    /// What it is.
    pub content: Content,
    /// Which copy of it, from 0; unique for its gear over the whole design. Always 0 for loose goods.
    pub copy: u32,
    /// The room it takes, without padding. For gear this is one of its stances; loose goods take their cell up to
    /// the height they need.
    pub space: Box3,
}

/// Gear or loose goods.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Content {
    /// Gear of this kind.
    Gear(GearId),
    /// Loose goods of this kind.
    Loose(LooseId),
}

/// So many copies of something that are not stowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Unstowed {
    /// What it is.
    pub content: Content,
    /// How many copies.
    pub count: u32,
    /// Why.
    pub why: LeftOut,
}

/// Why something is not stowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LeftOut {
    /// No drawer of this design is high enough for any of its stances.
    TooHigh {
        /// By how much the nearest stance fails.
        by: Length,
    },
    /// No drawer is long or wide enough for any stance that would be low enough.
    TooLarge {
        /// By how much the nearest stance fails.
        by: Length,
    },
    /// It would fit alone, but other gear took the room.
    NoRoom,
}

/// Which of the four pockets beside the wells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PocketPlace {
    /// Left wall, between tailgate and well.
    LeftRear,
    /// Left wall, between well and front wall.
    LeftFront,
    /// Right wall, between tailgate and well.
    RightRear,
    /// Right wall, between well and front wall.
    RightFront,
}

/// A drawer of the finished design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawer {
    /// What it is called: `A1` is the lowest tier's leftmost.
    pub name: String,
    /// Its tier, from 0 at the bottom.
    pub tier: usize,
    /// Its column, from 0 at the left.
    pub column: usize,
    /// The opening, in the bed's frame: the space between members, and from panel to panel; its dy is the tier's inside
    /// length.
    pub opening: Box3,
    /// The box when shut, in the bed's frame, without the applied front: bottom board and sides.
    pub outside: Box3,
    /// Where the drawer's frame has its origin, in the bed's frame, when shut.
    pub inside_at: Point,
    /// The clear inside.
    pub inside: Size,
    /// What is in it, in the drawer's frame. `plan.dividers[i]` is the solid of part `divider_parts[i]`.
    pub plan: Layout,
    /// The part of each divider.
    pub divider_parts: Vec<PartId>,
}

/// A pocket of the finished design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pocket {
    /// Which one.
    pub place: PocketPlace,
    /// Its clear space in the bed's frame, under its lid.
    pub space: Box3,
    /// What is in it, in the pocket's frame.
    pub plan: Layout,
    /// The part of each divider.
    pub divider_parts: Vec<PartId>,
}
