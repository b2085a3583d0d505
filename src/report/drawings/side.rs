//! The side section: an upright cut along the chest through a drawer of each tier, seen from the right.

use super::page::{Choice, Heading, Page, Papers, choices, key_lines};
use crate::design::{Box3, Design, Role, Solid};
use crate::paper::{
    DimensionRows, Drawing, Fill, Hatch, Labels, Layer, Pen, Rect, Shape, Side, Span, View, at,
    rect,
};
use crate::scenario::{BedKind, Scenario};
use crate::units::Length;

/// Room for dimensions beside, above and below, mm.
const BESIDE: f64 = 20.0;
const ABOVE: f64 = 22.0;
const BELOW: f64 = 28.0;

/// Draws the side section, tailgate at the left.
pub(super) fn side(design: &Design, scenario: &Scenario, papers: Papers) -> Drawing {
    let size = (scenario.bed.length.at, height(design, scenario));
    let all = choices(papers, true, size, (2.0 * BESIDE, ABOVE + BELOW + 8.0), 10);
    let (last, others) = all.split_last().expect("there are always several choices");
    others
        .iter()
        .find_map(|choice| draw(design, scenario, *choice, false))
        .or_else(|| draw(design, scenario, *last, true))
        .unwrap_or_else(|| Page::new(&heading(design, scenario), *last, "").drawing)
}

fn height(design: &Design, scenario: &Scenario) -> Length {
    let deepest = scenario.bed.depth.map_or(Length::ZERO, |depth| depth.at);
    design.chest.carcass.top_z.max(scenario.bed.clear_height.at).max(deepest)
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
            "Upright cut along the chest through a drawer of each tier, tailgate at the left. Handle room {}, chest \
             {} long. Openings from the bottom up: {}.",
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

fn draw(design: &Design, scenario: &Scenario, choice: Choice, forced: bool) -> Option<Drawing> {
    let mut page = Page::new(&heading(design, scenario), choice, "");
    let drawn = |l: Length| choice.scale.drawn(l.to_mm());
    let (long, high) = (scenario.bed.length.at, height(design, scenario));
    let spare = page.content.width() - 2.0 * BESIDE - drawn(long);
    let origin =
        at(page.content.x0 + BESIDE + spare.max(0.0) / 2.0, page.content.y0 + ABOVE + drawn(high));
    let view = View {
        units_per_mm: Length::MM.units(),
        scale: choice.scale,
        from: (0, 0),
        to: origin,
        up: true,
    };
    let outline = view.rect(0, 0, long.units(), high.units());
    let mut labels = Labels::within(outline);
    let d = &mut page.drawing;
    surroundings(d, &view, scenario, outline, &mut labels);
    let x = plane(design);
    cut(d, &view, design, x);
    for drawer in design
        .drawers
        .iter()
        .filter(|drawer| drawer.inside_at.x < x && x < drawer.inside_at.x + drawer.inside.dx)
    {
        let at = drawer.inside_at;
        let r = view.rect(
            at.y.units(),
            at.z.units(),
            drawer.inside.dy.units(),
            drawer.inside.dz.units(),
        );
        let units = scenario.units;
        let size = super::page::held_pair(drawer.inside.dy, drawer.inside.dz, units);
        labels.ask(format!("{}\ninside {size}", drawer.name), r);
    }
    let (shapes, key) = labels.place();
    d.add_all(Layer::Labels, shapes);
    let bottom = dimensions(d, &view, design, scenario, outline);
    let mut lines = key_lines(&key);
    lines.extend(
        [
            "Hatched: wood that is cut through.",
            "Thin: what is seen behind the cut.",
            "Insides: length × clear height.",
        ]
        .map(str::to_owned),
    );
    page.foot(bottom + 3.0, &lines, forced).then_some(page.drawing)
}

/// Floor, front wall and tailgate, the height that the deck stays under, the well behind the cut.
fn surroundings(
    d: &mut Drawing,
    view: &View,
    scenario: &Scenario,
    outline: Rect,
    labels: &mut Labels,
) {
    let (bed, layer) = (&scenario.bed, Layer::Surroundings);
    let floor =
        vec![at(outline.x0, outline.y1), at(outline.x1, outline.y1), at(outline.x1, outline.y0)];
    d.add(
        layer,
        Shape::Path { points: floor, closed: false, pen: Some(Pen::Phantom), fill: Fill::None },
    );
    let clear = view.point(0, bed.clear_height.at.units()).y;
    d.line(layer, at(outline.x0, clear), at(outline.x1, clear), Pen::Centre);
    let gate = view.point(0, bed.depth.map_or(bed.clear_height.at, |depth| depth.at).units()).y;
    d.line(layer, at(outline.x0, outline.y1), at(outline.x0, gate), Pen::Thick);
    let name = match bed.kind {
        BedKind::Pickup => "closed tailgate",
        BedKind::Cargo => "hatch",
    };
    labels.ask(name, rect(outline.x0, gate, outline.x0 + 6.0, outline.y1));
    if let Some(wells) = bed.wells {
        let r =
            view.rect(wells.from_tailgate.units(), 0, wells.length.units(), wells.height.units());
        d.rect(layer, r, Pen::Hidden, Fill::None);
    }
}

/// What stands behind the cut in thin lines, then what the cut goes through, hatched.
fn cut(d: &mut Drawing, view: &View, design: &Design, x: Length) {
    let meets = |solid: &&Solid| solid.space.at.x <= x && x < solid.space.far().x;
    let behind = |solid: &&Solid| solid.space.at.x > x && solid.drawer.is_none();
    for solid in design.solids.iter().filter(behind) {
        d.rect(Layer::Surroundings, upright(view, &solid.space), Pen::Thin, Fill::None);
    }
    for solid in design.solids.iter().filter(meets) {
        let r = upright(view, &solid.space);
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
        d.rect(Layer::Work, r, pen, fill);
    }
}

fn upright(view: &View, space: &Box3) -> Rect {
    view.rect(space.at.y.units(), space.at.z.units(), space.size.dy.units(), space.size.dz.units())
}

/// Handle room, chest and bed along; drawers along; heights. Gives the lower edge of the lowest row.
fn dimensions(
    d: &mut Drawing,
    view: &View,
    design: &Design,
    scenario: &Scenario,
    outline: Rect,
) -> f64 {
    let units = scenario.units;
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let y = |l: Length| view.point(l.units(), 0).x;
    let z = |l: Length| view.point(0, l.units()).y;
    let along = |a: Length, b: Length| Span::new(y(a), y(b), (b - a).figure(units));
    let upward = |a: Length, b: Length| Span::new(z(a), z(b), (b - a).figure(units));
    let mut rows = DimensionRows::around(outline);
    let mut shapes = Vec::new();
    let back = carcass.front_y + carcass.length;
    let mut shown: Vec<[Length; 2]> = Vec::new();
    for drawer in &design.drawers {
        let span = [drawer.outside.at.y, drawer.outside.far().y];
        if !shown.contains(&span) {
            shapes.extend(rows.row(Side::Top, &[along(span[0], span[1])]));
            shown.push(span);
        }
    }
    let stops = [Length::ZERO, carcass.front_y, back, bed.length.at];
    let spans: Vec<Span> = stops.windows(2).map(|w| along(w[0], w[1])).collect();
    shapes.extend(rows.row(Side::Bottom, &spans));
    shapes.extend(rows.row(Side::Bottom, &[along(Length::ZERO, bed.length.at)]));
    let mut stops = vec![Length::ZERO, carcass.lift];
    for frame in &carcass.tiers {
        stops.extend([frame.z, frame.z + frame.height]);
    }
    stops.extend([carcass.deck_z, carcass.top_z]);
    stops.sort_unstable();
    stops.dedup();
    let spans: Vec<Span> = stops.windows(2).map(|w| upward(w[0], w[1])).collect();
    shapes.extend(rows.row(Side::Right, &spans));
    shapes.extend(rows.row(Side::Right, &[upward(Length::ZERO, carcass.top_z)]));
    shapes.extend(rows.row(Side::Left, &[upward(Length::ZERO, bed.clear_height.at)]));
    d.add_all(Layer::Dimensions, shapes);
    rows.extent().y1
}
