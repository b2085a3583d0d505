//! The chest in the bed.

use super::{Fit, FitOf, Sizes, Source, Stack, Taped};
use crate::design::derive::carcass::{is_full_width, layers, lowest_moving_edge};
use crate::design::{Carcass, Design};
use crate::scenario::{Measured, Scenario};
use crate::units::Length;

pub(super) fn fits(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let chest = Chest { sizes: Sizes { scenario }, design, carcass: &design.chest.carcass };
    let mut all: Vec<Fit> = (0..chest.carcass.tiers.len())
        .map(|tier| Fit { of: FitOf::Across(tier), stack: chest.across(tier) })
        .collect();
    all.push(Fit { of: FitOf::Along, stack: chest.along() });
    all.push(Fit { of: FitOf::Under, stack: chest.under() });
    all.extend(chest.over_tailgate().map(|stack| Fit { of: FitOf::OverTailgate, stack }));
    all.extend(chest.over_wells().map(|stack| Fit { of: FitOf::OverWells, stack }));
    all
}

struct Chest<'a> {
    sizes: Sizes<'a>,
    design: &'a Design,
    carcass: &'a Carcass,
}

impl Chest<'_> {
    /// A tier between the walls or wells: what the bed is wider, against the reading and the panel's cut.
    fn across(&self, tier: usize) -> Stack {
        let bed = &self.sizes.scenario.bed;
        let full = is_full_width(&self.design.structure, tier);
        let (measured, taped) = match &bed.wells {
            Some(wells) if !full => (wells.between, Taped::BetweenWells),
            _ => (bed.width, Taped::Width),
        };
        let margin = measured.at - self.carcass.tiers[tier].width;
        Stack::new(margin)
            .with(Source::Tape(taped), self.sizes.tape(measured))
            .with_cuts(1, self.sizes.scenario.tolerance.saw)
    }

    /// Handle room, members and back in the bed's length.
    fn along(&self) -> Stack {
        let scenario = self.sizes.scenario;
        let margin = scenario.bed.length.at - self.carcass.front_y - self.carcass.length;
        let back = self.design.structure.tiers[0].member;
        Stack::new(margin)
            .with(Source::Tape(Taped::Length), self.sizes.tape(scenario.bed.length))
            .with(Source::Stock(back), self.sizes.thickness(back))
            .with_cuts(1, scenario.tolerance.saw)
    }

    /// Every panel and tier on one another under what the deck must stay under.
    fn under(&self) -> Stack {
        let scenario = self.sizes.scenario;
        let clear = scenario.bed.clear_height;
        let stack = Stack::new(clear.at - self.carcass.top_z)
            .with(Source::Tape(Taped::ClearHeight), self.sizes.tape(clear));
        let deck = self.design.structure.deck;
        self.piled(stack, self.carcass.tiers.len())
            .with(Source::Stock(deck), self.sizes.thickness(deck))
    }

    /// The packing, so many bottom panels, and the tiers on them.
    fn piled(&self, stack: Stack, tiers: usize) -> Stack {
        let structure = &self.design.structure;
        let mut stack = self.packed(stack);
        for choice in &structure.tiers[..tiers] {
            let (from, by) = self.sizes.width(choice.member, choice.height);
            stack = stack
                .with(Source::Stock(structure.bottom), self.sizes.thickness(structure.bottom))
                .with(from, by)
                .with(
                    Source::Season(choice.member),
                    self.sizes.season(choice.member, choice.height),
                );
        }
        stack
    }

    /// What lifts the chest: layers of sheet, or boards ripped to suit.
    fn packed(&self, stack: Stack) -> Stack {
        let scenario = self.sizes.scenario;
        let lift = self.carcass.lift;
        if !lift.is_positive() {
            return stack;
        }
        let structure = &self.design.structure;
        let made = layers(scenario, structure, lift).filter(|layers| {
            let thick: Length =
                layers.iter().map(|id| scenario.stock.materials[*id].thickness).sum();
            thick == lift
        });
        match made {
            Some(layers) => layers
                .into_iter()
                .fold(stack, |stack, id| stack.with(Source::Stock(id), self.sizes.thickness(id))),
            None => stack.with_cuts(1, scenario.tolerance.saw),
        }
    }

    /// The lowest drawers over the open tailgate at its highest.
    fn over_tailgate(&self) -> Option<Stack> {
        let scenario = self.sizes.scenario;
        let tailgate = scenario.bed.tailgate.as_ref()?;
        let structure = &self.design.structure;
        let edge = lowest_moving_edge(tailgate, self.carcass.length, Length::ZERO);
        let lowest = self.carcass.tiers.first()?;
        let margin = lowest.z + lowest.run_height - edge;
        let rise = Measured::exact(tailgate.rise);
        Some(
            self.packed(Stack::new(margin))
                .with(Source::Tape(Taped::TailgateRise), self.sizes.tape(rise))
                .with(Source::Stock(structure.bottom), self.sizes.thickness(structure.bottom)),
        )
    }

    /// The panel under a full-width tier over the wheel wells.
    fn over_wells(&self) -> Option<Stack> {
        let scenario = self.sizes.scenario;
        let wells = scenario.bed.wells.as_ref()?;
        let structure = &self.design.structure;
        let top = structure.tiers.len().checked_sub(1)?;
        if !is_full_width(structure, top) {
            return None;
        }
        let bottom = scenario.stock.materials[structure.bottom].thickness;
        let margin = self.carcass.tiers[top].z - bottom - wells.height;
        let tape = self.sizes.tape(Measured::exact(wells.height));
        Some(self.piled(Stack::new(margin).with(Source::Tape(Taped::WellHeight), tape), top))
    }
}
