//! What the gear of a drawer leaves over of its inside.

use crate::design::geometry::{Box3, Point, Size};
use crate::design::{Content, Drawer, Item, Layout, TierFrame};
use crate::scenario::Scenario;
use crate::units::Length;

/// How much narrower, and how much shorter, a drawer could be inside with the same things in the same order.
///
/// A layout is divided edge to edge, so that it comes apart board by board: two sides of a board across the axis add up with
/// it, of two sides of a board along it the larger counts. A board that keeps an empty room closed is not needed.
pub fn spare(scenario: &Scenario, frame: &TierFrame, drawer: &Drawer) -> [Length; 2] {
    let heap = frame.divider_height.min(frame.clear_height);
    let yard = Yard { scenario, plan: &drawer.plan, heap };
    let whole = Box3 { at: Point::default(), size: drawer.inside };
    [
        drawer.inside.dx - yard.least(whole, Axis::X).unwrap_or_default(),
        drawer.inside.dy - yard.least(whole, Axis::Y).unwrap_or_default(),
    ]
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

    /// Where a box begins and ends along it.
    fn span(self, space: &Box3) -> (Length, Length) {
        match self {
            Self::X => (space.at.x, space.far().x),
            Self::Y => (space.at.y, space.far().y),
        }
    }

    /// The part of a box between two places along it.
    fn between(self, space: Box3, (from, to): (Length, Length)) -> Box3 {
        let Box3 { at, size } = space;
        match self {
            Self::X => Box3 { at: Point { x: from, ..at }, size: Size { dx: to - from, ..size } },
            Self::Y => Box3 { at: Point { y: from, ..at }, size: Size { dy: to - from, ..size } },
        }
    }
}

struct Yard<'a> {
    scenario: &'a Scenario,
    plan: &'a Layout,
    /// Loose goods are heaped as high as this.
    heap: Length,
}

impl Yard<'_> {
    /// The least extent of a space along an axis; none if nothing is in it.
    fn least(&self, space: Box3, axis: Axis) -> Option<Length> {
        let within = |(from, to): (Length, Length), (first, last): (Length, Length)| {
            first <= from && to <= last
        };
        let inside = |one: &Box3| {
            [Axis::X, Axis::Y].iter().all(|axis| within(axis.span(one), axis.span(&space)))
        };
        let items: Vec<&Item> = self.plan.items.iter().filter(|item| inside(&item.space)).collect();
        if items.is_empty() {
            return None;
        }
        let boards = self.plan.dividers.iter().filter(|board| inside(board));
        for along in [axis, axis.other()] {
            // A board that runs from edge to edge across `along`.
            let runs = |board: &&Box3| {
                let (from, to) = along.span(board);
                let (first, last) = along.span(&space);
                along.other().span(board) == along.other().span(&space)
                    && first <= from
                    && to <= last
            };
            let Some(board) = boards.clone().find(runs) else { continue };
            let ((from, to), (first, last)) = (along.span(board), along.span(&space));
            let before = self.least(along.between(space, (first, from)), axis);
            let after = self.least(along.between(space, (to, last)), axis);
            return match (before, after) {
                (Some(before), Some(after)) if along == axis => Some(before + (to - from) + after),
                (Some(before), Some(after)) => Some(before.max(after)),
                (one, other) => one.or(other),
            };
        }
        Some(self.cell(&items, space, axis))
    }

    /// What the things of one cell take along an axis, with the room around them.
    fn cell(&self, items: &[&Item], space: Box3, axis: Axis) -> Length {
        let ends = items.iter().map(|item| {
            let (from, to) = axis.span(&item.space);
            match item.content {
                Content::Gear(id) => {
                    let padding = self.scenario.gear[id].padding;
                    (from - padding, to + padding)
                }
                Content::Loose(id) => {
                    let loose = &self.scenario.loose[id];
                    let (first, last) = axis.other().span(&space);
                    let beside = i128::from((last - first).units().max(1));
                    let area = loose.volume.base_at(self.heap).map_or(0, |area| area.units());
                    let long = i64::try_from((area + beside - 1) / beside).unwrap_or(i64::MAX);
                    (from, from + Length::from_units(long).max(loose.least).min(to - from))
                }
            }
        });
        let ends = ends.reduce(|(a, b), (from, to)| (a.min(from), b.max(to)));
        ends.map_or(Length::ZERO, |(from, to)| to - from)
    }
}
