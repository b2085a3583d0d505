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

/// A setting: its key, where it is given and where it goes, what it must lie within, and why its default is what it is.
struct Setting<G: 'static, T: 'static, W> {
    key: &'static str,
    given: fn(&Given) -> &Option<At<G>>,
    into: fn(&mut Engineering) -> &mut T,
    within: W,
    why: &'static str,
}

/// A number.
type Factor = Setting<Number, f64, [f64; 2]>;
/// A length, which has only to be positive.
type Span = Setting<Length, Length, ()>;

/// Settings, a line each: the key, the field that it goes to, what it must lie within, the reason of its default.
macro_rules! settings {
    ($($key:ident => $into:ident $([$at:literal])?, $within:expr, $why:expr;)+) => {
        [$(Setting {
            key: stringify!($key),
            given: |e| &e.$key,
            into: |e| &mut e.$into$([$at])?,
            within: $within,
            why: $why,
        }),+]
    };
}

const FACTORS: [Factor; 11] = settings! {
    driest => moisture[0], [0.0, 30.0], MOISTURE;
    wettest => moisture[1], [0.0, 30.0], MOISTURE;
    road_shock => road_shock, [1.0, 10.0], "assumption: bumps double what wood and screws feel";
    creep => creep, [1.0, 5.0], "NDS 3.5.2, K_cr 2 for panels and unseasoned lumber; a covered bed is as damp as outdoors (assumption)";
    sag_share => sag_share, [20.0, 2000.0], "common practice: a 240th of a span is seen";
    felt_share => felt_share, [20.0, 2000.0], "assumption: it springs back, and a 120th of a span is felt";
    floor_friction => floor_friction, [0.0, 1.0], "none is counted on: a wet floor holds little";
    gear_friction => gear_friction, [0.0, 1.0], "CTU Code appendix 2, planed wood on plywood";
    tip_safety => tip_safety, [1.0, 10.0], "assumption: half as much again as balance, fastenings not counted";
    slope_deg => slope_deg, [0.0, 30.0], "assumption: a drive or a soft shoulder";
    temperature_swing => temperature_swing, [0.0, 150.0], "assumption: winter night to summer sun";
};

const SPANS: [Span; 6] = settings! {
    foot => foot, (), PERSON;
    engagement => engagement, (), "assumption: so much must stay in to guide it";
    bolt => bolt, (), PRACTICE;
    carry => carry, (), "assumption: a sheet's length";
    lock_radius => lock_radius, (), LOCK;
    lock_rod => lock_rod, (), LOCK;
};

impl<G, T: Copy, W> Setting<G, T, W> {
    /// Puts what `read` makes of what is given, and of what is usual, where it goes.
    fn put(
        &self,
        file: Option<&Given>,
        found: &mut Engineering,
        read: impl FnOnce(Option<&At<G>>, T) -> T,
    ) {
        let place = (self.into)(found);
        *place = read(file.and_then(|file| (self.given)(file).as_ref()), *place);
    }
}

impl Builder {
    /// What the checks assume.
    pub(super) fn engineering(&mut self, file: Option<&Given>) -> Engineering {
        let mut found = Engineering::usual(self.reading.units);
        for factor in &FACTORS {
            factor.put(file, &mut found, |given, usual| self.factor(given, usual, factor));
        }
        for span in &SPANS {
            span.put(file, &mut found, |given, usual| self.span(given, usual, span));
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
