//! The front elevation: the chest in its bed, seen from the open tailgate.

use super::page::{Heading, Of, Papers, held_pair};
use super::plan::chain;
use super::upright::{Canvas, Rows, Upright, front_rect};
use crate::design::{Design, Role, Solid};
use crate::paper::{Drawing, Fill, Hatch, Layer, Pen, Side, at, rect};
use crate::scenario::Scenario;
use crate::units::Length;

/// Room for dimensions at each side, mm.
const BESIDE: f64 = 24.0;

/// Draws the front elevation.
pub(super) fn front(design: &Design, scenario: &Scenario, papers: Papers) -> Drawing {
    let upright = Upright {
        design,
        scenario,
        heading: heading(design, scenario),
        along: scenario.bed.width.at,
        beside: BESIDE,
        notes: &[
            "Dashed: drawer boxes. Sizes without a word: openings.",
            "Hatched: ends of the members.",
            "Thick, around a drawer's name: its applied front, drawn as if clear.",
        ],
    };
    let paint = |canvas: &mut Canvas<'_>| {
        surroundings(canvas, scenario, design.chest.carcass.top_z);
        packing(canvas, design, scenario);
        chest(canvas, design);
        fronts(canvas, design, scenario);
    };
    upright.draw(papers, &paint, &|rows| dimensions(rows, design, scenario))
}

fn heading<'a>(design: &Design, scenario: &'a Scenario) -> Heading<'a> {
    let units = scenario.units;
    let openings: Vec<String> = design
        .drawers
        .iter()
        .map(|d| {
            let size = d.opening.size;
            format!("{} {} by {}", d.name, size.dx.figure(units), size.dz.figure(units))
        })
        .collect();
    Heading {
        title: "Front elevation".to_owned(),
        description: format!(
            "The chest in its bed, seen from the open tailgate: {} high over the floor. Openings, width by height: {}.",
            design.chest.carcass.top_z.show(units),
            openings.join("; ")
        ),
        of: Of::design(design, scenario),
    }
}

/// Floor, walls up to the rail, wells, and the height that the deck must stay under.
fn surroundings(canvas: &mut Canvas<'_>, scenario: &Scenario, top: Length) {
    let (bed, outline) = (&scenario.bed, canvas.outline);
    let depth = bed.depth.map_or(bed.clear_height.at, |depth| depth.at);
    let (floor, rail) = (outline.y1, canvas.level(depth));
    let corners =
        [(outline.x0, rail), (outline.x0, floor), (outline.x1, floor), (outline.x1, rail)];
    canvas.bed(corners.map(|(x, y)| at(x, y)).to_vec(), bed.clear_height.at);
    let clear = canvas.level(bed.clear_height.at);
    let above = rect(outline.x0, clear, outline.x1, clear + 5.0);
    if canvas.level(top) > above.y1 {
        canvas.labels.ask("the deck stays under this line", above);
    }
    if let Some(wells) = bed.wells {
        let side = (bed.width.at - wells.between.at) / 2;
        for x in [Length::ZERO, bed.width.at - side] {
            let r = canvas.rect(x, Length::ZERO, side, wells.height);
            canvas.d.rect(Layer::Surroundings, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
            canvas.labels.ask("wheel well", r);
        }
    }
}

/// What lifts the chest, if its pieces have no places of their own.
fn packing(canvas: &mut Canvas<'_>, design: &Design, scenario: &Scenario) {
    let carcass = &design.chest.carcass;
    let placed = |solid: &Solid| matches!(design.part(solid.part).role, Role::Packing);
    let Some(lowest) = carcass.tiers.first() else { return };
    if !carcass.lift.is_positive() || design.solids.iter().any(placed) {
        return;
    }
    let r = canvas.rect(lowest.x, Length::ZERO, lowest.width, carcass.lift);
    canvas.d.rect(Layer::Work, r, Pen::Thin, Fill::Hatched(Hatch::Level));
    canvas.labels.ask(format!("packing {}", carcass.lift.figure(scenario.units)), r);
}

/// The chest's own wood, the farthest first, so that the nearest is seen.
fn chest(canvas: &mut Canvas<'_>, design: &Design) {
    let mut solids: Vec<&Solid> =
        design.solids.iter().filter(|solid| solid.drawer.is_none()).collect();
    solids.sort_by_key(|solid| (std::cmp::Reverse(solid.space.at.y), solid.part, solid.space));
    for solid in solids {
        let r = front_rect(canvas, &solid.space);
        let thin = r.width().min(r.height());
        let pen = if thin >= 1.2 { Pen::Thick } else { Pen::Thin };
        let fill = match design.part(solid.part).role {
            Role::Packing => Fill::Hatched(Hatch::Level),
            Role::Member | Role::Outrigger => Fill::Hatched(Hatch::Dense),
            _ => Fill::White,
        };
        canvas.d.rect(Layer::Work, r, pen, fill);
    }
}

/// Openings with their drawers behind and the applied fronts before them.
fn fronts(canvas: &mut Canvas<'_>, design: &Design, scenario: &Scenario) {
    let units = scenario.units;
    for (index, drawer) in design.drawers.iter().enumerate() {
        let outside = front_rect(canvas, &drawer.outside);
        let opening = front_rect(canvas, &drawer.opening);
        canvas.d.rect(Layer::Contents, opening, Pen::Thin, Fill::None);
        canvas.d.rect(Layer::Contents, outside, Pen::Hidden, Fill::None);
        let applied = design.solids.iter().find(|solid| {
            solid.drawer == Some(index) && design.part(solid.part).role == Role::AppliedFront
        });
        let size = drawer.opening.size;
        let pair = held_pair(size.dx, size.dz, units);
        let short = format!("{}\n{pair}", drawer.name);
        let mut text = format!("{}\nopening {pair}", drawer.name);
        let mut room = outside.grown(-0.5);
        if let Some(solid) = applied {
            let r = front_rect(canvas, &solid.space);
            canvas.d.rect(Layer::Contents, r, Pen::Thick, Fill::None);
            let s = solid.space.size;
            text.push_str(&format!("\nfront {}", held_pair(s.dx, s.dz, units)));
            room = rect(
                room.x0.max(r.x0 + 0.5),
                room.y0.max(r.y0 + 0.5),
                room.x1.min(r.x1 - 0.5),
                room.y1.min(r.y1 - 0.5),
            );
        }
        canvas.labels.ask_either(&[text, short], room);
    }
}

fn dimensions(rows: &mut Rows, design: &Design, scenario: &Scenario) {
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    // The lowest tier's chain below, the others' above, the uppermost farthest up; alike once.
    let mut shown: Vec<Vec<Length>> = Vec::new();
    for (tier, frame) in carcass.tiers.iter().enumerate() {
        let stops = chain(frame.x, frame.member, &design.chest.openings[tier]);
        if shown.contains(&stops) {
            continue;
        }
        rows.level(if tier == 0 { Side::Bottom } else { Side::Top }, &stops);
        shown.push(stops);
    }
    if let Some(lowest) = carcass.tiers.first() {
        let far = lowest.x + lowest.width;
        rows.level(Side::Bottom, &[Length::ZERO, lowest.x, far, bed.width.at]);
    }
    rows.level(Side::Bottom, &[Length::ZERO, bed.width.at]);
    rows.heights(Side::Left, carcass);
    if let Some(wells) = bed.wells {
        rows.upward(Side::Right, &[Length::ZERO, wells.height]);
    }
    let mut limits = vec![bed.clear_height.at];
    limits.extend(bed.depth.map(|depth| depth.at));
    limits.sort_unstable();
    limits.dedup();
    for limit in limits {
        rows.upward(Side::Right, &[Length::ZERO, limit]);
    }
}
