//! The bays worth considering in a lane of a given width.

use super::Spot;
use super::table::{Fixed, HallTable, Loose};

/// Footprints looked at for sharing a bay, at most: a bit each.
const BESIDE: usize = 56;
const _: () = assert!(BESIDE <= 64);

/// A cell as the search handles it; `width` is grown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct CellPick {
    pub shape: usize,
    pub class: usize,
    pub copies: u32,
    pub width: i64,
    pub spot: Spot,
    /// Set when the cell holds an area whose sides may still change.
    pub loose: Option<Loose>,
}

/// A bay on offer: its cells are a range of [`Offers::cells`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Offer {
    /// Grown length.
    pub length: i64,
    /// Sum of its copies' prices.
    pub price: i64,
    first: usize,
    end: usize,
}

/// What the lane may be filled with at this moment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Supply<'a> {
    pub hall: &'a HallTable,
    /// Copies left of each class.
    pub left: &'a [u32],
    /// Price of a copy of each class, not negative.
    pub prices: &'a [i64],
    /// The column that the lane is for, if it is for one: nothing of another may be in it.
    pub column: Option<u32>,
}

impl Supply<'_> {
    fn admits(&self, spot: Spot) -> bool {
        spot.column.is_none() || spot.column == self.column
    }
}

/// The bays on offer for one lane width; kept between calls to spare allocations.
#[derive(Debug, Default)]
pub(super) struct Offers {
    pub list: Vec<Offer>,
    pub cells: Vec<CellPick>,
    active: Vec<Fixed>,
    /// Those of them that leave room for another beside them, by length.
    narrow: Vec<Fixed>,
    /// The most that a cell of each of them is worth.
    worths: Vec<i64>,
    /// [`Self::narrow`] from the dearest on; equals stay in their order.
    by_worth: Ranked,
    /// Their indices, the narrowest first, and their widths in that order.
    by_width: Vec<usize>,
    widths: Vec<i64>,
    fullest: Vec<u32>,
    order: Vec<(std::cmp::Reverse<i64>, bool, usize)>,
    ordered: Vec<Offer>,
}

/// The best cell found to stand beside others.
#[derive(Debug, Clone, Copy)]
struct Beside {
    cell: CellPick,
    worth: i64,
    /// Its place among the narrow footprints, after all of them if it is of an area.
    place: usize,
}

/// An order of footprints in which sets of them are bits, the first the lowest: those no longer and no wider than wanted are
/// then found without looking at the others.
#[derive(Debug, Default)]
struct Ranked {
    /// The footprint at each place.
    order: Vec<usize>,
    /// For each number `n` the `n` shortest.
    shortest: Vec<u64>,
    /// For each number `n` the `n` narrowest.
    narrowest: Vec<u64>,
}

impl Ranked {
    /// Sorts the footprints, which come by length and are listed by width.
    fn sort(&mut self, by_width: &[usize], worths: &[i64]) {
        self.order.clear();
        self.order.extend(0..by_width.len());
        self.order.sort_unstable_by_key(|&at| (std::cmp::Reverse(worths[at]), at));
        let mut bits = [0u64; BESIDE];
        for (place, &at) in self.order.iter().enumerate() {
            bits[at] = 1 << place;
        }
        let sums = |sums: &mut Vec<u64>, rows: &mut dyn Iterator<Item = usize>| {
            sums.clear();
            sums.push(0);
            let mut set = 0;
            sums.extend(rows.map(|at| {
                set |= bits[at];
                set
            }));
        };
        sums(&mut self.shortest, &mut (0..by_width.len()));
        sums(&mut self.narrowest, &mut by_width.iter().copied());
    }
}

impl Offers {
    /// The cells of a bay.
    pub fn cells_of(&self, offer: &Offer) -> &[CellPick] {
        &self.cells[offer.first..offer.end]
    }

    /// Collects bays for a lane `width` wide (grown), the `most` that pay best by length.
    ///
    /// Every class alone in its shortest way, then for each footprint as the one that sets the
    /// bay's length, the rest of the width filled with the dearest of what is no longer. Of many
    /// footprints only [`BESIDE`] are looked at for sharing a bay, the dearest of each length.
    pub fn collect(&mut self, supply: &Supply<'_>, width: i64, most: usize) -> u64 {
        self.list.clear();
        self.cells.clear();
        self.active.clear();
        let usable = |row: &&Fixed| {
            row.width <= width && supply.left[row.class] > 0 && supply.admits(row.spot)
        };
        self.active.extend(supply.hall.fixed.iter().filter(usable));
        self.offer_single(supply, width);
        let single = self.list.len();
        let beside = |row: &&Fixed| row.width + supply.hall.narrowest <= width;
        self.narrow.clear();
        self.narrow.extend(self.active.iter().filter(beside));
        thin(&mut self.narrow, supply.prices);
        self.order_narrow(supply);
        let mut shorter = 0;
        for leader in 0..self.narrow.len() {
            while shorter < self.narrow.len()
                && self.narrow[shorter].length <= self.narrow[leader].length
            {
                shorter += 1;
            }
            self.offer_shared(supply, width, leader, shorter);
        }
        let steps = self.narrow.len() * 20 + self.list.len() * 8;
        // Best price by length first; singles before shared bays where equal.
        let rate = |offer: &Offer| std::cmp::Reverse((offer.price << 20) / offer.length.max(1));
        let keys = self.list.iter().enumerate();
        self.order.clear();
        self.order.extend(keys.map(|(index, offer)| (rate(offer), index >= single, index)));
        if most < self.order.len() {
            self.order.select_nth_unstable(most);
            self.order.truncate(most);
        }
        self.order.sort_unstable();
        self.ordered.clear();
        self.ordered.extend(self.order.iter().map(|&(_, _, index)| self.list[index]));
        std::mem::swap(&mut self.list, &mut self.ordered);
        steps as u64
    }

    /// Puts the narrow footprints in the orders in which [`Self::follower`] looks at them, so that it can stop early.
    fn order_narrow(&mut self, supply: &Supply<'_>) {
        let Self { narrow, worths, by_worth, by_width, widths, .. } = self;
        worths.clear();
        worths.extend(narrow.iter().map(|row| {
            supply.prices[row.class] * i64::from(row.copies.min(supply.left[row.class]))
        }));
        by_width.clear();
        by_width.extend(0..narrow.len());
        by_width.sort_unstable_by_key(|&at| (narrow[at].width, at));
        widths.clear();
        widths.extend(by_width.iter().map(|&at| narrow[at].width));
        by_worth.sort(by_width, worths);
    }

    fn push(&mut self, length: i64, price: i64, first: usize) {
        self.list.push(Offer { length, price, first, end: self.cells.len() });
    }

    fn offer_single(&mut self, supply: &Supply<'_>, width: i64) {
        self.fullest.clear();
        self.fullest.resize(supply.left.len(), 0);
        for index in 0..self.active.len() {
            let row = self.active[index];
            let left = supply.left[row.class];
            let copies = row.copies.min(left);
            // What is left over when it is used as often as it can be filled.
            let rest = left % row.copies;
            let rest = if rest < copies { rest } else { 0 };
            for copies in [copies, rest] {
                if copies > self.fullest[row.class] {
                    self.fullest[row.class] = copies;
                } else if copies == 0 || copies != rest {
                    continue;
                }
                let first = self.cells.len();
                self.cells.push(fixed_cell(&row, copies));
                self.push(row.length, supply.prices[row.class] * i64::from(copies), first);
            }
        }
        for row in supply.hall.loose.iter().filter(|row| supply.admits(row.spot)) {
            let copies = row.copies.min(supply.left[row.class]);
            let Some(length) = row.length_at(width - supply.hall.divider) else { continue };
            let length = length + supply.hall.divider;
            if copies > 0 && length <= supply.hall.length {
                let first = self.cells.len();
                self.cells.push(loose_cell(row, copies, width));
                let price = supply.prices[row.class] * i64::from(copies);
                self.push(length, price, first);
            }
        }
    }

    /// Offers a bay that one footprint sets the length of, others beside it, of which so many are no longer.
    fn offer_shared(&mut self, supply: &Supply<'_>, width: i64, leader: usize, shorter: usize) {
        let lead = self.narrow[leader];
        let mut rest = width - lead.width;
        let copies = lead.copies.min(supply.left[lead.class]);
        let first = self.cells.len();
        self.cells.push(fixed_cell(&lead, copies));
        let mut price = supply.prices[lead.class] * i64::from(copies);
        while rest >= supply.hall.narrowest {
            let Some((cell, worth)) = self.follower(supply, (&lead, shorter), rest, first) else {
                break;
            };
            rest -= cell.width;
            price += worth;
            self.cells.push(cell);
        }
        if self.cells.len() == first + 1 {
            self.cells.pop();
        } else {
            self.push(lead.length, price, first);
        }
    }

    /// The dearest cell that still goes beside `lead` and those from `first` on; of equals the narrowest, then the first.
    fn follower(
        &self,
        supply: &Supply<'_>,
        (lead, shorter): (&Fixed, usize),
        rest: i64,
        first: usize,
    ) -> Option<(CellPick, i64)> {
        let beside = &self.cells[first..];
        let apart =
            |spot: Spot| spot.end.is_some() && beside.iter().any(|cell| opposed(cell.spot, spot));
        let free = |class: usize| {
            let taken = beside.iter().filter(|cell| cell.class == class).map(|cell| cell.copies);
            supply.left[class].saturating_sub(taken.sum())
        };
        let mut best: Option<Beside> = None;
        let consider = |cell: CellPick, place: usize, best: &mut Option<Beside>| {
            let worth = supply.prices[cell.class] * i64::from(cell.copies);
            let key = |worth, width, place| (std::cmp::Reverse(worth), width, place);
            let better = best.as_ref().is_none_or(|other| {
                key(worth, cell.width, place) < key(other.worth, other.cell.width, other.place)
            });
            if better && worth > 0 {
                *best = Some(Beside { cell, worth, place });
            }
        };
        let narrower = self.widths.partition_point(|&width| width <= rest);
        let ranked = &self.by_worth;
        let mut open = ranked.shortest[shorter] & ranked.narrowest[narrower];
        while open != 0 {
            let at = ranked.order[open.trailing_zeros() as usize];
            open &= open - 1;
            let row = &self.narrow[at];
            // Nothing from here on can be better than what it is worth at most.
            if best.as_ref().is_some_and(|best| best.worth > self.worths[at]) {
                break;
            }
            if apart(row.spot) {
                continue;
            }
            let free = free(row.class);
            if free > 0 {
                consider(fixed_cell(row, row.copies.min(free)), at, &mut best);
            }
        }
        for (row, width) in supply.hall.areas_beside(lead) {
            if width > rest || !supply.admits(row.spot) || apart(row.spot) {
                continue;
            }
            let free = free(row.class);
            if free > 0 {
                let cell = loose_cell(row, row.copies.min(free), width);
                consider(cell, self.narrow.len(), &mut best);
            }
        }
        best.map(|best| (best.cell, best.worth))
    }
}

/// Whether two shapes have to stand at different ends, and so in different bays.
fn opposed(one: Spot, other: Spot) -> bool {
    matches!((one.end, other.end), (Some(one), Some(other)) if one != other)
}

/// Keeps the dearest of each few footprints of neighbouring lengths, so that few enough are left.
fn thin(rows: &mut Vec<Fixed>, prices: &[i64]) {
    let bin = rows.len().div_ceil(BESIDE);
    if bin > 1 {
        let price = |row: &&Fixed| prices[row.class] * i64::from(row.copies);
        *rows = rows.chunks(bin).filter_map(|bin| bin.iter().max_by_key(price)).copied().collect();
    }
}

fn fixed_cell(row: &Fixed, copies: u32) -> CellPick {
    let Fixed { shape, class, width, spot, .. } = *row;
    CellPick { shape, class, copies, width, spot, loose: None }
}

fn loose_cell(row: &Loose, copies: u32, width: i64) -> CellPick {
    let Loose { shape, class, spot, .. } = *row;
    CellPick { shape, class, copies, width, spot, loose: Some(*row) }
}
