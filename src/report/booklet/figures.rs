//! The booklet's own figures: sheets with numbered cuts, steps drawn apart.

use std::collections::BTreeSet;

use super::Job;
use crate::design::work::{Edge, HoleKind, PieceId, Plane, SawCut, Side, StepKind};
use crate::design::{Axis, Box3, Rect as Panel, Role};
use crate::paper::solid::{Block3, Piece, Scene, Setting};
use crate::paper::{Drawing, Fill, Hatch, Labels, Layer, Pen, Point, Rect, Scale, View, at, rect};
use crate::report::naming::stock_size;
use crate::report::work::kept;
use crate::units::Length;

/// White around a sheet's figure, mm.
const MARGIN: f64 = 4.0;
/// How far new pieces are drawn from their places.
const APART: Length = Length::inches(10, 1);

/// A nested sheet with its parts, its cuts in their order, and what is kept.
pub fn sheet(job: &Job<'_>, index: usize, room: (f64, f64)) -> Drawing {
    let layout = &job.work.cutting.sheets[index];
    let cuts = &job.work.sawing.sheets[index];
    let units = job.scenario.units;
    let [along, across] = stock_size(&job.scenario.stock, layout.stock);
    let inner = (room.0 - 2.0 * MARGIN, room.1 - 2.0 * MARGIN);
    let scale = Scale::fitting(Scale::METRIC, along.to_mm(), across.to_mm(), inner)
        .unwrap_or(Scale::smallest(Scale::METRIC));
    let view = View {
        units_per_mm: Length::MM.units(),
        scale,
        from: (0, 0),
        to: at(MARGIN, MARGIN),
        up: false,
    };
    let raw = view.rect(0, 0, along.units(), across.units());
    let title = format!("Sheet {}", index + 1);
    let description = format!("Sheet {} with its parts and {} cuts.", index + 1, cuts.cuts.len());
    let mut drawing = Drawing::new(title, description, (raw.x1 + MARGIN, raw.y1 + MARGIN));
    drawing.rect(Layer::Work, raw, Pen::Thick, Fill::Hatched(Hatch::Falling));
    let mut labels = Labels::within(raw.grown(MARGIN / 2.0));
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
        labels.ask(format!("{}\n{size}", job.design.part(piece.part).mark), r);
    }
    for (number, cut) in cuts.cuts.iter().enumerate() {
        labels.mark((number + 1).to_string(), along_line(&view, cut, job.work.cutting.kerf));
    }
    let (shapes, key) = labels.place();
    drawing.add_all(Layer::Labels, shapes);
    below(&mut drawing, raw, &key);
    drawing
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
    [0.0, 1.0, 0.5, 0.25, 0.75, 0.125, 0.875, 0.375, 0.625].into_iter().map(place).collect()
}

fn block(space: Box3) -> Block3 {
    let far = space.far();
    Block3 {
        low: [space.at.x.units(), space.at.y.units(), space.at.z.units()],
        high: [far.x.units(), far.y.units(), far.z.units()],
    }
}

fn setting(room: (f64, f64)) -> Setting<'static> {
    Setting { units_per_mm: Length::MM.units(), room, scales: Scale::PICTURE }
}

/// The whole chest.
pub fn whole(job: &Job<'_>, room: (f64, f64)) -> Option<Drawing> {
    let pieces = job.design.solids.iter().map(|solid| {
        let mark = (job.design.part(solid.part).role == Role::AppliedFront)
            .then(|| solid.drawer.map(|index| job.design.drawers[index].name.clone()))
            .flatten();
        Piece { mark, ..Piece::new(block(solid.space)) }
    });
    let scene = Scene { pieces: pieces.collect(), ..Scene::default() };
    let title = format!("Design {}", job.design.id);
    let drawn = scene.draw(&title, "The whole chest from the front and above.", setting(room));
    drawn.map(|(drawing, _)| drawing)
}

/// A step: what is new, drawn apart and thick, on what stands already.
pub fn step(job: &Job<'_>, index: usize, room: (f64, f64)) -> Option<Drawing> {
    let step = &job.work.steps[index];
    let here = present(job, index);
    let new: BTreeSet<PieceId> = step.pieces.iter().copied().collect();
    // Like drawers are drawn once.
    let only = match &step.kind {
        StepKind::Boxes(drawers) | StepKind::Blocks(drawers) => drawers.first().copied(),
        _ => None,
    };
    let mut pieces = Vec::new();
    for id in &here {
        let piece = job.work.piece(*id);
        let Some(space) = piece.space else { continue };
        if only.is_some() && piece.drawer != only {
            continue;
        }
        let part = job.design.part(piece.part);
        let is_new = new.contains(id);
        let apart = if is_new { apart(&step.kind, part.role, space, job) } else { [0; 3] };
        pieces.push(Piece {
            apart,
            mark: is_new.then(|| part.mark.clone()),
            new: is_new,
            ..Piece::new(block(space))
        });
    }
    pieces.extend(strips(job, index));
    if pieces.is_empty() {
        return None;
    }
    let scene = Scene { pieces, ..Scene::default() };
    let description = format!("{} pieces stand already or are added.", here.len());
    scene
        .draw(&format!("Step {}", index + 1), &description, setting(room))
        .map(|(drawing, _)| drawing)
}

/// Everything that a step has on the bench.
fn present(job: &Job<'_>, index: usize) -> BTreeSet<PieceId> {
    let step = &job.work.steps[index];
    let mut here: BTreeSet<PieceId> = step.pieces.iter().copied().collect();
    for joined in &step.joins {
        here.extend(present(job, *joined));
    }
    here
}

/// Which way a new piece is drawn from its place.
fn apart(kind: &StepKind, role: Role, space: Box3, job: &Job<'_>) -> [i64; 3] {
    let far = APART.units();
    let near = far / 2;
    match (kind, role) {
        (StepKind::Frame | StepKind::Module(_), Role::Bottom | Role::Shelf) => [0, 0, -near],
        (StepKind::Frame | StepKind::Module(_) | StepKind::Members(_), Role::Back) => [0, far, 0],
        (StepKind::Boxes(_), Role::DrawerBottom) => [0, 0, -near],
        (StepKind::Boxes(_), Role::DrawerFront) => [0, -near, 0],
        (StepKind::Boxes(_), Role::DrawerBack) => [0, near, 0],
        (StepKind::Boxes(_), Role::Side) => {
            let drawer = job.design.drawers.iter().find(|drawer| {
                drawer.outside.at.x <= space.at.x
                    && space.far().x <= drawer.outside.far().x
                    && drawer.outside.at.z <= space.at.z
                    && space.far().z <= drawer.outside.far().z
            });
            let left = drawer.is_some_and(|drawer| drawer.outside.at.x == space.at.x);
            [if left { -near } else { near }, 0, 0]
        }
        (StepKind::Fronts, _) => [0, -far, 0],
        (StepKind::Frame | StepKind::Module(_), _) => [0; 3],
        _ => [0, 0, near],
    }
}

/// The strips that a step fixes, as boxes.
fn strips(job: &Job<'_>, index: usize) -> Vec<Piece> {
    let wide = Length::INCH / 2;
    let thick = Length::MM * 3;
    let step = &job.work.steps[index];
    let rows = step.rows.iter().map(|row| &job.work.rows[*row]);
    let rows = rows.filter(|row| row.kind == HoleKind::Strip && row.holes.len() > 1);
    rows.filter_map(|row| {
        let piece = job.work.piece(row.piece);
        let space = piece.space?;
        let plane = Plane::of(job.design.part(piece.part).role, space);
        let first = plane.place(space, row.holes[0], row.side);
        let last = plane.place(space, row.holes[row.holes.len() - 1], row.side);
        let (low, high) = match row.side {
            Side::Top => {
                ([first.x - wide, first.y, first.z], [last.x + wide, last.y, last.z + thick])
            }
            Side::Left => {
                ([first.x - thick, first.y, first.z - wide], [last.x, last.y, last.z + wide])
            }
            _ => ([first.x, first.y, first.z - wide], [last.x + thick, last.y, last.z + wide]),
        };
        Some(Piece::new(Block3 { low: low.map(Length::units), high: high.map(Length::units) }))
    })
    .collect()
}

/// A rectangle on the page from its corner and extents, mm.
pub fn frame(width: f64, height: f64) -> Rect {
    rect(0.0, 0.0, width, height)
}
