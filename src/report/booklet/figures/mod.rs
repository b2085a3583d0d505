//! The booklet's own figures: the chest, sheets with numbered cuts, steps drawn apart.
//!
//! - [`sheet()`]: a nested sheet with its cuts in order;
//! - [`step`]: what a step of the assembly adds, drawn apart from what stands already;
//! - [`fittings`]: what has no place in the design (blocks, strips, locks) as boxes of the usual size, for pictures only;
//! - [`panels`]: several scenes beside each other at one scale.

mod fittings;
mod panels;
mod sheet;
mod steps;

pub use sheet::sheet;
pub use steps::{caption, room, step, wide};

use super::Job;
use crate::design::{Box3, Point, Role, Size};
use crate::paper::solid::{Block3, Piece, Scene, Setting};
use crate::paper::{Anchor, Drawing, Layer, Rect, SMALL, Scale, Text, at, rect};
use crate::units::Length;

fn block(space: Box3) -> Block3 {
    let far = space.far();
    Block3 {
        low: [space.at.x.units(), space.at.y.units(), space.at.z.units()],
        high: [far.x.units(), far.y.units(), far.z.units()],
    }
}

/// The box from a corner so far along each axis.
fn cuboid(at: [Length; 3], size: [Length; 3]) -> Box3 {
    let [x, y, z] = at;
    let [dx, dy, dz] = size;
    Box3 { at: Point::new(x, y, z), size: Size::new(dx, dy, dz) }
}

fn setting(room: (f64, f64), scales: &[Scale]) -> Setting<'_> {
    Setting { units_per_mm: Length::MM.units(), room, scales }
}

/// Room for the line that gives the scale, mm.
const SCALE_LINE: f64 = 3.6;

/// A figure with its scale below it.
fn noted(mut drawing: Drawing, scale: Scale) -> Drawing {
    let place = at(drawing.width / 2.0, drawing.height + SCALE_LINE - 1.0);
    let words = format!("Scale {scale}");
    drawing.add(Layer::Labels, Text::new(place, words, SMALL, Anchor::Middle));
    drawing.height += SCALE_LINE;
    drawing
}

/// One scene as a figure.
fn picture(scene: &Scene, title: &str, description: &str, room: (f64, f64)) -> Option<Drawing> {
    let room = (room.0, room.1 - SCALE_LINE);
    let (drawing, scale) = scene.draw(title, description, setting(room, Scale::PICTURE))?;
    Some(noted(drawing, scale))
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
    let names: Vec<&str> = job.design.drawers.iter().map(|d| d.name.as_str()).collect();
    let description = format!(
        "The whole chest with drawers {} shut, seen from the front and above at the right.",
        names.join(", ")
    );
    picture(&scene, &title, &description, room)
}

/// A rectangle on the page from its corner and extents, mm.
pub fn frame(width: f64, height: f64) -> Rect {
    rect(0.0, 0.0, width, height)
}
