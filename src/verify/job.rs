//! Plans of cutting jobs: every sheet and board is cut again along the listed cuts, and all that is left is measured.

use std::fmt;

use super::Verified;
use super::cutting::Sawing;
use super::fault::{Fault, Reference};
use super::purchases;
use super::sane::Measure;
use crate::design::{Axis, Blank, CuttingPlan, Grain, JobPlan, PurchaseOf, Rect, Waste};
use crate::scenario::{CuttingJob, Form, Section};
use crate::units::{Area, Length};

/// A plan that does not hold, with everything that is wrong with it.
#[derive(Debug, Clone, PartialEq)]
pub struct RejectedPlan {
    /// The plan.
    pub plan: JobPlan,
    /// Its faults, in the order of the checks; never empty.
    pub faults: Vec<Fault>,
}

/// A line per fault.
impl fmt::Display for RejectedPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the cutting plan does not hold:")?;
        self.faults.iter().try_for_each(|fault| write!(f, "\n- {fault}"))
    }
}

impl std::error::Error for RejectedPlan {}

/// Re-checks a plan against its job: cuts, sizes, grain, counts, stock, cost, waste and set-ups.
///
/// The job is taken as consistent; the plan may hold anything. Quadratic in the pieces of a sheet.
///
/// # Errors
/// The plan with all its faults.
pub fn verify_plan(
    job: &CuttingJob,
    plan: JobPlan,
) -> Result<Verified<JobPlan>, Box<RejectedPlan>> {
    let faults = faults(job, &plan);
    if faults.is_empty() {
        Ok(Verified(plan))
    } else {
        Err(Box::new(RejectedPlan { plan, faults }))
    }
}

pub(super) fn faults(job: &CuttingJob, plan: &JobPlan) -> Vec<Fault> {
    let mut faults = Vec::new();
    let items = job.stock.items.len();
    let mut measure = Measure { faults: &mut faults };
    measure.cutting(&plan.cutting, job.parts.len(), items);
    for purchase in &plan.purchases {
        match purchase.what {
            PurchaseOf::Stock(id) => measure.known(Reference::Stock, id.0 as usize, items),
            PurchaseOf::Hardware(id) => measure.known(Reference::Hardware, id.0 as usize, 0),
        }
    }
    if !faults.is_empty() {
        return faults;
    }
    let mut blanks = blanks(job);
    left_out(job, plan, &mut blanks, &mut faults);
    let sawing = Sawing {
        blanks: &blanks,
        stock: &job.stock,
        shop: &job.shop,
        plan: &plan.cutting,
        factory: &job.factory,
    };
    sawing.check(&mut faults);
    let used = purchases::stock_used(&plan.cutting);
    purchases::list(&job.stock, &plan.purchases, used, &mut faults);
    sawing.bound(plan.purchases.iter().map(|bought| bought.cost).sum(), &mut faults);
    if faults.is_empty() {
        // Only a plan whose cuts can be made leaves anything to weigh.
        waste("sheets", plan.sheets, sheets_left(&sawing), &mut faults);
        waste("boards", plan.boards, boards_left(&sawing), &mut faults);
        setups(&sawing, plan.setups, &mut faults);
    }
    faults
}

/// Takes what is left out off what must be cut, if it may be left out, and adds up what the rest is worth.
fn left_out(job: &CuttingJob, plan: &JobPlan, blanks: &mut [Blank], faults: &mut Vec<Fault>) {
    for &(part, count) in &plan.left_out {
        let Some(of) = job.parts.get(part.0 as usize) else {
            faults.push(Fault::NoSuch { what: Reference::Part, index: u64::from(part.0) });
            continue;
        };
        let blank = &mut blanks[part.0 as usize];
        match blank.quantity.checked_sub(count).filter(|_| of.worth_milli.is_some()) {
            Some(rest) => blank.quantity = rest,
            None => {
                let (part, quantity) = (of.name.clone(), u64::from(of.count));
                faults.push(Fault::MayNotLeave { part, count: u64::from(count), quantity });
            }
        }
    }
    let worth: i128 = (job.parts.iter().zip(blanks.iter()))
        .filter_map(|(of, blank)| Some(i128::from(of.worth_milli?) * i128::from(blank.quantity)))
        .sum();
    let bound = plan.worth_bound_milli;
    if i128::from(bound) < worth {
        faults.push(Fault::WorthBound { bound, worth });
    }
}

/// The parts as the saw must see them.
fn blanks(job: &CuttingJob) -> Vec<Blank> {
    (job.parts.iter())
        .map(|part| Blank {
            mark: part.name.clone(),
            material: part.material,
            length: part.length,
            width: part.width,
            quantity: part.count,
            grain: if part.turn { Grain::Either } else { Grain::Along },
            factory: part.factory,
        })
        .collect()
}

fn waste(of: &'static str, stated: Waste, derived: Waste, faults: &mut Vec<Fault>) {
    let figures = [
        ("the stock", stated.stock, derived.stock),
        ("the face of the parts", stated.parts, derived.parts),
        ("kerf", stated.kerf, derived.kerf),
        ("trim", stated.trim, derived.trim),
        ("what is kept", stated.kept, derived.kept),
        ("scrap", stated.scrap, derived.scrap),
    ];
    for (what, stated, derived) in figures {
        if stated != derived {
            faults.push(Fault::Waste { of, what, stated, derived });
        }
    }
    let sum = [stated.parts, stated.kerf, stated.trim, stated.kept, stated.scrap];
    let derived = sum.into_iter().sum();
    if stated.stock != derived {
        faults.push(Fault::Waste { of, what: "the sum", stated: stated.stock, derived });
    }
}

fn area(rect: &Rect) -> Area {
    rect.dx.by(rect.dy)
}

/// Cuts every sheet again and measures what lies on the bench.
fn sheets_left(sawing: &Sawing<'_>) -> Waste {
    let mut all = Waste::default();
    for layout in &sawing.plan.sheets {
        let Form::Sheet { along, across } = sawing.stock.items[layout.stock].form else { continue };
        let trim = layout.trim;
        let whole = Rect { x: trim, y: trim, dx: along - trim * 2, dy: across - trim * 2 };
        let mut panels = vec![whole];
        let mut dust = Area::ZERO;
        for cut in &layout.cuts {
            let Some(found) = panels.iter().position(|panel| *panel == cut.panel) else { continue };
            let before = area(&panels.swap_remove(found));
            let after = halves(cut.panel, cut.axis, cut.at, sawing.shop.kerf);
            dust = dust + before - after.iter().map(area).sum();
            panels.extend(after);
        }
        let left: Area = panels.iter().map(area).sum();
        let parts: Area = layout.pieces.iter().map(|piece| area(&piece.at)).sum();
        let kept: Area = layout.offcuts.iter().map(area).sum();
        let one = Waste {
            stock: along.by(across),
            parts,
            kerf: dust,
            trim: along.by(across) - area(&whole),
            kept,
            scrap: left - parts - kept,
        };
        all = (0..layout.repeat).fold(all, |sum, _| sum + one);
    }
    all
}

/// What the blade leaves of a panel.
fn halves(panel: Rect, axis: Axis, at: Length, kerf: Length) -> Vec<Rect> {
    let (near, far) = match axis {
        Axis::X => {
            let x = at + kerf;
            (Rect { dx: at - panel.x, ..panel }, Rect { x, dx: panel.x + panel.dx - x, ..panel })
        }
        Axis::Y => {
            let y = at + kerf;
            (Rect { dy: at - panel.y, ..panel }, Rect { y, dy: panel.y + panel.dy - y, ..panel })
        }
    };
    let there = far.dx.is_positive() && far.dy.is_positive();
    std::iter::once(near).chain(there.then_some(far)).collect()
}

/// Cuts every board again, end to end, and rips what is narrower.
fn boards_left(sawing: &Sawing<'_>) -> Waste {
    let kerf = sawing.shop.kerf;
    let mut all = Waste::default();
    for layout in &sawing.plan.boards {
        let item = &sawing.stock.items[layout.stock];
        let (Form::Board { length }, Section::Board { width }) =
            (item.form, sawing.stock.materials[item.material].section)
        else {
            continue;
        };
        let mut left = length;
        let mut one = Waste { stock: length.by(width), ..Waste::default() };
        for piece in &layout.pieces {
            left -= piece.length;
            let blade = kerf.min(left);
            left -= blade;
            one.kerf = one.kerf + blade.by(width);
            let part = sawing.blanks[piece.part.0 as usize].width;
            let strip = width - part;
            let blade = kerf.min(strip);
            one.parts = one.parts + piece.length.by(part);
            one.kerf = one.kerf + piece.length.by(blade);
            one.scrap = one.scrap + piece.length.by(strip - blade);
        }
        let rest = left.by(width);
        if left >= sawing.shop.keep_offcut[0] {
            one.kept = rest;
        } else {
            one.scrap = one.scrap + rest;
        }
        all = (0..layout.repeat).fold(all, |sum, _| sum + one);
    }
    all
}

/// Walks through all cuts in order and counts how often another length is set.
fn setups(sawing: &Sawing<'_>, stated: u32, faults: &mut Vec<Fault>) {
    let CuttingPlan { sheets, boards, .. } = sawing.plan;
    let mut derived = 0_u64;
    let (mut stop, mut fence) = (None, None);
    for cut in sheets.iter().flat_map(|layout| &layout.cuts) {
        let near = match cut.axis {
            Axis::X => cut.at - cut.panel.x,
            Axis::Y => cut.at - cut.panel.y,
        };
        derived += u64::from(fence != Some(near));
        fence = Some(near);
    }
    for layout in boards {
        let item = &sawing.stock.items[layout.stock];
        let (Form::Board { length }, Section::Board { width }) =
            (item.form, sawing.stock.materials[item.material].section)
        else {
            continue;
        };
        for piece in &layout.pieces {
            if piece.at + piece.length < length {
                derived += u64::from(stop != Some(piece.length));
                stop = Some(piece.length);
            }
            let part = sawing.blanks[piece.part.0 as usize].width;
            if part < width {
                derived += u64::from(fence != Some(part));
                fence = Some(part);
            }
        }
    }
    let stated = u64::from(stated);
    if stated != derived {
        faults.push(Fault::Setups { stated, derived });
    }
}
