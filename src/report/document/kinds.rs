//! The closed lists of a document: what a part is, what hardware is for, and the like.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{design, explore, scenario, units};

/// An enum of the document with the same variants as one of the vocabulary, so that a new variant there does not
/// compile until the document has it too.
macro_rules! mirrors {
    ($($(#[$doc:meta])* $name:ident of $source:ty { $($(#[$variant_doc:meta])* $variant:ident),* $(,)? })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)*
        }

        impl From<$source> for $name {
            fn from(kind: $source) -> Self {
                match kind {
                    $(<$source>::$variant => Self::$variant,)*
                }
            }
        }
    )*};
}

mirrors! {
    /// How the scenario's author writes lengths.
    UnitSystem of units::UnitSystem {
        /// Inches and pounds.
        Inch,
        /// Millimetres and kilograms.
        Metric,
    }

    /// Open box or floor of a closed vehicle.
    BedKind of scenario::BedKind {
        /// A pickup's box.
        Pickup,
        /// The floor of an SUV or van.
        Cargo,
    }

    /// Which ways gear may be turned.
    Turn of scenario::Turn {
        /// Not at all: the first size lies along the drawer.
        Fixed,
        /// About the vertical.
        Base,
        /// All six ways.
        Any,
    }

    /// How a check came out.
    Verdict of design::Verdict {
        /// The figure is within its limit.
        Holds,
        /// Beyond its limit, of a check that is a hint for the bench or the road and never a reason to refuse.
        ToKnow,
        /// Beyond a limit that is a matter of look, feel or a cautious assumption.
        BeyondGuide,
        /// Beyond a limit of strength or duty: such a design is not offered.
        Fails,
    }

    /// The rule by which a chest is held.
    Securing of scenario::Securing {
        /// 49 CFR 393.102.
        Cfr,
        /// EN 12195-1.
        En,
    }

    /// Where a chest stands.
    Family of scenario::Family {
        /// Every tier between the wheel wells, or the walls.
        BetweenWells,
        /// The top tier at full width above the wheel wells.
        AboveWells,
    }

    /// Which way the deck's grain runs.
    DeckGrain of scenario::DeckGrain {
        /// Along the members.
        Along,
        /// Across the members.
        Across,
    }

    /// What drawers slide on.
    Runs of scenario::Runs {
        /// Low-friction plastic strip.
        Strip,
        /// Waxed hardwood runners.
        Waxed,
        /// Ball-bearing slides.
        Slides,
    }

    /// What hardware is for.
    HardwareUse of scenario::HardwareUse {
        /// Screws along the chest's seams.
        ChestScrew,
        /// Screws along the drawers' seams.
        DrawerScrew,
        /// Low-friction strip.
        Strip,
        /// A pair of ball-bearing slides.
        Slides,
        /// Wax for runners.
        Wax,
        /// A drawer's handle.
        Handle,
        /// A drawer's lock.
        Lock,
        /// Rod of a lock.
        LockRod,
        /// Lining of drawer floors.
        Carpet,
        /// Coating of the deck.
        Coating,
        /// Metal angle at the deck's front edge.
        Angle,
        /// What holds the chest to the bed.
        HoldDown,
        /// Brackets under the pockets' lids.
        Bracket,
        /// Hinges for a lid, of which no design has any.
        Hinge,
        /// Anything else.
        Other,
    }

    /// What a part is in the chest.
    Role of design::Role {
        /// Panel under the lowest tier.
        Bottom,
        /// Panel between two tiers.
        Shelf,
        /// Panel on top.
        Deck,
        /// Upright divider of the chest.
        Member,
        /// Closes a tier at the cab end.
        Back,
        /// Packing under the chest.
        Packing,
        /// Carries a full-width tier's panel outside the wells.
        Outrigger,
        /// A drawer's side board.
        Side,
        /// A drawer's front board.
        DrawerFront,
        /// A drawer's back board.
        DrawerBack,
        /// Board that keeps gear off the lock.
        Guard,
        /// A drawer's bottom board.
        DrawerBottom,
        /// The front screwed on last.
        AppliedFront,
        /// Square length that gives two corner blocks.
        CornerBlock,
        /// Divider board.
        Divider,
        /// Brings a drawer's front flush.
        StopBlock,
        /// Lid over a side pocket.
        Lid,
    }

    /// How a part lies on its sheet.
    Grain of design::Grain {
        /// Its length along the grain.
        Along,
        /// Its length across the grain.
        Across,
        /// Either way.
        Either,
    }

    /// Which way a cut divides.
    Axis of design::Axis {
        /// The blade stands at a constant x.
        X,
        /// The blade stands at a constant y.
        Y,
    }

    /// Which pocket beside the wheel wells.
    PocketPlace of design::PocketPlace {
        /// Left wall, between tailgate and well.
        LeftRear,
        /// Left wall, between well and front wall.
        LeftFront,
        /// Right wall, between tailgate and well.
        RightRear,
        /// Right wall, between well and front wall.
        RightFront,
    }

    /// Which way a limit binds.
    Sense of design::Sense {
        /// The value may be no more than the limit.
        Most,
        /// The value may be no less than the limit.
        Least,
    }

    /// What ended a search early.
    Stop of explore::Stop {
        /// The work allowance was spent: the same on every machine.
        Work,
        /// The wall clock ran out: depends on the machine.
        Clock,
        /// Somebody asked it to stop.
        Cancelled,
    }
}
