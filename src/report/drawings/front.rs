//! The front elevation: the chest in its bed, seen from the open tailgate.

use super::page::{Choice, Heading, Of, Page, Papers, choices, held_pair, key_lines};
use super::plan::chain;
use crate::design::{Box3, Design, Role, Solid};
use crate::paper::{
    DimensionRows, Drawing, Fill, Hatch, Labels, Layer, Pen, Rect, Shape, Side, Span, View, at,
    rect,
};
use crate::scenario::Scenario;
use crate::units::Length;

/// Room for dimensions beside, above and below, mm.
const BESIDE: f64 = 24.0;
const ABOVE: f64 = 26.0;
const BELOW: f64 = 34.0;

/// Draws the front elevation.
pub(super) fn front(design: &Design, scenario: &Scenario, papers: Papers) -> Drawing {
    let size = (scenario.bed.width.at, height(design, scenario));
    let all = choices(papers, true, size, (2.0 * BESIDE, ABOVE + BELOW + 8.0), 10);
    let (last, others) = all.split_last().expect("there are always several choices");
    others
        .iter()
        .find_map(|choice| draw(design, scenario, *choice, false))
        .or_else(|| draw(design, scenario, *last, true))
        .unwrap_or_else(|| Page::new(&heading(design, scenario), *last, "").drawing)
}

/// From the floor to the highest of what is shown.
fn height(design: &Design, scenario: &Scenario) -> Length {
    let bed = &scenario.bed;
    let deepest = bed.depth.map_or(Length::ZERO, |depth| depth.at);
    design.chest.carcass.top_z.max(bed.clear_height.at).max(deepest)
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

fn draw(design: &Design, scenario: &Scenario, choice: Choice, forced: bool) -> Option<Drawing> {
    let mut page = Page::new(&heading(design, scenario), choice, "");
    let drawn = |l: Length| choice.scale.drawn(l.to_mm());
    let (width, high) = (scenario.bed.width.at, height(design, scenario));
    let spare = page.content.width() - 2.0 * BESIDE - drawn(width);
    let origin =
        at(page.content.x0 + BESIDE + spare.max(0.0) / 2.0, page.content.y0 + ABOVE + drawn(high));
    let view = View {
        units_per_mm: Length::MM.units(),
        scale: choice.scale,
        from: (0, 0),
        to: origin,
        up: true,
    };
    let d = &mut page.drawing;
    let outline = wall_rect(&view, Length::ZERO, Length::ZERO, width, high);
    let mut labels = Labels::within(outline);
    surroundings(d, &view, scenario, design.chest.carcass.top_z, outline, &mut labels);
    packing(d, &view, design, &mut labels, scenario);
    chest(d, &view, design);
    fronts(d, &view, design, scenario, &mut labels);
    let (shapes, key) = labels.place();
    d.add_all(Layer::Labels, shapes);
    let bottom = dimensions(d, &view, design, scenario, outline);

    let mut lines = key_lines(&key);
    lines.extend(
        [
            "Dashed: drawer boxes.",
            "Hatched: ends of the members.",
            "Thick, around a drawer's name: its applied front, drawn as if clear.",
        ]
        .map(str::to_owned),
    );
    page.foot(bottom + 3.0, &lines, forced).then_some(page.drawing)
}

fn wall_rect(view: &View, x: Length, z: Length, dx: Length, dz: Length) -> Rect {
    view.rect(x.units(), z.units(), dx.units(), dz.units())
}

fn front_rect(view: &View, space: &Box3) -> Rect {
    wall_rect(view, space.at.x, space.at.z, space.size.dx, space.size.dz)
}

/// Floor, walls up to the rail, wells, and the height that the deck must stay under.
fn surroundings(
    d: &mut Drawing,
    view: &View,
    scenario: &Scenario,
    top: Length,
    outline: Rect,
    labels: &mut Labels,
) {
    let bed = &scenario.bed;
    let layer = Layer::Surroundings;
    let depth = bed.depth.map_or(bed.clear_height.at, |depth| depth.at);
    let floor = outline.y1;
    let rail = view.point(0, depth.units()).y;
    let walls = vec![
        at(outline.x0, rail),
        at(outline.x0, floor),
        at(outline.x1, floor),
        at(outline.x1, rail),
    ];
    d.add(
        layer,
        Shape::Path { points: walls, closed: false, pen: Some(Pen::Phantom), fill: Fill::None },
    );
    let clear = view.point(0, bed.clear_height.at.units()).y;
    d.line(layer, at(outline.x0, clear), at(outline.x1, clear), Pen::Centre);
    let above = rect(outline.x0, clear, outline.x1, clear + 5.0);
    if view.point(0, top.units()).y > above.y1 {
        labels.ask("the deck stays under this line", above);
    }
    if let Some(wells) = bed.wells {
        let side = (bed.width.at - wells.between.at) / 2;
        for x in [Length::ZERO, bed.width.at - side] {
            let r = wall_rect(view, x, Length::ZERO, side, wells.height);
            d.rect(layer, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
            labels.ask("wheel well", r);
        }
    }
}

/// What lifts the chest, if its pieces have no places of their own.
fn packing(
    d: &mut Drawing,
    view: &View,
    design: &Design,
    labels: &mut Labels,
    scenario: &Scenario,
) {
    let carcass = &design.chest.carcass;
    let placed = |solid: &Solid| matches!(design.part(solid.part).role, Role::Packing);
    let Some(lowest) = carcass.tiers.first() else { return };
    if !carcass.lift.is_positive() || design.solids.iter().any(placed) {
        return;
    }
    let r = wall_rect(view, lowest.x, Length::ZERO, lowest.width, carcass.lift);
    d.rect(Layer::Work, r, Pen::Thin, Fill::Hatched(Hatch::Level));
    labels.ask(format!("packing {}", carcass.lift.figure(scenario.units)), r);
}

/// The chest's own wood, the farthest first, so that the nearest is seen.
fn chest(d: &mut Drawing, view: &View, design: &Design) {
    let mut solids: Vec<&Solid> =
        design.solids.iter().filter(|solid| solid.drawer.is_none()).collect();
    solids.sort_by_key(|solid| (std::cmp::Reverse(solid.space.at.y), solid.part, solid.space));
    for solid in solids {
        let r = front_rect(view, &solid.space);
        let thin = r.width().min(r.height());
        let pen = if thin >= 1.2 { Pen::Thick } else { Pen::Thin };
        let fill = match design.part(solid.part).role {
            Role::Packing => Fill::Hatched(Hatch::Level),
            Role::Member | Role::Outrigger => Fill::Hatched(Hatch::Dense),
            _ => Fill::White,
        };
        d.rect(Layer::Work, r, pen, fill);
    }
}

/// Openings with their drawers behind and the applied fronts before them.
fn fronts(d: &mut Drawing, view: &View, design: &Design, scenario: &Scenario, labels: &mut Labels) {
    let units = scenario.units;
    for (index, drawer) in design.drawers.iter().enumerate() {
        let outside = front_rect(view, &drawer.outside);
        d.rect(Layer::Contents, front_rect(view, &drawer.opening), Pen::Thin, Fill::None);
        d.rect(Layer::Contents, outside, Pen::Hidden, Fill::None);
        let applied = design.solids.iter().find(|solid| {
            solid.drawer == Some(index) && design.part(solid.part).role == Role::AppliedFront
        });
        let size = drawer.opening.size;
        let pair = held_pair(size.dx, size.dz, units);
        let mut text = format!("{}\nopening {pair}", drawer.name);
        let mut room = outside.grown(-0.5);
        if let Some(solid) = applied {
            let r = front_rect(view, &solid.space);
            d.rect(Layer::Contents, r, Pen::Thick, Fill::None);
            let s = solid.space.size;
            text.push_str(&format!("\nfront {}", held_pair(s.dx, s.dz, units)));
            room = rect(
                room.x0.max(r.x0 + 0.5),
                room.y0.max(r.y0 + 0.5),
                room.x1.min(r.x1 - 0.5),
                room.y1.min(r.y1 - 0.5),
            );
        }
        labels.ask(text, room);
    }
}

/// Gives the lower edge of the lowest row.
fn dimensions(
    d: &mut Drawing,
    view: &View,
    design: &Design,
    scenario: &Scenario,
    outline: Rect,
) -> f64 {
    let units = scenario.units;
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let x = |l: Length| view.point(l.units(), 0).x;
    let z = |l: Length| view.point(0, l.units()).y;
    let across = |a: Length, b: Length| Span::new(x(a), x(b), (b - a).figure(units));
    let upward = |a: Length, b: Length| Span::new(z(a), z(b), (b - a).figure(units));
    let mut rows = DimensionRows::around(outline);
    let mut shapes = Vec::new();

    // The lowest tier's chain below, the others' above, the uppermost farthest up; alike once.
    let mut shown: Vec<Vec<Length>> = Vec::new();
    for (tier, frame) in carcass.tiers.iter().enumerate() {
        let stops = chain(frame.x, frame.member, &design.chest.openings[tier]);
        if shown.contains(&stops) {
            continue;
        }
        let side = if tier == 0 { Side::Bottom } else { Side::Top };
        let spans: Vec<Span> = stops.windows(2).map(|w| across(w[0], w[1])).collect();
        shapes.extend(rows.row(side, &spans));
        shown.push(stops);
    }
    if let Some(lowest) = carcass.tiers.first() {
        let far = lowest.x + lowest.width;
        let stops = [Length::ZERO, lowest.x, far, bed.width.at];
        let spans: Vec<Span> = stops.windows(2).map(|w| across(w[0], w[1])).collect();
        shapes.extend(rows.row(Side::Bottom, &spans));
    }
    shapes.extend(rows.row(Side::Bottom, &[across(Length::ZERO, bed.width.at)]));

    let mut stops = vec![Length::ZERO, carcass.lift];
    for frame in &carcass.tiers {
        stops.extend([frame.z, frame.z + frame.height]);
    }
    stops.extend([carcass.deck_z, carcass.top_z]);
    stops.sort_unstable();
    stops.dedup();
    let spans: Vec<Span> = stops.windows(2).map(|w| upward(w[0], w[1])).collect();
    shapes.extend(rows.row(Side::Left, &spans));
    shapes.extend(rows.row(Side::Left, &[upward(Length::ZERO, carcass.top_z)]));
    if let Some(wells) = bed.wells {
        shapes.extend(rows.row(Side::Right, &[upward(Length::ZERO, wells.height)]));
    }
    let mut limits = vec![bed.clear_height.at];
    limits.extend(bed.depth.map(|depth| depth.at));
    limits.sort_unstable();
    limits.dedup();
    for limit in limits {
        shapes.extend(rows.row(Side::Right, &[upward(Length::ZERO, limit)]));
    }
    d.add_all(Layer::Dimensions, shapes);
    rows.extent().y1
}
