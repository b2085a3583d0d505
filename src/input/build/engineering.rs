//! Loads, factors and limits of the checks.

use super::{Builder, Least, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::values::{Newtons, Number};
use crate::scenario::{Engineering, Securing};
use crate::units::Length;

/// Why the defaults are what they are.
const SHOCK: &str = "assumption: bumps double what wood and screws feel";
const PERSON: &str = "assumption: a heavy person on one foot, 1.1 kN";
const CREEP: &str = "NDS 3.5.2, K_cr 2 for panels and unseasoned lumber; a covered bed is as damp as outdoors (assumption)";
const SAG: &str = "common practice: a 240th of a span is seen";
const FELT: &str = "assumption: it springs back, and a 120th of a span is felt";
const FLOOR: &str = "none is counted on: a wet floor holds little";
const GEAR: &str = "CTU Code appendix 2, planed wood on plywood";
const TIP: &str = "assumption: half as much again as balance, fastenings not counted";
const LEFT: &str = "assumption: so much must stay in to guide it";
const SLOPE: &str = "assumption: a drive or a soft shoulder";
const MOISTURE: &str = "assumption: a covered bed through the seasons";
const SWING: &str = "assumption: winter night to summer sun";
const BOLT: &str = "common practice, no source";
const LIFT: &str = "NIOSH 94-110, load constant of the revised lifting equation, 23 kg (51 lb)";
const CARRY: &str = "assumption: a sheet's length";
const LOCK: &str = "common practice, no source: measure yours";
const RULE: &str = "written for commercial vehicles, here a basis for design";

/// A number's key, what it must lie within, and why its default is what it is.
struct Factor {
    key: &'static str,
    within: [f64; 2],
    why: &'static str,
}

const fn factor(key: &'static str, least: f64, most: f64, why: &'static str) -> Factor {
    Factor { key, within: [least, most], why }
}

impl Builder {
    /// What the checks assume.
    pub(super) fn engineering(&mut self, file: Option<&outside::Engineering>) -> Engineering {
        let usual = Engineering::usual(self.reading.units);
        let securing = file.and_then(|file| file.securing.clone());
        let (rule, key) = ("49 CFR 393.102", "engineering.securing");
        let moisture = self.moisture(file, usual.moisture);
        let start = file.and_then(|file| file.start_friction.as_ref());
        let mut number =
            |pick: fn(&outside::Engineering) -> &Option<At<Number>>, usual: f64, factor: Factor| {
                self.factor(file.and_then(|file| pick(file).as_ref()), usual, &factor)
            };
        Engineering {
            road_shock: number(
                |e| &e.road_shock,
                usual.road_shock,
                factor("road_shock", 1.0, 10.0, SHOCK),
            ),
            creep: number(|e| &e.creep, usual.creep, factor("creep", 1.0, 5.0, CREEP)),
            sag_share: number(
                |e| &e.sag_share,
                usual.sag_share,
                factor("sag_share", 20.0, 2000.0, SAG),
            ),
            felt_share: number(
                |e| &e.felt_share,
                usual.felt_share,
                factor("felt_share", 20.0, 2000.0, FELT),
            ),
            floor_friction: number(
                |e| &e.floor_friction,
                usual.floor_friction,
                factor("floor_friction", 0.0, 1.0, FLOOR),
            ),
            gear_friction: number(
                |e| &e.gear_friction,
                usual.gear_friction,
                factor("gear_friction", 0.0, 1.0, GEAR),
            ),
            tip_safety: number(
                |e| &e.tip_safety,
                usual.tip_safety,
                factor("tip_safety", 1.0, 10.0, TIP),
            ),
            slope_deg: number(
                |e| &e.slope_deg,
                usual.slope_deg,
                factor("slope_deg", 0.0, 30.0, SLOPE),
            ),
            temperature_swing: number(
                |e| &e.temperature_swing,
                usual.temperature_swing,
                factor("temperature_swing", 0.0, 150.0, SWING),
            ),
            start_friction: start.map(|given| {
                let within = factor("start_friction", 0.01, 1.0, PRACTICE);
                self.factor(Some(given), given.value.0, &within)
            }),
            moisture,
            securing: self.or_default(&securing, key, Securing::Cfr, rule, RULE),
            person_newtons: self.person(file, usual.person_newtons),
            foot: self.engineering_length(file, "foot", |e| &e.foot, usual.foot, PERSON),
            engagement: self.engineering_length(
                file,
                "engagement",
                |e| &e.engagement,
                usual.engagement,
                LEFT,
            ),
            bolt: self.engineering_length(file, "bolt", |e| &e.bolt, usual.bolt, BOLT),
            carry: self.engineering_length(file, "carry", |e| &e.carry, usual.carry, CARRY),
            lock_radius: self.engineering_length(
                file,
                "lock_radius",
                |e| &e.lock_radius,
                usual.lock_radius,
                LOCK,
            ),
            lock_rod: self.engineering_length(
                file,
                "lock_rod",
                |e| &e.lock_rod,
                usual.lock_rod,
                LOCK,
            ),
            lift: match file.and_then(|file| file.lift.as_ref()) {
                Some(given) => self.mass(given, "lift").unwrap_or(usual.lift),
                None => {
                    let shown = usual.lift.show(self.reading.units);
                    self.used("engineering.lift", shown, LIFT);
                    usual.lift
                }
            },
        }
    }

    fn factor(&mut self, given: Option<&At<Number>>, usual: f64, of: &Factor) -> f64 {
        let [least, most] = of.within;
        match given {
            None => {
                self.used(&format!("engineering.{}", of.key), usual.to_string(), of.why);
                usual
            }
            Some(given) if (least..=most).contains(&given.value.0) => given.value.0,
            Some(given) => {
                let message = format!("`{}` must be from {least} to {most}", of.key);
                self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
                usual
            }
        }
    }

    fn moisture(&mut self, file: Option<&outside::Engineering>, usual: [f64; 2]) -> [f64; 2] {
        let pick = |given: fn(&outside::Engineering) -> &Option<At<Number>>| {
            file.and_then(|file| given(file).as_ref())
        };
        let (driest, wettest) = (pick(|e| &e.driest), pick(|e| &e.wettest));
        let range = [
            self.factor(driest, usual[0], &factor("driest", 0.0, 30.0, MOISTURE)),
            self.factor(wettest, usual[1], &factor("wettest", 0.0, 30.0, MOISTURE)),
        ];
        if let Some(given) = wettest.or(driest).filter(|_| range[0] > range[1]) {
            let message = "the wettest wood must not be drier than the driest";
            self.fault(Fault::at(Code::Contradiction, given.span.clone(), message));
        }
        range
    }

    fn person(&mut self, file: Option<&outside::Engineering>, usual: f64) -> f64 {
        match file.and_then(|file| file.person.as_ref()) {
            None => {
                self.used("engineering.person", format!("{usual} N"), PERSON);
                usual
            }
            Some(At { value: Newtons(newtons), .. }) if (1.0..=10_000.0).contains(newtons) => {
                *newtons
            }
            Some(given) => {
                let message = "`person` must be from 1 N to 10 kN";
                self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
                usual
            }
        }
    }

    fn engineering_length(
        &mut self,
        file: Option<&outside::Engineering>,
        key: &str,
        pick: fn(&outside::Engineering) -> &Option<At<Length>>,
        usual: Length,
        why: &'static str,
    ) -> Length {
        match file.and_then(|file| pick(file).as_ref()) {
            Some(given) => self.length(given, key, Least::Positive).unwrap_or(usual),
            None => {
                self.used(&format!("engineering.{key}"), usual.show(self.reading.units), why);
                usual
            }
        }
    }
}
