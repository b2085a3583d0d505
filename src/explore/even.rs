//! Stowing again in drawers of less unequal widths what failed a check in drawers as wide as the gear asks.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Stage;
use super::field::StowKey;
use super::pipeline::{Sketch, Stowed, Widest, sketch};
use super::rank::Scale;
use super::reason::Reason;
use super::search::Search;
use super::stowing::STOW_WORK;
use crate::design::Structure;

/// Different stowing problems solved again at most, per unit of effort.
const EVENED: usize = 64;
/// A check that the same gear in drawers of one width would miss by more than this may as well be left alone: what was tried
/// of all demos came to pass within 1.28 times the limit of a duty. Guide values refuse from three times on, so that theirs have
/// to pass.
const NEAR: f64 = 1.3;

/// What stowing more evenly made of some: those that pass with their sketches, and why others still do not.
type Evened = (Vec<(Stowed, Sketch)>, Vec<(Structure, Reason)>);

/// How promising it is: the fewer checks beyond guide values the better, then the more points (thousandths).
type Promise = (usize, Reverse<i64>);

/// Structures that share a stowing, with why each failed, and the best promise among them.
struct Hopeful {
    promise: Promise,
    members: Vec<(Stowed, Reason)>,
}

impl Search<'_> {
    /// Stows what failed a check again in drawers of less unequal widths, and sketches that; what still fails keeps its reason.
    ///
    /// Structures that share a stowing are stowed together, the most promising first. Those that would fail
    /// with the same gear in drawers of one width are left alone: that costs a sketch, where two stowings cost a hundred.
    pub(super) fn even_out(&self, failed: Vec<(Stowed, Reason)>) -> Evened {
        let promises = self.map(Stage::Sketching, &failed, |(one, reason)| {
            matches!(reason, Reason::CheckFails { .. }).then(|| self.promise(one)).flatten()
        });
        let mut groups: BTreeMap<StowKey, Hopeful> = BTreeMap::new();
        let mut refused = Vec::new();
        for ((one, reason), promise) in failed.into_iter().zip(promises) {
            let Some(promise) = promise else {
                refused.push((one.structure, reason));
                continue;
            };
            let key = self.key(&one.structure, &one.carcass);
            let group = groups.entry(key).or_insert(Hopeful { promise, members: Vec::new() });
            group.promise = group.promise.min(promise);
            group.members.push((one, reason));
        }
        let mut order: Vec<Hopeful> = groups.into_values().collect();
        order.sort_by_key(|group| group.promise);
        let spared = order.split_off(self.allowance(EVENED).min(order.len()));
        let spared = spared.into_iter().flat_map(|group| group.members);
        refused.extend(spared.map(|(one, reason)| (one.structure, reason)));
        let results = self.map(Stage::Sketching, &order, |group| self.evened(&group.members));
        let mut mended = Vec::new();
        for (some, rest) in results {
            mended.extend(some);
            refused.extend(rest);
        }
        (mended, refused)
    }

    /// What could come of a failed structure at best, if anything.
    fn promise(&self, one: &Stowed) -> Option<Promise> {
        if one.carcass.tiers.iter().all(|tier| tier.columns == 1) {
            return None;
        }
        match sketch(self.scenario, &in_equal_drawers(one)) {
            Ok(Sketch { criteria, beyond }) => {
                let score = Scale::of(self.scenario).score(self.scenario, &criteria).0;
                Some((beyond, Reverse((score * 1000.0) as i64)))
            }
            Err(Reason::CheckFails { value, limit, .. }) => {
                is_near(value, limit).then_some((usize::MAX, Reverse(0)))
            }
            Err(_) => None,
        }
    }

    fn evened(&self, group: &[(Stowed, Reason)]) -> Evened {
        let mut open: Vec<&(Stowed, Reason)> = group.iter().collect();
        let mut mended = Vec::new();
        for widest in Widest::ALL.into_iter().filter(|widest| *widest != Widest::Any) {
            let Some((first, _)) = open.first() else { break };
            let mut budget = self.budget(1).share(STOW_WORK);
            if !budget.spend(0) {
                break;
            }
            let found = self.stow_in(&first.structure, &first.carcass, widest, &mut budget);
            if !found.missing.is_empty() {
                continue;
            }
            open.retain(|(one, _)| {
                let evened = Stowed { stowage: found.stowage.clone(), widest, ..one.clone() };
                let sketch = sketch(self.scenario, &evened);
                let fails = sketch.is_err();
                mended.extend(sketch.ok().map(|sketch| (evened, sketch)));
                fails
            });
        }
        let refused = open.into_iter().map(|(one, reason)| (one.structure.clone(), reason.clone()));
        (mended, refused.collect())
    }
}

/// Whether a failed check is missed by so little that another stowing may come to pass.
pub(super) fn is_near(value: f64, limit: f64) -> bool {
    (value / limit).max(limit / value) < NEAR
}

/// The same gear in the same drawers, as if those of a tier were equally wide. It need not fit them: this is for checks only.
fn in_equal_drawers(one: &Stowed) -> Stowed {
    let mut even = one.clone();
    for (frame, layouts) in one.carcass.tiers.iter().zip(&mut even.stowage.tiers) {
        let each = frame.inside_width() / i64::from(frame.columns.max(1));
        let mut left = frame.inside_width();
        for layout in layouts.iter_mut() {
            layout.width = each;
            left -= each;
        }
        if let Some(first) = layouts.first_mut() {
            first.width += left;
        }
    }
    even
}
