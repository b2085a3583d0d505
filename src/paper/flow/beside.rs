//! A drawing with words beside it.

use super::super::drawing::{Drawing, Item};
use super::super::font::Fonts;
use super::slab::{Slab, figure, slabs};
use super::{Block, Rich};

/// Between a drawing and what stands beside it, mm.
const GUTTER: f64 = 5.0;

/// One slab: the drawing at its left, the blocks in the rest of the column, each from the top.
pub(super) fn beside(
    drawing: &Drawing,
    caption: &Rich,
    blocks: &[Block],
    fonts: &Fonts,
    width: f64,
) -> Vec<Slab> {
    let left = drawing.width + GUTTER;
    let mut all = Slab { before: 2.0, ..Slab::default() };
    for slab in figure(drawing, caption, fonts, drawing.width) {
        all.figure.clone_from(&slab.figure);
        all.items.extend(slab.items);
        all.height = slab.height;
    }
    let mut y = 0.0;
    for slab in blocks.iter().flat_map(|block| slabs(block, fonts, width - left)) {
        y += if y > 0.0 { slab.before } else { 0.0 };
        let moved = |item: Item| Item { layer: item.layer, shape: item.shape.moved(left, y) };
        all.items.extend(slab.items.into_iter().map(moved));
        all.cells.extend(slab.cells.into_iter().map(|cell| cell.moved(left, y)));
        y += slab.height;
    }
    all.height = all.height.max(y);
    vec![all]
}
