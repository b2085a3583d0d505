//! PDFs read by pypdf: text, page numbers, bookmarks, links, embedded faces.

use std::fmt::Write as _;

use bedwright::paper::flow::{Block, Booklet, Grid, GridCell, Rich, compose};
use bedwright::paper::{Drawing, Fill, Fonts, Layer, PageSize, Pen, pdf, rect};
use serde_json::json;

use crate::ask;

fn booklet(title: &str) -> Booklet {
    let mut grid = Grid::new(&["mark", "part", ">length (in)"]);
    for i in 1..60 {
        grid.row([
            GridCell::bold(format!("S{i}")),
            GridCell::text("side"),
            GridCell::text("75 1/4"),
        ]);
    }
    let mut drawing = Drawing::new("figure", "A box.", (100.0, 60.0));
    drawing.rect(Layer::Work, rect(0.0, 0.0, 100.0, 60.0), Pen::Thick, Fill::None);
    Booklet {
        title: title.to_owned(),
        description: "How to build it.".to_owned(),
        size: PageSize::Letter,
        cover: vec![Block::section(title)],
        contents: Some("Contents".to_owned()),
        body: vec![
            Block::Break,
            Block::section("Parts"),
            Block::Grid(grid),
            Block::Break,
            Block::section("Assembly"),
            Block::heading("Frame"),
            Block::Steps(vec![Rich::marked("Set *M1* on *B1*.")]),
            Block::Figure { drawing, caption: Rich::plain("Step 1") },
        ],
        header: title.to_owned(),
        footer: "Design abc".to_owned(),
    }
}

#[test]
fn text_page_numbers_bookmarks_and_faces_are_found_by_another_reader() {
    let fonts = Fonts::bundled();
    let title = "Größe & Ωμέγα – Москва";
    let composed = compose(&booklet(title), &fonts);
    let written = pdf(&composed.document, &fonts).expect("every page has a size");
    let again = pdf(&compose(&booklet(title), &fonts).document, &fonts).expect("the same");
    assert!(written == again, "the same bytes from run to run");
    let mut hex = String::with_capacity(2 * written.len());
    for byte in &written {
        let _ = write!(hex, "{byte:02x}");
    }
    let Some(read) = ask("pdf.py", &["pypdf"], &json!({ "hex": hex })) else { return };
    let text = |page: usize| read["texts"][page].as_str().unwrap_or_default().to_owned();
    let pages = composed.document.pages.len();
    assert_eq!(read["texts"].as_array().map(Vec::len), Some(pages));
    for size in read["sizes"].as_array().expect("sizes") {
        let of = |i: usize| size[i].as_f64().expect("a number");
        assert!((of(0) - 215.9).abs() < 1e-3 && (of(1) - 279.4).abs() < 1e-3, "{size}");
    }
    assert_eq!(read["title"], title);
    assert!(text(0).contains(title), "{}", text(0));
    assert!(text(1).contains("Parts") && text(1).contains("Assembly"), "{}", text(1));
    for page in 1..pages {
        assert!(text(page).contains(&format!("{} of {pages}", page + 1)), "{}", text(page));
    }
    assert!(text(2).contains("S1") && text(2).contains("S31"), "part marks: {}", text(2));
    assert!(text(2).contains("75 1\u{2044}4"), "a fraction reads as one: {}", text(2));
    assert!(text(pages - 1).contains("M1") && text(pages - 1).contains("B1"));
    let marks = read["bookmarks"].as_array().expect("bookmarks");
    assert_eq!(marks[0], json!(["Parts", 2]));
    assert_eq!(marks[2], json!(["Frame", pages - 1]));
    assert_eq!(read["links"], 3, "each line of the contents leads to its page");
    let faces = read["fonts"].as_object().expect("faces");
    assert!(faces.len() >= 2 && faces.values().all(|embedded| embedded == true), "{faces:?}");
    assert_eq!(read["dates"], json!([]), "it names no time");
}
