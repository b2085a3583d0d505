//! Words for what is decided already.

use crate::design::Content;
use crate::explore::like::Kept;
use crate::scenario::{DecidedDrawer, DecidedTier, End, Scenario};

/// Where a thing must stand: `must stand in A1, near the tailgate`; empty if nowhere in particular.
pub fn place(scenario: &Scenario, content: Content) -> String {
    let place = match content {
        Content::Gear(id) => scenario.gear[id].place,
        Content::Loose(id) => scenario.loose[id].place,
    };
    let Some(place) = place else { return String::new() };
    let within = match place.to_string() {
        any if any.is_empty() => None,
        side if side == "left" || side == "right" => Some(format!("in a drawer on the {side}")),
        named => Some(format!("in {named}")),
    };
    let end = place.end.map(|end| match end {
        End::Tailgate => "near the tailgate".to_owned(),
        End::Cab => "near the cab".to_owned(),
    });
    let all: Vec<String> = within.into_iter().chain(end).collect();
    format!("must stand {}", all.join(", "))
}

/// What is decided of a tier: `tier A with 2 columns of 2x10`.
pub fn tier(scenario: &Scenario, decided: &DecidedTier) -> String {
    let columns = decided.columns.map(|columns| match columns {
        1 => " with 1 column".to_owned(),
        several => format!(" with {several} columns"),
    });
    let member = decided.member.map(|id| format!(" of {}", scenario.stock.materials[id].name));
    let all: String = columns.into_iter().chain(member).collect();
    format!("tier {}{all}", decided.name())
}

/// What is decided of a drawer: `drawer A1 8 in wide and 6 in high inside`.
pub fn drawer(scenario: &Scenario, decided: &DecidedDrawer) -> String {
    let show = |length: crate::units::Length| length.show(scenario.units);
    let width = decided.width.map(|width| format!("{} wide", show(width)));
    let height = decided.height.map(|height| format!("{} high", show(height)));
    let all: Vec<String> = width.into_iter().chain(height).collect();
    match all.is_empty() {
        true => format!("a drawer {}", decided.name()),
        false => format!("drawer {} {} inside", decided.name(), all.join(" and ")),
    }
}

/// What of a design is kept.
pub const fn kept(kept: Kept) -> &'static str {
    match kept {
        Kept::All => "structure, drawer sizes, and the drawer of each thing",
        Kept::Stowing => {
            "structure, and the drawer of each thing; its drawer sizes would leave no design"
        }
        Kept::Structure => "structure only; with each thing in its drawer there is no design",
        Kept::Nothing => "name only; with its structure there is no design",
    }
}
