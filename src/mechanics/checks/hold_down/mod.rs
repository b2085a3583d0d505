//! The chest held in the vehicle: against sliding, lifting and overturning.
//!
//! - Inputs: what chest and gear weigh and where their centre is, how many bolts go through the bottom panel, their rating.
//! - Formula: demand by 49 CFR 393.102 (0.8 g forward, 0.5 g to the side, a fifth of the weight downward) with only the friction
//!   that the scenario counts on, or EN 12195-1 with its safety on top ([`crate::mechanics::restraint`]); overturning at base over
//!   height of the centre of mass.
//! - Limit: two thirds of the bolts (holes are never all tight, assumption), each by its maker's rating, or as the bottom panel
//!   bears on it: NDS 12.3, mode I_s, R_d 4. Crash loads are an order of magnitude higher and outside of this.
//! - Sentence: what weighs on how many bolts, what acceleration and friction are counted.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::fastened::gravity;
use super::weights::{Body, Weights};
use super::{Figure, Kind, Subject};
use crate::design::Check;
use crate::mechanics::lumber::Duration;
use crate::mechanics::restraint::{
    DOWNWARD_SHARE, Direction, EN_SAFETY_FORWARD, EN_SAFETY_OTHER, needed,
};
use crate::scenario::{HardwareUse, Material, Scenario, Securing};
use crate::units::physics::{Force, Kilograms, Metres, SquareMetres, Stress};

/// Of the bolts, what is counted on in shear (assumption).
const TIGHT: f64 = 2.0 / 3.0;
/// How panels bear across their face (APA, from memory).
const PANEL_FACE_BEARING: Stress = Stress::psi(360.0);
/// A washer's diameter in bolt diameters (common practice, no source: a fender washer).
const WASHER: f64 = 3.0;

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let held = Held::of(scenario, subject, weights);
    let mut checks = vec![
        held.slides("hold-down, braking", Direction::Forward),
        held.slides("hold-down, in a bend", Direction::Sideways),
        held.lifts(),
    ];
    checks.extend(held.overturns());
    checks
}

/// Hold-downs that the loads ask for: as few as hold, four at least.
pub(super) fn hold_downs(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> u32 {
    let held = Held::of(scenario, subject, weights);
    let most = |need: Force, each: Force| (need / (each * TIGHT)).ceil();
    let slide = [Direction::Forward, Direction::Sideways]
        .map(|way| most(held.needed(way), held.shear_of_one()));
    let lift = most(held.lift_needed(), held.pull_of_one());
    let least = crate::design::fixings::LEAST_HOLD_DOWNS;
    let bolts = slide.into_iter().fold(lift, f64::max).max(f64::from(least));
    // In pairs, one at each side; a chest that would need more than this needs another fastening.
    let pairs = (bolts / 2.0).ceil().min(f64::from(MOST_HOLD_DOWNS / 2));
    (pairs as u32 * 2).max(least)
}

/// More bolts than this go into no bed floor (assumption).
const MOST_HOLD_DOWNS: u32 = 16;

struct Held<'a> {
    scenario: &'a Scenario,
    subject: &'a Subject<'a>,
    /// Chest and drawers; what is in the pockets stands on the bed.
    body: Body,
    panel: &'a Material,
}

impl<'a> Held<'a> {
    fn of(scenario: &'a Scenario, subject: &'a Subject<'a>, weights: &Weights) -> Self {
        let body = weights.drawers.iter().fold(weights.fixed, |all, drawer| all.and(*drawer));
        let panel = &scenario.stock.materials[subject.structure.bottom];
        Self { scenario, subject, body, panel }
    }

    /// What all bolts together must take.
    fn needed(&self, way: Direction) -> Force {
        let engineering = &self.scenario.engineering;
        needed(self.body.mass(), way.breaking(), engineering.floor_friction) * self.safety(way)
    }

    fn safety(&self, way: Direction) -> f64 {
        match (self.scenario.engineering.securing, way) {
            (Securing::Cfr, _) => 1.0,
            (Securing::En, Direction::Forward) => EN_SAFETY_FORWARD,
            (Securing::En, _) => EN_SAFETY_OTHER,
        }
    }

    /// A fifth of the weight downward, and what overturning asks for beyond balance.
    fn lift_needed(&self) -> Force {
        let tipping = [Direction::Forward, Direction::Sideways].map(|way| {
            let over = way.breaking() - self.balance(way);
            let base = self.base(way).in_metres().max(1e-3);
            // The bolts on the far side hold the moment beyond balance, over the base's width.
            self.body.mass().weight() * (over.max(0.0) * self.height().in_metres() / base)
        });
        tipping[0].max(tipping[1]).max(self.body.mass().weight() * DOWNWARD_SHARE)
    }

    fn count(&self) -> f64 {
        f64::from(self.subject.fixings.hold_downs)
    }

    fn rating(&self) -> Option<Force> {
        let line = self.subject.hardware.iter().find(|line| line.use_ == HardwareUse::HoldDown);
        let listed = match line {
            Some(line) => line.hardware.map(|id| &self.scenario.stock.hardware[id]),
            None => {
                self.scenario.stock.hardware_for(HardwareUse::HoldDown).next().map(|(_, it)| it)
            }
        };
        Some(Kilograms::from(listed?.rating?).weight())
    }

    /// What one bolt takes across.
    fn shear_of_one(&self) -> Force {
        self.rating().unwrap_or_else(|| {
            let bolt = Metres::from(self.scenario.engineering.bolt);
            bolt_bearing(gravity(self.panel), bolt)
                * (bolt * Metres::from(self.panel.thickness))
                * (Duration::TenMinutes.factor() / BEARING_REDUCTION)
        })
    }

    /// What one bolt's washer takes up.
    fn pull_of_one(&self) -> Force {
        self.rating().unwrap_or_else(|| {
            let bolt = Metres::from(self.scenario.engineering.bolt);
            let washer = bolt * WASHER;
            let ring: SquareMetres = (washer * washer - bolt * bolt) * std::f64::consts::FRAC_PI_4;
            PANEL_FACE_BEARING * ring
        })
    }

    fn slides(&self, name: &str, way: Direction) -> Check {
        let holds = self.shear_of_one() * (self.count() * TIGHT);
        let figure = Figure::at_most(self.needed(way).in_newtons(), holds.in_newtons(), "N");
        figure.named(
            name.into(),
            Kind::Strength,
            self.source(),
            self.words().and(format!(
                "; {} g, friction {} counted",
                way.breaking(),
                self.scenario.engineering.floor_friction
            )),
        )
    }

    fn lifts(&self) -> Check {
        let holds = self.pull_of_one() * (self.count() * TIGHT);
        let figure = Figure::at_most(self.lift_needed().in_newtons(), holds.in_newtons(), "N");
        figure.named(
            "hold-down, lifting".into(),
            Kind::Strength,
            remark!(
                "49 CFR 393.102, a fifth of the weight; washers on the panel's face, ",
                PANEL_FACE_BEARING,
                " from memory"
            ),
            self.words().and("; washers of three bolt diameters (assumption)"),
        )
    }

    fn source(&self) -> String {
        let rule = match self.scenario.engineering.securing {
            Securing::Cfr => "49 CFR 393.102",
            Securing::En => "EN 12195-1, safety 1.25 forward and 1.1 otherwise (from memory)",
        };
        match self.rating() {
            Some(_) => format!("{rule}; hold-down's rating"),
            None => format!("{rule}; NDS 12.3 bearing of the bottom panel, R_d 4, C_D 1.6"),
        }
    }

    fn words(&self) -> crate::design::Remark {
        let one = match self.rating() {
            Some(rating) => remark!(" hold-downs rated at ", rating),
            None => {
                remark!(" bolts of ", Metres::from(self.scenario.engineering.bolt), " (assumption)")
            }
        };
        remark!(self.body.mass(), format!(" on {:.0}", self.count()))
            .and(one)
            .and(", two thirds of them counted (assumption)")
    }

    /// How high the centre of mass stands above the floor.
    fn height(&self) -> Metres {
        self.body.z()
    }

    /// From the centre of mass to the edge over which it would turn.
    fn base(&self, way: Direction) -> Metres {
        let carcass = &self.subject.chest.carcass;
        let (front, length) = (Metres::from(carcass.front_y), Metres::from(carcass.length));
        match way {
            Direction::Forward => front + length - self.body.y(),
            Direction::Rearward => self.body.y() - front,
            Direction::Sideways => {
                let Some(frame) = carcass.tiers.first() else { return Metres::ZERO };
                let (left, width) = (Metres::from(frame.x), Metres::from(frame.width));
                (self.body.x() - left).min(left + width - self.body.x())
            }
        }
    }

    /// The acceleration in g at which it would begin to turn without fastenings.
    fn balance(&self, way: Direction) -> f64 {
        let height = self.height().in_metres().max(1e-3);
        self.base(way).in_metres() / height
    }

    fn overturns(&self) -> Vec<Check> {
        let one = |name: &str, way: Direction| {
            Figure::at_least(self.balance(way), way.breaking(), "g").named(
                name.into(),
                Kind::Note,
                "a/g = base over height of the centre of mass (derived); 49 CFR 393.102",
                remark!(
                    "centre of mass ",
                    self.height(),
                    " above the floor, ",
                    self.base(way),
                    " from the edge, fastenings not counted"
                ),
            )
        };
        vec![
            one("overturning, braking", Direction::Forward),
            one("overturning, in a bend", Direction::Sideways),
        ]
    }
}

/// R_d of yield modes I for fasteners of a quarter inch and more, loaded along the grain (NDS 2018, table 12.3.1B, from memory).
const BEARING_REDUCTION: f64 = 4.0;

/// How wood bears on a bolt of a quarter inch and more across the grain, 6100·G^1.45/√D psi (NDS 2018, table 12.3.3 note, from
/// memory): the lesser of the two ways, since panels have both.
fn bolt_bearing(gravity: f64, bolt: Metres) -> Stress {
    Stress::psi(6100.0 * libm::pow(gravity, 1.45) / bolt.in_inches().sqrt())
}
