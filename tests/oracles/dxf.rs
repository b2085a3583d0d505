//! DXF files opened and audited by ezdxf, which shares nothing with the writer.

use bedwright::paper::{
    Anchor, DimensionRows, Drawing, Fill, Hatch, Layer, NOTE, Pen, Shape, Side, Span, Text, at,
    dxf, rect,
};
use bedwright::units::Length;
use serde_json::{Value, json};

use crate::ask;

/// A part with holes, in lengths that are no round decimals.
fn part(width: Length, height: Length, holes: &[(Length, Length, Length)]) -> Drawing {
    let mut d = Drawing::new("part", "A part.", (width.to_mm(), height.to_mm()));
    d.rect(Layer::Cut, rect(0.0, 0.0, d.width, d.height), Pen::Thick, Fill::None);
    for (x, y, radius) in holes {
        let centre = at(x.to_mm(), y.to_mm());
        let shape = Shape::Circle {
            centre,
            radius: radius.to_mm(),
            pen: Some(Pen::Thin),
            fill: Fill::None,
        };
        d.add(Layer::Drill, shape);
    }
    d
}

/// A drawing with one of everything.
fn everything() -> Drawing {
    let mut d = Drawing::new("everything", "One of each.", (210.0, 297.0));
    d.rect(Layer::Work, rect(20.0, 20.0, 120.0, 90.0), Pen::Thick, Fill::Hatched(Hatch::Rising));
    let bend = vec![at(0.0, 0.0), at(10.0, 5.0), at(20.0, 0.0)];
    for (closed, pen) in [(false, Pen::Hidden), (true, Pen::Phantom)] {
        let points = bend.clone();
        d.add(Layer::Score, Shape::Path { points, closed, pen: Some(pen), fill: Fill::Black });
    }
    d.line(Layer::Surroundings, at(1.0, 1.0), at(9.0, 9.0), Pen::Centre);
    for (i, anchor) in [Anchor::Start, Anchor::Middle, Anchor::End].into_iter().enumerate() {
        let place = at(50.0, 150.0 + 10.0 * i as f64);
        d.add(Layer::Labels, Text::new(place, "S1 × 75 1/4 漢", NOTE, anchor));
    }
    let mut rows = DimensionRows::around(rect(20.0, 20.0, 120.0, 90.0));
    d.add_all(Layer::Dimensions, rows.row(Side::Left, &[Span::new(20.0, 90.0, "27 9/16")]));
    d
}

#[test]
fn an_independent_reader_finds_no_fault_and_the_exact_sizes() {
    let (w, h) = (Length::inches(75 * 128 + 31, 128), Length::inches(23 * 64 + 17, 64));
    let holes = [
        (Length::inches(127, 128), Length::inches(5, 64), Length::MM * 2),
        (w / 2, h / 2, Length::MM * 4),
    ];
    let drawings =
        [part(w, h, &holes), everything(), Drawing::new("empty", "Nothing.", (1.0, 1.0))];
    let files: Vec<String> = drawings.iter().map(dxf).collect();
    let Some(answer) = ask("dxf.py", &["ezdxf"], &json!({ "files": files })) else { return };
    for read in answer.as_array().expect("one answer a file") {
        for list in ["errors", "fixes"] {
            assert_eq!(read[list], json!([]), "a strict audit");
        }
        assert_eq!(
            (&read["version"], &read["units"], &read["measurement"]),
            (&json!("AC1009"), &json!(4), &json!(1))
        );
    }
    let number = |v: &Value| v.as_f64().expect("a number");
    let outline = &answer[0]["polylines"][0];
    assert_eq!((&outline["layer"], &outline["closed"]), (&json!("CUT"), &json!(true)));
    let points = outline["points"].as_array().expect("corners");
    let most = |axis: usize| points.iter().map(|p| number(&p[axis])).fold(0.0_f64, f64::max);
    assert_eq!((most(0), most(1)), (w.to_mm(), h.to_mm()), "to the last digit");
    for (circle, (x, y, radius)) in
        answer[0]["circles"].as_array().expect("holes").iter().zip(holes)
    {
        assert_eq!(circle["layer"], "DRILL");
        let place = (number(&circle["at"][0]), number(&circle["at"][1]));
        assert_eq!(place, (x.to_mm(), (h - y).to_mm()), "y is up");
        assert_eq!(number(&circle["radius"]), radius.to_mm());
    }
    let layers = |i: usize| answer[i]["layers"].to_string();
    for name in ["CUT", "DRILL"] {
        assert!(layers(0).contains(name) && !layers(2).contains(name));
    }
    assert!(answer[1]["texts"].to_string().contains("S1 × 75 1/4 漢"), "{}", answer[1]["texts"]);
    assert!(number(&answer[1]["lines"]) > 20.0, "hatching and dimensions are lines");
}
