//! What references, lists, dimensions, sides, places and parts are called in a fault's sentence.

use std::fmt;

use crate::design::{PocketPlace, PurchaseOf, Role};
use crate::verify::fault::{Dimension, Direction, ListOf, Place, Reference, Side};

pub(super) fn tier_name(tier: usize) -> String {
    format!("tier {}", tier + 1)
}

pub(super) fn thing(what: PurchaseOf) -> String {
    match what {
        PurchaseOf::Stock(id) => format!("stock {}", id.0 + 1),
        PurchaseOf::Hardware(id) => format!("hardware {}", id.0 + 1),
    }
}

pub(super) fn role_name(role: Role) -> &'static str {
    match role {
        Role::Bottom => "bottom panel",
        Role::Shelf => "panel between tiers",
        Role::Deck => "deck",
        Role::Member => "member",
        Role::Back => "back piece",
        Role::Packing => "packing",
        Role::Outrigger => "outrigger",
        Role::Side => "drawer side",
        Role::DrawerFront => "drawer front",
        Role::DrawerBack => "drawer back",
        Role::Guard => "guard board",
        Role::DrawerBottom => "drawer bottom",
        Role::AppliedFront => "applied front",
        Role::CornerBlock => "corner blocks",
        Role::Divider => "divider",
        Role::StopBlock => "stop blocks",
        Role::Lid => "lid",
    }
}

impl fmt::Display for Reference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Part => "part",
            Self::Drawer => "drawer",
            Self::Gear => "gear",
            Self::Loose => "loose goods",
            Self::Material => "material",
            Self::Stock => "stock",
            Self::Hardware => "hardware",
        })
    }
}

impl fmt::Display for ListOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Frames => "tiers' frames",
            Self::Tiers => "tiers with openings",
            Self::Openings => "openings in a tier",
            Self::Columns => "columns in a tier's frame",
            Self::Drawers => "drawers",
            Self::DividerParts => "parts of dividers in a drawer",
        })
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::FrontY => "the place of the members' front edges",
            Self::Lift => "the lift",
            Self::LiftForTailgate => "the lift for the tailgate",
            Self::PanelTop => "the top of the panel",
            Self::DeckUnderside => "the deck's underside",
            Self::DeckTop => "the deck's top",
            Self::OpeningHeight => "the openings' height",
            Self::OpeningWidth => "the width of an opening",
            Self::MemberThickness => "the members' thickness",
            Self::InsideLength => "the members' length",
            Self::OpeningsWidth => "the sum of the openings",
            Self::WidthTaken => "what gaps and sides take of an opening",
            Self::SideGap => "the side gap",
            Self::DrawerLength => "the drawers' length",
            Self::DrawerInsideLength => "the drawers' inside length",
            Self::DrawerInsideWidth => "the inside width",
            Self::DrawerInsideY => "the place where the drawers' inside begins",
            Self::RunHeight => "the height of what drawers run on",
            Self::FloorHeight => "the thickness of the drawers' floor",
            Self::ClearHeight => "the clear height",
            Self::SideHeight => "the height of the drawers' sides",
            Self::DividerHeight => "the height of the dividers",
            Self::FrontHeight => "the height of the applied fronts",
        })
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if *self == Self::Left { "left" } else { "right" })
    }
}

impl fmt::Display for Direction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Across => "across",
            Self::Along => "along",
            Self::Up => "upward",
        })
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Drawer(name) => write!(f, "drawer {name}"),
            Self::Pocket(place) => write!(
                f,
                "the {} pocket",
                match place {
                    PocketPlace::LeftRear => "left rear",
                    PocketPlace::LeftFront => "left front",
                    PocketPlace::RightRear => "right rear",
                    PocketPlace::RightFront => "right front",
                }
            ),
        }
    }
}
