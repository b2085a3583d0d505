//! A sheet's cuts in the order of a person at a saw.
//!
//! The pattern says what comes out; any edge-to-edge line that harms no part may be cut next. Such a line always exists:
//! what a guillotine pattern leaves on either side of an edge-to-edge cut is a guillotine pattern again. Of these lines
//! is taken
//!
//! 1. while a panel is too large for one person, the one that halves it best;
//! 2. then one at the setting that the saw has already, as long as there is one;
//! 3. else one at the setting that finishes the most edges;
//!
//! and of equals one whose setting is a part's own size, so that this is measured and not what is left, from a factory edge
//! if there is one.
//!
//! Greedy, so without a bound: of a few variants the one with the fewest cuts and set-ups is taken.
//! O(cuts × pieces × log pieces) a variant.

use crate::design::work::{Edge, Saw, SawCut, SheetWork, Tool, Yield};
use crate::design::{Axis, PartId, Rect, SheetLayout};
use crate::scenario::{Form, Scenario};
use crate::units::{Area, Length};

/// A panel that one person can carry and turn: half a sheet of 4 by 8 ft (common practice, no source).
fn is_large(rect: Rect) -> bool {
    rect.dx.by(rect.dy) > Length::inches(48, 1).by(Length::inches(48, 1))
}

/// The farthest that a fence stands from the blade on a small table saw (an assumption).
const FENCE: Length = Length::inches(30, 1);
/// The widest panel that a crosscut sled takes between its fence and the blade's rise (an assumption).
const SLED: Length = Length::inches(24, 1);

/// What the saw is set to: like ones in a row are one set-up.
pub type Setting = (Tool, Length);

/// The cuts of one pattern, and what the saw is set to after the last. `set` is what it is set to before.
pub fn sheet(
    scenario: &Scenario,
    layout: &SheetLayout,
    kerf: Length,
    saw: Saw,
    set: Option<Setting>,
) -> (SheetWork, Option<Setting>) {
    // What a variant prefers: to keep the setting, or to finish many edges.
    let all = [false, true]
        .map(|edges_first| Bench::new(scenario, layout, kerf, saw, set).work(edges_first));
    let made = |work: &SheetWork| work.cuts.len() + work.setups as usize;
    let [keeping, finishing] = all;
    if made(&finishing.0) < made(&keeping.0) { finishing } else { keeping }
}

/// A part or a kept rest within a panel.
#[derive(Clone, Copy)]
struct Good {
    rect: Rect,
    part: Option<PartId>,
}

struct Panel {
    id: u32,
    rect: Rect,
    goods: Vec<Good>,
}

/// A line that may be cut.
#[derive(Clone, Copy)]
struct Line {
    axis: Axis,
    from: Edge,
    setting: Length,
    /// Parts' edges that it finishes.
    edges: usize,
    /// Whether there are goods on both sides.
    parts: bool,
    /// Whether the setting is a part's own size from the edge that is measured from.
    sized: bool,
    /// Whether that edge is the raw sheet's.
    factory: bool,
    tool: Tool,
}

struct Bench {
    raw: Rect,
    kerf: Length,
    saw: Saw,
    panels: Vec<Panel>,
    next: u32,
    work: SheetWork,
    set: Option<Setting>,
}

impl Bench {
    fn new(
        scenario: &Scenario,
        layout: &SheetLayout,
        kerf: Length,
        saw: Saw,
        set: Option<Setting>,
    ) -> Self {
        let (dx, dy) = match scenario.stock.items[layout.stock].form {
            Form::Sheet { along, across } => (along, across),
            Form::Board { length } => (length, Length::ZERO),
        };
        let parts =
            layout.pieces.iter().map(|piece| Good { rect: piece.at, part: Some(piece.part) });
        let rests = layout.offcuts.iter().map(|rest| Good { rect: *rest, part: None });
        let raw = Rect { x: Length::ZERO, y: Length::ZERO, dx, dy };
        let whole = Panel { id: 0, rect: raw, goods: parts.chain(rests).collect() };
        let panels = if whole.is_done() { Vec::new() } else { vec![whole] };
        let work = SheetWork { cuts: Vec::new(), kept: Vec::new(), setups: 0 };
        Self { raw, kerf, saw, panels, next: 1, work, set }
    }

    fn work(mut self, edges_first: bool) -> (SheetWork, Option<Setting>) {
        while let Some((panel, line)) = self.choose(edges_first) {
            self.cut(panel, line);
        }
        (self.work, self.set)
    }

    /// The panel and the line to cut next; `None` when all is done.
    fn choose(&self, edges_first: bool) -> Option<(usize, Line)> {
        if let Some(found) = self.halving() {
            return Some(found);
        }
        let mut lines: Vec<(usize, Line)> = Vec::new();
        for (index, panel) in self.panels.iter().enumerate() {
            lines.extend(self.lines(panel).into_iter().map(|line| (index, line)));
        }
        // What each setting would finish over all panels.
        let worth = |setting: Setting| -> usize {
            let alike = lines.iter().filter(|(_, line)| line.set_to() == setting);
            alike.map(|(_, line)| 1 + 2 * line.edges).sum()
        };
        lines
            .iter()
            .max_by_key(|(index, line)| {
                let kept = usize::from(self.set == Some(line.set_to()));
                let first = if edges_first { (line.edges, kept) } else { (kept, 0) };
                let order = std::cmp::Reverse((*index, line.axis, line.from));
                let clean = (line.sized, line.factory);
                (first, worth(line.set_to()), line.edges, clean, line.setting, order)
            })
            .copied()
    }

    /// The line that best halves the largest panel that is too large for one person.
    fn halving(&self) -> Option<(usize, Line)> {
        let mut large: Vec<usize> =
            (0..self.panels.len()).filter(|i| is_large(self.panels[*i].rect)).collect();
        large.sort_by_key(|i| {
            let panel = &self.panels[*i];
            (std::cmp::Reverse(panel.rect.dx.by(panel.rect.dy)), panel.id)
        });
        large.into_iter().find_map(|index| {
            let panel = &self.panels[index];
            let parting = self.lines(panel).into_iter().filter(|line| line.parts);
            let best = parting.min_by_key(|line| {
                let (near, far) = line.sides(panel.rect, self.kerf);
                let area = |rect: Option<Rect>| rect.map_or(Area::ZERO, |rect| rect.dx.by(rect.dy));
                let larger = area(Some(near)).max(area(far));
                let clean = std::cmp::Reverse((line.edges, line.sized, line.factory));
                (line.tool, larger, clean, line.axis, line.from)
            })?;
            Some((index, best))
        })
    }

    /// Every line that may be cut through a panel and brings something forward.
    fn lines(&self, panel: &Panel) -> Vec<Line> {
        let mut lines = Vec::new();
        for axis in [Axis::X, Axis::Y] {
            let (low, high) = ends(panel.rect, axis);
            let blocks = blocks(panel, axis, self.kerf);
            let mut add = |from: Edge, blade: Length, parts: bool| {
                // `blade` is the kerf's side that faces the edge measured from.
                let setting = if from == Edge::Low { blade - low } else { high - blade };
                let far = if from == Edge::Low { blade + self.kerf } else { blade - self.kerf };
                let edges = edges(panel, axis, blade.min(far), blade.max(far));
                if setting.is_positive() && (parts || edges > 0) {
                    let tool = self.tool(panel.rect, axis, setting);
                    let sized = panel.has_part(axis, low, high, from, setting);
                    let (first, last) = ends(self.raw, axis);
                    let factory = if from == Edge::Low { low == first } else { high == last };
                    lines.push(Line { axis, from, setting, edges, parts, sized, factory, tool });
                }
            };
            for pair in blocks.windows(2) {
                add(Edge::Low, pair[0].1, true);
                add(Edge::High, pair[1].0, true);
            }
            if let (Some(first), Some(last)) = (blocks.first(), blocks.last()) {
                if first.0 > low {
                    add(Edge::High, first.0, false);
                }
                if last.1 < high {
                    add(Edge::Low, last.1, false);
                }
            }
        }
        lines
    }

    /// What a cut is made with: an edge shorter than the panel is deep does not run safely along a fence.
    fn tool(&self, rect: Rect, axis: Axis, setting: Length) -> Tool {
        let (deep, along) = match axis {
            Axis::X => (rect.dx, rect.dy),
            Axis::Y => (rect.dy, rect.dx),
        };
        if self.saw == Saw::Guide {
            Tool::Guide
        } else if along >= deep && setting <= FENCE {
            Tool::Fence
        } else if !is_large(rect) && along <= SLED {
            Tool::Sled
        } else {
            Tool::Guide
        }
    }

    fn cut(&mut self, index: usize, line: Line) {
        let panel = self.panels.remove(index);
        let (near, far) = line.sides(panel.rect, self.kerf);
        if self.set != Some(line.set_to()) {
            self.work.setups += 1;
            self.set = Some(line.set_to());
        }
        let within = |rect: Rect| {
            let goods = panel.goods.iter().copied().filter(|good| holds(rect, good.rect));
            goods.collect::<Vec<Good>>()
        };
        let near_goods = within(near);
        let far_goods = far.map(within);
        let near = self.comes(near, near_goods);
        let far = far.zip(far_goods).map(|(rect, goods)| self.comes(rect, goods));
        let (axis, from, setting, tool) = (line.axis, line.from, line.setting, line.tool);
        let (panel, rect) = (panel.id, panel.rect);
        self.work.cuts.push(SawCut { tool, panel, rect, axis, from, setting, near, far });
    }

    /// What has come off the saw: finished, kept, waste, or to be cut further.
    fn comes(&mut self, rect: Rect, goods: Vec<Good>) -> Yield {
        let panel = Panel { id: self.next, rect, goods };
        match panel.goods.first() {
            None => Yield::Waste,
            Some(Good { part: Some(part), .. }) if panel.is_done() => Yield::Part(*part),
            Some(_) if panel.is_done() => {
                self.work.kept.push(rect);
                Yield::Kept(u32::try_from(self.work.kept.len() - 1).unwrap_or(u32::MAX))
            }
            Some(_) => {
                self.next += 1;
                let id = panel.id;
                self.panels.push(panel);
                Yield::Panel(id)
            }
        }
    }
}

impl Panel {
    /// Whether a part reaches from an edge (the panel's `low` or `high`) just as far as the setting.
    fn has_part(&self, axis: Axis, low: Length, high: Length, from: Edge, setting: Length) -> bool {
        let span = match from {
            Edge::Low => (low, low + setting),
            Edge::High => (high - setting, high),
        };
        self.goods.iter().any(|good| good.part.is_some() && ends(good.rect, axis) == span)
    }

    /// Whether no cut is needed: it is one part, or holds none.
    fn is_done(&self) -> bool {
        self.goods.iter().all(|good| good.part.is_none())
            || (self.goods.len() == 1 && self.goods[0].rect == self.rect)
    }
}

impl Line {
    fn set_to(&self) -> Setting {
        (self.tool, self.setting)
    }

    /// What is between the edge and the blade, and what is beyond the blade if anything is.
    fn sides(&self, rect: Rect, kerf: Length) -> (Rect, Option<Rect>) {
        let (low, high) = ends(rect, self.axis);
        let rest = high - low - self.setting - kerf;
        let of = |from: Length, extent: Length| match self.axis {
            Axis::X => Rect { x: from, dx: extent, ..rect },
            Axis::Y => Rect { y: from, dy: extent, ..rect },
        };
        let (near, far) = match self.from {
            Edge::Low => (low, high - rest),
            Edge::High => (high - self.setting, low),
        };
        (of(near, self.setting), rest.is_positive().then(|| of(far, rest)))
    }
}

/// Where a rectangle begins and ends along an axis.
fn ends(rect: Rect, axis: Axis) -> (Length, Length) {
    match axis {
        Axis::X => (rect.x, rect.x + rect.dx),
        Axis::Y => (rect.y, rect.y + rect.dy),
    }
}

/// The stretches along an axis that no cut may cross, with room for the blade between them.
fn blocks(panel: &Panel, axis: Axis, kerf: Length) -> Vec<(Length, Length)> {
    let mut spans: Vec<(Length, Length)> =
        panel.goods.iter().map(|good| ends(good.rect, axis)).collect();
    spans.sort_unstable();
    let mut blocks: Vec<(Length, Length)> = Vec::new();
    for (low, high) in spans {
        match blocks.last_mut() {
            Some(last) if low < last.1 + kerf => last.1 = last.1.max(high),
            _ => blocks.push((low, high)),
        }
    }
    blocks
}

/// How many edges of parts a kerf from `low` to `high` finishes.
fn edges(panel: &Panel, axis: Axis, low: Length, high: Length) -> usize {
    let parts = panel.goods.iter().filter(|good| good.part.is_some());
    parts
        .map(|good| {
            let (from, to) = ends(good.rect, axis);
            usize::from(to == low) + usize::from(from == high)
        })
        .sum()
}

fn holds(panel: Rect, good: Rect) -> bool {
    [Axis::X, Axis::Y].into_iter().all(|axis| {
        let ((low, high), (from, to)) = (ends(panel, axis), ends(good, axis));
        low <= from && to <= high
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::SheetPiece;
    use crate::scenario::fixture::{full_size, inches};

    fn rect(x: i64, y: i64, dx: i64, dy: i64) -> Rect {
        Rect { x: inches(x), y: inches(y), dx: inches(dx), dy: inches(dy) }
    }

    /// Pieces on a 96 by 48 in sheet with a kerf of one inch, and the rest that is kept.
    fn layout(scenario: &Scenario, pieces: &[Rect], offcuts: &[Rect]) -> SheetLayout {
        let material = scenario.stock.material_named("1/2 plywood").expect("the fixture's");
        let (stock, _) = scenario.stock.of(material).next().expect("the fixture's sheet");
        let piece = |at: &Rect| SheetPiece { part: PartId(0), at: *at };
        SheetLayout {
            stock,
            repeat: 1,
            trim: Length::ZERO,
            pieces: pieces.iter().map(piece).collect(),
            cuts: Vec::new(),
            offcuts: offcuts.to_vec(),
        }
    }

    #[test]
    fn the_first_cut_halves_the_sheet_and_like_settings_follow_each_other() {
        let scenario = full_size();
        let pieces: Vec<Rect> = [0, 24, 48, 72]
            .into_iter()
            .flat_map(|x| [rect(x, 0, 23, 20), rect(x, 21, 23, 20)])
            .collect();
        let layout = layout(&scenario, &pieces, &[]);
        let (work, _) = sheet(&scenario, &layout, inches(1), Saw::Guide, None);
        let first = &work.cuts[0];
        assert_eq!((first.axis, first.setting), (Axis::X, inches(47)));
        // 47 in for the halves, 23 in for the quarters, 20 in for every piece, and perhaps one trim for all.
        assert!(work.setups <= 4 && work.cuts.len() >= 11, "{:#?}", work.cuts);
        let finished = work.cuts.iter().flat_map(|cut| [Some(cut.near), cut.far]).flatten();
        assert_eq!(finished.filter(|y| matches!(y, Yield::Part(_))).count(), 8);
    }

    #[test]
    fn a_table_saw_rips_along_the_fence_and_crosscuts_strips_on_the_sled() {
        let scenario = full_size();
        let pieces = [rect(0, 0, 40, 20), rect(41, 0, 40, 20), rect(0, 21, 90, 20)];
        let layout = layout(&scenario, &pieces, &[]);
        let (work, _) = sheet(&scenario, &layout, inches(1), Saw::Table, None);
        let rips: Vec<_> = work.cuts.iter().filter(|cut| cut.axis == Axis::Y).collect();
        assert!(rips.iter().all(|cut| cut.tool == Tool::Fence), "{rips:#?}");
        let across: Vec<_> = work.cuts.iter().filter(|cut| cut.axis == Axis::X).collect();
        assert!(across.iter().all(|cut| cut.tool == Tool::Sled), "{across:#?}");
    }

    #[test]
    fn a_kept_rest_is_not_trimmed_for_its_own_sake() {
        let scenario = full_size();
        let layout = layout(&scenario, &[rect(0, 0, 50, 48)], &[rect(52, 1, 43, 46)]);
        let (work, _) = sheet(&scenario, &layout, inches(1), Saw::Guide, None);
        assert_eq!(work.cuts.len(), 1);
        assert_eq!(work.kept, [rect(51, 0, 45, 48)]);
    }

    #[test]
    fn a_sheet_that_is_one_part_needs_no_cut() {
        let scenario = full_size();
        let layout = layout(&scenario, &[rect(0, 0, 96, 48)], &[]);
        let (work, set) = sheet(&scenario, &layout, inches(1), Saw::Table, None);
        assert!(work.cuts.is_empty() && set.is_none());
    }
}
