//! From a structure to a finished design, stage by stage.

use super::id::design_id;
use super::reason::{LimitKind, Reason};
use crate::cut::{self, BoardShortage, CutReason, SheetShortage};
use crate::design::derive::figures::{Figured, chest_mass, criteria};
use crate::design::derive::hardware::purchase;
use crate::design::derive::{Built, build};
use crate::design::{
    Carcass, Check, Criteria, CuttingPlan, Design, HardwareLine, Part, PartId, Purchase, Stowage,
    Structure, beyond,
};
use crate::mechanics;
use crate::mechanics::fits::{fits, is_as_demanded};
use crate::scenario::Scenario;
use crate::solve::budget::Budget;
use crate::stow::{self, Care};
use crate::units::{Area, Money};

/// A structure that stands, with its gear.
#[derive(Debug, Clone)]
pub struct Stowed {
    pub structure: Structure,
    pub carcass: Carcass,
    pub stowage: Stowage,
    /// No stowage of these drawers is worth more, thousandths of a point.
    pub value_bound: i64,
    /// How wide a drawer was allowed to be.
    pub widest: Widest,
}

/// How wide a drawer may be when gear is stowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Widest {
    /// As the gear asks.
    Any,
    /// So many hundredths of an equal share of its tier.
    Share(u32),
}

impl Widest {
    /// In the order in which they are tried: what is stowed in one of them may fail a check that the next passes.
    pub const ALL: [Self; 3] = [Self::Any, Self::Share(125), Self::Share(102)];

    /// Stows with no drawer wider than this, and none with more to bear than `care` says as far as that can be had.
    pub fn stow(
        self,
        scenario: &Scenario,
        structure: &Structure,
        carcass: &Carcass,
        care: Care<'_>,
        budget: &mut Budget,
    ) -> stow::Stowed {
        match self {
            Self::Any => stow::stow(scenario, structure, carcass, care, budget),
            Self::Share(percent) => {
                stow::stow_evenly(scenario, structure, carcass, care, percent, budget)
            }
        }
    }
}

/// Of a stock that is cut well, about this share becomes parts: what a sketch assumes.
const USUAL_YIELD: f64 = 0.85;

/// A stowed structure built and checked, but not yet cut.
struct Prepared {
    built: Built,
    hardware: Vec<HardwareLine>,
    checks: Vec<Check>,
}

impl Prepared {
    /// Builds and checks.
    ///
    /// # Errors
    /// A seam off its member, a failing check, or an empty chest over the limit on mass: no cutting plan could mend these.
    fn new(scenario: &Scenario, stowed: &Stowed) -> Result<Self, Reason> {
        let Stowed { structure, carcass, stowage, .. } = stowed;
        let mut built =
            build(scenario, structure, carcass.clone(), stowage.clone()).map_err(Reason::Misfit)?;
        let (hardware, checks) = mechanics::fixed_unless_refused(scenario, structure, &mut built);
        if let Some(failing) = checks.iter().find(|check| check.refuses()) {
            return Err(Reason::CheckFails {
                name: failing.name.clone(),
                value: failing.value,
                limit: failing.limit,
                unit: failing.unit,
            });
        }
        let mass = chest_mass(scenario, &built.parts, &hardware);
        if let Some(most) = scenario.aims.limits.mass.filter(|most| mass > *most) {
            let (value, most) = (mass.to_kg(), most.to_kg());
            return Err(Reason::OverLimit { limit: LimitKind::Mass, value, most });
        }
        Ok(Self { built, hardware, checks })
    }

    fn criteria(
        &self,
        scenario: &Scenario,
        cutting: &CuttingPlan,
        purchases: &[Purchase],
    ) -> Criteria {
        let Self { built, hardware, checks } = self;
        criteria(
            scenario,
            Figured {
                carcass: &built.chest.carcass,
                drawers: &built.drawers,
                pockets: &built.pockets,
                parts: &built.parts,
                hardware,
                cutting,
                purchases,
                checks,
            },
        )
    }
}

/// What is known of a design before cutting.
#[derive(Debug, Clone, PartialEq)]
pub struct Sketch {
    /// Cost and waste are estimates.
    pub criteria: Criteria,
    /// How many checks don't hold, guide values among them.
    pub beyond: usize,
}

/// The criteria as far as they are known before cutting.
///
/// # Errors
/// The reason why it is not a design, whatever its cutting plan.
pub fn sketch(scenario: &Scenario, stowed: &Stowed) -> Result<Sketch, Reason> {
    let prepared = Prepared::new(scenario, stowed)?;
    let mut criteria = prepared.criteria(scenario, &CuttingPlan::default(), &[]);
    let fittings: Money = prepared.hardware.iter().map(|line| line.cost).sum();
    criteria.cost = fittings + wood_estimate(scenario, &prepared.built);
    criteria.waste = 1.0 - USUAL_YIELD;
    Ok(Sketch { criteria, beyond: beyond(&prepared.checks) })
}

/// What the wood would cost at the usual yield and the lowest price per area or length.
fn wood_estimate(scenario: &Scenario, built: &Built) -> Money {
    let mut total = 0.0;
    for (id, material) in scenario.stock.materials.iter() {
        let of = built.parts.iter().filter(|part| part.material == id);
        let need = if material.is_board() {
            of.map(|part| part.length.to_metres() * f64::from(part.quantity)).sum::<f64>()
        } else {
            let area: Area =
                of.map(|part| part.length.by(part.width) * i64::from(part.quantity)).sum();
            area.to_square_metres()
        };
        let size = |item: &crate::scenario::StockItem| match item.form {
            crate::scenario::Form::Sheet { along, across } => along.by(across).to_square_metres(),
            crate::scenario::Form::Board { length } => length.to_metres(),
        };
        let lowest = scenario
            .stock
            .of(id)
            .filter(|(_, item)| item.most != Some(0))
            .map(|(_, item)| item.price.to_units() / size(item))
            .reduce(f64::min);
        total += need / USUAL_YIELD * lowest.unwrap_or(0.0);
    }
    Money::from_parts((total * Money::ONE.parts() as f64).round() as i64)
}

/// Cuts, buys and measures; `cut_budget` bounds the search for a cutting plan.
///
/// # Errors
/// The reason why it is not a design: a seam, a check, the stock, a limit.
pub fn finish(
    scenario: &Scenario,
    stowed: &Stowed,
    cut_budget: &mut Budget,
) -> Result<(Design, i64), Reason> {
    let prepared = Prepared::new(scenario, stowed)?;
    let parts = &prepared.built.parts;
    let cut::StockCut { plan: cutting, mut purchases } =
        cut::plan(scenario, parts, cut_budget).map_err(|reason| not_cut(parts, &reason))?;
    purchases.extend(prepared.hardware.iter().filter_map(|line| purchase(scenario, line)));
    let criteria = prepared.criteria(scenario, &cutting, &purchases);
    if let Some(most) = scenario.aims.limits.cost.filter(|most| criteria.cost > *most) {
        let (value, most) = (criteria.cost.to_units(), most.to_units());
        return Err(Reason::OverLimit { limit: LimitKind::Cost, value, most });
    }
    let Prepared { built, hardware, checks } = prepared;
    let Built { chest, drawers, pockets, parts, solids, fixings } = built;
    let id = {
        let drawers: Vec<_> = drawers.iter().map(|drawer| &drawer.plan).collect();
        let pockets: Vec<_> = pockets.iter().map(|pocket| (pocket.place, &pocket.plan)).collect();
        design_id(scenario, &stowed.structure, &chest.openings, &drawers, &pockets)
    };
    let design = Design {
        id,
        structure: stowed.structure.clone(),
        chest,
        drawers,
        pockets,
        left_out: stowed.stowage.left_out.clone(),
        parts,
        solids,
        fixings,
        hardware,
        cutting,
        purchases,
        checks,
        criteria,
    };
    let loose = fits(scenario, &design).into_iter().find(|fit| !is_as_demanded(scenario, fit));
    if let Some(fit) = loose {
        let by = fit.stack.worst() - fit.stack.margin;
        return Err(Reason::Loose { of: fit.of, by });
    }
    Ok((design, stowed.value_bound))
}

fn not_cut(parts: &[Part], reason: &CutReason) -> Reason {
    let of = |part: PartId| parts[part.0 as usize].material;
    let (material, by) = match reason {
        CutReason::Sheets(SheetShortage::TooLarge { part, by })
        | CutReason::Boards(
            BoardShortage::TooLong { part, by } | BoardShortage::TooWide { part, by },
        ) => (of(*part), Some(*by)),
        CutReason::Sheets(
            SheetShortage::OutOfStock { material, .. }
            | SheetShortage::NotFound { material }
            | SheetShortage::NotAJob { material },
        ) => (*material, None),
        CutReason::Boards(BoardShortage::OutOfStock { part, .. }) => (of(*part), None),
        CutReason::Boards(BoardShortage::NotFound { material }) => (*material, None),
    };
    Reason::NotCut { material, by }
}
