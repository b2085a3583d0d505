//! The same gear in the same drawers with what is heavy beside their sides.
//!
//! A bottom sags least under what stands beside the runs, and most under what stands midway between them. Lanes side by side
//! may stand in any order, so the heaviest go to the two sides in turn and the lightest to the middle.

use std::cmp::Reverse;

use crate::design::derive::figures::mass_of;
use crate::design::geometry::{Box3, Point};
use crate::design::{Item, Layout, Stowage};
use crate::scenario::Scenario;
use crate::units::{Length, Mass};

/// A stowage with the lanes of every drawer put in that order.
pub fn steadied(scenario: &Scenario, stowage: &Stowage) -> Stowage {
    let tiers = stowage.tiers.iter();
    let tiers = tiers.map(|tier| tier.iter().map(|plan| in_order(scenario, plan)).collect());
    Stowage { tiers: tiers.collect(), ..stowage.clone() }
}

/// What stands between two dividers of full length, or one of those and a side.
struct Strip {
    from: Length,
    width: Length,
    items: Vec<Item>,
    dividers: Vec<Box3>,
}

impl Strip {
    fn mass(&self, scenario: &Scenario) -> Mass {
        self.items.iter().map(|item| mass_of(scenario, item.content)).sum()
    }
}

fn in_order(scenario: &Scenario, plan: &Layout) -> Layout {
    let is_whole = |divider: &Box3| divider.size.dy == plan.length && divider.at.y == Length::ZERO;
    let (mut between, within): (Vec<Box3>, Vec<Box3>) =
        plan.dividers.iter().copied().partition(is_whole);
    between.sort_by_key(|divider| divider.at.x);
    if between.len() < 2 {
        return plan.clone();
    }
    let begins = std::iter::once(Length::ZERO).chain(between.iter().map(|one| one.far().x));
    let ends = between.iter().map(|one| one.at.x).chain([plan.width]);
    let strips = begins.zip(ends).map(|(from, to)| {
        let inside = |space: &Box3| (from..to).contains(&space.at.x);
        Strip {
            from,
            width: to - from,
            items: plan.items.iter().filter(|item| inside(&item.space)).copied().collect(),
            dividers: within.iter().filter(|one| inside(one)).copied().collect(),
        }
    });
    let mut strips: Vec<Strip> = strips.collect();
    strips.sort_by_key(|strip| Reverse(strip.mass(scenario)));
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for (rank, strip) in strips.into_iter().enumerate() {
        if rank % 2 == 0 { left.push(strip) } else { right.push(strip) }
    }
    let mut ordered = Layout { items: Vec::new(), dividers: Vec::new(), ..plan.clone() };
    let mut x = Length::ZERO;
    let mut between = between.into_iter();
    for strip in left.into_iter().chain(right.into_iter().rev()) {
        let by = Point::new(x - strip.from, Length::ZERO, Length::ZERO);
        let moved = |item: Item| Item { space: item.space.moved(by), ..item };
        ordered.items.extend(strip.items.into_iter().map(moved));
        ordered.dividers.extend(strip.dividers.into_iter().map(|divider| divider.moved(by)));
        x += strip.width;
        if let Some(divider) = between.next() {
            ordered.dividers.push(Box3 { at: Point { x, ..divider.at }, ..divider });
            x += divider.size.dx;
        }
    }
    ordered
}
