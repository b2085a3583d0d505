//! Drawings as DXF for machines that cut, drill and score.
//!
//! AutoCAD Release 12's ASCII form (AC1009), the one that everything reads, from memory of its published
//! reference: tables of line types, layers and text styles, then entities. Lines, circles, polylines and
//! texts only; model space is the paper at full size in millimetres, y up. `$INSUNITS` and
//! `$MEASUREMENT` are younger than Release 12, but readers take them from any file that has them.
//!
//! Each [`Layer`] that is used becomes a layer of its own name, so that a machine can be told what to do
//! with it. Fills and cleared paper are left out: a machine has no use for ink.

use super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Point, Shape, Text, Turn};
use super::hatch::hatch_lines;

/// A DXF line type: its name, what it is, its dashes (positive) and gaps (negative), mm.
struct LineType {
    name: &'static str,
    words: &'static str,
    pen: Pen,
}

const LINE_TYPES: [LineType; 4] = [
    LineType { name: "CONTINUOUS", words: "Solid line", pen: Pen::Thin },
    LineType { name: "HIDDEN", words: "Dashed", pen: Pen::Hidden },
    LineType { name: "CENTER", words: "Long dash and dot", pen: Pen::Centre },
    LineType { name: "PHANTOM", words: "Long dash and two dots", pen: Pen::Phantom },
];

/// Writes a drawing as a DXF file in ASCII with CRLF line ends.
///
/// Places are written to 1e-7 mm, so that whatever is a whole number of 12.5 nm comes back exact.
/// O(shapes).
pub fn dxf(drawing: &Drawing) -> String {
    let mut out = Writer { text: String::new(), height: drawing.height, layer: Layer::Work };
    out.header(drawing);
    out.tables(drawing);
    out.pairs(&[(0, "SECTION"), (2, "BLOCKS"), (0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")]);
    for layer in Layer::ALL {
        out.layer = layer;
        for item in drawing.items.iter().filter(|item| item.layer == layer) {
            out.shape(&item.shape);
        }
    }
    out.pairs(&[(0, "ENDSEC"), (0, "EOF")]);
    out.text
}

struct Writer {
    text: String,
    /// Height of the paper, from which y is turned up.
    height: f64,
    layer: Layer,
}

impl Writer {
    fn pair(&mut self, code: i32, value: &str) {
        self.text.push_str(&format!("{code:>3}\r\n{value}\r\n"));
    }

    fn pairs(&mut self, pairs: &[(i32, &str)]) {
        pairs.iter().for_each(|(code, value)| self.pair(*code, value));
    }

    fn number(&mut self, code: i32, value: f64) {
        self.pair(code, &decimal(value));
    }

    /// A point under the codes `code`, `code + 10` and `code + 20`.
    fn point(&mut self, code: i32, p: Point) {
        self.number(code, p.x);
        self.number(code + 10, self.height - p.y);
        self.number(code + 20, 0.0);
    }

    fn header(&mut self, drawing: &Drawing) {
        self.pairs(&[(0, "SECTION"), (2, "HEADER")]);
        self.pairs(&[(9, "$ACADVER"), (1, "AC1009")]);
        self.pairs(&[(9, "$INSUNITS"), (70, "4"), (9, "$MEASUREMENT"), (70, "1")]);
        self.pairs(&[(9, "$LUNITS"), (70, "2"), (9, "$LUPREC"), (70, "4")]);
        for (name, p) in [
            ("$EXTMIN", Point { x: 0.0, y: drawing.height }),
            ("$EXTMAX", Point { x: drawing.width, y: 0.0 }),
        ] {
            self.pair(9, name);
            self.point(10, p);
        }
        self.pairs(&[(0, "ENDSEC")]);
    }

    fn tables(&mut self, drawing: &Drawing) {
        self.pairs(&[(0, "SECTION"), (2, "TABLES")]);
        self.pairs(&[(0, "TABLE"), (2, "LTYPE"), (70, &LINE_TYPES.len().to_string())]);
        for kind in &LINE_TYPES {
            let dashes = kind.pen.dashes();
            let total: f64 = dashes.iter().sum();
            self.pairs(&[(0, "LTYPE"), (2, kind.name), (70, "0"), (3, kind.words), (72, "65")]);
            self.pair(73, &dashes.len().to_string());
            self.number(40, total);
            for (i, dash) in dashes.iter().enumerate() {
                self.number(49, if i % 2 == 0 { *dash } else { -dash });
            }
        }
        self.pair(0, "ENDTAB");
        let used = |layer: &Layer| drawing.items.iter().any(|item| item.layer == *layer);
        let layers: Vec<Layer> = Layer::ALL.into_iter().filter(used).collect();
        self.pairs(&[(0, "TABLE"), (2, "LAYER"), (70, &(layers.len() + 1).to_string())]);
        self.layer_entry("0", 7);
        for layer in layers {
            self.layer_entry(&layer.name().to_uppercase(), colour(layer));
        }
        self.pair(0, "ENDTAB");
        self.pairs(&[(0, "TABLE"), (2, "STYLE"), (70, "1"), (0, "STYLE"), (2, "STANDARD")]);
        self.pairs(&[(70, "0"), (40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0"), (42, "2.5")]);
        self.pairs(&[(3, "txt"), (4, ""), (0, "ENDTAB"), (0, "ENDSEC")]);
    }

    fn layer_entry(&mut self, name: &str, colour: u8) {
        self.pairs(&[(0, "LAYER"), (2, name), (70, "0")]);
        self.pairs(&[(62, &colour.to_string()), (6, "CONTINUOUS")]);
    }

    fn begin(&mut self, kind: &str, pen: Option<Pen>) {
        self.pairs(&[(0, kind), (8, &self.layer.name().to_uppercase())]);
        if let Some(name) = pen.and_then(line_type) {
            self.pair(6, name);
        }
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Line { from, to, pen } => self.line(*from, *to, *pen),
            Shape::Rect { rect: r, pen, fill } => {
                let p = |x, y| Point { x, y };
                let corners = [p(r.x0, r.y0), p(r.x1, r.y0), p(r.x1, r.y1), p(r.x0, r.y1)];
                self.polyline(&corners, true, *pen, *fill);
            }
            Shape::Path { points, closed, pen, fill } => {
                self.polyline(points, *closed, *pen, *fill)
            }
            Shape::Circle { centre, radius, pen, fill } => {
                if pen.is_some() || *fill == Fill::Black {
                    self.begin("CIRCLE", *pen);
                    self.point(10, *centre);
                    self.number(40, *radius);
                }
            }
            Shape::Text(text) => self.words(text),
            Shape::Dimension(dimension) => {
                dimension.parts().iter().for_each(|part| self.shape(part));
            }
        }
    }

    fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.begin("LINE", Some(pen));
        self.point(10, from);
        self.point(11, to);
    }

    fn polyline(&mut self, points: &[Point], closed: bool, pen: Option<Pen>, fill: Fill) {
        if points.len() < 2 {
            return;
        }
        if let Fill::Hatched(hatch) = fill {
            hatch_lines(points, hatch).into_iter().for_each(|(p, q)| self.line(p, q, Pen::Thin));
        }
        if pen.is_none() && fill != Fill::Black {
            return;
        }
        self.begin("POLYLINE", pen);
        self.pairs(&[(66, "1"), (10, "0.0"), (20, "0.0"), (30, "0.0")]);
        self.pair(70, if closed { "1" } else { "0" });
        for p in points {
            self.begin("VERTEX", None);
            self.point(10, *p);
        }
        self.begin("SEQEND", None);
    }

    fn words(&mut self, text: &Text) {
        if text.text.trim().is_empty() {
            return;
        }
        self.begin("TEXT", None);
        self.point(10, text.at);
        self.number(40, text.height);
        self.pair(1, &escape(&text.text));
        self.number(50, if text.turn == Turn::Upward { 90.0 } else { 0.0 });
        self.pair(7, "STANDARD");
        let across = match text.anchor {
            Anchor::Start => return,
            Anchor::Middle => "1",
            Anchor::End => "2",
        };
        self.pair(72, across);
        self.point(11, text.at);
    }
}

/// Colours by number, as screens show them: white, red, green, yellow ... None means anything here; they
/// only tell layers apart.
fn colour(layer: Layer) -> u8 {
    match layer {
        Layer::Cut => 1,
        Layer::Score => 3,
        Layer::Drill => 5,
        Layer::Surroundings => 8,
        _ => 7,
    }
}

fn line_type(pen: Pen) -> Option<&'static str> {
    match pen {
        Pen::Thick | Pen::Thin => None,
        _ => LINE_TYPES.iter().find(|kind| kind.pen == pen).map(|kind| kind.name),
    }
}

/// A decimal to 1e-7, always with a point and never a negative nought; 0.0 for what is no number.
fn decimal(value: f64) -> String {
    let fixed = format!("{:.7}", if value.is_finite() { value } else { 0.0 });
    let short = fixed.trim_end_matches('0');
    match short {
        "-0." => "0.0".to_owned(),
        _ if short.ends_with('.') => format!("{short}0"),
        _ => short.to_owned(),
    }
}

/// ASCII with `\U+XXXX` for the rest, as readers of this form expect.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\u{a0}' | '\t' | '\r' | '\n' => out.push(' '),
            ' '..='~' => out.push(c),
            c if u32::from(c) <= 0xffff && !c.is_control() => {
                out.push_str(&format!("\\U+{:04X}", u32::from(c)));
            }
            _ => out.push('?'),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{NOTE, at};

    #[test]
    fn decimals_are_exact_to_the_quantum_and_plain() {
        for (value, text) in [
            (0.198_437_5, "0.1984375"),
            (0.000_012_5, "0.0000125"),
            (2438.4, "2438.4"),
            (-0.0, "0.0"),
            (-1e-12, "0.0"),
            (f64::NAN, "0.0"),
            (10.0, "10.0"),
        ] {
            assert_eq!(decimal(value), text);
        }
    }

    #[test]
    fn layers_are_declared_and_text_is_ascii() {
        let mut d = Drawing::new("t", "d", (100.0, 50.0));
        d.line(Layer::Cut, at(0.0, 50.0), at(100.0, 0.0), Pen::Hidden);
        d.add(Layer::Labels, Text::new(at(1.0, 1.0), "3\u{a0}× \u{1f600}", NOTE, Anchor::Middle));
        let written = dxf(&d);
        assert!(written.is_ascii());
        assert!(written.contains("3 \\U+00D7 ?"));
        for name in ["CUT", "LABELS"] {
            assert!(written.contains(&format!("  2\r\n{name}\r\n")), "{name} is declared");
        }
        assert!(!written.contains("DRILL"), "what is not used is not declared");
        assert!(
            written
                .contains(" 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n 11\r\n100.0\r\n 21\r\n50.0")
        );
    }
}
