//! One word or phrase for each kind of thing.

use crate::design::{Content, Grain, LeftOut, PocketPlace, Role};
use crate::explore::Stop;
use crate::scenario::{BedKind, Criterion, Family, HardwareUse, Runs, Scenario, Turn};
use crate::units::UnitSystem;

/// What a part is called: `drawer side`.
pub const fn role(role: Role) -> &'static str {
    match role {
        Role::Bottom => "bottom panel",
        Role::Shelf => "panel between tiers",
        Role::Deck => "deck",
        Role::Member => "member",
        Role::Back => "back piece",
        Role::Packing => "packing",
        Role::Outrigger => "outrigger",
        Role::Side => "drawer side",
        Role::DrawerFront => "drawer front board",
        Role::DrawerBack => "drawer back board",
        Role::Guard => "lock guard",
        Role::DrawerBottom => "drawer bottom",
        Role::AppliedFront => "applied front",
        Role::CornerBlock => "corner block pair",
        Role::Divider => "divider",
        Role::StopBlock => "stop block",
        Role::Lid => "pocket lid",
    }
}

/// What several parts are called: `drawer sides`.
pub const fn roles(role: Role) -> &'static str {
    match role {
        Role::Bottom => "bottom panels",
        Role::Shelf => "panels between tiers",
        Role::Deck => "deck panels",
        Role::Member => "members",
        Role::Back => "back pieces",
        Role::Packing => "packing",
        Role::Outrigger => "outriggers",
        Role::Side => "drawer sides",
        Role::DrawerFront => "drawer front boards",
        Role::DrawerBack => "drawer back boards",
        Role::Guard => "lock guards",
        Role::DrawerBottom => "drawer bottoms",
        Role::AppliedFront => "applied fronts",
        Role::CornerBlock => "corner block pairs",
        Role::Divider => "dividers",
        Role::StopBlock => "stop blocks",
        Role::Lid => "pocket lids",
    }
}

/// What drawers slide on: `plastic strip`.
pub const fn runs(runs: Runs) -> &'static str {
    match runs {
        Runs::Strip => "plastic strip",
        Runs::Waxed => "waxed hardwood runners",
        Runs::Slides => "ball-bearing slides",
    }
}

/// Where a chest stands.
pub const fn family(family: Family) -> &'static str {
    match family {
        Family::BetweenWells => "between the wheel wells",
        Family::AboveWells => "top tier at full width above the wheel wells",
    }
}

/// What shuts a bed at its rear.
pub const fn rear_door(kind: BedKind) -> &'static str {
    match kind {
        BedKind::Pickup => "tailgate",
        BedKind::Cargo => "hatch",
    }
}

/// What hardware is for.
pub const fn hardware_use(use_: HardwareUse) -> &'static str {
    match use_ {
        HardwareUse::ChestScrew => "chest screws",
        HardwareUse::DrawerScrew => "drawer screws",
        HardwareUse::Strip => "strip",
        HardwareUse::Slides => "pairs of slides",
        HardwareUse::Wax => "wax",
        HardwareUse::Handle => "handles",
        HardwareUse::Lock => "locks",
        HardwareUse::LockRod => "lock rod",
        HardwareUse::Carpet => "lining",
        HardwareUse::Coating => "deck coating",
        HardwareUse::Angle => "front edge angle",
        HardwareUse::HoldDown => "hold-downs",
        HardwareUse::Bracket => "lid brackets",
        HardwareUse::Hinge => "hinges",
        HardwareUse::Other => "other",
    }
}

/// How a part lies on its sheet.
pub const fn grain(grain: Grain) -> &'static str {
    match grain {
        Grain::Along => "along",
        Grain::Across => "across",
        Grain::Either => "either",
    }
}

/// Which ways gear may be turned.
pub const fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::Fixed => "as it stands",
        Turn::Base => "spun where it stands",
        Turn::Any => "any way up",
    }
}

/// Which pocket.
pub const fn pocket(place: PocketPlace) -> &'static str {
    match place {
        PocketPlace::LeftRear => "left rear pocket",
        PocketPlace::LeftFront => "left front pocket",
        PocketPlace::RightRear => "right rear pocket",
        PocketPlace::RightFront => "right front pocket",
    }
}

/// What a criterion is called.
pub const fn criterion(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::UsableVolume => "usable volume",
        Criterion::Value => "worth of gear stowed",
        Criterion::Reach => "reach",
        Criterion::Waste => "waste",
        Criterion::Cost => "cost",
        Criterion::Mass => "mass",
        Criterion::Margin => "strength margin",
        Criterion::Simplicity => "parts and set-ups",
    }
}

/// What ended a search.
pub const fn stop(stop: Stop) -> &'static str {
    match stop {
        Stop::Work => "the work allowance was spent",
        Stop::Clock => "the time allowed ran out",
        Stop::Cancelled => "it was interrupted",
    }
}

/// Whether it is gear, with a shape, and no loose goods.
pub const fn is_gear(content: Content) -> bool {
    matches!(content, Content::Gear(_))
}

/// What gear or loose goods are called.
pub fn content(scenario: &Scenario, content: Content) -> &str {
    match content {
        Content::Gear(id) => &scenario.gear[id].name,
        Content::Loose(id) => &scenario.loose[id].name,
    }
}

/// Why something is left out: `1/2 in too high for every drawer`.
pub fn left_out(why: LeftOut, units: UnitSystem) -> String {
    match why {
        LeftOut::TooHigh { by } => format!("{} too high for every drawer", by.show(units)),
        LeftOut::TooLarge { by } => {
            format!("{} too long or wide for every drawer high enough", by.show(units))
        }
        LeftOut::NoRoom => "fits alone, but other gear took the room".to_owned(),
    }
}
