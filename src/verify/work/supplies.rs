//! What is bought for all sets, counted again.

use super::WorkFault;
use crate::design::work::WorkPlan;
use crate::design::{Design, HardwareLine, Need, PurchaseOf};
use crate::scenario::Scenario;
use crate::units::Area;
use crate::verify::Fault;
use crate::verify::purchases::{hardware, list, stock_used};

pub(super) fn check(
    scenario: &Scenario,
    design: &Design,
    work: &WorkPlan,
    faults: &mut Vec<WorkFault>,
) {
    // As many sets of everything that the design counts.
    for (index, line) in design.hardware.iter().enumerate() {
        let wanted = (line.use_, line.hardware, times(line.need, work.sets));
        let stated = work.hardware.get(index);
        if stated.map(|line: &HardwareLine| (line.use_, line.hardware, line.need)) != Some(wanted) {
            faults.push(WorkFault::Hardware { use_: line.use_ });
        }
    }
    if work.hardware.len() > design.hardware.len() {
        faults.push(WorkFault::NoSuch { what: "hardware", index: design.hardware.len() as u64 });
    }
    let known = |id: PurchaseOf| match id {
        PurchaseOf::Stock(id) => scenario.stock.items.get(id).is_some(),
        PurchaseOf::Hardware(id) => scenario.stock.hardware.get(id).is_some(),
    };
    let stocks = work.cutting.sheets.iter().map(|layout| layout.stock);
    let stocks = stocks.chain(work.cutting.boards.iter().map(|layout| layout.stock));
    let all = stocks.map(PurchaseOf::Stock).chain(work.purchases.iter().map(|bought| bought.what));
    if !faults.is_empty() || !all.into_iter().all(known) {
        // The replay names what does not exist.
        return;
    }
    let mut found: Vec<Fault> = Vec::new();
    let mut used = stock_used(&work.cutting);
    for line in &work.hardware {
        hardware(&scenario.stock, scenario.shop.kerf, line, &mut found);
        if let Some(id) = line.hardware {
            *used.entry(PurchaseOf::Hardware(id)).or_insert(0) += u64::from(line.packages);
        }
    }
    list(&scenario.stock, &work.purchases, used, &mut found);
    faults.extend(found.into_iter().map(WorkFault::Of));
}

fn times(need: Need, sets: u32) -> Need {
    match need {
        Need::Count(count) => Need::Count(count.saturating_mul(sets)),
        Need::Length(length) => Need::Length(length * i64::from(sets)),
        Need::Area(area) => Need::Area((0..sets).fold(Area::ZERO, |sum, _| sum + area)),
    }
}
