//! Board parts onto boards: one cutting-stock problem per material, and the plan back in the design's terms.
//!
//! A part takes its length of a board's whole width; narrower parts are ripped from that length. What is on
//! hand, offcuts among it, costs nothing and is limited; more can be bought at its price up to the most that can
//! be had.

use std::collections::BTreeMap;

use crate::design::{BoardLayout, BoardPiece, Part, PartId, Purchase, PurchaseOf};
use crate::scenario::{Form, MaterialId, Section, Shop, Stock, StockId};
use crate::solve::boards as solve;
use crate::solve::budget::Budget;
use crate::solve::outcome::Outcome;
use crate::units::{Length, Money};

/// The boards' share of a cutting plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BoardsCut {
    /// The patterns, equal boards together, longest parts first on each.
    pub layouts: Vec<BoardLayout>,
    /// The boards used, in the order of the stock.
    pub purchases: Vec<Purchase>,
    /// No plan's boards cost less than this.
    pub bound: Money,
    /// Whether they cost no more than that.
    pub proved: bool,
}

/// Why the board parts cannot be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoardShortage {
    /// A part is longer than every board of its material.
    TooLong {
        /// The longest such part.
        part: PartId,
        /// What it exceeds the longest board by.
        by: Length,
    },
    /// A part is wider than the boards of its material.
    TooWide {
        /// The part.
        part: PartId,
        /// What it exceeds the width by.
        by: Length,
    },
    /// The boards of a material that can be had do not yield all parts: proved.
    OutOfStock {
        /// The material.
        material: MaterialId,
        /// A part that the fullest plan found leaves uncut.
        part: PartId,
        /// Parts that this plan leaves uncut, of all kinds.
        missing: u32,
    },
    /// The boards of a material are limited, and no plan was found that makes do with them. There may be one.
    NotFound {
        /// The material.
        material: MaterialId,
    },
}

/// How the parts whose material comes in boards are cut; the others are passed over. `PartId(i)` is `parts[i]`.
/// The budget is split evenly over the materials.
pub fn plan_boards(
    parts: &[Part],
    stock: &Stock,
    shop: &Shop,
    budget: &mut Budget,
) -> Result<BoardsCut, BoardShortage> {
    let mut materials: Vec<MaterialId> = Vec::new();
    for (i, part) in parts.iter().enumerate().filter(|(_, p)| p.quantity > 0) {
        let Section::Board { width } = stock.materials[part.material].section else { continue };
        if part.width > width {
            let by = part.width - width;
            return Err(BoardShortage::TooWide { part: part_id(i), by });
        }
        materials.push(part.material);
    }
    materials.sort_unstable();
    materials.dedup();
    let each = budget.left() / (materials.len() as u64).max(1);
    let mut cut = BoardsCut { proved: true, ..BoardsCut::default() };
    for material in materials {
        let job = Job::new(parts, material, stock, shop);
        let mut share = budget.share(each);
        let outcome = solve::cut_bars(&job.problem, &mut share);
        budget.spend(share.spent().min(budget.left()));
        let (plan, bound) = match outcome {
            Outcome::Optimal { best, objective } => (best, objective),
            Outcome::Feasible { best, bound, .. } => {
                cut.proved = false;
                (best, bound)
            }
            Outcome::Infeasible(reason) => return Err(job.shortage(reason)),
            Outcome::Unknown { .. } => return Err(BoardShortage::NotFound { material }),
        };
        cut.bound += Money::from_parts(bound);
        cut.purchases.extend(job.purchases(&plan, stock));
        cut.layouts.extend(job.layouts(&plan, parts));
    }
    cut.purchases.sort_by_key(|p| p.what);
    Ok(cut)
}

fn part_id(index: usize) -> PartId {
    PartId(u32::try_from(index).expect("fewer parts than 2^32"))
}

/// One material's problem, with the way back.
struct Job {
    material: MaterialId,
    kerf: Length,
    problem: solve::BarProblem,
    /// For each bar of the problem: the stock, its length, whether it is on hand.
    bars: Vec<(StockId, Length, bool)>,
    /// For each part of the problem.
    parts: Vec<PartId>,
}

impl Job {
    fn new(all: &[Part], material: MaterialId, stock: &Stock, shop: &Shop) -> Self {
        let mut problem =
            solve::BarProblem { kerf: shop.kerf.units(), ..solve::BarProblem::default() };
        let mut bars = Vec::new();
        for (id, item) in stock.of(material) {
            let Form::Board { length } = item.form else { continue };
            let offers = [(Money::ZERO, Some(item.on_hand), true), (item.price, item.most, false)];
            for (price, limit, on_hand) in offers.into_iter().filter(|o| o.1 != Some(0)) {
                let price = price.parts();
                problem.bars.push(solve::Bar { length: length.units(), price, limit });
                bars.push((id, length, on_hand));
            }
        }
        let mut parts = Vec::new();
        for (i, part) in all.iter().enumerate().filter(|(_, p)| p.material == material) {
            let (length, count) = (part.length.units(), part.quantity);
            problem.parts.push(solve::BarPart { length, count });
            parts.push(part_id(i));
        }
        Self { material, kerf: shop.kerf, problem, bars, parts }
    }

    fn shortage(&self, reason: solve::BarReason) -> BoardShortage {
        match reason {
            solve::BarReason::PartTooLong { part, by } => {
                BoardShortage::TooLong { part: self.parts[part], by: Length::from_units(by) }
            }
            solve::BarReason::OutOfStock { part, missing } => BoardShortage::OutOfStock {
                material: self.material,
                part: self.parts[part],
                missing,
            },
        }
    }

    fn purchases(&self, plan: &solve::BarPlan, stock: &Stock) -> Vec<Purchase> {
        let mut used: BTreeMap<StockId, (u32, u32)> = BTreeMap::new();
        for pattern in &plan.patterns {
            let (id, _, on_hand) = self.bars[pattern.bar];
            let (all, at_hand) = used.entry(id).or_default();
            *all += pattern.repeat;
            *at_hand += if on_hand { pattern.repeat } else { 0 };
        }
        used.into_iter()
            .map(|(id, (quantity, on_hand))| {
                let unit_price = stock.items[id].price;
                let cost = unit_price * i64::from(quantity - on_hand);
                Purchase { what: PurchaseOf::Stock(id), quantity, on_hand, unit_price, cost }
            })
            .collect()
    }

    fn layouts(&self, plan: &solve::BarPlan, parts: &[Part]) -> Vec<BoardLayout> {
        let mut layouts: Vec<BoardLayout> = Vec::new();
        for pattern in &plan.patterns {
            let layout = self.layout(pattern, parts);
            let same = |l: &&mut BoardLayout| l.stock == layout.stock && l.pieces == layout.pieces;
            match layouts.iter_mut().find(same) {
                Some(same) => same.repeat += layout.repeat,
                None => layouts.push(layout),
            }
        }
        layouts
    }

    /// Pieces from the board's end, longest first.
    fn layout(&self, pattern: &solve::BarPattern, parts: &[Part]) -> BoardLayout {
        let (stock, whole, _) = self.bars[pattern.bar];
        let mut pieces: Vec<(Length, PartId)> = (pattern.counts.iter())
            .flat_map(|&(part, n)| (0..n).map(move |_| part))
            .map(|part| (parts[self.parts[part].0 as usize].length, self.parts[part]))
            .collect();
        pieces.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut at = Length::ZERO;
        let pieces = (pieces.into_iter())
            .map(|(length, part)| {
                let piece = BoardPiece { part, at, length };
                at += length + self.kerf;
                piece
            })
            .collect();
        BoardLayout { stock, repeat: pattern.repeat, pieces, offcut: (whole - at).or_zero() }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::part;
    use super::*;
    use crate::scenario::fixture::{full_size, inches, sixteenths};
    use crate::scenario::{Scenario, StockItem};

    fn plan(scenario: &Scenario, parts: &[Part]) -> Result<BoardsCut, BoardShortage> {
        plan_boards(parts, &scenario.stock, &scenario.shop, &mut Budget::work(1_000_000))
    }

    /// The stock items of a material, in order.
    fn items(scenario: &Scenario, name: &str) -> Vec<StockId> {
        let material = scenario.stock.material_named(name).expect("the fixture's stock");
        scenario.stock.of(material).map(|(id, _)| id).collect()
    }

    #[test]
    fn pieces_lie_end_to_end_with_kerfs_between() {
        let scenario = full_size();
        let parts = [
            part(&scenario, "2x8", [inches(40), inches(7)], 1),
            part(&scenario, "1/2 plywood", [inches(40), inches(7)], 9),
            part(&scenario, "2x8", [inches(55), inches(6)], 1),
        ];
        let cut = plan(&scenario, &parts).expect("boards without limit");
        let [eight, ..] = items(&scenario, "2x8")[..] else { panic!("three lengths") };
        let kerf = scenario.shop.kerf;
        let at = inches(55) + kerf;
        let pieces = vec![
            BoardPiece { part: PartId(2), at: Length::ZERO, length: inches(55) },
            BoardPiece { part: PartId(0), at, length: inches(40) },
        ];
        let offcut = inches(96) - at - inches(40) - kerf;
        assert_eq!(cut.layouts, [BoardLayout { stock: eight, repeat: 1, pieces, offcut }]);
        assert_eq!(cut.purchases.len(), 1);
        assert_eq!(cut.purchases[0].cost, Money::ONE * 10);
        assert_eq!((cut.bound, cut.proved), (Money::ONE * 10, true));
    }

    #[test]
    fn a_last_kerf_may_run_off_the_end() {
        let scenario = full_size();
        let half = inches(48) - sixteenths(1);
        let parts = [part(&scenario, "2x8", [half, inches(7)], 2)];
        let cut = plan(&scenario, &parts).expect("boards without limit");
        assert_eq!(cut.layouts[0].pieces.len(), 2, "two halves less half a kerf fill 96 in");
        assert_eq!(cut.layouts[0].offcut, Length::ZERO);
    }

    #[test]
    fn what_is_on_hand_and_offcuts_go_first() {
        let mut scenario = full_size();
        let [eight, ..] = items(&scenario, "2x8")[..] else { panic!("three lengths") };
        scenario.stock.items[eight].on_hand = 1;
        let material = scenario.stock.items[eight].material;
        let offcut = scenario.stock.items.push(StockItem {
            material,
            name: "offcut".to_owned(),
            form: Form::Board { length: inches(76) },
            price: Money::ZERO,
            on_hand: 2,
            most: Some(0),
        });
        let parts = [part(&scenario, "2x8", [inches(75), inches(7)], 4)];
        let cut = plan(&scenario, &parts).expect("enough");
        let line = |id| cut.purchases.iter().find(|p| p.what == PurchaseOf::Stock(id));
        let used = line(offcut).expect("the offcuts");
        assert_eq!((used.quantity, used.on_hand, used.cost), (2, 2, Money::ZERO));
        let bought = line(eight).expect("boards of 8 ft");
        assert_eq!((bought.quantity, bought.on_hand, bought.cost), (2, 1, Money::ONE * 10));
        // The one on hand and the one bought are cut alike: one line of the plan.
        assert_eq!(cut.layouts.len(), 2);
        assert!(cut.layouts.iter().all(|l| l.repeat == 2));
        assert!(cut.proved);
    }

    #[test]
    fn shortages_are_named() {
        let mut scenario = full_size();
        let long = [
            part(&scenario, "2x8", [inches(20), inches(7)], 1),
            part(&scenario, "2x8", [inches(150), inches(7)], 1),
        ];
        let too_long = BoardShortage::TooLong { part: PartId(1), by: inches(6) };
        assert_eq!(plan(&scenario, &long), Err(too_long));
        let wide = [part(&scenario, "2x8", [inches(20), inches(8)], 1)];
        let too_wide = BoardShortage::TooWide { part: PartId(0), by: sixteenths(12) };
        assert_eq!(plan(&scenario, &wide), Err(too_wide));
        let ids = items(&scenario, "2x8");
        for &id in &ids {
            scenario.stock.items[id].most = Some(0);
        }
        scenario.stock.items[ids[0]].most = Some(2);
        let material = scenario.stock.items[ids[0]].material;
        let many = [part(&scenario, "2x8", [inches(75), inches(7)], 3)];
        let short = BoardShortage::OutOfStock { material, part: PartId(0), missing: 1 };
        assert_eq!(plan(&scenario, &many), Err(short));
    }
}
