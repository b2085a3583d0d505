//! A design's id: made from what the design is, never from when or in which order it was found.

use std::fmt::Write;

use sha2::{Digest, Sha256};

use crate::design::drawer::PocketPlace;
use crate::design::{Content, DesignId, Layout, Structure};
use crate::scenario::{DeckGrain, Scenario};
use crate::units::Length;

/// The id of a design with this structure, these openings and this content: the first 35 bits of a SHA-256 of names and
/// exact lengths. Listing gear or stock in another order changes nothing.
pub fn design_id(
    scenario: &Scenario,
    structure: &Structure,
    openings: &[Vec<Length>],
    drawers: &[&Layout],
    pockets: &[(PocketPlace, &Layout)],
) -> DesignId {
    let mut text = String::new();
    let material = |id| scenario.stock.materials[id].name.as_str();
    let mut add = |line: std::fmt::Arguments<'_>| {
        text.write_fmt(line).expect("writing to a string cannot fail");
        text.push('\n');
    };
    add(format_args!("{:?} {} {:?}", structure.family, structure.seamless, structure.runs));
    // Left out where it runs the usual way, so that ids of such designs stay what they were.
    if structure.deck_grain == DeckGrain::Across {
        add(format_args!("deck's grain across"));
    }
    let made_of = [
        structure.bottom,
        structure.deck,
        structure.sides,
        structure.drawer_bottom,
        structure.front,
        structure.divider,
    ];
    for id in made_of {
        add(format_args!("{}", material(id)));
    }
    for (tier, openings) in structure.tiers.iter().zip(openings) {
        add(format_args!("tier {} {} {:?}", material(tier.member), tier.height.units(), openings));
    }
    for layout in drawers {
        add(format_args!("drawer {}", content(scenario, layout)));
    }
    for (place, layout) in pockets {
        add(format_args!("{place:?} {}", content(scenario, layout)));
    }
    let digest = Sha256::digest(text.as_bytes());
    let first = digest.iter().take(8).fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
    DesignId(first >> (64 - 35))
}

/// Everything in a layout by name and place, in an order of its own.
fn content(scenario: &Scenario, layout: &Layout) -> String {
    let name = |content| match content {
        Content::Gear(id) => scenario.gear[id].name.as_str(),
        Content::Loose(id) => scenario.loose[id].name.as_str(),
    };
    let mut lines: Vec<String> = layout
        .items
        .iter()
        .map(|item| format!("{} {:?}", name(item.content), item.space))
        .collect();
    lines.extend(layout.dividers.iter().map(|divider| format!("| {divider:?}")));
    lines.sort();
    lines.join(";")
}
