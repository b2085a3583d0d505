//! Which fits of a design hold however far the sizes are off, and which only on average.
//!
//! Each fit is a function of the design and the scenario: its margin as drawn, and the deviations that may eat it up, those of
//! tape, stock, saw and seasons (built at the middle of the moisture range, so that wood comes to either end of it).

mod chest;
mod demanded;
mod drawers;
mod gear;
mod stack;

pub use demanded::{Widened, demanding};
pub use stack::{Deviation, Holds, Source, Stack, Taped};

use crate::design::{Content, Design};
use crate::mechanics::movement::{change, change_coefficient};
use crate::scenario::{Demanded, MaterialId, Measured, Scenario, Section};
use crate::units::Length;
use crate::units::physics::Metres;

/// What fits into what.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum FitOf {
    /// A tier between the walls or wells, from 0 at the bottom.
    Across(usize),
    /// The chest along the bed.
    Along,
    /// The chest under rail, cover or roof.
    Under,
    /// The lowest moving edge over the open tailgate.
    OverTailgate,
    /// A full-width tier over the wheel wells.
    OverWells,
    /// Drawers between their members, in a tier.
    DrawersAcross(usize),
    /// Drawers under the panel over them, in a tier.
    DrawersUnder(usize),
    /// Applied fronts side by side, in a tier.
    FrontsAcross(usize),
    /// Applied fronts under the panel over them, in a tier.
    FrontsUnder(usize),
    /// A drawer through the hatch opening across, by its name.
    HatchAcross(String),
    /// A drawer through the hatch opening upward, by its name.
    HatchUp(String),
    /// What stands side by side in a drawer, by its name.
    GearAcross(String),
    /// What stands one behind the other in a drawer.
    GearAlong(String),
    /// The tallest thing in a drawer.
    GearUnder(String, Content),
}

/// One fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fit {
    /// What fits into what.
    pub of: FitOf,
    /// Its margin and what may eat it up.
    pub stack: Stack,
}

/// Every fit of a design: the chest's, then its drawers', then what is in them.
pub fn fits(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let mut all = chest::fits(scenario, design);
    all.extend(drawers::fits(scenario, design));
    all.extend(gear::fits(scenario, design));
    all
}

/// Whether a fit holds as surely as the scenario demands.
pub fn is_as_demanded(scenario: &Scenario, fit: &Fit) -> bool {
    match scenario.tolerance.demanded {
        Demanded::Nothing => true,
        Demanded::Average => fit.stack.holds() >= Holds::Average,
        Demanded::WorstCase => fit.stack.holds() == Holds::WorstCase,
    }
}

/// What to measure again first: of the fit that holds least surely, and of those lacks most at worst case, the largest deviation that a tape or calliper
/// can settle; none if all fits hold at worst case.
pub fn measure_first(fits: &[Fit]) -> Option<(&Fit, Source)> {
    let mut lacking: Vec<&Fit> =
        fits.iter().filter(|fit| fit.stack.holds() != Holds::WorstCase).collect();
    let lacks = |fit: &&Fit| (fit.stack.holds(), fit.stack.margin - fit.stack.worst());
    lacking.sort_by_key(|fit| (lacks(fit), fit.of.clone()));
    lacking.into_iter().find_map(|fit| {
        let measured = fit.stack.deviations.iter().filter(|deviation| {
            matches!(deviation.from, Source::Tape(_) | Source::Stock(_) | Source::Gear(_))
        });
        let largest = measured.reduce(|a, b| if b.by > a.by { b } else { a })?;
        Some((fit, largest.from))
    })
}

/// Tangential shrinkage of Douglas-fir, percent: the most of the common building softwoods whose row was read (Wood Handbook
/// table 4-3).
const SHRINKAGE: f64 = 7.6;

/// Look-ups that all fits share.
struct Sizes<'a> {
    scenario: &'a Scenario,
}

impl Sizes<'_> {
    /// How far a measurement may be off: what was said with it, else the tape's reading.
    fn tape(&self, measured: Measured) -> Length {
        if measured.tol.is_positive() { measured.tol } else { self.scenario.tolerance.tape }
    }

    /// How far a material's thickness may be off.
    fn thickness(&self, id: MaterialId) -> Length {
        let material = &self.scenario.stock.materials[id];
        match material.section {
            Section::Board { .. } => self.scenario.tolerance.board,
            Section::Sheet => self.scenario.tolerance.of_sheet(material.thickness),
        }
    }

    /// How far a part's width may be off that is a board's own, or ripped.
    fn width(&self, id: MaterialId, width: Length) -> (Source, Length) {
        match self.scenario.stock.materials[id].section {
            Section::Board { width: own } if own == width => {
                (Source::Stock(id), self.scenario.tolerance.board)
            }
            _ => (Source::Saw, self.scenario.tolerance.saw),
        }
    }

    /// How far solid wood of this extent across its grain moves from the middle of the moisture range to either end, rounded
    /// up (Wood Handbook eq. 13-2); panels hardly at all.
    fn season(&self, id: MaterialId, extent: Length) -> Length {
        if !self.scenario.stock.materials[id].is_board() {
            return Length::ZERO;
        }
        let [driest, wettest] = self.scenario.engineering.moisture;
        let coefficient = change_coefficient(SHRINKAGE);
        let swing = change(Metres::from(extent), coefficient, driest, wettest) / 2.0;
        // A length of a part is far below a kilometre, so that its units fit.
        Length::from_units((swing.in_millimetres() * Length::mm(1).units() as f64).ceil() as i64)
    }
}
