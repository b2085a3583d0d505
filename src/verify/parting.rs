//! Whether dividers part a drawer's inside edge to edge, and whether they part everything that has to be parted.

use super::fault::Fault;
use super::layout::{Space, overlap_in_plan};
use crate::design::{Box3, Content, Item};
use crate::units::Length;

/// A part of a layout, bounded by boards on all sides.
struct Region {
    from: [Length; 2],
    to: [Length; 2],
    items: Vec<usize>,
    dividers: Vec<usize>,
}

/// Takes the layout apart along its dividers: each, in its turn, runs from edge to edge of the region that it divides
/// and splits it in two. In a region without dividers, all things may share a cell: one stack, or copies of gear that is
/// marked so.
///
/// Which of several possible dividers is taken first does not matter: what a guillotine cut leaves of a guillotine pattern
/// is again one. O(dividers² · items).
pub(super) fn check(space: &Space<'_>, faults: &mut Vec<Fault>) {
    let plan = space.plan;
    let mut regions = vec![Region {
        from: [Length::ZERO; 2],
        to: [plan.width, plan.length],
        items: (0..plan.items.len()).collect(),
        dividers: (0..plan.dividers.len()).collect(),
    }];
    while let Some(region) = regions.pop() {
        if region.dividers.is_empty() {
            cell(space, &region, faults);
        } else if let Some(halves) = split(space, &region) {
            regions.extend(halves);
        } else {
            stuck(space, &region, faults);
        }
    }
}

/// The extent of a box across (0) or along (1) the drawer.
fn span(of: Box3, axis: usize) -> [Length; 2] {
    if axis == 0 { [of.at.x, of.far().x] } else { [of.at.y, of.far().y] }
}

/// Whether a divider reaches from edge to edge of a region along `axis`.
fn spans(region: &Region, divider: Box3, axis: usize) -> bool {
    span(divider, axis) == [region.from[axis], region.to[axis]]
}

fn split(space: &Space<'_>, region: &Region) -> Option<[Region; 2]> {
    let plan = space.plan;
    region.dividers.iter().find_map(|&divider| {
        let board = plan.dividers[divider];
        // A board that runs along one axis divides along the other.
        [0, 1].into_iter().filter(|along| spans(region, board, *along)).find_map(|along| {
            let across = 1 - along;
            let [low, high] = span(board, across);
            // Which side of the board a box is on, if it is on one.
            let side = |of: Box3| match span(of, across) {
                [_, to] if to <= low => Some(0),
                [from, _] if from >= high => Some(1),
                _ => None,
            };
            let mut halves = [0, 1].map(|half| {
                let (mut from, mut to) = (region.from, region.to);
                if half == 0 {
                    to[across] = low
                } else {
                    from[across] = high
                }
                Region { from, to, items: Vec::new(), dividers: Vec::new() }
            });
            for &item in &region.items {
                halves[side(plan.items[item].space)?].items.push(item);
            }
            for &other in region.dividers.iter().filter(|other| **other != divider) {
                halves[side(plan.dividers[other])?].dividers.push(other);
            }
            Some(halves)
        })
    })
}

/// No divider splits the region: those that do not run from edge to edge are at fault, or else what lies across them.
fn stuck(space: &Space<'_>, region: &Region, faults: &mut Vec<Fault>) {
    let plan = space.plan;
    let short = |divider: &&usize| {
        let board = plan.dividers[**divider];
        !spans(region, board, 0) && !spans(region, board, 1)
    };
    let at_fault: Vec<usize> = region.dividers.iter().filter(short).copied().collect();
    for &divider in &at_fault {
        faults.push(Fault::DividerNotEdgeToEdge { place: space.place.clone(), divider });
    }
    if !at_fault.is_empty() {
        return;
    }
    for &divider in &region.dividers {
        let board = plan.dividers[divider];
        let across = region.items.iter().map(|item| &plan.items[*item]);
        for item in across.filter(|item| overlap_in_plan(item.space, board)) {
            let (place, item) = (space.place.clone(), space.name(item));
            faults.push(Fault::ItemInDivider { place, item, divider });
        }
        if region
            .dividers
            .iter()
            .any(|other| *other != divider && overlap_in_plan(plan.dividers[*other], board))
        {
            faults.push(Fault::DividerNotEdgeToEdge { place: space.place.clone(), divider });
        }
    }
}

/// All things in one cell may share it.
fn cell(space: &Space<'_>, region: &Region, faults: &mut Vec<Fault>) {
    let items: Vec<&Item> = region.items.iter().map(|item| &space.plan.items[*item]).collect();
    for (index, one) in items.iter().enumerate() {
        if let Some(other) = items[index + 1..].iter().find(|other| !may_share(space, one, other)) {
            faults.push(Fault::NotParted {
                place: space.place.clone(),
                one: space.name(one),
                other: space.name(other),
            });
        }
    }
}

/// Copies of one gear may share a cell if it is marked so, or stand on one another.
fn may_share(space: &Space<'_>, one: &Item, other: &Item) -> bool {
    match one.content {
        Content::Gear(id) if one.content == other.content => {
            space.case.scenario.gear[id].share || overlap_in_plan(one.space, other.space)
        }
        _ => false,
    }
}
