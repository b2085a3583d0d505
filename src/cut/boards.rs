//! Board parts onto boards: one cutting-stock problem per material, and the plan back in the design's terms.
//!
//! A part takes its length of a board's whole width; narrower parts are ripped from that length. What is on
//! hand, offcuts among it, costs nothing and is limited; more can be bought at its price up to the most that can
//! be had.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::offer::{Ask, Offer, Sawn};
use super::stops;
use crate::design::derive::sawing;
use crate::design::{BoardLayout, BoardPiece, PartId};
use crate::scenario::{Form, MaterialId, Section, StockId};
use crate::solve::boards as solve;
use crate::solve::budget::Budget;
use crate::units::{Length, Money};

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

/// The first part that is wider than its material's boards.
pub(super) fn too_wide(ask: &Ask<'_>) -> Option<BoardShortage> {
    let wanted = ask.blanks.iter().enumerate().filter(|(_, blank)| blank.quantity > 0);
    wanted.into_iter().find_map(|(i, blank)| match ask.stock.materials[blank.material].section {
        Section::Board { width } if blank.width > width => {
            Some(BoardShortage::TooWide { part: part_id(i), by: blank.width - width })
        }
        _ => None,
    })
}

/// How the parts of one material, none of them wider than its boards, are cut from what is offered.
pub(super) fn cut(
    ask: &Ask<'_>,
    material: MaterialId,
    offers: &[Offer],
    budget: &mut Budget,
) -> Result<Sawn, BoardShortage> {
    let job = Job::new(ask, material, offers);
    let mut hear = |now: solve::BarProgress| ask.hear(now.objective, now.bound);
    let found = solve::cut_bars_watched(&job.problem, budget, &mut hear).found();
    let found = found.map_err(|reason| {
        reason.map_or(BoardShortage::NotFound { material }, |reason| job.shortage(reason))
    })?;
    let boards = job.layouts(&found.best);
    let (bound, stopped_by) = (Money::from_parts(found.bound), found.stopped_by);
    Ok(Sawn { boards, bound, stopped_by, ..Sawn::default() })
}

/// Takes what is worth most out of the boards that are offered, and what no choice exceeds; what pieces are worth is given
/// by blank. `None` if the worths are beyond what can be added up.
pub(super) fn take(
    ask: &Ask<'_>,
    material: MaterialId,
    offers: &[Offer],
    worths: &[i64],
    budget: &mut Budget,
) -> Option<(Sawn, i64)> {
    let job = Job::new(ask, material, offers);
    let worths: Vec<i64> = job.parts.iter().map(|id| worths[id.0 as usize]).collect();
    let found = solve::take_bars(&job.problem, &worths, budget).found().ok()?;
    let boards = job.layouts(&found.best);
    let stopped_by = found.stopped_by;
    Some((Sawn { boards, stopped_by, ..Sawn::default() }, found.bound))
}

fn part_id(index: usize) -> PartId {
    PartId(u32::try_from(index).expect("fewer parts than 2^32"))
}

/// One material's problem, with the way back.
struct Job<'a> {
    ask: &'a Ask<'a>,
    material: MaterialId,
    problem: solve::BarProblem,
    /// For each bar of the problem: the stock and its length.
    bars: Vec<(StockId, Length)>,
    /// For each part of the problem.
    parts: Vec<PartId>,
}

impl<'a> Job<'a> {
    fn new(ask: &'a Ask<'a>, material: MaterialId, offers: &[Offer]) -> Self {
        let kerf = ask.shop.kerf.units();
        let keep = Some(ask.shop.keep_offcut[0].units()).filter(|least| *least > 0);
        let mut problem = solve::BarProblem { kerf, keep, ..solve::BarProblem::default() };
        let mut bars = Vec::new();
        for offer in offers {
            let Form::Board { length } = ask.stock.items[offer.stock].form else { continue };
            let (price, limit) = (offer.price.parts(), offer.limit);
            problem.bars.push(solve::Bar { length: length.units(), price, limit });
            bars.push((offer.stock, length));
        }
        let mut parts = Vec::new();
        for (i, blank) in ask.blanks.iter().enumerate().filter(|(_, b)| b.material == material) {
            let (length, count) = (blank.length.units(), blank.quantity);
            problem.parts.push(solve::BarPart { length, count });
            parts.push(part_id(i));
        }
        Self { ask, material, problem, bars, parts }
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

    fn layouts(&self, plan: &solve::BarPlan) -> Vec<BoardLayout> {
        let mut layouts: Vec<BoardLayout> = Vec::new();
        // What is on hand and what is bought of one stock may be cut alike.
        let mut places: BTreeMap<(StockId, Vec<BoardPiece>), usize> = BTreeMap::new();
        for pattern in &plan.patterns {
            let layout = self.layout(pattern);
            let alike = (layout.stock, layout.pieces.clone());
            match places.entry(alike) {
                Entry::Occupied(at) => layouts[*at.get()].repeat += layout.repeat,
                Entry::Vacant(at) => {
                    at.insert(layouts.len());
                    layouts.push(layout);
                }
            }
        }
        self.set_seldom(layouts)
    }

    /// Stock by stock, the layouts in an order in which the stop is set seldom.
    fn set_seldom(&self, layouts: Vec<BoardLayout>) -> Vec<BoardLayout> {
        let ends = |layout: &BoardLayout| {
            let [stops, _] = sawing::board_settings(self.ask.blanks, layout, self.ask.stock);
            Some((*stops.first()?, *stops.last()?))
        };
        let mut stocks: Vec<(StockId, Vec<BoardLayout>)> = Vec::new();
        for layout in layouts {
            match stocks.iter_mut().find(|(stock, _)| *stock == layout.stock) {
                Some((_, mine)) => mine.push(layout),
                None => stocks.push((layout.stock, vec![layout])),
            }
        }
        let mut now = None;
        let mut order = Vec::new();
        for (_, mine) in stocks {
            let ends: Vec<_> = mine.iter().map(ends).collect();
            let mut mine: Vec<_> = mine.into_iter().map(Some).collect();
            let places = stops::set_seldom(&ends, &mut now);
            order.extend(places.into_iter().filter_map(|place| mine[place].take()));
        }
        order
    }

    /// Pieces from the board's end, longest first.
    fn layout(&self, pattern: &solve::BarPattern) -> BoardLayout {
        let (stock, whole) = self.bars[pattern.bar];
        let mut pieces: Vec<(Length, PartId)> = (pattern.counts.iter())
            .flat_map(|&(part, n)| (0..n).map(move |_| self.parts[part]))
            .map(|part| (self.ask.blanks[part.0 as usize].length, part))
            .collect();
        pieces.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut at = Length::ZERO;
        let pieces = (pieces.into_iter())
            .map(|(length, part)| {
                let piece = BoardPiece { part, at, length };
                at += length + self.ask.shop.kerf;
                piece
            })
            .collect();
        BoardLayout { stock, repeat: pattern.repeat, pieces, offcut: (whole - at).or_zero() }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::part;
    use super::super::{CutReason, StockCut};
    use super::*;
    use crate::design::{Part, PurchaseOf};
    use crate::scenario::fixture::{full_size, inches, sixteenths};
    use crate::scenario::{Scenario, StockItem};

    fn plan(scenario: &Scenario, parts: &[Part]) -> Result<StockCut, BoardShortage> {
        match super::super::plan(scenario, parts, &mut Budget::work(1_000_000)) {
            Ok(cut) => Ok(cut),
            Err(CutReason::Boards(shortage)) => Err(shortage),
            Err(CutReason::Sheets(shortage)) => panic!("{shortage:?}"),
        }
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
            part(&scenario, "2x8", [inches(55), inches(6)], 1),
        ];
        let cut = plan(&scenario, &parts).expect("boards without limit");
        let [eight, ..] = items(&scenario, "2x8")[..] else { panic!("three lengths") };
        let kerf = scenario.shop.kerf;
        let at = inches(55) + kerf;
        let pieces = vec![
            BoardPiece { part: PartId(1), at: Length::ZERO, length: inches(55) },
            BoardPiece { part: PartId(0), at, length: inches(40) },
        ];
        let offcut = inches(96) - at - inches(40) - kerf;
        assert_eq!(cut.plan.boards, [BoardLayout { stock: eight, repeat: 1, pieces, offcut }]);
        assert_eq!(cut.purchases.len(), 1);
        assert_eq!(cut.purchases[0].cost, Money::ONE * 10);
        assert_eq!((cut.plan.bound, cut.plan.proved), (Money::ONE * 10, true));
    }

    #[test]
    fn boards_are_cut_in_the_order_that_leaves_the_stop_where_it_is() {
        let mut scenario = full_size();
        for longer in &items(&scenario, "2x8")[1..] {
            scenario.stock.items[*longer].most = Some(0);
        }
        // Four boards of 96 do in one way only: one with 55 and 40, one with 40 twice, two with 70 and 20: any other order sets the stop once more.
        let sizes = [(55, 1), (70, 2), (40, 3), (20, 2)];
        let parts = sizes.map(|(length, n)| part(&scenario, "2x8", [inches(length), inches(7)], n));
        let cut = plan(&scenario, &parts).expect("boards without limit");
        let layouts = cut.plan.boards.iter();
        let lengths: Vec<Vec<Length>> =
            layouts.map(|l| l.pieces.iter().map(|piece| piece.length).collect()).collect();
        let place = |first: i64, second: i64| {
            let wanted = [inches(first), inches(second)];
            lengths.iter().position(|l| *l == wanted).expect("it is cut so")
        };
        assert_eq!(lengths.len(), 3, "{lengths:?}");
        assert_eq!(place(55, 40) + 1, place(40, 40), "{lengths:?}");
        let blanks: Vec<_> = parts.iter().map(crate::design::Blank::from).collect();
        // Fence for the rips, and stops at 55, 40, 70, 20.
        assert_eq!(sawing::setups(&blanks, &cut.plan, &scenario.stock), 1 + 4);
    }

    #[test]
    fn a_last_kerf_may_run_off_the_end() {
        let scenario = full_size();
        let half = inches(48) - sixteenths(1);
        let parts = [part(&scenario, "2x8", [half, inches(7)], 2)];
        let cut = plan(&scenario, &parts).expect("boards without limit");
        assert_eq!(cut.plan.boards[0].pieces.len(), 2, "two halves less half a kerf fill 96 in");
        assert_eq!(cut.plan.boards[0].offcut, Length::ZERO);
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
        assert_eq!(cut.plan.boards.len(), 2);
        assert!(cut.plan.boards.iter().all(|l| l.repeat == 2));
        assert!(cut.plan.proved);
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
