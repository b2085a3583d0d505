//! Drawings as SVG.
//!
//! Plain SVG 1.1: a millimetre view box, no script, no style sheet, no fonts but the generic one,
//! nothing that a browser, a vector editor or a print shop would read differently. The same drawing
//! gives the same bytes.

use super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Point, Rect, Shape, Text, Turn};
use super::hatch::hatch_lines;
use super::measure::{EM, text_box};
use super::setting::set;

/// Writes a drawing as an SVG document in UTF-8.
pub fn svg(drawing: &Drawing) -> String {
    let (w, h) = (number(drawing.width), number(drawing.height));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\" role=\"img\" font-family=\"Noto Sans, sans-serif\" xml:space=\"preserve\" fill=\"none\">\n"
    ));
    out.push_str(&format!("<title>{}</title>\n", escape(&drawing.title)));
    out.push_str(&format!("<desc>{}</desc>\n", escape(&drawing.description)));
    // The sheet itself, so that it is black on white in a viewer with a dark ground too.
    out.push_str(&format!("<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n"));
    for layer in Layer::ALL {
        let shapes = drawing.items.iter().filter(|item| item.layer == layer);
        let mut group = String::new();
        for item in shapes {
            write_shape(&mut group, &item.shape);
        }
        if !group.is_empty() {
            out.push_str(&format!("<g class=\"{}\">\n{group}</g>\n", layer.name()));
        }
    }
    out.push_str("</svg>\n");
    out
}

fn write_shape(out: &mut String, shape: &Shape) {
    match shape {
        Shape::Line { from, to, pen } => write_line(out, *from, *to, *pen),
        Shape::Rect { rect, pen, fill } => write_rect(out, rect, *pen, *fill),
        Shape::Path { points, closed, pen, fill } => {
            write_path(out, points, *closed, *pen, *fill);
        }
        Shape::Circle { centre, radius, pen, fill } => {
            let paint =
                paint(*pen, if matches!(fill, Fill::Hatched(_)) { Fill::White } else { *fill });
            let (x, y, r) = (number(centre.x), number(centre.y), number(*radius));
            out.push_str(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{paint}/>\n"));
        }
        Shape::Text(text) => write_text(out, text),
        Shape::Dimension(dimension) => {
            for part in dimension.parts() {
                write_shape(out, &part);
            }
        }
    }
}

fn write_line(out: &mut String, from: Point, to: Point, pen: Pen) {
    let (x1, y1, x2, y2) = (number(from.x), number(from.y), number(to.x), number(to.y));
    let paint = paint(Some(pen), Fill::None);
    out.push_str(&format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"{paint}/>\n"));
}

fn write_rect(out: &mut String, r: &Rect, pen: Option<Pen>, fill: Fill) {
    let place = format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"",
        number(r.x0),
        number(r.y0),
        number(r.width()),
        number(r.height())
    );
    let Fill::Hatched(hatch) = fill else {
        out.push_str(&format!("{place}{}/>\n", paint(pen, fill)));
        return;
    };
    let corners = [
        Point { x: r.x0, y: r.y0 },
        Point { x: r.x1, y: r.y0 },
        Point { x: r.x1, y: r.y1 },
        Point { x: r.x0, y: r.y1 },
    ];
    out.push_str(&format!("{place}{}/>\n", paint(None, Fill::White)));
    write_hatch(out, &hatch_lines(&corners, hatch));
    if pen.is_some() {
        out.push_str(&format!("{place}{}/>\n", paint(pen, Fill::None)));
    }
}

fn write_path(out: &mut String, points: &[Point], closed: bool, pen: Option<Pen>, fill: Fill) {
    let fill = if closed { fill } else { Fill::None };
    let tag = if closed { "polygon" } else { "polyline" };
    let corners: Vec<String> =
        points.iter().map(|p| format!("{},{}", number(p.x), number(p.y))).collect();
    let place = format!("<{tag} points=\"{}\"", corners.join(" "));
    let Fill::Hatched(hatch) = fill else {
        out.push_str(&format!("{place}{}/>\n", paint(pen, fill)));
        return;
    };
    out.push_str(&format!("{place}{}/>\n", paint(None, Fill::White)));
    write_hatch(out, &hatch_lines(points, hatch));
    if pen.is_some() {
        out.push_str(&format!("{place}{}/>\n", paint(pen, Fill::None)));
    }
}

fn write_hatch(out: &mut String, lines: &[(Point, Point)]) {
    if lines.is_empty() {
        return;
    }
    let path: Vec<String> = lines
        .iter()
        .map(|(p, q)| format!("M{} {}L{} {}", number(p.x), number(p.y), number(q.x), number(q.y)))
        .collect();
    out.push_str(&format!(
        "<path d=\"{}\"{}/>\n",
        path.concat(),
        paint(Some(Pen::Thin), Fill::None)
    ));
}

fn write_text(out: &mut String, text: &Text) {
    if text.clear {
        write_rect(out, &text_box(text), None, Fill::White);
    }
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let (x, y) = (number(text.at.x), number(text.at.y));
    let turn = match text.turn {
        Turn::Level => String::new(),
        Turn::Upward => format!(" transform=\"rotate(-90 {x} {y})\""),
    };
    let weight = if text.bold { " font-weight=\"bold\"" } else { "" };
    out.push_str(&format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"{anchor}{weight}{turn} fill=\"#000\">{}</text>\n",
        number(text.height * EM),
        pieces(&text.text, text.height)
    ));
}

/// The text with its fractions as spans of their own size and height.
fn pieces(text: &str, height: f64) -> String {
    let mut out = String::new();
    let mut risen = 0.0;
    for piece in set(text) {
        if piece.size == 1.0 && piece.rise == risen {
            out.push_str(&escape(piece.text));
            continue;
        }
        let size = number(piece.size * height * EM);
        let shift = (risen - piece.rise) * height;
        let dy = if shift == 0.0 { String::new() } else { format!(" dy=\"{}\"", number(shift)) };
        let words = escape(piece.text);
        out.push_str(&format!("<tspan font-size=\"{size}\"{dy}>{words}</tspan>"));
        risen = piece.rise;
    }
    out
}

/// Stroke and fill attributes, each with a leading blank.
fn paint(pen: Option<Pen>, fill: Fill) -> String {
    let mut out = String::new();
    match fill {
        Fill::None | Fill::Hatched(_) => {}
        Fill::White => out.push_str(" fill=\"#fff\""),
        Fill::Black => out.push_str(" fill=\"#000\""),
    }
    if let Some(pen) = pen {
        out.push_str(&format!(" stroke=\"#000\" stroke-width=\"{}\"", number(pen.width())));
        if !pen.dashes().is_empty() {
            let dashes: Vec<String> = pen.dashes().iter().map(|d| number(*d)).collect();
            out.push_str(&format!(" stroke-dasharray=\"{}\"", dashes.join(" ")));
        }
    }
    out
}

/// Thousandths of a millimetre, as short as can be, and never a negative nought. What is no number
/// is drawn at the origin rather than spoiling the file.
fn number(mm: f64) -> String {
    let thousandths = if mm.is_finite() { (mm * 1000.0).round() as i64 } else { 0 };
    let sign = if thousandths < 0 { "-" } else { "" };
    let (whole, rest) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{}", format!("{rest:03}").trim_end_matches('0'))
}

/// Text safe between tags and within quotes. XML 1.0 (section 2.2) allows no control characters but
/// tab and line ends, and not U+FFFE or U+FFFF: those become the replacement character.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}
