//! Each thing stowed once or left out, none lost and none from nowhere.

use super::case::Case;
use super::fault::Fault;
use crate::design::{Content, Item, LeftOut, Unstowed};
use crate::scenario::{Demand, Place};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let scenario = case.scenario;
    // What must stand somewhere has to stand.
    let must = |demand, place: Option<Place>| demand == Demand::Must || place.is_some();
    let gear = scenario.gear.iter();
    let gear = gear.map(|(id, one)| (Content::Gear(id), one.count, must(one.demand, one.place)));
    let loose = scenario.loose.iter();
    let loose = loose.map(|(id, one)| (Content::Loose(id), 1, must(one.demand, one.place)));
    let mut stowed: Vec<(Content, u32)> =
        items(case).map(|item| (item.content, item.copy)).collect();
    stowed.sort_unstable();
    for (content, count, must) in gear.chain(loose) {
        one(case, content, count, must, &stowed, faults);
    }
    for left in &case.design.left_out {
        reason(case, left, faults);
    }
}

/// Everything stowed in drawers and pockets.
pub(super) fn items<'a>(case: &Case<'a>) -> impl Iterator<Item = &'a Item> {
    let drawers = case.design.drawers.iter().map(|drawer| &drawer.plan);
    let pockets = case.design.pockets.iter().map(|pocket| &pocket.plan);
    drawers.chain(pockets).flat_map(|plan| &plan.items)
}

fn one(
    case: &Case<'_>,
    content: Content,
    count: u32,
    must: bool,
    stowed: &[(Content, u32)],
    faults: &mut Vec<Fault>,
) {
    let from = stowed.partition_point(|(other, _)| *other < content);
    let to = stowed.partition_point(|(other, _)| *other <= content);
    let copies = &stowed[from..to];
    let item = || case.content_name(content);
    for pair in copies.windows(2).filter(|pair| pair[0] == pair[1]) {
        faults.push(Fault::CopyTwice { item: item(), copy: pair[0].1 });
    }
    for (_, copy) in copies.iter().filter(|(_, copy)| *copy >= count) {
        faults.push(Fault::NoSuchCopy { item: item(), copy: *copy, count });
    }
    let left_out = case.design.left_out.iter().filter(|left| left.content == content);
    let left_out: u64 = left_out.map(|left| u64::from(left.count)).sum();
    let (number, count) = (copies.len() as u64, u64::from(count));
    if number + left_out != count {
        let stowed = number;
        faults.push(Fault::CountsDoNotAdd { item: item(), stowed, left_out, count });
    }
    if must && number < count {
        faults.push(Fault::MustLeftOut { item: item(), missing: count - number });
    }
}

/// What is said to be too high or too large for every drawer is so by at least as much as is said, each stance with its
/// padding in each drawer as if it were empty.
fn reason(case: &Case<'_>, left: &Unstowed, faults: &mut Vec<Fault>) {
    let stances: Vec<[Length; 3]> = match left.content {
        Content::Gear(id) => {
            let gear = &case.scenario.gear[id];
            let pad = gear.padding;
            let padded = |[x, y, z]: [Length; 3]| [x + pad * 2, y + pad * 2, z + pad];
            gear.stances().into_iter().map(padded).collect()
        }
        Content::Loose(id) => vec![[case.scenario.loose[id].least; 3]],
    };
    let (stated, high) = match left.why {
        LeftOut::TooHigh { by } => (by, true),
        LeftOut::TooLarge { by } => (by, false),
        LeftOut::NoRoom => return,
    };
    let short = case.design.drawers.iter().flat_map(|drawer| {
        let inside = drawer.inside;
        stances.iter().filter_map(move |[x, y, z]| {
            let up = *z - inside.dz;
            let flat = (*x - inside.dx).max(*y - inside.dy);
            if high { Some(up) } else { (!up.is_positive()).then_some(flat) }
        })
    });
    let derived = short.min().unwrap_or(stated);
    if derived < stated || !stated.is_positive() {
        let item = case.content_name(left.content);
        faults.push(Fault::WrongReason { item, stated, derived });
    }
}
