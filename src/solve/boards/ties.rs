//! The first in order of all cheapest plans, for jobs small enough to try them all.
//!
//! Bars are filled one after another, each beginning with the longest piece left, so that every plan
//! is met once. What a branch costs at least (its bars, and the rest by length) cuts it off where the
//! order of [`Cost`] already puts it behind the best plan known.

use super::model::{Cost, Model, Pattern, Plan};
use super::search::Search;
use crate::solve::budget::Budget;

/// Jobs of more pieces are left to [`super::polish`].
const MOST_PIECES: u64 = 30;

/// Bars tried at most.
const MOST_NODES: u64 = 60_000;

/// Looks through all plans as cheap as the best; whether all were looked at.
pub(super) fn settle(search: &mut Search, budget: &mut Budget) -> bool {
    let model = search.model.clone();
    let pieces: u64 = model.pieces.iter().map(|p| u64::from(p.demand)).sum();
    let leaving = model.kinds.iter().any(|k| k.only.is_some());
    if pieces > MOST_PIECES || leaving || !search.proved() {
        return false;
    }
    let Some(best) = search.best().cloned() else { return false };
    let cheapest = (model.kinds.iter())
        .min_by(|a, b| {
            let (a_rate, b_rate) = (i128::from(a.price), i128::from(b.price));
            (a_rate * i128::from(b.cap)).cmp(&(b_rate * i128::from(a.cap)))
        })
        .map_or((0, 1), |k| (i128::from(k.price), i128::from(k.cap)));
    let mut ties = Ties {
        left: model.demand(),
        limits: model.limits(),
        length: i128::from(model.length_of(&model.demand())),
        true_length: true_length(&model, model.demand().into_iter().enumerate()),
        model: &model,
        cheapest,
        best,
        bars: Vec::new(),
        so_far: Cost::default(),
        nodes: MOST_NODES,
        budget,
    };
    let whole = ties.go();
    let (_, plan) = ties.best;
    search.offer(&plan);
    whole
}

/// True length of so many of each piece.
fn true_length(model: &Model, pieces: impl Iterator<Item = (usize, u32)>) -> i128 {
    pieces.map(|(i, n)| i128::from(model.piece_length(i)) * i128::from(n)).sum()
}

struct Ties<'a> {
    model: &'a Model,
    /// The least price of a length, as (price, length).
    cheapest: (i128, i128),
    best: (Cost, Plan),
    left: Vec<u32>,
    limits: Vec<Option<u32>>,
    /// Length of what is left, as the search sees it and in truth.
    length: i128,
    true_length: i128,
    bars: Vec<Pattern>,
    /// Price, free length, loss, offcuts and length of the bars so far.
    so_far: Cost,
    nodes: u64,
    budget: &'a mut Budget,
}

impl Ties<'_> {
    /// Tries every way to go on; `false` if the nodes or the budget end.
    fn go(&mut self) -> bool {
        let Some(first) = self.left.iter().position(|&d| d > 0) else {
            self.end();
            return true;
        };
        let mut contents = Vec::new();
        let mut content = Vec::new();
        let longest = self.model.longest();
        self.contents(first, longest, &mut content, &mut contents);
        for counts in contents {
            let used = self.model.used(&counts);
            for kind in 0..self.model.kinds.len() {
                if self.model.kinds[kind].cap < used || self.limits[kind] == Some(0) {
                    continue;
                }
                let pattern = Pattern { kind, counts: counts.clone() };
                // Bars that begin alike come in one order.
                let behind = self
                    .bars
                    .last()
                    .is_some_and(|last| last.counts[0].0 == first && pattern > *last);
                if behind {
                    continue;
                }
                if self.nodes == 0 || !self.budget.spend(4) {
                    return false;
                }
                self.nodes -= 1;
                if !self.bar(pattern, used) {
                    return false;
                }
            }
        }
        true
    }

    /// Goes on after one more bar, if that may still come before the best plan.
    fn bar(&mut self, pattern: Pattern, used: i64) -> bool {
        let before = self.so_far;
        self.so_far = self.with(&pattern, used);
        let in_truth = true_length(self.model, pattern.counts.iter().copied());
        self.length -= i128::from(used);
        self.true_length -= in_truth;
        self.bars.push(pattern.clone());
        let mut whole = true;
        if self.at_least() <= self.best.0 {
            for &(i, n) in &pattern.counts {
                self.left[i] -= n;
            }
            self.limits[pattern.kind] = self.limits[pattern.kind].map(|l| l - 1);
            whole = self.go();
            self.limits[pattern.kind] = self.limits[pattern.kind].map(|l| l + 1);
            for &(i, n) in &pattern.counts {
                self.left[i] += n;
            }
        }
        self.bars.pop();
        self.length += i128::from(used);
        self.true_length += in_truth;
        self.so_far = before;
        whole
    }

    /// What the bars cost with one more.
    fn with(&self, pattern: &Pattern, used: i64) -> Cost {
        let kind = &self.model.kinds[pattern.kind];
        let length = self.model.length(pattern.kind);
        let kept = self.model.kept(pattern.kind, used);
        let new = usize::from(!self.bars.contains(pattern));
        Cost {
            missing: 0,
            price: self.so_far.price + i128::from(kind.price),
            free: self.so_far.free + self.model.free(pattern.kind),
            lost: self.so_far.lost + i128::from(length - kept),
            offcuts: self.so_far.offcuts + u64::from(kept > 0),
            patterns: self.so_far.patterns + new,
            settings: self.so_far.settings + new * self.model.settings(pattern),
            length: self.so_far.length + i128::from(length),
        }
    }

    /// No plan that begins with these bars comes before this.
    fn at_least(&self) -> Cost {
        let (price, length) = self.cheapest;
        Cost {
            price: self.so_far.price + (self.length * price + length - 1) / length,
            lost: self.so_far.lost + self.true_length,
            length: self.so_far.length + self.true_length,
            ..self.so_far
        }
    }

    /// Every content of a bar that holds the first piece left and none longer.
    fn contents(
        &self,
        at: usize,
        rest: i64,
        content: &mut Vec<(usize, u32)>,
        found: &mut Vec<Vec<(usize, u32)>>,
    ) {
        let Some(piece) = self.model.pieces.get(at) else {
            found.push(content.clone());
            return;
        };
        let fit = u32::try_from(rest / piece.len).unwrap_or(u32::MAX);
        let least = u32::from(content.is_empty());
        for n in (least..=fit.min(self.left[at])).rev() {
            if n > 0 {
                content.push((at, n));
            }
            self.contents(at + 1, rest - i64::from(n) * piece.len, content, found);
            if n > 0 {
                content.pop();
            }
        }
    }

    /// Keeps the plan if it comes before the best.
    fn end(&mut self) {
        let mut plan = Plan::default();
        for bar in &self.bars {
            *plan.bars.entry(bar.clone()).or_insert(0) += 1;
        }
        let new = (self.model.cost(&plan), plan);
        if new < self.best {
            self.best = new;
        }
    }
}
