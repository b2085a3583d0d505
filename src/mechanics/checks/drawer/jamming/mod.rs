//! How a drawer jams between its guides.
//!
//! - Inputs: the drawer's width and length, its side gaps, friction at its sides, what stays guided when it is drawn out.
//! - Formula: P = R·(1 − 2μc/ℓ)/(1 − 2μe/ℓ), locked where ℓ ≤ 2μe; a corner leads the other by B·G/ℓ ([`formula`]).
//! - Limit: the length still guided must be more than that at which a pull at a corner locks, over the whole travel.
//! - Sentence: where the pull doubles, where it locks, by how much a corner may lead.

pub mod formula;
#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::{Extending, Figure, Kind};
use crate::design::Check;
use crate::units::physics::Metres;
use formula::{locking_length, skew};

impl Extending<'_> {
    /// What is still guided when it stands open, against the length at which a pull at a corner locks it.
    pub(super) fn jam(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let offset = self.width() / 2.0;
        let locks = locking_length(self.friction.start, offset);
        let clearance = Metres::from(self.frame.side_gap) * 2.0;
        let (_, lead) = skew(clearance, self.length(), self.width());
        let doubles = (self.length() - locks * 2.0).max(Metres::ZERO);
        let figure =
            Figure::at_least(self.engaged().in_millimetres(), locks.in_millimetres(), "mm");
        Some(figure.named(
            format!("guided length of {}, open", self.drawer.name),
            Kind::Advice,
            format!("locks at 2·μ·e (derived); μ {} at the sides", self.friction.start),
            remark!(
                "pulled at a corner, e = ",
                offset,
                ", the pull doubles when it is out by ",
                doubles,
                " and locks at ",
                (self.length() - locks).max(Metres::ZERO),
                "; shut, one corner may lead the other by ",
                lead,
                " if the side gaps are not taken up by guides",
            ),
        ))
    }
}
