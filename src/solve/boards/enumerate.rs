//! All patterns that a cheaper plan could use.

use super::bound::Certificate;
use super::knapsack::{Item, Suffix};
use super::model::{Model, Pattern};
use crate::solve::budget::Budget;

/// Every full pattern that may occur in a plan of price at most `target`, by reduced price under
/// `certificate`; `None` if there are more than `most`, or the search for them takes too long.
///
/// Full: nothing more that is in demand fits. Plans made of full patterns cut too much of some
/// pieces and nothing is lost, as what is too much is simply not cut.
pub(super) fn enumerate(
    model: &Model,
    certificate: &Certificate,
    target: i128,
    most: usize,
    budget: &mut Budget,
) -> Option<Vec<Pattern>> {
    let items: Vec<Item> = (model.pieces.iter().enumerate())
        .filter(|(_, p)| p.demand > 0)
        .map(|(i, p)| {
            let fit = u32::try_from(model.longest() / p.len).unwrap_or(u32::MAX);
            let value = certificate.weights[i];
            Item { piece: i, len: p.len, most: p.demand.min(fit), value }
        })
        .collect();
    let suffix = Suffix::new(model.longest(), &items, budget);
    let mut length_after = vec![0i64; items.len() + 1];
    for (i, item) in items.iter().enumerate().rev() {
        length_after[i] =
            length_after[i + 1].saturating_add(item.len.saturating_mul(i64::from(item.most)));
    }
    let mut found = Vec::new();
    for (kind, k) in model.kinds.iter().enumerate() {
        let needed = certificate.needed(model, kind, target);
        if let Some(only) = k.only {
            if model.pieces[only].demand > 0 && certificate.weights[only] >= needed {
                found.push(Pattern { kind, counts: vec![(only, 1)] });
            }
            continue;
        }
        let mut search = Enumeration {
            items: &items,
            suffix: &suffix,
            length_after: &length_after,
            kind,
            needed,
            most,
            nodes: 40 * most as u64,
            taken: Vec::new(),
            found: &mut found,
            budget,
        };
        if !search.dive(0, k.cap, 0, i64::MAX) {
            return None;
        }
    }
    Some(found)
}

struct Enumeration<'a> {
    items: &'a [Item],
    suffix: &'a Suffix,
    length_after: &'a [i64],
    kind: usize,
    needed: i64,
    most: usize,
    /// Nodes left.
    nodes: u64,
    taken: Vec<(usize, u32)>,
    found: &'a mut Vec<Pattern>,
    budget: &'a mut Budget,
}

impl Enumeration<'_> {
    /// Items from `at` on, with `rest` length left. `spare` is the shortest piece of which more
    /// could have been taken: a full pattern leaves less than that.
    fn dive(&mut self, at: usize, rest: i64, value: i64, spare: i64) -> bool {
        if self.nodes == 0 || self.found.len() > self.most || !self.budget.spend(1) {
            return false;
        }
        self.nodes -= 1;
        if rest.saturating_sub(self.length_after[at]) >= spare {
            return true;
        }
        let Some(item) = self.items.get(at) else {
            if value >= self.needed && !self.taken.is_empty() {
                self.found.push(Pattern { kind: self.kind, counts: self.taken.clone() });
            }
            return true;
        };
        let most = i64::from(item.most).min(rest / item.len);
        for n in (0..=most).rev() {
            let (rest, value) = (rest - n * item.len, value + n * item.value);
            if value + self.suffix.most(at + 1, rest) < self.needed {
                continue;
            }
            let spare = if n < i64::from(item.most) { spare.min(item.len) } else { spare };
            if n > 0 {
                self.taken.push((item.piece, u32::try_from(n).unwrap_or(u32::MAX)));
            }
            let complete = self.dive(at + 1, rest, value, spare);
            if n > 0 {
                self.taken.pop();
            }
            if !complete {
                return false;
            }
        }
        true
    }
}
