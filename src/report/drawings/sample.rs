//! Designs to draw in tests: real derivations around a stowage and a cutting plan that are merely
//! filled in row by row.

use crate::design::derive::{build, carcass, figures, hardware};
use crate::design::{
    Axis, BoardLayout, BoardPiece, Box3, Chest, Content, Cut, CuttingPlan, Design, DesignId, Item,
    Layout, Part, PartId, PocketPlace, Point, Rect, SheetLayout, SheetPiece, Size, Stowage,
    Structure, TierChoice,
};
use crate::scenario::*;
use crate::units::{Length, Mass, Money, UnitSystem};

fn inch(numerator: i64, denominator: i64) -> Length {
    Length::inches(numerator, denominator)
}

/// What to make.
pub struct Wish {
    pub units: UnitSystem,
    pub family: Family,
    pub columns: &'static [u32],
    /// Length and width of a floor without wells, mm; a pickup's bed otherwise.
    pub cargo: Option<(i64, i64)>,
    pub gear: Vec<(&'static str, [i64; 3], u32)>,
}

pub fn locksmith() -> Wish {
    Wish {
        units: UnitSystem::Inch,
        family: Family::BetweenWells,
        columns: &[3],
        cargo: None,
        gear: vec![
            ("Impact driver case", [14, 12, 4], 2),
            ("Fish tape reel", [13, 13, 4], 2),
            ("Hole saw kit", [12, 9, 3], 1),
            ("Spirit level, 48 in", [48, 3, 2], 1),
            ("Bolt cutter", [30, 6, 2], 1),
            ("Box of wire nuts", [5, 4, 3], 6),
            ("Multimeter", [8, 5, 3], 2),
            ("Torch", [3, 3, 3], 3),
            ("Cable shears & crimper <set>", [20, 7, 3], 1),
        ],
    }
}

pub fn two_tiers(units: UnitSystem, family: Family) -> Wish {
    Wish { units, family, columns: &[2, 3], ..locksmith() }
}

/// A floor of a van, or of something far larger.
pub fn van(length_mm: i64, width_mm: i64) -> Wish {
    Wish {
        units: UnitSystem::Metric,
        columns: &[4, 3],
        cargo: Some((length_mm, width_mm)),
        ..locksmith()
    }
}

/// Names as nobody should give them.
pub fn odd_names() -> Wish {
    let mut wish = two_tiers(UnitSystem::Inch, Family::BetweenWells);
    let odd = [
        "A name that goes on and on and on, as if its writer had been paid by the word for it",
        "Donaudampfschifffahrtselektrizitaetenhauptbetriebswerkbauunterbeamtengesellschaft",
        "</text><script>alert(\"x\")</script>",
        "\u{5de5}\u{5177}\u{7bb1}",
        "tab\there\u{7}\nand there",
        "\u{1f527} spanner",
        " ",
    ];
    for (thing, name) in wish.gear.iter_mut().zip(odd) {
        thing.0 = name;
    }
    wish
}

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
        deck_grain: vec![crate::scenario::DeckGrain::Along],
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

pub fn design(wish: &Wish, scenario: &Scenario) -> Design {
    let structure = Structure {
        family: wish.family,
        seamless: false,
        tiers: wish
            .columns
            .iter()
            .map(|&columns| TierChoice { columns, member: MaterialId(3), height: inch(29, 4) })
            .collect(),
        bottom: MaterialId(0),
        deck: MaterialId(1),
        deck_grain: crate::scenario::DeckGrain::Along,
        sides: MaterialId(4),
        drawer_bottom: MaterialId(0),
        front: MaterialId(1),
        divider: MaterialId(2),
        runs: Runs::Strip,
    };
    let carcass = carcass(scenario, &structure).expect("the sample's bed holds its chest");
    let divider = scenario.stock.materials[structure.divider].thickness;
    let mut queue: Vec<(GearId, u32)> = scenario
        .gear
        .iter()
        .flat_map(|(id, gear)| (0..gear.count).map(move |copy| (id, copy)))
        .collect();
    let mut tiers = Vec::new();
    for frame in &carcass.tiers {
        let columns = i64::from(frame.columns);
        let step = scenario.shop.step;
        let each = (frame.inside_width() / columns).floor_to(step);
        let layouts = (0..columns).map(|c| {
            let width = if c == 0 { frame.inside_width() - each * (columns - 1) } else { each };
            let size = Size::new(width, frame.drawer_inside_length, frame.clear_height);
            fill(scenario, size, divider, frame.divider_height, &mut queue)
        });
        tiers.push(layouts.collect());
    }
    let mut pockets = Vec::new();
    let spaces = crate::design::derive::pockets::pockets(scenario, &structure, &carcass);
    if let Some((place, space)) = spaces.first() {
        assert_eq!(*place, PocketPlace::LeftRear);
        pockets.push((*place, fill(scenario, space.size, divider, inch(4, 1), &mut queue)));
    }
    let stowage = Stowage { tiers, pockets, left_out: Vec::new() };
    let built = build(scenario, &structure, carcass, stowage).expect("the sample fills its frames");
    let hardware = hardware::hardware(scenario, &structure, &built);
    let cutting = cutting(scenario, &built.parts);
    let criteria = figures::criteria(
        scenario,
        figures::Figured {
            carcass: &built.chest.carcass,
            drawers: &built.drawers,
            pockets: &built.pockets,
            parts: &built.parts,
            hardware: &hardware,
            cutting: &cutting,
            purchases: &[],
            checks: &[],
        },
    );
    let Chest { carcass, openings } = built.chest;
    Design {
        id: DesignId(0x1_2345_6789),
        structure,
        chest: Chest { carcass, openings },
        drawers: built.drawers,
        pockets: built.pockets,
        left_out: Vec::new(),
        parts: built.parts,
        solids: built.solids,
        fixings: crate::design::Fixings::usual(scenario),
        hardware,
        cutting,
        purchases: Vec::new(),
        checks: Vec::new(),
        criteria,
    }
}

/// Rows across the drawer, a divider after each row and between neighbours; the small stand two high.
fn fill(
    scenario: &Scenario,
    size: Size,
    divider: Length,
    divider_height: Length,
    queue: &mut Vec<(GearId, u32)>,
) -> Layout {
    let mut layout =
        Layout { width: size.dx, length: size.dy, height: size.dz, ..Layout::default() };
    let mut y = Length::ZERO;
    loop {
        let (mut x, mut deep) = (Length::ZERO, Length::ZERO);
        let mut i = 0;
        while i < queue.len() {
            let (id, copy) = queue[i];
            let [dy, dx, dz] = scenario.gear[id].size;
            if x + dx > size.dx
                || y + dy > size.dy
                || dz > size.dz
                || (deep.is_positive() && dy > deep)
            {
                i += 1;
                continue;
            }
            queue.remove(i);
            let at = Point::new(x, y, Length::ZERO);
            let space = Box3 { at, size: Size::new(dx, dy, dz) };
            layout.items.push(Item { content: Content::Gear(id), copy, space });
            if dz * 2 <= size.dz && queue.get(i).is_some_and(|next| next.0 == id) {
                let (_, copy) = queue.remove(i);
                let space = space.moved(Point::new(Length::ZERO, Length::ZERO, dz));
                layout.items.push(Item { content: Content::Gear(id), copy, space });
            }
            deep = deep.max(dy);
            x += dx;
            if x + divider < size.dx {
                layout.dividers.push(Box3 {
                    at: Point::new(x, y, Length::ZERO),
                    size: Size::new(divider, deep, divider_height),
                });
            }
            x += divider;
        }
        if !deep.is_positive() {
            return layout;
        }
        y += deep;
        if y + divider < size.dy {
            layout.dividers.push(Box3 {
                at: Point::new(Length::ZERO, y, Length::ZERO),
                size: Size::new(size.dx, divider, divider_height),
            });
        }
        y += divider;
    }
}

/// Parts on shelves along the sheets' grain, boards first come first served.
fn cutting(scenario: &Scenario, parts: &[Part]) -> CuttingPlan {
    let kerf = scenario.shop.kerf;
    let mut plan = CuttingPlan { kerf, ..CuttingPlan::default() };
    for (material, of) in scenario.stock.materials.iter() {
        let mut pieces: Vec<PartId> = Vec::new();
        for (i, part) in parts.iter().enumerate().filter(|(_, part)| part.material == material) {
            let id = PartId(u32::try_from(i).expect("a sample has few parts"));
            pieces.extend(std::iter::repeat_n(id, part.quantity as usize));
        }
        pieces.sort_by_key(|id| {
            let part = &parts[id.0 as usize];
            (std::cmp::Reverse(part.width), std::cmp::Reverse(part.length), *id)
        });
        let (stock, item) =
            scenario.stock.of(material).last().expect("every material of the sample is sold");
        match item.form {
            Form::Sheet { along, across } => {
                while !pieces.is_empty() {
                    let trim = scenario.shop.edge_trim;
                    plan.sheets.push(shelves(
                        parts,
                        &mut pieces,
                        stock,
                        (along, across),
                        trim,
                        kerf,
                    ));
                }
            }
            Form::Board { length } => {
                assert!(of.is_board());
                while !pieces.is_empty() {
                    plan.boards.push(bar(parts, &mut pieces, stock, length, kerf));
                }
            }
        }
    }
    plan.sheets.dedup_by(|b, a| {
        let alike = a.stock == b.stock && a.pieces == b.pieces;
        a.repeat += u32::from(alike) * b.repeat;
        alike
    });
    plan
}

fn shelves(
    parts: &[Part],
    pieces: &mut Vec<PartId>,
    stock: StockId,
    (along, across): (Length, Length),
    trim: Length,
    kerf: Length,
) -> SheetLayout {
    let mut sheet = SheetLayout {
        stock,
        repeat: 1,
        trim,
        pieces: Vec::new(),
        cuts: Vec::new(),
        offcuts: Vec::new(),
    };
    let (end_x, end_y) = (along - trim, across - trim);
    let mut y = trim;
    loop {
        let mut x = trim;
        let mut shelf = Length::ZERO;
        let mut i = 0;
        while i < pieces.len() {
            let part = &parts[pieces[i].0 as usize];
            let tall =
                if shelf.is_positive() { part.width > shelf } else { y + part.width > end_y };
            if x + part.length > end_x || tall {
                i += 1;
                continue;
            }
            let at = Rect { x, y, dx: part.length, dy: part.width };
            if !shelf.is_positive() {
                shelf = part.width;
                let panel = Rect { x: trim, y, dx: end_x - trim, dy: end_y - y };
                sheet.cuts.push(Cut { panel, axis: Axis::Y, at: y + shelf });
            }
            let panel = Rect { x, y, dx: end_x - x, dy: shelf };
            sheet.cuts.push(Cut { panel, axis: Axis::X, at: x + part.length });
            sheet.pieces.push(SheetPiece { part: pieces.remove(i), at });
            x += part.length + kerf;
        }
        if !shelf.is_positive() {
            break;
        }
        let rest = Rect { x, y, dx: end_x - x, dy: shelf };
        if rest.dx >= inch(12, 1) && rest.dy >= inch(12, 1) {
            sheet.offcuts.push(rest);
        }
        y += shelf + kerf;
    }
    assert!(!sheet.pieces.is_empty(), "a part of the sample is larger than its sheet");
    let rest = Rect { x: trim, y, dx: end_x - trim, dy: end_y - y };
    if rest.dy >= inch(12, 1) {
        sheet.offcuts.push(rest);
    }
    sheet
}

fn bar(
    parts: &[Part],
    pieces: &mut Vec<PartId>,
    stock: StockId,
    length: Length,
    kerf: Length,
) -> BoardLayout {
    let mut at = Length::ZERO;
    let mut out = BoardLayout { stock, repeat: 1, pieces: Vec::new(), offcut: Length::ZERO };
    let mut i = 0;
    while i < pieces.len() {
        let long = parts[pieces[i].0 as usize].length;
        if at + long > length {
            i += 1;
            continue;
        }
        out.pieces.push(BoardPiece { part: pieces.remove(i), at, length: long });
        at += long + kerf;
    }
    assert!(!out.pieces.is_empty(), "a part of the sample is longer than its board");
    out.offcut = (length - at).or_zero();
    out
}
