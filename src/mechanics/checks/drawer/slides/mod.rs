//! Ball-bearing slides: what they are rated for, and whether they go in.
//!
//! - Inputs: the longest pair of slides in stock that is no longer than the drawer, its rating and length, the drawer's mass.
//! - Formula: none; a rating is its maker's.
//! - Limit: the rating; the drawer's length.
//! - Sentence: how long the pair is, or that the scenario doesn't say for which length its rating is.

#[cfg(test)]
mod tests;

use super::{Extending, Figure, Kind};
use crate::design::Check;
use crate::scenario::{Hardware, HardwareUse};
use crate::units::physics::{Kilograms, Metres};

impl Extending<'_> {
    /// What slides of their length are rated for.
    pub(super) fn slides(&self) -> Option<Check> {
        let slides = self.slides_used()?;
        let rating = Kilograms::from(slides.rating?);
        let figure = Figure::at_most(self.body.mass().in_kilograms(), rating.in_kilograms(), "kg");
        let words = match slides.slide {
            Some(length) => {
                remark!("drawer with its gear on a pair ", Metres::from(length), " long")
            }
            None => remark!(
                "drawer with its gear on a pair as long as it, ",
                self.length(),
                " (assumption: the scenario doesn't say for which length the rating is)",
            ),
        };
        Some(figure.named(
            format!("load on slides of {}", self.drawer.name),
            Kind::Strength,
            format!("rating of {}", slides.name),
            words,
        ))
    }

    /// Whether slides of the length that is rated go into the drawer's opening.
    pub(super) fn slides_fit(&self) -> Option<Check> {
        let slides = self.slides_used()?;
        let long = Metres::from(slides.slide?);
        let figure = Figure::at_most(long.in_millimetres(), self.length().in_millimetres(), "mm");
        Some(figure.named(
            format!("length of slides of {}", self.drawer.name),
            Kind::Duty,
            format!("length of {}", slides.name),
            remark!("the drawer comes out by ", long, " (full extension, assumption)"),
        ))
    }

    /// The slides it runs on.
    pub(super) fn slides_used(&self) -> Option<&Hardware> {
        if !self.on_slides() {
            return None;
        }
        let line = self.subject.hardware.iter().find(|line| line.use_ == HardwareUse::Slides)?;
        Some(&self.scenario.stock.hardware[line.hardware?])
    }
}
