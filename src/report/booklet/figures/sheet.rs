//! A nested sheet with its cuts in their order.

use super::{Job, SCALE_LINE, noted};
use crate::design::work::{Edge, SawCut};
use crate::design::{Axis, Rect as Panel};
use crate::paper::{Drawing, Fill, Hatch, Labels, Layer, Pen, Point, Rect, Scale, View, at};
use crate::report::naming::stock_size;
use crate::report::work::kept;
use crate::units::Length;

/// White around a sheet's figure, mm.
const MARGIN: f64 = 2.5;

/// A nested sheet with its parts, its cuts in their order, and what is kept.
pub fn sheet(job: &Job<'_>, index: usize, room: (f64, f64)) -> Drawing {
    let layout = &job.work.cutting.sheets[index];
    let cuts = &job.work.sawing.sheets[index];
    let units = job.scenario.units;
    let [along, across] = stock_size(&job.scenario.stock, layout.stock);
    let inner = (room.0 - 2.0 * MARGIN, room.1 - 2.0 * MARGIN - SCALE_LINE);
    let scale = Scale::fitting(Scale::PICTURE, along.to_mm(), across.to_mm(), inner)
        .unwrap_or(Scale::smallest(Scale::PICTURE));
    let view = View {
        units_per_mm: Length::MM.units(),
        scale,
        from: (0, 0),
        to: at(MARGIN, MARGIN),
        up: false,
    };
    let raw = view.rect(0, 0, along.units(), across.units());
    let title = format!("Sheet {}", index + 1);
    let marks: Vec<&str> =
        layout.pieces.iter().map(|p| job.design.part(p.part).mark.as_str()).collect();
    let description = format!(
        "Sheet {}, {} along the grain by {}, with parts {} and {} numbered cuts.",
        index + 1,
        along.show(units),
        across.show(units),
        marks.join(", "),
        cuts.cuts.len()
    );
    let mut drawing = Drawing::new(title, description, (raw.x1 + MARGIN, raw.y1 + MARGIN));
    drawing.rect(Layer::Work, raw, Pen::Thick, Fill::Hatched(Hatch::Falling));
    let mut labels = Labels::within(raw.grown(MARGIN));
    for (number, rest) in (0..).zip(&cuts.kept) {
        let r = panel(&view, rest);
        drawing.rect(Layer::Work, r, Pen::Thin, Fill::Hatched(Hatch::Rising));
        let size = format!("{} × {}", rest.dx.figure(units), rest.dy.figure(units));
        labels.ask(format!("keep {}\n{size}", kept(index, number)), r);
    }
    for piece in &layout.pieces {
        let r = panel(&view, &piece.at);
        drawing.rect(Layer::Work, r, Pen::Thick, Fill::White);
        let size = format!("{} × {}", piece.at.dx.figure(units), piece.at.dy.figure(units));
        let mark = &job.design.part(piece.part).mark;
        labels.ask_or_mark(format!("{mark}\n{size}"), mark, r);
    }
    for (number, cut) in cuts.cuts.iter().enumerate() {
        labels.mark((number + 1).to_string(), along_line(&view, cut, job.work.cutting.kerf));
    }
    let (shapes, key) = labels.place();
    drawing.add_all(Layer::Labels, shapes);
    below(&mut drawing, raw, &key);
    noted(drawing, scale)
}

/// What found no room in the figure stands below it.
fn below(drawing: &mut Drawing, raw: Rect, key: &[crate::paper::KeyEntry]) {
    let mut y = raw.y1 + MARGIN + 2.0;
    for entry in key {
        let text = format!("{}: {}", entry.number, entry.text.replace('\n', " "));
        drawing.add(
            Layer::Labels,
            crate::paper::Text::new(
                at(MARGIN, y + crate::paper::SMALL),
                text,
                crate::paper::SMALL,
                crate::paper::Anchor::Start,
            ),
        );
        y += crate::paper::SMALL * 1.9;
    }
    if !key.is_empty() {
        drawing.height = y + 1.0;
    }
}

fn panel(view: &View, r: &Panel) -> Rect {
    view.rect(r.x.units(), r.y.units(), r.dx.units(), r.dy.units())
}

/// Where a cut's number may stand on its line.
fn along_line(view: &View, cut: &SawCut, kerf: Length) -> Vec<Point> {
    let r = panel(view, &cut.rect);
    let (low, high) = match cut.axis {
        Axis::X => (cut.rect.x, cut.rect.x + cut.rect.dx),
        Axis::Y => (cut.rect.y, cut.rect.y + cut.rect.dy),
    };
    let blade = match cut.from {
        Edge::Low => low + cut.setting + kerf / 2,
        Edge::High => high - cut.setting - kerf / 2,
    };
    let place = |share: f64| match cut.axis {
        Axis::X => {
            at(view.point(blade.units(), 0).x, r.y0 + 2.4 + share * (r.height() - 4.8).max(0.0))
        }
        Axis::Y => {
            at(r.x0 + 3.0 + share * (r.width() - 6.0).max(0.0), view.point(0, blade.units()).y)
        }
    };
    const SHARES: i32 = 24;
    (0..=SHARES).map(|share| place(f64::from(share) / f64::from(SHARES))).collect()
}
