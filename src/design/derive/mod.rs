//! The derivations, in the order in which a chest is laid out; each a function with its own tests.
//!
//! [`carcass()`] takes a structure to the outside of the chest and its tiers' frames; the gear is stowed in
//! those; [`build()`] takes the stowage to drawers, solids, parts and hardware; [`fastening`] says where every screw goes;
//! [`figures`] counts and weighs.
//! The verifier re-derives all of this by itself and must not use this module.

pub mod build;
pub mod carcass;
pub mod fastening;
pub mod figures;
pub mod hardware;
pub mod panels;
mod partlist;
pub mod pockets;
pub mod sawing;
pub mod spare;

#[cfg(test)]
mod tests;

pub use build::{Built, build};
pub use carcass::carcass;

use crate::scenario::MaterialId;
use crate::units::Length;

/// Why a structure cannot stand in a bed: which dimension fails and by how much.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Misfit {
    /// Too little length is left behind the handles for a drawer.
    TooShort {
        /// What is missing.
        by: Length,
    },
    /// Applied front or deck overhang do not fit in the handle room.
    HandleRoom {
        /// What is missing.
        by: Length,
    },
    /// The chest would stand higher than it may.
    TooHigh {
        /// How much higher.
        by: Length,
    },
    /// A tier's drawers would be too low inside.
    TooLow {
        /// The tier, from 0 at the bottom.
        tier: usize,
        /// What is missing.
        by: Length,
    },
    /// A tier's drawers would be too narrow inside.
    TooNarrow {
        /// The tier, from 0 at the bottom.
        tier: usize,
        /// What is missing, over all its drawers.
        by: Length,
    },
    /// A tier's drawers would not be as high inside as is decided.
    DecidedHeight {
        /// The tier, from 0 at the bottom.
        tier: usize,
        /// How high they would be.
        has: Length,
        /// How high they have to be.
        wanted: Length,
    },
    /// The decided widths of a tier's drawers, with the least for each of the others, do not make up what there is.
    DecidedWidths {
        /// The tier, from 0 at the bottom.
        tier: usize,
        /// What they take inside.
        taken: Length,
        /// What there is for all its drawers inside.
        room: Length,
    },
    /// A panel is wider than its sheets and no member stands where a seam would have to be.
    SeamOffMember {
        /// What the panel is made of.
        material: MaterialId,
    },
    /// The bed has no wells to stand above.
    NoWells,
    /// Nothing of the right kind and size can be had of a material.
    NoStock {
        /// The material.
        material: MaterialId,
    },
    /// The stowage does not fill the tiers' widths as the frames say: a fault of the program.
    WidthsDoNotAdd {
        /// The tier, from 0 at the bottom.
        tier: usize,
    },
}
