//! Every drawing of every demo, measured: nothing leaves its page, no text covers another, no line goes through a
//! dimension's text, every dimension is as long on paper as it says at the drawing's scale, and chains add up.

use std::collections::BTreeMap;

use bedwright::build::work_plan;
use bedwright::design::work::Saw;
use bedwright::paper::flow::{compose, page_room};
use bedwright::paper::{
    Dimension, Drawing, Fonts, Item, Layer, PageSize, Pen, Point, Rect, Shape, Turn, at, rect, svg,
};
use bedwright::report::booklet::{self, Job, templates};
use bedwright::report::drawings;
use bedwright::units::{Length, UnitSystem, parse};
use bedwright::verify::verify_work;

use crate::{CAMPING, Demo, TRADE, VAN};

/// The height of capitals above the baseline, and what a line may touch of a text, mm.
const TOUCH: f64 = 0.1;

/// The best design's drawings with what they are called: files, figures of the booklet on a paper, templates.
fn all_of(demo: &Demo, size: PageSize) -> Vec<(String, Drawing)> {
    let (scenario, design) = (demo.scenario(), demo.best());
    let work = work_plan(scenario, design, design.cutting.clone(), 1, Saw::Guide);
    let work = verify_work(scenario, design, work).expect("it can be made");
    let job = Job { scenario, design, work: &work, size, sets: None };
    let named = drawings::drawings(design, scenario).into_iter();
    let mut all: Vec<(String, Drawing)> = named.map(|d| (d.name, d.drawing)).collect();
    let figures = drawings::figures(design, scenario, page_room(size)).into_iter();
    all.extend(figures.map(|d| (format!("figure {}", d.name), d.drawing)));
    all.extend(booklet::drawings(&job));
    all.extend(templates::templates(&job).into_iter().map(|t| (t.name, t.drawing)));
    let composed = compose(&booklet::booklet(&job), &Fonts::bundled());
    assert!(composed.overfull.is_empty(), "{:?}", composed.overfull);
    let pages = composed.document.pages.into_iter().enumerate();
    all.extend(pages.map(|(i, page)| (format!("page {}", i + 1), page)));
    all
}

/// Everything at once; what is wrong is listed with the drawing that it is wrong on.
fn assert_right(demo: &Demo, size: PageSize) {
    let scenario = demo.scenario();
    let fonts = Fonts::bundled();
    let mut faults: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let (mut measured, mut added) = (0, 0);
    for (name, drawing) in all_of(demo, size) {
        let mut wrong = on_the_page(&drawing, &fonts);
        wrong.extend(texts_apart(&drawing, &fonts));
        wrong.extend(texts_clear(&drawing, &fonts));
        if !name.starts_with("page ") {
            let (dims, sums, more) = lengths_true(&drawing, scenario.units);
            (measured, added) = (measured + dims, added + sums);
            wrong.extend(more);
            assert!(drawing.description.len() > 20, "{name} has no description");
            let text = svg(&drawing);
            assert!(text.contains("role=\"img\"") && text.contains("<title>"), "{name}");
        }
        if !wrong.is_empty() {
            faults.insert(name, wrong);
        }
    }
    assert!(measured > 60 && added > 8, "{measured} dimensions and {added} chains are too few");
    assert!(faults.is_empty(), "{}: {faults:#?}", scenario.title);
}

fn on_the_page(drawing: &Drawing, fonts: &Fonts) -> Vec<String> {
    let page = drawing.page().grown(0.01);
    let ink = |item: &Item| match &item.shape {
        Shape::Text(text) => Some(inked(text, fonts)),
        shape => shape.ink(),
    };
    let outside = |item: &&Item| ink(item).is_some_and(|ink| !page.contains(&ink));
    drawing.items.iter().filter(outside).map(|item| format!("off the page: {item:?}")).collect()
}

/// Where a text's ink is, in the bundled faces.
fn inked(text: &bedwright::paper::Text, fonts: &Fonts) -> Rect {
    let wide = fonts.width(&text.text, text.height, text.bold);
    let before = match text.anchor {
        bedwright::paper::Anchor::Start => 0.0,
        bedwright::paper::Anchor::Middle => wide / 2.0,
        bedwright::paper::Anchor::End => wide,
    };
    let (x, y) = (text.at.x, text.at.y);
    match text.turn {
        Turn::Level => rect(x - before, y - text.height, x - before + wide, y),
        Turn::Upward => rect(x - text.height, y + before - wide, x, y + before),
    }
}

fn texts(drawing: &Drawing) -> impl Iterator<Item = &bedwright::paper::Text> {
    let texts = drawing.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        Shape::Dimension(dimension) => Some(&dimension.text),
        _ => None,
    });
    texts.filter(|text| !text.text.trim().is_empty())
}

fn texts_apart(drawing: &Drawing, fonts: &Fonts) -> Vec<String> {
    let boxes: Vec<(Rect, &str)> =
        texts(drawing).map(|text| (inked(text, fonts), text.text.as_str())).collect();
    let mut wrong = Vec::new();
    for (i, (a, text)) in boxes.iter().enumerate() {
        for (b, other) in &boxes[i + 1..] {
            if a.grown(-TOUCH).overlaps(&b.grown(-TOUCH)) {
                wrong.push(format!("{text:?} covers {other:?}"));
            }
        }
    }
    wrong
}

/// No line through a dimension's text, its own included; none through a name that does not clear the paper first.
fn texts_clear(drawing: &Drawing, fonts: &Fonts) -> Vec<String> {
    let lines = drawing.lines();
    let mut wrong = Vec::new();
    let mut hold = |what: &str, text: &bedwright::paper::Text| {
        let own = inked(text, fonts).grown(-TOUCH);
        if let Some((p, q)) = lines.iter().find(|(p, q)| own.crossed(*p, *q)) {
            wrong.push(format!("a line {p:?} to {q:?} goes through the {what} {:?}", text.text));
        }
    };
    for item in &drawing.items {
        match &item.shape {
            Shape::Dimension(dimension) => hold("dimension", &dimension.text),
            Shape::Text(text) if item.layer == Layer::Frame => hold("note", text),
            _ => {}
        }
    }
    wrong
}

/// The n of the drawing's 1 : n, where it is one scale throughout; 1 for a template.
fn reduction(drawing: &Drawing) -> f64 {
    let scale = texts(drawing).find_map(|text| {
        let digits = text.text.trim_start_matches("Scale ").strip_prefix("1:")?;
        digits.trim_end_matches(|c: char| !c.is_ascii_digit()).split(',').next()?.parse().ok()
    });
    scale.unwrap_or(1.0)
}

/// Holds dimensions to their drawn lengths and to the chains that cover them: how many were measured and added.
fn lengths_true(drawing: &Drawing, units: UnitSystem) -> (usize, usize, Vec<String>) {
    let dims: Vec<(&Dimension, Length)> = drawing
        .items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Dimension(d) => Some((d, parse::length(&d.text.text, units).ok()?)),
            _ => None,
        })
        .collect();
    let n = reduction(drawing);
    let mut wrong = Vec::new();
    let mut chains = 0;
    for (d, says) in &dims {
        let drawn = (d.to.x - d.from.x).abs() + (d.to.y - d.from.y).abs();
        // A figure is rounded to what its unit system shows: 1/128 in or a hundredth of a millimetre at worst.
        if (drawn * n - says.to_mm()).abs() > 0.11 {
            wrong.push(format!("{:?} is drawn {} mm long at 1:{n}", d.text.text, drawn));
        }
        if let Some(parts) = covering(d, &dims) {
            chains += 1;
            let sum: Length = parts.iter().copied().sum();
            if sum.abs_diff(*says) > Length::MM / 5 {
                wrong.push(format!("{:?} is not the sum of {parts:?}", d.text.text));
            }
        }
    }
    (dims.len(), chains, wrong)
}

/// The dimensions on one line that together reach from end to end of another; two or more.
fn covering(whole: &Dimension, dims: &[(&Dimension, Length)]) -> Option<Vec<Length>> {
    let upright = (whole.to.x - whole.from.x).abs() < 1e-6;
    let along = |p: Point| if upright { p.y } else { p.x };
    let across = |p: Point| if upright { p.x } else { p.y };
    let ends = |d: &Dimension| {
        let (a, b) = (along(d.from), along(d.to));
        (a.min(b), a.max(b))
    };
    let (from, to) = ends(whole);
    let same_way = |d: &Dimension| ((d.to.x - d.from.x).abs() < 1e-6) == upright;
    dims.iter().filter(|(d, _)| same_way(d) && (ends(d).0 - from).abs() < 1e-6).find_map(
        |(first, _)| {
            let row: Vec<_> = dims
                .iter()
                .filter(|(d, _)| same_way(d) && (across(d.from) - across(first.from)).abs() < 1e-6)
                .collect();
            let (mut at, mut parts) = (from, Vec::new());
            while at < to - 1e-6 {
                let (next, length) = row.iter().find(|(d, _)| (ends(d).0 - at).abs() < 1e-6)?;
                at = ends(next).1;
                parts.push(*length);
            }
            (parts.len() > 1 && (at - to).abs() < 1e-6).then_some(parts)
        },
    )
}

#[test]
fn a_trades_full_size_bed() {
    assert_right(&TRADE, PageSize::Letter);
}

#[test]
fn a_mid_size_bed_for_camping() {
    assert_right(&CAMPING, PageSize::A4);
}

#[test]
fn a_van_floor_in_millimetres() {
    assert_right(&VAN, PageSize::A4);
}

/// What the measures find, they find: a drawing with one of each fault.
#[test]
fn faults_of_a_drawing_are_found() {
    let mut d = Drawing::new("bad", "A drawing with faults.", (100.0, 60.0));
    let words = |x: f64, text: &str| {
        bedwright::paper::Text::new(at(x, 30.0), text, 2.5, bedwright::paper::Anchor::Start)
    };
    d.add(Layer::Frame, words(10.0, "one"));
    d.add(Layer::Frame, words(11.0, "two"));
    d.line(Layer::Work, at(90.0, 10.0), at(110.0, 10.0), Pen::Thin);
    let dimension = |x0: f64, x1: f64, y: f64, text: &str| {
        Shape::Dimension(Dimension {
            from: at(x0, y),
            to: at(x1, y),
            projections: Vec::new(),
            leader: Vec::new(),
            text: bedwright::paper::Text::new(
                at((x0 + x1) / 2.0, y - 1.0),
                text,
                2.5,
                bedwright::paper::Anchor::Middle,
            ),
        })
    };
    d.add(Layer::Dimensions, dimension(10.0, 30.0, 50.0, "20"));
    d.add(Layer::Dimensions, dimension(30.0, 60.0, 50.0, "31"));
    d.add(Layer::Dimensions, dimension(10.0, 60.0, 58.0, "50"));
    d.line(Layer::Work, at(20.0, 45.0), at(20.0, 49.5), Pen::Thin);
    let fonts = Fonts::bundled();
    assert_eq!(on_the_page(&d, &fonts).len(), 1);
    assert_eq!(texts_apart(&d, &fonts).len(), 1);
    assert_eq!(texts_clear(&d, &fonts).len(), 1);
    let (measured, chains, wrong) = lengths_true(&d, UnitSystem::Metric);
    assert_eq!((measured, chains, wrong.len()), (3, 1, 2), "{wrong:?}");
}
