//! What no design of a structure can beat, criterion by criterion, before anything is stowed or cut.
//!
//! The chest is built empty with columns of equal width. Gear adds dividers and lids and takes nothing away, and the
//! columns' widths only shift wood from one drawer to the next, so that its parts, with what rounding may save taken
//! off, are the least of any design of the structure. All figures are integers and rounded toward the ideal.

use crate::design::derive::figures::chest_mass;
use crate::design::derive::hardware::least_hardware;
use crate::design::derive::{Built, build};
use crate::design::{Carcass, Criteria, HardwareLine, Part, Role, Stowage, Structure};
use crate::mechanics::{Subject, deck_checks};
use crate::scenario::{Form, MaterialId, Scenario, StockItem};
use crate::units::{Length, Mass, Money, Volume};

use super::quickest::least_reach_mm;
use super::reason::{LimitKind, Reason};

/// Sheets this wide have no seams.
const SEAMLESS: Length = Length::mm(100_000);

/// Builds empty chests.
#[derive(Debug)]
pub struct Idealist<'a> {
    scenario: &'a Scenario,
    /// The same with sheets of any width: where a panel's seams are changes no total.
    seamless: Scenario,
}

impl<'a> Idealist<'a> {
    /// For one scenario.
    pub fn new(scenario: &'a Scenario) -> Self {
        let mut seamless = scenario.clone();
        seamless.stock.items = scenario
            .stock
            .items
            .values()
            .map(|item| match item.form {
                Form::Sheet { along, .. } => {
                    StockItem { form: Form::Sheet { along, across: SEAMLESS }, ..item.clone() }
                }
                Form::Board { .. } => item.clone(),
            })
            .collect();
        Self { scenario, seamless }
    }

    /// The ideal of a structure whose stowages are worth `value_milli` at most.
    ///
    /// # Errors
    /// A reason that holds for every design of the structure: its deck fails whatever lies below it, or even the empty chest
    /// exceeds a limit.
    pub fn ideal(
        &self,
        structure: &Structure,
        carcass: &Carcass,
        value_milli: i64,
    ) -> Result<Criteria, Reason> {
        let mut best: Option<Criteria> = None;
        for front in &self.scenario.choices.fronts {
            let structure = Structure { front: *front, ..structure.clone() };
            let Ok(built) = build(&self.seamless, &structure, carcass.clone(), empty(carcass))
            else {
                continue;
            };
            let hardware = least_hardware(self.scenario, &structure, &built);
            self.deck_holds(&structure, &built, &hardware)?;
            let own = self.criteria(&built, &hardware, value_milli);
            best = Some(match best {
                None => own,
                Some(other) => Criteria {
                    cost: own.cost.min(other.cost),
                    mass: own.mass.min(other.mass),
                    loaded_mass: own.loaded_mass.min(other.loaded_mass),
                    simplicity: own.simplicity.min(other.simplicity),
                    ..other
                },
            });
        }
        let ideal = best.unwrap_or_else(|| self.unbuilt(carcass, value_milli));
        let over = |limit, value, most| Err(Reason::OverLimit { limit, value, most });
        let limits = &self.scenario.aims.limits;
        match (limits.cost, limits.mass) {
            (Some(most), _) if ideal.cost > most => {
                over(LimitKind::Cost, ideal.cost.to_units(), most.to_units())
            }
            (_, Some(most)) if ideal.mass > most => {
                over(LimitKind::Mass, ideal.mass.to_kg(), most.to_kg())
            }
            _ => Ok(ideal),
        }
    }

    /// Over a single column the deck's spans are settled.
    fn deck_holds(
        &self,
        structure: &Structure,
        built: &Built,
        hardware: &[HardwareLine],
    ) -> Result<(), Reason> {
        if built.chest.carcass.tiers.last().is_none_or(|top| top.columns > 1) {
            return Ok(());
        }
        let checks = deck_checks(self.scenario, Subject::of(structure, built, hardware));
        match checks.iter().find(|check| check.refuses()) {
            Some(failing) => Err(Reason::CheckFails {
                name: failing.name.clone(),
                value: failing.value,
                limit: failing.limit,
                unit: failing.unit,
            }),
            None => Ok(()),
        }
    }

    fn criteria(&self, built: &Built, hardware: &[HardwareLine], value_milli: i64) -> Criteria {
        let parts: Vec<Part> = built.parts.iter().map(|part| self.least(part)).collect();
        // Each part's mass is rounded to a microgram.
        let pieces: u32 = parts.iter().map(|part| part.quantity).sum();
        let mass = chest_mass(self.scenario, &parts, hardware);
        let mass = mass - Mass::from_micrograms(2 * i64::from(pieces));
        let fittings: Money = hardware.iter().map(|line| line.cost).sum();
        let wood: Money = (self.scenario.stock.materials.ids())
            .map(|material| least_cost(self.scenario, material, &parts))
            .sum();
        Criteria {
            cost: fittings + wood,
            mass,
            loaded_mass: mass,
            // Every panel whole; sizes and patterns are not counted.
            simplicity: pieces,
            ..self.unbuilt(&built.chest.carcass, value_milli)
        }
    }

    /// A part as small as any design's: applied fronts go down to the shop's step each.
    fn least(&self, part: &Part) -> Part {
        let mut part = part.clone();
        if part.role == Role::AppliedFront {
            part.length = (part.length - self.scenario.shop.step).or_zero();
        }
        part
    }

    /// What is known from the frames alone.
    fn unbuilt(&self, carcass: &Carcass, value_milli: i64) -> Criteria {
        Criteria {
            usable_volume: volume(carcass),
            value_milli,
            reach_mm: least_reach_mm(self.scenario, carcass),
            waste: 0.0,
            sheet_waste: 0.0,
            board_waste: 0.0,
            cost: Money::ZERO,
            mass: Mass::ZERO,
            loaded_mass: Mass::ZERO,
            margin: Some(f64::INFINITY),
            simplicity: 0,
        }
    }
}

/// The room in a carcass's drawers, which their widths and gear do not change.
pub fn volume(carcass: &Carcass) -> Volume {
    let each = |frame: &crate::design::TierFrame| {
        frame.inside_width().by(frame.drawer_inside_length).by(frame.clear_height)
    };
    carcass.tiers.iter().map(each).sum()
}

/// A stowage of nothing in columns of equal width.
pub fn empty(carcass: &Carcass) -> Stowage {
    let finest = Length::from_units(1);
    let tiers = carcass.tiers.iter().map(|frame| frame.empty_drawers(finest));
    Stowage { tiers: tiers.collect(), ..Stowage::default() }
}

/// What at least has to be paid for the wood of one material: the parts' faces less what is at hand, in whole pieces where
/// one size alone is sold, else at the lowest price per area.
fn least_cost(scenario: &Scenario, material: MaterialId, parts: &[Part]) -> Money {
    let of = parts.iter().filter(|part| part.material == material);
    let need: i128 =
        of.map(|part| part.length.by(part.width).units() * i128::from(part.quantity)).sum();
    let face = |item: &StockItem| item.face(&scenario.stock.materials[material]).units().max(1);
    let items: Vec<&StockItem> = scenario.stock.of(material).map(|(_, item)| item).collect();
    let at_hand: i128 = items.iter().map(|item| face(item) * i128::from(item.on_hand)).sum();
    let missing = (need - at_hand).max(0);
    let sold = || items.iter().filter(|item| item.most != Some(0));
    let up = |a: i128, b: i128| (a + b - 1) / b;
    let price = |item: &StockItem| i128::from(item.price.parts());
    let least = match sold().count() {
        _ if missing == 0 => 0,
        0 => 0,
        1 => sold().map(|item| up(missing, face(item)) * price(item)).sum(),
        _ => sold().map(|item| up(missing * price(item), face(item))).min().unwrap_or(0),
    };
    Money::from_parts(i64::try_from(least.max(0)).unwrap_or(i64::MAX))
}
