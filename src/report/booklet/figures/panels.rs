//! Several scenes beside each other, at one scale.

use super::{SCALE_LINE, noted, setting};
use crate::paper::solid::Scene;
use crate::paper::{Anchor, Drawing, Layer, NOTE, Scale, Text, at};

/// Height of a scene's name, mm.
const NAME: f64 = 4.5;
/// Between scenes, mm.
const GAP: f64 = 3.0;

/// Named scenes in rows of as many as give the largest scale: one scale for all if they are to be alike, else each at its
/// own, which then stands beside its name. `None` if there are none or no scale serves.
pub(super) fn panels(
    scenes: &[(String, Scene)],
    alike: bool,
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
    let (scale, columns) = (1..=scenes.len().min(3)).filter_map(fitting).min()?;
    let cell = cell(scenes.len(), columns, room);
    let one = [scale];
    let scales: &[Scale] = if alike { &one } else { Scale::PICTURE };
    let drawn: Vec<(String, Drawing)> = scenes
        .iter()
        .filter_map(|(name, scene)| {
            let (drawing, own) = scene.draw(name, description, setting(cell, scales))?;
            Some((if alike { name.clone() } else { format!("{name}, {own}") }, drawing))
        })
        .collect();
    let mut all = Drawing::new(title, description, (room.0, 0.0));
    let pitch = (room.0 + GAP) / columns as f64;
    let mut y = 0.0;
    for row in drawn.chunks(columns) {
        let tallest = row.iter().map(|(_, d)| d.height).fold(0.0, f64::max);
        for (column, (name, d)) in row.iter().enumerate() {
            let middle = pitch * (column as f64 + 0.5) - GAP / 2.0;
            let place = at(middle, y + NOTE + 0.8);
            all.add(Layer::Labels, Text::new(place, name, NOTE, Anchor::Middle).bold());
            all.place(d, middle - d.width / 2.0, y + NAME + (tallest - d.height) / 2.0);
        }
        y += NAME + tallest + GAP;
    }
    all.height = y;
    Some(if alike { noted(all, scale) } else { all })
}

/// The room of one scene.
fn cell(count: usize, columns: usize, room: (f64, f64)) -> (f64, f64) {
    let rows = count.div_ceil(columns) as f64;
    let width = (room.0 + GAP) / columns as f64 - GAP;
    (width, (room.1 - SCALE_LINE) / rows - NAME - GAP)
}
