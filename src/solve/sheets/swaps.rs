//! Panels of nearly the same size that change places, where there are many sheets of many parts each.
//!
//! A panel, a part or a row of several, can stand where another one stood if it is within that one's room, which the tree
//! knows; so whether two panels of different sheets may change places is four comparisons. What is gained is counted as
//! [`super::windows`] counts it: less is left out, or the sheets' free space is less evenly spread, until it suffices for
//! something that was left out. A little worse will do, as much less as the work goes on (threshold accepting: Dueck & Scheuer,
//! J. Comput. Phys. 90, 1990; from memory).

use super::insert::{FITS, Insertion};
use super::rng::Rng;
use super::space::Space;
use super::tree::{Bin, Node};
use super::windows::{Line, OUT};
use crate::solve::budget::Budget;

/// How often in a thousand times a panel is exchanged for something left out.
const OUTSIDE: usize = 150;
/// How much worse an exchange may be at first, in squares of the shares of a sheet that [`Space::share`] counts.
const HOT: u64 = 1_000_000;
/// Pairs of panels that are looked at for one step of work.
const PAIRS: usize = 16;

/// A panel of a sheet.
#[derive(Clone, Copy)]
pub(super) struct Panel {
    node: u32,
    need: [i64; 2],
    room: [i64; 2],
    /// Scaled area of its parts.
    area: i64,
    worth: i64,
    /// Whether all its parts may turn.
    turns: bool,
}

impl Panel {
    /// Whether it is turned to lie within some room, where it can.
    #[inline]
    fn lies_in(&self, room: [i64; 2]) -> Option<bool> {
        let [x, y] = self.need;
        if x <= room[0] && y <= room[1] {
            Some(false)
        } else if self.turns && y <= room[0] && x <= room[1] {
            Some(true)
        } else {
            None
        }
    }
}

/// The work of looking at all pairs of panels of two sheets.
pub(super) fn pairs(panels: &[impl AsRef<[Panel]>; 2]) -> u64 {
    1 + (panels[0].as_ref().len() * panels[1].as_ref().len() / PAIRS) as u64
}

/// A branch, turned by a quarter if that is wished.
fn turned(mut branch: Vec<Node>, turn: bool) -> Vec<Node> {
    if turn {
        branch.iter_mut().for_each(Node::turn);
    }
    branch
}

impl Space<'_> {
    /// Exchanges panels until nothing is left out or the work is spent.
    pub(super) fn swap_some(&self, line: &mut Line, worth: &[i64], budget: &mut Budget) {
        if !line.bins.iter().all(Bin::is_plain) {
            return;
        }
        line.bins.iter_mut().for_each(Bin::freshen);
        let mut panels: Vec<Vec<Panel>> =
            line.bins.iter().map(|bin| self.panels(bin, worth)).collect();
        let whole = budget.left().max(1);
        while budget.stopped().is_none() && !line.out.is_empty() && line.bins.len() > 1 {
            let warm = u128::from(HOT) * u128::from(budget.left()) / u128::from(whole);
            let slack = line.rng.below(warm as usize + 1) as i64;
            let looks = if line.rng.chance(OUTSIDE) {
                self.swap_out(line, worth, &mut panels, slack)
            } else {
                self.swap_two(line, worth, &mut panels, slack)
            };
            budget.spend(looks);
        }
    }

    /// All panels of a sheet but itself. `worth` is by kind, or empty where it does not matter.
    pub(super) fn panels(&self, bin: &Bin, worth: &[i64]) -> Vec<Panel> {
        let worth = |kind: usize| worth.get(kind).copied().unwrap_or(0);
        let mut all: Vec<Panel> = Vec::with_capacity(bin.nodes.len());
        for (i, node) in bin.nodes.iter().enumerate() {
            let kind = node.kind as usize;
            let (area, worth, turns) = if node.is_leaf() {
                (self.shapes[kind].area, worth(kind), self.shapes[kind].ways.len() > 1)
            } else {
                (0, 0, true)
            };
            let Node { need, room, .. } = *node;
            all.push(Panel { node: i as u32, need, room, area, worth, turns });
        }
        for i in (1..all.len()).rev() {
            let Panel { area, worth, turns, .. } = all[i];
            let above = &mut all[bin.nodes[i].parent as usize];
            above.area += area;
            above.worth += worth;
            above.turns &= turns;
        }
        // The sheet itself stays.
        all.drain(..all.len().min(1));
        all
    }

    /// Two panels of two sheets; how much was looked at.
    fn swap_two(
        &self,
        line: &mut Line,
        worth: &[i64],
        panels: &mut [Vec<Panel>],
        slack: i64,
    ) -> u64 {
        let n = line.bins.len();
        let a = line.rng.below(n);
        let b = (a + 1 + line.rng.below(n - 1)) % n;
        let both = [&panels[a], &panels[b]];
        let looks = pairs(&both);
        if !self.swap_panels(&mut line.bins, [a, b], &both, slack, &mut line.rng) {
            return looks;
        }
        let nodes = (line.bins[a].nodes.len() + line.bins[b].nodes.len()) as u64;
        let looked = self.put_in(line, a) + self.put_in(line, b);
        panels[a] = self.panels(&line.bins[a], worth);
        panels[b] = self.panels(&line.bins[b], worth);
        looks + nodes + looked
    }

    /// Lets two panels of two sheets change places, of which these are the panels, if some two can with no more loss than `slack`.
    pub(super) fn swap_panels(
        &self,
        bins: &mut [Bin],
        [a, b]: [usize; 2],
        panels: &[impl AsRef<[Panel]>; 2],
        slack: i64,
        rng: &mut Rng,
    ) -> bool {
        let free = |b: usize| bins[b].area - bins[b].used;
        let square = |area: i64| self.share(area).pow(2);
        let before = square(free(a)) + square(free(b));
        let mut seen = 0;
        let mut found = None;
        for p in panels[0].as_ref() {
            for q in panels[1].as_ref() {
                let (down, up) = (q.lies_in(p.room), p.lies_in(q.room));
                let (Some(down), Some(up)) = (down, up) else { continue };
                if p.area == q.area {
                    continue;
                }
                let more = q.area - p.area;
                let loss = before - square(free(a) - more) - square(free(b) + more);
                if loss <= slack {
                    // One of all that will do.
                    seen += 1;
                    if rng.below(seen) == 0 {
                        found = Some((p.node, q.node, more, up, down));
                    }
                }
            }
        }
        let Some((p, q, more, turn_up, turn_down)) = found else { return false };
        let up = turned(bins[a].branch(p as usize), turn_up);
        let down = turned(bins[b].branch(q as usize), turn_down);
        bins[a].graft(p as usize, &down, more);
        bins[b].graft(q as usize, &up, -more);
        true
    }

    /// A panel and something left out.
    fn swap_out(
        &self,
        line: &mut Line,
        worth: &[i64],
        panels: &mut [Vec<Panel>],
        slack: i64,
    ) -> u64 {
        let a = line.rng.below(line.bins.len());
        let free = line.bins[a].area - line.bins[a].used;
        let square = |area: i64| self.share(area).pow(2);
        let (mut seen, mut found) = (0, None);
        for p in &panels[a] {
            for (o, kind) in line.out.iter().enumerate() {
                let shape = &self.shapes[*kind as usize];
                for (way, size) in shape.ways.iter().enumerate() {
                    if size[0] > p.room[0] || size[1] > p.room[1] {
                        continue;
                    }
                    let more = shape.area - p.area;
                    let loss = square(free) - square(free - more)
                        + (p.worth - worth[*kind as usize]) * OUT;
                    if loss <= slack && more != 0 {
                        seen += 1;
                        if line.rng.below(seen) == 0 {
                            found = Some((p.node, o, way, more));
                        }
                    }
                }
            }
        }
        let looks = 1 + (panels[a].len() * line.out.len() / PAIRS) as u64;
        let Some((p, o, way, more)) = found else { return looks };
        let kind = line.out.swap_remove(o);
        let up = line.bins[a].branch(p as usize);
        line.out.extend(up.iter().filter(|node| node.is_leaf()).map(|node| node.kind));
        line.bins[a].graft(p as usize, &[Node::leaf(self.lying(kind, way), 0)], more);
        let nodes = line.bins[a].nodes.len() as u64;
        let looked = self.put_in(line, a);
        panels[a] = self.panels(&line.bins[a], worth);
        looks + nodes + looked
    }

    /// Puts what is left out on a sheet where it fits; in how many ways it was tried.
    fn put_in(&self, line: &mut Line, b: usize) -> u64 {
        let how = Insertion { limit: 0, fit: FITS[0], blink: 0, within: &[b] };
        let (mut looks, mut i) = (0, 0);
        let opened = line.bins.len();
        line.bins[b].freshen();
        while let Some(&kind) = line.out.get(i) {
            looks += self.shapes[kind as usize].ways.len() as u64;
            let (found, _) = self.best_place(&mut line.bins, kind, &how, opened, &mut line.rng);
            let Some((_, place, way)) = found else {
                i += 1;
                continue;
            };
            let bin = &mut line.bins[b];
            bin.insert(self.lying(kind, way), self.shapes[kind as usize].area, place);
            bin.freshen();
            line.out.swap_remove(i);
            i = 0;
        }
        looks
    }
}

#[cfg(test)]
mod tests {
    use super::super::job::{Job, Kind};
    use super::super::space::State;
    use super::super::tests::draws;
    use super::super::{Edges, Sheet, SheetPart, SheetProblem};
    use super::*;
    use crate::solve::stages::Stages;

    /// What all sheets hold and what is left out, sorted.
    fn all(line: &Line) -> Vec<u32> {
        let mut all: Vec<u32> = line.bins.iter().flat_map(Bin::kinds).collect();
        all.extend(&line.out);
        all.sort_unstable();
        all
    }

    #[test]
    fn exchanges_keep_all_parts_and_leave_less_out() {
        for (seed, problem) in
            [draws::chest(16, 12, 50, 1), draws::cabinets(200, 2)].iter().enumerate()
        {
            let job = Job::new(problem, &Edges::default()).expect("a job");
            let space = Space::new(&job);
            let worth = space.worths(3, None);
            let mut state = space.filled(&worth, 200, &mut Rng::new(1), &mut Budget::work(400_000));
            // The last sheet is given up.
            let last = state.bins.pop().expect("a sheet");
            let mut line = Line { bins: state.bins, out: last.kinds(), rng: Rng::new(seed as u64) };
            let (before, out) = (all(&line), space.area_of(&line.out));
            space.swap_some(&mut line, &worth, &mut Budget::work(2_000_000));
            assert_eq!(all(&line), before);
            for bin in &mut line.bins {
                assert!(bin.is_sound(), "{bin:?}");
                assert_eq!(bin.used, space.area_of(&bin.kinds()));
            }
            let left = space.area_of(&line.out);
            println!("{out} left out before, {left} after");
            assert!(left < out, "{out} {left}");
        }
    }

    #[test]
    fn two_that_change_places_lie_within_each_others_room() {
        // 6 + 3 and 5 + 4 of 10 leave no room for 2; when 3 and 4 change places one sheet is full, and the other holds it.
        let part = |width, height| SheetPart { width, height, count: 1, turn: false };
        let sheet = Sheet { width: 10, height: 4, price: 1, limit: None };
        let problem = SheetProblem {
            kerf: 0,
            sheets: vec![sheet],
            parts: vec![part(6, 4), part(5, 4), part(4, 4), part(3, 4), part(2, 4)],
            keep: (10, 10),
            stages: Stages::ANY,
        };
        let job = Job::new(&problem, &Edges::default()).expect("a job");
        let space = Space::new(&job);
        // Which way a job lies is its own affair.
        let sides = |width: i64| [width.min(4), width.max(4)];
        let kind = |width: i64| {
            let is = |kind: &Kind| {
                let [x, y] = kind.size.map(|side| side * job.unit);
                [x.min(y), x.max(y)] == sides(width)
            };
            job.kinds.iter().position(is).expect("a kind") as u32
        };
        let on = |widths: &[i64]| {
            let mut state = State { bins: vec![space.empty(0)], out: Vec::new(), cost: 0 };
            for width in widths {
                let how = Insertion { limit: 0, fit: FITS[0], blink: 0, within: &[0] };
                let (place, _) =
                    space.best_place(&mut state.bins, kind(*width), &how, 1, &mut Rng::new(0));
                let (_, place, way) = place.expect("room");
                state.bins[0].insert(
                    space.lying(kind(*width), way),
                    space.shapes[kind(*width) as usize].area,
                    place,
                );
            }
            state.bins.remove(0)
        };
        let mut line =
            Line { bins: vec![on(&[6, 3]), on(&[5, 4])], out: vec![kind(2)], rng: Rng::new(1) };
        space.swap_some(&mut line, &space.worths(0, None), &mut Budget::work(1_000));
        // 6 + 4 and 5 + 3 + 2.
        assert!(line.out.is_empty(), "{line:?}");
    }
}
