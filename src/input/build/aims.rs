//! Weights and limits.

use super::{Builder, FROM_FILE, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::values::Number;
use crate::scenario::{Aims, Criterion, Demand, Gear, GearId, Keyed, Limits, Loose, LooseId};

/// The weights where nothing was said, in the order of [`Criterion::ALL`].
const DEFAULTS: [f64; 8] = [3.0, 4.0, 2.0, 1.0, 2.0, 1.0, 1.0, 1.0];

impl Builder {
    /// The aims. If no weight at all is given there are default weights; if some are, the others weigh nothing, save
    /// that of optional gear: a worth that counts for nothing would be a trap.
    pub(super) fn aims(
        &mut self,
        file: &outside::Scenario,
        gear: &Keyed<GearId, Gear>,
        loose: &Keyed<LooseId, Loose>,
    ) -> Aims {
        let file = file.aims.as_ref().map(|aims| &aims.value);
        let given = Criterion::ALL.map(|criterion| file.and_then(|aims| weight(aims, criterion)));
        let any = given.iter().any(Option::is_some);
        let optional = gear.values().map(|gear| gear.demand);
        let optional = optional.chain(loose.values().map(|loose| loose.demand));
        let optional = optional.into_iter().any(|demand| demand != Demand::Must);
        let mut weights = [0.0; 8];
        for (criterion, given) in Criterion::ALL.into_iter().zip(given) {
            let weight = &mut weights[criterion as usize];
            match given {
                Some(given) => *weight = self.weight(given, criterion),
                None if !any || (criterion == Criterion::Value && optional) => {
                    *weight = DEFAULTS[criterion as usize];
                    self.used(&format!("aims.{}", criterion.key()), weight.to_string(), PRACTICE);
                }
                None => self.used(&format!("aims.{}", criterion.key()), "0", FROM_FILE),
            }
        }
        self.refuse_no_weight(&weights, &given);
        let limits = file.and_then(|aims| aims.limits.as_ref());
        Aims { weights, limits: limits.map_or(Limits::default(), |l| self.limits(&l.value)) }
    }

    fn weight(&mut self, given: &At<Number>, criterion: Criterion) -> f64 {
        let weight = given.value.0;
        if !(0.0..=1e6).contains(&weight) {
            let message = format!("`{}` must be from 0 to 1000000", criterion.key());
            self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
        }
        weight
    }

    fn refuse_no_weight(&mut self, weights: &[f64; 8], given: &[Option<&At<Number>>; 8]) {
        if weights.iter().any(|weight| *weight != 0.0) {
            return;
        }
        if let Some(first) = given.iter().flatten().next() {
            let message = "every aim weighs nothing: no design would be better than another";
            let fault = Fault::at(Code::Contradiction, first.span.clone(), message);
            self.fault(fault.help("give one of them a weight, or leave all out"));
        }
    }

    fn pressure(&mut self, file: &outside::Limits) -> Option<f64> {
        let given = file.deck_pressure.as_ref()?;
        if given.value.0 > 0.0 {
            return Some(given.value.0);
        }
        let message = "`deck_pressure` must be more than nothing";
        self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
        None
    }

    fn limits(&mut self, file: &outside::Limits) -> Limits {
        let pull = file.pull.as_ref().map(|pull| (pull.value.0, pull.span.clone()));
        if let Some((newtons, span)) = &pull
            && *newtons <= 0.0
        {
            let message = "`pull` must be more than nothing";
            self.fault(Fault::at(Code::OutOfRange, span.clone(), message));
        }
        Limits {
            cost: file.cost.as_ref().and_then(|cost| self.price(cost, "cost")),
            mass: file.mass.as_ref().and_then(|mass| self.mass(mass, "mass")),
            pull_newtons: pull.map(|(newtons, _)| newtons),
            deck_pressure: self.pressure(file),
            deck_load: file.deck_load.as_ref().and_then(|load| self.mass(load, "deck_load")),
        }
    }
}

fn weight(aims: &outside::Aims, criterion: Criterion) -> Option<&At<Number>> {
    match criterion {
        Criterion::UsableVolume => aims.usable_volume.as_ref(),
        Criterion::Value => aims.value.as_ref(),
        Criterion::Reach => aims.reach.as_ref(),
        Criterion::Waste => aims.waste.as_ref(),
        Criterion::Cost => aims.cost.as_ref(),
        Criterion::Mass => aims.mass.as_ref(),
        Criterion::Margin => aims.margin.as_ref(),
        Criterion::Simplicity => aims.simplicity.as_ref(),
    }
}
