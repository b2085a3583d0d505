//! Loads, factors and limits of the checks: a table of each kind, every row with its key, its place, its range and why its
//! default is what it is.

use super::{Builder, Least, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside::Engineering as Given;
use crate::input::reader::At;
use crate::input::values::{Newtons, Number};
use crate::scenario::{Engineering, Securing};
use crate::units::Length;

const PERSON: &str = "assumption: a heavy person on one foot, 1.1 kN";
const MOISTURE: &str = "assumption: a covered bed through the seasons";
const LIFT: &str = "NIOSH 94-110, load constant of the revised lifting equation, 23 kg (51 lb)";
const LOCK: &str = "common practice, no source: measure yours";
const RULE: &str = "written for commercial vehicles, here a basis for design";

/// A number: its key, where it is given and where it goes, what it must lie within, and why its default is what it is.
struct Factor {
    key: &'static str,
    given: fn(&Given) -> &Option<At<Number>>,
    into: fn(&mut Engineering) -> &mut f64,
    within: [f64; 2],
    why: &'static str,
}

const FACTORS: [Factor; 11] = [
    Factor {
        key: "driest",
        given: |e| &e.driest,
        into: |e| &mut e.moisture[0],
        within: [0.0, 30.0],
        why: MOISTURE,
    },
    Factor {
        key: "wettest",
        given: |e| &e.wettest,
        into: |e| &mut e.moisture[1],
        within: [0.0, 30.0],
        why: MOISTURE,
    },
    Factor {
        key: "road_shock",
        given: |e| &e.road_shock,
        into: |e| &mut e.road_shock,
        within: [1.0, 10.0],
        why: "assumption: bumps double what wood and screws feel",
    },
    Factor {
        key: "creep",
        given: |e| &e.creep,
        into: |e| &mut e.creep,
        within: [1.0, 5.0],
        why: "NDS 3.5.2, K_cr 2 for panels and unseasoned lumber; a covered bed is as damp as outdoors (assumption)",
    },
    Factor {
        key: "sag_share",
        given: |e| &e.sag_share,
        into: |e| &mut e.sag_share,
        within: [20.0, 2000.0],
        why: "common practice: a 240th of a span is seen",
    },
    Factor {
        key: "felt_share",
        given: |e| &e.felt_share,
        into: |e| &mut e.felt_share,
        within: [20.0, 2000.0],
        why: "assumption: it springs back, and a 120th of a span is felt",
    },
    Factor {
        key: "floor_friction",
        given: |e| &e.floor_friction,
        into: |e| &mut e.floor_friction,
        within: [0.0, 1.0],
        why: "none is counted on: a wet floor holds little",
    },
    Factor {
        key: "gear_friction",
        given: |e| &e.gear_friction,
        into: |e| &mut e.gear_friction,
        within: [0.0, 1.0],
        why: "CTU Code appendix 2, planed wood on plywood",
    },
    Factor {
        key: "tip_safety",
        given: |e| &e.tip_safety,
        into: |e| &mut e.tip_safety,
        within: [1.0, 10.0],
        why: "assumption: half as much again as balance, fastenings not counted",
    },
    Factor {
        key: "slope_deg",
        given: |e| &e.slope_deg,
        into: |e| &mut e.slope_deg,
        within: [0.0, 30.0],
        why: "assumption: a drive or a soft shoulder",
    },
    Factor {
        key: "temperature_swing",
        given: |e| &e.temperature_swing,
        into: |e| &mut e.temperature_swing,
        within: [0.0, 150.0],
        why: "assumption: winter night to summer sun",
    },
];

/// A length, likewise.
struct Span {
    key: &'static str,
    given: fn(&Given) -> &Option<At<Length>>,
    into: fn(&mut Engineering) -> &mut Length,
    why: &'static str,
}

const SPANS: [Span; 6] = [
    Span { key: "foot", given: |e| &e.foot, into: |e| &mut e.foot, why: PERSON },
    Span {
        key: "engagement",
        given: |e| &e.engagement,
        into: |e| &mut e.engagement,
        why: "assumption: so much must stay in to guide it",
    },
    Span { key: "bolt", given: |e| &e.bolt, into: |e| &mut e.bolt, why: PRACTICE },
    Span {
        key: "carry",
        given: |e| &e.carry,
        into: |e| &mut e.carry,
        why: "assumption: a sheet's length",
    },
    Span { key: "lock_radius", given: |e| &e.lock_radius, into: |e| &mut e.lock_radius, why: LOCK },
    Span { key: "lock_rod", given: |e| &e.lock_rod, into: |e| &mut e.lock_rod, why: LOCK },
];

impl Builder {
    /// What the checks assume.
    pub(super) fn engineering(&mut self, file: Option<&Given>) -> Engineering {
        let mut found = Engineering::usual(self.reading.units);
        for factor in &FACTORS {
            let given = file.and_then(|file| (factor.given)(file).as_ref());
            let place = (factor.into)(&mut found);
            *place = self.factor(given, *place, factor);
        }
        for span in &SPANS {
            let given = file.and_then(|file| (span.given)(file).as_ref());
            let place = (span.into)(&mut found);
            *place = self.span(given, *place, span);
        }
        let securing = file.and_then(|file| file.securing.clone());
        let key = "engineering.securing";
        found.securing = self.or_default(&securing, key, Securing::Cfr, "49 CFR 393.102", RULE);
        found.start_friction = file
            .and_then(|file| file.start_friction.as_ref())
            .and_then(|given| self.within("start_friction", given, [0.01, 1.0]));
        found.person_newtons = self.person(file, found.person_newtons);
        found.lift = match file.and_then(|file| file.lift.as_ref()) {
            Some(given) => self.mass(given, "lift").unwrap_or(found.lift),
            None => {
                self.used("engineering.lift", found.lift.show(self.reading.units), LIFT);
                found.lift
            }
        };
        self.driest_before_wettest(file, found.moisture);
        found
    }

    fn factor(&mut self, given: Option<&At<Number>>, usual: f64, of: &Factor) -> f64 {
        match given {
            Some(given) => self.within(of.key, given, of.within).unwrap_or(usual),
            None => {
                self.used(&format!("engineering.{}", of.key), usual.to_string(), of.why);
                usual
            }
        }
    }

    /// A number, if it lies within; a fault, if it doesn't.
    fn within(&mut self, key: &str, given: &At<Number>, [least, most]: [f64; 2]) -> Option<f64> {
        if (least..=most).contains(&given.value.0) {
            return Some(given.value.0);
        }
        let message = format!("`{key}` must be from {least} to {most}");
        self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
        None
    }

    fn span(&mut self, given: Option<&At<Length>>, usual: Length, of: &Span) -> Length {
        match given {
            Some(given) => self.length(given, of.key, Least::Positive).unwrap_or(usual),
            None => {
                let shown = usual.show(self.reading.units);
                self.used(&format!("engineering.{}", of.key), shown, of.why);
                usual
            }
        }
    }

    fn driest_before_wettest(&mut self, file: Option<&Given>, [driest, wettest]: [f64; 2]) {
        let given = file.and_then(|file| file.wettest.as_ref().or(file.driest.as_ref()));
        if let Some(given) = given.filter(|_| driest > wettest) {
            let message = "the wettest wood must not be drier than the driest";
            self.fault(Fault::at(Code::Contradiction, given.span.clone(), message));
        }
    }

    fn person(&mut self, file: Option<&Given>, usual: f64) -> f64 {
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
}
