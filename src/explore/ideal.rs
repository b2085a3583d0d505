//! What no design of a structure can beat, criterion by criterion, before anything is stowed or cut.
//!
//! The chest is built empty with columns of equal width. Gear adds dividers and lids and takes nothing away, and the
//! columns' widths only shift wood from one drawer to the next, so that its parts, with what rounding may save taken
//! off, are the least of any design of the structure. All figures are integers and rounded toward the ideal.

use std::collections::BTreeMap;
use std::sync::Mutex;

use crate::design::derive::figures::chest_mass;
use crate::design::derive::hardware::least_hardware;
use crate::design::derive::{Built, build};
use crate::design::{Carcass, Check, Criteria, HardwareLine, Part, Role, Stowage, Structure};
use crate::mechanics::{Subject, deck_checks, deck_refused_over, shelf_refused};
use crate::scenario::{DeckGrain, Form, MaterialId, Scenario, StockItem};
use crate::units::{Length, Mass, Money, Volume};

use super::least_waste::least_waste;
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
    /// What is known of decks over openings from one width to another.
    decks: Mutex<BTreeMap<DeckKey, Option<Check>>>,
}

/// A deck's material, columns below it, length along the members, and openings from the narrowest to the widest.
type DeckKey = (MaterialId, u32, Length, [Length; 2]);

/// Widths between an equal share and all of a tier from which on a deck is looked at.
const SHARES: i64 = 24;

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
        Self { scenario, seamless, decks: Mutex::default() }
    }

    /// The ideal of a structure whose stowages are worth `value_milli` at most.
    ///
    /// # Errors
    /// A reason that holds for every design of the structure: its deck or shelf fails whatever lies on or below it, or even the
    /// empty chest exceeds a limit.
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
            self.holds(&structure, &built, &hardware)?;
            let own = self.criteria(&structure, &built, &hardware, value_milli);
            best = Some(match best {
                None => own,
                Some(other) => Criteria {
                    cost: own.cost.min(other.cost),
                    mass: own.mass.min(other.mass),
                    loaded_mass: own.loaded_mass.min(other.loaded_mass),
                    simplicity: own.simplicity.min(other.simplicity),
                    waste: own.waste.min(other.waste),
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

    /// What no widths of columns and no gear can mend: over a single column the deck's spans are settled; over more, the widest
    /// opening is at least an equal share, and no wider than the deck carries a person.
    fn holds(
        &self,
        structure: &Structure,
        built: &Built,
        hardware: &[HardwareLine],
    ) -> Result<(), Reason> {
        let Some(top) = built.chest.carcass.tiers.last() else { return Ok(()) };
        let subject = Subject::of(structure, built, hardware);
        let all = top.openings_width;
        let share = all / i64::from(top.columns.max(1));
        let failing = if top.columns <= 1 {
            deck_checks(self.scenario, subject).into_iter().find(Check::refuses)
        } else {
            let widths = (0..SHARES).map(|part| share + (all - share) * part / SHARES);
            let from = widths
                .filter(|_| structure.deck_grain == DeckGrain::Along)
                .find_map(|from| Some((from, self.refused_from(structure, subject, [from, all])?)));
            match from {
                Some((from, failing)) if from == share => Some(failing),
                from => {
                    let widest = from.map_or(all, |(from, _)| from);
                    shelf_refused(self.scenario, subject, widest)
                }
            }
        };
        match failing {
            Some(failing) => Err(Reason::CheckFails {
                name: failing.name,
                value: failing.value,
                limit: failing.limit,
                unit: failing.unit,
            }),
            None => Ok(()),
        }
    }

    /// The deck check that refuses all openings from one width to another, looked into once for all that have the same deck.
    fn refused_from(
        &self,
        structure: &Structure,
        subject: Subject<'_>,
        openings: [Length; 2],
    ) -> Option<Check> {
        let columns = structure.tiers.last().map_or(0, |top| top.columns);
        let key = (structure.deck, columns, subject.chest.carcass.length, openings);
        let known = |known: &BTreeMap<DeckKey, Option<Check>>| known.get(&key).cloned();
        if let Some(known) = self.decks.lock().ok().and_then(|decks| known(&decks)) {
            return known;
        }
        let found = deck_refused_over(self.scenario, subject, openings);
        if let Ok(mut decks) = self.decks.lock() {
            decks.insert(key, found.clone());
        }
        found
    }

    fn criteria(
        &self,
        structure: &Structure,
        built: &Built,
        hardware: &[HardwareLine],
        value_milli: i64,
    ) -> Criteria {
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
            waste: least_waste(self.scenario, structure, &parts, fittings),
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
pub fn least_cost(scenario: &Scenario, material: MaterialId, parts: &[Part]) -> Money {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::derive::carcass;
    use crate::design::derive::figures::mass_of;
    use crate::explore::every_structure;
    use crate::mechanics;
    use crate::solve::budget::Budget;
    use crate::stow;

    /// A stowage of nothing in columns parted at random.
    fn parted(carcass: &Carcass, least: Length, random: &mut impl FnMut(i64) -> i64) -> Stowage {
        let mut stowage = empty(carcass);
        for tier in &mut stowage.tiers {
            let columns = tier.len() as i64;
            let mut spare: Length =
                tier.iter().map(|plan| plan.width).sum::<Length>() - least * columns;
            for plan in tier.iter_mut() {
                let more = Length::from_units(random(spare.units() + 1));
                plan.width = least + more;
                spare -= more;
            }
            let last = random(columns) as usize;
            tier[last].width += spare;
        }
        stowage
    }

    /// Whatever the widths of its columns and whatever is stowed, a structure without an ideal for its deck's or shelf's sake is
    /// refused.
    #[test]
    fn no_design_of_a_structure_that_cannot_hold_is_allowed() {
        let mut state: u64 = 11;
        let mut random = move |below: i64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            ((state >> 33) as i64) % below.max(1)
        };
        let (mut decks, mut shelves) = (0, 0);
        for name in ["trade-fullsize", "camping-midsize", "van-birch"] {
            let file = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            let scenario = crate::input::read(file.as_ref()).expect("the demos read").scenario;
            let idealist = Idealist::new(&scenario);
            for structure in every_structure(&scenario).into_iter().step_by(41) {
                let Ok(frames) = carcass(&scenario, &structure) else { continue };
                let Err(Reason::CheckFails { name, .. }) = idealist.ideal(&structure, &frames, 0)
                else {
                    continue;
                };
                *if name.starts_with("shelf") { &mut shelves } else { &mut decks } += 1;
                let least = scenario.allowances.least_drawer_width;
                let mut budget = Budget::work(20_000);
                let full =
                    stow::stow(&scenario, &structure, &frames, stow::Care::NONE, &mut budget)
                        .stowage;
                let bare: Vec<Stowage> =
                    (0..3).map(|_| parted(&frames, least, &mut random)).collect();
                for stowage in bare.into_iter().chain([empty(&frames), full]) {
                    let Ok(mut built) = build(&scenario, &structure, frames.clone(), stowage)
                    else {
                        continue;
                    };
                    let (_, checks) = mechanics::fixed(&scenario, &structure, &mut built);
                    assert!(checks.iter().any(Check::refuses), "{name}: {structure:?}");
                }
            }
        }
        assert!(decks > 10 && shelves > 3, "{decks} {shelves}");
    }

    /// What the search goes by while it shares gear out is what the checks say of what comes of it: how much drawers' bottoms
    /// bear, and that a tier with more gear than its drawers may hold is refused.
    #[test]
    fn what_drawers_are_taken_to_bear_is_what_the_checks_say() {
        let (mut compared, mut refused) = (0, 0);
        for name in ["camping-midsize", "van-birch"] {
            let file = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            let scenario = crate::input::read(file.as_ref()).expect("the demos read").scenario;
            for structure in every_structure(&scenario).into_iter().step_by(23) {
                let Ok(frames) = carcass(&scenario, &structure) else { continue };
                let mut budget = Budget::work(20_000);
                let care = stow::Care::NONE;
                let full = stow::stow(&scenario, &structure, &frames, care, &mut budget).stowage;
                let mut strain: f64 = 0.0;
                let mut is_too_heavy = false;
                for (frame, layouts) in frames.tiers.iter().zip(&full.tiers) {
                    assert!(frame.front_height >= frame.side_height, "{structure:?}");
                    for layout in layouts {
                        let own = mechanics::bottom_strain(&scenario, &structure, frame, layout);
                        strain = strain.max(own);
                    }
                    let items = layouts.iter().flat_map(|layout| &layout.items);
                    let mass: Mass = items.map(|item| mass_of(&scenario, item.content)).sum();
                    is_too_heavy |= mass > mechanics::most_allowed(&scenario, &structure, frame);
                }
                let Ok(built) = build(&scenario, &structure, frames, full) else { continue };
                let checks = mechanics::checks(&scenario, Subject::of(&structure, &built, &[]));
                let of = |start: &str| {
                    let of = checks.iter().filter(|check| check.name.starts_with(start));
                    of.map(|check| check.value / check.limit).fold(0.0, f64::max)
                };
                let said = of("drawer bottom");
                assert!((strain / said - 1.0).abs() < 0.1, "{strain} {said}: {structure:?}");
                compared += 1;
                if is_too_heavy {
                    let pull = |check: &Check| check.name.starts_with("pull") && check.refuses();
                    assert!(checks.iter().any(pull), "{structure:?}");
                    refused += 1;
                }
            }
        }
        assert!(compared > 30 && refused > 0, "{compared} {refused}");
    }
}
