//! The design: gear laid into drawers and parts onto stock, row by row.

use super::{Wish, inch};
use crate::design::derive::{build, carcass, figures, hardware};
use crate::design::{
    Axis, BoardLayout, BoardPiece, Box3, Chest, Content, Cut, CuttingPlan, Design, DesignId, Item,
    Layout, Part, PartId, PocketPlace, Point, Rect, SheetLayout, SheetPiece, Size, Stowage,
    Structure, TierChoice,
};
use crate::scenario::*;
use crate::units::Length;

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
        deck_grain: DeckGrain::Along,
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
        let layouts = frame.empty_drawers(scenario.shop.step).into_iter().map(|drawer| {
            let size = Size::new(drawer.width, drawer.length, drawer.height);
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
