//! Scenarios built in Rust for tests: a plain full-size bed with common stock, to be changed as a test needs.

use super::*;
use crate::units::{Length, Mass, Money};

/// `numerator / 16` inches.
pub fn sixteenths(numerator: i64) -> Length {
    Length::inches(numerator, 16)
}

/// Whole inches.
pub fn inches(whole: i64) -> Length {
    Length::inches(whole, 1)
}

/// A boxy thing that has to fit, spun about the vertical.
pub fn gear(name: &str, size: [i64; 3], count: u32) -> Gear {
    Gear {
        name: name.to_owned(),
        size: size.map(inches),
        mass: Mass::POUND * 8,
        count,
        turn: Turn::Base,
        demand: Demand::Must,
        uses_milli: 1000,
        near: None,
        share: false,
        stack: 1,
        padding: Length::ZERO,
        pocket: false,
        place: None,
    }
}

/// The same as something optional.
pub fn optional(name: &str, size: [i64; 3], count: u32, worth: i64) -> Gear {
    Gear { demand: Demand::Worth(worth * 1000), ..gear(name, size, count) }
}

fn material(stock: &mut Stock, name: &str, section: Section, thickness: Length) -> MaterialId {
    let density = if section == Section::Sheet { 577.0 } else { 450.0 };
    let stiffness = match section {
        Section::Sheet if thickness > Length::inches(11, 16) => {
            Stiffness::SpanRating("48/24".to_owned())
        }
        Section::Sheet => Stiffness::SpanRating("32/16".to_owned()),
        Section::Board { .. } => Stiffness::Grade("SPF No. 2".to_owned()),
    };
    stock.materials.push(Material {
        name: name.to_owned(),
        section,
        thickness,
        density,
        stiffness,
        grain: true,
    })
}

fn sheet(stock: &mut Stock, name: &str, thickness: Length, price: i64) -> MaterialId {
    let id = material(stock, name, Section::Sheet, thickness);
    stock.items.push(StockItem {
        material: id,
        name: format!("{name} 4x8"),
        form: Form::Sheet { along: inches(96), across: inches(48) },
        price: Money::ONE * price,
        on_hand: 0,
        most: None,
    });
    id
}

fn board(
    stock: &mut Stock,
    name: &str,
    thickness: Length,
    width: Length,
    price: i64,
) -> MaterialId {
    let id = material(stock, name, Section::Board { width }, thickness);
    for feet in [8, 10, 12] {
        stock.items.push(StockItem {
            material: id,
            name: format!("{name} {feet} ft"),
            form: Form::Board { length: inches(12 * feet) },
            price: Money::ONE * (price * feet / 8),
            on_hand: 0,
            most: None,
        });
    }
    id
}

fn hardware(
    stock: &mut Stock,
    name: &str,
    use_: HardwareUse,
    sold: Sold,
    price: i64,
) -> HardwareId {
    stock.hardware.push(Hardware {
        name: name.to_owned(),
        use_,
        sold,
        price: Money::ONE * price,
        on_hand: 0,
        mass: Mass::ZERO,
        thickness: Length::ZERO,
        rating: None,
        slide: None,
        leg: None,
        modulus: None,
        plate: Plate::default(),
    })
}

/// A full-size bed of 6 ft 6 in with two wells, dressed lumber and half-inch plywood, and a handful of gear.
pub fn full_size() -> Scenario {
    let mut stock = Stock::default();
    let half = sheet(&mut stock, "1/2 plywood", Length::inches(1, 2), 40);
    let three_quarters = sheet(&mut stock, "3/4 plywood", Length::inches(23, 32), 60);
    let two_by_eight = board(&mut stock, "2x8", sixteenths(24), sixteenths(116), 10);
    let two_by_ten = board(&mut stock, "2x10", sixteenths(24), sixteenths(148), 14);
    let one_by_eight = board(&mut stock, "1x8", sixteenths(12), sixteenths(116), 9);
    let square = board(&mut stock, "2x2", sixteenths(24), sixteenths(24), 4);
    hardware(&mut stock, "screws 1-3/4", HardwareUse::ChestScrew, Sold::Each { pack: 100 }, 9);
    hardware(&mut stock, "screws 1-1/4", HardwareUse::DrawerScrew, Sold::Each { pack: 100 }, 7);
    let strip = hardware(
        &mut stock,
        "plastic sheet",
        HardwareUse::Strip,
        Sold::Ripped { across: inches(12), along: inches(48), width: inches(1) },
        25,
    );
    stock.hardware[strip].thickness = Length::inches(1, 4);
    hardware(&mut stock, "handle", HardwareUse::Handle, Sold::Each { pack: 1 }, 6);
    hardware(
        &mut stock,
        "coating",
        HardwareUse::Coating,
        Sold::Cover { area: inches(48).by(inches(96)) },
        30,
    );
    Scenario {
        title: "Full-size bed, for tests".to_owned(),
        units: UnitSystem::Inch,
        currency: "USD".to_owned(),
        bed: Bed {
            kind: BedKind::Pickup,
            length: Measured::exact(inches(78)),
            width: Measured::exact(inches(65)),
            wells: Some(Wells {
                between: Measured::exact(sixteenths(810)),
                from_tailgate: inches(22),
                length: inches(34),
                height: inches(9),
            }),
            depth: Some(Measured::exact(inches(21))),
            clear_height: Measured::exact(inches(21)),
            opening: None,
            tailgate: Some(Tailgate {
                rise: Length::ZERO,
                slope_millideg: 0,
                length: inches(22),
                rating: None,
            }),
            payload: Some(Mass::POUND * 1200),
            wheelbase: None,
            rear_axle_from_tailgate: None,
            front_axle_room: None,
            rear_axle_room: None,
            sleeps: false,
        },
        gear: [
            gear("drill case", [15, 12, 5], 2),
            gear("saw", [18, 10, 6], 1),
            optional("clamps", [30, 4, 4], 3, 2),
            optional("vacuum", [20, 15, 6], 1, 5),
        ]
        .into_iter()
        .collect(),
        loose: Keyed::new(),
        stock,
        shop: Shop {
            kerf: sixteenths(2),
            edge_trim: Length::ZERO,
            keep_offcut: [inches(12), inches(12)],
            least_rip: inches(1),
            stages: None,
            trimming: false,
            step: sixteenths(1),
            saw_capacity: None,
        },
        choices: Choices {
            families: vec![Family::BetweenWells, Family::AboveWells],
            tiers: vec![1, 2],
            columns: vec![1, 2, 3],
            members: vec![two_by_eight, two_by_ten],
            bottom: vec![half],
            deck: vec![half, three_quarters],
            deck_grain: vec![crate::scenario::DeckGrain::Along],
            drawer_sides: vec![one_by_eight],
            drawer_bottoms: vec![half],
            fronts: vec![one_by_eight],
            dividers: vec![half],
            corner_blocks: Some(square),
            runs_on: vec![Runs::Strip],
            locks: true,
            pockets: true,
        },
        decided: Decided::default(),
        tolerance: Tolerance::usual(UnitSystem::Inch),
        engineering: Engineering::usual(UnitSystem::Inch),
        allowances: Allowances {
            handle_room: inches(3),
            front: Length::ZERO,
            fit: sixteenths(6),
            top: Length::ZERO,
            side_gap: sixteenths(4),
            runner: sixteenths(4),
            top_clearance: sixteenths(8),
            stop: sixteenths(4),
            deck_overhang: sixteenths(12),
            front_gap: sixteenths(4),
            front_reveal: sixteenths(2),
            running: sixteenths(4),
            well: sixteenths(4),
            lock_room: inches(2),
            pocket: sixteenths(8),
            divider_percent: 60,
            chest_screws: Fastening { spacing: inches(6), ends: inches(2) },
            drawer_screws: Fastening { spacing: inches(6), ends: inches(2) },
            least_drawer_width: inches(6),
            least_drawer_height: inches(2),
            least_pocket: inches(4),
        },
        aims: Aims { weights: [3.0, 5.0, 2.0, 2.0, 1.0, 1.0, 1.0, 0.5], limits: Limits::default() },
    }
}
