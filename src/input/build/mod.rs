//! From what was read to the inside types: defaults filled in, nonsense refused.
//!
//! Nothing here stops at a fault. A part that cannot be made is left out, the others are still looked at, and
//! the scenario is handed over only if there was no fault at all.

mod aims;
mod bed;
mod chest;
mod choices;
mod decided;
mod engineering;
mod gear;
mod shop;
mod stock;
mod tolerance;

pub(super) use stock::material_or_item;

use super::fault::{Code, Fault, Span};
use super::outside;
use super::reader::{At, Reading};
use super::rules;
use crate::scenario::Scenario;
use crate::units::{Length, Mass, Money, UnitSystem};

/// Something that the file left open, and what was taken for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DefaultUsed {
    /// Its key, with its tables: `shop.kerf`.
    pub key: String,
    /// What was taken, as a person reads it.
    pub value_shown: String,
    /// Where that value comes from.
    pub basis: &'static str,
}

/// The basis of most defaults.
pub(super) const PRACTICE: &str = "common practice, no source";
/// The basis of defaults that follow from the rest of the file.
pub(super) const FROM_FILE: &str = "from what else the file says";

/// Fills in, checks, and keeps the record.
#[derive(Debug)]
pub(super) struct Builder {
    /// Units, and the faults found so far.
    pub reading: Reading,
    /// Every default used.
    pub defaults: Vec<DefaultUsed>,
    /// What is worth knowing.
    pub notices: Vec<Fault>,
    /// Whether every sheet and board was read: only then can a name be unknown.
    pub stock_is_whole: bool,
    /// Whether a sheet must say how thick it is.
    pub thickness_matters: bool,
}

impl Builder {
    pub fn new(reading: Reading) -> Self {
        Self {
            reading,
            defaults: Vec::new(),
            notices: Vec::new(),
            stock_is_whole: true,
            thickness_matters: true,
        }
    }

    /// The scenario that `file` describes; `None`, with faults recorded, if it describes none.
    pub fn scenario(&mut self, file: &outside::Scenario, title: &str) -> Option<Scenario> {
        let title =
            file.title.as_ref().map_or_else(|| title.to_owned(), |given| given.value.clone());
        let units = self.or_default(&file.units, "units", UnitSystem::Inch, "in", PRACTICE);
        let currency = if units == UnitSystem::Inch { "USD" } else { "EUR" };
        let currency =
            self.or_default(&file.currency, "currency", currency.into(), currency, PRACTICE);
        let bed = file.bed.as_ref().and_then(|bed| self.bed(&bed.value));
        let gear = self.gear(file);
        let loose = self.loose(file);
        let stock = self.stock(file);
        let shop = self.shop(file.shop.as_ref().map(|shop| &shop.value));
        let chest = file.chest.as_ref().map(|chest| &chest.value);
        let wells = file.bed.as_ref().is_some_and(|bed| bed.value.wells.is_some());
        let choices = self.choices(chest, &stock, wells);
        let decided = self.decided(file, &stock, &choices);
        let allowances = self.allowances(chest);
        let tolerance = self.tolerance(file.tolerance.as_ref().map(|given| &given.value));
        let engineering = self.engineering(file.engineering.as_ref().map(|given| &given.value));
        let aims = self.aims(file, &gear, &loose);
        rules::check(file, self);
        let bed = bed?;
        rules::check_derived(file, &bed, &shop, &allowances, self);
        let scenario = Scenario {
            title,
            units,
            currency,
            bed,
            gear,
            loose,
            stock,
            shop,
            choices,
            decided,
            allowances,
            tolerance,
            engineering,
            aims,
        };
        self.reading.faults.is_empty().then_some(scenario)
    }

    /// Records a fault.
    pub fn fault(&mut self, fault: Fault) {
        self.reading.fault(fault);
    }

    /// Records that a default was used.
    pub fn used(&mut self, key: &str, shown: impl Into<String>, basis: &'static str) {
        self.defaults.push(DefaultUsed { key: key.to_owned(), value_shown: shown.into(), basis });
    }

    /// What was given, or the default, which is then recorded.
    pub fn or_default<T: Clone>(
        &mut self,
        given: &Option<At<T>>,
        key: &str,
        default: T,
        shown: &str,
        basis: &'static str,
    ) -> T {
        match given {
            Some(given) => given.value.clone(),
            None => {
                self.used(key, shown, basis);
                default
            }
        }
    }

    /// The default in inches or the one in millimetres, as the scenario's units are.
    pub fn either(&self, inches: Length, mm: i64) -> Length {
        match self.reading.units {
            UnitSystem::Inch => inches,
            UnitSystem::Metric => Length::mm(mm),
        }
    }

    /// A length of at least `least`, or the default for it.
    pub fn length_or(
        &mut self,
        given: Option<&At<Length>>,
        key: &str,
        least: Least,
        default: Length,
    ) -> Length {
        match given {
            Some(given) => self.length(given, key, least).unwrap_or(default),
            None => {
                let shown = default.show(self.reading.units);
                self.used(key, shown, PRACTICE);
                default
            }
        }
    }

    /// A length that is positive (or not negative) and within reason.
    pub fn length(&mut self, given: &At<Length>, key: &str, least: Least) -> Option<Length> {
        let wrong = match least {
            Least::Positive if !given.value.is_positive() => "must be more than nothing",
            Least::Zero if given.value < Length::ZERO => "must not be negative",
            _ if given.value.abs_diff(Length::ZERO) > LONGEST => "is longer than 100 m",
            _ => return Some(given.value),
        };
        let shown = given.value.show(self.reading.units);
        self.out_of_range(&given.span, format!("`{key}` {wrong}, and is {shown}"));
        None
    }

    /// A mass that is not negative and within reason.
    pub fn mass(&mut self, given: &At<Mass>, key: &str) -> Option<Mass> {
        let wrong = if given.value < Mass::ZERO {
            "must not be negative"
        } else if given.value > HEAVIEST {
            "is over 100 t"
        } else {
            return Some(given.value);
        };
        let shown = given.value.show(self.reading.units);
        self.out_of_range(&given.span, format!("`{key}` {wrong}, and is {shown}"));
        None
    }

    /// A price that is not negative and within reason.
    pub fn price(&mut self, given: &At<Money>, key: &str) -> Option<Money> {
        let wrong = if given.value < Money::ZERO {
            "must not be negative"
        } else if given.value > Money::ONE * 10_000_000 {
            "is over ten million"
        } else {
            return Some(given.value);
        };
        self.out_of_range(&given.span, format!("`{key}` {wrong}, and is {}", given.value));
        None
    }

    /// A count from `least` to `most`.
    pub fn count(&mut self, given: &At<i64>, key: &str, least: u32, most: u32) -> Option<u32> {
        match u32::try_from(given.value) {
            Ok(count) if (least..=most).contains(&count) => Some(count),
            _ => {
                let message =
                    format!("`{key}` must be from {least} to {most}, and is {}", given.value);
                self.out_of_range(&given.span, message);
                None
            }
        }
    }

    fn out_of_range(&mut self, span: &Span, message: String) {
        self.fault(Fault::at(Code::OutOfRange, span.clone(), message));
    }
}

/// What a length must be at least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Least {
    /// More than nothing.
    Positive,
    /// Nothing will do.
    Zero,
    /// It may be negative.
    Any,
}

/// No length in a scenario is longer.
pub(super) const LONGEST: Length = Length::mm(100_000);

/// No mass in a scenario is greater.
const HEAVIEST: Mass = Mass::from_micrograms(100_000 * Mass::KG.micrograms());
