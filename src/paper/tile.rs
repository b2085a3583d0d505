//! A drawing at full size over as many pages as it takes.
//!
//! Neighbouring pages overlap; crosses on a lattice fixed to the drawing stand in every overlap, so that sheets are
//! laid cross on cross before they are taped. Each page has two rulers to check the print by, and a little map
//! that says which page lies where.

use super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Point, Rect, Shape, Text, at, rect};
use super::hatch::hatch_lines;
use super::measure::{NOTE, SMALL, shorten, text_box, text_width, wrap};
use super::view::PageSize;

/// White at the paper's edge, mm: more than ordinary printers leave.
const EDGE: f64 = 10.0;
/// Room at the foot for rulers, map and words, mm.
const FOOT: f64 = 26.0;
/// How much neighbouring pages share, mm.
const OVERLAP: f64 = 15.0;
/// Corners of the chain that stands for a circle.
const ROUND: u32 = 72;

/// Tiles a drawing, made at full size, over upright pages; one page if it fits one. O(shapes × pages).
pub fn tiles(drawing: &Drawing, size: PageSize) -> Vec<Drawing> {
    let (width, height) = size.upright();
    let window = rect(EDGE, EDGE, width - EDGE, height - EDGE - FOOT);
    let count = |extent: f64, room: f64| -> usize {
        if extent <= room { 1 } else { ((extent - OVERLAP) / (room - OVERLAP)).ceil() as usize }
    };
    let (across, down) =
        (count(drawing.width, window.width()), count(drawing.height, window.height()));
    let step = (window.width() - OVERLAP, window.height() - OVERLAP);
    let mut pages = Vec::with_capacity(across * down);
    for row in 0..down {
        for column in 0..across {
            let from = at(step.0 * column as f64, step.1 * row as f64);
            let name = sheet_name(row, column);
            let mut page = Drawing::new(&drawing.title, String::new(), (width, height));
            page.description = if across * down == 1 {
                format!("{} Full size.", drawing.description)
            } else {
                format!(
                    "{} Full size, sheet {name} of {across} across and {down} down.",
                    drawing.description
                )
            };
            for item in &drawing.items {
                let moved = item.shape.moved(window.x0 - from.x, window.y0 - from.y);
                page.add_all(item.layer, clipped(&moved, window));
            }
            marks(&mut page, window, (row, column), (down, across));
            foot(&mut page, window, &drawing.title, (row, column), (down, across));
            pages.push(page);
        }
    }
    pages
}

/// Rows by letter, columns by number: `B2`.
fn sheet_name(row: usize, column: usize) -> String {
    let letter = u8::try_from(row).ok().filter(|r| *r < 26).map_or('?', |r| char::from(b'A' + r));
    format!("{letter}{}", column + 1)
}

/// Edges of the shared strips, dashed, with a cross at each end; nothing at the drawing's own edges.
fn marks(
    page: &mut Drawing,
    w: Rect,
    (row, column): (usize, usize),
    (down, across): (usize, usize),
) {
    let layer = Layer::Surroundings;
    let half = OVERLAP / 2.0;
    let mut crosses = Vec::new();
    for (is, x) in [(column > 0, w.x0), (column + 1 < across, w.x1 - OVERLAP)] {
        if is {
            for line in [x, x + OVERLAP] {
                page.line(layer, at(line, w.y0), at(line, w.y1), Pen::Hidden);
            }
            let ys = [w.y0 + half, w.centre().y, w.y1 - half];
            crosses.extend(ys.map(|y| at(x + half, y)));
        }
    }
    for (is, y) in [(row > 0, w.y0), (row + 1 < down, w.y1 - OVERLAP)] {
        if is {
            for line in [y, y + OVERLAP] {
                page.line(layer, at(w.x0, line), at(w.x1, line), Pen::Hidden);
            }
            let xs = [w.x0 + half, w.centre().x, w.x1 - half];
            crosses.extend(xs.map(|x| at(x, y + half)));
        }
    }
    for c in crosses {
        page.line(layer, at(c.x - 3.0, c.y), at(c.x + 3.0, c.y), Pen::Thin);
        page.line(layer, at(c.x, c.y - 3.0), at(c.x, c.y + 3.0), Pen::Thin);
        let ring = Shape::Circle { centre: c, radius: 1.5, pen: Some(Pen::Thin), fill: Fill::None };
        page.add(layer, ring);
    }
}

/// Rulers of 100 mm and 4 in, what it is, and where this page lies.
fn foot(
    page: &mut Drawing,
    w: Rect,
    title: &str,
    here: (usize, usize),
    (down, across): (usize, usize),
) {
    let layer = Layer::Frame;
    let (height, lines) = titled(title, w.width());
    let mut top = w.y1 + 2.0;
    for line in &lines {
        top += NAME_PITCH;
        page.add(layer, Text::new(at(w.x0, top - 1.2), line, height, Anchor::Start).bold());
    }
    top += 1.5;
    ruler(page, at(w.x0, top), (100.0, 10.0), "100 mm");
    ruler(page, at(w.x0, top + 8.0), (101.6, 25.4), "4 in");
    let mut say = |y: f64, text: &str| {
        page.add(layer, Text::new(at(w.x0 + 118.0, top + y), text, SMALL, Anchor::Start));
    };
    say(2.4, "Print at 100 %, then measure");
    say(5.4, "both rulers: full size or not at all.");
    if down * across > 1 {
        say(10.4, &format!("Sheet {}: lay cross on cross.", sheet_name(here.0, here.1)));
        map(page, rect(w.x1 - 24.0, top, w.x1, top + 14.0), here, (down, across));
    }
}

/// Distance of the lines of a title, mm.
const NAME_PITCH: f64 = 3.8;

/// A title over the width of the page: in one line, or else in two, smaller if need be; one that is too long even so is cut.
fn titled(title: &str, room: f64) -> (f64, Vec<String>) {
    // Measured as bold words, which are wider.
    let fits = |line: &String, height: f64| text_width(line, height, true) <= room;
    for (height, most) in [(NOTE, 1), (SMALL, 1), (NOTE, 2), (SMALL, 2)] {
        let narrower = room / text_width("Lock", height, true) * text_width("Lock", height, false);
        let lines = wrap(title, height, narrower).unwrap_or_default();
        if (1..=most).contains(&lines.len()) && lines.iter().all(|line| fits(line, height)) {
            return (height, lines);
        }
    }
    (SMALL, vec![shorten(title, SMALL, true, room)])
}

fn ruler(page: &mut Drawing, from: Point, (length, step): (f64, f64), text: &str) {
    let layer = Layer::Frame;
    page.line(layer, from, at(from.x + length, from.y), Pen::Thin);
    let steps = (length / step).round() as usize;
    for i in 0..=steps {
        let x = from.x + step * i as f64;
        let tall = if i == 0 || i == steps { 4.0 } else { 2.0 };
        page.line(layer, at(x, from.y), at(x, from.y + tall), Pen::Thin);
    }
    let place = at(from.x + length + 1.5, from.y + 2.6);
    page.add(layer, Text::new(place, text, SMALL, Anchor::Start));
}

fn map(page: &mut Drawing, room: Rect, here: (usize, usize), (down, across): (usize, usize)) {
    let cell = (room.width() / across as f64).min(room.height() / down as f64).min(8.0);
    let x0 = room.x1 - cell * across as f64;
    for row in 0..down {
        for column in 0..across {
            let (x, y) = (x0 + cell * column as f64, room.y0 + cell * row as f64);
            let fill = if (row, column) == here { Fill::Black } else { Fill::None };
            page.rect(Layer::Frame, rect(x, y, x + cell, y + cell), Pen::Thin, fill);
        }
    }
}

/// What of a shape lies in a window. Texts are kept whole or not at all; areas lose their fill but keep
/// their hatching.
fn clipped(shape: &Shape, w: Rect) -> Vec<Shape> {
    if shape.ink().is_some_and(|ink| w.contains(&ink)) {
        return vec![shape.clone()];
    }
    let line = |from: Point, to: Point, pen: Pen| {
        w.clip(from, to).map(|(from, to)| Shape::Line { from, to, pen })
    };
    let chain = |points: &[Point], closed: bool, pen: Pen| -> Vec<Shape> {
        let next = points.iter().cycle().skip(1);
        let last = points.len() - usize::from(!closed);
        points.iter().zip(next).take(last).filter_map(|(p, q)| line(*p, *q, pen)).collect()
    };
    match shape {
        Shape::Line { from, to, pen } => line(*from, *to, *pen).into_iter().collect(),
        Shape::Rect { rect: r, pen, fill } => {
            let points = vec![at(r.x0, r.y0), at(r.x1, r.y0), at(r.x1, r.y1), at(r.x0, r.y1)];
            clipped(&Shape::Path { points, closed: true, pen: *pen, fill: *fill }, w)
        }
        Shape::Path { points, closed, pen, fill } => {
            let mut out = Vec::new();
            if let (true, Fill::Hatched(hatch)) = (*closed, fill) {
                let lines = hatch_lines(points, *hatch);
                out.extend(lines.into_iter().filter_map(|(p, q)| line(p, q, Pen::Thin)));
            }
            if let (Some(pen), false) = (pen, points.is_empty()) {
                out.extend(chain(points, *closed, *pen));
            }
            out
        }
        Shape::Circle { centre, radius, pen, .. } => {
            let corner = |i: u32| {
                let turn = f64::from(i) / f64::from(ROUND) * std::f64::consts::TAU;
                at(centre.x + radius * libm::cos(turn), centre.y + radius * libm::sin(turn))
            };
            let points: Vec<Point> = (0..ROUND).map(corner).collect();
            pen.map_or_else(Vec::new, |pen| chain(&points, true, pen))
        }
        Shape::Text(text) => {
            if w.contains(&text_box(text)) {
                vec![shape.clone()]
            } else {
                Vec::new()
            }
        }
        Shape::Dimension(dimension) => {
            dimension.parts().iter().flat_map(|part| clipped(part, w)).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_millimetre_is_on_a_page_and_pages_join() {
        let mut d = Drawing::new("panel", "A panel.", (500.0, 300.0));
        d.rect(Layer::Cut, rect(0.0, 0.0, 500.0, 300.0), Pen::Thick, Fill::None);
        d.line(Layer::Score, at(0.0, 150.0), at(500.0, 150.0), Pen::Thin);
        let pages = tiles(&d, PageSize::A4);
        assert_eq!(pages.len(), 3 * 2);
        let length = |page: &Drawing| -> f64 {
            let scored = page.items.iter().filter(|i| i.layer == Layer::Score);
            scored.filter_map(|i| i.shape.ink()).map(|r| r.width()).sum()
        };
        let first: f64 = pages[..3].iter().map(length).sum();
        assert!(
            (first - 500.0 - 2.0 * OVERLAP).abs() < 1e-9,
            "shared strips are drawn twice: {first}"
        );
        for page in &pages {
            assert!(page.page().contains(&page.ink().expect("rulers")));
        }
        let small = Drawing::new("plate", "A plate.", (50.0, 30.0));
        assert_eq!(tiles(&small, PageSize::Letter).len(), 1);
    }

    #[test]
    fn titles_are_whole_on_every_page() {
        let marks: Vec<String> = (1..30).map(|n| format!("B{n}")).collect();
        let title = format!("Left end of a board: {}", marks.join(", "));
        for (size, extent) in [(PageSize::A4, (500.0, 300.0)), (PageSize::Letter, (50.0, 30.0))] {
            for page in tiles(&Drawing::new(&title, "A panel.", extent), size) {
                let texts: Vec<&str> =
                    page.text_boxes().into_iter().map(|(_, text)| text).collect();
                assert!(texts.join(" ").contains(&title), "{texts:?}");
                for (ink, text) in page.text_boxes() {
                    assert!(page.page().contains(&ink), "{text}");
                }
            }
        }
        let (_, lines) = titled(&"endless".repeat(60), 190.0);
        assert!(lines.len() == 1 && lines[0].ends_with("..."), "{lines:?}");
    }

    #[test]
    fn rulers_are_as_long_as_they_say() {
        let pages = tiles(&Drawing::new("plate", "A plate.", (50.0, 30.0)), PageSize::Letter);
        let level = |item: &&super::super::drawing::Item| matches!(&item.shape, Shape::Line { from, to, .. } if from.y == to.y);
        let lengths: Vec<f64> = pages[0]
            .items
            .iter()
            .filter(level)
            .filter_map(|i| i.shape.ink())
            .map(|r| r.width())
            .collect();
        assert!(lengths.iter().any(|l| (l - 100.0).abs() < 1e-9));
        assert!(lengths.iter().any(|l| (l - 101.6).abs() < 1e-9));
    }
}
