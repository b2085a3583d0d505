//! Flat parts and nested sheets at full size, for machines: outlines to cut, holes to bore.

use super::figures::frame;
use crate::design::work::{HoleKind, Row, WorkPlan};
use crate::design::{Design, Part, PartId};
use crate::paper::{Anchor, Drawing, Fill, Layer, Pen, Point, Shape, Text, at, rect};
use crate::report::naming::stock_size;
use crate::report::work::{diameter, plate};
use crate::scenario::{Plate, Scenario};
use crate::units::{Length, UnitSystem};

/// Radius of the mark of a hole whose size is said by what goes into it, mm.
const MIDDLE: f64 = 2.0;
/// Capital height of marks, mm.
const MARK: f64 = 10.0;

/// A part in each way that its copies are bored: its name and its drawing, a millimetre a millimetre.
pub fn part(
    scenario: &Scenario,
    design: &Design,
    work: &WorkPlan,
    id: PartId,
) -> Vec<(String, Drawing)> {
    let part = design.part(id);
    let mut ways: Vec<Vec<&Row>> = Vec::new();
    for (index, piece) in (0..).zip(&work.pieces) {
        if piece.part != id {
            continue;
        }
        let piece = crate::design::work::PieceId(index);
        let rows: Vec<&Row> = work.rows.iter().filter(|row| row.piece == piece).collect();
        let alike = |known: &Vec<&Row>| {
            known.len() == rows.len()
                && known
                    .iter()
                    .zip(&rows)
                    .all(|(a, b)| (a.kind, a.side, &a.holes) == (b.kind, b.side, &b.holes))
        };
        if !ways.iter().any(alike) {
            ways.push(rows);
        }
    }
    let several = ways.len() > 1;
    let drawn = ways.into_iter().enumerate().map(|(number, rows)| {
        let name =
            if several { format!("{}-{}", part.mark, number + 1) } else { part.mark.clone() };
        let drawing = outline(scenario, design, part, &name, &rows);
        (name, drawing)
    });
    drawn.collect()
}

/// Radius of a hole of a kind as it is drawn, mm.
pub(super) fn radius(kind: HoleKind, units: UnitSystem) -> f64 {
    diameter(kind, units).map_or(MIDDLE, |diameter| diameter.to_mm() / 2.0)
}

/// What a plate asks for around its middle: the opening to be sawn and its screws' holes.
pub(super) fn let_in(plate: Plate, middle: Point, units: UnitSystem) -> Vec<(Layer, Shape)> {
    let mut shapes = Vec::new();
    if let Some([wide, high]) = plate.cut_out.map(|size| size.map(Length::to_mm)) {
        let (x, y) = (middle.x - wide / 2.0, middle.y - high / 2.0);
        let rect = rect(x, y, x + wide, y + high);
        shapes.push((Layer::Cut, Shape::Rect { rect, pen: Some(Pen::Thick), fill: Fill::None }));
    }
    let radius = radius(HoleKind::Front, units);
    for [across, up] in plate.screw_places() {
        let centre = at(middle.x + across.to_mm(), middle.y - up.to_mm());
        let pen = Some(Pen::Thin);
        shapes.push((Layer::Drill, Shape::Circle { centre, radius, pen, fill: Fill::None }));
    }
    shapes
}

fn outline(
    scenario: &Scenario,
    design: &Design,
    part: &Part,
    name: &str,
    rows: &[&Row],
) -> Drawing {
    let (length, width) = (part.length.to_mm(), part.width.to_mm());
    let description = format!("{name}: {length} by {width} mm, every hole of it.");
    let mut drawing = Drawing::new(name, description, (length, width));
    drawing.rect(Layer::Cut, frame(length, width), Pen::Thick, Fill::None);
    for row in rows {
        let layer = match row.kind {
            HoleKind::Handle | HoleKind::Lock | HoleKind::RodMate | HoleKind::Strip => Layer::Score,
            _ => Layer::Drill,
        };
        let radius = radius(row.kind, scenario.units);
        let plate = plate(scenario, design, row.kind);
        for [along, across] in &row.holes {
            // Up the page is away from the part's lower or left edge.
            let centre = at(along.to_mm(), width - across.to_mm());
            let pen = Some(Pen::Thin);
            drawing.add(layer, Shape::Circle { centre, radius, pen, fill: Fill::None });
            for (layer, shape) in let_in(plate, centre, scenario.units) {
                drawing.add(layer, shape);
            }
        }
    }
    drawing
}

/// A nested sheet: its edge, every part's outline, every part's mark.
pub fn sheet(scenario: &Scenario, design: &Design, work: &WorkPlan, index: usize) -> Drawing {
    let layout = &work.cutting.sheets[index];
    let [along, across] = stock_size(&scenario.stock, layout.stock).map(Length::to_mm);
    let title = format!("Sheet {}", index + 1);
    let description = format!("Sheet {}, {along} by {across} mm, with its parts.", index + 1);
    let mut drawing = Drawing::new(title, description, (along, across));
    drawing.rect(Layer::Work, frame(along, across), Pen::Thin, Fill::None);
    for piece in &layout.pieces {
        let r = piece.at;
        let (x, y) = (r.x.to_mm(), r.y.to_mm());
        let (x1, y1) = ((r.x + r.dx).to_mm(), (r.y + r.dy).to_mm());
        drawing.rect(Layer::Cut, rect(x, y, x1, y1), Pen::Thick, Fill::None);
        let mark = &design.part(piece.part).mark;
        let height = MARK.min((y1 - y) / 2.0);
        let place = at((x + x1) / 2.0, (y + y1) / 2.0 + height / 2.0);
        drawing.add(Layer::Labels, Text::new(place, mark, height, Anchor::Middle));
    }
    drawing
}

/// Every part that is flat enough for a machine's table: all but square lengths and packing, by their ids.
pub fn flat(design: &Design) -> Vec<PartId> {
    use crate::design::Role;
    let parts = (0..).map(PartId).zip(&design.parts);
    parts
        .filter(|(_, part)| {
            part.quantity > 0 && !matches!(part.role, Role::CornerBlock | Role::StopBlock)
        })
        .map(|(id, _)| id)
        .collect()
}
