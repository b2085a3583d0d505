//! A sheet's cutting diagram: pieces, cuts in order, and what is left.

use super::Plans;
use super::page::{Choice, Heading, Page, Papers, choices, held_pair, key_lines, on_the_first};
use crate::design::{Axis, Cut, Rect as Panel, SheetLayout};
use crate::paper::{
    Anchor, DimensionRows, Drawing, Fill, Hatch, Labels, Layer, Pen, Point, Rect, SMALL, Shape,
    Side, Span, Text, View, at,
};
use crate::scenario::Form;
use crate::units::{Length, UnitSystem};

/// Room for dimensions and the grain arrow, mm.
const BESIDE: (f64, f64) = (12.0, 2.0);
const ABOVE: f64 = 11.0;
/// Room kept below for the list of cuts, mm.
const BELOW: f64 = 26.0;

/// Draws one pattern; `index` is its place in the cutting plan.
pub(super) fn sheet(plans: &Plans<'_>, index: usize) -> Drawing {
    let layout = &plans.plan.sheets[index];
    let size = sheet_size(layout, plans);
    let heading = heading(plans, index);
    let all =
        choices(Papers::Own(plans.of.units), true, size, (BESIDE.0 + BESIDE.1, ABOVE + BELOW), 10);
    on_the_first(&all, &heading, |choice, last| draw(plans, layout, &heading, choice, last))
}

/// The raw sheet, along and across its grain; what its pieces need if the stock is no sheet.
fn sheet_size(layout: &SheetLayout, plans: &Plans<'_>) -> (Length, Length) {
    if let Some(Form::Sheet { along, across }) =
        plans.stock.items.get(layout.stock).map(|item| item.form)
    {
        return (along, across);
    }
    let reach = |get: fn(&Panel) -> Length| {
        layout.pieces.iter().map(|p| get(&p.at)).max().unwrap_or(Length::MM)
    };
    (reach(|r| r.x + r.dx), reach(|r| r.y + r.dy))
}

fn heading<'a>(plans: &Plans<'a>, index: usize) -> Heading<'a> {
    let layout = &plans.plan.sheets[index];
    let units = plans.of.units;
    let (along, across) = sheet_size(layout, plans);
    let name = plans.stock.items.get(layout.stock).map_or("sheet", |item| item.name.as_str());
    let times = match layout.repeat {
        1 => String::new(),
        n => format!(", {n} alike"),
    };
    let pieces: Vec<String> = layout
        .pieces
        .iter()
        .map(|p| {
            let (dx, dy) = (p.at.dx.figure(units), p.at.dy.figure(units));
            format!("{} {dx} by {dy}", plans.mark(p.part))
        })
        .collect();
    Heading {
        title: format!("Cutting sheet {}: {name}{times}", index + 1),
        description: format!(
            "{name}, {} along the grain by {} across{times}. Pieces, along the grain by across: {}. {} cuts, {} rests kept.",
            along.figure(units),
            across.show(units),
            pieces.join("; "),
            layout.cuts.len(),
            layout.offcuts.len()
        ),
        of: plans.of,
    }
}

fn draw(
    plans: &Plans<'_>,
    layout: &SheetLayout,
    heading: &Heading<'_>,
    choice: Choice,
    forced: bool,
) -> Option<Drawing> {
    let units = plans.of.units;
    let (along, across) = sheet_size(layout, plans);
    let mut page = Page::new(heading, choice, "");
    let view = View {
        units_per_mm: Length::MM.units(),
        scale: choice.scale,
        from: (0, 0),
        to: at(page.content.x0 + BESIDE.0, page.content.y0 + ABOVE),
        up: false,
    };
    let d = &mut page.drawing;
    let raw = view.rect(0, 0, along.units(), across.units());
    d.rect(Layer::Work, raw, Pen::Thick, Fill::Hatched(Hatch::Falling));
    // Numbers of cuts near an edge may stand out over it a little.
    let mut labels = Labels::within(raw.grown(2.5));
    for rest in &layout.offcuts {
        let r = panel_rect(&view, rest);
        d.rect(Layer::Work, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
        labels.ask(format!("keep\n{}", held_pair(rest.dx, rest.dy, units)), r);
    }
    for piece in &layout.pieces {
        let r = panel_rect(&view, &piece.at);
        d.rect(Layer::Work, r, Pen::Thick, Fill::White);
        let size = held_pair(piece.at.dx, piece.at.dy, units);
        labels.ask(format!("{}\n{size}", plans.mark(piece.part)), r);
    }
    for (i, cut) in layout.cuts.iter().enumerate() {
        labels.mark((i + 1).to_string(), cut_places(&view, cut, plans.plan.kerf));
    }
    let (shapes, key) = labels.place();
    d.add_all(Layer::Labels, shapes);
    let bottom = surroundings(d, raw, along, across, units);

    let mut lines = key_lines(&key);
    lines.extend(notes(plans, layout, units));
    lines.extend(layout.cuts.iter().enumerate().map(|(i, cut)| cut_text(i + 1, cut, units)));
    page.finish(bottom + 3.0, lines, forced)
}

fn panel_rect(view: &View, panel: &Panel) -> Rect {
    view.rect(panel.x.units(), panel.y.units(), panel.dx.units(), panel.dy.units())
}

fn size_text(panel: &Panel, units: UnitSystem) -> String {
    format!("{} × {}", panel.dx.figure(units), panel.dy.figure(units))
}

/// Overall dimensions and the grain arrow; gives the lowest edge of it all.
fn surroundings(
    d: &mut Drawing,
    raw: Rect,
    along: Length,
    across: Length,
    units: UnitSystem,
) -> f64 {
    let mut rows = DimensionRows::around(raw);
    let mut shapes = rows.row(Side::Top, &[Span::new(raw.x0, raw.x1, along.figure(units))]);
    shapes.extend(rows.row(Side::Left, &[Span::new(raw.y0, raw.y1, across.figure(units))]));
    d.add_all(Layer::Dimensions, shapes);
    let y = raw.y1 + 4.0;
    let (from, to) = (raw.x0, raw.x0 + raw.width().min(40.0));
    d.line(Layer::Labels, at(from, y), at(to, y), Pen::Thin);
    for (tip, back) in [(from, from + 3.0), (to, to - 3.0)] {
        let head = vec![at(tip, y), at(back, y - 1.0), at(back, y + 1.0)];
        d.add(
            Layer::Labels,
            Shape::Path { points: head, closed: true, pen: None, fill: Fill::Black },
        );
    }
    let word = Text::new(at(to + 2.0, y + SMALL / 2.0), "grain", SMALL, Anchor::Start);
    d.add(Layer::Labels, word);
    y + 2.0
}

/// Where a cut's number may stand on its line: at its near end, its far end, or between.
fn cut_places(view: &View, cut: &Cut, kerf: Length) -> Vec<Point> {
    let blade = cut.at + kerf / 2;
    let r = panel_rect(view, &cut.panel);
    let place = |share: f64| match cut.axis {
        Axis::X => {
            let x = view.point(blade.units(), 0).x;
            at(x, r.y0 + 2.4 + share * (r.height() - 4.8))
        }
        Axis::Y => {
            let y = view.point(0, blade.units()).y;
            at(r.x0 + 3.0 + share * (r.width() - 6.0), y)
        }
    };
    [0.0, 1.0, 0.5, 0.25, 0.75, 0.125, 0.875, 0.375, 0.625].into_iter().map(place).collect()
}

/// One line of the list: what the fence is set to, and which panel is cut.
fn cut_text(number: usize, cut: &Cut, units: UnitSystem) -> String {
    let (way, kept) = match cut.axis {
        Axis::X => ("across", cut.at - cut.panel.x),
        Axis::Y => ("along", cut.at - cut.panel.y),
    };
    format!("cut {number}  {way} at {} of {}", kept.figure(units), size_text(&cut.panel, units))
}

fn notes(plans: &Plans<'_>, layout: &SheetLayout, units: UnitSystem) -> Vec<String> {
    let mut lines = vec![
        format!("Kerf {}.", plans.plan.kerf.show(units)),
        "Sizes: finished, along the grain × across.".to_owned(),
        "Cuts are numbered on their lines, in order.".to_owned(),
        "\"along\", \"across\": the grain; from top or left.".to_owned(),
        "Rising hatch: kept. Falling hatch: waste.".to_owned(),
    ];
    if layout.trim.is_positive() {
        lines.insert(1, format!("First trim {} off each edge.", layout.trim.show(units)));
    }
    lines
}
