//! Every fit, as surely as the scenario demands it.
//!
//! Margins are measured on the placed pieces, and what may eat them up is added anew from what the types' docs say is off:
//! readings, stock, cuts, things, seasons. Sizes of one material or reading are off together, cuts each by itself. At worst
//! case the margin must take the sum of all; on average its square must take the sum of their squares, in whole numbers.

use std::collections::BTreeMap;

use super::case::Case;
use super::chest::{lowest_moving, tailgate_top};
use super::fault::Fault;
use crate::design::{Box3, Content, Drawer, Role, TierChoice};
use crate::scenario::{Demanded, GearId, MaterialId, Measured, Runs};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    if case.scenario.tolerance.demanded == Demanded::Nothing {
        return;
    }
    let mut fits = Fits { case, faults };
    fits.chest();
    for drawer in &case.design.drawers {
        fits.opening(drawer);
        fits.hatch(drawer);
        fits.rows(drawer, Axis::X);
        fits.rows(drawer, Axis::Y);
        fits.heights(drawer);
    }
    fits.fronts();
}

/// What is off together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Of {
    Reading(&'static str),
    Stock(MaterialId),
    Season(MaterialId),
    Thing(GearId),
}

/// What may eat a margin up.
#[derive(Debug, Clone, Default)]
struct Off {
    together: BTreeMap<Of, i128>,
    apart: Vec<i128>,
}

impl Off {
    fn add(&mut self, of: Of, by: Length) -> &mut Self {
        *self.together.entry(of).or_default() += i128::from(by.units().max(0));
        self
    }

    fn cuts(&mut self, cuts: usize, by: Length) -> &mut Self {
        self.apart.extend(std::iter::repeat_n(i128::from(by.units().max(0)), cuts));
        self
    }

    fn all(&self) -> impl Iterator<Item = i128> + '_ {
        self.together.values().chain(&self.apart).copied()
    }

    fn sum(&self) -> Length {
        Length::from_units(i64::try_from(self.all().sum::<i128>()).unwrap_or(i64::MAX))
    }

    fn is_taken_by(&self, margin: Length, demanded: Demanded) -> bool {
        let margin = i128::from(margin.units());
        match demanded {
            Demanded::Nothing => true,
            Demanded::WorstCase => margin >= self.all().sum(),
            Demanded::Average => {
                margin >= 0 && margin * margin >= self.all().map(|by| by * by).sum()
            }
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Axis {
    X,
    Y,
}

impl Axis {
    const fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }

    /// Where a box begins, and its extent.
    const fn span(self, space: &Box3) -> (Length, Length) {
        match self {
            Self::X => (space.at.x, space.size.dx),
            Self::Y => (space.at.y, space.size.dy),
        }
    }
}

struct Fits<'a, 'b> {
    case: &'a Case<'a>,
    faults: &'b mut Vec<Fault>,
}

impl Fits<'_, '_> {
    fn need(&mut self, fit: impl FnOnce() -> String, margin: Length, off: &Off) {
        if !off.is_taken_by(margin, self.case.scenario.tolerance.demanded) {
            self.faults.push(Fault::NotSure { fit: fit(), margin, off: off.sum() });
        }
    }

    fn saw(&self) -> Length {
        self.case.scenario.tolerance.saw
    }

    fn reading(&self, measured: Measured) -> Length {
        match measured.tol.is_positive() {
            true => measured.tol,
            false => self.case.scenario.tolerance.tape,
        }
    }

    /// How far a material's thickness is off: sheets over 13/16 in by a twentieth at least.
    fn thickness(&self, id: MaterialId) -> Length {
        let tolerance = &self.case.scenario.tolerance;
        if self.case.board_width(id).is_some() {
            return tolerance.board;
        }
        let thick = self.case.thickness(id);
        let twentieth = if thick > Length::inches(13, 16) { thick / 20 } else { Length::ZERO };
        tolerance.sheet.max(twentieth)
    }

    /// Half of what solid wood of this extent moves across its grain from the driest to the wettest, rounded down, so that no
    /// rounding of the search's is held against it.
    fn season(&self, id: MaterialId, extent: Length) -> Length {
        /// Percent, tangential, of Douglas-fir (Wood Handbook table 4-3).
        const SHRINKAGE: f64 = 7.6;
        if self.case.board_width(id).is_none() {
            return Length::ZERO;
        }
        // Wood Handbook eq. 13-2 with the coefficient that follows from the shrinkage from green to dry.
        let per_percent = SHRINKAGE / (3000.0 - 20.0 * SHRINKAGE);
        let [driest, wettest] = self.case.scenario.engineering.moisture;
        let moved = extent.units() as f64 * per_percent * (wettest - driest).abs() / 2.0;
        Length::from_units(moved.floor() as i64)
    }

    fn stock(&self, off: &mut Off, id: MaterialId, times: i64) {
        off.add(Of::Stock(id), self.thickness(id) * times);
    }

    /// How far an extent is off that is a board's own width, or sawn.
    fn width(&self, off: &mut Off, id: MaterialId, extent: Length) {
        if self.case.board_width(id) == Some(extent) {
            off.add(Of::Stock(id), self.case.scenario.tolerance.board);
        } else {
            off.cuts(1, self.saw());
        }
    }

    fn member(&self, tier: usize) -> &TierChoice {
        &self.case.design.structure.tiers[tier]
    }

    /// Packing, then a panel and members for each of so many tiers.
    fn pile(&self, off: &mut Off, tiers: usize) {
        self.packing(off);
        for tier in 0..tiers {
            let TierChoice { member, height, .. } = *self.member(tier);
            self.stock(off, self.case.design.structure.bottom, 1);
            self.width(off, member, height);
            off.add(Of::Season(member), self.season(member, height));
        }
    }

    /// What the chest stands on: sheets laid flat if their thicknesses make up the lift, else boards sawn to it.
    fn packing(&self, off: &mut Off) {
        let design = self.case.design;
        let lift = design.chest.carcass.lift;
        if !lift.is_positive() {
            return;
        }
        let places = self.case.tiers().first().map_or(1, |frame| i64::from(frame.columns) + 1);
        let layers: Vec<(MaterialId, i64)> = (design.parts.iter())
            .filter(|part| part.role == Role::Packing)
            .map(|part| (part.material, i64::from(part.quantity) / places))
            .collect();
        let high: Length = layers.iter().map(|(id, times)| self.case.thickness(*id) * *times).sum();
        if high == lift {
            layers.into_iter().for_each(|(id, times)| self.stock(off, id, times));
        } else {
            off.cuts(1, self.saw());
        }
    }

    fn chest(&mut self) {
        let (case, saw) = (self.case, self.saw());
        let (bed, structure) = (&case.scenario.bed, &case.design.structure);
        let carcass = &case.design.chest.carcass;
        for (tier, frame) in carcass.tiers.iter().enumerate() {
            let (reading, named) = match &bed.wells {
                Some(wells) if !case.is_full_width(tier) => (wells.between, "between the wells"),
                _ => (bed.width, "the bed's width"),
            };
            let mut off = Off::default();
            off.add(Of::Reading(named), self.reading(reading)).cuts(1, saw);
            self.need(|| format!("tier {tier} in {named}"), reading.at - frame.width, &off);
        }
        let mut off = Off::default();
        off.add(Of::Reading("length"), self.reading(bed.length)).cuts(1, saw);
        self.stock(&mut off, self.member(0).member, 1);
        let left = bed.length.at - carcass.front_y - carcass.length;
        self.need(|| "the chest along the bed".to_owned(), left, &off);

        let mut off = Off::default();
        off.add(Of::Reading("clear height"), self.reading(bed.clear_height));
        self.pile(&mut off, carcass.tiers.len());
        self.stock(&mut off, structure.deck, 1);
        let left = bed.clear_height.at - carcass.top_z;
        self.need(|| "the deck under the clear height".to_owned(), left, &off);

        if let (Some(tailgate), Some(lowest)) = (&bed.tailgate, lowest_moving(case)) {
            let mut off = Off::default();
            off.add(Of::Reading("tailgate"), self.reading(Measured::exact(tailgate.rise)));
            self.packing(&mut off);
            self.stock(&mut off, structure.bottom, 1);
            let travel = carcass.tiers.iter().map(|frame| frame.drawer_length).max();
            let left = lowest - tailgate_top(tailgate, travel.unwrap_or_default());
            self.need(|| "the drawers over the open tailgate".to_owned(), left, &off);
        }
        let top = carcass.tiers.len().saturating_sub(1);
        if let Some(wells) = bed.wells.as_ref().filter(|_| case.is_full_width(top)) {
            let mut off = Off::default();
            off.add(Of::Reading("wells"), self.reading(Measured::exact(wells.height)));
            self.pile(&mut off, top);
            let left = carcass.tiers[top].z - case.thickness(structure.bottom) - wells.height;
            self.need(|| "the full-width tier over the wells".to_owned(), left, &off);
        }
    }

    /// A drawer between its members and under what is over it.
    fn opening(&mut self, drawer: &Drawer) {
        let structure = &self.case.design.structure;
        let frame = self.case.tiers()[drawer.tier];
        let TierChoice { member, height, .. } = *self.member(drawer.tier);
        // Slides bring play of their own, a cut's worth.
        let gaps = match structure.runs {
            Runs::Slides => self.saw(),
            Runs::Strip | Runs::Waxed => drawer.opening.size.dx - drawer.outside.size.dx,
        };
        let mut off = Off::default();
        off.cuts(3, self.saw()).add(Of::Season(member), self.season(member, frame.member));
        self.stock(&mut off, member, 1);
        self.need(|| format!("drawer {} between its members", drawer.name), gaps, &off);

        let mut off = Off::default();
        self.width(&mut off, member, height);
        self.width(&mut off, structure.sides, frame.side_height);
        self.stock(&mut off, structure.drawer_bottom, 1);
        let moved = self.season(member, frame.height);
        let with = self.season(structure.sides, frame.side_height);
        off.add(Of::Season(member), moved.abs_diff(with));
        let above = drawer.opening.far().z - drawer.outside.far().z;
        self.need(|| format!("drawer {} under what is over it", drawer.name), above, &off);
    }

    /// A drawer through the hatch, which stands in the middle of the bed: half of each reading counts on either side.
    fn hatch(&mut self, drawer: &Drawer) {
        let bed = &self.case.scenario.bed;
        let Some(opening) = &bed.opening else { return };
        let half = |length: Length| Length::from_units(length.units().div_euclid(2));
        let aside = (bed.width.at - opening.width) / 2;
        let mut off = Off::default();
        off.add(Of::Reading("hatch"), half(self.reading(Measured::exact(opening.width))))
            .add(Of::Reading("the bed's width"), half(self.reading(bed.width)))
            .cuts(1, self.saw());
        let right = bed.width.at - aside - drawer.outside.far().x;
        let left = (drawer.outside.at.x - aside).min(right);
        self.need(|| format!("drawer {} through the hatch", drawer.name), left, &off);
        let mut off = Off::default();
        off.add(Of::Reading("hatch"), self.reading(Measured::exact(opening.height)))
            .cuts(1, self.saw());
        let left = opening.height - drawer.outside.far().z;
        self.need(|| format!("drawer {} under the hatch's top", drawer.name), left, &off);
    }

    /// Applied fronts beside each other and under what is over them.
    fn fronts(&mut self) {
        let case = self.case;
        let mut fronts: Vec<(&Drawer, Box3)> = case
            .solids_of(Role::AppliedFront)
            .filter_map(|(_, solid)| Some((case.design.drawers.get(solid.drawer?)?, solid.space)))
            .collect();
        fronts.sort_by_key(|(drawer, space)| (drawer.tier, space.at.x));
        for pair in fronts.windows(2).filter(|pair| pair[0].0.tier == pair[1].0.tier) {
            let mut off = Off::default();
            off.cuts(2, self.saw());
            let between = pair[1].1.at.x - pair[0].1.far().x;
            let named = || format!("the fronts of {} and {}", pair[0].0.name, pair[1].0.name);
            self.need(named, between, &off);
        }
        let front = case.design.structure.front;
        for (drawer, space) in fronts {
            let TierChoice { member, height, .. } = *self.member(drawer.tier);
            let mut off = Off::default();
            self.width(&mut off, member, height);
            self.width(&mut off, front, space.size.dz);
            let moved = self.season(member, case.tiers()[drawer.tier].height);
            let with = self.season(front, space.size.dz);
            off.add(Of::Season(front), moved.abs_diff(with));
            let above = drawer.opening.far().z - space.far().z;
            let named = || format!("the front of {} under what is over it", drawer.name);
            self.need(named, above, &off);
        }
    }

    /// Every row of things and dividers along an axis, on a line through the beginning of each thing.
    fn rows(&mut self, drawer: &Drawer, axis: Axis) {
        let structure = &self.case.design.structure;
        let inside = match axis {
            Axis::X => drawer.inside.dx,
            Axis::Y => drawer.inside.dy,
        };
        let divider = self.case.thickness(structure.divider);
        let is_gear = |content| matches!(content, Content::Gear(_));
        let things = drawer.plan.items.iter().filter(|item| is_gear(item.content));
        let lines: Vec<Length> = things.map(|item| axis.other().span(&item.space).0).collect();
        for line in lines {
            let on_line = |space: &Box3| {
                let (at, long) = axis.other().span(space);
                at <= line && line < at + long
            };
            // Things on one another begin at one place and count once.
            let row: BTreeMap<(Length, Content), Length> = (drawer.plan.items.iter())
                .filter(|item| on_line(&item.space))
                .map(|item| {
                    let (at, long) = axis.span(&item.space);
                    ((at, item.content), long)
                })
                .collect();
            let boards = drawer.plan.dividers.iter();
            let boards = boards.filter(|board| on_line(board) && axis.span(board).1 == divider);
            let boards = boards.count() as i64;
            let mut off = Off::default();
            off.cuts(1, self.saw());
            self.stock(&mut off, structure.divider, boards);
            self.stock(&mut off, structure.sides, 2);
            for (_, content) in row.keys() {
                if let Content::Gear(id) = content {
                    off.add(Of::Thing(*id), self.case.scenario.tolerance.gear);
                }
            }
            let left = inside - row.values().copied().sum::<Length>() - divider * boards;
            let way = if axis == Axis::X { "side by side" } else { "one behind the other" };
            self.need(|| format!("what stands {way} in {}", drawer.name), left, &off);
        }
    }

    /// Everything in a drawer under what is over it.
    fn heights(&mut self, drawer: &Drawer) {
        let TierChoice { member, height, .. } = *self.member(drawer.tier);
        for item in &drawer.plan.items {
            let Content::Gear(id) = item.content else { continue };
            let top = item.space.far().z;
            let piled = (top.units() / item.space.size.dz.units().max(1)).max(1);
            let mut off = Off::default();
            off.add(Of::Thing(id), self.case.scenario.tolerance.gear * piled)
                .add(Of::Season(member), self.season(member, height));
            self.width(&mut off, member, height);
            self.stock(&mut off, self.case.design.structure.drawer_bottom, 1);
            let above = drawer.opening.far().z - drawer.inside_at.z - top;
            let named =
                || format!("{} under what is over it", self.case.content_name(item.content));
            let named = named();
            self.need(|| named, above, &off);
        }
    }
}
