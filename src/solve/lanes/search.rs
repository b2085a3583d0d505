//! Builds fillings lane by lane, then takes lanes out and builds again.

use std::cmp::Reverse;

use super::super::budget::Budget;
use super::bays::Supply;
use super::lane::{Bench, Fineness, LanePick};
use super::shelves::shelve;
use super::state::State;
use super::table::Table;

/// Fixed-point one of weights and factors.
const ONE: i64 = 256;
/// Constructions from nothing before lanes are taken out and rebuilt.
const BUILDS: usize = 4;
/// Lanes tried for one place.
const TRIALS: usize = 3;

/// What is worse than can be borne sends the search back to the best once in so many times.
const RESTART: usize = 50;

/// The best filling found within the budget; stops early when its value reaches `bound` with
/// everything in place.
pub(super) fn search(table: &Table, bound: i64, budget: &mut Budget) -> State {
    let best = shelve(table);
    let mut search = Search::new(table, bound, budget, best);
    search.build_from_nothing();
    search.rebuild_parts();
    search.best
}

/// A hall, the width (grown) of a lane to try there, and the column that it is for.
type Candidate = (usize, i64, Option<u32>);

struct Search<'a> {
    table: &'a Table,
    bound: i64,
    budget: &'a mut Budget,
    bench: Bench,
    dice: Dice,
    fineness: Fineness,
    /// Price of a copy of each class before weights.
    base: Vec<i64>,
    /// Weight of each class, raised when it is left out.
    weights: Vec<i64>,
    /// For each hall and class, how well the class fits this hall compared with others.
    factors: Vec<Vec<i64>>,
    best: State,
}

impl<'a> Search<'a> {
    fn new(table: &'a Table, bound: i64, budget: &'a mut Budget, best: State) -> Self {
        // Coarse lanes and few trials: more lanes tried pay more than better ones (measured on stowings of real chests).
        let thorough = budget.left() > 3_000_000;
        let (buckets, offers) = if thorough { (32, 64) } else { (16, 48) };
        Self {
            table,
            bound,
            budget,
            bench: Bench::default(),
            dice: Dice(0x5eed_1a7e),
            fineness: Fineness { buckets, offers },
            base: base_prices(table),
            weights: vec![ONE; table.classes.len()],
            factors: (0..table.halls.len()).map(|hall| hall_factors(table, hall)).collect(),
            best,
        }
    }

    /// Whether nothing more valuable can be found.
    fn is_closed(&self) -> bool {
        self.best.missing(self.table) == 0 && self.best.value(self.table) >= self.bound
    }

    fn offer(&mut self, state: &State) {
        if state.rank(self.table) > self.best.rank(self.table) && state.is_shared_out(self.table) {
            self.best = state.clone();
        }
    }

    fn build_from_nothing(&mut self) {
        for _ in 0..BUILDS {
            let mut state = State::empty(self.table);
            let prices = self.prices(0);
            self.build(&mut state, None, &prices);
            self.offer(&state);
            // All of it placed: no reason to look for another way.
            if state.is_done(self.table) || self.budget.stopped().is_some() {
                return;
            }
            for (weight, left) in self.weights.iter_mut().zip(&state.left) {
                let pull = if *left > 0 { *weight * 5 / 4 } else { (*weight * 15 + ONE) / 16 };
                *weight = pull.min(4 * ONE);
            }
        }
    }

    /// Takes a few lanes out, builds again around something left out, and keeps what is no worse, or worse by less and less as the
    /// budget goes (threshold accepting after Dueck & Scheuer, J. Comput. Phys. 90, 1990, from memory).
    fn rebuild_parts(&mut self) {
        let mut current = self.best.clone();
        let whole = self.budget.left();
        let usual = usual_worth(self.table);
        while self.budget.stopped().is_none() && !self.is_closed() {
            let left_out: Vec<usize> = (0..self.table.classes.len())
                .filter(|&class| {
                    current.left[class] > 0 && self.table.classes[class].area.is_some()
                })
                .collect();
            if left_out.is_empty() {
                return;
            }
            let mut trial = current.clone();
            self.take_out(&mut trial);
            let target = left_out[self.dice.below(left_out.len())];
            let first = (self.dice.below(4) > 0).then_some(target);
            let prices = self.prices(ONE / 4);
            self.build(&mut trial, first, &prices);
            if !self.budget.spend(64) || !trial.is_shared_out(self.table) {
                continue;
            }
            let (new, old) = (trial.rank(self.table), current.rank(self.table));
            // Sideways where nothing is lost but a little width, so that it gets around.
            let slack = self.table.halls.iter().map(|hall| hall.width).sum::<i64>() / 64;
            let sideways = (new.0, new.1) == (old.0, old.1) && new.2.0 <= old.2.0 + slack;
            let most = cooled(usual, self.budget.left(), whole);
            let loss = i64::try_from(self.dice.below(most)).unwrap_or(0);
            let is_bearable = new.0 == old.0 && new.1 > old.1 - loss;
            if new > old || sideways || is_bearable {
                self.offer(&trial);
                current = trial;
            } else if self.dice.below(RESTART) == 0 {
                current = self.best.clone();
            }
        }
    }

    fn take_out(&mut self, state: &mut State) {
        let out = 1 + self.dice.below(3);
        let one_hall = self.dice.below(2) == 0;
        let mut hall = None;
        for _ in 0..out {
            let full = |&h: &usize| !state.halls[h].is_empty();
            let mut full: Vec<usize> = (0..state.halls.len()).filter(full).collect();
            if let (true, Some(hall)) = (one_hall, hall) {
                full.retain(|&h| h == hall);
            }
            if full.is_empty() {
                return;
            }
            // A hall in proportion to its lanes.
            let lanes: usize = full.iter().map(|&h| state.halls[h].len()).sum();
            let mut pick = self.dice.below(lanes);
            for h in full {
                if pick < state.halls[h].len() {
                    state.remove(h, pick);
                    hall = Some(h);
                    break;
                }
                pick -= state.halls[h].len();
            }
        }
    }

    /// Prices for each hall and class, each shaken by up to `shake` either way.
    fn prices(&mut self, shake: i64) -> Vec<Vec<i64>> {
        let mut class_prices = Vec::with_capacity(self.base.len());
        for ((base, weight), class) in self.base.iter().zip(&self.weights).zip(&self.table.classes)
        {
            // What fits nowhere has no part in it: with it or without, the same numbers are drawn.
            if class.area.is_none() {
                class_prices.push(0);
                continue;
            }
            let shaken = ONE - shake + self.dice.below(2 * shake as usize + 1) as i64;
            class_prices.push((base * weight / ONE) * shaken / ONE);
        }
        let priced = |factors: &Vec<i64>| {
            let pairs = class_prices.iter().zip(factors);
            pairs.map(|(price, factor)| (price * factor / ONE).max(1)).collect()
        };
        self.factors.iter().map(priced).collect()
    }

    /// Adds lanes until nothing left finds room, around `first` first, then around the dearest.
    fn build(&mut self, state: &mut State, first: Option<usize>, prices: &[Vec<i64>]) {
        let mut targets = self.dearest_first(state, prices).into_iter().peekable();
        let mut first = first;
        let mut rooms = state.rooms(self.table);
        loop {
            // The same again for as long as it finds room; what found none never does later.
            while targets.next_if(|&target| state.left[target] == 0).is_some() {}
            let Some(target) = first.take().or_else(|| targets.peek().copied()) else { return };
            match self.lane_around(state, &rooms, target, prices) {
                Some((hall, lane)) => {
                    state.add(hall, lane);
                    rooms[hall] = state.room(self.table, hall);
                }
                None => {
                    targets.next_if_eq(&target);
                }
            }
            if self.budget.stopped().is_some() {
                return;
            }
        }
    }

    /// The classes of which something is left, in the order in which lanes are built around them.
    fn dearest_first(&self, state: &State, prices: &[Vec<i64>]) -> Vec<usize> {
        let open = (0..self.table.classes.len())
            .filter(|&class| state.left[class] > 0 && self.table.classes[class].area.is_some());
        let mut open: Vec<usize> = open.collect();
        open.sort_by_cached_key(|&class| {
            let price = prices.iter().map(|prices| prices[class]).max();
            (Reverse(self.table.classes[class].must), Reverse(price), class)
        });
        open
    }

    /// The lane that earns most per width among those whose width suits the target.
    fn lane_around(
        &mut self,
        state: &State,
        rooms: &[i64],
        target: usize,
        prices: &[Vec<i64>],
    ) -> Option<(usize, LanePick)> {
        let mut best: Option<(usize, LanePick, i64)> = None;
        for (hall, width, column) in self.candidates(rooms, target) {
            let row = &self.table.halls[hall];
            let supply = Supply { hall: row, left: &state.left, prices: &prices[hall], column };
            let (lane, steps) = self.bench.lane(&supply, width, self.fineness);
            let go_on = self.budget.spend(steps);
            if let Some(lane) = lane {
                // What would be left beside it and could hold nothing counts as its width too.
                let room = rooms[hall];
                let rest = room - lane.width;
                let charged = if rest < row.narrowest { room } else { lane.width };
                let better = best.as_ref().is_none_or(|(_, other, other_charged)| {
                    i128::from(lane.price) * i128::from(*other_charged)
                        > i128::from(other.price) * i128::from(charged)
                });
                if better && state.takes(self.table, hall, lane.width, lane.column()) {
                    best = Some((hall, lane, charged));
                }
            }
            if !go_on {
                break;
            }
        }
        best.map(|(hall, lane, _)| (hall, lane))
    }

    /// Halls and lane widths (grown) to try for a target: its own widths first, then slightly
    /// wider ones that others need, and all that is left.
    fn candidates(&mut self, rooms: &[i64], target: usize) -> Vec<Candidate> {
        let mut chosen = Vec::new();
        let own = self.own_widths(rooms, target);
        self.choose(own, &mut chosen);
        if chosen.len() < TRIALS {
            let wider = self.wider_widths(rooms, target);
            self.choose(wider, &mut chosen);
        }
        chosen
    }

    /// Adds some of `from` that are not chosen yet, each as likely as another, until there are enough.
    fn choose(&mut self, mut from: Vec<Candidate>, chosen: &mut Vec<Candidate>) {
        from.sort_unstable();
        from.dedup();
        while chosen.len() < TRIALS && !from.is_empty() {
            let one = from.swap_remove(self.dice.below(from.len()));
            if !chosen.contains(&one) {
                chosen.push(one);
            }
        }
    }

    /// The widths of a target's footprints in each hall that has the room.
    fn own_widths(&self, rooms: &[i64], target: usize) -> Vec<Candidate> {
        let halls = self.table.halls.iter().zip(rooms).enumerate();
        halls
            .flat_map(|(hall, (row, &room))| {
                let column = row.column_of(target);
                let shapes = row.fixed_of(target).filter(move |shape| shape.width <= room);
                shapes.map(move |shape| (hall, shape.width, column))
            })
            .collect()
    }

    /// Widths into which a target and something else go.
    fn wider_widths(&mut self, rooms: &[i64], target: usize) -> Vec<Candidate> {
        let mut wider = Vec::new();
        for (hall, (row, &room)) in self.table.halls.iter().zip(rooms).enumerate() {
            let column = row.column_of(target);
            let mut fits = false;
            for shape in row.fixed_of(target).filter(|shape| shape.width <= room) {
                fits = true;
                let most = (shape.width + shape.width / 6).min(room);
                let next = row.widths.iter().filter(|&&width| width > shape.width && width <= most);
                wider.extend(next.map(|&width| (hall, width, column)));
                for pair in row.widths.iter().map(|&width| shape.width + width) {
                    if pair <= room && pair <= 2 * shape.width && self.dice.below(8) == 0 {
                        wider.push((hall, pair, column));
                    }
                }
            }
            for shape in row.loose.iter().filter(|shape| shape.class == target) {
                let least = shape.least + row.divider;
                let used = row.widths.iter().filter(|&&width| width >= least && width <= room);
                wider.extend(used.map(|&width| (hall, width, column)));
                fits |= least <= room;
            }
            if fits {
                wider.push((hall, room, column));
            }
        }
        wider
    }
}

/// What a copy of those that fit anywhere is worth on average.
fn usual_worth(table: &Table) -> u64 {
    let useful = table.classes.iter().filter(|class| class.area.is_some());
    let copies: u64 = useful.map(|class| u64::from(class.count)).sum();
    table.all_values().unsigned_abs() / copies.max(1)
}

/// How much may be lost: all of `usual` at first, and the less the less of the budget is left, with its square.
fn cooled(usual: u64, left: u64, whole: u64) -> usize {
    let (left, whole) = (u128::from(left), u128::from(whole.max(1)));
    let share = |of: u128| of * left / whole;
    usize::try_from(share(share(u128::from(usual)))).unwrap_or(usize::MAX)
}

/// Prices that make a lane's sum tell how well it uses the room: the area a copy takes at least,
/// less for optional copies that are worth little by area when not everything can have room, more
/// for copies that must have it.
fn base_prices(table: &Table) -> Vec<i64> {
    let areas: Vec<i64> = table.classes.iter().map(|class| class.area.unwrap_or(0)).collect();
    let largest = areas.iter().copied().max().unwrap_or(1).max(1);
    // Down to 24 bits, so that products with weights and counts stay far from overflow.
    let shift = (64 - largest.leading_zeros()).saturating_sub(24);
    let areas: Vec<i64> = areas.iter().map(|area| (area >> shift).max(1)).collect();
    let all: i128 = table.halls.iter().map(super::table::HallTable::area).sum();
    let room = (all >> shift) * 15 / 16;
    let (critical_value, critical_area) = critical_rate(table, &areas, room);
    let price = |(class, area): (&super::table::ClassRow, &i64)| {
        if class.must {
            return if critical_value == 0 { area * 3 / 2 } else { area * 3 };
        }
        if critical_value == 0 {
            return *area;
        }
        let worth =
            i128::from(class.value) * i128::from(critical_area) / i128::from(critical_value);
        i64::try_from(worth).unwrap_or(i64::MAX).min(2 * area).max(area / 64).max(1)
    };
    table.classes.iter().zip(&areas).map(price).collect()
}

/// Value and area of the class at which the room is used up when the densest go first; a value of
/// nothing when there is room for all.
fn critical_rate(table: &Table, areas: &[i64], room: i128) -> (i64, i64) {
    let mut order: Vec<usize> = (0..areas.len()).collect();
    order.retain(|&class| table.classes[class].area.is_some());
    order.sort_by(|&one, &other| {
        let rate = |a: usize, b: usize| i128::from(table.classes[a].value) * i128::from(areas[b]);
        let musts = table.classes[other].must.cmp(&table.classes[one].must);
        musts.then(rate(other, one).cmp(&rate(one, other))).then(one.cmp(&other))
    });
    let mut taken = 0;
    for class in order {
        taken += i128::from(areas[class]) * i128::from(table.classes[class].count);
        if taken > room {
            return (table.classes[class].value.max(1), areas[class]);
        }
    }
    (0, 1)
}

/// For each class: less than one where it takes more room here than in another hall, a little more
/// where it fits nowhere else.
fn hall_factors(table: &Table, hall: usize) -> Vec<i64> {
    let factor = |(class, row): (usize, &super::table::ClassRow)| {
        let here = table.halls[hall].least_area(class, row.count);
        let (Some(here), Some(least)) = (here, row.area) else { return ONE };
        let fits = |hall: &super::table::HallTable| hall.least_area(class, row.count).is_some();
        let only_here = table.halls.iter().filter(|hall| fits(hall)).count() == 1;
        let factor = i128::from(ONE) * i128::from(least.max(1)) / i128::from(here.max(1));
        factor as i64 + if only_here { ONE / 8 } else { 0 }
    };
    table.classes.iter().enumerate().map(factor).collect()
}

/// SplitMix64 (Steele, Lea & Flood 2014, from memory): the same numbers on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `end`; nothing when `end` is nothing.
    fn below(&mut self, end: usize) -> usize {
        ((u128::from(self.next()) * end as u128) >> 64) as usize
    }
}
