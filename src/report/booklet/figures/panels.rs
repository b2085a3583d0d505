//! Several scenes beside each other, at one scale.

use std::cmp::Reverse;

use super::{SCALE_LINE, noted, setting};
use crate::paper::solid::Scene;
use crate::paper::{Anchor, Drawing, Layer, NOTE, Scale, Text, at};

/// Height of a scene's name, mm.
const NAME: f64 = 4.5;
/// Between scenes, mm.
const GAP: f64 = 3.0;

/// Named scenes in rows of as many as give the largest scale that serves all; `None` if there are none or no scale does.
pub(super) fn panels(
    scenes: &[(String, Scene)],
    title: &str,
    description: &str,
    room: (f64, f64),
) -> Option<Drawing> {
    let fitting = |columns: usize| {
        let cell = cell(scenes.len(), columns, room);
        let scales = scenes.iter().map(|(name, scene)| {
            scene.draw(name, description, setting(cell, Scale::PICTURE)).map(|(_, scale)| scale)
        });
        // The greater reduction is the greater in order.
        let scale = scales.collect::<Option<Vec<Scale>>>()?.into_iter().max()?;
        Some((scale, columns))
    };
    // Of what serves equally well the fewest rows, which take the least of the page.
    let tried = (1..=scenes.len().min(3)).filter_map(fitting);
    let (scale, columns) = tried.min_by_key(|(scale, columns)| (*scale, Reverse(*columns)))?;
    let cell = cell(scenes.len(), columns, room);
    let scales = [scale];
    let drawn: Vec<(&str, Drawing)> = scenes
        .iter()
        .filter_map(|(name, scene)| {
            let (drawing, _) = scene.draw(name, description, setting(cell, &scales))?;
            Some((name.as_str(), drawing))
        })
        .collect();
    let mut all = Drawing::new(title, description, (room.0, 0.0));
    let pitch = (room.0 + GAP) / columns as f64;
    for row in drawn.chunks(columns) {
        let tallest = row.iter().map(|(_, d)| d.height).fold(0.0, f64::max);
        for (column, (name, d)) in row.iter().enumerate() {
            let middle = pitch * (column as f64 + 0.5) - GAP / 2.0;
            set(&mut all, name, d, middle, tallest);
        }
        all.height += NAME + tallest + GAP;
    }
    Some(noted(all, scale))
}

/// A scene with a smaller one below it that shows a part of it, each at a scale of its own.
pub(super) fn with_detail(
    scenes: &[(String, Scene)],
    title: &str,
    description: &str,
    room: (f64, f64),
) -> Option<Drawing> {
    let (main, detail) = scenes.split_first()?;
    let high = if detail.is_empty() { room.1 } else { room.1 * 0.68 };
    let shares =
        [(main, high)].into_iter().chain(detail.first().map(|detail| (detail, room.1 - high)));
    let mut all = Drawing::new(title, description, (room.0, 0.0));
    for ((name, scene), high) in shares {
        let cell = (room.0, high - NAME - GAP);
        let (drawing, scale) = scene.draw(name, description, setting(cell, Scale::PICTURE))?;
        set(&mut all, &format!("{name}, {scale}"), &drawing, room.0 / 2.0, drawing.height);
        all.height += NAME + drawing.height + GAP;
    }
    Some(all)
}

/// A named drawing centred in a row that begins at the drawing's foot.
fn set(all: &mut Drawing, name: &str, d: &Drawing, middle: f64, tallest: f64) {
    let top = all.height;
    let place = at(middle, top + NOTE + 0.8);
    all.add(Layer::Labels, Text::new(place, name, NOTE, Anchor::Middle).bold());
    all.place(d, middle - d.width / 2.0, top + NAME + (tallest - d.height) / 2.0);
}

/// The room of one scene.
fn cell(count: usize, columns: usize, room: (f64, f64)) -> (f64, f64) {
    let rows = count.div_ceil(columns) as f64;
    let width = (room.0 + GAP) / columns as f64 - GAP;
    (width, (room.1 - SCALE_LINE) / rows - NAME - GAP)
}
