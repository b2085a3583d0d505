//! Pages hold what they were given, in order, and nothing runs off them.

use super::super::{Fonts, Layer, NOTE, PageSize, Shape, rect};
use super::*;

fn words(drawing: &Drawing) -> String {
    drawing.text_boxes().into_iter().map(|(_, text)| text).collect::<Vec<_>>().join(" ")
}

fn booklet(body: Vec<Block>) -> Booklet {
    Booklet {
        title: "A chest".to_owned(),
        description: "How to build it.".to_owned(),
        size: PageSize::Letter,
        cover: vec![Block::Heading { level: 3, text: "A chest".to_owned() }],
        contents: Some("Contents".to_owned()),
        body,
        header: "A chest".to_owned(),
        footer: "design".to_owned(),
    }
}

fn long(words: usize) -> String {
    (0..words).map(|i| format!("word{i}")).collect::<Vec<_>>().join(" ")
}

#[test]
fn contents_give_the_page_on_which_each_heading_stands() {
    let mut body = Vec::new();
    for section in 0..5 {
        body.push(Block::section(format!("Section number {section}")));
        body.push(Block::text(&long(700)));
        body.push(Block::heading(format!("Part of {section}")));
        body.push(Block::text(&long(90)));
    }
    let fonts = Fonts::bundled();
    let composed = compose(&booklet(body), &fonts);
    let pages = &composed.document.pages;
    assert!(composed.overfull.is_empty());
    assert_eq!(composed.document.bookmarks.len(), 10);
    assert_eq!(composed.document.links.len(), 10);
    for (mark, link) in composed.document.bookmarks.iter().zip(&composed.document.links) {
        assert!(words(&pages[mark.page]).contains(&mark.text));
        assert_eq!((link.page, link.to), (1, mark.page));
    }
    let contents = words(&pages[1]);
    assert!(contents.ends_with(&format!("2 of {}", pages.len())), "{contents}");
    let last = composed.document.bookmarks[9].page + 1;
    assert!(contents.contains(&format!(" {last} ")), "{contents}");
    // Every word is somewhere, in order.
    let all: String = pages.iter().map(words).collect::<Vec<_>>().join(" ");
    assert!(all.contains("word698 word699"), "lines are one text each");
}

#[test]
fn nothing_is_set_outside_the_column_or_over_anything_else() {
    let mut grid =
        Grid::new(&["mark", "what it is for, at some length", ">length (in)", "done", "measured"]);
    for i in 0..80 {
        let cells = [
            GridCell::bold(format!("A{i}")),
            GridCell::text(&long(1 + i % 23)),
            GridCell::text("75 1/4"),
            GridCell::Tick,
            GridCell::Blank,
        ];
        grid.row(cells);
    }
    let body = vec![
        Block::section("Parts"),
        Block::Grid(grid),
        Block::Checks(vec![Rich::marked(&long(60)), Rich::marked("*short*")]),
        Block::Steps(vec![Rich::plain(long(60)); 12]),
        Block::List(vec![Rich::plain("W".repeat(300))]),
    ];
    let composed = compose(&booklet(body), &Fonts::bundled());
    assert!(composed.overfull.is_empty(), "{:?}", composed.overfull);
    let pages = &composed.document.pages;
    assert!(pages.len() > 4);
    let heads = pages.iter().filter(|page| words(page).contains("measured")).count();
    assert!(heads > 1, "the head is set again");
    let fonts = Fonts::bundled();
    for page in pages {
        let mut boxes = Vec::new();
        for item in &page.items {
            let Shape::Text(text) = &item.shape else { continue };
            let wide = fonts.width(&text.text, text.height, text.bold);
            let x =
                if text.anchor == super::super::Anchor::End { text.at.x - wide } else { text.at.x };
            let r = rect(x, text.at.y - text.height, x + wide, text.at.y + 0.2);
            assert!(page.page().grown(-8.0).contains(&r), "{:?} leaves the page", text.text);
            for (other, words) in &boxes {
                assert!(!r.overlaps(other), "{:?} covers {words:?}", text.text);
            }
            boxes.push((r, text.text.clone()));
        }
    }
}

#[test]
fn what_stays_together_does_and_what_cannot_is_reported() {
    let tall = |height: f64| {
        let mut d = Drawing::new("tall", "a box", (30.0, height));
        d.rect(
            Layer::Work,
            rect(0.0, 0.0, 30.0, height),
            super::super::Pen::Thin,
            super::super::Fill::None,
        );
        Block::Figure { drawing: d, caption: Rich::plain("below it") }
    };
    let body = vec![
        Block::section("One"),
        tall(150.0),
        Block::Together(vec![Block::text("above the second"), tall(100.0)]),
    ];
    let composed = compose(&booklet(body), &Fonts::bundled());
    let pages = &composed.document.pages;
    assert_eq!(pages.len(), 4);
    assert!(words(&pages[3]).contains("above the second"));
    assert!(composed.overfull.is_empty());
    let composed = compose(&booklet(vec![Block::section("One"), tall(400.0)]), &Fonts::bundled());
    assert_eq!(composed.overfull.len(), 1, "{:?}", composed.overfull);
}

#[test]
fn labels_fill_pages_and_keep_to_their_cells() {
    let labels: Vec<Label> =
        (0..30).map(|i| Label { mark: format!("S{i}"), lines: vec![long(3), long(80)] }).collect();
    let sheets = label_sheets("Labels", &labels, PageSize::A4, &Fonts::bundled());
    assert_eq!(sheets.len(), 2);
    assert!(sheets.iter().all(|s| s.ink().is_some_and(|ink| s.page().contains(&ink))));
    assert!(words(&sheets[1]).contains("S29"));
}

#[test]
fn bold_parts_follow_what_is_before_them() {
    let fonts = Fonts::bundled();
    let lines = Rich::marked("Glue *A3* to (*A1*), 75 1/4 long").lines(&fonts, NOTE, 200.0);
    assert_eq!(lines.len(), 1);
    let texts = lines[0].texts(&fonts, 0.0, 0.0, NOTE);
    let shown: Vec<&str> = texts.iter().map(|t| t.text.as_str()).collect();
    assert_eq!(shown, ["Glue", "A3", "to (", "A1", "), 75\u{a0}1/4 long"]);
    for pair in texts.windows(2) {
        let end = pair[0].at.x + fonts.width(&pair[0].text, NOTE, pair[0].bold);
        assert!((0.0..1.5).contains(&(pair[1].at.x - end)), "{pair:?}");
    }
    assert_eq!(Rich::marked("3 * 4").words(), "3 * 4");
}
