//! The plan of a tier: a level cut through its drawers, seen from above, with all that is in them.

use super::page::{
    Choice, Heading, Of, Page, Papers, choices, held, held_pair, key_lines, on_the_first,
};
use super::{lining, tier_letter};
use crate::design::{Box3, Content, Design, Drawer, Item, Layout, Point as Place, Role, Solid};
use crate::paper::{
    Anchor, DimensionRows, Drawing, Fill, Hatch, Labels, Layer, NOTE, Pen, Rect, SMALL, Shape,
    Side, Span, TITLE, Text, View, at, rect, text_width,
};
use crate::scenario::{BedKind, Family, Scenario};
use crate::units::Length;

/// Room for dimensions beside, above and below the bed, mm.
const BESIDE: (f64, f64) = (15.5, 10.5);
const ABOVE: f64 = 25.0;
/// Room below the tailgate for the drawers' names and inside sizes, mm.
const NAMES: f64 = 14.5;

/// Draws the plan of a tier, cab end up.
pub(super) fn plan(design: &Design, scenario: &Scenario, tier: usize, papers: Papers) -> Drawing {
    let bed = (scenario.bed.width.at, scenario.bed.length.at);
    let margin = (BESIDE.0 + BESIDE.1, ABOVE + NAMES + 5.0);
    let all = choices(papers, false, bed, margin, 10);
    let heading = heading(design, scenario, tier);
    on_the_first(&all, &heading, |choice, last| draw(design, scenario, tier, choice, last))
}

fn heading<'a>(design: &Design, scenario: &'a Scenario, tier: usize) -> Heading<'a> {
    let drawers: Vec<&Drawer> = design.drawers.iter().filter(|d| d.tier == tier).collect();
    let units = scenario.units;
    let words: Vec<String> = drawers
        .iter()
        .map(|d| {
            let i = d.inside;
            let (w, l, h) = (i.dx.figure(units), i.dy.figure(units), i.dz.show(units));
            let things = d.plan.items.len();
            format!("Drawer {}: inside {w} by {l} by {h}, holding {things} things.", d.name)
        })
        .collect();
    let letter = tier_letter(tier);
    let (plan, level) = (format!("Plan of tier {letter}"), level(design, tier));
    Heading {
        title: if level.is_empty() { plan } else { format!("{plan} ({level})") },
        description: format!(
            "Level cut through tier {letter}, seen from above, cab at the top. {}",
            words.join(" ")
        ),
        of: Of::design(design, scenario),
    }
}

fn level(design: &Design, tier: usize) -> &'static str {
    let tiers = design.chest.carcass.tiers.len();
    match tier {
        _ if tiers == 1 => "",
        0 => "lowest",
        _ if tier + 1 == tiers => "top",
        _ => "middle",
    }
}

/// The plan at one choice of paper and scale; `None` if its key finds no room, unless that is forced.
fn draw(
    design: &Design,
    scenario: &Scenario,
    tier: usize,
    choice: Choice,
    forced: bool,
) -> Option<Drawing> {
    let mut page = Page::new(&heading(design, scenario, tier), choice, "");
    let bed = &scenario.bed;
    let drawn = |l: Length| choice.scale.drawn(l.to_mm());
    let corner = page.centred(drawn(bed.width.at), BESIDE, ABOVE);
    let view = View {
        units_per_mm: Length::MM.units(),
        scale: choice.scale,
        from: (0, 0),
        to: at(corner.x, corner.y + drawn(bed.length.at)),
        up: true,
    };
    let d = &mut page.drawing;
    let outline = floor_rect(&view, Length::ZERO, Length::ZERO, bed.width.at, bed.length.at);
    let names = rect(outline.x0, outline.y1 + 2.0, outline.x1, outline.y1 + NAMES);
    let mut labels = Labels::within(outline);

    surroundings(d, &view, design, scenario, tier, &mut labels);
    let drawers = || design.drawers.iter().filter(|drawer| drawer.tier == tier);
    if lining(scenario).is_some() {
        for drawer in drawers() {
            let (at, inside) = (drawer.inside_at, drawer.inside);
            let r = floor_rect(&view, at.x, at.y, inside.dx, inside.dy);
            d.rect(Layer::Contents, r, Pen::Thin, Fill::Hatched(Hatch::Level));
        }
    }
    cut_wood(d, &view, design, tier);
    for drawer in drawers() {
        contents(d, &view, scenario, drawer.inside_at, &drawer.plan, &mut labels);
    }
    if tier == 0 {
        for pocket in &design.pockets {
            let r = plan_rect(&view, &pocket.space);
            d.rect(Layer::Contents, r, Pen::Hidden, Fill::None);
            contents(d, &view, scenario, pocket.space.at, &pocket.plan, &mut labels);
        }
    }
    for drawer in drawers() {
        name_drawer(d, &view, scenario, drawer, names, &mut labels);
    }
    let (shapes, key) = labels.place();
    d.add_all(Layer::Labels, shapes);
    dimensions(d, &view, design, scenario, tier, outline);

    let mut lines = key_lines(&key);
    lines.extend(notes(scenario));
    let fits = forced || page.content.contains(&names);
    if fits { page.finish(names.y1 + 1.0, lines, forced) } else { None }
}

/// What the floor ends at in front.
pub(super) fn edge_name(scenario: &Scenario) -> &'static str {
    match scenario.bed.kind {
        BedKind::Pickup => "closed tailgate",
        BedKind::Cargo => "hatch",
    }
}

fn notes(scenario: &Scenario) -> Vec<String> {
    let mut all = vec![
        "Hatched: wood that is cut through.".to_owned(),
        "Drawers: inside width × length × height.".to_owned(),
        format!("Thick line: the {}.", edge_name(scenario)),
    ];
    if lining(scenario).is_some() {
        all.push("Level lines: the lining on the drawers' floors.".to_owned());
    }
    all
}

fn floor_rect(view: &View, x: Length, y: Length, dx: Length, dy: Length) -> Rect {
    view.rect(x.units(), y.units(), dx.units(), dy.units())
}

fn plan_rect(view: &View, space: &Box3) -> Rect {
    floor_rect(view, space.at.x, space.at.y, space.size.dx, space.size.dy)
}

/// Bed outline, wells, tailgate edge and cab.
fn surroundings(
    d: &mut Drawing,
    view: &View,
    design: &Design,
    scenario: &Scenario,
    tier: usize,
    labels: &mut Labels,
) {
    let bed = &scenario.bed;
    let outline = floor_rect(view, Length::ZERO, Length::ZERO, bed.width.at, bed.length.at);
    d.rect(Layer::Surroundings, outline, Pen::Phantom, Fill::None);
    if let Some(wells) = bed.wells {
        let side = (bed.width.at - wells.between.at) / 2;
        let below = design.structure.family == Family::AboveWells
            && tier + 1 == design.chest.carcass.tiers.len();
        for x in [Length::ZERO, bed.width.at - side] {
            let r = floor_rect(view, x, wells.from_tailgate, side, wells.length);
            if below {
                d.rect(Layer::Surroundings, r, Pen::Hidden, Fill::None);
            } else {
                d.rect(Layer::Surroundings, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
                labels.ask("wheel well", r);
            }
        }
    }
    let edge = [at(outline.x0, outline.y1), at(outline.x1, outline.y1)];
    d.line(Layer::Surroundings, edge[0], edge[1], Pen::Thick);
    // In the handle room before the applied fronts.
    let (frame, structure) = (&design.chest.carcass.tiers[tier], &design.structure);
    let thick = scenario.stock.materials.get(structure.front).map_or(Length::ZERO, |m| m.thickness);
    let handle_room = design.chest.carcass.front_y - thick;
    labels.ask(
        edge_name(scenario),
        floor_rect(view, frame.x, Length::ZERO, frame.width, handle_room.or_zero()),
    );
    let x = outline.x1 + 5.0;
    arrow_up(d, x, outline.y1 + 10.0, outline.y1 + 3.0);
    let name = match bed.kind {
        BedKind::Pickup => "cab",
        BedKind::Cargo => "front",
    };
    d.add(Layer::Labels, Text::new(at(x, outline.y1 + 13.0), name, SMALL, Anchor::Middle));
}

/// An arrow toward the cab.
fn arrow_up(d: &mut Drawing, x: f64, from: f64, to: f64) {
    d.line(Layer::Labels, at(x, from), at(x, to), Pen::Thin);
    let head = vec![at(x, to), at(x - 1.0, to + 3.0), at(x + 1.0, to + 3.0)];
    d.add(Layer::Labels, Shape::Path { points: head, closed: true, pen: None, fill: Fill::Black });
}

/// The wood that a level cut a quarter up the drawers' clear height goes through.
fn cut_wood(d: &mut Drawing, view: &View, design: &Design, tier: usize) {
    let frame = &design.chest.carcass.tiers[tier];
    let level = frame.z + frame.run_height + frame.floor_height + frame.clear_height / 4;
    let cut = |solid: &&Solid| {
        let space = solid.space;
        space.at.z <= level && level < space.far().z
    };
    for solid in design.solids.iter().filter(cut) {
        let r = plan_rect(view, &solid.space);
        let thin = r.width().min(r.height());
        let role = design.part(solid.part).role;
        let carcass = matches!(role, Role::Member | Role::Back | Role::Outrigger | Role::Packing);
        // Where two thick lines would run into one, thin ones; where even those would, solid black.
        let pen = if carcass && thin >= 1.2 { Pen::Thick } else { Pen::Thin };
        let fill = if thin < 0.5 { Fill::Black } else { Fill::Hatched(Hatch::Dense) };
        let layer = if role == Role::Divider { Layer::Contents } else { Layer::Work };
        if solid.drawer.is_some() {
            // It stands on the lining.
            d.add(layer, Shape::Rect { rect: r, pen: None, fill: Fill::White });
        }
        d.rect(layer, r, pen, fill);
    }
}

/// Gear and loose goods of a layout, whose frame begins at `origin` in the bed. What stands one on
/// another is one outline with all its names.
fn contents(
    d: &mut Drawing,
    view: &View,
    scenario: &Scenario,
    origin: Place,
    layout: &Layout,
    labels: &mut Labels,
) {
    let mut items: Vec<&Item> = layout.items.iter().collect();
    let foot = |item: &Item| {
        let s = item.space;
        (s.at.x, s.at.y, s.size.dx, s.size.dy)
    };
    items.sort_by_key(|item| (foot(item), item.space.at.z));
    for stack in items.chunk_by(|a, b| foot(a) == foot(b)) {
        let r = plan_rect(view, &stack[0].space.moved(origin));
        d.rect(Layer::Contents, r, Pen::Thin, Fill::White);
        labels.ask(stack_name(scenario, stack), r);
    }
}

fn stack_name(scenario: &Scenario, stack: &[&Item]) -> String {
    let names: Vec<String> = stack
        .chunk_by(|a, b| a.content == b.content)
        .map(|alike| {
            let name = content_name(scenario, alike[0].content);
            if alike.len() == 1 { name } else { format!("{name} ×\u{a0}{}, stacked", alike.len()) }
        })
        .collect();
    names.join(" over ")
}

/// The name of gear or loose goods; a dash for what the scenario doesn't have.
fn content_name(scenario: &Scenario, content: Content) -> String {
    let name = match content {
        Content::Gear(id) => scenario.gear.get(id).map(|gear| &gear.name),
        Content::Loose(id) => scenario.loose.get(id).map(|loose| &loose.name),
    };
    name.map_or_else(|| "-".to_owned(), Clone::clone)
}

/// A drawer's name and inside size below the tailgate, in the width of its opening.
fn name_drawer(
    d: &mut Drawing,
    view: &View,
    scenario: &Scenario,
    drawer: &Drawer,
    band: Rect,
    labels: &mut Labels,
) {
    let opening = plan_rect(view, &drawer.opening);
    let (size, units) = (drawer.inside, scenario.units);
    let text = format!("{}\u{a0}× {}", held_pair(size.dx, size.dy, units), held(size.dz, units));
    let room = rect(opening.x0, band.y0 + TITLE + 1.8, opening.x1, band.y1);
    let fits = |height: &f64| text_width(&drawer.name, *height, true) <= opening.width() - 1.0;
    // Too narrow a column is named together with its size, by the key.
    let Some(height) = [TITLE, NOTE, SMALL].into_iter().find(fits) else {
        labels.ask(format!("{}\n{text}", drawer.name), room);
        return;
    };
    let name = at(opening.centre().x, band.y0 + TITLE + 0.6);
    d.add(Layer::Labels, Text::new(name, &drawer.name, height, Anchor::Middle).bold());
    labels.ask(text, room);
}

/// Openings and members, chest and bed across; handle room, chest and bed along; wells.
fn dimensions(
    d: &mut Drawing,
    view: &View,
    design: &Design,
    scenario: &Scenario,
    tier: usize,
    outline: Rect,
) {
    let units = scenario.units;
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let frame = &carcass.tiers[tier];
    let x = |l: Length| view.point(l.units(), 0).x;
    let y = |l: Length| view.point(0, l.units()).y;
    let across = |a: Length, b: Length| Span::new(x(a), x(b), (b - a).figure(units));
    let along = |a: Length, b: Length| Span::new(y(a), y(b), (b - a).figure(units));
    let mut rows = DimensionRows::around(outline);

    let openings = chain(frame.x, frame.member, &design.chest.openings[tier]);
    let chain: Vec<Span> = openings.windows(2).map(|w| across(w[0], w[1])).collect();
    let chest = across(frame.x, frame.x + frame.width);
    let mut shapes = rows.row(Side::Top, &chain);
    shapes.extend(rows.row(Side::Top, &[chest]));
    if frame.x + frame.width != bed.width.at || frame.x != Length::ZERO {
        shapes.extend(rows.row(Side::Top, &[across(Length::ZERO, bed.width.at)]));
    }
    let back = carcass.front_y + carcass.length;
    let stops = [Length::ZERO, carcass.front_y, back, bed.length.at];
    let spans: Vec<Span> = stops.windows(2).map(|w| along(w[0], w[1])).collect();
    shapes.extend(rows.row(Side::Left, &spans));
    shapes.extend(rows.row(Side::Left, &[along(Length::ZERO, bed.length.at)]));
    if let Some(wells) = bed.wells {
        let end = wells.from_tailgate + wells.length;
        let stops = [Length::ZERO, wells.from_tailgate, end, bed.length.at];
        let spans: Vec<Span> = stops.windows(2).map(|w| along(w[0], w[1])).collect();
        shapes.extend(rows.row(Side::Right, &spans));
    }
    d.add_all(Layer::Dimensions, shapes);
}

/// Where members begin and end across a tier: the edges of a chain member, opening, member ...
pub(super) fn chain(x: Length, member: Length, openings: &[Length]) -> Vec<Length> {
    let mut stops = vec![x, x + member];
    for opening in openings {
        let edge = stops[stops.len() - 1] + *opening;
        stops.extend([edge, edge + member]);
    }
    stops
}
