//! What the elevation and the section have in common: the chest upright in its bed, with its heights.

use super::page::{Choice, Heading, Page, Papers, choices, key_lines, on_the_first};
use crate::design::{Box3, Carcass, Design};
use crate::paper::{
    DimensionRows, Drawing, Labels, Layer, Pen, Point, Rect, Shape, Side, Span, View, at,
};
use crate::scenario::Scenario;
use crate::units::{Length, UnitSystem};

/// Room for dimensions above and below, mm.
const ABOVE: f64 = 24.0;
const BELOW: f64 = 34.0;

/// A view of the chest in its bed, floor down.
pub(super) struct Upright<'a> {
    pub design: &'a Design,
    pub scenario: &'a Scenario,
    pub heading: Heading<'a>,
    /// How far the bed extends along the paper.
    pub along: Length,
    /// Room for dimensions at each side, mm.
    pub beside: f64,
    /// What stands below the key.
    pub notes: &'a [&'a str],
}

/// What is being drawn of it.
pub(super) struct Canvas<'a> {
    pub d: &'a mut Drawing,
    pub view: View,
    /// The bed, from the floor to the highest of what is shown.
    pub outline: Rect,
    pub labels: &'a mut Labels,
}

impl Upright<'_> {
    /// Draws it: first what `paint` says, then the rows of dimensions of `measure`.
    pub fn draw(
        &self,
        papers: Papers,
        paint: &dyn Fn(&mut Canvas<'_>),
        measure: &dyn Fn(&mut Rows),
    ) -> Drawing {
        let size = (self.along, self.height());
        let all = choices(papers, true, size, (2.0 * self.beside, ABOVE + BELOW + 8.0), 10);
        on_the_first(&all, &self.heading, |choice, last| self.at(choice, last, paint, measure))
    }

    fn height(&self) -> Length {
        let bed = &self.scenario.bed;
        let deepest = bed.depth.map_or(Length::ZERO, |depth| depth.at);
        self.design.chest.carcass.top_z.max(bed.clear_height.at).max(deepest)
    }

    fn at(
        &self,
        choice: Choice,
        last: bool,
        paint: &dyn Fn(&mut Canvas<'_>),
        measure: &dyn Fn(&mut Rows),
    ) -> Option<Drawing> {
        let mut page = Page::new(&self.heading, choice, "");
        let drawn = |l: Length| choice.scale.drawn(l.to_mm());
        let (along, high) = (self.along, self.height());
        let corner = page.centred(drawn(along), (self.beside, self.beside), ABOVE);
        let view = View {
            units_per_mm: Length::MM.units(),
            scale: choice.scale,
            from: (0, 0),
            to: at(corner.x, corner.y + drawn(high)),
            up: true,
        };
        let outline = view.rect(0, 0, along.units(), high.units());
        let mut labels = Labels::within(outline);
        paint(&mut Canvas { d: &mut page.drawing, view, outline, labels: &mut labels });
        let (shapes, key) = labels.place();
        page.drawing.add_all(Layer::Labels, shapes);
        let mut rows = Rows {
            view,
            units: self.scenario.units,
            rows: DimensionRows::around(outline),
            shapes: Vec::new(),
        };
        measure(&mut rows);
        let bottom = rows.rows.extent().y1;
        page.drawing.add_all(Layer::Dimensions, rows.shapes);
        let mut lines = key_lines(&key);
        lines.extend(self.notes.iter().map(|note| (*note).to_owned()));
        page.finish(bottom + 3.0, lines, last)
    }
}

impl Canvas<'_> {
    /// A rectangle of the view from its lower left corner.
    pub fn rect(&self, along: Length, z: Length, wide: Length, high: Length) -> Rect {
        self.view.rect(along.units(), z.units(), wide.units(), high.units())
    }

    /// How high on the page a height lies.
    pub fn level(&self, z: Length) -> f64 {
        self.view.point(0, z.units()).y
    }

    /// The bed's floor and walls as far as `points` go, and the line that the deck stays under.
    pub fn bed(&mut self, walls: Vec<Point>, clear: Length) {
        let layer = Layer::Surroundings;
        let fill = crate::paper::Fill::None;
        let shape = Shape::Path { points: walls, closed: false, pen: Some(Pen::Phantom), fill };
        self.d.add(layer, shape);
        let y = self.level(clear);
        self.d.line(layer, at(self.outline.x0, y), at(self.outline.x1, y), Pen::Centre);
    }
}

/// A box's rectangle in a view along y.
pub(super) fn front_rect(canvas: &Canvas<'_>, space: &Box3) -> Rect {
    canvas.rect(space.at.x, space.at.z, space.size.dx, space.size.dz)
}

/// A box's rectangle in a view along x.
pub(super) fn side_rect(canvas: &Canvas<'_>, space: &Box3) -> Rect {
    canvas.rect(space.at.y, space.at.z, space.size.dy, space.size.dz)
}

/// Rows of dimensions being added.
pub(super) struct Rows {
    view: View,
    units: UnitSystem,
    rows: DimensionRows,
    shapes: Vec<Shape>,
}

impl Rows {
    /// A row of level dimensions, each from one stop to the next.
    pub fn level(&mut self, side: Side, stops: &[Length]) {
        let view = self.view;
        let x = |l: Length| view.point(l.units(), 0).x;
        self.row(side, stops, &x);
    }

    /// A row of upright ones.
    pub fn upward(&mut self, side: Side, stops: &[Length]) {
        let view = self.view;
        let z = |l: Length| view.point(0, l.units()).y;
        self.row(side, stops, &z);
    }

    fn row(&mut self, side: Side, stops: &[Length], place: &dyn Fn(Length) -> f64) {
        let span =
            |w: &[Length]| Span::new(place(w[0]), place(w[1]), (w[1] - w[0]).figure(self.units));
        let spans: Vec<Span> = stops.windows(2).map(span).collect();
        self.shapes.extend(self.rows.row(side, &spans));
    }

    /// Where tiers, panels and deck begin and end above the floor, then the whole.
    pub fn heights(&mut self, side: Side, carcass: &Carcass) {
        let mut stops = vec![Length::ZERO, carcass.lift];
        for frame in &carcass.tiers {
            stops.extend([frame.z, frame.z + frame.height]);
        }
        stops.extend([carcass.deck_z, carcass.top_z]);
        stops.sort_unstable();
        stops.dedup();
        self.upward(side, &stops);
        self.upward(side, &[Length::ZERO, carcass.top_z]);
    }
}
