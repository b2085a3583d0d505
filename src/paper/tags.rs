//! What a PDF says of its structure, for those who have it read to them: headings, paragraphs, tables with their rows, columns
//! and headings, and figures in the order in which they were put on the page; running heads, rules and rulers as ornament.

use std::num::{NonZeroU16, NonZeroU32};

use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, Node, TableHeaderScope, Tag, TagGroup, TagKind,
};

use super::drawing::{Item, Point, Rect, Shape, Text};
use super::pdf::{Document, TableCell};

/// What a shape is to a reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Class {
    /// Part of a heading of a level from 1.
    Heading(u16),
    /// Words.
    Paragraph,
    /// Part of the document's figure of that index.
    Figure(usize),
    /// Words in the page's cell of that index.
    Cell(usize),
    /// Nothing to be read.
    Ornament,
}

/// A run of content that is read as one thing.
struct Read {
    /// Its first shape's place among the page's.
    index: usize,
    class: Class,
    /// Its baseline, so that a line of several weights is one paragraph.
    y: f64,
    id: Identifier,
}

/// Tags a page while it is being drawn.
pub(super) struct Reader<'a> {
    document: &'a Document,
    page: usize,
    /// The page's cells.
    cells: Vec<TableCell>,
    open: Option<Class>,
    reads: Vec<Read>,
}

impl<'a> Reader<'a> {
    /// For one of a document's pages.
    pub fn of(document: &'a Document, page: usize) -> Self {
        let cells = document.cells.iter().filter(|cell| cell.page == page).copied().collect();
        Reader { document, page, cells, open: None, reads: Vec::new() }
    }

    /// Before a shape is drawn.
    pub fn begin(&mut self, surface: &mut Surface<'_>, index: usize, item: &Item) {
        let class = self.class(item);
        let goes_on = matches!(class, Class::Figure(_) | Class::Ornament);
        if self.open == Some(class) && goes_on {
            return;
        }
        self.end(surface);
        let tag = match class {
            Class::Ornament => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            _ => ContentTag::Other,
        };
        let id = surface.start_tagged(tag);
        self.open = Some(class);
        if class != Class::Ornament {
            let y = if let Shape::Text(text) = &item.shape { text.at.y } else { f64::NAN };
            self.reads.push(Read { index, class, y, id });
        }
    }

    /// After the last shape.
    pub fn end(&mut self, surface: &mut Surface<'_>) {
        if self.open.take().is_some() {
            surface.end_tagged();
        }
    }

    fn class(&self, item: &Item) -> Class {
        let here = |ink| {
            let within = |f: &super::pdf::Figure| f.page == self.page && f.rect.contains(&ink);
            self.document.figures.iter().position(within)
        };
        if let Some(figure) = item.shape.ink().and_then(here) {
            return Class::Figure(figure);
        }
        match &item.shape {
            Shape::Text(text) => match item.shape.ink().and_then(|ink| self.cell(ink.centre())) {
                Some(cell) => Class::Cell(cell),
                None => self.words(text),
            },
            _ => Class::Ornament,
        }
    }

    fn cell(&self, middle: Point) -> Option<usize> {
        let within =
            |r: &Rect| r.x0 <= middle.x && middle.x <= r.x1 && r.y0 <= middle.y && middle.y <= r.y1;
        self.cells.iter().position(|cell| within(&cell.rect))
    }

    fn words(&self, text: &Text) -> Class {
        let (x, y) = (text.at.x, text.at.y);
        if self.document.column.is_some_and(|c| x < c.x0 - 1.0 || y < c.y0 || y > c.y1 + 1.0) {
            return Class::Ornament;
        }
        let heads = |mark: &&super::pdf::Bookmark| {
            mark.page == self.page
                && mark.y < y
                && y < mark.y + 12.0
                && mark.text.starts_with(&text.text)
        };
        match self.document.bookmarks.iter().find(heads) {
            Some(mark) => Class::Heading(u16::try_from(mark.level + 1).unwrap_or(u16::MAX)),
            None => Class::Paragraph,
        }
    }

    /// The page's part of the tree, links last.
    pub fn part(mut self, links: Vec<Identifier>) -> TagGroup {
        self.reads.sort_by_key(|read| read.index);
        let mut part = TagGroup::new(Tag::Part);
        let mut line: Option<(f64, TagGroup)> = None;
        let mut figures: Vec<(usize, TagGroup)> = Vec::new();
        // A figure stands where its first shape does, with all the others.
        for read in &self.reads {
            if let Class::Figure(figure) = read.class {
                let at = figures.iter().position(|(known, _)| *known == figure);
                let at = at.unwrap_or_else(|| {
                    let words = self.document.figures[figure].text.clone();
                    figures.push((figure, TagGroup::new(Tag::Figure(Some(words)))));
                    figures.len() - 1
                });
                figures[at].1.push(read.id);
            }
        }
        let mut placed = vec![false; figures.len()];
        let mut tables: Vec<usize> = Vec::new();
        for read in &self.reads {
            match read.class {
                Class::Paragraph => {
                    if let Some((y, group)) = &mut line
                        && (*y - read.y).abs() < 1e-6
                    {
                        group.push(read.id);
                        continue;
                    }
                    part_push(&mut part, line.replace((read.y, group(Tag::P, read.id))));
                }
                Class::Heading(level) => {
                    part_push(&mut part, line.take());
                    let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
                    part.push(group(Tag::Hn(level, None), read.id));
                }
                Class::Figure(figure) => {
                    part_push(&mut part, line.take());
                    let at = figures.iter().position(|(known, _)| *known == figure);
                    if let Some(at) = at.filter(|at| !placed[*at]) {
                        placed[at] = true;
                        let empty = TagGroup::new(Tag::P);
                        part.push(std::mem::replace(&mut figures[at].1, empty));
                    }
                }
                Class::Cell(cell) => {
                    part_push(&mut part, line.take());
                    let table = self.cells[cell].table;
                    if !tables.contains(&table) {
                        tables.push(table);
                        part.push(self.table(table));
                    }
                }
                Class::Ornament => {}
            }
        }
        part_push(&mut part, line);
        links.into_iter().for_each(|link| part.push(group(Tag::Link, link)));
        part
    }

    /// A table with its rows and their cells; a cell without words keeps its place.
    fn table(&self, table: usize) -> TagGroup {
        let mut whole = TagGroup::new(Tag::Table);
        let mut row: Option<(usize, TagGroup)> = None;
        let own = || self.cells.iter().filter(|cell| cell.table == table);
        let in_row = |row: usize| own().filter(|cell| cell.row == row).count();
        let columns = own().map(|cell| in_row(cell.row)).max().unwrap_or(0);
        for (index, cell) in self.cells.iter().enumerate().filter(|(_, c)| c.table == table) {
            if let Some((_, done)) = row.take_if(|(number, _)| *number != cell.row) {
                whole.push(done);
            }
            let tag: TagKind = match cell.head {
                true => Tag::TH(TableHeaderScope::Column).into(),
                // What stands alone in its row stands across all of it.
                false if in_row(cell.row) == 1 && columns > 1 => {
                    let all = u32::try_from(columns).ok().and_then(NonZeroU32::new);
                    Tag::TD.with_col_span(all).into()
                }
                false => Tag::TD.into(),
            };
            let mut words = TagGroup::new(tag);
            let own = self.reads.iter().filter(|read| read.class == Class::Cell(index));
            own.for_each(|read| words.push(read.id));
            row.get_or_insert_with(|| (cell.row, TagGroup::new(Tag::TR))).1.push(words);
        }
        part_push(&mut whole, row);
        whole
    }
}

fn group(tag: impl Into<TagKind>, child: impl Into<Node>) -> TagGroup {
    TagGroup::with_children(tag, vec![child.into()])
}

fn part_push<T>(part: &mut TagGroup, line: Option<(T, TagGroup)>) {
    line.into_iter().for_each(|(_, group)| part.push(group));
}
