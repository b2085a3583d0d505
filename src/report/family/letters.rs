//! Which lengths of a chest have a letter, and what each is in every bed.

use super::{Built, Family};
use crate::design::{Design, Role};
use crate::report::drawings::tier_letter;
use crate::scenario::Scenario;
use crate::units::Length;

/// A length that a chest of any size has. Tiers count from the bottom, columns from the left; no column stands for all of
/// a tier's, where they are alike in every bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dim {
    /// From the closed tailgate to the members.
    HandleRoom,
    /// Members and back piece.
    Length,
    /// From the chest to the bed's front wall.
    Behind,
    /// The whole width of a tier.
    Width(usize),
    /// An opening's width.
    Opening(usize, Option<usize>),
    /// A member's thickness.
    Member(usize),
    /// What lifts the chest.
    Lift,
    /// The bottom panel's thickness.
    Bottom,
    /// An opening's height.
    Height(usize),
    /// Thickness of the panel above a tier.
    Shelf(usize),
    /// The deck's thickness.
    Deck,
    /// From the bed's floor to the deck's top.
    Top,
    /// A drawer's outside length.
    DrawerLength(usize),
    /// A drawer's outside width.
    DrawerWidth(usize, Option<usize>),
    /// Height of a drawer's sides.
    SideHeight(usize),
    /// Width of an applied front.
    FrontWidth(usize, Option<usize>),
    /// Height of an applied front.
    FrontHeight(usize),
}

/// A length with its letter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Letter {
    /// Its letter.
    pub letter: String,
    /// What it is.
    pub dim: Dim,
    /// What it is in words.
    pub what: String,
    /// In the order of [`Family::built`]; none in a bed that has no such thing.
    pub values: Vec<Option<Length>>,
}

impl Letter {
    /// Whether it is the same in all beds.
    pub fn is_shared(&self) -> bool {
        self.values.windows(2).all(|pair| pair[0] == pair[1])
    }
}

/// Every length that is something in some bed, in the order of the drawings.
pub fn letters(family: &Family<'_>) -> Vec<Letter> {
    let built = family.built();
    let Some(lead) = built.first() else { return Vec::new() };
    let mut letters = Vec::new();
    for dim in dims(&built, lead.design) {
        let values: Vec<Option<Length>> =
            built.iter().map(|bed| value(dim, bed.scenario, bed.design)).collect();
        if values.iter().flatten().any(|length| length.is_positive()) {
            let letter = letter(letters.len());
            letters.push(Letter { letter, dim, what: what(dim), values });
        }
    }
    letters
}

/// `A`, `B` … without I and O, which look like figures; then `AA`.
fn letter(index: usize) -> String {
    const LETTERS: &[u8; 24] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let last = char::from(LETTERS[index % 24]);
    if index < 24 { last.to_string() } else { format!("{}{last}", letter(index / 24 - 1)) }
}

fn dims(built: &[Built<'_>], lead: &Design) -> Vec<Dim> {
    let tiers = lead.chest.carcass.tiers.len();
    // All of a tier's columns under one letter, if they are alike in every bed.
    let each = |tier: usize, dim: fn(usize, Option<usize>) -> Dim| {
        let alike =
            built.iter().all(|bed| value(dim(tier, None), bed.scenario, bed.design).is_some());
        let columns = lead.chest.openings[tier].len();
        if alike {
            vec![dim(tier, None)]
        } else {
            (0..columns).map(|column| dim(tier, Some(column))).collect()
        }
    };
    let mut dims = vec![Dim::HandleRoom, Dim::Length, Dim::Behind];
    for tier in 0..tiers {
        dims.push(Dim::Width(tier));
        dims.extend(each(tier, Dim::Opening));
        dims.push(Dim::Member(tier));
    }
    dims.extend([Dim::Lift, Dim::Bottom]);
    for tier in 0..tiers {
        dims.push(Dim::Height(tier));
        dims.push(if tier + 1 < tiers { Dim::Shelf(tier) } else { Dim::Deck });
    }
    dims.push(Dim::Top);
    for tier in 0..tiers {
        dims.push(Dim::DrawerLength(tier));
        dims.extend(each(tier, Dim::DrawerWidth));
        dims.push(Dim::SideHeight(tier));
        dims.extend(each(tier, Dim::FrontWidth));
        dims.push(Dim::FrontHeight(tier));
    }
    dims
}

/// A length of a design; none if it has no such thing, or several where one is asked for.
pub fn value(dim: Dim, scenario: &Scenario, design: &Design) -> Option<Length> {
    let carcass = &design.chest.carcass;
    let frame = |tier: usize| carcass.tiers.get(tier);
    match dim {
        Dim::HandleRoom => Some(carcass.front_y),
        Dim::Length => Some(carcass.length),
        Dim::Behind => Some(scenario.bed.length.at - carcass.front_y - carcass.length),
        Dim::Width(tier) => Some(frame(tier)?.width),
        Dim::Opening(tier, column) => {
            pick(design.chest.openings.get(tier)?.iter().copied(), column)
        }
        Dim::Member(tier) => Some(frame(tier)?.member),
        Dim::Lift => Some(carcass.lift),
        Dim::Bottom => Some(frame(0)?.z - carcass.lift),
        Dim::Height(tier) => Some(frame(tier)?.height),
        Dim::Shelf(tier) => Some(frame(tier + 1)?.z - frame(tier)?.z - frame(tier)?.height),
        Dim::Deck => Some(carcass.top_z - carcass.deck_z),
        Dim::Top => Some(carcass.top_z),
        Dim::DrawerLength(tier) => Some(frame(tier)?.drawer_length),
        Dim::DrawerWidth(tier, column) => {
            let drawers = design.drawers.iter().filter(|drawer| drawer.tier == tier);
            pick(drawers.map(|drawer| drawer.outside.size.dx), column)
        }
        Dim::SideHeight(tier) => Some(frame(tier)?.side_height),
        Dim::FrontWidth(tier, column) => pick(fronts(design, tier), column),
        Dim::FrontHeight(tier) => Some(frame(tier)?.front_height),
    }
}

/// The applied fronts' widths of a tier, from the left.
fn fronts(design: &Design, tier: usize) -> impl Iterator<Item = Length> {
    let drawers = design.drawers.iter().enumerate().filter(move |(_, one)| one.tier == tier);
    drawers.filter_map(|(index, _)| {
        let front = design.solids.iter().find(|solid| {
            solid.drawer == Some(index) && design.part(solid.part).role == Role::AppliedFront
        });
        front.map(|solid| solid.space.size.dx)
    })
}

/// The one of a column, or what all are if they are alike.
fn pick(mut all: impl Iterator<Item = Length>, column: Option<usize>) -> Option<Length> {
    match column {
        Some(column) => all.nth(column),
        None => {
            let first = all.next()?;
            all.all(|other| other == first).then_some(first)
        }
    }
}

/// The name of a tier in words.
fn tier(tier: usize) -> String {
    format!("tier {}", tier_letter(tier))
}

fn of(column: Option<usize>, at: usize, one: &str, all: &str) -> String {
    match column {
        None => format!("{all} of {}", tier(at)),
        Some(column) => format!("{one} {} of {}", column + 1, tier(at)),
    }
}

fn what(dim: Dim) -> String {
    match dim {
        Dim::HandleRoom => "closed tailgate to the members' front".to_owned(),
        Dim::Length => "members and back piece, along the bed".to_owned(),
        Dim::Behind => "back piece to the bed's front wall".to_owned(),
        Dim::Width(at) => format!("outside width of {}", tier(at)),
        Dim::Opening(at, column) => of(column, at, "width of opening", "each opening's width"),
        Dim::Member(at) => format!("thickness of a member of {}", tier(at)),
        Dim::Lift => "packing: floor to bottom panel".to_owned(),
        Dim::Bottom => "thickness of the bottom panel".to_owned(),
        Dim::Height(at) => format!("members' and openings' height of {}", tier(at)),
        Dim::Shelf(at) => format!("thickness of the panel on {}", tier(at)),
        Dim::Deck => "thickness of the deck".to_owned(),
        Dim::Top => "floor to the deck's top".to_owned(),
        Dim::DrawerLength(at) => format!("drawer length of {}, without its front", tier(at)),
        Dim::DrawerWidth(at, column) => {
            of(column, at, "outside width of drawer", "each drawer's outside width")
        }
        Dim::SideHeight(at) => format!("height of the drawers' sides of {}", tier(at)),
        Dim::FrontWidth(at, column) => {
            of(column, at, "width of applied front", "each applied front's width")
        }
        Dim::FrontHeight(at) => format!("applied fronts' height of {}", tier(at)),
    }
}
