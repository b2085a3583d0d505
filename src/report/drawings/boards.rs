//! Boards' cutting diagrams: one bar a pattern, its length to scale.

use std::collections::BTreeMap;

use super::Plans;
use super::page::{Choice, Heading, Page, Papers, choices, held, key_lines};
use crate::design::BoardLayout;
use crate::paper::{Anchor, Drawing, Fill, Hatch, Labels, Layer, NOTE, Pen, Text, at, rect};
use crate::report::naming::named_and_sized;
use crate::scenario::{Form, Section};
use crate::units::Length;

/// Height of a bar, and from bar to bar, mm. Not to scale: a board's pieces all have its width.
const BAR: f64 = 8.0;
const PITCH: f64 = 19.0;
/// Room for the key and notes at the page's foot, mm.
const FOOT: f64 = 30.0;

/// Draws all patterns on boards, several to a page.
pub(super) fn boards(plans: &Plans<'_>, papers: Papers) -> Vec<Drawing> {
    let layouts = &plans.plan.boards;
    let Some(longest) = layouts.iter().map(|layout| board_length(layout, plans)).max() else {
        return Vec::new();
    };
    let all = choices(papers, false, (longest, Length::MM), (2.0, PITCH + FOOT), 20);
    let choice = all[0];
    let room = Page::new(&heading(plans, layouts), choice, "").content.height() - FOOT;
    let most = ((room / PITCH).floor() as usize).max(1);
    let mut pages = Vec::new();
    let mut left = &layouts[..];
    while !left.is_empty() {
        // As many bars as leave room for their key; one at least.
        let (count, drawing) = (1..=most.min(left.len()))
            .rev()
            .find_map(|n| Some((n, draw(plans, &left[..n], choice, n == 1)?)))
            .unwrap_or((1, Page::new(&heading(plans, &left[..1]), choice, "").drawing));
        pages.push(drawing);
        left = &left[count..];
    }
    pages
}

/// The board's length; what its pieces and rest need if the stock is no board.
fn board_length(layout: &BoardLayout, plans: &Plans<'_>) -> Length {
    if let Some(Form::Board { length }) = plans.stock.items.get(layout.stock).map(|item| item.form)
    {
        return length;
    }
    let end = layout.pieces.iter().map(|p| p.at + p.length).max().unwrap_or(Length::MM);
    end + layout.offcut
}

fn heading<'a>(plans: &Plans<'a>, layouts: &[BoardLayout]) -> Heading<'a> {
    let units = plans.of.units;
    let words: Vec<String> = layouts
        .iter()
        .map(|layout| {
            let pieces: Vec<String> = layout
                .pieces
                .iter()
                .map(|p| format!("{} {}", plans.mark(p.part), p.length.figure(units)))
                .collect();
            format!("{}: {}.", board_name(layout, plans), pieces.join(", "))
        })
        .collect();
    Heading { title: "Cutting boards".to_owned(), description: words.join(" "), of: plans.of }
}

fn board_name(layout: &BoardLayout, plans: &Plans<'_>) -> String {
    let name = plans.stock.items.get(layout.stock).map_or("board", |item| item.name.as_str());
    let length = board_length(layout, plans).show(plans.of.units);
    let what = named_and_sized(name, &length);
    match layout.repeat {
        1 => what,
        n => format!("{what}, {n} alike"),
    }
}

fn draw(
    plans: &Plans<'_>,
    layouts: &[BoardLayout],
    choice: Choice,
    forced: bool,
) -> Option<Drawing> {
    let mut page = Page::new(&heading(plans, layouts), choice, "");
    let mut labels = Labels::within(page.content);
    for (i, layout) in layouts.iter().enumerate() {
        let top = page.content.y0 + i as f64 * PITCH;
        bar(&mut page, plans, layout, choice, top, &mut labels);
    }
    let (shapes, key) = labels.place();
    page.drawing.add_all(Layer::Labels, shapes);
    let kerf = plans.plan.kerf.show(plans.of.units);
    let mut lines = key_lines(&key);
    lines.push(format!("Kerf {kerf} between pieces."));
    lines.push("Lengths are finished, from the left end.".to_owned());
    lines.push("Widths are not to scale.".to_owned());
    lines.extend(rips(plans, layouts));
    let top = page.content.y0 + layouts.len() as f64 * PITCH + 2.0;
    page.finish(top, lines, forced)
}

/// What is ripped narrower than its board, in the order of the parts.
fn rips(plans: &Plans<'_>, layouts: &[BoardLayout]) -> Option<String> {
    let mut ripped = BTreeMap::new();
    for layout in layouts {
        let Some(item) = plans.stock.items.get(layout.stock) else { continue };
        let Section::Board { width } = plans.stock.materials[item.material].section else {
            continue;
        };
        for piece in &layout.pieces {
            let wide = plans.widths.get(piece.part.0 as usize);
            ripped.extend(wide.filter(|wide| **wide < width).map(|wide| (piece.part, *wide)));
        }
    }
    let units = plans.of.units;
    let each = ripped.iter().map(|(part, w)| format!("{} {}", plans.mark(*part), w.figure(units)));
    let each: Vec<String> = each.collect();
    (!each.is_empty()).then(|| format!("Ripped to width: {}.", each.join(", ")))
}

fn bar(
    page: &mut Page,
    plans: &Plans<'_>,
    layout: &BoardLayout,
    choice: Choice,
    top: f64,
    labels: &mut Labels,
) {
    let units = plans.of.units;
    let drawn = |l: Length| choice.scale.drawn(l.to_mm());
    let (x0, y0) = (page.content.x0 + 1.0, top + NOTE * 2.0);
    let d = &mut page.drawing;
    let name = Text::new(at(x0, top + NOTE * 1.4), board_name(layout, plans), NOTE, Anchor::Start);
    labels.avoid(crate::paper::text_box(&name));
    d.add(Layer::Labels, name);
    let length = board_length(layout, plans);
    let whole = rect(x0, y0, x0 + drawn(length), y0 + BAR);
    d.rect(Layer::Work, whole, Pen::Thick, Fill::Hatched(Hatch::Falling));
    for piece in &layout.pieces {
        let r = rect(x0 + drawn(piece.at), y0, x0 + drawn(piece.at + piece.length), y0 + BAR);
        d.rect(Layer::Work, r, Pen::Thick, Fill::White);
        labels.ask(format!("{} {}", plans.mark(piece.part), held(piece.length, units)), r);
    }
    if layout.offcut.is_positive() {
        let r = rect(whole.x1 - drawn(layout.offcut), y0, whole.x1, y0 + BAR);
        labels.ask(format!("rest {}", held(layout.offcut, units)), r);
    }
}
