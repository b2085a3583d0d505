//! Templates at full size: fronts with their lock and handle, a side's end with its rod and screws, corner blocks.

use super::{Job, shapes};
use crate::design::{PartId, Role};
use crate::paper::{Drawing, Fill, Layer, Pen, Shape, at};

/// How much of a side's front end is shown, mm.
const END: f64 = 240.0;

/// Every template, each a drawing as large as what it is laid on: name and drawing.
pub fn templates(job: &Job<'_>) -> Vec<(String, Drawing)> {
    let design = job.design;
    let mut all = Vec::new();
    let parts = (0..).map(PartId).zip(&design.parts);
    for (id, part) in parts.filter(|(_, part)| part.quantity > 0) {
        match part.role {
            Role::AppliedFront => {
                all.extend(shapes::part(design, job.work, id).into_iter().map(
                    |(name, drawing)| (format!("front {name}: lock and handle"), crossed(drawing)),
                ));
            }
            Role::Side => {
                all.extend(shapes::part(design, job.work, id).into_iter().map(
                    |(name, drawing)| {
                        (format!("front end of side {name}"), crossed(cut_off(drawing)))
                    },
                ));
            }
            Role::CornerBlock => {
                let leg = part.width.to_mm();
                let mut drawing = Drawing::new("corner block", "A corner block's end.", (leg, leg));
                let points = vec![at(0.0, 0.0), at(0.0, leg), at(leg, leg)];
                drawing.add(
                    Layer::Cut,
                    Shape::Path { points, closed: true, pen: Some(Pen::Thick), fill: Fill::None },
                );
                all.push((format!("end of corner block {}", part.mark), drawing));
            }
            _ => {}
        }
    }
    all
}

/// A part's first stretch from its front end.
fn cut_off(mut drawing: Drawing) -> Drawing {
    if drawing.width <= END {
        return drawing;
    }
    let height = drawing.height;
    drawing.items.retain(|item| match &item.shape {
        Shape::Circle { centre, radius, .. } => centre.x + radius < END,
        _ => false,
    });
    for (from, to) in
        [((END, 0.0), (0.0, 0.0)), ((0.0, 0.0), (0.0, height)), ((0.0, height), (END, height))]
    {
        drawing.line(Layer::Cut, at(from.0, from.1), at(to.0, to.1), Pen::Thick);
    }
    drawing.width = END;
    drawing
}

/// A cross through every hole, so that its middle can be pricked through the paper.
fn crossed(mut drawing: Drawing) -> Drawing {
    let centres: Vec<_> = drawing
        .items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Circle { centre, .. } => Some(*centre),
            _ => None,
        })
        .collect();
    for c in centres {
        drawing.line(Layer::Drill, at(c.x - 8.0, c.y), at(c.x + 8.0, c.y), Pen::Thin);
        drawing.line(Layer::Drill, at(c.x, c.y - 8.0), at(c.x, c.y + 8.0), Pen::Thin);
    }
    drawing
}
