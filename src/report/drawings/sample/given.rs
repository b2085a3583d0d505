//! What is given: the bed, the yard's stock, the gear of a wish.

use super::{Wish, inch};
use crate::report::fixture;
use crate::scenario::*;
use crate::units::{Length, UnitSystem};

pub fn scenario(wish: &Wish) -> Scenario {
    let metric = wish.units == UnitSystem::Metric;
    let (length, width) = match wish.cargo {
        Some((length, width)) => (Length::mm(length), Length::mm(width)),
        None if metric => (Length::mm(2400), Length::mm(1650)),
        None => (inch(157, 2), inch(66, 1)),
    };
    let wells = Wells {
        between: Measured::exact(if metric { Length::mm(1220) } else { inch(203, 4) }),
        from_tailgate: inch(24, 1),
        length: inch(36, 1),
        height: inch(19, 2),
    };
    let mut stock = Stock::default();
    for (name, thickness, across) in [
        ("1/2 plywood", inch(15, 32), 48),
        ("3/4 plywood", inch(23, 32), 60),
        ("1/4 plywood", inch(7, 32), 48),
    ] {
        fixture::add_sheet(&mut stock, name, thickness, [inch(96, 1), inch(across, 1)]);
    }
    for (name, thickness) in [("2x8", inch(3, 2)), ("1x8", inch(3, 4))] {
        fixture::add_boards(&mut stock, name, [thickness, inch(29, 4)], &[8, 10, 12]);
    }
    Scenario {
        title: "Service locksmith, full-size bed".into(),
        units: wish.units,
        currency: "USD".into(),
        bed: Bed {
            kind: if wish.cargo.is_some() { BedKind::Cargo } else { BedKind::Pickup },
            length: Measured::exact(length),
            width: Measured::exact(width),
            wells: wish.cargo.is_none().then_some(wells),
            depth: Some(Measured::exact(inch(43, 2))),
            clear_height: Measured::exact(inch(28, 1)),
            opening: None,
            tailgate: Some(Tailgate {
                rise: inch(1, 2),
                slope_millideg: 0,
                length: inch(22, 1),
                rating: None,
            }),
            payload: None,
            wheelbase: None,
            rear_axle_from_tailgate: None,
            front_axle_room: None,
            rear_axle_room: None,
            sleeps: false,
        },
        gear: wish
            .gear
            .iter()
            .map(|(name, size, count)| Gear {
                stack: 2,
                ..fixture::thing(name, size.map(|s| inch(s, 1)), 1, *count, 1, Demand::Worth(1000))
            })
            .collect(),
        loose: Keyed::new(),
        stock,
        shop: Shop {
            kerf: inch(1, 8),
            edge_trim: inch(1, 4),
            keep_offcut: [inch(12, 1), inch(12, 1)],
            least_rip: inch(1, 1),
            stages: None,
            trimming: false,
            step: inch(1, 16),
            saw_capacity: None,
        },
        choices: choices(),
        allowances: allowances(),
        decided: Default::default(),
        tolerance: crate::scenario::Tolerance::usual(UnitSystem::Inch),
        engineering: crate::scenario::Engineering::usual(UnitSystem::Inch),
        aims: Aims { weights: [1.0; 8], limits: Limits::default() },
    }
}

fn choices() -> Choices {
    Choices {
        families: vec![Family::BetweenWells],
        tiers: vec![1, 2],
        columns: vec![1, 2, 3],
        members: vec![MaterialId(3)],
        bottom: vec![MaterialId(0)],
        deck: vec![MaterialId(1)],
        deck_grain: vec![DeckGrain::Along],
        drawer_sides: vec![MaterialId(4)],
        drawer_bottoms: vec![MaterialId(0)],
        fronts: vec![MaterialId(1)],
        dividers: vec![MaterialId(2)],
        corner_blocks: None,
        runs_on: vec![Runs::Strip],
        locks: true,
        pockets: true,
    }
}

fn allowances() -> Allowances {
    Allowances {
        fit: inch(1, 2),
        top: inch(1, 2),
        well: inch(1, 4),
        divider_percent: 60,
        least_drawer_width: inch(4, 1),
        least_drawer_height: inch(3, 1),
        least_pocket: inch(4, 1),
        ..fixture::allowances()
    }
}
