//! Every drawing of several designs: well formed, nothing outside the border, no text over another,
//! and everything that a builder looks for is there.

use super::sample::{self, Wish};
use super::*;
use crate::design::Content;
use crate::paper::{Rect, Shape, rect, svg};
use crate::report::fixture;
use crate::scenario::Family;
use crate::units::UnitSystem;

fn wishes() -> Vec<Wish> {
    vec![
        sample::locksmith(),
        sample::two_tiers(UnitSystem::Inch, Family::AboveWells),
        sample::two_tiers(UnitSystem::Metric, Family::BetweenWells),
        sample::odd_names(),
        sample::van(1400, 1220),
        sample::van(10_000, 2400),
    ]
}

fn drawn(wish: &Wish) -> Vec<NamedDrawing> {
    let scenario = sample::scenario(wish);
    draw_all(&sample::design(wish, &scenario), &scenario)
}

/// All the words of a drawing with line breaks and no-break spaces as blanks.
fn words(drawing: &Drawing) -> String {
    let texts: Vec<&str> = drawing.text_boxes().into_iter().map(|(_, text)| text).collect();
    texts.join(" ").replace('\u{a0}', " ")
}

#[test]
fn a_verified_design_is_drawn_with_its_loose_goods() {
    let scenario = fixture::locksmith();
    let verified = fixture::verified(&scenario);
    let all = drawings(&verified, &scenario);
    let plans: String = all
        .iter()
        .filter(|named| named.name.starts_with("plan"))
        .map(|named| words(&named.drawing))
        .collect();
    let stowed = verified.drawers.iter().flat_map(|drawer| &drawer.plan.items);
    let loose = stowed.filter_map(|item| match item.content {
        Content::Loose(id) => Some(&scenario.loose[id].name),
        Content::Gear(_) => None,
    });
    let mut seen = 0;
    for word in loose.flat_map(|name| name.split_whitespace()) {
        assert!(plans.contains(word), "no {word:?} in {plans}");
        seen += 1;
    }
    assert!(seen > 0, "the fixture stows loose goods");
}

#[test]
fn texts_are_within_the_border_and_clear_of_each_other() {
    for wish in wishes() {
        for named in drawn(&wish) {
            let border = named.drawing.page().grown(-7.0);
            let boxes = named.drawing.text_boxes();
            for (i, (a, text)) in boxes.iter().enumerate() {
                assert!(border.contains(a), "{}: {text:?} crosses the border", named.name);
                for (b, other) in &boxes[i + 1..] {
                    assert!(!a.overlaps(b), "{}: {text:?} covers {other:?}", named.name);
                }
            }
        }
    }
}

fn ink(shape: &Shape) -> Rect {
    shape.ink().expect("no shape is without points")
}

#[test]
fn nothing_is_drawn_outside_the_border() {
    for wish in wishes() {
        for named in drawn(&wish) {
            let border = named.drawing.page().grown(-7.0);
            for item in &named.drawing.items {
                assert!(border.contains(&ink(&item.shape)), "{}: {:?}", named.name, item.shape);
            }
        }
    }
}

#[test]
fn every_drawing_is_well_formed_numbered_and_the_same_twice() {
    for wish in wishes() {
        let (once, again) = (drawn(&wish), drawn(&wish));
        let of = once.len();
        for (i, (a, b)) in once.iter().zip(&again).enumerate() {
            let written = svg(&a.drawing);
            assert_eq!(written, svg(&b.drawing), "{}", a.name);
            roxmltree::Document::parse(&written).expect("names are escaped");
            assert!(words(&a.drawing).contains(&format!("{} of {of}", i + 1)));
            assert!(!a.drawing.description.is_empty());
            let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(a.name.chars().all(plain), "{} is a safe file name", a.name);
        }
        let mut names: Vec<&str> = once.iter().map(|named| named.name.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), of, "no two drawings share a file");
    }
}

#[test]
fn a_plan_names_its_drawers_and_everything_in_them() {
    for wish in &wishes()[..3] {
        let scenario = sample::scenario(wish);
        let design = sample::design(wish, &scenario);
        let mut named_things = 0;
        for (tier, named) in
            draw_all(&design, &scenario).iter().take(wish.columns.len()).enumerate()
        {
            let words = words(&named.drawing);
            for drawer in design.drawers.iter().filter(|drawer| drawer.tier == tier) {
                assert!(words.contains(&drawer.name), "{}: no {}", named.name, drawer.name);
                let width = drawer.inside.dx.figure(scenario.units);
                assert!(words.contains(&width), "{}: no inside width {width}", named.name);
                for item in &drawer.plan.items {
                    let Content::Gear(id) = item.content else { continue };
                    for word in scenario.gear[id].name.split_whitespace() {
                        assert!(words.contains(word), "{}: no {word:?} in {words}", named.name);
                    }
                    named_things += 1;
                }
            }
            for opening in &design.chest.openings[tier] {
                assert!(words.contains(&opening.figure(scenario.units)), "{words}");
            }
        }
        assert!(named_things > 8, "the sample stows only {named_things} things");
    }
}

#[test]
fn a_front_elevation_gives_heights_and_openings() {
    for wish in wishes() {
        let scenario = sample::scenario(&wish);
        let design = sample::design(&wish, &scenario);
        let all = draw_all(&design, &scenario);
        let front = all.iter().find(|named| named.name == "front-elevation").expect("always drawn");
        let words = words(&front.drawing);
        let carcass = &design.chest.carcass;
        for length in [carcass.top_z, carcass.lift, carcass.tiers[0].width, scenario.bed.width.at] {
            let figure = length.figure(scenario.units);
            assert!(words.contains(&figure), "no {figure} in {words}");
        }
        for drawer in &design.drawers {
            assert!(words.contains(&drawer.name));
        }
    }
}

#[test]
fn cutting_diagrams_show_every_piece_and_cut() {
    for wish in &wishes()[..3] {
        let scenario = sample::scenario(wish);
        let design = sample::design(wish, &scenario);
        let all = draw_all(&design, &scenario);
        for (i, layout) in design.cutting.sheets.iter().enumerate() {
            let name = format!("cut-sheet-{}", i + 1);
            let named = all.iter().find(|named| named.name == name).expect("one for each pattern");
            let words = words(&named.drawing);
            for piece in &layout.pieces {
                let part = design.part(piece.part);
                assert!(words.contains(&part.mark), "{name}: no {}", part.mark);
                assert!(words.contains(&part.length.figure(scenario.units)));
            }
            for cut in 1..=layout.cuts.len() {
                assert!(words.contains(&format!("cut {cut} ")), "{name}: no cut {cut}");
            }
            assert!(words.contains("grain") && words.contains("Kerf"));
            let kept = named.drawing.text_boxes().iter().filter(|(_, t)| *t == "keep").count();
            assert_eq!(kept, layout.offcuts.len(), "{name}");
        }
        let boards: Vec<String> = all
            .iter()
            .filter(|named| named.name.starts_with("cut-boards"))
            .map(|named| words(&named.drawing))
            .collect();
        let boards = boards.join(" ");
        for piece in design.cutting.boards.iter().flat_map(|layout| &layout.pieces) {
            let figure = piece.length.figure(scenario.units);
            assert!(boards.contains(&format!("{} {figure}", design.part(piece.part).mark)));
        }
    }
}

#[test]
fn drawings_are_at_standard_scales_on_paper_that_people_have() {
    for (wish, sizes) in [
        (sample::locksmith(), [(215.9, 279.4), (279.4, 431.8)]),
        (
            sample::two_tiers(UnitSystem::Metric, Family::BetweenWells),
            [(210.0, 297.0), (297.0, 420.0)],
        ),
    ] {
        for named in drawn(&wish) {
            let (w, h) = (named.drawing.width, named.drawing.height);
            assert!(sizes.contains(&(w.min(h), w.max(h))), "{}: {w} × {h}", named.name);
            let words = words(&named.drawing);
            let scales: &[&str] = match wish.units {
                UnitSystem::Inch => &["1:8 ", "1:12 ", "1:16 ", "1:24 "],
                UnitSystem::Metric => &["1:5 ", "1:10 ", "1:20 "],
            };
            assert!(scales.iter().any(|scale| words.contains(scale)), "{words}");
        }
    }
    let plan = &drawn(&sample::locksmith())[0].drawing;
    assert_eq!(
        (plan.width, plan.height),
        (215.9, 279.4),
        "a full-size bed at 1:12 on a letter page"
    );
}

/// A room as a booklet has it, mm.
const ROOM: (f64, f64) = (176.0, 230.0);

#[test]
fn figures_of_a_booklet_keep_to_their_room_and_say_their_scale() {
    for wish in wishes() {
        let scenario = sample::scenario(&wish);
        let design = sample::design(&wish, &scenario);
        for named in whole(&design, &scenario, Papers::Within(wish.units, ROOM)) {
            let d = &named.drawing;
            assert!(d.width <= ROOM.0 && d.height <= ROOM.1, "{}", named.name);
            let room = d.page().grown(0.01);
            assert!(d.items.iter().all(|i| room.contains(&ink(&i.shape))), "{}", named.name);
            assert!(words(d).contains("Scale 1:"), "{}", named.name);
            let boxes = d.text_boxes();
            for (i, (a, text)) in boxes.iter().enumerate() {
                for (b, other) in &boxes[i + 1..] {
                    assert!(!a.overlaps(b), "{}: {text:?} covers {other:?}", named.name);
                }
            }
        }
    }
}

/// Dimension texts stand clear of every line that is not their own, by the bundled faces' own widths.
#[test]
fn no_line_of_a_dimension_crosses_a_dimensions_text() {
    let fonts = crate::paper::Fonts::bundled();
    for wish in wishes() {
        for named in drawn(&wish) {
            let all: Vec<_> = named
                .drawing
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    Shape::Dimension(dimension) => Some(dimension),
                    _ => None,
                })
                .collect();
            for own in &all {
                let text = &own.text;
                let wide = fonts.width(&text.text, text.height, text.bold);
                let up = text.height;
                let (x, y) = (text.at.x, text.at.y);
                let area = match text.turn {
                    crate::paper::Turn::Level => rect(x - wide / 2.0, y - up, x + wide / 2.0, y),
                    crate::paper::Turn::Upward => rect(x - up, y - wide / 2.0, x, y + wide / 2.0),
                };
                for other in &all {
                    let lines = other.projections.iter().copied().chain([(other.from, other.to)]);
                    for (p, q) in lines {
                        let line = rect(p.x, p.y, q.x, q.y);
                        assert!(
                            !crossed(&area, &line),
                            "{}: a line through {:?}",
                            named.name,
                            text.text
                        );
                    }
                }
            }
        }
    }
}

/// Whether an upright or level line, as a rectangle without width or height, goes through a rectangle.
fn crossed(area: &Rect, line: &Rect) -> bool {
    let inner = area.grown(-0.05);
    line.x0 < inner.x1
        && inner.x0 < line.x1.max(line.x0 + 1e-9)
        && line.y0 < inner.y1
        && inner.y0 < line.y1.max(line.y0 + 1e-9)
        && line.x1 > inner.x0
        && line.y1 > inner.y0
}

/// With `BEDWRIGHT_DRAWN=DIR` in the environment, writes a picture of every drawing there, to be looked at.
#[test]
fn every_drawing_can_be_looked_at() {
    let fonts = crate::paper::Fonts::bundled();
    let folder = std::env::var("BEDWRIGHT_DRAWN").ok();
    for (number, wish) in wishes().iter().enumerate().take(if folder.is_some() { 6 } else { 1 }) {
        let scenario = sample::scenario(wish);
        let design = sample::design(wish, &scenario);
        let mut all = draw_all(&design, &scenario);
        let pages = whole(&design, &scenario, Papers::Within(wish.units, ROOM));
        all.extend(
            pages.into_iter().map(|n| NamedDrawing { name: format!("booklet-{}", n.name), ..n }),
        );
        for named in all {
            let dots = if folder.is_some() { 6.0 } else { 1.0 };
            let picture =
                crate::paper::png(&named.drawing, dots, &fonts).expect("a page has a size");
            assert_eq!(&picture[1..4], b"PNG");
            if let Some(folder) = &folder {
                let path =
                    std::path::Path::new(folder).join(format!("{number}-{}.png", named.name));
                std::fs::write(path, picture).expect("the folder can be written");
            }
        }
    }
}

#[test]
fn drawings_are_the_kept_ones() {
    let scenario = fixture::locksmith();
    let verified = fixture::verified(&scenario);
    let all = drawings(&verified, &scenario);
    for name in ["plan-tier-a", "cut-sheet-1", "cut-boards-1"] {
        let named = all.iter().find(|named| named.name == name).expect("it is drawn");
        crate::paper::golden::assert_kept(name, &named.drawing);
    }
    let figures = figures(&verified, &scenario, ROOM);
    for name in ["front-elevation", "side-section"] {
        let named = figures.iter().find(|named| named.name == name).expect("it is drawn");
        crate::paper::golden::assert_kept(&format!("figure-{name}"), &named.drawing);
    }
}
