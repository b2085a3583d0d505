//! In which order boards are cut so that the stop is set seldom.

use std::collections::{BTreeMap, BTreeSet};

use crate::units::Length;

/// The stop that a board's first cut is set to, and its last, which is no longer. `None` if the board takes no cut.
pub(super) type Ends = Option<(Length, Length)>;

/// An order of boards in which the stop is left where it is as often as can be from one to the next. `now` is where it stands.
///
/// A board leads from its first stop to its last. As these lead from longer to shorter, chains that begin where more boards
/// begin than end, and go on as far as they can, are the fewest. Of what is alike the first in the list comes first.
/// O(n log n) in the boards.
pub(super) fn set_seldom(boards: &[Ends], now: &mut Option<Length>) -> Vec<usize> {
    let mut left = Left::new(boards);
    let mut order = Vec::with_capacity(boards.len());
    while let Some(next) = left.next(*now) {
        left.take(next);
        *now = boards[next].map_or(*now, |(_, last)| Some(last));
        order.push(next);
    }
    order
}

/// The boards not yet in order.
struct Left<'a> {
    boards: &'a [Ends],
    all: BTreeSet<usize>,
    /// By the stop that they begin at: what ends there too goes before what leads away from it.
    from: BTreeMap<Length, BTreeSet<(bool, usize)>>,
    /// By stop, how many more boards lead from it than to it.
    more: BTreeMap<Length, i64>,
    /// The stops where chains begin, in the order of the first boards there.
    begin: BTreeSet<(usize, Length)>,
}

impl<'a> Left<'a> {
    fn new(boards: &'a [Ends]) -> Self {
        let (from, more, begin) = Default::default();
        let mut left = Self { boards, all: (0..boards.len()).collect(), from, more, begin };
        for (index, ends) in boards.iter().enumerate() {
            let Some((first, last)) = *ends else { continue };
            left.from.entry(first).or_default().insert((first != last, index));
            if first != last {
                *left.more.entry(first).or_default() += 1;
                *left.more.entry(last).or_default() -= 1;
            }
        }
        let stops: Vec<Length> = left.from.keys().copied().collect();
        left.begin = stops.into_iter().filter_map(|stop| left.beginning(stop)).collect();
        left
    }

    /// A stop behind the first board that begins there, if chains do.
    fn beginning(&self, stop: Length) -> Option<(usize, Length)> {
        self.more.get(&stop).filter(|more| **more > 0)?;
        let boards = self.from.get(&stop)?;
        let stays = boards.first().map(|(_, index)| *index);
        let leads = boards.range((true, 0)..).next().map(|(_, index)| *index);
        Some((stays.into_iter().chain(leads).min()?, stop))
    }

    fn next(&self, now: Option<Length>) -> Option<usize> {
        let at = |stop: Length| self.from.get(&stop)?.first().map(|(_, index)| *index);
        let begins = || self.begin.first().and_then(|(_, stop)| at(*stop));
        now.and_then(at).or_else(begins).or_else(|| self.all.first().copied())
    }

    fn take(&mut self, index: usize) {
        self.all.remove(&index);
        let Some((first, last)) = self.boards[index] else { return };
        for stop in [first, last] {
            if let Some(before) = self.beginning(stop) {
                self.begin.remove(&before);
            }
        }
        if let Some(boards) = self.from.get_mut(&first) {
            boards.remove(&(first != last, index));
        }
        if first != last {
            *self.more.entry(first).or_default() -= 1;
            *self.more.entry(last).or_default() += 1;
        }
        for stop in [first, last] {
            self.begin.extend(self.beginning(stop));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How often the stop is set.
    fn settings(boards: &[Ends], order: &[usize]) -> usize {
        let mut now = None;
        let ends = order.iter().filter_map(|i| boards[*i]);
        ends.filter(|(first, last)| now.replace(*last) != Some(*first)).count()
    }

    /// The fewest of all orders.
    fn fewest(boards: &[Ends], order: &mut Vec<usize>) -> usize {
        if order.len() == boards.len() {
            return settings(boards, order);
        }
        let mut least = usize::MAX;
        for next in 0..boards.len() {
            if !order.contains(&next) {
                order.push(next);
                least = least.min(fewest(boards, order));
                order.pop();
            }
        }
        least
    }

    #[test]
    fn no_order_sets_the_stop_less_often() {
        let mut state = 7_u64;
        let mut draw = |most: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 33) % most
        };
        let mut saved = 0;
        for _ in 0..400 {
            let mut board = || {
                let (a, b) = (draw(4) as i64, draw(4) as i64);
                (draw(8) > 0).then(|| (Length::mm(a.max(b)), Length::mm(a.min(b))))
            };
            let boards: Vec<Ends> = (0..6).map(|_| board()).collect();
            let order = set_seldom(&boards, &mut None);
            let mut all = order.clone();
            all.sort_unstable();
            assert_eq!(all, [0, 1, 2, 3, 4, 5], "{boards:?}");
            let found = settings(&boards, &order);
            assert_eq!(found, fewest(&boards, &mut Vec::new()), "{boards:?} {order:?}");
            saved += settings(&boards, &all) - found;
        }
        assert!(saved > 200, "{saved}");
    }

    #[test]
    fn many_thousands_are_put_in_order_at_once() {
        let board = |i: i64| Some((Length::mm(3000 + i * 7 % 997), Length::mm(i * 11 % 2999)));
        let boards: Vec<Ends> = (0..50_000).map(board).collect();
        let begun = std::time::Instant::now();
        assert_eq!(set_seldom(&boards, &mut None).len(), boards.len());
        assert!(begun.elapsed().as_secs() < 10, "{:?}", begun.elapsed());
    }
}
