//! Gaps wide enough for the fits that a scenario demands.
//!
//! A demand is met before anything is searched: each gap is made as wide as the stack of the worst choice that the scenario
//! allows asks for, so that whatever is chosen holds. A design of better choices then has more room than it would need.

use super::{Sizes, Source, Stack, Taped};
use crate::scenario::{
    Allowances, Demanded, Gear, GearId, MaterialId, Measured, Scenario, Section,
};
use crate::units::Length;

/// A gap that was made wider than it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Widened {
    /// Its key in a scenario file.
    pub key: &'static str,
    /// How wide it is now.
    pub to: Length,
}

/// The scenario with gaps wide enough for what it demands of fits, and which of them were widened; gear gets the free room
/// around it that it asks for.
pub fn demanding(scenario: &Scenario) -> (Scenario, Vec<Widened>) {
    let mut wide = scenario.clone();
    let mut widened = Vec::new();
    if scenario.tolerance.demanded == Demanded::Nothing {
        return (wide, widened);
    }
    let gaps = Gaps { sizes: Sizes { scenario }, of: scenario };
    let mut widen = |key, gap: &mut Length, least: Length| {
        let least = least.ceil_to(scenario.shop.step);
        if least > *gap {
            *gap = least;
            widened.push(Widened { key, to: least });
        }
    };
    let Allowances {
        fit,
        front,
        top,
        side_gap,
        top_clearance,
        front_gap,
        front_reveal,
        running,
        well,
        ..
    } = &mut wide.allowances;
    widen("chest.fit_allowance", fit, gaps.fit());
    widen("chest.front_allowance", front, gaps.front());
    widen("chest.top_allowance", top, gaps.top());
    widen("chest.side_gap", side_gap, gaps.side());
    widen("chest.top_clearance", top_clearance, gaps.over_drawers());
    widen("chest.front_gap", front_gap, gaps.over_fronts());
    widen("chest.front_reveal", front_reveal, gaps.reveal());
    widen("chest.running_clearance", running, gaps.running());
    widen("chest.well_clearance", well, gaps.well());
    let over = wide.allowances.top_clearance;
    let gear: Vec<GearId> = wide.gear.ids().collect();
    let mut most = None;
    for id in gear {
        let least = gaps.around(&scenario.gear[id], id, over).ceil_to(scenario.shop.step);
        if least > wide.gear[id].padding {
            wide.gear[id].padding = least;
            most = most.max(Some(least));
        }
    }
    widened.extend(most.map(|to| Widened { key: "gear.padding", to }));
    (wide, widened)
}

struct Gaps<'a> {
    sizes: Sizes<'a>,
    of: &'a Scenario,
}

impl Gaps<'_> {
    /// What a stack takes.
    fn level(&self, stack: &Stack) -> Length {
        match self.of.tolerance.demanded {
            Demanded::Nothing => Length::ZERO,
            Demanded::Average => stack.root_sum_square(),
            Demanded::WorstCase => stack.worst(),
        }
    }

    fn blank(&self) -> Stack {
        Stack::new(Length::ZERO)
    }

    /// The most that any of some stacks takes.
    fn most(&self, stacks: impl Iterator<Item = Stack>) -> Length {
        stacks.map(|stack| self.level(&stack)).max().unwrap_or_default()
    }

    fn members(&self) -> impl Iterator<Item = MaterialId> + Clone {
        let decided = self.of.decided.tiers.iter().filter_map(|tier| tier.member);
        self.of.choices.members.iter().copied().chain(decided)
    }

    /// The largest deviation of a thickness among some materials, as if it were one material of its own.
    fn thickest(&self, of: &[MaterialId]) -> (Source, Length) {
        let worst = of.iter().map(|id| (self.sizes.thickness(*id), *id)).max();
        worst.map_or((Source::Saw, Length::ZERO), |(by, id)| (Source::Stock(id), by))
    }

    /// A member's height with the season's part in it: a board's own width, or ripped.
    fn member_height(&self, stack: Stack, id: MaterialId) -> Stack {
        match self.of.stock.materials[id].section {
            Section::Board { width } => stack
                .with(Source::Stock(id), self.of.tolerance.board)
                .with(Source::Season(id), self.sizes.season(id, width)),
            Section::Sheet => stack.with_cuts(1, self.of.tolerance.saw),
        }
    }

    fn fit(&self) -> Length {
        let bed = &self.of.bed;
        let saw = self.of.tolerance.saw;
        let between = bed.wells.map(|wells| (wells.between, Taped::BetweenWells));
        let widths = [Some((bed.width, Taped::Width)), between];
        let across = widths.into_iter().flatten().map(|(measured, taped)| {
            self.blank().with(Source::Tape(taped), self.sizes.tape(measured)).with_cuts(1, saw)
        });
        let across = self.most(across);
        // Only half of it is on either side of a hatch.
        let hatch = bed.opening.map(|opening| {
            let tape = self.sizes.tape(Measured::exact(opening.width));
            let stack = self
                .blank()
                .with(Source::Tape(Taped::HatchWidth), tape)
                .with(Source::Tape(Taped::Width), self.sizes.tape(bed.width))
                .with_cuts(1, saw * 2);
            self.level(&stack)
        });
        across.max(hatch.unwrap_or_default())
    }

    fn front(&self) -> Length {
        self.most(self.members().map(|back| {
            self.blank()
                .with(Source::Tape(Taped::Length), self.sizes.tape(self.of.bed.length))
                .with(Source::Stock(back), self.sizes.thickness(back))
                .with_cuts(1, self.of.tolerance.saw)
        }))
    }

    /// So many tiers of one member on one another, on packing of two layers.
    fn piled(&self, stack: Stack, tiers: u32, member: MaterialId) -> Stack {
        let choices = &self.of.choices;
        let (bottom, by) = self.thickest(&choices.bottom);
        let sheets = [&choices.bottom, &choices.deck, &choices.drawer_bottoms, &choices.dividers];
        let all: Vec<MaterialId> = sheets.into_iter().flatten().copied().collect();
        let (layer, layer_by) = self.thickest(&all);
        let stack = stack.with(layer, layer_by * 2);
        (0..tiers).fold(stack, |stack, _| self.member_height(stack.with(bottom, by), member))
    }

    fn tiers(&self) -> u32 {
        self.of.choices.tiers.iter().copied().max().unwrap_or(1)
    }

    fn top(&self) -> Length {
        let tape = self.sizes.tape(self.of.bed.clear_height);
        let (deck, by) = self.thickest(&self.of.choices.deck);
        self.most(self.members().map(|member| {
            let stack = self.blank().with(Source::Tape(Taped::ClearHeight), tape);
            self.piled(stack, self.tiers(), member).with(deck, by)
        }))
    }

    fn well(&self) -> Length {
        let Some(wells) = self.of.bed.wells else { return Length::ZERO };
        let tape = self.sizes.tape(Measured::exact(wells.height));
        self.most(self.members().map(|member| {
            let stack = self.blank().with(Source::Tape(Taped::WellHeight), tape);
            self.piled(stack, self.tiers() - 1, member)
        }))
    }

    fn running(&self) -> Length {
        let Some(tailgate) = &self.of.bed.tailgate else { return Length::ZERO };
        let tape = self.sizes.tape(Measured::exact(tailgate.rise));
        let packed = self.members().take(1).map(|member| {
            let stack = self.blank().with(Source::Tape(Taped::TailgateRise), tape);
            let (bottom, by) = self.thickest(&self.of.choices.bottom);
            self.piled(stack, 0, member).with(bottom, by)
        });
        self.most(packed)
    }

    /// Half of what both gaps of a drawer must take.
    fn side(&self) -> Length {
        let both = self.most(self.members().map(|member| {
            let thick = self.of.stock.materials[member].thickness;
            self.blank()
                .with(Source::Stock(member), self.sizes.thickness(member))
                .with(Source::Season(member), self.sizes.season(member, thick))
                .with_cuts(3, self.of.tolerance.saw)
        }));
        Length::from_units((both.units() + 1) / 2)
    }

    /// Members above against what stands in the opening: a side or a front of solid wood moves with them at best.
    fn over(&self, parts: &[MaterialId], bottom: bool) -> Length {
        let (bottom_from, bottom_by) = self.thickest(&self.of.choices.drawer_bottoms);
        let stacks =
            self.members().flat_map(|member| parts.iter().map(move |part| (member, *part)));
        self.most(stacks.map(|(member, part)| {
            let stack = self.member_height(self.blank(), member);
            let stack = match self.of.stock.materials[part].section {
                Section::Board { width } => stack
                    .with(Source::Stock(part), self.of.tolerance.board)
                    .with(Source::Season(part), self.sizes.season(part, width)),
                Section::Sheet => stack,
            };
            let stack = stack.with_cuts(1, self.of.tolerance.saw);
            if bottom { stack.with(bottom_from, bottom_by) } else { stack }
        }))
    }

    fn over_drawers(&self) -> Length {
        self.over(&self.of.choices.drawer_sides, true)
    }

    fn over_fronts(&self) -> Length {
        self.over(&self.of.choices.fronts, false)
    }

    fn reveal(&self) -> Length {
        self.level(&self.blank().with_cuts(2, self.of.tolerance.saw))
    }

    /// Half of the room that a thing needs in a row. With n things the row takes one cut, two sides, n − 1 dividers and n
    /// things, which by the thing is most for one alone or for very many; one of each kind of deviation covers both.
    fn around(&self, gear: &Gear, id: GearId, top_clearance: Length) -> Length {
        let tolerance = &self.of.tolerance;
        let (side, side_by) = self.thickest(&self.of.choices.drawer_sides);
        let (divider, divider_by) = self.thickest(&self.of.choices.dividers);
        let own = |stack: Stack| stack.with(Source::Gear(id), tolerance.gear);
        let alone = own(self.blank()).with(side, side_by * 2).with_cuts(1, tolerance.saw);
        let many = own(self.blank()).with(divider, divider_by);
        let row = self.level(&alone).max(self.level(&many));
        let tall = self.most(self.members().map(|member| {
            let (bottom, by) = self.thickest(&self.of.choices.drawer_bottoms);
            self.member_height(self.blank(), member)
                .with(bottom, by)
                .with(Source::Gear(id), tolerance.gear * i64::from(gear.stack))
        }));
        Length::from_units((row.units() + 1) / 2).max((tall - top_clearance).or_zero())
    }
}
