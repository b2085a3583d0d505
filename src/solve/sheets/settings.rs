//! The order of a sheet's cuts in which the saw is set anew least often.
//!
//! A cut is set by what it takes off its panel, and may be made once its panel is there. Among the cuts that may be made those
//! set as the saw is go first. Then comes the setting of which nothing is left that has to wait, or else the one of which least
//! has to; a heuristic, as the least number of changes is that of a shortest common supersequence.

use super::{Axis, Rect, SheetCut};

/// What the saw is set to for a cut.
fn setting(cut: &SheetCut) -> i64 {
    match cut.axis {
        Axis::X => cut.at - cut.panel.x,
        Axis::Y => cut.at - cut.panel.y,
    }
}

/// How often the saw is set for cuts in their order, if it is set to `before` at first; and what it is set to in the end.
pub(super) fn count(cuts: &[SheetCut], before: Option<i64>) -> (usize, Option<i64>) {
    cuts.iter()
        .map(setting)
        .fold((0, before), |(n, before), now| (n + usize::from(before != Some(now)), Some(now)))
}

/// The cuts, which are in an order in which each panel is there when it is cut, in one that needs no more settings after
/// `before`.
pub(super) fn ordered(cuts: &[SheetCut], before: Option<i64>) -> Vec<SheetCut> {
    let parents: Vec<Option<usize>> = (0..cuts.len()).map(|i| parent(cuts, i)).collect();
    let mut done = vec![false; cuts.len()];
    let mut order = Vec::with_capacity(cuts.len());
    let mut now = before;
    while order.len() < cuts.len() {
        let may = |done: &[bool], i: usize| !done[i] && parents[i].is_none_or(|p| done[p]);
        let next = (0..cuts.len()).find(|i| may(&done, *i) && now == Some(setting(&cuts[*i])));
        let next = next.or_else(|| {
            (0..cuts.len()).filter(|i| may(&done, *i)).min_by_key(|i| {
                let alike = |j: &usize| setting(&cuts[*j]) == setting(&cuts[*i]);
                // What comes out of panels that this setting itself makes need not wait.
                let waits = |j: &usize| {
                    let mut above = parents[*j];
                    while let Some(p) = above.filter(|p| !done[*p]) {
                        if !alike(&p) {
                            return true;
                        }
                        above = parents[p];
                    }
                    false
                };
                ((0..cuts.len()).filter(|j| !done[*j] && alike(j) && waits(j)).count(), *i)
            })
        });
        let Some(next) = next else { break };
        now = Some(setting(&cuts[next]));
        done[next] = true;
        order.push(cuts[next]);
    }
    if count(&order, before).0 < count(cuts, before).0 { order } else { cuts.to_vec() }
}

/// The cut that makes a cut's panel; none for the sheet itself.
fn parent(cuts: &[SheetCut], i: usize) -> Option<usize> {
    let holds = |outer: &Rect, inner: &Rect| {
        outer.x <= inner.x
            && outer.y <= inner.y
            && outer.x + outer.dx >= inner.x + inner.dx
            && outer.y + outer.dy >= inner.y + inner.dy
    };
    // Panels lie in each other or apart: of those that hold it the last one is the least.
    (0..i).rev().find(|j| holds(&cuts[*j].panel, &cuts[i].panel))
}

#[cfg(test)]
mod tests {
    use super::super::rng::Rng;
    use super::*;

    /// A sheet cut at random into panels, cuts in the order in which they were made.
    fn random(rng: &mut Rng, cuts: usize) -> Vec<SheetCut> {
        let mut panels = vec![Rect { x: 0, y: 0, dx: 12, dy: 8 }];
        let mut made = Vec::new();
        while made.len() < cuts {
            let panel = panels.swap_remove(rng.below(panels.len()));
            let axis = [Axis::X, Axis::Y][rng.below(2)];
            let side = if axis == Axis::X { panel.dx } else { panel.dy };
            if side < 2 {
                panels.push(panel);
                continue;
            }
            let off = 1 + rng.below((side - 1) as usize) as i64;
            let (mut near, mut far) = (panel, panel);
            let at = match axis {
                Axis::X => {
                    (near.dx, far.x, far.dx) = (off, panel.x + off, panel.dx - off);
                    panel.x + off
                }
                Axis::Y => {
                    (near.dy, far.y, far.dy) = (off, panel.y + off, panel.dy - off);
                    panel.y + off
                }
            };
            panels.extend([near, far]);
            made.push(SheetCut { panel, axis, at });
        }
        made
    }

    /// The fewest settings of all orders.
    fn fewest(cuts: &[SheetCut], done: usize, now: Option<i64>) -> usize {
        let free = (0..cuts.len())
            .filter(|i| done >> i & 1 == 0 && parent(cuts, *i).is_none_or(|p| done >> p & 1 == 1));
        let each = free.map(|i| {
            let set = setting(&cuts[i]);
            usize::from(now != Some(set)) + fewest(cuts, done | 1 << i, Some(set))
        });
        each.min().unwrap_or(0)
    }

    #[test]
    fn nearly_as_few_settings_as_the_best_of_all_orders() {
        let mut rng = Rng::new(12);
        let (mut plain, mut ours, mut least) = (0, 0, 0);
        for _ in 0..400 {
            let n = 1 + rng.below(7);
            let cuts = random(&mut rng, n);
            let before = (rng.below(2) == 0).then(|| 1 + rng.below(6) as i64);
            let order = ordered(&cuts, before);
            let mut all: Vec<_> = order.clone();
            all.sort_unstable();
            let mut given = cuts.clone();
            given.sort_unstable();
            assert_eq!(all, given, "the same cuts");
            let is_there = |i: usize| match parent(&cuts, i) {
                None => true,
                Some(p) => {
                    let place = |cut: &SheetCut| order.iter().position(|c| c == cut);
                    place(&cuts[p]) < place(&cuts[i])
                }
            };
            assert!((0..cuts.len()).all(is_there), "{order:?}");
            plain += count(&cuts, before).0;
            ours += count(&order, before).0;
            least += fewest(&cuts, 0, before);
        }
        println!("{plain} settings as cut, {ours} in order, {least} at least");
        assert!(least <= ours && ours * 100 <= least * 102 && ours * 100 < plain * 95);
    }
}
