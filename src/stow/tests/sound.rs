//! A checker of its own for stowages.

use super::*;
use crate::design::{Box3, Layout};

/// What is wrong with a stowage, if anything.
pub(super) fn check(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
    stowage: &Stowage,
) -> Result<(), String> {
    let thick = scenario.stock.materials[structure.divider].thickness;
    for (frame, layouts) in carcass.tiers.iter().zip(&stowage.tiers) {
        let wide: Length = layouts.iter().map(|layout| layout.width).sum();
        if layouts.len() != frame.columns as usize || wide != frame.inside_width() {
            return Err(format!("{} drawers, {wide:?} wide", layouts.len()));
        }
        for layout in layouts {
            if layout.width < scenario.allowances.least_drawer_width
                || layout.length != frame.drawer_inside_length
                || layout.height != frame.clear_height
                || layout.dividers.iter().any(|board| board.size.dz != frame.divider_height)
            {
                return Err("sizes of a drawer".into());
            }
            check_layout(scenario, layout, thick)?;
        }
    }
    let beside = pockets(scenario, structure, carcass);
    for (place, layout) in &stowage.pockets {
        let clear = beside.iter().find(|(other, _)| other == place).map(|(_, space)| space.size);
        let plan = crate::design::Size::new(layout.width, layout.length, layout.height);
        if clear != Some(plan) {
            return Err("size of a pocket".into());
        }
        check_layout(scenario, layout, thick)?;
        let may = |item: &Item| match item.content {
            Content::Gear(id) => scenario.gear[id].pocket,
            Content::Loose(_) => false,
        };
        if !layout.items.iter().all(may) {
            return Err("not for pockets".into());
        }
    }
    check_counts(scenario, stowage)
}

fn check_counts(scenario: &Scenario, stowage: &Stowage) -> Result<(), String> {
    let gear = scenario.gear.iter().map(|(id, gear)| (Content::Gear(id), gear.count));
    let loose = scenario.loose.iter().map(|(id, _)| (Content::Loose(id), 1));
    let layouts = stowage.tiers.iter().flatten().chain(stowage.pockets.iter().map(|(_, l)| l));
    let items: Vec<&Item> = layouts.flat_map(|layout| &layout.items).collect();
    for (content, count) in gear.chain(loose) {
        let stowed = items.iter().filter(|item| item.content == content);
        let mut copies: Vec<u32> = stowed.map(|item| item.copy).collect();
        copies.sort_unstable();
        let out = stowage.left_out.iter().filter(|left| left.content == content);
        let out: u32 = out.map(|left| left.count).sum();
        if !copies.iter().copied().eq(0..count - out) {
            return Err(format!("{content:?}: copies {copies:?}, {out} left out of {count}"));
        }
    }
    Ok(())
}

/// The room a thing claims: itself with its padding beside and above.
fn claim(scenario: &Scenario, item: &Item) -> Box3 {
    let pad = match item.content {
        Content::Gear(id) => scenario.gear[id].padding,
        Content::Loose(_) => Length::ZERO,
    };
    let mut space = item.space;
    space.at.x -= pad;
    space.at.y -= pad;
    space.size.dx += pad * 2;
    space.size.dy += pad * 2;
    space.size.dz += pad;
    space
}

fn apart(one: Box3, other: Box3, up: bool) -> bool {
    let (a, b) = (one.far(), other.far());
    let beside = a.x <= other.at.x || b.x <= one.at.x || a.y <= other.at.y || b.y <= one.at.y;
    beside || up && (a.z <= other.at.z || b.z <= one.at.z)
}

fn check_layout(scenario: &Scenario, layout: &Layout, thick: Length) -> Result<(), String> {
    for (index, item) in layout.items.iter().enumerate() {
        let space = claim(scenario, item);
        let far = space.far();
        let low = space.at.x.min(space.at.y).min(space.at.z);
        if low < Length::ZERO
            || far.x > layout.width
            || far.y > layout.length
            || far.z > layout.height
        {
            return Err(format!("{item:?} is not inside"));
        }
        let size = item.space.size;
        let stands = match item.content {
            Content::Gear(id) => scenario.gear[id].stances().contains(&[size.dx, size.dy, size.dz]),
            Content::Loose(id) => {
                let loose = &scenario.loose[id];
                size.volume() >= loose.volume && size.dx.min(size.dy) >= loose.least
            }
        };
        if !stands {
            return Err(format!("{item:?} does not stand so"));
        }
        if layout.dividers.iter().any(|board| !apart(space, *board, false)) {
            return Err(format!("{item:?} in a divider"));
        }
        for other in &layout.items[..index] {
            let stacked = item.content == other.content && !apart(item.space, other.space, false);
            let clear = if stacked {
                apart(item.space, other.space, true)
            } else {
                apart(space, claim(scenario, other), false)
            };
            if !clear {
                return Err(format!("{item:?} and {other:?}"));
            }
        }
    }
    let all = [Length::ZERO, Length::ZERO, layout.width, layout.length];
    let boards: Vec<Box3> = layout.dividers.clone();
    parted(scenario, all, thick, &boards, &layout.items)
}

/// Whether boards part a region (x and y from, x and y to) edge to edge, down to cells whose things may share one.
fn parted(
    scenario: &Scenario,
    region: [Length; 4],
    thick: Length,
    boards: &[Box3],
    items: &[Item],
) -> Result<(), String> {
    let [x, y, to_x, to_y] = region;
    for board in boards {
        let (at, far) = (board.at, board.far());
        let along = at.y == y && far.y == to_y && far.x - at.x == thick;
        let across = at.x == x && far.x == to_x && far.y - at.y == thick;
        if !along && !across {
            continue;
        }
        let before =
            |space: Box3| if along { space.far().x <= at.x } else { space.far().y <= at.y };
        let behind = |space: Box3| if along { space.at.x >= far.x } else { space.at.y >= far.y };
        let rest = || boards.iter().filter(|other| *other != board);
        if !rest().all(|other| before(*other) || behind(*other)) {
            continue;
        }
        let (near, distant) = if along {
            ([x, y, at.x, to_y], [far.x, y, to_x, to_y])
        } else {
            ([x, y, to_x, at.y], [x, far.y, to_x, to_y])
        };
        let some = |side: &dyn Fn(Box3) -> bool| -> (Vec<Box3>, Vec<Item>) {
            let boards = rest().copied().filter(|other| side(*other)).collect();
            (boards, items.iter().copied().filter(|item| side(item.space)).collect())
        };
        let (boards, items) = some(&before);
        parted(scenario, near, thick, &boards, &items)?;
        let (boards, items) = some(&behind);
        return parted(scenario, distant, thick, &boards, &items);
    }
    if let Some(board) = boards.first() {
        return Err(format!("{board:?} does not run from edge to edge"));
    }
    let share = |one: &Item, other: &Item| {
        one.content == other.content
            && match one.content {
                Content::Gear(id) => {
                    scenario.gear[id].share || !apart(one.space, other.space, false)
                }
                Content::Loose(_) => false,
            }
    };
    match items.iter().skip(1).find(|item| !share(item, &items[0])) {
        Some(item) => Err(format!("{item:?} and {:?} in one cell", items[0])),
        None => Ok(()),
    }
}
