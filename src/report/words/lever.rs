//! What would lift a check, in words.

use crate::explore::Lever;

/// A change as the end of "what would lift it: …".
pub const fn lever(lever: Lever) -> &'static str {
    match lever {
        Lever::ThickerDeck => "a thicker deck",
        Lever::EdgeAngle => "an angle let into the front edge, or a larger one",
        Lever::ThickerBottom => "a thicker bottom panel",
        Lever::ThickerDrawerBottoms => "thicker drawer bottoms",
        Lever::StifferSides => "thicker drawer sides",
        Lever::ThickerFronts => "thicker fronts",
        Lever::ThickerDividers => "thicker dividers",
        Lever::ThickerMembers => "thicker members",
        Lever::AnotherMember => "one more column",
        Lever::CloserScrews => "closer screws",
        Lever::MoreHoldDowns => "more or stronger hold-downs",
        Lever::StrongerSlides => "slides with a higher rating",
        Lever::ShorterSlides => "slides no longer than the drawer",
        Lever::StrongerAngle => "a larger angle at the front edge",
        Lever::LessInTheDrawer => "less in that drawer",
        Lever::GearTowardTheBack => "heavy gear farther back",
        Lever::GearTowardTheMiddle => "heavy gear nearer the middle",
        Lever::EarlierStop => "a stop that leaves more of the drawer in",
        Lever::LessOnTheDeck => "less on the deck",
        Lever::LessFriction => "less friction",
        Lever::WiderClearance => "wider clearances",
        Lever::StrongerLock => "thicker rods or a larger plate",
        Lever::LessInAll => "less weight in all",
        Lever::MoreHands => "more hands, or assembly in the vehicle",
        Lever::FilledGaps => "gaps filled so that gear cannot slide",
    }
}
