//! Sentences for structures that do not go into the bed.

use super::{plain, short};
use crate::design::derive::Misfit;
use crate::report::subject::Explanation;
use crate::scenario::{MaterialId, Scenario};
use crate::units::Length;

pub(super) fn misfit(scenario: &Scenario, misfit: Misfit) -> Explanation {
    let show = |length: Length| length.show(scenario.units);
    let name = |material: MaterialId| &scenario.stock.materials[material].name;
    let (bed, allow) = (&scenario.bed, &scenario.allowances);
    match misfit {
        Misfit::TooShort { by } => short(
            "bed length",
            by,
            format!(
                "The bed of {} is {} too short: with {} for handles too little is left for a drawer.",
                show(bed.length.at),
                show(by),
                show(allow.handle_room)
            ),
            format!("{} more length, less handle or lock room, or longer stock", show(by)),
        ),
        Misfit::HandleRoom { by } => short(
            "handle room",
            by,
            format!(
                "The handle room of {} is {} too small for the applied fronts and the deck's \
                 overhang.",
                show(allow.handle_room),
                show(by)
            ),
            format!(
                "handle_room = {}, thinner fronts, or less overhang",
                show(allow.handle_room + by)
            ),
        ),
        Misfit::TooHigh { by } => too_high(scenario, by),
        Misfit::TooLow { tier, by } => short(
            "clear height of the drawers",
            by,
            format!(
                "The drawers of {} would be {} too low: {} clear inside is the least.",
                tier_name(tier),
                show(by),
                show(allow.least_drawer_height)
            ),
            format!("member stock {} higher, or a lower least_drawer_height", show(by)),
        ),
        Misfit::TooNarrow { tier, by } => short(
            "width of the chest",
            by,
            format!(
                "The drawers of {} would together be {} too narrow: {} inside is the least for \
                 each.",
                tier_name(tier),
                show(by),
                show(allow.least_drawer_width)
            ),
            "fewer columns, thinner members or sides, or a smaller least_drawer_width".to_owned(),
        ),
        Misfit::DecidedHeight { tier, has, wanted } => short(
            "decided height of the drawers",
            has.abs_diff(wanted),
            format!(
                "The drawers of {} are to be {} high inside and would be {}.",
                tier_name(tier),
                show(wanted),
                show(has)
            ),
            format!("height = {} for its drawers, or members of ripped sheet", show(has)),
        ),
        Misfit::DecidedWidths { tier, taken, room } => short(
            "decided widths of the drawers",
            taken.abs_diff(room),
            format!(
                "The decided widths of {}, with the least for its other drawers, take {}, and \
                 there is {} inside for them all.",
                tier_name(tier),
                show(taken),
                show(room)
            ),
            "other widths, one of them left open, or another number of columns".to_owned(),
        ),
        Misfit::SeamOffMember { material } => plain(
            "every structure",
            "sheet width",
            format!(
                "A panel of {} is wider than its sheets, and no member stands where its seam \
                 would have to be.",
                name(material)
            ),
            "wider sheets, or a number of columns with a member near the middle, such as 2",
        ),
        Misfit::NoStock { material } => plain(
            name(material),
            "stock",
            format!("No sheet or board of {} can be had.", name(material)),
            "a size of it in the stock, with some on hand or to be bought",
        ),
        Misfit::NoWells => plain(
            "a tier above the wells",
            "wheel wells",
            "The bed has no wheel wells for a full-width tier to stand above.".to_owned(),
            "a chest between the walls",
        ),
        Misfit::WidthsDoNotAdd { tier } => plain(
            &tier_name(tier),
            "consistency",
            format!(
                "The drawers of {} do not fill it: this is a fault of the program, not of the \
                 scenario.",
                tier_name(tier)
            ),
            "",
        ),
    }
}

fn too_high(scenario: &Scenario, by: Length) -> Explanation {
    let show = |length: Length| length.show(scenario.units);
    let ripped =
        scenario.choices.members.iter().any(|&id| !scenario.stock.materials[id].is_board());
    let lower = if ripped {
        "a lower least_drawer_height"
    } else {
        "lower member stock, members ripped from sheet"
    };
    short(
        "clear height",
        by,
        format!(
            "The chest that comes nearest stands {} too high under the clear height of \
             {}, of which {} stay free above the deck.",
            show(by),
            show(scenario.bed.clear_height.at),
            show(scenario.allowances.top)
        ),
        format!("{} more clear height, {lower}, or a thinner deck", show(by)),
    )
}

/// Every structure's openings alone are higher than what the deck must stay under.
pub(super) fn openings_alone_too_high(scenario: &Scenario) -> Explanation {
    let height = |id: &MaterialId| match scenario.stock.materials[*id].section {
        crate::scenario::Section::Board { width } => width,
        crate::scenario::Section::Sheet => scenario.allowances.least_drawer_height,
    };
    let lowest = scenario.choices.members.iter().map(height).min().unwrap_or(Length::ZERO);
    let tiers = scenario.choices.tiers.iter().copied().min().unwrap_or(1);
    let by = lowest * i64::from(tiers) - scenario.bed.clear_height.at;
    too_high(scenario, by.or_zero())
}

pub(super) fn no_structure() -> Explanation {
    plain(
        "every structure",
        "choices",
        "The scenario's choices of tiers, columns and stock allow no chest at all.".to_owned(),
        "boards to stand on edge or sheets to rip for members, and 1 to 3 tiers of 1 to 4 columns",
    )
}

/// `tier A` is the lowest, as in the drawers' names.
pub(super) fn tier_name(tier: usize) -> String {
    let letter =
        u8::try_from(tier).ok().filter(|tier| *tier < 26).map(|tier| char::from(b'A' + tier));
    letter.map_or_else(|| format!("tier {}", tier + 1), |letter| format!("tier {letter}"))
}
