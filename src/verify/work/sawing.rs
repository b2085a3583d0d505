//! Cuts replayed on the raw stock.

use super::WorkFault;
use crate::design::work::{BoardWork, Edge, SawCut, SheetWork, Tool, WorkPlan, Yield};
use crate::design::{Axis, BoardLayout, Design, Part, PartId, Rect, Role, SheetLayout};
use crate::scenario::{Form, Scenario, Section, StockItem};
use crate::units::Length;
use crate::verify::Fault;
use crate::verify::cutting::ways;

pub(super) fn check(
    scenario: &Scenario,
    design: &Design,
    work: &WorkPlan,
    faults: &mut Vec<WorkFault>,
) {
    let (plan, sawing) = (&work.cutting, &work.sawing);
    if plan.kerf != scenario.shop.kerf {
        faults.push(Fault::Kerf { stated: plan.kerf, saw: scenario.shop.kerf }.into());
    }
    for (patterns, lists) in
        [(plan.sheets.len(), sawing.sheets.len()), (plan.boards.len(), sawing.boards.len())]
    {
        if patterns != lists {
            faults.push(WorkFault::Lists { patterns, lists });
        }
    }
    let mut shop = Shop {
        scenario,
        design,
        sawn: vec![0; design.parts.len()],
        setting: None,
        stop: None,
        faults,
    };
    for (layout, (sheet, work)) in plan.sheets.iter().zip(&sawing.sheets).enumerate() {
        shop.sheet(layout, sheet, work);
    }
    for (layout, (board, work)) in plan.boards.iter().zip(&sawing.boards).enumerate() {
        shop.board(layout, board, work);
    }
    shop.counts(work.sets);
    shop.further(work);
}

struct Shop<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    sawn: Vec<u64>,
    setting: Option<(Tool, Length)>,
    stop: Option<Length>,
    faults: &'a mut Vec<WorkFault>,
}

impl<'a> Shop<'a> {
    fn part(&mut self, id: PartId) -> Option<&'a Part> {
        let part = self.design.parts.get(id.0 as usize);
        if part.is_none() {
            self.faults.push(WorkFault::NoSuch { what: "part", index: id.0.into() });
        }
        part
    }

    fn stock(&mut self, layout: usize, id: crate::scenario::StockId) -> Option<&'a StockItem> {
        let item = self.scenario.stock.items.get(id);
        if item.is_none() {
            self.faults.push(WorkFault::NoSuch { what: "stock", index: layout as u64 });
        }
        item
    }

    /// Every cut of a sheet: the panel goes, what the blade leaves of it comes.
    fn sheet(&mut self, layout: usize, sheet: &SheetLayout, work: &SheetWork) {
        let Some(item) = self.stock(layout, sheet.stock) else { return };
        let Form::Sheet { along, across } = item.form else {
            return self.faults.push(WorkFault::NoSuch { what: "sheet", index: layout as u64 });
        };
        let raw = Rect { x: Length::ZERO, y: Length::ZERO, dx: along, dy: across };
        if let ([], [piece]) = (work.cuts.as_slice(), sheet.pieces.as_slice()) {
            self.off(layout, raw, Yield::Part(piece.part), item, sheet.repeat);
        }
        let mut panels = vec![(0, raw)];
        let mut setups = 0;
        for (cut, step) in work.cuts.iter().enumerate() {
            let Some(at) = panels.iter().position(|panel| *panel == (step.panel, step.rect)) else {
                self.faults.push(WorkFault::NoPanel { layout, cut });
                continue;
            };
            panels.swap_remove(at);
            let Some((near, far)) = split(step, self.scenario.shop.kerf) else {
                self.faults.push(WorkFault::Beyond { layout, cut });
                continue;
            };
            if self.setting != Some((step.tool, step.setting)) {
                setups += 1;
                self.setting = Some((step.tool, step.setting));
            }
            if step.far.is_some() != far.is_some() {
                self.faults.push(WorkFault::NotThat { layout, cut });
            }
            for (yields, rect) in [(Some(step.near), Some(near)), (step.far, far)] {
                let (Some(yields), Some(rect)) = (yields, rect) else { continue };
                match yields {
                    Yield::Panel(id) => panels.push((id, rect)),
                    Yield::Kept(kept) if work.kept.get(kept as usize) != Some(&rect) => {
                        self.faults.push(WorkFault::NotThat { layout, cut });
                    }
                    other => self.off(layout, rect, other, item, sheet.repeat),
                }
            }
        }
        panels.retain(|(panel, _)| *panel != 0 || !work.cuts.is_empty());
        for (panel, _) in panels {
            self.faults.push(WorkFault::LeftOver { layout, panel });
        }
        if setups != work.setups {
            let (stated, counted) = (work.setups, setups);
            self.faults.push(WorkFault::Setups { layout, stated, counted });
        }
    }

    /// What comes off the saw and is cut no further.
    fn off(&mut self, layout: usize, rect: Rect, what: Yield, item: &StockItem, repeat: u32) {
        match what {
            Yield::Part(id) => {
                let Some(part) = self.part(id) else { return };
                self.sawn[id.0 as usize] += u64::from(repeat);
                let grain = self.scenario.stock.materials[item.material].grain;
                let extents = [rect.dx, rect.dy];
                let mark = || part.mark.clone();
                if !ways(&part.into(), false).any(|way| way == extents) {
                    self.faults.push(Fault::PieceSize { layout, part: mark() }.into());
                } else if !ways(&part.into(), grain).any(|way| way == extents) {
                    self.faults.push(Fault::PieceGrain { layout, part: mark() }.into());
                }
                if part.material != item.material {
                    self.faults.push(WorkFault::PartMaterial { layout, part: mark() });
                }
            }
            Yield::Kept(_) => {
                let [longer, shorter] = self.scenario.shop.keep_offcut;
                if rect.dx.max(rect.dy) < longer || rect.dx.min(rect.dy) < shorter {
                    self.faults.push(WorkFault::TooSmallToKeep { layout });
                }
            }
            Yield::Waste | Yield::Panel(_) => {}
        }
    }

    /// Pieces from one end, each as long as its stop's setting.
    fn board(&mut self, layout: usize, board: &BoardLayout, work: &BoardWork) {
        let Some(item) = self.stock(layout, board.stock) else { return };
        let Form::Board { length } = item.form else {
            return self.faults.push(WorkFault::NoSuch { what: "board", index: layout as u64 });
        };
        let mut left = length;
        let mut setups = 0;
        for (cut, step) in work.cuts.iter().enumerate() {
            let Some(part) = self.part(step.part) else { continue };
            self.sawn[step.part.0 as usize] += u64::from(board.repeat);
            let mark = || part.mark.clone();
            if step.setting != part.length {
                self.faults.push(Fault::PieceSize { layout, part: mark() }.into());
            }
            if part.material != item.material {
                self.faults.push(WorkFault::PartMaterial { layout, part: mark() });
            }
            if step.sawn != (left > step.setting) {
                self.faults.push(WorkFault::NotThat { layout, cut });
            }
            if step.sawn && self.stop != Some(step.setting) {
                setups += 1;
                self.stop = Some(step.setting);
            }
            if step.setting > left {
                self.faults.push(Fault::BoardOverrun { layout, by: step.setting - left }.into());
            }
            left = (left - step.setting - self.scenario.shop.kerf).or_zero();
        }
        if left != work.rest {
            let (stated, derived) = (work.rest, left);
            self.faults.push(Fault::BoardOffcut { layout, stated, derived }.into());
        }
        if work.keep && left < self.scenario.shop.keep_offcut[0] {
            self.faults.push(WorkFault::TooSmallToKeep { layout });
        }
        if setups != work.setups {
            let (stated, counted) = (work.setups, setups);
            self.faults.push(WorkFault::Setups { layout, stated, counted });
        }
    }

    /// Each part comes off as often as the sets need it.
    fn counts(&mut self, sets: u32) {
        for (part, sawn) in self.design.parts.iter().zip(&self.sawn) {
            let wanted = u64::from(part.quantity) * u64::from(sets);
            if *sawn != wanted {
                let part = part.mark.clone();
                self.faults.push(WorkFault::Count { part, sawn: *sawn, wanted });
            }
        }
    }

    /// Boards that are wider than their parts are ripped, square lengths for corner blocks sawn on the diagonal.
    fn further(&mut self, work: &WorkPlan) {
        let (design, scenario) = (self.design, self.scenario);
        for (index, part) in design.parts.iter().enumerate() {
            let id = PartId(u32::try_from(index).unwrap_or(u32::MAX));
            let wanted = part.quantity * work.sets;
            let rips = work.sawing.rips.iter().filter(|rip| rip.part == id);
            let ripped: u32 =
                rips.filter(|rip| rip.setting == part.width).map(|rip| rip.pieces).sum();
            let narrower = match scenario.stock.materials[part.material].section {
                Section::Board { width } => part.width < width,
                Section::Sheet => false,
            };
            if ripped != if narrower { wanted } else { 0 } {
                self.faults.push(WorkFault::Rip { part: part.mark.clone() });
            }
            let diagonals = work.sawing.diagonals.iter().filter(|cut| cut.part == id);
            let halved: u32 = diagonals.map(|cut| cut.pieces).sum();
            if halved != if part.role == Role::CornerBlock { wanted } else { 0 } {
                self.faults.push(WorkFault::Diagonal { part: part.mark.clone() });
            }
        }
    }
}

/// Both sides of a cut; `None` if the setting is nothing, or not less than the panel.
fn split(cut: &SawCut, kerf: Length) -> Option<(Rect, Option<Rect>)> {
    let (from, extent) = match cut.axis {
        Axis::X => (cut.rect.x, cut.rect.dx),
        Axis::Y => (cut.rect.y, cut.rect.dy),
    };
    if !cut.setting.is_positive() || cut.setting >= extent {
        return None;
    }
    let beyond = extent - cut.setting - kerf;
    let side = |at: Length, extent: Length| match cut.axis {
        Axis::X => Rect { x: at, dx: extent, ..cut.rect },
        Axis::Y => Rect { y: at, dy: extent, ..cut.rect },
    };
    let far = beyond.is_positive().then_some(beyond);
    Some(match cut.from {
        Edge::Low => {
            (side(from, cut.setting), far.map(|beyond| side(from + cut.setting + kerf, beyond)))
        }
        Edge::High => {
            (side(from + extent - cut.setting, cut.setting), far.map(|beyond| side(from, beyond)))
        }
    })
}
