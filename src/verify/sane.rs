//! Whether a design can be measured at all: every reference leads somewhere, lists match, lengths are lengths.
//!
//! What passes here can be indexed and added up without a panic: no length reaches 100 m, so sums of them stay far inside
//! 64 bits and products of three inside 128.

use super::fault::{Fault, ListOf, Reference};
use crate::design::{Box3, Content, CuttingPlan, Design, Layout, Need, PurchaseOf, Rect};
use crate::scenario::{MaterialId, Scenario};
use crate::units::Length;

const MOST: Length = Length::mm(100_000);
/// No chest has so many of anything.
const MOST_COUNT: u32 = 1_000_000;

pub(super) fn check(scenario: &Scenario, design: &Design, faults: &mut Vec<Fault>) {
    let mut sieve = Sieve { scenario, design, measure: Measure { faults } };
    sieve.structure();
    sieve.chest();
    sieve.drawers();
    sieve.pockets_and_left_out();
    sieve.parts();
    let (parts, items) = (design.parts.len(), scenario.stock.items.len());
    sieve.measure.cutting(&design.cutting, parts, items);
    sieve.purchases();
}

struct Sieve<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    measure: Measure<'a>,
}

impl Sieve<'_> {
    fn structure(&mut self) {
        let chosen = &self.design.structure;
        for id in [
            chosen.bottom,
            chosen.deck,
            chosen.sides,
            chosen.drawer_bottom,
            chosen.front,
            chosen.divider,
        ] {
            self.material(id);
        }
        for tier in &chosen.tiers {
            self.material(tier.member);
            self.measure.place("tier height", tier.height);
        }
    }

    fn chest(&mut self) {
        let chest = &self.design.chest;
        let carcass = &chest.carcass;
        for length in [
            carcass.length,
            carcass.front_y,
            carcass.lift,
            carcass.lift_for_tailgate,
            carcass.deck_z,
            carcass.top_z,
        ] {
            self.measure.place("chest", length);
        }
        let tiers = self.design.structure.tiers.len();
        self.list(ListOf::Frames, tiers.max(1), carcass.tiers.len());
        self.list(ListOf::Tiers, tiers.max(1), chest.openings.len());
        for frame in &carcass.tiers {
            for length in [
                frame.z,
                frame.height,
                frame.x,
                frame.width,
                frame.member,
                frame.inside_length,
                frame.openings_width,
                frame.width_taken,
                frame.side_gap,
                frame.drawer_length,
                frame.drawer_inside_length,
                frame.drawer_inside_y,
                frame.run_height,
                frame.floor_height,
                frame.clear_height,
                frame.side_height,
                frame.divider_height,
                frame.front_height,
            ] {
                self.measure.place("tier's frame", length);
            }
        }
        for ((choice, openings), frame) in
            self.design.structure.tiers.iter().zip(&chest.openings).zip(&carcass.tiers)
        {
            self.list(ListOf::Openings, (choice.columns as usize).max(1), openings.len());
            self.list(ListOf::Columns, openings.len(), frame.columns as usize);
            openings.iter().for_each(|width| self.measure.place("opening", *width));
        }
        let openings = chest.openings.iter().map(Vec::len).sum();
        self.list(ListOf::Drawers, openings, self.design.drawers.len());
    }

    fn drawers(&mut self) {
        for drawer in &self.design.drawers {
            self.space("opening of a drawer", drawer.opening);
            self.space("drawer", drawer.outside);
            let inside = Box3 { at: drawer.inside_at, size: drawer.inside };
            self.space("inside of a drawer", inside);
            self.layout(&drawer.plan);
            self.list(ListOf::DividerParts, drawer.plan.dividers.len(), drawer.divider_parts.len());
            drawer.divider_parts.iter().for_each(|part| self.part(part.0));
        }
    }

    fn layout(&mut self, plan: &Layout) {
        for length in [plan.width, plan.length, plan.height] {
            self.measure.place("layout", length);
        }
        plan.dividers.iter().for_each(|divider| self.space("divider", *divider));
        for item in &plan.items {
            self.content(item.content);
            self.space("item", item.space);
        }
    }

    fn pockets_and_left_out(&mut self) {
        for pocket in &self.design.pockets {
            self.space("pocket", pocket.space);
            self.layout(&pocket.plan);
            self.list(ListOf::DividerParts, pocket.plan.dividers.len(), pocket.divider_parts.len());
            pocket.divider_parts.iter().for_each(|part| self.part(part.0));
        }
        self.design.left_out.iter().for_each(|left| self.content(left.content));
    }

    fn parts(&mut self) {
        for part in &self.design.parts {
            self.material(part.material);
            self.measure.count("copies of a part", part.quantity);
            for length in [part.length, part.width, part.thickness] {
                self.measure.extent("part", length);
            }
        }
        for solid in &self.design.solids {
            self.part(solid.part.0);
            self.space("placed piece", solid.space);
            if let Some(drawer) = solid.drawer {
                self.measure.known(Reference::Drawer, drawer, self.design.drawers.len());
            }
        }
    }

    fn purchases(&mut self) {
        let hardware = self.scenario.stock.hardware.len();
        for line in &self.design.hardware {
            if let Some(id) = line.hardware {
                self.measure.known(Reference::Hardware, id.0 as usize, hardware);
            }
            self.measure.count("packages", line.packages);
            match line.need {
                Need::Count(count) => self.measure.count("hardware", count),
                Need::Length(length) => {
                    // Strip and rod add up over all drawers: allow a hundred times a chest's length.
                    if !(Length::ZERO..=MOST * 100).contains(&length) {
                        self.measure
                            .faults
                            .push(Fault::Absurd { what: "length of hardware", length });
                    }
                }
                Need::Area(area) => {
                    if !(0..=MOST.by(MOST).units()).contains(&area.units()) {
                        let count = area.units();
                        self.measure
                            .faults
                            .push(Fault::AbsurdCount { what: "area of hardware", count });
                    }
                }
            }
        }
        for purchase in &self.design.purchases {
            match purchase.what {
                PurchaseOf::Stock(id) => {
                    self.measure.known(
                        Reference::Stock,
                        id.0 as usize,
                        self.scenario.stock.items.len(),
                    );
                }
                PurchaseOf::Hardware(id) => {
                    self.measure.known(Reference::Hardware, id.0 as usize, hardware);
                }
            }
        }
    }

    fn part(&mut self, index: u32) {
        self.measure.known(Reference::Part, index as usize, self.design.parts.len());
    }

    fn material(&mut self, id: MaterialId) {
        self.measure.known(Reference::Material, id.0 as usize, self.scenario.stock.materials.len());
    }

    fn content(&mut self, content: Content) {
        match content {
            Content::Gear(id) => {
                self.measure.known(Reference::Gear, id.0 as usize, self.scenario.gear.len());
            }
            Content::Loose(id) => {
                self.measure.known(Reference::Loose, id.0 as usize, self.scenario.loose.len());
            }
        }
    }

    fn list(&mut self, what: ListOf, expected: usize, found: usize) {
        if expected != found {
            let (expected, found) = (expected as u64, found as u64);
            self.measure.faults.push(Fault::Lists { what, expected, found });
        }
    }

    fn space(&mut self, what: &'static str, space: Box3) {
        for length in [space.at.x, space.at.y, space.at.z] {
            self.measure.place(what, length);
        }
        for length in [space.size.dx, space.size.dy, space.size.dz] {
            self.measure.extent(what, length);
        }
    }
}

/// Records what cannot be measured.
pub(super) struct Measure<'a> {
    pub faults: &'a mut Vec<Fault>,
}

impl Measure<'_> {
    /// A cutting plan of so many parts from so many stock items.
    pub fn cutting(&mut self, plan: &CuttingPlan, parts: usize, items: usize) {
        self.extent("kerf", plan.kerf);
        for sheet in &plan.sheets {
            self.known(Reference::Stock, sheet.stock.0 as usize, items);
            self.count("sheets cut alike", sheet.repeat);
            self.extent("trim", sheet.trim);
            for piece in &sheet.pieces {
                self.known(Reference::Part, piece.part.0 as usize, parts);
                self.rect(piece.at);
            }
            sheet.offcuts.iter().for_each(|offcut| self.rect(*offcut));
            for cut in &sheet.cuts {
                self.rect(cut.panel);
                self.place("cut", cut.at);
            }
        }
        for board in &plan.boards {
            self.known(Reference::Stock, board.stock.0 as usize, items);
            self.count("boards cut alike", board.repeat);
            self.place("board's offcut", board.offcut);
            for piece in &board.pieces {
                self.known(Reference::Part, piece.part.0 as usize, parts);
                self.place("piece of a board", piece.at);
                self.extent("piece of a board", piece.length);
            }
        }
    }

    pub fn known(&mut self, what: Reference, index: usize, len: usize) {
        if index >= len {
            self.faults.push(Fault::NoSuch { what, index: index as u64 });
        }
    }

    /// A coordinate: within 100 m of the origin.
    fn place(&mut self, what: &'static str, length: Length) {
        if !(-MOST..=MOST).contains(&length) {
            self.faults.push(Fault::Absurd { what, length });
        }
    }

    /// An extent: a coordinate that is not negative.
    fn extent(&mut self, what: &'static str, length: Length) {
        if !(Length::ZERO..=MOST).contains(&length) {
            self.faults.push(Fault::Absurd { what, length });
        }
    }

    /// A count of things that a shop can hold.
    pub fn count(&mut self, what: &'static str, count: u32) {
        if count > MOST_COUNT {
            self.faults.push(Fault::AbsurdCount { what, count: i128::from(count) });
        }
    }

    fn rect(&mut self, rect: Rect) {
        for length in [rect.x, rect.y] {
            self.place("rectangle on a sheet", length);
        }
        for length in [rect.dx, rect.dy] {
            self.extent("rectangle on a sheet", length);
        }
    }
}
