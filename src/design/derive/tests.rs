//! Values of the trade for the derivations. Where no source is named beside one it is common practice, no source.

use super::carcass::{carcass, layers, lowest_moving_edge};
use super::hardware::{ripped_strips, screws};
use super::pockets::pockets;
use super::{Built, Misfit, build};
use crate::design::drawer::Stowage;
use crate::design::parts::{Role, Solid};
use crate::design::structure::{Carcass, Structure, TierChoice};
use crate::scenario::fixture::{full_size, inches, sixteenths};
use crate::scenario::{Family, Fastening, Measured, Runs, Scenario, Tailgate};
use crate::units::Length;

fn structure(scenario: &Scenario, members: &[&str], columns: u32) -> Structure {
    let named = |name: &str| scenario.stock.material_named(name).expect("the fixture stocks it");
    let tier = |name: &str| TierChoice {
        columns,
        member: named(name),
        height: match name {
            "2x8" => sixteenths(116),
            _ => sixteenths(148),
        },
    };
    Structure {
        family: Family::BetweenWells,
        seamless: false,
        tiers: members.iter().map(|name| tier(name)).collect(),
        bottom: named("1/2 plywood"),
        deck: named("1/2 plywood"),
        deck_grain: crate::scenario::DeckGrain::Along,
        sides: named("1x8"),
        drawer_bottom: named("1/2 plywood"),
        front: named("1x8"),
        divider: named("1/2 plywood"),
        runs: Runs::Strip,
    }
}

/// Empty drawers of equal width, what rounding leaves in the first.
fn empty(carcass: &Carcass) -> Stowage {
    let tiers = carcass.tiers.iter().map(|frame| frame.empty_drawers(sixteenths(1)));
    Stowage { tiers: tiers.collect(), ..Stowage::default() }
}

fn built(scenario: &Scenario, structure: &Structure) -> Built {
    let carcass = carcass(scenario, structure).expect("it stands");
    let stowage = empty(&carcass);
    build(scenario, structure, carcass, stowage).expect("it can be built")
}

#[test]
fn a_bed_of_six_and_a_half_feet_makes_drawers_of_about_six_and_a_quarter() {
    let scenario = full_size();
    let carcass = carcass(&scenario, &structure(&scenario, &["2x8"], 2)).expect("it stands");
    assert_eq!(carcass.length, inches(75), "3 in are kept for the handles");
    assert_eq!(carcass.front_y, inches(3));
    // The back piece (1 1/2) and the stop allowance (1/4) come off.
    assert_eq!(carcass.tiers[0].drawer_length, sixteenths(73 * 16 + 4));
}

#[test]
fn members_make_openings_of_their_own_width() {
    let scenario = full_size();
    let carcass =
        carcass(&scenario, &structure(&scenario, &["2x8", "2x10"], 2)).expect("it stands");
    assert_eq!(carcass.tiers[0].height, Length::inches(29, 4), "a 2x8: 7 1/4 (PS 20)");
    assert_eq!(carcass.tiers[1].height, Length::inches(37, 4), "a 2x10: 9 1/4 (PS 20)");
    assert_eq!(carcass.tiers[1].z, sixteenths(8 + 116 + 8), "bottom, tier, shelf");
    assert_eq!(carcass.top_z, sixteenths(8 + 116 + 8 + 148 + 8));
}

#[test]
fn a_one_by_eight_ripped_to_six_inches_makes_a_side_in_a_seven_and_a_quarter_opening() {
    let scenario = full_size();
    let carcass = carcass(&scenario, &structure(&scenario, &["2x8"], 2)).expect("it stands");
    assert_eq!(carcass.tiers[0].side_height, inches(6));
    assert_eq!(carcass.tiers[0].clear_height, inches(6));
}

#[test]
fn the_drawer_is_half_an_inch_narrower_than_its_opening_and_a_quarter_shorter_than_the_frame() {
    let scenario = full_size();
    let built = built(&scenario, &structure(&scenario, &["2x8"], 2));
    for drawer in &built.drawers {
        assert_eq!(drawer.opening.size.dx - drawer.outside.size.dx, sixteenths(8));
        assert_eq!(drawer.opening.size.dy - drawer.outside.size.dy, sixteenths(4));
        assert_eq!(drawer.outside.at.x - drawer.opening.at.x, sixteenths(4));
        assert_eq!(drawer.outside.size.dx - drawer.inside.dx, sixteenths(24), "two 3/4 in sides");
    }
}

#[test]
fn openings_and_members_fill_the_chest() {
    let scenario = full_size();
    for columns in 1..=3 {
        let mut structure = structure(&scenario, &["2x8"], columns);
        structure.seamless = columns == 1;
        let built = built(&scenario, &structure);
        let frame = &built.chest.carcass.tiers[0];
        let openings: Length = built.chest.openings[0].iter().copied().sum();
        assert_eq!(openings + frame.member * i64::from(columns + 1), frame.width);
    }
}

#[test]
fn the_back_piece_of_a_chest_on_a_48_inch_bottom_is_48_inches() {
    let scenario = full_size();
    let mut structure = structure(&scenario, &["2x8"], 2);
    structure.seamless = true;
    let built = built(&scenario, &structure);
    let back = built.parts.iter().find(|part| part.role == Role::Back).expect("a chest has a back");
    assert_eq!(back.length, inches(48));
    let bottoms: Vec<_> = built.parts.iter().filter(|part| part.role == Role::Bottom).collect();
    assert_eq!(bottoms.len(), 1, "no seam");
    assert_eq!(bottoms[0].width, inches(48));
}

#[test]
fn a_wider_bottom_has_its_seam_on_a_member() {
    let scenario = full_size();
    let built = built(&scenario, &structure(&scenario, &["2x8"], 2));
    let (members, bottoms): (Vec<&Solid>, Vec<&Solid>) = built
        .solids
        .iter()
        .filter(|solid| {
            matches!(built.parts[solid.part.0 as usize].role, Role::Member | Role::Bottom)
        })
        .partition(|solid| built.parts[solid.part.0 as usize].role == Role::Member);
    assert_eq!(bottoms.len(), 2);
    let seam = bottoms[1].space.at.x;
    assert_eq!(seam, bottoms[0].space.far().x);
    assert!(members.iter().any(|member| member.space.at.x < seam && seam < member.space.far().x));
}

#[test]
fn one_wide_drawer_under_a_seamed_deck_has_no_member_to_land_on() {
    let scenario = full_size();
    let structure = structure(&scenario, &["2x8"], 1);
    let carcass = carcass(&scenario, &structure).expect("it stands");
    let stowage = empty(&carcass);
    let misfit = build(&scenario, &structure, carcass, stowage)
        .expect_err("50 1/4 in of panel from 48 in sheets");
    assert_eq!(misfit, Misfit::SeamOffMember { material: structure.bottom });
}

#[test]
fn the_deck_overhangs_the_frame_by_three_quarters() {
    let scenario = full_size();
    let built = built(&scenario, &structure(&scenario, &["2x8"], 2));
    let deck = built
        .solids
        .iter()
        .find(|solid| built.parts[solid.part.0 as usize].role == Role::Deck)
        .expect("a chest has a deck");
    assert_eq!(deck.space.at.y, built.chest.carcass.front_y - sixteenths(12));
    assert_eq!(deck.space.far().y, inches(78), "flush with the back piece");
}

#[test]
fn applied_fronts_pass_under_the_overhang_and_clear_each_other() {
    let scenario = full_size();
    let built = built(&scenario, &structure(&scenario, &["2x8"], 2));
    let fronts: Vec<_> = built
        .solids
        .iter()
        .filter(|solid| built.parts[solid.part.0 as usize].role == Role::AppliedFront)
        .collect();
    let frame = &built.chest.carcass.tiers[0];
    for front in &fronts {
        assert!(front.space.size.dz < frame.height, "lower than the opening");
        assert!(front.space.far().z <= built.chest.carcass.deck_z - scenario.allowances.front_gap);
        assert_eq!(front.space.far().y, built.chest.carcass.front_y);
        assert!(front.space.at.y.is_positive(), "within the handle room");
    }
    assert!(fronts[1].space.at.x - fronts[0].space.far().x >= sixteenths(2));
}

#[test]
fn screws_every_six_inches() {
    let fastening = Fastening { spacing: inches(6), ends: inches(2) };
    assert_eq!(screws(inches(75), fastening), 13, "71 in in spaces of at most 6: 12 spaces");
    assert_eq!(screws(inches(76), fastening), 13);
    assert_eq!(screws(inches(3), fastening), 1);
}

/// Seam of 1830 mm, ends 50, spacing at most 200: 10 screws 192.22 mm apart (n = ⌈(L − 2e)/s⌉ + 1, derived).
#[test]
fn a_seams_count_follows_from_its_length() {
    let count =
        screws(Length::mm(1830), Fastening { spacing: Length::mm(200), ends: Length::mm(50) });
    assert_eq!(count, 10);
    let pitch = 1730.0 / f64::from(count - 1);
    assert!((pitch - 192.22).abs() < 0.01);
}

/// n·w + (n − 1)·k ≤ L, exactly (derived).
#[test]
fn a_plastic_sheet_gives_as_many_strips_as_the_kerf_leaves() {
    assert_eq!(ripped_strips(inches(12), inches(1), Length::ZERO), 12);
    assert_eq!(ripped_strips(inches(12), inches(1), sixteenths(2)), 10);
    assert_eq!(ripped_strips(inches(12), inches(1), Length::inches(3, 32)), 11);
}

/// Tailgate rise 25 mm, slope 2° over 1350 mm: the lowest moving edge stays above 72.1 mm (derived: 25 + 1350·tan 2°).
#[test]
fn the_lowest_moving_edge_clears_the_sloping_tailgate() {
    let tailgate = Tailgate {
        rise: Length::mm(25),
        slope_millideg: 2000,
        length: Length::mm(1350),
        rating: None,
    };
    let edge = lowest_moving_edge(&tailgate, Length::mm(1900), Length::ZERO);
    assert!((edge.to_mm() - 72.1).abs() < 0.072, "{}", edge.to_mm());
    let level = Tailgate { slope_millideg: 0, ..tailgate };
    assert_eq!(lowest_moving_edge(&level, Length::mm(1900), Length::mm(6)), Length::mm(31));
    let falling = Tailgate { slope_millideg: -2000, ..tailgate };
    assert_eq!(lowest_moving_edge(&falling, Length::mm(1900), Length::ZERO), Length::mm(25));
}

#[test]
fn a_half_inch_shim_is_used_where_the_tailgate_would_catch_the_front() {
    let mut scenario = full_size();
    if let Some(tailgate) = &mut scenario.bed.tailgate {
        tailgate.rise = inches(1);
    }
    let structure = structure(&scenario, &["2x8"], 2);
    let carcass = carcass(&scenario, &structure).expect("it stands");
    // 1 in of rise and 1/4 running clearance, less 1/2 bottom and 1/4 strip.
    assert_eq!(carcass.lift_for_tailgate, sixteenths(8));
    assert_eq!(carcass.lift, sixteenths(8));
    assert_eq!(layers(&scenario, &structure, carcass.lift).map(|layers| layers.len()), Some(1));
}

#[test]
fn two_wells_leave_four_pockets() {
    let scenario = full_size();
    let structure = structure(&scenario, &["2x8"], 2);
    let carcass = carcass(&scenario, &structure).expect("it stands");
    let found = pockets(&scenario, &structure, &carcass);
    assert_eq!(found.len(), 4);
    let mut clear = scenario.clone();
    clear.bed.wells = None;
    assert!(pockets(&clear, &structure, &carcass).is_empty());
}

#[test]
fn a_full_width_tier_is_packed_up_to_clear_the_wells() {
    let scenario = full_size();
    let mut structure = structure(&scenario, &["2x8", "2x8"], 2);
    structure.family = Family::AboveWells;
    let carcass = carcass(&scenario, &structure).expect("it stands");
    // The wells are 9 in and 1/4 clear; bottom 1/2 and a 2x8 stand 7 3/4 under the shelf.
    let shelf_z = carcass.tiers[1].z - sixteenths(8);
    assert!(shelf_z >= sixteenths(148));
    assert_eq!(carcass.tiers[1].width, (inches(65) - sixteenths(6)).floor_to(sixteenths(1)));
    assert!(carcass.tiers[0].width < carcass.tiers[1].width);
    let built = built(&scenario, &structure);
    let outriggers: u32 = built
        .parts
        .iter()
        .filter(|part| part.role == Role::Outrigger)
        .map(|part| part.quantity)
        .sum();
    assert_eq!(outriggers, 4, "before and behind each well");
}

#[test]
fn what_cannot_stand_says_by_how_much() {
    let mut scenario = full_size();
    let two = structure(&scenario, &["2x10", "2x10"], 2);
    scenario.bed.clear_height = Measured::exact(inches(19));
    let high = sixteenths(8 + 148 + 8 + 148 + 8) - inches(19);
    assert_eq!(carcass(&scenario, &two), Err(Misfit::TooHigh { by: high }));

    let mut scenario = full_size();
    scenario.bed.length = Measured::exact(inches(10));
    let short = structure(&scenario, &["2x8"], 2);
    assert!(matches!(carcass(&scenario, &short), Err(Misfit::TooShort { by }) if by.is_positive()));

    let mut scenario = full_size();
    scenario.allowances.handle_room = sixteenths(8);
    assert_eq!(carcass(&scenario, &short), Err(Misfit::HandleRoom { by: sixteenths(4) }));

    let mut scenario = full_size();
    let four = structure(&scenario, &["2x8"], 3);
    scenario.allowances.least_drawer_width = inches(14);
    assert!(
        matches!(carcass(&scenario, &four), Err(Misfit::TooNarrow { tier: 0, by }) if by.is_positive())
    );
}

#[test]
fn a_long_bed_is_held_to_the_longest_stock() {
    let mut scenario = full_size();
    scenario.bed.length = Measured::exact(Length::mm(10_000));
    let carcass = carcass(&scenario, &structure(&scenario, &["2x8"], 2)).expect("it stands");
    assert_eq!(
        carcass.length,
        inches(96) - sixteenths(12),
        "the deck's overhang comes off the sheet's length"
    );
}

/// n·w + (n − 1)·k ≤ L with a kerf of 1/8 in or 3.2 mm, exactly (derived): 48 in into four strips, also with 1/4 in taken off one
/// edge first; pieces of 15 7/8 in out of 96 in; pieces of 300 mm out of 1220 mm.
#[test]
fn strips_and_pieces_out_of_a_sheet_count_the_kerf() {
    let kerf = sixteenths(2);
    let strip = |sheet: Length| (sheet - kerf * 3) / 4;
    assert_eq!(strip(inches(48)), Length::inches(11 * 32 + 29, 32));
    assert_eq!(strip(inches(48) - sixteenths(4)), Length::inches(11 * 32 + 27, 32));
    assert_eq!(ripped_strips(inches(48), strip(inches(48)), kerf), 4);
    assert_eq!(ripped_strips(inches(48), strip(inches(48)) + Length::from_units(1), kerf), 3);
    assert_eq!(ripped_strips(inches(96), Length::inches(127, 8), kerf), 6);
    let kerf = Length::MM * 16 / 5;
    assert_eq!(ripped_strips(Length::mm(1220), Length::mm(300), kerf), 4);
}
