//! Drawings as the pages of a PDF.
//!
//! Vector lines, embedded faces, text that can be selected and searched, bookmarks and links, tags for those who
//! have it read to them. The same
//! document gives the same bytes: it names no time and no machine.

use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point as Spot, Rect as Area, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill as Paint, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::TagTree;
use krilla::text::{Font, TextDirection};
use thiserror::Error;

use super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Point, Rect, Shape, Text, Turn};
use super::font::{Bytes, Fonts};
use super::hatch::hatch_lines;
use super::measure::{EM, text_box};
use super::setting::set;
use super::tags::Reader;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;
/// A circle's quarter as a cubic: the handle's length in radii, 4/3 · (√2 − 1).
const ROUND: f64 = 4.0 / 3.0 * (std::f64::consts::SQRT_2 - 1.0);

/// Pages with what leads to them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Document {
    /// What it is called.
    pub title: String,
    /// What it is, in a sentence.
    pub description: String,
    /// The pages in order.
    pub pages: Vec<Drawing>,
    /// What the reader's side bar lists.
    pub bookmarks: Vec<Bookmark>,
    /// Places that lead to a page when touched.
    pub links: Vec<Link>,
    /// What is a picture, with the words that stand for it where the page is read out.
    pub figures: Vec<Figure>,
    /// The cells of the pages' tables, row by row.
    pub cells: Vec<TableCell>,
    /// Where the running text stands on every page; what lies outside is not read out. All of it, if none.
    pub column: Option<Rect>,
}

/// A picture on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The page it is on, from 0.
    pub page: usize,
    /// Where: all that lies inside belongs to it.
    pub rect: Rect,
    /// What someone who cannot see it should know.
    pub text: String,
}

/// A cell of a table on a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TableCell {
    /// The page it is on, from 0.
    pub page: usize,
    /// Where: words whose middle lies inside stand in it.
    pub rect: Rect,
    /// Which of the document's tables; one that goes on over a page is two, each with its head.
    pub table: usize,
    /// Which of its rows.
    pub row: usize,
    /// Whether it heads its column.
    pub head: bool,
}

/// An entry of the reader's side bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bookmark {
    /// What it says.
    pub text: String,
    /// 0 for the outermost.
    pub level: usize,
    /// The page, from 0.
    pub page: usize,
    /// How far down the page, mm.
    pub y: f64,
}

/// A rectangle that leads to a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// The page it is on, from 0.
    pub page: usize,
    /// Where.
    pub rect: Rect,
    /// The page it leads to, from 0.
    pub to: usize,
}

/// Why there is no PDF.
#[derive(Debug, Error, Clone, PartialEq, Eq)]
pub enum PdfError {
    /// A page without a size, or one that is none.
    #[error("page {page} is {width} × {height} mm, which is no page")]
    Size {
        /// Which, from 1.
        page: usize,
        /// Its width, as text.
        width: String,
        /// Its height, as text.
        height: String,
    },
    /// A face that the PDF library does not take.
    #[error("face {0} cannot be embedded")]
    Face(usize),
    /// The PDF library failed.
    #[error("the PDF could not be put together: {0}")]
    Library(String),
}

impl Document {
    /// The characters of all pages that no face holds: what to warn about.
    pub fn missing(&self, fonts: &Fonts) -> Vec<char> {
        let words: String =
            self.pages.iter().flat_map(Drawing::text_boxes).map(|(_, text)| text).collect();
        fonts.missing(&words)
    }
}

/// Writes a document as PDF. O(shapes).
///
/// # Errors
/// [`PdfError`].
pub fn pdf(document: &Document, fonts: &Fonts) -> Result<Vec<u8>, PdfError> {
    let faces = faces(fonts)?;
    let mut out = krilla::Document::new();
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    for (index, page) in document.pages.iter().enumerate() {
        let (w, h) = ((page.width * POINTS) as f32, (page.height * POINTS) as f32);
        let settings = PageSettings::from_wh(w, h).ok_or_else(|| PdfError::Size {
            page: index + 1,
            width: page.width.to_string(),
            height: page.height.to_string(),
        })?;
        let mut sheet = out.start_page_with(settings);
        let mut reader = Reader::of(document, index);
        {
            let mut pencil = Pencil { surface: sheet.surface(), fonts, faces: &faces };
            pencil.surface.push_transform(&Transform::from_scale(POINTS as f32, POINTS as f32));
            pencil.page(page, &mut reader);
            pencil.surface.pop();
        }
        let mut links = Vec::new();
        for link in document.links.iter().filter(|l| l.page == index && l.to < document.pages.len())
        {
            let target =
                Target::Destination(XyzDestination::new(link.to, Spot::from_xy(0.0, 0.0)).into());
            if let Some(area) = area(&link.rect, POINTS) {
                let words = format!("Page {}", link.to + 1);
                let annotation =
                    Annotation::new_link(LinkAnnotation::new(area, target), Some(words));
                links.push(sheet.add_tagged_annotation(annotation));
            }
        }
        sheet.finish();
        tree.push(reader.part(links));
    }
    out.set_tag_tree(tree);
    out.set_outline(outline(document));
    out.set_metadata(
        Metadata::new()
            .title(fonts.readable(&document.title))
            .description(document.description.clone())
            .creator("Bedwright".to_owned())
            .language("en".to_owned()),
    );
    out.finish().map_err(|error| PdfError::Library(format!("{error:?}")))
}

fn faces(fonts: &Fonts) -> Result<Vec<Font>, PdfError> {
    let embed = |(i, face): (usize, &std::sync::Arc<super::font::Typeface>)| {
        let data = match &face.data {
            Bytes::Bundled(bytes) => (*bytes).into(),
            Bytes::Given(bytes) => std::sync::Arc::clone(bytes).into(),
        };
        Font::new(data, face.index).ok_or(PdfError::Face(i))
    };
    fonts.faces().iter().enumerate().map(embed).collect()
}

/// Bookmarks as a tree: each hangs under the last before it of a lower level.
fn outline(document: &Document) -> Outline {
    fn gather(rest: &mut &[Bookmark], level: usize, pages: usize) -> Vec<OutlineNode> {
        let mut nodes = Vec::new();
        while let Some((mark, after)) = rest.split_first() {
            if mark.level < level {
                break;
            }
            *rest = after;
            let to = XyzDestination::new(
                mark.page.min(pages - 1),
                Spot::from_xy(0.0, (mark.y * POINTS) as f32),
            );
            let mut node = OutlineNode::new(mark.text.clone(), to);
            for child in gather(rest, mark.level + 1, pages) {
                node.push_child(child);
            }
            nodes.push(node);
        }
        nodes
    }
    let mut outline = Outline::new();
    if !document.pages.is_empty() {
        let mut rest = &document.bookmarks[..];
        for node in gather(&mut rest, 0, document.pages.len()) {
            outline.push_child(node);
        }
    }
    outline
}

fn area(rect: &Rect, scale: f64) -> Option<Area> {
    let s = |mm: f64| (mm * scale) as f32;
    Area::from_ltrb(s(rect.x0), s(rect.y0), s(rect.x1), s(rect.y1))
}

fn spot(p: Point) -> (f32, f32) {
    let real = |mm: f64| if mm.is_finite() { mm as f32 } else { 0.0 };
    (real(p.x), real(p.y))
}

/// Draws shapes onto a page whose units are millimetres.
struct Pencil<'a> {
    surface: Surface<'a>,
    fonts: &'a Fonts,
    faces: &'a [Font],
}

impl Pencil<'_> {
    fn page(&mut self, page: &Drawing, reader: &mut Reader<'_>) {
        for layer in Layer::ALL {
            let items = page.items.iter().enumerate().filter(|(_, item)| item.layer == layer);
            for (index, item) in items {
                reader.begin(&mut self.surface, index, item);
                self.shape(&item.shape);
            }
        }
        reader.end(&mut self.surface);
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Line { from, to, pen } => {
                self.lines(&[*from, *to], false, Some(*pen), Fill::None)
            }
            Shape::Rect { rect, pen, fill } => self.lines(&corners(rect), true, *pen, *fill),
            Shape::Path { points, closed, pen, fill } => {
                self.lines(points, *closed, *pen, if *closed { *fill } else { Fill::None });
            }
            Shape::Circle { centre, radius, pen, fill } => {
                self.circle(*centre, *radius, *pen, *fill)
            }
            Shape::Text(text) => self.text(text),
            Shape::Dimension(dimension) => {
                dimension.parts().iter().for_each(|part| self.shape(part));
            }
        }
    }

    fn lines(&mut self, points: &[Point], closed: bool, pen: Option<Pen>, fill: Fill) {
        let Some(path) = chain(points, closed) else { return };
        if let Fill::Hatched(hatch) = fill {
            self.paint(&path, None, Fill::White);
            let mut builder = PathBuilder::new();
            for (p, q) in hatch_lines(points, hatch) {
                let ((px, py), (qx, qy)) = (spot(p), spot(q));
                builder.move_to(px, py);
                builder.line_to(qx, qy);
            }
            if let Some(lines) = builder.finish() {
                self.paint(&lines, Some(Pen::Thin), Fill::None);
            }
            self.paint(&path, pen, Fill::None);
        } else {
            self.paint(&path, pen, fill);
        }
    }

    fn circle(&mut self, centre: Point, radius: f64, pen: Option<Pen>, fill: Fill) {
        let (x, y) = spot(centre);
        let (r, k) = (radius as f32, (radius * ROUND) as f32);
        let mut builder = PathBuilder::new();
        builder.move_to(x + r, y);
        builder.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
        builder.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
        builder.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
        builder.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
        builder.close();
        if let Some(path) = builder.finish() {
            self.paint(
                &path,
                pen,
                if matches!(fill, Fill::Hatched(_)) { Fill::White } else { fill },
            );
        }
    }

    fn paint(&mut self, path: &Path, pen: Option<Pen>, fill: Fill) {
        let ink = match fill {
            Fill::None | Fill::Hatched(_) => None,
            Fill::White => Some(luma::Color::white()),
            Fill::Black => Some(luma::Color::black()),
        };
        if ink.is_none() && pen.is_none() {
            return;
        }
        self.surface.set_fill(ink.map(|ink| Paint { paint: ink.into(), ..Paint::default() }));
        self.surface.set_stroke(pen.map(stroke));
        self.surface.draw_path(path);
    }

    fn text(&mut self, text: &Text) {
        if text.clear {
            self.lines(&corners(&text_box(text)), true, None, Fill::White);
        }
        let words = self.fonts.readable(&text.text);
        let size = text.height * EM;
        let runs: Vec<(f64, f64, super::font::Run)> = set(&words)
            .into_iter()
            .flat_map(|piece| {
                let runs = self.fonts.runs(piece.text, text.bold);
                runs.into_iter().map(move |run| (piece.size, piece.rise, run))
            })
            .collect();
        let wide = |(share, _, run): &(f64, f64, super::font::Run)| {
            share * size * self.fonts.run_width(run)
        };
        let width: f64 = runs.iter().map(wide).sum();
        let mut along = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        };
        let (x, y) = spot(text.at);
        let turn = match text.turn {
            Turn::Level => Transform::from_translate(x, y),
            Turn::Upward => Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y),
        };
        self.surface.push_transform(&turn);
        self.surface.set_stroke(None);
        self.surface
            .set_fill(Some(Paint { paint: luma::Color::black().into(), ..Paint::default() }));
        for piece in &runs {
            let (share, rise, run) = piece;
            let start = Spot::from_xy(along as f32, (-rise * text.height) as f32);
            let face = self.faces[run.face].clone();
            self.surface.draw_text(
                start,
                face,
                (share * size) as f32,
                &run.text,
                false,
                TextDirection::Auto,
            );
            along += share * size * self.fonts.run_width(run);
        }
        self.surface.pop();
    }
}

fn corners(r: &Rect) -> [Point; 4] {
    let p = |x, y| Point { x, y };
    [p(r.x0, r.y0), p(r.x1, r.y0), p(r.x1, r.y1), p(r.x0, r.y1)]
}

fn chain(points: &[Point], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for (i, p) in points.iter().enumerate() {
        let (x, y) = spot(*p);
        if i == 0 { builder.move_to(x, y) } else { builder.line_to(x, y) }
    }
    if closed {
        builder.close();
    }
    builder.finish()
}

fn stroke(pen: Pen) -> Stroke {
    let dashes = pen.dashes();
    Stroke {
        paint: luma::Color::black().into(),
        width: pen.width() as f32,
        dash: (!dashes.is_empty())
            .then(|| StrokeDash { array: dashes.iter().map(|d| *d as f32).collect(), offset: 0.0 }),
        ..Stroke::default()
    }
}
