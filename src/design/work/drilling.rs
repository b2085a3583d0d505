//! Pieces of wood, and the rows of holes that are bored in them.

use crate::design::geometry::{Box3, Point};
use crate::design::parts::{PartId, Role};
use crate::scenario::HardwareUse;
use crate::units::Length;

/// Which of a work plan's pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PieceId(pub u32);

/// One copy of a part. The pieces of a set are every placed solid in the design's order, then the copies of parts that have
/// no place (corner blocks, packing).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// Which part it is a copy of.
    pub part: PartId,
    /// Where it stands in the bed's frame with every drawer shut; `None` without a place.
    pub space: Option<Box3>,
    /// The drawer it moves with, as an index.
    pub drawer: Option<usize>,
}

/// A row of like holes in one face of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The piece that is bored.
    pub piece: PieceId,
    /// What the screws hold on to; `None` for a hole that takes none.
    pub into: Option<PieceId>,
    /// What the holes are for.
    pub kind: HoleKind,
    /// The face they are bored from.
    pub side: Side,
    /// Each hole in the piece's own frame ([`Plane`]): along its length, then along its width.
    pub holes: Vec<[Length; 2]>,
}

/// What a hole is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoleKind {
    /// Clearance hole for a chest screw, countersunk.
    Chest,
    /// Angled hole for a chest screw through a piece's foot into the panel that it stands on (or its head, into the panel
    /// above), where nothing can be driven through the panel.
    Toe,
    /// Clearance hole for a drawer screw, countersunk.
    Drawer,
    /// The same into a corner block.
    Block,
    /// The same through a drawer's front board into its applied front.
    Front,
    /// The same through a drawer's bottom into a divider.
    Divider,
    /// For a strip under or beside a drawer: pilot in the wood, countersunk below the surface in the strip.
    Strip,
    /// For the screws of the angle at the deck's front edge.
    Angle,
    /// For what holds the chest to the bed.
    HoldDown,
    /// For a bracket that carries a lid.
    Bracket,
    /// Centre of a handle; its holes are marked from its own plate.
    Handle,
    /// Centre of a lock's plate.
    Lock,
    /// Hole for a lock's rod, opened out inside because the rod swings.
    Rod,
    /// Where a rod's tip is to be expected in a member: marked from the tip itself with the drawer shut.
    RodMate,
}

impl HoleKind {
    /// The hardware of which each hole takes one; `None` for small fixings that the scenario's stock does not list.
    pub const fn takes(self) -> Option<HardwareUse> {
        match self {
            Self::Chest | Self::Toe => Some(HardwareUse::ChestScrew),
            Self::Drawer | Self::Block | Self::Front | Self::Divider => {
                Some(HardwareUse::DrawerScrew)
            }
            Self::HoldDown => Some(HardwareUse::HoldDown),
            Self::Bracket => Some(HardwareUse::Bracket),
            Self::Handle => Some(HardwareUse::Handle),
            Self::Lock => Some(HardwareUse::Lock),
            Self::Strip | Self::Angle | Self::Rod | Self::RodMate => None,
        }
    }

    /// Whether it holds two pieces of wood together.
    pub const fn joins(self) -> bool {
        matches!(
            self,
            Self::Chest | Self::Toe | Self::Drawer | Self::Block | Self::Front | Self::Divider
        )
    }
}

/// A face of a placed piece, by where it looks in the bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Toward x = 0.
    Left,
    /// Away from x = 0.
    Right,
    /// Toward the tailgate.
    Front,
    /// Toward the cab.
    Rear,
    /// Down.
    Under,
    /// Up.
    Top,
}

/// How a piece's own frame lies in the bed: its origin is the corner with the least coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plane {
    /// Its length runs along y from the front, its width along x from the left.
    Flat,
    /// Its length runs along y from the front, its width up.
    Lengthwise,
    /// Its length runs along x from the left, its width up.
    Crosswise,
}

impl Plane {
    /// How a part of `role` that stands at `space` has its frame.
    pub fn of(role: Role, space: Box3) -> Self {
        match role {
            Role::Bottom
            | Role::Shelf
            | Role::Deck
            | Role::Lid
            | Role::DrawerBottom
            | Role::CornerBlock
            | Role::StopBlock
            | Role::Packing => Self::Flat,
            Role::Member | Role::Outrigger | Role::Side => Self::Lengthwise,
            Role::Back
            | Role::DrawerFront
            | Role::DrawerBack
            | Role::Guard
            | Role::AppliedFront => Self::Crosswise,
            Role::Divider if space.size.dx >= space.size.dy => Self::Crosswise,
            Role::Divider => Self::Lengthwise,
        }
    }

    /// A hole's place on a face, in the bed's frame.
    pub fn place(self, space: Box3, [along, across]: [Length; 2], side: Side) -> Point {
        let Point { x, y, z } = space.at;
        let mut place = match self {
            Self::Flat => Point::new(x + across, y + along, z),
            Self::Lengthwise => Point::new(x, y + along, z + across),
            Self::Crosswise => Point::new(x + along, y, z + across),
        };
        let far = space.far();
        match side {
            Side::Right => place.x = far.x,
            Side::Rear => place.y = far.y,
            Side::Top => place.z = far.z,
            Side::Left | Side::Front | Side::Under => {}
        }
        place
    }

    /// The piece's extents along its length and its width.
    pub const fn extents(self, space: Box3) -> [Length; 2] {
        match self {
            Self::Flat => [space.size.dy, space.size.dx],
            Self::Lengthwise => [space.size.dy, space.size.dz],
            Self::Crosswise => [space.size.dx, space.size.dz],
        }
    }

    /// Its two faces, the one with the lesser coordinate first.
    pub const fn sides(self) -> [Side; 2] {
        match self {
            Self::Flat => [Side::Under, Side::Top],
            Self::Lengthwise => [Side::Left, Side::Right],
            Self::Crosswise => [Side::Front, Side::Rear],
        }
    }
}
