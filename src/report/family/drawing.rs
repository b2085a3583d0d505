//! The common drawings: the first bed's chest, with letters in place of figures.

use super::letters::{Dim, Letter};
use super::{Built, Family};
use crate::design::{Box3, Role, Solid};
use crate::paper::{
    DimensionRows, Drawing, Fill, Hatch, Labels, Layer, Pen, Point, Rect, Scale, Side, Span, View,
    at,
};
use crate::report::drawings::NamedDrawing;
use crate::units::Length;

/// White around each drawing, mm.
const MARGIN: f64 = 3.0;
/// Room that the rows of dimensions take on both sides together, mm.
const ROWS: f64 = 60.0;

/// One view: what it is called, what it says to who cannot see it, its true extents, and what draws it.
struct Plate<'a> {
    name: &'static str,
    title: String,
    description: String,
    size: (Length, Length),
    draw: &'a dyn Fn(&mut Drawing, &View, &Ink<'_>) -> Rect,
}

/// What the views draw with.
struct Ink<'a> {
    lead: Built<'a>,
    letters: &'a [Letter],
}

/// From the front, from the side, and a drawer of each tier across; within `room` (mm) each.
pub fn drawings(family: &Family<'_>, letters: &[Letter], room: (f64, f64)) -> Vec<NamedDrawing> {
    let Some(lead) = family.built().first().copied() else { return Vec::new() };
    let ink = Ink { lead, letters };
    let (bed, carcass) = (&lead.scenario.bed, &lead.design.chest.carcass);
    let high = carcass.top_z;
    let list: Vec<String> =
        letters.iter().map(|letter| format!("{} {}", letter.letter, letter.what)).collect();
    let description = |view: &str| format!("{view} Letters: {}.", list.join("; "));
    let mut all = vec![
        ink.plate(room, &Plate {
            name: "letters-front",
            title: "From the open tailgate".to_owned(),
            description: description("The chest in its bed from the open tailgate, with letters in place of figures."),
            size: (bed.width.at, high),
            draw: &front,
        }),
        ink.plate(room, &Plate {
            name: "letters-side",
            title: "From the side".to_owned(),
            description: description("The chest in its bed from the side, tailgate at the left, with letters in place of figures."),
            size: (bed.length.at, high),
            draw: &side,
        }),
    ];
    for (tier, frame) in carcass.tiers.iter().enumerate() {
        let Some(drawer) = lead.design.drawers.iter().position(|one| one.tier == tier) else {
            continue;
        };
        let wide = lead.design.drawers[drawer].outside.size.dx + frame.member * 2;
        let mut named = ink.plate(
            room,
            &Plate {
                name: "letters-drawer",
                title: format!(
                    "A drawer of tier {} across",
                    crate::report::drawings::tier_letter(tier)
                ),
                description: description("A drawer cut across, its applied front dashed."),
                size: (wide, frame.height),
                draw: &|d, view, ink| across(d, view, ink, drawer),
            },
        );
        named.name = format!("letters-drawer-{}", tier + 1);
        all.push(named);
    }
    all
}

impl Ink<'_> {
    /// Draws a view twice: first to see how far its rows reach, then where it belongs.
    fn plate(&self, room: (f64, f64), plate: &Plate<'_>) -> NamedDrawing {
        let free = ((room.0 - ROWS).max(20.0), (room.1 - ROWS).max(20.0));
        let scale =
            Scale::fitting(Scale::PICTURE, plate.size.0.to_mm(), plate.size.1.to_mm(), free)
                .unwrap_or(Scale::smallest(Scale::PICTURE));
        let view = |to: Point| View {
            units_per_mm: Length::MM.units(),
            scale,
            from: (0, 0),
            to,
            up: true,
        };
        let mut trial = Drawing::new(&plate.title, &plate.description, room);
        let reach = (plate.draw)(&mut trial, &view(at(0.0, 0.0)), self);
        let size = (reach.width() + 2.0 * MARGIN, reach.height() + 2.0 * MARGIN);
        let mut drawing = Drawing::new(&plate.title, &plate.description, size);
        (plate.draw)(&mut drawing, &view(at(MARGIN - reach.x0, MARGIN - reach.y0)), self);
        NamedDrawing { name: plate.name.to_owned(), drawing }
    }

    /// The letter of a length, if it has one; of all columns together, if they have one.
    fn letter(&self, dim: Dim) -> Option<&str> {
        let all = match dim {
            Dim::Opening(tier, _) => Dim::Opening(tier, None),
            Dim::DrawerWidth(tier, _) => Dim::DrawerWidth(tier, None),
            Dim::FrontWidth(tier, _) => Dim::FrontWidth(tier, None),
            other => other,
        };
        let found = self.letters.iter().find(|letter| letter.dim == dim || letter.dim == all);
        found.map(|letter| letter.letter.as_str())
    }

    /// Spans between places that follow one another, each with its letter; nothing where there is no length or letter.
    fn chain(&self, stops: &[(Length, Option<Dim>)], place: &dyn Fn(Length) -> f64) -> Vec<Span> {
        let pairs = stops.windows(2).filter(|pair| pair[0].0 < pair[1].0);
        pairs
            .filter_map(|pair| {
                let letter = self.letter(pair[1].1?)?;
                Some(Span::new(place(pair[0].0), place(pair[1].0), letter))
            })
            .collect()
    }

    /// Heights from the floor up.
    fn heights(&self) -> Vec<(Length, Option<Dim>)> {
        let carcass = &self.lead.design.chest.carcass;
        let mut stops = vec![(Length::ZERO, None), (carcass.lift, Some(Dim::Lift))];
        let last = carcass.tiers.len().saturating_sub(1);
        for (tier, frame) in carcass.tiers.iter().enumerate() {
            let under = if tier == 0 { Dim::Bottom } else { Dim::Shelf(tier - 1) };
            stops.push((frame.z, Some(under)));
            stops.push((frame.z + frame.height, Some(Dim::Height(tier))));
            if tier == last {
                stops.push((carcass.top_z, Some(Dim::Deck)));
            }
        }
        stops
    }
}

fn solid(d: &mut Drawing, role: Role, r: Rect, thin: bool) {
    let fill = match role {
        Role::Packing => Fill::Hatched(Hatch::Level),
        Role::Member | Role::Outrigger => Fill::Hatched(Hatch::Dense),
        _ => Fill::White,
    };
    d.rect(Layer::Work, r, if thin { Pen::Thin } else { Pen::Thick }, fill);
}

/// The chest's own wood, the farthest first.
fn chest<'a>(lead: &Built<'a>, depth: impl Fn(&Box3) -> Length) -> Vec<&'a Solid> {
    let solids = lead.design.solids.iter().filter(|solid| solid.drawer.is_none());
    let mut solids: Vec<&Solid> = solids.collect();
    solids.sort_by_key(|solid| (std::cmp::Reverse(depth(&solid.space)), solid.part, solid.space));
    solids
}

fn front(d: &mut Drawing, view: &View, ink: &Ink<'_>) -> Rect {
    let (scenario, design) = (ink.lead.scenario, ink.lead.design);
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let outline = view.rect(0, 0, bed.width.at.units(), carcass.top_z.units());
    let mut labels = Labels::within(outline);
    if let Some(wells) = bed.wells {
        let wide = (bed.width.at - wells.between.at) / 2;
        for x in [Length::ZERO, bed.width.at - wide] {
            let high = wells.height.min(carcass.top_z);
            let r = view.rect(x.units(), 0, wide.units(), high.units());
            d.rect(Layer::Surroundings, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
            labels.ask("wheel well", r);
        }
    }
    d.line(
        Layer::Surroundings,
        at(outline.x0, outline.y1),
        at(outline.x1, outline.y1),
        Pen::Phantom,
    );
    for one in chest(&ink.lead, |space| space.at.y) {
        let s = one.space;
        let r = view.rect(s.at.x.units(), s.at.z.units(), s.size.dx.units(), s.size.dz.units());
        solid(d, design.part(one.part).role, r, r.width().min(r.height()) < 1.2);
    }
    for drawer in &design.drawers {
        let o = drawer.outside;
        let r = view.rect(o.at.x.units(), o.at.z.units(), o.size.dx.units(), o.size.dz.units());
        d.rect(Layer::Contents, r, Pen::Hidden, Fill::None);
        labels.ask(&drawer.name, r);
    }
    let (shapes, _) = labels.place();
    d.add_all(Layer::Labels, shapes);
    let mut rows = DimensionRows::around(outline);
    let x = |l: Length| view.point(l.units(), 0).x;
    let z = |l: Length| view.point(0, l.units()).y;
    let mut shapes = Vec::new();
    for (tier, frame) in carcass.tiers.iter().enumerate() {
        let side = if tier == 0 { Side::Bottom } else { Side::Top };
        let mut stops = vec![(frame.x, None)];
        let mut along = frame.x;
        for (column, opening) in design.chest.openings[tier].iter().enumerate() {
            along += frame.member;
            stops.push((along, Some(Dim::Member(tier))));
            along += *opening;
            stops.push((along, Some(Dim::Opening(tier, Some(column)))));
        }
        stops.push((along + frame.member, Some(Dim::Member(tier))));
        shapes.extend(rows.row(side, &ink.chain(&stops, &x)));
        let whole = [(frame.x, None), (frame.x + frame.width, Some(Dim::Width(tier)))];
        shapes.extend(rows.row(side, &ink.chain(&whole, &x)));
    }
    shapes.extend(rows.row(Side::Left, &ink.chain(&ink.heights(), &z)));
    let whole = [(Length::ZERO, None), (carcass.top_z, Some(Dim::Top))];
    shapes.extend(rows.row(Side::Left, &ink.chain(&whole, &z)));
    d.add_all(Layer::Dimensions, shapes);
    rows.extent()
}

fn side(d: &mut Drawing, view: &View, ink: &Ink<'_>) -> Rect {
    let (scenario, design) = (ink.lead.scenario, ink.lead.design);
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let outline = view.rect(0, 0, bed.length.at.units(), carcass.top_z.units());
    d.line(
        Layer::Surroundings,
        at(outline.x0, outline.y1),
        at(outline.x1, outline.y1),
        Pen::Phantom,
    );
    for x in [outline.x0, outline.x1] {
        d.line(Layer::Surroundings, at(x, outline.y0), at(x, outline.y1), Pen::Phantom);
    }
    for one in chest(&ink.lead, |space| space.at.x) {
        let s = one.space;
        let r = view.rect(s.at.y.units(), s.at.z.units(), s.size.dy.units(), s.size.dz.units());
        // A member hides the drawers behind it: they are drawn dashed.
        let role = design.part(one.part).role;
        let fill = if role == Role::Packing { Fill::Hatched(Hatch::Level) } else { Fill::White };
        let pen = if r.width().min(r.height()) < 1.2 { Pen::Thin } else { Pen::Thick };
        d.rect(Layer::Work, r, pen, fill);
    }
    let mut labels = Labels::within(outline);
    let mut rows = DimensionRows::around(outline);
    let y = |l: Length| view.point(l.units(), 0).x;
    let z = |l: Length| view.point(0, l.units()).y;
    let mut shapes = Vec::new();
    for tier in 0..carcass.tiers.len() {
        let Some(drawer) = design.drawers.iter().find(|one| one.tier == tier) else { continue };
        let o = drawer.outside;
        let r = view.rect(o.at.y.units(), o.at.z.units(), o.size.dy.units(), o.size.dz.units());
        d.rect(Layer::Contents, r, Pen::Hidden, Fill::None);
        labels.ask("drawer", r);
        let span = [(o.at.y, None), (o.far().y, Some(Dim::DrawerLength(tier)))];
        shapes.extend(rows.row(Side::Top, &ink.chain(&span, &y)));
    }
    let back = carcass.front_y + carcass.length;
    let stops = [
        (Length::ZERO, None),
        (carcass.front_y, Some(Dim::HandleRoom)),
        (back, Some(Dim::Length)),
        (bed.length.at, Some(Dim::Behind)),
    ];
    shapes.extend(rows.row(Side::Bottom, &ink.chain(&stops, &y)));
    shapes.extend(rows.row(Side::Right, &ink.chain(&ink.heights(), &z)));
    let (names, _) = labels.place();
    d.add_all(Layer::Labels, names);
    d.add_all(Layer::Dimensions, shapes);
    rows.extent()
}

/// A drawer cut across, between its members, with its applied front dashed before it.
fn across(d: &mut Drawing, view: &View, ink: &Ink<'_>, index: usize) -> Rect {
    let design = ink.lead.design;
    let drawer = &design.drawers[index];
    let frame = &design.chest.carcass.tiers[drawer.tier];
    let from = (drawer.opening.at.x - frame.member, frame.z);
    let place = |s: &Box3| {
        let (x, z) = (s.at.x - from.0, s.at.z - from.1);
        view.rect(x.units(), z.units(), s.size.dx.units(), s.size.dz.units())
    };
    let mut reach: Option<Rect> = None;
    let own = design.solids.iter().filter(|solid| solid.drawer == Some(index));
    let mut front = None;
    for one in own {
        let r = place(&one.space);
        match design.part(one.part).role {
            Role::DrawerBottom | Role::Side => {
                d.rect(Layer::Work, r, Pen::Thick, Fill::Hatched(Hatch::Dense));
            }
            Role::AppliedFront => {
                d.rect(Layer::Contents, r, Pen::Hidden, Fill::None);
                front = Some(one.space);
            }
            _ => continue,
        }
        reach = Some(reach.map_or(r, |all| all.hull(&r)));
    }
    let outline = reach.unwrap_or_else(|| place(&drawer.outside));
    let x = |l: Length| view.point((l - from.0).units(), 0).x;
    let z = |l: Length| view.point(0, (l - from.1).units()).y;
    let mut rows = DimensionRows::around(outline);
    let (o, tier) = (drawer.outside, drawer.tier);
    let column = Some(drawer.column);
    let mut shapes = Vec::new();
    let wide = [(o.at.x, None), (o.far().x, Some(Dim::DrawerWidth(tier, column)))];
    shapes.extend(rows.row(Side::Bottom, &ink.chain(&wide, &x)));
    let sides = [(o.far().z - frame.side_height, None), (o.far().z, Some(Dim::SideHeight(tier)))];
    shapes.extend(rows.row(Side::Right, &ink.chain(&sides, &z)));
    if let Some(front) = front {
        let wide = [(front.at.x, None), (front.far().x, Some(Dim::FrontWidth(tier, column)))];
        shapes.extend(rows.row(Side::Top, &ink.chain(&wide, &x)));
        let high = [(front.at.z, None), (front.far().z, Some(Dim::FrontHeight(tier)))];
        shapes.extend(rows.row(Side::Left, &ink.chain(&high, &z)));
    }
    d.add_all(Layer::Dimensions, shapes);
    rows.extent()
}
