//! Sheet parts onto sheets: one cutting problem per material, and the plan back in the design's terms.
//!
//! A bought sheet loses the shop's edge trim on all four sides before anything else; an offcut has sawn edges
//! and keeps its size. What is on hand costs nothing and is limited; more of it can be bought at its price up to
//! the most that can be had. A part lies with its length along or across the grain as it says, either way where
//! it does not care or the material has no grain.

use super::offer::{Ask, Offer, Sawn};
use crate::design::{Axis, Cut, Grain, PartId, Rect, SheetLayout, SheetPiece};
use crate::scenario::{Form, MaterialId, StockId};
use crate::solve::budget::Budget;
use crate::solve::layouts::{LayoutPiece, PanelsProblem, StockPanel, take_panels};
use crate::solve::sheets as solve;
use crate::solve::stages::Stages;
use crate::units::{Area, Length, Money};

/// Why the sheet parts cannot be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetShortage {
    /// No sheet holds a part, trims taken off; the nearest is too short by this in its worse direction.
    TooLarge {
        /// The part.
        part: PartId,
        /// What is missing.
        by: Length,
    },
    /// All the sheets of a material together are too small by at least this area (each part counted with a
    /// kerf along two of its sides).
    OutOfStock {
        /// The material.
        material: MaterialId,
        /// What is missing.
        area: Area,
    },
    /// The sheets of a material are limited, and no plan was found that makes do with them. There may be one.
    NotFound {
        /// The material.
        material: MaterialId,
    },
    /// More parts than the search accepts, or a part without extent.
    NotAJob {
        /// The material.
        material: MaterialId,
    },
}

/// How the parts of one material are cut from what is offered.
pub(super) fn cut(
    ask: &Ask<'_>,
    material: MaterialId,
    offers: &[Offer],
    budget: &mut Budget,
) -> Result<Sawn, SheetShortage> {
    let job = Job::new(ask, material, offers);
    let mut hear = |now: solve::SheetProgress| ask.hear(now.objective, now.bound);
    let (problem, edges) = (&job.problem, &job.edges);
    let found = solve::cut_sheets_watched(problem, edges, ask.threads, budget, &mut hear).found();
    let found = found.map_err(|reason| {
        reason.map_or(SheetShortage::NotFound { material }, |reason| job.shortage(reason))
    })?;
    let sheets = job.layouts(&found.best);
    let (bound, stopped_by) = (Money::from_parts(found.bound), found.stopped_by);
    Ok(Sawn { sheets, bound, stopped_by, ..Sawn::default() })
}

/// The most sheets that are filled; of more, the largest.
const MOST_FILLED: u32 = 500;

/// Takes what is worth most out of the sheets that are offered, and what no choice exceeds; what pieces are worth is given
/// by blank. `None` if the worths are beyond what can be added up.
pub(super) fn take(
    ask: &Ask<'_>,
    material: MaterialId,
    offers: &[Offer],
    worths: &[i64],
    budget: &mut Budget,
) -> Option<(Sawn, i64)> {
    let job = Job::new(ask, material, offers);
    let copies = job.problem.parts.iter().map(|part| part.count).fold(0, u32::saturating_add);
    let sheets = job.problem.sheets.iter().enumerate();
    let mut panels: Vec<(usize, StockPanel)> = sheets
        .filter(|(_, sheet)| sheet.width > 0 && sheet.height > 0)
        .map(|(of, sheet)| {
            let count = sheet.limit.unwrap_or(copies).min(copies);
            (of, StockPanel { width: sheet.width, height: sheet.height, count })
        })
        .collect();
    let area = |p: &StockPanel| i128::from(p.width) * i128::from(p.height);
    panels.sort_by_key(|(of, panel)| (std::cmp::Reverse(area(panel)), *of));
    let mut room = MOST_FILLED;
    let mut all = true;
    for (_, panel) in &mut panels {
        all &= panel.count <= room;
        panel.count = panel.count.min(room);
        room -= panel.count;
    }
    let parts = job.problem.parts.iter().zip(&job.parts);
    let pieces = parts.map(|(part, id)| LayoutPiece {
        width: part.width,
        height: part.height,
        worth: worths[id.0 as usize],
        most: part.count,
        turn: part.turn,
    });
    let problem = PanelsProblem {
        kerf: job.problem.kerf,
        panels: panels.iter().map(|(_, panel)| *panel).collect(),
        pieces: pieces.collect(),
        stages: job.problem.stages,
        // No part of a job is narrower than the least rip, and so is no panel that holds one.
        least_rip: 0,
        keep: job.problem.keep,
    };
    let found = take_panels(&problem, budget, &mut |_| {}).found().ok()?;
    let sheets = found.best.into_iter().map(|taken| solve::CutSheet {
        sheet: panels[taken.panel].0,
        pieces: taken.layout.pieces,
        cuts: taken.layout.cuts,
        rests: taken.layout.rests,
    });
    let sheets = job.layouts(&solve::SheetPlan { sheets: sheets.collect() });
    let stopped_by = found.stopped_by;
    // Sheets that are passed over might hold anything.
    let bound = if all { found.bound } else { i64::MAX };
    Some((Sawn { sheets, stopped_by, ..Sawn::default() }, bound))
}

/// One material's problem, with the way back.
struct Job<'a> {
    ask: &'a Ask<'a>,
    material: MaterialId,
    problem: solve::SheetProblem,
    edges: solve::Edges,
    /// For each sheet of the problem: the stock and the trim.
    sheets: Vec<(StockId, Length)>,
    /// For each part of the problem.
    parts: Vec<PartId>,
}

impl<'a> Job<'a> {
    fn new(ask: &'a Ask<'a>, material: MaterialId, offers: &[Offer]) -> Self {
        let mut sheets = Vec::new();
        let mut given = Vec::new();
        let mut edges = solve::Edges::default();
        for offer in offers {
            let item = &ask.stock.items[offer.stock];
            let Form::Sheet { along, across } = item.form else { continue };
            let trim = if item.is_offcut() { Length::ZERO } else { ask.shop.edge_trim };
            given.push(solve::Sheet {
                width: (along - trim * 2).units(),
                height: (across - trim * 2).units(),
                price: offer.price.parts(),
                limit: offer.limit,
            });
            let raw = ask.factory.get(usize::from(offer.stock)).copied().unwrap_or_default();
            edges.sheets.push([[raw.left, raw.right], [raw.upper, raw.lower]]);
            sheets.push((offer.stock, trim));
        }
        let grain = ask.stock.materials[material].grain;
        let mut parts = Vec::new();
        let mut asked = Vec::new();
        for (i, blank) in ask.blanks.iter().enumerate().filter(|(_, b)| b.material == material) {
            let (width, height) = match blank.grain {
                Grain::Along | Grain::Either => (blank.length, blank.width),
                Grain::Across => (blank.width, blank.length),
            };
            asked.push(solve::SheetPart {
                width: width.units(),
                height: height.units(),
                count: blank.quantity,
                turn: !grain || blank.grain == Grain::Either,
            });
            let (along, across) = (blank.factory.along, blank.factory.across);
            edges.parts.push(match blank.grain {
                Grain::Along | Grain::Either => [across, along],
                Grain::Across => [along, across],
            });
            parts.push(PartId(i as u32));
        }
        let [a, b] = ask.shop.keep_offcut;
        let problem = solve::SheetProblem {
            kerf: ask.shop.kerf.units(),
            sheets: given,
            parts: asked,
            keep: (a.units(), b.units()),
            stages: Stages { most: ask.shop.stages, trim: ask.shop.trimming, first: None },
        };
        Self { ask, material, problem, edges, sheets, parts }
    }

    fn shortage(&self, reason: solve::SheetReason) -> SheetShortage {
        let material = self.material;
        match reason {
            solve::SheetReason::PartTooLarge { part, by } => {
                SheetShortage::TooLarge { part: self.parts[part], by: Length::from_units(by) }
            }
            solve::SheetReason::OutOfStock { area } => {
                SheetShortage::OutOfStock { material, area: Area::from_units(area) }
            }
            solve::SheetReason::BadSize { .. }
            | solve::SheetReason::TooMany { .. }
            | solve::SheetReason::TooFewStages => SheetShortage::NotAJob { material },
        }
    }

    fn layouts(&self, plan: &solve::SheetPlan) -> Vec<SheetLayout> {
        let mut layouts: Vec<SheetLayout> = Vec::new();
        for sheet in &plan.sheets {
            let layout = self.layout(sheet);
            let alike = |l: &&mut SheetLayout| {
                (l.stock, &l.pieces, &l.cuts) == (layout.stock, &layout.pieces, &layout.cuts)
            };
            match layouts.iter_mut().find(alike) {
                Some(same) => same.repeat += 1,
                None => layouts.push(layout),
            }
        }
        layouts
    }

    fn layout(&self, sheet: &solve::CutSheet) -> SheetLayout {
        let (stock, trim) = self.sheets[sheet.sheet];
        let rect = |r: solve::Rect| Rect {
            x: trim + Length::from_units(r.x),
            y: trim + Length::from_units(r.y),
            dx: Length::from_units(r.dx),
            dy: Length::from_units(r.dy),
        };
        let pieces = sheet.pieces.iter().map(|p| {
            let part = &self.problem.parts[p.part];
            let (mut dx, mut dy) = (part.width, part.height);
            if p.turned {
                std::mem::swap(&mut dx, &mut dy);
            }
            let at = rect(solve::Rect { x: p.x, y: p.y, dx, dy });
            SheetPiece { part: self.parts[p.part], at }
        });
        let cuts = sheet.cuts.iter().map(|c| Cut {
            panel: rect(c.panel),
            axis: match c.axis {
                solve::Axis::X => Axis::X,
                solve::Axis::Y => Axis::Y,
            },
            at: trim + Length::from_units(c.at),
        });
        let [a, b] = self.ask.shop.keep_offcut;
        let keep = |r: &Rect| r.dx.min(r.dy) >= a.min(b) && r.dx.max(r.dy) >= a.max(b);
        SheetLayout {
            stock,
            repeat: 1,
            trim,
            pieces: pieces.collect(),
            cuts: cuts.collect(),
            offcuts: sheet.rests.iter().copied().map(rect).filter(keep).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CutReason, StockCut};
    use super::*;
    use crate::design::{Part, PurchaseOf, Role};
    use crate::scenario::fixture::{full_size, inches, sixteenths};
    use crate::scenario::{Scenario, Stock, StockItem};

    fn part(stock: &Stock, name: &str, size: [i64; 2], quantity: u32, grain: Grain) -> Part {
        let material = stock.material_named(name).expect("the fixture's stock");
        let thickness = stock.materials[material].thickness;
        let [length, width] = size.map(inches);
        let mark = format!("X{quantity}");
        Part { mark, role: Role::Deck, material, length, width, thickness, quantity, grain }
    }

    fn plan(parts: &[Part], scenario: &Scenario) -> Result<StockCut, SheetShortage> {
        match super::super::plan(scenario, parts, &mut Budget::work(300_000)) {
            Ok(cut) => Ok(cut),
            Err(CutReason::Sheets(shortage)) => Err(shortage),
            Err(CutReason::Boards(shortage)) => panic!("{shortage:?}"),
        }
    }

    #[test]
    fn every_part_lies_on_its_material_and_along_its_grain() {
        let scenario = full_size();
        let stock = &scenario.stock;
        let parts = [
            part(stock, "1/2 plywood", [75, 20], 3, Grain::Along),
            part(stock, "3/4 plywood", [78, 48], 2, Grain::Along),
            part(stock, "1/2 plywood", [40, 10], 2, Grain::Across),
        ];
        let cut = plan(&parts, &scenario).expect("sheets without limit");
        let mut made = [0; 3];
        for layout in &cut.plan.sheets {
            for piece in &layout.pieces {
                let part = &parts[piece.part.0 as usize];
                assert_eq!(stock.items[layout.stock].material, part.material);
                let along = if part.grain == Grain::Across { part.width } else { part.length };
                assert_eq!(piece.at.dx, along);
                made[piece.part.0 as usize] += layout.repeat;
            }
        }
        assert_eq!(made, [3, 2, 2]);
        let equal =
            cut.plan.sheets.iter().find(|l| l.repeat == 2).expect("the decks' sheets are equal");
        assert_eq!(equal.pieces[0].part, PartId(1));
        // 18 in of the 96 are left beside each deck, less the kerf of 1/8 in.
        let rest = equal.offcuts[0];
        assert_eq!((rest.dx, rest.dy), (inches(18) - sixteenths(2), inches(48)));
        let cost: Money = cut.purchases.iter().map(|p| p.cost).sum();
        let sheets: u32 = cut.purchases.iter().map(|p| p.quantity).sum();
        assert_eq!(sheets, cut.plan.sheets.iter().map(|l| l.repeat).sum::<u32>());
        assert!(cut.plan.bound <= cost && (!cut.plan.proved || cut.plan.bound == cost));
    }

    #[test]
    fn what_is_on_hand_costs_nothing_and_comes_first() {
        let mut scenario = full_size();
        let stock = &mut scenario.stock;
        let half = stock.material_named("1/2 plywood").expect("the fixture's stock");
        let (full, _) = stock.of(half).next().expect("the fixture's sheet");
        stock.items[full].on_hand = 1;
        let offcut = stock.items.push(StockItem {
            material: half,
            name: "offcut".to_owned(),
            form: Form::Sheet { along: inches(40), across: inches(30) },
            price: Money::ZERO,
            on_hand: 1,
            most: Some(0),
        });
        scenario.shop.edge_trim = sixteenths(8);
        let stock = &scenario.stock;
        // The offcut is not trimmed; a bought sheet holds 95 x 47 in.
        let parts = [
            part(stock, "1/2 plywood", [40, 30], 1, Grain::Along),
            part(stock, "1/2 plywood", [95, 47], 2, Grain::Along),
        ];
        let cut = plan(&parts, &scenario).expect("enough");
        let line = |id| cut.purchases.iter().find(|p| p.what == PurchaseOf::Stock(id));
        let bought = line(full).expect("two full sheets");
        assert_eq!((bought.quantity, bought.on_hand), (2, 1));
        assert_eq!(bought.cost, stock.items[full].price);
        let used = line(offcut).expect("the offcut");
        assert_eq!((used.quantity, used.on_hand, used.cost), (1, 1, Money::ZERO));
        assert!(cut.plan.proved);
        for layout in &cut.plan.sheets {
            let trim = if layout.stock == offcut { Length::ZERO } else { sixteenths(8) };
            assert_eq!(layout.trim, trim);
            assert_eq!((layout.pieces[0].at.x, layout.pieces[0].at.y), (trim, trim));
        }
    }

    #[test]
    fn shortages_are_named() {
        let mut scenario = full_size();
        let half = scenario.stock.material_named("1/2 plywood").expect("the fixture's stock");
        let (full, _) = scenario.stock.of(half).next().expect("the fixture's sheet");
        let stock = &scenario.stock;
        let long = [part(stock, "1/2 plywood", [100, 20], 1, Grain::Along)];
        let too_large = SheetShortage::TooLarge { part: PartId(0), by: inches(4) };
        assert_eq!(plan(&long, &scenario), Err(too_large));
        let across = [part(stock, "1/2 plywood", [50, 20], 1, Grain::Across)];
        let too_wide = SheetShortage::TooLarge { part: PartId(0), by: inches(2) };
        assert_eq!(plan(&across, &scenario), Err(too_wide));
        scenario.stock.items[full].most = Some(1);
        let stock = &scenario.stock;
        let many = [part(stock, "1/2 plywood", [96, 48], 3, Grain::Along)];
        assert!(matches!(
            plan(&many, &scenario),
            Err(SheetShortage::OutOfStock { material, .. }) if material == half
        ));
    }
}
