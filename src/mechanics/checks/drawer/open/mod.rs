//! A drawer drawn out to its stop: uplift, drop, what the tailgate carries, tipping.
//!
//! - Inputs: the drawer's mass and its centre, its length, how much of it the stop leaves in, the top clearance, the tailgate with
//!   its maker's rating (given, never guessed), the whole chest's weights.
//! - Formula: statics of a stiff drawer on the lip ([`formula`]): U = W(s−a)/(L−s) presses up behind, the front drops by t·s/(L−s);
//!   if it comes to rest on the open tailgate, that carries W(s−a)/s.
//! - Limit: the screws over it, the tailgate's rating, the scenario's safety against tipping.
//! - Sentence: what stays in the chest, what holds the back down, how far the front drops, what the tailgate bears.

pub mod formula;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::jamming::formula::locking_length;
use super::pull::friction_of;
use super::{Extending, Figure, Kind};
use crate::design::derive::carcass::lowest_moving_edge;
use crate::design::{Check, Drawer, Structure};
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::{Force, Kilograms, Metres};
use formula::Extended;

/// What the stop of a drawer on strips or runners leaves of it in the chest: as the scenario says, a fifth of it, or the guided
/// length at which a pull at a corner would lock it, whichever is most, and no more than half.
pub fn stays_in(scenario: &Scenario, structure: &Structure, drawer: &Drawer) -> Metres {
    let (long, wide) = (Metres::from(drawer.outside.size.dy), Metres::from(drawer.outside.size.dx));
    let locks = locking_length(friction_of(scenario, structure.runs).start, wide / 2.0);
    let least = Metres::from(scenario.engineering.engagement).max(long / 5.0).max(locks);
    least.min(long / 2.0)
}

impl Extending<'_> {
    fn extended(&self) -> Extended {
        Extended {
            length: self.length(),
            weight: self.body.mass().weight(),
            centre: self.centre(),
            travel: self.travel(),
        }
    }

    /// Its back end presses up on the panel over it, which screws hold down.
    pub(super) fn uplift(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let up = -self.extended().reactions().rear;
        if up <= Force::ZERO {
            return None;
        }
        let screws = self.chest_screw();
        let count = 2 * self.reached();
        let holds = screws.withdrawal() * count as f64;
        let clear = Metres::from(self.scenario.allowances.top_clearance);
        let (drop, degrees) = self.extended().droop(clear);
        let figure = Figure::at_most(up.in_newtons(), holds.in_newtons(), "N");
        Some(figure.named(
            format!("uplift by drawer {}, open", self.drawer.name),
            Kind::Strength,
            format!("lever (derived); {}", screws.withdrawal_source()),
            remark!(
                self.engaged(),
                " left in the chest (assumption), ",
                format!("{count} {}", screws.words()),
                crate::mechanics::checks::fastened::THREAD,
                " of thread (assumption); the front drops ",
                drop,
                format!(" ({degrees:.1}°)"),
            ),
        ))
    }

    /// Screws over one member along the length that the drawer still presses against: from the front, the first at the ends'
    /// distance, then one per spacing.
    fn reached(&self) -> i64 {
        let fastening = self.subject.fixings.chest.fastening;
        let engaged = (self.engaged().in_millimetres() * Length::MM.units() as f64) as i64;
        let spacing = fastening.spacing.units().max(1);
        (((engaged - fastening.ends.units()).div_euclid(spacing)) + 1).max(1)
    }

    /// How far its front drops, against what it clears the open tailgate by: beyond that it comes to rest on it.
    pub(super) fn drop(&self) -> Option<Check> {
        let tailgate = self.scenario.bed.tailgate.as_ref()?;
        if self.on_slides() || self.extended().reactions().rear >= Force::ZERO {
            return None;
        }
        let clear = Metres::from(self.scenario.allowances.top_clearance);
        let (drop, _) = self.extended().droop(clear);
        let (figure, rests) = (
            Figure::at_most(drop.in_millimetres(), self.above(tailgate).in_millimetres(), "mm"),
            self.rests(),
        );
        Some(figure.named(
            format!("drop of drawer {}, open", self.drawer.name),
            Kind::Note,
            "top clearance over the length left in (derived)",
            remark!(
                "stop leaves ",
                self.engaged(),
                " in the chest (assumption); dropped further it rests on the open tailgate with ",
                rests,
            ),
        ))
    }

    /// The drawer's underside above the open tailgate.
    fn above(&self, tailgate: &crate::scenario::Tailgate) -> Metres {
        let travel = self.subject.chest.carcass.length;
        let highest = lowest_moving_edge(tailgate, travel, Length::ZERO);
        (Metres::from(self.drawer.outside.at.z) - Metres::from(highest)).max(Metres::ZERO)
    }

    /// What rests on the tailgate if the drawer comes down on it: a beam from the lip to its front.
    fn rests(&self) -> Force {
        let (out, centre) = (self.travel(), self.centre());
        self.body.mass().weight() * ((out - centre) / out).max(0.0)
    }

    /// What the tailgate carries against its maker's rating.
    pub(super) fn tailgate(&self) -> Option<Check> {
        let tailgate = self.scenario.bed.tailgate.as_ref()?;
        let rating = Kilograms::from(tailgate.rating?);
        let (drop, _) = self.extended().droop(Metres::from(self.scenario.allowances.top_clearance));
        if self.on_slides() || drop <= self.above(tailgate) {
            return None;
        }
        let load = self.rests().mass_lifted() * self.engineering().road_shock;
        let figure = Figure::at_most(load.in_kilograms(), rating.in_kilograms(), "kg");
        Some(figure.named(
            format!("tailgate under drawer {}", self.drawer.name),
            Kind::Duty,
            "lever (derived); rating as given",
            remark!(
                "rests on it with ",
                self.rests(),
                format!(
                    ", times {} for being set down (assumption)",
                    self.engineering().road_shock
                ),
            ),
        ))
    }

    /// Overturning over stabilising moment about the chest's front with this drawer alone open.
    pub(super) fn tips(&self) -> Check {
        let lip = Metres::from(self.subject.chest.carcass.front_y);
        let (mut inside, mut outside) = (vec![], vec![]);
        let fixed = self.weights.fixed;
        inside.push((fixed.mass(), fixed.y() - lip));
        for (index, body) in self.weights.drawers.iter().enumerate() {
            let open = if index == self.index { self.travel() } else { Metres::ZERO };
            let arm = body.y() - open - lip;
            let side = if arm > Metres::ZERO { &mut inside } else { &mut outside };
            side.push((body.mass(), arm.abs()));
        }
        // Finite even for a chest that weighs nothing.
        let share = (1.0 / formula::safety(&inside, &outside)).min(1e6);
        let wanted = self.engineering().tip_safety;
        Figure::at_most(share, 1.0 / wanted, "ratio").named(
            format!("tipping, drawer {} open", self.drawer.name),
            Kind::Advice,
            format!("moments about the chest's front (derived); safety {wanted} (assumption)"),
            remark!("overturning over stabilising moment, one drawer open, fastenings not counted"),
        )
    }
}
