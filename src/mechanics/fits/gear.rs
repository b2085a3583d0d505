//! What is stowed, in its drawer: the tightest rows across and along, and the tallest thing.
//!
//! Dividers are put to suit the things that there are, so that a cell by itself is not what fits or does not: what stands in
//! a row must together leave something of the drawer's inside. Free room that a thing asks for around it may be used up.

use super::{Fit, FitOf, Holds, Sizes, Source, Stack};
use crate::design::{Box3, Content, Design, Drawer, Item};
use crate::scenario::Scenario;
use crate::units::Length;

pub(super) fn fits(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let sizes = Sizes { scenario };
    design
        .drawers
        .iter()
        .filter(|drawer| !drawer.plan.items.is_empty())
        .flat_map(|drawer| {
            let row = |axis| row(&sizes, design, drawer, axis);
            let name = || drawer.name.clone();
            let across = Fit { of: FitOf::GearAcross(name()), stack: row(Axis::Across) };
            let along = Fit { of: FitOf::GearAlong(name()), stack: row(Axis::Along) };
            [Some(across), Some(along), tallest(&sizes, design, drawer)].into_iter().flatten()
        })
        .collect()
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Axis {
    Across,
    Along,
}

impl Axis {
    /// Where a box begins and ends along the axis.
    fn extent(self, space: Box3) -> (Length, Length) {
        match self {
            Self::Across => (space.at.x, space.far().x),
            Self::Along => (space.at.y, space.far().y),
        }
    }

    const fn other(self) -> Self {
        match self {
            Self::Across => Self::Along,
            Self::Along => Self::Across,
        }
    }
}

/// Of all lines through a drawer along the axis, the row of things and dividers on it that leaves least at worst.
///
/// A line through the beginning of every thing is enough: between two beginnings a row only loses things.
fn row(sizes: &Sizes<'_>, design: &Design, drawer: &Drawer, axis: Axis) -> Stack {
    let inside = match axis {
        Axis::Across => drawer.inside.dx,
        Axis::Along => drawer.inside.dy,
    };
    let plan = &drawer.plan;
    let (structure, tolerance) = (&design.structure, &sizes.scenario.tolerance);
    let stack_at = |line: Length| {
        let crossed = |space: Box3| {
            let (from, to) = axis.other().extent(space);
            from <= line && line < to
        };
        let long = |space: Box3| {
            let (from, to) = axis.extent(space);
            to - from
        };
        // Stacked things take the room of one.
        let mut places: Vec<(Length, Content, Length)> = plan
            .items
            .iter()
            .filter(|item| crossed(item.space))
            .map(|item| (axis.extent(item.space).0, item.content, long(item.space)))
            .collect();
        places.sort();
        places.dedup();
        let thick = sizes.scenario.stock.materials[structure.divider].thickness;
        let boards =
            plan.dividers.iter().filter(|board| crossed(**board) && long(**board) == thick);
        let boards = boards.count() as i64;
        let taken: Length = places.iter().map(|(_, _, long)| *long).sum();
        let stack = Stack::new(inside - taken - thick * boards)
            .with(Source::Stock(structure.divider), sizes.thickness(structure.divider) * boards)
            .with(Source::Stock(structure.sides), sizes.thickness(structure.sides) * 2)
            .with_cuts(1, tolerance.saw);
        places.iter().fold(stack, |stack, (_, content, _)| match content {
            Content::Gear(id) => stack.with(Source::Gear(*id), tolerance.gear),
            Content::Loose(_) => stack,
        })
    };
    // Loose goods give way where nothing else stands.
    let solid = plan.items.iter().filter(|item| matches!(item.content, Content::Gear(_)));
    let lines = solid.map(|item| axis.other().extent(item.space).0);
    lines.map(stack_at).min_by_key(least_sure).unwrap_or_default()
}

/// Orders stacks, the least sure first.
fn least_sure(stack: &Stack) -> (Holds, Length) {
    (stack.holds(), stack.margin - stack.worst())
}

/// The thing, or pile of one kind, that fits least surely under the panel above its drawer.
fn tallest(sizes: &Sizes<'_>, design: &Design, drawer: &Drawer) -> Option<Fit> {
    let (structure, tolerance) = (&design.structure, &sizes.scenario.tolerance);
    let choice = &structure.tiers[drawer.tier];
    let (from, by) = sizes.width(choice.member, choice.height);
    // Above the clear inside there is the top clearance still.
    let room = drawer.inside.dz + sizes.scenario.allowances.top_clearance;
    let under = |item: &Item| {
        let Content::Gear(id) = item.content else { return None };
        let top = item.space.far().z;
        let piled = (top.units() / item.space.size.dz.units().max(1)).max(1);
        let stack = Stack::new(room - top)
            .with(from, by)
            .with(Source::Stock(structure.drawer_bottom), sizes.thickness(structure.drawer_bottom))
            .with(Source::Season(choice.member), sizes.season(choice.member, choice.height))
            .with(Source::Gear(id), tolerance.gear * piled);
        Some((stack, item.content))
    };
    let all = drawer.plan.items.iter().filter_map(under);
    let (stack, content) = all.min_by_key(|(stack, content)| (least_sure(stack), *content))?;
    Some(Fit { of: FitOf::GearUnder(drawer.name.clone(), content), stack })
}
