//! A good design to break: two tiers of two columns between the wells, stowed and cut by hand.
//!
//! Chest and boxes come from the derivations of the design room, which the verifier does not use: that the two agree on
//! a whole design is half of the test. Layouts, cutting plan and purchases are made here.

use crate::design::derive::{self, figures, hardware};
use crate::design::*;
use crate::scenario::fixture::{full_size, inches, optional, sixteenths};
use crate::scenario::*;
use crate::units::{Length, Mass, Money, Volume};

/// Gear of the scenario, in order.
pub const DRILL: GearId = GearId(0);
pub const SAW: GearId = GearId(1);
pub const CLAMP: GearId = GearId(2);
pub const VACUUM: GearId = GearId(3);
pub const TIN: GearId = GearId(4);
pub const METER: GearId = GearId(5);
pub const JACK: GearId = GearId(6);
pub const STAPLES: LooseId = LooseId(0);

/// The full-size bed, with tins to stack and share, a meter with padding, a jack for a pocket, staples, and limits.
pub fn scenario() -> Scenario {
    let mut scenario = full_size();
    scenario.gear.push(Gear { stack: 2, share: true, ..optional("tin", [6, 6, 2], 4, 1) });
    scenario.gear.push(Gear { padding: inches(1), ..optional("meter", [8, 6, 4], 1, 3) });
    scenario.gear.push(Gear { pocket: true, ..optional("jack", [10, 5, 5], 1, 1) });
    scenario.loose.push(Loose {
        name: "staples".to_owned(),
        volume: Volume::GALLON,
        least: inches(4),
        mass: Mass::POUND * 10,
        demand: Demand::Worth(2000),
        uses_milli: 500,
        near: None,
        place: None,
    });
    scenario.shop.edge_trim = sixteenths(4);
    scenario.stock.hardware[HardwareId(0)].on_hand = 1;
    scenario.aims.limits = Limits {
        cost: Some(Money::ONE * 2000),
        mass: Some(Mass::POUND * 600),
        pull_newtons: Some(147.0),
        deck_load: Some(Mass::POUND * 400),
        deck_pressure: None,
    };
    scenario
}

fn material(scenario: &Scenario, name: &str) -> MaterialId {
    scenario.stock.material_named(name).expect("a material of the fixture")
}

pub fn structure(scenario: &Scenario) -> Structure {
    let named = |name| material(scenario, name);
    let tier = TierChoice { columns: 2, member: named("2x8"), height: sixteenths(116) };
    Structure {
        family: Family::BetweenWells,
        seamless: false,
        tiers: vec![tier, tier],
        bottom: named("1/2 plywood"),
        deck: named("3/4 plywood"),
        deck_grain: crate::scenario::DeckGrain::Along,
        sides: named("1x8"),
        drawer_bottom: named("1/2 plywood"),
        front: named("1x8"),
        divider: named("1/2 plywood"),
        runs: Runs::Strip,
    }
}

/// Sixteenths of an inch: where a thing is and how large.
fn space(at: [i64; 3], size: [i64; 3]) -> Box3 {
    let [x, y, z] = at.map(sixteenths);
    let [dx, dy, dz] = size.map(sixteenths);
    Box3 { at: Point::new(x, y, z), size: Size::new(dx, dy, dz) }
}

pub fn item(content: Content, copy: u32, at: [i64; 3], size: [i64; 3]) -> Item {
    Item { content, copy, space: space(at, size) }
}

/// Each drawer is 20 7/8 × 67 1/2 × 6 in inside (334 × 1080 × 96 sixteenths), its dividers 3 9/16 (57) high.
fn layouts() -> [Layout; 4] {
    let gear = Content::Gear;
    let layout = |dividers: Vec<Box3>, items: Vec<Item>| Layout {
        width: sixteenths(334),
        length: sixteenths(1080),
        height: sixteenths(96),
        dividers,
        items,
    };
    [
        layout(
            vec![
                space([0, 240, 0], [334, 8, 57]),
                space([192, 0, 0], [8, 240, 57]),
                space([160, 248, 0], [8, 832, 57]),
            ],
            vec![
                item(gear(DRILL), 0, [0, 0, 0], [192, 240, 80]),
                item(Content::Loose(STAPLES), 0, [200, 0, 0], [134, 240, 32]),
                item(gear(SAW), 0, [0, 248, 0], [160, 288, 96]),
                item(gear(TIN), 0, [168, 248, 0], [96, 96, 32]),
                item(gear(TIN), 1, [168, 248, 32], [96, 96, 32]),
                item(gear(TIN), 2, [168, 344, 0], [96, 96, 32]),
                item(gear(TIN), 3, [168, 344, 32], [96, 96, 32]),
            ],
        ),
        layout(
            vec![space([0, 240, 0], [334, 8, 57])],
            vec![
                item(gear(DRILL), 1, [0, 0, 0], [192, 240, 80]),
                item(gear(VACUUM), 0, [0, 248, 0], [240, 320, 96]),
            ],
        ),
        layout(
            vec![space([64, 0, 0], [8, 1080, 57])],
            vec![
                item(gear(CLAMP), 0, [0, 0, 0], [64, 480, 64]),
                item(gear(CLAMP), 1, [72, 0, 0], [64, 480, 64]),
            ],
        ),
        layout(vec![], vec![item(gear(METER), 0, [16, 16, 0], [96, 128, 64])]),
    ]
}

/// The whole design: nothing is wrong with it.
pub fn design(scenario: &Scenario) -> Design {
    let structure = structure(scenario);
    let carcass = derive::carcass(scenario, &structure).expect("the chest fits");
    let stowage = stowage(scenario, &structure, &carcass);
    finished(scenario, structure, carcass, stowage)
}

fn stowage(scenario: &Scenario, structure: &Structure, carcass: &Carcass) -> Stowage {
    let pockets = derive::pockets::pockets(scenario, structure, carcass);
    let (place, clear) = pockets[0];
    let pocket = Layout {
        width: clear.size.dx,
        length: clear.size.dy,
        height: clear.size.dz,
        dividers: vec![],
        items: vec![item(Content::Gear(JACK), 0, [0, 0, 0], [80, 160, 80])],
    };
    let [a1, a2, b1, b2] = layouts();
    let clamps = Unstowed { content: Content::Gear(CLAMP), count: 1, why: LeftOut::NoRoom };
    Stowage {
        tiers: vec![vec![a1, a2], vec![b1, b2]],
        pockets: vec![(place, pocket)],
        left_out: vec![clamps],
    }
}

/// A chest of some structure with nothing in it: its openings as equal as the shop's step allows.
pub fn empty(scenario: &Scenario, structure: Structure) -> Result<Design, derive::Misfit> {
    let carcass = derive::carcass(scenario, &structure)?;
    let tiers = carcass.tiers.iter().map(|frame| frame.empty_drawers(scenario.shop.step));
    let gear = scenario.gear.iter().map(|(id, gear)| (Content::Gear(id), gear.count));
    let loose = scenario.loose.ids().map(|id| (Content::Loose(id), 1));
    let stowage = Stowage {
        tiers: tiers.collect(),
        pockets: vec![],
        left_out: gear
            .chain(loose)
            .map(|(content, count)| Unstowed { content, count, why: LeftOut::NoRoom })
            .collect(),
    };
    derive::build(scenario, &structure, carcass.clone(), stowage.clone())?;
    Ok(finished(scenario, structure, carcass, stowage))
}

fn finished(
    scenario: &Scenario,
    structure: Structure,
    carcass: Carcass,
    stowage: Stowage,
) -> Design {
    let left_out = stowage.left_out.clone();
    let built = derive::build(scenario, &structure, carcass, stowage).expect("the layouts fill it");
    let hardware = hardware::hardware(scenario, &structure, &built);
    let mut design = Design {
        id: DesignId(1),
        structure,
        chest: built.chest,
        drawers: built.drawers,
        pockets: built.pockets,
        left_out,
        parts: built.parts,
        solids: built.solids,
        fixings: crate::design::Fixings::usual(scenario),
        hardware,
        cutting: CuttingPlan::default(),
        purchases: vec![],
        checks: vec![],
        criteria: nothing(),
    };
    design.checks = checks(&design.drawers);
    design.cutting = cutting(scenario, &design.parts);
    refresh(scenario, &mut design);
    design
}

/// Purchases, bound and criteria anew, as if the rest were right.
pub fn refresh(scenario: &Scenario, design: &mut Design) {
    design.purchases = purchases(scenario, design);
    design.cutting.bound = Money::ZERO;
    design.criteria = figures::criteria(
        scenario,
        figures::Figured {
            carcass: &design.chest.carcass,
            drawers: &design.drawers,
            pockets: &design.pockets,
            parts: &design.parts,
            hardware: &design.hardware,
            cutting: &design.cutting,
            purchases: &design.purchases,
            checks: &design.checks,
        },
    );
}

fn nothing() -> Criteria {
    Criteria {
        usable_volume: Volume::ZERO,
        value_milli: 0,
        reach_mm: 0.0,
        waste: 0.0,
        sheet_waste: 0.0,
        board_waste: 0.0,
        cost: Money::ZERO,
        mass: Mass::ZERO,
        loaded_mass: Mass::ZERO,
        margin: None,
        simplicity: 0,
    }
}

fn checks(drawers: &[Drawer]) -> Vec<Check> {
    let check = |name: &str, value, limit, unit, strength| Check {
        name: name.to_owned(),
        value,
        limit,
        sense: Sense::Most,
        unit,
        strength,
        advisory: false,
        note: false,
        source: "made up".into(),
        remark: crate::design::Remark::default(),
    };
    let mut checks = vec![check("deck sag, loaded", 2.0, 4.0, "mm", true)];
    for Drawer { name, .. } in drawers {
        checks.push(check(&format!("pull of drawer {name}"), 60.0, 147.0, "N", false));
    }
    checks
}

/// A plain plan: sheets in strips as high as their first piece, boards filled in the order of the parts.
fn cutting(scenario: &Scenario, parts: &[Part]) -> CuttingPlan {
    let mut plan = CuttingPlan { kerf: scenario.shop.kerf, ..CuttingPlan::default() };
    for (id, material) in scenario.stock.materials.iter() {
        let mut pieces: Vec<(PartId, &Part)> = (0_u32..)
            .zip(parts)
            .filter(|(_, part)| part.material == id)
            .flat_map(|(index, part)| {
                std::iter::repeat_n((PartId(index), part), part.quantity as usize)
            })
            .collect();
        pieces.sort_by_key(|(part, piece)| (-piece.width, -piece.length, *part));
        if material.is_board() {
            plan.boards.extend(boards(scenario, id, &pieces));
        } else {
            plan.sheets.extend(sheets(scenario, id, &pieces));
        }
    }
    plan
}

fn boards(scenario: &Scenario, id: MaterialId, pieces: &[(PartId, &Part)]) -> Vec<BoardLayout> {
    let (stock, item) = scenario.stock.of(id).last().expect("boards are sold");
    let Form::Board { length } = item.form else { panic!("a board") };
    let kerf = scenario.shop.kerf;
    let mut boards: Vec<BoardLayout> = vec![];
    for (part, piece) in pieces {
        let fits = |board: &&mut BoardLayout| board.offcut >= piece.length;
        let board = match boards.iter_mut().find(fits) {
            Some(board) => board,
            None => {
                boards.push(BoardLayout { stock, repeat: 1, pieces: vec![], offcut: length });
                boards.last_mut().expect("just pushed")
            }
        };
        let at = length - board.offcut;
        board.pieces.push(BoardPiece { part: *part, at, length: piece.length });
        board.offcut = (board.offcut - piece.length - kerf).or_zero();
    }
    boards
}

fn sheets(scenario: &Scenario, id: MaterialId, pieces: &[(PartId, &Part)]) -> Vec<SheetLayout> {
    let (stock, item) = scenario.stock.of(id).next().expect("sheets are sold");
    let Form::Sheet { along, across } = item.form else { panic!("a sheet") };
    let (kerf, trim) = (scenario.shop.kerf, scenario.shop.edge_trim);
    let whole = Rect { x: trim, y: trim, dx: along - trim * 2, dy: across - trim * 2 };
    let mut sheets: Vec<SheetLayout> = vec![];
    // What is left of the last sheet's height, and of its last strip's length.
    let (mut left, mut strip) = (None::<Rect>, None::<Rect>);
    for (part, piece) in pieces {
        let size = [piece.length, piece.width];
        let holds = |rect: &Rect| size[0] <= rect.dx && size[1] <= rect.dy;
        if strip.filter(holds).is_none() {
            if left.filter(holds).is_none() {
                let layout = SheetLayout {
                    stock,
                    repeat: 1,
                    trim,
                    pieces: vec![],
                    cuts: vec![],
                    offcuts: left.filter(|rest| is_kept(scenario, rest)).into_iter().collect(),
                };
                // The rest of the sheet before belongs to it.
                let mut layout = layout;
                if let Some(before) = sheets.last_mut() {
                    before.offcuts = std::mem::take(&mut layout.offcuts);
                }
                sheets.push(layout);
                left = Some(whole);
            }
            let panel = left.expect("a fresh sheet at least");
            let sheet = sheets.last_mut().expect("opened above");
            let (own, rest) = saw(sheet, panel, Axis::Y, size[1], kerf);
            (strip, left) = (Some(own), rest);
        }
        let panel = strip.expect("opened above");
        let sheet = sheets.last_mut().expect("opened above");
        let (own, rest) = saw(sheet, panel, Axis::X, size[0], kerf);
        let (own, _) = saw(sheet, own, Axis::Y, size[1], kerf);
        sheet.pieces.push(SheetPiece { part: *part, at: own });
        strip = rest;
    }
    if let Some(last) = sheets.last_mut() {
        last.offcuts = left.filter(|rest| is_kept(scenario, rest)).into_iter().collect();
    }
    sheets
}

fn is_kept(scenario: &Scenario, rest: &Rect) -> bool {
    let [longer, shorter] = scenario.shop.keep_offcut;
    rest.dx.max(rest.dy) >= longer && rest.dx.min(rest.dy) >= shorter
}

/// Cuts `size` off a panel if it is larger: what is cut off, and the rest beyond the kerf.
fn saw(
    sheet: &mut SheetLayout,
    panel: Rect,
    axis: Axis,
    size: Length,
    kerf: Length,
) -> (Rect, Option<Rect>) {
    let (from, extent) = if axis == Axis::X { (panel.x, panel.dx) } else { (panel.y, panel.dy) };
    if size == extent {
        return (panel, None);
    }
    sheet.cuts.push(Cut { panel, axis, at: from + size });
    let side = |from: Length, extent: Length| match axis {
        Axis::X => Rect { x: from, dx: extent, ..panel },
        Axis::Y => Rect { y: from, dy: extent, ..panel },
    };
    let rest = extent - size - kerf;
    (side(from, size), rest.is_positive().then(|| side(from + size + kerf, rest)))
}

fn purchases(scenario: &Scenario, design: &Design) -> Vec<Purchase> {
    let stock = &scenario.stock;
    let mut list = vec![];
    for (id, item) in stock.items.iter() {
        let sheets = design.cutting.sheets.iter().filter(|layout| layout.stock == id);
        let boards = design.cutting.boards.iter().filter(|layout| layout.stock == id);
        let quantity = sheets.map(|layout| layout.repeat).sum::<u32>()
            + boards.map(|layout| layout.repeat).sum::<u32>();
        list.push((PurchaseOf::Stock(id), quantity, item.on_hand, item.price));
    }
    for line in &design.hardware {
        if let Some(id) = line.hardware {
            let hardware = &stock.hardware[id];
            let of = PurchaseOf::Hardware(id);
            list.push((of, line.packages, hardware.on_hand, hardware.price));
        }
    }
    list.into_iter()
        .filter(|(_, quantity, ..)| *quantity > 0)
        .map(|(what, quantity, on_hand, unit_price)| {
            let on_hand = quantity.min(on_hand);
            let cost = unit_price * i64::from(quantity - on_hand);
            Purchase { what, quantity, on_hand, unit_price, cost }
        })
        .collect()
}
