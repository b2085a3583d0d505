//! Pages from slabs, with contents, headers and footers.

use super::super::drawing::{Anchor, Drawing, Layer, Pen, Rect, Text, at, rect};
use super::super::font::Fonts;
use super::super::measure::{NOTE, SMALL};
use super::super::pdf::{Bookmark, Document, Figure, Link, TableCell};
use super::super::view::PageSize;
use super::Block;
use super::contents::{self, Spacing};
use super::slab::{Slab, slabs};

/// What is to become pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Booklet {
    /// What it is called.
    pub title: String,
    /// What it is, in a sentence.
    pub description: String,
    /// The paper, upright.
    pub size: PageSize,
    /// The first page, without header and page number.
    pub cover: Vec<Block>,
    /// The heading of the contents, which follow the cover; none if there are to be none.
    pub contents: Option<String>,
    /// The rest.
    pub body: Vec<Block>,
    /// What stands at the left of every page's head; its right names the section.
    pub header: String,
    /// What stands at the left of every page's foot; its right numbers the page.
    pub footer: String,
}

/// Pages, and what did not go onto them as it should.
#[derive(Debug, Clone, PartialEq)]
pub struct Composed {
    /// The pages with bookmarks and links.
    pub document: Document,
    /// Slabs taller or wider than a page has room for, as `page 7: title`. They are cut off by the paper.
    pub overfull: Vec<String>,
}

/// White at the left (where a booklet is bound), right, top and bottom, mm.
const WHITE: (f64, f64, f64, f64) = (20.0, 14.0, 22.0, 18.0);

/// Width and height of the room for blocks on an upright page, mm.
pub fn page_room(size: PageSize) -> (f64, f64) {
    let room = column(size);
    (room.width(), room.height())
}

fn column(size: PageSize) -> Rect {
    let (w, h) = size.upright();
    rect(WHITE.0, WHITE.2, w - WHITE.1, h - WHITE.3)
}

/// Lays out a booklet. The contents list headings of levels 1 and 2 with their pages; as their length is
/// known from their number alone, one pass suffices. O(slabs).
pub fn compose(booklet: &Booklet, fonts: &Fonts) -> Composed {
    let room = column(booklet.size);
    let lay = |blocks: &[Block]| -> Vec<Slab> {
        blocks.iter().flat_map(|block| slabs(block, fonts, room.width())).collect()
    };
    let mut pages = Pages::new(booklet, room);
    pages.lay(lay(&booklet.cover));
    pages.end();
    let body = lay(&booklet.body);
    let listed: Vec<(usize, String)> = body
        .iter()
        .filter_map(|slab| slab.heading.clone())
        .filter(|(level, _)| *level <= 2)
        .collect();
    let contents = booklet.contents.as_ref().filter(|_| !listed.is_empty());
    let first = pages.done.len();
    let mut spacing = Spacing::Loose;
    if let Some(heading) = contents {
        // Numbers are written in once they are known.
        let mut all = lay(&[Block::section(heading.clone())]);
        let taken: f64 = all.iter().map(|slab| slab.height).sum();
        let lines;
        (spacing, lines) = contents::lines(&listed, fonts, (room.width(), room.height() - taken));
        all.extend(lines);
        pages.section.clone_from(heading);
        pages.lay(all);
        pages.end();
    }
    let last = pages.done.len();
    pages.marks.clear();
    pages.section = String::new();
    pages.lay(body);
    pages.end();
    let mut links = Vec::new();
    if contents.is_some() {
        let targets: Vec<usize> =
            pages.marks.iter().filter(|m| m.level <= 1).map(|m| m.page).collect();
        let entries = pages.entries.iter().filter(|(page, _)| (first..last).contains(page));
        for ((page, bottom), to) in entries.copied().zip(targets) {
            let (number, rect) = contents::number(bottom, to, spacing, room);
            pages.done[page].add(Layer::Labels, number);
            links.push(Link { page, rect, to });
        }
    }
    pages.finish(booklet, links)
}

/// Pages being filled.
struct Pages<'a> {
    booklet: &'a Booklet,
    room: Rect,
    done: Vec<Drawing>,
    /// Pages that have a head and a foot, with the section they are in.
    framed: Vec<(usize, String)>,
    /// Numbers to be written on sheets.
    numbers: Vec<(usize, super::Point)>,
    marks: Vec<Bookmark>,
    figures: Vec<Figure>,
    cells: Vec<TableCell>,
    /// Whether what was put down last was a row of a table.
    in_table: bool,
    /// Lower edges of the contents' lines, by page.
    entries: Vec<(usize, f64)>,
    overfull: Vec<String>,
    section: String,
    page: Option<Drawing>,
    y: f64,
}

impl<'a> Pages<'a> {
    fn new(booklet: &'a Booklet, room: Rect) -> Self {
        Pages {
            booklet,
            room,
            done: Vec::new(),
            framed: Vec::new(),
            numbers: Vec::new(),
            marks: Vec::new(),
            figures: Vec::new(),
            cells: Vec::new(),
            in_table: false,
            entries: Vec::new(),
            overfull: Vec::new(),
            section: String::new(),
            page: None,
            y: room.y0,
        }
    }

    fn lay(&mut self, slabs: Vec<Slab>) {
        for at in 0..slabs.len() {
            let slab = &slabs[at];
            if slab.breaks {
                self.end();
                continue;
            }
            if let Some((drawing, number)) = &slab.sheet {
                self.end();
                self.numbers.extend(number.map(|n| (self.done.len(), n)));
                self.done.push(drawing.clone());
                continue;
            }
            let begins = self.y <= self.room.y0;
            let leads = at > 0 && slabs[at - 1].with_next;
            if !begins && !leads && self.y + together(&slabs[at..]) > self.room.y1 + 1e-6 {
                // What wants to stay together goes to the next page if it fits there, or if not even
                // its first slab fits here.
                // At the head of a page there is no space before it.
                let fits_a_page = together(&slabs[at..]) - slab.before <= self.room.height();
                if fits_a_page || self.y + slab.before + slab.height > self.room.y1 {
                    self.end();
                }
            } else if !begins && self.y + slab.before + slab.height > self.room.y1 + 1e-6 {
                self.end();
            }
            self.put(slab);
        }
    }

    fn put(&mut self, slab: &Slab) {
        let begins = self.page.is_none();
        if begins && slab.height == 0.0 && slab.items.is_empty() {
            return;
        }
        if begins {
            if let Some(head) = &slab.again {
                self.ink(head);
            }
        } else {
            self.y += slab.before;
        }
        if let Some((level, text)) = &slab.heading {
            if *level <= 1 {
                self.section.clone_from(text);
            }
            if *level <= 2 {
                let (page, y) = (self.done.len(), self.y);
                self.marks.push(Bookmark {
                    text: text.clone(),
                    level: level.saturating_sub(1),
                    page,
                    y,
                });
            }
        }
        self.ink(slab);
        if matches!(slab.heading, Some((9, _))) {
            self.entries.push((self.done.len(), self.y));
        }
    }

    fn ink(&mut self, slab: &Slab) {
        let size = self.booklet.size.upright();
        let title = &self.booklet.title;
        let page = self.page.get_or_insert_with(|| Drawing::new(title, "", size));
        for item in &slab.items {
            page.add(item.layer, item.shape.moved(self.room.x0, self.y));
        }
        if let Some((r, text)) = &slab.figure {
            let (x, y) = (self.room.x0, self.y);
            let rect = rect(r.x0 + x, r.y0 + y, r.x1 + x, r.y1 + y);
            self.figures.push(Figure { page: self.done.len(), rect, text: text.clone() });
        }
        self.rows(slab);
        self.y += slab.height;
        let mut wide = slab.items.iter().filter_map(|item| match &item.shape {
            super::super::drawing::Shape::Text(_) => None,
            shape => shape.ink(),
        });
        let too_wide = wide.any(|ink| ink.x1 > self.room.width() + 0.1);
        if self.y > self.room.y1 + 1e-3 || too_wide {
            self.overfull.push(format!("page {}: {}", self.done.len() + 1, self.section));
        }
    }

    /// The cells of a slab: they go on with the table above them, or begin one.
    fn rows(&mut self, slab: &Slab) {
        let (x, y) = (self.room.x0, self.y);
        let page = self.done.len();
        let mut top = f64::NAN;
        for cell in &slab.cells {
            let last = self.cells.last().map_or((0, 0), |last| (last.table, last.row));
            let begins = cell.rect.y0 != top;
            let (table, row) = match (begins, self.in_table && !cell.head) {
                (false, _) => last,
                (true, true) => (last.0, last.1 + 1),
                (true, false) => (last.0 + 1, 0),
            };
            top = cell.rect.y0;
            self.in_table = true;
            let r = cell.rect;
            let rect = rect(r.x0 + x, r.y0 + y, r.x1 + x, r.y1 + y);
            self.cells.push(TableCell { page, rect, table, row, head: cell.head });
        }
        self.in_table = !slab.cells.is_empty();
    }

    fn end(&mut self) {
        self.in_table = false;
        if let Some(page) = self.page.take() {
            self.framed.push((self.done.len(), self.section.clone()));
            self.done.push(page);
        }
        self.y = self.room.y0;
    }

    fn finish(mut self, booklet: &Booklet, links: Vec<Link>) -> Composed {
        let of = self.done.len();
        for (page, section) in &self.framed {
            // The cover speaks for itself.
            if *page > 0 {
                frame(&mut self.done[*page], booklet, section, self.room, (*page + 1, of));
            }
        }
        for (page, place) in &self.numbers {
            let text = format!("{} of {of}", page + 1);
            self.done[*page].add(Layer::Frame, Text::new(*place, text, NOTE, Anchor::Start));
        }
        for (i, page) in self.done.iter_mut().enumerate() {
            if page.description.is_empty() {
                page.description = format!("Page {} of {of} of {}.", i + 1, booklet.title);
            }
        }
        let document = Document {
            title: booklet.title.clone(),
            description: booklet.description.clone(),
            pages: self.done,
            bookmarks: self.marks,
            links,
            figures: self.figures,
            cells: self.cells,
            column: Some(self.room),
        };
        Composed { document, overfull: self.overfull }
    }
}

/// The height of the first slab and all that it wants on its page.
fn together(slabs: &[Slab]) -> f64 {
    let mut height = 0.0;
    for slab in slabs {
        height += slab.before + slab.height;
        if !slab.with_next {
            break;
        }
    }
    height
}

fn frame(
    page: &mut Drawing,
    booklet: &Booklet,
    section: &str,
    room: Rect,
    (number, of): (usize, usize),
) {
    let cut = |text: &str, wide: f64| super::super::measure::shorten(text, SMALL, false, wide);
    let layer = Layer::Frame;
    let (top, foot) = (room.y0 - 8.0, room.y1 + 8.0);
    let half = room.width() / 2.0 - 3.0;
    page.line(layer, at(room.x0, top + 1.6), at(room.x1, top + 1.6), Pen::Thin);
    page.add(layer, Text::new(at(room.x0, top), cut(&booklet.header, half), SMALL, Anchor::Start));
    page.add(layer, Text::new(at(room.x1, top), cut(section, half), SMALL, Anchor::End));
    page.add(layer, Text::new(at(room.x0, foot), cut(&booklet.footer, half), SMALL, Anchor::Start));
    page.add(layer, Text::new(at(room.x1, foot), format!("{number} of {of}"), NOTE, Anchor::End));
}
