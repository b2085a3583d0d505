//! What is bought: as many as used, what is on hand first, at the scenario's prices; hardware enough for its need.

use std::collections::BTreeMap;

use super::case::Case;
use super::fault::Fault;
use crate::design::{CuttingPlan, HardwareLine, Need, Purchase, PurchaseOf, Role};
use crate::scenario::{Fastening, Hardware, HardwareUse, Runs, Sold, Stock};
use crate::units::{Length, Money};

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    list(&case.scenario.stock, &case.design.purchases, used(case), faults);
    for line in &case.design.hardware {
        hardware(&case.scenario.stock, case.scenario.shop.kerf, line, faults);
    }
    needs(case, faults);
}

/// The list against what is used.
pub(super) fn list(
    stock: &Stock,
    purchases: &[Purchase],
    mut used: BTreeMap<PurchaseOf, u64>,
    faults: &mut Vec<Fault>,
) {
    for (index, purchase) in purchases.iter().enumerate() {
        let what = purchase.what;
        if purchases[..index].iter().any(|other| other.what == what) {
            faults.push(Fault::BoughtTwice { what });
            continue;
        }
        let used = used.remove(&what).unwrap_or(0);
        if u64::from(purchase.quantity) != used {
            faults.push(Fault::Bought { what, stated: u64::from(purchase.quantity), used });
        }
        priced(stock, purchase, faults);
    }
    // What is left of the uses stands on no line.
    faults.extend(
        used.into_iter().filter(|(_, used)| *used > 0).map(|(what, used)| Fault::Bought {
            what,
            stated: 0,
            used,
        }),
    );
}

/// How many of each stock item the layouts use.
pub(super) fn stock_used(plan: &CuttingPlan) -> BTreeMap<PurchaseOf, u64> {
    let sheets = plan.sheets.iter().map(|sheet| (PurchaseOf::Stock(sheet.stock), sheet.repeat));
    let boards = plan.boards.iter().map(|board| (PurchaseOf::Stock(board.stock), board.repeat));
    let mut used = BTreeMap::new();
    for (what, count) in sheets.chain(boards) {
        *used.entry(what).or_insert(0) += u64::from(count);
    }
    used
}

/// How many of each stock item the layouts use, and of each hardware the lines.
fn used(case: &Case<'_>) -> BTreeMap<PurchaseOf, u64> {
    let mut used = stock_used(&case.design.cutting);
    for line in &case.design.hardware {
        if let Some(id) = line.hardware {
            *used.entry(PurchaseOf::Hardware(id)).or_insert(0) += u64::from(line.packages);
        }
    }
    used
}

/// One line: on hand, what can be had, price, cost.
fn priced(stock: &Stock, purchase: &Purchase, faults: &mut Vec<Fault>) {
    let what = purchase.what;
    let (price, on_hand, most) = match what {
        PurchaseOf::Stock(id) => {
            let item = &stock.items[id];
            (item.price, item.on_hand, item.most)
        }
        PurchaseOf::Hardware(id) => (stock.hardware[id].price, stock.hardware[id].on_hand, None),
    };
    let derived = purchase.quantity.min(on_hand);
    if purchase.on_hand != derived {
        faults.push(Fault::OnHand { what, stated: purchase.on_hand, derived });
    }
    let bought = purchase.quantity - derived;
    if let Some(by) = most.and_then(|most| bought.checked_sub(most)).filter(|by| *by > 0) {
        faults.push(Fault::TooMany { what, by });
    }
    if purchase.unit_price != price {
        faults.push(Fault::UnitPrice { what, stated: purchase.unit_price, price });
    }
    let derived = price * i64::from(bought);
    if purchase.cost != derived {
        faults.push(Fault::Cost { what, stated: purchase.cost, derived });
    }
}

/// One counted line: for its own use, enough packages, at their cost.
pub(super) fn hardware(stock: &Stock, kerf: Length, line: &HardwareLine, faults: &mut Vec<Fault>) {
    let use_ = line.use_;
    let Some(id) = line.hardware else {
        // A design may go without hardware only where the scenario lists none.
        if stock.hardware_for(use_).next().is_some() || line.cost != Money::ZERO {
            faults.push(Fault::HardwareFor { use_ });
        }
        return;
    };
    let hardware = &stock.hardware[id];
    if hardware.use_ != use_ {
        faults.push(Fault::HardwareFor { use_ });
    }
    match packages(hardware, line.need, kerf) {
        None => faults.push(Fault::HardwareMeasure { use_ }),
        Some(needed) if u64::from(line.packages) < needed => {
            faults.push(Fault::HardwareShort { use_, packages: line.packages, needed });
        }
        Some(_) => {}
    }
    let derived = hardware.price * i64::from(line.packages.saturating_sub(hardware.on_hand));
    if line.cost != derived {
        faults.push(Fault::HardwareCost { use_, stated: line.cost, derived });
    }
}

/// The fewest packages that hold a need; `None` if it is not sold in the need's measure. One of what is sold by the piece
/// serves a whole length or area: a kit, a tin.
fn packages(hardware: &Hardware, need: Need, kerf: Length) -> Option<u64> {
    let (need, each) = match (need, hardware.sold) {
        (Need::Count(count), Sold::Each { pack }) => (i128::from(count), i128::from(pack)),
        (Need::Length(length), Sold::Length { length: one }) => {
            (i128::from(length.units()), i128::from(one.units()))
        }
        (Need::Length(length), Sold::Ripped { across, along, width }) => {
            // The last strip needs no kerf after it.
            let pitch = (width + kerf).units().max(1);
            let strips = (across + kerf).units().div_euclid(pitch);
            (i128::from(length.units()), i128::from(strips) * i128::from(along.units()))
        }
        (Need::Area(area), Sold::Cover { area: one }) => (area.units(), one.units()),
        (Need::Length(length), Sold::Each { .. }) => (i128::from(length.units().signum()), 1),
        (Need::Area(area), Sold::Each { .. }) => (area.units().signum(), 1),
        _ => return None,
    };
    if each <= 0 {
        return None;
    }
    u64::try_from((need + each - 1).div_euclid(each)).ok()
}

/// What the design needs at least of the uses whose rule is fixed; the rest is left to its line.
fn needs(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let drawers = case.design.drawers.len() as u64;
    let runs = case.design.structure.runs;
    let if_ = |wanted: bool, count: u64| if wanted { count } else { 0 };
    for (use_, least) in [
        (HardwareUse::ChestScrew, chest_screws(case)),
        (HardwareUse::DrawerScrew, drawer_screws(case)),
        (HardwareUse::Slides, if_(runs == Runs::Slides, drawers)),
        (HardwareUse::Handle, drawers),
        (HardwareUse::Lock, if_(case.scenario.choices.locks, drawers)),
        (HardwareUse::HoldDown, u64::from(case.design.fixings.hold_downs.max(4))),
    ] {
        let counts = case.design.hardware.iter().filter(|line| line.use_ == use_);
        let stated = counts.map(|line| match line.need {
            Need::Count(count) => u64::from(count),
            Need::Length(_) | Need::Area(_) => 0,
        });
        short(use_, stated.sum(), least, faults);
    }
    measured(case, faults);
}

fn short(use_: HardwareUse, stated: u64, least: u64, faults: &mut Vec<Fault>) {
    if stated < least {
        faults.push(Fault::HardwareNeed { use_, stated, least });
    }
}

/// Strip under and beside drawers, in whole millimetres: two lengths under each drawer and one at each side. Coating
/// and carpet, where the scenario lists them, in square millimetres: all of the deck, every drawer's floor.
fn measured(case: &Case<'_>, faults: &mut Vec<Fault>) {
    let drawers = &case.design.drawers;
    let need = |use_: HardwareUse| {
        let lines = case.design.hardware.iter().filter(move |line| line.use_ == use_);
        lines.map(|line| match line.need {
            Need::Count(_) => 0,
            Need::Length(length) => i128::from(length.units()) / i128::from(Length::MM.units()),
            Need::Area(area) => area.units() / Length::MM.by(Length::MM).units(),
        })
    };
    let listed = |use_| case.scenario.stock.hardware_for(use_).next().is_some();
    let deck =
        case.solids_of(Role::Deck).map(|(_, solid)| solid.space.size.dx.by(solid.space.size.dy));
    let floors = drawers.iter().map(|drawer| drawer.inside.dx.by(drawer.inside.dy));
    let strip: Length = drawers.iter().map(|drawer| drawer.outside.size.dy * 4).sum();
    let square = Length::MM.by(Length::MM).units();
    for (use_, asked, least) in [
        (
            HardwareUse::Strip,
            case.design.structure.runs == Runs::Strip,
            i128::from(strip.units()) / i128::from(Length::MM.units()),
        ),
        (
            HardwareUse::Coating,
            listed(HardwareUse::Coating),
            deck.sum::<crate::units::Area>().units() / square,
        ),
        (
            HardwareUse::Carpet,
            listed(HardwareUse::Carpet),
            floors.sum::<crate::units::Area>().units() / square,
        ),
    ] {
        if asked {
            let whole = |number: i128| u64::try_from(number).unwrap_or(0);
            short(use_, whole(need(use_).sum()), whole(least), faults);
        }
    }
}

/// The scenario's spacing, or the design's own where that is closer.
fn closer(mut asked: Fastening, design: Fastening) -> Fastening {
    asked.spacing = asked.spacing.min(design.spacing);
    asked
}

/// Screws along a seam: the first and the last at the ends' distance, none farther apart than the spacing; one where the
/// seam is too short for two. Common practice, no source.
fn screws(seam: Length, fastening: Fastening) -> u64 {
    let between = (seam - fastening.ends * 2).units();
    if between <= 0 {
        return 1;
    }
    let spacing = fastening.spacing.units().max(1);
    1 + between.div_euclid(spacing) as u64 + u64::from(between.rem_euclid(spacing) > 0)
}

/// The panel under each tier and the one over it are screwed to each of its members.
fn chest_screws(case: &Case<'_>) -> u64 {
    let design = case.design.fixings.chest.fastening;
    let fastening = closer(case.scenario.allowances.chest_screws, design);
    let tiers = case.tiers().iter().zip(&case.design.chest.openings);
    tiers
        .map(|(frame, openings)| {
            let members = openings.len() as u64 + 1;
            2 * members * screws(frame.inside_length, fastening)
        })
        .sum()
}

/// Each drawer's bottom is screwed to its sides.
fn drawer_screws(case: &Case<'_>) -> u64 {
    let drawers = case.design.drawers.iter();
    let design = case.design.fixings.drawer.fastening;
    let fastening = closer(case.scenario.allowances.drawer_screws, design);
    drawers.map(|drawer| 2 * screws(drawer.outside.size.dy, fastening)).sum()
}
