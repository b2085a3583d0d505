//! What must be stowed.

use super::{Builder, Least, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::values::{Thousandths, Uses, Where};
use crate::scenario::{Demand, End, Gear, GearId, Keyed, Loose, LooseId, Place, Turn};
use crate::units::{Length, Mass, Volume};

/// The most copies of one thing.
pub(in crate::input) const MOST_COPIES: u32 = 1000;

/// How many entries of a list left something out.
#[derive(Debug, Default)]
struct LeftOut {
    turn: usize,
    worth: usize,
    uses: usize,
    least: usize,
    weight: usize,
}

impl Builder {
    pub(super) fn gear(&mut self, file: &outside::Scenario) -> Keyed<GearId, Gear> {
        let mut left_out = LeftOut::default();
        let list = file.gear.iter().flat_map(|gear| &gear.value);
        let gear = list.filter_map(|one| self.one_gear(&one.value, &mut left_out)).collect();
        self.used_in("gear.turn", "base", left_out.turn);
        self.used_in("gear.worth", "1 point", left_out.worth);
        self.used_in("gear.use", "weekly", left_out.uses);
        gear
    }

    pub(super) fn loose(&mut self, file: &outside::Scenario) -> Keyed<LooseId, Loose> {
        let mut left_out = LeftOut::default();
        let list = file.loose.iter().flat_map(|loose| &loose.value);
        let loose = list.filter_map(|one| self.one_loose(&one.value, &mut left_out)).collect();
        let least = self.least_of_loose().show(self.reading.units);
        self.used_in("loose.least", &least, left_out.least);
        self.used_in("loose.weight", "nothing", left_out.weight);
        self.used_in("loose.worth", "1 point", left_out.worth);
        self.used_in("loose.use", "weekly", left_out.uses);
        loose
    }

    fn one_gear(&mut self, file: &outside::Gear, left_out: &mut LeftOut) -> Option<Gear> {
        let size = file.size.as_ref().map(|size| {
            [0, 1, 2].map(|side| self.length(&size.value[side], "size", Least::Positive))
        });
        let mass = file.weight.as_ref().map(|weight| self.mass(weight, "weight"));
        let count = self.count_or(file.count.as_ref(), "count", 1, MOST_COPIES, 1);
        let stack = self.count_or(file.stack.as_ref(), "stack", 1, MOST_COPIES, 1);
        let padding = file.padding.as_ref().map(|p| self.length(p, "padding", Least::Zero));
        left_out.turn += usize::from(file.turn.is_none());
        let demand = self.demand(file.must.as_ref(), file.worth.as_ref(), left_out);
        let uses_milli = self.uses(file.use_.as_ref(), left_out);
        let [length, width, height] = size?;
        Some(Gear {
            name: file.name.as_ref()?.value.clone(),
            size: [length?, width?, height?],
            mass: mass??,
            count: count?,
            turn: file.turn.as_ref().map_or(Turn::Base, |turn| turn.value),
            demand: demand?,
            uses_milli: uses_milli?,
            near: file.near.as_ref().map(|near| near.value.clone()),
            share: file.share.as_ref().is_some_and(|share| share.value),
            stack: stack?,
            padding: padding.unwrap_or(Some(Length::ZERO))?,
            pocket: file.pocket.as_ref().is_some_and(|pocket| pocket.value),
            place: place(file.in_.as_ref(), file.end.as_ref()),
        })
    }

    fn one_loose(&mut self, file: &outside::Loose, left_out: &mut LeftOut) -> Option<Loose> {
        let volume = file.volume.as_ref().and_then(|volume| self.loose_volume(volume));
        let least = match &file.least {
            Some(least) => self.length(least, "least", Least::Positive),
            None => Some(self.least_of_loose()),
        };
        let mass = match &file.weight {
            Some(weight) => self.mass(weight, "weight"),
            None => Some(Mass::ZERO),
        };
        left_out.least += usize::from(file.least.is_none());
        left_out.weight += usize::from(file.weight.is_none());
        let demand = self.demand(file.must.as_ref(), file.worth.as_ref(), left_out);
        let uses_milli = self.uses(file.use_.as_ref(), left_out);
        Some(Loose {
            name: file.name.as_ref()?.value.clone(),
            volume: volume?,
            least: least?,
            mass: mass?,
            demand: demand?,
            uses_milli: uses_milli?,
            near: file.near.as_ref().map(|near| near.value.clone()),
            place: place(file.in_.as_ref(), file.end.as_ref()),
        })
    }

    fn least_of_loose(&self) -> Length {
        self.either(Length::inches(3, 1), 75)
    }

    fn loose_volume(&mut self, volume: &At<Volume>) -> Option<Volume> {
        if volume.value > Volume::ZERO {
            return Some(volume.value);
        }
        let message = "`volume` must be more than nothing";
        self.fault(Fault::at(Code::OutOfRange, volume.span.clone(), message));
        None
    }

    /// Whether it has to fit, or what it is worth; saying both contradicts itself.
    fn demand(
        &mut self,
        must: Option<&At<bool>>,
        worth: Option<&At<Thousandths>>,
        left_out: &mut LeftOut,
    ) -> Option<Demand> {
        match (must.filter(|must| must.value), worth) {
            (Some(must), Some(worth)) => {
                let message = "what must fit has no worth: it is stowed whatever the rest is worth";
                let fault = Fault::at(Code::Contradiction, worth.span.clone(), message);
                let fault = fault.label("a worth").also(must.span.clone(), "must fit");
                self.fault(fault.help("keep `must = true` or `worth`, not both"));
                None
            }
            (Some(_), None) => Some(Demand::Must),
            (None, Some(worth)) if (0..=1_000_000_000).contains(&worth.value.0) => {
                Some(Demand::Worth(worth.value.0))
            }
            (None, Some(worth)) => {
                let message = "`worth` must be from 0 to 1000000 points";
                self.fault(Fault::at(Code::OutOfRange, worth.span.clone(), message));
                None
            }
            (None, None) => {
                left_out.worth += 1;
                Some(Demand::Worth(1000))
            }
        }
    }

    fn uses(&mut self, uses: Option<&At<Uses>>, left_out: &mut LeftOut) -> Option<i64> {
        let Some(uses) = uses else {
            left_out.uses += 1;
            return Some(1000);
        };
        if (0..=10_000_000).contains(&uses.value.0) {
            return Some(uses.value.0);
        }
        let message = "`use` must be from 0 to 10000 uses per week";
        self.fault(Fault::at(Code::OutOfRange, uses.span.clone(), message));
        None
    }

    /// A count, or what it is where nothing was said; `None` if it is at fault.
    pub(in crate::input) fn count_or(
        &mut self,
        given: Option<&At<i64>>,
        key: &str,
        least: u32,
        most: u32,
        otherwise: u32,
    ) -> Option<u32> {
        match given {
            Some(given) => self.count(given, key, least, most),
            None => Some(otherwise),
        }
    }

    /// Records a default that `times` entries of a list use.
    pub(super) fn used_in(&mut self, key: &str, shown: &str, times: usize) {
        match times {
            0 => {}
            1 => self.used(key, shown, PRACTICE),
            _ => self.used(key, format!("{shown} ({times} times)"), PRACTICE),
        }
    }
}

/// Where a thing must stand, if anything was said of it.
fn place(within: Option<&At<Where>>, end: Option<&At<End>>) -> Option<Place> {
    (within.is_some() || end.is_some()).then(|| Place {
        tier: within.and_then(|within| within.value.tier),
        column: within.and_then(|within| within.value.column),
        end: end.map(|end| end.value),
    })
}
