//! Names for boxes: in the box if it holds them, else by a numbered key.

use super::drawing::{Anchor, Fill, Pen, Point, Rect, Shape, Text, Turn, at, rect};
use super::measure::{BASELINES, DESCENT, NOTE, SMALL, text_width, wrap};

/// A line of the key: a number and the name it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyEntry {
    /// The number on the drawing.
    pub number: usize,
    /// What it stands for.
    pub text: String,
    /// How many boxes it names.
    pub boxes: usize,
}

/// Names to place on a drawing, all together: first those that fit their boxes, then balloons with
/// numbers, in the box or beside it with a leader.
#[derive(Debug, Clone)]
pub struct Labels {
    area: Rect,
    taken: Vec<Rect>,
    asked: Vec<Asked>,
    marks: Vec<(String, Vec<Point>)>,
}

/// A name to be placed.
#[derive(Debug, Clone)]
struct Asked {
    /// Which to try, the longest first.
    texts: Vec<String>,
    within: Rect,
    /// What stands in a ring at or beside the box if none fits; the key has the longest if there is none.
    mark: Option<String>,
}

/// Radius of a numbered balloon.
const BALLOON: f64 = 2.4;
/// Room kept between a label and the edge of its box.
const MARGIN: f64 = 0.5;
/// Directions tried for a balloon outside its box, nearest to the upright first: rational points of
/// the unit circle, so that no platform's sine is asked.
const DIRECTIONS: [(f64, f64); 12] = [
    (0.0, -1.0),
    (1.0, 0.0),
    (0.0, 1.0),
    (-1.0, 0.0),
    (0.6, -0.8),
    (0.8, 0.6),
    (-0.6, 0.8),
    (-0.8, -0.6),
    (0.8, -0.6),
    (0.6, 0.8),
    (-0.8, 0.6),
    (-0.6, -0.8),
];

impl Labels {
    /// No labels yet; balloons keep inside `area`.
    pub fn within(area: Rect) -> Self {
        Labels { area, taken: Vec::new(), asked: Vec::new(), marks: Vec::new() }
    }

    /// Keeps labels off a rectangle.
    pub fn avoid(&mut self, taken: Rect) {
        self.taken.push(taken);
    }

    /// Asks for a name in a box.
    pub fn ask(&mut self, text: impl Into<String>, within: Rect) {
        self.asked.push(Asked { texts: vec![text.into()], within, mark: None });
    }

    /// Asks for the first of these names that a box holds; failing all, the key gets the first.
    pub fn ask_either(&mut self, texts: &[String], within: Rect) {
        self.asked.push(Asked { texts: texts.to_vec(), within, mark: None });
    }

    /// Asks for a name that begins with a short mark; where a box does not hold it, the mark alone, in a ring and with a
    /// line to the box if need be.
    pub fn ask_or_mark(&mut self, text: impl Into<String>, mark: &str, within: Rect) {
        let texts = vec![text.into(), mark.to_owned()];
        self.asked.push(Asked { texts, within, mark: Some(mark.to_owned()) });
    }

    /// Asks for a small mark in a ring, centred on the first of these places that is free once the names have
    /// theirs; if none is, it stands near one with a line to it.
    pub fn mark(&mut self, text: impl Into<String>, places: Vec<Point>) {
        self.marks.push((text.into(), places));
    }

    /// Places all names, and gives the shapes and the key to those shown by number, in order of
    /// their numbers. Equal names share a number. O(n²) rectangle tests in the names.
    pub fn place(mut self) -> (Vec<Shape>, Vec<KeyEntry>) {
        let mut shapes = Vec::new();
        let mut left = Vec::new();
        let mut rings = Vec::new();
        for Asked { texts, within, mark } in std::mem::take(&mut self.asked) {
            match texts.iter().find_map(|text| self.write_in(text, within)) {
                Some(lines) => shapes.extend(lines.into_iter().map(Shape::Text)),
                None => match mark {
                    Some(mark) => rings.push((mark, vec![within.centre()])),
                    None => left.extend(texts.into_iter().next().map(|text| (text, within))),
                },
            }
        }
        let mut key: Vec<KeyEntry> = Vec::new();
        // Balloons that find room in their own box first: they can't be elsewhere.
        let mut outside = Vec::new();
        for (text, within) in left {
            let number = number_of(&mut key, text);
            let c = within.centre();
            let spot = balloon_box(c);
            if within.grown(-0.2).contains(&spot) && self.free(&spot) {
                shapes.extend(self.balloon(number, c));
            } else {
                outside.push((number, within));
            }
        }
        for (number, within) in outside {
            shapes.extend(self.beside(number, within));
        }
        for (text, places) in rings.into_iter().chain(std::mem::take(&mut self.marks)) {
            shapes.extend(self.write_mark(&text, &places));
        }
        (shapes, key)
    }

    fn free(&self, spot: &Rect) -> bool {
        !self.taken.iter().any(|taken| taken.overlaps(spot))
    }

    /// The text in its box: level before upright, ordinary before small, the middle before elsewhere.
    fn write_in(&mut self, text: &str, within: Rect) -> Option<Vec<Text>> {
        let inner = within.grown(-MARGIN);
        for (turn, height) in
            [(Turn::Level, NOTE), (Turn::Level, SMALL), (Turn::Upward, NOTE), (Turn::Upward, SMALL)]
        {
            let (along, across) = match turn {
                Turn::Level => (inner.width(), inner.height()),
                Turn::Upward => (inner.height(), inner.width()),
            };
            let Some(lines) = wrap(text, height, along) else { continue };
            let longest = lines.iter().map(|l| text_width(l, height, false)).fold(0.0, f64::max);
            let deep = height * (1.06 + DESCENT + BASELINES * (lines.len() as f64 - 1.0));
            if lines.is_empty() || deep > across {
                continue;
            }
            let size = match turn {
                Turn::Level => (longest, deep),
                Turn::Upward => (deep, longest),
            };
            if let Some(spot) = self.spot_in(inner, size) {
                self.taken.push(spot);
                return Some(set_lines(&lines, height, turn, spot));
            }
        }
        None
    }

    /// A free rectangle of a size inside another: the middle, or one of a five by five grid.
    fn spot_in(&self, inner: Rect, (w, h): (f64, f64)) -> Option<Rect> {
        const STEPS: [f64; 5] = [0.5, 0.25, 0.75, 0.0, 1.0];
        let (free_x, free_y) = (inner.width() - w, inner.height() - h);
        STEPS
            .iter()
            .flat_map(|fy| STEPS.iter().map(move |fx| (fx, fy)))
            .map(|(fx, fy)| {
                let (x, y) = (inner.x0 + fx * free_x, inner.y0 + fy * free_y);
                rect(x, y, x + w, y + h)
            })
            .find(|spot| self.free(spot))
    }

    fn write_mark(&mut self, text: &str, places: &[Point]) -> Vec<Shape> {
        let radius = (text_width(text, SMALL, false) / 2.0).max(SMALL / 2.0) + 0.35;
        let around = |p: Point| rect(p.x - radius, p.y - radius, p.x + radius, p.y + radius);
        let free = |p: &Point| self.area.contains(&around(*p)) && self.free(&around(*p));
        let (spot, from) = match places.iter().copied().find(free) {
            Some(spot) => (spot, None),
            None => {
                let Some((spot, from)) = places.iter().find_map(|place| {
                    let near = (2..=12).flat_map(|step| {
                        let reach = f64::from(step) * 1.25;
                        DIRECTIONS.map(|(dx, dy)| at(place.x + dx * reach, place.y + dy * reach))
                    });
                    near.into_iter().find(free).map(|spot| (spot, *place))
                }) else {
                    return Vec::new();
                };
                (spot, Some(from))
            }
        };
        self.taken.push(around(spot));
        let leader = from.map(|from| Shape::Line { from, to: spot, pen: Pen::Thin });
        let ring = Shape::Circle { centre: spot, radius, pen: Some(Pen::Thin), fill: Fill::White };
        let place = at(spot.x, spot.y + SMALL / 2.0);
        let words = Text::new(place, text, SMALL, Anchor::Middle).into();
        leader.into_iter().chain([ring, words]).collect()
    }

    fn balloon(&mut self, number: usize, centre: Point) -> Vec<Shape> {
        self.taken.push(balloon_box(centre));
        let baseline = at(centre.x, centre.y + SMALL / 2.0);
        vec![
            Shape::Circle { centre, radius: BALLOON, pen: Some(Pen::Thin), fill: Fill::White },
            Text::new(baseline, number.to_string(), SMALL, Anchor::Middle).into(),
        ]
    }

    /// A balloon outside the box, at the nearest free place, with a leader to a dot in the box. Where
    /// there is no free place within 60 mm, a bare dot: the key still has the name.
    fn beside(&mut self, number: usize, within: Rect) -> Vec<Shape> {
        let c = within.centre();
        let dot = Shape::Circle { centre: c, radius: 0.4, pen: None, fill: Fill::Black };
        for step in 2..=24 {
            let reach = f64::from(step) * 2.5;
            for (dx, dy) in DIRECTIONS {
                let spot = at(c.x + dx * reach, c.y + dy * reach);
                let own = balloon_box(spot);
                let end = at(spot.x - dx * BALLOON, spot.y - dy * BALLOON);
                let crossed = self.taken.iter().any(|taken| taken.crossed(c, end));
                if self.area.contains(&own) && self.free(&own) && !own.overlaps(&within) && !crossed
                {
                    let mut shapes = vec![Shape::Line { from: c, to: end, pen: Pen::Thin }, dot];
                    shapes.extend(self.balloon(number, spot));
                    return shapes;
                }
            }
        }
        vec![dot]
    }
}

fn balloon_box(c: Point) -> Rect {
    rect(c.x - BALLOON, c.y - BALLOON, c.x + BALLOON, c.y + BALLOON)
}

/// The number of a name in the key, which gains a line if the name is new.
fn number_of(key: &mut Vec<KeyEntry>, text: String) -> usize {
    if let Some(entry) = key.iter_mut().find(|entry| entry.text == text) {
        entry.boxes += 1;
        return entry.number;
    }
    let number = key.len() + 1;
    key.push(KeyEntry { number, text, boxes: 1 });
    number
}

/// Lines of text centred in a rectangle of their own size.
fn set_lines(lines: &[String], height: f64, turn: Turn, spot: Rect) -> Vec<Text> {
    let c = spot.centre();
    lines
        .iter()
        .enumerate()
        .map(|(i, line)| {
            let down = height * (1.06 + BASELINES * i as f64);
            let place = match turn {
                Turn::Level => at(c.x, spot.y0 + down),
                Turn::Upward => at(spot.x0 + down, c.y),
            };
            Text::new(place, line, height, Anchor::Middle).turned(turn).clear()
        })
        .collect()
}
