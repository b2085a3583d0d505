//! Realistic scenarios and designs for this room's tests. The dimensions come from the derivations; the stowing and the
//! cutting are simple rows, laid by hand, that depend on no search.

use crate::design::derive::figures::{Figured, criteria};
use crate::design::derive::hardware::hardware;
use crate::design::derive::{build, carcass};
use crate::design::{
    Axis, BoardLayout, BoardPiece, Box3, Check, Content, Cut, CuttingPlan, Design, DesignId, Item,
    Layout, LeftOut, Part, PartId, Point, Purchase, PurchaseOf, Rect, Sense, SheetLayout,
    SheetPiece, Size, Stowage, Structure, TierChoice, TierFrame, Unstowed,
};
use crate::report::subject::{
    Candidate, Considered, DefaultUsed, Explanation, Findings, Settings, Standing,
};
use crate::scenario::*;
use crate::units::{Length, Mass, Money, UnitSystem, Volume};
use crate::verify::{Verified, verify};

fn inch(numerator: i64, denominator: i64) -> Length {
    Length::inches(numerator, denominator)
}

fn price(hundredths: i64) -> Money {
    Money::from_parts(hundredths * 100)
}

/// A pickup bed with an older bed's 48 in between the wells, an electrician's gear, and a yard's stock.
pub fn electrician() -> Scenario {
    let stock = stock();
    let material = |name: &str| stock.material_named(name).expect("a material of this fixture");
    Scenario {
        title: "Service electrician, full-size bed".to_owned(),
        units: UnitSystem::Inch,
        currency: "USD".to_owned(),
        bed: bed(),
        gear: gear().into_iter().collect(),
        loose: [loose()].into_iter().collect(),
        shop: Shop {
            kerf: inch(1, 8),
            edge_trim: Length::ZERO,
            keep_offcut: [inch(12, 1), inch(12, 1)],
            least_rip: inch(1, 1),
            step: inch(1, 16),
            saw_capacity: None,
        },
        choices: Choices {
            families: vec![Family::BetweenWells],
            tiers: vec![1, 2],
            columns: vec![1, 2, 3],
            members: vec![material("2x8"), material("2x10")],
            bottom: vec![material("1/2 plywood")],
            deck: vec![material("3/4 plywood")],
            drawer_sides: vec![material("1x8")],
            drawer_bottoms: vec![material("1/2 plywood")],
            fronts: vec![material("3/4 plywood")],
            dividers: vec![material("1/2 plywood")],
            corner_blocks: Some(material("2x2")),
            runs_on: vec![Runs::Strip],
            locks: true,
            pockets: true,
        },
        allowances: allowances(),
        aims: Aims {
            weights: [3.0, 1.0, 2.0, 2.0, 1.0, 0.0, 0.5, 0.0],
            limits: Limits {
                cost: Some(price(75_000)),
                mass: Some(Mass::POUND * 450),
                pull_newtons: Some(147.0),
                deck_load: Some(Mass::POUND * 400),
            },
        },
        stock,
    }
}

fn bed() -> Bed {
    Bed {
        kind: BedKind::Pickup,
        length: Measured { at: inch(157, 2), tol: inch(1, 8) },
        width: Measured::exact(inch(66, 1)),
        wells: Some(Wells {
            between: Measured::exact(inch(193, 4)),
            from_tailgate: inch(24, 1),
            length: inch(36, 1),
            height: inch(19, 2),
        }),
        depth: Some(Measured::exact(inch(43, 2))),
        clear_height: Measured::exact(inch(20, 1)),
        opening: None,
        tailgate: Some(Tailgate {
            rise: inch(1, 2),
            slope_millideg: 0,
            length: inch(22, 1),
            rating: Some(Mass::POUND * 300),
        }),
        payload: Some(Mass::POUND * 1150),
        wheelbase: Some(inch(145, 1)),
        rear_axle_from_tailgate: Some(inch(43, 1)),
    }
}

fn allowances() -> Allowances {
    Allowances {
        handle_room: inch(3, 1),
        front: inch(1, 4),
        fit: inch(1, 4),
        top: inch(1, 4),
        side_gap: inch(1, 4),
        runner: inch(1, 4),
        top_clearance: inch(1, 4),
        stop: inch(1, 4),
        deck_overhang: inch(3, 4),
        front_gap: inch(1, 8),
        front_reveal: inch(1, 8),
        running: inch(1, 4),
        well: inch(1, 2),
        lock_room: inch(2, 1),
        pocket: inch(1, 4),
        divider_percent: 75,
        chest_screws: Fastening { spacing: inch(6, 1), ends: inch(2, 1) },
        drawer_screws: Fastening { spacing: inch(6, 1), ends: inch(1, 1) },
        least_drawer_width: inch(6, 1),
        least_drawer_height: inch(2, 1),
        least_pocket: inch(6, 1),
    }
}

/// A sheet material, and the sheets that it comes in: name, along, across, hundredths, on hand, most.
fn stock() -> Stock {
    let mut stock = Stock::default();
    let mut sheet = |name: &str, thickness, hundredths| {
        let material = stock.materials.push(Material {
            name: name.to_owned(),
            section: Section::Sheet,
            thickness,
            density: 577.0,
            stiffness: Stiffness::SpanRating("32/16".to_owned()),
            grain: true,
        });
        stock.items.push(StockItem {
            material,
            name: format!("{name} 4x8"),
            form: Form::Sheet { along: inch(96, 1), across: inch(48, 1) },
            price: price(hundredths),
            on_hand: 0,
            most: None,
        });
    };
    sheet("1/2 plywood", inch(15, 32), 3850);
    sheet("3/4 plywood", inch(23, 32), 5475);
    for (name, thickness, width, hundredths) in [
        ("2x8", inch(3, 2), inch(29, 4), 1260),
        ("2x10", inch(3, 2), inch(37, 4), 1710),
        ("1x8", inch(3, 4), inch(29, 4), 1495),
        ("2x2", inch(3, 2), inch(3, 2), 410),
    ] {
        let material = stock.materials.push(Material {
            name: name.to_owned(),
            section: Section::Board { width },
            thickness,
            density: 450.0,
            stiffness: Stiffness::Grade("SPF No. 2".to_owned()),
            grain: true,
        });
        stock.items.push(StockItem {
            material,
            name: format!("{name} 10 ft"),
            form: Form::Board { length: inch(120, 1) },
            price: price(hundredths),
            on_hand: u32::from(name == "2x2"),
            most: None,
        });
    }
    let mut thing = |name: &str, use_, sold, hundredths, thickness| {
        stock.hardware.push(Hardware {
            name: name.to_owned(),
            use_,
            sold,
            price: price(hundredths),
            on_hand: 0,
            mass: Mass::from_kg(0.01),
            thickness,
            rating: None,
        });
    };
    let box_of_100 = Sold::Each { pack: 100 };
    thing("#10 x 2 1/2 in screws", HardwareUse::ChestScrew, box_of_100, 1140, Length::ZERO);
    thing("#8 x 1 1/2 in screws", HardwareUse::DrawerScrew, box_of_100, 780, Length::ZERO);
    let plastic = Sold::Ripped { across: inch(12, 1), along: inch(48, 1), width: inch(1, 1) };
    thing("1/8 in slippery plastic, 12 x 48", HardwareUse::Strip, plastic, 3200, inch(1, 8));
    thing("Flush handle", HardwareUse::Handle, Sold::Each { pack: 1 }, 1250, Length::ZERO);
    thing("Cam lock", HardwareUse::Lock, Sold::Each { pack: 1 }, 1480, Length::ZERO);
    let rod = Sold::Length { length: inch(36, 1) };
    thing("1/4 in steel rod, 3 ft", HardwareUse::LockRod, rod, 520, Length::ZERO);
    stock
}

fn thing(
    name: &str,
    size: [Length; 3],
    pounds: i64,
    count: u32,
    uses: i64,
    demand: Demand,
) -> Gear {
    Gear {
        name: name.to_owned(),
        size,
        mass: Mass::POUND * pounds,
        count,
        turn: Turn::Base,
        demand,
        uses_milli: uses * 1000,
        near: None,
        share: false,
        stack: 1,
        padding: Length::ZERO,
        pocket: false,
    }
}

fn gear() -> Vec<Gear> {
    let worth = Demand::Worth(5000);
    let size = |l, w, h| [inch(l, 2), inch(w, 2), inch(h, 2)];
    vec![
        thing("Impact driver case", size(29, 25, 9), 11, 2, 10, Demand::Must),
        thing("Hammer drill case", size(36, 27, 10), 17, 1, 5, Demand::Must),
        thing("Fish tape reel", size(27, 26, 7), 6, 2, 4, worth),
        thing("Conduit bender head", size(40, 20, 9), 9, 1, 2, worth),
        thing("Knockout punch set", size(33, 24, 8), 21, 1, 1, worth),
        thing("Wire spool, 500 ft", size(16, 16, 8), 14, 6, 5, worth),
        thing("Meter and test lead bag", size(28, 20, 10), 5, 1, 20, Demand::Must),
        thing("Extension ladder", size(170, 32, 12), 32, 1, 1, worth),
        thing("Generator", size(48, 36, 44), 105, 1, 1, worth),
    ]
}

fn loose() -> Loose {
    Loose {
        name: "Wire nuts and staples".to_owned(),
        volume: Volume::from_units(Volume::GALLON.units() * 2),
        least: inch(3, 1),
        mass: Mass::POUND * 9,
        demand: Demand::Must,
        uses_milli: 10_000,
        near: None,
    }
}

/// Two drawers of 2x8 under one of 2x10.
pub fn structure(scenario: &Scenario) -> Structure {
    let choices = &scenario.choices;
    Structure {
        family: Family::BetweenWells,
        seamless: true,
        tiers: vec![
            TierChoice { columns: 2, member: choices.members[0], height: inch(29, 4) },
            TierChoice { columns: 1, member: choices.members[1], height: inch(37, 4) },
        ],
        bottom: choices.bottom[0],
        deck: choices.deck[0],
        sides: choices.drawer_sides[0],
        drawer_bottom: choices.drawer_bottoms[0],
        front: choices.fronts[0],
        divider: choices.dividers[0],
        runs: Runs::Strip,
    }
}

/// The design of [`structure`] for [`electrician`], whole.
pub fn design(scenario: &Scenario) -> Design {
    let structure = structure(scenario);
    let frames = carcass(scenario, &structure).expect("the fixture's chest stands in its bed");
    let stowage = stowage(scenario, &frames.tiers);
    let left_out = stowage.left_out.clone();
    let built =
        build(scenario, &structure, frames, stowage).expect("the fixture's layouts fill it");
    let hardware = hardware(scenario, &structure, &built);
    let cutting = cutting(scenario, &built.parts);
    let purchases = purchases(scenario, &cutting, &hardware);
    let checks = checks();
    let criteria = criteria(
        scenario,
        Figured {
            carcass: &built.chest.carcass,
            drawers: &built.drawers,
            pockets: &built.pockets,
            parts: &built.parts,
            hardware: &hardware,
            cutting: &cutting,
            purchases: &purchases,
            checks: &checks,
        },
    );
    Design {
        id: DesignId(0x2_3456_789a),
        structure,
        chest: built.chest,
        drawers: built.drawers,
        pockets: built.pockets,
        left_out,
        parts: built.parts,
        solids: built.solids,
        hardware,
        cutting,
        purchases,
        checks,
        criteria,
    }
}

/// What stands in each lane, front to back: name, copies and whether it is turned.
type Lane = &'static [(&'static str, u32, bool)];

fn stowage(scenario: &Scenario, tiers: &[TierFrame]) -> Stowage {
    let half = tiers[0].inside_width() / 2;
    let left: &[Lane] = &[&[
        ("Impact driver case", 2, false),
        ("Hammer drill case", 1, false),
        ("Meter and test lead bag", 1, false),
    ]];
    let right: &[Lane] =
        &[&[("Wire spool, 500 ft", 6, false)], &[("Wire nuts and staples", 1, false)]];
    let top: &[Lane] = &[
        &[("Fish tape reel", 2, false), ("Conduit bender head", 1, false)],
        &[("Knockout punch set", 1, true)],
    ];
    let content = |name: &str| content(scenario, name);
    let more = scenario.gear.iter().filter(|(_, gear)| gear.name.contains(" number "));
    let more = more.map(|(id, gear)| Unstowed {
        content: Content::Gear(id),
        count: gear.count,
        why: LeftOut::NoRoom,
    });
    let mut left_out = vec![
        Unstowed {
            content: content("Extension ladder"),
            count: 1,
            why: LeftOut::TooLarge { by: inch(67, 4) },
        },
        Unstowed {
            content: content("Generator"),
            count: 1,
            why: LeftOut::TooHigh { by: inch(109, 8) },
        },
    ];
    left_out.extend(more);
    Stowage {
        tiers: vec![
            vec![
                layout(scenario, &tiers[0], half, left),
                layout(scenario, &tiers[0], tiers[0].inside_width() - half, right),
            ],
            vec![layout(scenario, &tiers[1], tiers[1].inside_width(), top)],
        ],
        pockets: Vec::new(),
        left_out,
    }
}

/// What is called `name`, or begins so.
pub fn content(scenario: &Scenario, name: &str) -> Content {
    let gear = scenario.gear.iter().find(|(_, gear)| gear.name.starts_with(name));
    let loose = scenario.loose.iter().find(|(_, loose)| loose.name == name);
    gear.map(|(id, _)| Content::Gear(id))
        .or(loose.map(|(id, _)| Content::Loose(id)))
        .expect("a thing of this fixture")
}

fn layout(scenario: &Scenario, frame: &TierFrame, width: Length, lanes: &[Lane]) -> Layout {
    let board = inch(15, 32);
    let length = frame.drawer_inside_length;
    let mut plan = Layout {
        width,
        length,
        height: frame.clear_height,
        dividers: Vec::new(),
        items: Vec::new(),
    };
    let mut divider = |x, y, dx, dy| {
        let size = Size::new(dx, dy, frame.divider_height);
        plan.dividers.push(Box3 { at: Point::new(x, y, Length::ZERO), size });
    };
    let mut x = Length::ZERO;
    for (index, lane) in lanes.iter().enumerate() {
        let last = index + 1 == lanes.len();
        let sizes: Vec<(Content, u32, Size)> = lane
            .iter()
            .flat_map(|&(name, copies, turned)| (0..copies).map(move |copy| (name, copy, turned)))
            .map(|(name, copy, turned)| {
                let content = content(scenario, name);
                (content, copy, stance(scenario, content, turned, frame.clear_height))
            })
            .collect();
        let widest = sizes.iter().map(|(_, _, size)| size.dx).max().expect("no lane is empty");
        let lane_width = if last { width - x } else { widest };
        let mut y = Length::ZERO;
        for (content, copy, size) in sizes {
            plan.items.push(Item {
                content,
                copy,
                space: Box3 { at: Point::new(x, y, Length::ZERO), size },
            });
            y += size.dy;
            divider(x, y, lane_width, board);
            y += board;
        }
        assert!(y <= length, "a lane of the fixture is too long");
        x += lane_width;
        if !last {
            divider(x, Length::ZERO, board, length);
            x += board;
        }
    }
    assert!(x <= width, "the lanes of the fixture are too wide");
    plan
}

fn stance(scenario: &Scenario, content: Content, turned: bool, height: Length) -> Size {
    match content {
        Content::Gear(id) => {
            let [length, width, height] = scenario.gear[id].size;
            let (dx, dy) = if turned { (length, width) } else { (width, length) };
            Size::new(dx, dy, height)
        }
        Content::Loose(id) => {
            let base = scenario.loose[id].volume.base_at(height).expect("a drawer has a height");
            let dx = inch(8, 1);
            let dy = Length::from_units(
                i64::try_from(base.units() / i128::from(dx.units()) + 1).expect("a short cell"),
            );
            Size::new(dx, dy, height)
        }
    }
}

fn cutting(scenario: &Scenario, parts: &[Part]) -> CuttingPlan {
    let mut plan = CuttingPlan { kerf: scenario.shop.kerf, ..CuttingPlan::default() };
    for (id, item) in scenario.stock.items.iter() {
        let pieces: Vec<(PartId, [Length; 2])> = parts
            .iter()
            .enumerate()
            .filter(|(_, part)| part.material == item.material)
            .flat_map(|(index, part)| {
                let id = PartId(u32::try_from(index).expect("few parts"));
                std::iter::repeat_n((id, [part.length, part.width]), part.quantity as usize)
            })
            .collect();
        match item.form {
            Form::Sheet { along, across } => {
                plan.sheets.extend(sheets(id, [along, across], pieces, scenario));
            }
            Form::Board { length } => plan.boards.extend(boards(id, length, pieces, plan.kerf)),
        }
    }
    plan
}

/// First fit, longest first, one layout a board.
fn boards(
    stock: StockId,
    length: Length,
    mut pieces: Vec<(PartId, [Length; 2])>,
    kerf: Length,
) -> Vec<BoardLayout> {
    pieces.sort_by_key(|(part, [along, _])| (std::cmp::Reverse(*along), *part));
    let mut boards: Vec<BoardLayout> = Vec::new();
    for (part, [along, _]) in pieces {
        let fits = boards.iter().position(|board| board.offcut >= along);
        let board = match fits {
            Some(index) => &mut boards[index],
            None => {
                boards.push(BoardLayout { stock, repeat: 1, pieces: Vec::new(), offcut: length });
                boards.last_mut().expect("just pushed")
            }
        };
        let at = length - board.offcut;
        board.pieces.push(BoardPiece { part, at, length: along });
        board.offcut = (board.offcut - along - kerf).or_zero();
    }
    boards
}

/// Rows across the grain, widest part first: each row is ripped off, then crosscut, then its parts trimmed to width.
fn sheets(
    stock: StockId,
    [along, across]: [Length; 2],
    mut pieces: Vec<(PartId, [Length; 2])>,
    scenario: &Scenario,
) -> Vec<SheetLayout> {
    let kerf = scenario.shop.kerf;
    pieces.sort_by_key(|(part, [length, width])| {
        (std::cmp::Reverse(*width), std::cmp::Reverse(*length), *part)
    });
    let mut layouts = Vec::new();
    while !pieces.is_empty() {
        let mut layout = SheetLayout {
            stock,
            repeat: 1,
            trim: Length::ZERO,
            pieces: Vec::new(),
            cuts: Vec::new(),
            offcuts: Vec::new(),
        };
        let mut rest = Rect { x: Length::ZERO, y: Length::ZERO, dx: along, dy: across };
        while let Some(first) = pieces.iter().position(|(_, [_, width])| *width <= rest.dy) {
            let row = pieces[first].1[1];
            let strip = cut(&mut layout, &mut rest, Axis::Y, row, kerf);
            let mut left = strip;
            while let Some(next) = pieces.iter().position(|(_, [l, w])| *l <= left.dx && *w <= row)
            {
                let (part, [length, width]) = pieces.remove(next);
                let mut bay = cut(&mut layout, &mut left, Axis::X, length, kerf);
                let at = cut(&mut layout, &mut bay, Axis::Y, width, kerf);
                layout.pieces.push(SheetPiece { part, at });
            }
            keep(&mut layout, left, scenario);
        }
        keep(&mut layout, rest, scenario);
        assert!(!layout.pieces.is_empty(), "a part of the fixture is larger than its sheet");
        layouts.push(layout);
    }
    layouts
}

fn keep(layout: &mut SheetLayout, rest: Rect, scenario: &Scenario) {
    let [longer, shorter] = scenario.shop.keep_offcut;
    if rest.dx.max(rest.dy) >= longer && rest.dx.min(rest.dy) >= shorter {
        layout.offcuts.push(rest);
    }
}

/// Cuts `size` off a panel, which becomes the rest beyond the kerf; a panel of just that size needs no cut.
fn cut(layout: &mut SheetLayout, panel: &mut Rect, axis: Axis, size: Length, kerf: Length) -> Rect {
    let mut taken = *panel;
    match axis {
        Axis::X => {
            if size < panel.dx {
                layout.cuts.push(Cut { panel: *panel, axis, at: panel.x + size });
            }
            taken.dx = size;
            panel.x += size + kerf;
            panel.dx = (panel.dx - size - kerf).or_zero();
        }
        Axis::Y => {
            if size < panel.dy {
                layout.cuts.push(Cut { panel: *panel, axis, at: panel.y + size });
            }
            taken.dy = size;
            panel.y += size + kerf;
            panel.dy = (panel.dy - size - kerf).or_zero();
        }
    }
    taken
}

fn purchases(
    scenario: &Scenario,
    plan: &CuttingPlan,
    hardware: &[crate::design::HardwareLine],
) -> Vec<Purchase> {
    let mut purchases = Vec::new();
    for (id, item) in scenario.stock.items.iter() {
        let sheets = plan.sheets.iter().filter(|layout| layout.stock == id).map(|it| it.repeat);
        let boards = plan.boards.iter().filter(|layout| layout.stock == id).map(|it| it.repeat);
        let quantity = sheets.chain(boards).sum::<u32>();
        if quantity > 0 {
            let what = PurchaseOf::Stock(id);
            purchases.push(purchase(what, quantity, item.on_hand, item.price));
        }
    }
    for line in hardware {
        if let Some(id) = line.hardware {
            let item = &scenario.stock.hardware[id];
            let what = PurchaseOf::Hardware(id);
            purchases.push(purchase(what, line.packages, item.on_hand, item.price));
        }
    }
    purchases
}

fn purchase(what: PurchaseOf, quantity: u32, on_hand: u32, unit_price: Money) -> Purchase {
    let on_hand = on_hand.min(quantity);
    let cost = unit_price * i64::from(quantity - on_hand);
    Purchase { what, quantity, on_hand, unit_price, cost }
}

fn checks() -> Vec<Check> {
    let check = |name: &str, value, limit, unit, strength| Check {
        name: name.to_owned(),
        value,
        limit,
        sense: Sense::Most,
        unit,
        strength,
        advisory: false,
        source: "A handbook of this fixture, table 3".to_owned(),
        remark: "spread evenly; road shock 2 times the load (assumption), on three spans"
            .to_owned(),
    };
    vec![
        check("deck sag", 2.1, 3.4, "mm", true),
        check("pull of drawer A1", 96.0, 147.0, "N", false),
        check("pull of drawer A2", 121.5, 147.0, "N", false),
        check("pull of drawer B1", 98.7, 147.0, "N", false),
        check("payload", 208.4, 521.6, "kg", false),
    ]
}

/// Findings of two designs, the second a variant with other figures.
pub fn findings<'a>(scenario: &'a Scenario, designs: &'a [Design]) -> Findings<'a> {
    let candidate = |(index, design): (usize, &'a Design)| Candidate {
        design,
        rank: index + 1,
        standing: Standing {
            score: 7.25 - index as f64,
            contributions: Criterion::ALL.iter().map(|&each| (each, 0.5)).collect(),
            undominated: index == 0,
            near_twins: 3 * index,
            value_bound_milli: Some(60_000),
        },
    };
    Findings {
        scenario,
        settings: Settings {
            program: "bedwright 0.1.0".to_owned(),
            keep: 5,
            effort: 1,
            seconds: None,
        },
        defaults: vec![
            DefaultUsed {
                key: "chest.handle_room".to_owned(),
                value: "3 in".to_owned(),
                remark: String::new(),
            },
            DefaultUsed {
                key: "shop.step".to_owned(),
                value: "1/16 in".to_owned(),
                remark: "as fine as a tape is read".to_owned(),
            },
            DefaultUsed {
                key: "density of birch 6.5".to_owned(),
                value: "700 kg/m³".to_owned(),
                remark: String::new(),
            },
            DefaultUsed {
                key: "density of birch 9".to_owned(),
                value: "700 kg/m³".to_owned(),
                remark: String::new(),
            },
        ],
        candidates: designs.iter().enumerate().map(candidate).collect(),
        considered: Considered {
            structures: 48,
            pruned: vec![("would stand too high".to_owned(), 21)],
            solved: 27,
        },
        stopped_by: None,
        explanations: vec![Explanation {
            about: "3 tiers".to_owned(),
            limit: "clear height".to_owned(),
            short_by: Some(9.525),
            unit: "mm".to_owned(),
            sentence: "Three tiers stand at least 3/8 in too high.".to_owned(),
            change: "3/8 in more clear height".to_owned(),
            proved: true,
        }],
    }
}

/// The electrician's scenario with everything called at length, in wide letters and with characters that do not print,
/// and with `extra` more things to stow.
pub fn wordy(extra: u32) -> Scenario {
    let mut scenario = electrician();
    scenario.title = "Überlange Überschrift über alle Maße hinaus ".repeat(4);
    scenario.currency = "doubloons of the realm".to_owned();
    let wordy = |name: &str| format!("{name} {}", "Donaudampfschifffahrtsgesellschaft".repeat(4));
    let ids: Vec<GearId> = scenario.gear.ids().collect();
    for id in ids {
        let name = scenario.gear[id].name.clone();
        scenario.gear[id].name = wordy(&name);
    }
    for number in 0..extra {
        let name =
            format!("工具箱 number {number} \u{1b}[31m, with its charger, bits and two batteries");
        let size = [inch(30, 1), inch(30, 1), inch(30, 1)];
        scenario.gear.push(thing(&name, size, 4, 3, 1, Demand::Worth(1000)));
    }
    let materials: Vec<MaterialId> = scenario.stock.materials.ids().collect();
    for id in materials {
        let name = scenario.stock.materials[id].name.clone();
        scenario.stock.materials[id].name = format!("{name} of the very best quality there is");
    }
    let items: Vec<StockId> = scenario.stock.items.ids().collect();
    for id in items {
        scenario.stock.items[id].name = wordy("sheet");
        scenario.stock.items[id].price = Money::from_parts(i64::MAX / 1000);
    }
    scenario
}

/// The same design, passed by the verifier.
pub fn verified(scenario: &Scenario) -> Verified<Design> {
    verify(scenario, design(scenario)).unwrap_or_else(|rejected| panic!("{rejected}"))
}

#[test]
fn the_fixture_passes_the_verifier() {
    let scenario = electrician();
    assert_eq!(verified(&scenario).id, design(&scenario).id);
}
