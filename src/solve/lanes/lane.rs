//! The best lane of a given width: a bounded knapsack along its length.

use super::bays::{CellPick, Offers, Supply};

/// A bay as the search handles it; sizes are grown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct BayPick {
    pub length: i64,
    pub cells: Vec<CellPick>,
}

/// A lane as the search handles it; sizes are grown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct LanePick {
    pub width: i64,
    pub price: i64,
    pub bays: Vec<BayPick>,
}

impl LanePick {
    /// All its cells.
    pub fn cells(&self) -> impl Iterator<Item = &CellPick> {
        self.bays.iter().flat_map(|bay| &bay.cells)
    }

    /// The column it has to stand in.
    pub fn column(&self) -> Option<u32> {
        self.cells().find_map(|cell| cell.spot.column)
    }
}

/// Intervals of a lane's length at most: with its very end they are a bit each.
pub(super) const BUCKETS: usize = 63;

/// How finely a lane is searched.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fineness {
    /// Intervals the length is divided into, at most [`BUCKETS`]; one partial lane is kept for each.
    pub buckets: usize,
    /// Bays considered for each width.
    pub offers: usize,
}

/// A partial lane: its end decides its bucket.
#[derive(Debug, Clone, Copy)]
struct Label {
    /// Negative when the bucket is empty.
    price: i64,
    length: i64,
    node: usize,
    /// Classes it uses, modulo 64: a quick no to whether a bay shares one.
    classes: u64,
}

/// The last bay of a partial lane and the one before it.
#[derive(Debug, Clone, Copy)]
struct Node {
    offer: usize,
    before: usize,
    /// Classes of the bay, modulo 64.
    classes: u64,
}

const NOTHING: usize = usize::MAX;

/// The best partial lane of each interval.
#[derive(Debug)]
struct Labels([Label; BUCKETS + 1]);

impl Default for Labels {
    fn default() -> Self {
        Self([Label { price: -1, length: 0, node: NOTHING, classes: 0 }; BUCKETS + 1])
    }
}

/// Working memory of [`Bench::lane`].
#[derive(Debug, Default)]
pub(super) struct Bench {
    offers: Offers,
    labels: Labels,
    /// Which of the labels hold a partial lane, a bit each.
    taken: u64,
    nodes: Vec<Node>,
    ruler: Ruler,
}

impl Bench {
    /// A lane at most `width` wide (grown) with a high sum of prices, and the steps it took.
    ///
    /// A knapsack over the offers with one partial lane for each interval of the length, kept by
    /// price. Exact when no two offers share a class and no two partial lanes an interval;
    /// otherwise a heuristic, that never uses more copies than are left.
    pub fn lane(
        &mut self,
        supply: &Supply<'_>,
        width: i64,
        fineness: Fineness,
    ) -> (Option<LanePick>, u64) {
        let mut steps = self.offers.collect(supply, width, fineness.offers);
        let room = supply.hall.length;
        let buckets = fineness.buckets;
        self.ruler = Ruler::new(room, buckets);
        self.labels = Labels::default();
        self.labels.0[0].price = 0;
        self.taken = 1;
        self.nodes.clear();
        for index in 0..self.offers.list.len() {
            let offer = self.offers.list[index];
            if offer.price <= 0 || offer.length > room {
                continue;
            }
            let top = self.ruler.bucket(room - offer.length);
            let before = u64::MAX >> (BUCKETS - top);
            let mut left = None;
            loop {
                steps += u64::from((self.taken & before).count_ones()) + 2;
                let improved = self.add_once(supply, index, self.taken & before);
                // Once is always possible.
                if !improved {
                    break;
                }
                let more = left.get_or_insert_with(|| self.repeats(supply, index));
                *more -= 1;
                if *more <= 0 {
                    break;
                }
            }
        }
        let held = self.labels.0.iter().filter(|label| label.price > 0);
        let best = held.reduce(|best, label| {
            let better = (label.price, best.length) > (best.price, label.length);
            if better { label } else { best }
        });
        (best.map(|label| self.rebuild(supply, width, label)), steps)
    }

    /// How often a bay can occur in a lane.
    fn repeats(&self, supply: &Supply<'_>, index: usize) -> i64 {
        let offer = &self.offers.list[index];
        let cells = self.offers.cells_of(offer);
        let by_count = cells.iter().map(|cell| {
            let each: u32 = same_class(cells, cell.class);
            i64::from(supply.left[cell.class] / each.max(1))
        });
        by_count.min().unwrap_or(0).min(supply.hall.length / offer.length.max(1))
    }

    /// Lets every partial lane of some buckets, a bit each, take the bay once more.
    fn add_once(&mut self, supply: &Supply<'_>, index: usize, mut open: u64) -> bool {
        let offer = self.offers.list[index];
        let ruler = self.ruler;
        let cells = self.offers.cells_of(&offer);
        let classes = cells.iter().fold(0, |set, cell| set | class_bit(cell.class));
        let mut improved = false;
        let labels = &mut self.labels.0;
        // From the longest down, so that none takes it twice: what is set meanwhile is never below where it came from.
        while open != 0 {
            let bit = open.ilog2() as usize % labels.len();
            open ^= 1 << bit;
            let label = labels[bit];
            let length = label.length + offer.length;
            if length > ruler.room {
                continue;
            }
            let price = label.price + offer.price;
            let at = ruler.bucket(length) % labels.len();
            let there = labels[at];
            let better = price > there.price || price == there.price && length < there.length;
            let apart = label.classes & classes == 0;
            if better && (apart || has_copies(&self.offers, &self.nodes, supply, label.node, index))
            {
                self.nodes.push(Node { offer: index, before: label.node, classes });
                let (node, classes) = (self.nodes.len() - 1, label.classes | classes);
                labels[at] = Label { price, length, node, classes };
                self.taken |= 1 << at;
                improved = true;
            }
        }
        improved
    }

    fn rebuild(&self, supply: &Supply<'_>, width: i64, label: &Label) -> LanePick {
        let mut bays = Vec::new();
        let mut at = label.node;
        while at != NOTHING {
            let offer = &self.offers.list[self.nodes[at].offer];
            let cells = self.offers.cells_of(offer).to_vec();
            bays.push(BayPick { length: offer.length, cells });
            at = self.nodes[at].before;
        }
        let mut lane = LanePick { width, price: label.price, bays };
        shrink(&mut lane, supply);
        lane
    }
}

/// Whether the copies left allow the bay after the partial lane that ends in `node`.
fn has_copies(
    offers: &Offers,
    nodes: &[Node],
    supply: &Supply<'_>,
    node: usize,
    index: usize,
) -> bool {
    let cells = offers.cells_of(&offers.list[index]);
    cells.iter().all(|cell| {
        let bit = class_bit(cell.class);
        let mut taken = same_class(cells, cell.class);
        let mut at = node;
        while at != NOTHING {
            let earlier = &nodes[at];
            if earlier.classes & bit != 0 {
                let earlier = &offers.list[earlier.offer];
                taken += same_class(offers.cells_of(earlier), cell.class);
            }
            at = earlier.before;
        }
        taken <= supply.left[cell.class]
    })
}

/// Divides lengths up to `room` into intervals, by a multiplication in place of a division.
#[derive(Debug, Clone, Copy, Default)]
struct Ruler {
    room: i64,
    rate: u64,
}

impl Ruler {
    fn new(room: i64, buckets: usize) -> Self {
        Self { room, rate: ((buckets as u64) << 32) / (room.max(1) as u64) }
    }

    /// The interval of a length from nothing to `room`; rises with the length, at most `buckets`.
    fn bucket(self, length: i64) -> usize {
        ((length as u64).wrapping_mul(self.rate) >> 32) as usize
    }
}

/// A class as one of 64 bits; several classes may share one.
fn class_bit(class: usize) -> u64 {
    1 << (class % 64)
}

fn same_class(cells: &[CellPick], class: usize) -> u32 {
    cells.iter().filter(|cell| cell.class == class).map(|cell| cell.copies).sum()
}

/// Makes the lane as narrow as its bays allow: cells of an area that have a bay to themselves
/// grow longer instead, as far as the lane's length lets them.
fn shrink(lane: &mut LanePick, supply: &Supply<'_>) {
    let alone = |bay: &BayPick| bay.cells.len() == 1 && bay.cells[0].loose.is_some();
    let width_of = |bay: &BayPick| bay.cells.iter().map(|cell| cell.width).sum::<i64>();
    let rigid: i64 = lane.bays.iter().filter(|bay| !alone(bay)).map(width_of).max().unwrap_or(0);
    let (mut low, mut high) = (rigid.max(1), lane.width);
    while low < high {
        let middle = low + (high - low) / 2;
        if length_at(lane, supply, middle).is_some_and(|length| length <= supply.hall.length) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    lane.width = high;
    for bay in lane.bays.iter_mut().filter(|bay| alone(bay)) {
        bay.cells[0].width = high;
        let loose = bay.cells[0].loose;
        if let Some(length) = loose.and_then(|row| row.length_at(high - supply.hall.divider)) {
            bay.length = length + supply.hall.divider;
        }
    }
}

/// The length of all bays if the lane were `width` wide.
fn length_at(lane: &LanePick, supply: &Supply<'_>, width: i64) -> Option<i64> {
    let lengths = lane.bays.iter().map(|bay| match bay.cells[..] {
        [CellPick { loose: Some(row), .. }] => {
            row.length_at(width - supply.hall.divider).map(|length| length + supply.hall.divider)
        }
        _ => Some(bay.length),
    });
    lengths.sum()
}
