//! What the scenario decides is so: tiers, drawers, and where things stand.

use super::case::Case;
use super::fault::{Direction, Fault, Place};
use super::layout::Space;
use crate::design::{Box3, Content, Drawer, Item};
use crate::scenario::{self, ColumnAt, End};

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    tiers(case, faults);
    drawers(case, faults);
    for drawer in &case.design.drawers {
        things(case, drawer, faults);
    }
    for pocket in &case.design.pockets {
        let place = Place::Pocket(pocket.place);
        let space = Space { case, place: place.clone(), plan: &pocket.plan };
        for item in pocket.plan.items.iter().filter(|item| must_stand(case, item).is_some()) {
            faults.push(Fault::WrongDrawer { place: place.clone(), item: space.name(item) });
        }
    }
}

fn tiers(case: &Case<'_>, faults: &mut Vec<Fault>) {
    for decided in &case.scenario.decided.tiers {
        let tier = decided.tier as usize;
        let Some(chosen) = case.design.structure.tiers.get(tier) else {
            faults.push(Fault::DecidedTier { tier, what: "place" });
            continue;
        };
        if decided.columns.is_some_and(|columns| columns != chosen.columns) {
            faults.push(Fault::DecidedTier { tier, what: "number of columns" });
        }
        if decided.member.is_some_and(|member| member != chosen.member) {
            faults.push(Fault::DecidedTier { tier, what: "member" });
        }
    }
}

fn drawers(case: &Case<'_>, faults: &mut Vec<Fault>) {
    for decided in &case.scenario.decided.drawers {
        let place = (decided.tier as usize, decided.column as usize);
        let found = case.design.drawers.iter().find(|drawer| (drawer.tier, drawer.column) == place);
        let Some(drawer) = found else {
            faults.push(Fault::DecidedDrawer { drawer: decided.name() });
            continue;
        };
        for (along, stated, wanted) in [
            (Direction::Across, drawer.inside.dx, decided.width),
            (Direction::Up, drawer.inside.dz, decided.height),
        ] {
            if let Some(decided) = wanted.filter(|wanted| *wanted != stated) {
                let drawer = drawer.name.clone();
                faults.push(Fault::DecidedSize { drawer, along, stated, decided });
            }
        }
    }
}

fn must_stand(case: &Case<'_>, item: &Item) -> Option<scenario::Place> {
    match item.content {
        Content::Gear(id) => case.scenario.gear[id].place,
        Content::Loose(id) => case.scenario.loose[id].place,
    }
}

fn things(case: &Case<'_>, drawer: &Drawer, faults: &mut Vec<Fault>) {
    let place = Place::Drawer(drawer.name.clone());
    let space = Space { case, place: place.clone(), plan: &drawer.plan };
    let beside = case.tiers().get(drawer.tier).map_or(0, |frame| frame.columns as usize);
    for item in &drawer.plan.items {
        let Some(wanted) = must_stand(case, item) else { continue };
        let tier = wanted.tier.is_none_or(|tier| tier as usize == drawer.tier);
        let column = match wanted.column {
            None => true,
            Some(ColumnAt::FromLeft(column)) => column as usize == drawer.column,
            Some(ColumnAt::Right) => drawer.column + 1 == beside,
        };
        if !(tier && column) {
            faults.push(Fault::WrongDrawer { place: place.clone(), item: space.name(item) });
        }
        if let Some(end) = wanted.end {
            at_end(&space, item, end, faults);
        }
    }
}

/// Between a thing and its end of the drawer stands nothing but what must stand at the same end, and the last of these
/// has no divider before it.
fn at_end(space: &Space<'_>, item: &Item, end: End, faults: &mut Vec<Fault>) {
    let between = |other: Box3| {
        let own = item.space;
        let beside = own.at.x < other.far().x && other.at.x < own.far().x;
        beside
            && match end {
                End::Tailgate => other.far().y <= own.at.y,
                End::Cab => other.at.y >= own.far().y,
            }
    };
    let (place, name) = (space.place.clone(), space.name(item));
    let mut last = true;
    for other in space.plan.items.iter().filter(|other| between(other.space)) {
        last = false;
        if must_stand(space.case, other).and_then(|place| place.end) != Some(end) {
            let before = Some(space.name(other));
            faults.push(Fault::NotAtEnd { place: place.clone(), item: name.clone(), before });
        }
    }
    // Dividers along the drawer part it from its neighbours; only those across it shut it off.
    let thick = space.case.thickness(space.case.design.structure.divider);
    let across = |board: &Box3| board.size.dy == thick && between(*board);
    if last && space.plan.dividers.iter().any(across) {
        faults.push(Fault::NotAtEnd { place, item: name, before: None });
    }
}
