//! Tests of the room as a whole: what is written is well formed, nothing overlaps, nothing is
//! too wide.

use super::*;

fn sample() -> Drawing {
    let mut d = Drawing::new("A <plan> & \"more\"", "Says 'what' it\u{7} shows", (210.0, 297.0));
    d.rect(Layer::Work, rect(20.0, 20.0, 120.0, 90.0), Pen::Thick, Fill::Hatched(Hatch::Rising));
    d.add(Layer::Labels, Text::new(at(30.0, 40.0), "6' 3\" < x & y", NOTE, Anchor::Start).clear());
    d.add(
        Layer::Contents,
        Shape::Circle {
            centre: at(50.0, 50.0),
            radius: 5.0,
            pen: Some(Pen::Hidden),
            fill: Fill::White,
        },
    );
    let mut rows = DimensionRows::around(rect(20.0, 20.0, 120.0, 90.0));
    let shapes = rows.row(Side::Top, &[Span::new(20.0, 120.0, "100")]);
    d.add_all(Layer::Dimensions, shapes);
    d
}

#[test]
fn svg_is_well_formed_and_says_what_it_was_told() {
    let written = svg(&sample());
    let doc =
        roxmltree::Document::parse(&written).expect("the writer escapes whatever it is given");
    let root = doc.root_element();
    assert_eq!(root.attribute("viewBox"), Some("0 0 210 297"));
    assert_eq!(root.attribute("width"), Some("210mm"));
    let child = |name: &str| root.children().find(|n| n.has_tag_name(name)).and_then(|n| n.text());
    assert_eq!(child("title"), Some("A <plan> & \"more\""));
    assert_eq!(child("desc"), Some("Says 'what' it\u{fffd} shows"));
    let texts: Vec<_> =
        doc.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    assert_eq!(texts, ["6' 3\" < x & y", "100"]);
    let allowed = ["svg", "title", "desc", "g", "rect", "line", "circle", "path", "text"];
    for node in doc.descendants().filter(roxmltree::Node::is_element) {
        assert!(allowed.contains(&node.tag_name().name()), "{:?}", node.tag_name());
        for colour in ["fill", "stroke"].iter().filter_map(|a| node.attribute(*a)) {
            assert!(
                ["#000", "#fff", "none"].contains(&colour),
                "prints in black and white: {colour}"
            );
        }
    }
}

#[test]
fn svg_is_the_same_twice_and_paints_by_layer() {
    assert_eq!(svg(&sample()), svg(&sample()));
    let written = svg(&sample());
    let places: Vec<_> = ["\"work\"", "\"contents\"", "\"labels\"", "\"dimensions\""]
        .map(|name| written.find(name).expect("the sample uses this layer"))
        .to_vec();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn svg_survives_numbers_that_are_none() {
    let mut d = Drawing::new("t", "d", (10.0, 10.0));
    d.line(Layer::Work, at(f64::NAN, -0.0), at(f64::INFINITY, -0.0004), Pen::Thin);
    let bad = [at(f64::NAN, 0.0), at(1.0, f64::INFINITY), at(0.0, 1.0)];
    assert!(hatch_lines(&bad, Hatch::Crossed).is_empty());
    let written = svg(&d);
    assert!(written.contains("x1=\"0\" y1=\"0\" x2=\"0\" y2=\"0\""), "{written}");
}

#[test]
fn hatch_lines_stay_inside_and_follow_corners() {
    let square = [at(0.0, 0.0), at(30.0, 0.0), at(30.0, 30.0), at(0.0, 30.0)];
    for hatch in [Hatch::Rising, Hatch::Falling, Hatch::Level, Hatch::Crossed, Hatch::Dense] {
        let lines = hatch_lines(&square, hatch);
        assert!(lines.len() > 5, "{hatch:?} has only {} lines", lines.len());
        for p in lines.iter().flat_map(|(p, q)| [p, q]) {
            assert!((-1e-9..=30.0 + 1e-9).contains(&p.x) && (-1e-9..=30.0 + 1e-9).contains(&p.y));
        }
    }
    // A U: a level line above its floor meets both arms and not the gap between them.
    let u = [
        at(0.0, 0.0),
        at(10.0, 0.0),
        at(10.0, 21.0),
        at(20.0, 21.0),
        at(20.0, 0.0),
        at(30.0, 0.0),
        at(30.0, 30.0),
        at(0.0, 30.0),
    ];
    let lines = hatch_lines(&u, Hatch::Level);
    let at_ten: Vec<_> = lines.iter().filter(|(p, _)| p.y == 10.0).collect();
    assert_eq!(at_ten.len(), 2);
    assert!(lines.iter().all(|(p, q)| p.y > 21.0 || q.x - p.x <= 10.0 + 1e-9));
}

#[test]
fn widths_are_never_less_than_those_of_common_fonts() {
    // Advance widths of DejaVu Sans 2.37 (hmtx table, 2048 units): "M" 1767, "i" 569, "1" 1303.
    for (text, units) in [("M", 1767.0), ("i", 569.0), ("1", 1303.0), ("Mi1", 3639.0)] {
        let exact = units / 2048.0 * 2.5 / 0.729;
        let estimate = text_width(text, 2.5, false);
        assert!(estimate >= exact - 1e-9 && estimate < exact * 1.06, "{text}: {estimate} {exact}");
    }
    assert_eq!(text_width("e\u{301}", 2.5, false), text_width("e", 2.5, false));
    assert!(text_width("\u{6f22}", 2.5, false) >= 2.5 / 0.729);
    assert!(text_width("abc", 2.5, true) > text_width("abc", 2.5, false));
}

#[test]
fn wrapping_and_shortening_keep_to_the_width() {
    let text = "Impact driver case with charger";
    let lines = wrap(text, NOTE, 30.0).expect("each word is narrower than 30 mm");
    assert!(lines.len() > 1);
    assert_eq!(lines.join(" "), text);
    assert!(lines.iter().all(|l| text_width(l, NOTE, false) <= 30.0));
    assert_eq!(wrap(text, NOTE, 5.0), None);
    let held = wrap("A1\n14\u{a0}3/4\u{a0}× 7\u{a0}1/4", NOTE, 20.0).expect("each is narrower");
    assert_eq!(held, ["A1", "14\u{a0}3/4\u{a0}×", "7\u{a0}1/4"]);
    let short = shorten(text, NOTE, true, 30.0);
    assert!(short.ends_with("...") && text_width(&short, NOTE, true) <= 30.0, "{short}");
    assert_eq!(shorten("ab", NOTE, false, 30.0), "ab");
}

#[test]
fn scales_are_the_standard_ones_and_the_largest_that_fit() {
    let fit = |w, h| Scale::fitting(Scale::METRIC, w, h, (190.0, 250.0)).map(Scale::reduction);
    assert_eq!(fit(190.0, 250.0), Some(1));
    assert_eq!(fit(190.1, 250.0), Some(2));
    assert_eq!(fit(1676.4, 1994.0), Some(10));
    assert_eq!(fit(1900.1, 10.0), Some(20));
    assert_eq!(fit(2.0e6, 10.0), None);
}

#[test]
fn a_view_takes_model_units_to_the_page() {
    let scale =
        Scale::fitting(Scale::METRIC, 1000.0, 1000.0, (100.0, 100.0)).expect("1:10 fits exactly");
    let view = View { units_per_mm: 80_000, scale, from: (0, 0), to: at(20.0, 200.0), up: true };
    assert_eq!(view.point(80_000 * 100, 80_000 * 500), at(30.0, 150.0));
    let r = view.rect(0, 0, 80_000 * 100, 80_000 * 500);
    assert_eq!((r.x0, r.y0, r.x1, r.y1), (20.0, 150.0, 30.0, 200.0));
    let down = View { up: false, ..view };
    assert_eq!(down.point(0, 80_000 * 500), at(20.0, 250.0));
}

/// Texts of shapes, with their boxes.
fn boxes(shapes: Vec<Shape>) -> Vec<(Rect, String)> {
    let mut d = Drawing::new("", "", (500.0, 500.0));
    d.add_all(Layer::Labels, shapes);
    d.text_boxes().into_iter().map(|(r, t)| (r, t.to_owned())).collect()
}

fn assert_apart(boxes: &[(Rect, String)]) {
    for (i, (a, name)) in boxes.iter().enumerate() {
        for (b, other) in &boxes[i + 1..] {
            assert!(!a.overlaps(b), "{name:?} {a:?} covers {other:?} {b:?}");
        }
    }
}

/// Thin members between wide openings, three rows, on every side.
#[test]
fn dimension_texts_overlap_neither_texts_nor_lines() {
    let view = rect(100.0, 100.0, 300.0, 300.0);
    for side in [Side::Top, Side::Bottom, Side::Left, Side::Right] {
        let mut rows = DimensionRows::around(view);
        let mut fine = Vec::new();
        let mut x = 100.0;
        for i in 0..4 {
            fine.push(Span::new(x, x + 3.8, "1 1/2"));
            fine.push(Span::new(x + 3.8, x + 48.0, format!("{} 1/16", 10 + i)));
            x += 49.0;
        }
        let mut shapes = rows.row(side, &fine);
        shapes
            .extend(rows.row(side, &[Span::new(100.0, 171.0, "23"), Span::new(171.0, 300.0, "7")]));
        shapes.extend(rows.row(side, &[Span::new(100.0, 300.0, "78 1/2")]));
        let texts = boxes(shapes.clone());
        assert_eq!(texts.len(), 11);
        assert_apart(&texts);
        for (b, name) in &texts {
            assert!(!b.overlaps(&view), "{name} stands in the view");
            assert!(rows.extent().contains(b));
        }
        for shape in &shapes {
            let Shape::Dimension(d) = shape else { panic!("a row holds dimensions") };
            let own = rect(d.from.x, d.from.y, d.to.x, d.to.y);
            let lines = d.projections.iter().map(|(p, q)| rect(p.x, p.y, q.x, q.y)).chain([own]);
            for line in lines {
                // A line is a box of its own width.
                let ink = rect(line.x0 - 0.125, line.y0 - 0.125, line.x1 + 0.125, line.y1 + 0.125);
                for (b, name) in &texts {
                    assert!(
                        !b.overlaps(&ink),
                        "{side:?}: a line at {ink:?} crosses {name:?} {b:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn spans_of_no_length_are_no_dimensions() {
    let mut rows = DimensionRows::around(rect(0.0, 0.0, 10.0, 10.0));
    assert!(rows.row(Side::Top, &[Span::new(5.0, 5.0, "0")]).is_empty());
    assert_eq!(rows.extent(), rect(0.0, 0.0, 10.0, 10.0));
}

#[test]
fn labels_fit_their_boxes_or_go_to_the_key() {
    let mut labels = Labels::within(rect(0.0, 0.0, 200.0, 200.0));
    let roomy = rect(10.0, 10.0, 70.0, 40.0);
    let tall = rect(80.0, 10.0, 85.0, 60.0);
    let tiny = [rect(100.0, 10.0, 103.0, 13.0), rect(103.0, 10.0, 106.0, 13.0)];
    labels.ask("Impact driver case", roomy);
    labels.ask("Spirit level", tall);
    labels.ask("Box of bits", tiny[0]);
    labels.ask("Tape", tiny[1]);
    labels.ask("Box of bits", rect(120.0, 10.0, 126.0, 16.0));
    let (shapes, key) = labels.place();
    let texts = boxes(shapes.clone());
    assert_apart(&texts);
    let of =
        |name: &str| texts.iter().filter(|(_, t)| t == name).map(|(r, _)| *r).collect::<Vec<_>>();
    assert!(roomy.contains(&of("Impact driver case")[0]));
    assert!(tall.contains(&of("Spirit level")[0]));
    let named: Vec<_> = key.iter().map(|k| (k.number, k.text.as_str(), k.boxes)).collect();
    assert_eq!(named, [(1, "Box of bits", 2), (2, "Tape", 1)]);
    assert_eq!(of("1").len(), 2);
    assert_eq!(of("2").len(), 1);
    let leaders = shapes.iter().filter(|s| matches!(s, Shape::Line { .. })).count();
    assert_eq!(leaders, 2, "the two tiny boxes are pointed at");
}

#[test]
fn labels_keep_off_what_is_taken() {
    let mut labels = Labels::within(rect(0.0, 0.0, 100.0, 100.0));
    let taken = rect(20.0, 15.0, 80.0, 25.0);
    labels.avoid(taken);
    labels.ask("Cordless drill", rect(20.0, 10.0, 80.0, 30.0));
    let (shapes, key) = labels.place();
    assert!(key.len() == 1 || boxes(shapes.clone()).iter().all(|(b, _)| !b.overlaps(&taken)));
    let mut labels = Labels::within(rect(0.0, 0.0, 100.0, 100.0));
    labels.avoid(taken);
    labels.ask("Cordless drill", rect(20.0, 10.0, 80.0, 50.0));
    let (shapes, key) = labels.place();
    assert!(key.is_empty(), "there is room below");
    assert!(boxes(shapes).iter().all(|(b, _)| !b.overlaps(&taken)));
}

fn parts() -> Table {
    let mut table = Table::new(
        "Parts",
        vec![
            Column::count("no."),
            Column::words("name"),
            Column::in_unit("length", "in"),
            Column::words("remark"),
        ],
    );
    table.row([
        Cell::number(1),
        Cell::text("Side, left"),
        Cell::text("72 3/4"),
        Cell::text("grain along"),
    ]);
    table.row([Cell::number(-2), Cell::text("=1+1"), Cell::text("-1/2"), Cell::text("say \"no\"")]);
    table.row([Cell::number("12.5"), Cell::text("\u{6f22}\u{5b57} box \u{1b}[31m")]);
    table
}

#[test]
fn csv_follows_rfc_4180_and_disarms_formulas() {
    let bytes = csv(&parts()).expect("memory takes any record");
    let text = String::from_utf8(bytes).expect("cells are UTF-8");
    let lines: Vec<_> = text.split("\r\n").collect();
    assert_eq!(lines[0], "no.,name,length (in),remark");
    assert_eq!(lines[1], "1,\"Side, left\",72 3/4,grain along");
    assert_eq!(lines[2], "-2,'=1+1,'-1/2,\"say \"\"no\"\"\"");
    assert_eq!(lines[4], "");
    for risky in ["=x", "+1", "-a", "@a", "  =x", "\t1", "\r=", "＝1"] {
        let mut table = Table::new("", vec![Column::words("a")]);
        table.row([Cell::text(risky)]);
        table.row([Cell::number(risky)]);
        let text = csv(&table).expect("memory takes any record");
        let cells = csv::Reader::from_reader(text.as_slice())
            .records()
            .map(|r| r.expect("well formed")[0].to_owned())
            .collect::<Vec<_>>();
        assert_eq!(cells, [format!("'{risky}"), format!("'{risky}")]);
    }
}

#[test]
fn numbers_are_numbers_only_if_plain() {
    for plain in ["1", "-1", "0.5", "-12.25", ".5"] {
        assert_eq!(Cell::number(plain), Cell::Number(plain.to_owned()));
    }
    for other in ["", "-", ".", "1.2.3", "=1", "1e5", "1-2", "NaN", "--1"] {
        assert_eq!(Cell::number(other), Cell::Text(other.to_owned()));
    }
}

#[test]
fn a_ragged_row_loses_nothing() {
    let mut table = Table::new("", vec![Column::words("a"), Column::words("b")]);
    table.row([Cell::text("1")]);
    table.row([Cell::text("1"), Cell::text("2"), Cell::text("3")]);
    assert_eq!(table.columns().len(), 3);
    assert!(table.rows().iter().all(|row| row.len() == 3));
    assert!(csv(&table).is_ok());
}

#[test]
fn terminal_tables_never_exceed_the_width() {
    let mut long = parts();
    long.row([
        Cell::number("123456789012345"),
        Cell::text("A name that is quite long, with averyveryverylongwordthatcannotbreak inside"),
        Cell::text("👩‍🔧 ❤️ emoji"),
        Cell::text("e\u{301}e\u{301}e\u{301} combining"),
    ]);
    for width in 1..=130 {
        for line in terminal(&long, width).lines() {
            assert!(display_width(line) <= width, "{} > {width}: {line:?}", display_width(line));
            assert!(!line.contains('\u{1b}') && line == line.trim_end());
        }
    }
    let wide = terminal(&parts(), 80);
    assert!(wide.contains("no.  name"), "{wide}");
    assert!(wide.contains("  1  Side, left"), "numbers line up at the right: {wide}");
    assert!(wide.contains('─'));
    let narrow = terminal(&parts(), 12);
    assert!(narrow.contains("name: Side,\nleft\n"), "{narrow}");
}

#[test]
fn nothing_is_lost_when_words_wrap() {
    let text = "a averyveryverylongword of \u{6f22}\u{5b57} things";
    for width in 2..40 {
        let joined: String = wrap_words(text, width).concat();
        let bare = |s: &str| s.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(bare(&joined), bare(text), "at {width}");
    }
    assert_eq!(wrap_words("\u{6f22}", 1), ["?"]);
    assert!(wrap_words("", 10).is_empty());
}

mod whatever_is_asked {
    use proptest::prelude::*;

    use super::*;

    fn boxed_names() -> impl Strategy<Value = Vec<(String, Rect)>> {
        let name = "[A-Za-z]{1,12}( [A-Za-z0-9/]{1,9}){0,3}";
        let place = (0.0..180.0_f64, 0.0..180.0_f64, 0.5..60.0_f64, 0.5..60.0_f64)
            .prop_map(|(x, y, w, h)| rect(x, y, (x + w).min(200.0), (y + h).min(200.0)));
        prop::collection::vec((name, place), 0..40)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        /// Boxes may even overlap: texts don't, and every name is on the drawing or in the key.
        #[test]
        fn labels_never_cover_each_other(asked in boxed_names()) {
            let area = rect(0.0, 0.0, 200.0, 200.0);
            let mut labels = Labels::within(area);
            for (name, within) in &asked {
                labels.ask(name.clone(), *within);
            }
            let (shapes, key) = labels.place();
            let texts = boxes(shapes);
            assert_apart(&texts);
            for (b, text) in &texts {
                prop_assert!(area.contains(b), "{text} {b:?}");
            }
            let in_key: usize = key.iter().map(|entry| entry.boxes).sum();
            let shown: Vec<&str> = texts.iter().map(|(_, text)| text.as_str()).collect();
            let shown = shown.join(" ");
            for (name, _) in &asked {
                let known = key.iter().any(|entry| entry.text == *name);
                prop_assert!(known || name.split(' ').all(|word| shown.contains(word)), "{name}");
            }
            prop_assert!(in_key <= asked.len());
        }

        /// A chain of any steps at any side: its texts keep off each other, the view and the lines.
        #[test]
        fn rows_never_cover_each_other(
            steps in prop::collection::vec(0.1..40.0_f64, 1..14),
            side in prop::sample::select(vec![Side::Top, Side::Bottom, Side::Left, Side::Right]),
        ) {
            let whole: f64 = steps.iter().sum();
            let view = rect(100.0, 100.0, 100.0 + whole, 100.0 + whole);
            let mut rows = DimensionRows::around(view);
            let mut spans = Vec::new();
            let mut from = 100.0;
            for step in &steps {
                spans.push(Span::new(from, from + step, format!("{} 3/16", spans.len())));
                from += step;
            }
            let mut shapes = rows.row(side, &spans);
            shapes.extend(rows.row(side, &[Span::new(100.0, from, "whole")]));
            let texts = boxes(shapes.clone());
            prop_assert_eq!(texts.len(), steps.len() + 1);
            assert_apart(&texts);
            for shape in &shapes {
                let Shape::Dimension(d) = shape else { panic!("a row holds dimensions") };
                let own = [(d.from, d.to)];
                for (p, q) in d.projections.iter().chain(&own) {
                    let line = rect(p.x, p.y, q.x, q.y);
                    for (b, text) in &texts {
                        prop_assert!(!b.overlaps(&line), "{text} is crossed");
                        prop_assert!(!b.overlaps(&view), "{text} stands in the view");
                    }
                }
            }
        }

        #[test]
        fn svg_takes_any_text(title in any::<String>(), text in any::<String>()) {
            let mut d = Drawing::new(title, text.clone(), (50.0, 50.0));
            d.add(Layer::Labels, Text::new(at(1.0, 5.0), text, NOTE, Anchor::Start).clear());
            let written = svg(&d);
            prop_assert!(roxmltree::Document::parse(&written).is_ok(), "{written}");
        }

        #[test]
        fn terminal_tables_hold_their_width(
            cells in prop::collection::vec(any::<String>(), 1..12),
            width in 1_usize..100,
        ) {
            let mut table = Table::new(cells[0].clone(), vec![Column::words("a"), Column::count("b")]);
            for pair in cells.chunks(2) {
                table.row(pair.iter().map(Cell::text));
            }
            for line in terminal(&table, width).lines() {
                prop_assert!(display_width(line) <= width, "{line:?}");
            }
        }
    }
}

#[test]
fn a_difference_of_pictures_shows_what_is_gone_and_what_is_new() {
    let draw = |x: f64| {
        let mut d = Drawing::new("bar", "a bar", (20.0, 10.0));
        d.rect(Layer::Work, rect(x, 2.0, x + 4.0, 8.0), Pen::Thin, Fill::Black);
        super::png::picture(&svg(&d), (20.0, 10.0), 2.0, &Fonts::bundled()).expect("a page")
    };
    let (was, now) = (draw(2.0), draw(12.0));
    let shown = golden::difference(&was, &now);
    let dot = |x: u32| {
        let p = shown.pixel(x, 10).expect("on the page");
        (p.red(), p.green(), p.blue())
    };
    assert_eq!(dot(8), (255, 0, 0), "gone");
    assert_eq!(dot(28), (0, 0, 255), "new");
    assert_eq!(dot(20), (254, 254, 254), "paper");
}
