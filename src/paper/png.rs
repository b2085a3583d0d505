//! Drawings as pictures, by way of their SVG.

use std::sync::{Arc, OnceLock};

use resvg::tiny_skia;
use thiserror::Error;
use usvg::fontdb;

use super::drawing::{Drawing, Shape};
use super::font::{Bytes, Fonts};
use super::svg::svg;

/// The largest picture that is made: 20 000 dots a side.
const MOST: f64 = 20_000.0;

/// Why there is no picture.
#[derive(Debug, Error, Clone, PartialEq, Eq)]
pub enum PngError {
    /// No dots, or more than a picture may have.
    #[error("a picture of {0} × {1} dots cannot be made")]
    Size(String, String),
    /// The picture library failed.
    #[error("the picture could not be made: {0}")]
    Library(String),
}

/// Writes a drawing as PNG with so many dots to a millimetre (about 4 for a screen, 12 for print).
/// Set in the bundled faces, so that it is the same on every machine.
///
/// # Errors
/// [`PngError`].
pub fn png(drawing: &Drawing, dots_per_mm: f64, fonts: &Fonts) -> Result<Vec<u8>, PngError> {
    let size = (drawing.width, drawing.height);
    let picture = picture(&svg(&readable(drawing, fonts)), size, dots_per_mm, fonts)?;
    picture.encode_png().map_err(|e| PngError::Library(e.to_string()))
}

/// The dots of an SVG of that size in mm.
pub(super) fn picture(
    text: &str,
    size: (f64, f64),
    dots_per_mm: f64,
    fonts: &Fonts,
) -> Result<tiny_skia::Pixmap, PngError> {
    let (w, h) = ((size.0 * dots_per_mm).ceil(), (size.1 * dots_per_mm).ceil());
    let sound = |n: f64| (1.0..=MOST).contains(&n);
    let too_large = || PngError::Size(w.to_string(), h.to_string());
    if !sound(w) || !sound(h) {
        return Err(too_large());
    }
    let options = usvg::Options { fontdb: faces(fonts), ..usvg::Options::default() };
    let tree =
        usvg::Tree::from_str(text, &options).map_err(|e| PngError::Library(e.to_string()))?;
    let mut picture = tiny_skia::Pixmap::new(w as u32, h as u32).ok_or_else(too_large)?;
    picture.fill(tiny_skia::Color::WHITE);
    // The tree's units are those of its width in pixels: 96 to an inch.
    let scale = (dots_per_mm * 25.4 / 96.0) as f32;
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut picture.as_mut());
    Ok(picture)
}

/// The drawing with readable stand-ins for what no face holds.
fn readable(drawing: &Drawing, fonts: &Fonts) -> Drawing {
    let mut drawing = drawing.clone();
    for item in &mut drawing.items {
        match &mut item.shape {
            Shape::Text(text) => text.text = fonts.readable(&text.text),
            Shape::Dimension(dimension) => {
                dimension.text.text = fonts.readable(&dimension.text.text)
            }
            _ => {}
        }
    }
    drawing
}

fn faces(fonts: &Fonts) -> Arc<fontdb::Database> {
    static BUNDLED: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let bundled = BUNDLED.get_or_init(|| {
        let mut faces = fontdb::Database::new();
        for bytes in [notosans::REGULAR_TTF, notosans::BOLD_TTF] {
            faces.load_font_data(bytes.to_vec());
        }
        faces.set_sans_serif_family("Noto Sans");
        Arc::new(faces)
    });
    let given: Vec<_> = fonts
        .faces()
        .iter()
        .filter_map(|face| match &face.data {
            Bytes::Given(bytes) => Some(Arc::clone(bytes)),
            Bytes::Bundled(_) => None,
        })
        .collect();
    if given.is_empty() {
        return Arc::clone(bundled);
    }
    let mut faces = fontdb::Database::clone(bundled);
    for bytes in given {
        faces.load_font_source(fontdb::Source::Binary(bytes));
    }
    Arc::new(faces)
}
