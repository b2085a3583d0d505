//! What one screw of a design holds.
//!
//! Withdrawal: NDS 12.2.2, W = 2850·G²·D per inch of thread, half of it in a panel's edge (assumption). Lateral: the yield
//! equations NDS 12.3 with the root diameter. Both for ten minutes, C_D 1.6.

use super::sheet::Sheet;
use crate::design::Remark;
use crate::mechanics::lateral::{self, Joint};
use crate::mechanics::lumber::{Duration, Grade, NominalWidth, Use, bending_strength, grade_named};
use crate::mechanics::screw::{self, WoodScrew};
use crate::scenario::{Material, Stiffness};
use crate::units::Length;
use crate::units::physics::{Force, Metres, MomentPerWidth, Stress};

/// Thread in the main member (assumption).
pub(super) const THREAD: Metres = Metres::of(0.025);
/// How panels bear on fasteners thinner than a quarter of an inch (AWC, as quoted), and denser ones (from memory).
const PANEL_BEARING: Stress = Stress::psi(3350.0);
const DENSE_PANEL_BEARING: Stress = Stress::psi(4650.0);
/// Denser than this, a panel is taken for hardwood.
const DENSE: f64 = 620.0;

/// A screw through one piece into another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Screwed<'a> {
    pub(super) gauge: u32,
    /// What it goes through.
    pub(super) side: &'a Material,
    /// What holds its thread.
    pub(super) main: &'a Material,
}

impl Screwed<'_> {
    pub(super) fn screw(&self) -> WoodScrew {
        screw::gauge(self.gauge).unwrap_or(screw::WOOD_SCREWS[1])
    }

    /// Against being drawn out of side grain; end grain counts for nothing.
    pub(super) fn withdrawal(&self) -> Force {
        let share = if self.main.is_board() { 1.0 } else { screw::PLYWOOD_EDGE_SHARE };
        let per_length = screw::screw_withdrawal(gravity(self.main), self.screw().shank);
        per_length * THREAD * (share * Duration::TenMinutes.factor())
    }

    /// Across it, in single shear.
    pub(super) fn lateral(&self) -> Force {
        let screw = self.screw();
        let joint = Joint {
            diameter: screw.root,
            diameter_factor: lateral::diameter_factor(screw.shank),
            bending_yield: screw.bending_yield,
            main_length: THREAD - screw.shank,
            main_bearing: bearing(self.main),
            side_length: Metres::from(self.side.thickness),
            side_bearing: bearing(self.side),
        };
        joint.single_shear().0 * Duration::TenMinutes.factor()
    }

    /// Words for a remark.
    pub(super) fn words(&self) -> String {
        format!("No. {} screws with ", self.gauge)
    }

    /// Where its withdrawal is from, with what is assumed of panels.
    pub(super) fn withdrawal_source(&self) -> &'static str {
        match self.main.is_board() {
            true => "NDS 12.2.2 withdrawal, C_D 1.6",
            false => "NDS 12.2.2 withdrawal, half of it in panels' edges (assumption), C_D 1.6",
        }
    }
}

/// The grade that a material carries, if it is known here.
pub(super) fn grade_of(material: &Material) -> Option<Grade> {
    match &material.stiffness {
        Stiffness::Grade(name) => grade_named(name),
        _ => None,
    }
}

/// Specific gravity: the grade's, or from the density at 12 % (Wood Handbook's definition).
pub(super) fn gravity(material: &Material) -> f64 {
    grade_of(material).map_or(material.density / 1120.0, |grade| grade.gravity)
}

fn bearing(material: &Material) -> Stress {
    match material.is_board() {
        true => lateral::wood_bearing(gravity(material)),
        false if material.density > DENSE => DENSE_PANEL_BEARING,
        false => PANEL_BEARING,
    }
}

/// Working bending stress of boards and panels that carry no grade (assumption).
const UNGRADED: Stress = Stress::megapascals(5.0);
/// The same of panels of many hardwood plies (assumption).
const UNGRADED_DENSE: Stress = Stress::megapascals(10.0);

/// The working stress of ungraded wood, and its words.
fn ungraded(material: &Material) -> (Stress, Remark) {
    let (stress, of) = match material.density > DENSE {
        true => (UNGRADED_DENSE, "hardwood"),
        false => (UNGRADED, "softwood"),
    };
    (stress, remark!(stress, format!(" for {of} without a grade (assumption)")))
}

/// Moment per width that a divider or a panel takes, bent over its face along its grain, and how it is known.
pub(super) fn face_strength(material: &Material) -> (MomentPerWidth, Remark) {
    let sheet = Sheet::of(material);
    if let Some(strength) = sheet.along.bending.filter(|_| !material.is_board()) {
        return (strength, sheet.source.into());
    }
    let t = material.thickness.to_metres();
    let (strength, known) = match grade_of(material) {
        Some(grade) => (grade.bending, from_grade(&grade)),
        None => ungraded(material),
    };
    (MomentPerWidth::newtons(strength.in_pascals() * t * t / 6.0), known)
}

fn from_grade(grade: &Grade) -> Remark {
    format!("NDS Supplement table 4A, {}", grade.name).into()
}

/// Bending strength of a board or panel on edge, and how it is known.
pub(super) fn edgewise_strength(material: &Material, depth: Length) -> (Stress, Remark) {
    match grade_of(material).filter(|_| material.is_board()) {
        Some(grade) => {
            let strength = bending_strength(&grade, NominalWidth::of(depth), Use::OnEdge);
            (strength, from_grade(&grade))
        }
        None => ungraded(material),
    }
}
