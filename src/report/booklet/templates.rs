//! Templates at full size: where lock and handle go on a front, the ends of sides and boards with their rods and screws,
//! the ends of lids with their brackets, a leaf of a hinge if the scenario lists one, the ends of corner blocks. Only the region that is marked is shown, with its distances from the edges that it is laid
//! against, so that nearly every one is one page.

use super::{Job, shapes};
use crate::design::work::{HoleKind, PieceId, Row};
use crate::design::{Part, PartId, Role};
use crate::paper::{
    Anchor, DimensionRows, Drawing, Fill, Labels, Layer, NOTE, Pen, Point, Rect, SMALL, Shape,
    Side, Span, Text, at, rect, wrap,
};
use crate::report::work::{self, hand_hold_size};
use crate::scenario::{Hardware, HardwareUse, Plate, Scenario};
use crate::units::{Length, UnitSystem};

/// How far from a part's end holes are taken to belong to it.
const END: Length = Length::inches(5, 1);
/// Shown beyond the outermost hole, along and up: what is cut off there needs no more.
const BEYOND: [Length; 2] = [Length::inches(2, 1), Length::inches(1, 2)];
/// Half the width of a front's region, around its centre line.
const HALF: Length = Length::inches(13, 4);
/// Shown of a front beside what is let into it.
const BESIDE: Length = Length::inches(3, 8);
/// How a lid's template is laid on, and what its crosses are.
const LID: &str = "Seen from above, the lower edge on the lid's left edge; mark it from below through the turned sheet. The \
                   crosses are the middles of the brackets; where no screws are drawn around one, its own plate gives them.";
/// Half a cross, mm.
const CROSS: f64 = 8.0;

/// A template at full size.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// Lower-case words for a file's name: `lock-t1`.
    pub name: String,
    /// It, its dimensions around it.
    pub drawing: Drawing,
}

/// Which end of its length a region is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Datum {
    /// The front or left end.
    Near,
    /// The other.
    Far,
    /// The middle.
    Middle,
}

/// Holes of a region: along from its datum, across from the lower edge.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Pattern {
    role: Role,
    datum: Datum,
    /// Along on both sides of the datum, and up: what is shown.
    reach: [Length; 3],
    /// The part's width, which is shown where the region goes so far.
    width: Length,
    holes: Vec<(HoleKind, [Length; 2])>,
}

/// Every template: each once, though several parts share it.
pub fn templates(job: &Job<'_>) -> Vec<Template> {
    let mut patterns: Vec<(Pattern, Vec<&str>)> = Vec::new();
    for (index, piece) in (0..).map(PieceId).zip(&job.work.pieces) {
        let part = job.design.part(piece.part);
        let rows: Vec<&Row> = job.work.rows.iter().filter(|row| row.piece == index).collect();
        for pattern in patterns_of(job, part, &rows) {
            match patterns.iter_mut().find(|(known, _)| *known == pattern) {
                Some((_, marks)) => {
                    if !marks.contains(&part.mark.as_str()) {
                        marks.push(&part.mark);
                    }
                }
                None => patterns.push((pattern, vec![&part.mark])),
            }
        }
    }
    let units = job.scenario.units;
    let mut all: Vec<Template> =
        patterns.iter().map(|(pattern, marks)| pattern.draw(job, marks)).collect();
    let parts = (0..).map(PartId).zip(&job.design.parts);
    let blocks = parts.filter(|(_, p)| p.quantity > 0 && p.role == Role::CornerBlock);
    let mut legs: Vec<(Length, Vec<&str>)> = Vec::new();
    for (_, part) in blocks {
        match legs.iter_mut().find(|(leg, _)| *leg == part.width) {
            Some((_, marks)) => marks.push(&part.mark),
            None => legs.push((part.width, vec![&part.mark])),
        }
    }
    all.extend(legs.into_iter().map(|(leg, marks)| corner_block(leg, &marks, units)));
    all.extend(hinges(job.scenario).map(|hinge| leaf(hinge, units)));
    all.push(hand_hold(units));
    tell_apart(&mut all);
    all
}

/// Numbers names that are given twice: a part may be bored in several ways.
fn tell_apart(all: &mut [Template]) {
    let mut given: Vec<String> = Vec::new();
    for template in all {
        let plain = template.name.clone();
        let times = given.iter().filter(|name| **name == plain).count();
        given.push(plain);
        if times > 0 {
            template.name = format!("{}-{}", template.name, times + 1);
        }
    }
}

/// What of a part is worth a template.
fn patterns_of(job: &Job<'_>, part: &Part, rows: &[&Row]) -> Vec<Pattern> {
    let holes = rows.iter().flat_map(|row| row.holes.iter().map(|hole| (row.kind, *hole)));
    let holes: Vec<(HoleKind, [Length; 2])> = holes.collect();
    let of = |datum: Datum, keep: &dyn Fn(Length) -> Option<Length>| {
        let mut near: Vec<(HoleKind, [Length; 2])> = holes
            .iter()
            .filter_map(|(kind, [along, across])| Some((*kind, [keep(*along)?, *across])))
            .collect();
        near.sort();
        let half = |kind: HoleKind, axis: usize| {
            work::plate(job.scenario, job.design, kind).extents()[axis] / 2
        };
        let top = near.iter().map(|(kind, hole)| hole[1] + half(*kind, 1)).max()? + BEYOND[1];
        let from = |kind: HoleKind, along: Length| along.abs_diff(Length::ZERO) + half(kind, 0);
        let out = near.iter().map(|(kind, hole)| from(*kind, hole[0])).max()? + BEYOND[0];
        let reach = match datum {
            Datum::Near => [Length::ZERO, out.min(part.length), top.min(part.width)],
            Datum::Far => [out.min(part.length), Length::ZERO, top.min(part.width)],
            Datum::Middle => {
                let half = HALF.max(out - BEYOND[0] + BESIDE).min(part.length / 2);
                [half, half, top.min(part.width)]
            }
        };
        Some(Pattern { role: part.role, datum, reach, width: part.width, holes: near })
    };
    let middle = part.length / 2;
    let near = |along: Length| (along <= END).then_some(along);
    let far = |along: Length| (part.length - along <= END).then_some(along - part.length);
    match part.role {
        Role::AppliedFront => {
            of(Datum::Middle, &|along| Some(along - middle)).into_iter().collect()
        }
        Role::Side | Role::DrawerFront | Role::DrawerBack | Role::Lid => {
            [of(Datum::Near, &near), of(Datum::Far, &far)].into_iter().flatten().collect()
        }
        _ => Vec::new(),
    }
}

impl Pattern {
    /// Its name for files, what it is, and what to lay it against; of a chest with locks or without.
    fn words(&self, locks: bool) -> (&'static str, &'static str, &'static str) {
        match (self.role, self.datum) {
            (Role::AppliedFront, _) if !locks => (
                "handle",
                "Handle",
                "Lay the centre line on the front's middle, the lower edge on its lower edge. The cross is the \
                 handle's middle; where nothing is drawn around it, its own plate gives the holes and the cut-out.",
            ),
            (Role::AppliedFront, _) => (
                "lock",
                "Lock and handle",
                "Lay the centre line on the front's middle, the lower edge on its lower edge. The crosses are \
                 the middles of handle and lock; where nothing is drawn around one, its own plate gives the holes \
                 and the cut-out.",
            ),
            (Role::Side, Datum::Far) => (
                "side-rear",
                "Rear end of a side",
                "As seen from the right: turn the sheet over for the left face.",
            ),
            (Role::Side, _) if !locks => (
                "side-front",
                "Front end of a side",
                "As seen from the right: turn the sheet over for the left face.",
            ),
            (Role::Side, _) => (
                "side-front",
                "Front end of a side",
                "As seen from the right: turn the sheet over for the left face. The rod's hole is opened out \
                 inside, because the rod swings.",
            ),
            (Role::Lid, Datum::Far) => ("lid-rear", "Rear end of a lid", LID),
            (Role::Lid, _) => ("lid-front", "Front end of a lid", LID),
            (_, Datum::Far) => ("board-right", "Right end of a board", "As seen from the front."),
            _ => ("board-left", "Left end of a board", "As seen from the front."),
        }
    }

    fn draw(&self, job: &Job<'_>, marks: &[&str]) -> Template {
        let units = job.scenario.units;
        let (file, title, how) = self.words(job.scenario.choices.locks);
        let [before, after, high] = self.reach.map(Length::to_mm);
        let shown = rect(0.0, 0.0, before + after, high);
        let mut d = Drawing::new(
            format!("{title}: {}", marks.join(", ")),
            format!("{title} of {}, full size. {how}", marks.join(", ")),
            (0.0, 0.0),
        );
        let place =
            |[along, across]: [Length; 2]| at(before + along.to_mm(), high - across.to_mm());
        self.edges(&mut d, shown);
        let mut labels = Labels::within(shown);
        for (kind, hole) in &self.holes {
            let c = place(*hole);
            let radius = shapes::radius(*kind, units);
            let plate = work::plate(job.scenario, job.design, *kind);
            let circle =
                Shape::Circle { centre: c, radius, pen: Some(Pen::Thin), fill: Fill::None };
            d.add(Layer::Drill, circle);
            d.line(Layer::Drill, at(c.x - CROSS, c.y), at(c.x + CROSS, c.y), Pen::Thin);
            d.line(Layer::Drill, at(c.x, c.y - CROSS), at(c.x, c.y + CROSS), Pen::Thin);
            labels.avoid(rect(c.x - CROSS, c.y - 0.2, c.x + CROSS, c.y + 0.2));
            labels.avoid(rect(c.x - 0.2, c.y - CROSS, c.x + 0.2, c.y + CROSS));
            labels.avoid(rect(c.x, c.y, c.x, c.y).grown(radius));
            for (layer, shape) in shapes::let_in(plate, c, units) {
                shape.ink().into_iter().for_each(|ink| avoid_edges(&mut labels, ink));
                d.add(layer, shape);
            }
        }
        for (kind, hole) in &self.holes {
            let c = place(*hole);
            let plate = work::plate(job.scenario, job.design, *kind);
            if let Some([wide, high]) = plate.cut_out.map(|size| size.map(Length::to_mm)) {
                // Within what is sawn out, beside its middle.
                let told = work::bore(job.scenario, job.design, *kind);
                let within = rect(c.x + 1.0, c.y + 0.5, c.x + wide / 2.0 - 1.0, c.y + high / 2.0);
                labels.ask(format!("{}: {told}", short(*kind)), within);
                continue;
            }
            let (near, far) = (shapes::radius(*kind, units) + 0.4, 24.0);
            let right = rect(c.x + near, c.y + 0.3, c.x + far, c.y + 5.5);
            let left = rect(c.x - far, c.y + 0.3, c.x - near, c.y + 5.5);
            labels.ask(short(*kind), if right.x1 <= shown.x1 { right } else { left });
        }
        let edge = rect(shown.x0, shown.y1 - 6.0, shown.x0 + 22.0, shown.y1);
        labels.avoid(edge);
        // Beside a centre line there is no room for a sentence.
        if self.datum != Datum::Middle {
            labels.ask(how, shown.grown(-3.0));
        }
        let (shapes, _) = labels.place();
        d.add_all(Layer::Labels, shapes);
        let mut extent = self.dimensions(&mut d, shown, units);
        if self.datum == Datum::Middle {
            extent.y1 += 2.5;
            for line in wrap(how, NOTE, extent.width()).unwrap_or_default() {
                extent.y1 += NOTE * 1.75;
                let place = at(extent.x0, extent.y1 - 1.0);
                d.add(Layer::Labels, Text::new(place, line, NOTE, Anchor::Start));
            }
        }
        shifted(&mut d, extent.grown(1.0));
        let name = format!("{file}-{}", marks.first().unwrap_or(&"").to_lowercase());
        Template { name, drawing: d }
    }

    /// The part's own edges thick, where the region is cut off dashed, the middle of a front as a centre line.
    fn edges(&self, d: &mut Drawing, shown: Rect) {
        let r = shown;
        let whole = self.reach[2] == self.width;
        let thick = |is: bool| if is { Pen::Thick } else { Pen::Hidden };
        let corner = |x: f64, y: f64| at(x, y);
        let sides = [
            (corner(r.x0, r.y1), corner(r.x1, r.y1), true),
            (corner(r.x0, r.y0), corner(r.x1, r.y0), whole),
            (corner(r.x0, r.y0), corner(r.x0, r.y1), self.datum == Datum::Near),
            (corner(r.x1, r.y0), corner(r.x1, r.y1), self.datum == Datum::Far),
        ];
        for (from, to, own) in sides {
            let layer = if own { Layer::Cut } else { Layer::Surroundings };
            d.line(layer, from, to, thick(own));
        }
        if self.datum == Datum::Middle {
            let x = r.centre().x;
            d.line(Layer::Score, at(x, r.y0), at(x, r.y1), Pen::Centre);
        }
        let word = Text::new(at(r.x0 + 2.0, r.y1 - 2.0), "lower edge", SMALL, Anchor::Start);
        d.add(Layer::Labels, word);
    }

    /// Every distance from the edges that the template is laid against; gives all that is drawn.
    fn dimensions(&self, d: &mut Drawing, shown: Rect, units: UnitSystem) -> Rect {
        let mut rows = DimensionRows::around(shown);
        let mut shapes = Vec::new();
        // Where there is more than the screws along the edges, these show themselves well enough.
        let telling = self.holes.iter().any(|(kind, _)| *kind != HoleKind::Drawer);
        let distinct = |pick: &dyn Fn(&[Length; 2]) -> Length| {
            let told = self.holes.iter().filter(|(kind, _)| !telling || *kind != HoleKind::Drawer);
            let mut all: Vec<Length> = told.map(|(_, hole)| pick(hole)).collect();
            all.retain(|length| *length != Length::ZERO);
            all.sort_by_key(|length| length.abs_diff(Length::ZERO));
            all.dedup();
            all
        };
        let from = self.reach[0].to_mm();
        for along in distinct(&|[along, _]| *along) {
            let span =
                Span::new(from, from + along.to_mm(), along.abs_diff(Length::ZERO).figure(units));
            shapes.extend(rows.row(Side::Top, &[span]));
        }
        for across in distinct(&|[_, across]| *across) {
            let y = shown.y1;
            let span = Span::new(y, y - across.to_mm(), across.figure(units));
            let side = if self.datum == Datum::Far { Side::Right } else { Side::Left };
            shapes.extend(rows.row(side, &[span]));
        }
        d.add_all(Layer::Dimensions, shapes);
        rows.extent()
    }
}

/// What a hole is for, in a word.
fn short(kind: HoleKind) -> &'static str {
    match kind {
        HoleKind::Handle => "handle",
        HoleKind::Lock => "lock",
        HoleKind::Rod => "rod",
        HoleKind::Block => "into block",
        HoleKind::Front => "into front",
        HoleKind::Bracket => "bracket",
        _ => "screw",
    }
}

/// Keeps labels off the edges of a rectangle, not out of it.
fn avoid_edges(labels: &mut Labels, r: Rect) {
    for (x0, y0, x1, y1) in [
        (r.x0, r.y0, r.x1, r.y0),
        (r.x0, r.y1, r.x1, r.y1),
        (r.x0, r.y0, r.x0, r.y1),
        (r.x1, r.y0, r.x1, r.y1),
    ] {
        labels.avoid(rect(x0, y0, x1, y1).grown(0.2));
    }
}

/// The hinges that the scenario lists and whose pattern it tells.
pub fn hinges(scenario: &Scenario) -> impl Iterator<Item = &Hardware> {
    let listed = scenario.stock.hardware_for(HardwareUse::Hinge).map(|(_, hinge)| hinge);
    listed.filter(|hinge| hinge.plate != Plate::default())
}

/// A leaf of a hinge: what is let into the wood for it, and its screws.
fn leaf(hinge: &Hardware, units: UnitSystem) -> Template {
    let plate = hinge.plate;
    let [wide, high] = plate.extents().map(Length::to_mm);
    let name = super::line(&hinge.name);
    let title = format!("Leaf of a hinge: {name}");
    let description = format!(
        "The pattern of a leaf of {name}, full size: what is let in for it and its screws. No lid of this design is hung."
    );
    let mut d = Drawing::new(title, description, (0.0, 0.0));
    let middle = at(wide / 2.0, high / 2.0);
    for (layer, shape) in shapes::let_in(plate, middle, units) {
        d.add(layer, shape);
    }
    d.line(Layer::Score, at(-CROSS, middle.y), at(wide + CROSS, middle.y), Pen::Centre);
    d.line(Layer::Score, at(middle.x, -CROSS), at(middle.x, high + CROSS), Pen::Centre);
    let mut rows = DimensionRows::around(rect(-CROSS, -CROSS, wide + CROSS, high + CROSS));
    let mut shapes = Vec::new();
    for size in [plate.screws, plate.cut_out].into_iter().flatten() {
        for (side, length, all) in [(Side::Bottom, size[0], wide), (Side::Left, size[1], high)] {
            if length.is_positive() {
                let (half, all) = (length.to_mm() / 2.0, all / 2.0);
                let span = Span::new(all - half, all + half, length.figure(units));
                shapes.extend(rows.row(side, &[span]));
            }
        }
    }
    d.add_all(Layer::Dimensions, shapes);
    shifted(&mut d, rows.extent().grown(1.0));
    let file: String = name.chars().filter(char::is_ascii_alphanumeric).take(24).collect();
    let file = if file.is_empty() { "leaf".to_owned() } else { file.to_lowercase() };
    Template { name: format!("hinge-{file}"), drawing: d }
}

/// A slot for a hand in deck or lid: two bores, the wood between them sawn out (common practice, no source).
fn hand_hold(units: UnitSystem) -> Template {
    let [bore, apart] = hand_hold_size(units).map(Length::to_mm);
    let radius = bore / 2.0;
    let title = "Hand-hold, if wanted".to_owned();
    let description = format!(
        "A slot for a hand in the deck, full size: two holes of {} bored {} apart, the wood between them sawn out, \
         the edges rounded over.",
        hand_hold_size(units)[0].show(units),
        hand_hold_size(units)[1].show(units)
    );
    let mut d = Drawing::new(title, description, (0.0, 0.0));
    // A sixteenth of a circle is straight enough for a saw.
    const STEPS: i32 = 16;
    let end = |middle: f64, from: f64| {
        (0..=STEPS).map(move |step| {
            let turn = from + std::f64::consts::PI * f64::from(step) / f64::from(STEPS);
            at(middle + radius * libm::cos(turn), radius + radius * libm::sin(turn))
        })
    };
    let quarter = std::f64::consts::FRAC_PI_2;
    let points: Vec<Point> = end(radius + apart, -quarter).chain(end(radius, quarter)).collect();
    let pen = Some(Pen::Thick);
    d.add(Layer::Cut, Shape::Path { points, closed: true, pen, fill: Fill::None });
    for x in [radius, radius + apart] {
        d.line(Layer::Drill, at(x - CROSS, radius), at(x + CROSS, radius), Pen::Thin);
        d.line(Layer::Drill, at(x, radius - CROSS), at(x, radius + CROSS), Pen::Thin);
    }
    let shown = rect(0.0, 0.0, apart + bore, bore);
    let mut rows = DimensionRows::around(shown);
    let [bored, between] = hand_hold_size(units).map(|length| length.figure(units));
    let mut shapes = rows.row(Side::Bottom, &[Span::new(radius, radius + apart, between)]);
    shapes.extend(rows.row(Side::Left, &[Span::new(0.0, bore, bored)]));
    d.add_all(Layer::Dimensions, shapes);
    shifted(&mut d, rows.extent().grown(1.0));
    Template { name: "hand-hold".to_owned(), drawing: d }
}

/// The end of a square length, sawn from corner to corner.
fn corner_block(leg: Length, marks: &[&str], units: UnitSystem) -> Template {
    let side = leg.to_mm();
    let title = format!("Corner block: {}", marks.join(", "));
    let description = format!(
        "The end of a corner block of {}, full size: two legs of {} and the sawn face.",
        marks.join(", "),
        leg.show(units)
    );
    let mut d = Drawing::new(title, description, (0.0, 0.0));
    let points: Vec<Point> = vec![at(0.0, 0.0), at(0.0, side), at(side, side)];
    let pen = Some(Pen::Thick);
    d.add(Layer::Cut, Shape::Path { points, closed: true, pen, fill: Fill::None });
    let shown = rect(0.0, 0.0, side, side);
    let mut rows = DimensionRows::around(shown);
    let mut shapes = rows.row(Side::Bottom, &[Span::new(0.0, side, leg.figure(units))]);
    shapes.extend(rows.row(Side::Left, &[Span::new(0.0, side, leg.figure(units))]));
    d.add_all(Layer::Dimensions, shapes);
    shifted(&mut d, rows.extent().grown(1.0));
    Template { name: "corner-block".to_owned(), drawing: d }
}

/// Makes the page what is drawn on it.
fn shifted(d: &mut Drawing, extent: Rect) {
    for item in &mut d.items {
        item.shape = item.shape.moved(-extent.x0, -extent.y0);
    }
    (d.width, d.height) = (extent.width(), extent.height());
}
