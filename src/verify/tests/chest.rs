//! Faults of the chest in the bed, and of its panels.

use super::*;
use crate::design::{Axis, TierFrame};
use crate::scenario::fixture::{inches, sixteenths};
use crate::scenario::{Family, HatchOpening, Tailgate};
use crate::units::Area;

#[test]
fn the_frame_is_what_a_pencil_gives() {
    // 78 in of bed less 3 in of handle room; 50 5/8 in between wells less 3/8 in, three members of 1 1/2 in; a drawer
    // 1/2 in narrower than its opening and 1/4 in shorter than its members.
    let design = good::design(&good::scenario());
    let frame = design.chest.carcass.tiers[0];
    assert_eq!(design.chest.carcass.length, inches(75));
    assert_eq!(frame.width, sixteenths(804));
    assert_eq!(design.chest.openings[0], [sixteenths(366); 2]);
    assert_eq!(design.drawers[0].outside.size.dx, sixteenths(358));
    assert_eq!(design.drawers[0].outside.size.dy, sixteenths(1172));
    assert_eq!(design.drawers[0].inside.dz, inches(6));
}

#[test]
fn a_choice_that_is_not_offered() {
    assert_names!(
        faults_after(|scenario, _| scenario.choices.columns = vec![1, 3]),
        Fault::NotOffered { what: "number of columns" }
    );
    assert_names!(
        faults_after(|scenario, _| scenario.choices.deck.clear()),
        Fault::NotOffered { what: "deck" }
    );
}

#[test]
fn a_bed_a_hair_too_short() {
    assert_names!(
        faults_after(|scenario, _| scenario.bed.length.at -= HAIR),
        Fault::TooLong { by } if *by == HAIR
    );
}

#[test]
fn a_handle_room_a_hair_too_short() {
    assert_names!(
        faults_after(|scenario, _| scenario.allowances.handle_room += HAIR),
        Fault::HandleRoom { role: Role::Member, by } if *by == HAIR
    );
    assert_names!(
        faults_after(|scenario, _| scenario.allowances.deck_overhang = inches(4)),
        Fault::HandleRoom { role: Role::Deck, by } if *by == inches(1)
    );
}

#[test]
fn a_bed_too_narrow() {
    let faults = faults_after(|scenario, _| {
        scenario.bed.wells.as_mut().expect("a bed with wells").between.at -= HAIR;
    });
    assert_names!(
        faults,
        Fault::TooWide { tier: 1, by } if *by == HAIR
    );
}

#[test]
fn a_chest_pushed_against_a_well() {
    let aside = |scenario: &mut Scenario, _: &mut Design| {
        // The bed grows on one side only: the chest no longer stands in its middle.
        scenario.bed.width.at += inches(2);
    };
    assert_names!(
        faults_after(aside),
        Fault::IntoWall { tier: 0, side: Side::Left, by } if *by == sixteenths(13)
    );
    assert_names!(faults_after(aside), Fault::InWell { side: Side::Left, .. });
}

#[test]
fn a_deck_under_a_low_roof() {
    let faults = faults_after(|scenario, design| {
        scenario.bed.clear_height.at = design.chest.carcass.top_z - HAIR;
    });
    assert_names!(
        faults,
        Fault::TooHigh { by } if *by == HAIR
    );
}

#[test]
fn a_tailgate_in_the_drawers_way() {
    let tailgate = |rise: Length, slope_millideg: i32| {
        faults_after(|scenario, _| {
            let length = inches(22);
            scenario.bed.tailgate = Some(Tailgate { rise, slope_millideg, length, rating: None });
        })
    };
    // Panel and strip lift the drawers by 3/4 in, of which 1/4 in is running clearance.
    assert!(tailgate(inches(1) - sixteenths(8), -500).is_empty());
    assert_names!(
        tailgate(inches(1) - sixteenths(8) + HAIR, -500),
        Fault::CatchesTailgate { by } if *by == HAIR
    );
    // 22 in up a slope of 1° are 0.384 in, of 2° 0.768 in.
    assert!(tailgate(Length::ZERO, 1000).is_empty());
    let by = Length::from_units((0.268_256 * 2_032_000.0) as i64);
    assert_names!(
        tailgate(Length::ZERO, 2000),
        Fault::CatchesTailgate { by: short } if short.abs_diff(by) < Length::mm(1)
    );
    assert_names!(
        tailgate(inches(1), 0),
        Fault::Derived { tier: None, what: Dimension::LiftForTailgate, .. }
    );
}

#[test]
fn a_full_width_tier_on_low_tiers() {
    let faults = faults_after(|_, design| design.structure.family = Family::AboveWells);
    // Its panel's underside is at 7 3/4 in, the wells are 9 in high and it should clear them by 1/4 in.
    assert_names!(
        faults.clone(),
        Fault::OverWells { by } if *by == sixteenths(24)
    );
    assert_names!(faults, Fault::NoPocket { .. });
    let faults = faults_after(|scenario, design| {
        design.structure.family = Family::AboveWells;
        scenario.bed.wells = None;
    });
    assert_names!(faults, Fault::NoWells);
}

#[test]
fn a_wide_tier_that_nothing_carries_outside() {
    let faults = faults_after(|_, design| {
        design.chest.carcass.tiers[1].x -= inches(5);
    });
    assert_names!(faults, Fault::NoOutrigger { side: Side::Left });
}

#[test]
fn members_that_are_not_as_high_as_their_board() {
    let faults = faults_after(|_, design| {
        design.structure.tiers[0].height += sixteenths(1);
        design.chest.carcass.tiers[0].height += sixteenths(1);
    });
    assert_names!(
        faults,
        Fault::MemberHeight { tier: 0, board, .. } if *board == sixteenths(116)
    );
}

#[test]
fn openings_that_do_not_fill_the_width() {
    assert_names!(
        faults_after(|_, design| design.chest.openings[1][0] += HAIR),
        Fault::WidthsDoNotAdd { tier: 1, sum, width } if *sum == *width + HAIR
    );
    assert_names!(
        faults_after(|_, design| {
            let openings = &mut design.chest.openings[1];
            let first = std::mem::take(&mut openings[0]);
            openings[1] += first;
        }),
        Fault::Nothing { tier: 1, what: Dimension::OpeningWidth, .. }
    );
}

#[test]
fn figures_of_a_frame_that_do_not_follow() {
    let frame = |change: fn(&mut TierFrame)| {
        faults_after(|_, design| change(&mut design.chest.carcass.tiers[1]))
    };
    macro_rules! derived {
        ($($field:ident => $what:ident),* $(,)?) => {$(
            assert_names!(
                frame(|frame| frame.$field += HAIR),
                Fault::Derived { tier: Some(1), what: Dimension::$what, stated, derived }
                    if *stated == *derived + HAIR
            );
        )*};
    }
    derived! {
        z => PanelTop,
        height => OpeningHeight,
        member => MemberThickness,
        inside_length => InsideLength,
        openings_width => OpeningsWidth,
        width_taken => WidthTaken,
        side_gap => SideGap,
        drawer_length => DrawerLength,
        drawer_inside_length => DrawerInsideLength,
        drawer_inside_y => DrawerInsideY,
        run_height => RunHeight,
        floor_height => FloorHeight,
        clear_height => ClearHeight,
    }
    for (change, what) in [
        ((|frame| frame.side_height += HAIR) as fn(&mut TierFrame), Dimension::SideHeight),
        (|frame| frame.divider_height += sixteenths(1), Dimension::DividerHeight),
        (|frame| frame.front_height += HAIR, Dimension::FrontHeight),
    ] {
        assert_names!(
            frame(change),
            Fault::Exceeds { tier: 1, what: found, .. } if *found == what
        );
    }
    assert_names!(
        faults_after(|_, design| design.chest.carcass.deck_z += HAIR),
        Fault::Derived { tier: None, what: Dimension::DeckUnderside, .. }
    );
    assert_names!(
        faults_after(|_, design| design.chest.carcass.top_z += HAIR),
        Fault::Derived { tier: None, what: Dimension::DeckTop, .. }
    );
}

#[test]
fn a_lifted_chest_without_packing() {
    let faults = faults_after(|_, design| design.chest.carcass.lift = inches(1));
    assert_names!(faults.clone(), Fault::NoPacking { lift } if *lift == inches(1));
    assert_names!(faults, Fault::RoleCount { role: Role::Packing, expected: 3, found: 0 });
    let faults = faults_after(|_, design| design.chest.carcass.lift = -HAIR);
    assert_names!(faults, Fault::Derived { what: Dimension::Lift, .. });
}

#[test]
fn a_deck_with_a_gap() {
    let faults = faults_after(|_, design| solid_of(design, Role::Deck).space.size.dy -= HAIR);
    let missing: Area = HAIR.by(sixteenths(402));
    assert_names!(
        faults,
        Fault::PanelGap { role: Role::Deck, level: 2, missing: found } if *found == missing
    );
}

#[test]
fn a_deck_against_its_grain() {
    let turned = |_: &mut Scenario, design: &mut Design| {
        let part = part_of(design, Role::Deck);
        design.parts[part].grain = crate::design::Grain::Across;
    };
    assert_names!(faults_after(turned), Fault::DeckGrain { .. });
    // As it lies, but said to lie the other way.
    let said = |scenario: &mut Scenario, design: &mut Design| {
        scenario.choices.deck_grain = vec![crate::scenario::DeckGrain::Across];
        design.structure.deck_grain = crate::scenario::DeckGrain::Across;
    };
    assert_names!(faults_after(said), Fault::DeckGrain { .. });
}

#[test]
fn panels_that_reach_beyond_the_chest_or_lie_at_no_level() {
    let faults = faults_after(|_, design| solid_of(design, Role::Shelf).space.at.y -= HAIR);
    assert_names!(faults, Fault::PanelAstray { by, .. } if *by == HAIR);
    let faults = faults_after(|_, design| solid_of(design, Role::Bottom).space.at.z += HAIR);
    assert_names!(faults.clone(), Fault::PanelAstray { by, .. } if *by == HAIR);
    assert_names!(faults, Fault::PanelGap { role: Role::Bottom, level: 0, .. });
}

#[test]
fn a_seam_beside_its_member() {
    let shift = |by: Length| {
        faults_after(|_, design| {
            let parts = design.parts.clone();
            let bottom = |solid: &&mut Solid| parts[solid.part.0 as usize].role == Role::Bottom;
            let mut panels = design.solids.iter_mut().filter(bottom);
            let (left, right) = (panels.next(), panels.next());
            left.expect("two panels").space.size.dx += by;
            let right = &mut right.expect("two panels").space;
            right.at.x += by;
            right.size.dx -= by;
        })
    };
    // The seam is in the middle of a member of 1 1/2 in: it may move by less than half of that.
    let bears =
        |faults: &[Fault]| !faults.iter().any(|fault| matches!(fault, Fault::SeamOffMember { .. }));
    assert!(bears(&shift(sixteenths(12) - HAIR)));
    assert_names!(shift(sixteenths(12)), Fault::SeamOffMember { axis: Axis::X, .. });
    assert_names!(shift(-sixteenths(12)), Fault::SeamOffMember { axis: Axis::X, .. });
}

#[test]
fn a_seam_across_the_members() {
    let faults = faults_after(|_, design| {
        let whole = *solid_of(design, Role::Deck);
        let half = whole.space.size.dy / 2;
        solid_of(design, Role::Deck).space.size.dy = half;
        let mut rest = whole;
        rest.space.at.y += half;
        rest.space.size.dy -= half;
        design.solids.push(rest);
    });
    assert_names!(faults, Fault::SeamOffMember { axis: Axis::Y, .. });
}

#[test]
fn a_hatch_too_small_for_a_drawer_or_a_part() {
    let hatch = |width: Length, height: Length| {
        faults_after(|scenario, _| scenario.bed.opening = Some(HatchOpening { width, height }))
    };
    assert!(hatch(inches(60), inches(30)).is_empty());
    // The drawers' fronts reach over 50 1/4 in; the opening is in the middle, as the chest is.
    let faults = hatch(sixteenths(804) - HAIR * 2, inches(30));
    assert_names!(faults, Fault::Hatch { what, by } if what == "drawer A1" && *by == HAIR);
    let faults = hatch(inches(60), inches(10));
    assert_names!(faults, Fault::Hatch { what, .. } if what == "drawer B2");
    let faults = hatch(inches(52), inches(20));
    assert!(faults.is_empty(), "{faults:?}");
    let faults = hatch(inches(20), inches(20));
    assert_names!(faults, Fault::Hatch { what, .. } if what.starts_with("part "));
}
