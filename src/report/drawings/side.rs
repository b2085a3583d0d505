//! The side section: an upright cut along the chest through a drawer of each tier, seen from the right.

use super::lining;
use super::page::{Heading, Papers, held_pair};
use super::plan::edge_name;
use super::upright::{Canvas, Rows, Upright, side_rect};
use crate::design::{Design, Role, Solid};
use crate::paper::{Drawing, Fill, Hatch, Layer, Pen, Side, at, rect};
use crate::report::words::rear_door;
use crate::scenario::Scenario;
use crate::units::Length;

/// Room for dimensions at each side, mm.
const BESIDE: f64 = 20.0;

/// Draws the side section, tailgate at the left.
pub(super) fn side(design: &Design, scenario: &Scenario, papers: Papers) -> Drawing {
    let notes = &[
        "Hatched: wood that is cut through.",
        "Thin: what is seen behind the cut.",
        "Insides: length × clear height.",
        "Black on the drawers' floors: the lining.",
    ];
    let notes = &notes[..if lining(scenario).is_some() { 4 } else { 3 }];
    let upright = Upright {
        design,
        scenario,
        heading: heading(design, scenario),
        along: scenario.bed.length.at,
        beside: BESIDE,
        notes,
    };
    let x = plane(design);
    let paint = |canvas: &mut Canvas<'_>| {
        surroundings(canvas, scenario);
        cut(canvas, design, x);
        lined(canvas, design, scenario, x);
        name(canvas, design, scenario, x);
    };
    upright.draw(papers, &paint, &|rows| dimensions(rows, design, scenario))
}

fn heading<'a>(design: &Design, scenario: &'a Scenario) -> Heading<'a> {
    let units = scenario.units;
    let carcass = &design.chest.carcass;
    let tiers: Vec<String> = carcass
        .tiers
        .iter()
        .map(|t| {
            format!(
                "{} high, drawers {} long",
                t.height.figure(units),
                t.drawer_length.figure(units)
            )
        })
        .collect();
    Heading {
        title: "Side section".to_owned(),
        description: format!(
            "Upright cut along the chest through a drawer of each tier, {} at the left. Handle room {}, chest \
             {} long. Openings from the bottom up: {}.",
            rear_door(scenario.bed.kind),
            carcass.front_y.show(units),
            carcass.length.show(units),
            tiers.join("; ")
        ),
        of: super::page::Of::design(design, scenario),
    }
}

/// The place across at which the cut goes through the insides of most drawers; the middle one of those.
fn plane(design: &Design) -> Length {
    let inside = |drawer: &crate::design::Drawer, x: Length| {
        drawer.inside_at.x < x && x < drawer.inside_at.x + drawer.inside.dx
    };
    let mut places: Vec<Length> = design
        .drawers
        .iter()
        .flat_map(|d| [1, 2, 3].map(|quarter| d.inside_at.x + d.inside.dx * quarter / 4))
        .collect();
    places.sort_unstable();
    let met = |x: &Length| design.drawers.iter().filter(|d| inside(d, *x)).count();
    let most = places.iter().map(met).max().unwrap_or(0);
    let best: Vec<Length> = places.into_iter().filter(|x| met(x) == most).collect();
    best.get(best.len() / 2).copied().unwrap_or(Length::ZERO)
}

/// The drawers that the cut goes through.
fn name(canvas: &mut Canvas<'_>, design: &Design, scenario: &Scenario, x: Length) {
    for drawer in &design.drawers {
        let (at, inside) = (drawer.inside_at, drawer.inside);
        if at.x < x && x < at.x + inside.dx {
            let r = canvas.rect(at.y, at.z, inside.dy, inside.dz);
            let size = held_pair(inside.dy, inside.dz, scenario.units);
            canvas.labels.ask(format!("{}\ninside {size}", drawer.name), r);
        }
    }
}

/// Floor, front wall and tailgate, the height that the deck stays under, the well behind the cut.
fn surroundings(canvas: &mut Canvas<'_>, scenario: &Scenario) {
    let (bed, o) = (&scenario.bed, canvas.outline);
    canvas.bed(vec![at(o.x0, o.y1), at(o.x1, o.y1), at(o.x1, o.y0)], bed.clear_height.at);
    let gate = canvas.level(bed.depth.map_or(bed.clear_height.at, |depth| depth.at));
    canvas.d.line(Layer::Surroundings, at(o.x0, o.y1), at(o.x0, gate), Pen::Thick);
    canvas.labels.ask(edge_name(scenario), rect(o.x0, gate, o.x0 + 6.0, o.y1));
    if let Some(wells) = bed.wells {
        let r = canvas.rect(wells.from_tailgate, Length::ZERO, wells.length, wells.height);
        canvas.d.rect(Layer::Surroundings, r, Pen::Hidden, Fill::None);
    }
}

/// What stands behind the cut in thin lines, then what the cut goes through, hatched.
fn cut(canvas: &mut Canvas<'_>, design: &Design, x: Length) {
    let meets = |solid: &&Solid| solid.space.at.x <= x && x < solid.space.far().x;
    let behind = |solid: &&Solid| solid.space.at.x > x && solid.drawer.is_none();
    for solid in design.solids.iter().filter(behind) {
        let r = side_rect(canvas, &solid.space);
        canvas.d.rect(Layer::Surroundings, r, Pen::Thin, Fill::None);
    }
    for solid in design.solids.iter().filter(meets) {
        let r = side_rect(canvas, &solid.space);
        let thin = r.width().min(r.height());
        let role = design.part(solid.part).role;
        // A divider along the cut is seen, not cut, unless it stands across.
        let along = role == Role::Divider && solid.space.size.dy > solid.space.size.dx;
        let fill = if along {
            Fill::White
        } else if thin < 0.5 {
            Fill::Black
        } else {
            Fill::Hatched(Hatch::Dense)
        };
        let pen = if thin >= 1.2 && solid.drawer.is_none() { Pen::Thick } else { Pen::Thin };
        canvas.d.rect(Layer::Work, r, pen, fill);
    }
}

/// The lining of the drawers that the cut goes through: thinner than can be hatched, so black.
fn lined(canvas: &mut Canvas<'_>, design: &Design, scenario: &Scenario, x: Length) {
    let Some(thick) = lining(scenario).filter(|thick| thick.is_positive()) else { return };
    for drawer in &design.drawers {
        let (at, inside) = (drawer.inside_at, drawer.inside);
        if at.x < x && x < at.x + inside.dx {
            let r = canvas.rect(at.y, at.z - thick, inside.dy, thick);
            canvas.d.rect(Layer::Work, r, Pen::Thin, Fill::Black);
        }
    }
}

/// Handle room, chest and bed along; drawers along; heights.
fn dimensions(rows: &mut Rows, design: &Design, scenario: &Scenario) {
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let back = carcass.front_y + carcass.length;
    let mut shown: Vec<[Length; 2]> = Vec::new();
    for drawer in &design.drawers {
        let span = [drawer.outside.at.y, drawer.outside.far().y];
        if !shown.contains(&span) {
            rows.level(Side::Top, &span);
            shown.push(span);
        }
    }
    rows.level(Side::Bottom, &[Length::ZERO, carcass.front_y, back, bed.length.at]);
    rows.level(Side::Bottom, &[Length::ZERO, bed.length.at]);
    rows.heights(Side::Right, carcass);
    rows.upward(Side::Left, &[Length::ZERO, bed.clear_height.at]);
}
