//! The bays worth considering in a lane of a given width.

use super::Spot;
use super::table::{Fixed, HallTable, Loose};

/// Footprints looked at for sharing a bay, at most.
const BESIDE: usize = 56;

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
    /// Indices of [`Self::narrow`], the dearest first, and the dearest by width first; equals stay in their order.
    by_worth: Vec<usize>,
    by_rate: Vec<usize>,
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

impl Offers {
    /// The cells of a bay.
    pub fn cells_of(&self, offer: &Offer) -> &[CellPick] {
        &self.cells[offer.first..offer.end]
    }

    /// Collects bays for a lane `width` wide (grown), the `most` that pay best by length.
    ///
    /// Every class alone in its shortest way, then for each footprint as the one that sets the
    /// bay's length, the rest of the width filled with the dearest (and once more with the dearest
    /// by width) of what is no longer. Of many footprints only [`BESIDE`] are looked at for sharing a
    /// bay, the dearest of each length.
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
        for leader in 0..self.narrow.len() {
            let first = self.offer_shared(supply, width, leader, false);
            let second = self.offer_shared(supply, width, leader, true);
            if let (Some(first), Some(second)) = (first, second)
                && self.cells[first.0..first.1] == self.cells[second.0..second.1]
            {
                self.cells.truncate(second.0);
                self.list.pop();
            }
        }
        let steps = self.narrow.len() * self.narrow.len() / 2 + self.list.len() * 8;
        // Best price by length first; singles before shared bays where equal.
        let rate = |offer: &Offer| std::cmp::Reverse((offer.price << 20) / offer.length.max(1));
        let keys = self.list.iter().enumerate();
        self.order.clear();
        self.order.extend(keys.map(|(index, offer)| (rate(offer), index >= single, index)));
        self.order.sort_unstable();
        self.ordered.clear();
        let best = self.order.iter().take(most);
        self.ordered.extend(best.map(|&(_, _, index)| self.list[index]));
        std::mem::swap(&mut self.list, &mut self.ordered);
        steps as u64
    }

    /// Puts the narrow footprints in the orders in which [`Self::follower`] looks at them, so that it can stop early.
    fn order_narrow(&mut self, supply: &Supply<'_>) {
        let Self { narrow, worths, by_worth, by_rate, .. } = self;
        worths.clear();
        worths.extend(narrow.iter().map(|row| {
            supply.prices[row.class] * i64::from(row.copies.min(supply.left[row.class]))
        }));
        for order in [&mut *by_worth, &mut *by_rate] {
            order.clear();
            order.extend(0..narrow.len());
        }
        by_worth.sort_unstable_by_key(|&at| (std::cmp::Reverse(worths[at]), at));
        by_rate.sort_unstable_by(|&one, &other| {
            by_rate_first((worths[one], narrow[one].width), (worths[other], narrow[other].width))
                .then(one.cmp(&other))
        });
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

    /// Offers a bay that one footprint sets the length of, others beside it; the range of its
    /// cells.
    fn offer_shared(
        &mut self,
        supply: &Supply<'_>,
        width: i64,
        leader: usize,
        by_width: bool,
    ) -> Option<(usize, usize)> {
        let lead = self.narrow[leader];
        let mut rest = width - lead.width;
        if rest < supply.hall.narrowest {
            return None;
        }
        let copies = lead.copies.min(supply.left[lead.class]);
        let first = self.cells.len();
        self.cells.push(fixed_cell(&lead, copies));
        let mut price = supply.prices[lead.class] * i64::from(copies);
        while rest >= supply.hall.narrowest {
            let Some((cell, worth)) = self.follower(supply, &lead, rest, first, by_width) else {
                break;
            };
            rest -= cell.width;
            price += worth;
            self.cells.push(cell);
        }
        if self.cells.len() == first + 1 {
            self.cells.pop();
            return None;
        }
        self.push(lead.length, price, first);
        Some((first, self.cells.len()))
    }

    /// The dearest cell (or the dearest by width) that still goes beside `lead` and those from `first` on; of equals the narrowest,
    /// then the first.
    fn follower(
        &self,
        supply: &Supply<'_>,
        lead: &Fixed,
        rest: i64,
        first: usize,
        by_width: bool,
    ) -> Option<(CellPick, i64)> {
        let beside = &self.cells[first..];
        let apart =
            |spot: Spot| spot.end.is_some() && beside.iter().any(|cell| opposed(cell.spot, spot));
        let free = |class: usize| {
            let taken = beside.iter().filter(|cell| cell.class == class).map(|cell| cell.copies);
            supply.left[class].saturating_sub(taken.sum())
        };
        let compare = |mine: (i64, i64), theirs: (i64, i64)| {
            if by_width { by_rate_first(mine, theirs) } else { theirs.0.cmp(&mine.0) }
        };
        let mut best: Option<Beside> = None;
        let consider = |cell: CellPick, place: usize, best: &mut Option<Beside>| {
            let worth = supply.prices[cell.class] * i64::from(cell.copies);
            let better = best.as_ref().is_none_or(|other| {
                let theirs = (other.worth, other.cell.width);
                let ties = (cell.width, place).cmp(&(other.cell.width, other.place));
                compare((worth, cell.width), theirs).then(ties).is_lt()
            });
            if better && worth > 0 {
                *best = Some(Beside { cell, worth, place });
            }
        };
        for &at in if by_width { &self.by_rate } else { &self.by_worth } {
            let row = &self.narrow[at];
            // Nothing from here on can be better than what it is worth at most.
            if best.as_ref().is_some_and(|best| {
                compare((best.worth, best.cell.width), (self.worths[at], row.width)).is_lt()
            }) {
                break;
            }
            if row.length > lead.length || row.width > rest || apart(row.spot) {
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

/// Orders pairs of worth and width, the more worth by width first.
fn by_rate_first(one: (i64, i64), other: (i64, i64)) -> std::cmp::Ordering {
    let across =
        |(worth, _): (i64, i64), (_, width): (i64, i64)| i128::from(worth) * i128::from(width);
    across(other, one).cmp(&across(one, other))
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
