//! Drawings held against kept copies of themselves, for tests.
//!
//! A copy is the drawing's SVG in `tests/golden`. Where a drawing differs, three pictures are written to
//! `target/golden`: as it was, as it is, and where they part. `BEDWRIGHT_RENEW=1 cargo test` keeps the new ones.

use std::fs;
use std::path::{Path, PathBuf};

use resvg::tiny_skia::{ColorU8, Pixmap};

use super::drawing::Drawing;
use super::font::Fonts;
use super::png::picture;
use super::svg::svg;

/// Dots to a millimetre.
const DOTS: f64 = 6.0;

/// Fails if a drawing is not the kept one of that name.
#[track_caller]
pub fn assert_kept(name: &str, drawing: &Drawing) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let kept = root.join("tests/golden").join(format!("{name}.svg"));
    let now = svg(drawing);
    if std::env::var_os("BEDWRIGHT_RENEW").is_some() {
        fs::write(&kept, now).expect("tests/golden can be written");
        return;
    }
    let was = fs::read_to_string(&kept)
        .unwrap_or_else(|error| panic!("{}: {error}; BEDWRIGHT_RENEW=1 makes it", kept.display()));
    if was == now {
        return;
    }
    let line = was.lines().zip(now.lines()).position(|(a, b)| a != b);
    let shown = pictures(&root.join("target/golden"), name, [&was, &now]);
    let shown: Vec<String> = shown.iter().map(|path| path.display().to_string()).collect();
    panic!(
        "{name} is drawn otherwise than kept, from line {} of its SVG on. Look at\n  {}\nand keep it with \
         BEDWRIGHT_RENEW=1 if it is right.",
        line.map_or_else(|| "the last".to_owned(), |line| (line + 1).to_string()),
        shown.join("\n  ")
    );
}

/// Writes the pictures of both and of where they differ: red where ink is gone, blue where it is new.
fn pictures(folder: &Path, name: &str, texts: [&str; 2]) -> Vec<PathBuf> {
    let fonts = Fonts::bundled();
    let [was, now] =
        texts.map(|text| size_of(text).and_then(|size| picture(text, size, DOTS, &fonts).ok()));
    fs::create_dir_all(folder).expect("target can be written");
    let mut written = Vec::new();
    let mut write = |what: &str, picture: &Pixmap| {
        let path = folder.join(format!("{name}-{what}.png"));
        picture.save_png(&path).expect("target can be written");
        written.push(path);
    };
    if let (Some(was), Some(now)) = (&was, &now) {
        write("difference", &difference(was, now));
    }
    was.iter().for_each(|picture| write("was", picture));
    now.iter().for_each(|picture| write("is", picture));
    written
}

/// Width and height of an SVG of ours, mm.
fn size_of(text: &str) -> Option<(f64, f64)> {
    let numbers = text.split_once("viewBox=\"0 0 ")?.1.split_once('"')?.0;
    let (width, height) = numbers.split_once(' ')?;
    Some((width.parse().ok()?, height.parse().ok()?))
}

/// Both pictures at once, the whole of either: grey where they agree.
pub(super) fn difference(was: &Pixmap, now: &Pixmap) -> Pixmap {
    let (wide, high) = (was.width().max(now.width()), was.height().max(now.height()));
    let mut out = Pixmap::new(wide, high).expect("no larger than one of them either way");
    // Beyond a picture's edge there is no ink.
    let ink = |of: &Pixmap, x: u32, y: u32| of.pixel(x, y).map_or(255, |dot| dot.green());
    for (place, dot) in (0..).zip(out.pixels_mut()) {
        let (x, y) = (place % wide, place / wide);
        let (a, b) = (ink(was, x, y), ink(now, x, y));
        let pale = |ink: u8| 191 + ink / 4;
        let (red, green, blue) = match a.cmp(&b) {
            std::cmp::Ordering::Equal => (pale(a), pale(a), pale(a)),
            std::cmp::Ordering::Less => (255, a, a),
            std::cmp::Ordering::Greater => (b, b, 255),
        };
        *dot = ColorU8::from_rgba(red, green, blue, 255).premultiply();
    }
    out
}
