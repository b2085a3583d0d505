//! Parts onto sheets and boards: translates to the solver's plain problems, and back to the design's plan.

pub mod boards;
pub mod job;
mod offer;
pub mod sheets;
mod stops;

use crate::design::{Blank, CuttingPlan, Part, Purchase};
use crate::scenario::{MaterialId, Scenario};
use crate::solve::budget::Budget;
use crate::units::Money;

pub use boards::BoardShortage;
pub use sheets::SheetShortage;

use offer::{Ask, Sawn};

/// A cutting plan with the stock it takes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StockCut {
    /// How every part comes out of stock.
    pub plan: CuttingPlan,
    /// The stock used, in the order of the scenario's stock.
    pub purchases: Vec<Purchase>,
}

/// Why the parts cannot be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CutReason {
    /// For want of sheets.
    Sheets(SheetShortage),
    /// For want of boards.
    Boards(BoardShortage),
}

/// How all parts are cut from the scenario's stock at the least price found; `PartId(i)` is `parts[i]`.
///
/// Boards may spend up to a third of the budget, sheets what is left; either share is split evenly over the materials.
pub fn plan(
    scenario: &Scenario,
    parts: &[Part],
    budget: &mut Budget,
) -> Result<StockCut, CutReason> {
    let blanks: Vec<Blank> = parts.iter().map(Blank::from).collect();
    let ask = Ask {
        blanks: &blanks,
        stock: &scenario.stock,
        shop: &scenario.shop,
        worths: &[],
        factory: &[],
        threads: 1,
        heard: None,
    };
    if let Some(shortage) = boards::too_wide(&ask) {
        return Err(CutReason::Boards(shortage));
    }
    let mut share = budget.share(budget.left() / 3);
    let boards = all(&ask, ask.materials(true), &mut share);
    budget.spend(share.spent().min(budget.left()));
    let boards = boards?;
    let sheets = all(&ask, ask.materials(false), budget)?;
    Ok(stock_cut(&ask, boards.and(sheets)))
}

/// Several materials one after the other.
fn all(ask: &Ask<'_>, materials: Vec<MaterialId>, budget: &mut Budget) -> Result<Sawn, CutReason> {
    let each = budget.left() / (materials.len() as u64).max(1);
    materials.into_iter().try_fold(Sawn::default(), |so_far, material| {
        let mut share = budget.share(each);
        let sawn = one(ask, material, &ask.offers(material), &mut share);
        budget.spend(share.spent().min(budget.left()));
        Ok(so_far.and(sawn?))
    })
}

/// One material, whatever it comes in.
fn one(
    ask: &Ask<'_>,
    material: MaterialId,
    offers: &[offer::Offer],
    budget: &mut Budget,
) -> Result<Sawn, CutReason> {
    if ask.stock.materials[material].is_board() {
        boards::cut(ask, material, offers, budget).map_err(CutReason::Boards)
    } else {
        sheets::cut(ask, material, offers, budget).map_err(CutReason::Sheets)
    }
}

/// The plan with what it takes. It is proved if it costs no more than its bound.
fn stock_cut(ask: &Ask<'_>, sawn: Sawn) -> StockCut {
    let purchases = sawn.purchases(ask.stock);
    let cost: Money = purchases.iter().map(|bought| bought.cost).sum();
    let plan = CuttingPlan {
        kerf: ask.shop.kerf,
        sheets: sawn.sheets,
        boards: sawn.boards,
        proved: cost <= sawn.bound,
        bound: sawn.bound,
    };
    StockCut { plan, purchases }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Grain, PurchaseOf, Role};
    use crate::scenario::fixture::{full_size, inches};
    use crate::units::{Length, Money};

    /// A part of the fixture's stock.
    pub(super) fn part(scenario: &Scenario, name: &str, size: [Length; 2], quantity: u32) -> Part {
        let material = scenario.stock.material_named(name).expect("the fixture's stock");
        let thickness = scenario.stock.materials[material].thickness;
        let [length, width] = size;
        let (mark, role, grain) = (format!("X{quantity}"), Role::Member, Grain::Along);
        Part { mark, role, material, length, width, thickness, quantity, grain }
    }

    #[test]
    fn sheets_and_boards_make_one_plan() {
        let scenario = full_size();
        let parts = [
            part(&scenario, "2x8", [inches(75), inches(7)], 3),
            part(&scenario, "1/2 plywood", [inches(75), inches(48)], 1),
        ];
        let cut = plan(&scenario, &parts, &mut Budget::work(1_000_000)).expect("enough stock");
        assert_eq!((cut.plan.sheets.len(), cut.plan.sheets[0].repeat), (1, 1));
        // 75 in twice and a kerf exceed 12 ft by 6 in, so each member takes a board of 8 ft.
        assert_eq!((cut.plan.boards.len(), cut.plan.boards[0].repeat), (1, 3));
        let cost: Money = cut.purchases.iter().map(|p| p.cost).sum();
        assert_eq!(cost, Money::ONE * (40 + 3 * 10));
        assert!(cut.plan.proved);
        assert_eq!(cut.plan.bound, cost);
        assert!(cut.purchases.is_sorted_by_key(|p| p.what));
        assert!(cut.purchases.iter().all(|p| matches!(p.what, PurchaseOf::Stock(_))));
    }

    #[test]
    fn a_shortage_says_of_what() {
        let scenario = full_size();
        let long = [part(&scenario, "2x8", [inches(150), inches(7)], 1)];
        let reason = plan(&scenario, &long, &mut Budget::work(1_000_000));
        assert!(matches!(reason, Err(CutReason::Boards(BoardShortage::TooLong { .. }))));
        let wide = [part(&scenario, "1/2 plywood", [inches(50), inches(50)], 1)];
        let reason = plan(&scenario, &wide, &mut Budget::work(1_000_000));
        assert!(matches!(reason, Err(CutReason::Sheets(SheetShortage::TooLarge { .. }))));
    }
}
