//! What is given: the bed, the yard's stock, the gear of a wish.

use super::{Wish, inch};
use crate::scenario::*;
use crate::units::{Length, Mass, Money, UnitSystem};

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
    let mut sheet = |name: &str, thickness: Length, size: (i64, i64)| {
        let material = stock.materials.push(Material {
            name: name.into(),
            section: Section::Sheet,
            thickness,
            density: 580.0,
            stiffness: Stiffness::Unknown,
            grain: true,
        });
        stock.items.push(StockItem {
            material,
            name: format!("{name} 4x8"),
            form: Form::Sheet { along: inch(size.0, 1), across: inch(size.1, 1) },
            price: Money::default(),
            on_hand: 0,
            most: None,
        });
    };
    sheet("1/2 plywood", inch(15, 32), (96, 48));
    sheet("3/4 plywood", inch(23, 32), (96, 60));
    sheet("1/4 plywood", inch(7, 32), (96, 48));
    for (name, thickness, width) in
        [("2x8", inch(3, 2), inch(29, 4)), ("1x8", inch(3, 4), inch(29, 4))]
    {
        let material = stock.materials.push(Material {
            name: name.into(),
            section: Section::Board { width },
            thickness,
            density: 450.0,
            stiffness: Stiffness::Unknown,
            grain: true,
        });
        for feet in [8, 10, 12] {
            stock.items.push(StockItem {
                material,
                name: format!("{name} {feet} ft"),
                form: Form::Board { length: inch(12 * feet, 1) },
                price: Money::default(),
                on_hand: 0,
                most: None,
            });
        }
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
                name: (*name).into(),
                size: size.map(|s| inch(s, 1)),
                mass: Mass::POUND,
                count: *count,
                turn: Turn::Base,
                demand: Demand::Worth(1000),
                uses_milli: 1000,
                near: None,
                share: false,
                stack: 2,
                padding: Length::ZERO,
                pocket: false,
                place: None,
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
        handle_room: inch(3, 1),
        front: inch(1, 4),
        fit: inch(1, 2),
        top: inch(1, 2),
        side_gap: inch(1, 4),
        runner: inch(1, 4),
        top_clearance: inch(1, 4),
        stop: inch(1, 4),
        deck_overhang: inch(3, 4),
        front_gap: inch(1, 8),
        front_reveal: inch(1, 8),
        running: inch(1, 4),
        well: inch(1, 4),
        lock_room: inch(2, 1),
        pocket: inch(1, 4),
        divider_percent: 60,
        chest_screws: Fastening { spacing: inch(6, 1), ends: inch(2, 1) },
        drawer_screws: Fastening { spacing: inch(6, 1), ends: inch(1, 1) },
        least_drawer_width: inch(4, 1),
        least_drawer_height: inch(3, 1),
        least_pocket: inch(4, 1),
    }
}
